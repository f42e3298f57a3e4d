//! One thing of a formula changed by a sentence: `salt to nine grams`, `step three to knead for ten minutes`. The rest of
//! the file stays as it is, remarks included.

use toml_edit::{Array, DocumentMut, Item, Table, value};

use super::session::read_heat;
use super::{guess, say};
use crate::formula::{Formula, TimerSpec, one_named};
use crate::import;
use crate::measure::Temperature;
use crate::measure::words::capital;

/// A changed file, and what was done in a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// The file. It is not yet checked.
    pub text: String,
    /// `Fine salt: nine grams, was 10 g.`
    pub told: String,
}

/// What can be said, for whoever said something else.
const EXAMPLES: &str = "`salt to nine grams`, `step three to ...`, `heat of step four to 200 C`, `time of step five to 35 minutes`, \
    `title of step two to Knead`, `name to ...`, `portions to 6`, `add 5 g yeast to step 2`, `leave out the basil`";

/// Words of the file's head, and its keys.
const HEAD: [(&str, &str); 6] = [
    ("name", "name"),
    ("about", "about"),
    ("source", "source"),
    ("note", "note"),
    ("keeps", "keeps"),
    ("keeping", "keeps"),
];

struct Changing<'f> {
    file: DocumentMut,
    formula: &'f Formula,
}

/// Changes one thing.
///
/// # Errors
/// A sentence with what was expected.
pub fn change(text: &str, formula: &Formula, said: &str) -> Result<Changed, String> {
    let file: DocumentMut = text
        .parse()
        .map_err(|e: toml_edit::TomlError| e.to_string())?;
    let mut changing = Changing { file, formula };
    let told = changing.obey(said.trim())?;
    Ok(Changed {
        text: changing.file.to_string(),
        told,
    })
}

/// What follows one of these beginnings.
fn after<'s>(said: &'s str, beginnings: &[&str]) -> Option<&'s str> {
    let head = |begin: &str| {
        said.get(..begin.len())
            .filter(|head| head.eq_ignore_ascii_case(begin))
    };
    let begin = beginnings.iter().find(|begin| head(begin).is_some())?;
    Some(said[begin.len()..].trim())
}

