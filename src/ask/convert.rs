//! 'How many grams in two cups of caster sugar', 'how heavy is an egg'.

use super::error::within;
use super::round::{Spoken, spoken};
use super::{Answer, AskError, Context, heat};
use crate::measure::words::{Style, counted};
use crate::measure::{
    CM_PER_INCH, Heat, Kind, Mass, MeasureError, Region, TableIngredient, Thing, Unit, ingredients,
    print, say,
};

/// The largest number of anything in a question.
const MOST: f64 = 1_000_000.0;
const NIST: &str = "NIST SP 811 (2008), appendix B, and Handbook 44, appendix C";
const UK_ACT: &str = "UK Weights and Measures Act 1985, schedule 1";
const KITCHEN: &str = "common practice: kitchen cups and spoons";
const BY_FEEL: &str = "common practice: measures by feel";

/// How a mass, a volume and a count of one ingredient hang together.
struct Of<'a> {
    said: Option<&'a str>,
    row: Option<&'static TableIngredient>,
}

/// A quantity on its way from one unit to another, with the sum that it went through.
struct Way {
    value: f64,
    rough: bool,
    sum: String,
    sources: Vec<String>,
}

pub(super) fn convert(
    number: f64,
    from: &str,
    to: &str,
    ingredient: Option<&str>,
    context: &Context,
) -> Result<Answer, AskError> {
    within("number", number, 0.0, MOST)?;
    if is_heat(from) && is_heat(to) {
        return heat::convert(number, from, to);
    }
    if let (Some(cm), Some(to_cm)) = (length_unit(from), length_unit(to)) {
        return Ok(length(number, from, cm, to, to_cm));
    }
    let region = context.region;
    // Leaves of gelatine go by their strength.
    let leaf = |unit: &str| matches!(unit.trim(), "leaf" | "leaves" | "sheet" | "sheets");
    if leaf(to)
        && ingredient.is_some_and(|name| name.contains("gelatin") && name.contains("powder"))
    {
        let grams = Unit::find(from, region)?.factor_to(Unit::Gram)?;
        return super::gelatine::gelatine(number * grams, "g", "powder", "gold");
    }
    let from_unit = Unit::find(from, region)?;
    let in_spoons = matches!(to.trim(), "spoon" | "spoons");
    let to_unit = if in_spoons {
        Unit::Tablespoon(region)
    } else {
        beside(Unit::find(to, region)?, to, from_unit, from)
    };
    let from_unit = beside(from_unit, from, to_unit, to);
    let said = ingredient.or_else(|| implied(from_unit).or_else(|| implied(to_unit)));
    let of = Of {
        said,
        row: said.and_then(|name| ingredients().find(name)),
    };
    let way = of.way(number, from_unit, to_unit)?;
    let Spoken { words, exact } = spoken(way.value, to_unit, way.rough, &context.say());
    let mut line = String::new();
    if way.rough || !exact {
        line.push_str("about ");
    }
    match ingredient.filter(|_| to_unit == Unit::Count(Thing::Piece)) {
        // 'About two and a half onions', and not 'pieces'.
        Some(name) => {
            let many = format!("{name}{}", if name.ends_with('o') { "es" } else { "s" });
            line.push_str(&counted(near_piece(way.value), name, &many, Style::Kitchen));
        }
        None => line.push_str(&words),
    }
    if let Some(name) = ingredient.filter(|_| to_unit.kind() != Kind::Count) {
        line.push_str(&format!(" of {name}"));
    }
    if let Some(whose) = [from_unit, to_unit]
        .into_iter()
        .find_map(measure_that_differs)
    {
        line.push_str(&format!(", by the {whose}"));
    }
    if way.rough
        && from_unit.kind() != to_unit.kind()
        && let Some(varies) = of.row.and_then(|row| row.varies.as_deref())
    {
        line.push_str(&format!("; {varies}"));
    }
    Ok(Answer {
        value: way.value,
        high: None,
        parts: Vec::new(),
        unit: to_unit.symbol().to_owned(),
        words: line,
        sum: way.sum,
        source: way.sources.join("; "),
    })
}

/// A measure whose country is not said is of the country that the other one's is: a US cup has US tablespoons.
fn beside(unit: Unit, said: &str, other: Unit, other_said: &str) -> Unit {
    let named = |said: &str| {
        said.trim()
            .split_once(' ')
            .is_some_and(|(first, _)| Region::find(first).is_some())
    };
    match other.region() {
        Some(region) if named(other_said) && !named(said) => unit.in_region(region),
        _ => unit,
    }
}

/// So many whole things, to the half below ten.
fn near_piece(x: f64) -> f64 {
    crate::measure::round_to(x, if x < 10.0 { 0.5 } else { 1.0 }).max(0.5)
}

/// Centimetres in a unit of length.
fn length_unit(word: &str) -> Option<f64> {
    match word {
        "cm" => Some(1.0),
        "mm" => Some(0.1),
        "inch" => Some(CM_PER_INCH),
        _ => None,
    }
}

