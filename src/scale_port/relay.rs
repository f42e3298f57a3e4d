//! Which readings are told: those that are new, no faster than an ear needs them, and the same again only until it is known
//! that it stands. A scale that shows the same for hours wakes nobody.

use crate::scale::{Reading, Status};

/// New readings are told no more often than this, in milliseconds.
const APART_MS: u64 = 40;
/// The same again is told this often, and for so long.
const AGAIN_MS: u64 = 100;
const STANDS_MS: u64 = 2_500;

/// Passes on what is worth telling.
#[derive(Debug, Clone, Default)]
pub struct Relay {
    last: Option<Reading>,
    told_at: u64,
    changed_at: u64,
    waiting: Option<Reading>,
}

impl Relay {
    /// Takes a reading; gives it back where it is to be told now.
    pub fn take(&mut self, reading: Reading, now: u64) -> Option<Reading> {
        let shown = self.waiting.or(self.last);
        let since_told = now.saturating_sub(self.told_at);
        if shown != Some(reading) {
            self.changed_at = now;
            self.waiting = Some(reading);
            if self.last.is_none() || since_told >= APART_MS {
                return self.tell(now);
            }
            return None;
        }
        let stands = now.saturating_sub(self.changed_at) > STANDS_MS;
        if stands || since_told < AGAIN_MS {
            return None;
        }
        self.waiting = Some(reading);
        self.tell(now)
    }

    /// Time has gone by: gives what was held back, or what stands by the scale's own word, since many that say 'stable' say it
    /// once.
    pub fn tick(&mut self, now: u64) -> Option<Reading> {
        if self.due().is_none_or(|due| due > now) {
            return None;
        }
        self.waiting = self.waiting.or(self.last);
        self.tell(now)
    }

    /// When it has something to tell by itself.
    pub fn due(&self) -> Option<u64> {
        if self.waiting.is_some() {
            return Some(self.told_at + APART_MS);
        }
        let last = self.last?;
        let next = self.told_at + AGAIN_MS;
        let stands = matches!(last.status, Status::Stable | Status::Zero);
        (stands && next <= self.changed_at + STANDS_MS).then_some(next)
    }

    fn tell(&mut self, now: u64) -> Option<Reading> {
        self.last = self.waiting.take();
        self.told_at = now;
        self.last
    }
}
