//! Lengths of time as formula files write them: `90 s`, `45 min`, `1 h 15 min`.

use crate::time::Span;

/// Reads a length of time. Up to two days.
///
/// # Errors
/// A sentence with what was expected and what stood there.
pub fn parse_span(text: &str) -> Result<Span, String> {
    let wrong =
        || format!("expected a time such as `45 min`, `1 h 15 min` or `90 s`, found `{text}`");
    let mut seconds = 0.0_f64;
    let mut number = String::new();
    let mut unit = String::new();
    let mut parts = 0;
    let mut close = |number: &mut String, unit: &mut String| -> Result<(), String> {
        let n: f64 = number.parse().map_err(|_| wrong())?;
        let each = match unit.as_str() {
            "s" | "sec" | "second" | "seconds" => 1.0,
            "m" | "min" | "mins" | "minute" | "minutes" => 60.0,
            "h" | "hr" | "hour" | "hours" => 3600.0,
            _ => return Err(wrong()),
        };
        seconds += n * each;
        parts += 1;
        number.clear();
        unit.clear();
        Ok(())
    };
    for c in text.chars() {
        if c.is_ascii_digit() || c == '.' {
            if !unit.is_empty() {
                close(&mut number, &mut unit)?;
            }
            number.push(c);
        } else if c.is_ascii_alphabetic() {
            if number.is_empty() {
                return Err(wrong());
            }
            unit.push(c.to_ascii_lowercase());
        } else if c != ' ' {
            return Err(wrong());
        }
    }
    close(&mut number, &mut unit)?;
    if parts == 0 || !(1.0..=172_800.0).contains(&seconds) {
        return Err(format!(
            "expected a time from one second to two days, found `{text}`"
        ));
    }
    Ok(Span::millis((seconds * 1000.0).round() as u64))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_written() {
        for (text, s) in [
            ("90 s", 90),
            ("45 min", 2700),
            ("1 h 15 min", 4500),
            ("1.5 h", 5400),
            ("2h", 7200),
            ("12min", 720),
        ] {
            assert_eq!(parse_span(text).map(Span::as_seconds), Ok(s), "{text}");
        }
    }

    #[test]
    fn nonsense_is_refused() {
        for text in [
            "",
            "min",
            "12",
            "12 parsecs",
            "0 min",
            "3 days",
            "1..2 min",
            "-5 min",
            "999 h",
            "12 min 13",
        ] {
            assert!(parse_span(text).is_err(), "{text}");
        }
    }
}
