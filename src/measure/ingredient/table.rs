//! The ingredient table: read once, found by any of its names.

use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

use serde::Deserialize;

use super::{Piece, TableIngredient};
use crate::measure::{Region, Unit};

const TEXT: &str = include_str!("../../../shared/tables/ingredients.toml");

/// The whole table.
#[derive(Debug)]
pub struct Ingredients {
    rows: Vec<TableIngredient>,
    by_name: HashMap<String, usize>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    ingredient: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    also: Vec<String>,
    density: Option<Density>,
    varies: Option<String>,
    water: Option<Water>,
    #[serde(default)]
    pieces: Vec<PieceRow>,
    #[serde(default)]
    flour: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Density {
    cup: Option<f64>,
    tbsp: Option<f64>,
    tsp: Option<f64>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Water {
    percent: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PieceRow {
    one: String,
    g: f64,
    source: String,
}

/// The shipped table, read at first use.
pub fn ingredients() -> &'static Ingredients {
    static TABLE: OnceLock<Ingredients> = OnceLock::new();
    TABLE.get_or_init(shipped)
}

fn shipped() -> Ingredients {
    Ingredients::read(TEXT).expect("the shipped ingredient table is read by a test of every build")
}

impl Ingredients {
    fn read(text: &str) -> Result<Self, toml::de::Error> {
        let file: File = toml::from_str(text)?;
        let source = |key: &str| {
            file.sources
                .get(key)
                .map_or_else(|| key.to_owned(), Clone::clone)
        };
        let mut rows = Vec::with_capacity(file.ingredient.len());
        let mut by_name = HashMap::new();
        for row in &file.ingredient {
            for name in std::iter::once(&row.name).chain(&row.also) {
                by_name.entry(plain(name)).or_insert(rows.len());
            }
            let per = |grams: Option<f64>, unit: Unit| grams.map(|g| g / unit.size());
            rows.push(TableIngredient {
                name: row.name.clone(),
                also: row.also.clone(),
                g_per_ml: row.density.as_ref().and_then(|d| {
                    per(d.cup, Unit::Cup(Region::Us))
                        .or_else(|| per(d.tbsp, Unit::Tablespoon(Region::Us)))
                        .or_else(|| per(d.tsp, Unit::Teaspoon(Region::Us)))
                }),
                density_source: row
                    .density
                    .as_ref()
                    .map_or_else(String::new, |d| source(&d.source)),
                varies: row.varies.clone(),
                pieces: row
                    .pieces
                    .iter()
                    .map(|p| Piece {
                        one: p.one.clone(),
                        g: p.g,
                        source: source(&p.source),
                    })
                    .collect(),
                water_percent: row.water.as_ref().map(|w| w.percent),
                water_source: row
                    .water
                    .as_ref()
                    .map_or_else(String::new, |w| source(&w.source)),
                is_flour: row.flour,
            });
        }
        Ok(Self { rows, by_name })
    }

    /// Every row, in the order of the table.
    pub fn all(&self) -> &[TableIngredient] {
        &self.rows
    }

    /// Finds an ingredient by any of its names. Words that do not change what it is ('fresh', 'chopped', 'unsalted')
    /// are passed over; words that might ('vegan', 'almond') are not.
    pub fn find(&self, name: &str) -> Option<&TableIngredient> {
        let whole = plain(name);
        if let Some(&at) = self.by_name.get(&whole) {
            return Some(&self.rows[at]);
        }
        let bare = without_preparation(&whole);
        self.by_name.get(&bare).map(|&at| &self.rows[at])
    }

    /// Names near to this one, nearest first, at most three.
    pub fn near(&self, name: &str) -> Vec<&str> {
        let wanted = plain(name);
        let mut scored: Vec<(f64, &str)> = self
            .rows
            .iter()
            .map(|row| {
                let score = std::iter::once(&row.name)
                    .chain(&row.also)
                    .map(|n| strsim::jaro_winkler(&plain(n), &wanted))
                    .fold(0.0, f64::max);
                (score, row.name.as_str())
            })
            .filter(|&(score, _)| score > 0.84)
            .collect();
        scored.sort_by(|a, b| b.0.total_cmp(&a.0));
        scored.into_iter().take(3).map(|(_, name)| name).collect()
    }
}

/// A name without case, hyphens, apostrophes and plurals, so that 'Hens' eggs' and 'hen egg' meet.
fn plain(name: &str) -> String {
    let text = name
        .to_lowercase()
        .replace(['-', '_'], " ")
        .replace(['\'', '’', '.'], "");
    let words: Vec<String> = text.split_whitespace().map(singular).collect();
    words.join(" ")
}

/// One of what the word names. It need not be right English, only the same for one and many.
pub(crate) fn singular(word: &str) -> String {
    if word.len() <= 3 || word.ends_with("ss") || word.ends_with("us") {
        return word.to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    if let Some(stem) = word.strip_suffix("oes") {
        return format!("{stem}o");
    }
    if let Some(stem) = word.strip_suffix("aves") {
        return format!("{stem}af");
    }
    word.strip_suffix('s').unwrap_or(word).to_owned()
}

/// Words that tell how a thing is cut, kept or sold, not what it is.
const PREPARATION: [&str; 50] = [
    "fresh",
    "freshly",
    "chopped",
    "diced",
    "sliced",
    "grated",
    "sifted",
    "melted",
    "softened",
    "organic",
    "unsalted",
    "salted",
    "cold",
    "warm",
    "lukewarm",
    "hot",
    "large",
    "medium",
    "small",
    "extra",
    "virgin",
    "fine",
    "finely",
    "coarsely",
    "roughly",
    "good",
    "quality",
    "ripe",
    "peeled",
    "raw",
    "beaten",
    "packed",
    "the",
    "some",
    "my",
    "of",
    "crushed",
    "minced",
    "free",
    "range",
    "unbleached",
    "plain",
    "lightly",
    "at",
    "room",
    "temperature",
    "a",
    "an",
    "frozen",
    "toasted",
];

fn without_preparation(name: &str) -> String {
    // 'softened butter' and 'butter, softened'
    let words: Vec<&str> = name
        .split([' ', ','])
        .filter(|word| !word.is_empty() && !PREPARATION.contains(word))
        .collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::ingredients;

    #[test]
    fn found_by_any_name() {
        for (said, name) in [
            ("strong white flour", "strong white flour"),
            ("Bread Flour", "strong white flour"),
            ("all-purpose flour", "plain flour"),
            ("superfine sugar", "caster sugar"),
            ("confectioners' sugar", "icing sugar"),
            ("baking soda", "bicarbonate of soda"),
            ("cornstarch", "cornflour"),
            ("canola oil", "rapeseed oil"),
            ("unsalted butter, softened", "butter"),
            ("large eggs", "egg"),
            ("egg whites", "egg white"),
            ("freshly chopped parsley", "fresh parsley"),
            ("potatoes", "potato"),
        ] {
            let found = ingredients().find(said).map(|i| i.name.as_str());
            assert_eq!(found, Some(name), "{said}");
        }
        assert_eq!(ingredients().find("gravel"), None);
        assert_eq!(
            ingredients().find("vegan butter"),
            None,
            "a word that changes what it is must not be dropped"
        );
        assert_eq!(
            ingredients().near("caster suger").first(),
            Some(&"caster sugar")
        );
    }

    #[test]
    fn the_table_is_read_once() {
        assert!(std::ptr::eq(ingredients(), ingredients()));
    }
}
