//! The weigh-up: what goes in next, what is in, what is left; and changing the size.

use super::Bench;
use super::dish::At;
use super::effect::Effect;
use super::length;
use super::words;
use crate::measure::say::{self, SayOptions};
use crate::measure::tin::Shape;
use crate::measure::{Mass, ingredients};
use crate::order::ScaleBy;

impl Bench {
    /// An amount of an ingredient at today's size, as said: `five hundred grams`, `two eggs, one hundred grams`.
    pub(super) fn amount_words(&self, ingredient: usize, part: f64) -> String {
        self.amount_of(ingredient, part, None, false)
    }

    /// As `amount_words`, with the ingredient's name: `ten and a half grams of instant yeast, more than ...`.
    pub(super) fn named_amount(&self, ingredient: usize, part: f64) -> String {
        let name = &self.formula().ingredients[ingredient].name;
        self.amount_of(ingredient, part, Some(name), false)
    }

    /// As `named_amount`, to the last gram: somebody asked.
    pub(super) fn exact_amount(&self, ingredient: usize, part: f64) -> String {
        let name = &self.formula().ingredients[ingredient].name;
        self.amount_of(ingredient, part, Some(name), true)
    }

    fn amount_of(&self, ingredient: usize, part: f64, name: Option<&str>, exact: bool) -> String {
        let Some(quantity) = self.batch().quantity(self.formula(), ingredient, part) else {
            return String::new();
        };
        let of = &self.formula().ingredients[ingredient].table;
        let how = SayOptions {
            // A level spoon is offered where the scale is too coarse, unless words are to be few.
            g_per_ml: ingredients()
                .find(of)
                .and_then(|row| row.g_per_ml)
                .filter(|_| !self.options.brief),
            exact,
            ..self.saying()
        };
        let pieces = quantity
            .count
            .map(|(low, high, one)| words::from_to(low, high, one));
        let of_name = |amount: String| match name {
            Some(name) => format!("{amount} of {name}"),
            None => amount,
        };
        let mass = match (quantity.exact(), quantity.mass, name) {
            (Some(mass), _, Some(name)) => say::mass_of(mass, name, &how),
            (Some(mass), _, None) => say::mass(mass, &how),
            (None, Some((low, high)), _) => {
                let said = |mass| {
                    if exact {
                        say::exact_mass(mass)
                    } else {
                        say::plain_mass(mass, &how)
                    }
                };
                of_name(words::joined(&said(low), &said(high)))
            }
            (None, None, _) => {
                return match (pieces, name) {
                    (Some(pieces), Some(name)) if quantity.is_bare() => format!("{pieces} {name}"),
                    (Some(pieces), _) => of_name(pieces),
                    (None, Some(name)) => format!("{name}, {}", quantity.words.unwrap_or_default()),
                    (None, None) => quantity.words.unwrap_or_default().to_owned(),
                };
            }
        };
        match pieces {
            // Half a clove is cut by the eye: what is weighed comes first.
            Some(pieces)
                if quantity
                    .count
                    .is_some_and(|(low, high, _)| low == high && low.fract() != 0.0) =>
            {
                format!("{mass}, or {pieces}")
            }
            Some(pieces) => format!("{pieces}, {mass}"),
            None => mass,
        }
    }

    /// What the author says beside an amount: `, softened`, `, plus more for dusting`.
    pub(super) fn beside_words(&self, ingredient: usize) -> String {
        let i = &self.formula().ingredients[ingredient];
        let note = i.note.iter().map(|note| format!(", {note}"));
        let extra = i.extra.iter().map(|extra| format!(", plus more {extra}"));
        note.chain(extra).collect()
    }

    /// What may be taken in its place, and that it may be left out: ` or margarine, if you like`.
    fn choice_words(&self, ingredient: usize) -> String {
        let i = &self.formula().ingredients[ingredient];
        let or: String = i.or.iter().map(|other| format!(" or {other}")).collect();
        let like = if i.optional { ", if you like" } else { "" };
        format!("{or}{like}")
    }

