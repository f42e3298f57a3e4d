//! The house style of speech (`SPEECH.md`): what is said in wide rehearsals of all shipped formulas, and the sentences in the
//! code, held against the page.

use std::collections::{BTreeMap, BTreeSet};

use commis::bench::Options;
use commis::say::for_the_ear;

use super::rehearsal::{Rehearsal, formula, root};

const PAGE: &str = include_str!("../../SPEECH.md");
const GRAMMAR: &str = include_str!("../../GRAMMAR.md");

/// What tells that there is more, and how to hear it.
const MORE: [&str; 3] = [
    " Say more for the rest.",
    " Dot, eight and nought tells the rest.",
    " There is more.",
];

/// The page's table of lengths.
fn most(kind: &str) -> usize {
    let rows = PAGE.lines().filter_map(|line| {
        let mut cells = line.trim_matches('|').split('|').map(str::trim);
        Some((cells.next()?, cells.next()?.parse().ok()?))
    });
    let rows: BTreeMap<&str, usize> = rows.collect();
    rows[kind]
}

fn never() -> Vec<&'static str> {
    let list = PAGE.split("## Never").nth(1).expect("the page has it");
    let words = list
        .lines()
        .filter_map(|line| line.strip_prefix("- `")?.strip_suffix('`'));
    let words: Vec<&str> = words.collect();
    assert!(words.len() > 8);
    words
}

fn formulas() -> Vec<String> {
    let files = std::fs::read_dir(root().join("shared/formulas")).expect("a folder");
    let names = files.filter_map(|file| {
        let path = file.ok()?.path();
        Some(path.file_stem()?.to_str()?.to_owned())
    });
    let mut names: Vec<String> = names.collect();
    names.sort();
    assert!(names.len() >= 18);
    names
}

fn words(text: &str) -> usize {
    text.split_whitespace().count()
}

/// Without the hint at the rest.
fn bare(text: &str) -> String {
    MORE.iter()
        .fold(text.to_owned(), |text, hint| text.replace(hint, ""))
}

/// What stands before the hint at the rest is one sentence, or there is none.
fn is_cut_short(said: &str) -> bool {
    let Some(before) = MORE.iter().find_map(|hint| said.split_once(hint)) else {
        return false;
    };
    let sentences = before.0.split_inclusive(['.', '?', '!']).map(str::trim);
    let own = sentences
        .filter(|s| !s.is_empty() && !s.starts_with("Step ") && !s.starts_with("Now the "));
    own.count() <= 1
}

/// Sentences of a step that are the author's: not its number, nor what is to be done by word or key.
fn of_the_author(said: &str) -> usize {
    let sentences = said.split_inclusive(['.', '?', '!']).map(str::trim);
    let own = sentences.filter(|s| {
        let ours = [
            "Step ",
            "Now ",
            "The oven should",
            "Say start",
            "Star starts",
        ];
        !ours.iter().any(|begins| s.starts_with(begins)) && !s.contains(": ") && !s.ends_with('?')
    });
    own.count()
}

/// Through the whole formula, with everything that is asked on the way.
fn walk(name: &str, whole: bool) -> String {
    let steps = formula(name).steps.len();
    let mut script = "0:00 say what are we making\n".to_owned();
    let mut add = |said: &str| script.push_str(&format!("+3s say {said}\n"));
    for said in [
        "make it double",
        "more",
        "make it one and a half times",
        "more",
        "as written",
        "what are the allergens",
        "read the ingredients",
        "go to step three",
        "where am i",
        "what's left to add",
    ] {
        add(said);
    }
    for step in 1..=steps {
        add(&format!("go to step {step}"));
        if whole {
            add("read the whole step");
        }
        for said in [
            "more",
            "have i added the salt",
            "it's in",
            "back",
            "it's in",
            "it's in",
            "start it",
            "how long is left",
            "next",
            "yes",
        ] {
            add(said);
        }
    }
    script.push_str("+3h say stop\n+4m say stop\n+1s say yes\n+1s say stop all timers\n+1s say yes\n+1s say goodbye\n");
    script
}

