//! A recipe that has been read: what is sure, what is asked, and the formula that comes of it.

use crate::clean;
use crate::formula::{self, parse_window};
use crate::measure::{Amount, Kind, Region, TableIngredient, Temperature, ingredients, print};
use crate::safety::read_name;

use super::draft::{Entry, Found};
use super::line::{self, Item};
use super::step::{self, Step};
use super::words::{length, number, words, written};
use super::yields::{self, Makes};

/// The most that a recipe has of each; a page may go on for ever.
const MOST_INGREDIENTS: usize = 200;
const MOST_STEPS: usize = 150;
const MOST_REST: usize = 1000;
const MOST_TIMERS: usize = 100;
/// The most figures of a step that are looked at for an amount.
const MOST_AMOUNTS: usize = 40;
/// The longest ingredient line, and the longest step, in letters.
const LONGEST_LINE: usize = 600;
const LONGEST_STEP: usize = 3000;

/// A step in pieces that are not too long, cut at the end of a word.
fn in_pieces(entry: Entry) -> Vec<Entry> {
    let mut out = Vec::new();
    let mut rest = entry.text.as_str();
    while let Some((most, _)) = rest.char_indices().nth(LONGEST_STEP) {
        if out.len() > MOST_STEPS {
            break;
        }
        let at = rest[..most]
            .rfind(". ")
            .map(|at| at + 1)
            .or_else(|| rest[..most].rfind(' '));
        let at = at.filter(|at| *at > 0).unwrap_or(most);
        out.push(&rest[..at]);
        rest = &rest[at..];
    }
    out.push(rest);
    out.into_iter()
        .map(|text| Entry {
            title: entry.title.clone(),
            part: entry.part.clone(),
            text: text.trim().to_owned(),
        })
        .collect()
}

/// A recipe read from a source.
#[derive(Debug, Clone)]
pub struct Recipe {
    found: Found,
    region: Region,
    makes: Option<Makes>,
    items: Vec<Item>,
    steps: Vec<Step>,
    oven_c: Option<f64>,
    told: Vec<String>,
    /// Ingredients that no step names, and the step that they were given to.
    given: Vec<(usize, usize)>,
}

/// Something that is not sure.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// What it is about.
    pub about: About,
    /// In a sentence.
    pub text: String,
    /// What is taken for it; empty where only a look can tell.
    pub guess: String,
}

/// What a doubt is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// How many portions it makes.
    Portions,
    /// The amount of an ingredient.
    Amount(usize),
    /// The step that an ingredient goes into.
    Goes(usize),
    /// The oven's heat.
    Oven,
    /// How long a timer lasts: its step, and its place in it.
    Lasts(usize, usize),
    /// Something to look at.
    Look,
}

impl Recipe {
    /// Reads what was found.
    pub(super) fn of(mut found: Found) -> Self {
        // Of a page that goes on and on the rest is kept as it is.
        for (entries, most) in [
            (&mut found.ingredients, MOST_INGREDIENTS),
            (&mut found.steps, MOST_STEPS),
        ] {
            let over = entries.split_off(entries.len().min(most));
            found.cut_off |= !over.is_empty();
            found.rest.extend(over.into_iter().map(|entry| entry.text));
        }
        found.rest.truncate(MOST_REST);
        // What is longer than any line is read to there, and kept as it is from there on.
        for entry in &mut found.ingredients {
            if let Some((at, _)) = entry.text.char_indices().nth(LONGEST_LINE) {
                found.rest.push(entry.text.split_off(at));
            }
        }
        if let Some((at, _)) = found.about.char_indices().nth(LONGEST_STEP) {
            found.rest.push(found.about.split_off(at));
        }
        found.steps = found.steps.into_iter().flat_map(in_pieces).collect();
        let over = found.steps.split_off(found.steps.len().min(MOST_STEPS));
        found.rest.extend(over.into_iter().map(|entry| entry.text));
        // These two mark places in a step's text later, and are no text of anybody's.
        for entry in found.ingredients.iter_mut().chain(&mut found.steps) {
            entry.text = entry.text.replace(['\u{1}', '\u{2}'], " ");
        }
        let region = region_of(&found);
        let cut_off = found.cut_off;
        let mut items: Vec<Item> = found
            .ingredients
            .iter()
            .filter(|e| e.text.chars().any(char::is_alphanumeric))
            .flat_map(|entry| {
                let lines = line::several(&entry.text).into_iter();
                lines.map(|text| Item {
                    part: entry.part.clone(),
                    ..line::read(&text, region)
                })
            })
            .take(MOST_INGREDIENTS)
            .collect();
        let mut told = Vec::new();
        if cut_off {
            told.push(
                "The source goes on: what is beyond the first of its lines was not read.".into(),
            );
        }
        if let Some(language) = foreign(&found) {
            told.push(format!(
                "This seems to be {language}, and I read English: look at every line and step."
            ));
        }
        if found.scanned {
            for item in items.iter_mut().filter(|i| i.amount.is_some()) {
                item.unsure.push("It was read from a scan.".into());
            }
        }
        by_percent(&mut items, region, &mut told);
        let mut steps: Vec<Step> = Vec::new();
        let lone = found.steps.len() <= 2;
        let mut timers = 0;
        for entry in &found.steps {
            let long = lone && entry.text.len() > 200 || entry.text.len() > 700;
            let pieces = if long && entry.title.is_none() {
                split(&entry.text)
            } else {
                vec![entry.text.clone()]
            };
            for (turned, text) in pieces
                .into_iter()
                .flat_map(|text| step::at_heat_change(&text).into_iter().enumerate())
                .filter(|(_, t)| t.chars().any(char::is_alphanumeric))
            {
                let mut read = if timers < MOST_TIMERS && turned > 0 {
                    step::read_turned(&text)
                } else if timers < MOST_TIMERS {
                    step::read(&text)
                } else {
                    step::unread(&text)
                };
                if found.scanned && !read.timers.is_empty() {
                    read.unsure.push("The times were read from a scan.".into());
                }
                timers += read.timers.len();
                read.timers.truncate(MOST_TIMERS);
                steps.push(Step {
                    part: entry.part.clone(),
                    title: entry.title.clone().unwrap_or_else(|| read.title.clone()),
                    ..read
                });
            }
        }
        if steps.is_empty() {
            steps.push(step::read("Put everything together."));
            told.push("The recipe has no steps.".into());
        }
        if items.is_empty() {
            items.push(Item {
                name: found.name.clone(),
                source: found.name.clone(),
                unsure: vec!["The recipe lists no ingredients.".into()],
                ..Item::default()
            });
        }
        // 'Make the pastry: ...' belongs to the pastry.
        let names: Vec<String> = items.iter().filter_map(|i| i.part.clone()).collect();
        for step in steps.iter_mut().filter(|s| s.part.is_none()) {
            let begin: String = step.text.to_lowercase().chars().take(40).collect();
            let named = |name: &&String| {
                ["for the ", "make the ", "prepare the ", "to make the "]
                    .iter()
                    .any(|lead| {
                        let last = name.rsplit(' ').next().unwrap_or(name);
                        begin.starts_with(&format!("{lead}{name}"))
                            || begin.starts_with(&format!("{lead}{last}"))
                    })
                    || begin.starts_with(&format!("{name}:"))
            };
            step.part = names.iter().find(named).cloned();
        }
        let mut given = Vec::new();
        step::share_out(&mut steps, &items, &mut given);
        let parts: Vec<Option<String>> = items.iter().map(|i| i.part.clone()).collect();
        // The name of a section that has no ingredients of its own goes to the heading of its first step.
        let mut section: Option<String> = None;
        for step in &mut steps {
            if step.part.is_some() && !parts.contains(&step.part) {
                let named = step.part.take();
                if named != section
                    && let Some(name) = &named
                {
                    let name = crate::measure::words::capital(name);
                    step.title = format!("{name}: {}", step.title);
                }
                section = named;
            }
        }
        let mut recipe = Self {
            makes: yields::read(&found.makes),
            region,
            items,
            steps,
            oven_c: None,
            told,
            given,
            found,
        };
        recipe.amounts_in_steps();
        recipe.oven();
        recipe.names();
        recipe
    }

