//! Numbers, amounts, lengths of time and clock times in words, so that they read back to themselves.

use crate::measure::spoken_time::say_duration;
use crate::measure::words::cardinal;
use crate::measure::{Region, Unit};
use crate::time::Span;

/// Parts of one that are said as fractions.
const PARTS: [(f64, &str); 9] = [
    (0.125, "one eighth"),
    (0.25, "a quarter"),
    (1.0 / 3.0, "a third"),
    (0.375, "three eighths"),
    (0.5, "a half"),
    (0.625, "five eighths"),
    (2.0 / 3.0, "two thirds"),
    (0.75, "three quarters"),
    (0.875, "seven eighths"),
];

/// How far a number may be from a fraction that is said for it.
const NEAR: f64 = 5e-4;

/// A whole number in words, British: `two hundred and fifty`. From a million on, digits.
pub fn say_integer(n: u64) -> String {
    if n < 1_000_000 {
        cardinal(n)
    } else {
        n.to_string()
    }
}

/// A number as a cook says it: `one and a half`, `three quarters`, `two point three five`; at most three places.
pub fn say_number(n: f64) -> String {
    if !n.is_finite() {
        return "an unknown number".to_string();
    }
    if n < 0.0 {
        return format!("minus {}", say_number(-n));
    }
    let below = n.floor();
    let part = n - below;
    if part < NEAR {
        return say_integer(below as u64);
    }
    if 1.0 - part < NEAR {
        return say_integer(below as u64 + 1);
    }
    match fraction(part) {
        Some(words) if below == 0.0 => words.to_string(),
        Some(words) if below < 1000.0 => format!("{} and {words}", say_integer(below as u64)),
        _ => say_decimal(n, 3),
    }
}

fn fraction(part: f64) -> Option<&'static str> {
    PARTS
        .iter()
        .find(|(value, _)| (value - part).abs() < NEAR)
        .map(|(_, words)| *words)
}

/// A number in decimals, with at most `places` (up to three) after the point and no trailing zeros: `two point five`.
pub fn say_decimal(n: f64, places: u32) -> String {
    if !n.is_finite() {
        return "an unknown number".to_string();
    }
    if n < 0.0 {
        return format!("minus {}", say_decimal(-n, places));
    }
    let places = places.min(3);
    let scale = 10_u64.pow(places);
    let scaled = (n * scale as f64).round() as u64;
    let mut digits = format!("{:0width$}", scaled % scale, width = places as usize);
    while digits.ends_with('0') {
        digits.pop();
    }
    let mut out = say_integer(scaled / scale);
    if !digits.is_empty() && places > 0 {
        out.push_str(" point");
        for digit in digits.bytes() {
            out.push(' ');
            out.push_str(&cardinal((digit - b'0').into()));
        }
    }
    out
}

/// The words of a unit symbol, for one and for many.
pub fn unit_words(symbol: &str) -> Option<(&'static str, &'static str)> {
    match symbol {
        "c" => Some(("degree celsius", "degrees celsius")),
        "f" => Some(("degree fahrenheit", "degrees fahrenheit")),
        _ => Unit::find(symbol, Region::Metric)
            .ok()
            .map(|unit| (unit.singular(), unit.plural())),
    }
}

/// A number of a unit: `half a teaspoon`, `three quarters of a cup`, `five hundred and forty grams`.
pub fn say_amount(n: f64, symbol: &str) -> String {
    let (one, many) = unit_words(symbol).unwrap_or((symbol, symbol));
    let article = if one.starts_with('o') { "an" } else { "a" };
    if n > 0.0 && n < 1.0 {
        match fraction(n) {
            Some("a half") => return format!("half {article} {one}"),
            Some(words) => return format!("{words} of {article} {one}"),
            None => {}
        }
    }
    let words = say_number(n);
    format!("{words} {}", if words == "one" { one } else { many })
}

/// A length of time as it is ordered: `seventy minutes`, `ninety seconds`, else as [`say_duration`] has it. So what sounds alike is also
/// asked about in words that sound alike.
pub fn say_ordered(span: Span) -> String {
    let seconds = span.as_millis() / 1000;
    let (n, unit) = if seconds.is_multiple_of(60) {
        (seconds / 60, "minutes")
    } else {
        (seconds, "seconds")
    };
    if (61..=99).contains(&n) {
        format!("{} {unit}", say_integer(n))
    } else {
        say_duration(span)
    }
}
