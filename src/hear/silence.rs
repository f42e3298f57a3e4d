//! A microphone that is open and gives nothing but zeros: switched off at its own switch, muted, or dead in a way that nobody
//! tells. A room is never so quiet.

use std::time::Duration;

use super::RATE;

/// Zeros in what was a room's sound until now: gone after this.
const QUIET: Duration = Duration::from_secs(4);
/// Each time that the sound came back by itself the next zeros are waited for so many times longer: such a microphone may
/// be switched by the cook, or be silent by itself while nobody speaks.
const LONGER: u32 = 4;
/// Zeros from the beginning: there may be a wire without a microphone.
const FROM_THE_BEGINNING: Duration = Duration::from_secs(15);
/// A source that has been silent by itself, such as a virtual one that nobody plays to, or one that closes below a level.
const BY_ITSELF: Duration = Duration::from_mins(10);
/// Sound for so long is a room, and not somebody who plays to a virtual source.
const STEADY: Duration = Duration::from_secs(5);
/// Zeros for less than this are no silence.
const GAP: Duration = Duration::from_secs(1);
/// How often a microphone that gives only zeros is opened anew.
const LOOK_AGAIN: Duration = Duration::from_secs(30);

/// What there is to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Change {
    /// It counts as gone now.
    Gone,
    /// It is still silent: it is to be opened anew.
    OpenAnew,
    /// There is sound again.
    Back,
}

/// What a microphone has given, counted by its own samples.
#[derive(Debug)]
pub(super) struct Silence {
    /// Zeros until now.
    zeros: usize,
    /// Sound since the last silence, the program's own left out.
    steady: usize,
    /// It has given sound.
    sounded: bool,
    gone: bool,
    patience: Duration,
}

impl Default for Silence {
    fn default() -> Self {
        Self {
            zeros: 0,
            steady: 0,
            sounded: false,
            gone: false,
            patience: QUIET,
        }
    }
}

impl Silence {
    /// It counts as gone.
    pub(super) fn is_gone(&self) -> bool {
        self.gone
    }

    /// Another one may have been plugged in.
    pub(super) fn begin_anew(&mut self) {
        *self = Self {
            patience: self.patience,
            ..Self::default()
        };
    }

    /// Takes so many samples, all of them zeros or not. What is heard while the program speaks may be only that, by a wire
    /// from the loudspeaker.
    pub(super) fn take(&mut self, samples: usize, zeros: bool, speaks: bool) -> Option<Change> {
        if zeros {
            self.zeros += samples;
            let limit = match self {
                Self { gone: true, .. } => LOOK_AGAIN,
                Self { sounded: false, .. } => FROM_THE_BEGINNING,
                Self { steady, .. } if lasts(*steady) < STEADY => BY_ITSELF,
                Self { patience, .. } => *patience,
            };
            if lasts(self.zeros) < limit {
                return None;
            }
            self.zeros = 0;
            let was = std::mem::replace(&mut self.gone, true);
            return Some(if was { Change::OpenAnew } else { Change::Gone });
        }
        let was_gone = std::mem::take(&mut self.gone);
        if was_gone || (self.sounded && lasts(self.zeros) >= GAP) {
            self.patience = (self.patience * LONGER).min(BY_ITSELF);
            self.steady = 0;
        }
        self.zeros = 0;
        if !speaks {
            self.steady += samples;
        }
        self.sounded = true;
        was_gone.then_some(Change::Back)
    }
}

/// How long so many samples last.
fn lasts(samples: usize) -> Duration {
    Duration::from_millis(samples as u64 * 1000 / u64::from(RATE))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plays seconds of sound (above nought) and of zeros (below); what was told, and after how many seconds in all.
    fn told(plan: &[i64]) -> Vec<(u64, Change)> {
        let mut silence = Silence::default();
        let (mut out, mut tenths) = (Vec::new(), 0);
        for seconds in plan {
            for _ in 0..seconds.unsigned_abs() * 10 {
                tenths += 1;
                let change = silence.take(RATE as usize / 10, *seconds < 0, false);
                out.extend(change.map(|c| (tenths / 10, c)));
            }
        }
        out
    }

    #[test]
    fn a_room_that_falls_silent_is_gone_and_comes_back() {
        let got = told(&[60, -50, 60]);
        let want = [
            (64, Change::Gone),
            (94, Change::OpenAnew),
            (110, Change::Back),
        ];
        assert_eq!(got, want);
        // Half a second is a hiccup of the sound server.
        assert_eq!(told(&[60, -3, 60, -3, 60]), []);
    }

    #[test]
    fn silence_from_the_beginning_is_told_later() {
        assert_eq!(told(&[-16, 5]), [(15, Change::Gone), (16, Change::Back)]);
        assert_eq!(told(&[-10, 5]), []);
    }

    #[test]
    fn a_source_that_is_silent_while_nobody_plays_to_it_is_not_gone() {
        let orders = [-10, 2, -60, 2, -120, 3, -30, 1, -300];
        assert_eq!(told(&orders), []);
    }

    #[test]
    fn a_switch_that_is_used_often_is_told_ever_less() {
        let day: Vec<i64> = [[300, -120]; 100].concat();
        let gone = |told: Vec<(u64, Change)>| {
            let is_gone = |(_, c): &&(u64, Change)| *c == Change::Gone;
            told.iter().filter(is_gone).count()
        };
        assert_eq!(gone(told(&day)), 3);
        // One that is silent for good is told once.
        assert_eq!(gone(told(&[300, -30_000])), 1);
    }
}
