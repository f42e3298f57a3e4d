//! The dialogue: a question, an answer, the next question.

use toml_edit::{Item, Table, value};

use super::draft::{Draft, Line, ONLY_SPOKEN, Step};
use super::guess::{self, StepGuess};
use super::question::{AnswerKind, Prompt};
use super::say::{self, Part};
use crate::clean;
use crate::measure::words::{capital, cardinal};
use crate::measure::{Temperature, singular};

/// What an answer begins with that names a recording in place of words.
pub const RECORDING: &str = "recording:";

/// What came of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answered {
    /// It was taken; what was understood, where that is worth a word.
    Taken(String),
    /// The last answer was taken back.
    Undone,
    /// It was not taken: why. The question stands.
    Not(String),
    /// The formula is whole, and the cook wants it kept.
    Keep,
}

/// What is asked.
#[derive(Debug, Clone)]
enum Ask {
    Name,
    About,
    Portions,
    Makes,
    Ingredient,
    /// Of an ingredient that came without one.
    Amount(Table),
    Step,
    /// The words of a step that was spoken.
    Spoken,
    Uses(Vec<(usize, u32, u32)>),
    Time(Vec<Table>),
    Heat(Option<String>),
    Caution,
    /// In which step does this ingredient go in?
    Left(usize),
    Tags,
    Keep,
    Over,
}

/// A dialogue that makes a formula.
#[derive(Debug, Clone)]
pub struct Writing {
    answers: Vec<String>,
    draft: Draft,
    ask: Ask,
    /// What the words of the current step tell.
    heat: Option<String>,
    timers: Vec<Table>,
}

impl Default for Writing {
    fn default() -> Self {
        Self {
            answers: Vec::new(),
            draft: Draft::default(),
            ask: Ask::Name,
            heat: None,
            timers: Vec::new(),
        }
    }
}

