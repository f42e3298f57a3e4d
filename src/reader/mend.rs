//! What fills a slot by rule rather than by the network: what is put right, what stands in for what, labelled numbers, and
//! the words of a reminder.

use crate::understand::numbers::parse_words;
use crate::understand::{FoundKind, FoundValue, Mention};

/// Words of a request to be told something; they are no part of what is to be told.
const TELLING: &[&str] = &[
    "remind", "tell", "call", "shout", "say", "yell", "holler", "poke", "nudge", "ping", "warn",
    "remember", "know", "reminder", "shouting", "inform", "advise", "ring", "alert", "notify",
    "beep", "buzz",
];
/// After these the text begins; of several it is the last that is followed by more.
const LEADING: &[&str] = &[
    "me", "us", "out", "at", "to", "that", "so", "i", "can", "and", "for", "please", "kindly",
    "na", "it", "is", "time", "must", "have", "got", "need", "should", "will", "of", "about",
    "when", "then", "you", "let", "would", "could", "a", "from", "now", "my", "we", "later", "ah",
    "the", "give",
];

/// The words of a reminder or a cue: what is left of the sentence when the time and the asking are taken away.
pub(super) fn told(words: &[String], times: &[(usize, usize)]) -> Option<String> {
    let in_time = |k: usize| times.iter().any(|(a, b)| (*a..*b).contains(&k));
    let asks = (0..words.len()).filter(|k| TELLING.contains(&words[*k].as_str()));
    let from = asks.min().map_or(0, |k| k + 1);
    let skip = |mut k: usize, end: usize| {
        while k < end && (in_time(k) || LEADING.contains(&words[k].as_str())) {
            k += 1;
        }
        k
    };
    let mut start = skip(from, words.len());
    // 'When there are five minutes left on the rise so that I can turn it': what follows 'so' or 'to'.
    if let Some((_, after)) = times.iter().find(|(a, _)| *a >= from && *a < start)
        && let Some(k) = (*after..words.len())
            .find(|k| ["so", "to", "that", "then"].contains(&words[*k].as_str()))
    {
        start = skip(k, words.len());
    }
    // Up to a time that comes after: 'to stir the soup in ten minutes'.
    let end = (start..words.len())
        .find(|k| in_time(*k))
        .unwrap_or(words.len());
    let mut end = end;
    while end > start
        && [
            "in", "at", "after", "when", "with", "by", "once", "for", "on", "there", "has",
            "please",
        ]
        .contains(&words[end - 1].as_str())
        && (end < words.len() || words[end - 1] == "please")
    {
        end -= 1;
    }
    (end > start).then(|| words[start..end].join(" "))
}

/// Words that tell when, and nothing of what.
const ABOUT_TIME: &[&str] = &[
    "there", "after", "first", "left", "before", "with", "once", "go",
];

/// Words that alone are nothing to be reminded of.
pub(super) fn says_little(text: &str) -> bool {
    let words: Vec<&str> = text.split(' ').collect();
    words.len() < 2
        || words
            .iter()
            .all(|w| LEADING.contains(w) || TELLING.contains(w) || ABOUT_TIME.contains(w))
}

/// In a question of two things, which is missing and which is there: `(missing, there)`.
pub(super) fn swap(words: &[String], found: &[Mention]) -> Option<(String, String)> {
    let mut things: Vec<(usize, usize, &str)> = Vec::new();
    let mut stuff: Vec<&Mention> = found
        .iter()
        .filter(|f| f.kind == FoundKind::Stuff)
        .collect();
    stuff.sort_by_key(|f| (std::cmp::Reverse(f.to - f.from), f.from));
    for f in stuff {
        if let FoundValue::Text(name) = &f.value
            && !things
                .iter()
                .any(|(a, b, n)| f.from < *b && *a < f.to || *n == name)
        {
            things.push((f.from, f.to, name));
        }
    }
    things.sort_unstable();
    let [a, b] = things[..] else { return None };
    let word = |k: usize| words.get(k).map_or("", String::as_str);
    // The words before a thing, as far back as the other one.
    let missing = |(from, to, _): (usize, usize, &str), other: (usize, usize, &str)| {
        let low = if other.1 <= from { other.1 } else { 0 };
        let before: Vec<&str> = (low.max(from.saturating_sub(4))..from).map(word).collect();
        let high = if other.0 >= to { other.0 } else { words.len() };
        let after: Vec<&str> = (to..high.min(to + 5)).map(word).collect();
        let pair = |x: &str, y: &str| before.windows(2).any(|p| p == [x, y]);
        let near = |w: &str| before.iter().rev().take(2).any(|b| *b == w);
        before.iter().any(|w| {
            [
                "no", "nee", "nae", "without", "not", "lack", "lacking", "never", "replace",
            ]
            .contains(w)
        }) || pair("instead", "of")
            || pair("place", "of")
            || pair("out", "of")
            || pair("work", "of")
            || pair("sub", "for")
            || pair("substitute", "for")
            || near("for") && other.1 <= from
            || after
                .iter()
                .any(|w| ["finished", "finish", "gone", "empty"].contains(w))
            || after
                .windows(2)
                .any(|p| p == ["ran", "out"] || p == ["run", "out"])
            || after
                .windows(2)
                .any(|p| p == ["not", "have"] || p == ["is", "not"] || p == ["not", "there"])
    };
    match (missing(a, b), missing(b, a)) {
        (true, false) => Some((a.2.to_owned(), b.2.to_owned())),
        (false, true) => Some((b.2.to_owned(), a.2.to_owned())),
        _ => None,
    }
}

