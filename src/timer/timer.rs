//! One timer.

use serde::{Deserialize, Serialize};

use crate::time::{Moment, Span};

/// An alarm that nobody answers rings again after these spans; the last one repeats.
const RING_AGAIN: [Span; 4] = [
    Span::seconds(20),
    Span::seconds(15),
    Span::seconds(12),
    Span::seconds(10),
];

/// An alarm that nobody answers is spoken so long after its time, and then every `SPOKEN_EVERY`: the chime goes on between.
const SPOKEN_AT: [Span; 5] = [
    Span::seconds(0),
    Span::minutes(1),
    Span::minutes(2),
    Span::minutes(5),
    Span::minutes(10),
];
const SPOKEN_EVERY: Span = Span::minutes(10);

/// What was silenced and not dealt with comes back so long after that, gently, and then every `SPOKEN_EVERY`.
const COMES_BACK: [Span; 3] = [Span::minutes(2), Span::minutes(5), Span::minutes(10)];

/// How often an alarm has been to be spoken by so long after its time.
fn spoken_by(over: Span) -> u64 {
    let last = SPOKEN_AT[SPOKEN_AT.len() - 1].as_millis();
    let later = over.as_millis().saturating_sub(last) / SPOKEN_EVERY.as_millis();
    SPOKEN_AT.iter().filter(|at| **at <= over).count() as u64 + later
}

/// One named timer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Timer {
    /// Number for life, in order of starting.
    pub id: u32,
    /// Spoken name, lower case: `first rise`.
    pub name: String,
    /// Full length, as started or as changed since.
    pub lasts: Span,
    /// Running, held, or due.
    pub state: TimerPhase,
    /// Cues not yet given, by time from the start.
    pub cues: Vec<Mark>,
    /// Cues that were given, kept for a new start.
    pub given: Vec<Mark>,
    /// Asked when the time has come: `Has it doubled?`.
    pub look: Option<String>,
    /// When it was first started.
    pub started: Moment,
    /// The step that offered it, when one did.
    pub origin: Option<Origin>,
    /// Its name in that step, whatever it is called now.
    pub written: Option<String>,
    /// When it was silenced, and how often it has come back since; nothing where it was dealt with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub silenced: Option<(Moment, u32)>,
}

/// A dish of the session, in the order in which they came to the bench.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct DishId(pub u32);

impl DishId {
    /// The first one: what a journal says nothing of is about it.
    pub fn is_first(&self) -> bool {
        self.0 == 0
    }
}

/// The step of a dish that a timer belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Origin {
    /// Which dish.
    pub dish: DishId,
    /// Which of its steps, from 0.
    pub step: usize,
}

/// A cue not yet given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// From the timer's start.
    pub at: Span,
    /// Where it is counted from the end: this much before it, and it moves with the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Span>,
    /// What is said.
    pub say: String,
}

/// What a timer is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TimerPhase {
    /// Running towards `due`.
    Running {
        /// When it is due.
        due: Moment,
    },
    /// Held with this much left.
    Paused {
        /// What is left.
        left: Span,
    },
    /// Due and not answered.
    Ringing {
        /// When it was due.
        due: Moment,
        /// When it rings again.
        again: Moment,
        /// How often it has rung.
        rung: u32,
    },
    /// Due, and the cook has heard.
    Over {
        /// When it was due.
        due: Moment,
    },
}

impl Timer {
    /// Milliseconds left at `now`; negative when over.
    pub fn left_ms(&self, now: Moment) -> i64 {
        let until = |due: Moment| {
            i64::try_from(due.0).unwrap_or(i64::MAX) - i64::try_from(now.0).unwrap_or(i64::MAX)
        };
        match self.state {
            TimerPhase::Running { due }
            | TimerPhase::Ringing { due, .. }
            | TimerPhase::Over { due } => until(due),
            TimerPhase::Paused { left } => i64::try_from(left.as_millis()).unwrap_or(i64::MAX),
        }
    }

    /// Running, held or ringing: the cook still waits for it.
    pub fn is_live(&self) -> bool {
        !matches!(self.state, TimerPhase::Over { .. })
    }

    /// Its time is up, whether it still rings or not.
    pub fn has_come_due(&self) -> bool {
        matches!(
            self.state,
            TimerPhase::Ringing { .. } | TimerPhase::Over { .. }
        )
    }

    /// The next cue and its moment, while running.
    pub fn next_cue(&self, now: Moment) -> Option<(Moment, &str)> {
        self.upcoming(now).min_by_key(|(at, _)| *at)
    }

