//! The formula: its file, its checks, its scaling and its weigh-up.

mod batch;
mod choice;
mod edit;
mod error;
mod file;
mod look;
mod model;
mod quantity;
mod read;
mod span;
mod weigh;

pub use batch::{Batch, ScaleError, one_named};
pub use edit::Edit;
pub use error::{Fault, FormulaError};
pub use file::FormulaFile;
pub use look::fill;
pub(crate) use look::names_oven;
pub use model::{Cue, Formula, Ingredient, Makes, Oven, Step, TimerSpec, Told, Use};
pub(crate) use quantity::plural;
pub use quantity::{Quantity, joined};
pub use read::{LARGEST, read};
pub use span::{parse_span, parse_window};
pub use weigh::{WeighLine, WeighPart, WeighUp};
