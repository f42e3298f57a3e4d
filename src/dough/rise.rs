//! How long a rise takes in another room: always a range, and the look decides.

use serde::{Deserialize, Serialize};

use super::DoughError;
use super::error::within;
use crate::measure::Temperature;

/// The room that a formula's times are meant for when nothing is said, in Celsius (common practice).
pub const RISE_ROOM_C: f64 = 21.0;
/// The rooms for which the rule holds, in Celsius.
pub const RISE_C: (f64, f64) = (5.0, 35.0);
/// The time halves for each of these many degrees warmer: somewhere between the two (common practice).
const HALVES_PER_C: (f64, f64) = (8.0, 10.0);

/// A range of time in minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RiseRange {
    /// The shorter guess.
    pub from_minutes: f64,
    /// The longer guess.
    pub to_minutes: f64,
}

/// The time of a rise in another room, from its time in a known one.
///
/// # Errors
/// [`DoughError::OutOfRange`] outside 5 to 35 C, where the rule says nothing.
pub fn rise_at(minutes: f64, at: Temperature, room: Temperature) -> Result<RiseRange, DoughError> {
    within("time of the rise in minutes", minutes, 1.0, 10_080.0)?;
    let at_c = within(
        "room of the formula in celsius",
        at.as_celsius(),
        RISE_C.0,
        RISE_C.1,
    )?;
    let room_c = within("room in celsius", room.as_celsius(), RISE_C.0, RISE_C.1)?;
    let by = |per: f64| minutes * 2f64.powf((at_c - room_c) / per);
    let (a, b) = (by(HALVES_PER_C.0), by(HALVES_PER_C.1));
    Ok(RiseRange {
        from_minutes: a.min(b),
        to_minutes: a.max(b),
    })
}

#[cfg(test)]
mod tests {
    use super::rise_at;
    use crate::measure::Temperature;

    // Common practice: the time roughly halves for each 8-10 C warmer and doubles for as much colder.
    #[test]
    fn halves_and_doubles() {
        let c = Temperature::celsius;
        let warm = rise_at(60.0, c(20.0), c(30.0)).unwrap();
        assert_eq!(warm.to_minutes, 30.0);
        assert!(warm.from_minutes < 30.0 && warm.from_minutes > 24.0);
        let cold = rise_at(60.0, c(20.0), c(12.0)).unwrap();
        assert_eq!(cold.to_minutes, 120.0);
        assert!(cold.from_minutes < 120.0 && cold.from_minutes > 100.0);
        let same = rise_at(60.0, c(21.0), c(21.0)).unwrap();
        assert_eq!((same.from_minutes, same.to_minutes), (60.0, 60.0));
        assert!(rise_at(60.0, c(21.0), c(40.0)).is_err());
        assert!(rise_at(60.0, c(21.0), c(2.0)).is_err());
    }
}
