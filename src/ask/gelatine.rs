//! Gelatine by sheets and strength.

use super::error::within;
use super::{Answer, AskError};
use crate::measure::words::{Style, counted};
use crate::measure::{Gelatine, Jelly, Mass, print, say};

fn kind(name: &str) -> Result<&'static Gelatine, AskError> {
    Gelatine::find(name).ok_or_else(|| AskError::UnknownWord {
        expected: "bronze, silver, gold, platinum or powder",
        found: name.to_owned(),
    })
}

/// So many leaves or grams of one strength in another; or for so many millilitres to set.
pub(super) fn gelatine(number: f64, unit: &str, from: &str, to: &str) -> Result<Answer, AskError> {
    within("number", number, 0.0, 100_000.0)?;
    let (from, to) = (kind(from)?, kind(to)?);
    let n = |x: f64| print::number(x, 2);
    if unit == "ml" {
        let jelly = Jelly::usual();
        let leaves = number / jelly.ml_for_a_leaf;
        let near = crate::measure::round_to(leaves, 0.5).max(0.5);
        let firm = crate::measure::round_to(leaves * 1.5, 0.5).max(0.5);
        return Ok(Answer {
            value: leaves,
            high: Some(leaves * 1.5),
            unit: "sheet".to_owned(),
            parts: Vec::new(),
            words: format!(
                "about {} for a soft set, {} to turn it out",
                counted(near, "leaf", "leaves", Style::Kitchen),
                crate::measure::words::number(firm, Style::Kitchen)
            ),
            sum: format!("{} ml / {} ml", n(number), n(jelly.ml_for_a_leaf)),
            source: jelly.source.clone(),
        });
    }
    let source = format!("{}; {}", from.source, to.source);
    let grams = match (unit, from.leaf_g) {
        ("g", _) => number,
        ("sheet", Some(leaf)) => number * leaf,
        _ => {
            return Err(AskError::UnknownWord {
                expected: "leaves or grams of gelatine",
                found: unit.to_owned(),
            });
        }
    };
    let wanted = grams * (from.bloom / to.bloom).sqrt();
    let sum = format!(
        "{} g x root of {} / {}",
        n(grams),
        n(from.bloom),
        n(to.bloom)
    );
    let same = "about ";
    // Leaf for leaf they set the same: that is how they are made.
    let (value, unit, words) = match (unit, to.leaf_g) {
        ("sheet", Some(_)) => {
            let leaves = counted(number, "leaf", "leaves", Style::Kitchen);
            (
                number,
                "sheet",
                format!("{leaves}: leaf for leaf they set the same"),
            )
        }
        ("g", Some(leaf)) if from.leaf_g.is_none() => {
            let leaves = wanted / leaf;
            let near = crate::measure::round_to(leaves, 0.5).max(0.5);
            let said = counted(near, "leaf", "leaves", Style::Kitchen);
            (leaves, "sheet", format!("{same}{said}"))
        }
        _ => {
            let near = Mass::grams(crate::measure::round_to(wanted, 0.1).max(0.1));
            (wanted, "g", format!("{same}{}", say::exact_mass(near)))
        }
    };
    Ok(Answer {
        value,
        high: None,
        unit: unit.to_owned(),
        parts: Vec::new(),
        words,
        sum,
        source,
    })
}

#[cfg(test)]
mod tests {
    use super::gelatine;

    // Common practice: leaves of every strength set the same; four to a pint.
    #[test]
    fn leaves_and_strengths() {
        assert_eq!(
            gelatine(10.0, "sheet", "silver", "gold").unwrap().value,
            10.0
        );
        let platinum = gelatine(10.0, "g", "silver", "platinum").unwrap();
        assert!((platinum.value - 10.0 * (160.0_f64 / 230.0).sqrt()).abs() < 1e-9);
        assert_eq!(platinum.unit, "g");
        assert!((gelatine(568.0, "ml", "gold", "gold").unwrap().value - 4.0).abs() < 0.01);
        // The weights of the leaves agree with the rule of the roots to a fifth.
        for (a, b) in [("bronze", "gold"), ("silver", "gold"), ("platinum", "gold")] {
            let one = gelatine(1.0, "sheet", a, "powder").unwrap().value;
            let other = gelatine(1.0, "sheet", b, "powder").unwrap().value;
            assert!((one / other - 1.0).abs() < 0.4, "{a}: {one} for {other}");
        }
        assert!(gelatine(1.0, "sheet", "powder", "gold").is_err());
    }
}
