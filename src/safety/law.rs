//! The allergens by law, and what cooks ask about besides: each a name for some matters.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::matter::Matters;
use super::phrase::tokens;
use crate::measure::Region;

/// Whose list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Law {
    /// Regulation (EU) No 1169/2011, annex II, in force in the United Kingdom as well: fourteen.
    #[default]
    Eu,
    /// United States, with the FASTER Act of 2021: nine.
    Us,
    /// The Codex standard for labels.
    Codex,
    /// Australia and New Zealand.
    Anz,
}

impl Law {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Eu, Self::Us, Self::Codex, Self::Anz];

    /// The law where these measures are used; the longest list where they are used in many places.
    pub fn of(region: Region) -> Self {
        match region {
            Region::Us => Self::Us,
            Region::Au => Self::Anz,
            Region::Uk | Region::Metric => Self::Eu,
        }
    }
}

/// One allergen of a list, or what else is asked for by one word.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Allergen {
    /// Its word in formula files and in JSON: `milk`.
    pub id: String,
    /// How it is said: 'tree nuts'.
    pub spoken: String,
    /// Other names of it.
    #[serde(default)]
    pub also: Vec<String>,
    /// What it covers.
    #[serde(skip_serializing)]
    pub of: Matters,
    /// What may come of it.
    #[serde(default, skip_serializing)]
    pub perhaps: Matters,
    /// Each kind is said by its own name.
    #[serde(default, skip_serializing)]
    pub named: bool,
    /// Ends 'Nothing ... that I know of'.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nothing: Option<String>,
    /// Where it comes from.
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    spoken: BTreeMap<String, String>,
    eu: Vec<Allergen>,
    us: Vec<Allergen>,
    codex: Vec<Allergen>,
    anz: Vec<Allergen>,
    topic: Vec<Allergen>,
}

fn table() -> &'static File {
    static TABLE: OnceLock<File> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut file: File = toml::from_str(include_str!("../../shared/tables/allergens.toml"))
            .expect("the shipped allergen table is read by a test of every build");
        let lists = [
            &mut file.eu,
            &mut file.us,
            &mut file.codex,
            &mut file.anz,
            &mut file.topic,
        ];
        for row in lists.into_iter().flatten() {
            if let Some(source) = file.sources.get(&row.source) {
                row.source.clone_from(source);
            }
        }
        file
    })
}

/// The list of a law, in its order.
pub fn allergens(law: Law) -> impl Iterator<Item = &'static Allergen> {
    let table = table();
    match law {
        Law::Eu => &table.eu,
        Law::Us => &table.us,
        Law::Codex => &table.codex,
        Law::Anz => &table.anz,
    }
    .iter()
}

impl Allergen {
    fn is_called(&self, words: &[String]) -> bool {
        [&self.id, &self.spoken]
            .into_iter()
            .chain(&self.also)
            .any(|name| tokens(name) == words)
    }
}

/// The allergen of EU annex II that a word names, by its word in formula files: 'dairy' is `milk`.
pub fn allergen(word: &str) -> Option<&'static str> {
    let words = tokens(word);
    allergens(Law::Eu)
        .find(|a| a.is_called(&words))
        .map(|a| a.id.as_str())
}

/// True for a word of EU annex II as formula files write it: `gluten`, `milk`.
pub fn is_allergen_word(word: &str) -> bool {
    allergens(Law::Eu).any(|a| a.id == word)
}

/// What a question names by one word: an allergen, a way of eating, or one matter alone: 'almonds', 'rye'.
pub fn topic(word: &str) -> Option<Allergen> {
    let words = tokens(word);
    if words.is_empty() {
        return None;
    }
    let kind = table()
        .spoken
        .iter()
        .find(|(id, spoken)| tokens(id) == words || tokens(spoken) == words)
        .and_then(|(id, spoken)| Some((Matters::named(id)?, id, spoken)));
    table()
        .topic
        .iter()
        .find(|a| a.is_called(&words))
        .cloned()
        .or_else(|| {
            kind.map(|(of, id, spoken)| Allergen {
                id: id.clone(),
                spoken: spoken.clone(),
                also: Vec::new(),
                of,
                perhaps: Matters::NONE,
                named: false,
                nothing: None,
                source: String::new(),
            })
        })
        .or_else(|| {
            Law::ALL
                .into_iter()
                .flat_map(allergens)
                .find(|a| a.is_called(&words))
                .cloned()
        })
}

/// What a word covers; nothing where it names nothing of the tables.
pub(super) fn matters(word: &str) -> Matters {
    topic(word).map_or(Matters::NONE, |t| t.of)
}

/// How a matter is said: 'almonds'.
pub(super) fn spoken(matter: &str) -> &'static str {
    table().spoken.get(matter).map_or("", String::as_str)
}

#[cfg(test)]
mod tests {
    use super::{Law, allergen, allergens, is_allergen_word, matters, spoken, topic};
    use crate::safety::matter::Matters;

    #[test]
    fn fourteen_and_nine() {
        assert_eq!(allergens(Law::Eu).count(), 14);
        assert_eq!(allergens(Law::Us).count(), 9);
        assert!(is_allergen_word("lupin") && !is_allergen_word("wheat"));
        assert_eq!(
            (allergen("dairy"), allergen("Tree nuts"), allergen("bread")),
            (Some("milk"), Some("nuts"), None)
        );
    }

    #[test]
    fn every_matter_is_said_and_asked_for() {
        let all = Law::ALL.into_iter().flat_map(allergens);
        let covered = all.fold(matters("vegan").with(matters("alcohol")), |m, a| {
            m.with(a.of)
        });
        for word in covered.words() {
            assert!(!spoken(word).is_empty(), "{word}");
            assert!(topic(spoken(word)).is_some(), "{word}");
        }
        assert!(topic("gravel").is_none());
        assert_eq!(topic("rye").map(|t| t.of), Matters::named("rye"));
        assert!(matters("nuts").meets(matters("peanuts")));
        assert!(!matters("tree nuts").meets(matters("peanuts")));
        assert!(matters("dairy").words().eq(["milk"]));
        assert!(matters("vegetarian").meets(matters("pork")));
    }
}
