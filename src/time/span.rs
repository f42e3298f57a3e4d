//! Spans of time.

use serde::{Deserialize, Serialize};

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
        Self(s.saturating_mul(1000))
    }
    /// A span of minutes.
    pub const fn minutes(m: u64) -> Self {
        Self(m.saturating_mul(60_000))
    }
    /// The span in milliseconds.
    pub const fn as_millis(self) -> u64 {
        self.0
    }
    /// The span in minutes, rounded up: a plan is rather a minute too long than one too short.
    pub fn minutes_up(self) -> i64 {
        i64::try_from(self.0.div_ceil(60_000)).unwrap_or(i64::MAX)
    }
    /// The span in seconds, rounded down.
    pub const fn as_seconds(self) -> u64 {
        self.0 / 1000
    }
}
