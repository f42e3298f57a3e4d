//! Time as the bench sees it: a session clock that never jumps, and the wall clock beside it.

use serde::{Deserialize, Serialize};

/// Milliseconds of session time since `Event::Start`, suspended time included. It never jumps; the wall clock may.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Moment(pub u64);

/// The wall clock at one moment, and the coming changes of its offset (daylight saving).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wall {
    /// Unix time in milliseconds.
    pub unix_ms: i64,
    /// Offset from UTC in seconds, east positive, now.
    pub offset_s: i32,
    /// Coming changes within two days: (Unix seconds, new offset in seconds), earliest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changes: Vec<(i64, i32)>,
}
