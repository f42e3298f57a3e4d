//! `commis change`: one amount, step, heat or time of a formula, without its file format; and the last change taken back.

use std::path::Path;

use super::commands::read_formula;
use super::output::print;
use super::trouble::Trouble;
use super::{import, shelf};
use crate::clean;
use crate::formula;
use crate::writing;

/// `salt to nine grams`, `step three to ...`, `undo`. The rest of the file stays as it is, and so does the file as it was,
/// beside it.
pub(super) fn change(which: &Path, what: &str) -> Result<u8, Trouble> {
    let path = shelf::find(which)?;
    let told = if matches!(what.trim().to_lowercase().as_str(), "undo" | "back") {
        undo(&path)?
    } else {
        obey(&path, what)?
    };
    print(&format!("{told}\n"))?;
    Ok(0)
}

/// Changes a file by a sentence, and tells what was done.
pub(super) fn obey(path: &Path, what: &str) -> Result<String, Trouble> {
    let (formula, text) = read_formula(path)?;
    if let Some((_, c)) = clean::first(what) {
        let named = clean::named(c);
        return Err(Trouble::input(format!(
            "expected plain text, found the control character {named}"
        )));
    }
    let changed = writing::change(&text, &formula, what).map_err(Trouble::input)?;
    formula::read(&path.display().to_string(), &changed.text)
        .map_err(|e| Trouble::input(e.explained(&changed.text)))?;
    import::write(&import::kept_beside(path), &text)?;
    import::write(&path.to_path_buf(), &changed.text)?;
    Ok(changed.told)
}

/// Puts the file back as it was before the last change; once more, and the change is there again.
pub(super) fn undo(path: &Path) -> Result<String, Trouble> {
    let kept = import::kept_beside(path);
    let fail = |e: std::io::Error| Trouble::failed(format!("{}: {e}", path.display()));
    let was = match std::fs::read_to_string(&kept) {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            return Err(Trouble::input("there is no change to take back"));
        }
        read => read.map_err(fail)?,
    };
    let is = std::fs::read_to_string(path).map_err(fail)?;
    import::write(&kept, &is)?;
    import::write(&path.to_path_buf(), &was)?;
    Ok("The last change is taken back; undo again brings it back.".to_owned())
}