    /// The formula's name.
    pub fn name(&self) -> &str {
        &self.found.name
    }

    /// An amount in a step's text that is today's amount of an ingredient becomes its place; any other is told.
    fn amounts_in_steps(&mut self) {
        for s in 0..self.steps.len() {
            let text = self.steps[s].text.clone();
            let all = words(&text);
            let mut places: Vec<(usize, usize, usize)> = Vec::new();
            let mut tried = 0;
            for at in 0..all.len() {
                if places.iter().any(|(_, end, _)| all[at].start < *end)
                    || !all[at].text.starts_with(|c: char| c.is_numeric())
                    || number(&all, at).is_none()
                    || length(&all, at).is_some()
                {
                    continue;
                }
                tried += 1;
                if tried > MOST_AMOUNTS {
                    break;
                }
                // No amount is longer.
                let stop = text[all[at].start..]
                    .char_indices()
                    .nth(100)
                    .map_or(text.len(), |(n, _)| all[at].start + n);
                let rest = text[all[at].start..stop].trim_end();
                let stop = all[at].start + rest.len();
                let Ok((amount, tail)) = Amount::parse_prefix(rest, self.region) else {
                    continue;
                };
                let measured = amount.parts.iter().all(|p| p.unit.kind() != Kind::Count);
                if !measured {
                    continue;
                }
                let end = stop - tail.len();
                let next: Vec<String> = words(tail)
                    .iter()
                    .take(4)
                    .map(|w| line::one(&w.lower))
                    .collect();
                let small = [
                    "of", "the", "in", "on", "a", "an", "and", "or", "with", "to",
                ];
                let hit = next
                    .iter()
                    .filter(|n| !small.contains(&n.as_str()))
                    .find_map(|n| {
                        self.steps[s]
                            .uses
                            .iter()
                            .position(|(i, _)| self.is_called(*i, n))
                    });
                let Some(u) = hit else { continue };
                let (i, share) = self.steps[s].uses[u];
                let item = &self.items[i];
                let row = ingredients().find(&item.name);
                let whole = item
                    .amount
                    .as_ref()
                    .and_then(|a| Amount::parse(a, self.region).ok())
                    .and_then(|a| a.mass(row).ok());
                let ratio = amount
                    .mass(row)
                    .ok()
                    .zip(whole)
                    .map(|(a, b)| a.as_grams() / b.as_grams().max(1e-9));
                let used_elsewhere: f64 = self
                    .steps
                    .iter()
                    .enumerate()
                    .filter(|(k, _)| *k != s)
                    .flat_map(|(_, st)| &st.uses)
                    .filter(|(k, _)| *k == i)
                    .map(|(_, p)| p)
                    .sum();
                match ratio {
                    Some(r)
                        if (r - share).abs() < 0.03
                            || r < 1.001 && share + used_elsewhere > 0.99 && r < share =>
                    {
                        let written = text[..end].trim_end().len();
                        let written = if text[..written].ends_with(" of") {
                            written - 3
                        } else {
                            written
                        };
                        places.push((all[at].start, written, i));
                        if (r - share).abs() >= 0.03 {
                            self.steps[s].uses[u].1 = r;
                            self.leave_rest(s, i, share - r);
                        }
                    }
                    _ => self.steps[s].unsure.push(format!(
                        "`{}` stays as it is written in another size.",
                        &text[all[at].start..end].trim()
                    )),
                }
            }
            let mut out = text.clone();
            for (from, to, i) in places.into_iter().rev() {
                out.replace_range(from..to, &format!("\u{1}{i}\u{2}"));
            }
            self.steps[s].text = out;
        }
    }

