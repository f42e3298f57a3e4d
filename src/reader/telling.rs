//! Words that tell of an order. A guess at an order of which nothing in the sentence tells is not made.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use super::finds::stem;

/// What `models/reader/telling.py` found in the corpus: a line each, the order and its words.
static TELLING: LazyLock<HashMap<&str, HashSet<&str>>> = LazyLock::new(|| {
    let lines = include_str!("../../models/reader/telling.txt").lines();
    let of = |line: &'static str| {
        let mut words = line.split(' ');
        Some((words.next()?, words.collect()))
    };
    lines.filter_map(of).collect()
});

/// Sentences of so few words lean on what was said before.
const FEW: usize = 2;

/// Each order of the frame has a word in the sentence that tells of it.
pub(super) fn tells(frame: &str, words: &[String]) -> bool {
    if words.len() <= FEW {
        return true;
    }
    let said: HashSet<String> = words.iter().map(|w| stem(w)).collect();
    frame.split('+').all(|head| {
        let head = head.split([';', '*']).next().unwrap_or(head);
        let head = if head.starts_with("scale.") {
            "scale"
        } else {
            head
        };
        let of = TELLING.get(head);
        of.is_none_or(|words| said.iter().any(|w| words.contains(w.as_str())))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::understand::name_words;

    #[test]
    fn an_order_has_a_word_of_its_own() {
        for (frame, said) in [
            ("mark_step", "let us have twice of it"),
            ("stop_timer", "my haddock has skin"),
            ("repeat;slowly=false", "the butter weighs how much"),
        ] {
            assert!(!tells(frame, &name_words(said)), "{frame}: {said}");
        }
        for (frame, said) in [
            ("scale.factor=2", "make me double of the whole lot"),
            ("mark_added*+weigh_next", "carrots in salt in what is next"),
            ("stop_timer", "kill the onion clock"),
            ("nothing_known", "any words at all"),
        ] {
            assert!(tells(frame, &name_words(said)), "{frame}: {said}");
        }
    }
}
