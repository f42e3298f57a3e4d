//! Heat by name: the stages of boiled sugar, oil for frying, the words for ovens.

use std::sync::OnceLock;

use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    sugar: Vec<NamedHeat>,
    frying: Vec<NamedHeat>,
    oven: Vec<NamedHeat>,
}

/// A range of heat that has a name.
#[derive(Debug, Deserialize)]
pub struct NamedHeat {
    /// Its name.
    pub name: String,
    /// Other names.
    pub also: Vec<String>,
    /// The names that are listened for, where it is not its own alone.
    heard: Option<Vec<String>>,
    /// It is what the heat is for, and no stage of its own.
    #[serde(default, rename = "use")]
    pub is_use: bool,
    /// From and to, in Celsius.
    pub celsius: [f64; 2],
    /// The same in gas marks, for an oven.
    pub gas: Option<[f64; 2]>,
    /// What is to be said with it.
    pub note: Option<String>,
    /// Where that comes from.
    pub source: String,
}

fn table() -> &'static File {
    static TABLE: OnceLock<File> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../shared/tables/heats.toml"))
            .expect("the shipped table of heats is read by a test of every build")
    })
}

impl NamedHeat {
    /// The stages of boiled sugar, the coolest first.
    pub fn sugar_stages() -> &'static [Self] {
        &table().sugar
    }

    /// What is fried, each with the heat of its oil.
    pub fn fried_foods() -> &'static [Self] {
        &table().frying
    }

    /// The words for ovens, the coolest first.
    pub fn oven_words() -> &'static [Self] {
        &table().oven
    }

    /// All its names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.name.as_str()).chain(self.also.iter().map(String::as_str))
    }

    /// The names that are listened for.
    pub fn heard(&self) -> &[String] {
        match &self.heard {
            Some(heard) => heard,
            None => std::slice::from_ref(&self.name),
        }
    }

    /// The one of this name.
    pub fn find(all: &'static [Self], said: &str) -> Option<&'static Self> {
        let said = said.trim().to_lowercase();
        all.iter()
            .find(|heat| heat.names().any(|name| name.to_lowercase() == said))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_listened_for_is_one_of_its_names() {
        for all in [
            NamedHeat::sugar_stages(),
            NamedHeat::fried_foods(),
            NamedHeat::oven_words(),
        ] {
            for heat in all {
                let known = |h: &String| heat.names().any(|name| name == h);
                assert!(heat.heard().iter().all(known), "{}", heat.name);
            }
        }
    }
}
