//! Numbers, amounts, lengths of time and clock times in words, read.

use std::sync::LazyLock;

use crate::order::slots::Value;
use crate::time::{ClockTime, Span};

use super::lexicon::Lexicon;
use super::matcher::Matcher;
use super::text::tokens;

pub use crate::measure::spoken_time::{say_clock, say_duration};
pub use crate::order::said::{
    say_amount, say_decimal, say_integer, say_number, say_ordered, unit_words,
};

static NO_NAMES: LazyLock<Lexicon> = LazyLock::new(Lexicon::without_formula);

fn whole(rule: &str, text: &str) -> Option<Value> {
    let tokens = tokens(text);
    if tokens.is_empty() || tokens.len() > 24 {
        return None;
    }
    Matcher::new(&NO_NAMES, &tokens)
        .whole(rule)
        .into_iter()
        .next()
}

/// The number that these words (or digits) stand for.
pub fn parse_words(text: &str) -> Option<f64> {
    let negative = text.trim_start().strip_prefix("minus ");
    match whole("number", negative.unwrap_or(text)).or_else(|| whole("count", text))? {
        Value::Num(n) => Some(if negative.is_some() { -n } else { n }),
        _ => None,
    }
}

/// The number and unit symbol of an amount: `half a teaspoon`, `one pound three ounces`, `200 g`.
pub fn parse_amount(text: &str) -> Option<(f64, &'static str)> {
    match whole("amount", text)? {
        Value::Amount(n, unit) => Some((n, unit)),
        _ => None,
    }
}

/// A length of time: `an hour and a quarter`, `ninety seconds`.
pub fn parse_duration(text: &str) -> Option<Span> {
    match whole("duration", text)? {
        Value::Span(span) => Some(span),
        _ => None,
    }
}

