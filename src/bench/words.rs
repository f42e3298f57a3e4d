//! Wording that the bench shares: lists, lengths of time, clock times. Answer first, plain words.

use crate::formula::{Batch, Formula, Step};
use crate::measure::Region;
pub(super) use crate::measure::words::capital;
use crate::measure::words::{Style, cardinal, counted};
use crate::time::Span;

/// A number as a cook says it.
pub(super) fn number(n: f64) -> String {
    crate::measure::words::number(n, Style::Kitchen)
}

/// A decimal with at most so many places: `sixty eight`, `sixty eight point five`.
pub(super) fn decimal(n: f64, places: usize) -> String {
    crate::measure::words::decimal(n, places)
}

/// A whole count.
pub(super) fn count(n: usize) -> String {
    cardinal(n as u64)
}

/// So many, or from so many to so many: `two eggs`, `two to three cloves`; a bare number of pieces: `two`.
pub(super) fn from_to(low: f64, high: f64, one: &str) -> String {
    let said = |n: f64| match one {
        "piece" => number(n),
        one => pieces(n, one),
    };
    joined(&said(low), &said(high))
}

/// `two eggs`, `one and a half eggs`, `three cloves`.
pub(super) fn pieces(n: f64, each: &str) -> String {
    counted(n, each, &plural(each), Style::Kitchen)
}

pub(super) use crate::formula::{joined, plural};

/// `one loaf, twelve portions`.
pub(super) fn makes(formula: &Formula, batch: &Batch) -> String {
    let pieces_n = formula.makes.pieces * batch.factor();
    let portions = batch.portions(formula);
    let near = |n: f64| (n - n.round()).abs() < 0.005;
    let about = |n: f64| {
        if near(n) {
            number(n.round())
        } else {
            format!("about {}", number((n * 4.0).round() / 4.0))
        }
    };
    let piece = &formula.makes.piece;
    let said = about(pieces_n);
    let portions_said = match formula.makes.portions_to {
        Some(to) => joined(&about(portions), &about(to * batch.factor())),
        None => about(portions),
    };
    let what = if said.ends_with("half") && pieces_n < 1.0 {
        format!("{said} a {piece}")
    } else if said.ends_with("one") || pieces_n < 1.0 {
        format!("{said} {piece}")
    } else {
        format!("{said} {}", plural(piece))
    };
    if (portions - pieces_n).abs() < 0.005 && formula.makes.portions_to.is_none() {
        what
    } else {
        format!("{what}, {portions_said} portions")
    }
}

/// A length of time in full: `forty five minutes`, `one hour and fifteen minutes`.
pub(super) fn span(span: Span) -> String {
    crate::measure::spoken_time::say_duration(span)
}

/// A length of time, or from so long to so long: `thirty to forty minutes`.
pub(super) fn window(least: Span, most: Option<Span>) -> String {
    most.map_or(span(least), |most| joined(&span(least), &span(most)))
}

/// What is left on a timer: seconds only where they matter.
pub(super) fn left(ms: i64) -> String {
    let s = u64::try_from(ms.max(0)).unwrap_or(0).div_ceil(1000);
    let s = match s {
        0..=90 => s,
        91..=599 => s.div_ceil(15) * 15,
        _ => s.div_ceil(60) * 60,
    };
    span(Span::seconds(s.max(1)))
}

/// A length of time that nobody needs to the second: `fifty seconds`, `four minutes`.
pub(super) fn about(time: Span) -> String {
    let s = time.as_seconds();
    if s < 60 {
        span(Span::seconds(s.max(1)))
    } else {
        span(Span::minutes((s + 30) / 60))
    }
}

/// `just now`, `nine minutes ago`.
pub(super) fn ago(time: Span) -> String {
    if time.as_seconds() < 60 {
        "just now".to_owned()
    } else {
        format!("{} ago", about(time))
    }
}

/// A clock time from minutes after midnight, without the half of the day: it is always the next such time.
pub(super) fn clock(minutes: u32) -> String {
    let hour = (minutes / 60 % 12) as u8;
    crate::measure::spoken_time::say_clock(crate::time::ClockTime {
        hour: if hour == 0 { 12 } else { hour },
        minute: (minutes % 60) as u8,
        half: crate::time::HalfDay::Unsaid,
    })
}

/// Names that end in s and are one thing.
const ONE: [&str; 10] = [
    "asparagus",
    "bass",
    "couscous",
    "gas",
    "hummus",
    "lemongrass",
    "molasses",
    "swiss",
    "watercress",
    "houmous",
];

/// A name that takes `are`: `carrots`, `red lentils`, `cloves of garlic`, `tomatoes in juice`.
pub(super) fn is_many(name: &str) -> bool {
    let head = [" of ", " in ", " with ", " for ", ", "]
        .iter()
        .filter_map(|cut| name.find(cut))
        .min()
        .map_or(name, |at| &name[..at]);
    let word = head.rsplit(' ').next().unwrap_or_default().to_lowercase();
    word.ends_with('s')
        && !word.ends_with("ss")
        && !word.ends_with("us")
        && !ONE.contains(&word.as_str())
}

/// `is` or `are`, as a name asks for.
pub(super) fn is(name: &str) -> &'static str {
    if is_many(name) { "are" } else { "is" }
}

/// `was` or `were`.
pub(super) fn was(name: &str) -> &'static str {
    if is_many(name) { "were" } else { "was" }
}

/// `Is it` or `Are they`.
pub(super) fn is_it(name: &str) -> &'static str {
    if is_many(name) { "Are they" } else { "Is it" }
}

/// `There is no milk in this formula.`, `There are no lentils in this formula.`
pub(super) fn none_in(name: &str) -> String {
    format!("There {} no {name} in this formula.", is(name))
}

