//! Finds that the grammar's rules leave out, since only loose speech says things so: `hour and a half`, `the strong white`,
//! `how long have they been provin`.

use super::situation::ReaderSituation;
use crate::understand::numbers::{parse_amount, parse_duration, parse_words};
use crate::understand::{FoundKind, FoundValue, Lexicon, Mention, is_common_adjective, name_words};

/// After these, `one` stands for a thing and is no number: `a round one twenty centimetres across`.
const BEFORE_ONE: &[&str] = &[
    "each",
    "every",
    "round",
    "square",
    "rectangular",
    "this",
    "that",
    "other",
    "first",
    "second",
    "last",
    "next",
    "big",
    "small",
    "little",
    "large",
    "long",
    "same",
    "any",
    "wrong",
    "right",
    "new",
    "old",
    "which",
];
/// Before these, `one` is a number all the same: `the one hour timer`, `the rice one more minute`.
const AFTER_ONE: &[&str] = &[
    "hour",
    "minute",
    "second",
    "more",
    "hundred",
    "thousand",
    "point",
    "and",
    "gram",
    "kilo",
    "kilogram",
    "cup",
    "tablespoon",
    "teaspoon",
    "percent",
    "litre",
    "liter",
    "ounce",
    "pound",
    "half",
    "quarter",
    "o'clock",
];
/// Food names that people call one another by.
const ENDEARMENTS: &[&str] = &[
    "honey", "duck", "hen", "sugar", "pumpkin", "chicken", "lamb", "treacle", "petal", "peach",
    "cookie",
];
/// Words that an endearment stands beside, and no food: `well honey`, `honey i need`.
const ADDRESSING_BEFORE: &[&str] = &[
    "well", "right", "ok", "okay", "so", "now", "please", "thanks", "ta", "no", "nah", "yes",
    "yeah", "hey", "hi", "oh", "on", "hello",
];
const ADDRESSING_AFTER: &[&str] = &[
    "i", "i'm", "i've", "i'll", "i'd", "you", "you're", "we", "we're", "what", "what's", "how",
    "how's", "where", "when", "can", "could", "that'll", "that's", "that", "it's", "get", "keep",
    "give", "is", "are", "do", "did", "have", "tell",
];
/// After `an hour and ten` these go on, and nothing that ten could count.
const AFTER_MINUTES: &[&str] = &[
    "for", "on", "of", "please", "not", "more", "to", "in", "timer", "and", "then", "now", "ta",
    "thanks", "from", "no",
];
/// No loose length or amount is longer than so many words.
const LONGEST: usize = 6;

/// Text with the endings that dialects drop: `bakin'` is baking.
pub(super) fn with_endings(text: &str, situation: &ReaderSituation, lexicon: &Lexicon) -> String {
    let text = &without_endearments(text, situation, lexicon);
    let named: Vec<String> = names(situation).flat_map(|n| name_words(n)).collect();
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let lower = word.to_lowercase();
        let bare = lower.trim_end_matches(['\'', '\u{2019}']);
        let dropped = bare.len() < lower.len();
        let full = format!("{bare}g");
        if bare.len() > 4 && bare.ends_with("in") && (dropped || named.contains(&full)) {
            out.push(full);
        } else {
            out.push(word.to_owned());
        }
    }
    out.join(" ")
}

