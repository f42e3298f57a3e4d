//! The bench as a screen sees it.

use super::Bench;
use super::event::Device;
use super::options::Attention;
use super::pending::Pending;
use super::view::{Big, ListView, Listening, Pouring, TimerState, TimerView, View};
use super::words;
use crate::measure::{Mass, print};
use crate::time::Moment;
use crate::timer::TimerPhase;

impl Bench {
    /// The bench at this moment. Cheap enough for every second.
    pub fn view(&self, now: Moment) -> View {
        let mut view = self.view_as_written(now);
        if let Some(english) = self.options.english {
            view.each_text(|text| *text = english.say(text));
        }
        view
    }

    fn view_as_written(&self, now: Moment) -> View {
        let now = now.max(self.now);
        let step = self.step().filter(|_| !self.is_finished());
        let (h, m, _) = self.local(now);
        let situation = self.situation();
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
                .filter(|t| t.is_live() || t.silenced.is_some())
                .map(|t| TimerView {
                    name: t.name.clone(),
                    left_ms: t.left_ms(now),
                    state: match t.state {
                        TimerPhase::Running { .. } => TimerState::Running,
                        TimerPhase::Paused { .. } => TimerState::Paused,
                        TimerPhase::Ringing { .. } => TimerState::Ringing,
                        TimerPhase::Over { .. } => TimerState::Over,
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
            said: self.said_beside_the_screen(step),
            question: self.dialogue.question().map(|p| p.question().to_owned()),
            entry: self.keypad.entry().to_owned(),
            choosing: if self.keypad.lists_open() {
                self.dialogue.choosing().to_owned()
            } else {
                String::new()
            },
            list: self
                .keypad
                .list(&situation)
                .map(|(title, items, at)| ListView { title, items, at }),
            cautions: step
                .and_then(|s| words::cautions(&self.formula().steps[s], self.options.region))
                .into_iter()
                .collect(),
            contains: if self.is_finished()
                || step.is_some_and(|s| self.formula().steps[s].uses.is_empty())
            {
                String::new()
            } else {
                words::capital(&self.contents().line(self.options.law()))
            },
            keys: self.keypad.hints(&situation),
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
                .map(|(device, _)| missing(*device).to_owned())
                .collect(),
        }
    }

    /// What was said last; nothing where it reads out what the screen shows: the step, what goes on the scale, a list.
    fn said_beside_the_screen(&self, step: Option<usize>) -> String {
        let said = self.dialogue.last();
        let reads_step = step.is_some_and(|s| {
            let number = format!("Step {}.", words::number(s as f64 + 1.0));
            let part = self.formula().steps[s].part.as_deref();
            let part = part.map_or_else(String::new, |part| format!("Now the {part}. "));
            said.starts_with(&number) || said.starts_with(&format!("{part}{number}"))
        });
        let calls = self
            .dish()
            .called()
            .is_some_and(|at| said == self.call_words(at));
        let opens = self.step().is_none()
            && self.dialogue.question().is_none()
            && said.starts_with(&self.formula().name);
        if reads_step || calls || opens {
            String::new()
        } else {
            said.to_owned()
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
        // The alarm that was named first, which is the newest, and which the next key answers.
        if let Some(t) = self.rack.ringing().last() {
            return Big {
                main: words::capital(&t.name),
                under: t.look.clone().unwrap_or_else(|| "time is up".to_owned()),
            };
        }
        if let Some(Pending::Look { timer, question }) = self.dialogue.question() {
            let timer = self.rack.get(*timer);
            return Big {
                main: question.clone(),
                under: timer.map_or_else(String::new, |t| t.name.clone()),
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

/// A device that is not there, in a few plain words.
fn missing(device: Device) -> &'static str {
    match device {
        Device::Microphone => "no microphone",
        Device::Loudspeaker => "no loudspeaker",
        Device::Voice => "no voice",
        Device::Model => "no speech model",
        Device::Keypad => "no keypad",
        Device::Journal => "nothing is written down",
        Device::Scale => "no scale",
    }
}
