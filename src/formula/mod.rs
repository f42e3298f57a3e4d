//! The formula: its file, its checks, its scaling and its weigh-up.

mod model;

pub use model::{Cue, Formula, Ingredient, Makes, Oven, Step, TimerSpec, Tin, Use};