impl Writing {
    /// The dialogue after these answers, as they were given; and how many of them could not be taken.
    pub fn after<'a>(answers: impl IntoIterator<Item = &'a str>) -> (Self, usize) {
        let mut writing = Self::default();
        let lost = answers
            .into_iter()
            .filter(|answer| matches!(writing.answer(answer), Answered::Not(_)))
            .count();
        (writing, lost)
    }

    /// The formula as far as it is written.
    pub fn draft(&self) -> &Draft {
        &self.draft
    }

    /// How many answers it stands on.
    pub fn answers(&self) -> usize {
        self.answers.len()
    }

    /// How many steps it has.
    pub fn steps(&self) -> usize {
        self.draft.steps.len()
    }

    /// What is asked now.
    pub fn question(&self) -> Prompt {
        let ask = |text: &str, guess: &str, kind| Prompt {
            text: text.to_owned(),
            guess: guess.to_owned(),
            kind,
        };
        let draft = &self.draft;
        match &self.ask {
            Ask::Name => ask("What is it called?", "", AnswerKind::Words),
            Ask::About => ask("A sentence about it?", "nothing", AnswerKind::Words),
            Ask::Portions => ask("How many portions?", "4", AnswerKind::Number),
            Ask::Makes => ask(
                "What does it make, such as one loaf or twelve rolls?",
                "1 batch",
                AnswerKind::Words,
            ),
            Ask::Ingredient if draft.ingredients.is_empty() => ask(
                "The first ingredient, with its amount?",
                "",
                AnswerKind::Ingredient,
            ),
            Ask::Ingredient => ask(
                "The next ingredient, or done?",
                "done",
                AnswerKind::Ingredient,
            ),
            Ask::Amount(entry) => ask(
                &format!("How much {}?", name_of(entry)),
                "as needed",
                AnswerKind::Amount,
            ),
            Ask::Step => {
                let n = cardinal(draft.steps.len() as u64 + 1);
                if draft.steps.is_empty() {
                    ask(&format!("Step {n}: what is done?"), "", AnswerKind::Step)
                } else {
                    ask(
                        &format!("Step {n}: what is done? Or done."),
                        "done",
                        AnswerKind::Step,
                    )
                }
            }
            Ask::Spoken => ask(
                "Its words as well, for a day when the recording cannot be played?",
                "none",
                AnswerKind::Words,
            ),
            Ask::Uses(guess) => ask(
                "What goes in here?",
                &self.uses_words(guess),
                AnswerKind::Names,
            ),
            Ask::Time(guess) => ask(
                "How long does it wait or cook, if at all?",
                &times_words(guess),
                AnswerKind::Time,
            ),
            Ask::Heat(guess) => ask(
                "How hot is the oven here?",
                guess.as_deref().unwrap_or("none"),
                AnswerKind::Heat,
            ),
            Ask::Caution => ask(
                "Anything to be careful with here?",
                "nothing",
                AnswerKind::Words,
            ),
            Ask::Left(at) => {
                let name = &draft.ingredients[*at].name;
                let what = if draft.used(*at) > 0.0 {
                    format!("Not all of the {name} goes in. In which step does the rest go in?")
                } else {
                    format!("No step uses the {name}. In which step does it go in?")
                };
                ask(&what, "1", AnswerKind::Number)
            }
            Ask::Tags => ask(
                "Words to find it by, such as bread or sunday?",
                "none",
                AnswerKind::Words,
            ),
            Ask::Keep => {
                let many = |n: usize, one: &str| match n {
                    1 => format!("one {one}"),
                    n => format!("{} {one}s", cardinal(n as u64)),
                };
                let (i, s) = (draft.ingredients.len(), draft.steps.len());
                let text = format!(
                    "{}: {}, {}. Shall I keep it?",
                    draft.name,
                    many(i, "ingredient"),
                    many(s, "step")
                );
                ask(&text, "yes", AnswerKind::YesNo)
            }
            Ask::Over => ask("That was the last question.", "", AnswerKind::YesNo),
        }
    }

    /// Takes an answer; an empty one means the guess, and `undo` takes the last one back.
    pub fn answer(&mut self, said: &str) -> Answered {
        let said = said.trim();
        if let Some((_, c)) = clean::first(said) {
            return Answered::Not(format!(
                "That has the control character {}.",
                clean::named(c)
            ));
        }
        if matches!(
            said.to_lowercase().as_str(),
            "undo" | "take that back" | "take it back"
        ) {
            if self.answers.pop().is_none() {
                return Answered::Not("There is nothing to take back.".to_owned());
            }
            let answers = std::mem::take(&mut self.answers);
            *self = Self::default();
            for answer in answers {
                self.answer(&answer);
            }
            return Answered::Undone;
        }
        let mut next = self.clone();
        match next.take(said) {
            Err(why) => Answered::Not(why),
            Ok(_) if matches!(next.ask, Ask::Over) => {
                next.answers.push(said.to_owned());
                *self = next;
                Answered::Keep
            }
            Ok(words) => {
                next.answers.push(said.to_owned());
                *self = next;
                Answered::Taken(words)
            }
        }
    }

    /// The names of the ingredients that there are.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.draft.ingredients.iter().map(|i| i.name.as_str())
    }

    fn take(&mut self, said: &str) -> Result<String, String> {
        let none = said.is_empty() || say::is_none(said);
        let done = matches!(
            said.to_lowercase().as_str(),
            "done" | "that is all" | "all" | "finished"
        );
        match self.ask.clone() {
            Ask::Name if said.is_empty() => return Err("It needs a name.".to_owned()),
            Ask::Name => {
                self.draft.name = capital(said);
                self.ask = Ask::About;
            }
            Ask::About => {
                if !none {
                    self.draft.about = capital(said);
                }
                self.ask = Ask::Portions;
            }
            Ask::Portions => {
                let n = if said.is_empty() {
                    Some(4.0)
                } else {
                    say::number(said)
                };
                let n = n.filter(|n| (0.1..=10_000.0).contains(n));
                self.draft.portions = n.ok_or("I need a number, such as four.")?;
                self.ask = Ask::Makes;
            }
            Ask::Makes => {
                let made = if said.is_empty() {
                    Some((1.0, "batch".to_owned()))
                } else {
                    say::counted(said)
                };
                let (n, piece) = made.ok_or("I need a number and a thing, such as one loaf.")?;
                self.draft.pieces = n;
                self.draft.piece = if n > 1.0 { singular(&piece) } else { piece };
                self.ask = Ask::Ingredient;
            }
            Ask::Ingredient => return self.ingredient(said, done),
            Ask::Amount(entry) => return self.amount(entry, said),
            Ask::Step => return self.step(said, done),
            Ask::Spoken => {
                if !none {
                    self.words(said);
                }
                let guess = self.guess();
                self.expect(guess);
            }
            Ask::Uses(guess) => {
                let uses = if said.is_empty() {
                    guess
                } else if none {
                    Vec::new()
                } else {
                    self.read_uses(said)?
                };
                let words = self.uses_words(&uses);
                self.last()?.uses = uses;
                self.ask = Ask::Time(self.timers.clone());
                return Ok(if said.is_empty() || none {
                    String::new()
                } else {
                    format!("In go: {words}.")
                });
            }
            Ask::Time(guess) => {
                let timers = if said.is_empty() {
                    guess
                } else if none {
                    Vec::new()
                } else {
                    vec![self.read_time(said)?]
                };
                let words = times_words(&timers);
                let step = self.last()?;
                step.timers = timers;
                let oven = step.recording.is_some() || names_oven(&step.text);
                let heat = self.heat.take();
                self.ask = if oven || heat.is_some() {
                    Ask::Heat(heat)
                } else {
                    Ask::Caution
                };
                return Ok(if said.is_empty() || none {
                    String::new()
                } else {
                    format!("A timer: {words}.")
                });
            }
            Ask::Heat(guess) => {
                let heat = if said.is_empty() {
                    guess
                } else if none {
                    None
                } else {
                    Some(read_heat(said).ok_or("I need a heat, such as 200 C, 400 F or gas 6.")?)
                };
                let step = self.last()?;
                step.heat = heat;
                self.ask = Ask::Caution;
            }
            Ask::Caution => {
                if !none {
                    let end = if said.ends_with(['.', '!', '?']) {
                        ""
                    } else {
                        "."
                    };
                    self.last()?.caution = Some(format!("{}{end}", capital(said)));
                }
                self.ask = Ask::Step;
            }
            Ask::Left(at) => return self.left(at, said, none && !said.is_empty()),
            Ask::Tags => {
                if !none {
                    self.draft.tags = say::items(&said.to_lowercase());
                }
                self.ask = Ask::Keep;
            }
            Ask::Keep => {
                if say::is_none(said) {
                    return Err(
                        "It stays as it is. Say undo to change it, or pause to go on another time."
                            .to_owned(),
                    );
                }
                if let Err(e) = self.draft.check() {
                    let faults: Vec<&str> = e.faults.iter().map(|f| f.what.as_str()).collect();
                    return Err(format!(
                        "It has a fault: {}. Say undo to mend it.",
                        faults.join("; ")
                    ));
                }
                self.ask = Ask::Over;
            }
            Ask::Over => return Err("That was the last question.".to_owned()),
        }
        Ok(String::new())
    }

    fn ingredient(&mut self, said: &str, done: bool) -> Result<String, String> {
        if done || said.is_empty() {
            if self.draft.ingredients.is_empty() {
                return Err("It needs an ingredient, such as 500 g strong white flour.".to_owned());
            }
            self.ask = Ask::Step;
            return Ok(String::new());
        }
        let lower = said.to_lowercase();
        let part = lower.strip_suffix(':').map(str::trim);
        if let Some(part) = part {
            let part = part
                .strip_prefix("for the ")
                .or(part.strip_prefix("for "))
                .unwrap_or(part);
            self.draft.part = (!part.is_empty()).then(|| part.to_owned());
            return Ok(format!("The next ones are for the {part}."));
        }
        let entry = guess::ingredient(said).ok_or(
            "I cannot read that as one ingredient. Say how much and of what, such as 500 g flour.",
        )?;
        self.draft_line(said, entry)
    }

    /// An ingredient's line is taken, or its amount asked for.
    fn draft_line(&mut self, said: &str, mut entry: Table) -> Result<String, String> {
        let known = |id: &str| self.draft.ingredients.iter().any(|i| i.id == id);
        let id = entry
            .get("id")
            .and_then(Item::as_str)
            .unwrap_or("i")
            .to_owned();
        let free = (1..).map(|n| {
            if n == 1 {
                id.clone()
            } else {
                format!("{id}-{n}")
            }
        });
        let mut free = free.skip_while(|id| known(id));
        entry["id"] = value(free.next().unwrap_or(id));
        if let Some(part) = &self.draft.part {
            entry["part"] = value(part.as_str());
        }
        // What the importer gives where a line has no amount is no answer of the cook's.
        let has_amount = entry.get("amount").and_then(Item::as_str).is_some_and(|a| {
            a.contains(|c: char| c.is_numeric()) || said.to_lowercase().contains(&a.to_lowercase())
        });
        if !has_amount {
            entry.remove("amount");
            entry["said"] = value(said);
            self.ask = Ask::Amount(entry);
            return Ok(String::new());
        }
        self.push(said, entry)
    }

    fn amount(&mut self, mut entry: Table, said: &str) -> Result<String, String> {
        let line = entry.remove("said");
        let line = line
            .as_ref()
            .and_then(Item::as_str)
            .unwrap_or_default()
            .to_owned();
        let amount = match said {
            "" => "as needed",
            "taste" => "to taste",
            said => said,
        };
        entry["amount"] = value(amount);
        self.push(&format!("{amount} {line}"), entry)
    }

    fn push(&mut self, said: &str, entry: Table) -> Result<String, String> {
        if let Some(fault) = Draft::fault_of(&entry, None) {
            return Err(format!("{}.", capital(&fault)));
        }
        let name = name_of(&entry);
        let amount = entry
            .get("amount")
            .and_then(Item::as_str)
            .unwrap_or_default();
        let words = format!("{}: {amount}.", capital(&name));
        self.draft.ingredients.push(Line {
            said: said.to_owned(),
            id: entry
                .get("id")
                .and_then(Item::as_str)
                .unwrap_or_default()
                .to_owned(),
            name,
            entry,
        });
        self.ask = Ask::Ingredient;
        Ok(words)
    }

    fn step(&mut self, said: &str, done: bool) -> Result<String, String> {
        if done || said.is_empty() {
            if self.draft.steps.is_empty() {
                return Err("It needs a step, such as: mix flour and water.".to_owned());
            }
            self.ask = self.next_left();
            return Ok(String::new());
        }
        let n = self.draft.steps.len() + 1;
        if let Some(file) = said.strip_prefix(RECORDING) {
            self.draft.steps.push(Step {
                title: format!("Step {n}"),
                text: ONLY_SPOKEN.to_owned(),
                recording: Some(file.trim().to_owned()),
                ..Step::default()
            });
            self.ask = Ask::Spoken;
            return Ok("I have it.".to_owned());
        }
        self.draft.steps.push(Step::default());
        self.words(said);
        let guess = self.guess();
        self.expect(guess);
        Ok(String::new())
    }

    /// The words of the last step.
    fn words(&mut self, said: &str) {
        let end = if said.ends_with(['.', '!', '?']) {
            ""
        } else {
            "."
        };
        let text = format!("{}{end}", capital(said)).replace(['{', '}'], "");
        let title: Vec<&str> = said.split_whitespace().take(3).collect();
        let title = title.join(" ");
        if let Some(step) = self.draft.steps.last_mut() {
            step.title = capital(title.trim_end_matches(|c: char| !c.is_alphanumeric()));
            step.text = text;
        }
    }

    /// What the words of the last step tell.
    fn guess(&self) -> StepGuess {
        let lines: Vec<&str> = self
            .draft
            .ingredients
            .iter()
            .map(|i| i.said.as_str())
            .collect();
        let steps: Vec<&str> = self.draft.steps.iter().map(|s| s.text.as_str()).collect();
        if steps.last().is_none_or(|text| *text == ONLY_SPOKEN) {
            return StepGuess::default();
        }
        guess::step(&lines, &steps)
    }

    /// Asks what goes in, with what the words tell as a guess.
    fn expect(&mut self, guess: StepGuess) {
        if let (Some(title), Some(step)) = (guess.title, self.draft.steps.last_mut()) {
            step.title = title;
        }
        self.heat = guess.heat;
        self.timers = guess.timers;
        let mut uses: Vec<(usize, u32, u32)> = Vec::new();
        let text = self
            .draft
            .steps
            .last()
            .map_or_else(String::new, |s| s.text.to_lowercase());
        for (at, part) in guess.uses {
            let own = &self.draft.ingredients[at].name.to_lowercase();
            let half = say::half_of(&text, own).then(|| "1/2".to_owned());
            // The importer gives a half that nothing else wants its other half.
            let part = part.or(half);
            let part = part.and_then(|part| {
                let (a, b) = part.split_once('/')?;
                Some(Part::Of(a.parse().ok()?, b.parse().ok()?))
            });
            if let Ok((a, b)) = self.fits(at, part.unwrap_or(Part::All), &uses) {
                uses.push((at, a, b));
            }
        }
        self.ask = Ask::Uses(uses);
    }

    fn last(&mut self) -> Result<&mut Step, String> {
        self.draft
            .steps
            .last_mut()
            .ok_or_else(|| "There is no step.".to_owned())
    }

    /// `flour, half the butter and salt`.
    fn read_uses(&self, said: &str) -> Result<Vec<(usize, u32, u32)>, String> {
        let mut uses = Vec::new();
        for item in say::items(said) {
            let (part, name) = say::part(&item);
            let at = self.named(&name)?;
            let (a, b) = self.fits(at, part, &uses)?;
            uses.push((at, a, b));
        }
        Ok(uses)
    }

    /// The one ingredient that a name means.
    fn named(&self, name: &str) -> Result<usize, String> {
        let plain = |text: &str| {
            let words = text.to_lowercase();
            let words = words.split_whitespace().map(singular);
            words.collect::<Vec<String>>()
        };
        let said = plain(name);
        let all = || self.draft.ingredients.iter().enumerate();
        let same: Vec<usize> = all()
            .filter(|(_, i)| plain(&i.name) == said)
            .map(|(at, _)| at)
            .collect();
        let has = |i: &Line| {
            let own = plain(&i.name);
            said.iter().all(|word| own.contains(word))
        };
        let some: Vec<usize> = all().filter(|(_, i)| has(i)).map(|(at, _)| at).collect();
        match (same.as_slice(), some.as_slice()) {
            ([first, ..], _) => Ok(self.not_used_up(&same).unwrap_or(*first)),
            ([], [one]) => Ok(*one),
            ([], []) => {
                let names: Vec<&str> = self.names().collect();
                Err(format!(
                    "I have no {name} here. There is {}.",
                    names.join(", ")
                ))
            }
            ([], several) => {
                let names: Vec<&str> = several
                    .iter()
                    .map(|at| self.draft.ingredients[*at].name.as_str())
                    .collect();
                Err(format!("Which {name}: {}?", names.join(" or ")))
            }
        }
    }

    /// Of several of one name the first that has not gone in.
    fn not_used_up(&self, all: &[usize]) -> Option<usize> {
        all.iter().copied().find(|at| self.draft.used(*at) < 0.99)
    }

    /// What part of an ingredient goes in here, where so much is left of it.
    fn fits(
        &self,
        at: usize,
        part: Part,
        here: &[(usize, u32, u32)],
    ) -> Result<(u32, u32), String> {
        let line = &self.draft.ingredients[at];
        let amount = line
            .entry
            .get("amount")
            .and_then(Item::as_str)
            .unwrap_or_default();
        // What is not measured goes in as often as one likes.
        if !amount.contains(|c: char| c.is_numeric()) {
            return Ok((1, 1));
        }
        let here = here.iter().filter(|(of, ..)| *of == at);
        let here: f64 = here.map(|(_, a, b)| f64::from(*a) / f64::from(*b)).sum();
        let left = 1.0 - self.draft.used(at) - here;
        let name = &line.name;
        if left < 0.01 {
            return Err(format!("All of the {name} is in already."));
        }
        match part {
            Part::Of(a, b) if f64::from(a) / f64::from(b) <= left + 0.01 => Ok((a, b)),
            Part::Of(..) => Err(format!("So much of the {name} is not left.")),
            Part::All | Part::Rest => Ok(fraction(left)),
        }
    }

    fn read_time(&self, said: &str) -> Result<Table, String> {
        let (name, lasts) = say::named_time(said).ok_or(
            "I need a time, such as 35 min, or a name and a time, such as first rise 1 h.",
        )?;
        let step = self.draft.steps.last();
        let own = step.map_or_else(String::new, |s| s.title.to_lowercase());
        let mut timer = Table::new();
        timer["name"] = value(name.unwrap_or(own));
        timer["lasts"] = value(lasts);
        Ok(timer)
    }

    /// The first ingredient that does not go in whole; where there is none, what comes then.
    fn next_left(&self) -> Ask {
        let open = (0..self.draft.ingredients.len()).find(|at| {
            let line = &self.draft.ingredients[*at];
            let amount = line
                .entry
                .get("amount")
                .and_then(Item::as_str)
                .unwrap_or_default();
            let used = self.draft.used(*at);
            used < 0.01 || used < 0.99 && amount.contains(|c: char| c.is_numeric())
        });
        open.map_or(Ask::Tags, Ask::Left)
    }

    fn left(&mut self, at: usize, said: &str, none: bool) -> Result<String, String> {
        let name = self.draft.ingredients[at].name.clone();
        if none && self.draft.used(at) == 0.0 {
            self.draft.ingredients.remove(at);
            for step in &mut self.draft.steps {
                for (of, ..) in &mut step.uses {
                    *of -= usize::from(*of > at);
                }
            }
            self.ask = if self.draft.ingredients.is_empty() {
                Ask::Ingredient
            } else {
                self.next_left()
            };
            return Ok(format!("I left the {name} out."));
        }
        let n = if said.is_empty() {
            Some(1)
        } else {
            say::whole(said.to_lowercase().trim_start_matches("step "))
        };
        let steps = self.draft.steps.len();
        let n = n.filter(|n| (1..=steps).contains(n)).ok_or(format!(
            "I need the number of a step, from 1 to {steps}, or none to leave it out."
        ))?;
        let (a, b) = fraction(1.0 - self.draft.used(at));
        self.draft.steps[n - 1].uses.push((at, a, b));
        self.ask = self.next_left();
        Ok(format!("{} goes into step {n}.", capital(&name)))
    }

    /// `flour and half the butter`; `nothing`.
    fn uses_words(&self, uses: &[(usize, u32, u32)]) -> String {
        let one = |(at, a, b): &(usize, u32, u32)| {
            let name = &self.draft.ingredients[*at].name;
            if a == b {
                name.clone()
            } else {
                format!("{a}/{b} {name}")
            }
        };
        match uses {
            [] => "nothing".to_owned(),
            some => some.iter().map(one).collect::<Vec<_>>().join(", "),
        }
    }
}