    /// A word means this ingredient.
    fn is_called(&self, item: usize, word: &str) -> bool {
        let own: Vec<String> = words(&self.items[item].name)
            .iter()
            .filter(|w| w.is_word())
            .map(|w| line::one(&w.lower))
            .collect();
        own.iter().any(|w| w == word) || step::is_kind(word, &own)
    }

    /// What a step does not take of an ingredient goes to the next one that names it, else stays with it.
    fn leave_rest(&mut self, step: usize, item: usize, rest: f64) {
        let name = words(&self.items[item].name)
            .last()
            .map(|w| line::one(&w.lower))
            .unwrap_or_default();
        let own = [name.clone()];
        let later = (step + 1..self.steps.len()).find(|s| {
            words(&self.steps[*s].text).iter().any(|w| {
                let word = line::one(&w.lower);
                word == name || step::is_kind(&word, &own)
            })
        });
        if let Some(later) = later {
            match self.steps[later].uses.iter_mut().find(|(i, _)| *i == item) {
                Some(u) => u.1 += rest,
                None => self.steps[later].uses.push((item, rest)),
            }
        } else if let Some(u) = self.steps[step].uses.iter_mut().find(|(i, _)| *i == item) {
            u.1 += rest;
        }
    }

    /// The first heat is the formula's; where only the head of the source tells it, that.
    fn oven(&mut self) {
        self.oven_c = self.steps.iter().find_map(|s| s.oven_c);
        if self.oven_c.is_none() {
            let lines = self
                .found
                .rest
                .iter()
                .chain(&self.found.times)
                .chain(&self.found.notes)
                .chain(std::iter::once(&self.found.about));
            // A heat stands in a line of its own, not far into a long one.
            let begin = |l: &String| {
                l.char_indices()
                    .nth(LONGEST_LINE)
                    .map_or(l.len(), |(at, _)| at)
            };
            self.oven_c = lines
                .take(MOST_REST)
                .find_map(|l| step::read(&l[..begin(l)]).oven_c);
        }
        if self.oven_c.is_none() && self.steps.iter().any(|s| s.in_oven) {
            self.told
                .push("The recipe does not say how hot the oven is.".into());
        }
    }

    /// Timers have names of their own; a step without words of its own a title.
    fn names(&mut self) {
        const TIMES: [&str; 6] = ["first", "second", "third", "fourth", "fifth", "sixth"];
        let mut all: Vec<String> = self
            .steps
            .iter()
            .flat_map(|s| &s.timers)
            .map(|t| t.name.clone())
            .collect();
        all.sort();
        let several: Vec<String> = all
            .windows(2)
            .filter(|w| w[0] == w[1])
            .map(|w| w[0].clone())
            .collect();
        let mut seen: Vec<(String, usize)> = Vec::new();
        for timer in self.steps.iter_mut().flat_map(|s| &mut s.timers) {
            if !several.contains(&timer.name) {
                continue;
            }
            let n = match seen.iter_mut().find(|(name, _)| *name == timer.name) {
                Some((_, n)) => {
                    *n += 1;
                    *n
                }
                None => {
                    seen.push((timer.name.clone(), 0));
                    0
                }
            };
            timer.name = TIMES.get(n).map_or_else(
                || format!("{} number {}", timer.name, n + 1),
                |nth| format!("{nth} {}", timer.name),
            );
        }
    }

    /// What is not sure, in order.
    pub fn doubts(&self) -> Vec<Doubt> {
        let mut all: Vec<Doubt> = Vec::new();
        if self.makes.is_none() {
            all.push(Doubt {
                about: About::Portions,
                text: "The recipe does not say how many portions it makes.".into(),
                guess: "4".into(),
            });
        }
        for (at, item) in self.items.iter().enumerate() {
            if let Some(meant) = slip_of(&item.name) {
                all.push(Doubt {
                    about: About::Amount(at),
                    text: format!("`{}` is taken for {meant}.", item.name),
                    guess: item.amount.clone().unwrap_or_else(|| "as needed".into()),
                });
            }
            for text in &item.unsure {
                all.push(Doubt {
                    about: About::Amount(at),
                    text: format!("`{}`: {text}", item.source),
                    guess: item.amount.clone().unwrap_or_else(|| "as needed".into()),
                });
            }
        }
        for (item, step) in &self.given {
            let text = format!("No step names {}.", self.items[*item].name);
            all.push(Doubt {
                about: About::Goes(*item),
                text,
                guess: (step + 1).to_string(),
            });
        }
        for (s, step) in self.steps.iter().enumerate() {
            for text in &step.unsure {
                let about = match step.timers.iter().position(|t| t.lasts.to.is_some()) {
                    Some(t) if text.contains("vernight") => About::Lasts(s, t),
                    _ if text.contains(" oven ") => About::Oven,
                    _ => About::Look,
                };
                let guess = match about {
                    About::Lasts(s, t) => written(self.steps[s].timers[t].lasts),
                    About::Oven => self
                        .oven_c
                        .map_or_else(String::new, |c| format!("{c:.0} C")),
                    _ => String::new(),
                };
                all.push(Doubt {
                    about,
                    text: format!("Step {}: {text}", s + 1),
                    guess,
                });
            }
        }
        for text in &self.told {
            let about = if text.contains("oven") {
                About::Oven
            } else {
                About::Look
            };
            let guess = if about == About::Oven {
                "180 C".to_owned()
            } else {
                String::new()
            };
            all.push(Doubt {
                about,
                text: text.clone(),
                guess,
            });
        }
        all
    }

