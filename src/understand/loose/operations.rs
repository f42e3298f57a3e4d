//! Words that make another sum of a question: a frame that does not reckon with such a word has no answer to it.

use super::clock::DAYS;
use super::fact::What;
use super::heard::Heard;
use super::item::Item;

/// What a word does to a sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Operation {
    /// Something has gone already: 'what is left'.
    Left,
    /// Something is lost: peel, bones, what the oven takes.
    Lost,
    /// Something comes on top.
    More,
    /// A strength by the whole weight, or one that is made weaker.
    Strength,
    /// Twice, half as much again.
    Fold,
    /// So much for each spoon, cup or kilo, by the asker's own word.
    Rate,
    /// Hours of the day and days of the week.
    Clock,
}

use Operation::{Clock, Fold, Left, Lost, More, Rate, Strength};

/// Each with the words that tell of it.
const WORDS: &[(Operation, &[&str])] = &[
    (
        Left,
        &[
            "already",
            "rest of the water",
            "rest of the flour",
            "go into the final",
            "into the final",
        ],
    ),
    (
        More,
        &["another", "spare", "on top", "for safety", "in reserve"],
    ),
    (
        Strength,
        &[
            "total weight",
            "by total",
            "of the total",
            "dilute",
            "diluted",
            "dilution",
            "ppm",
            "strength",
            "solution",
            "concentrate",
        ],
    ),
    (
        Fold,
        &[
            "double",
            "doubled",
            "doubling",
            "twice",
            "triple",
            "tripled",
            "treble",
            "quadruple",
            "halve",
            "halved",
            "halving",
            "half again",
            "as much again",
        ],
    ),
    (Clock, &DAYS),
    (
        Clock,
        &[
            "o'clock",
            "oclock",
            "last night",
            "this morning",
            "midnight",
            "noon",
        ],
    ),
];

/// Where a share of something is told, these say that it is lost or what is left of it.
const LOSING: [&str; 10] = [
    "peel", "trim", "wast", "yield", "shrink", "evapor", "bone", "usable", "carve", "gut",
];

/// What the words of a question do to its sum.
pub(super) fn operations(h: &Heard) -> Vec<Operation> {
    let shared = h.facts.iter().any(|f| f.what == What::Percent);
    let mut found: Vec<Operation> = WORDS
        .iter()
        .filter(|(operation, words)| h.says_any(words) && (*operation != Strength || shared))
        // Double cream is twice nothing.
        .filter(|(operation, _)| {
            *operation != Fold || !h.says_any(&["double cream", "double boiler", "double zero"])
        })
        .map(|(operation, _)| *operation)
        .collect();
    let begins = |with: &&str| h.words.iter().any(|w| w.starts_with(*with));
    // 'There is only 315 ml left': so much is there.
    let is_there = |at: usize| {
        let number = |at: usize| h.items.get(at).is_some_and(Item::is_number);
        let named = matches!(at.checked_sub(1).map(|i| &h.items[i]), Some(Item::Stuff(_)));
        at > 0 && number(at - 1)
            || named && (number(at.wrapping_sub(2)) || number(at.wrapping_sub(3)))
    };
    let left = |at: usize| h.items[at] == Item::Tag("left") && !is_there(at);
    if h.has("final") || (0..h.items.len()).any(left) {
        found.push(Left);
    }
    // 'It weighs so much after trimming': nothing is lost any more.
    let is_done = h.says_any(&[
        "after trimming",
        "after peeling",
        "once trimmed",
        "once peeled",
    ]) && !h.any(&["loss", "~want"]);
    if h.has("loss") && (shared || h.has("percent"))
        || shared && !is_done && LOSING.iter().any(begins)
    {
        found.push(Lost);
    }
    if h.has("~more") {
        found.push(More);
    }
    let weighs = |at: usize| h.facts.iter().any(|f| f.at == at && f.what == What::Mass);
    let measure = |item: Option<&Item>| matches!(item, Some(Item::Unit(u)) if ["tsp", "tbsp", "cup", "kg", "lb"].contains(&u.rsplit(' ').next().unwrap_or_default()));
    let rated = |at: usize| {
        weighs(at)
            && (measure(h.items.get(at + 1))
                || matches!(h.items.get(at + 1), Some(Item::Tag("~per" | "~each")))
                    && measure(h.items.get(at + 2)))
    };
    if (0..h.items.len()).any(rated) {
        found.push(Rate);
    }
    found.sort_by_key(|o| *o as u8);
    found.dedup();
    found
}
