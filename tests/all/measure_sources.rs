//! No number in a shipped table without its source.

use toml::{Table, Value};

const TABLES: [(&str, &str); 10] = [
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
    ("heats", include_str!("../../shared/tables/heats.toml")),
    ("eggs", include_str!("../../shared/tables/eggs.toml")),
    (
        "gelatine",
        include_str!("../../shared/tables/gelatine.toml"),
    ),
    (
        "cautions",
        include_str!("../../shared/tables/cautions.toml"),
    ),
    ("foods", include_str!("../../shared/tables/foods.toml")),
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
        ("allergens", "codex"),
        ("allergens", "anz"),
        ("allergens", "topic"),
        ("foods", "group"),
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
fn no_figure_of_the_kitchen_is_from_memory() {
    for (name, text) in TABLES {
        let safety = ["safe", "allergens", "cautions"].contains(&name);
        assert!(safety || !text.contains("from memory"), "{name}");
    }
}

/// What our table says of one thing of an ingredient: a measure, `piece:` and what is counted, or `water`.
fn figure(row: &Value, what: &str) -> Option<f64> {
    let number = |v: &Value| v.as_float().or(v.as_integer().map(|i| i as f64));
    let (group, key) = match what.split_once(':') {
        Some((_, one)) => {
            let pieces = row.get("pieces")?.as_array()?;
            let piece = pieces
                .iter()
                .find(|p| p.get("one").and_then(Value::as_str) == Some(one))?;
            (piece, "g")
        }
        None if what == "water" => (row.get("water")?, "percent"),
        None => (row.get("density")?, what),
    };
    (group.get("source")?.as_str()? == "sr28").then_some(())?;
    number(group.get(key)?)
}

/// `tests/tables/usda.tsv`: each of our figures that the USDA National Nutrient Database for Standard Reference, release
/// 28, confirms, beside that database's own (see `usda.py`): measures and pieces to 1 % or 0.05 g, water to 0.6 g in
/// 100 g, as we round it to whole ones.
#[test]
fn the_standard_reference_confirms_what_says_so() {
    let table: Table = TABLES[0].1.parse().unwrap();
    let ours = table["ingredient"].as_array().unwrap();
    let lines: Vec<&str> = include_str!("../tables/usda.tsv")
        .lines()
        .filter(|l| !l.starts_with('#'))
        .collect();
    for line in &lines {
        let [name, what, said, _, food, measure, theirs] = line.split('\t').collect::<Vec<_>>()[..]
        else {
            panic!("seven columns: {line}")
        };
        let (said, theirs): (f64, f64) = (said.parse().unwrap(), theirs.parse().unwrap());
        let row = ours
            .iter()
            .find(|r| r.get("name").and_then(Value::as_str) == Some(name));
        let shipped = row.and_then(|r| figure(r, what));
        assert_eq!(shipped, Some(said), "{name}, {what}");
        let near = match what {
            "water" => 0.6,
            _ => (theirs * 0.0101).max(0.05),
        };
        assert!(
            (said - theirs).abs() <= near,
            "{name}, {what}: {said}, but a {measure} of {food} is {theirs}"
        );
    }
    let marked = TABLES[0].1.matches("\"sr28\"").count();
    assert_eq!(lines.len(), marked, "every figure marked so has its line");
}