    /// Takes an answer to a doubt.
    ///
    /// # Errors
    /// A sentence that tells what was expected.
    pub fn settle(&mut self, about: About, answer: &str) -> Result<(), String> {
        // A bare number, as a keypad gives it, has the guess's own unit.
        let answer = answer.trim();
        let unit = match about {
            About::Amount(at) => self.items[at]
                .amount
                .as_deref()
                .and_then(|a| Amount::parse(a, self.region).ok())
                .filter(|a| a.parts.len() == 1 && a.parts[0].unit.kind() != Kind::Count)
                .map_or("", |a| a.parts[0].unit.symbol()),
            About::Oven => "C",
            About::Lasts(..) => "min",
            _ => "",
        };
        let is_bare = !answer.is_empty()
            && answer
                .chars()
                .all(|c| c.is_ascii_digit() || ".,-/ ".contains(c));
        let answer = if is_bare && !unit.is_empty() {
            &format!("{answer} {unit}")
        } else {
            answer
        };
        match about {
            About::Portions => {
                let makes = yields::read(&[answer.to_owned()])
                    .ok_or("Expected a number, such as 4 or 6-8.")?;
                self.makes = Some(makes);
            }
            About::Amount(at) => {
                let item = Item {
                    name: self.items[at].name.clone(),
                    amount: Some(answer.to_owned()),
                    ..Item::default()
                };
                if !fits(&self.block(&item, "x", false), self.region) {
                    return Err("Expected an amount, such as 200 g, 2, or to taste.".into());
                }
                self.items[at].amount = Some(answer.to_owned());
                self.items[at].unsure.clear();
            }
            About::Goes(item) => {
                let n: usize = answer
                    .parse()
                    .ok()
                    .filter(|n| (1..=self.steps.len()).contains(n))
                    .ok_or(format!(
                        "Expected the number of a step, from 1 to {}.",
                        self.steps.len()
                    ))?;
                for step in &mut self.steps {
                    step.uses.retain(|(i, _)| *i != item);
                }
                self.steps[n - 1].uses.push((item, 1.0));
                self.given.retain(|(i, _)| *i != item);
            }
            About::Oven => {
                let heat = Temperature::parse(answer)
                    .map_err(|e| e.to_string())?
                    .as_celsius();
                if !(30.0..=350.0).contains(&heat) {
                    return Err("Expected a heat from 30 C to 350 C.".into());
                }
                let was = self.oven_c.replace(heat);
                for step in self
                    .steps
                    .iter_mut()
                    .filter(|s| s.oven_c.is_some() && s.oven_c == was)
                {
                    step.oven_c = Some(heat);
                }
                self.told.retain(|t| !t.contains("oven"));
                self.steps
                    .iter_mut()
                    .for_each(|s| s.unsure.retain(|t| !t.contains(" oven ")));
            }
            About::Lasts(s, t) => {
                let (from, to) = parse_window(answer)?;
                self.steps[s].timers[t].lasts = super::words::Lasts { from, to };
                self.steps[s].unsure.retain(|t| !t.contains("vernight"));
            }
            About::Look => {}
        }
        Ok(())
    }

    /// The steps with their numbers, in a line: `1: Peel the apples, 2: Bake.`
    pub fn step_list(&self) -> String {
        let title = |(n, s): (usize, &Step)| format!("{}: {}", n + 1, plain_places(&s.title));
        let all: Vec<String> = self.steps.iter().enumerate().map(title).collect();
        format!("{}.", all.join(", "))
    }

    /// What the import is sure of, in a line.
    pub fn summary(&self) -> String {
        let timers: usize = self.steps.iter().map(|s| s.timers.len()).sum();
        let unsure = self.items.iter().filter(|i| !i.unsure.is_empty()).count();
        let many = |n: usize, one: &str| {
            if n == 1 {
                format!("1 {one}")
            } else {
                format!("{n} {one}s")
            }
        };
        let amounts = match unsure {
            0 => ", all of them clear".to_owned(),
            n if n == self.items.len() => ", none of them sure".to_owned(),
            n => format!(", {} of them clear", self.items.len() - n),
        };
        format!(
            "{}: {}{amounts}; {}; {}.",
            self.found.name.trim_end_matches(['.', ':']),
            many(self.items.len(), "ingredient"),
            many(self.steps.len(), "step"),
            many(timers, "timer")
        )
    }

