//! What is given out as linked data and taken in again is what it was: of every formula that comes with the program and of
//! every sample, all that both can say.

use commis::formula::{Batch, Formula, Quantity, Step, read};
use commis::import;

use super::readings::samples_in;
use super::rehearsal::root;

/// Words and figures alone: spaces and signs may fall otherwise.
fn plain(text: &str) -> String {
    let words: Vec<String> = text
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_owned)
        .collect();
    words.join(" ")
}

/// Masses as they are printed, and so rounded. '1 bay leaf' may be one leaf of bay or one bay leaf: the number counts.
fn amount(q: &Quantity) -> String {
    let mass = q.mass.map(|_| q.printed(commis::measure::print::mass));
    format!("{:?} {mass:?}", q.count.map(|(low, high, _)| (low, high)))
}

fn lasts(step: &Step) -> Vec<(u64, Option<u64>)> {
    let seconds = |t: &commis::formula::TimerSpec| {
        (
            t.lasts.as_seconds(),
            t.most.map(commis::time::Span::as_seconds),
        )
    };
    step.timers.iter().map(seconds).collect()
}

/// In what two formulas differ that both can say.
pub fn differences(f: &Formula, again: &Formula) -> Vec<String> {
    let mut all = Vec::new();
    let mut same = |what: &str, a: String, b: String| {
        if a != b {
            all.push(format!("{what}: {a} is {b}"));
        }
    };
    same("name", plain(&f.name), plain(&again.name));
    same("about", plain(&f.about), plain(&again.about));
    let makes = |f: &Formula| {
        format!(
            "{:?}",
            (
                f.makes.portions,
                f.makes.portions_to,
                f.makes.pieces,
                &f.makes.piece
            )
        )
    };
    same("makes", makes(f), makes(again));
    same(
        "ingredients",
        f.ingredients.len().to_string(),
        again.ingredients.len().to_string(),
    );
    for (at, (a, b)) in f.ingredients.iter().zip(&again.ingredients).enumerate() {
        let quantity = |f: &Formula| {
            Batch::as_written(f)
                .quantity(f, at, 1.0)
                .map_or_else(String::new, |q| amount(&q))
        };
        let told = |i: &commis::formula::Ingredient| {
            // What stands in the name of one may stand in the note or the words of the other: 'cold butter', 'to serve'.
            let words = i
                .words
                .as_deref()
                .filter(|w| *w != "as needed")
                .unwrap_or_default();
            let unit = i
                .count
                .as_ref()
                .map_or("", |(_, one)| one.as_str())
                .replace("piece", "");
            let mut told: Vec<String> = plain(&format!(
                "{} {unit} {} {words} {}",
                i.name,
                i.note.as_deref().unwrap_or_default(),
                i.extra.as_deref().unwrap_or_default()
            ))
            .split(' ')
            .filter(|w| !w.is_empty() && *w != "of")
            .map(|w| w.strip_suffix('s').unwrap_or(w).replace("leave", "leaf"))
            .collect();
            told.sort();
            told.dedup();
            format!("{:?} {} {:?} {}", i.or, i.optional, i.part, told.join(" "))
        };
        same(&a.name, quantity(f), quantity(again));
        same(&a.name, told(a), told(b));
    }
    same(
        "steps",
        f.steps.len().to_string(),
        again.steps.len().to_string(),
    );
    for (a, b) in f.steps.iter().zip(&again.steps) {
        // A time in its words that its author set no timer for is read as one.
        let mut found = lasts(b).into_iter();
        let lost: Vec<_> = lasts(a)
            .into_iter()
            .filter(|t| !found.any(|f| f == *t))
            .collect();
        same(&a.title, "[]".into(), format!("{lost:?}"));
        same(&a.title, plain(&a.title), plain(&b.title));
        same(&a.title, format!("{:?}", a.part), format!("{:?}", b.part));
        let heat = |s: &Step| s.oven_c.map(|c| (c / 5.0).round() * 5.0);
        same(&a.title, format!("{:?}", heat(a)), format!("{:?}", heat(b)));
        let words = plain(&b.text);
        let lost: Vec<String> = plain(&a.text)
            .split(' ')
            .filter(|w| {
                w.chars().all(char::is_alphabetic) && !words.contains(w) && !a.text.contains('{')
            })
            .map(str::to_owned)
            .collect();
        same(&a.title, String::new(), lost.join(" "));
    }
    all
}

fn formulas() -> Vec<(String, Formula)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(root().join("shared/formulas")).expect("the formulas") {
        let path = entry.expect("a file").path();
        let text = std::fs::read_to_string(&path).expect("its text");
        let name = path.display().to_string();
        all.push((name.clone(), read(&name, &text).expect("a formula")));
    }
    for file in [
        "first",
        "second",
        "strangers-1",
        "strangers-2",
        "strangers-3",
    ] {
        let path = root().join(format!("tests/recipes/{file}.txt"));
        for sample in samples_in(&std::fs::read_to_string(path).expect("samples"), false) {
            let recipe = import::read(sample.source.as_bytes(), &sample.name).expect("a recipe");
            let formula = read(&sample.name, &recipe.toml()).expect("a formula");
            all.push((sample.name, formula));
        }
    }
    all
}

#[test]
fn what_is_given_out_is_taken_in_again() {
    let mut wrong = Vec::new();
    let all = formulas();
    for (name, f) in &all {
        let out = import::linked(f).to_string();
        let recipe = import::read(out.as_bytes(), "x").unwrap_or_else(|e| panic!("{name}: {e}"));
        let toml = recipe.toml();
        let again = read(name, &toml).unwrap_or_else(|e| panic!("{name}: {}", e.explained(&toml)));
        wrong.extend(
            differences(f, &again)
                .into_iter()
                .map(|d| format!("{name}: {d}")),
        );
    }
    assert!(
        wrong.is_empty(),
        "{} of {} formulas:\n{}",
        wrong.len(),
        all.len(),
        wrong.join("\n")
    );
}
