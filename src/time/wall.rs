//! The clock on the wall, with the coming changes of its offset.

use serde::{Deserialize, Serialize};

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

/// How far ahead changes of the offset are looked for.
const AHEAD_S: i64 = 2 * 24 * 3600;
/// How finely: no zone changes its offset twice within this.
const STEP_S: i64 = 15 * 60;

impl Wall {
    /// A clock without changes ahead.
    pub fn fixed(unix_ms: i64, offset_s: i32) -> Self {
        Self {
            unix_ms,
            offset_s,
            changes: Vec::new(),
        }
    }

    /// A reading at `unix_ms` in the zone whose offset in seconds at a Unix time in seconds is `zone`.
    pub fn in_zone(unix_ms: i64, zone: impl Fn(i64) -> i32) -> Self {
        Self::until(unix_ms, unix_ms.div_euclid(1000) + AHEAD_S, zone)
    }

    /// As `in_zone`, with the changes of offset up to another Unix time in seconds.
    pub fn until(unix_ms: i64, until_s: i64, zone: impl Fn(i64) -> i32) -> Self {
        let now = unix_ms.div_euclid(1000);
        let mut wall = Self::fixed(unix_ms, zone(now));
        let (mut from, mut offset) = (now, wall.offset_s);
        while from < until_s {
            let to = (from + STEP_S).min(until_s);
            if zone(to) == offset {
                from = to;
                continue;
            }
            // The change lies in (from, to]: halve until it is found to the second.
            let (mut before, mut after) = (from, to);
            while after - before > 1 {
                let middle = before + (after - before) / 2;
                if zone(middle) == offset {
                    before = middle;
                } else {
                    after = middle;
                }
            }
            offset = zone(after);
            wall.changes.push((after, offset));
            from = after;
        }
        wall
    }

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
    use crate::time::europe::{AUTUMN, HOUR, SPRING, europe};

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

    #[test]
    fn finds_coming_changes_to_the_second() {
        for (change, before, after) in [(SPRING, 3600, 7200), (AUTUMN, 7200, 3600)] {
            for ahead in [1, 899, 900, 901, HOUR, 47 * HOUR, 48 * HOUR] {
                let wall = Wall::in_zone((change - ahead) * 1000 + 999, europe);
                assert_eq!(wall.offset_s, before);
                assert_eq!(wall.changes, [(change, after)], "{ahead} s before");
                assert_eq!(wall.offset_at(change - 1), before);
                assert_eq!(wall.offset_at(change), after);
            }
            assert!(
                Wall::in_zone((change - 48 * HOUR - 1) * 1000, europe)
                    .changes
                    .is_empty()
            );
            let at_change = Wall::in_zone(change * 1000, europe);
            assert_eq!(at_change.offset_s, after);
            assert!(at_change.changes.is_empty());
        }
    }

    #[test]
    fn finds_two_changes_in_two_days() {
        let odd = |s: i64| {
            if s < 1000 {
                0
            } else if s < 5000 {
                1800
            } else {
                -3600
            }
        };
        assert_eq!(Wall::in_zone(0, odd).changes, [(1000, 1800), (5000, -3600)]);
    }
}
