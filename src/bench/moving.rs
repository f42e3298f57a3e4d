//! Moving through the steps.

use super::effect::{Chime, Effect, Why};
use super::pending::Pending;
use super::state::Bench;
use super::words;
use crate::formula::fill;

impl Bench {
    pub(super) fn welcome(&mut self, out: &mut Vec<Effect>) {
        let allergens: Vec<String> = self
            .formula
            .allergens()
            .into_iter()
            .map(|(a, _)| a)
            .collect();
        let allergens = if allergens.is_empty() {
            "No listed allergen, as far as the formula tells; check the packets.".to_owned()
        } else {
            format!("It holds {}.", words::list(&allergens))
        };
        let text = format!(
            "{}. It makes {}. {allergens} Say next to begin, or what can I say.",
            self.formula.name,
            words::makes(&self.formula, &self.batch),
        );
        out.push(Effect::Chime {
            chime: Chime::Listening,
            urgency: 0,
        });
        self.tell(out, &text);
    }

    /// `next`: what is on the scale is in and the next is called; else the next step.
    pub(super) fn next(&mut self, out: &mut Vec<Effect>) {
        if self.finished {
            self.tell(out, "That was the last step.");
            return;
        }
        let Some(at) = self.step else {
            self.enter(0, out);
            return;
        };
        if self.formula.steps[at].weigh_up && self.called().is_some() {
            self.done(out);
            return;
        }
        if let Some(question) = self.step_waits(at) {
            self.pending = Some(Pending::confirm(
                crate::understand::Intent::GoToStep {
                    step: at as u32 + 2,
                },
                question.clone(),
                self.now,
            ));
            self.ask(out, &question);
            return;
        }
        self.leave_step(at, out);
        self.enter(at + 1, out);
    }

    /// Going on by `next` says that what the step named went in, and that what was looked for is seen.
    fn leave_step(&mut self, at: usize, out: &mut Vec<Effect>) {
        let looked_at: Vec<u32> = self
            .rack
            .in_order(self.now)
            .iter()
            .filter(|t| t.step == Some(at) && t.look.is_some())
            .map(|t| t.id)
            .collect();
        for id in looked_at {
            self.seen(id, out);
        }
        if self.formula.steps[at].weigh_up {
            return;
        }
        let now = self.now;
        for added in &mut self.added[at] {
            added.get_or_insert(now);
        }
    }

    /// A reason not to go on without asking: the timer of this step still runs.
    fn step_waits(&self, at: usize) -> Option<String> {
        let waits = self
            .rack
            .live(self.now)
            .into_iter()
            .find(|t| t.step == Some(at) && t.left_ms(self.now) > 60_000)?;
        let left = words::left(waits.left_ms(self.now));
        let name = words::capital(&words::the(&waits.name));
        Some(format!("{name} still has {left}. Go on all the same?"))
    }

    fn enter(&mut self, at: usize, out: &mut Vec<Effect>) {
        if at >= self.formula.steps.len() {
            self.finished = true;
            let forgotten = self.not_in();
            let mut text = "That was the last step.".to_owned();
            if !forgotten.is_empty() {
                text = format!(
                    "{text} I have no word that this went in: {}.",
                    words::list(&forgotten)
                );
            }
            if self.rack.live_count() > 0 {
                text = format!("{text} {}", self.all_left());
            }
            self.tell(out, &text);
            return;
        }
        self.step = Some(at);
        self.finished = false;
        self.reach.entered[at].get_or_insert(self.now);
        self.say_step(at, out);
    }

    /// Cautions once, then the step, then what it offers.
    fn say_step(&mut self, at: usize, out: &mut Vec<Effect>) {
        let step = &self.formula.steps[at];
        if self.cautioned.insert(at) && !step.cautions.is_empty() {
            out.push(Effect::Say {
                text: format!("Careful. {}", words::cautions(&step.cautions)),
                why: Why::Caution,
            });
        }
        let text = self.step_words(at);
        self.tell(out, &text);
        self.open_step_look(at);
    }

    fn open_step_look(&mut self, at: usize) {
        if let Some(look) = &self.formula.steps[at].look
            && self.pending.is_none()
        {
            self.pending = Some(Pending::StepLook {
                question: look.clone(),
            });
        }
    }

