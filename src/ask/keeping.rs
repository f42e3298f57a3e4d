//! Whether food is done at a heat, and whether it is still good: left out, kept, frozen, warmed up.

use super::{Answer, AskError, Context, KeptHow};
use crate::measure::words::{Style, capital, cardinal, number};
use crate::measure::{Region, print};
use crate::safety::{self, DEFERS, SafetyError};

/// What may stand out, as far as nothing with milk, egg or meat is in it. Common practice, no source.
const STANDS_OUT: &[&str] = &[
    "bread",
    "loaf",
    "rolls",
    "roll",
    "buns",
    "bun",
    "shortbread",
    "biscuits",
    "biscuit",
    "cookies",
    "jam",
    "marmalade",
    "honey",
    "crackers",
    "sourdough",
    "baguette",
    "cake",
    "sponge",
];

fn told(value: f64, unit: &str, words: String, source: &str) -> Answer {
    Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: unit.to_owned(),
        words,
        sum: "as printed".to_owned(),
        source: source.to_owned(),
    }
}

fn degrees(c: f64) -> String {
    format!("{} degrees", number(c, Style::Scale))
}

/// 'is chicken done at 68 degrees': no, or yes and what else it needs.
pub(super) fn safe_at(food: &str, core_c: f64, region: Region) -> Result<Answer, AskError> {
    if let Some(done) = safety::done_temperature(food) {
        let wanted = done.words();
        let words = if core_c < done.low_celsius {
            format!("No, not yet: {wanted}")
        } else {
            format!("Yes: {wanted}")
        };
        return Ok(told(done.low_celsius, "c", words, &done.source));
    }
    let row = safety::safe_temperature(food, region)?;
    let name = &row.name;
    let note = row
        .note
        .as_ref()
        .map_or_else(String::new, |note| format!("; {note}"));
    // 165 Fahrenheit is printed beside 74 Celsius, and is a little less.
    let words = if core_c < row.celsius - 0.2 {
        format!(
            "No: {} for {name}, and it is at {}. {DEFERS}",
            row.heat_words(),
            number(core_c.floor(), Style::Scale)
        )
    } else if row.seconds.is_some() || row.rest_minutes.is_some() {
        format!("Yes, once it has had {}. {DEFERS}", row.heat_words())
    } else {
        format!(
            "Yes, if that is in the thickest part, away from the bone: {name} is done at {}{note}. {DEFERS}",
            degrees(row.celsius)
        )
    };
    Ok(Answer {
        sum: format!(
            "{} C against {} C",
            print::number(core_c, 1),
            print::number(row.celsius, 0)
        ),
        ..told(row.celsius, "c", words, &row.source)
    })
}

/// 'the pie was left out overnight'.
pub(super) fn left_out(
    food: Option<&str>,
    minutes: Option<f64>,
    region: Region,
) -> Result<Answer, AskError> {
    let limit = safety::limit("left out", region).ok_or_else(|| SafetyError::UnknownFood {
        food: food.unwrap_or("food").to_owned(),
    })?;
    let most = limit.hours.unwrap_or(2.0) * 60.0;
    let hot = limit.hot_hours.unwrap_or(1.0) * 60.0;
    let last = food
        .and_then(|f| f.split(' ').next_back())
        .unwrap_or_default();
    if STANDS_OUT.contains(&last) {
        let words = format!(
            "{} may stand out, as long as there is no cream, custard, cheese, meat or fish in it. {DEFERS}",
            capital(food.unwrap_or_default())
        );
        return Ok(told(most / 60.0, "h", words, "common practice, no source"));
    }
    if last == "dough" {
        let words = "The formula has to say so. A plain dough may rise overnight where it is cool; one with milk, butter or \
            eggs goes into the fridge."
            .to_owned();
        return Ok(told(most / 60.0, "h", words, "common practice, no source"));
    }
    let rule = "two hours is the most that food may stand out, and one hour where it is above thirty two degrees";
    let words = match minutes {
        Some(m) if m <= hot => format!("Yes, and it goes into the fridge now: {rule}. {DEFERS}"),
        Some(m) if m <= most => {
            format!(
                "Yes, if it was never above thirty two degrees there; it goes into the fridge now: {rule}. {DEFERS}"
            )
        }
        _ => {
            let heat = "Heating it again does not make it safe.";
            format!("No: throw it away. {}. {heat} {DEFERS}", capital(rule))
        }
    };
    Ok(told(most / 60.0, "h", words, &limit.source))
}

/// A note of the author's in words that can be spoken: `2 days` and `4-5 days`.
fn spoken(note: &str) -> String {
    let number = |word: &str| word.parse().ok().map(cardinal);
    let said = note.split(' ').map(|word| {
        let bare = word.trim_end_matches([',', ';', '.']);
        let tail = &word[bare.len()..];
        let ends = bare.split_once(['-', '\u{2013}']);
        match ends.map(|(from, to)| (number(from), number(to))) {
            Some((Some(from), Some(to))) => format!("{from} to {to}{tail}"),
            _ => number(bare).map_or_else(|| word.to_owned(), |n| n + tail),
        }
    });
    capital(&said.collect::<Vec<_>>().join(" "))
}

