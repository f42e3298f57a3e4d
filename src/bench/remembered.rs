//! What the bake log remembers of a formula, for the next bake of it.

use super::last_time::LastTime;
use super::own_time::{OwnTime, OwnTimes};
use crate::time::Span;

/// The name under which the oven stands among a kitchen's own times.
pub const OVEN: &str = "oven";

/// What is known of a formula from the bakes before.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Remembered {
    /// This kitchen's own times of it, by the timer's name; and how long the oven takes to get hot.
    pub own: OwnTimes,
    /// How long the cook's own work takes, by the step's heading.
    pub work: OwnTimes,
    /// The last bake of it.
    pub last: Option<LastTime>,
}

impl Remembered {
    /// How long the oven takes to get hot here.
    pub(super) fn oven(&self) -> Option<&OwnTime> {
        self.own.get(OVEN)
    }

    /// How long the cook takes at a step that is only work.
    pub(super) fn work(&self, title: &str) -> Option<Span> {
        self.work.get(title).map(|own| own.lasts)
    }
}