/// The number that follows each of these labels, before the next label.
pub(super) fn labelled(
    words: &[String],
    found: &[Mention],
    labels: &[&[&str]],
) -> Option<Vec<f64>> {
    let place = |label: &[&str]| words.iter().position(|w| label.contains(&w.as_str()));
    let places: Vec<usize> = labels.iter().map(|l| place(l)).collect::<Option<_>>()?;
    places
        .iter()
        .map(|at| {
            let next = places.iter().filter(|p| *p > at).min();
            let end = next.copied().unwrap_or(words.len());
            (*at + 1..end).find_map(|k| {
                found.iter().find_map(|f| match (f.kind, &f.value) {
                    (FoundKind::Number, FoundValue::Number(n)) if f.from == k => Some(*n),
                    _ => None,
                })
            })
        })
        .collect()
}

/// How many times the size was said to be; nothing where the words do not tell for certain.
pub(super) fn factor(words: &[String]) -> Option<f64> {
    let text = format!(" {} ", words.join(" "));
    let says = |list: &[&str]| list.iter().any(|w| text.contains(&format!(" {w} ")));
    if says(&["half as much again", "half again"]) {
        return Some(1.5);
    }
    if says(&["times more", "time more"]) {
        return None;
    }
    if says(&[
        "one and a half",
        "one and half",
        "time and a half",
        "batch and a half",
        "once and a half",
        "half more",
        "one point five",
    ]) {
        return Some(1.5);
    }
    if says(&["three quarters", "three quarter"]) {
        return Some(0.75);
    }
    if says(&[
        "three times",
        "times three",
        "triple",
        "treble",
        "threefold",
        "by three",
        "thrice",
    ]) {
        return Some(3.0);
    }
    if says(&[
        "double",
        "twice",
        "two times",
        "times two",
        "twofold",
        "by two",
    ]) {
        return Some(2.0);
    }
    if says(&["halve", "half"]) {
        return Some(0.5);
    }
    None
}

/// A number in two: `not forty fifteen` has forty, which was there before, and fifteen.
pub(super) fn beside(words: &[String], old: f64) -> Option<f64> {
    (1..words.len()).find_map(|cut| {
        let left = parse_words(&words[..cut].join(" "))?;
        let right = parse_words(&words[cut..].join(" "))?;
        if (left - old).abs() < 1e-9 {
            Some(right)
        } else if (right - old).abs() < 1e-9 {
            Some(left)
        } else {
            None
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::kitchen_lexicon;
    use crate::understand::spans;

    fn words(text: &str) -> Vec<String> {
        text.split(' ').map(str::to_owned).collect()
    }

    #[test]
    fn the_missing_thing_and_the_one_that_is_there() {
        let lexicon = kitchen_lexicon();
        let of = |text: &str| {
            let (words, found) = spans(text, &lexicon);
            swap(&words, &found)
        };
        let pair = |a: &str, b: &str| Some((a.to_owned(), b.to_owned()));
        assert_eq!(
            of("can i use honey instead of butter"),
            pair("butter", "honey")
        );
        assert_eq!(of("honey is there but no butter"), pair("butter", "honey"));
        assert_eq!(
            of("butter is finished can honey work"),
            pair("butter", "honey")
        );
        assert_eq!(
            of("honey for the butter will it do"),
            pair("butter", "honey")
        );
        assert_eq!(of("honey and butter"), None);
    }

    #[test]
    fn the_words_of_a_reminder() {
        let of = |text: &str, times: &[(usize, usize)]| told(&words(text), times);
        assert_eq!(
            of("remind me to stir the soup in ten minutes", &[(7, 9)]).as_deref(),
            Some("stir the soup")
        );
        assert_eq!(
            of("in ten minutes tell me to call my sister please", &[(1, 3)]).as_deref(),
            Some("call my sister")
        );
        assert_eq!(of("remind me in ten minutes", &[(3, 5)]), None);
    }

    #[test]
    fn a_number_beside_the_one_that_was_there() {
        assert_eq!(beside(&words("forty fifteen"), 40.0), Some(15.0));
        assert_eq!(beside(&words("eight twelve"), 8.0), Some(12.0));
        assert_eq!(beside(&words("twenty five"), 40.0), None);
    }

    #[test]
    fn a_size_in_loose_words() {
        assert_eq!(
            factor(&words("half as much again of everything")),
            Some(1.5)
        );
        assert_eq!(factor(&words("twice as much as it says")), Some(2.0));
        assert_eq!(factor(&words("two times more")), None);
    }
}
