//! A step as a scene: which foods are in it and what is done, found by how people write and not by fixed phrases.

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use serde::Deserialize;

use super::phrase::{same, tokens};

/// A word of a step.
#[derive(Debug, Clone)]
struct Word {
    text: String,
    /// It only tells what something is like: 'cooked' in 'the cooked rice' is no cooking.
    is_told: bool,
    /// It is not done: 'do not cook', 'no cooking is needed'. It counts inside a longer phrase only.
    is_denied: bool,
    /// A comma or the like stands behind it: 'the chicken, stock and peas' has no chicken stock.
    ends: bool,
}

/// A step, sentence by sentence, and what it uses.
#[derive(Debug)]
pub(super) struct Scene {
    sentences: Vec<Vec<Word>>,
    used: Vec<Vec<Word>>,
}

/// What has to stand in one sentence: each of these, any one of its concepts.
#[derive(Debug)]
pub(super) struct Pattern(Vec<Term>);

#[derive(Debug)]
struct Term {
    any: Vec<&'static str>,
    absent: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    mask: String,
    foods: String,
    sounds_like: Vec<Pairs>,
    concepts: HashMap<String, String>,
}

/// Names that only sound like a food: each of the first before each of the second.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pairs {
    first: String,
    second: String,
    /// Only the first is hidden: 'baby squid' is squid.
    #[serde(default)]
    hides_first: bool,
}

/// A phrase that is taken out of sight, and how many of its words.
struct Mask {
    phrase: Vec<String>,
    hides: Option<usize>,
}

struct Concepts {
    mask: Vec<Mask>,
    /// The places of the masks in their order, by how their first word begins: every form of a verb begins alike.
    masks_by_start: HashMap<String, Vec<usize>>,
    foods: HashSet<String>,
    phrases: HashMap<String, Vec<Vec<String>>>,
}

/// The most words that two dots in a phrase stand for.
const GAP: usize = 2;

/// Small words that stand between the others and change nothing.
const SMALL: [&str; 16] = [
    "the", "a", "an", "your", "my", "our", "some", "his", "her", "their", "its", "these", "those",
    "very", "all", "this",
];

/// Before 'mince' these say that it is meat and no deed.
const MINCED: [&str; 16] = [
    "beef", "pork", "lamb", "veal", "turkey", "chicken", "venison", "steak", "raw", "lean",
    "fatty", "frozen", "mutton", "goat", "cooked", "browned",
];

/// Behind one of these no thing follows that is only told about: 'the roast in the pan', but 'the roast potatoes'.
const LINKS: [&str; 24] = [
    "in", "on", "with", "for", "at", "to", "by", "until", "and", "then", "over", "under", "from",
    "into", "or", "but", "is", "are", "has", "again", "through", "gently", "slowly", "till",
];

/// The first two letters of a word.
fn start_of(word: &str) -> String {
    word.chars().take(2).collect()
}

fn concepts() -> &'static Concepts {
    static TABLE: OnceLock<Concepts> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/kitchen_words.toml"))
            .expect("the shipped words are read by a test of every build");
        let list = |text: &str| -> Vec<Vec<String>> {
            text.split(',')
                .map(|phrase| {
                    let words = phrase.trim().split(' ').flat_map(|word| {
                        if word.starts_with('#') || word == ".." {
                            vec![word.to_owned()]
                        } else {
                            tokens(word)
                        }
                    });
                    words
                        .filter(|w| !SMALL.contains(&w.as_str()))
                        .collect::<Vec<_>>()
                })
                .filter(|words| !words.is_empty())
                .collect()
        };
        let whole = list(&file.mask).into_iter().map(|phrase| Mask {
            phrase,
            hides: None,
        });
        let paired = file.sounds_like.iter().flat_map(|pairs| {
            let (first, second) = (list(&pairs.first), list(&pairs.second));
            let joined = first.into_iter().flat_map(move |a| {
                let hides = pairs.hides_first.then_some(a.len());
                let join = move |b: &Vec<String>| Mask {
                    phrase: [a.as_slice(), b].concat(),
                    hides,
                };
                second.iter().map(join).collect::<Vec<_>>()
            });
            joined.collect::<Vec<_>>()
        });
        let mask: Vec<Mask> = whole.chain(paired).collect();
        let mut masks_by_start: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, mask) in mask.iter().enumerate() {
            masks_by_start
                .entry(start_of(&mask.phrase[0]))
                .or_default()
                .push(at);
        }
        Concepts {
            mask,
            masks_by_start,
            foods: file
                .foods
                .split(',')
                .map(|name| name.trim().to_owned())
                .collect(),
            phrases: file
                .concepts
                .iter()
                .map(|(name, text)| (name.clone(), list(text)))
                .collect(),
        }
    })
}

