//! Heat: ovens, boiled sugar, oil, and the middle of food.

use super::food::{core_of, fried_foods, knows, safe, same_food};
use super::heard::Heard;
use super::into::on_scale;
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

/// The scale that is named, if any; nothing where there are two.
#[expect(
    clippy::option_option,
    reason = "two scales and no scale are two things"
)]
fn one_scale(h: &Heard) -> Option<Option<&'static str>> {
    match h.scales()[..] {
        [] => Some(None),
        [one] => Some(Some(one)),
        _ => None,
    }
}

pub(super) fn stage(h: &Heard) -> Option<Question> {
    if other_numbers(h) || !h.only(&["stage", "core", "set", "ready"]) || !h.quantities.is_empty() {
        return None;
    }
    if let Some(stage) = h.named("stage") {
        let plain = h.stuffs().iter().all(|s| s.contains("sugar"));
        let scale = one_scale(h)?;
        return (plain && heats(h).is_empty()).then(|| {
            on_scale(
                scale,
                Question::SugarStage {
                    stage: stage.into(),
                },
            )
        });
    }
    match heats(h)[..] {
        [(n, scale)] if h.has("stage") && scale != Some("gas") && scale != Some("fan") => {
            Some(Question::StageAt {
                sugar_c: celsius(n, scale),
            })
        }
        _ => None,
    }
}

/// Celsius of a heat that was said.
pub(super) fn celsius(n: f64, scale: Option<&str>) -> f64 {
    if scale == Some("f") {
        (n - 32.0) / 1.8
    } else {
        n
    }
}

pub(super) fn frying(h: &Heard) -> Option<Question> {
    let numbers = h.items.iter().any(Item::is_number);
    let scale = one_scale(h)?;
    let hot = h.has("~temp") || h.said("hot") || scale.is_some();
    let of_oil = h.has("~oil") && hot;
    let allowed = ["fry", "firstfry", "piece", "core", "~food", "white", "egg"];
    let asked = h.any(&["fry", "firstfry"]) || of_oil;
    if !asked || numbers || !h.only(&allowed) || h.has("core") && !of_oil {
        return None;
    }
    if h.has("firstfry") {
        let potato = ["chip", "chips", "fries", "potato", "potatoes"];
        let chips = h.words.iter().any(|w| potato.contains(&w.as_str()));
        let food = Some("the first fry of chips".into());
        return chips.then(|| on_scale(scale, Question::Frying { food }));
    }
    let known = |w: &str| {
        fried_foods()
            .find(|(name, _)| same_food(name, w))
            .map(|(_, row)| row)
    };
    let mut foods: Vec<&str> = Vec::new();
    for (at, word) in h.words.iter().enumerate() {
        let pair = h.words.get(at + 1).map(|next| format!("{word} {next}"));
        let found = pair.as_deref().and_then(known).or_else(|| known(word));
        // 'Frying' is also a name of most things.
        if let Some(row) = found
            && !word.starts_with("fry")
            && !foods.contains(&row)
        {
            foods.push(row);
        }
    }
    let oils = |s: &&str| s.contains("oil") || s.contains("fat") || *s == "lard";
    let beside_fry = |at: usize| {
        let before = at.checked_sub(1).map(|i| &h.items[i]);
        matches!(before, Some(Item::Tag("~for" | "fry")))
            || matches!(h.items.get(at + 1), Some(Item::Tag("fry")))
    };
    let of_another = (0..h.items.len()).any(|at| h.items[at] == Item::Unknown && beside_fry(at));
    let named = h.stuffs().iter().filter(|s| !oils(s)).count()
        + usize::from(h.any(&["piece", "~food", "egg"]) || of_another);
    // A food that the table does not know is not answered with another's oil.
    let food = match foods[..] {
        [] if named == 0 && h.has("fry") => None,
        [one] => Some(one.into()),
        _ => return None,
    };
    Some(on_scale(scale, Question::Frying { food }))
}

pub(super) fn oven_word(h: &Heard) -> Option<Question> {
    let word = h.named("oven")?;
    let numbers = h.items.iter().any(Item::is_number);
    let scale = one_scale(h)?;
    (!numbers && h.only(&["oven", "equal"]) && h.stuffs().is_empty())
        .then(|| on_scale(scale, Question::OvenWord { word: word.into() }))
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

pub(super) fn core(h: &Heard) -> Option<Question> {
    let numbers = h.items.iter().any(Item::is_number);
    let units = h
        .items
        .iter()
        .any(|i| matches!(i, Item::Unit(_) | Item::LengthUnit(_)));
    let asked = (h.any(&["core", "reheat"]) || h.has("~inside") && h.has("~temp"))
        && (h.has("~temp") || h.any(&["core"]) || !h.scales().is_empty());
    let allowed = [
        "core", "reheat", "~food", "piece", "left", "baked", "starter", "egg", "oven", "fry",
        "dough", "ready", "ring", "shell", "white", "rest", "long", "tin",
    ];
    if numbers || units || !asked || !h.only(&allowed) {
        return None;
    }
    // 'Is this chicken safe to eat' asks for a promise that no table can give.
    if !h.has("~temp")
        && h.scales().is_empty()
        && !h.said("internal")
        && !h.said("probe")
        && !h.said("core")
    {
        return None;
    }
    let scale = one_scale(h)?;
    if h.has("reheat") {
        return Some(on_scale(scale, safe("leftovers")));
    }
    let mut found: Option<String> = None;
    let mut end = 0;
    for at in 0..h.words.len() {
        if at < end {
            continue;
        }
        let longest = (1..=4)
            .rev()
            .filter_map(|len| Some((at + len, h.words.get(at..at + len)?.join(" "))))
            .find(|(_, name)| knows(name));
        if let Some((past, name)) = longest {
            end = past;
            // Two foods: the one with the stricter heat is not ours to choose unless they are the same.
            match &found {
                Some(other) if core_of(other) != core_of(&name) => return None,
                Some(_) => {}
                None => found = Some(name),
            }
        }
    }
    Some(on_scale(scale, safe(&found?)))
}
