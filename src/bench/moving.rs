//! Moving through the steps.

use super::Bench;
use super::effect::{Chime, Effect, TimerChange, Why};
use super::length;
use super::pending::Pending;
use super::words;
use crate::formula::{TimerSpec, fill};
use crate::measure::{Heat, Temperature, print, say};
use crate::order::Order;
use crate::plan::Effort;

/// A step in words.
struct StepWords {
    number: String,
    text: String,
    /// What is to be done by word or key.
    offers: String,
    /// What is told of its time.
    beside: String,
}

impl Bench {
    pub(super) fn welcome(&mut self, out: &mut Vec<Effect>) {
        let (text, rest) = if self.dishes.are_several() {
            let hint = self.hint(
                "Say next or press Enter; help tells more.",
                "Enter begins. Dot and one tells more.",
            );
            (format!("{}{hint}", self.welcome_of_all()), String::new())
        } else {
            self.opening()
        };
        out.push(Effect::Chime {
            chime: Chime::Listening,
            urgency: 0,
        });
        self.tell(out, &text);
        self.dialogue.leave_rest(rest);
        for dish in self.dishes.on().collect::<Vec<_>>() {
            if let Some(last) = self.last_time_opening(dish) {
                self.note(out, &last);
                out.extend(self.spoken_notes(dish));
            }
        }
        if let Some(wanted) = self.options.ready_at {
            // Nothing runs yet, and nobody waits for a key.
            self.serve_at(wanted, Effort::Whole, out);
        }
    }

    /// Name, yield, allergens and how to begin. The allergens are said whatever it takes; what is left out is asked for.
    fn opening(&self) -> (String, String) {
        let allergens = self.contents().opening(self.options.law());
        let name = &self.formula().name;
        let makes = words::makes(self.formula(), self.batch());
        let (with_yield, bare) = (
            format!("{name}: {makes}. {allergens}"),
            format!("{name}. {allergens}"),
        );
        let long = self.hint(
            "Say next or press Enter; help tells more.",
            "Enter begins. Dot and one tells more.",
        );
        let short = self.hint("Say next or press Enter.", "Enter begins.");
        let shortest = self.hint("Say next.", "Enter begins.");
        let most = self.at_most(length::OPENING);
        let ways = [
            format!("{with_yield}{long}"),
            format!("{with_yield}{short}"),
            format!("{bare}{long}"),
            format!("{bare}{short}"),
        ];
        let fits = ways.into_iter().find(|text| length::count(text) <= most);
        let text = fits.unwrap_or_else(|| format!("{bare}{shortest}"));
        let makes = if text.starts_with(&with_yield) {
            String::new()
        } else {
            format!("It makes {makes}.")
        };
        let rest = words::joined_by_spaces(&[&makes, self.tin_words().trim_start()]);
        (text, rest)
    }

    /// `next`: what is on the scale is in and the next is called; else the next step.
    pub(super) fn next(&mut self, out: &mut Vec<Effect>) {
        if self.dishes.are_several() {
            self.next_of_all(out);
        } else {
            self.next_here(out);
        }
    }

    /// `next` for the dish at hand.
    pub(super) fn next_here(&mut self, out: &mut Vec<Effect>) {
        if self.is_finished() {
            self.tell_the_end(out, "That was the last step.");
            return;
        }
        let Some(at) = self.step() else {
            if self.dishes.are_several() {
                let the = words::capital(&self.dishes.the(self.dishes.at_hand()));
                self.dialogue.lead_with(&format!("{the}:"));
            }
            self.enter(0, out);
            return;
        };
        if self.formula().steps[at].weigh_up && self.dish().called().is_some() {
            self.done(out);
            return;
        }
        let asked = (self.dishes.at_hand(), at);
        if self.dialogue.asks_to_leave(asked)
            && let Some(question) = self.step_waits(at)
        {
            self.dialogue.asked_to_leave(asked);
            let step = at as u32 + 2;
            let order = Order::GoToStep {
                step: crate::order::StepId(step),
            };
            self.put(Pending::confirm(order, question, self.now), out);
            return;
        }
        self.leave_step(at, out);
        self.enter(at + 1, out);
    }

    /// A timer that the step offered has been passed over.
    pub(super) fn tell_not_started(&mut self, timer: &str, out: &mut Vec<Effect>) {
        let text = format!("{} was not started.", words::capital(&timer_words(timer)));
        self.dialogue.aside(out, &text, Why::Notice);
    }

