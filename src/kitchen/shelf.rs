//! The book: where the cook's formulas lie, and how they are found by name.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use super::place;
use super::shelf_index::{self, Head};
use super::trouble::Trouble;
use crate::settings::{Settings, settings_path};
use crate::titles::{self, Title};

/// So many names are told where several are meant.
const MOST_NAMED: usize = 9;

/// The settings file that the cook named.
static SETTINGS: OnceLock<Option<PathBuf>> = OnceLock::new();

/// The settings that name further folders are in this file; the usual one where none is given.
pub(super) fn settings_in(file: Option<PathBuf>) {
    let _ = SETTINGS.set(file);
}

/// Further folders, as the settings name them. A fault in the settings is told by the commands that need them.
fn further() -> Vec<PathBuf> {
    let named = SETTINGS.get().cloned().flatten();
    let path = named.map_or_else(|| settings_path().ok(), Some);
    let settings = path.and_then(|path| Settings::read(&path).ok());
    settings.map_or_else(Vec::new, |settings| settings.books)
}

/// The book's folder: `$XDG_DATA_HOME/commis/formulas`, or `~/.local/share/commis/formulas`.
pub(super) fn folder() -> Option<PathBuf> {
    folder_of(std::env::var_os("XDG_DATA_HOME"), std::env::var_os("HOME"))
}

/// The same from given values. A path that is empty or not absolute counts as not set, as the XDG Base Directory
/// Specification (0.8) wants.
fn folder_of(data: Option<OsString>, home: Option<OsString>) -> Option<PathBuf> {
    let absolute = |value: Option<OsString>| value.map(PathBuf::from).filter(|p| p.is_absolute());
    let base = absolute(data).or_else(|| absolute(home).map(|home| home.join(".local/share")));
    base.map(|base| base.join("commis/formulas"))
}

/// One formula of the book: what it is called, and its file.
pub(super) struct Kept {
    pub(super) head: Head,
    pub(super) path: PathBuf,
}

impl Kept {
    /// How it can be found.
    pub(super) fn title(&self) -> Title {
        Title {
            name: self.head.name.clone(),
            also: self.head.also.clone(),
            file: stem(&self.path),
        }
    }
}

fn stem(path: &Path) -> String {
    path.file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// Every formula of the book, then those of further folders, then those that come with the program.
pub(super) fn all() -> Vec<Kept> {
    let folders: Vec<PathBuf> = folder()
        .into_iter()
        .chain(further())
        .chain([place::shipped("shared/formulas")])
        .collect();
    in_folders(&folders)
}

/// A pipe, a device or a folder among the formulas is none, and would be waited for. A link that leads nowhere is told.
pub(super) fn is_no_file(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|about| !about.is_file())
}

/// Every formula of these folders, by name in each; a folder that is not there has none.
pub(super) fn in_folders(folders: &[PathBuf]) -> Vec<Kept> {
    let files = folders.iter().enumerate().flat_map(|(n, folder)| {
        let entries = std::fs::read_dir(folder).into_iter().flatten();
        let paths = entries.filter_map(|entry| Some(entry.ok()?.path()));
        let formulas =
            paths.filter(|path| path.extension().is_some_and(|e| e == "toml") && !is_no_file(path));
        formulas.map(move |path| (n, path))
    });
    let (of, paths): (Vec<usize>, Vec<PathBuf>) = files.unzip();
    let heads = shelf_index::heads(&paths);
    let mut kept: Vec<(usize, Kept)> = of
        .into_iter()
        .zip(paths.into_iter().zip(heads))
        .map(|(n, (path, head))| (n, Kept { head, path }))
        .collect();
    let key = |(n, kept): &(usize, Kept)| (*n, kept.head.name.to_lowercase(), kept.path.clone());
    kept.sort_by_cached_key(key);
    kept.into_iter().map(|(_, kept)| kept).collect()
}

