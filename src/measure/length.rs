//! Length: tins and trays.

use serde::{Deserialize, Serialize};

/// Centimetres in one inch, exactly (NIST SP 811, appendix B).
pub const CM_PER_INCH: f64 = 2.54;

/// A length. Base unit: centimetre. Never negative, never infinite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Length(f64);

impl Length {
    /// Length in centimetres. Negative and non-finite values are the caller's error and are clamped to zero.
    pub fn centimetres(cm: f64) -> Self {
        Self(if cm.is_finite() && cm > 0.0 { cm } else { 0.0 })
    }
    /// Length in millimetres.
    pub fn millimetres(mm: f64) -> Self {
        Self::centimetres(mm / 10.0)
    }
    /// Length in inches.
    pub fn inches(inches: f64) -> Self {
        Self::centimetres(inches * CM_PER_INCH)
    }
    /// The length in centimetres.
    pub fn as_centimetres(self) -> f64 {
        self.0
    }
    /// The length in inches.
    pub fn as_inches(self) -> f64 {
        self.0 / CM_PER_INCH
    }
}