    /// Going on by `next` says that what the step named went in, and that what was looked for when its time was up is
    /// seen, and answers what rings for it. It ends no timer that still runs.
    pub(super) fn leave_step(&mut self, at: usize, out: &mut Vec<Effect>) {
        let looked_at: Vec<u32> = self
            .rack
            .in_order(self.now)
            .iter()
            .filter(|t| {
                t.origin == Some(self.dishes.origin(at)) && t.look.is_some() && t.has_come_due()
            })
            .map(|t| t.id)
            .collect();
        for id in looked_at {
            self.seen(id, out);
        }
        let origin = self.dishes.origin(at);
        let rings = self.rack.ringing().into_iter();
        let rings = rings.filter(|t| t.origin == Some(origin) && t.look.is_none());
        for id in rings.map(|t| t.id).collect::<Vec<_>>() {
            self.rack.answer(id, self.now);
            self.changed(id, TimerChange::Answered, out);
            out.push(Effect::Hush);
        }
        self.rack.deal_with(origin);
        let now = self.now;
        self.dish_mut().leave_step(at, now);
    }

    /// A reason not to go on without asking: the timer of this step still runs, or was not started.
    fn step_waits(&self, at: usize) -> Option<String> {
        let runs = self
            .rack
            .live(self.now)
            .into_iter()
            .find(|t| t.origin == Some(self.dishes.origin(at)) && t.left_ms(self.now) > 60_000);
        let Some(waits) = runs else {
            let spec = self.dish().offered().filter(|spec| !spec.alongside)?;
            let name = timer_words(&spec.name);
            return Some(format!("{name} has not been started. Go on all the same?"));
        };
        let left = words::left(waits.left_ms(self.now));
        let name = words::capital(&words::the(&waits.name));
        let has = if words::is_many(&waits.name) {
            "have"
        } else {
            "has"
        };
        Some(format!("{name} still {has} {left}. Go on all the same?"))
    }

    pub(super) fn enter(&mut self, at: usize, out: &mut Vec<Effect>) {
        let now = self.now;
        self.dish_mut().enter(at, now);
        self.dialogue.enters();
        if self.is_finished() {
            self.tell_last_step(out);
            return;
        }
        self.say_step(at, out);
    }

    /// The last step of all is done: what was not marked in, and what still runs.
    pub(super) fn tell_last_step(&mut self, out: &mut Vec<Effect>) {
        let mut text = self.with_forgotten("That was the last step.".to_owned());
        if self.rack.live_count() > 0 {
            text = format!("{text} {}", self.all_left());
        }
        self.tell_the_end(out, &text);
    }

    /// With what was not marked in of the dish at hand.
    pub(super) fn with_forgotten(&self, text: String) -> String {
        let forgotten = self.dish().forgotten(usize::MAX);
        if forgotten.is_empty() {
            return text;
        }
        format!("{text} Not marked in: {}.", words::few(&forgotten))
    }

    pub(super) fn tell_the_end(&mut self, out: &mut Vec<Effect>, text: &str) {
        let hint = self.hint("Say goodbye to leave.", "Dot, nought and four leaves.");
        self.tell(out, &format!("{text}{hint}"));
    }

    /// The timer that a step offers: how to start it, and how long it lasts.
    pub(super) fn offer_words(&self, spec: &TimerSpec) -> String {
        let lasts = match self.step() {
            Some(at) => self.dish().time_of(&self.options, at, spec),
            None => spec.lasts,
        };
        let most = spec.most.filter(|_| lasts == spec.lasts);
        let (name, lasts) = (words::the(&spec.name), words::window(lasts, most));
        let hint = self.hint(
            &format!("Say start it for {name}, {lasts}."),
            &format!("Star starts {name}, {lasts}."),
        );
        if hint.is_empty() {
            format!("{}: {lasts}.", words::capital(&spec.name))
        } else {
            hint.trim_start().to_owned()
        }
    }

    pub(super) fn go_on_hint(&self) -> String {
        self.hint("Say next to go on.", "Enter goes on.")
    }

