//! The session clock.

use serde::{Deserialize, Serialize};

use super::Span;

/// Milliseconds of session time since the session began, suspended time included. It never jumps; the wall clock may.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Moment(pub u64);

impl Moment {
    /// This moment and a span.
    pub fn plus(self, span: Span) -> Self {
        Self(self.0.saturating_add(span.as_millis()))
    }

    /// How long since `earlier`; nothing when `earlier` is later.
    pub fn since(self, earlier: Self) -> Span {
        Span::millis(self.0.saturating_sub(earlier.0))
    }
}