    /// The step as it is spoken: number, text, the first thing to weigh, the timer offered, the look.
    fn step_words(&self, at: usize) -> String {
        let step = &self.formula.steps[at];
        let mut parts = vec![format!(
            "Step {}. {}",
            words::number(at as f64 + 1.0),
            self.spoken_text(at)
        )];
        if step.weigh_up
            && let Some(at) = self.called()
        {
            parts.push(self.call_words(at));
        }
        if let Some(spec) = self.offered() {
            let lasts = words::span(self.options.time_of(&self.formula, at, spec));
            parts.push(if self.options.brief {
                format!("{}: {lasts}.", words::capital(&spec.name))
            } else {
                format!("Say start it for the {}, {lasts}.", spec.name)
            });
            parts.extend(self.options.about_time(&self.formula, at, spec));
        }
        if let Some(look) = &step.look {
            parts.push(look.clone());
        }
        parts.extend(self.can_wait(at));
        parts.join(" ")
    }

    /// A step's text with today's amounts in words.
    pub(super) fn spoken_text(&self, at: usize) -> String {
        self.filled(at, |b, mass| words::mass(mass, b.options.scale_step_g))
    }

    /// A step's text with today's amounts in figures.
    pub(super) fn printed_text(&self, at: usize) -> String {
        self.filled(at, |_, mass| crate::measure::print::mass(mass))
    }

    fn filled(&self, at: usize, amount: impl Fn(&Self, crate::measure::Mass) -> String) -> String {
        let step = &self.formula.steps[at];
        fill(&step.text, |id| {
            let i = self.formula.ingredients.iter().position(|x| x.id == id)?;
            let part = match step.part_of(i) {
                0.0 => 1.0,
                part => part,
            };
            Some(amount(self, self.batch.mass(i).times(part)))
        })
    }

    pub(super) fn back(&mut self, out: &mut Vec<Effect>) {
        if self.finished {
            self.finished = false;
        } else {
            match self.step {
                None => {
                    self.tell(out, "We have not begun. Say next to begin.");
                    return;
                }
                Some(0) => {
                    self.step = None;
                    self.tell(out, "Back at the beginning. Say next to begin.");
                    return;
                }
                Some(at) => self.step = Some(at - 1),
            }
        }
        if let Some(at) = self.step {
            self.say_step(at, out);
        }
    }

    pub(super) fn repeat(&mut self, slowly: bool, out: &mut Vec<Effect>) {
        if self.last.is_empty() {
            self.tell(out, "I have said nothing yet.");
            return;
        }
        let text = self.last.clone();
        if slowly {
            let mut slow = self.voice;
            slow.rate = (slow.rate - 3).max(-5);
            out.push(Effect::Voice(slow));
            out.push(Effect::Say {
                text,
                why: Why::Answer,
            });
            out.push(Effect::Voice(self.voice));
        } else {
            out.push(Effect::Say {
                text,
                why: Why::Answer,
            });
        }
    }

    pub(super) fn spell(&mut self, out: &mut Vec<Effect>) {
        let word = match self.called().or_else(|| {
            self.step
                .and_then(|s| self.uses_not_in(s).first().copied().map(|u| (s, u)))
        }) {
            Some((step, at)) => {
                let i = self.formula.steps[step].uses[at].ingredient;
                self.formula.ingredients[i].name.clone()
            }
            None => self.step.map_or(self.formula.name.clone(), |s| {
                self.formula.steps[s].title.clone()
            }),
        };
        let letters: Vec<String> = word
            .chars()
            .map(|c| {
                if c == ' ' {
                    "space".to_owned()
                } else {
                    c.to_uppercase().to_string()
                }
            })
            .collect();
        self.tell(out, &format!("{word}: {}.", letters.join(", ")));
    }

    pub(super) fn where_am_i(&mut self, out: &mut Vec<Effect>) {
        let total = words::number(self.formula.steps.len() as f64);
        let mut text = match self.step {
            _ if self.finished => "All steps are done.".to_owned(),
            None => format!("At the beginning of {total} steps."),
            Some(at) => {
                let mut t = format!(
                    "Step {} of {total}: {}.",
                    words::number(at as f64 + 1.0),
                    words::lower_first(&self.formula.steps[at].title)
                );
                if let Some(call) = self.called() {
                    t = format!("{t} {}", self.call_words(call));
                }
                t
            }
        };
        if self.rack.live_count() > 0 {
            text = format!("{text} {}", self.all_left());
        }
        if let Some(p) = &self.pending {
            text = format!("{text} {}", p.question());
        }
        self.tell(out, &text);
    }

