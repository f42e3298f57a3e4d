//! What the network is given: the words, what was found in them, and the facts of the situation.

use std::collections::BTreeSet;

use serde::Serialize;

use super::finds::{self, stem};
use super::situation::{Doing, Printed, ReaderSituation};
use crate::understand::{FoundKind, FoundValue, Lexicon, Mention, name_words, spans};

/// Words of titles that name no step.
const EMPTY: &[&str] = &[
    "the", "a", "an", "and", "of", "in", "it", "all", "to", "up", "out", "with", "for", "on",
    "off", "down", "rest", "things", "first", "second", "next", "step", "together", "gently", "is",
    "not",
];

/// One utterance as the network sees it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Features {
    /// The words.
    pub words: Vec<String>,
    /// For each word, what it is part of.
    pub tags: Vec<Vec<String>>,
    /// The facts of the situation.
    pub facts: Vec<String>,
    /// What was found.
    pub found: Vec<Mention>,
}

/// Reads an utterance in its situation.
pub fn input(text: &str, lexicon: &Lexicon, situation: &ReaderSituation) -> Features {
    let (words, mut found) = spans(&finds::with_endings(text, situation, lexicon), lexicon);
    finds::add(&words, &mut found, lexicon, situation);
    found.extend(steps(&words, &situation.titles));
    let mut tags = vec![BTreeSet::new(); words.len()];
    for f in &found {
        let name = kind_name(f.kind);
        for (place, tag) in tags[f.from..f.to].iter_mut().enumerate() {
            tag.insert(if place == 0 {
                format!("{name}^")
            } else {
                name.to_owned()
            });
            if let FoundValue::Text(value) = &f.value {
                for near in nearness(f.kind, value, situation) {
                    tag.insert(near.to_owned());
                }
            }
        }
    }
    let tags = tags.into_iter().map(|t| t.into_iter().collect()).collect();
    Features {
        words,
        tags,
        facts: facts(situation),
        found,
    }
}

fn kind_name(kind: FoundKind) -> &'static str {
    match kind {
        FoundKind::Duration => "duration",
        FoundKind::Clock => "clock",
        FoundKind::Amount => "amount",
        FoundKind::Unit => "unit",
        FoundKind::Heat => "heat",
        FoundKind::Percent => "percent",
        FoundKind::Fraction => "fraction",
        FoundKind::Number => "number",
        FoundKind::Own => "own",
        FoundKind::Stuff => "stuff",
        FoundKind::Timer => "timer",
        FoundKind::Food => "food",
        FoundKind::Call => "call",
        FoundKind::Step => "step",
    }
}

/// What a name has to do with the situation.
fn nearness(kind: FoundKind, value: &str, s: &ReaderSituation) -> Vec<&'static str> {
    let mut out = Vec::new();
    let same = |name: &str| name == value || name.split(' ').next_back() == Some(value);
    match kind {
        FoundKind::Timer => {
            if s.timers.iter().any(|t| same(&t.name)) {
                out.push("runs");
            }
            if s.rings.as_deref().is_some_and(same) {
                out.push("rings");
            }
            if s.offered.iter().any(|t| same(t)) {
                out.push("offered");
            }
        }
        FoundKind::Own => {
            if s.weighing.as_deref() == Some(value) {
                out.push("waited_for");
            }
            if last_order(s).and_then(|o| o.text("ingredient")) == Some(value) {
                out.push("said_last");
            }
            if s.asked
                .iter()
                .flat_map(|a| &a.readings)
                .any(|o| o.text("ingredient") == Some(value))
            {
                out.push("asked_about");
            }
        }
        _ => {}
    }
    out
}

fn last_order(s: &ReaderSituation) -> Option<&Printed> {
    s.last.as_ref()?.order.as_ref()
}

fn facts(s: &ReaderSituation) -> Vec<String> {
    let mut out = Vec::new();
    match &s.asked {
        Some(asked) => {
            let kind = serde_json::to_value(asked.kind).unwrap_or_default();
            out.push(format!("asked={}", kind.as_str().unwrap_or_default()));
            if let Some(order) = &asked.order {
                out.push(format!("asked_order={}", order.intent));
            }
            if let Some(order) = asked.readings.first() {
                out.push(format!("asked_which={}", order.intent));
            }
        }
        None => out.push("asked=none".to_owned()),
    }
    if s.rings.is_some() {
        out.push("rings".to_owned());
    }
    if s.weighing.is_some() {
        out.push("weighing".to_owned());
    }
    out.push(format!("timers={}", s.timers.len().min(2)));
    if s.timers.iter().any(|t| t.paused) {
        out.push("held".to_owned());
    }
    match last_order(s) {
        Some(order) => {
            out.push(format!("last={}", order.intent));
            if order.intent == "scale"
                && let Some(by) = order.slots.get("by").and_then(|b| b.as_object())
            {
                out.extend(by.keys().map(|k| format!("last_by={k}")));
            }
        }
        None => out.push("last=none".to_owned()),
    }
    out.push(
        match s.state {
            Doing::Silent => "silent",
            Doing::Reading => "reading",
            Doing::Asleep => "asleep",
        }
        .to_owned(),
    );
    if !s.offered.is_empty() {
        out.push("offers".to_owned());
    }
    out
}

/// Steps named by a word of their title that no other title has.
fn steps(words: &[String], titles: &[String]) -> Vec<Mention> {
    let telling: Vec<Vec<String>> = titles
        .iter()
        .map(|t| {
            name_words(t)
                .into_iter()
                .map(|w| stem(&w))
                .filter(|w| !EMPTY.contains(&w.as_str()))
                .collect()
        })
        .collect();
    let owner = |word: &str| {
        let stem = stem(word);
        let mut owners = telling
            .iter()
            .enumerate()
            .filter(|(_, t)| t.contains(&stem));
        let first = owners.next()?;
        owners.next().is_none().then_some(first.0)
    };
    let mut out: Vec<Mention> = Vec::new();
    // A whole title, word by word, goes before a word of it.
    for (at, title) in titles.iter().enumerate() {
        let title: Vec<String> = name_words(title).iter().map(|w| stem(w)).collect();
        for from in 0..words.len().saturating_sub(title.len().max(1) - 1) {
            if title
                .iter()
                .enumerate()
                .all(|(k, w)| stem(&words[from + k]) == *w)
            {
                out.push(step(from, from + title.len(), at));
            }
        }
    }
    for (from, word) in words.iter().enumerate() {
        if out.iter().any(|f| f.from <= from && from < f.to) {
            continue;
        }
        if let Some(at) = owner(word) {
            out.push(step(from, from + 1, at));
        }
    }
    out
}

fn step(from: usize, to: usize, at: usize) -> Mention {
    Mention {
        from,
        to,
        kind: FoundKind::Step,
        value: FoundValue::Number(at as f64 + 1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_is_found_by_a_telling_word() {
        let titles = [
            "Mix".to_owned(),
            "First rise".to_owned(),
            "Second rise".to_owned(),
            "Bake".to_owned(),
        ];
        let words = |t: &str| t.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let of = |t: &str| {
            steps(&words(t), &titles)
                .into_iter()
                .map(|f| f.value)
                .collect::<Vec<_>>()
        };
        assert_eq!(of("take me to the baking"), [FoundValue::Number(4.0)]);
        assert_eq!(of("go to the second rise"), [FoundValue::Number(3.0)]);
        assert!(of("is it going to rise").is_empty());
    }
}
