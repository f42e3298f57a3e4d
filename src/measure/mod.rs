//! Quantities as a cook handles them: mass, volume, temperature, counts, and how they are read and said.
//!
//! Values are kept as `f64` in one base unit (grams, millilitres, degrees Celsius). Unit factors are the exact decimal
//! definitions, so one conversion errs by at most two roundings (relative error below 3e-16) and a round trip by
//! below 1e-15.

use serde::{Deserialize, Serialize};

/// A mass. Base unit: gram.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Mass(f64);

impl Mass {
    /// Mass in grams. Negative and non-finite values are the caller's error and are clamped to zero.
    pub fn grams(g: f64) -> Self {
        Self(if g.is_finite() && g > 0.0 { g } else { 0.0 })
    }
    /// The mass in grams.
    pub fn as_grams(self) -> f64 {
        self.0
    }
}

/// A length of time in whole milliseconds, never negative.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Span(u64);

impl Span {
    /// No time at all.
    pub const ZERO: Self = Self(0);
    /// A span of milliseconds.
    pub const fn millis(ms: u64) -> Self {
        Self(ms)
    }
    /// A span of seconds.
    pub const fn seconds(s: u64) -> Self {
        Self(s * 1000)
    }
    /// A span of minutes.
    pub const fn minutes(m: u64) -> Self {
        Self(m * 60_000)
    }
    /// The span in milliseconds.
    pub const fn as_millis(self) -> u64 {
        self.0
    }
    /// The span in seconds, rounded down.
    pub const fn as_seconds(self) -> u64 {
        self.0 / 1000
    }
}