/// Every example of the page of the grammar, in the middle of a weigh-up with a timer.
fn examples() -> String {
    let mut script = "0:00 say next\n+1s say ten minute timer for the oven\n".to_owned();
    let lines = GRAMMAR
        .lines()
        .filter_map(|line| line.strip_prefix("- `")?.split_once('`'));
    for (example, _) in lines.filter(|(example, _)| *example != "goodbye") {
        script.push_str(&format!("+2s say {example}\n+1s say no\n"));
    }
    script
}

/// Every sentence of the rehearsals, with the formula and kind where a length is promised.
fn all_said() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for name in formulas() {
        let said = Rehearsal::play(&name, &walk(&name, true));
        all.extend(said.said().iter().map(|s| (name.clone(), (*s).to_owned())));
    }
    let said = Rehearsal::play("seeded-tin-loaf", &examples());
    all.extend(
        said.said()
            .iter()
            .map(|s| ("examples".to_owned(), (*s).to_owned())),
    );
    assert!(all.len() > 2000, "{}", all.len());
    all
}

/// Names of the shipped formulas that are several things, by hand.
const MANY: [&str; 20] = [
    "blackcurrants",
    "caraway seeds",
    "carrots",
    "chopped tomatoes",
    "cooked chickpeas",
    "cucumbers",
    "dried white beans",
    "egg yolks",
    "eggs",
    "frozen peas",
    "ground almonds",
    "mustard seeds",
    "oranges",
    "plums",
    "poppy seeds",
    "potatoes",
    "pumpkin seeds",
    "red lentils",
    "sesame seeds",
    "sunflower seeds",
];

/// What is wrong with one thing said.
fn faults(said: &str, never: &[&str]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut fault = |what: &str| faults.push(format!("{what}: {said}"));
    for word in never {
        if said.to_lowercase().contains(&word.to_lowercase()) {
            fault(word);
        }
    }
    if !said.ends_with(['.', '?', '!']) {
        fault("no stop at the end");
    }
    if !said.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit()) {
        fault("no capital");
    }
    for slip in [
        "  ",
        " .",
        " ,",
        "..",
        ",.",
        "?.",
        ".?",
        " the the ",
        " a a ",
        "timer timer",
    ] {
        if said.contains(slip) {
            fault("a slip");
        }
    }
    let heard = for_the_ear(said);
    if heard.contains(|c: char| c.is_ascii_digit() || "°%½¼¾⅓⅔+=&".contains(c)) {
        fault("a figure reaches the voice");
    }
    for many in MANY {
        for verb in ["is", "was"] {
            if said.contains(&format!("the {many} {verb} "))
                || said.contains(&format!("The {many} {verb} "))
            {
                fault("the verb does not agree");
            }
        }
        if said.contains(&format!("There is no {many}")) {
            fault("the verb does not agree");
        }
    }
    for verb in ["are", "were"] {
        for one in [
            "salt", "water", "butter", "flour", "yeast", "garlic", "celery", "cod", "milk",
        ] {
            if said.contains(&format!("The fine {one} {verb} "))
                || said.contains(&format!("The {one} {verb} "))
            {
                fault("the verb does not agree");
            }
        }
    }
    faults
}

