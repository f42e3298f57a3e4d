//! The clock on the wall: whether somebody set it.

use super::readings::{boot_ms, signed, wall_now};
use crate::time::Wall;

/// By how much the wall clock may drift against the boot clock before it counts as set.
const DRIFT_MS: i64 = 2000;

/// Notices that the wall clock was set or the zone changed, and that a new change of offset has come into view.
#[derive(Debug, Clone)]
pub struct ClockWatch {
    told: Wall,
    told_boot_ms: u64,
}

impl ClockWatch {
    /// Watches from a reading that the bench has been told of.
    pub fn new(told: Wall, boot_ms: u64) -> Self {
        Self {
            told,
            told_boot_ms: boot_ms,
        }
    }

    /// Reads the clocks; gives the new wall reading when the bench must be told.
    pub fn look(&mut self) -> Option<Wall> {
        let boot = boot_ms();
        self.seen(boot, wall_now())
    }

    /// The same from given readings.
    pub fn seen(&mut self, boot_ms: u64, wall: Wall) -> Option<Wall> {
        let by_boot = signed(boot_ms) - signed(self.told_boot_ms);
        let by_wall = wall.unix_ms - self.told.unix_ms;
        let was_set = (by_wall - by_boot).abs() > DRIFT_MS;
        let now_s = wall.unix_ms.div_euclid(1000);
        let foretold = self.told.offset_at(now_s);
        let still_to_come = self.told.changes.iter().filter(|(at, _)| *at > now_s);
        if was_set || wall.offset_s != foretold || !still_to_come.eq(wall.changes.iter()) {
            self.told = wall.clone();
            self.told_boot_ms = boot_ms;
            return Some(wall);
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::readings::local_offset;
    use crate::time::europe::{AUTUMN, HOUR, SPRING, europe};
    use chrono::Utc;
    use std::process::Command;

    #[test]
    fn a_set_clock_is_told_once() {
        let noon = 1_795_608_000_000;
        let utc = |_| 0;
        for jump in [-3_600_000, -2001, 2001, 3_600_000] {
            let mut watch = ClockWatch::new(Wall::in_zone(noon, utc), 50_000);
            assert_eq!(watch.seen(110_000, Wall::in_zone(noon + 60_000, utc)), None);
            let set = Wall::in_zone(noon + 120_000 + jump, utc);
            assert_eq!(watch.seen(170_000, set.clone()), Some(set.clone()));
            assert_eq!(
                watch.seen(171_000, Wall::in_zone(set.unix_ms + 1000, utc)),
                None
            );
        }
        let mut watch = ClockWatch::new(Wall::in_zone(noon, utc), 50_000);
        for drift in [-2000, 0, 2000] {
            assert_eq!(
                watch.seen(110_000, Wall::in_zone(noon + 60_000 + drift, utc)),
                None
            );
        }
    }

    #[test]
    fn suspend_is_no_jump() {
        // Eight hours with the lid closed: both clocks went on.
        let noon = 1_795_608_000_000;
        let mut watch = ClockWatch::new(Wall::in_zone(noon, |_| 0), 0);
        assert_eq!(
            watch.seen(28_800_000, Wall::in_zone(noon + 28_800_000, |_| 0)),
            None
        );
    }

    #[test]
    fn another_zone_is_told() {
        let noon = 1_795_608_000_000;
        let mut watch = ClockWatch::new(Wall::in_zone(noon, |_| 0), 0);
        let tokyo = Wall::in_zone(noon + 1000, |_| 9 * 3600);
        assert_eq!(watch.seen(1000, tokyo.clone()), Some(tokyo));
        assert_eq!(
            watch.seen(2000, Wall::in_zone(noon + 2000, |_| 9 * 3600)),
            None
        );
    }

    #[test]
    fn a_daylight_saving_night_is_foretold_and_then_quiet() {
        let evening = (AUTUMN - 6 * HOUR) * 1000;
        let mut watch = ClockWatch::new(Wall::in_zone(evening, europe), 0);
        for minutes in 1..12 * 60_i64 {
            let ms = minutes * 60_000;
            assert_eq!(
                watch.seen(ms.cast_unsigned(), Wall::in_zone(evening + ms, europe)),
                None
            );
        }
        // Three days before, nothing is in view; it comes into view once.
        let early = (AUTUMN - 72 * HOUR) * 1000;
        let mut watch = ClockWatch::new(Wall::in_zone(early, europe), 0);
        let told: Vec<_> = (1..80 * 60)
            .filter_map(|m| {
                watch.seen(
                    m * 60_000,
                    Wall::in_zone(early + m.cast_signed() * 60_000, europe),
                )
            })
            .collect();
        assert_eq!(told.len(), 1);
        assert_eq!(told[0].changes, [(AUTUMN, 3600)]);
    }

    /// The machine's own zone, by a child process, because the zone is the process's.
    #[test]
    fn reads_the_zone_of_the_machine() {
        if let Ok(want) = std::env::var("COMMIS_TEST_OFFSET") {
            let spring = Wall::in_zone((SPRING - HOUR) * 1000, local_offset);
            let got = format!("{} {:?}", spring.offset_s, spring.changes);
            assert_eq!(got, want);
            assert!((wall_now().unix_ms - Utc::now().timestamp_millis()).abs() < 5000);
            return;
        }
        // POSIX rules, so that no zone files are needed; the offsets follow from the rules written there.
        for (zone, want) in [
            (
                "CET-1CEST,M3.5.0,M10.5.0/3",
                format!("3600 [({SPRING}, 7200)]"),
            ),
            ("GMT0BST,M3.5.0/1,M10.5.0", format!("0 [({SPRING}, 3600)]")),
            ("IST-5:30", "19800 []".to_owned()),
        ] {
            let output = Command::new(std::env::current_exe().unwrap())
                .args([
                    "--exact",
                    "journal::watch::tests::reads_the_zone_of_the_machine",
                ])
                .env("TZ", zone)
                .env("COMMIS_TEST_OFFSET", want)
                .output()
                .unwrap();
            let said = String::from_utf8_lossy(&output.stdout);
            assert!(
                output.status.success() && said.contains("1 passed"),
                "{zone}: {said}"
            );
        }
    }
}
