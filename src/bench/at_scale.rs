//! What a session knows of its scale.

use super::dish::At;
use super::taken::Shows;
use crate::scale::{Pour, Target};
use crate::timer::DishId;

/// What a session knows of its scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct AtScale {
    /// What is being poured: gone with a stop, like a number half entered.
    pub(super) pour: Pour,
    pub(super) aimed: Option<(Aim, Target)>,
    /// What it showed when the order came that is being carried out.
    pub(super) shows: Option<Shows>,
    /// The smallest step that it shows, in grams; nothing before a scale was there.
    pub(super) step: Option<f64>,
    /// What counts as nothing for what is being weighed.
    pub(super) base: Option<(Aim, f64)>,
    /// The empty tin.
    pub(super) tin: Option<f64>,
    /// What was weighed by itself before, the last first.
    pub(super) before: Vec<f64>,
    /// What is being divided.
    pub(super) division: Option<Division>,
}

/// What is being weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Aim {
    /// A use of an ingredient of a dish.
    Use(DishId, At),
    /// A piece of what is divided, from nought.
    Piece(u32),
    /// Nothing yet: the bowl that is put on begins the first weigh-up.
    Bowl,
}

/// Something divided into pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Division {
    /// Grams of each.
    pub(super) each: f64,
    /// How many.
    pub(super) count: u32,
    /// So many are weighed.
    pub(super) done: u32,
}

impl AtScale {
    /// What a stop of the program forgets, and what a scale that is gone takes with it.
    pub(super) fn forget_passing(&mut self) {
        self.pour = Pour::default();
        self.aimed = None;
        self.shows = None;
    }

    /// So much is in of what is being poured, and so much is wanted.
    pub(super) fn pouring(&self) -> Option<(f64, f64)> {
        let target = self.pour.target().filter(|_| self.pour.has_begun())?;
        Some((self.pour.net()?, target.grams))
    }
}
