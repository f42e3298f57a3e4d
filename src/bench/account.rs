//! What became of a dish, for the bake log.

use serde::{Deserialize, Serialize};

use crate::time::Span;

/// A dish as it stands when the cook leaves.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Account {
    /// The formula's name.
    pub bake: String,
    /// Today's size in words; empty as written.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// The room in Celsius, where it was known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room_c: Option<f64>,
    /// How warm the dough's water was to be or, where the cook told it, was, in Celsius.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water_c: Option<f64>,
    /// From the first step until the last was done, or the cook left.
    pub took: Span,
    /// The last step was done.
    pub finished: bool,
    /// What was done, in order.
    pub steps: Vec<StepTaken>,
    /// What went in.
    pub went_in: Vec<PutIn>,
    /// What was taken in place of something: what the formula names first, and what was taken.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub swaps: Vec<(String, String)>,
    /// Steps and ingredients that were left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub skipped: Vec<String>,
}

/// A step that was done.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct StepTaken {
    /// Its heading.
    pub title: String,
    /// How long it takes as the formula is written, its wait included.
    pub planned: Span,
    /// Of that, the work.
    pub hands: Span,
    /// How long it really took, until the next step was begun.
    pub took: Span,
    /// It uses the oven.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub oven: bool,
}

/// An ingredient that went in.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct PutIn {
    /// Its name.
    pub name: String,
    /// What was wanted, in grams.
    pub wanted_g: f64,
    /// What really went in, where the cook told it or the scale showed it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub really_g: Option<f64>,
    /// It is the dough's water.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub water: bool,
}
