//! The frames in order: each asks for exactly the pieces that its question needs.

use super::heard::Heard;
use super::{dough, heats, kitchen, ovens, rates, size, topics, troughs};
use crate::ask::Question;

type Frame = fn(&Heard) -> Option<Question>;

/// Frames that ask for their numbers and their telling words only, whatever else is said: every number must have its place.
const WIDE: &[Frame] = &[
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
    rates::portion,
    rates::parts,
    rates::rule_of_three,
    rates::scaled,
    rates::convert,
];

/// Frames that take no word which they do not know.
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
    dough::all_together,
    dough::feed,
    dough::percent_of,
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
    kitchen::convert,
    kitchen::times,
];

/// The question of the first frame that has a place for everything.
pub(super) fn read(heard: &Heard) -> Option<Question> {
    if heard.items.is_empty() || topics::is_another(heard) {
        return None;
    }
    let first = |frames: &[Frame]| frames.iter().find_map(|frame| frame(heard));
    let wide = (!heard.absurd).then(|| first(WIDE)).flatten();
    wide.or_else(|| (!heard.turned).then(|| first(FRAMES)).flatten())
}
