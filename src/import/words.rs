//! A text cut into words, figures and signs, with numbers and lengths of time read from them.

use std::cell::OnceCell;

use crate::measure::vulgar;
use crate::time::Span;

/// One word, figure or sign, and where it stands.
#[derive(Debug, Clone)]
pub(super) struct Word<'t> {
    pub(super) text: &'t str,
    pub(super) lower: String,
    pub(super) start: usize,
    pub(super) end: usize,
    /// What the word is without its ending, once it was asked for.
    pub(super) stem: OnceCell<String>,
    number: Option<f64>,
}

impl Word<'_> {
    pub(super) fn is(&self, any: &[&str]) -> bool {
        any.contains(&self.lower.as_str())
    }
    pub(super) fn is_word(&self) -> bool {
        self.text.starts_with(char::is_alphabetic)
    }
}

/// Cuts a text. Digits and letters part: `180C` is two.
pub(super) fn words(text: &str) -> Vec<Word<'_>> {
    let mut all: Vec<Word> = Vec::new();
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        let start = at;
        let mut number = None;
        if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        }
        if c.is_ascii_digit() {
            let (value, end) = figures(text, at);
            (number, at) = (Some(value), end);
        } else if let Some(value) = vulgar(c) {
            (number, at) = (Some(value), at + c.len_utf8());
        } else if c.is_alphabetic() {
            let inside = |d: char| d.is_alphabetic() || d == '\'' || d == '’';
            at += text[at..].find(|d| !inside(d)).unwrap_or(text.len() - at);
        } else {
            at += c.len_utf8();
        }
        let text = &text[start..at];
        all.push(Word {
            text,
            lower: text.to_lowercase(),
            start,
            end: at,
            stem: OnceCell::new(),
            number,
        });
    }
    all
}

/// Digits, a decimal, a fraction: `12`, `1.5`, `1/2`, `1½`.
fn figures(text: &str, at: usize) -> (f64, usize) {
    let digits = |from: usize| text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let whole_end = at + digits(at);
    let whole: f64 = text[at..whole_end].parse().unwrap_or(0.0);
    let mut next = text[whole_end..].chars();
    match next.next() {
        Some('/' | '⁄') => {
            let from = whole_end + text[whole_end..].chars().next().map_or(1, char::len_utf8);
            let bottom = digits(from);
            let value: f64 = text[from..from + bottom].parse().unwrap_or(0.0);
            if value > 0.0 && value < 100.0 && whole < value {
                return (whole / value, from + bottom);
            }
        }
        Some('.' | ',') if digits(whole_end + 1) > 0 => {
            let end = whole_end + 1 + digits(whole_end + 1);
            let written = text[at..end].replace(',', ".");
            return (written.parse().unwrap_or(whole), end);
        }
        Some(c) => {
            if let Some(part) = vulgar(c) {
                return (whole + part, whole_end + c.len_utf8());
            }
        }
        None => {}
    }
    (whole, whole_end)
}

/// A number at a place, in figures or words, and where it ends.
pub(super) fn number(words: &[Word], at: usize) -> Option<(f64, usize)> {
    let word = words.get(at)?;
    if let Some(n) = word.number {
        // '1 1/2', '1-1/2'
        let gap = usize::from(words.get(at + 1).is_some_and(|w| w.is(&["-"])));
        if let Some(part) = words.get(at + 1 + gap).and_then(|w| w.number)
            && part < 1.0
            && part > 0.0
            && n.fract() == 0.0
        {
            return Some((n + part, at + 2 + gap));
        }
        if words.get(at + 1).is_some_and(|w| w.is(&["and"]))
            && words.get(at + 2).is_some_and(|w| w.is(&["a"]))
            && words.get(at + 3).is_some_and(|w| w.is(&["half"]))
        {
            return Some((n + 0.5, at + 4));
        }
        return Some((n, at + 1));
    }
    let small = |w: &str| -> Option<f64> {
        #[rustfmt::skip]
const SMALL: [&str; 20] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
];
        SMALL.iter().position(|s| *s == w).map(|n| n as f64 + 1.0)
    };
    let tens = |w: &str| -> Option<f64> {
        const TENS: [&str; 8] = [
            "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
        ];
        TENS.iter()
            .position(|s| *s == w)
            .map(|n| n as f64 * 10.0 + 20.0)
    };
    let lower = word.lower.as_str();
    let next = |i: usize, any: &[&str]| words.get(i).is_some_and(|w| w.is(any));
    if lower == "half" && next(at + 1, &["a", "an"]) {
        return Some((0.5, at + 2));
    }
    if lower == "half" {
        return Some((0.5, at + 1));
    }
    if matches!(lower, "a" | "an") {
        if next(at + 1, &["quarter"]) && next(at + 2, &["of"]) && next(at + 3, &["a", "an"]) {
            return Some((0.25, at + 4));
        }
        if next(at + 1, &["couple"]) && next(at + 2, &["of"]) {
            return Some((2.0, at + 3));
        }
        if next(at + 1, &["half"]) {
            return Some((0.5, at + 2));
        }
        return Some((1.0, at + 1));
    }
    let gap = usize::from(next(at + 1, &["-"]));
    if lower == "three" && next(at + 1 + gap, &["quarters"]) && next(at + 2 + gap, &["of"]) {
        let end = at + 3 + gap;
        return Some((0.75, end + usize::from(next(end, &["a", "an"]))));
    }
    if let Some(n) = tens(lower) {
        let gap = usize::from(next(at + 1, &["-"]));
        if let Some(one) = words
            .get(at + 1 + gap)
            .and_then(|w| small(&w.lower))
            .filter(|n| *n < 10.0)
        {
            return Some((n + one, at + 2 + gap));
        }
        return Some((n, at + 1));
    }
    let n = small(lower)?;
    if next(at + 1, &["and"]) && next(at + 2, &["a"]) && next(at + 3, &["half"]) {
        return Some((n + 0.5, at + 4));
    }
    Some((n, at + 1))
}