/// Text without `honey` and `duck` where somebody is called so, and no dish has them in it.
fn without_endearments(text: &str, situation: &ReaderSituation, lexicon: &Lexicon) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_here = |word: &str| {
        let own = &lexicon.situation().ingredients;
        let mut all = own.iter().map(|i| &i.name).chain(names(situation));
        all.any(|name| name_words(name).iter().any(|w| stem(w) == stem(word)))
    };
    let calls = |k: usize| {
        let word = words[k].to_lowercase();
        if words.len() < 2 || !ENDEARMENTS.contains(&word.as_str()) || is_here(&word) {
            return false;
        }
        let near = |at: Option<usize>, list: &[&str]| {
            at.and_then(|at| words.get(at))
                .is_some_and(|w| list.contains(&w.to_lowercase().as_str()))
        };
        let last = k + 1 == words.len();
        let before = near(k.checked_sub(1), ADDRESSING_BEFORE);
        let after = near(Some(k + 1), ADDRESSING_AFTER);
        let counts = words
            .get(k + 1)
            .is_some_and(|w| parse_words(&w.to_lowercase()).is_some());
        let measured = |w: &str| parse_amount(&format!("one {}", w.to_lowercase())).is_some();
        match k {
            0 => after,
            _ if last => {
                before
                    || word == "duck" && !near(Some(k - 1), &["the", "a", "of", "for", "and", "or"])
                    || ends_clause(words[k - 1]) && !measured(words[k - 1])
            }
            _ => {
                before && !near(Some(k - 1), &["on", "no"])
                    || (after || counts) && ends_clause(words[k - 1])
            }
        }
    };
    let kept = (0..words.len()).filter(|k| !calls(*k)).map(|k| words[k]);
    kept.collect::<Vec<_>>().join(" ")
}

/// A sentence may end on this word, and no food's name begins after it.
fn ends_clause(word: &str) -> bool {
    const OPEN: &[&str] = &[
        "the", "a", "an", "of", "for", "and", "or", "no", "any", "some", "much", "many", "more",
        "with", "in", "is", "my", "this", "that", "than", "to", "use", "add", "added", "put",
        "have", "got", "need", "less", "little", "less", "contain", "about", "not", "from", "on",
        "weigh", "are", "roast", "fresh", "brown", "white", "caster", "icing", "raw", "as",
        "called", "instead", "without", "like", "one",
    ];
    !OPEN.contains(&word.to_lowercase().as_str())
}

fn names(s: &ReaderSituation) -> impl Iterator<Item = &String> {
    s.timers
        .iter()
        .map(|t| &t.name)
        .chain(&s.rings)
        .chain(&s.offered)
        .chain(&s.titles)
}

/// Adds what is found beyond the grammar's rules, and takes away what is no number.
pub(super) fn add(
    words: &[String],
    found: &mut Vec<Mention>,
    lexicon: &Lexicon,
    situation: &ReaderSituation,
) {
    said_twice(words, found);
    spelt(words, found);
    ones(words, found);
    lengths(words, found);
    amounts(words, found);
    ingredients(words, found, lexicon);
    timers(words, found, situation);
    ordinals(words, found);
}

fn said(words: &[String]) -> String {
    words.join(" ")
}

fn covers(found: &[Mention], kinds: &[FoundKind], at: usize) -> bool {
    found
        .iter()
        .any(|f| kinds.contains(&f.kind) && f.from <= at && at < f.to)
}

/// A number that is said twice so that it is heard right: `fifteen fifteen`, `thirty three zero`, `one three thirteen`.
fn said_twice(words: &[String], found: &mut Vec<Mention>) {
    for from in 0..words.len() {
        if !covers(found, &[FoundKind::Number], from) {
            continue;
        }
        let number = |a: usize, b: usize| parse_words(&words[a..b].join(" "));
        let longest = words.len().min(from + LONGEST);
        let twice = (from + 2..=longest).rev().find_map(|to| {
            (from + 1..to).find_map(|cut| {
                let (left, right) = (&words[from..cut], &words[cut..to]);
                let (a, b) = (number(from, cut), number(cut, to));
                let same = a.filter(|a| *a >= 10.0 && b == Some(*a) && left.len() == right.len());
                let spelt = a.filter(|a| *a >= 10.0 && digits(right) == Some(*a));
                let before = b.filter(|b| *b >= 10.0 && digits(left) == Some(*b));
                same.or(spelt).or(before).map(|n| (to, n))
            })
        });
        if let Some((to, n)) = twice {
            number_at(from, to, n, words, found);
            return;
        }
    }
}

