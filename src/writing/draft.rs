//! The formula as far as it is written.

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, value};

use crate::formula::{Formula, FormulaError, read};
use crate::measure::print;

/// The formula as far as it is written.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    pub(super) name: String,
    pub(super) about: String,
    pub(super) portions: f64,
    pub(super) pieces: f64,
    pub(super) piece: String,
    pub(super) tags: Vec<String>,
    /// The part of the dish that the next ingredients belong to.
    pub(super) part: Option<String>,
    pub(super) ingredients: Vec<Line>,
    pub(super) steps: Vec<Step>,
}

/// An ingredient.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    /// As it was typed, for the importer's guesses.
    pub(super) said: String,
    pub(super) id: String,
    pub(super) name: String,
    /// Its entry in the file.
    pub(super) entry: Table,
}

/// A step.
#[derive(Debug, Clone, Default)]
pub(super) struct Step {
    pub(super) title: String,
    pub(super) text: String,
    pub(super) recording: Option<String>,
    /// The place of an ingredient, and what part of it goes in.
    pub(super) uses: Vec<(usize, u32, u32)>,
    pub(super) timers: Vec<Table>,
    pub(super) heat: Option<String>,
    pub(super) caution: Option<String>,
}

/// What stands for the words of a step that has only been spoken.
pub(super) const ONLY_SPOKEN: &str = "As it is told in the recording.";

impl Draft {
    /// Its name; empty before it has one.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The recordings of its steps.
    pub fn recordings(&self) -> impl Iterator<Item = &str> {
        self.steps.iter().filter_map(|s| s.recording.as_deref())
    }

    /// So much of an ingredient goes in before a step, as parts of the whole.
    pub(super) fn used(&self, ingredient: usize) -> f64 {
        let uses = self.steps.iter().flat_map(|s| &s.uses);
        uses.filter(|(at, ..)| *at == ingredient)
            .map(|(_, a, b)| f64::from(*a) / f64::from(*b))
            .sum()
    }

    /// The formula's file; `rename` gives the path of each recording in it.
    pub fn toml(&self, rename: impl Fn(&str) -> String) -> String {
        let mut file = DocumentMut::new();
        let root = file.as_table_mut();
        root["name"] = value(self.name.as_str());
        if !self.about.is_empty() {
            root["about"] = value(self.about.as_str());
        }
        if !self.tags.is_empty() {
            root["tags"] = value(self.tags.iter().collect::<Array>());
        }
        let mut makes = Table::new();
        makes["portions"] = number(self.portions);
        makes["pieces"] = number(self.pieces);
        makes["piece"] = value(self.piece.as_str());
        root["makes"] = Item::Table(makes);
        let mut all = ArrayOfTables::new();
        for line in &self.ingredients {
            all.push(line.entry.clone());
        }
        root["ingredient"] = Item::ArrayOfTables(all);
        let mut all = ArrayOfTables::new();
        for step in &self.steps {
            all.push(self.step(step, &rename));
        }
        root["step"] = Item::ArrayOfTables(all);
        file.to_string()
    }

    fn step(&self, step: &Step, rename: &impl Fn(&str) -> String) -> Table {
        let mut out = Table::new();
        out["title"] = value(step.title.as_str());
        out["text"] = value(step.text.as_str());
        if let Some(recording) = &step.recording {
            out["recording"] = value(rename(recording));
        }
        if !step.uses.is_empty() {
            let uses = step.uses.iter().map(|(at, a, b)| match (a, b) {
                (a, b) if a == b => self.ingredients[*at].id.clone(),
                (a, b) => format!("{a}/{b} {}", self.ingredients[*at].id),
            });
            out["uses"] = value(uses.collect::<Array>());
            // Two things or more are called one by one.
            if step.uses.len() > 1 {
                out["weigh_up"] = value(true);
            }
        }
        if let Some(heat) = &step.heat {
            out["heat"] = value(heat.as_str());
        }
        if let Some(caution) = &step.caution {
            out["cautions"] = value([caution.as_str()].into_iter().collect::<Array>());
        }
        if !step.timers.is_empty() {
            let mut timers = ArrayOfTables::new();
            for timer in &step.timers {
                timers.push(timer.clone());
            }
            out["timer"] = Item::ArrayOfTables(timers);
        }
        out
    }

    /// The formula, checked.
    ///
    /// # Errors
    /// Every fault of it.
    pub fn check(&self) -> Result<Formula, FormulaError> {
        read(&self.name, &self.toml(str::to_owned))
    }

    /// What is wrong with one ingredient or one step, where nothing else is in the formula.
    pub(super) fn fault_of(ingredient: &Table, step: Option<Table>) -> Option<String> {
        let id = ingredient.get("id").and_then(Item::as_str).unwrap_or("x");
        let draft = Self {
            name: "Draft".to_owned(),
            portions: 1.0,
            pieces: 1.0,
            piece: "piece".to_owned(),
            ..Self::default()
        };
        let mut file: DocumentMut = draft.toml(str::to_owned).parse().ok()?;
        let mut all = ArrayOfTables::new();
        all.push(ingredient.clone());
        file["ingredient"] = Item::ArrayOfTables(all);
        let mut own = step.unwrap_or_default();
        own["title"] = value("Step");
        own["text"] = value("Stir.");
        own["uses"] = value([id].into_iter().collect::<Array>());
        let mut all = ArrayOfTables::new();
        all.push(own);
        file["step"] = Item::ArrayOfTables(all);
        let faults = read("draft", &file.to_string()).err()?.faults;
        faults.first().map(|fault| fault.what.clone())
    }
}

/// A number without decimals that it does not need.
fn number(n: f64) -> Item {
    match print::number(n, 2).parse::<i64>() {
        Ok(whole) => value(whole),
        Err(_) => value(n),
    }
}
