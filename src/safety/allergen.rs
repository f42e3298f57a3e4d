//! Allergens of a list of ingredients, by the European fourteen and by the nine of the United States.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::phrase::Words;
use crate::measure::ingredients;

/// Whose list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Law {
    /// Regulation (EU) No 1169/2011, annex II: fourteen.
    #[default]
    Eu,
    /// United States, with the FASTER Act of 2021: nine.
    Us,
}

/// One allergen of a list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Allergen {
    /// Its word in formula files: `milk`.
    pub id: String,
    /// How it is said: 'tree nuts'.
    pub spoken: String,
    /// Where it comes from.
    pub source: String,
}

/// An allergen, and what brings it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// The allergen.
    pub allergen: Allergen,
    /// The ingredients that hold it, as they were named.
    pub from: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    eu: Vec<EuRow>,
    us: Vec<UsRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EuRow {
    id: String,
    spoken: String,
    also: Vec<String>,
    words: Vec<String>,
    unless: Vec<String>,
    #[serde(rename = "above_mg_per_kg")]
    _above_mg_per_kg: Option<f64>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UsRow {
    id: String,
    spoken: String,
    from: String,
    #[serde(default)]
    words: Vec<String>,
    #[serde(default)]
    unless: Vec<String>,
    source: String,
}

struct Entry {
    allergen: Allergen,
    /// The European word that covers it.
    from: String,
    /// Other names of the allergen itself.
    also: Vec<String>,
    words: Vec<Words>,
    unless: Vec<Words>,
}

impl Entry {
    fn is_named_in(&self, name: &str) -> bool {
        let said = self.unless.iter().fold(Words::of(name), Words::without);
        self.words.iter().any(|word| said.has(word))
    }
}

struct Table {
    eu: Vec<Entry>,
    us: Vec<Entry>,
}

impl Table {
    fn of(&self, law: Law) -> &[Entry] {
        match law {
            Law::Eu => &self.eu,
            Law::Us => &self.us,
        }
    }
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/allergens.toml"))
            .expect("the shipped allergen table is read by a test of every build");
        let source = |key: &String| file.sources.get(key).unwrap_or(key).clone();
        let words = |list: &[String]| list.iter().map(|w| Words::of(w)).collect::<Vec<_>>();
        let eu: Vec<Entry> = file
            .eu
            .iter()
            .map(|row| Entry {
                allergen: Allergen {
                    id: row.id.clone(),
                    spoken: row.spoken.clone(),
                    source: source(&row.source),
                },
                from: row.id.clone(),
                also: row.also.clone(),
                words: words(&row.words),
                unless: words(&row.unless),
            })
            .collect();
        let us = file
            .us
            .iter()
            .map(|row| {
                let covering = file.eu.iter().find(|e| e.id == row.from);
                let own = |list: &[String], other: fn(&EuRow) -> &[String]| {
                    if row.words.is_empty() {
                        covering.map(|e| words(other(e))).unwrap_or_default()
                    } else {
                        words(list)
                    }
                };
                let mut unless = own(&row.unless, |e| &e.unless);
                if !row.words.is_empty() {
                    // What holds no gluten at all holds no wheat.
                    unless.extend(covering.map(|e| words(&e.unless)).unwrap_or_default());
                }
                Entry {
                    allergen: Allergen {
                        id: row.id.clone(),
                        spoken: row.spoken.clone(),
                        source: source(&row.source),
                    },
                    from: row.from.clone(),
                    also: Vec::new(),
                    words: own(&row.words, |e| &e.words),
                    unless,
                }
            })
            .collect();
        Table { eu, us }
    })
}

/// The list of a law, in its order.
pub fn allergens(law: Law) -> impl Iterator<Item = &'static Allergen> {
    table().of(law).iter().map(|entry| &entry.allergen)
}

/// The allergen of EU annex II that a word names, by its word in formula files: 'dairy' is `milk`.
pub fn allergen(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    table()
        .eu
        .iter()
        .find(|entry| {
            entry.allergen.id == word || entry.allergen.spoken == word || entry.also.contains(&word)
        })
        .map(|entry| entry.allergen.id.as_str())
}

/// True for a word of EU annex II as formula files write it: `gluten`, `milk`.
pub fn is_allergen_word(word: &str) -> bool {
    table().eu.iter().any(|entry| entry.allergen.id == word)
}

/// The allergens of a list of ingredients, in the order of the law, each with what brings it. An ingredient that the
/// table does not know is judged by the words of its name.
pub fn allergens_of<'a>(names: impl IntoIterator<Item = &'a str>, law: Law) -> Vec<Finding> {
    let names: Vec<&str> = names.into_iter().collect();
    table()
        .of(law)
        .iter()
        .filter_map(|entry| {
            let from: Vec<String> = names
                .iter()
                .filter(|name| holds(entry, name, law))
                .map(|name| (*name).to_owned())
                .collect();
            (!from.is_empty()).then(|| Finding {
                allergen: entry.allergen.clone(),
                from,
            })
        })
        .collect()
}

fn holds(entry: &Entry, name: &str, law: Law) -> bool {
    let Some(row) = ingredients().find(name) else {
        return entry.is_named_in(name);
    };
    let listed = row.allergens.contains(&entry.from);
    if law == Law::Us && entry.from == "gluten" {
        listed && row.is_wheat
    } else {
        listed
    }
}

/// The names that the ingredient table does not know: their labels must be read.
pub fn unknown_names<'a>(names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    names
        .into_iter()
        .filter(|name| ingredients().find(name).is_none())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Law, allergen, allergens, allergens_of, is_allergen_word};

    fn ids(names: &[&str], law: Law) -> Vec<String> {
        allergens_of(names.iter().copied(), law)
            .into_iter()
            .map(|f| f.allergen.id)
            .collect()
    }

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
    fn known_and_unknown_ingredients() {
        assert_eq!(
            ids(&["strong white flour", "butter", "salt"], Law::Eu),
            ["gluten", "milk"]
        );
        assert_eq!(ids(&["rye flour"], Law::Eu), ["gluten"]);
        assert!(
            ids(&["rye flour"], Law::Us).is_empty(),
            "rye is not on the list of the United States"
        );
        assert_eq!(ids(&["bread flour", "oat milk"], Law::Us), ["wheat"]);
        assert_eq!(
            ids(&["king prawn skewers"], Law::Us),
            ["crustacean shellfish"]
        );
        assert_eq!(ids(&["vegan butter block"], Law::Eu), Vec::<String>::new());
        assert_eq!(ids(&["brown butter glaze"], Law::Eu), ["milk"]);
        assert_eq!(ids(&["hazelnut praline"], Law::Eu), ["nuts"]);
        assert_eq!(ids(&["roasted eggplant"], Law::Eu), Vec::<String>::new());
    }
}
