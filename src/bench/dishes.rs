//! The dishes on the bench.

use super::beside::Beside;
use super::dish::Dish;
use super::everyday::everyday;
use super::remembered::Remembered;
use crate::formula::{self, Batch, Edit, Formula};
use crate::time::Moment;
use crate::timer::{DishId, Origin, Timer};

/// Every dish of a session; the cook is at one of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dishes {
    /// By their ids.
    all: Vec<Dish>,
    here: DishId,
    /// Their everyday names.
    names: Vec<String>,
    /// Where `next` led from last, when, and whether it entered a step: a slip of the hand is gone back from.
    came: Option<(DishId, Moment, bool)>,
}

impl Dishes {
    pub(super) fn of(first: Dish) -> Self {
        let mut dishes = Self {
            all: vec![first],
            here: DishId::default(),
            names: Vec::new(),
            came: None,
        };
        dishes.name_all();
        dishes
    }

    /// One more.
    pub(super) fn add(&mut self, dish: Dish) -> DishId {
        self.all.push(dish);
        self.name_all();
        DishId(self.all.len() as u32 - 1)
    }

    fn name_all(&mut self) {
        let formulas: Vec<&Formula> = self.all.iter().map(Dish::written).collect();
        self.names = everyday(&formulas);
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

    /// There has been more than one.
    pub(super) fn are_several(&self) -> bool {
        self.all.len() > 1
    }

    /// Those that are made: not what was left out.
    pub(super) fn on(&self) -> impl Iterator<Item = DishId> + '_ {
        let all = self.all.iter().enumerate();
        all.filter(|(_, dish)| !dish.is_out())
            .map(|(at, _)| DishId(at as u32))
    }

    /// It is there, and made.
    pub(super) fn is_on(&self, dish: DishId) -> bool {
        self.get(dish).is_some_and(|dish| !dish.is_out())
    }

    /// Its everyday name.
    pub(super) fn name(&self, dish: DishId) -> &str {
        self.names.get(dish.0 as usize).map_or("dish", |n| n)
    }

    /// `The soup`.
    pub(super) fn the(&self, dish: DishId) -> String {
        format!("the {}", self.name(dish))
    }

    /// `next` led from a dish to the one at hand.
    pub(super) fn note_came(&mut self, from: DishId, now: Moment, entered: bool) {
        self.came = Some((from, now, entered));
    }

    /// Where `next` led from, when, and whether it entered a step; it is then forgotten.
    pub(super) fn take_came(&mut self) -> Option<(DishId, Moment, bool)> {
        self.came.take()
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

/// A dish beside the first, with nothing done. One that can no longer be read keeps its place, and is left out; a size
/// that cannot be made is as written.
pub(super) fn made_of(beside: &Beside) -> Dish {
    let Ok(formula) = formula::read(&beside.path, &beside.text) else {
        let formula = Formula {
            name: beside.path.clone(),
            ..Formula::default()
        };
        let batch = Batch::as_written(&formula);
        let mut dish = Dish::new(formula, batch, Remembered::default());
        dish.leave_out(true);
        return dish;
    };
    let written = || Batch::as_written(&formula);
    let mut sizes = beside.size.iter();
    let sized = sizes.try_fold(written(), |batch, by| batch.then(&formula, by));
    let batch = sized.unwrap_or_else(|_| written());
    Dish::new(formula, batch, beside.remembered())
}
