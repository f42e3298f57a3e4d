//! Service: backwards from the hour of serving over one or several formulas, and again when the kitchen runs late.
//!
//! A formula is a chain of steps; a step is work and then a wait. The cook does one thing at a time, the oven has one
//! heat at a time, and what is baked comes out at once. Times are whole minutes of elapsed time ([`Minute`]); what the
//! clock on the wall shows comes from [`crate::time::Wall`], so that a night with a clock change is right.

mod again;
mod build;
mod calendar;
mod effort;
mod error;
mod gap;
mod item;
mod json;
mod kitchen;
mod picture;
#[allow(clippy::module_inception)]
mod plan;
mod problem;
mod replan;
mod schedule;
mod search;
mod soonest;
mod spoken;
mod svg;
mod timeline;

pub use again::{Again, Offer, PlanWish, again, say_again};
pub use calendar::{calendar, calendar_name};
pub use effort::Effort;
pub use error::PlanError;
pub use item::{PlanItem, PlanStep};
pub use json::json;
pub use kitchen::{HoldHot, Kitchen};
pub use picture::picture;
pub use plan::{Block, BlockId, BlockPart, KEEP_HOT, Plan, PlannedDish, Waived};
pub use replan::{BlockProgress, Change, Reached, replan};
pub use schedule::{schedule, schedule_in, schedule_with};
pub use soonest::soonest_starts;
pub use spoken::{
    UNPROVEN, say_block, say_changes, say_doubts, say_error, say_kept_hot, say_next, say_plan,
    say_start, say_time, say_too_soon, say_what,
};
pub use svg::{Fill, LETTER, Svg};
pub use timeline::{Glyphs, timeline};

#[cfg(test)]
mod tests;