impl Changing<'_> {
    fn obey(&mut self, said: &str) -> Result<String, String> {
        if let Some(what) = after(
            said,
            &["leave out the ", "leave out ", "remove the ", "remove "],
        ) {
            return self.leave_out(what);
        }
        if let Some(what) = after(said, &["add "]) {
            return self.add(what);
        }
        let wrong = || format!("expected a change such as {EXAMPLES}; found `{said}`");
        let (what, to) = said.split_once(" to ").ok_or_else(wrong)?;
        let (what, to) = (what.trim().trim_start_matches("the "), to.trim());
        let lower = what.to_lowercase();
        if to.is_empty() {
            return Err(wrong());
        }
        if let Some((of, step)) = of_step(&lower) {
            return self.step(of, step, to);
        }
        if let Some(of) = lower.strip_prefix("note of ") {
            return self.ingredient(of, "note", to);
        }
        if let Some((_, key)) = HEAD.iter().find(|(word, _)| *word == lower) {
            let was = self.file.get(key).and_then(Item::as_str).map(str::to_owned);
            let to = if *key == "name" {
                capital(to)
            } else {
                to.to_owned()
            };
            self.file[*key] = value(to.as_str());
            return Ok(told(&capital(key), &to, was.as_deref()));
        }
        match lower.clone().as_str() {
            "tags" => {
                let tags = say::items(&to.to_lowercase());
                self.file["tags"] = value(tags.iter().collect::<Array>());
                Ok(format!("Tags: {}.", tags.join(", ")))
            }
            "portions" | "pieces" | "makes" | "serves" => {
                let lower = match lower.as_str() {
                    "makes" | "serves" => "portions".to_owned(),
                    _ => lower,
                };
                let n =
                    say::number(to).ok_or(format!("{lower}: expected a number, found `{to}`"))?;
                let makes = self.file["makes"]
                    .as_table_like_mut()
                    .ok_or("there is no [makes] in the file")?;
                makes.insert(&lower, value(n));
                Ok(told(&capital(&lower), to, None))
            }
            "oven" => {
                let heat = read_heat(to).ok_or(format!(
                    "oven: expected a heat such as `200 C`, found `{to}`"
                ))?;
                if self.file.get("oven").is_none() {
                    self.file["oven"] = Item::Table(Table::new());
                }
                let was = self.file["oven"]
                    .get("heat")
                    .and_then(Item::as_str)
                    .map(str::to_owned);
                self.file["oven"]["heat"] = value(heat.as_str());
                Ok(told("Oven", &heat, was.as_deref()))
            }
            _ => self.named(what, to),
        }
    }

    /// An ingredient's amount, or the time of a timer of that name.
    fn named(&mut self, what: &str, to: &str) -> Result<String, String> {
        let missing = match one_named(self.formula, what) {
            Ok(at) => return self.amount(at, to),
            Err(e) => e,
        };
        let lower = what.to_lowercase();
        let steps = self.formula.steps.iter().enumerate();
        let timers = steps.flat_map(|(s, step)| {
            step.timers
                .iter()
                .enumerate()
                .map(move |(t, timer)| (s, t, timer))
        });
        let same: Vec<(usize, usize)> = timers
            .filter(|(.., timer)| timer.name == lower)
            .map(|(s, t, _)| (s, t))
            .collect();
        match same.as_slice() {
            [(step, timer)] => self.time(*step, *timer, to),
            [] => Err(format!("{missing}; I can change {EXAMPLES}")),
            _ => Err(format!(
                "several steps have a timer `{lower}`: say the time of step two, or another"
            )),
        }
    }

    fn entry(&mut self, of: &str, at: usize) -> Result<&mut Table, String> {
        let all = self.file.get_mut(of).and_then(Item::as_array_of_tables_mut);
        all.and_then(|all| all.get_mut(at))
            .ok_or_else(|| format!("the entries are not written as [[{of}]]"))
    }

    fn amount(&mut self, at: usize, to: &str) -> Result<String, String> {
        // 'To to taste' is said as 'to taste'.
        let to = if to == "taste" { "to taste" } else { to };
        let name = self.formula.ingredients[at].name.clone();
        let entry = self.entry("ingredient", at)?;
        let was = entry
            .get("amount")
            .and_then(Item::as_str)
            .unwrap_or("as needed")
            .to_owned();
        entry.insert("amount", value(to));
        // What stood beside it was for the old amount.
        entry.remove("household");
        Ok(format!("{name}: {to}, was {was}."))
    }

    fn ingredient(&mut self, name: &str, key: &str, to: &str) -> Result<String, String> {
        let name = name.trim_start_matches("the ");
        let at = one_named(self.formula, name).map_err(|e| e.to_string())?;
        let entry = self.entry("ingredient", at)?;
        let was = entry.get(key).and_then(Item::as_str).map(str::to_owned);
        if say::is_none(to) {
            entry.remove(key);
        } else {
            entry.insert(key, value(to));
        }
        Ok(told(
            &capital(&self.formula.ingredients[at].name),
            to,
            was.as_deref(),
        ))
    }

    fn step(&mut self, of: &str, said: &str, to: &str) -> Result<String, String> {
        let n = self.step_number(said)?;
        let title = format!("Step {}", n + 1);
        let none = say::is_none(to);
        let heat = |to: &str| {
            read_heat(to).ok_or(format!("heat: expected one such as `200 C`, found `{to}`"))
        };
        match of {
            "text" => {
                let recorded = self.formula.steps[n].recording.is_some();
                let end = if to.ends_with(['.', '!', '?']) {
                    ""
                } else {
                    "."
                };
                let to = format!("{}{end}", capital(to));
                let entry = self.entry("step", n)?;
                let was = entry.get("text").and_then(Item::as_str).map(str::to_owned);
                entry.insert("text", value(to.as_str()));
                let still = if recorded {
                    " Its recording is played as before: `recording of step ... to none` takes it away."
                } else {
                    ""
                };
                let done = told(&title, &to, was.as_deref());
                let times = self.times_after(n, &to)?;
                Ok(format!("{done}{still}{times}"))
            }
            "title" | "heading" => self.put(n, "title", &title, Some(capital(to))),
            "heat" => {
                let to = if none { None } else { Some(heat(to)?) };
                self.entry("step", n)?.remove("oven");
                let says = import::oven_in(&self.formula.steps[n].text);
                let is = to.as_deref().and_then(|to| Temperature::parse(to).ok());
                let differs =
                    says.is_some_and(|c| is.is_none_or(|is| (is.as_celsius() - c).abs() > 3.0));
                let done = self.put(n, "heat", &title, to)?;
                let still = if differs {
                    format!(
                        " The words of the step still name the heat before: `step {} to ...` changes them.",
                        n + 1
                    )
                } else {
                    String::new()
                };
                Ok(format!("{done}{still}"))
            }
            "look" | "question" => self.put(n, "look", &title, (!none).then(|| capital(to))),
            "recording" if none => self.put(n, "recording", &title, None),
            "hands-on" => {
                let to = say::time(to).ok_or(format!(
                    "hands-on: expected a time such as `10 min`, found `{to}`"
                ))?;
                self.put(n, "hands_on", &title, Some(to))
            }
            "caution" | "cautions" => {
                let entry = self.entry("step", n)?;
                if none {
                    entry.remove("cautions");
                } else {
                    entry.insert(
                        "cautions",
                        value([capital(to)].into_iter().collect::<Array>()),
                    );
                }
                Ok(told(&title, to, None))
            }
            "time" | "timer" => match self.formula.steps[n].timers.as_slice() {
                [_] => self.time(n, 0, to),
                [] => Err(format!("step {} has no timer", n + 1)),
                several => {
                    let names: Vec<&str> = several.iter().map(|t| t.name.as_str()).collect();
                    Err(format!("which time: say {} to ...", names.join(" or ")))
                }
            },
            other => Err(format!(
                "a step has no {other} that I can change; I can change {EXAMPLES}"
            )),
        }
    }

    fn put(
        &mut self,
        n: usize,
        key: &str,
        title: &str,
        to: Option<String>,
    ) -> Result<String, String> {
        let entry = self.entry("step", n)?;
        let was = entry.get(key).and_then(Item::as_str).map(str::to_owned);
        match &to {
            Some(to) => {
                entry.insert(key, value(to.as_str()));
            }
            None => {
                entry.remove(key);
            }
        }
        Ok(told(
            &format!("{title}, {}", key.replace('_', "-")),
            to.as_deref().unwrap_or("none"),
            was.as_deref(),
        ))
    }

    fn time(&mut self, step: usize, timer: usize, to: &str) -> Result<String, String> {
        let lasts =
            say::time(to).ok_or(format!("expected a time such as `35 min`, found `{to}`"))?;
        let of = &self.formula.steps[step];
        let before = (of.timers[timer].lasts, of.timers[timer].most);
        let still = import::times_in(&of.text).contains(&before);
        let done = self.set_time(step, timer, &lasts)?;
        Ok(if still {
            format!(
                "{done} The words of the step still name the time before: `step {} to ...` changes them.",
                step + 1
            )
        } else {
            done
        })
    }

    fn set_time(&mut self, step: usize, timer: usize, lasts: &str) -> Result<String, String> {
        let name = capital(&self.formula.steps[step].timers[timer].name);
        let entry = self.entry("step", step)?;
        let timers = entry.get_mut("timer");
        let was = match timers {
            Some(Item::ArrayOfTables(all)) => {
                let one = all
                    .get_mut(timer)
                    .ok_or("there is no such timer in the file")?;
                one.insert("lasts", value(lasts))
            }
            Some(Item::Value(toml_edit::Value::Array(all))) => {
                let one = all
                    .get_mut(timer)
                    .and_then(toml_edit::Value::as_inline_table_mut);
                let one = one.ok_or("there is no such timer in the file")?;
                one.insert("lasts", lasts.into()).map(Item::Value)
            }
            _ => return Err("there is no such timer in the file".to_owned()),
        };
        let was = was.as_ref().and_then(Item::as_str).map(str::to_owned);
        Ok(told(&name, lasts, was.as_deref()))
    }

    /// After a step has other words: its one timer goes by the one time that they tell; any other that they do not tell is
    /// named.
    fn times_after(&mut self, n: usize, text: &str) -> Result<String, String> {
        let timers = &self.formula.steps[n].timers;
        let times = import::times_in(text);
        let untold = |t: &&TimerSpec| !times.contains(&(t.lasts, t.most));
        if let ([one], [(from, to)]) = (timers.as_slice(), times.as_slice())
            && untold(&one)
        {
            let lasts = match to {
                None => say::written(*from),
                Some(to) => say::written(*from)
                    .zip(say::written(*to))
                    .map(|(from, to)| format!("{from} to {to}")),
            };
            return match lasts {
                Some(lasts) => Ok(format!(" {}", self.set_time(n, 0, &lasts)?)),
                None => Ok(String::new()),
            };
        }
        let stay: Vec<String> = timers
            .iter()
            .filter(untold)
            .map(|t| t.name.clone())
            .collect();
        Ok(match stay.as_slice() {
            [] => String::new(),
            [one] => format!(" The timer stays as it is: `{one} to ...` changes it."),
            some => format!(" The timers stay as they are: {}.", some.join(", ")),
        })
    }

    fn step_number(&self, said: &str) -> Result<usize, String> {
        let steps = self.formula.steps.len();
        let n = say::whole(said).filter(|n| (1..=steps).contains(n));
        n.map(|n| n - 1)
            .ok_or_else(|| format!("expected a step from 1 to {steps}, found `{said}`"))
    }

    /// `5 g yeast to step 2`.
    fn add(&mut self, what: &str) -> Result<String, String> {
        let (line, step) = what
            .rsplit_once(" to step ")
            .ok_or("expected an ingredient and its step, such as `add 5 g yeast to step 2`")?;
        let n = self.step_number(step)?;
        let mut entry = guess::ingredient(line)
            .ok_or(format!("`{line}`: I cannot read that as one ingredient"))?;
        let id = entry
            .get("id")
            .and_then(Item::as_str)
            .unwrap_or("i")
            .to_owned();
        let known = |id: &str| self.formula.ingredients.iter().any(|i| i.id == id);
        let ids = (1..).map(|n| {
            if n == 1 {
                id.clone()
            } else {
                format!("{id}-{n}")
            }
        });
        let id = ids.into_iter().find(|id| !known(id)).unwrap_or(id.clone());
        entry["id"] = value(id.as_str());
        entry.set_position(None);
        let all = self
            .file
            .get_mut("ingredient")
            .and_then(Item::as_array_of_tables_mut);
        let all = all.ok_or("the entries are not written as [[ingredient]]")?;
        entry.decor_mut().set_prefix("\n");
        // Behind the last of them.
        let last = all.iter().filter_map(Table::position).max();
        entry.set_position(last);
        all.push(entry);
        let step = self.entry("step", n)?;
        match step.get_mut("uses").and_then(Item::as_array_mut) {
            Some(uses) => uses.push(id.as_str()),
            None => {
                step.insert("uses", value([id.as_str()].into_iter().collect::<Array>()));
            }
        }
        Ok(format!("{}, in step {}.", capital(line), n + 1))
    }

    fn leave_out(&mut self, what: &str) -> Result<String, String> {
        let lower = what.to_lowercase();
        if let Some(step) = lower.strip_prefix("step ") {
            let n = self.step_number(step)?;
            let all = self
                .file
                .get_mut("step")
                .and_then(Item::as_array_of_tables_mut);
            all.ok_or("the entries are not written as [[step]]")?
                .remove(n);
            return Ok(format!(
                "Step {} is left out: {}.",
                n + 1,
                self.formula.steps[n].title
            ));
        }
        let at = one_named(self.formula, &lower).map_err(|e| e.to_string())?;
        let (id, name) = (
            &self.formula.ingredients[at].id,
            &self.formula.ingredients[at].name,
        );
        let all = self
            .file
            .get_mut("ingredient")
            .and_then(Item::as_array_of_tables_mut);
        all.ok_or("the entries are not written as [[ingredient]]")?
            .remove(at);
        let steps = self
            .file
            .get_mut("step")
            .and_then(Item::as_array_of_tables_mut);
        for step in steps.into_iter().flat_map(|all| all.iter_mut()) {
            if let Some(uses) = step.get_mut("uses").and_then(Item::as_array_mut) {
                uses.retain(|u| {
                    u.as_str().and_then(|u| u.split_whitespace().next_back()) != Some(id.as_str())
                });
            }
        }
        Ok(format!("{} is left out.", capital(name)))
    }
}

/// `heat of step four`, `step four heat`, `step four`: what of it, and which.
fn of_step(what: &str) -> Option<(&str, &str)> {
    if let Some((of, step)) = what.split_once(" of step ") {
        return Some((of.trim(), step.trim()));
    }
    let step = what.strip_prefix("step ")?.trim();
    for of in [
        "title", "heading", "heat", "time", "timer", "caution", "text", "look",
    ] {
        if let Some(step) = step.strip_suffix(of) {
            return Some((of, step.trim()));
        }
    }
    Some(("text", step))
}

/// `Oven: 200 C, was 220 C.`
fn told(what: &str, to: &str, was: Option<&str>) -> String {
    let to = to.trim_end_matches('.');
    match was {
        Some(was) => format!("{what}: {to}; it was: {}.", was.trim_end_matches('.')),
        None => format!("{what}: {to}."),
    }
}
