//! A scale, as far as it can be told by values alone: what its bytes and lines mean, what stands on it, what is being poured,
//! and what is called meanwhile. Which device it is, and how its bytes come, is the matter of `scale_port`.
//!
//! Nothing is taken for granted but the usages of the published tables: where each field of a report lies is read from the
//! device's own descriptor. The scale's zero is not needed: what stood there before counts as nothing.

mod caller;
mod descriptor;
mod layout;
mod line;
mod load;
mod model;
mod pattern;
mod pour;
mod reading;
mod target;

pub use caller::{Call, Calls};
pub use layout::{Layout, ReportDecoder};
pub use line::Lines;
pub use load::Load;
pub use model::{Cook, LoadCell};
pub use pattern::{Pattern, PatternError};
pub use pour::{Pour, Unclear, WeightNews};
pub use reading::{Reading, Status, WeightUnit};
pub use target::{Target, tolerance};

#[cfg(test)]
mod hostile;
#[cfg(test)]
mod tests;