    /// The formula as a file. It passes `check`.
    pub fn toml(&self) -> String {
        let name = if clear(&self.found.name).is_empty() {
            "Recipe".to_owned()
        } else {
            clear(&self.found.name)
        };
        let mut out =
            String::from("# Taken from a recipe. Lines that begin with `# ?` are not sure.\n");
        out += &format!("name = {}\n", quoted(&name));
        let mut line = |key: &str, text: &str| {
            if !clear(text).is_empty() {
                out += &format!("{key} = {}\n", quoted(text));
            }
        };
        line("about", &self.found.about);
        line("source", &self.found.source.join(", "));
        let times = match self.found.times.as_slice() {
            [] => None,
            all => Some(format!(
                "The recipe says: {}.",
                all.join(", ").trim_end_matches('.')
            )),
        };
        let note: Vec<String> = self.found.notes.iter().cloned().chain(times).collect();
        line("note", &note.join(" "));
        line("keeps", self.found.keeps.as_deref().unwrap_or_default());
        line("picture", self.found.picture.as_deref().unwrap_or_default());
        for (key, all) in [
            ("equipment", &self.found.equipment),
            ("tags", &self.found.tags),
        ] {
            let all: Vec<String> = all
                .iter()
                .map(|t| clear(t))
                .filter(|t| !t.is_empty())
                .map(|t| quoted(&t))
                .collect();
            if !all.is_empty() {
                out += &format!("{key} = [{}]\n", all.join(", "));
            }
        }
        if self.region != Region::Metric {
            out += &format!("region = \"{}\"\n", self.region.symbol());
        }
        for doubt in self
            .doubts()
            .iter()
            .filter(|d| matches!(d.about, About::Portions | About::Oven | About::Look))
        {
            out += &format!("# ? {}\n", clear(&doubt.text));
        }
        let makes = self.makes.clone().unwrap_or(Makes {
            portions: 4.0,
            to: None,
            pieces: Some(4.0),
            piece: "portion".into(),
        });
        for said in &self.found.makes {
            out += &format!("# {}\n", clear(said));
        }
        out += &format!("\n[makes]\nportions = {}\n", figure(makes.portions));
        if let Some(to) = makes.to {
            out += &format!("portions_to = {}\n", figure(to));
        }
        if let Some(pieces) = makes.pieces {
            out += &format!("pieces = {}\n", figure(pieces));
        }
        out += &format!("piece = {}\n", quoted(&makes.piece));
        if let Some(c) = self.oven_c {
            out += &format!(
                "\n[oven]\nheat = \"{} C\"\n",
                print::number((c / 5.0).round() * 5.0, 1)
            );
        }
        let ids = self.ids();
        for (at, item) in self.items.iter().enumerate() {
            out += &format!("\n# {}\n", clear(&item.source));
            for text in &item.unsure {
                out += &format!("# ? {}\n", clear(text));
            }
            if self.given.iter().any(|(i, _)| *i == at) {
                out += "# ? No step names it.\n";
            }
            out += &self.fitting(item, &ids[at]);
        }
        let mut heat = self.oven_c;
        for (s, step) in self.steps.iter().enumerate() {
            if let Some(c) = step.oven_c {
                heat = Some(c);
            }
            out.push('\n');
            for text in &step.unsure {
                out += &format!("# ? {}\n", clear(text));
            }
            out += &self.step(s, step, &ids, heat);
        }
        if !self.found.rest.is_empty() {
            out += "\n# Also in the source:\n";
            for line in &self.found.rest {
                out += &format!("# {}\n", clear(line));
            }
        }
        out
    }

    /// Short names, each once.
    fn ids(&self) -> Vec<String> {
        let mut ids: Vec<String> = Vec::new();
        for item in &self.items {
            let lower = item.name.to_lowercase();
            let mut id = String::new();
            for word in lower
                .split(|c: char| !c.is_ascii_alphanumeric())
                .filter(|w| !w.is_empty())
                .take(4)
            {
                if !id.is_empty() {
                    id.push('-');
                }
                id.push_str(word);
            }
            if !id.starts_with(|c: char| c.is_ascii_lowercase()) {
                id = format!("i-{id}");
            }
            let id = id.trim_end_matches('-').to_owned();
            let mut own = id.clone();
            let mut n = 2;
            while ids.contains(&own) {
                own = format!("{id}-{n}");
                n += 1;
            }
            ids.push(own);
        }
        ids
    }

    /// The ingredient as the file can take it: with all that it says, else with less of its amount.
    fn fitting(&self, item: &Item, id: &str) -> String {
        let full = self.block(item, id, true);
        if fits(&full, self.region) {
            return full;
        }
        let plain = self.block(item, id, false);
        if fits(&plain, self.region) {
            return plain;
        }
        // '1 (12 fl oz) bottle': what the bottle has.
        if let Some(all) = item.amount.as_deref().and_then(|a| in_all(a, self.region)) {
            let whole = Item {
                amount: Some(all),
                ..item.clone()
            };
            for weighed in [true, false] {
                let block = self.block(&whole, id, weighed);
                if fits(&block, self.region) {
                    return block;
                }
            }
        }
        let mut less = Item {
            amount: None,
            ..item.clone()
        };
        less.note.extend(item.amount.clone());
        let less = self.block(&less, id, false);
        format!("# ? Its amount could not be read.\n{less}")
    }