impl Pattern {
    /// Reads one of a table's rows: `poultry|game_bird cook -ready`.
    pub(super) fn read(text: &'static str) -> Self {
        let known = concepts();
        Self(
            text.split(' ')
                .map(|term| {
                    let (absent, names) = match term.strip_prefix('-') {
                        Some(rest) => (true, rest),
                        None => (false, term),
                    };
                    let any: Vec<&str> = names.split('|').collect();
                    for name in &any {
                        assert!(known.phrases.contains_key(*name), "no concept `{name}`");
                    }
                    Term { any, absent }
                })
                .collect(),
        )
    }
}

/// Where a name stands that only sounds like a food, and how many words of it are hidden. No comma stands inside it.
fn masked(words: &[Word], mask: &Mask) -> Option<(usize, usize)> {
    let (first, rest) = mask.phrase.split_first()?;
    (0..words.len()).find_map(|at| {
        if !same(&words[at].text, first) {
            return None;
        }
        let (mut end, mut gap) = (at + 1, 0);
        for wanted in rest {
            if wanted == ".." {
                gap = GAP;
                continue;
            }
            let near = (end..=(end + gap).min(words.len().checked_sub(1)?))
                .find(|&i| !words[at..i].iter().any(|w| w.ends) && same(&words[i].text, wanted))?;
            (end, gap) = (near + 1, 0);
        }
        Some((at, mask.hides.unwrap_or(end - at)))
    })
}

/// The place of a phrase in a row of words. What only tells about something is no deed: it counts inside a longer phrase
/// or for a food, as it stands.
fn position(words: &[Word], phrase: &[String], food: bool) -> Option<usize> {
    let n = phrase.len();
    let fits = |found: &Word, wanted: &String| {
        let as_it_stands = !found.is_told || food || n > 1;
        let done = !found.is_denied || n > 1;
        done && (as_it_stands && found.text == *wanted
            || !found.is_told && same(&found.text, wanted))
    };
    (0..words.len()).find(|&at| stands(&words[at..], phrase, &fits))
}

/// Does the phrase begin these words? Its gaps take up to [`GAP`] words.
fn stands(words: &[Word], phrase: &[String], fits: &impl Fn(&Word, &String) -> bool) -> bool {
    let Some((wanted, rest)) = phrase.split_first() else {
        return true;
    };
    if wanted == ".." {
        return (0..=GAP.min(words.len())).any(|skip| stands(&words[skip..], rest, fits));
    }
    words
        .split_first()
        .is_some_and(|(found, behind)| fits(found, wanted) && stands(behind, rest, fits))
}

/// The words of one sentence: small ones left out, heat as `#hot`, and what is no food or no deed masked.
fn words_of(sentence: &str) -> Vec<Word> {
    let sentence = without_so_called(sentence).replace(['–', '-', '/'], " ");
    // 'chops' are meat, 'chop' is a deed.
    let lower = sentence.to_lowercase().replace("chops", "cutlets");
    let pieces: Vec<&str> = lower
        .split(|c: char| c.is_whitespace())
        .filter(|p| !p.is_empty())
        .collect();
    let mut raw: Vec<(String, bool)> = Vec::new();
    for piece in pieces {
        let ends = piece.ends_with([',', ';', ':', ')', '.', '!', '?']);
        let parts = tokens(piece);
        let last = parts.len().saturating_sub(1);
        for (i, part) in parts.into_iter().enumerate() {
            raw.push((part, ends && i == last));
        }
    }
    let mut out: Vec<Word> = Vec::new();
    let mut at = 0;
    while at < raw.len() {
        let (text, _) = &raw[at];
        if let Some(degrees) = degrees(&raw, at) {
            if degrees >= 100.0 {
                push(&mut out, "#hot");
            } else if degrees >= 70.0 {
                push(&mut out, "#70");
            }
            at += 1;
            continue;
        }
        // 'the mince' is meat, 'mince the garlic' a deed; so with 'the stew', 'a chop' and 'the roast'.
        let of_meat = |word: &str| SMALL.contains(&word) || MINCED.contains(&word);
        let is_thing = at > 0 && of_meat(&raw[at - 1].0);
        // What goes into the stew is cooked by it.
        let goes_in = at > 1 && ["into", "to"].contains(&raw[at - 2].0.as_str());
        let ends = raw[at].1
            || raw
                .get(at + 1)
                .is_none_or(|(next, _)| LINKS.contains(&next.as_str()));
        if text == "mince" && is_thing {
            push(&mut out, "minced");
            push(&mut out, "meat");
        } else if text == "chop" && is_thing && ends {
            push(&mut out, "cutlet");
        } else if text == "roast" && is_thing && ends {
            push(&mut out, "meat");
        } else if text == "stew" && is_thing && ends && !goes_in {
            push(&mut out, "#stew");
            push(&mut out, "stew");
        } else if !SMALL.contains(&text.as_str()) {
            out.push(Word {
                text: text.clone(),
                is_told: tells(&raw, at),
                is_denied: denied(&raw, at),
                ends: raw[at].1,
            });
        }
        at += 1;
    }
    let known = concepts();
    let mut masks: Vec<usize> = out
        .iter()
        .filter_map(|word| known.masks_by_start.get(&start_of(&word.text)))
        .flatten()
        .copied()
        .collect();
    masks.sort_unstable();
    masks.dedup();
    for mask in masks.into_iter().map(|at| &known.mask[at]) {
        while let Some((found, long)) = masked(&out, mask) {
            let mark = Word {
                text: "-".to_owned(),
                is_told: true,
                is_denied: false,
                ends: out[found + long - 1].ends,
            };
            out.splice(found..found + long, [mark]);
        }
    }
    out
}

