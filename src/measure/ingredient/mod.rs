//! What the tables know of an ingredient: how heavy and how wet it is.

mod table;

pub(crate) use table::singular;
pub use table::{Ingredients, ingredients};

use super::{Thing, Unit};

/// One row of the ingredient table.
#[derive(Debug, Clone, PartialEq)]
pub struct TableIngredient {
    /// Its name: `strong white flour`.
    pub name: String,
    /// Other names as spoken, lower case.
    pub also: Vec<String>,
    /// Grams in a millilitre, filled as a cook fills a cup.
    pub g_per_ml: Option<f64>,
    /// Where the density comes from.
    pub density_source: String,
    /// What to know where makes of it differ so much that a spoon tells little.
    pub varies: Option<String>,
    /// Grams in one piece.
    pub pieces: Vec<Piece>,
    /// Water in 100 grams.
    pub water_percent: Option<f64>,
    /// Where the water comes from.
    pub water_source: String,
    /// It counts as flour in baker's percentages.
    pub is_flour: bool,
}

/// The mass of one of something.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What one is called, by its symbol: `egg`, `clove`, `piece`.
    pub one: String,
    /// Grams in one.
    pub g: f64,
    /// Where that comes from.
    pub source: String,
}

impl TableIngredient {
    /// Grams in one piece, where the table knows it.
    pub fn piece(&self, thing: Thing) -> Option<f64> {
        self.piece_named(Unit::Count(thing).symbol())
    }

    /// Grams in one of whatever this is called.
    pub fn piece_named(&self, name: &str) -> Option<f64> {
        self.pieces
            .iter()
            .find(|piece| piece.one == name)
            .map(|piece| piece.g)
    }
}
