//! Recipes of many styles are taken in, measured against the right reading that stands beside each of them, which was
//! written before the reader saw it. The recipes are invented. What is read passes the check and is rehearsed to its end.

use std::time::Duration;

use commis::bench::Options;
use commis::formula::{Formula, read};
use commis::import::{self, About, Recipe};
use commis::measure::{Region, Unit};

use super::mutations::bear;
use super::readings::{Sample, Score, samples_in};
use super::rehearsal::{Rehearsal, root};
use super::word_files::office_files;

/// The files of samples, and whether their names are the source's to the letter.
const FILES: [(&str, bool); 6] = [
    ("first.txt", true),
    ("second.txt", true),
    ("strangers-1.txt", false),
    ("strangers-2.txt", false),
    ("strangers-3.txt", false),
    ("odd.txt", false),
];

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

/// Words of a text, small, without figures.
fn words_of(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| w.chars().count() > 3)
        .map(str::to_owned)
        .collect()
}

/// Text without tags and entities, so that its words can be looked for.
fn visible(source: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for c in source.chars() {
        match c {
            '<' => inside = true,
            '>' => {
                inside = false;
                out.push(' ');
            }
            c if !inside => out.push(c),
            _ => {}
        }
    }
    out
}

/// Every word of every source stands in its formula, in an ingredient, a step, a note or a comment. Of a page only what is
/// the recipe's: for those with linked data what these say.
#[test]
fn nothing_of_a_source_is_dropped() {
    // Headings are told by what stands below them, and a scan's slips are put right.
    #[rustfmt::skip]
    let headings = [
        "ingredients", "ingrediants", "ingredient", "method", "directons", "preparation", "directions", "instructions", "steps", "step",
        "procedure", "process", "formula", "want", "need", "will", "what", "make", "this", "shopping", "list", "youll", "cook", "cooking", "final",
        "notes", "amount", "quantity", "commodity", "note", "work", "like", "parts", "assembly", "have", "ready", "total", "serves", "weight",
        "baker", "lngredients", "meth", "serve", "with", "things", "manner", "making",
    ];
    for sample in samples() {
        let (recipe, f) = taken(sample.source.as_bytes(), &sample.name);
        let toml = recipe.toml().to_lowercase();
        let is_text = !sample.source.trim_start().starts_with(['<', '{', '[']);
        let is_scan = ["25O", "5O g"]
            .iter()
            .any(|slip| sample.source.contains(slip));
        if is_text && !is_scan || sample.source.contains("[14/02/23") {
            let lost: Vec<String> = words_of(&sample.source)
                .into_iter()
                .filter(|w| !toml.contains(w) && !headings.contains(&w.as_str()))
                .filter(|w| !sample.source.contains("Kabir") || w != "kabir")
                .collect();
            assert!(lost.is_empty(), "{}: {lost:?}\n{toml}", sample.name);
        }
        // Of what was sorted as instructions every word stands in a step.
        let steps: String = f
            .steps
            .iter()
            .map(|s| {
                format!(
                    "{} {} {} ",
                    s.title,
                    s.text,
                    s.part.as_deref().unwrap_or_default()
                )
            })
            .collect();
        let names: String = f
            .ingredients
            .iter()
            .map(|i| format!("{} {} ", i.name, i.note.as_deref().unwrap_or_default()))
            .collect();
        let all = format!("{steps} {names}").to_lowercase();
        for text in instructions(&sample.source) {
            let lost: Vec<String> = words_of(&visible(&text))
                .into_iter()
                // 'Make the polenta' is the polenta's section.
                .filter(|w| !all.contains(w) && w != "make")
                // An amount of an ingredient stands as its place.
                .filter(|w| Unit::find(w, Region::Metric).is_err())
                .collect();
            assert!(lost.is_empty(), "{}: {lost:?}", sample.name);
        }
    }
}

/// The texts of the instructions in a page's linked data.
fn instructions(source: &str) -> Vec<String> {
    fn walk(value: &serde_json::Value, inside: bool, out: &mut Vec<String>) {
        match value {
            serde_json::Value::String(text) if inside => out.push(text.replace("&nbsp;", " ")),
            serde_json::Value::Array(all) => all.iter().for_each(|v| walk(v, inside, out)),
            serde_json::Value::Object(map) => map.iter().for_each(|(key, v)| {
                let text = inside && ["text", "itemListElement", "name"].contains(&key.as_str());
                walk(v, text || key == "recipeInstructions", out);
            }),
            _ => {}
        }
    }
    let json = source
        .split_once("application/ld+json\">")
        .map_or(source, |(_, rest)| {
            rest.split("</script").next().unwrap_or(rest)
        });
    let mut out = Vec::new();
    if let Ok(value) = serde_json::from_str(json.trim()) {
        walk(&value, false, &mut out);
    }
    out.into_iter().filter(|t| !t.contains('&')).collect()
}

/// 400, or as many as `COMMIS_MUTATIONS` says; 10,000 were borne in two runs. `COMMIS_SEED` begins elsewhere.
#[test]
fn damaged_sources_neither_stop_nor_break_it() {
    let number = |name: &str, or: u64| {
        std::env::var(name)
            .ok()
            .and_then(|n| n.parse().ok())
            .unwrap_or(or)
    };
    let mut sources: Vec<Vec<u8>> = samples()
        .into_iter()
        .map(|s| s.source.into_bytes())
        .collect();
    sources.extend(office_files());
    let longest = bear(
        &sources,
        number("COMMIS_MUTATIONS", 400) as usize,
        number("COMMIS_SEED", 0),
        Duration::from_secs(20),
    );
    println!("the longest took {longest:?}");
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
