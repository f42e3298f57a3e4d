//! What a recipe makes, and the lengths of time of ISO 8601.

use super::line::one;
use super::words::{Word, range, words};

/// What a recipe makes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Makes {
    pub(super) portions: f64,
    pub(super) to: Option<f64>,
    pub(super) pieces: Option<f64>,
    pub(super) piece: String,
}

/// Words for helpings.
const HELPINGS: [&str; 18] = [
    "cover",
    "personne",
    "serving",
    "portion",
    "people",
    "person",
    "helping",
    "guest",
    "adult",
    "serve",
    "diner",
    "hungry",
    "child",
    "cook",
    "ration",
    "pax",
    "personen",
    "portionen",
];

/// Measures, and words that stand between a number and its thing.
const MEASURES: [&str; 14] = [
    "g", "ml", "cm", "kg", "inch", "cup", "litre", "minute", "hour", "quart", "pint", "lb", "oz",
    "gram",
];
const BETWEEN: [&str; 16] = [
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
    "mini",
];

/// The thing behind a number, how many of it, and where it ends: 'dozen small buns' is a dozen of buns.
fn thing(
    all: &[Word],
    from: usize,
    mut n: (f64, Option<f64>),
) -> (Option<String>, (f64, Option<f64>), usize) {
    let mut i = from;
    while let Some(word) = all.get(i) {
        let weighed = i > from && all[i - 1].is_word() && word.is(&MEASURES)
            || word.is(&MEASURES) && all[from..i].iter().any(|w| w.is(&["x", "×"]));
        if word.is(&["dozen"]) {
            n = (n.0 * 12.0, n.1.map(|h| h * 12.0));
        } else if word.is(&BETWEEN) || !word.is_word() || weighed {
            // '1 (9-inch) pie'
            if word.is(&["("]) {
                let close = all[i..].iter().position(|w| w.is(&[")"]));
                let Some(close) = close.filter(|n| i + n + 1 < all.len()) else {
                    break;
                };
                i += close;
            } else if word.is(&[",", ";"]) {
                break;
            }
        } else {
            let ends = [
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
            ];
            // 'bread rolls' are rolls.
            let last = all.get(i + 1).filter(|w| w.is_word() && !w.is(&ends));
            let end = i + 1 + usize::from(last.is_some());
            return (Some(one(&last.unwrap_or(word).lower)), n, end);
        }
        i += 1;
    }
    (None, n, i.max(from))
}

/// Reads `Serves 4-6`, `Makes 12 buns (6 servings)`, `1 loaf`, `4`.
pub(super) fn read(said: &[String]) -> Option<Makes> {
    let mut portions = None;
    let mut pieces: Option<(f64, String)> = None;
    for text in said {
        let all = words(text);
        // 'A crowd (10 to 12)': one is no number where another stands.
        let is_crowd = |at: usize| {
            all[at].is(&["a", "an"])
                && all.get(at + 1).is_some_and(|w| {
                    w.is(&[
                        "crowd", "group", "party", "family", "big", "large", "hungry", "small",
                    ])
                })
        };
        let only_crowds = !(0..all.len()).any(|at| !is_crowd(at) && range(&all, at).is_some());
        let mut at = 0;
        let mut first = true;
        while at < all.len() {
            let Some((low, high, end)) = range(&all, at)
                .filter(|(n, ..)| *n > 0.0 && *n <= 10_000.0 && (only_crowds || !is_crowd(at)))
            else {
                at += 1;
                continue;
            };
            let (named, n, after) = thing(&all, end, (low, high.filter(|h| *h <= 10_000.0)));
            let serves = all[at.saturating_sub(3)..at]
                .iter()
                .any(|w| w.is(&["serves", "serve", "servings", "portions", "feeds", "for"]));
            let measured = named
                .as_deref()
                .is_some_and(|thing| MEASURES.contains(&thing));
            let helps = named
                .as_deref()
                .is_some_and(|thing| HELPINGS.contains(&thing));
            match named {
                // After the first number only helpings tell more: '8 pieces (4 servings)', not '1 tin (26 cm)'.
                _ if !first && !helps && !serves => {}
                Some(thing) if !serves && !helps && !measured => {
                    pieces.get_or_insert((n.0, thing));
                }
                Some(_) if !serves && !helps => {}
                _ => {
                    portions.get_or_insert(n);
                }
            }
            first = false;
            at = after.max(end);
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
