//! Is a word a good name to be called by?

use crate::understand::literal_words;

/// Words that are said in a kitchen all day.
const COMMON: &[&str] = &[
    "about",
    "after",
    "again",
    "always",
    "angel",
    "baby",
    "barbara",
    "better",
    "brother",
    "chef",
    "children",
    "come",
    "coming",
    "common",
    "computer",
    "cook",
    "cooking",
    "daddy",
    "darling",
    "david",
    "dinner",
    "doctor",
    "every",
    "everybody",
    "everything",
    "family",
    "father",
    "friend",
    "going",
    "granny",
    "hello",
    "honey",
    "husband",
    "kitchen",
    "little",
    "lovely",
    "maria",
    "mary",
    "maybe",
    "michael",
    "money",
    "morning",
    "mother",
    "mummy",
    "music",
    "never",
    "nothing",
    "office",
    "other",
    "people",
    "please",
    "pretty",
    "really",
    "recipe",
    "school",
    "sister",
    "somebody",
    "something",
    "sorry",
    "sugar",
    "supper",
    "sweetie",
    "table",
    "teacher",
    "telephone",
    "thank",
    "today",
    "together",
    "tomorrow",
    "tonight",
    "water",
    "weather",
    "whatever",
    "window",
    "woman",
    "yesterday",
];

/// What is wrong with a name, as a clause; nothing with a good one. `known`: does the speech model know this word?
pub fn fault(name: &str, known: &dyn Fn(&str) -> bool) -> Option<String> {
    let words = crate::understand::name_words(name);
    if words.is_empty() {
        return Some("it is empty".to_owned());
    }
    if let Some(word) = words.iter().find(|w| !known(w)) {
        return Some(format!("the speech model does not know `{word}`"));
    }
    if syllables(&words.concat()) < 2 {
        return Some("it is too short: a name of one syllable is heard in any talk".to_owned());
    }
    let [word] = words.as_slice() else {
        return None;
    };
    if COMMON.contains(&word.as_str()) {
        return Some("it is too common: it is said in any talk".to_owned());
    }
    let orders = literal_words();
    if orders.contains(word.as_str()) {
        return Some("it is a word of the orders".to_owned());
    }
    let near = orders
        .into_iter()
        .find(|order| order.len() > 3 && strsim::osa_distance(order, word) < 2);
    near.map(|order| format!("it sounds like `{order}`, a word of the orders"))
}

/// Groups of vowels, without an `e` that is not spoken at the end; vowels that are spoken apart count twice.
fn syllables(word: &str) -> usize {
    let spoken = word.strip_suffix('e').unwrap_or(word);
    let vowel = |c: char| matches!(c, 'a' | 'e' | 'i' | 'o' | 'u' | 'y');
    let mut before = false;
    let apart = ["ia", "io", "eo", "ua"]
        .iter()
        .map(|pair| spoken.matches(pair).count())
        .sum::<usize>();
    let groups = spoken
        .chars()
        .filter(|c| {
            let starts = vowel(*c) && !before;
            before = vowel(*c);
            starts
        })
        .count();
    groups + apart
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn good_names_and_bad_ones() {
        let known = |w: &str| w != "xyzzy";
        for good in ["commis", "gaston", "brioche", "sous chef"] {
            assert_eq!(fault(good, &known), None, "{good}");
        }
        for (bad, why) in [
            ("", "empty"),
            ("xyzzy", "does not know"),
            ("chef", "too short"),
            ("jane", "too short"),
            ("honey", "too common"),
            ("timer", "word of the orders"),
            ("repeal", "sounds like `repeat`"),
        ] {
            let said = fault(bad, &known).unwrap_or_default();
            assert!(said.contains(why), "{bad}: {said}");
        }
    }
}
