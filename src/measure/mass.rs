//! Mass.

use serde::{Deserialize, Serialize};

/// Grams in one avoirdupois ounce, exactly (NIST SP 811, appendix B).
pub const GRAMS_PER_OUNCE: f64 = 28.349_523_125;
/// Grams in one avoirdupois pound, exactly (NIST SP 811, appendix B).
pub const GRAMS_PER_POUND: f64 = 453.592_37;

/// A mass. Base unit: gram. Never negative, never infinite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Mass(f64);

impl Mass {
    /// No mass at all.
    pub const ZERO: Self = Self(0.0);
    /// Mass in grams. Negative and non-finite values are the caller's error and are clamped to zero.
    pub fn grams(g: f64) -> Self {
        Self(if g.is_finite() && g > 0.0 { g } else { 0.0 })
    }
    /// Mass in kilograms.
    pub fn kilograms(kg: f64) -> Self {
        Self::grams(kg * 1000.0)
    }
    /// Mass in ounces (avoirdupois).
    pub fn ounces(oz: f64) -> Self {
        Self::grams(oz * GRAMS_PER_OUNCE)
    }
    /// Mass in pounds (avoirdupois).
    pub fn pounds(lb: f64) -> Self {
        Self::grams(lb * GRAMS_PER_POUND)
    }
    /// The mass in grams.
    pub fn as_grams(self) -> f64 {
        self.0
    }
    /// This mass times a factor.
    pub fn times(self, factor: f64) -> Self {
        Self::grams(self.0 * factor)
    }
    /// Both together.
    pub fn plus(self, other: Self) -> Self {
        Self::grams(self.0 + other.0)
    }
    /// What is left when `other` is taken away; nothing when there is more of `other`.
    pub fn less(self, other: Self) -> Self {
        Self::grams(self.0 - other.0)
    }
    /// Rounded to the step of a scale (1 g, 0.1 g); a step that is not positive changes nothing.
    pub fn to_step(self, step_g: f64) -> Self {
        Self::grams(super::round_to(self.0, step_g))
    }
}
