//! Recipes of many styles are taken in, measured against the right reading that stands beside each of them, which was
//! written before the reader saw it. The recipes are invented. What is read passes the check and is rehearsed to its end.

use std::path::Path;

use commis::bench::Options;
use commis::formula::{Formula, read};
use commis::import::{self, About, Recipe};

use super::readings::{Sample, Score, samples_in};
use super::rehearsal::{Rehearsal, root};

/// The files of samples, and whether their names are the source's to the letter.
const FILES: [(&str, bool); 2] = [("first.txt", true), ("second.txt", true)];

fn samples() -> Vec<Sample> {
    let read = |file: &str| {
        std::fs::read_to_string(root().join("tests/recipes").join(file))
            .expect("the samples are there")
    };
    FILES
        .iter()
        .flat_map(|(file, exact)| samples_in(&read(file), *exact))
        .collect()
}

fn taken(source: &[u8], name: &str) -> (Recipe, Formula) {
    let recipe = import::read(source, name).unwrap_or_else(|e| panic!("{name}: {e}"));
    let toml = recipe.toml();
    let formula = read(name, &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)));
    (recipe, formula)
}

#[test]
fn recipes_of_many_styles_are_read_as_they_are_meant() {
    let mut score = Score::default();
    for sample in samples() {
        let (recipe, f) = taken(sample.source.as_bytes(), &sample.name);
        score.add(&sample, &recipe, &f);
    }
    println!("{}\n{}", score.wrong.join("\n"), score.told());
    for (what, share, at_least) in [
        ("lines", score.lines, 95.0),
        ("timers", score.timers, 90.0),
        ("uses", score.uses, 90.0),
        ("heats", score.heats, 90.0),
    ] {
        assert!(
            share.1 > 40 && share.percent() >= at_least,
            "{what}: {}",
            score.told()
        );
    }
    assert!(
        score.sure_and_wrong.is_empty(),
        "wrong, and not marked: {:?}",
        score.sure_and_wrong
    );
}

#[test]
fn what_is_taken_in_is_cooked_to_its_end() {
    for sample in samples() {
        let (_, f) = taken(sample.source.as_bytes(), &sample.name);
        let steps = f.steps.len();
        let weighed: usize = f.steps.iter().map(|s| s.uses.len()).sum();
        let mut script = String::from("start 9:00\n");
        for _ in 0..=(weighed + steps) {
            script.push_str("+5s say everything is in\n+5s say next\n");
        }
        let played = Rehearsal::play_with(f, Options::default(), &script);
        assert!(
            played
                .said()
                .iter()
                .any(|s| s.contains("That was the last step")),
            "{}: {:?}",
            sample.name,
            played.last()
        );
    }
}

#[test]
fn nothing_of_a_source_is_dropped() {
    for sample in samples()
        .iter()
        .filter(|s| Path::new(&s.name).extension().is_some_and(|e| e == "txt"))
    {
        let (recipe, _) = taken(sample.source.as_bytes(), &sample.name);
        let toml = recipe.toml().to_lowercase();
        let lost: Vec<&str> = sample
            .source
            .split(|c: char| !c.is_alphabetic())
            .filter(|w| w.len() > 4 && !toml.contains(&w.to_lowercase()))
            .filter(|w| {
                ![
                    "ingredients",
                    "ingrediants",
                    "ingredient",
                    "method",
                    "directons",
                    "preparation",
                ]
                .contains(&w.to_lowercase().as_str())
            })
            .collect();
        assert!(lost.is_empty(), "{}: {lost:?}", sample.name);
    }
}

/// What no recipe should break on.
const ODD: [&str; 12] = [
    "½",
    "1/0",
    "999999999 g",
    "{x}",
    "\"",
    "<",
    "\u{202e}",
    " to ",
    "\n\n",
    "9e99",
    "İ",
    "|",
];

#[test]
fn damaged_sources_neither_stop_nor_break_it() {
    let sources: Vec<Vec<u8>> = samples()
        .into_iter()
        .map(|s| s.source.into_bytes())
        .collect();
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let mut next = |below: usize| {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed % below.max(1) as u64) as usize
    };
    for n in 0..400 {
        let mut bytes = sources[next(sources.len())].clone();
        for _ in 0..=next(10) {
            let at = next(bytes.len());
            match next(5) {
                0 if !bytes.is_empty() => bytes[at] = next(256) as u8,
                1 => bytes.truncate(at),
                2 => drop(bytes.splice(at..at, ODD[next(ODD.len())].bytes())),
                3 => {
                    let end = (at + next(60)).min(bytes.len());
                    let piece = bytes[at..end].to_vec();
                    bytes.splice(at..at, piece);
                }
                _ => {
                    let end = (at + next(40)).min(bytes.len());
                    bytes.drain(at..end);
                }
            }
        }
        if let Ok(recipe) = import::read(&bytes, "damaged") {
            let toml = recipe.toml();
            read("damaged", &toml).unwrap_or_else(|e| panic!("{n}: {}", e.explained(&toml)));
        }
    }
}

#[test]
fn any_charset_is_read() {
    let text = "Crème\n\nIngredients\n2 œufs\n½ tsp salt\n\nMethod\nBoil the œufs for 5 minutes.\n";
    let page = "<meta charset=windows-1252><h1>Cr\u{e8}me</h1><h2>Ingredients</h2><ul><li>2 eggs</ul><h2>Method</h2><p>Boil the eggs for 5 minutes.";
    let latin: Vec<u8> = page.chars().map(|c| c as u8).collect();
    let wide: Vec<u8> = [0xff, 0xfe]
        .into_iter()
        .chain(text.encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    for bytes in [text.as_bytes().to_vec(), latin, wide] {
        assert_eq!(taken(&bytes, "x").0.name(), "Crème");
    }
    assert!(import::read(b"", "x").is_err());
    assert!(import::read(b"<html><body></body></html>", "x").is_err());
}

#[test]
fn an_answer_settles_its_doubt() {
    let (mut recipe, _) = taken(b"Stew\n\nIngredients\na few carrots\n500 g beef\n2 bay leaves\n\nMethod\nCook the beef overnight in the fridge.\nAdd the carrots.\n", "x");
    let about = |recipe: &Recipe| recipe.doubts().iter().map(|d| d.about).collect::<Vec<_>>();
    assert_eq!(
        about(&recipe),
        [
            About::Portions,
            About::Amount(0),
            About::Goes(2),
            About::Lasts(0, 0)
        ]
    );
    assert!(recipe.settle(About::Amount(0), "five gallon hats").is_err());
    assert!(recipe.settle(About::Goes(2), "9").is_err());
    for (what, answer) in [
        (About::Portions, "6-8"),
        (About::Amount(0), "4"),
        (About::Goes(2), "2"),
        (About::Lasts(0, 0), "10 to 12 h"),
    ] {
        recipe
            .settle(what, answer)
            .unwrap_or_else(|e| panic!("{answer}: {e}"));
    }
    assert!(recipe.doubts().is_empty(), "{:?}", recipe.doubts());
    let f = read("x", &recipe.toml()).expect("a formula");
    assert_eq!((f.makes.portions, f.makes.portions_to), (6.0, Some(8.0)));
    assert_eq!(f.ingredients[0].count, Some((4.0, "piece".into())));
    assert_eq!(f.steps[1].uses.len(), 2);
}
