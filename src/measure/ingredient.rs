//! What the tables know of an ingredient: how heavy, how wet, what it holds.

use super::{Thing, Unit};

/// One row of the ingredient table.
#[derive(Debug, Clone, PartialEq, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ingredient {
    /// Its name: `strong white flour`.
    pub name: String,
    /// Other names as spoken, lower case.
    #[serde(default)]
    pub also: Vec<String>,
    /// Grams in a millilitre, filled as a cook fills a cup.
    pub g_per_ml: Option<f64>,
    /// Grams in one piece: (what one is called, grams).
    #[serde(default)]
    pub pieces: Vec<(String, f64)>,
    /// Water in 100 grams.
    pub water_percent: Option<f64>,
    /// Allergens by the words of EU annex II, lower case.
    #[serde(default)]
    pub allergens: Vec<String>,
    /// It counts as flour in baker's percentages.
    #[serde(default)]
    pub is_flour: bool,
    /// Where the values come from.
    pub source: String,
}

impl Ingredient {
    /// Grams in one piece, where the table knows it.
    pub fn piece(&self, thing: Thing) -> Option<f64> {
        self.piece_named(Unit::Count(thing).symbol())
    }

    /// Grams in one of whatever this is called.
    pub fn piece_named(&self, name: &str) -> Option<f64> {
        self.pieces
            .iter()
            .find(|(piece, _)| piece == name)
            .map(|&(_, g)| g)
    }
}
