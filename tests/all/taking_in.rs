//! Recipes of many styles are taken in, measured against the right reading that stands beside each of them, which was
//! written before the reader saw it. The recipes are invented. What is read passes the check and is rehearsed to its end.

use std::path::Path;

use commis::bench::Options;
use commis::formula::{Batch, Formula, Quantity, read};
use commis::import::{self, About, Recipe};

use super::rehearsal::{Rehearsal, root};

/// A source, and the lines of its reading.
struct Sample {
    name: String,
    source: String,
    reading: Vec<String>,
}

fn samples() -> Vec<Sample> {
    let mut all = Vec::new();
    for file in ["first.txt", "second.txt"] {
        let text = std::fs::read_to_string(root().join("tests/recipes").join(file))
            .expect("the samples are there");
        for block in text.split("\n=== ").map(|b| b.trim_start_matches("=== ")) {
            let (name, rest) = block.split_once('\n').expect("a name");
            let (source, reading) = rest.split_once("--- reading\n").expect("a reading");
            all.push(Sample {
                name: name.to_owned(),
                source: source.to_owned(),
                reading: reading.lines().map(str::to_owned).collect(),
            });
        }
    }
    all
}

fn taken(source: &[u8], name: &str) -> (Recipe, Formula) {
    let recipe = import::read(source, name).unwrap_or_else(|e| panic!("{name}: {e}"));
    let toml = recipe.toml();
    let formula = read(name, &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)));
    (recipe, formula)
}

/// Right ones of all.
#[derive(Default)]
struct Share(usize, usize);

impl Share {
    fn add(&mut self, right: usize, all: usize) {
        self.0 += right;
        self.1 += all;
    }

    fn percent(&self) -> f64 {
        self.0 as f64 / self.1 as f64 * 100.0
    }
}

/// What the reading says of an amount: `30g`, `156-175g` (anything between), `2clove`, `3`, `words`.
fn is_amount(wanted: &str, found: &Quantity) -> bool {
    if wanted == "words" {
        return found.mass.is_none() && found.count.is_none();
    }
    let end = wanted.find(char::is_alphabetic).unwrap_or(wanted.len());
    let (figures, unit) = wanted.split_at(end);
    let (low, high) = figures.split_once('-').unwrap_or((figures, figures));
    let (low, high): (f64, f64) = (
        low.parse().expect("a number"),
        high.parse().expect("a number"),
    );
    let within = |a: f64, b: f64, off: f64| a >= low * (1.0 - off) && b <= high * (1.0 + off);
    let weighs = |off| {
        found
            .mass
            .is_some_and(|(a, b)| within(a.as_grams(), b.as_grams(), off))
    };
    match unit {
        "g" => weighs(0.01),
        "ml" => {
            weighs(0.1)
                || found.count.is_some_and(|(a, b, one)| {
                    let ml = if one == "litre" {
                        1000.0
                    } else {
                        f64::from(u8::from(one == "millilitre"))
                    };
                    within(a * ml, b * ml, 0.02)
                })
        }
        "" => found.count.is_some_and(|(a, b, _)| within(a, b, 0.001)),
        unit => found
            .count
            .is_some_and(|(a, b, one)| one == unit && within(a, b, 0.001)),
    }
}

/// `225g flour ~margarine ? @dough`: amount, name, alternative, optional, part.
fn is_line(wanted: &str, formula: &Formula, at: usize) -> (bool, bool) {
    let (amount, rest) = wanted.split_once(' ').expect("an amount and a name");
    let marked = |mark: char| {
        rest.split(' ')
            .find_map(|w| w.strip_prefix(mark))
            .map(|w| w.replace('_', " "))
    };
    let name: Vec<&str> = rest
        .split(' ')
        .filter(|w| !w.starts_with(['~', '?', '@']))
        .collect();
    let Some(i) = formula.ingredients.get(at) else {
        return (false, false);
    };
    let quantity = Batch::as_written(formula)
        .quantity(formula, at, 1.0)
        .expect("it is there");
    let amount = is_amount(amount, &quantity);
    let whole = amount
        && i.name.eq_ignore_ascii_case(&name.join(" "))
        && i.or.first().cloned() == marked('~')
        && i.optional == rest.split(' ').any(|w| w == "?")
        && i.part == marked('@');
    (whole, amount)
}

