//! The dishes on the bench.

use super::dish::Dish;
use crate::formula::Edit;
use crate::timer::{DishId, Origin, Timer};

/// Every dish of a session; the cook is at one of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dishes {
    /// By their ids.
    all: Vec<Dish>,
    here: DishId,
}

impl Dishes {
    pub(super) fn of(first: Dish) -> Self {
        Self {
            all: vec![first],
            here: DishId::default(),
        }
    }

    /// Which dish the cook is at.
    pub(super) fn at_hand(&self) -> DishId {
        self.here
    }

    /// The cook turns to a dish; nothing where there is none of that id.
    pub(super) fn turn_to(&mut self, dish: DishId) {
        if self.get(dish).is_some() {
            self.here = dish;
        }
    }

    /// The dish that the cook is at.
    pub(super) fn here(&self) -> &Dish {
        &self.all[self.here.0 as usize]
    }

    pub(super) fn here_mut(&mut self) -> &mut Dish {
        &mut self.all[self.here.0 as usize]
    }

    pub(super) fn get(&self, dish: DishId) -> Option<&Dish> {
        self.all.get(dish.0 as usize)
    }

    pub(super) fn get_mut(&mut self, dish: DishId) -> Option<&mut Dish> {
        self.all.get_mut(dish.0 as usize)
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

    /// The dish that a timer belongs to; none for one of the cook's own.
    pub(super) fn dish_of(&self, t: &Timer) -> Option<&Dish> {
        self.get(t.origin?.dish)
    }

    pub(super) fn dish_of_mut(&mut self, t: &Timer) -> Option<&mut Dish> {
        self.get_mut(t.origin?.dish)
    }
}

/// Where a step is after its dish was edited; nothing where it is gone.
pub(super) fn moved(origin: Origin, dish: DishId, edit: &Edit) -> Option<Origin> {
    if origin.dish != dish {
        return Some(origin);
    }
    let step = edit.step(origin.step)?;
    Some(Origin { dish, step })
}
