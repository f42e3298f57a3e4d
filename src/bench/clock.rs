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

impl Wall {
    /// Offset from UTC in seconds at a Unix time in seconds, as this reading foretells it.
    pub fn offset_at(&self, unix_s: i64) -> i32 {
        self.changes
            .iter()
            .rev()
            .find(|(at, _)| *at <= unix_s)
            .map_or(self.offset_s, |(_, offset)| *offset)
    }

    /// Local hour, minute and second, `after_ms` from when this clock was read.
    pub fn time_of_day(&self, after_ms: i64) -> (u8, u8, u8) {
        let unix = (self.unix_ms.saturating_add(after_ms)).div_euclid(1000);
        let local = (unix + i64::from(self.offset_at(unix))).rem_euclid(86_400);
        let part = |n: i64| u8::try_from(n).unwrap_or(0);
        (part(local / 3600), part(local / 60 % 60), part(local % 60))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_daylight_saving_night_is_told_right() {
        // 2026-10-25 in a zone that goes from +2 h to +1 h at 01:00 UTC (Unix 1792890000).
        let wall = Wall {
            unix_ms: 1_792_886_400_000,
            offset_s: 7200,
            changes: vec![(1_792_890_000, 3600)],
        };
        assert_eq!(wall.time_of_day(0), (2, 0, 0));
        assert_eq!(wall.time_of_day(59 * 60_000), (2, 59, 0));
        assert_eq!(wall.time_of_day(60 * 60_000), (2, 0, 0));
        assert_eq!(wall.time_of_day(120 * 60_000), (3, 0, 0));
    }
}
