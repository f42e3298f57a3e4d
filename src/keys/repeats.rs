//! Telling a held key from a pressed one where the terminal only sends the same key again and again.

use crate::bench::Key;

/// A terminal repeats a held key at 10 to 50 a second; no finger is that fast. Common practice, no source.
const GAP_MS: u64 = 110;
/// The longest wait before a terminal begins to repeat.
const DELAY_MS: u64 = 1_100;
/// A key held for this long says what it does.
const HOLD_MS: u64 = 1_000;

/// What came of the keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Press {
    /// A key was pressed.
    Key(Key),
    /// A key is being held.
    Held(Key),
}

/// Sorts pressed keys from repeated ones. The first press acts at once; when the same key comes again soon, it waits
/// for a moment to see whether a third follows too quickly for a finger.
#[derive(Debug, Clone, Default)]
pub struct Repeats {
    last: Option<(Key, u64)>,
    /// When the present run of the same key began.
    since: u64,
    /// A second press that may yet be a repeat.
    doubtful: Option<(Key, u64)>,
    repeating: bool,
    told: bool,
}

impl Repeats {
    /// The terminal sent `key` at `now` milliseconds.
    pub fn press(&mut self, key: Key, now: u64) -> Vec<Press> {
        let mut out = self.tick(now);
        let same = self
            .last
            .filter(|(k, _)| *k == key)
            .map(|(_, at)| now.saturating_sub(at));
        self.last = Some((key, now));
        match same {
            Some(gap) if gap < GAP_MS => {
                self.doubtful = None;
                self.repeating = true;
                if !self.told && now.saturating_sub(self.since) >= HOLD_MS {
                    self.told = true;
                    out.push(Press::Held(key));
                }
            }
            Some(gap) if gap < DELAY_MS => {
                if let Some((before, _)) = self.doubtful.replace((key, now)) {
                    out.push(Press::Key(before));
                }
                if self.repeating {
                    self.since = now;
                    self.told = false;
                }
                self.repeating = false;
            }
            _ => {
                if let Some((before, _)) = self.doubtful.take() {
                    out.push(Press::Key(before));
                }
                self.since = now;
                self.repeating = false;
                self.told = false;
                out.push(Press::Key(key));
            }
        }
        out
    }

    /// Something else was pressed: what comes after it is no repeat of what came before.
    pub fn other(&mut self) -> Vec<Press> {
        self.last = None;
        let before = self.doubtful.take();
        before.into_iter().map(|(key, _)| Press::Key(key)).collect()
    }

    /// What time alone brings.
    pub fn tick(&mut self, now: u64) -> Vec<Press> {
        match self.doubtful {
            Some((key, at)) if now >= at + GAP_MS => {
                self.doubtful = None;
                // A press of its own: what follows is measured from here.
                self.since = at;
                vec![Press::Key(key)]
            }
            _ => Vec::new(),
        }
    }

    /// When time will bring something.
    pub fn due(&self) -> Option<u64> {
        self.doubtful.map(|(_, at)| at + GAP_MS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(script: &[(Key, u64)], until: u64) -> Vec<(u64, Press)> {
        let mut repeats = Repeats::default();
        let mut out = Vec::new();
        let mut script = script.iter().peekable();
        for now in 0..=until {
            out.extend(repeats.tick(now).into_iter().map(|p| (now, p)));
            while let Some((key, _)) = script.next_if(|(_, at)| *at == now) {
                out.extend(repeats.press(*key, now).into_iter().map(|p| (now, p)));
            }
        }
        out
    }

    #[test]
    fn fingers() {
        let five = Key::Digit(5);
        let got = run(
            &[
                (five, 0),
                (five, 180),
                (Key::Enter, 400),
                (five, 500),
                (five, 2_500),
            ],
            3_000,
        );
        assert_eq!(
            got,
            [
                (0, Press::Key(five)),
                (290, Press::Key(five)),
                (400, Press::Key(Key::Enter)),
                (500, Press::Key(five)),
                (2_500, Press::Key(five)),
            ]
        );
    }

    #[test]
    fn order_is_kept_when_the_doubt_is_cut_short() {
        let five = Key::Digit(5);
        let got = run(&[(five, 0), (five, 180), (Key::Enter, 200)], 1_000);
        assert_eq!(
            got.iter().map(|(_, p)| *p).collect::<Vec<_>>(),
            [Press::Key(five), Press::Key(five), Press::Key(Key::Enter)]
        );
    }

    #[test]
    fn a_held_key_acts_once_and_tells_once() {
        // 250 ms to the first repeat and then 33 ms, and 660 ms and then 40 ms: usual settings.
        for (delay, gap) in [(250, 33), (500, 33), (660, 40)] {
            let mut script = vec![(Key::Enter, 0)];
            script.extend((0..200).map(|i| (Key::Enter, delay + gap * i)));
            let got: Vec<Press> = run(&script, 12_000).into_iter().map(|(_, p)| p).collect();
            assert_eq!(
                got,
                [Press::Key(Key::Enter), Press::Held(Key::Enter)],
                "{delay} {gap}"
            );
        }
    }
}