    /// An ingredient of the file; `weighed` with its mass by the tables where the source has a volume.
    fn block(&self, item: &Item, id: &str, weighed: bool) -> String {
        let mut out = format!(
            "[[ingredient]]\nid = \"{id}\"\nname = {}\n",
            quoted(&item.name)
        );
        let slip = slip_of(&item.name);
        let row = ingredients().find(slip.unwrap_or(&item.name));
        if let Some(meant) = slip {
            out += &format!(
                "# ? `{}` is taken for {meant}.\ntable = {}\n",
                clear(&item.name),
                quoted(meant)
            );
        }
        if let Some(amount) = &item.amount {
            let (amount, household, told) = if weighed {
                amounts(amount, row, self.region)
            } else {
                (amount.clone(), None, None)
            };
            if let Some(told) = told {
                out += &format!("# {}\n", clear(&told));
            }
            out += &format!("amount = {}\n", quoted(&amount));
            if let Some(household) = household {
                out += &format!("household = {}\n", quoted(&household));
            }
        }
        let mut line = |key: &str, text: &str| {
            if !clear(text).is_empty() {
                out += &format!("{key} = {}\n", quoted(text));
            }
        };
        line("note", &item.note.join(", "));
        line("extra", item.extra.as_deref().unwrap_or_default());
        line("part", item.part.as_deref().unwrap_or_default());
        if item.optional {
            out += "optional = true\n";
        }
        let or: Vec<String> = item
            .or
            .iter()
            .map(|o| clear(o))
            .filter(|o| !o.is_empty())
            .map(|o| quoted(&o))
            .collect();
        if !or.is_empty() {
            out += &format!("or = [{}]\n", or.join(", "));
        }
        out
    }

    fn step(&self, at: usize, step: &Step, ids: &[String], heat: Option<f64>) -> String {
        let mut text = clear(
            &step
                .text
                .replace(['{', '}'], "|")
                .replace('\u{1}', "{#")
                .replace('\u{2}', "}"),
        );
        for (i, id) in ids.iter().enumerate().rev() {
            text = text.replace(&format!("{{#{i}}}"), &format!("{{{id}}}"));
        }
        let title = clear(&plain_places(&step.title));
        let title = if title.is_empty() {
            format!("Step {}", at + 1)
        } else {
            title
        };
        let mut out = format!(
            "[[step]]\ntitle = {}\ntext = {}\n",
            quoted(&title),
            quoted(&text)
        );
        let uses: Vec<String> = step
            .uses
            .iter()
            .filter(|(_, part)| *part > 1e-6)
            .map(|(i, part)| {
                if *part > 0.999 {
                    format!("\"{}\"", ids[*i])
                } else {
                    format!("\"{}/1000 {}\"", (part * 1000.0).round().max(1.0), ids[*i])
                }
            })
            .map(|use_| simple(&use_))
            .collect();
        if !uses.is_empty() {
            out += &format!("uses = [{}]\n", uses.join(", "));
            if uses.len() > 1 {
                out += "weigh_up = true\n";
            }
        }
        if let Some(part) = &step.part {
            out += &format!("part = {}\n", quoted(part));
        }
        if let (true, Some(heat), Some(first)) = (step.in_oven, heat, self.oven_c) {
            if (heat - first).abs() < 1.0 {
                out += "oven = true\n";
            } else {
                out += &format!(
                    "heat = \"{} C\"\n",
                    print::number((heat / 5.0).round() * 5.0, 1)
                );
            }
        }
        if let Some(look) = step.look.as_deref().filter(|_| step.timers.is_empty()) {
            out += &format!("look = {}\n", quoted(look));
        }
        if let Some(hands) = step.hands_on {
            out += &format!("hands_on = \"{} min\"\n", hands.minutes_up().max(1));
        }
        for timer in &step.timers {
            out += &format!(
                "\n[[step.timer]]\nname = {}\nlasts = \"{}\"\n",
                quoted(&timer.name),
                written(timer.lasts)
            );
            if let Some(look) = &timer.look {
                out += &format!("look = {}\n", quoted(look));
            }
            if timer.alongside {
                out += "alongside = true\n";
            }
            if timer.cold {
                out += "cold = true\n";
            }
            let cues: Vec<String> = timer
                .cues
                .iter()
                .map(|(span, say)| {
                    format!(
                        "{{ at = \"{}\", say = {} }}",
                        written(super::words::Lasts {
                            from: *span,
                            to: None
                        }),
                        quoted(say)
                    )
                })
                .collect();
            if !cues.is_empty() {
                out += &format!("cue = [{}]\n", cues.join(", "));
            }
        }
        out
    }
}

/// `500/1000 butter` is `1/2 butter`.
fn simple(use_: &str) -> String {
    for (long, short) in [
        ("500/1000", "1/2"),
        ("250/1000", "1/4"),
        ("750/1000", "3/4"),
        ("333/1000", "1/3"),
        ("667/1000", "2/3"),
        ("200/1000", "1/5"),
    ] {
        if let Some(rest) = use_.strip_prefix(&format!("\"{long} ")) {
            return format!("\"{short} {rest}");
        }
    }
    use_.to_owned()
}

fn plain_places(text: &str) -> String {
    text.chars()
        .filter(|c| !matches!(c, '\u{1}' | '\u{2}'))
        .collect()
}

