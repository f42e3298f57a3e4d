//! Formulas read from their files, checked.

use std::path::Path;

use super::trouble::Trouble;
use crate::formula::{self, Formula};
use crate::outside;

/// Reads and checks a formula, by its file or its name in the book.
pub(super) fn read_formula(path: &Path) -> Result<(Formula, String), Trouble> {
    let path = &super::shelf::find(path)?;
    let text = read_text(path, formula::LARGEST as u64)?;
    let formula = formula::read(&path.display().to_string(), &text)
        .map_err(|e| Trouble::input(e.explained(&text)))?;
    Ok((formula, text))
}

/// Reads a text of at most so many bytes.
pub(super) fn read_text(path: &Path, most: u64) -> Result<String, Trouble> {
    outside::read_text(path, most)
        .map_err(|e| Trouble::input(format!("{}: cannot be read: {e}", path.display())))
}
