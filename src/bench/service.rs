//! The plan for the hour of serving, as the cook was told of it and as it stands.

mod serving;
mod wishes;

use std::collections::BTreeSet;

use crate::plan::{BlockProgress, Plan};
use crate::time::{Minute, Moment};
use crate::timer::DishId;

/// A cook who is late by this many minutes is told; after that, when it has doubled.
const LATE_MIN: i64 = 5;

/// The plan that the cook was last told of, and how it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Service {
    /// The dishes of the plan, by their places in it.
    dishes: Vec<DishId>,
    /// The plan as it was last told.
    told: Plan,
    /// The plan as it is.
    now: Plan,
    /// How far the cook had come when the plan was last made.
    progress: Vec<BlockProgress>,
    /// When that was.
    made: Option<Minute>,
    /// The dishes that the cook was told to begin, by their places.
    begun_told: BTreeSet<usize>,
    /// The lateness in minutes that is told next.
    tell_at: i64,
    /// When the plan next has something to do.
    wake: Option<Moment>,
}

impl Service {
    fn new(dishes: Vec<DishId>, plan: Plan) -> Self {
        Self {
            dishes,
            told: plan.clone(),
            now: plan,
            progress: Vec::new(),
            made: None,
            begun_told: BTreeSet::new(),
            tell_at: LATE_MIN,
            wake: None,
        }
    }

    /// How late everything is, in minutes.
    fn late(&self) -> i64 {
        self.now.ready_at.since(self.now.wanted_at)
    }

    /// The plan as it is.
    pub(super) fn plan(&self) -> &Plan {
        &self.now
    }

    /// The place of a dish in the plan.
    pub(super) fn place_of(&self, dish: DishId) -> Option<usize> {
        self.dishes.iter().position(|d| *d == dish)
    }

    pub(super) fn wake_at(&self) -> Option<Moment> {
        self.wake
    }
}