    /// A mass as it is said at this bench.
    pub(super) fn say_mass(&self, mass: Mass) -> String {
        say::mass(mass, &self.saying())
    }

    /// A mass inside a sentence: an amount and nothing else.
    pub(super) fn plain_mass(&self, mass: Mass) -> String {
        say::plain_mass(mass, &self.saying())
    }

    fn saying(&self) -> SayOptions {
        SayOptions {
            step_g: self.options.scale_step_g,
            kilos: self.options.kilos,
            region: self.options.region,
            g_per_ml: None,
            exact: false,
        }
    }

    /// `Fine salt: ten grams.`
    pub(super) fn call_words(&self, (step, at): At) -> String {
        let u = &self.formula().steps[step].uses[at];
        let (called, choice) = (
            self.dish().name((step, at)),
            self.choice_words(u.ingredient),
        );
        // A choice is a question: the answer is one of the names, or that it is in.
        let or = &self.formula().ingredients[u.ingredient].or;
        let ends = if or.is_empty() { ":" } else { "?" };
        let name = words::capital(&format!("{called}{choice}"));
        let beside = self.beside_words(u.ingredient);
        let amount = format!("{}{beside}", self.amount_words(u.ingredient, u.part));
        if self.dish().weighed((step, at)).is_some() {
            let more = self.dish().still_wants((step, at));
            return format!("{name}: {} more.", self.say_mass(more));
        }
        let beyond = self.beyond_words((step, at));
        let amount = if or.is_empty() {
            amount
        } else {
            words::capital(&amount)
        };
        let noted = self
            .noted_of(&self.formula().ingredients[u.ingredient].name)
            .map_or(String::new(), |noted| format!(" {noted}"));
        match self.formula().dough_c {
            Some(c) if self.formula().ingredients[u.ingredient].is_water => format!(
                "{name}{ends} {amount}, for a dough at {} degrees.{noted}",
                words::decimal(c, 1)
            ),
            _ => format!("{name}{ends} {amount}.{beyond}{noted}"),
        }
    }

    /// `Fine salt was called, ten grams. Is it in?`
    pub(super) fn on_scale_words(&self, at: At) -> String {
        let call = self.call_words(at);
        let parted = call.trim_end_matches('.');
        match parted.split_once(": ").or_else(|| parted.split_once("? ")) {
            Some((name, amount)) => format!(
                "{name} {} called, {amount}. {} in?",
                words::was(name),
                words::is_it(name)
            ),
            None => format!("{call} Is it in?"),
        }
    }

    pub(super) fn all_in(&self) -> String {
        if self.options.brief {
            "All in.".to_owned()
        } else {
            format!("That is everything here.{}", self.go_on_hint())
        }
    }

    pub(super) fn weigh_next(&mut self, out: &mut Vec<Effect>) {
        let here = self.step().unwrap_or(0);
        let next = self
            .dish()
            .called()
            .or_else(|| self.dish().open_uses().find(|(s, _)| *s >= here))
            .or_else(|| self.dish().open_uses().next());
        let text = match next {
            None => "Everything is in.".to_owned(),
            Some(at) if self.dish().called() == Some(at) && self.is_pouring() => {
                self.ask_scale(&crate::order::Order::HowMuchIsIn, out);
                return;
            }
            Some(at) if Some(at.0) == self.step() => self.call_words(at),
            Some(at) => {
                let n = words::number(at.0 as f64 + 1.0);
                if self.step().is_none() {
                    format!(
                        "First, in step {n}: {}",
                        words::lower_first(&self.call_words(at))
                    )
                } else {
                    format!(
                        "Nothing more here. In step {n}: {}",
                        words::lower_first(&self.call_words(at))
                    )
                }
            }
        };
        self.tell(out, &text);
    }

    fn is_pouring(&self) -> bool {
        self.scale.shows.is_some_and(|shows| shows.net.is_some())
    }

