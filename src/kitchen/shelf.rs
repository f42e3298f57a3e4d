//! The book: where the cook's formulas lie, and how they are found by name.

use std::ffi::OsString;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use super::output::print;
use super::place;
use super::trouble::Trouble;

/// How much of a file is read for its name.
const HEAD: usize = 4096;

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

/// One formula of the book: its name, and its file.
pub(super) struct Kept {
    pub(super) name: String,
    pub(super) path: PathBuf,
}

/// Every formula of the book, then those that come with the program.
pub(super) fn all() -> Vec<Kept> {
    let mut kept = Vec::new();
    for folder in folder()
        .into_iter()
        .chain([place::shipped("shared/formulas")])
    {
        let mut here: Vec<Kept> = std::fs::read_dir(folder)
            .into_iter()
            .flatten()
            .filter_map(|entry| Some(entry.ok()?.path()))
            .filter(|path| path.extension().is_some_and(|e| e == "toml") && !is_no_file(path))
            .map(|path| Kept {
                name: name_in(&path),
                path,
            })
            .collect();
        here.sort_by(|a, b| a.name.cmp(&b.name));
        kept.extend(here);
    }
    kept
}

/// A pipe, a device or a folder among the formulas is none, and would be waited for. A link that leads nowhere is told.
pub(super) fn is_no_file(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|about| !about.is_file())
}

/// The name that stands in a file, or the file's own.
fn name_in(path: &Path) -> String {
    use std::io::Read as _;
    let mut head = Vec::new();
    if let Ok(file) = std::fs::File::open(path) {
        let _ = file.take(HEAD as u64).read_to_end(&mut head);
    }
    let head = String::from_utf8_lossy(&head);
    let named = head
        .lines()
        .find_map(|line| line.strip_prefix("name")?.trim_start().strip_prefix('='));
    let name = named.map(|value| value.trim().trim_matches(['"', '\'']).to_owned());
    name.unwrap_or_else(|| {
        path.file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .replace('-', " ")
    })
}

/// The file that a cook means: a path, or a name or part of a name in the book.
///
/// # Errors
/// Where none is called so, or several are.
pub(super) fn find(wanted: &Path) -> Result<PathBuf, Trouble> {
    let said = wanted.to_string_lossy();
    if wanted.exists() || said.contains('/') || said.ends_with(".toml") {
        return Ok(wanted.to_path_buf());
    }
    let kept = all();
    match of_name(&kept, &said).as_slice() {
        [one] => Ok(one.path.clone()),
        [] => Err(Trouble::input(format!(
            "{said}: no such file, and no formula in the book is called so; `commis book` lists them"
        ))),
        several => {
            let names: Vec<&str> = several.iter().map(|k| k.name.as_str()).collect();
            Err(Trouble::input(format!(
                "{said}: which one: {}?",
                names.join(", or ")
            )))
        }
    }
}

/// Those that a name means: the one that is called so, else all that have each of its words.
fn of_name<'k>(kept: &'k [Kept], said: &str) -> Vec<&'k Kept> {
    let plain = |text: &str| text.to_lowercase().replace(['-', '_'], " ");
    let said = plain(said);
    let file = |k: &Kept| plain(&k.path.file_stem().unwrap_or_default().to_string_lossy());
    if let Some(one) = kept
        .iter()
        .find(|k| plain(&k.name) == said || file(k) == said)
    {
        return vec![one];
    }
    let words: Vec<&str> = said.split_whitespace().collect();
    let has = |k: &&Kept| {
        let name = format!("{} {}", plain(&k.name), file(k));
        let own: Vec<&str> = name.split_whitespace().collect();
        words
            .iter()
            .all(|word| own.iter().any(|w| w.starts_with(word)))
    };
    kept.iter().filter(has).collect()
}

/// The formula that the cook names on the command line, or is asked for: by number or by name.
///
/// # Errors
/// Where none is called so.
pub(super) fn chosen(words: &[String]) -> Result<PathBuf, Trouble> {
    if !words.is_empty() {
        return find(Path::new(&words.join(" ")));
    }
    let kept = all();
    let list: Vec<String> = kept
        .iter()
        .enumerate()
        .map(|(n, k)| format!("{}: {}\n", n + 1, k.name))
        .collect();
    print(&format!(
        "{}What shall we make? A number or a name: ",
        list.concat()
    ))?;
    let _ = std::io::stdout().flush();
    let mut answer = String::new();
    std::io::stdin()
        .read_line(&mut answer)
        .map_err(Trouble::failed)?;
    let answer = answer.trim();
    match answer
        .parse::<usize>()
        .ok()
        .and_then(|n| kept.get(n.checked_sub(1)?))
    {
        Some(one) => Ok(one.path.clone()),
        None if answer.is_empty() => Err(Trouble::input("Nothing was named.")),
        None => find(Path::new(answer)),
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

    fn kept(names: &[&str]) -> Vec<Kept> {
        let one = |name: &&str| Kept {
            name: (*name).to_owned(),
            path: PathBuf::from(name.replace(' ', "-") + ".toml"),
        };
        names.iter().map(one).collect()
    }

    #[test]
    fn a_part_of_a_name_is_enough_where_it_is_one() {
        let book = kept(&[
            "Seeded tin loaf",
            "Plain tin loaf",
            "Vegetable soup",
            "Soup",
        ]);
        let found = |said: &str| {
            of_name(&book, said)
                .iter()
                .map(|k| k.name.clone())
                .collect::<Vec<_>>()
        };
        assert_eq!(found("seeded"), ["Seeded tin loaf"]);
        assert_eq!(found("tin loaf"), ["Seeded tin loaf", "Plain tin loaf"]);
        assert_eq!(found("soup"), ["Soup"], "the one that is called so");
        assert_eq!(found("plain-tin-loaf"), ["Plain tin loaf"]);
        assert!(found("cake").is_empty());
    }

    #[test]
    fn the_folder_follows_xdg() {
        let of = |data: &str, home: &str| folder_of(Some(data.into()), Some(home.into()));
        assert_eq!(of("/d", "/h"), Some("/d/commis/formulas".into()));
        assert_eq!(of("", "/h"), Some("/h/.local/share/commis/formulas".into()));
        assert_eq!(of("relative", "relative"), None);
    }
}
