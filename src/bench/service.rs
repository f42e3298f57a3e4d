//! The plan for the hour of serving, as the cook was told of it and as it stands.

mod serving;
mod wishes;

use crate::plan::{Plan, Progress};
use crate::time::Moment;

/// A cook who is late by this many minutes is told; after that, when it has doubled.
const LATE_MIN: i64 = 5;

/// The plan that the cook was last told of, and how it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Service {
    /// The plan as it was last told.
    told: Plan,
    /// The plan as it is.
    now: Plan,
    /// How far the cook had come when the plan was last made.
    progress: Vec<Progress>,
    /// The cook was told to begin.
    begun_told: bool,
    /// The lateness in minutes that is told next.
    tell_at: i64,
    /// When the plan next has something to do.
    wake: Option<Moment>,
}

impl Service {
    fn new(plan: Plan) -> Self {
        Self {
            told: plan.clone(),
            now: plan,
            progress: Vec::new(),
            begun_told: false,
            tell_at: LATE_MIN,
            wake: None,
        }
    }

    /// How late everything is, in minutes.
    fn late(&self) -> i64 {
        self.now.ready_at.since(self.now.wanted_at)
    }

    pub(super) fn wake_at(&self) -> Option<Moment> {
        self.wake
    }
}
