//! The session clock: milliseconds since the session began, whatever is done to the clock on the wall.
//!
//! The sums are pure, so that a test can hand them any reading.

use super::header::Anchor;
use super::readings::{Readings, boot_ms, signed};
use crate::time::Moment;

/// The session's clock. It only ever goes forward.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clock {
    /// The boot clock at session time 0: below zero when the session began in an earlier run of the machine.
    zero_boot_ms: i64,
}

impl Clock {
    /// A clock that stands at 0 at these readings.
    pub fn begin(readings: &Readings) -> Self {
        Self::set(Moment(0), readings.boot_ms)
    }

    /// A clock that stands at `at` when the boot clock stands at `boot_ms`.
    fn set(at: Moment, boot_ms: u64) -> Self {
        Self {
            zero_boot_ms: signed(boot_ms) - signed(at.0),
        }
    }

    /// Session time now.
    pub fn now(&self) -> Moment {
        self.at(boot_ms())
    }

    /// Session time when the boot clock stood at `boot_ms`.
    pub fn at(&self, boot_ms: u64) -> Moment {
        Moment((signed(boot_ms) - self.zero_boot_ms).max(0) as u64)
    }
}

/// By which clock a session went on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The same run of the machine: by the boot clock, which nobody can set.
    BootClock,
    /// Another run of the machine: by the wall clock.
    WallClock,
    /// Another run of the machine, with a wall clock earlier than when the session stopped: no time was counted.
    WallWentBack {
        /// By how many milliseconds it is earlier.
        by_ms: u64,
    },
}

/// The clock of a session that is taken up again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Resumption {
    /// The clock to go on with.
    pub clock: Clock,
    /// Session time now.
    pub now: Moment,
    /// How long it has been since the last thing in the journal, in milliseconds.
    pub gap_ms: u64,
    /// By which clock.
    pub basis: Basis,
}

