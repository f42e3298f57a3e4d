//! How long something takes in this kitchen: from the bake log, or from the formula and the room.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::dough::{self, RISE_C, RISE_ROOM_C};
use crate::measure::{Temperature, round_to};
use crate::time::Span;

/// How long something that ends on a look took in this kitchen, brought to today's room where both rooms are known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OwnTime {
    /// What its timer is set to.
    pub lasts: Span,
    /// The shortest that it is expected to take.
    pub from: Span,
    /// The longest that it is expected to take.
    pub to: Span,
    /// What it really took the last time.
    pub last: Span,
    /// So many bakes it rests on; nought where an earlier version counted none.
    #[serde(default)]
    pub bakes: u32,
}

/// This kitchen's own times of one formula, by the timer's name.
pub type OwnTimes = BTreeMap<String, OwnTime>;

/// A rise in another room: the shorter and the longer guess, in whole minutes. Beyond 5 to 35 C the nearer end counts.
pub fn rise_in(took: Span, at_c: f64, room_c: f64) -> (Span, Span) {
    let heat = |c: f64| Temperature::celsius(c.clamp(RISE_C.0, RISE_C.1));
    let whole = |minutes: f64| Span::minutes(minutes.round().max(1.0) as u64);
    match dough::rise_at(took.as_seconds() as f64 / 60.0, heat(at_c), heat(room_c)) {
        Ok(range) => (whole(range.from_minutes), whole(range.to_minutes)),
        // Shorter than a minute or longer than a week: no rise, and no rule for it.
        Err(_) => (took, took),
    }
}

/// The middle of a range; to five minutes, as a guess is, where it is one.
pub fn middle(range: (Span, Span)) -> Span {
    if range.0 == range.1 {
        return range.0;
    }
    let minutes = u64::midpoint(range.0.as_millis(), range.1.as_millis()) as f64 / 60_000.0;
    Span::minutes(round_to(minutes, 5.0).max(1.0) as u64)
}

/// How far a time that something took can be believed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Belief {
    /// From half to double of what was to be expected: it counts.
    Sure,
    /// Outside of that: the cook is asked.
    Ask,
    /// Less than a tenth, or more than ten times: it cannot be.
    Never,
}

/// Compares what something took with what is written, brought to the room where that is known.
pub fn believe(took: Span, written: Span, room_c: Option<f64>) -> Belief {
    let expected = room_c.map_or(written, |room| middle(rise_in(written, RISE_ROOM_C, room)));
    let (took, expected) = (took.as_millis(), expected.as_millis());
    // A minute is the grain of the log.
    let within = |times: u64| {
        let longest = expected.saturating_mul(times).saturating_add(60_000);
        took.saturating_mul(times) >= expected && took <= longest
    };
    if took == 0 || !within(10) {
        Belief::Never
    } else if within(2) {
        Belief::Sure
    } else {
        Belief::Ask
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice, no source: the time doubles for each 8 to 10 C colder.
    #[test]
    fn a_colder_room_takes_longer_and_says_so_as_a_range() {
        let hour = Span::minutes(60);
        assert_eq!(
            rise_in(hour, 21.0, 13.0),
            (Span::minutes(104), Span::minutes(120))
        );
        assert_eq!(middle(rise_in(hour, 21.0, 13.0)), Span::minutes(110));
        assert_eq!(middle(rise_in(hour, 21.0, 21.0)), hour);
        // A cellar at nought counts as one at five.
        assert_eq!(rise_in(hour, 21.0, 0.0), rise_in(hour, 21.0, 5.0));
    }
}
