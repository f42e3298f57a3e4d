//! Swaps: what can stand in for what, how much of it, what changes, and which allergens come or go.

mod error;
mod table;

pub use error::SwapError;
pub use table::{Exchange, Measured, Other, Swap, all, find, options};
