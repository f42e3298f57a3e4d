//! What is found in any words by the rules of the grammar, whatever the sentence around it: amounts, times, names.

use serde::Serialize;

use super::expr::NameList;
use super::lexicon::Lexicon;
use super::matcher::Matcher;
use super::numbers::say_number;
use super::text::{Token, tokens};
use crate::order::slots::Value;
use crate::time::ClockTime;

/// What kind of thing a stretch of words names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FoundKind {
    /// A length of time.
    Duration,
    /// A clock time.
    Clock,
    /// A number of a unit.
    Amount,
    /// A unit.
    Unit,
    /// A temperature with its scale.
    Heat,
    /// A percentage.
    Percent,
    /// A part of something: `half`.
    Fraction,
    /// A number.
    Number,
    /// An ingredient of the formula.
    Own,
    /// An ingredient of the tables.
    Stuff,
    /// A timer's name.
    Timer,
    /// A food with a safe temperature.
    Food,
    /// The name by which the program is called.
    Call,
    /// A step, by a word of its title that no other title has; the value is its number from 1.
    Step,
}

/// What it stands for.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum FoundValue {
    /// A number; a length of time in milliseconds.
    Number(f64),
    /// A name.
    Text(String),
    /// A number of a unit, or of a scale of heat.
    Amount(f64, Option<&'static str>),
    /// A clock time.
    Clock(ClockTime),
}

/// A stretch of words, `from` to before `to`, that names something.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mention {
    /// The first word.
    pub from: usize,
    /// The word after the last.
    pub to: usize,
    /// What kind of thing it names.
    pub kind: FoundKind,
    /// What it stands for.
    pub value: FoundValue,
}

const RULES: &[(&str, FoundKind)] = &[
    ("duration", FoundKind::Duration),
    ("more_time", FoundKind::Duration),
    ("clock", FoundKind::Clock),
    ("amount", FoundKind::Amount),
    ("unit", FoundKind::Unit),
    ("scaled_heat", FoundKind::Heat),
    ("percent", FoundKind::Percent),
    ("fraction", FoundKind::Fraction),
    ("number", FoundKind::Number),
];

const LISTS: &[(NameList, FoundKind)] = &[
    (NameList::Own, FoundKind::Own),
    (NameList::Stuff, FoundKind::Stuff),
    (NameList::Timer, FoundKind::Timer),
    (NameList::Food, FoundKind::Food),
    (NameList::Call, FoundKind::Call),
];

/// The words of a text, typed numbers in words, and everything found in them; of one kind only the longest finds.
pub fn spans(text: &str, lexicon: &Lexicon) -> (Vec<String>, Vec<Mention>) {
    let tokens = tokens(text);
    let words = tokens
        .iter()
        .map(|t| match t {
            Token::Word(w) => w.clone(),
            Token::Number(n) => say_number(*n),
            Token::Clock(h, m) => {
                format!("{} {}", say_number((*h).into()), say_number((*m).into()))
            }
        })
        .collect();
    let mut matcher = Matcher::new(lexicon, &tokens);
    let mut found: Vec<(u32, Mention)> = Vec::new();
    for from in 0..tokens.len() {
        for (rule, kind) in RULES {
            for (to, cost, value) in matcher.at(rule, from) {
                if let Some(value) = shown(value) {
                    found.push((
                        cost,
                        Mention {
                            from,
                            to,
                            kind: *kind,
                            value,
                        },
                    ));
                }
            }
        }
        for (list, kind) in LISTS {
            for (length, cost, value) in lexicon.names(*list).at(&tokens[from..]) {
                let value = FoundValue::Text(value.to_owned());
                found.push((
                    cost,
                    Mention {
                        from,
                        to: from + length,
                        kind: *kind,
                        value,
                    },
                ));
            }
        }
    }
    let all: Vec<(usize, usize, FoundKind)> =
        found.iter().map(|(_, f)| (f.from, f.to, f.kind)).collect();
    found.retain(|(_, f)| {
        !all.iter().any(|(from, to, kind)| {
            *kind == f.kind && *from <= f.from && f.to <= *to && (*to - *from) > (f.to - f.from)
        })
    });
    found.sort_by_key(|(cost, f)| (f.from, f.to, f.kind as u8, *cost));
    let mut once: Vec<Mention> = Vec::new();
    for (_, f) in found {
        if !once.contains(&f) {
            once.push(f);
        }
    }
    (words, once)
}

fn shown(value: Value) -> Option<FoundValue> {
    Some(match value {
        Value::Num(n) => FoundValue::Number(n),
        Value::Span(s) => FoundValue::Number(s.as_millis() as f64),
        Value::Amount(n, unit) => FoundValue::Amount(n, Some(unit)),
        Value::Heat(n, scale) => FoundValue::Amount(n, scale),
        Value::Clock(c) => FoundValue::Clock(c),
        Value::Sym(s) => FoundValue::Text(s.to_owned()),
        Value::Text(t) => FoundValue::Text(t),
        Value::Flag | Value::Order(_) => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_and_names_are_found_in_any_words() {
        let lexicon = Lexicon::without_formula().with_timers([(1, "bake".to_owned())]);
        let (words, found) = spans("uh give the bake another 10 minutes would you", &lexicon);
        assert_eq!(words[5], "ten");
        let of = |kind| found.iter().find(|f| f.kind == kind).expect("found");
        assert_eq!(of(FoundKind::Duration).value, FoundValue::Number(600_000.0));
        assert_eq!(
            (of(FoundKind::Duration).from, of(FoundKind::Duration).to),
            (4, 7)
        );
        assert_eq!(
            of(FoundKind::Timer).value,
            FoundValue::Text("bake".to_owned())
        );
    }
}
