//! Which country's cups and spoons are meant.

use serde::{Deserialize, Serialize};

/// Whose cup, spoon, pint and fluid ounce a bare word means.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Region {
    /// United States customary measures.
    Us,
    /// United Kingdom: imperial pints and fluid ounces, a cup of half a pint, spoons of 5 and 15 ml.
    Uk,
    /// Metric kitchen measures: cup 250 ml, tablespoon 15 ml, teaspoon 5 ml.
    #[default]
    Metric,
    /// Australia: as metric, with a tablespoon of 20 ml.
    Au,
}

impl Region {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Us, Self::Uk, Self::Metric, Self::Au];

    /// The setting's word: `us`, `uk`, `metric`, `au`.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Uk => "uk",
            Self::Metric => "metric",
            Self::Au => "au",
        }
    }

    /// How it is said before a measure: 'a US cup', 'an Australian tablespoon'.
    pub fn adjective(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::Uk => "UK",
            Self::Metric => "metric",
            Self::Au => "Australian",
        }
    }

    /// Reads the words that cooks put before a measure.
    pub fn find(word: &str) -> Option<Self> {
        Some(match word.to_ascii_lowercase().trim_end_matches('.') {
            "us" | "u.s" | "usa" | "american" => Self::Us,
            "uk" | "u.k" | "british" | "imperial" | "imp" => Self::Uk,
            "metric" => Self::Metric,
            "au" | "aus" | "australian" | "aussie" => Self::Au,
            _ => return None,
        })
    }
}