/// A number told by its digits: `four zero`, and `one five` where fifteen is said as well.
fn spelt(words: &[String], found: &mut Vec<Mention>) {
    for from in 0..words.len().saturating_sub(1) {
        let (before, to) = (from.checked_sub(1).map(|k| &words[k..from]), from + 2);
        let Some(n) = digits(&words[from..to]).filter(|n| *n >= 10.0) else {
            continue;
        };
        let digit = |part: &[String]| digits(&[part, part].concat()).is_some();
        let longer = before.is_some_and(digit) || words.get(to..=to).is_some_and(digit);
        let ends = ["zero", "nought"].contains(&words[to - 1].as_str());
        let again = found.iter().any(|f| {
            f.kind == FoundKind::Number && f.to - f.from == 1 && f.value == FoundValue::Number(n)
        });
        let larger = found.iter().any(|f| {
            f.kind == FoundKind::Number && f.from <= from && f.to > from && f.to - f.from > 2
        });
        if !longer && !larger && (ends || again) {
            number_at(from, to, n, words, found);
        }
    }
}

/// Digit after digit as one number.
fn digits(part: &[String]) -> Option<f64> {
    let digit = |w: &String| match w.as_str() {
        "oh" | "nought" => Some(0.0),
        w => parse_words(w).filter(|n| n.fract() == 0.0 && (0.0..10.0).contains(n)),
    };
    let all: Option<Vec<f64>> = part.iter().map(digit).collect();
    all.filter(|all| all.len() > 1)
        .map(|all| all.iter().fold(0.0, |sum, d| 10.0 * sum + d))
}

/// Puts a number in the place of what was found in its words, with the unit that follows.
fn number_at(from: usize, to: usize, n: f64, words: &[String], found: &mut Vec<Mention>) {
    found.retain(|f| {
        let measured = matches!(
            f.kind,
            FoundKind::Number | FoundKind::Duration | FoundKind::Amount | FoundKind::Clock
        );
        !(measured && f.from < to && from < f.to)
    });
    let mut put = |to, kind, value| {
        found.push(Mention {
            from,
            to,
            kind,
            value,
        });
    };
    put(to, FoundKind::Number, FoundValue::Number(n));
    if let Some(unit) = words.get(to) {
        let once = format!("{n} {unit}");
        if let Some(span) = parse_duration(&once) {
            let ms = span.as_millis() as f64;
            put(to + 1, FoundKind::Duration, FoundValue::Number(ms));
        } else if let Some((n, unit)) = parse_amount(&once) {
            put(to + 1, FoundKind::Amount, FoundValue::Amount(n, Some(unit)));
        }
    }
}

/// `Each one eighty grams` is eighty grams, not a hundred and eighty.
fn ones(words: &[String], found: &mut Vec<Mention>) {
    for at in 0..words.len() {
        let near = |k: Option<usize>| k.and_then(|k| words.get(k)).map_or("", String::as_str);
        let (last, next) = (near(at.checked_sub(1)), near(Some(at + 1)));
        let named = [
            FoundKind::Timer,
            FoundKind::Own,
            FoundKind::Stuff,
            FoundKind::Step,
        ];
        let stands_for = BEFORE_ONE.contains(&last)
            || ["timer", "clock", "alarm"].contains(&next)
            || (last == "the" || at > 0 && covers(found, &named, at - 1))
                && !AFTER_ONE.contains(&next);
        if words[at] != "one" || !stands_for {
            continue;
        }
        found.retain_mut(|f| {
            if f.from != at {
                return true;
            }
            if f.to == at + 1 {
                return f.kind != FoundKind::Number;
            }
            let rest = said(&words[at + 1..f.to]);
            let value = match f.kind {
                FoundKind::Number => parse_words(&rest).map(FoundValue::Number),
                FoundKind::Duration => {
                    parse_duration(&rest).map(|s| FoundValue::Number(s.as_millis() as f64))
                }
                FoundKind::Amount => {
                    parse_amount(&rest).map(|(n, unit)| FoundValue::Amount(n, Some(unit)))
                }
                _ => None,
            };
            if let Some(value) = value {
                (f.from, f.value) = (at + 1, value);
            }
            true
        });
    }
}