/// '9 inches in cm'. Tins are measured to a quarter of an inch and to half a centimetre.
fn length(number: f64, from: &str, cm: f64, to: &str, to_cm: f64) -> Answer {
    let value = number * cm / to_cm;
    let (one, many, step, style) = match to {
        "inch" => ("inch", "inches", 0.25, Style::Kitchen),
        "mm" => ("millimetre", "millimetres", 1.0, Style::Scale),
        _ => ("centimetre", "centimetres", 0.5, Style::Scale),
    };
    let rounded = crate::measure::round_to(value, step).max(step);
    let about = if (rounded - value).abs() > value * 0.001 {
        "about "
    } else {
        ""
    };
    Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: to.to_owned(),
        words: format!("{about}{}", counted(rounded, one, many, style)),
        sum: format!(
            "{} {from} x {}",
            print::number(number, 4),
            digits(cm / to_cm)
        ),
        source: NIST.to_owned(),
    }
}

/// 'how heavy is a clove of garlic', 'how much do two eggs weigh'.
pub(super) fn mass_of(
    number: f64,
    ingredient: &str,
    context: &Context,
) -> Result<Answer, AskError> {
    within("number", number, 0.0, MOST)?;
    let region = context.region;
    // 'clove of garlic', 'stick of butter', 'cup of flour'
    if let Some((unit, rest)) = ingredient.split_once(" of ")
        && let Ok(unit) = Unit::find(unit, region)
        && ingredients().find(ingredient).is_none()
    {
        return convert(number, &unit.full_symbol(), "g", Some(rest), context);
    }
    // 'clove', 'egg', 'yolk': the thing itself says of what.
    if let Ok(unit) = Unit::find(ingredient, region)
        && implied(unit).is_some()
    {
        return convert(number, unit.symbol(), "g", None, context);
    }
    let row = ingredients()
        .find(ingredient)
        .ok_or_else(|| unknown(ingredient, "how heavy one is"))?;
    let piece = row
        .pieces
        .iter()
        .find(|p| p.one == "piece")
        .or_else(|| row.pieces.first())
        .ok_or_else(|| MeasureError::NoPiece {
            ingredient: Some(row.name.clone()),
            piece: "piece".to_owned(),
        })?;
    let value = number * piece.g;
    let one = if piece.one == "piece" {
        String::new()
    } else {
        format!("{} ", piece.one)
    };
    Ok(Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: "g".to_owned(),
        words: format!(
            "about {}",
            spoken(value, Unit::Gram, true, &context.say()).words
        ),
        sum: format!(
            "{} x {one}{} g",
            print::number(number, 3),
            print::number(piece.g, 2)
        ),
        source: piece.source.clone(),
    })
}

pub(super) fn unknown(name: &str, missing: &'static str) -> AskError {
    AskError::UnknownIngredient {
        ingredient: name.to_owned(),
        missing,
        near: ingredients()
            .near(name)
            .into_iter()
            .map(str::to_owned)
            .collect(),
    }
}

/// A mass from a number and a unit of an ingredient.
pub(super) fn mass_from(number: f64, unit: Unit, name: &str) -> Result<(Mass, bool), AskError> {
    let of = Of {
        said: Some(name),
        row: ingredients().find(name),
    };
    let way = of.way(number, unit, Unit::Gram)?;
    Ok((Mass::grams(way.value), way.rough))
}

fn is_heat(word: &str) -> bool {
    // 'c' alone is a cup in a recipe and Celsius beside another scale.
    Heat::find(word).is_some() && !word.trim().is_empty()
}

/// What a counted thing is of when nothing else is said.
fn implied(unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::Count(Thing::Egg) => Some("egg"),
        Unit::Count(Thing::Yolk) => Some("egg yolk"),
        Unit::Count(Thing::White) => Some("egg white"),
        Unit::Count(Thing::Clove) => Some("garlic"),
        Unit::Count(Thing::Stick) => Some("butter"),
        _ => None,
    }
}

/// Cups, pints and the like differ from country to country enough to be named; so does the Australian tablespoon.
fn measure_that_differs(unit: Unit) -> Option<String> {
    match unit {
        Unit::Tablespoon(Region::Au) | Unit::Cup(_) => {}
        Unit::Gill(_) | Unit::Pint(_) | Unit::Quart(_) | Unit::Gallon(_) | Unit::FluidOunce(_) => {}
        _ => return None,
    }
    whose(unit).map(|region| format!("{} {}", region.adjective(), unit.singular()))
}

/// Whose measure it is; a metric or Australian pint is the imperial one.
fn whose(unit: Unit) -> Option<Region> {
    let region = unit.region()?;
    let imperial = matches!(
        unit,
        Unit::Gill(_) | Unit::Pint(_) | Unit::Quart(_) | Unit::Gallon(_) | Unit::FluidOunce(_)
    );
    Some(if imperial && region != Region::Us {
        Region::Uk
    } else {
        region
    })
}

/// A unit in a sum: with its region where it has one.
fn named(unit: Unit) -> String {
    whose(unit).map_or_else(
        || unit.symbol().to_owned(),
        |r| format!("{} {}", r.symbol(), unit.symbol()),
    )
}

