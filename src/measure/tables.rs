//! The ingredient table: read once from the TOML that is part of the program.

use std::sync::OnceLock;

use serde::Deserialize;

use super::Ingredient;

#[derive(Deserialize)]
struct File {
    ingredient: Vec<Ingredient>,
}

/// Every row.
pub fn ingredients() -> &'static [Ingredient] {
    static TABLE: OnceLock<Vec<Ingredient>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/ingredients.toml"))
            .expect("the table is part of the program, and a test reads it");
        file.ingredient
    })
}

/// The row with this name or alias, whatever its case.
pub fn ingredient(name: &str) -> Option<&'static Ingredient> {
    let name = name.trim().to_lowercase();
    let all = ingredients();
    all.iter()
        .find(|i| i.name == name)
        .or_else(|| all.iter().find(|i| i.also.contains(&name)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_value_has_a_source() {
        assert!(ingredients().iter().all(|i| !i.source.is_empty()));
        assert!(ingredient("Bread flour").is_some_and(|i| i.is_flour));
    }
}