/// The file that a cook means: a path, or a name, a nickname or a part of one in the book.
///
/// # Errors
/// Where none is called so, or several are.
pub(super) fn find(wanted: &Path) -> Result<PathBuf, Trouble> {
    let said = wanted.to_string_lossy();
    if wanted.exists() {
        return Ok(wanted.to_path_buf());
    }
    let kept = all();
    let titles: Vec<Title> = kept.iter().map(Kept::title).collect();
    if said.contains('/') || said.ends_with(".toml") {
        return Err(Trouble::input(format!(
            "{said}: no such file; {}",
            what_then(&kept, &stem(wanted))
        )));
    }
    match titles::named(&titles, &said).as_slice() {
        [one] => Ok(kept[*one].path.clone()),
        [] => Err(Trouble::input(format!(
            "{said}: no such file, and no formula in the book is called so; {}",
            what_then(&kept, &said)
        ))),
        several => {
            let names: Vec<&str> = several
                .iter()
                .take(MOST_NAMED)
                .map(|at| kept[*at].head.name.as_str())
                .collect();
            let more = match several.len().saturating_sub(MOST_NAMED) {
                0 => String::new(),
                n => format!(", or one of {n} more"),
            };
            Err(Trouble::input(format!(
                "{said}: which one: {}{more}?",
                names.join(", or ")
            )))
        }
    }
}

/// Two names that are less alike than this are different things.
const ALIKE: f64 = 0.75;

/// What is nearest to a name in the book, and how to cook it; else where all are listed.
fn what_then(kept: &[Kept], said: &str) -> String {
    let said = said.to_lowercase().replace(['-', '_'], " ");
    let likeness = |kept: &Kept| {
        let title = kept.title();
        let names = [&title.name, &title.file].into_iter().chain(&title.also);
        let alike = names.map(|name| {
            let name = name.to_lowercase().replace(['-', '_'], " ");
            // A name may be wrong in one of its words only.
            let words = name
                .split_whitespace()
                .map(|word| 0.95 * strsim::jaro_winkler(word, &said));
            words.fold(strsim::jaro_winkler(&name, &said), f64::max)
        });
        alike.fold(0.0, f64::max)
    };
    let nearest = kept.iter().map(|kept| (likeness(kept), kept));
    match nearest.max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((alike, kept)) if alike >= ALIKE => {
            let name = &kept.head.name;
            format!(
                "the nearest in the book is `{}`, and `commis book` lists them all",
                name.to_lowercase()
            )
        }
        _ => "`commis book` lists what there is".to_owned(),
    }
}

/// A file in the book for a new formula: its name in small letters, with a number where one is there already.
///
/// # Errors
/// Where there is no folder for it.
pub(super) fn place_for(name: &str) -> Result<PathBuf, Trouble> {
    let folder = folder().ok_or_else(|| {
        Trouble::input("expected `XDG_DATA_HOME` or `HOME` to be set, found neither")
    })?;
    std::fs::create_dir_all(&folder)
        .map_err(|e| Trouble::failed(format!("{}: {e}", folder.display())))?;
    let words: Vec<String> = name
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .take(8)
        .map(|w| w.chars().take(30).collect())
        .collect();
    let stem = if words.is_empty() {
        "recipe".to_owned()
    } else {
        words.join("-")
    };
    let place = |n: usize| match n {
        1 => folder.join(format!("{stem}.toml")),
        n => folder.join(format!("{stem}-{n}.toml")),
    };
    let free = (1..10_000).map(place).find(|p| !p.exists());
    free.ok_or_else(|| Trouble::failed(format!("{}: full", folder.display())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_folder_follows_xdg() {
        let of = |data: &str, home: &str| folder_of(Some(data.into()), Some(home.into()));
        assert_eq!(of("/d", "/h"), Some("/d/commis/formulas".into()));
        assert_eq!(of("", "/h"), Some("/h/.local/share/commis/formulas".into()));
        assert_eq!(of("relative", "relative"), None);
    }
}
