//! What a recipe makes, and the lengths of time of ISO 8601.

use super::line::one;
use super::words::{range, words};

/// What a recipe makes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Makes {
    pub(super) portions: f64,
    pub(super) to: Option<f64>,
    pub(super) pieces: Option<f64>,
    pub(super) piece: String,
}

/// Words for helpings.
const HELPINGS: [&str; 13] = [
    "serving", "portion", "people", "person", "helping", "guest", "adult", "serve", "diner",
    "hungry", "child", "cook", "ration",
];

/// Reads `Serves 4-6`, `Makes 12 buns`, `1 loaf`, `4`.
pub(super) fn read(said: &[String]) -> Option<Makes> {
    let mut portions = None;
    let mut pieces: Option<(f64, String)> = None;
    for text in said {
        let all = words(text);
        let Some((at, (low, high, end))) = (0..all.len())
            .find_map(|at| range(&all, at).map(|r| (at, r)))
            .filter(|(_, (n, ..))| *n > 0.0 && *n <= 10_000.0)
        else {
            continue;
        };
        let high = high.filter(|h| *h <= 10_000.0);
        // The thing: 'dozen small buns' is a dozen of buns.
        let mut n = (low, high);
        let mut thing = None;
        let mut i = end;
        while let Some(word) = all.get(i) {
            if word.is(&["dozen"]) {
                n = (n.0 * 12.0, n.1.map(|h| h * 12.0));
            } else if word.is(&[
                "large",
                "small",
                "medium",
                "big",
                "round",
                "thick",
                "thin",
                "good",
                "x",
                "about",
                "long",
                "individual",
                "generous",
                "hearty",
                "standard",
            ]) || !word.is_word()
            {
                // '1 (9-inch) pie'
                if word.is(&["("]) && thing.is_none() {
                    let close = all[i..].iter().position(|w| w.is(&[")"]));
                    let Some(n) = close.filter(|n| i + n + 1 < all.len()) else {
                        break;
                    };
                    i += n;
                } else if word.is(&["(", ","]) {
                    break;
                }
            } else {
                thing = Some(one(&word.lower));
                // 'bread rolls' are rolls.
                if let Some(next) = all.get(i + 1).filter(|w| {
                    w.is_word()
                        && !w.is(&[
                            "of",
                            "or",
                            "and",
                            "in",
                            "at",
                            "with",
                            "each",
                            "as",
                            "for",
                            "from",
                            "depending",
                            "generously",
                        ])
                }) {
                    thing = Some(one(&next.lower));
                }
                break;
            }
            i += 1;
        }
        let serves = all[..at]
            .iter()
            .any(|w| w.is(&["serves", "serve", "servings", "portions", "feeds", "for"]));
        match thing {
            Some(thing)
                if !serves
                    && !HELPINGS.contains(&thing.as_str())
                    && !matches!(
                        thing.as_str(),
                        "g" | "ml"
                            | "cm"
                            | "kg"
                            | "inch"
                            | "cup"
                            | "litre"
                            | "minute"
                            | "hour"
                            | "quart"
                            | "pint"
                    ) =>
            {
                pieces.get_or_insert((n.0, thing));
            }
            Some(thing) if !serves && !HELPINGS.contains(&thing.as_str()) => {}
            _ => {
                portions.get_or_insert(n);
            }
        }
    }
    match (portions, pieces) {
        (Some((low, high)), Some((n, piece))) => Some(Makes {
            portions: low,
            to: high,
            pieces: Some(n),
            piece,
        }),
        (Some((low, high)), None) => Some(Makes {
            portions: low,
            to: high,
            pieces: Some(low),
            piece: "portion".into(),
        }),
        (None, Some((n, piece))) => Some(Makes {
            portions: n,
            to: None,
            pieces: Some(n),
            piece,
        }),
        (None, None) => None,
    }
}

/// `PT1H30M` in words: `1 hour 30 minutes`.
pub(super) fn iso(text: &str) -> Option<String> {
    let body = text.trim().strip_prefix(['P', 'p'])?;
    let mut minutes = 0.0;
    let mut number = String::new();
    let mut time = false;
    for c in body.chars() {
        match c {
            'T' | 't' => time = true,
            c if c.is_ascii_digit() || c == '.' => number.push(c),
            c => {
                let n: f64 = number.parse().ok()?;
                number.clear();
                minutes += n * match (c.to_ascii_uppercase(), time) {
                    ('W', _) => 7.0 * 1440.0,
                    ('D', _) => 1440.0,
                    ('H', true) => 60.0,
                    ('M', true) => 1.0,
                    ('S', true) => 1.0 / 60.0,
                    _ => return None,
                };
            }
        }
    }
    if !number.is_empty() || !(0.0..=1e6).contains(&minutes) {
        return None;
    }
    let minutes = minutes.round() as u64;
    let part = |n: u64, one: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {one}s")),
    };
    let parts: Vec<String> = [
        part(minutes / 1440, "day"),
        part(minutes % 1440 / 60, "hour"),
        part(minutes % 60, "minute"),
    ]
    .into_iter()
    .flatten()
    .collect();
    Some(if parts.is_empty() {
        "0 minutes".into()
    } else {
        parts.join(" ")
    })
}
