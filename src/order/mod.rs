//! Everything that a cook can mean, as one closed type with typed slots.

mod names;
#[allow(clippy::module_inception)]
mod order;
mod question;
mod refs;

pub use order::{Order, ScaleBy};
pub use question::{EggPart, Keeping, Question, Share};
pub use refs::{Food, IngredientId, StepId, TimerRef, UnitSymbol};
