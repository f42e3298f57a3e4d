//! Service: backwards from the hour of serving over one or several formulas, and again when the kitchen runs late.
//!
//! A formula is a chain of steps; a step is work and then a wait. The cook does one thing at a time, the oven has one
//! heat at a time, and what is baked comes out at once. Times are whole minutes of elapsed time ([`Minute`]); what the
//! clock on the wall shows comes from [`crate::time::Wall`], so that a night with a clock change is right.

mod build;
mod calendar;
mod error;
mod item;
mod json;
#[allow(clippy::module_inception)]
mod plan;
mod problem;
mod replan;
mod schedule;
mod search;
mod spoken;
mod timeline;

pub use calendar::calendar;
pub use error::PlanError;
pub use item::{PlanItem, PlanStep};
pub use json::json;
pub use plan::{Block, BlockId, Part, Plan, PlannedDish};
pub use replan::{Change, Progress, Reached, replan};
pub use schedule::schedule;
pub use spoken::{
    say_block, say_changes, say_error, say_next, say_plan, say_start, say_time, say_what,
};
pub use timeline::{Glyphs, timeline};

#[cfg(test)]
mod tests;