/// Beside what stands in for meat a word in quotes is none: jackfruit for the pulled 'pork' buns.
fn without_so_called(sentence: &str) -> String {
    const STANDS_IN: [&str; 14] = [
        "jackfruit",
        "tofu",
        "seitan",
        "tempeh",
        "soya",
        "soy",
        "vegan",
        "veggie",
        "vegetarian",
        "mushroom",
        "cauliflower",
        "aubergine",
        "blossom",
        "plant",
    ];
    const QUOTES: [char; 6] = ['\'', '"', '‘', '’', '“', '”'];
    let stands_in = |word: &str| STANDS_IN.contains(&word);
    if !sentence.contains(QUOTES) || !tokens(sentence).iter().any(|w| stands_in(w)) {
        return sentence.to_owned();
    }
    let quoted = |piece: &&str| {
        let piece = piece.trim_end_matches([',', ';', ':', ')', '.']);
        piece.starts_with(QUOTES) && piece.ends_with(QUOTES)
    };
    let kept = sentence.split_whitespace().filter(|piece| !quoted(piece));
    kept.collect::<Vec<_>>().join(" ")
}

fn push(out: &mut Vec<Word>, text: &str) {
    out.push(Word {
        text: text.to_owned(),
        is_told: false,
        is_denied: false,
        ends: false,
    });
}

/// True for a cooking that is not done: 'do not cook', 'no cooking is needed', 'without baking'.
fn denied(raw: &[(String, bool)], at: usize) -> bool {
    const HEATING: [&str; 12] = [
        "cook", "bake", "boil", "heat", "fry", "roast", "simmer", "poach", "grill", "oven",
        "thicken", "warm",
    ];
    const NOT: [&str; 7] = ["no", "not", "never", "without", "dont", "nt", "unbaked"];
    let text = &raw[at].0;
    let heats = HEATING.iter().any(|verb| text == verb || same(text, verb));
    let before = raw[at.saturating_sub(2)..at].iter().rev();
    heats
        && before
            .take_while(|(_, ends)| !ends)
            .any(|(word, _)| NOT.contains(&word.as_str()))
}

/// '190c', '190 c', '180 degrees', in Celsius.
fn degrees(raw: &[(String, bool)], at: usize) -> Option<f64> {
    let (text, _) = &raw[at];
    let digits = text.trim_end_matches(['c', 'f']);
    let number: f64 = digits.parse().ok()?;
    let unit = text.chars().last().filter(char::is_ascii_alphabetic);
    let next = raw.get(at + 1).map(|(w, _)| w.as_str());
    match (unit, next) {
        (Some('c'), _) | (None, Some("c" | "degree" | "celsius")) => Some(number),
        (Some('f'), _) | (None, Some("f" | "fahrenheit")) => Some((number - 32.0) / 1.8),
        // 'bring the oil to 180'
        (None, next)
            if at > 0
                && raw[at - 1].0 == "to"
                && number >= 100.0
                && !next.is_some_and(|w| ["g", "ml", "gram", "minute"].contains(&w)) =>
        {
            Some(number)
        }
        _ => None,
    }
}

