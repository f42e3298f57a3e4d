//! What a dough sum cannot answer.

use thiserror::Error;

/// Yeast dies from about here, in Celsius.
pub const YEAST_DIES_C: f64 = 55.0;

/// Why a dough sum has no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DoughError {
    /// No flour to reckon from.
    #[error("expected some flour to reckon from, found none")]
    NoFlour,
    /// The water would kill the yeast.
    #[error("the water would have to be {water_c:.0} C, and yeast dies from about {dies_c:.0} C: warm the flour or the \
             room instead, or wait longer", dies_c = YEAST_DIES_C)]
    WaterTooHot {
        /// What the sum asks for.
        water_c: f64,
    },
    /// Even much ice would not be enough.
    #[error(
        "the water would have to be {water_c:.0} C, colder than ice can make it: chill the flour first"
    )]
    WaterTooCold {
        /// What the sum asks for.
        water_c: f64,
    },
    /// A preferment that wants more than there is.
    #[error("the preferment wants {wants_g:.0} g of {what}, and the formula has {has_g:.0} g")]
    NotEnough {
        /// Flour or water.
        what: &'static str,
        /// What the preferment wants.
        wants_g: f64,
        /// What there is.
        has_g: f64,
    },
    /// A number outside what a dough can be.
    #[error("{what}: expected {min} to {max}, found {found}")]
    OutOfRange {
        /// Name of the limit.
        what: &'static str,
        /// The least.
        min: f64,
        /// The most.
        max: f64,
        /// What was said.
        found: f64,
    },
}

/// A value inside its limits, or the error that says so.
pub(super) fn within(
    what: &'static str,
    found: f64,
    min: f64,
    max: f64,
) -> Result<f64, DoughError> {
    if (min..=max).contains(&found) {
        Ok(found)
    } else {
        Err(DoughError::OutOfRange {
            what,
            min,
            max,
            found,
        })
    }
}
