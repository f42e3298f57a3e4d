//! What the importer makes of a line or a step: the guess that a question offers.

use toml_edit::{DocumentMut, Item, Table};

use crate::import::{self, About};

/// What a text has, as the importer reads it; and the ingredients that no step names.
fn read(lines: &[&str], steps: &[&str]) -> Option<(DocumentMut, Vec<usize>)> {
    let mut text = String::from("# Draft\n\n## Ingredients\n\n");
    for line in lines {
        text += &format!("- {}\n", line.trim_start_matches(['-', '*', '#', ' ']));
    }
    text += "\n## Method\n\n";
    for (n, step) in steps.iter().enumerate() {
        text += &format!("{}. {step}\n", n + 1);
    }
    let recipe = import::read(text.as_bytes(), "Draft").ok()?;
    let unnamed = recipe.doubts().into_iter().filter_map(|d| match d.about {
        About::Goes(item) => Some(item),
        _ => None,
    });
    Some((recipe.toml().parse().ok()?, unnamed.collect()))
}

fn tables<'d>(document: &'d DocumentMut, name: &str) -> Vec<&'d Table> {
    let all = document.get(name).and_then(Item::as_array_of_tables);
    all.map_or_else(Vec::new, |all| all.iter().collect())
}

/// An ingredient's entry from a line as a cook writes it; without an amount where the line has none. Nothing where it is
/// no one ingredient.
pub(super) fn ingredient(line: &str) -> Option<Table> {
    let (document, _) = read(&[line], &["Stir."])?;
    let found = tables(&document, "ingredient");
    let [one] = found.as_slice() else {
        return None;
    };
    let mut one = (*one).clone();
    one.decor_mut().clear();
    for mut key in one.iter_mut().map(|(key, _)| key) {
        key.leaf_decor_mut().clear();
    }
    Some(one)
}

/// What a step's words tell.
#[derive(Debug, Default)]
pub(super) struct StepGuess {
    pub(super) title: Option<String>,
    /// What goes in: the place of an ingredient, and what part of it in the words of a formula: `1/2`.
    pub(super) uses: Vec<(usize, Option<String>)>,
    pub(super) timers: Vec<Table>,
    pub(super) heat: Option<String>,
}

/// What the last of these steps tells.
pub(super) fn step(lines: &[&str], steps: &[&str]) -> StepGuess {
    let read = read(lines, steps);
    let Some((document, unnamed)) =
        read.filter(|(d, _)| tables(d, "ingredient").len() == lines.len())
    else {
        return StepGuess::default();
    };
    let ids: Vec<&str> = tables(&document, "ingredient")
        .iter()
        .filter_map(|i| i.get("id").and_then(Item::as_str))
        .collect();
    let all = tables(&document, "step");
    // A step may have been taken apart: what comes after the ones before is of the last.
    let before = match steps.split_last() {
        Some((_, [])) | None => 0,
        Some((_, before)) => count(lines, before),
    };
    let mut guess = StepGuess::default();
    for step in all.iter().skip(before) {
        let text = |key: &str| step.get(key).and_then(Item::as_str).map(str::to_owned);
        guess.title = guess.title.or_else(|| text("title"));
        let oven = document
            .get("oven")
            .and_then(|o| o.get("heat"))
            .and_then(Item::as_str);
        let uses_oven = step.get("oven").and_then(Item::as_bool) == Some(true);
        let heat = text("heat").or_else(|| oven.filter(|_| uses_oven).map(str::to_owned));
        guess.heat = guess.heat.or(heat);
        let uses = step.get("uses").and_then(Item::as_array);
        for name in uses
            .into_iter()
            .flatten()
            .filter_map(toml_edit::Value::as_str)
        {
            let (part, id) = match name.split_once(' ') {
                Some((part, id)) => (Some(part.to_owned()), id),
                None => (None, name),
            };
            if let Some(at) = ids.iter().position(|i| *i == id)
                && !unnamed.contains(&at)
            {
                guess.uses.push((at, part));
            }
        }
        let timers = step.get("timer").and_then(Item::as_array_of_tables);
        guess
            .timers
            .extend(timers.into_iter().flatten().cloned().map(|mut timer| {
                timer.decor_mut().clear();
                timer
            }));
    }
    guess
}

/// So many steps the importer makes of these.
fn count(lines: &[&str], steps: &[&str]) -> usize {
    read(lines, steps).map_or(steps.len(), |(d, _)| tables(&d, "step").len())
}