    /// `it's in`: in a weigh-up, what was called; elsewhere all that the step names.
    pub(super) fn done(&mut self, out: &mut Vec<Effect>) {
        // By word or key, with what the scale shows of it.
        if let (Some(at), Some(shows)) = (self.dish().called(), self.scale.shows)
            && let Some(net) = shows.net
        {
            let what = self.put_weighed(at, net, shows.gross, out);
            let next = self.next_call();
            self.tell(out, &format!("{what} {next}"));
            return;
        }
        if let Some((step, at)) = self.dish().called() {
            let now = self.now;
            self.dish_mut().assume((step, at), now);
            let name = self.dish().name((step, at)).to_owned();
            let text = match self.dish().called() {
                Some(next) => self.call_words(next),
                None => self.all_in(),
            };
            let what = if self.options.brief {
                "In".to_owned()
            } else {
                format!("{} in", words::capital(&name))
            };
            self.tell(out, &format!("{what}. {text}"));
            return;
        }
        if self.answer_alarm(out) {
            return;
        }
        let Some(step) = self.step().filter(|_| !self.is_finished()) else {
            self.next(out);
            return;
        };
        let open = self.dish().uses_to_go_in(step);
        if open.is_empty() {
            self.next(out);
            return;
        }
        let names = self.dish().names(open.iter().map(|u| (step, *u)));
        let now = self.now;
        for u in open {
            self.dish_mut().mark((step, u), Some(now));
        }
        self.tell(
            out,
            &format!("{} in.", words::capital(&words::list(&names))),
        );
    }

    pub(super) fn have_added(&mut self, ingredient: &str, out: &mut Vec<Effect>) {
        let Some(i) = self.formula().find(ingredient) else {
            self.tell(out, &words::none_in(ingredient));
            return;
        };
        let name = self.formula().ingredients[i].name.clone();
        let (mut inside, mut open) = (Vec::new(), Vec::new());
        let of_it = |at: &At| self.dish().ingredient(*at) == i;
        for ((s, u), when) in self.dish().uses().filter(|(at, _)| of_it(at)) {
            let part = self.formula().steps[s].uses[u].part;
            match when {
                Some(when) => inside.push((when, part)),
                None => open.push((s, part)),
            }
        }
        let text = match (inside.last(), open.first()) {
            (Some((when, _)), None) => format!(
                "Yes, the {name} {} in, {}.",
                words::is(&name),
                words::ago(self.now.since(*when))
            ),
            (None, Some((s, _))) => {
                let n = words::number(*s as f64 + 1.0);
                format!(
                    "No, the {name} {} not in: {}, in step {n}.",
                    words::is(&name),
                    self.amount_words(i, 1.0)
                )
            }
            (Some(_), Some((s, part))) => format!(
                "Partly. {} still goes in, in step {}.",
                words::capital(&self.named_amount(i, *part)),
                words::number(*s as f64 + 1.0)
            ),
            (None, None) => format!("No step uses the {name}."),
        };
        self.tell(out, &text);
    }

    pub(super) fn mark(&mut self, ingredient: &str, inside: bool, out: &mut Vec<Effect>) {
        let Some(i) = self.formula().find(ingredient) else {
            self.tell(out, &words::none_in(ingredient));
            return;
        };
        let name = self.formula().ingredients[i].name.clone();
        let here = self.step().unwrap_or(0);
        let uses: Vec<At> = self
            .dish()
            .uses()
            .map(|(at, _)| at)
            .filter(|at| self.dish().ingredient(*at) == i)
            .collect();
        let fits = |at: &At| self.dish().went_in(*at).is_some() != inside;
        let pick = if inside {
            uses.iter()
                .find(|a| a.0 == here && fits(a))
                .or_else(|| uses.iter().find(|a| fits(a)))
        } else {
            uses.iter()
                .rev()
                .find(|a| a.0 <= here && fits(a))
                .or_else(|| uses.iter().rev().find(|a| fits(a)))
        };
        let Some(&(s, u)) = pick else {
            let text = if inside {
                format!("The {name} {} in already.", words::was(&name))
            } else {
                format!("I had not counted the {name} as in.")
            };
            self.tell(out, &text);
            return;
        };
        let was_called = self.dish().called();
        let when = inside.then_some(self.now);
        self.dish_mut().mark((s, u), when);
        let mut text = if inside {
            format!("{} in.", words::capital(&name))
        } else {
            format!("The {name} {} not in.", words::is(&name))
        };
        if was_called != self.dish().called() {
            let next = self
                .dish()
                .called()
                .map_or_else(|| self.all_in(), |c| self.call_words(c));
            text = format!("{text} {next}");
        }
        self.tell(out, &text);
    }

