//! What a typed question asks for, and what it says beside.

use super::fact::{Fact, is_flour};
use super::heard::Heard;
use super::item::Item;

impl Heard {
    /// The numbers that are of this kind.
    pub(super) fn facts_of(&self, is: impl Fn(&Fact) -> bool) -> Vec<&Fact> {
        self.facts.iter().filter(|f| is(f)).collect()
    }

    /// Were these words said, one behind the other?
    pub(super) fn says(&self, words: &str) -> bool {
        self.text.contains(&format!(" {words} "))
    }

    /// Was one of them said?
    pub(super) fn says_any(&self, all: &[&str]) -> bool {
        all.iter().any(|words| self.says(words))
    }

    /// What is asked for by its place: behind 'how much' and the like, or in a last clause without a number.
    pub(super) fn wants(&self) -> Vec<&'static str> {
        let named = |items: &[Item]| {
            items
                .iter()
                .take_while(|item| !item.is_number() && **item != Item::Stop)
                .filter_map(|item| match item {
                    Item::Stuff(name) => Some(*name),
                    Item::Tag(tag) if !tag.starts_with('~') => Some(*tag),
                    _ => None,
                })
                .collect::<Vec<_>>()
        };
        let asks = |item: &Item| matches!(item, Item::Tag("~howmuch" | "~howmany" | "~which"));
        if let Some(at) = self.items.iter().rposition(asks) {
            let found = named(&self.items[at + 1..]);
            if !found.is_empty() {
                return found;
            }
        }
        // 'Grams of flour, grams of water?': the last clauses that have no number.
        let clauses: Vec<&[Item]> = self.items.split(|i| *i == Item::Stop).collect();
        let first = clauses
            .iter()
            .rposition(|clause| clause.iter().any(Item::is_number))
            .map_or(0, |at| at + 1);
        clauses[first..]
            .iter()
            .flat_map(|clause| named(clause))
            .collect()
    }

    /// Ingredients that no number is of, in order.
    pub(super) fn apart(&self) -> Vec<&'static str> {
        let mut taken: Vec<&str> = self.facts.iter().filter_map(|f| f.stuff).collect();
        let mut apart = Vec::new();
        for name in self.stuffs() {
            match taken.iter().position(|t| *t == name) {
                Some(at) => {
                    taken.remove(at);
                }
                None if !apart.contains(&name) => apart.push(name),
                None => {}
            }
        }
        apart
    }

    /// Is this the first thing that is asked for?
    pub(super) fn wants_first(&self, name: &str) -> bool {
        self.wants()
            .first()
            .is_some_and(|w| *w == name || name == "flour" && is_flour(w))
    }

    /// Is this asked for, by its place or as the only ingredient without a number?
    pub(super) fn asks_for(&self, name: &str) -> bool {
        let is = |w: &&str| **w == *name || name == "flour" && is_flour(w);
        let wants = self.wants();
        let things: Vec<&&str> = wants.iter().filter(|w| **w != "baked").collect();
        match things.first() {
            Some(first) => is(first),
            None => self.apart().first().is_some_and(is),
        }
    }
}