    /// Cautions once, then the step, then what it offers: the rest of a long text is told by `more`, what is to be done by
    /// word or key is said with its beginning.
    pub(super) fn say_step(&mut self, at: usize, out: &mut Vec<Effect>) {
        let cautions = words::cautions(&self.formula().steps[at], self.options.region);
        if let Some(text) = cautions
            && self.dish_mut().caution(at)
        {
            self.dialogue.aside(out, &text, Why::Caution);
        }
        let words = self.step_words(at);
        let must: usize = [&words.number, &words.offers]
            .map(|part| length::count(part))
            .iter()
            .sum();
        let most = self.at_most(length::STEP).saturating_sub(must);
        let (text, mut rest) = length::within(&words.text, most.max(1));
        let fits = rest.is_empty() && length::count(&text) + length::count(&words.beside) <= most;
        let beside = if fits { words.beside.as_str() } else { "" };
        if !fits {
            rest = words::joined_by_spaces(&[&rest, &words.beside]);
        }
        let hint = self.rest_hint(&rest).trim_start();
        let said = words::joined_by_spaces(&[&words.number, &text, hint, &words.offers, beside]);
        self.tell(out, &said);
        self.dialogue.leave_rest(rest);
        self.open_step_look(at);
    }

    fn open_step_look(&mut self, at: usize) {
        let look = self.formula().steps[at].look.clone();
        if let Some(question) = look.filter(|_| self.dialogue.question().is_none()) {
            let dish = self.dishes.at_hand();
            self.dialogue.wait_for(Pending::StepLook { dish, question });
        }
    }

    /// The step as it is spoken: number; text; the oven, the first thing to weigh, the timer offered, the look; what is told
    /// of its time.
    fn step_words(&self, at: usize) -> StepWords {
        let step = &self.formula().steps[at];
        let before = &self.formula().steps[..at];
        let mut number = vec![format!("Step {}.", words::number(at as f64 + 1.0))];
        let (mut parts, mut beside) = (Vec::new(), Vec::new());
        if let Some(part) = &step.part
            && before
                .last()
                .is_none_or(|last| last.part.as_ref() != Some(part))
        {
            number.insert(0, format!("Now the {part}."));
        }
        if let Some(heat) = step.oven_c.and_then(celsius) {
            let last = before.iter().rev().find_map(|s| s.oven_c);
            let is = if last.is_none_or(|c| Some(c) == step.oven_c) {
                "The oven should be at"
            } else {
                "Now set the oven to"
            };
            parts.push(if self.options.brief {
                format!("Oven: {heat}.")
            } else {
                format!("{is} {heat}.")
            });
        }
        if step.weigh_up
            && let Some(at) = self.dish().called()
        {
            parts.push(self.call_words(at));
        }
        if let Some(spec) = self.dish().offered() {
            parts.push(self.offer_words(spec));
            beside.extend(self.dish().about_time(&self.options, at, spec));
        }
        if let Some(look) = &step.look {
            parts.push(look.clone());
        }
        beside.extend(self.can_wait(at));
        StepWords {
            number: number.join(" "),
            text: self.spoken_text(at),
            offers: parts.join(" "),
            beside: beside.join(" "),
        }
    }

    /// A step's text with today's amounts in words.
    pub(super) fn spoken_text(&self, at: usize) -> String {
        self.filled(at, |b, i, part| {
            let quantity = b.batch().quantity(b.formula(), i, part);
            match quantity.and_then(|q| Some((q.count?, q.exact()?))) {
                Some(((low, high, one), mass)) => {
                    format!(
                        "{} or {}",
                        words::from_to(low, high, one),
                        b.plain_mass(mass)
                    )
                }
                None if quantity.is_some_and(|q| q.exact().is_some()) => {
                    b.plain_mass(b.batch().mass(i).times(part))
                }
                None => b.amount_words(i, part),
            }
        })
    }

    /// A step's text with today's amounts in figures.
    pub(super) fn printed_text(&self, at: usize) -> String {
        self.filled(at, |b, i, part| {
            let quantity = b.batch().quantity(b.formula(), i, part);
            quantity.map_or_else(String::new, |q| q.printed(print::mass))
        })
    }

    fn filled(&self, at: usize, amount: impl Fn(&Self, usize, f64) -> String) -> String {
        let step = &self.formula().steps[at];
        fill(&step.text, |id| {
            let i = self.formula().ingredients.iter().position(|x| x.id == id)?;
            let part = match step.part_of(i) {
                0.0 => 1.0,
                part => part,
            };
            Some(amount(self, i, part))
        })
    }

