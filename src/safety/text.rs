//! The foods that a step's text names.

use super::name::{NameContents, read_name};
use super::phrase::marked_tokens;
use super::vocabulary::vocabulary;

/// Words after which a food is only what something looks like.
const LOOKS: [&str; 12] = [
    "like",
    "resemble",
    "consistency",
    "texture",
    "size",
    "colour",
    "color",
    "thickness",
    "shape",
    "look",
    "than",
    "as",
];
/// Foods that are also what a cook does.
const VERBS: [&str; 17] = [
    "cream", "toast", "crumble", "mash", "sandwich", "dip", "glaze", "crumb", "batter", "stew",
    "curry", "fish", "dress", "roast", "spread", "rub", "fry",
];
/// After one of these a word that can be a verb is one.
const OBJECTS: [&str; 12] = [
    "the", "it", "them", "together", "until", "out", "each", "all", "in", "your", "both", "these",
];

/// The foods that a text names, as it names them, with what they hold. What the formula itself makes ('the bread') is
/// left out, and so are tools ('a bread knife') and looks ('like breadcrumbs').
pub(super) fn foods_in(text: &str) -> Vec<(String, NameContents)> {
    let vocabulary = vocabulary();
    let words = marked_tokens(text);
    let mut found = Vec::new();
    let mut only_a_look = false;
    let mut at = 0;
    while at < words.len() {
        let word = words[at].as_str();
        if word == "," {
            only_a_look = false;
        } else if LOOKS.contains(&word) {
            only_a_look = true;
        }
        let longest = (1..=vocabulary.longest.min(words.len() - at))
            .rev()
            .find_map(|n| vocabulary.food(&words[at..at + n]).map(|food| (n, food)));
        let Some((n, food)) = longest else {
            at += 1;
            continue;
        };
        let before = at.checked_sub(1).map_or("", |i| words[i].as_str());
        let after = words.get(at + n).map_or("", String::as_str);
        let is_verb = n == 1 && VERBS.contains(&word) && OBJECTS.contains(&after);
        let is_made = food.tags.has("made") && !matches!(before, "with" | "on" | "and");
        let skip = only_a_look || is_verb || is_made || vocabulary.is_tool(after);
        if !skip {
            let name = words[at..at + n].join(" ");
            let mut reading = read_name(&name);
            // 'The stock', 'your sauce' is one that the formula makes or lists; 'a stock cube' is news.
            if matches!(before, "the" | "your" | "this" | "that" | "its" | "all")
                || food.tags.has("made")
            {
                reading.may = super::Matters::NONE;
            }
            found.push((name, reading));
        }
        at += n;
    }
    found
}
