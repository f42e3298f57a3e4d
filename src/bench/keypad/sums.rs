//! Sums beside the formula's by key: three lists, and what each sum asks for one thing at a time.

use serde::{Deserialize, Serialize};

use super::lists::{
    Ask, Item, Task, Then, maybe, number, number_or_none, pairs, pick, question, value, words,
};
use crate::ask::{EggPart, Question, Share, oven_words, sugar_stages};
use crate::measure::tin::{Shape, Size};

/// A sum that is being put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(in crate::bench) enum Sum {
    DoughMass,
    FlourFor,
    FlourInDough,
    Shares,
    MoreWater,
    HydrationOf,
    InStarter,
    Feed,
    FinalDough,
    Ice,
    RuleOfThree,
    Times,
    Tins,
    TinLike,
    TinHolds,
    Eggs,
    SelfRaising,
    SugarStage,
    StageAt,
    Frying,
    OvenWord,
    Gelatine,
    LossIs,
    Ounces,
    Two,
}

fn item(says: &str, sum: Sum) -> Item {
    Item {
        says: says.to_owned(),
        then: Then::Open(Task::Sum(sum), Vec::new()),
    }
}

/// Sums with flour, water and starter.
pub(super) fn of_the_trough() -> Ask {
    pick(
        "Flour, water and starter.",
        vec![
            item("what a dough weighs in all", Sum::DoughMass),
            item("flour for so much of something", Sum::FlourFor),
            item("flour in so much dough", Sum::FlourInDough),
            item("water and salt for so much flour", Sum::Shares),
            item("water for a wetter dough", Sum::MoreWater),
            item("hydration with a starter", Sum::HydrationOf),
            item("what is in a starter", Sum::InStarter),
            item("feeding a starter", Sum::Feed),
            item("what is left for the final dough", Sum::FinalDough),
            item("ice in grams", Sum::Ice),
        ],
    )
}

/// Sums of the kitchen.
pub(super) fn of_the_kitchen() -> Ask {
    pick(
        "Kitchen sums.",
        vec![
            item("if so much takes so much", Sum::RuleOfThree),
            item("so many times so much", Sum::Times),
            item("one tin and another", Sum::Tins),
            item("eggs by their size", Sum::Eggs),
            item("plain flour made self-raising", Sum::SelfRaising),
            item("how hot a stage of sugar is", Sum::SugarStage),
            item("what stage sugar is at", Sum::StageAt),
            item("how hot oil should be", Sum::Frying),
            item("what a hot or slow oven is", Sum::OvenWord),
            item("gelatine of another strength", Sum::Gelatine),
        ],
    )
}

/// What has no other place.
pub(super) fn others() -> Ask {
    pick(
        "Other sums.",
        vec![
            item("what was lost in baking", Sum::LossIs),
            item("water in ounces for flour in ounces", Sum::Ounces),
            item("two weights in ounces at once", Sum::Two),
            item("a round tin as large as a square one", Sum::TinLike),
            item("what a round tin holds", Sum::TinHolds),
        ],
    )
}

