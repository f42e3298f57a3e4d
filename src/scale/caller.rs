//! What is called while something is being poured, in few words: never what was, and nothing when nothing comes.

use serde::{Deserialize, Serialize};

use super::load::Load;
use super::target::Target;
use crate::time::{Moment, Span};

/// How the weight is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Calls {
    /// In words.
    Speech,
    /// By a tone that rises.
    Tones,
    /// In words while it is far, by a tone when it is near.
    #[default]
    Both,
}

/// Something to be called now, or not at all.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "call", rename_all = "snake_case")]
pub enum Call {
    /// So many grams are in.
    IsIn {
        /// Grams.
        grams: f64,
    },
    /// So many grams are still to come.
    ToGo {
        /// Grams.
        grams: f64,
        /// The first of them says so in full.
        first: bool,
    },
    /// A tone: 0 far, 100 there.
    Tone {
        /// How near.
        near: u8,
    },
    /// It is there.
    Reached,
}

/// What is said when so much is still to come, in grams.
const MARKS: [f64; 8] = [500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0];
/// While it is far, what is in is said no more often than this.
const FAR_EVERY: Span = Span::millis(2_200);
/// The last call is given so long to be heard.
const HEARD: Span = Span::millis(450);
/// The longest and the shortest time between two tones.
const TONES: (f64, f64) = (380.0, 110.0);

/// What has been called of one thing.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Caller {
    /// The smallest mark that was passed.
    mark: Option<f64>,
    said: Option<Moment>,
    toned: Option<Moment>,
    reached: bool,
    was: f64,
}

/// The marks of a target: from a fifth of it down to what the tolerance makes pointless.
fn marks(target: &Target) -> impl Iterator<Item = f64> {
    let share = if target.grams < 50.0 { 0.5 } else { 0.2 };
    let (most, least) = (target.grams * share, target.tolerance * 1.5);
    MARKS.into_iter().filter(move |m| *m <= most && *m > least)
}

/// What is told of while it is far: every so many grams.
fn round_step(target: f64) -> Option<f64> {
    match target {
        t if t >= 2_000.0 => Some(500.0),
        t if t >= 400.0 => Some(100.0),
        t if t >= 150.0 => Some(50.0),
        t if t >= 60.0 => Some(20.0),
        _ => None,
    }
}

impl Caller {
    /// It goes on from here.
    pub(super) fn begin(&mut self, net: f64) {
        *self = Self {
            was: net,
            ..Self::default()
        };
    }

    /// What is to be called of a reading.
    pub(super) fn take(
        &mut self,
        net: f64,
        target: &Target,
        calls: Calls,
        load: &Load,
        now: Moment,
    ) -> Option<Call> {
        let was = std::mem::replace(&mut self.was, net);
        let to_go = target.grams - net;
        // Some was taken out: what was called is called again.
        if self.mark.is_some_and(|m| to_go > m + load.slack())
            || self.reached && to_go > target.tolerance
        {
            self.mark = marks(target).filter(|m| *m > to_go).last();
            self.reached = false;
        }
        // Nothing comes, and nothing is said.
        if net <= was && load.rate() <= load.slack() {
            return None;
        }
        let rate = load.rate().max(0.0);
        if !self.reached && net >= target.grams - target.tolerance / 2.0 - rate * 0.1 {
            self.reached = true;
            return Some(Call::Reached);
        }
        if self.reached {
            return None;
        }
        self.word(was, net, target, calls, now)
            .or_else(|| self.tone(to_go, target, calls, now))
    }

    fn word(
        &mut self,
        was: f64,
        net: f64,
        target: &Target,
        calls: Calls,
        now: Moment,
    ) -> Option<Call> {
        if calls == Calls::Tones {
            return None;
        }
        let to_go = target.grams - net;
        let passed = marks(target)
            .filter(|m| to_go <= *m && self.mark.is_none_or(|last| *m < last))
            .last();
        if let Some(mark) = passed {
            let first = self.mark.is_none();
            self.mark = Some(mark);
            // What was passed long ago is not said any more.
            if to_go > mark / 2.0 {
                self.said = Some(now);
                return Some(Call::ToGo { grams: mark, first });
            }
            return None;
        }
        let step = round_step(target.grams)?;
        let round = (net / step).floor() * step;
        let is_far = marks(target).next().is_none_or(|m| to_go > m * 1.2);
        let may = self.said.is_none_or(|at| now.since(at) >= FAR_EVERY);
        (round > was && round > 0.0 && is_far && may).then(|| {
            self.said = Some(now);
            Call::IsIn { grams: round }
        })
    }

    fn tone(&mut self, to_go: f64, target: &Target, calls: Calls, now: Moment) -> Option<Call> {
        let zone = match calls {
            Calls::Speech => return None,
            Calls::Tones => target.grams * 0.4,
            Calls::Both => marks(target).last().map_or(target.grams * 0.5, |m| 2.0 * m),
        };
        if to_go > zone || to_go <= 0.0 {
            return None;
        }
        let near = 1.0 - to_go / zone;
        let every = TONES.0 + (TONES.1 - TONES.0) * near;
        let since = |at: Option<Moment>| at.map_or(f64::MAX, |at| now.since(at).as_millis() as f64);
        let heard = HEARD.as_millis() as f64;
        (since(self.toned) >= every && since(self.said) >= heard).then(|| {
            self.toned = Some(now);
            Call::Tone {
                near: (near * 100.0).round() as u8,
            }
        })
    }
}