    fn tell_to_begin(&mut self, out: &mut Vec<Effect>, text: &str) {
        let hint = self.hint("Say next to begin.", "Enter begins.");
        self.tell(out, &format!("{text}{hint}"));
    }

    pub(super) fn back(&mut self, out: &mut Vec<Effect>) {
        if self.back_to_dish(out) {
            return;
        }
        if !self.is_finished() {
            match self.step() {
                None => {
                    self.tell_to_begin(out, "We have not begun.");
                    return;
                }
                Some(at) if self.take_back_weighed(at, out) => return,
                Some(_) => {}
            }
        }
        self.dish_mut().go_back();
        self.dialogue.enters();
        let Some(at) = self.step() else {
            self.tell_to_begin(out, "Back at the beginning.");
            return;
        };
        let now = self.now;
        self.dish_mut().take_back_slip(at, now);
        self.say_step(at, out);
    }

    /// In a weigh-up, back takes back what was just called in; false where nothing was.
    fn take_back_weighed(&mut self, at: usize, out: &mut Vec<Effect>) -> bool {
        let Some(last) = self.dish_mut().take_back_weighed(at) else {
            return false;
        };
        let mut text = {
            let name = self.dish().name(last);
            format!("The {name} {} not in.", words::is(name))
        };
        if let Some(call) = self.dish().called() {
            text = format!("{text} {}", self.call_words(call));
        }
        self.tell(out, &text);
        true
    }

    pub(super) fn repeat(&mut self, slowly: bool, out: &mut Vec<Effect>) {
        if self.dialogue.last().is_empty() {
            self.tell(out, "I have said nothing yet.");
            return;
        }
        let text = self.dialogue.last().to_owned();
        if slowly {
            let mut slow = self.dialogue.voice();
            slow.rate = (slow.rate - 3).max(-5);
            out.push(Effect::Voice(slow));
            out.push(Effect::Say {
                text,
                why: Why::Answer,
            });
            out.push(Effect::Voice(self.dialogue.voice()));
        } else {
            out.push(Effect::Say {
                text,
                why: Why::Answer,
            });
        }
    }

    /// The last few things said, the oldest first; what is said again is not new.
    pub(super) fn repeat_last(&self, count: u32, out: &mut Vec<Effect>) {
        for text in self.dialogue.recent(count as usize) {
            out.push(Effect::Say {
                text: text.clone(),
                why: Why::Answer,
            });
        }
    }

    /// The last name in the last answer in letters, and its numbers from ten up in digits: fifteen is one, five.
    pub(super) fn spell(&mut self, out: &mut Vec<Effect>) {
        let said = self.dialogue.last().to_lowercase();
        let names = self
            .formula()
            .ingredients
            .iter()
            .map(|i| i.name.clone())
            .chain(
                self.rack
                    .in_order(self.now)
                    .into_iter()
                    .map(|t| t.name.clone()),
            );
        let name = names
            .filter_map(|n| Some((said.rfind(&n.to_lowercase())?, n)))
            .max_by_key(|(at, n)| (at + n.len(), n.len()))
            .map(|(_, n)| n);
        let mut parts: Vec<String> = name.iter().map(|n| words::spelled(n)).collect();
        parts.extend(words::digits_in(&said));
        if parts.is_empty() {
            let about = match self.step() {
                Some(at) => &self.formula().steps[at].title,
                None => &self.formula().name,
            };
            parts.push(words::spelled(about));
        }
        // `again` still repeats the answer that was spelled.
        self.dialogue.aside(out, &parts.join(" "), Why::Answer);
    }

    pub(super) fn where_am_i(&mut self, out: &mut Vec<Effect>) {
        let total = words::number(self.formula().steps.len() as f64);
        let mut text = match self.step() {
            _ if self.is_finished() => "All steps are done.".to_owned(),
            None => format!("At the beginning of {total} steps."),
            Some(at) => {
                let mut t = format!(
                    "Step {} of {total}: {}.",
                    words::number(at as f64 + 1.0),
                    words::lower_first(&self.formula().steps[at].title)
                );
                if let Some(call) = self.dish().called() {
                    t = format!("{t} {}", self.call_words(call));
                }
                if let Some(spec) = self.dish().offered() {
                    t = format!("{t} {} has not been started.", timer_words(&spec.name));
                }
                t
            }
        };
        if self.dishes.are_several() {
            text = self.where_all_are(&text);
        } else if self.rack.live_count() > 0 {
            text = format!("{text} {}", self.all_left());
        }
        if let Some(p) = self.dialogue.question() {
            text = format!("{text} {}", p.question());
        }
        self.tell(out, &text);
        // What is half entered is gone after a stop, so it is no part of what `say that again` repeats.
        if self.keypad.lists_open() {
            let item = words::sentence(self.dialogue.choosing());
            out.push(Effect::Say {
                text: format!("A list is open: {item}"),
                why: Why::Answer,
            });
        }
        if !self.keypad.entry().is_empty() {
            out.push(Effect::Say {
                text: format!("Entered so far: {}.", self.keypad.entry()),
                why: Why::Answer,
            });
        }
    }