/// What a sum asks for, in order.
fn prompts(sum: Sum) -> &'static [&'static str] {
    match sum {
        Sum::DoughMass => &[
            "?How many grams of flour, if not this dough?",
            "?Water, in percent?",
            "?Salt, in percent?",
        ],
        Sum::FlourFor => &[
            "How many grams of it?",
            "How many percent of the flour is it?",
        ],
        Sum::FlourInDough => &[
            "How many grams of dough?",
            "Water, in percent?",
            "?Salt, in percent?",
        ],
        Sum::Shares => &[
            "?How many grams of flour, if not this dough's?",
            "Water, in percent?",
            "Salt, in percent?",
        ],
        Sum::MoreWater => &[
            "?How many grams of flour, if not this dough's?",
            "Hydration now, in percent?",
            "Hydration wanted?",
        ],
        Sum::HydrationOf => &[
            "How many grams of flour?",
            "How many grams of water?",
            "How many grams of starter?",
        ],
        Sum::InStarter => &[
            "How many grams of starter?",
            "At what hydration, in percent?",
        ],
        Sum::Feed => &[
            "How many grams of starter?",
            "Parts of flour for one of starter?",
            "Parts of water?",
        ],
        Sum::FinalDough => &[
            "Grams of flour in all?",
            "Grams of water in all?",
            "Flour that went ahead?",
            "Water that went ahead?",
        ],
        Sum::Ice => &[
            "?How many grams of water, if not this dough's?",
            "How warm is the tap, in Celsius?",
            "How cold should it be?",
        ],
        Sum::RuleOfThree => &["So many grams?", "For how many?", "And for how many now?"],
        Sum::Times => &["How many times?", "How many grams?"],
        Sum::Tins => &[
            "Centimetres across the round tin that you have the recipe for?",
            "And across the other?",
        ],
        Sum::TinLike => &["Centimetres along a side of the square one?"],
        Sum::TinHolds => &["Centimetres across?", "How deep?"],
        Sum::Eggs => &["How many?"],
        Sum::SelfRaising => &["How many grams of plain flour?"],
        Sum::StageAt => &["How many degrees Celsius?"],
        Sum::Gelatine => &["How many grams?"],
        Sum::LossIs => &["How many grams of dough?", "How many grams baked?"],
        Sum::Ounces => &["How many ounces of flour?", "At how many percent?"],
        Sum::Two => &["How many grams?", "And how many?"],
        Sum::SugarStage | Sum::Frying | Sum::OvenWord => &[],
    }
}

/// The rows of a small table, each once.
fn rows(names: impl Iterator<Item = (&'static str, &'static str)>) -> Vec<&'static str> {
    let mut rows: Vec<&str> = names.map(|(_, row)| row).collect();
    rows.dedup();
    rows
}

const STRENGTHS: &[&str] = &["bronze", "silver", "gold", "platinum", "powder"];

