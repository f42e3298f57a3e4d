//! Time, from the ground up: the session clock, lengths, minutes, and what the clock on the wall shows.
//!
//! Nothing here reads a clock. What a zone does on the day of a clock change is worked out in one place: [`Wall`] knows
//! the changes, and [`Minute::when`] walks through them.

mod clock_time;
#[cfg(test)]
pub(crate) mod europe;
mod kitchen_clock;
mod minute;
mod moment;
mod span;
mod wall;

pub use clock_time::{ClockTime, HalfDay};
pub use kitchen_clock::KitchenClock;
pub use minute::{Local, Minute};
pub use moment::Moment;
pub use span::Span;
pub use wall::Wall;
