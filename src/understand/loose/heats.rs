//! Heat: ovens, boiled sugar, oil, and the middle of food.

use super::heard::Heard;
use super::item::Item;
use crate::ask::Question;

/// Everything with a heat and nothing else that is reckoned with.
fn heats(h: &Heard) -> Vec<(f64, Option<&'static str>)> {
    let of = |item: &Item| match item {
        Item::Heat(n, scale) => Some((*n, *scale)),
        _ => None,
    };
    h.items.iter().filter_map(of).collect()
}

fn bare(h: &Heard) -> Vec<f64> {
    let of = |item: &Item| match item {
        Item::Number(n) => Some(*n),
        _ => None,
    };
    h.items.iter().filter_map(of).collect()
}

/// Numbers of any other kind.
fn other_numbers(h: &Heard) -> bool {
    h.items.iter().any(|item| {
        item.is_number() && !matches!(item, Item::Heat(..) | Item::Number(_))
            || matches!(item, Item::Unit(_) | Item::LengthUnit(_))
    })
}

/// Celsius of a heat that was said.
pub(super) fn celsius(n: f64, scale: Option<&str>) -> f64 {
    if scale == Some("f") {
        (n - 32.0) / 1.8
    } else {
        n
    }
}

pub(super) fn convert(h: &Heard) -> Option<Question> {
    let allowed = [
        "oven", "normal", "equal", "set", "baked", "swap", "core", "same", "piece",
    ];
    if other_numbers(h) || !h.only(&allowed) || h.named("oven").is_some() {
        return None;
    }
    let scales = h.scales();
    let (heats, numbers) = (heats(h), bare(h));
    let make = |number: f64, from: &str, to: &str| {
        (from != to).then_some(Question::ConvertTemperature {
            number,
            from: from.parse().ok()?,
            to: to.parse().ok()?,
        })
    };
    let normal = h.has("normal");
    match (&heats[..], &numbers[..], &scales[..]) {
        ([(n, Some(from))], [], [to]) => make(*n, from, to),
        (
            [(n, Some(from @ ("c" | "f" | "gas")))],
            [],
            ["fan", to @ ("c" | "f")] | [to @ ("c" | "f"), "fan"],
        ) => {
            let on_fan = make(*n, from, "fan")?;
            Some(Question::Into {
                of: Box::new(on_fan),
                unit: to.parse().ok()?,
            })
        }
        ([_, _, ..], [], [to]) => {
            let each: Option<Vec<Question>> = heats
                .iter()
                .map(|(n, from)| make(*n, (*from)?, to))
                .collect();
            Some(Question::Together { each: each? })
        }
        ([(n, Some("fan"))], [], []) if normal => make(*n, "fan", "c"),
        ([(n, None)], [], ["fan"]) => make(*n, "c", "fan"),
        ([(n, None)], [], [to @ ("f" | "gas")]) => make(*n, "c", to),
        ([], [n], ["fan"]) if normal => make(*n, "c", "fan"),
        ([], [n], [from, to]) if from != to => {
            // 'Fahrenheit 350 in gas': the scale that stands before the number is its own.
            let at = |item: &Item| h.items.iter().position(|i| i == item);
            let number = at(&Item::Number(*n))?;
            let first = h.items.iter().position(|i| matches!(i, Item::Scale(_)))?;
            (first < number).then(|| make(*n, from, to)).flatten()
        }
        _ => None,
    }
}
