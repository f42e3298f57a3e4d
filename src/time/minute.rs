//! Minutes: the grain of a plan. They are elapsed time, so that a night with a clock change stays right; what the clock
//! on the wall shows is worked out at the end.

use serde::{Deserialize, Serialize};

use super::{ClockTime, Wall};

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
        let offset_s = wall.offset_at(unix_s);
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
        let (wanted, period) = at.minutes();
        Self::after(wall).when(wall, |shown| (shown - wanted).div_euclid(period))
    }

    /// The first minute of a day of the local calendar (counted as [`Local::day`]) at which the wall shows `at` or, where
    /// that day skips it, the minute of the change.
    pub fn on_day(day: i64, at: ClockTime, wall: &Wall) -> Self {
        let wanted = day * 1440 + i64::from(at.hour) * 60 + i64::from(at.minute);
        // No zone is further from UTC than this.
        Self(wanted - 15 * 60).when(wall, |shown| i64::from(shown >= wanted))
    }

    /// The first minute from here on at which `count` of what the wall shows is more than it was; the wall may go back.
    fn when(self, wall: &Wall, count: impl Fn(i64) -> i64) -> Self {
        let count = |m: Self| {
            let local = m.local(wall);
            count(local.day * 1440 + i64::from(local.hour) * 60 + i64::from(local.minute))
        };
        let mut before = count(self.plus(-1));
        let mut m = self;
        for _ in 0..2 * 1440 {
            let here = count(m);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::{HalfDay, Span};

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
        assert_eq!(Span::millis(60_001).minutes_up(), 2);
        assert_eq!(Span::minutes(45).minutes_up(), 45);
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

    #[test]
    fn a_time_on_a_day_of_a_clock_change() {
        // 2026-03-29 is day 20541, 2026-10-25 day 20751; the reading is weeks before.
        let spring = wall(SPRING - 30 * 86_400, 3600, &[(SPRING, 7200)]);
        let on = |day, hour, minute, wall: &Wall| {
            let m = Minute::on_day(day, at(hour, minute, HalfDay::Said), wall);
            (m.0 * 60, m.local(wall).clock())
        };
        assert_eq!(on(20_541, 1, 59, &spring), (SPRING - 60, "01:59".into()));
        assert_eq!(on(20_541, 2, 30, &spring), (SPRING, "03:00".into()));
        assert_eq!(on(20_541, 3, 1, &spring), (SPRING + 60, "03:01".into()));
        let autumn = wall(AUTUMN - 30 * 86_400, 7200, &[(AUTUMN, 3600)]);
        assert_eq!(on(20_751, 2, 30, &autumn), (AUTUMN - 1800, "02:30".into()));
        assert_eq!(on(20_751, 3, 0, &autumn), (AUTUMN + 3600, "03:00".into()));
        for offset_s in [-12 * 3600, 14 * 3600] {
            let far = wall(0, offset_s, &[]);
            assert_eq!(on(3, 0, 0, &far).0, 3 * 86_400 - i64::from(offset_s));
        }
    }
}
