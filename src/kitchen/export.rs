//! `commis export`: formulas as linked data of schema.org, or as Markdown.

use std::path::PathBuf;

use super::commands::read_formula;
use super::output::print;
use super::shelf;
use super::trouble::Trouble;
use crate::cli::ExportAs;
use crate::import::{linked, markdown};

/// Prints formulas in another form: several as an array, or one after the other.
pub(super) fn export(which: &[PathBuf], format: ExportAs) -> Result<u8, Trouble> {
    let read = |one: &PathBuf| Ok(read_formula(&shelf::find(one)?)?.0);
    let all = which
        .iter()
        .map(read)
        .collect::<Result<Vec<_>, Trouble>>()?;
    let text = match (format, all.as_slice()) {
        (ExportAs::Jsonld, [one]) => pretty(&linked(one))?,
        (ExportAs::Jsonld, all) => pretty(&all.iter().map(linked).collect::<Vec<_>>())?,
        (ExportAs::Markdown, all) => all.iter().map(markdown).collect::<Vec<_>>().join("\n"),
    };
    print(&text)?;
    Ok(0)
}

fn pretty(value: &impl serde::Serialize) -> Result<String, Trouble> {
    let text = serde_json::to_string_pretty(value).map_err(Trouble::failed)?;
    Ok(text + "\n")
}