/// 'how long does it keep', 'can I freeze it', 'can I warm it up tomorrow', 'can I make it in the morning'.
pub(super) fn keeps(
    food: Option<&str>,
    how: KeptHow,
    context: &Context,
) -> Result<Answer, AskError> {
    let dish = context.dish.as_ref().filter(|dish| dish.is(food));
    let note = dish.and_then(|dish| dish.keeps.as_deref());
    let has = |words: &[&str]| {
        note.is_some_and(|note| words.iter().any(|w| note.to_lowercase().contains(w)))
    };
    let author = |words: String| Ok(told(1.0, "note", words, "the formula"));
    let said = note.map(spoken).unwrap_or_default();
    match how {
        KeptHow::Keep if note.is_some() => return author(format!("{said}.")),
        KeptHow::Freeze if has(&["not freeze", "n't freeze"]) => {
            return author(format!("No: {}.", lower(&said)));
        }
        KeptHow::Freeze if has(&["freez", "frozen"]) => {
            return author(format!("Yes: {}.", lower(&said)));
        }
        KeptHow::Reheat if has(&["warm", "heat"]) => {
            return author(format!("Yes: {}.", lower(&said)));
        }
        KeptHow::Ahead if note.is_some() => {
            return author(format!(
                "The formula says only how it keeps when it is made: {}.",
                lower(&said)
            ));
        }
        _ => {}
    }
    let silent = if dish.is_some() {
        "The formula does not say. "
    } else {
        ""
    };
    let about = food
        .map(str::to_owned)
        .or_else(|| dish.map(|dish| dish.name.to_lowercase()));
    if how == KeptHow::Reheat {
        let leftovers = safety::safe_temperature("leftovers", context.region)?;
        let words = format!(
            "{silent}Once, and until it has had {}; what has stood out for two hours is thrown away. {DEFERS}",
            leftovers.heat_words()
        );
        return Ok(told(leftovers.celsius, "c", words, &leftovers.source));
    }
    let row = about
        .as_deref()
        .and_then(|about| safety::kept(about, context.region));
    let Some(row) = row.filter(|_| how != KeptHow::Ahead) else {
        let what = food.unwrap_or("it");
        let words = if silent.is_empty() {
            format!("I do not know how long {what} keeps. When in doubt, throw it out.")
        } else {
            format!("{silent}When in doubt, throw it out.")
        };
        return Ok(told(0.0, "d", words, "none"));
    };
    let words = match (how, &row.freezer) {
        (KeptHow::Freeze, Some(freezer)) => format!(
            "{} keeps {freezer} frozen; cool it first. {DEFERS}",
            capital(&row.name)
        ),
        (KeptHow::Freeze, None) => format!("I know of no time for {} in the freezer.", row.name),
        _ => format!(
            "{} keeps {} in the fridge. {DEFERS}",
            capital(&row.name),
            row.fridge
        ),
    };
    let printed = match how {
        KeptHow::Freeze => row.freezer.as_deref(),
        _ => Some(row.fridge.as_str()),
    };
    let (least, most) = printed.and_then(days).unwrap_or((0.0, 0.0));
    Ok(Answer {
        high: (most > least).then_some(most),
        ..told(least, "d", format!("{silent}{words}"), &row.source)
    })
}

/// The days of 'one to two days', 'three to five weeks'.
fn days(printed: &str) -> Option<(f64, f64)> {
    let mut numbers = Vec::new();
    for word in printed.split(' ') {
        let unit = match word.trim_end_matches('s') {
            "day" => 1.0,
            "week" => 7.0,
            "month" => 30.0,
            _ => {
                numbers.extend((1..=12_u32).find(|n| cardinal(u64::from(*n)) == word));
                continue;
            }
        };
        let of = |n: &u32| f64::from(*n) * unit;
        return Some((numbers.first().map(of)?, numbers.last().map(of)?));
    }
    None
}

fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| {
        c.to_lowercase().collect::<String>() + chars.as_str()
    })
}

/// 'can I use frozen cod', 'the chicken is still frozen'.
pub(super) fn from_frozen(food: Option<&str>, region: Region) -> Result<Answer, AskError> {
    let core = safety::safe_temperature(food.unwrap_or("meat"), region);
    let source = "USDA Food Safety and Inspection Service: thawed in the fridge; from frozen, half as long again (m)";
    let words = match core {
        Ok(core) => format!(
            "Yes, thawed first: in the fridge, on a plate that catches the drips, and dried. From frozen it takes half as long \
             again, and it still needs {}. {DEFERS}",
            core.heat_words()
        ),
        Err(_) => format!(
            "Yes: {} can go in frozen; it brings some water with it, and takes a little longer.",
            food.unwrap_or("it")
        ),
    };
    Ok(told(1.0, "note", words, source))
}
