//! The names of units as patterns of words.

use super::book::{Build, give};
use super::slots::Value;
use crate::measure::Unit;

/// The names of units that the ear is offered; the others are read when typed.
const HEARD: &[&str] = &[
    "gram",
    "grams",
    "kilo",
    "kilos",
    "kilogram",
    "kilograms",
    "ounce",
    "ounces",
    "pound",
    "pounds",
    "millilitre",
    "millilitres",
    "milliliter",
    "milliliters",
    "centilitre",
    "centilitres",
    "decilitre",
    "decilitres",
    "litre",
    "litres",
    "liter",
    "liters",
    "teaspoon",
    "teaspoons",
    "tablespoon",
    "tablespoons",
    "cup",
    "cups",
    "fluid ounce",
    "fluid ounces",
    "pint",
    "pints",
    "quart",
    "quarts",
    "gallon",
    "gallons",
    "pinch",
    "pinches",
    "dash",
    "drop",
    "drops",
    "knob",
    "handful",
];

/// Every name of a unit, with words before it that must be said: its symbol then tells whose it is. The grammar is laid
/// down once and kept, and so are these patterns.
pub(crate) fn unit_way(unit: Unit, before: &str) -> (&'static str, Build) {
    let names: Vec<String> = unit
        .spellings()
        .filter(|name| name.chars().all(|c| c.is_ascii_alphabetic() || c == ' '))
        .map(|name| {
            if HEARD.contains(&name) {
                name.to_owned()
            } else {
                name.split(' ').map(|word| format!(" ={word}")).collect()
            }
        })
        .collect();
    let (pattern, symbol) = if before.is_empty() {
        (names.join("|"), unit.symbol())
    } else {
        let pattern = format!("{before} ({})", names.join("|"));
        (pattern, &*unit.full_symbol().leak())
    };
    give(pattern.leak(), Value::Sym(symbol))
}
