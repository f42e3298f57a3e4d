//! The frames in order: each asks for exactly the pieces that its question needs.

use super::heard::Heard;
use super::{dough, heats, kitchen, size};
use crate::ask::Question;

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