fn name_of(entry: &Table) -> String {
    let text = |key: &str| entry.get(key).and_then(Item::as_str);
    let id = || text("id").unwrap_or_default().replace('-', " ");
    text("name").map_or_else(id, str::to_owned)
}

/// `first rise 1 h, bake 30-35 min`; `none`.
fn times_words(timers: &[Table]) -> String {
    let text = |timer: &Table, key: &str| {
        timer
            .get(key)
            .and_then(Item::as_str)
            .unwrap_or_default()
            .to_owned()
    };
    match timers {
        [] => "none".to_owned(),
        some => some
            .iter()
            .map(|t| format!("{} {}", text(t, "name"), text(t, "lasts")))
            .collect::<Vec<_>>()
            .join(", "),
    }
}

/// The simplest fraction that is about so much.
fn fraction(x: f64) -> (u32, u32) {
    let near = (1..=24_u32).find_map(|b| {
        let a = (x * f64::from(b)).round();
        ((x - a / f64::from(b)).abs() < 0.004 && a >= 1.0).then_some((a as u32, b))
    });
    near.unwrap_or(((x * 100.0).round().max(1.0) as u32, 100))
}

fn names_oven(text: &str) -> bool {
    let lower = text.to_lowercase();
    let words = ["oven", "bake", "roast"];
    lower
        .split(|c: char| !c.is_alphabetic())
        .any(|w| words.iter().any(|o| w.starts_with(o)))
}