/// `Hour and a half`, `another minute`, `an hour and ten`, `quarter hour`.
fn lengths(words: &[String], found: &mut Vec<Mention>) {
    const LENGTH: &[FoundKind] = &[FoundKind::Duration];
    for from in 0..words.len() {
        let word = words[from].as_str();
        if !["hour", "minute", "quarter", "half"].contains(&word) || covers(found, LENGTH, from) {
            continue;
        }
        let longest = (from + 1..=words.len().min(from + LONGEST))
            .rev()
            .find_map(|to| {
                let text = said(&words[from..to])
                    .replace("and half", "and a half")
                    .replace("and quarter", "and a quarter")
                    .replace("quarter hour", "quarter of an hour");
                let article = if word == "hour" { "an" } else { "a" };
                let span = parse_duration(&format!("{article} {text}"))?;
                Some((to, span))
            });
        if let Some((to, span)) = longest {
            found.push(Mention {
                from,
                to,
                kind: FoundKind::Duration,
                value: FoundValue::Number(span.as_millis() as f64),
            });
        }
    }
    // 'An hour and ten' goes on where ten counts nothing else.
    let hour = |w: &str| ["hour", "hours"].contains(&w);
    let more: Vec<(usize, usize, f64)> = found
        .iter()
        .enumerate()
        .filter(|(_, f)| f.kind == FoundKind::Duration && hour(&words[f.to - 1]))
        .filter_map(|(k, f)| {
            let joined = words.get(f.to).is_some_and(|w| w == "and");
            let number = found.iter().find(|n| {
                n.kind == FoundKind::Number && n.from == f.to + usize::from(joined) && joined
            })?;
            let FoundValue::Number(n) = number.value else {
                return None;
            };
            let free = words
                .get(number.to)
                .is_none_or(|w| AFTER_MINUTES.contains(&w.as_str()));
            (free && (1.0..60.0).contains(&n)).then_some((k, number.to, n))
        })
        .collect();
    for (k, to, n) in more {
        if let FoundValue::Number(ms) = &mut found[k].value {
            *ms += n * 60_000.0;
            found[k].to = to;
        }
    }
    let whole: Vec<(usize, usize)> = of_kind(found, FoundKind::Duration);
    found.retain(|f| {
        f.kind != FoundKind::Duration
            || !whole
                .iter()
                .any(|(a, b)| *a <= f.from && f.to <= *b && b - a > f.to - f.from)
    });
}

fn of_kind(found: &[Mention], kind: FoundKind) -> Vec<(usize, usize)> {
    found
        .iter()
        .filter(|f| f.kind == kind)
        .map(|f| (f.from, f.to))
        .collect()
}

/// `Hundred grams`, without its article.
fn amounts(words: &[String], found: &mut Vec<Mention>) {
    for from in 0..words.len() {
        if !["hundred", "thousand"].contains(&words[from].as_str())
            || covers(found, &[FoundKind::Number, FoundKind::Amount], from)
        {
            continue;
        }
        let to = |n: usize| words.len().min(from + n);
        let window = |to: usize| format!("a {}", said(&words[from..to]));
        let amount = (from + 1..=to(LONGEST))
            .rev()
            .find_map(|to| parse_amount(&window(to)).map(|a| (to, a)));
        if let Some((to, (n, unit))) = amount {
            found.push(Mention {
                from,
                to,
                kind: FoundKind::Amount,
                value: FoundValue::Amount(n, Some(unit)),
            });
        }
        heat_from(from, words, found);
        let number = (from + 1..=to(LONGEST))
            .rev()
            .find_map(|to| parse_words(&window(to)).map(|n| (to, n)));
        if let Some((to, n)) = number {
            found.push(Mention {
                from,
                to,
                kind: FoundKind::Number,
                value: FoundValue::Number(n),
            });
        }
    }
}

