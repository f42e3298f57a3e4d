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
mod meant;
pub(crate) mod measures;
mod names;
mod place;
mod portions;
mod question;
mod refs;
pub mod said;
#[cfg(test)]
pub(crate) mod samples;
mod scale_by;
mod situation;
pub(crate) mod slots;
mod unit_symbol;
pub(crate) mod units;
mod values;

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
mod dishes;
#[macro_use]
mod past;
#[macro_use]
mod session;
#[macro_use]
mod emergency;
mod baking;
mod diet;
mod emergency_kind;
mod keeping;
#[allow(clippy::module_inception)]
mod order;
mod packets;
mod safety;
mod sums;

pub use declared::describe;
pub(crate) use declared::{all_keys, wordings};
pub use emergency_kind::EmergencyKind;
pub use key::Key;
pub use loss::Loss;
pub use order::Order;
pub use place::Place;
pub use question::{EggPart, FeedPart, Keeping, KeptHow, PrefermentKind, Question, Share};
pub use refs::{
    CautionName, DishRef, EggSize, Food, GelatineStrength, IngredientId, OvenWord, PartName,
    StepId, SugarStageName, TimerRef, Title,
};
pub use scale_by::ScaleBy;
pub use situation::{Asked, DishHere, IngredientHere, Situation, TimerHere};
pub use unit_symbol::UnitSymbol;