/// True for a participle that stands before what it tells about: 'the cooked rice', 'roast chicken' after an article.
fn tells(raw: &[(String, bool)], at: usize) -> bool {
    const AFTER: [&str; 16] = [
        "until", "is", "are", "be", "been", "being", "was", "were", "get", "till", "when", "once",
        "it", "them", "have", "has",
    ];
    const BEFORE: [&str; 34] = [
        "in", "on", "with", "for", "at", "to", "by", "until", "and", "then", "over", "under",
        "through", "from", "into", "or", "but", "the", "a", "an", "it", "them", "all", "gently",
        "well", "as", "if", "side", "once", "before", "after", "both", "again", "off",
    ];
    let (text, ends) = &raw[at];
    let before = at.checked_sub(1).map_or("", |i| raw[i].0.as_str());
    let next = raw.get(at + 1).map(|(w, _)| w.as_str());
    let Some(next) = next.filter(|_| !ends) else {
        return false;
    };
    if text == "roast" {
        return SMALL.contains(&before) || before == "cold";
    }
    text.len() > 4
        && text.ends_with("ed")
        && !AFTER.contains(&before)
        && !BEFORE.contains(&next)
        && !next.starts_with(|c: char| c.is_ascii_digit())
}

impl Scene {
    /// Of what a step uses, as named, and its text.
    pub(super) fn of(used: &[&str], text: &str) -> Self {
        let mut sentences = Vec::new();
        let mut start = 0;
        for (at, c) in text.char_indices() {
            // A point inside a number ends nothing.
            let ends = matches!(c, '!' | '?')
                || c == '.'
                    && text[at + 1..]
                        .chars()
                        .next()
                        .is_none_or(char::is_whitespace);
            if ends {
                sentences.push(words_of(&text[start..at]));
                start = at + 1;
            }
        }
        sentences.push(words_of(&text[start..]));
        sentences.retain(|s| !s.is_empty());
        if sentences.is_empty() {
            sentences.push(Vec::new());
        }
        Self {
            sentences,
            used: used.iter().map(|name| words_of(name)).collect(),
        }
    }

    /// The words that fit the first concept of a pattern; `None` where the pattern does not fit.
    pub(super) fn find(&self, pattern: &Pattern) -> Option<String> {
        let fits_nowhere = |term: &Term| !self.anywhere(term);
        if !pattern.0.iter().filter(|t| t.absent).all(fits_nowhere) {
            return None;
        }
        (0..self.sentences.len()).find_map(|at| {
            let mut wanted = pattern.0.iter().filter(|t| !t.absent);
            let first = self.here(wanted.next()?, at)?;
            let acts_here = pattern
                .0
                .iter()
                .filter(|t| !t.absent)
                .any(|t| in_row(t, &self.sentences[at]).is_some());
            (acts_here && wanted.all(|term| self.here(term, at).is_some())).then_some(first)
        })
    }

    pub(super) fn fits(&self, pattern: &Pattern) -> bool {
        self.find(pattern).is_some()
    }

    fn here(&self, term: &Term, at: usize) -> Option<String> {
        in_row(term, &self.sentences[at]).or_else(|| {
            let food = is_food(term);
            let before = self.sentences[..at].iter().rev();
            before
                .chain(&self.used)
                .filter(|_| food)
                .find_map(|row| in_row(term, row))
        })
    }

    fn anywhere(&self, term: &Term) -> bool {
        let rows = self.sentences.iter();
        rows.chain(&self.used)
            .any(|row| in_row(term, row).is_some())
    }
}

fn is_food(term: &Term) -> bool {
    term.any.iter().all(|name| concepts().foods.contains(*name))
}

fn in_row(term: &Term, row: &[Word]) -> Option<String> {
    term.any.iter().find_map(|name| {
        concepts().phrases[*name]
            .iter()
            .find(|phrase| {
                position(row, phrase, term.absent || concepts().foods.contains(*name)).is_some()
            })
            .map(|phrase| phrase.join(" "))
    })
}

/// A food that is asked about: its words alone, whatever is done.
pub(super) struct Named(Vec<Word>);

impl Named {
    pub(super) fn of(food: &str) -> Self {
        let as_named = |w| Word {
            is_told: false,
            ..w
        };
        Self(words_of(food).into_iter().map(as_named).collect())
    }

    pub(super) fn fits(&self, pattern: &Pattern) -> bool {
        pattern
            .0
            .iter()
            .all(|term| in_row(term, &self.0).is_some() != term.absent)
    }
}