/// The amount by weight, the household measure beside it, and where the weight comes from.
fn amounts(
    amount: &str,
    row: Option<&TableIngredient>,
    region: Region,
) -> (String, Option<String>, Option<String>) {
    let as_is = || (amount.to_owned(), None, None);
    let Ok(read) = Amount::parse(amount, region) else {
        return as_is();
    };
    let volume = read
        .parts
        .iter()
        .all(|p| p.unit.kind() == Kind::Volume && p.each.is_none() && !p.unit.is_approximate());
    // '27 g (2 tbsp)': the other way round.
    let weighed = read
        .parts
        .iter()
        .all(|p| p.unit.kind() == Kind::Mass && p.each.is_none());
    if weighed && !read.also.is_empty() && read.also.iter().all(|p| p.unit.kind() == Kind::Volume) {
        let alone = |parts: &[crate::measure::Part]| Amount {
            parts: parts.to_vec(),
            also: Vec::new(),
            sense: read.sense,
        };
        // As it is written: printed again it would be rounded again.
        let mass = amount.split('(').next().unwrap_or(amount).trim();
        let mass = if Amount::parse(mass, region).is_ok_and(|a| a.parts == read.parts) {
            mass.to_owned()
        } else {
            alone(&read.parts).to_string()
        };
        return (mass, Some(alone(&read.also).to_string()), None);
    }
    if !volume {
        return as_is();
    }
    let first = Amount {
        also: Vec::new(),
        ..read.clone()
    };
    // '1 1/2 cups (200 g)', '300 ml/½ pint': the first of the two.
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let end = amount
        .char_indices()
        .find(|(at, c)| {
            *c == '('
                || *c == '/'
                    && !(digit(amount[..*at].chars().last())
                        && digit(amount[at + 1..].chars().next()))
        })
        .map_or(amount.len(), |(at, _)| at);
    let household = amount[..end].trim().to_owned();
    let household = if Amount::parse(&household, region).is_ok_and(|a| a.parts == first.parts) {
        household
    } else {
        first.to_string()
    };
    let given = !read.also.is_empty() && read.also.iter().all(|p| p.unit.kind() == Kind::Mass);
    if given {
        let mass = Amount {
            parts: read.also.clone(),
            also: Vec::new(),
            sense: read.sense,
        };
        return (mass.to_string(), Some(household), None);
    }
    let Some(row) = row.filter(|r| r.g_per_ml.is_some()) else {
        return as_is();
    };
    let Ok(mass) = first.mass(Some(row)) else {
        return as_is();
    };
    let told = format!("{household} by the tables: {}", row.density_source);
    let grams = |g: f64| {
        print::number(
            g,
            if g >= 100.0 {
                0
            } else if g >= 10.0 {
                1
            } else {
                2
            },
        )
    };
    let written = match first.parts.as_slice() {
        [part] if part.low < part.high => {
            let (low, high) = (part.low / part.middle(), part.high / part.middle());
            format!(
                "{}-{} g",
                grams(mass.as_grams() * low),
                grams(mass.as_grams() * high)
            )
        }
        _ => format!("{} g", grams(mass.as_grams())),
    };
    (written, Some(household), Some(told))
}

/// What so many tins or bottles have in them together, where their size is a volume.
fn in_all(amount: &str, region: Region) -> Option<String> {
    let read = Amount::parse(amount, region).ok()?;
    let [part] = read.parts.as_slice() else {
        return None;
    };
    let (each, unit) = part.each.filter(|(_, u)| u.kind() == Kind::Volume)?;
    Some(format!(
        "{} {}",
        print::number(part.low * each, 2),
        unit.symbol()
    ))
}

/// What a name that the tables do not know is, one slip of the pen away: `oilve oil` is olive oil.
fn slip_of(name: &str) -> Option<&'static str> {
    // Beef is no row of the table, and no slip for beer.
    if ingredients().find(name).is_some() || !read_name(name).unknown {
        return None;
    }
    let own: Vec<String> = name
        .to_lowercase()
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    let spelled_out: Vec<&str> = own
        .iter()
        .map(|word| match word.as_str() {
            "bkg" => "baking",
            "veg" => "vegetable",
            "choc" => "chocolate",
            "sr" => "self-raising",
            "ap" => "all-purpose",
            "marg" => "margarine",
            "parm" => "parmesan",
            word => word,
        })
        .collect();
    if let Some(row) = ingredients().find(&spelled_out.join(" ")) {
        return Some(row.name.as_str());
    }
    // 'Egs', 'buter'
    let single = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.dedup();
        letters
    };
    let close = |other: &str| {
        let other: Vec<&str> = other.split_whitespace().collect();
        other.len() == own.len()
            && own.iter().zip(&other).filter(|(a, b)| a != b).count() == 1
            && own.iter().zip(&other).all(|(a, b)| {
                a == b
                    || a.len() >= 4 && line::near(a, b)
                    || a.len() >= 3 && b.len() == a.len() + 1 && single(a) == single(b)
            })
    };
    let rows = ingredients().all().iter();
    let many = |name: &str| close(&format!("{name}s"));
    rows.filter(|row| close(&row.name) || many(&row.name) || row.also.iter().any(|a| close(a)))
        .map(|row| row.name.as_str())
        .next()
}

/// A file with this ingredient alone is right.
fn fits(block: &str, region: Region) -> bool {
    let id = block
        .split("id = \"")
        .nth(1)
        .and_then(|t| t.split('"').next())
        .unwrap_or("x");
    let text = format!(
        "name = \"x\"\nregion = \"{}\"\n[makes]\nportions = 1\npiece = \"x\"\n{block}\n[[step]]\ntitle = \"x\"\ntext = \"x\"\nuses = [\"{id}\"]\n",
        region.symbol()
    );
    formula::read("x", &text).is_ok()
}

/// A number as TOML writes it.
fn figure(n: f64) -> String {
    print::number(n.clamp(0.1, 10_000.0), 3)
}

