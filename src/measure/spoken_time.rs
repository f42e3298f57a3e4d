//! Lengths of time and clock times in words.

use super::words::cardinal;
use crate::time::{ClockTime, HalfDay, Span};

/// A length of time: `one hour and fifteen minutes`, `ninety seconds` as `one minute and thirty seconds`; to the
/// nearest second.
pub fn say_duration(span: Span) -> String {
    let seconds = span.as_millis().saturating_add(500) / 1000;
    let parts = [
        (seconds / 3600, "hour"),
        (seconds / 60 % 60, "minute"),
        (seconds % 60, "second"),
    ];
    let said: Vec<String> = parts
        .iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, unit)| format!("{} {unit}{}", cardinal(*n), if *n == 1 { "" } else { "s" }))
        .collect();
    match said.as_slice() {
        [] => "no time".to_string(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}

/// A clock time: `half past seven`, `twenty to eight in the evening`, `seven thirty six`, `noon`.
pub fn say_clock(at: ClockTime) -> String {
    let (hour, minute) = (at.hour % 24, at.minute % 60);
    let said = at.half == HalfDay::Said;
    match (said, hour, minute) {
        (true, 0, 0) => return "midnight".to_string(),
        (true, 12, 0) => return "noon".to_string(),
        _ => {}
    }
    let dial = |h: u8| cardinal(if h.is_multiple_of(12) { 12 } else { h % 12 }.into());
    let (here, next) = (dial(hour), dial(hour + 1));
    let words = match minute {
        0 => format!("{here} o'clock"),
        15 => format!("quarter past {here}"),
        30 => format!("half past {here}"),
        45 => format!("quarter to {next}"),
        5 | 10 | 20 | 25 => format!("{} past {here}", cardinal(minute.into())),
        35 | 40 | 50 | 55 => format!("{} to {next}", cardinal(60 - u64::from(minute))),
        1..10 => format!("{here} oh {}", cardinal(minute.into())),
        _ => format!("{here} {}", cardinal(minute.into())),
    };
    let part = match hour {
        _ if !said => "",
        0..12 => " in the morning",
        12..18 => " in the afternoon",
        _ => " in the evening",
    };
    words + part
}
