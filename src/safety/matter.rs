//! What may matter in food: the substances of the allergen laws, and those that ways of eating leave out.

use serde::Deserialize;

/// A set of matters, one bit each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Matters(u64);

/// The words of the tables, in the order of the bits.
const WORDS: [&str; 34] = [
    "wheat",
    "rye",
    "barley",
    "oats",
    "crustaceans",
    "egg",
    "fish",
    "peanut",
    "soya",
    "milk",
    "almond",
    "hazelnut",
    "walnut",
    "cashew",
    "pecan",
    "brazil",
    "pistachio",
    "macadamia",
    "pine",
    "nut",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
    "meat",
    "pork",
    "gelatine",
    "rennet",
    "honey",
    "alcohol",
    "animal",
    "lactose",
];

impl Matters {
    /// Nothing.
    pub const NONE: Self = Self(0);

    /// The one that a table's word names.
    pub fn named(word: &str) -> Option<Self> {
        WORDS
            .iter()
            .position(|w| *w == word)
            .map(|at| Self(1 << at))
    }

    /// True where nothing is in it.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Both together.
    pub fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// What is in both.
    pub fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// This less the other.
    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// True when they share one.
    pub fn meets(self, other: Self) -> bool {
        !self.and(other).is_empty()
    }

    /// The words of what is in it, in the order of the table.
    pub fn words(self) -> impl Iterator<Item = &'static str> {
        WORDS
            .iter()
            .enumerate()
            .filter(move |(at, _)| self.0 & (1 << at) != 0)
            .map(|(_, word)| *word)
    }
}

impl TryFrom<String> for Matters {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        text.split_whitespace().try_fold(Self::NONE, |all, word| {
            Self::named(word)
                .map(|one| all.with(one))
                .ok_or_else(|| format!("expected one of the matters, found `{word}`"))
        })
    }
}

impl<'de> Deserialize<'de> for Matters {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Self::try_from(String::deserialize(from)?).map_err(serde::de::Error::custom)
    }
}
