//! The answer in the measure that was asked for.

use super::heard::Heard;
use crate::ask::Question;
use crate::measure::{Region, Unit};
use crate::order::UnitSymbol;

/// The question, with its answer in the unit that was asked for.
pub(super) fn wanted(heard: &Heard, question: Question, own: &str) -> Question {
    let same = |a: &str, b: &str| {
        let find = |u: &str| Unit::find(u, Region::Metric).ok();
        find(a).is_some() && find(a) == find(b)
    };
    match heard
        .unit()
        .and_then(|unit| unit.parse::<UnitSymbol>().ok())
    {
        Some(unit) if !same(&unit, own) => Question::Into {
            of: Box::new(question),
            unit,
        },
        _ => question,
    }
}

/// The question, with its answer on the scale that was asked for.
pub(super) fn on_scale(scale: Option<&str>, question: Question) -> Question {
    match scale.and_then(|scale| scale.parse().ok()) {
        Some(scale) if scale != UnitSymbol::CELSIUS => Question::Into {
            of: Box::new(question),
            unit: scale,
        },
        _ => question,
    }
}