    pub(super) fn what_next(&mut self, out: &mut Vec<Effect>) {
        let next = self.step.map_or(0, |s| s + 1);
        let text = match self.formula.steps.get(next) {
            Some(_) if !self.finished => format!(
                "Next comes step {}. {}",
                words::number(next as f64 + 1.0),
                self.spoken_text(next)
            ),
            _ => "Nothing more: this is the last step.".to_owned(),
        };
        self.tell(out, &text);
    }

    pub(super) fn steps_left(&mut self, out: &mut Vec<Effect>) {
        let left = if self.finished {
            0
        } else {
            self.formula.steps.len() - self.step.map_or(0, |s| s + 1)
        };
        let text = match left {
            0 => "None: this is the last step.".to_owned(),
            1 => format!(
                "One more step: {}.",
                words::lower_first(&self.formula.steps[self.formula.steps.len() - 1].title)
            ),
            n => format!("{} more steps.", words::capital(&words::count(n))),
        };
        self.tell(out, &text);
    }

    pub(super) fn go_to(&mut self, step: u32, out: &mut Vec<Effect>) {
        let total = self.formula.steps.len();
        let wanted = step as usize;
        if wanted == total + 1 && self.step == Some(total - 1) {
            self.enter(total, out);
            return;
        }
        if wanted == 0 || wanted > total {
            self.tell(out, &format!("There are {} steps.", words::count(total)));
            return;
        }
        if let Some(at) = self.step
            && wanted == at + 2
        {
            self.leave_step(at, out);
        }
        self.enter(wanted - 1, out);
        let skipped: Vec<String> = self.not_in_before(wanted - 1);
        if !skipped.is_empty() {
            let text = format!(
                "Mind: I have no word that this went in: {}.",
                words::list(&skipped)
            );
            out.push(Effect::Say {
                text,
                why: Why::Notice,
            });
        }
    }

    pub(super) fn read_ingredients(&mut self, out: &mut Vec<Effect>) {
        let lines: Vec<String> = (0..self.formula.ingredients.len())
            .map(|i| {
                format!(
                    "{}, {}.",
                    words::capital(&self.formula.ingredients[i].name),
                    self.amount_words(i, 1.0)
                )
            })
            .collect();
        let by = if self.batch.by().is_empty() {
            String::new()
        } else {
            format!("{}. ", words::capital(self.batch.by()))
        };
        self.tell(out, &format!("{by}{}", lines.join(" ")));
    }

    pub(super) fn read_step(&mut self, out: &mut Vec<Effect>) {
        let Some(at) = self.step else {
            self.tell(out, "We have not begun. Say next to begin.");
            return;
        };
        let mut text = self.step_words(at);
        let step = &self.formula.steps[at];
        if !step.cautions.is_empty() {
            text = format!("{text} Careful. {}", words::cautions(&step.cautions));
        }
        if !step.weigh_up && !step.uses.is_empty() {
            let uses: Vec<String> = step
                .uses
                .iter()
                .map(|u| {
                    format!(
                        "{} of {}",
                        self.amount_words(u.ingredient, u.part),
                        self.formula.ingredients[u.ingredient].name
                    )
                })
                .collect();
            text = format!("{text} It takes {}.", words::list(&uses));
        }
        for spec in &step.timers {
            for cue in &spec.cues {
                let when = match cue.left {
                    Some(left) => format!("with {} left", words::span(left)),
                    None => format!("after {}", words::span(cue.at)),
                };
                text = format!(
                    "{text} In the {}, {when}: {}.",
                    spec.name,
                    words::lower_first(&cue.say)
                );
            }
        }
        self.tell(out, &text);
    }

    pub(super) fn help(&mut self, out: &mut Vec<Effect>) {
        let mut can: Vec<&str> = Vec::new();
        if self.pending.is_some() {
            can.extend(["yes", "no", "not yet"]);
        }
        if !self.rack.ringing().is_empty() {
            can.push("stop the chime");
        }
        if self.called().is_some() {
            can.extend(["it's in", "what's left to add"]);
        } else {
            can.push("next");
        }
        if self.offered().is_some() {
            can.push("start it");
        }
        can.extend([
            "again",
            "back",
            "where am I",
            "how much salt",
            "have I added the salt",
            "start a timer for ten minutes",
        ]);
        if self.rack.live_count() > 0 {
            can.extend(["how long is left", "add five minutes"]);
        }
        can.extend([
            "make it one and a half times",
            "louder",
            "slower",
            "stop",
            "goodbye",
        ]);
        let can: Vec<String> = can.iter().map(|s| (*s).to_owned()).collect();
        self.tell(out, &format!("You can say: {}.", can.join("; ")));
    }
}
