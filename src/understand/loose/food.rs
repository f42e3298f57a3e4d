//! Foods that the table of safe temperatures knows.

use super::words::FILLERS;
use crate::ask::{self, Context, Question};
use crate::measure::NamedHeat;

/// The question how hot it must be inside.
pub(super) fn safe(food: &str) -> Question {
    Question::SafeTemperature { food: food.into() }
}

/// How hot it must be inside, in Celsius, where the tables know.
pub(super) fn core_of(food: &str) -> Option<f64> {
    ask::answer(&safe(food), &Context::default())
        .ok()
        .map(|a| a.value)
}

/// Words that are part of a question about heat and no food.
const NO_FOOD: [&str; 9] = [
    "core",
    "inside",
    "safe",
    "done",
    "temperature",
    "c",
    "f",
    "internal",
    "oven",
];

/// The tables know this food.
pub(super) fn knows(name: &str) -> bool {
    let words: Vec<&str> = name.split(' ').collect();
    let strange = words
        .iter()
        .any(|w| w.is_empty() || NO_FOOD.contains(w) || FILLERS.contains(w));
    !strange && core_of(name).is_some()
}

/// Is it a food of the table of frying, by any of its names?
pub(super) fn is_fried(said: &str) -> bool {
    !said.starts_with("fry") && fried_foods().any(|(name, _)| same_food(name, said))
}

/// The foods that the table has an oil for, by every name, each with the name of its row.
pub(super) fn fried_foods() -> impl Iterator<Item = (&'static str, &'static str)> {
    let rows = NamedHeat::fried_foods().iter();
    rows.flat_map(|row| row.names().map(|name| (name, row.name.as_str())))
}

/// The same word, or the one of many: 'doughnut', 'doughnuts'.
pub(super) fn same_food(name: &str, said: &str) -> bool {
    name == said || crate::measure::singular(name) == crate::measure::singular(said)
}
