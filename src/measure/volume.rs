//! Volume.

use serde::{Deserialize, Serialize};

/// A volume. Base unit: millilitre. Never negative, never infinite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Volume(f64);

impl Volume {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);
    /// Volume in millilitres. Negative and non-finite values are the caller's error and are clamped to zero.
    pub fn millilitres(ml: f64) -> Self {
        Self(if ml.is_finite() && ml > 0.0 { ml } else { 0.0 })
    }
    /// Volume in litres.
    pub fn litres(l: f64) -> Self {
        Self::millilitres(l * 1000.0)
    }
    /// The volume in millilitres.
    pub fn as_millilitres(self) -> f64 {
        self.0
    }
    /// This volume times a factor.
    pub fn times(self, factor: f64) -> Self {
        Self::millilitres(self.0 * factor)
    }
    /// Both together.
    pub fn plus(self, other: Self) -> Self {
        Self::millilitres(self.0 + other.0)
    }
}