/// A text that steers nothing, on one line.
fn clear(text: &str) -> String {
    let kept: String = text
        .chars()
        .map(|c| if clean::steers(c) { ' ' } else { c })
        .collect();
    let one = kept.split_whitespace().collect::<Vec<_>>().join(" ");
    one.chars().take(4000).collect()
}

/// A text as a TOML string.
fn quoted(text: &str) -> String {
    format!(
        "\"{}\"",
        clear(text).replace('\\', "\\\\").replace('"', "\\\"")
    )
}

/// Whose cups these are.
/// The language that the steps are written in, where it is not English: by small words that no English text has.
fn foreign(found: &Found) -> Option<&'static str> {
    const SMALL: [(&str, &[&str]); 4] = [
        (
            "German",
            &[
                "und", "der", "den", "dem", "mit", "für", "auf", "ein", "eine", "bei", "lassen",
                "dann",
            ],
        ),
        (
            "French",
            &[
                "le", "les", "et", "du", "dans", "avec", "pour", "une", "puis", "faire", "laisser",
                "aux",
            ],
        ),
        (
            "Italian",
            &[
                "il", "di", "per", "della", "nel", "gli", "e", "poi", "con", "una", "fate",
                "mettete",
            ],
        ),
        (
            "Spanish",
            &[
                "el", "los", "y", "con", "las", "en", "una", "por", "hasta", "añadir", "luego",
                "del",
            ],
        ),
    ];
    let text: Vec<String> = found.steps.iter().map(|s| s.text.to_lowercase()).collect();
    let all: Vec<&str> = text
        .iter()
        .flat_map(|t| t.split(|c: char| !c.is_alphabetic()))
        .filter(|w| !w.is_empty())
        .take(2000)
        .collect();
    let count = |any: &[&str]| all.iter().filter(|w| any.contains(w)).count();
    let english = count(&["the", "and", "a", "in", "with", "until", "of", "to", "for"]);
    SMALL
        .iter()
        .map(|(language, small)| (count(small), *language))
        .max()
        .filter(|(n, _)| *n >= 3 && *n > english)
        .map(|(_, language)| language)
}

fn region_of(found: &Found) -> Region {
    let lines: Vec<String> = found
        .ingredients
        .iter()
        .chain(&found.steps)
        .map(|e| e.text.to_lowercase())
        .chain(std::iter::once(found.about.to_lowercase()))
        .collect();
    let cups = found
        .ingredients
        .iter()
        .any(|e| words(&e.text).iter().skip(1).take(2).any(|w| w.is(&["c"])));
    let has = |any: &[&str]| lines.iter().any(|l| words(l).iter().any(|w| w.is(any)));
    let says = |any: &[&str]| lines.iter().any(|l| any.iter().any(|a| l.contains(a)));
    if says(&["australian", "metric cup"]) {
        return if says(&["australian"]) {
            Region::Au
        } else {
            Region::Metric
        };
    }
    if cups
        || has(&["cup", "cups"]) && !says(&["teacup"])
        || says(&[
            "all-purpose",
            "all purpose",
            "stick of butter",
            "sticks butter",
            "kosher",
            "heavy cream",
            "half-and-half",
        ])
    {
        return Region::Us;
    }
    if has(&[
        "pint",
        "pints",
        "gill",
        "gills",
        "quart",
        "teacup",
        "teacupful",
        "dessertspoon",
        "floz",
    ]) || says(&["fl oz"])
    {
        return Region::Uk;
    }
    Region::Metric
}

/// A formula in percent of its flour, where that is all it tells: a kilogram of flour is taken.
fn by_percent(items: &mut [Item], region: Region, told: &mut Vec<String>) {
    if items.iter().all(|i| i.percent.is_none()) {
        return;
    }
    let flour: f64 = items
        .iter()
        .filter(|i| i.percent.is_none() && ingredients().find(&i.name).is_some_and(|r| r.is_flour))
        .filter_map(|i| {
            Amount::parse(i.amount.as_deref()?, region)
                .ok()?
                .mass(None)
                .ok()
        })
        .map(crate::measure::Mass::as_grams)
        .sum();
    let base = if flour > 0.0 { flour } else { 1000.0 };
    if flour <= 0.0 {
        told.push("The recipe gives percentages only, so I took one kilogram of flour. Scale it to what you want.".into());
    }
    for item in items.iter_mut() {
        if let Some(percent) = item.percent {
            item.amount = Some(format!("{} g", print::number(base * percent / 100.0, 2)));
        }
    }
}

/// A long text as steps: sentences, so many that each step has at most one wait.
fn split(text: &str) -> Vec<String> {
    let all = words(text);
    let mut out: Vec<String> = Vec::new();
    let (mut from, mut waits) = (0, false);
    for (at, word) in all.iter().enumerate() {
        let next = all.get(at + 1);
        let ends = word.is(&[".", "!"])
            && next.is_none_or(|n| n.start > word.end && n.text.starts_with(char::is_uppercase))
            && !all.get(at.wrapping_sub(1)).is_some_and(|w| w.is(&["no"]));
        if !ends {
            continue;
        }
        let sentence = text[from..word.end].trim();
        let timed = !step::read(sentence).timers.is_empty();
        match out.last_mut() {
            Some(last) if !waits && last.len() + sentence.len() < 220 => {
                *last = format!("{last} {sentence}");
            }
            _ => {
                out.push(sentence.to_owned());
                waits = false;
            }
        }
        waits |= timed;
        from = word.end;
    }
    let rest = text[from..].trim();
    if !rest.is_empty() {
        out.push(rest.to_owned());
    }
    out
}