/// What a sum needs next.
pub(super) fn ask(sum: Sum, answers: &[&str]) -> Ask {
    if let Some(prompt) = prompts(sum).get(answers.len()) {
        return match prompt.strip_prefix('?') {
            Some(optional) => number_or_none(optional),
            None => number(prompt),
        };
    }
    let n = |at: usize| answers.get(at).map_or(0.0, |a| value(a));
    let own = |at: usize| answers.get(at).and_then(|a| maybe(a));
    let shares = |from: usize| {
        ["water", "salt"]
            .into_iter()
            .enumerate()
            .filter_map(|(at, name)| {
                Some(Share {
                    name: name.to_owned(),
                    percent: own(from + at)?,
                })
            })
            .collect()
    };
    let tin = |shape, sides: &[f64]| Size::new(shape, sides).ok();
    let no_tin = || Ask::Refuse("No tin has that size.".to_owned());
    question(match (sum, answers) {
        (Sum::DoughMass, _) => Question::DoughMass {
            flour_g: own(0),
            shares: shares(1),
        },
        (Sum::FlourFor, _) => Question::FlourFor {
            part_g: n(0),
            percent: n(1),
        },
        (Sum::FlourInDough, _) => Question::FlourInDough {
            dough_g: n(0),
            shares: shares(1),
        },
        (Sum::Shares, _) => Question::Shares {
            flour_g: own(0),
            shares: shares(1),
        },
        (Sum::MoreWater, _) => Question::MoreWater {
            flour_g: own(0),
            from: n(1),
            to: n(2),
        },
        (Sum::HydrationOf, _) => Question::HydrationOf {
            flour_g: n(0),
            water_g: n(1),
            starter_g: n(2),
            starter_percent: 100.0,
        },
        (Sum::InStarter, _) => Question::InStarter {
            starter_g: n(0),
            percent: n(1),
            water: false,
        },
        (Sum::Feed, _) => Question::Feed {
            seed_g: Some(n(0)),
            wanted_g: None,
            flour: n(1),
            water: n(2),
            first: None,
        },
        (Sum::FinalDough, _) => Question::FinalDough {
            flour_g: n(0),
            water_g: n(1),
            ahead_flour_g: n(2),
            ahead_water_g: n(3),
        },
        (Sum::Ice, _) => Question::Ice {
            water_g: own(0),
            tap_c: n(1),
            water_c: n(2),
        },
        (Sum::RuleOfThree, _) => Question::RuleOfThree {
            amount: n(0),
            unit: "g".to_owned(),
            base: n(1),
            wanted: n(2),
            what: None,
        },
        (Sum::Times, _) => Question::Times {
            factor: n(0),
            number: n(1),
            unit: "g".to_owned(),
        },
        (Sum::Tins, _) => match (tin(Shape::Round, &[n(0)]), tin(Shape::Round, &[n(1)])) {
            (Some(from), to @ Some(_)) => Question::Tins {
                from,
                to,
                shape: None,
            },
            _ => return no_tin(),
        },
        (Sum::TinLike, _) => match tin(Shape::Square, &[n(0)]) {
            Some(from) => Question::Tins {
                from,
                to: None,
                shape: Some(Shape::Round),
            },
            None => return no_tin(),
        },
        (Sum::TinHolds, _) => match tin(Shape::Round, &[n(0), n(1)]) {
            Some(from) => Question::Tins {
                from,
                to: None,
                shape: None,
            },
            None => return no_tin(),
        },
        (Sum::Eggs, [_]) => return words("Of what size?", &["small", "medium", "large"]),
        (Sum::Eggs, [_, _]) => {
            return pairs(
                "Which part?",
                &[
                    ("without the shell", "whole"),
                    ("the white", "white"),
                    ("the yolk", "yolk"),
                    ("in the shell", "shell"),
                ],
            );
        }
        (Sum::Eggs, _) => Question::Eggs {
            number: Some(n(0)),
            mass_g: None,
            part: match answers.get(2) {
                Some(&"white") => EggPart::White,
                Some(&"yolk") => EggPart::Yolk,
                Some(&"shell") => EggPart::Shell,
                _ => EggPart::Whole,
            },
            size: answers.get(1).map(|s| (*s).to_owned()),
            region: None,
        },
        (Sum::SelfRaising, _) => Question::SelfRaising {
            flour_g: n(0),
            region: None,
        },
        (Sum::SugarStage, []) => return words("Which stage?", &rows(sugar_stages())),
        (Sum::SugarStage, [stage, ..]) => Question::SugarStage {
            stage: (*stage).to_owned(),
        },
        (Sum::StageAt, _) => Question::StageAt { sugar_c: n(0) },
        (Sum::Frying, []) => {
            let foods = [
                "most things",
                "doughnuts",
                "chips",
                "chicken",
                "fish",
                "tempura",
            ];
            return words("For what?", &foods);
        }
        (Sum::Frying, [food, ..]) => Question::Frying {
            food: Some((*food).to_owned()),
        },
        (Sum::OvenWord, []) => return words("Which oven?", &rows(oven_words())),
        (Sum::OvenWord, [word, ..]) => Question::OvenWord {
            word: (*word).to_owned(),
        },
        (Sum::Gelatine, [_]) => return words("Of what strength?", STRENGTHS),
        (Sum::Gelatine, [_, _]) => return words("And what have you?", STRENGTHS),
        (Sum::Gelatine, _) => Question::Gelatine {
            number: n(0),
            unit: "g".to_owned(),
            from: answers.get(1).map_or_else(String::new, |s| (*s).to_owned()),
            to: answers.get(2).map_or_else(String::new, |s| (*s).to_owned()),
        },
        (Sum::LossIs, _) => Question::LossIs {
            dough_g: n(0),
            baked_g: n(1),
        },
        (Sum::Ounces, _) => Question::Into {
            of: Box::new(Question::WaterForFlour {
                flour_g: Some(n(0) * crate::measure::Unit::Ounce.size()),
                percent: n(1),
            }),
            unit: "oz".to_owned(),
        },
        (Sum::Two, _) => Question::Together {
            each: [n(0), n(1)]
                .into_iter()
                .map(|number| Question::Convert {
                    number,
                    from: "g".into(),
                    to: "oz".into(),
                    ingredient: None,
                })
                .collect(),
        },
    })
}