/// What is not empty, with spaces between.
pub(super) fn joined_by_spaces(parts: &[&str]) -> String {
    let some: Vec<&str> = parts
        .iter()
        .copied()
        .filter(|part| !part.is_empty())
        .collect();
    some.join(" ")
}

/// The first three, and how many more: `salt, yeast, water and five more`.
pub(super) fn few(items: &[String]) -> String {
    const NAMED: usize = 3;
    match items.len().saturating_sub(NAMED) {
        0 => list(items),
        // One more is as short as its name.
        1 => list(items),
        more => format!("{} and {} more", items[..NAMED].join(", "), count(more)),
    }
}

/// `salt`, `salt and yeast`, `salt, yeast and water`.
pub fn list(items: &[String]) -> String {
    join(items, "and")
}

/// A step's cautions: the author's own, then those that the program adds, marked as such; nothing where it has none.
pub(super) fn cautions(step: &Step, region: Region) -> Option<String> {
    let own = &step.cautions;
    let added: Vec<String> = step.dangers.iter().map(|d| d.spoken(region)).collect();
    if own.is_empty() && added.is_empty() {
        return None;
    }
    let mut said = own.join(" ");
    if !added.is_empty() {
        let mark = if own.is_empty() {
            "I add: "
        } else {
            " I add: "
        };
        said.push_str(mark);
        said.push_str(&added.join(" "));
    }
    Some(format!("Careful. {said}"))
}

/// `the oven or the soup`.
pub(super) fn or_list(items: &[String]) -> String {
    join(items, "or")
}

fn join(items: &[String], word: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} {word} {last}", most.join(", ")),
    }
}

/// A name letter by letter: `salt: S, A, L, T.`
pub(super) fn spelled(name: &str) -> String {
    let letters: Vec<String> = name
        .chars()
        .map(|c| match c {
            ' ' => "space".to_owned(),
            c => c.to_uppercase().to_string(),
        })
        .collect();
    format!("{}: {}.", capital(name), letters.join(", "))
}

/// Every number from ten up in a text, digit by digit: `Fifteen: one, five.`
pub(super) fn digits_in(text: &str) -> Vec<String> {
    const LONGEST: usize = 9;
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let mut out = Vec::new();
    let mut from = 0;
    while from < words.len() {
        let run = (from + 1..=words.len().min(from + LONGEST))
            .rev()
            .find_map(|to| {
                let run = words[from..to].join(" ");
                Some((to, crate::understand::numbers::parse_words(&run)?, run))
            });
        let Some((to, n, run)) = run else {
            from += 1;
            continue;
        };
        if n >= 10.0 {
            let digits: Vec<String> = crate::measure::print::number(n, 2)
                .chars()
                .map(|c| {
                    c.to_digit(10)
                        .map_or("point".to_owned(), |d| count(d as usize))
                })
                .collect();
            out.push(format!("{}: {}.", capital(&run), digits.join(", ")));
        }
        from = to;
    }
    out
}

/// The first letter small, where a sentence goes on.
pub(super) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| {
        c.to_lowercase().collect::<String>() + chars.as_str()
    })
}

/// What a cue says, inside a sentence.
pub(super) fn clause(say: &str) -> String {
    lower_first(say.trim_end_matches('.'))
}

/// A timer's name inside a sentence: `the oven`, and `timer one`, `bake two`.
pub(super) fn the(name: &str) -> String {
    let last = name.rsplit(' ').next().unwrap_or_default();
    let numbered = name.contains(' ') && (2..=20).any(|n| last == count(n));
    if name.starts_with("timer ") || numbered {
        name.to_owned()
    } else {
        format!("the {}", timer(name))
    }
}

/// What a timer is called. One that is called by what is switched on and off is no switch: `oven timer`.
pub(super) fn timer(name: &str) -> String {
    const SWITCHED: [&str; 9] = [
        "oven", "hob", "grill", "fridge", "freezer", "mixer", "fan", "kettle", "fryer",
    ];
    if SWITCHED.contains(&name) {
        format!("{name} timer")
    } else {
        name.to_owned()
    }
}

/// A clause as a sentence: large first letter, full stop.
pub(super) fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '?', '!']) || text.is_empty() {
        text
    } else {
        format!("{text}.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_and_sentences() {
        let s = |v: &[&str]| v.iter().map(|x| (*x).to_owned()).collect::<Vec<_>>();
        assert_eq!(list(&s(&["salt"])), "salt");
        assert_eq!(
            list(&s(&["salt", "yeast", "water"])),
            "salt, yeast and water"
        );
        assert_eq!(
            or_list(&s(&["the oven", "the soup"])),
            "the oven or the soup"
        );
        assert_eq!(sentence("no tin"), "No tin.");
        assert_eq!(plural("loaf"), "loaves");
    }

    #[test]
    fn spelled_for_an_ear_that_is_not_sure() {
        assert_eq!(
            spelled("rye flour"),
            "Rye flour: R, Y, E, space, F, L, O, U, R."
        );
        assert_eq!(
            digits_in(
                "salt: fifteen grams, one loaf, until ten and a half and two hundred and fifty."
            ),
            [
                "Fifteen: one, five.",
                "Ten and a half: one, zero, point, five.",
                "Two hundred and fifty: two, five, zero."
            ]
        );
    }

    #[test]
    fn what_is_left_is_not_said_to_the_second_when_it_is_long() {
        assert_eq!(left(45_000), "forty five seconds");
        assert_eq!(left(1), "one second");
        assert_eq!(left(2_699_500), "forty five minutes");
        assert_eq!(left(122_000), "two minutes and fifteen seconds");
        assert_eq!(about(Span::seconds(252)), "four minutes");
    }
}
