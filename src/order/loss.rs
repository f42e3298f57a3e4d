//! What an order may lose.

use super::refs::{DishRef, TimerRef};

/// What would be lost: where it is there, the order is asked about first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss<'o> {
    /// What a timer has left: it ends.
    Left(Option<&'o TimerRef>),
    /// What a timer has run: it begins again.
    Run(Option<&'o TimerRef>),
    /// What the last deed has led to since.
    LastDeed,
    /// All timers.
    Timers,
    /// A dish.
    Dish(DishRef),
    /// What was weighed for another size.
    Weighed,
    /// The session.
    Session,
}
