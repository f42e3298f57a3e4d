//! Minutes: the grain of a plan. Lengths are elapsed time, so that a night with a clock change stays right; what the
//! clock on the wall shows is worked out at the end.

use serde::{Deserialize, Serialize};

use crate::bench::Wall;
use crate::measure::Span;
use crate::understand::{ClockTime, HalfDay};

/// A whole minute, counted from 1970-01-01 00:00 UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minute(pub i64);

/// A minute as the clock on the wall shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Local {
    /// Days since 1970-01-01 by the local calendar.
    pub day: i64,
    /// Hour, 0-23.
    pub hour: u8,
    /// Minute, 0-59.
    pub minute: u8,
    /// Offset from UTC in seconds.
    pub offset_s: i32,
}

impl Minute {
    /// The minute that has not begun before the wall clock was read: nothing is planned for a minute half gone.
    pub fn after(wall: &Wall) -> Self {
        Self(-(-wall.unix_ms).div_euclid(60_000))
    }

    /// The minute in which the wall clock was read.
    pub fn of(wall: &Wall) -> Self {
        Self(wall.unix_ms.div_euclid(60_000))
    }

    /// So many minutes later.
    pub fn plus(self, minutes: i64) -> Self {
        Self(self.0.saturating_add(minutes))
    }

    /// Minutes from `earlier` to here.
    pub fn since(self, earlier: Self) -> i64 {
        self.0.saturating_sub(earlier.0)
    }

    /// This minute, or the next that the wall shows as a multiple of five: nobody sits down at seven forty three.
    pub fn to_five(self, wall: &Wall) -> Self {
        self.plus(i64::from((5 - self.local(wall).minute % 5) % 5))
    }

    /// What the clock on the wall shows at this minute.
    pub fn local(self, wall: &Wall) -> Local {
        let unix_s = self.0.saturating_mul(60);
        let offset_s = wall
            .changes
            .iter()
            .take_while(|(at, _)| *at <= unix_s)
            .last()
            .map_or(wall.offset_s, |(_, offset)| *offset);
        let shown = unix_s.saturating_add(i64::from(offset_s)).div_euclid(60);
        let of_day = shown.rem_euclid(1440);
        Local {
            day: shown.div_euclid(1440),
            hour: u8::try_from(of_day / 60).unwrap_or(0),
            minute: u8::try_from(of_day % 60).unwrap_or(0),
            offset_s,
        }
    }

    /// The next minute from the wall clock's on at which it shows `at`.
    ///
    /// In a night that skips the hour, it is the minute of the change; in a night that has the hour twice, the first.
    pub fn next(at: ClockTime, wall: &Wall) -> Self {
        let first = Self::after(wall);
        let period = match at.half {
            HalfDay::Unsaid => 720,
            HalfDay::Said => 1440,
        };
        let wanted = (i64::from(at.hour) * 60 + i64::from(at.minute)).rem_euclid(period);
        let shown = |m: Self| {
            let local = m.local(wall);
            local.day * 1440 + i64::from(local.hour) * 60 + i64::from(local.minute) - wanted
        };
        // How often the wanted time has come; it comes at the minute where that number grows.
        let mut before = shown(first.plus(-1)).div_euclid(period);
        let mut m = first;
        for _ in 0..2 * 1440 {
            let here = shown(m).div_euclid(period);
            if here > before {
                break;
            }
            before = before.min(here);
            m = m.plus(1);
        }
        m
    }
}

impl Local {
    /// `15:05`.
    pub fn clock(&self) -> String {
        format!("{:02}:{:02}", self.hour, self.minute)
    }
}

/// A span in minutes, rounded up: a plan is rather a minute too long than one too short.
pub(super) fn minutes(span: Span) -> i64 {
    i64::try_from(span.as_millis().div_ceil(60_000)).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2026-10-25 01:00 UTC and 2026-03-29 01:00 UTC, the changes of Directive 2000/84/EC.
    const AUTUMN: i64 = 1_792_890_000;
    const SPRING: i64 = 1_774_746_000;

    fn wall(unix_s: i64, offset_s: i32, changes: &[(i64, i32)]) -> Wall {
        Wall {
            unix_ms: unix_s * 1000,
            offset_s,
            changes: changes.to_vec(),
        }
    }

    fn at(hour: u8, minute: u8, half: HalfDay) -> ClockTime {
        ClockTime { hour, minute, half }
    }

    #[test]
    fn rounds_so_that_nothing_begins_in_the_past() {
        let mut w = wall(600, 0, &[]);
        assert_eq!(
            (Minute::after(&w), Minute::of(&w)),
            (Minute(10), Minute(10))
        );
        w.unix_ms += 1;
        assert_eq!(
            (Minute::after(&w), Minute::of(&w)),
            (Minute(11), Minute(10))
        );
        assert_eq!(minutes(Span::millis(60_001)), 2);
        assert_eq!(minutes(Span::minutes(45)), 45);
    }

    #[test]
    fn the_next_such_time_is_meant() {
        // 2026-11-25 15:20 in a zone one hour east.
        let now = wall(1_795_616_400, 3600, &[]);
        assert_eq!(Minute::of(&now).local(&now).clock(), "15:20");
        let of =
            |hour, minute, half| Minute::next(at(hour, minute, half), &now).since(Minute::of(&now));
        assert_eq!(of(7, 30, HalfDay::Unsaid), 4 * 60 + 10);
        assert_eq!(of(19, 30, HalfDay::Said), 4 * 60 + 10);
        assert_eq!(of(7, 30, HalfDay::Said), 16 * 60 + 10);
        assert_eq!(of(3, 20, HalfDay::Unsaid), 0);
        assert_eq!(of(3, 19, HalfDay::Unsaid), 719);
        assert_eq!(of(12, 0, HalfDay::Unsaid), 8 * 60 + 40);
        assert_eq!(of(12, 0, HalfDay::Said), 20 * 60 + 40);
    }

    #[test]
    fn nights_of_a_clock_change() {
        // Autumn: 02:00 to 03:00 comes twice. From 23:00 to seven in the morning are nine hours.
        let evening = wall(AUTUMN - 4 * 3600, 7200, &[(AUTUMN, 3600)]);
        let from = Minute::of(&evening);
        assert_eq!(from.local(&evening).clock(), "23:00");
        assert_eq!(
            Minute::next(at(7, 0, HalfDay::Said), &evening).since(from),
            9 * 60
        );
        assert_eq!(
            Minute::next(at(2, 30, HalfDay::Said), &evening).since(from),
            3 * 60 + 30
        );
        // Between the two, the second is meant.
        let between = wall(AUTUMN - 900, 7200, &[(AUTUMN, 3600)]);
        assert_eq!(Minute::of(&between).local(&between).clock(), "02:45");
        assert_eq!(
            Minute::next(at(2, 30, HalfDay::Said), &between).since(Minute::of(&between)),
            45
        );
        // Spring: 02:00 to 03:00 does not come. From 23:00 to seven are seven hours.
        let evening = wall(SPRING - 2 * 3600, 3600, &[(SPRING, 7200)]);
        let from = Minute::of(&evening);
        assert_eq!(from.local(&evening).clock(), "00:00");
        assert_eq!(
            Minute::next(at(7, 0, HalfDay::Said), &evening).since(from),
            6 * 60
        );
        let skipped = Minute::next(at(2, 30, HalfDay::Said), &evening);
        assert_eq!(skipped.since(from), 2 * 60);
        assert_eq!(skipped.local(&evening).clock(), "03:00");
    }
}
