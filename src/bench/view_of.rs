//! The bench as a screen sees it.

use super::Bench;
use super::options::Attention;
use super::view::{Big, Listening, Pouring, TimerState, TimerView, View};
use super::words;
use crate::measure::{Mass, print};
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
                            (
                                i.name.clone(),
                                self.printed_amount(u.ingredient, u.part),
                                added.is_some(),
                            )
                        })
                        .collect()
                })
                .unwrap_or_default(),
            pouring: self.pouring(),
            heard: self.dialogue.heard().cloned(),
            said: self.dialogue.last().to_owned(),
            question: self.dialogue.question().map(|p| p.question().to_owned()),
            entry: self.keypad.entry().to_owned(),
            choosing: if self.keypad.lists_open() {
                self.dialogue.choosing().to_owned()
            } else {
                String::new()
            },
            keys: self.keypad.hints(&self.situation()),
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
            others: self.others_in_view(now),
            troubles: self
                .dialogue
                .missing()
                .iter()
                .map(|(_, note)| note.clone())
                .collect(),
        }
    }

    /// An amount as it is to be read beside the scale.
    fn printed_amount(&self, ingredient: usize, part: f64) -> String {
        let quantity = self.batch().quantity(self.formula(), ingredient, part);
        let grams = |mass| print::grams(mass, self.options.scale_step_g);
        quantity.map_or_else(String::new, |q| q.printed(grams))
    }

    fn pouring(&self) -> Option<Pouring> {
        let (grams, wanted) = self.scale.pouring()?;
        Some(Pouring { grams, wanted })
    }

    /// The one thing to read from across the room.
    fn big(&self) -> Big {
        if let Some(t) = self.rack.ringing().first() {
            return Big {
                main: words::capital(&t.name),
                under: t.look.clone().unwrap_or_else(|| "time is up".to_owned()),
            };
        }
        if let (Some(pouring), Some(at)) = (self.pouring(), self.dish().called()) {
            let step = self.scale.step.unwrap_or(1.0).min(1.0);
            let shown = |grams: f64| print::grams(Mass::grams(grams.max(0.0)), step);
            let name = self.dish().name(at);
            return Big {
                main: shown(pouring.grams),
                under: format!("of {} {name}", shown(pouring.wanted)),
            };
        }
        if let Some((step, at)) = self.dish().called() {
            let u = &self.formula().steps[step].uses[at];
            return Big {
                main: self.printed_amount(u.ingredient, u.part),
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
}
