//! No number in a shipped table without its source.

use toml::{Table, Value};

const TABLES: [(&str, &str); 6] = [
    (
        "ingredients",
        include_str!("../../shared/tables/ingredients.toml"),
    ),
    ("swaps", include_str!("../../shared/tables/swaps.toml")),
    ("safe", include_str!("../../shared/tables/safe.toml")),
    (
        "allergens",
        include_str!("../../shared/tables/allergens.toml"),
    ),
    ("gas", include_str!("../../shared/tables/gas.toml")),
    (
        "cautions",
        include_str!("../../shared/tables/cautions.toml"),
    ),
];

/// Walks a table; `covered` is true below a `source`. Gives the places that hold a number and have none.
fn unsourced(value: &Value, place: &str, covered: bool, sources: &Table, found: &mut Vec<String>) {
    match value {
        Value::Table(table) => {
            let source = table.get("source").and_then(Value::as_str);
            if let Some(source) = source {
                let known = sources
                    .get(source)
                    .and_then(Value::as_str)
                    .unwrap_or(source);
                if known.len() < 10 {
                    found.push(format!("{place}: source `{source}` says nothing"));
                }
            }
            for (key, inner) in table {
                if key != "sources" {
                    unsourced(
                        inner,
                        &format!("{place}.{key}"),
                        covered || source.is_some(),
                        sources,
                        found,
                    );
                }
            }
        }
        Value::Array(list) => {
            for (i, inner) in list.iter().enumerate() {
                unsourced(inner, &format!("{place}[{i}]"), covered, sources, found);
            }
        }
        Value::Integer(_) | Value::Float(_) if !covered => found.push(place.to_owned()),
        _ => {}
    }
}

fn look(name: &str, text: &str) -> Vec<String> {
    let table: Table = text.parse().unwrap_or_else(|e| panic!("{name}: {e}"));
    let sources = table
        .get("sources")
        .and_then(Value::as_table)
        .cloned()
        .unwrap_or_default();
    let mut found = Vec::new();
    unsourced(&Value::Table(table), name, false, &sources, &mut found);
    found
}

#[test]
fn every_value_has_a_source() {
    for (name, text) in TABLES {
        let found = look(name, text);
        assert!(found.is_empty(), "{}", found.join("\n"));
    }
    // Rows that hold words only carry a source as well: swaps, allergens, cautions.
    for (name, key) in [
        ("swaps", "swap"),
        ("allergens", "eu"),
        ("allergens", "us"),
        ("cautions", "caution"),
    ] {
        let text = TABLES.iter().find(|t| t.0 == name).unwrap().1;
        let table: Table = text.parse().unwrap();
        for row in table[key].as_array().unwrap() {
            assert!(row.get("source").is_some(), "{name}: {row}");
        }
    }
}

#[test]
fn a_value_without_a_source_is_refused() {
    assert_eq!(look("t", "[[a]]\ncup = 3\n"), ["t.a[0].cup"]);
    assert_eq!(
        look("t", "[[a]]\ncup = 3\nsource = \"x\"\n"),
        ["t.a[0]: source `x` says nothing"]
    );
    assert!(look("t", "[[a]]\ncup = 3\nsource = \"common practice\"\n").is_empty());
}

#[test]
fn values_from_memory_say_so() {
    let ingredients = TABLES[0].1;
    assert!(ingredients.contains("USDA FoodData Central, SR Legacy, from memory (m)"));
}
