//! Today's size from the command line.

use crate::cli::SizeArgs;
use crate::formula::{Batch, Formula};
use crate::measure::{Amount, Mass, Region, tin};
use crate::order::ScaleBy;

/// What the options ask for; nothing when none was given.
pub(super) fn scale_by(size: &SizeArgs, region: Region) -> Result<Option<ScaleBy>, String> {
    let mass = |option: &str, text: &str| -> Result<Mass, String> {
        let m = Amount::parse(text, region)
            .and_then(|a| a.mass(None))
            .map_err(|e| format!("--{option}: {e}"))?;
        if m.as_grams() > 0.0 {
            Ok(m)
        } else {
            Err(format!(
                "--{option}: expected a mass above nothing, found `{text}`"
            ))
        }
    };
    let positive = |option: &str, n: f64| {
        if n.is_finite() && n > 0.0 {
            Ok(n)
        } else {
            Err(format!(
                "--{option}: expected a number above 0, found `{n}`"
            ))
        }
    };
    if let Some(n) = size.portions {
        return positive("portions", n).map(|n| Some(ScaleBy::Portions(n)));
    }
    if let Some(n) = size.factor {
        return positive("factor", n).map(|n| Some(ScaleBy::Factor(n)));
    }
    if let Some(n) = size.hydration {
        return positive("hydration", n).map(|n| Some(ScaleBy::Hydration(n)));
    }
    if let Some(text) = &size.flour {
        return mass("flour", text).map(|m| Some(ScaleBy::Flour(m)));
    }
    if let Some(text) = &size.dough {
        return mass("dough", text).map(|m| Some(ScaleBy::Dough(m)));
    }
    if let Some(text) = &size.pieces {
        let parts = text.split_once(['x', '×', '*']);
        let wrong =
            || format!("--pieces: expected a number and a mass such as `8 x 95 g`, found `{text}`");
        let (n, each) = parts.ok_or_else(wrong)?;
        let count = n
            .trim()
            .parse::<f64>()
            .map_err(|_| wrong())
            .and_then(|n| positive("pieces", n))?;
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
    if let Some(text) = &size.limit {
        let at = text.find(|c: char| c.is_ascii_digit());
        let wrong = || {
            format!(
                "--limit: expected an ingredient and a mass such as `flour 380 g`, found `{text}`"
            )
        };
        let (name, amount) = text.split_at(at.ok_or_else(wrong)?);
        let ingredient = name.trim().to_lowercase();
        if ingredient.is_empty() {
            return Err(wrong());
        }
        return Ok(Some(ScaleBy::Limit {
            ingredient: ingredient.into(),
            have: mass("limit", amount)?,
        }));
    }
    if let Some(text) = &size.tin {
        let (shape, size_cm) = tin::read(text).map_err(|e| format!("--tin: {e}"))?;
        return Ok(Some(ScaleBy::Tin { shape, size_cm }));
    }
    Ok(None)
}

/// The formula at the size asked for.
pub(super) fn batch(formula: &Formula, size: &SizeArgs, region: Region) -> Result<Batch, String> {
    match scale_by(size, region)? {
        None => Ok(Batch::as_written(formula)),
        Some(by) => Batch::scaled(formula, &by).map_err(|e| e.to_string()),
    }
}
