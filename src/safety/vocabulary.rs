//! The food that is known by name, from `foods.toml`.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::OnceLock;

use serde::Deserialize;

use super::matter::Matters;
use super::phrase::tokens;

/// What a piece of a name is known to hold, and how it behaves beside its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Food {
    pub holds: Matters,
    pub may: Matters,
    pub tags: Tags,
}

/// How a piece behaves: see the head of `foods.toml`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Tags(u16);

const TAGS: [&str; 11] = [
    "base", "grain", "swaps", "doubts", "for", "dish", "plain", "dairy", "opaque", "made", "form",
];

impl Tags {
    pub(super) fn has(self, tag: &str) -> bool {
        let at = TAGS.iter().position(|t| *t == tag);
        debug_assert!(at.is_some(), "{tag}");
        at.is_some_and(|at| self.0 & (1 << at) != 0)
    }

    fn read(text: &str) -> Result<Self, String> {
        text.split_whitespace().try_fold(Self(0), |all, word| {
            TAGS.iter()
                .position(|t| *t == word)
                .map(|at| Self(all.0 | 1 << at))
                .ok_or_else(|| format!("no such tag: `{word}`"))
        })
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(rename = "sources")]
    _sources: BTreeMap<String, String>,
    group: Vec<Group>,
    words: Lists,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    #[serde(default)]
    holds: Matters,
    #[serde(default)]
    may: Matters,
    #[serde(default)]
    tags: String,
    #[serde(rename = "source")]
    _source: String,
    names: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    neutral: String,
    tools: String,
}

/// Everything known by name.
pub(super) struct Vocabulary {
    foods: HashMap<String, Food>,
    neutral: HashSet<String>,
    tools: HashSet<String>,
    /// The most words in one name.
    pub longest: usize,
}

impl Vocabulary {
    /// The food whose whole name these words are.
    pub(super) fn food(&self, words: &[String]) -> Option<Food> {
        match words {
            [one] => self.foods.get(one).copied(),
            several => self.foods.get(&several.join(" ")).copied(),
        }
    }

    /// A word that tells nothing of what it is made of.
    pub(super) fn is_neutral(&self, word: &str) -> bool {
        self.neutral.contains(word)
            || word.starts_with(|c: char| c.is_ascii_digit())
            || looks_like_an_adjective(word)
    }

    /// A tool, or a look: a food before it is not in the dish.
    pub(super) fn is_tool(&self, word: &str) -> bool {
        self.tools.contains(word)
    }
}

/// Participles, and adjectives of places.
fn looks_like_an_adjective(word: &str) -> bool {
    word.len() >= 6
        && ["ed", "ing", "ish", "ese", "ian", "ican", "ern"]
            .iter()
            .any(|end| word.ends_with(end))
}

/// The shipped vocabulary, read at first use.
pub(super) fn vocabulary() -> &'static Vocabulary {
    static TABLE: OnceLock<Vocabulary> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/foods.toml"))
            .expect("the shipped table of foods is read by a test of every build");
        let milk = Matters::named("milk").unwrap_or_default();
        let lactose = Matters::named("lactose").unwrap_or_default();
        let full = |m: Matters| if m.meets(milk) { m.with(lactose) } else { m };
        let mut foods = HashMap::new();
        let mut longest = 1;
        for group in &file.group {
            let food = Food {
                holds: full(group.holds),
                may: full(group.may),
                tags: Tags::read(&group.tags)
                    .expect("the shipped tags are read by a test of every build"),
            };
            for name in group.names.split(',') {
                let words = tokens(name);
                longest = longest.max(words.len());
                foods.entry(words.join(" ")).or_insert(food);
            }
        }
        let list = |text: &str| tokens(text).into_iter().collect();
        Vocabulary {
            foods,
            neutral: list(&file.words.neutral),
            tools: list(&file.words.tools),
            longest,
        }
    })
}
