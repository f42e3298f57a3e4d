//! Several formulas in one session: which the command line means, and another from the book while the cook is at it.

use std::path::{Path, PathBuf};

use super::formulas::read_formula;
use super::rehearse::Stage;
use super::shelf::{self, Kept};
use super::size;
use super::trouble::Trouble;
use crate::bench::{Beside, Effect, Remembered, View};
use crate::cli::SizeArgs;
use crate::measure::Region;
use crate::settings::Settings;
use crate::time::Moment;
use crate::titles::{self, Title};

/// The formulas that the words mean: one whose name they are together, else one after the other, each by its file or its
/// name in the book.
///
/// # Errors
/// Where they mean none, or one of several.
pub(super) fn named(words: &[String]) -> Result<Vec<PathBuf>, Trouble> {
    let together = words.join(" ");
    if words.len() < 2 || Path::new(&together).exists() {
        return shelf::find(Path::new(&together)).map(|path| vec![path]);
    }
    let kept = shelf::all();
    let titles: Vec<Title> = kept.iter().map(Kept::title).collect();
    let one = |words: &[String]| match words {
        [word] if is_path(word) => Some(PathBuf::from(word)),
        words if words.iter().any(|w| is_path(w)) => None,
        words => match titles::named(&titles, &words.join(" ")).as_slice() {
            [at] => Some(kept[*at].path.clone()),
            _ => None,
        },
    };
    match parted(words, &one) {
        Some(paths) => Ok(paths),
        None => shelf::find(Path::new(&together)).map(|path| vec![path]),
    }
}

fn is_path(word: &str) -> bool {
    let path = Path::new(word);
    word.contains('/') || path.extension().is_some_and(|e| e == "toml") || path.exists()
}

/// The words in as few groups as mean one formula each, the longest first.
fn parted(words: &[String], one: &dyn Fn(&[String]) -> Option<PathBuf>) -> Option<Vec<PathBuf>> {
    if words.is_empty() {
        return Some(Vec::new());
    }
    (1..=words.len()).rev().find_map(|n| {
        let first = one(&words[..n])?;
        let mut rest = parted(&words[n..], one)?;
        rest.insert(0, first);
        Some(rest)
    })
}

/// Where a file really is; one that is gone is still found by its name.
pub(super) fn real(path: &Path) -> String {
    std::fs::canonicalize(path)
        .or_else(|_| std::path::absolute(path))
        .unwrap_or_else(|_| path.to_path_buf())
        .display()
        .to_string()
}

/// A formula as a dish beside the first, at the size asked for.
///
/// # Errors
/// Where it cannot be read, or not made in that size.
pub(super) fn beside(
    path: &Path,
    size: &SizeArgs,
    region: Region,
    settings: Option<&Settings>,
) -> Result<Beside, Trouble> {
    let (formula, text) = read_formula(path)?;
    size::batch(&formula, size, region).map_err(Trouble::input)?;
    let size = size::scale_by(size, region, &formula).map_err(Trouble::input)?;
    let remembered = settings.map(|s| s.remembered(&formula, s.room_c));
    let Remembered { own, work, last } = remembered.unwrap_or_default();
    Ok(Beside {
        path: real(path),
        text,
        size,
        own,
        work,
        last,
    })
}

/// Of several formulas each can be for so many portions, or so many times; no other size fits all.
pub(super) fn one_size(size: &SizeArgs) -> Result<(), Trouble> {
    let asked = [
        ("flour", size.flour.is_some()),
        ("dough", size.dough.is_some()),
        ("pieces", size.pieces.is_some()),
        ("tin", size.tin.is_some()),
        ("part", !size.part.is_empty()),
        ("limit", size.limit.is_some()),
        ("hydration", size.hydration.is_some()),
    ];
    match asked.iter().find(|(_, asked)| *asked) {
        Some((option, _)) => Err(Trouble::input(format!(
            "--{option}: expected one formula; of several each can be for so many --portions, or --factor times"
        ))),
        None => Ok(()),
    }
}

/// The titles of the book.
pub(super) fn titles_of(kept: &[Kept]) -> Vec<String> {
    kept.iter().map(|k| k.head.name.clone()).collect()
}

/// The formula of that title as another dish; or a sentence for the cook.
pub(super) fn fetch(
    title: &str,
    kept: &[Kept],
    settings: Option<&Settings>,
) -> Result<Beside, String> {
    let found = kept.iter().find(|k| k.head.name == title);
    let Some(found) = found else {
        return Err(format!("I have no {title} in the book."));
    };
    let region = settings.map_or(Region::Metric, |s| s.region);
    beside(&found.path, &SizeArgs::default(), region, settings)
        .map_err(|_| format!("The formula of {title} cannot be read; check it with commis check."))
}

/// A stage with a book beside it: that which comes with the program, so that a rehearsal is the same everywhere.
pub(super) struct WithBook<'a> {
    stage: &'a mut dyn Stage,
    kept: Vec<Kept>,
}

impl<'a> WithBook<'a> {
    pub(super) fn new(stage: &'a mut dyn Stage) -> Self {
        let kept = shelf::in_folders(&[super::place::shipped("shared/formulas")]);
        Self { stage, kept }
    }
}

impl Stage for WithBook<'_> {
    fn play(&mut self, effect: &Effect, at: Moment) {
        self.stage.play(effect, at);
    }
    fn cook(&mut self, audio: &[i16], at: Moment) {
        self.stage.cook(audio, at);
    }
    fn seen(&mut self, view: &View, at: Moment) {
        self.stage.seen(view, at);
    }
    fn book(&self) -> Vec<String> {
        titles_of(&self.kept)
    }
    fn fetch(&mut self, title: &str) -> Option<Result<Beside, String>> {
        Some(fetch(title, &self.kept, None))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_one_name_or_several() {
        let known = ["tin loaf", "soup", "bean soup", "custard"];
        let one = |words: &[String]| {
            let said = words.join(" ");
            known.contains(&said.as_str()).then(|| PathBuf::from(said))
        };
        let parted = |said: &str| {
            let words: Vec<String> = said.split(' ').map(str::to_owned).collect();
            parted(&words, &one).map(|paths| {
                let names = paths.iter().map(|p| p.display().to_string());
                names.collect::<Vec<_>>()
            })
        };
        let all = |names: &[&str]| Some(names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>());
        assert_eq!(parted("tin loaf"), all(&["tin loaf"]));
        assert_eq!(
            parted("tin loaf bean soup custard"),
            all(&["tin loaf", "bean soup", "custard"])
        );
        assert_eq!(parted("soup custard"), all(&["soup", "custard"]));
        assert_eq!(parted("soup spoon"), None);
    }
}
