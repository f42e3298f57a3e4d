//! Today's size from the command line.

use crate::cli::SizeArgs;
use crate::formula::{Batch, Formula, ScaleError, one_named};
use crate::measure::{Amount, Mass, MeasureError, Region, TableIngredient, ingredients, tin};
use crate::order::ScaleBy;

/// Why there is no such size.
#[derive(Debug, thiserror::Error)]
pub(super) enum SizeError {
    /// An amount cannot be read.
    #[error("--{option}: {source}")]
    Amount {
        option: &'static str,
        #[source]
        source: MeasureError,
    },
    /// The option is something else.
    #[error("--{option}: expected {expected}, found `{found}`")]
    Option {
        option: &'static str,
        expected: &'static str,
        found: String,
    },
    /// The formula has no such size.
    #[error(transparent)]
    Scale(#[from] ScaleError),
}

fn wrong(option: &'static str, expected: &'static str, found: impl ToString) -> SizeError {
    SizeError::Option {
        option,
        expected,
        found: found.to_string(),
    }
}

fn mass(option: &'static str, text: &str, region: Region) -> Result<Mass, SizeError> {
    mass_of(option, text, region, None)
}

/// The same of an ingredient, by the spoon or by the piece as well.
fn mass_of(
    option: &'static str,
    text: &str,
    region: Region,
    of: Option<&TableIngredient>,
) -> Result<Mass, SizeError> {
    let read = Amount::parse(text, region).and_then(|a| a.mass(of));
    let m = read.map_err(|source| SizeError::Amount { option, source })?;
    if m.as_grams() > 0.0 {
        Ok(m)
    } else {
        Err(wrong(option, "a mass above nothing", text))
    }
}

fn positive(option: &'static str, n: f64) -> Result<f64, SizeError> {
    if n.is_finite() && n > 0.0 {
        Ok(n)
    } else {
        Err(wrong(option, "a number above 0", n))
    }
}

/// What the options ask for, in the order in which it is done; nothing when none was given.
pub(super) fn scale_by(
    size: &SizeArgs,
    region: Region,
    formula: &Formula,
) -> Result<Vec<ScaleBy>, SizeError> {
    let mut wishes = Vec::new();
    if let Some(n) = size.hydration {
        wishes.push(ScaleBy::Hydration(positive("hydration", n)?));
    }
    for text in &size.part {
        let not = || wrong("part", "a part and a number such as `filling=2`", text);
        let (part, times) = text.split_once('=').ok_or_else(not)?;
        let times = times.trim().parse::<f64>().map_err(|_| not())?;
        wishes.push(ScaleBy::Part {
            part: part.trim().into(),
            times: positive("part", times)?,
        });
    }
    wishes.extend(one_size(size, region)?);
    if let Some(text) = &size.limit {
        wishes.push(limit(text, region, formula)?);
    }
    Ok(wishes)
}

/// No more than there is: `flour 380 g`.
fn limit(text: &str, region: Region, formula: &Formula) -> Result<ScaleBy, SizeError> {
    let not = || {
        wrong(
            "limit",
            "an ingredient and a mass such as `flour 380 g`",
            text,
        )
    };
    let at = text.find(|c: char| c.is_ascii_digit()).ok_or_else(not)?;
    let (name, amount) = text.split_at(at);
    let named = name.trim().to_lowercase();
    if named.is_empty() {
        return Err(not());
    }
    let at = one_named(formula, &named)?;
    let found = &formula.ingredients[at];
    let row = ingredients()
        .find(&found.table)
        .or_else(|| ingredients().find(&found.name));
    Ok(ScaleBy::Limit {
        ingredient: found.id.as_str().into(),
        have: mass_of("limit", amount, region, row)?,
    })
}

fn one_size(size: &SizeArgs, region: Region) -> Result<Option<ScaleBy>, SizeError> {
    let mass = |option, text: &str| mass(option, text, region);
    if let Some(n) = size.portions {
        return positive("portions", n).map(|n| Some(ScaleBy::Portions(n)));
    }
    if let Some(n) = size.factor {
        return positive("factor", n).map(|n| Some(ScaleBy::Factor(n)));
    }
    if let Some(text) = &size.flour {
        return mass("flour", text).map(|m| Some(ScaleBy::Flour(m)));
    }
    if let Some(text) = &size.dough {
        return mass("dough", text).map(|m| Some(ScaleBy::Dough(m)));
    }
    if let Some(text) = &size.pieces {
        let not = || wrong("pieces", "a number and a mass such as `8 x 95 g`", text);
        let (n, each) = text.split_once(['x', '×', '*']).ok_or_else(not)?;
        let n = n.trim().parse::<f64>().map_err(|_| not())?;
        let count = positive("pieces", n)?;
        let each = each.trim();
        let (each, baked) = match each.strip_suffix("baked") {
            Some(each) => (each.trim_end(), true),
            None => (each, false),
        };
        return Ok(Some(ScaleBy::Pieces {
            count,
            each: mass("pieces", each)?,
            baked,
        }));
    }
    if let Some(text) = &size.tin {
        let read = tin::read(text);
        let (shape, size_cm) = read.map_err(|source| SizeError::Amount {
            option: "tin",
            source,
        })?;
        return Ok(Some(ScaleBy::Tin { shape, size_cm }));
    }
    Ok(None)
}

/// The formula at the size asked for.
pub(super) fn batch(
    formula: &Formula,
    size: &SizeArgs,
    region: Region,
) -> Result<Batch, SizeError> {
    let written = Ok(Batch::as_written(formula));
    let batch: Result<Batch, ScaleError> = scale_by(size, region, formula)?
        .iter()
        .fold(written, |batch, by| batch?.then(formula, by));
    Ok(batch?)
}