/// A number, or from one to another: `30-35`, `8 to 10`, `between 5 and 6`.
pub(super) fn range(words: &[Word], at: usize) -> Option<(f64, Option<f64>, usize)> {
    let between = words.get(at).is_some_and(|w| w.is(&["between"]));
    let (low, end) = number(words, at + usize::from(between))?;
    let joins = words.get(end).is_some_and(|w| {
        w.is(&["-", "–", "—", "‐", "‑", "…", "to", "or", "till", "à", "bis"])
            || between && w.is(&["and"])
    });
    if joins && let Some((high, end)) = number(words, end + 1).filter(|(high, _)| *high > low) {
        return Some((low, Some(high), end));
    }
    Some((low, None, end))
}

/// A length of time, or from one to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lasts {
    /// The shortest.
    pub(super) from: Span,
    /// The longest, where it is a range.
    pub(super) to: Option<Span>,
}

fn unit_seconds(word: &Word) -> Option<f64> {
    Some(match word.lower.as_str() {
        "s" | "sec" | "secs" | "second" | "seconds" => 1.0,
        "m" | "min" | "mins" | "minute" | "minutes" | "minuets" | "minuts" | "mintues"
        | "minits" | "minites" | "minuites" | "minues" | "mins's" | "mn" | "minuten" => 60.0,
        "h" | "hr" | "hrs" | "hour" | "hours" | "houres" | "huor" | "hours'" | "std" | "stunde"
        | "stunden" => 3600.0,
        "day" | "days" => 86400.0,
        _ => return None,
    })
}

