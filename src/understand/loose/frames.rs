//! The frames in order: each asks for exactly the pieces that its question needs.

use super::fact::{Fact, What, is_flour};
use super::heard::Heard;
use super::item::Item;
use super::operations::Operation::{self, Clock, Fold, Left, Lost, More, Rate, Strength};
use super::operations::operations;
use super::{dough, heats, kitchen, ovens, rates, relations, size, topics, troughs, yields};
use crate::ask::{self, Context, Question};
use crate::measure::{Kind, Region, Unit, ingredients};

type Frame = fn(&Heard) -> Option<Question>;

/// A frame and which words that make another sum of a question it reckons with.
type Row = (Frame, &'static [Operation]);

/// Where a table answers and nothing is reckoned.
const EVERY: &[Operation] = &[Clock, Fold, Left, Lost, More, Rate, Strength];

/// Frames that ask for their numbers and their telling words only, whatever else is said: every number must have its place.
/// Beside each what it reckons with.
const WIDE: &[Row] = &[
    (yields::two_rates, &[Rate]),
    (relations::stated, &[Rate]),
    (yields::bought, &[Lost, Left]),
    (yields::brine, &[Strength]),
    (yields::strength, &[Strength, More]),
    (yields::added_up, &[More, Strength]),
    (yields::share_of_parts, &[Strength]),
    (yields::in_a_grid, &[]),
    (yields::guests_and_some, &[More]),
    (yields::with_levain, &[]),
    (yields::mended, &[More]),
    (yields::flour_of_pieces, &[]),
    (yields::water_for_the_rest, &[Left]),
    (relations::equal_weights, &[]),
    (relations::chain, &[]),
    (relations::out_of, &[]),
    (relations::pieces_of_flour, &[]),
    (relations::time_by_weight, &[More]),
    (relations::starter_changed, &[More]),
    (relations::still_to_add, &[Left, More]),
    (relations::water_after, &[Left, More]),
    (ovens::stage, EVERY),
    (ovens::oven_word, EVERY),
    (ovens::frying, EVERY),
    (ovens::hold, EVERY),
    (ovens::core, EVERY),
    (troughs::water_temperature, &[Left]),
    (troughs::ice, &[Left]),
    (troughs::rise, &[Fold, More]),
    (rates::tins, &[More]),
    (ovens::convert, &[]),
    (rates::gelatine, &[]),
    (rates::self_raising, &[]),
    (rates::eggs, &[]),
    (troughs::feed, &[Left, More]),
    (troughs::water_left, &[Left, More]),
    (troughs::preferment, &[]),
    (troughs::baked, &[Lost, Left, More]),
    (troughs::pieces, &[]),
    (troughs::shares, &[]),
    (rates::swap, &[]),
    (rates::of_each, &[]),
    (rates::portion, &[Clock]),
    (rates::parts, &[]),
    (rates::rule_of_three, &[Clock]),
    (rates::scaled, &[Fold]),
    (relations::more_water, &[More]),
    (rates::convert, &[]),
];

/// Frames that take no word which they do not know.
const FRAMES: &[Row] = &[
    (heats::convert, &[]),
    (size::tins, &[More]),
    (dough::rise, &[Fold]),
    (dough::all_together, &[More]),
    (dough::percent_of, &[]),
    (dough::hydration_of, &[]),
    (dough::final_dough, &[Left]),
    (dough::baked, &[Lost]),
    (dough::pieces, &[]),
    (dough::more_water, &[More]),
    (kitchen::gelatine, &[]),
    (kitchen::swap, &[]),
    (kitchen::times, &[Fold]),
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
    let asked = operations(heard);
    let first = |rows: &[Row]| {
        rows.iter()
            .filter(|(_, takes)| asked.iter().all(|o| takes.contains(o)))
            .find_map(|(frame, _)| frame(heard))
    };
    let wide = (!heard.absurd).then(|| first(WIDE)).flatten();
    wide.or_else(|| (!heard.turned).then(|| first(FRAMES)).flatten())
}

/// Does every number bear on the question? With another number in the place of any one of them the same question must not
/// come out: what changes nothing was not reckoned with.
fn all_bear(heard: &Heard, question: &Question) -> bool {
    // 'Sugar 12 %, butter 20 % of 750 grams: how much butter' asks for one, and names the other.
    let asked = asked_things(heard);
    let of_another = |fact: &Fact| {
        let another = |of: &'static str| !is_flour(of) && !asked.contains(&of);
        fact.what == What::Percent && !asked.is_empty() && fact.stuff.is_some_and(another)
    };
    let idle = |fact: &Fact| fact.what == What::Bare && fact.n == 1.0 || of_another(fact);
    heard.facts.iter().filter(|f| !idle(f)).all(|fact| {
        let mut items = heard.items.clone();
        let other = if fact.n == 0.0 { 1.0 } else { fact.n * 1.0625 };
        items[fact.at] = items[fact.at].with_number(other);
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

/// 'How many plates': no weight answers that.
fn counts_asked(heard: &Heard) -> bool {
    let counted = [
        "piece", "people", "~plate", "egg", "yolk", "white", "leaf", "tin",
    ];
    let counts = |at: usize| {
        let next = heard.items[at + 1..]
            .iter()
            .find(|i| !matches!(i, Item::Tag("~fill" | "~more") | Item::Named("size", _)));
        matches!(next, Some(Item::Tag(tag)) if counted.contains(tag))
    };
    let asks =
        (0..heard.items.len()).any(|at| heard.items[at] == Item::Tag("~howmany") && counts(at));
    asks && heard.unit().is_none()
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
    if counts_asked(heard) && matches!(kind(&answer.unit), Some(Kind::Mass | Kind::Volume)) {
        return false;
    }
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
