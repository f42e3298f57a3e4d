//! The clock in the kitchen: session time and the clock on the wall, tied together where the latter was read.

use super::{Minute, Moment, Wall};

/// What the clock on the wall shows at any session time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KitchenClock {
    read_at: Moment,
    wall: Wall,
}

impl KitchenClock {
    /// The wall clock was read at this session time.
    pub fn read(read_at: Moment, wall: Wall) -> Self {
        Self { read_at, wall }
    }

    /// The reading.
    pub fn wall(&self) -> &Wall {
        &self.wall
    }

    /// The wall clock at a session time, from the reading on.
    pub fn wall_at(&self, at: Moment) -> Wall {
        let since = i64::try_from(at.since(self.read_at).as_millis()).unwrap_or(i64::MAX);
        Wall {
            unix_ms: self.wall.unix_ms.saturating_add(since),
            ..self.wall.clone()
        }
    }

    /// Local hour, minute and second at a session time.
    pub fn time_of_day(&self, at: Moment) -> (u8, u8, u8) {
        let signed = |m: Moment| i64::try_from(m.0).unwrap_or(i64::MAX);
        self.wall.time_of_day(signed(at) - signed(self.read_at))
    }

    /// The minute nearest to a session time.
    pub fn minute(&self, at: Moment) -> Minute {
        let since = i128::from(at.0) - i128::from(self.read_at.0);
        let minute = (i128::from(self.wall.unix_ms) + since + 30_000).div_euclid(60_000);
        Minute(i64::try_from(minute).unwrap_or(i64::MAX))
    }

    /// The session time at which a minute begins; the session's start where it is earlier.
    pub fn moment(&self, at: Minute) -> Moment {
        let ms =
            i128::from(at.0) * 60_000 - i128::from(self.wall.unix_ms) + i128::from(self.read_at.0);
        Moment(u64::try_from(ms.max(0)).unwrap_or(u64::MAX))
    }
}
