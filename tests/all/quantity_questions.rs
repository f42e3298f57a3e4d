//! Quantity questions, each with what it should be answered: written by people who had not seen the grammar, but for the last list.
//!
//! `tests/tables/quantity_questions.tsv` and the later lists: question, kind, value, unit, tolerance, a second value and its unit, source,
//! note. `decline` is a question that has no answer as it stands. Rows by the USDA's figures are of US cups, as that
//! table is; all others are asked in a metric kitchen. `COMMIS_QUESTIONS` names another file of the same columns, for
//! questions that are kept apart: `COMMIS_QUESTIONS=other.tsv cargo test --test all quantity_questions -- --nocapture`.

use commis::ask::{Answer, Context, answer};
use commis::measure::{Region, Unit};
use commis::order::Order;
use commis::understand::{Understood, parse};

/// The share of questions that must be answered right at the first wording.
const RIGHT: f64 = 0.92;

fn unit_of(name: &str) -> String {
    let name = name.to_lowercase();
    match name.as_str() {
        "x" | "factor" | "times" => "times".to_owned(),
        "sheets" | "sheet" | "leaf" | "leaves" | "pieces" | "piece" | "egg" | "eggs" | "yolk"
        | "yolks" | "white" | "whites" => "pieces".to_owned(),
        "h" | "hour" | "hours" => "h".to_owned(),
        "min" | "mins" | "minute" | "minutes" => "min".to_owned(),
        "sticks" => "stick".to_owned(),
        "percent" => "%".to_owned(),
        "count" | "loaf" | "loaves" | "pcs" => "pieces".to_owned(),
        "inch" => "in".to_owned(),
        // The unit `fan` is by its definition a degree Celsius of a fan oven.
        "fan" => "c".to_owned(),
        _ => name,
    }
}

/// A value of one unit in another.
fn in_unit(value: f64, unit: &str, wanted: &str) -> Option<f64> {
    let (unit, wanted) = (unit_of(unit), unit_of(wanted));
    let find = |name: &str| Unit::find(name, Region::Metric).ok();
    match (unit.as_str(), wanted.as_str()) {
        (a, b) if a == b => Some(value),
        ("c", "f") => Some(value * 1.8 + 32.0),
        ("f", "c") => Some((value - 32.0) / 1.8),
        ("min", "h") => Some(value / 60.0),
        ("h", "min") => Some(value * 60.0),
        ("s", "min") => Some(value / 60.0),
        _ => Some(value * find(&unit)?.factor_to(find(&wanted)?).ok()?),
    }
}

/// Is a value of one unit what was expected in another?
fn meets(value: f64, unit: &str, expected: f64, wanted: &str, tolerance: f64) -> bool {
    in_unit(value, unit, wanted)
        .is_some_and(|v| (v - expected).abs() <= expected.abs() * tolerance + 1e-9)
}

fn right(found: &Answer, row: &[&str]) -> bool {
    let [_, _, value, unit, tolerance, second, second_unit, ..] = row[..] else {
        panic!("nine columns: {row:?}")
    };
    let (value, tolerance): (f64, f64) = (value.parse().unwrap(), tolerance.parse().unwrap());
    let meets = |v: f64, u: &str| meets(v, u, value, unit, tolerance);
    // A range is right that has the expected number in it.
    let inside = found.high.is_some_and(|high| {
        let (low, high) = (
            in_unit(found.value, &found.unit, unit),
            in_unit(high, &found.unit, unit),
        );
        low.zip(high)
            .is_some_and(|(low, high)| (low..=high).contains(&value))
    });
    let first = meets(found.value, &found.unit)
        || inside
        || found.high.is_some_and(|high| meets(high, &found.unit))
        || found.parts.first().is_some_and(|p| meets(p.value, &p.unit));
    first
        && (second.is_empty()
            || found.parts.get(1).is_some_and(|p| {
                self::meets(
                    p.value,
                    &p.unit,
                    second.parse().unwrap(),
                    second_unit,
                    tolerance,
                )
            }))
}

#[test]
fn questions_by_a_stranger_are_answered_right_or_not_at_all() {
    let lexicon = commis::bench::kitchen_lexicon();
    let text = match std::env::var("COMMIS_QUESTIONS") {
        Ok(path) => std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")),
        Err(_) => [
            include_str!("../tables/quantity_questions.tsv"),
            include_str!("../tables/quantity_questions_second.tsv"),
            include_str!("../tables/quantity_questions_third.tsv"),
            include_str!("../tables/quantity_questions_fourth.tsv"),
            include_str!("../tables/quantity_questions_fifth.tsv"),
            include_str!("../tables/quantity_questions_sixth.tsv"),
            include_str!("../tables/quantity_questions_seventh.tsv"),
            include_str!("../tables/quantity_questions_eighth.tsv"),
            include_str!("../tables/quantity_questions_kinds.tsv"),
        ]
        .concat(),
    };
    let rows: Vec<Vec<&str>> = text
        .lines()
        .filter(|line| !line.starts_with('#') && !line.starts_with("question\t"))
        .map(|line| line.split('\t').collect())
        .collect();
    let (mut count, mut wrong, mut unanswered) = (0, Vec::new(), Vec::new());
    for row in &rows {
        // Both are of US cups, pints and quarts.
        let by_usda = row[7].contains("USDA SR28") || row[7].contains("NIST HB 44");
        let context = Context {
            region: if by_usda { Region::Us } else { Region::Metric },
            ..Context::default()
        };
        let found = match parse(row[0], &lexicon) {
            Understood::Order(Order::Ask(question)) => answer(&question, &context).ok(),
            _ => None,
        };
        match (row[1], found) {
            ("decline", None) => count += 1,
            // That it is thrown away is no number.
            ("decline", Some(found)) if found.words.starts_with("No: throw it away.") => count += 1,
            ("decline", Some(found)) => wrong.push(format!("{}: {}", row[0], found.words)),
            (_, Some(found)) if right(&found, row) => count += 1,
            (_, Some(found)) => {
                wrong.push(format!("{}: {}, expected {}", row[0], found.words, row[2]));
            }
            (_, None) => unanswered.push(row[0]),
        }
    }
    let share = f64::from(count) / rows.len() as f64;
    println!(
        "{count} of {} right, {} not answered, {} wrong\nnot answered:\n{}\nwrong:\n{}",
        rows.len(),
        unanswered.len(),
        wrong.len(),
        unanswered.join("\n"),
        wrong.join("\n")
    );
    assert!(rows.len() >= 100, "{} questions", rows.len());
    assert!(wrong.is_empty(), "answered wrong:\n{}", wrong.join("\n"));
    assert!(share >= RIGHT, "only {share} answered right");
}