#[test]
fn recipes_of_many_styles_are_read_as_they_are_meant() {
    let (mut lines, mut timers, mut uses, mut heats) = (
        Share::default(),
        Share::default(),
        Share::default(),
        Share::default(),
    );
    let mut sure_and_wrong = Vec::new();
    for sample in samples() {
        let (recipe, f) = taken(sample.source.as_bytes(), &sample.name);
        let doubts = recipe.doubts();
        let (mut at, mut step) = (0, 0);
        for line in &sample.reading {
            let (kind, rest) = line.split_once(' ').expect("a kind");
            match kind {
                "i" => {
                    let (whole, amount) = is_line(rest, &f, at);
                    lines.add(usize::from(whole), 1);
                    if !amount && !doubts.iter().any(|d| d.about == About::Amount(at)) {
                        sure_and_wrong.push(format!("{}: {rest}", sample.name));
                    }
                    at += 1;
                }
                "s" => {
                    let cells: Vec<&str> = rest.split('|').map(str::trim).collect();
                    let found = f
                        .steps
                        .get(step)
                        .unwrap_or_else(|| panic!("{}: no step {step}", sample.name));
                    step += 1;
                    let wanted: Vec<&str> = cells[0]
                        .split(',')
                        .map(str::trim)
                        .filter(|t| *t != "-")
                        .collect();
                    let minutes = |span: commis::time::Span| span.minutes_up().to_string();
                    let lasts: Vec<String> = found
                        .timers
                        .iter()
                        .map(|t| {
                            t.most.map_or_else(
                                || minutes(t.lasts),
                                |most| format!("{}-{}", minutes(t.lasts), minutes(most)),
                            )
                        })
                        .collect();
                    let right = wanted
                        .iter()
                        .zip(&lasts)
                        .filter(|(a, b)| **a == b.as_str())
                        .count();
                    timers.add(right, wanted.len().max(lasts.len()));
                    if let Some(names) = cells.get(1).filter(|c| !c.is_empty()) {
                        let wanted: Vec<String> =
                            names.split(',').map(|n| n.trim().to_lowercase()).collect();
                        let used: Vec<String> = found
                            .uses
                            .iter()
                            .map(|u| f.ingredients[u.ingredient].name.to_lowercase())
                            .collect();
                        let right = wanted
                            .iter()
                            .filter(|w| used.iter().any(|u| u.contains(*w)))
                            .count();
                        let more = used
                            .iter()
                            .filter(|u| !wanted.iter().any(|w| u.contains(w)))
                            .count();
                        uses.add(right, wanted.len() + more);
                    }
                    if let Some(heat) = cells.get(2) {
                        let heat: f64 = heat.parse().expect("a heat");
                        let near = found.oven_c.is_some_and(|c| (c - heat).abs() < 4.0);
                        heats.add(usize::from(near), 1);
                    }
                }
                _ => {
                    let (name, lasts) = rest.split_once(' ').expect("a timer");
                    let found = f.timers().any(|(_, t)| {
                        t.name.contains(name) && t.lasts.minutes_up().to_string() == lasts
                    });
                    timers.add(usize::from(found), 1);
                }
            }
        }
        lines.add(0, f.ingredients.len().saturating_sub(at));
    }
    println!(
        "lines {:.1} %, timers {:.1} %, uses {:.1} %, heats {:.1} %",
        lines.percent(),
        timers.percent(),
        uses.percent(),
        heats.percent()
    );
    assert!(
        lines.1 > 150 && lines.percent() >= 95.0,
        "lines: {:.1} %",
        lines.percent()
    );
    assert!(
        timers.1 > 50 && timers.percent() >= 90.0,
        "timers: {:.1} %",
        timers.percent()
    );
    assert!(
        uses.1 > 140 && uses.percent() >= 90.0,
        "uses: {:.1} %",
        uses.percent()
    );
    assert!(heats.percent() >= 90.0, "heats: {:.1} %", heats.percent());
    assert!(
        sure_and_wrong.is_empty(),
        "wrong, and not marked: {sure_and_wrong:?}"
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