/// A heat as a formula writes it: `200 C`, `two hundred degrees`, `gas 6`.
pub(super) fn read_heat(said: &str) -> Option<String> {
    let said = said.trim();
    if let Ok(heat) = Temperature::parse(said)
        && said.contains(|c: char| c.is_alphabetic())
    {
        return (30.0..=350.0)
            .contains(&heat.as_celsius())
            .then(|| said.to_owned());
    }
    let lower = said.to_lowercase();
    let scale = if lower.contains("fahrenheit") {
        "F"
    } else {
        "C"
    };
    let bare: Vec<&str> = lower
        .split_whitespace()
        .filter(|w| {
            !matches!(
                *w,
                "degrees" | "degree" | "celsius" | "centigrade" | "fahrenheit" | "at"
            )
        })
        .collect();
    if let Some(mark) = lower
        .strip_prefix("gas mark ")
        .or(lower.strip_prefix("gas "))
    {
        let mark = format!(
            "gas {}",
            crate::measure::print::number(say::number(mark)?, 1)
        );
        return Temperature::parse(&mark).is_ok().then_some(mark);
    }
    let n = say::number(&bare.join(" "))?;
    (30.0..=700.0)
        .contains(&n)
        .then(|| format!("{} {scale}", crate::measure::print::number(n, 1)))
}

#[cfg(test)]
mod tests;