    /// The cues still to come and their moments, while running.
    pub fn upcoming(&self, now: Moment) -> impl Iterator<Item = (Moment, &str)> {
        let due = match self.state {
            TimerPhase::Running { due } => Some(due),
            _ => None,
        };
        let start = due.map(|due| Moment(due.0.saturating_sub(self.lasts.as_millis())));
        self.cues
            .iter()
            .filter_map(move |c| Some((start?.plus(c.at), c.say.as_str())))
            .filter(move |(at, _)| *at >= now)
    }

    /// When this timer next does something by itself.
    pub(super) fn wake_at(&self) -> Option<Moment> {
        match self.state {
            TimerPhase::Running { due } => {
                let start = Moment(due.0.saturating_sub(self.lasts.as_millis()));
                let cue = self.cues.iter().map(|c| start.plus(c.at)).min();
                Some(cue.map_or(due, |c| c.min(due)))
            }
            TimerPhase::Ringing { again, .. } => Some(again),
            TimerPhase::Over { .. } => self.comes_back(),
            TimerPhase::Paused { .. } => None,
        }
    }

    /// When what was silenced and not dealt with is told again.
    fn comes_back(&self) -> Option<Moment> {
        let (at, times) = self.silenced?;
        let last = COMES_BACK.len() - 1;
        let times = times as usize;
        let more = times.saturating_sub(last) as u64 * SPOKEN_EVERY.as_millis();
        let after = COMES_BACK[times.min(last)].as_millis() + more;
        Some(at.plus(Span::millis(after)))
    }

    /// It is told again now: true once for each time.
    pub(super) fn take_reminder(&mut self, now: Moment) -> bool {
        let comes = matches!(self.state, TimerPhase::Over { .. })
            && self.comes_back().is_some_and(|at| at <= now);
        if comes {
            // After a stop of the program what was missed is told once.
            while self.comes_back().is_some_and(|at| at <= now) {
                self.silenced = self.silenced.map(|(at, times)| (at, times + 1));
            }
        }
        comes
    }

    /// The cue that has come by `now`, taken off the list.
    pub(super) fn take_cue(&mut self, now: Moment) -> Option<(Moment, Mark)> {
        let TimerPhase::Running { due } = self.state else {
            return None;
        };
        let start = Moment(due.0.saturating_sub(self.lasts.as_millis()));
        let first = self
            .cues
            .iter()
            .enumerate()
            .min_by_key(|(_, c)| c.at)
            .map(|(i, _)| i)?;
        let at = start.plus(self.cues[first].at);
        (at <= now).then(|| {
            let cue = self.cues.remove(first);
            self.given.push(cue.clone());
            (at, cue)
        })
    }

    /// Sets another full length; cues counted from the end move with it.
    pub(super) fn set_length(&mut self, lasts: Span) {
        self.lasts = Span::millis(lasts.as_millis().max(1));
        for cue in &mut self.cues {
            if let Some(left) = cue.left {
                cue.at = Span::millis(self.lasts.as_millis().saturating_sub(left.as_millis()));
            }
        }
    }

    /// Its alarm is to be heard now: its time has come, or it rings and is due to ring again.
    pub(super) fn is_to_ring(&self, now: Moment) -> bool {
        match self.state {
            TimerPhase::Running { due } => due <= now,
            TimerPhase::Ringing { again, .. } => again <= now,
            TimerPhase::Paused { .. } | TimerPhase::Over { .. } => false,
        }
    }

    /// Rings for the first time, or again; true where it is also to be spoken.
    pub(super) fn ring(&mut self, now: Moment) -> bool {
        let wait = |rung: u32| RING_AGAIN[(rung as usize).min(RING_AGAIN.len() - 1)];
        match self.state {
            TimerPhase::Running { due } => {
                self.state = TimerPhase::Ringing {
                    due,
                    again: now.plus(wait(0)),
                    rung: 1,
                };
                true
            }
            TimerPhase::Ringing { due, rung, again } => {
                self.state = TimerPhase::Ringing {
                    due,
                    again: now.plus(wait(rung)),
                    rung: rung.saturating_add(1),
                };
                let before = again.since(due).as_millis();
                let before = before.saturating_sub(wait(rung.saturating_sub(1)).as_millis());
                spoken_by(now.since(due)) > spoken_by(Span::millis(before))
            }
            TimerPhase::Paused { .. } | TimerPhase::Over { .. } => false,
        }
    }
}
