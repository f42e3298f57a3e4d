//! The frames in order: each asks for exactly the pieces that its question needs.

use super::heard::Heard;
use super::{dough, heats, kitchen, size};
use crate::ask::Question;
use crate::measure::{Region, Unit};

type Frame = fn(&Heard) -> Option<Question>;

const FRAMES: &[Frame] = &[
    heats::stage,
    heats::frying,
    heats::oven_word,
    heats::convert,
    heats::core,
    size::tins,
    dough::water_temperature,
    dough::ice,
    dough::rise,
    dough::feed,
    dough::in_starter,
    dough::hydration_of,
    dough::final_dough,
    dough::loss,
    dough::baked,
    dough::pieces,
    dough::more_water,
    dough::self_raising,
    dough::percent_is,
    dough::flour_for,
    dough::dough_sums,
    dough::shares,
    kitchen::gelatine,
    kitchen::eggs,
    kitchen::each_weighs,
    kitchen::swap,
    kitchen::rule_of_three,
    kitchen::convert,
    kitchen::times,
];

/// The question of the first frame that has a place for everything.
pub(super) fn read(heard: &Heard) -> Option<Question> {
    if heard.items.is_empty() {
        return None;
    }
    FRAMES.iter().find_map(|frame| frame(heard))
}

/// The question, with its answer in the unit that was asked for.
pub(super) fn wanted(heard: &Heard, question: Question, own: &str) -> Question {
    let same = |a: &str, b: &str| {
        let find = |u: &str| Unit::find(u, Region::Metric).ok();
        find(a).is_some() && find(a) == find(b)
    };
    match heard.unit() {
        Some(unit) if !same(&unit, own) => Question::Into {
            of: Box::new(question),
            unit,
        },
        _ => question,
    }
}

/// The question, with its answer on the scale that was asked for.
pub(super) fn on_scale(scale: Option<&str>, question: Question) -> Question {
    match scale {
        Some(scale) if scale != "c" => Question::Into {
            of: Box::new(question),
            unit: scale.to_owned(),
        },
        _ => question,
    }
}
