//! The numbers of a typed question, each with what it measures and what it is of.

use super::item::Item;
use crate::measure::{Kind, Region, Unit, ingredients};

/// What a number measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum What {
    Mass,
    Volume,
    /// A thing that is counted: a stick, a packet, a clove.
    Thing,
    /// A number without a unit.
    Bare,
    Percent,
    Heat(Option<&'static str>),
    /// Minutes.
    Time,
    /// Centimetres.
    Length,
    /// Parts of flour; the number is parts of water.
    Ratio(f64),
}

/// One number of a question.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fact {
    pub(super) n: f64,
    pub(super) what: What,
    /// Its unit by its symbol, where it has one.
    pub(super) unit: Option<String>,
    /// The ingredient that it is of.
    pub(super) stuff: Option<&'static str>,
    /// The telling word that it is of: `people`, `dough`, `hydration`.
    pub(super) noun: Option<&'static str>,
    /// Its place among the pieces.
    pub(super) at: usize,
    /// Which clause it stands in.
    pub(super) clause: usize,
}

impl Fact {
    /// Grams; what is measured needs an ingredient whose weight is known, and is water where nothing is named.
    pub(super) fn grams(&self) -> Option<f64> {
        let unit = Unit::find(self.unit.as_deref()?, Region::Metric).ok()?;
        match (unit.kind(), self.stuff) {
            (Kind::Mass, _) => Some(self.n * unit.size()),
            (Kind::Volume, None | Some("water")) => Some(self.n * unit.size()),
            (Kind::Volume, Some(name)) => {
                Some(self.n * unit.size() * ingredients().find(name)?.g_per_ml?)
            }
            (Kind::Count, _) => None,
        }
    }

    /// Grams, or the number where it has no unit.
    pub(super) fn grams_or_bare(&self) -> Option<f64> {
        if self.what == What::Bare {
            Some(self.n)
        } else {
            self.grams()
        }
    }

    /// Grams, millilitres, minutes or the number itself: what two numbers of one kind are divided by.
    pub(super) fn level(&self) -> f64 {
        let unit = self.unit.as_deref();
        match unit.and_then(|unit| Unit::find(unit, Region::Metric).ok()) {
            Some(unit) if unit.kind() != Kind::Count => self.n * unit.size(),
            _ => self.n,
        }
    }

    /// Is it a mass or a volume?
    pub(super) fn is_amount(&self) -> bool {
        matches!(self.what, What::Mass | What::Volume)
    }

    /// Is it of flour, of whatever kind?
    pub(super) fn of_flour(&self) -> bool {
        self.stuff.is_some_and(is_flour)
    }

    /// Is its thing one of these telling words?
    pub(super) fn of(&self, nouns: &[&str]) -> bool {
        self.noun.is_some_and(|n| nouns.contains(&n))
    }
}

/// Is it a flour?
pub(super) fn is_flour(name: &str) -> bool {
    ingredients().find(name).is_some_and(|row| row.is_flour)
}

/// Telling words that a number can be of.
const NOUNS: &[&str] = &[
    "piece",
    "people",
    "dough",
    "starter",
    "poolish",
    "biga",
    "sponge",
    "preferment",
    "baked",
    "egg",
    "yolk",
    "white",
    "leaf",
    "hydration",
    "loss",
    "friction",
    "room",
    "tap",
    "ice",
    "seed",
    "selfraising",
    "~oil",
    "bloom",
    "~food",
    "gelatine",
    "tin",
    "round",
    "square",
    "rectangle",
    "loaftin",
    "ring",
    "left",
    "pastawater",
    "~plate",
];

/// What may stand between a number and the thing that it is of.
fn between(item: &Item) -> bool {
    matches!(
        item,
        Item::Tag(
            "~of"
                | "~weigh"
                | "~total"
                | "~at"
                | "parts"
                | "~shelled"
                | "final"
                | "core"
                | "us"
                | "uk"
                | "au"
        ) | Item::Named("size" | "leaf", _)
    )
}

/// No weight or volume is one of people or of hydration.
fn fits(number: &Item, noun: Option<&str>) -> bool {
    let weighed = match number {
        Item::Amount(_, unit) => {
            Unit::find(unit, Region::Metric).is_ok_and(|u| u.kind() != Kind::Count)
        }
        _ => false,
    };
    !(weighed && matches!(noun, Some("people" | "hydration" | "room" | "friction")))
}

