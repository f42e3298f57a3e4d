//! Reading the machine's clocks: here alone.

use chrono::{Local, Offset, TimeZone, Utc};
use rustix::time::{ClockId, clock_gettime};

use crate::time::Wall;

/// What the machine's clocks say at one moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Readings {
    /// Which run of the machine this is; empty where the machine does not say.
    pub boot_id: String,
    /// Milliseconds since the machine was started, suspended time included.
    pub boot_ms: u64,
    /// The wall clock.
    pub wall: Wall,
}

impl Readings {
    /// Reads the clocks.
    pub fn now() -> Self {
        let boot_id = std::fs::read_to_string("/proc/sys/kernel/random/boot_id")
            .map(|id| id.trim().to_owned())
            .unwrap_or_default();
        Self {
            boot_id,
            boot_ms: boot_ms(),
            wall: wall_now(),
        }
    }
}

/// Milliseconds since the machine was started, suspended time included.
pub(super) fn boot_ms() -> u64 {
    let time = clock_gettime(ClockId::Boottime);
    // The kernel counts from 0 upwards, and nanoseconds stay below a thousand million.
    time.tv_sec as u64 * 1000 + time.tv_nsec as u64 / 1_000_000
}

/// Milliseconds as a signed number; half the range is more than a hundred million years.
pub(super) fn signed(ms: u64) -> i64 {
    i64::try_from(ms).unwrap_or(i64::MAX / 2).min(i64::MAX / 2)
}

/// Reads the wall clock in the machine's own zone.
pub fn wall_now() -> Wall {
    Wall::in_zone(Utc::now().timestamp_millis(), local_offset)
}

/// The machine's own zone: its offset in seconds at a Unix time in seconds.
pub fn local_offset(unix_s: i64) -> i32 {
    Utc.timestamp_opt(unix_s, 0).single().map_or(0, |utc| {
        Local
            .offset_from_utc_datetime(&utc.naive_utc())
            .fix()
            .local_minus_utc()
    })
}
