//! Small readings of answers.

use crate::formula::parse_window;
use crate::time::Span;
use crate::understand::numbers::{parse_duration, parse_words};

/// Words that mean none of it.
pub(super) fn is_none(text: &str) -> bool {
    matches!(
        text.trim().to_lowercase().as_str(),
        "no" | "none" | "nothing" | "nobody" | "-" | "not"
    )
}

/// A number in figures or words, above nothing.
pub(super) fn number(text: &str) -> Option<f64> {
    let text = text.trim();
    let n = text.parse::<f64>().ok().or_else(|| parse_words(text))?;
    (n.is_finite() && n > 0.0).then_some(n)
}

/// A whole number in figures or words.
pub(super) fn whole(text: &str) -> Option<usize> {
    let n = number(text)?;
    (n.fract() == 0.0 && n < 10_000.0).then_some(n as usize)
}

/// A number before a thing: `twelve rolls`, `1 loaf`.
pub(super) fn counted(text: &str) -> Option<(f64, String)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    for at in (1..words.len()).rev() {
        let head = words[..at].join(" ");
        let n = match head.as_str() {
            "a" | "an" => Some(1.0),
            head => number(head),
        };
        if let Some(n) = n {
            return Some((n, words[at..].join(" ")));
        }
    }
    None
}

/// A length of time or a window as a formula writes it: `35 min`, `thirty to forty minutes`, `8 to 16 h`.
pub(super) fn time(text: &str) -> Option<String> {
    let text = text.trim();
    if parse_window(text).is_ok() {
        return Some(text.to_owned());
    }
    if let Some(span) = parse_duration(text) {
        return written(span);
    }
    let (from, to) = text.split_once(" to ").or_else(|| text.split_once('-'))?;
    let to = parse_duration(to)?;
    let unit = text.split_whitespace().next_back().unwrap_or_default();
    let from = parse_duration(from).or_else(|| parse_duration(&format!("{from} {unit}")))?;
    let window = format!("{} to {}", written(from)?, written(to)?);
    parse_window(&window).is_ok().then_some(window)
}

/// A length of time as a formula writes it; none where no formula can have it.
pub(super) fn written(span: Span) -> Option<String> {
    let seconds = span.as_seconds();
    let (h, min, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    let parts: Vec<String> = [(h, "h"), (min, "min"), (s, "s")]
        .into_iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, unit)| format!("{n} {unit}"))
        .collect();
    let text = parts.join(" ");
    parse_window(&text).is_ok().then_some(text)
}

/// A name and a time: `first rise 1 h`, `bake for thirty five minutes`, `20 min`.
pub(super) fn named_time(text: &str) -> Option<(Option<String>, String)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    for at in 0..words.len() {
        if let Some(lasts) = time(&words[at..].join(" ")) {
            let name: Vec<&str> = words[..at]
                .iter()
                .copied()
                .filter(|w| !matches!(*w, "for" | "takes" | "timer" | "about" | "of"))
                .collect();
            let name = name.join(" ").to_lowercase();
            return Some(((!name.is_empty()).then_some(name), lasts));
        }
    }
    None
}

/// A list as it is said: `flour, half the butter and the salt`.
pub(super) fn items(text: &str) -> Vec<String> {
    text.replace(';', ",")
        .split(',')
        .flat_map(|piece| piece.split(" and "))
        .map(|piece| piece.trim().trim_start_matches("and ").to_owned())
        .filter(|piece| !piece.is_empty())
        .collect()
}

/// A part before a name: `half the butter`, `1/3 sugar`, `the rest of the flour`.
pub(super) fn part(text: &str) -> (Part, String) {
    let lower = text.trim().to_lowercase();
    let rest = |of: &str| {
        let name = of.trim_start();
        let name = name.strip_prefix("of ").unwrap_or(name);
        let name = name.strip_prefix("the ").unwrap_or(name);
        name.trim().to_owned()
    };
    // A whole word: allspice is no spice of which all goes in.
    let after = |begin: &str| lower.strip_prefix(begin).filter(|of| of.starts_with(' '));
    for begin in ["the rest", "what is left", "rest"] {
        if let Some(of) = after(begin) {
            return (Part::Rest, rest(of));
        }
    }
    for (begin, (a, b)) in [
        ("half", (1, 2)),
        ("a third", (1, 3)),
        ("one third", (1, 3)),
        ("two thirds", (2, 3)),
        ("a quarter", (1, 4)),
        ("one quarter", (1, 4)),
        ("three quarters", (3, 4)),
        ("all", (1, 1)),
    ] {
        if let Some(of) = after(begin) {
            return (Part::Of(a, b), rest(of));
        }
    }
    if let Some((fraction, name)) = lower.split_once(' ')
        && let Some((a, b)) = fraction.split_once('/')
        && let (Ok(a), Ok(b)) = (a.parse::<u32>(), b.parse::<u32>())
        && (1..=b).contains(&a)
        && b <= 100
    {
        return (Part::Of(a, b), rest(name));
    }
    (Part::All, rest(&lower))
}

/// A text says half of a thing, by its name or the last word of it.
pub(super) fn half_of(text: &str, name: &str) -> bool {
    let head = name.split_whitespace().next_back().unwrap_or(name);
    ["half the ", "half of the ", "half of "]
        .iter()
        .any(|half| {
            text.match_indices(half).any(|(at, _)| {
                let rest = &text[at + half.len()..];
                let words: Vec<&str> = rest.split(|c: char| !c.is_alphanumeric()).take(4).collect();
                rest.starts_with(name) || words.first() == Some(&head)
            })
        })
}

/// How much of an ingredient goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// All that is left of it; at first that is all.
    All,
    /// What is left, said so.
    Rest,
    /// So much of the whole.
    Of(u32, u32),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_as_cooks_say_them() {
        for (said, written) in [
            ("35 min", Some("35 min")),
            ("thirty five minutes", Some("35 min")),
            ("an hour and a half", Some("1 h 30 min")),
            ("thirty to forty minutes", Some("30 min to 40 min")),
            ("8 to 16 h", Some("8 to 16 h")),
            ("golden", None),
            ("", None),
        ] {
            assert_eq!(time(said).as_deref(), written, "{said}");
        }
        assert_eq!(
            named_time("first rise one hour"),
            Some((Some("first rise".into()), "1 h".into()))
        );
        assert_eq!(
            named_time("bake for 30-35 min"),
            Some((Some("bake".into()), "30-35 min".into()))
        );
        assert_eq!(named_time("20 min"), Some((None, "20 min".into())));
        assert_eq!(named_time("until golden"), None);
    }

    #[test]
    fn parts_of_an_ingredient() {
        assert_eq!(part("half the butter"), (Part::Of(1, 2), "butter".into()));
        assert_eq!(part("half of the sugar"), (Part::Of(1, 2), "sugar".into()));
        assert_eq!(part("1/3 flour"), (Part::Of(1, 3), "flour".into()));
        assert_eq!(part("the rest of the milk"), (Part::Rest, "milk".into()));
        assert_eq!(part("the salt"), (Part::All, "salt".into()));
        assert_eq!(part("allspice"), (Part::All, "allspice".into()));
        assert_eq!(part("all of the milk"), (Part::Of(1, 1), "milk".into()));
        assert_eq!(
            items("flour, half the butter and the salt"),
            ["flour", "half the butter", "the salt"]
        );
        assert_eq!(counted("twelve rolls"), Some((12.0, "rolls".into())));
        assert_eq!(counted("a loaf"), Some((1.0, "loaf".into())));
        assert_eq!(counted("soup"), None);
    }
}
