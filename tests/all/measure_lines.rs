//! Ingredient lines in more than three hundred shapes, beside what another reader made of them.
//!
//! `tests/tables/lines.tsv`: line, our amount, our name, and the amount and name by `ingredient-parser-nlp` 2.9.1 (see
//! `lines.py` beside it). Our columns were read by eye; the others are as that program gave them. Its first line records
//! how often the two agree.

use commis::measure::{Amount, IngredientLine, Kind, Region, Unit, print};

const TABLE: &str = include_str!("../tables/lines.tsv");

fn amount_text(amount: &Amount) -> String {
    let parts: Vec<String> = amount
        .parts
        .iter()
        .map(|p| {
            let n = |x: f64| print::number(x, 4);
            let number = if p.low < p.high {
                format!("{}-{}", n(p.low), n(p.high))
            } else {
                n(p.high)
            };
            format!("{number} {}", p.unit.symbol())
        })
        .collect();
    parts.join(" + ")
}

fn ours(line: &str) -> (String, String) {
    match IngredientLine::read(line, Region::Metric) {
        Ok(line) => (
            line.amount.as_ref().map(amount_text).unwrap_or_default(),
            line.name,
        ),
        Err(e) => (format!("error: {e}"), String::new()),
    }
}

/// Their units in our symbols: they count lemons without a unit, and put sizes into it.
fn in_our_symbols(theirs: &str) -> String {
    let part = |text: &str| {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        let unit = unit.replace("metric_", "").replace('_', " ");
        let bare = unit
            .split_whitespace()
            .filter(|w| {
                ![
                    "heaped", "heaping", "rounded", "level", "large", "small", "medium", "scant",
                    "generous", "good", "packed", "whole",
                ]
                .contains(w)
            })
            .collect::<Vec<_>>()
            .join(" ");
        let symbol = if bare.is_empty() {
            "piece".to_owned()
        } else {
            Unit::find(&bare, Region::Metric).map_or(bare.clone(), |u| u.symbol().to_owned())
        };
        format!("{number} {symbol}")
    };
    if theirs.is_empty() {
        String::new()
    } else {
        theirs
            .split(" + ")
            .map(part)
            .collect::<Vec<_>>()
            .join(" + ")
    }
}

/// Two eggs are two pieces of egg: counting the thing itself is the same amount.
fn same_amount(ours: &str, theirs: &str) -> bool {
    let counted = |text: &str| match text.split_once(' ') {
        Some((number, "egg" | "yolk" | "white")) => format!("{number} piece"),
        _ => text.to_owned(),
    };
    counted(ours) == counted(&in_our_symbols(theirs))
}

#[test]
fn lines_are_read_as_written() {
    let rows: Vec<Vec<&str>> = TABLE
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| l.split('\t').collect())
        .collect();
    assert!(rows.len() >= 300, "{} lines", rows.len());
    let mut wrong = Vec::new();
    let (mut amounts, mut names) = (0, 0);
    for row in &rows {
        let [line, amount, name, their_amount, their_name] = row[..] else {
            panic!("five columns: {row:?}")
        };
        let (our_amount, our_name) = ours(line);
        if (our_amount.as_str(), our_name.as_str()) != (amount, name) {
            wrong.push(format!(
                "{line}: {our_amount} | {our_name}, expected {amount} | {name}"
            ));
        }
        amounts += usize::from(same_amount(&our_amount, their_amount));
        names += usize::from(our_name.eq_ignore_ascii_case(their_name));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let agreement = format!(
        "# agreement: amounts {amounts} of {n}, names {names} of {n}",
        n = rows.len()
    );
    assert_eq!(
        TABLE.lines().next(),
        Some(agreement.as_str()),
        "the table records another agreement"
    );
}

#[test]
fn every_mass_can_be_weighed() {
    for line in [
        "500 g strong white flour",
        "2 cups caster sugar",
        "3 cloves garlic",
        "2 eggs",
        "a knob of butter",
    ] {
        let line = IngredientLine::read(line, Region::Us).unwrap();
        let row = commis::measure::ingredients().find(&line.name);
        let mass = line.amount.unwrap().mass(row);
        assert!(mass.unwrap().as_grams() > 1.0, "{}", line.name);
    }
    assert_eq!(Unit::Gram.kind(), Kind::Mass);
}

#[test]
#[ignore = "prints our side of the table, for making it again"]
fn print_ours() {
    for row in TABLE.lines().filter(|l| !l.starts_with('#')) {
        let line = row.split('\t').next().unwrap_or_default();
        let (amount, name) = ours(line);
        println!("ROW\t{line}\t{amount}\t{name}");
    }
}
