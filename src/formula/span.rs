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

/// Reads a length of time, or a range of two: `30-40 min`, `8 to 16 h`, `45 min to 1 h`. The longer one only where
/// there are two.
///
/// # Errors
/// As [`parse_span`]; and where the second is not the longer one.
pub fn parse_window(text: &str) -> Result<(Span, Option<Span>), String> {
    let ends = text
        .split_once(['-', '–'])
        .or_else(|| text.split_once(" to "));
    let Some((from, to)) = ends else {
        return parse_span(text).map(|span| (span, None));
    };
    let most = parse_span(to.trim())?;
    let bare = from.trim().parse::<f64>().is_ok();
    let unit = to.trim_start_matches(|c: char| c.is_ascii_digit() || " .".contains(c));
    let least = parse_span(&format!("{from} {}", if bare { unit } else { "" }))?;
    if most > least {
        Ok((least, Some(most)))
    } else {
        Err(format!(
            "expected a range from short to long, found `{text}`"
        ))
    }
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
    fn ranges_keep_both_ends() {
        let minutes = |a, b| Ok((Span::minutes(a), Some(Span::minutes(b))));
        for (text, found) in [
            ("30-40 min", minutes(30, 40)),
            ("8 to 16 h", minutes(480, 960)),
            ("45 min to 1 h", minutes(45, 60)),
            ("1–1.5 hours", minutes(60, 90)),
            ("1 h 15 min - 1 h 30 min", minutes(75, 90)),
            ("12 min", Ok((Span::minutes(12), None))),
        ] {
            assert_eq!(parse_window(text), found, "{text}");
        }
        for text in [
            "40-30 min",
            "30- min",
            "-30 min",
            "30-40",
            "a-b min",
            "2 to 2 h",
        ] {
            assert!(parse_window(text).is_err(), "{text}");
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
