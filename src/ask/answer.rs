//! An answer, and what the question may lean on.

use serde::{Deserialize, Serialize};

use crate::measure::words::capital;
use crate::measure::{Mass, Region, SayOptions, ingredients};
use crate::safety::Law;

/// One of several numbers of an answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AnswerPart {
    /// What it is of: `flour`, `water`.
    pub name: String,
    /// The number, unrounded.
    pub value: f64,
    /// Its unit, by its symbol.
    pub unit: String,
}

impl AnswerPart {
    /// So many grams of something.
    pub(super) fn grams(name: &str, mass: Mass) -> Self {
        Self {
            name: name.to_owned(),
            value: mass.as_grams(),
            unit: "g".to_owned(),
        }
    }
}

/// A computed answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The number, unrounded; the lower end of a range.
    pub value: f64,
    /// The upper end, where the answer is a range.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// Its unit, by its symbol.
    pub unit: String,
    /// Every number of it by name, where it has several; the first is `value`, or what `value` is made of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<AnswerPart>,
    /// What is said: whole sentences, the answer first.
    pub words: String,
    /// How it was computed.
    pub sum: String,
    /// Where the figures come from.
    pub source: String,
}

impl Answer {
    /// With its words as whole sentences.
    pub(super) fn in_sentences(mut self) -> Self {
        self.words = capital(self.words.trim());
        if !self.words.ends_with(['.', '?', '!']) {
            self.words.push('.');
        }
        self
    }
}

/// What an answer may lean on: how things are said here, what is measured, and the open formula at today's size.
#[derive(Debug, Clone, PartialEq)]
pub struct Context {
    /// Whose cups and spoons.
    pub region: Region,
    /// Whose list of allergens.
    pub law: Law,
    /// The smallest step that the scale shows, in grams.
    pub scale_step_g: f64,
    /// From a thousand grams: 'one kilo two fifty'.
    pub kilos: bool,
    /// The formula's flour.
    pub flour_g: Option<f64>,
    /// The formula's water, as far as it is called water.
    pub water_g: Option<f64>,
    /// The formula's dough.
    pub dough_g: Option<f64>,
    /// The dough temperature that the formula wants, Celsius.
    pub dough_c: Option<f64>,
    /// The formula's baking loss in percent.
    pub loss_percent: Option<f64>,
    /// The room, Celsius.
    pub room_c: Option<f64>,
    /// Tap water, Celsius, when measured.
    pub tap_c: Option<f64>,
    /// The mixer's friction in degrees; nothing by hand.
    pub friction_c: f64,
    /// The rise at hand, as the formula gives it: its name, and its time in minutes.
    pub rise: Option<(String, f64)>,
    /// Allergens that the formula holds, by the words of the law of the region; `None` without a formula.
    pub allergens: Option<Vec<String>>,
    /// The formula's ingredients by the names that the cook may use.
    pub ingredients: Vec<(String, Mass)>,
    /// What is made.
    pub dish: Option<AskedDish>,
}

/// The dish that is made, as far as questions about keeping it go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AskedDish {
    /// Its name.
    pub name: String,
    /// How its author says that it keeps.
    pub keeps: Option<String>,
}

impl AskedDish {
    /// It is meant: nothing else is named, or its own name is.
    pub(super) fn is(&self, food: Option<&str>) -> bool {
        let name = self.name.to_lowercase();
        let word = |w: &str| name.split(|c: char| !c.is_alphanumeric()).any(|n| n == w);
        food.is_none_or(|food| food.split(' ').all(|w| word(w) || w == "leftover"))
    }
}

impl Default for Context {
    fn default() -> Self {
        Self {
            region: Region::default(),
            law: Law::default(),
            scale_step_g: 1.0,
            kilos: false,
            flour_g: None,
            water_g: None,
            dough_g: None,
            dough_c: None,
            loss_percent: None,
            room_c: None,
            tap_c: None,
            friction_c: 0.0,
            rise: None,
            allergens: None,
            ingredients: Vec::new(),
            dish: None,
        }
    }
}

impl Context {
    /// How masses are said here.
    pub(super) fn say(&self) -> SayOptions {
        SayOptions {
            step_g: self.scale_step_g,
            kilos: self.kilos,
            region: self.region,
            g_per_ml: None,
            exact: true,
        }
    }

    /// The mass of one of the formula's ingredients by one of its names, or by what the table calls the same thing.
    pub(super) fn mass_of(&self, name: &str) -> Option<Mass> {
        let row = ingredients().find(name).map(|i| &i.name);
        let same = |known: &str| row.is_some() && ingredients().find(known).map(|i| &i.name) == row;
        self.ingredients
            .iter()
            .find(|(known, _)| known.eq_ignore_ascii_case(name))
            .or_else(|| self.ingredients.iter().find(|(known, _)| same(known)))
            .map(|&(_, mass)| mass)
    }
}