/// A clock time: `half past seven`, `twenty to eight in the evening`, `19:30`.
pub fn parse_clock(text: &str) -> Option<ClockTime> {
    match whole("clock", text)? {
        Value::Clock(clock) => Some(clock),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::HalfDay;
    use proptest::prelude::*;

    #[test]
    fn numbers_as_people_say_them() {
        for (words, n) in [
            ("one and a half", 1.5),
            ("two and three quarters", 2.75),
            ("a quarter", 0.25),
            ("half", 0.5),
            ("a couple of", 2.0),
            ("a dozen", 12.0),
            ("half a dozen", 6.0),
            ("three fifty", 350.0),
            ("one twenty five", 125.0),
            ("two hundred and fifty", 250.0),
            ("two hundred fifty", 250.0),
            ("point five", 0.5),
            ("nought point five", 0.5),
            ("zero point two five", 0.25),
            ("two point seven five", 2.75),
            ("twelve hundred", 1200.0),
            ("twelve hundred and fifty", 1250.0),
            ("twelve fifty", 1250.0),
            ("a thousand", 1000.0),
            ("three oh five", 305.0),
            ("a hundred and five", 105.0),
            ("nine thousand nine hundred and ninety nine", 9999.0),
            ("1 1/2", 1.5),
            ("1\u{bd}", 1.5),
            ("3/4", 0.75),
            ("two thirds", 2.0 / 3.0),
            ("seven eighths", 0.875),
            ("minus five", -5.0),
        ] {
            assert_eq!(parse_words(words), Some(n), "{words}");
        }
        for nonsense in [
            "",
            "five ten fifteen twenty",
            "hundred",
            "and",
            "one one",
            "the",
            "point",
            "twenty eleven hundred",
        ] {
            assert_eq!(parse_words(nonsense), None, "{nonsense}");
        }
    }

    #[test]
    fn amounts_as_people_say_them() {
        for (words, n, unit) in [
            ("half a teaspoon", 0.5, "tsp"),
            ("a cup and a half", 1.5, "cup"),
            ("three quarters of a cup", 0.75, "cup"),
            ("one pound three ounces", 19.0, "oz"),
            ("a pound and a half", 1.5, "lb"),
            ("one kilo two fifty", 1250.0, "g"),
            ("one kilo two hundred and fifty grams", 1250.0, "g"),
            ("a couple of tablespoons", 2.0, "tbsp"),
            ("200 g", 200.0, "g"),
            ("200g", 200.0, "g"),
            ("1\u{bd} tsp", 1.5, "tsp"),
            ("an ounce", 1.0, "oz"),
            ("half an ounce", 0.5, "oz"),
            ("2 fl oz", 2.0, "fl oz"),
            ("a quarter of a teaspoon", 0.25, "tsp"),
            ("1 lb 3 oz", 19.0, "oz"),
        ] {
            assert_eq!(parse_amount(words), Some((n, unit)), "{words}");
        }
    }

    #[test]
    fn durations_as_people_say_them() {
        for (words, seconds) in [
            ("an hour and a quarter", 4500),
            ("ninety seconds", 90),
            ("forty five minutes", 2700),
            ("two and a half hours", 9000),
            ("two hours and a half", 9000),
            ("half an hour", 1800),
            ("a quarter of an hour", 900),
            ("three quarters of an hour", 2700),
            ("an hour and ten minutes", 4200),
            ("one minute thirty", 90),
            ("one hour thirty", 5400),
            ("a minute and a half", 90),
            ("1 h 30 min", 5400),
            ("90 s", 90),
            ("a couple of minutes", 120),
            ("1 hour, 2 minutes and 5 seconds", 3725),
            ("a day", 86_400),
        ] {
            assert_eq!(
                parse_duration(words),
                Some(Span::seconds(seconds)),
                "{words}"
            );
        }
    }

    #[test]
    fn clock_times_as_people_say_them() {
        let at = |hour, minute| ClockTime {
            hour,
            minute,
            half: HalfDay::Unsaid,
        };
        let said = |hour, minute| ClockTime {
            hour,
            minute,
            half: HalfDay::Said,
        };
        for (words, clock) in [
            ("half past seven", at(7, 30)),
            ("half seven", at(7, 30)),
            ("twenty to eight", at(7, 40)),
            ("twenty minutes to eight", at(7, 40)),
            ("twenty to one", at(12, 40)),
            ("seven thirty", at(7, 30)),
            ("seven oh five", at(7, 5)),
            ("seven", at(7, 0)),
            ("seven o'clock", at(7, 0)),
            ("quarter past six in the evening", said(18, 15)),
            ("quarter after six in the evening", said(18, 15)),
            ("nineteen thirty", said(19, 30)),
            ("nineteen hundred", said(19, 0)),
            ("19:30", said(19, 30)),
            ("7:30", at(7, 30)),
            ("7:30 pm", said(19, 30)),
            ("7pm", said(19, 0)),
            ("noon", said(12, 0)),
            ("midnight", said(0, 0)),
            ("half past twelve at night", said(0, 30)),
            ("half past twelve in the afternoon", said(12, 30)),
            ("quarter to one in the morning", said(0, 45)),
            ("twenty to twelve in the evening", said(23, 40)),
            ("eleven at night", said(23, 0)),
            ("zero seven thirty", said(7, 30)),
            ("00:15", said(0, 15)),
        ] {
            assert_eq!(parse_clock(words), Some(clock), "{words}");
        }
        for nonsense in [
            "twenty five past",
            "thirteen past",
            "sixty one past seven",
            "25:00",
            "half past thirteen",
        ] {
            assert_eq!(parse_clock(nonsense), None, "{nonsense}");
        }
    }

    #[test]
    fn every_clock_time_that_is_said_reads_back() {
        for minutes in 0..24 * 60_u16 {
            let (hour, minute) = ((minutes / 60) as u8, (minutes % 60) as u8);
            let said = ClockTime {
                hour,
                minute,
                half: HalfDay::Said,
            };
            assert_eq!(
                parse_clock(&say_clock(said)),
                Some(said),
                "{}",
                say_clock(said)
            );
            if (1..=12).contains(&hour) {
                let open = ClockTime {
                    hour,
                    minute,
                    half: HalfDay::Unsaid,
                };
                assert_eq!(
                    parse_clock(&say_clock(open)),
                    Some(open),
                    "{}",
                    say_clock(open)
                );
            }
        }
    }

    #[test]
    fn every_whole_number_that_is_said_reads_back() {
        for n in (0..10_000).chain((10_000..1_000_000).step_by(977)) {
            assert_eq!(
                parse_words(&say_integer(n)),
                Some(n as f64),
                "{}",
                say_integer(n)
            );
        }
    }

    proptest! {
        #[test]
        fn every_number_that_is_said_reads_back(n in 0.0..10_000.0_f64) {
            let back = parse_words(&say_number(n)).unwrap();
            prop_assert!((back - n).abs() <= 0.000_501, "{} -> {}", say_number(n), back);
            // 0.66745 is said as 0.667, which is near enough to two thirds to be said so: never further off than this.
            let again = parse_words(&say_number(back)).unwrap();
            prop_assert!((again - n).abs() <= 0.001, "{} -> {}", say_number(back), again);
        }

        #[test]
        fn every_decimal_that_is_said_reads_back(thousandths in 0..10_000_000_u32, places in 0..4_u32) {
            let n = f64::from(thousandths) / 1000.0;
            let back = parse_words(&say_decimal(n, places)).unwrap();
            prop_assert!((back - n).abs() <= 0.5 / 10_f64.powi(places as i32) + 1e-9, "{}", say_decimal(n, places));
        }

        #[test]
        fn every_amount_that_is_said_reads_back(
            eighths in 0..40_000_u32,
            unit in prop::sample::select(vec![
                "g", "kg", "oz", "lb", "ml", "cl", "dl", "l", "tsp", "tbsp", "cup", "fl oz", "pint", "qt", "gal", "pinch", "dash", "drop",
            ]),
        ) {
            let n = f64::from(eighths) / 8.0;
            prop_assert_eq!(parse_amount(&say_amount(n, unit)), Some((n, unit)), "{}", say_amount(n, unit));
        }

        #[test]
        fn every_duration_that_is_said_reads_back(seconds in 1..200_000_u64) {
            let span = Span::seconds(seconds);
            prop_assert_eq!(parse_duration(&say_duration(span)), Some(span), "{}", say_duration(span));
            prop_assert_eq!(parse_duration(&say_ordered(span)), Some(span), "{}", say_ordered(span));
        }

        #[test]
        fn no_text_breaks_the_readers(text in ".{0,60}") {
            let _ = (parse_words(&text), parse_amount(&text), parse_duration(&text), parse_clock(&text));
        }
    }
}
