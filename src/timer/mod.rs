//! Named timers, the cues inside them, their alarms and their overrun. Pure: driven by `now` alone.

mod rack;
#[allow(clippy::module_inception)]
mod timer;

pub use rack::{Rack, Ring, TimerNamed};
pub use timer::{DishId, Mark, Origin, Timer, TimerPhase};
