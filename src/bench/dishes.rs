//! The dishes on the bench.

use super::dish::Dish;
use crate::formula::Edit;
use crate::timer::{Origin, Timer};

/// Every dish of a session; the cook is at one of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dishes {
    all: Vec<Dish>,
    here: usize,
}

impl Dishes {
    pub(super) fn of(first: Dish) -> Self {
        Self {
            all: vec![first],
            here: 0,
        }
    }

    /// The dish that the cook is at.
    pub(super) fn here(&self) -> &Dish {
        &self.all[self.here]
    }

    pub(super) fn here_mut(&mut self) -> &mut Dish {
        &mut self.all[self.here]
    }

    pub(super) fn all(&self) -> &[Dish] {
        &self.all
    }

    pub(super) fn all_mut(&mut self) -> &mut [Dish] {
        &mut self.all
    }

    /// Where a timer of a step comes from, for the dish that the cook is at.
    pub(super) fn origin(&self, step: usize) -> Origin {
        Origin {
            dish: self.here,
            step,
        }
    }

    /// Where a step is after the dish that the cook is at was edited; nothing where it is gone.
    pub(super) fn moved(&self, origin: Origin, edit: &Edit) -> Option<Origin> {
        if origin.dish != self.here {
            return Some(origin);
        }
        edit.step(origin.step).map(|step| self.origin(step))
    }

    /// The dish that a timer belongs to; none for one of the cook's own.
    pub(super) fn dish_of(&self, t: &Timer) -> Option<&Dish> {
        self.all.get(t.origin?.dish)
    }

    pub(super) fn dish_of_mut(&mut self, t: &Timer) -> Option<&mut Dish> {
        self.all.get_mut(t.origin?.dish)
    }
}
