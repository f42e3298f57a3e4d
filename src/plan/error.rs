//! Why there is no plan.

use crate::time::Minute;

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// It cannot be ready by then.
    #[error("expected to be ready in time, found that it takes {late_min} minutes longer")]
    TooLate {
        /// When it can be ready at the earliest.
        earliest: Minute,
        /// How many minutes that is after the wanted time.
        late_min: i64,
    },
    /// Nothing was given to plan.
    #[error("expected at least one formula, found none")]
    Nothing,
    /// A formula says no time for any step.
    #[error("expected a step with a time in `{name}`, found none")]
    NoTimes {
        /// The formula.
        name: String,
    },
    /// A formula takes longer than a plan can hold.
    #[error("expected `{name}` to take thirty days at most, found longer")]
    TooLong {
        /// The formula.
        name: String,
    },
}
