//! How long food keeps in the fridge and in the freezer.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::phrase::tokens;
use crate::measure::Region;

const KEEPING: &str = include_str!("../../shared/tables/keeping.toml");

/// How long a class of food keeps.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    /// Its name: `cooked rice`.
    pub name: String,
    words: Vec<String>,
    #[serde(default)]
    regions: Vec<Region>,
    /// In the fridge: `one to two days`.
    pub fridge: String,
    /// In the freezer; nothing where none is printed.
    pub freezer: Option<String>,
    /// Where it comes from.
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    kept: Vec<Kept>,
}

static TABLE: LazyLock<Vec<Kept>> = LazyLock::new(|| {
    let file: File = toml::from_str(KEEPING)
        .expect("the shipped table of keeping times is read by a test of every build");
    let mut kept = file.kept;
    for row in &mut kept {
        for (key, source) in &file.sources {
            if row.source == *key {
                row.source.clone_from(source);
            }
        }
    }
    kept
});

/// How long this food keeps; nothing where the table has not its like.
pub fn kept(food: &str, region: Region) -> Option<&'static Kept> {
    let said = tokens(food);
    let has = |words: &String| {
        let words = tokens(words);
        said.windows(words.len()).any(|row| row == words)
    };
    let fits = |row: &&Kept| row.words.iter().any(has);
    let first = TABLE.iter().find(fits)?;
    let here = TABLE
        .iter()
        .find(|row| row.name == first.name && row.regions.contains(&region));
    here.or(Some(first))
}

#[cfg(test)]
mod tests {
    use super::{TABLE, kept};
    use crate::measure::Region;

    #[test]
    fn the_stricter_figure_where_no_country_is_set() {
        assert!(TABLE.len() > 8);
        let rice = |region| kept("the cooked rice", region).unwrap();
        assert_eq!(rice(Region::Metric).fridge, "one day");
        assert_eq!(rice(Region::Us).fridge, "three to four days");
        assert_eq!(kept("raw chicken", Region::Uk).unwrap().name, "raw poultry");
        assert_eq!(
            kept("leftover chicken", Region::Uk).unwrap().fridge,
            "two days"
        );
        assert!(kept("gravel", Region::Uk).is_none());
    }
}
