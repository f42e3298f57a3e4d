//! The bench as a screen sees it.

use super::Bench;
use super::keypad::Place;
use super::options::Attention;
use super::pending::Pending;
use super::view::{Big, Listening, TimerState, TimerView, View};
use super::words;
use crate::measure::print;
use crate::time::Moment;
use crate::timer::State;

impl Bench {
    /// The bench at this moment. Cheap enough for every second.
    pub fn view(&self, now: Moment) -> View {
        let now = now.max(self.now);
        let step = self.step().filter(|_| !self.is_finished());
        let (h, m, _) = self.local(now);
        View {
            formula: self.formula().name.clone(),
            scale: self.batch().by().to_owned(),
            step: if self.is_finished() {
                self.formula().steps.len()
            } else {
                self.step().map_or(0, |s| s + 1)
            },
            steps: self.formula().steps.len(),
            title: step
                .map(|s| self.formula().steps[s].title.clone())
                .unwrap_or_default(),
            text: step.map(|s| self.printed_text(s)).unwrap_or_default(),
            big: self.big(),
            timers: self
                .rack
                .in_order(now)
                .into_iter()
                .map(|t| TimerView {
                    name: t.name.clone(),
                    left_ms: t.left_ms(now),
                    state: match t.state {
                        State::Running { .. } => TimerState::Running,
                        State::Paused { .. } => TimerState::Paused,
                        State::Ringing { .. } => TimerState::Ringing,
                        State::Over { .. } => TimerState::Over,
                    },
                })
                .collect(),
            weighing: step
                .map(|s| {
                    self.formula().steps[s]
                        .uses
                        .iter()
                        .enumerate()
                        .map(|(at, u)| {
                            let added = self.dish().went_in((s, at));
                            let i = &self.formula().ingredients[u.ingredient];
                            let mass = self.batch().mass(u.ingredient).times(u.part);
                            (
                                i.name.clone(),
                                print::grams(mass, self.options.scale_step_g),
                                added.is_some(),
                            )
                        })
                        .collect()
                })
                .unwrap_or_default(),
            heard: self.dialogue.heard().cloned(),
            said: self.dialogue.last().to_owned(),
            question: self.dialogue.question().map(|p| p.question().to_owned()),
            entry: self.keypad.entry().to_owned(),
            choosing: if self.keypad.lists_open() {
                self.dialogue.choosing().to_owned()
            } else {
                String::new()
            },
            keys: self.keypad.hints(&self.key_place()),
            listening: if self.dialogue.is_deaf() {
                Listening::Deaf
            } else if self.dialogue.is_listening() && self.is_awake_at(now) {
                Listening::Yes
            } else if self.dialogue.is_listening() && self.options.attention == Attention::Name {
                Listening::Name
            } else {
                Listening::Off
            },
            now,
            clock: format!("{h:02}:{m:02}"),
            ready: self.ready_clock().unwrap_or_default(),
            troubles: self
                .dialogue
                .missing()
                .iter()
                .map(|(_, note)| note.clone())
                .collect(),
        }
    }

    /// The one thing to read from across the room.
    fn big(&self) -> Big {
        if let Some(t) = self.rack.ringing().first() {
            return Big {
                main: words::capital(&t.name),
                under: t.look.clone().unwrap_or_else(|| "time is up".to_owned()),
            };
        }
        if let Some((step, at)) = self.dish().called() {
            let u = &self.formula().steps[step].uses[at];
            let mass = self.batch().mass(u.ingredient).times(u.part);
            return Big {
                main: print::grams(mass, self.options.scale_step_g),
                under: self.formula().ingredients[u.ingredient].name.clone(),
            };
        }
        match self.step() {
            _ if self.is_finished() => Big {
                main: "Done".to_owned(),
                under: self.formula().name.clone(),
            },
            None => Big {
                main: self.formula().name.clone(),
                under: "next: begin".to_owned(),
            },
            Some(at) => Big {
                main: self.formula().steps[at].title.clone(),
                under: String::new(),
            },
        }
    }

    /// What the keypad needs to know of where the cook is.
    pub(super) fn key_place(&self) -> Place {
        Place {
            alarm: !self.rack.ringing().is_empty(),
            asking: self
                .dialogue
                .question()
                .is_some_and(|p| !matches!(p, Pending::HowLong { .. })),
            look: matches!(
                self.dialogue.question(),
                Some(Pending::Look { .. } | Pending::StepLook { .. })
            ),
            readings: match self.dialogue.question() {
                Some(Pending::Which { readings, .. }) => readings
                    .iter()
                    .map(|r| crate::understand::describe(r, &self.lexicon))
                    .collect(),
                _ => Vec::new(),
            },
            asks_length: matches!(self.dialogue.question(), Some(Pending::HowLong { .. })),
            weighing: self.dish().called().is_some(),
            offered_timer: self.dish().offered().is_some(),
            started: self.step().is_some(),
            timers: self
                .rack
                .live(self.now)
                .iter()
                .map(|t| t.name.clone())
                .collect(),
            ingredients: self
                .formula()
                .ingredients
                .iter()
                .map(|i| i.id.clone())
                .collect(),
            ingredient_names: self
                .formula()
                .ingredients
                .iter()
                .map(|i| i.name.clone())
                .collect(),
            step: self.step().map_or(0, |s| s + 1),
            steps: self.formula().steps.len(),
        }
    }
}
