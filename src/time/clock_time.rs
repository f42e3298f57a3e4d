//! A time of day as it is said.

use serde::{Deserialize, Serialize};

/// A clock time as spoken; `half` tells whether morning or afternoon was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClockTime {
    /// Hour 0-23; when `half` is `Unsaid`, 1-12.
    pub hour: u8,
    /// Minute 0-59.
    pub minute: u8,
    /// Which half of the day.
    pub half: HalfDay,
}

/// Which half of the day a clock time was said for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HalfDay {
    /// The next such time from now is meant.
    Unsaid,
    /// Twenty-four-hour time, or morning, afternoon or evening was said: `hour` is 0-23.
    Said,
}

impl ClockTime {
    /// Minutes after midnight, and how many minutes lie between two times that are said so.
    pub(super) fn minutes(self) -> (i64, i64) {
        let period = match self.half {
            HalfDay::Unsaid => 720,
            HalfDay::Said => 1440,
        };
        let minutes = i64::from(self.hour) * 60 + i64::from(self.minute);
        (minutes.rem_euclid(period), period)
    }
}
