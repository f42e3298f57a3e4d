//! The spoken language: what was said becomes an `Intent`, and what can be said becomes the recogniser's vocabulary.

mod intent;
mod network;

pub use intent::{ClockTime, HalfDay, Intent, ScaleBy};
pub use network::{Network, NetworkArc};
