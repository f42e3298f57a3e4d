//! What was done, so that it can be taken back: a timer, a check-off, a step, the size.

mod take_back;

use super::at_scale::Aim;
use super::dish::Work;
use crate::formula::Batch;
use crate::timer::{DishId, Rack};

/// So many deeds can be taken back, one after the other.
const KEPT: usize = 10;

/// How the work stood before each of the last deeds.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Undo {
    before: Vec<Before>,
}

/// All that a deed can change and an undo can put back.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Before {
    dishes: Vec<(Batch, Work)>,
    /// The dish that the cook was at.
    here: DishId,
    rack: Rack,
    /// What counted as nothing on the scale.
    base: Option<(Aim, f64)>,
}