/// `Hundred eighty celsius` is not eighty.
fn heat_from(from: usize, words: &[String], found: &mut [Mention]) {
    for f in found {
        if f.kind == FoundKind::Heat
            && f.from == from + 1
            && let FoundValue::Amount(n, _) = &mut f.value
            && *n < 100.0
        {
            *n += if words[from] == "hundred" {
                100.0
            } else {
                1000.0
            };
            f.from = from;
        }
    }
}

/// An ingredient by words of its name that belong to no other: `the strong white`, `bicarbonate`.
fn ingredients(words: &[String], found: &mut Vec<Mention>, lexicon: &Lexicon) {
    let own: Vec<(String, Vec<String>)> = lexicon
        .situation()
        .ingredients
        .iter()
        .map(|i| {
            let name = name_words(&i.name);
            (i.id.to_string(), name.iter().map(|w| stem(w)).collect())
        })
        .collect();
    let stems: Vec<String> = words.iter().map(|w| stem(w)).collect();
    let mut from = 0;
    while from < words.len() {
        let best = (from + 1..=words.len().min(from + 4)).rev().find_map(|to| {
            if (from..to).any(|k| covers(found, &[FoundKind::Own, FoundKind::Number], k)) {
                return None;
            }
            let here = &stems[from..to];
            let telling =
                here.len() > 1 || words[from].len() > 3 && !is_common_adjective(&words[from]);
            if !telling {
                return None;
            }
            let mut owners = own
                .iter()
                .filter(|(_, name)| here.iter().all(|w| name.contains(w)));
            let first = owners.next()?;
            owners.next().is_none().then_some((to, first.0.clone()))
        });
        match best {
            Some((to, id)) => {
                found.push(Mention {
                    from,
                    to,
                    kind: FoundKind::Own,
                    value: FoundValue::Text(id),
                });
                from = to;
            }
            None => from += 1,
        }
    }
}

/// A timer by another form of its one word: `provin` and `proved` for the prove.
fn timers(words: &[String], found: &mut Vec<Mention>, s: &ReaderSituation) {
    let live: Vec<&String> = s
        .timers
        .iter()
        .map(|t| &t.name)
        .chain(&s.rings)
        .chain(&s.offered)
        .filter(|n| !n.contains(' '))
        .collect();
    for (at, word) in words.iter().enumerate() {
        if word.len() < 4 || covers(found, &[FoundKind::Timer], at) {
            continue;
        }
        let forms = [stem(word), stem(&format!("{word}g"))];
        let mut named = live.iter().filter(|n| forms.contains(&stem(n)));
        if let Some(name) = named.next() {
            found.push(Mention {
                from: at,
                to: at + 1,
                kind: FoundKind::Timer,
                value: FoundValue::Text((*name).clone()),
            });
        }
    }
}

/// `The second step`.
fn ordinals(words: &[String], found: &mut Vec<Mention>) {
    for at in 1..words.len() {
        if words[at] == "step"
            && let Some(n) = ordinal(&words[at - 1])
            && !covers(found, &[FoundKind::Step], at - 1)
        {
            found.push(Mention {
                from: at - 1,
                to: at + 1,
                kind: FoundKind::Step,
                value: FoundValue::Number(n as f64),
            });
        }
    }
}

/// `Third` is three.
pub(super) fn ordinal(word: &str) -> Option<usize> {
    const NTH: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    NTH.iter().position(|n| *n == word).map(|at| at + 1)
}

/// A word without the endings of its forms: `baking` and `bake`, `shaped` and `shape`.
pub(super) fn stem(word: &str) -> String {
    let mut stem = word;
    for ending in ["ing", "ed", "es", "s", "e"] {
        if let Some(rest) = stem.strip_suffix(ending)
            && rest.len() >= 3
        {
            stem = rest;
            break;
        }
    }
    let twice = stem.as_bytes();
    let n = twice.len();
    if n > 3
        && twice[n - 1] == twice[n - 2]
        && !"aeiousl".contains(stem.chars().next_back().unwrap_or('a'))
    {
        stem = &stem[..n - 1];
    }
    stem.to_owned()
}