    pub(super) fn left_to_add(&mut self, out: &mut Vec<Effect>) {
        let here: Vec<String> = self
            .step()
            .map(|s| {
                self.dish()
                    .names(self.dish().uses_not_in(s).into_iter().map(|u| (s, u)))
            })
            .unwrap_or_default();
        let later: Vec<String> = self
            .dish()
            .not_in()
            .into_iter()
            .filter(|n| !here.contains(n))
            .collect();
        let text = match (here.is_empty(), later.is_empty()) {
            (true, true) => "Nothing is left: everything is in.".to_owned(),
            (false, true) => format!("Still to go in: {}.", words::list(&here)),
            (true, false) => format!("Nothing here; later: {}.", words::list(&later)),
            (false, false) => format!(
                "Here: {}. Later: {}.",
                words::list(&here),
                words::list(&later)
            ),
        };
        self.tell(out, &text);
    }

    pub(super) fn scale(&mut self, by: &ScaleBy, out: &mut Vec<Effect>) {
        match self.batch().then(self.formula(), by) {
            Err(e) => self.tell(out, &format!("{}.", words::capital(&e.to_string()))),
            Ok(batch) => {
                self.dish_mut().set_batch(batch);
                let text = format!("{} {}", self.short_size(), self.batch().notes().join(" "));
                self.tell_within(out, length::SIZE, text.trim_end());
            }
        }
    }

    /// `As written: five hundred grams of flour, one loaf, twelve portions.`
    pub(super) fn size_words(&self) -> String {
        let size = match self.batch().by() {
            "" => "As written".to_owned(),
            by => words::capital(by),
        };
        let flour = self.batch().flour(self.formula());
        let dough = self.batch().dough(self.formula());
        let main = if flour.as_grams() > 0.0 {
            format!("{} of flour, ", self.say_mass(flour))
        } else if self.formula().without_mass().next().is_none() {
            format!("{} in all, ", self.say_mass(dough))
        } else {
            // A sum that leaves something out is none.
            String::new()
        };
        let makes = words::makes(self.formula(), self.batch());
        format!("{size}: {main}{makes}.")
    }

    /// The same without the portions, where there is no room for them.
    fn short_size(&self) -> String {
        let whole = self.size_words();
        match whole.rsplit_once(", ") {
            Some((pieces, portions))
                if portions.ends_with("portions.")
                    && length::count(&whole) > self.at_most(length::SIZE) =>
            {
                format!("{pieces}.")
            }
            _ => whole,
        }
    }

    pub(super) fn todays_size(&mut self, out: &mut Vec<Effect>) {
        let text = format!(
            "{}. {}{}",
            self.formula().name,
            self.size_words(),
            self.tin_words()
        );
        self.tell(out, &text);
    }

    /// ` In a loaf tin, twenty three by thirteen by seven centimetres.`, as the formula has it; empty without a tin.
    pub(super) fn tin_words(&self) -> String {
        let Some(tin) = &self.formula().tin else {
            return String::new();
        };
        let width = match tin.shape {
            Shape::Round | Shape::Square => None,
            Shape::Rectangle | Shape::Loaf | Shape::Ring => Some(tin.width_cm),
        };
        let sizes: Vec<String> = [Some(tin.length_cm), width, tin.depth_cm]
            .into_iter()
            .flatten()
            .map(|cm| words::decimal(cm, 1))
            .collect();
        let shape = match tin.shape {
            Shape::Rectangle => "rectangular",
            other => other.word(),
        };
        format!(" In a {shape} tin, {} centimetres.", sizes.join(" by "))
    }
}
