//! The frames in order: each asks for exactly the pieces that its question needs.

use super::fact::{Fact, What, is_flour};
use super::heard::Heard;
use super::{dough, heats, kitchen, ovens, rates, relations, size, topics, troughs};
use crate::ask::{self, Context, Question};
use crate::measure::{Kind, Region, Unit, ingredients};

type Frame = fn(&Heard) -> Option<Question>;

/// Frames that ask for their numbers and their telling words only, whatever else is said: every number must have its place.
const WIDE: &[Frame] = &[
    relations::stated,
    relations::equal_weights,
    relations::chain,
    relations::out_of,
    relations::pieces_of_flour,
    relations::time_by_weight,
    relations::starter_changed,
    relations::still_to_add,
    relations::water_after,
    ovens::stage,
    ovens::oven_word,
    ovens::frying,
    ovens::hold,
    ovens::core,
    troughs::water_temperature,
    troughs::ice,
    troughs::rise,
    rates::tins,
    ovens::convert,
    rates::gelatine,
    rates::self_raising,
    rates::eggs,
    troughs::feed,
    troughs::water_left,
    troughs::preferment,
    troughs::baked,
    troughs::pieces,
    troughs::shares,
    rates::swap,
    rates::of_each,
    rates::portion,
    rates::parts,
    rates::rule_of_three,
    rates::scaled,
    relations::more_water,
    rates::convert,
];

/// Frames that take no word which they do not know.
const FRAMES: &[Frame] = &[
    heats::convert,
    size::tins,
    dough::rise,
    dough::all_together,
    dough::percent_of,
    dough::hydration_of,
    dough::final_dough,
    dough::baked,
    dough::pieces,
    dough::more_water,
    kitchen::gelatine,
    kitchen::swap,
    kitchen::times,
];

/// The question of the first frame that has a place for everything.
pub(super) fn read(heard: &Heard) -> Option<Question> {
    if heard.items.is_empty()
        || topics::is_another(heard)
        || heard.has("~denied")
        || by_degrees(heard)
    {
        return None;
    }
    framed(heard).filter(|question| all_bear(heard, question) && answers(heard, question))
}

/// The question of the first frame that takes these pieces.
fn framed(heard: &Heard) -> Option<Question> {
    let first = |frames: &[Frame]| frames.iter().find_map(|frame| frame(heard));
    let wide = (!heard.absurd).then(|| first(WIDE)).flatten();
    wide.or_else(|| (!heard.turned).then(|| first(FRAMES)).flatten())
}

/// Does every number bear on the question? With another number in the place of any one of them the same question must not
/// come out: what changes nothing was not reckoned with.
fn all_bear(heard: &Heard, question: &Question) -> bool {
    let idle = |fact: &Fact| fact.what == What::Bare && fact.n == 1.0;
    heard.facts.iter().filter(|f| !idle(f)).all(|fact| {
        let mut items = heard.items.clone();
        items[fact.at] = items[fact.at].with_number(fact.n * 1.0625);
        framed(&heard.with_items(items)).as_ref() != Some(question)
    })
}

/// 'Five degrees colder than the recipe': a difference, and no heat.
fn by_degrees(heard: &Heard) -> bool {
    ["colder", "warmer", "cooler", "hotter", "lower", "higher"]
        .iter()
        .any(|word| {
            ["degrees", "degree", "c", "f", "#"]
                .iter()
                .any(|before| heard.says(&format!("{before} {word}")))
                || heard.says(&format!("{word} by #"))
        })
}

/// The ingredients that are asked for by their place.
fn asked_things(heard: &Heard) -> Vec<&'static str> {
    let asked = heard.wants().into_iter().chain(heard.asked_each());
    asked.filter(|w| ingredients().find(w).is_some()).collect()
}

/// Does the answer tell what was asked for: as many things, and in the kind of measure that was named? A number that is of
/// something else would mislead.
fn answers(heard: &Heard, question: &Question) -> bool {
    let Ok(answer) = ask::answer(question, &Context::default()) else {
        // Why there is no answer is told by whoever answers.
        return true;
    };
    if heard.asked_each().len() > answer.parts.len().max(1) {
        return false;
    }
    // What is asked for by its name is what is answered, and a trace of it is a sum gone wrong.
    let wants: Vec<&str> = asked_things(heard);
    let named = match question {
        Question::RuleOfThree {
            what: Some(what), ..
        } => Some(what.as_ref()),
        Question::FlourFor { .. } | Question::FlourInDough { .. } => Some("plain flour"),
        _ => None,
    };
    let alike = |a: &str, b: &str| a == b || is_flour(a) && is_flour(b);
    if let (Some(named), [first, ..]) = (named, &wants[..])
        && ingredients().find(named).is_some()
        && !wants.iter().any(|w| alike(w, named))
        && !first.contains(named)
        && !named.contains(first)
    {
        return false;
    }
    let whole = |f: &Fact| f.n >= 1.0;
    let reckoned = matches!(
        question,
        Question::RuleOfThree { .. } | Question::Together { .. }
    );
    if reckoned && answer.value < 0.05 && heard.facts.iter().all(whole) {
        return false;
    }
    let kind = |unit: &str| Unit::find(unit, Region::Metric).ok().map(Unit::kind);
    let measured = |k: &Kind| matches!(k, Kind::Mass | Kind::Volume);
    let wanted = heard.unit().and_then(|unit| kind(&unit)).filter(measured);
    let told = kind(&answer.unit).filter(measured);
    let parts = answer.parts.iter().any(|part| kind(&part.unit) == wanted);
    if wanted.is_some() && told != wanted && !parts {
        return false;
    }
    let heats = ["c", "f", "gas", "fan"];
    match heard.scales()[..] {
        [scale @ ("c" | "f" | "gas")] if heats.contains(&answer.unit.as_str()) => {
            scale == answer.unit || scale == "c" && answer.unit == "fan"
        }
        _ => true,
    }
}