fn source_of(unit: Unit) -> Option<&'static str> {
    match (unit, unit.region()) {
        (Unit::Ounce | Unit::Pound, _) => Some(NIST),
        (Unit::Stone, _) => Some(UK_ACT),
        (Unit::JapaneseCup | Unit::RiceCup, _) => Some(KITCHEN),
        (_, Some(Region::Us)) => Some(NIST),
        (
            Unit::Gill(_) | Unit::Pint(_) | Unit::Quart(_) | Unit::Gallon(_) | Unit::FluidOunce(_),
            Some(_),
        ) => Some(UK_ACT),
        (_, Some(_)) => Some(KITCHEN),
        _ if unit.is_approximate() => Some(BY_FEEL),
        _ => None,
    }
}

impl Of<'_> {
    fn need(
        &self,
        from: Unit,
        to: Unit,
        missing: &'static str,
    ) -> Result<&'static TableIngredient, AskError> {
        match (self.row, self.said) {
            (Some(row), _) => Ok(row),
            (None, Some(name)) => Err(unknown(name, missing)),
            (None, None) => Err(AskError::OfWhat {
                from: from.plural().to_owned(),
                to: to.plural().to_owned(),
            }),
        }
    }

    /// From one unit to another, by way of grams where the kinds differ.
    fn way(&self, number: f64, from: Unit, to: Unit) -> Result<Way, AskError> {
        let mut sources: Vec<String> = [from, to]
            .into_iter()
            .filter_map(source_of)
            .map(str::to_owned)
            .collect();
        let own = |unit: Unit| {
            self.row
                .and_then(|row| row.pieces.iter().find(|p| p.one == unit.symbol()))
        };
        if from.kind() == to.kind() && own(from).is_none() && own(to).is_none() {
            let factor = from.factor_to(to)?;
            sources.dedup();
            if sources.is_empty() {
                sources.push("definition".to_owned());
            }
            return Ok(Way {
                value: number * factor,
                rough: from.is_approximate() || to.is_approximate(),
                sum: format!(
                    "{} {} x {}",
                    print::number(number, 4),
                    named(from),
                    digits(factor)
                ),
                sources,
            });
        }
        let mut sum = format!("{} {}", print::number(number, 4), named(from));
        let grams_in_one = self.grams_in_one(from, to, &mut sum, &mut sources)?;
        let grams = number * grams_in_one;
        let mut back = String::new();
        let grams_in_other = self.grams_in_one(to, from, &mut back, &mut sources)?;
        if to != Unit::Gram {
            if from != Unit::Gram {
                sum.push_str(&format!(" = {} g", digits(grams)));
            }
            sum.push_str(&format!(", over {}", back.trim_start_matches(" x ")));
        }
        sources.dedup();
        Ok(Way {
            value: grams / grams_in_other,
            rough: true,
            sum,
            sources,
        })
    }

    fn grams_in_one(
        &self,
        unit: Unit,
        other: Unit,
        sum: &mut String,
        sources: &mut Vec<String>,
    ) -> Result<f64, AskError> {
        if let Some(piece) = self
            .row
            .and_then(|row| row.pieces.iter().find(|p| p.one == unit.symbol()))
        {
            sum.push_str(&format!(" x {} g", digits(piece.g)));
            sources.push(piece.source.clone());
            return Ok(piece.g);
        }
        match unit.kind() {
            Kind::Mass => {
                if unit != Unit::Gram {
                    sum.push_str(&format!(" x {} g", digits(unit.size())));
                }
                Ok(unit.size())
            }
            Kind::Volume => {
                let row = self.need(unit, other, "how heavy a cup of it is")?;
                let density = row.g_per_ml.ok_or_else(|| MeasureError::NoDensity {
                    ingredient: Some(row.name.clone()),
                    from: unit.plural().to_owned(),
                    to: other.plural().to_owned(),
                })?;
                sum.push_str(&format!(
                    " x {} ml x {} g/ml",
                    digits(unit.size()),
                    digits(density)
                ));
                sources.push(format!("{}: {}", row.name, row.density_source));
                Ok(unit.size() * density)
            }
            Kind::Count => {
                let row = self.need(unit, other, "how heavy one is")?;
                Err(MeasureError::NoPiece {
                    ingredient: Some(row.name.clone()),
                    piece: unit.singular().to_owned(),
                }
                .into())
            }
        }
    }
}

/// Enough digits to follow the sum.
fn digits(x: f64) -> String {
    print::number(x, if x >= 100.0 { 3 } else { 6 })
}

/// So much of something in the unit in which it was asked, for a second clause: 'about one and a half teaspoons'.
pub(super) fn again_in(mass: Mass, unit: Unit, name: &str, context: &Context) -> Option<String> {
    if unit.kind() != Kind::Volume {
        return None;
    }
    let of = Of {
        said: Some(name),
        row: ingredients().find(name),
    };
    let way = of.way(mass.as_grams(), Unit::Gram, unit).ok()?;
    let said = match unit {
        Unit::Teaspoon(_) => {
            say::in_unit(crate::measure::round_to(way.value, 0.25).max(0.125), unit)
        }
        _ => spoken(way.value, unit, true, &context.say()).words,
    };
    Some(format!("about {said}"))
}