impl Resumption {
    /// Works out the session time now.
    ///
    /// `anchor` is the last one in the journal, `last` the time of the last entry, and `known` the last session time
    /// at which the journal has the wall clock, with what it said in Unix milliseconds: the wall clock may have been
    /// set while the session ran, and only what it did since then counts.
    pub fn new(anchor: &Anchor, last: Moment, known: (Moment, i64), readings: &Readings) -> Self {
        let same_boot = !anchor.boot_id.is_empty() && anchor.boot_id == readings.boot_id;
        let (now, basis) = if same_boot {
            let clock = Clock::set(anchor.at, anchor.boot_ms);
            (clock.at(readings.boot_ms).max(last), Basis::BootClock)
        } else {
            let (known_at, known_ms) = known;
            let by_wall =
                signed(known_at.0).saturating_add(readings.wall.unix_ms.saturating_sub(known_ms));
            if by_wall < signed(last.0) {
                let by_ms = signed(last.0).saturating_sub(by_wall) as u64;
                (last, Basis::WallWentBack { by_ms })
            } else {
                (Moment(by_wall as u64), Basis::WallClock)
            }
        };
        Self {
            clock: Clock::set(now, readings.boot_ms),
            now,
            gap_ms: now.0 - last.0,
            basis,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::Wall;

    const HOUR: u64 = 3_600_000;
    const SIGNED_HOUR: i64 = 3_600_000;
    /// 2026-11-25 15:00:00 UTC.
    const START: i64 = 1_795_618_800_000;

    fn readings(boot_id: &str, boot_ms: u64, unix_ms: i64) -> Readings {
        Readings {
            boot_id: boot_id.to_owned(),
            boot_ms,
            wall: Wall {
                unix_ms,
                offset_s: 0,
                changes: vec![],
            },
        }
    }

    fn anchor(at: u64, boot_id: &str, boot_ms: u64, unix_ms: i64) -> Anchor {
        let r = readings(boot_id, boot_ms, unix_ms);
        Anchor {
            at: Moment(at),
            boot_id: r.boot_id,
            boot_ms: r.boot_ms,
            wall: r.wall,
        }
    }

    #[test]
    fn counts_from_the_start() {
        let clock = Clock::begin(&readings("a", 5000, START));
        assert_eq!(clock.at(5000), Moment(0));
        assert_eq!(clock.at(5000 + HOUR), Moment(HOUR));
        assert_eq!(clock.at(4000), Moment(0));
    }

    #[test]
    fn the_real_clock_goes_forward() {
        let clock = Clock::begin(&Readings::now());
        let first = clock.now();
        std::thread::sleep(std::time::Duration::from_millis(20));
        let later = clock.now().0 - first.0;
        assert!((19..5000).contains(&later), "{later}");
        assert!(!Readings::now().boot_id.is_empty());
    }

    #[test]
    fn same_boot_goes_by_the_boot_clock_whatever_the_wall_says() {
        for wall_jump in [-5 * SIGNED_HOUR, 0, 5 * SIGNED_HOUR] {
            let now = readings("a", 10_000 + 2 * HOUR, START + 2 * SIGNED_HOUR + wall_jump);
            let got = Resumption::new(
                &anchor(0, "a", 10_000, START),
                Moment(HOUR),
                (Moment(0), START),
                &now,
            );
            assert_eq!(got.now, Moment(2 * HOUR));
            assert_eq!(got.gap_ms, HOUR);
            assert_eq!(got.basis, Basis::BootClock);
            assert_eq!(got.clock.at(10_000 + 3 * HOUR), Moment(3 * HOUR));
        }
    }

    #[test]
    fn another_boot_goes_by_the_wall_clock() {
        let now = readings("b", 42_000, START + 3 * SIGNED_HOUR);
        let got = Resumption::new(
            &anchor(0, "a", 9 * HOUR, START),
            Moment(HOUR),
            (Moment(0), START),
            &now,
        );
        assert_eq!(got.now, Moment(3 * HOUR));
        assert_eq!(got.gap_ms, 2 * HOUR);
        assert_eq!(got.basis, Basis::WallClock);
        assert_eq!(got.clock.at(42_000 + 5), Moment(3 * HOUR + 5));
    }

    #[test]
    fn a_wall_clock_set_during_the_session_counts_from_the_setting() {
        // Set back by an hour after one hour; then a power cut, and thirty minutes without power.
        let set_back = (Moment(HOUR), START);
        let now = readings("b", 42_000, START + SIGNED_HOUR / 2);
        let got = Resumption::new(
            &anchor(0, "a", 9 * HOUR, START),
            Moment(HOUR),
            set_back,
            &now,
        );
        assert_eq!(got.now, Moment(HOUR + HOUR / 2));
        assert_eq!(got.basis, Basis::WallClock);
    }

    #[test]
    fn a_wall_clock_that_went_back_counts_nothing() {
        // A board without a clock of its own wakes in 1970.
        let now = readings("b", 42_000, 1000);
        let got = Resumption::new(
            &anchor(0, "a", 9 * HOUR, START),
            Moment(HOUR),
            (Moment(0), START),
            &now,
        );
        assert_eq!(got.now, Moment(HOUR));
        assert_eq!(got.gap_ms, 0);
        let by_ms = START as u64 + HOUR - 1000;
        assert_eq!(got.basis, Basis::WallWentBack { by_ms });
        assert_eq!(got.clock.at(43_000), Moment(HOUR + 1000));
    }

    #[test]
    fn without_a_boot_id_only_the_wall_is_trusted() {
        let now = readings("", 42_000, START + 2 * SIGNED_HOUR);
        let got = Resumption::new(
            &anchor(0, "", 0, START),
            Moment(HOUR),
            (Moment(0), START),
            &now,
        );
        assert_eq!(got.now, Moment(2 * HOUR));
        assert_eq!(got.basis, Basis::WallClock);
    }

    #[test]
    fn suspended_time_counts_in_both_clocks() {
        // The lid was closed for eight hours: the boot clock went on, and so did the session.
        let clock = Clock::begin(&readings("a", 1000, START));
        assert_eq!(clock.at(1000 + 8 * HOUR), Moment(8 * HOUR));
    }
}
