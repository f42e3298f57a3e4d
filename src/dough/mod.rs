//! Dough sums: baker's percentages, preferments, water temperature, rise, yield. Common practice in the trade.

mod error;
mod percent;
mod preferment;
mod rise;
mod rounding;
mod water;
mod yields;

pub use error::{DoughError, YEAST_DIES_C};
pub use percent::{DoughRole, Percentages, Portion, bakers_percent, water_for};
pub use preferment::{Feed, Preferment, Split, feed, split};
pub use rise::{RISE_C, RISE_ROOM_C, RiseRange, rise_at};
pub use rounding::{percent_bound, to_scale};
pub use water::{Ice, TAP_C, WATER_MOST_C, WaterAdvice, WaterSum, friction, water_temperature};
pub use yields::{Pieces, baked_mass, dough_for, pieces_from};
