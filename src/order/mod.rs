//! Everything that a cook can mean, as one closed type with typed slots, and where it is declared.
//!
//! An order is declared once, in the file of its family: its name and slots, how it is said, its keys and what they ask
//! for, how it is described back, whether it only asks and whether it may lose work. What may be heard for another value
//! each kind of slot says for itself (`alike`). All tables come from that: the type [`Order`], its names, the grammar,
//! the key language with its card, the doubts.

pub(crate) mod alike;
mod asked;
pub(crate) mod book;
mod declared;
mod key;
pub(crate) mod keys;
mod loss;
mod names;
mod place;
mod question;
mod refs;
pub mod said;
mod scale_by;
mod situation;
pub(crate) mod slots;
pub(crate) mod units;

// The families come before the type that is made of them.
#[macro_use]
mod moving;
#[macro_use]
mod weighing;
#[macro_use]
mod at_scale;
#[macro_use]
mod asking;
#[macro_use]
mod sizes;
#[macro_use]
mod timers;
#[macro_use]
mod clock;
#[macro_use]
mod session;
mod baking;
mod diet;
#[allow(clippy::module_inception)]
mod order;
mod safety;
mod sums;

pub use declared::describe;
pub(crate) use declared::{all_keys, wordings};
pub use key::Key;
pub use loss::Loss;
pub use order::Order;
pub use place::Place;
pub use question::{EggPart, Keeping, Question, Share};
pub use refs::{Food, IngredientId, PartName, StepId, TimerRef, UnitSymbol};
pub use scale_by::ScaleBy;
pub use situation::{Asked, IngredientHere, Situation, TimerHere};
