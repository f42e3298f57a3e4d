//! `commis change`: one amount of a formula, without TOML.

use std::path::Path;

use toml_edit::{DocumentMut, value};

use super::commands::read_formula;
use super::output::print;
use super::trouble::Trouble;
use super::{import, shelf};
use crate::formula::{self, one_named};

/// `salt to nine grams`: the amount of one ingredient. The rest of the file stays as it is.
pub(super) fn change(which: &Path, what: &str) -> Result<u8, Trouble> {
    let path = shelf::find(which)?;
    let (formula, text) = read_formula(&path)?;
    let Some((name, amount)) = what.split_once(" to ") else {
        return Err(Trouble::input(format!(
            "expected an ingredient, `to` and an amount, such as `salt to nine grams`, found `{what}`"
        )));
    };
    let at = one_named(&formula, name.trim()).map_err(Trouble::input)?;
    let ingredient = &formula.ingredients[at];
    let mut file: DocumentMut = text
        .parse()
        .map_err(|e: toml_edit::TomlError| Trouble::failed(e.to_string()))?;
    let entry = file
        .get_mut("ingredient")
        .and_then(|i| i.as_array_of_tables_mut())
        .and_then(|all| all.get_mut(at))
        .ok_or_else(|| {
            Trouble::input(format!(
                "{}: its ingredients are not written as [[ingredient]]",
                path.display()
            ))
        })?;
    // 'To to taste' is said as 'to taste'.
    let amount = if amount.trim() == "taste" {
        "to taste"
    } else {
        amount.trim()
    };
    let was = entry
        .get("amount")
        .and_then(|a| a.as_str())
        .unwrap_or("as needed")
        .to_owned();
    entry.insert("amount", value(amount));
    // What stood beside it was for the old amount.
    entry.remove("household");
    let new = file.to_string();
    formula::read(&path.display().to_string(), &new)
        .map_err(|e| Trouble::input(e.explained(&new)))?;
    import::write(&path, &new)?;
    print(&format!("{}: {amount}, was {was}.\n", ingredient.name))?;
    Ok(0)
}