    pub(super) fn what_next(&mut self, out: &mut Vec<Effect>) {
        let next = self.step().map_or(0, |s| s + 1);
        let text = match self.formula().steps.get(next) {
            Some(_) if !self.is_finished() => format!(
                "Next comes step {}. {}",
                words::number(next as f64 + 1.0),
                self.spoken_text(next)
            ),
            _ => "Nothing more: this is the last step.".to_owned(),
        };
        self.tell(out, &text);
    }

    pub(super) fn steps_left(&mut self, out: &mut Vec<Effect>) {
        let left = if self.is_finished() {
            0
        } else {
            self.formula().steps.len() - self.step().map_or(0, |s| s + 1)
        };
        let text = match left {
            0 => "None: this is the last step.".to_owned(),
            1 => format!(
                "One more step: {}.",
                words::lower_first(&self.formula().steps[self.formula().steps.len() - 1].title)
            ),
            n => format!("{} more steps.", words::capital(&words::count(n))),
        };
        self.tell(out, &text);
    }

    pub(super) fn go_to(&mut self, step: u32, out: &mut Vec<Effect>) {
        let total = self.formula().steps.len();
        let wanted = step as usize;
        if wanted == total + 1 && self.step() == Some(total - 1) {
            self.enter(total, out);
            return;
        }
        if wanted == 0 || wanted > total {
            self.tell(out, &format!("There are {} steps.", words::count(total)));
            return;
        }
        if let Some(at) = self.step()
            && wanted == at + 2
        {
            self.leave_step(at, out);
        }
        self.enter(wanted - 1, out);
        let skipped = self.dish().forgotten(wanted - 1);
        if !skipped.is_empty() {
            let text = format!("Not marked in yet: {}.", words::few(&skipped));
            self.dialogue.aside(out, &text, Why::Notice);
        }
    }

    pub(super) fn read_ingredients(&mut self, out: &mut Vec<Effect>) {
        let lines: Vec<String> = (0..self.formula().ingredients.len())
            .map(|i| {
                format!(
                    "{}, {}{}.",
                    words::capital(&self.formula().ingredients[i].name),
                    self.amount_words(i, 1.0),
                    self.beside_words(i)
                )
            })
            .collect();
        let by = if self.batch().by().is_empty() {
            String::new()
        } else {
            format!("{}. ", words::capital(self.batch().by()))
        };
        self.tell(out, &format!("{by}{}", lines.join(" ")));
    }

    pub(super) fn read_step(&mut self, out: &mut Vec<Effect>) {
        let Some(at) = self.step() else {
            self.tell_to_begin(out, "We have not begun.");
            return;
        };
        let StepWords {
            number,
            text,
            offers,
            beside,
        } = self.step_words(at);
        let mut text = words::joined_by_spaces(&[&number, &text, &offers, &beside]);
        let step = &self.formula().steps[at];
        if let Some(cautions) = words::cautions(step, self.options.region) {
            text = format!("{text} {cautions}");
        }
        if !step.weigh_up && !step.uses.is_empty() {
            let uses: Vec<String> = step
                .uses
                .iter()
                .map(|u| self.named_amount(u.ingredient, u.part))
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
            if let Some(look) = &spec.look {
                text = format!("{text} At the end of the {}: {look}", spec.name);
            }
        }
        self.tell(out, &text);
    }
}

/// `The first rise timer`.
fn timer_words(name: &str) -> String {
    let name = words::capital(&words::the(name));
    if name.ends_with(" timer") {
        name
    } else {
        format!("{name} timer")
    }
}

fn celsius(c: f64) -> Option<String> {
    say::temperature(Temperature::celsius(c), Heat::C)
}