/// A length of time at a place, and where it ends. From a second to two days.
pub(super) fn length(words: &[Word], at: usize) -> Option<(Lasts, usize)> {
    if words.get(at)?.is(&["overnight"]) {
        return Some((
            Lasts {
                from: Span::minutes(480),
                to: Some(Span::minutes(720)),
            },
            at + 1,
        ));
    }
    let (mut low, mut high, mut end) = range(words, at)?;
    // '50\'-60\''
    let is_prime = |i: usize| {
        words
            .get(i)
            .is_some_and(|w| w.is(&["'", "′", "’"]) && w.start == words[i - 1].end)
    };
    if high.is_none()
        && is_prime(end)
        && words.get(end + 1).is_some_and(|w| w.is(&["-", "–", "—"]))
        && let Some((to, after)) = number(words, end + 2)
        && to > low
        && is_prime(after)
    {
        (low, high, end) = (low, Some(to), after);
    }
    let filler = ["-", "more", "full", "further", "good", "whole"];
    end += usize::from(words.get(end).is_some_and(|w| w.is(&filler)));
    // '45\'' is minutes.
    let prime = words.get(end).is_some_and(|w| {
        w.is(&["'", "′", "’"])
            && w.start == words[end - 1].end
            && words
                .get(end + 1)
                .is_none_or(|next| next.start > w.end || !next.is_word())
    });
    let own = words
        .get(end)
        .and_then(unit_seconds)
        .or(prime.then_some(60.0));
    let (mut low_s, mut high_s);
    if let Some(unit) = own {
        if words[end].is(&["m", "s"]) && words[end - 1].end != words[end].start {
            return None;
        }
        // 'A second bowl' takes no time.
        if words[end].is(&["second"]) && !words[at].text.starts_with(|c: char| c.is_numeric()) {
            return None;
        }
        (low_s, high_s) = (low * unit, high.map(|n| n * unit));
        end += 1;
        if words.get(end).is_some_and(|w| w.is(&["."]))
            && words[end - 1].is(&["min", "mins", "hr", "hrs", "sec", "secs"])
            && words
                .get(end + 1)
                .is_some_and(|w| !w.text.starts_with(char::is_uppercase))
        {
            end += 1;
        }
        // 'an hour and a half'
        if high_s.is_none()
            && words.get(end).is_some_and(|w| w.is(&["and"]))
            && words.get(end + 1).is_some_and(|w| w.is(&["a"]))
            && words
                .get(end + 2)
                .is_some_and(|w| w.is(&["half", "quarter"]))
        {
            low_s += unit
                * if words[end + 2].is(&["half"]) {
                    0.5
                } else {
                    0.25
                };
            return spans(low_s, None).map(|l| (l, end + 3));
        }
        // 'an hour or two', 'a minute or so'
        if high_s.is_none()
            && words.get(end).is_some_and(|w| w.is(&["or"]))
            && let Some((n, after)) = number(words, end + 1)
            && n > low
            && words.get(after).and_then(unit_seconds).is_none()
            && !words[end + 1].is(&["a", "an"])
        {
            return spans(low_s, Some(n * unit)).map(|l| (l, after));
        }
        // '1 hour 20'
        if unit == 3600.0
            && high_s.is_none()
            && let Some((n, after)) = number(words, end)
            && words[end].text.bytes().all(|b| b.is_ascii_digit())
            && (5.0..60.0).contains(&n)
            && words.get(after).is_none_or(|w| {
                !w.is_word() && !w.is(&["-", "–", "°", "%", "/"]) || w.is(&["until", "till"])
            })
        {
            return spans(low_s + n * 60.0, None).map(|l| (l, after));
        }
        // '1 hour 30 minutes', '1 hr and 10 min', '1 h 15 min 30 s', '1 min 30 sec'; '2 minutes, 30 seconds' may be two.
        let mut last = unit;
        while last > 1.0 && high_s.is_none() {
            let joins: &[&str] = if last > 60.0 { &["and", ","] } else { &["and"] };
            let join = usize::from(words.get(end).is_some_and(|w| w.is(joins)));
            let Some((more, to, after)) = range(words, end + join) else {
                break;
            };
            let Some(smaller) = words
                .get(after)
                .and_then(unit_seconds)
                .filter(|s| *s < last)
            else {
                break;
            };
            high_s = to.map(|n| low_s + n * smaller);
            low_s += more * smaller;
            end = after + 1;
            last = smaller;
        }
        // 'At least 1 hour or up to 2 days', '2 hours and up to 8'
        let comma = usize::from(words.get(end).is_some_and(|w| w.is(&[","])));
        let or = usize::from(words.get(end + comma).is_some_and(|w| w.is(&["or", "and"])));
        let up = end + comma + or;
        if high_s.is_none()
            && words.get(up).is_some_and(|w| w.is(&["up"]))
            && words.get(up + 1).is_some_and(|w| w.is(&["to"]))
            && let Some((most, None, after)) = range(words, up + 2)
            && let Some(larger) = words.get(after).and_then(unit_seconds)
            && most * larger > low_s
        {
            return spans(low_s, Some(most * larger)).map(|l| (l, after + 1));
        }
        // '45 minutes to 1 hour'
        if high_s.is_none()
            && words
                .get(end)
                .is_some_and(|w| w.is(&["to", "-", "–", "or"]))
            && let Some((high, None, after)) = range(words, end + 1)
            && let Some(larger) = words.get(after).and_then(unit_seconds)
        {
            let mut total = high * larger;
            let mut last = after + 1;
            if larger > 60.0
                && words.get(last).is_some_and(|w| w.is(&["and"]))
                && words.get(last + 1).is_some_and(|w| w.is(&["a"]))
                && words.get(last + 2).is_some_and(|w| w.is(&["half"]))
            {
                total += larger / 2.0;
                last += 3;
            } else if larger > 60.0
                && let Some((more, None, next)) = range(words, last)
                && let Some(smaller) = words.get(next).and_then(unit_seconds)
                && smaller < larger
            {
                total += more * smaller;
                last = next + 1;
            }
            if total > low_s {
                high_s = Some(total);
                end = last;
            }
        }
        return spans(low_s, high_s).map(|l| (l, end));
    }
    None
}

/// A wait of days at a place that is longer than a timer can be, and where it ends: `1 to 5 days`, `two weeks`.
pub(super) fn many_days(words: &[Word], at: usize) -> Option<usize> {
    let (low, high, end) = range(words, at)?;
    let unit = words.get(end)?;
    let days = match unit.lower.as_str() {
        "day" | "days" => high.unwrap_or(low),
        "week" | "weeks" | "month" | "months" => 7.0,
        _ => return None,
    };
    (days > 2.0).then_some(end + 1)
}

fn spans(low: f64, high: Option<f64>) -> Option<Lasts> {
    const MOST: f64 = 172_800.0;
    let good = |s: f64| (1.0..=MOST).contains(&s);
    let span = |s: f64| Span::millis((s * 1000.0).round() as u64);
    (good(low) && high.is_none_or(good)).then(|| Lasts {
        from: span(low),
        to: high.filter(|h| *h > low).map(span),
    })
}

/// As a formula file writes it: `30-40 min`, `1 h 15 min`.
pub(super) fn written(lasts: Lasts) -> String {
    let one = |span: Span| {
        let s = span.as_seconds();
        let parts = [(s / 3600, "h"), (s % 3600 / 60, "min"), (s % 60, "s")];
        let parts: Vec<String> = parts
            .iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, unit)| format!("{n} {unit}"))
            .collect();
        parts.join(" ")
    };
    lasts.to.map_or(one(lasts.from), |to| {
        format!("{} to {}", one(lasts.from), one(to))
    })
}