#[test]
fn every_sentence_is_of_the_house() {
    let never = never();
    let all: BTreeSet<String> = all_said().into_iter().map(|(_, said)| said).collect();
    let faults: Vec<String> = all.iter().flat_map(|said| faults(said, &never)).collect();
    assert!(
        faults.is_empty(),
        "{} faults:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn nothing_is_longer_than_the_page_says() {
    let mut long = Vec::new();
    for (brief, part) in [(false, 1), (true, 2)] {
        for name in formulas() {
            let options = Options {
                brief,
                ..Options::default()
            };
            let said = Rehearsal::play_with(formula(&name), options, &walk(&name, false));
            let allergens = formula(&name).contents().opening(Options::default().law());
            for (at, whole) in said.said().iter().enumerate() {
                let text = bare(whole);
                let sized = text.starts_with("Twice the formula")
                    || text.starts_with("One and a half times the formula");
                let kind = match &text {
                    _ if at == 0 => "opening",
                    t if t.starts_with("Step ") || t.starts_with("Now the ") => "step",
                    _ if sized => "size",
                    _ => continue,
                };
                // A rest of five words is as short as the hint at it.
                let most = most(kind).div_ceil(part) + 5;
                let must = match kind {
                    // Never cut.
                    "opening" => words(&allergens) + words(&formula(&name).name) + 4,
                    // Cut to one clause of what the author says, and no shorter.
                    "step" | "size"
                        if is_cut_short(whole) || brief && of_the_author(&text) <= 1 =>
                    {
                        words(&text)
                    }
                    _ => 0,
                };
                if words(&text) > most.max(must) {
                    long.push(format!("{name}, {kind}, {} words: {text}", words(&text)));
                }
            }
        }
    }
    assert!(
        long.is_empty(),
        "{} too long:\n{}",
        long.len(),
        long.join("\n")
    );
}

#[test]
fn many_timers_are_told_in_few_words() {
    let mut script = "0:00 say ten minute timer for the rice\n".to_owned();
    for name in [
        "eggs", "soup", "pasta", "sauce", "cake", "fish", "tart", "chicken",
    ] {
        script.push_str(&format!(
            "+1s say one hour and fifteen minute timer for the {name}\n"
        ));
    }
    script.push_str("+1s say how long is left\n");
    let said = Rehearsal::play("seeded-tin-loaf", &script);
    assert!(words(said.last()) <= most("timers"), "{}", said.last());
    assert!(
        said.last().starts_with("Rice: ten minutes left."),
        "{}",
        said.last()
    );
    assert!(said.last().ends_with("more."), "{}", said.last());
}

/// What `more` tells is the rest: together with the first part it is the whole.
#[test]
fn more_tells_the_rest_and_nothing_is_lost() {
    for name in formulas() {
        for step in 1..=formula(&name).steps.len() {
            let script = format!(
                "0:00 say go to step {step}\n+1s say more\n+1s say more\n+1s say read the whole step\n"
            );
            let said = Rehearsal::play(&name, &script);
            let said: Vec<String> = said.said().iter().map(|s| bare(s)).collect();
            let whole = said.last().expect("it was asked for");
            let told: BTreeSet<String> = said
                .iter()
                .rev()
                .skip(1)
                .flat_map(|s| plain_words(s))
                .collect();
            // Where a part was cut the same words stand in both; what only the whole step tells comes after its text.
            let text = whole.split(" It takes ").next().unwrap_or_default();
            let text = text.split(" Careful. ").next().unwrap_or_default();
            let text = text.split(" In the ").next().unwrap_or_default();
            let text = text.split(" At the end of the ").next().unwrap_or_default();
            let lost: Vec<String> = plain_words(text)
                .into_iter()
                .filter(|w| !told.contains(w))
                .collect();
            assert!(lost.is_empty(), "{name}, step {step}: {lost:?}\n{said:#?}");
        }
    }
}

fn plain_words(text: &str) -> Vec<String> {
    let words = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty());
    words.map(str::to_lowercase).collect()
}

/// Sentences that no rehearsal comes to are looked for where they are written.
#[test]
fn no_sentence_in_the_code_is_against_the_house() {
    let never = never();
    let mut found = Vec::new();
    for room in [
        "bench", "plan", "timer", "ask", "safety", "keypad", "dough", "swap", "measure",
    ] {
        let mut folders = vec![root().join("src").join(room)];
        while let Some(folder) = folders.pop() {
            for file in std::fs::read_dir(folder).expect("a folder") {
                let path = file.expect("a file").path();
                if path.is_dir() {
                    folders.push(path);
                    continue;
                }
                if path.extension().is_none_or(|e| e != "rs") {
                    continue;
                }
                let text = std::fs::read_to_string(&path).expect("it reads");
                let code = text.split("#[cfg(test)]").next().unwrap_or_default();
                let lines = code
                    .lines()
                    .filter(|line| !line.trim_start().starts_with("//"));
                for line in lines {
                    // What is said has a capital and a space; the rest is names and keys.
                    let literals = line.split('"').skip(1).step_by(2);
                    let spoken = literals
                        .filter(|l| l.contains(' ') && l.contains(|c: char| c.is_uppercase()));
                    for literal in spoken {
                        let hit = never.iter().filter(|word| literal.contains(**word));
                        found.extend(
                            hit.map(|word| format!("{}: {word}: {literal}", path.display())),
                        );
                    }
                }
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}
