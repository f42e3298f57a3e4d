//! `commis export`: a formula as linked data of schema.org, or as Markdown.

use std::path::Path;

use super::commands::read_formula;
use super::output::print;
use super::shelf;
use super::trouble::Trouble;
use crate::cli::ExportAs;
use crate::import::{linked, markdown};

/// Prints a formula in another form.
pub(super) fn export(which: &Path, format: ExportAs) -> Result<u8, Trouble> {
    let (formula, _) = read_formula(&shelf::find(which)?)?;
    let text = match format {
        ExportAs::Jsonld => {
            serde_json::to_string_pretty(&linked(&formula)).map_err(Trouble::failed)? + "\n"
        }
        ExportAs::Markdown => markdown(&formula),
    };
    print(&text)?;
    Ok(0)
}
