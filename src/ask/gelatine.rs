//! Gelatine by sheets and strength.

use super::error::within;
use super::{Answer, AskError};
use crate::measure::words::{Style, counted};
use crate::measure::{Gelatine, Jelly, Mass, Powder, Volume, print, say};

fn kind(name: &str) -> Result<&'static Gelatine, AskError> {
    Gelatine::find(name).ok_or_else(|| AskError::UnknownWord {
        expected: "bronze, silver, gold, platinum or powder",
        found: name.to_owned(),
    })
}

/// A strength by its name, or by its bloom.
fn strength(name: &str) -> Result<Gelatine, AskError> {
    match name.trim().parse::<f64>() {
        Ok(bloom) => Ok(Gelatine {
            name: name.to_owned(),
            bloom: within("bloom", bloom, 50.0, 400.0)?,
            leaf_g: None,
            source: "common practice: by weight as the root of the strengths".to_owned(),
        }),
        Err(_) => kind(name).cloned(),
    }
}

/// How much so many leaves or grams set, softly.
fn sets(number: f64, unit: &str, from: &str) -> Result<Answer, AskError> {
    let (jelly, powder, from) = (Jelly::usual(), Powder::usual(), kind(from)?);
    let (ml, each, source) = match (unit, from.leaf_g) {
        ("sheet", _) => (
            number * jelly.ml_for_a_leaf,
            jelly.ml_for_a_leaf,
            &jelly.source,
        ),
        (_, Some(leaf)) => {
            let each = jelly.ml_for_a_leaf / leaf;
            (number * each, each, &jelly.source)
        }
        (_, None) => (
            number * powder.ml_for_a_gram,
            powder.ml_for_a_gram,
            &powder.source,
        ),
    };
    let near = Volume::millilitres(crate::measure::round_to(ml, 50.0).max(50.0));
    Ok(Answer {
        value: ml,
        high: None,
        unit: "ml".to_owned(),
        parts: Vec::new(),
        words: format!("about {}, softly set", say::volume(near)),
        sum: format!(
            "{} {unit} x {} ml",
            print::number(number, 2),
            print::number(each, 1)
        ),
        source: source.clone(),
    })
}

/// So many leaves or grams of one strength in another; or for so many millilitres to set.
pub(super) fn gelatine(number: f64, unit: &str, from: &str, to: &str) -> Result<Answer, AskError> {
    within("number", number, 0.0, 100_000.0)?;
    if to == "set" {
        return sets(number, unit, from);
    }
    let (from, to) = (&strength(from)?, &strength(to)?);
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