fn noun(item: &Item) -> Option<(Option<&'static str>, Option<&'static str>)> {
    match item {
        Item::Stuff(name) => Some((Some(*name), None)),
        Item::Tag(tag) if NOUNS.contains(tag) => Some((None, Some(*tag))),
        _ => None,
    }
}

/// The number of a piece, without what it is of.
fn bare_fact(item: &Item, at: usize, clause: usize) -> Option<Fact> {
    let (n, what, unit) = match item {
        Item::Amount(n, unit) => {
            let kind = Unit::find(unit, Region::Metric).ok().map(Unit::kind);
            let what = match kind {
                Some(Kind::Mass) => What::Mass,
                Some(Kind::Volume) => What::Volume,
                _ => What::Thing,
            };
            (*n, what, Some(unit.clone()))
        }
        Item::Number(n) => (*n, What::Bare, None),
        Item::Percent(n) => (*n, What::Percent, None),
        Item::Heat(n, scale) => (*n, What::Heat(*scale), None),
        Item::Minutes(n) => (*n, What::Time, Some("min".to_owned())),
        Item::Length(n) => (*n, What::Length, None),
        Item::Ratio(flour, water) => (*water, What::Ratio(*flour), None),
        _ => return None,
    };
    Some(Fact {
        n,
        what,
        unit,
        stuff: None,
        noun: None,
        at,
        clause,
    })
}

/// Every number of the pieces. 'Flour 450 and water 315' names the thing first, '450 of flour and 315 of water' last.
pub(super) fn facts(items: &[Item]) -> Vec<Fact> {
    let mut out: Vec<Fact> = Vec::new();
    let mut from = 0;
    let ends = (0..=items.len()).filter(|&at| items.get(at).is_none_or(|i| *i == Item::Stop));
    for (clause, end) in ends.enumerate() {
        let span = &items[from..end];
        let beside = |at: usize, back: bool| {
            let mut i = at;
            loop {
                i = if back { i.checked_sub(1)? } else { i + 1 };
                let item = span.get(i)?;
                if let Some(found) = noun(item) {
                    return fits(&span[at], found.1).then_some((i, found));
                }
                if !between(item) {
                    return None;
                }
            }
        };
        let numbers: Vec<usize> = (0..span.len()).filter(|&i| span[i].is_number()).collect();
        // 'Sugar 12 percent, butter 20, of 750 of flour': what the shares are of comes last.
        let whole = |at: usize| {
            at.checked_sub(1)
                .is_some_and(|i| matches!(span[i], Item::Tag("~of" | "~for")))
        };
        let last_share = numbers.iter().rev().find(|&&at| !whole(at));
        // 'How much water does 7 kg of flour take': what is asked for is no name of a number.
        let is_asked = |i: usize| {
            i.checked_sub(1)
                .is_some_and(|i| matches!(span[i], Item::Tag("~howmuch" | "~howmany" | "~which")))
        };
        let behind = |at: usize| {
            beside(at, true).filter(|(i, _)| !(is_asked(*i) && beside(at, false).is_some()))
        };
        let named_first = match numbers[..] {
            [first, .., last] => {
                behind(first).is_some() && beside(*last_share.unwrap_or(&last), false).is_none()
            }
            // 'Dried yeast 7 grams fresh yeast': what the clause begins with.
            [one] => beside(one, false).is_none() || one == 1 && behind(one).is_some(),
            [] => false,
        };
        let mut taken: Vec<usize> = Vec::new();
        for &at in &numbers {
            let Some(mut fact) = bare_fact(&span[at], from + at, clause) else {
                continue;
            };
            let after = beside(at, false);
            let before = behind(at).filter(|(i, _)| !taken.contains(i));
            let found = if named_first {
                before.or(after)
            } else {
                after.or(before)
            };
            if let Some((i, (stuff, noun))) = found {
                taken.push(i);
                fact.stuff = stuff;
                fact.noun = noun;
            }
            out.push(fact);
        }
        from = end + 1;
    }
    out
}
