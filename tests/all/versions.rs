//! Journals that older versions of the program wrote are taken up for ever.
//!
//! The number before a file's name in `tests/journals` is its format. Those of the first have events alone, and are
//! understood as this version understands.

use std::path::{Path, PathBuf};

use commis::bench::{Bench, Effect, Options};
use commis::journal::{Entry, Header, contents};
use commis::time::Moment;

use super::rehearsal::root;

fn journals() -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = std::fs::read_dir(root().join("tests/journals"))
        .expect("a folder")
        .map(|f| f.expect("a file").path())
        .collect();
    all.sort();
    all
}

fn taken_up(path: &Path) -> (Header, Vec<Entry>, Bench) {
    let bytes = std::fs::read(path).expect("it reads");
    let (header, entries) = contents(&bytes, path).expect("a journal");
    let formula =
        commis::formula::read(&header.formula_path, &header.formula_text).expect("a formula");
    let options: Options = serde_json::from_value(header.settings.clone()).expect("options");
    let mut bench = Bench::new(formula, options).expect("in its size");
    for entry in &entries {
        entry.replay(&mut bench);
    }
    (header, entries, bench)
}

fn named(name: &str) -> Vec<PathBuf> {
    let found: Vec<PathBuf> = journals()
        .into_iter()
        .filter(|p| p.to_string_lossy().ends_with(&format!("-{name}.journal")))
        .collect();
    assert!(!found.is_empty(), "{name}");
    found
}

#[test]
fn a_weigh_up_is_where_it_was() {
    for path in named("weighing") {
        let (_, entries, bench) = taken_up(&path);
        let now = entries.last().expect("some").at;
        let view = bench.view(now);
        assert_eq!(
            (view.step, view.scale.as_str()),
            (1, "twice the formula"),
            "{path:?}"
        );
        let inside: Vec<bool> = view.weighing.iter().map(|(_, _, inside)| *inside).collect();
        assert_eq!(inside[..3], [true, true, false], "{path:?}");
        let timers: Vec<(&str, i64)> = view
            .timers
            .iter()
            .map(|t| (t.name.as_str(), (t.left_ms + 59_999) / 60_000))
            .collect();
        assert_eq!(timers, [("soup", 25)], "{path:?}");
    }
}

#[test]
fn a_bake_is_where_it_was() {
    for path in named("baking") {
        let (header, entries, bench) = taken_up(&path);
        let now = entries.last().expect("some").at;
        let view = bench.view(now);
        assert_eq!(view.step, 5, "{path:?}");
        let timers: Vec<&str> = view.timers.iter().map(|t| t.name.as_str()).collect();
        assert_eq!(timers, ["tin"], "{path:?}");
        assert!(bench.is_brief());
        let began = header.settings["voice"]["volume"].as_i64();
        let louder = i64::from(bench.voice_settings().volume);
        assert_eq!(Some(louder - 1), began, "{path:?}");
        assert!(now > Moment(0));
    }
}

#[test]
fn what_a_scale_showed_stays_what_it_showed() {
    for path in named("scale") {
        let (header, entries, bench) = taken_up(&path);
        let view = bench.view(entries.last().expect("some").at);
        let inside: Vec<bool> = view.weighing.iter().map(|(_, _, inside)| *inside).collect();
        assert_eq!(inside[..2], [true, false], "{path:?}");
        let timers: Vec<&str> = view.timers.iter().map(|t| t.name.as_str()).collect();
        assert_eq!(timers, ["soup"], "{path:?}");
        // What went in is told again as it was, whatever a scale shows today.
        let formula =
            commis::formula::read(&header.formula_path, &header.formula_text).expect("a formula");
        let options: Options = serde_json::from_value(header.settings).expect("options");
        let mut again = Bench::new(formula, options).expect("in its size");
        let effects = entries.iter().flat_map(|entry| entry.replay(&mut again));
        let went_in: Vec<(String, f64, f64)> = effects
            .filter_map(|effect| match effect {
                Effect::Weighed {
                    ingredient,
                    wanted,
                    really,
                    ..
                } => Some((ingredient, wanted, really)),
                _ => None,
            })
            .collect();
        assert_eq!(
            went_in,
            [("strong white flour".to_owned(), 400.0, 401.0)],
            "{path:?}"
        );
        assert_eq!(again, bench);
    }
}

#[test]
fn a_session_goes_on_by_the_formula_that_was_edited_in_it() {
    for path in named("edited") {
        let (header, entries, bench) = taken_up(&path);
        let was =
            commis::formula::read(&header.formula_path, &header.formula_text).expect("a formula");
        let is = bench.formula();
        assert_eq!((was.steps.len(), is.steps.len()), (9, 8), "{path:?}");
        let flour = is.find("flour").expect("it has flour");
        assert_eq!(bench.batch().mass(flour).as_grams(), 450.0, "{path:?}");
        let view = bench.view(entries.last().expect("some").at);
        assert_eq!(view.step, 5, "{path:?}");
        let timers: Vec<&str> = view.timers.iter().map(|t| t.name.as_str()).collect();
        assert_eq!(timers, ["soup"], "{path:?}");
    }
}

#[test]
fn a_dinner_is_where_it_was() {
    for path in named("dinner") {
        let (_, entries, bench) = taken_up(&path);
        let view = bench.view(entries.last().expect("some").at);
        assert_eq!(
            (view.formula.as_str(), view.step),
            ("Autumn vegetable soup", 1),
            "{path:?}"
        );
        let inside: Vec<bool> = view.weighing.iter().map(|(_, _, inside)| *inside).collect();
        assert_eq!(inside[..2], [true, false], "{path:?}");
        let timers: Vec<&str> = view.timers.iter().map(|t| t.name.as_str()).collect();
        assert_eq!(timers, ["custard infuse"], "{path:?}");
        let others: Vec<(&str, &str)> = view
            .others
            .iter()
            .map(|d| (d.name.as_str(), d.doing.as_str()))
            .collect();
        assert_eq!(
            others,
            [("custard", "warm the milk"), ("rice", "not begun")],
            "{path:?}"
        );
    }
}

#[test]
fn every_kept_journal_is_played_by_a_test() {
    for path in journals() {
        let name = path
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let (format, story) = name.split_once('-').expect("format-story");
        let known = ["weighing", "baking", "scale", "edited", "dinner"];
        assert!(known.contains(&story), "{name}");
        let (header, ..) = taken_up(&path);
        assert_eq!(header.format.to_string(), format);
    }
}
