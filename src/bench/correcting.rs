//! 'No sorry, eight hundred and fifty': what was just told, with another amount.

use super::Bench;
use super::taken::Taken;
use crate::order::Order;
use crate::understand::{Understood, name_words, parse};

/// Words of a correction that are no part of what is right.
const LEADING: &[&str] = &[
    "no",
    "nope",
    "sorry",
    "oh",
    "oops",
    "i",
    "meant",
    "mean",
    "said",
    "it",
    "was",
    "is",
    "should",
    "be",
    "have",
    "been",
    "actually",
    "rather",
    "make",
    "that",
    "change",
    "to",
    "wait",
    "wrong",
    "correction",
    "only",
    "just",
    "well",
    "put",
    "in",
    "really",
    "not",
];
/// One of these puts something right.
const CORRECTING: &[&str] = &[
    "no",
    "nope",
    "sorry",
    "oops",
    "meant",
    "mean",
    "actually",
    "rather",
    "change",
    "wrong",
    "correction",
];
/// What follows is what was wrong.
const BUT_NOT: &[&str] = &["not", "instead", "rather"];

impl Bench {
    /// The last order again with what is said now in place of its amount or hour; nothing for what puts nothing right.
    pub(super) fn as_correction(&self, said: &str) -> Option<Order> {
        let words = name_words(said);
        let lead = words
            .iter()
            .take_while(|w| LEADING.contains(&w.as_str()))
            .count();
        let (before, right) = words.split_at(lead);
        if !before.iter().any(|w| CORRECTING.contains(&w.as_str())) {
            return None;
        }
        let end = right
            .iter()
            .position(|w| BUT_NOT.contains(&w.as_str()))
            .unwrap_or(right.len());
        let right = right[..end].join(" ");
        if right.is_empty() {
            return None;
        }
        let read = |sentence: String| match parse(&sentence, &self.lexicon) {
            Understood::Order(order) => Some(order),
            _ => None,
        };
        match self.dialogue.last_order()? {
            Order::PutIn { ingredient, .. } => {
                let at = self.formula().find(ingredient)?;
                let name = &self.formula().ingredients[at].name;
                let ways = [
                    format!("i put in {right}"),
                    format!("i put in {right} of {name}"),
                    format!("i put in {right} grams of {name}"),
                ];
                let same = |order: &Order| matches!(order, Order::PutIn { ingredient: other, .. } if other == ingredient);
                ways.into_iter().filter_map(read).find(same)
            }
            Order::EatAt { .. } => read(format!("we eat at {right}"))
                .filter(|order| matches!(order, Order::EatAt { .. })),
            _ => None,
        }
    }

    /// What is put right, as it is taken.
    pub(super) fn taken_as_correction(&self, said: &str) -> Option<Taken> {
        let order = self.as_correction(said)?;
        Some(Taken::Order { order })
    }
}
