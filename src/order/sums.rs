//! Sums beside the formula's: flour and starters, ice, tins, eggs by size, sugar, oil and ovens.

use super::book::{Book, give};
use super::keys::{Answers, Keys, number, number_or_none, one_of, pairs, words};
use super::order::Order;
use super::place::Place;
use super::question::{EggPart, Question, Share};
use super::slots::Value;
use super::unit_symbol::UnitSymbol;
use crate::measure::tin::{Shape, Size};
use crate::measure::{Egg, Gelatine, NamedHeat, Unit};

pub(super) fn lay(g: &mut Book) {
    trough(g);
    trough_shares(g);
    starter(g);
    heats(g);
    kitchen(g);
}

fn water(percent: f64) -> Vec<Share> {
    vec![Share {
        name: "water".into(),
        percent,
    }]
}

fn trough(g: &mut Book) {
    g.say(
        "dough_mass",
        &[
            "(what|how much) (does|will) (all the dough|the whole dough) weigh",
            "how much dough is (it|there) in all",
            "[what is] the [whole|=total] weight of the dough",
        ],
        |_, _| {
            Some(Order::Ask(Question::DoughMass {
                flour_g: None,
                shares: Vec::new(),
            }))
        },
    );
    g.say(
        "flour_for",
        &[
            "how much flour for <w:mass> of water at <p:level_number> percent",
            "<w:mass> of (salt|water) is <p:level_number> percent how much flour",
        ],
        |c, _| {
            Some(Order::Ask(Question::FlourFor {
                part_g: c.mass("w")?.as_grams(),
                percent: c.num("p")?,
            }))
        },
    );
    g.say(
        "flour_in_dough",
        &["how much flour (in|for) <d:mass> of dough at <p:level_number> percent [hydration]"],
        |c, _| {
            Some(Order::Ask(Question::FlourInDough {
                dough_g: c.mass("d")?.as_grams(),
                shares: water(c.num("p")?),
            }))
        },
    );
    g.say(
        "ice",
        &["how much ice for <w:mass> of water from <a:heat> to <b:heat>"],
        |c, _| {
            let (a, b) = (c.celsius("a")?, c.celsius("b")?);
            Some(Order::Ask(Question::Ice {
                water_g: Some(c.mass("w")?.as_grams()),
                tap_c: a.max(b),
                water_c: a.min(b),
            }))
        },
    );
    g.say(
        "ice_here",
        &["how much ice [do i need] from <a:heat> to <b:heat>"],
        |c, _| {
            let (a, b) = (c.celsius("a")?, c.celsius("b")?);
            Some(Order::Ask(Question::Ice {
                water_g: None,
                tap_c: a.max(b),
                water_c: a.min(b),
            }))
        },
    );
}

fn trough_shares(g: &mut Book) {
    g.say(
        "shares",
        &["hydration <p:level_number> and salt <q:level_number> percent on <f:mass> of flour"],
        |c, _| {
            let mut shares = water(c.num("p")?);
            shares.push(Share {
                name: "table salt".into(),
                percent: c.num("q")?,
            });
            Some(Order::Ask(Question::Shares {
                flour_g: Some(c.mass("f")?.as_grams()),
                shares,
            }))
        },
    );
    g.say(
        "more_water",
        &["how much more water [do i need] from <a:level_number> to <b:level_number> percent [hydration] [for <f:mass> of flour]"],
        |c, _| {
            Some(Order::Ask(Question::MoreWater {
                flour_g: c.mass("f").map(crate::measure::Mass::as_grams),
                from: c.num("a")?,
                to: c.num("b")?,
            }))
        },
    );
    g.say(
        "hydration_of",
        &["what is the hydration of <f:mass> of flour <w:mass> of water and <s:mass> of (starter|levain)"],
        |c, _| {
            Some(Order::Ask(Question::HydrationOf {
                flour_g: c.mass("f")?.as_grams(),
                water_g: c.mass("w")?.as_grams(),
                starter_g: c.mass("s")?.as_grams(),
                starter_percent: 100.0,
            }))
        },
    );
    g.say(
        "in_starter",
        &["how much flour is in <s:mass> of (starter|levain) at <p:level_number> percent [hydration]"],
        |c, _| {
            Some(Order::Ask(Question::InStarter {
                starter_g: c.mass("s")?.as_grams(),
                percent: c.num("p")?,
                water: false,
            }))
        },
    );
    g.say(
        "final_dough",
        &["what is left of <f:mass> of flour and <w:mass> of water after <a:mass> of flour and <b:mass> of water"],
        |c, _| {
            Some(Order::Ask(Question::FinalDough {
                flour_g: c.mass("f")?.as_grams(),
                water_g: c.mass("w")?.as_grams(),
                ahead_flour_g: c.mass("a")?.as_grams(),
                ahead_water_g: c.mass("b")?.as_grams(),
            }))
        },
    );
    g.say(
        "loss_is",
        &["<a:mass> of dough weighs <b:mass> baked (what|how many) percent did it lose"],
        |c, _| {
            Some(Order::Ask(Question::LossIs {
                dough_g: c.mass("a")?.as_grams(),
                baked_g: c.mass("b")?.as_grams(),
            }))
        },
    );
}

fn starter(g: &mut Book) {
    g.say(
        "feed",
        &["feed <s:mass> of (starter|levain) one to <f:digit> to <w:digit>"],
        |c, _| {
            Some(Order::Ask(Question::Feed {
                seed_g: Some(c.mass("s")?.as_grams()),
                wanted_g: None,
                flour: c.num("f")?,
                water: c.num("w")?,
                first: None,
            }))
        },
    );
    g.say(
        "build",
        &["i (need|want) <s:mass> of (starter|levain) at one to <f:digit> to <w:digit>"],
        |c, _| {
            Some(Order::Ask(Question::Feed {
                seed_g: None,
                wanted_g: Some(c.mass("s")?.as_grams()),
                flour: c.num("f")?,
                water: c.num("w")?,
                first: None,
            }))
        },
    );
}

/// The names of a table, as far as they are listened for.
fn named_heats(g: &mut Book, name: &'static str, rows: &'static [NamedHeat]) {
    let each = rows.iter().flat_map(|row| {
        let heard = row.heard().iter();
        heard.map(|name| give(name, Value::Sym(&row.name)))
    });
    g.lay(name, each.collect());
}

fn heats(g: &mut Book) {
    named_heats(g, "sugar_stage", NamedHeat::sugar_stages());
    g.say(
        "sugar_stage_heat",
        &[
            "how hot is [the] <s:sugar_stage> [stage]",
            "what temperature is [the] <s:sugar_stage> [stage]",
        ],
        |c, _| {
            Some(Order::Ask(Question::SugarStage {
                stage: c.text("s")?,
            }))
        },
    );
    g.say(
        "stage_at",
        &["what stage is [the] (sugar|syrup) at <h:heat>"],
        |c, _| {
            Some(Order::Ask(Question::StageAt {
                sugar_c: c.celsius("h")?,
            }))
        },
    );
    named_heats(g, "fried", NamedHeat::fried_foods());
    g.say(
        "frying_food",
        &[
            "how hot (should|must) the [frying] oil be for [=frying] <f:fried>",
            "what temperature (should|must) the [frying] oil be for [=frying] <f:fried>",
        ],
        |c, _| Some(Order::Ask(Question::Frying { food: c.text("f") })),
    );
    g.say(
        "frying",
        &[
            "how hot (should|must) the [frying] oil be",
            "what temperature (should|must) the [frying] oil be",
        ],
        |_, _| Some(Order::Ask(Question::Frying { food: None })),
    );
    named_heats(g, "oven_word", NamedHeat::oven_words());
    g.say(
        "oven_word_heat",
        &[
            "(what|how hot) is a <w:oven_word> oven",
            "what temperature is a <w:oven_word> oven",
        ],
        |c, _| Some(Order::Ask(Question::OvenWord { word: c.text("w")? })),
    );
}

fn kitchen(g: &mut Book) {
    g.say(
        "rule_of_three",
        &[
            "if <b:mass> takes <a:mass> [of <i:the_stuff>] (what|how much) does <c:mass> take",
            "if <b:mass> needs <a:mass> [of <i:the_stuff>] (what|how much) does <c:mass> need",
        ],
        |c, _| {
            Some(Order::Ask(Question::RuleOfThree {
                amount: c.mass("a")?.as_grams(),
                unit: UnitSymbol::GRAM,
                base: c.mass("b")?.as_grams(),
                wanted: c.mass("c")?.as_grams(),
                what: c.text("i"),
            }))
        },
    );
    g.say(
        "times",
        &[
            "what is <f:small_number> times <m:mass>",
            "what is (twice|double) <m:mass>",
        ],
        |c, _| {
            Some(Order::Ask(Question::Times {
                factor: c.num("f").unwrap_or(2.0),
                number: c.mass("m")?.as_grams(),
                unit: UnitSymbol::GRAM,
            }))
        },
    );
    g.say(
        "round_tins",
        &["from a <a:length> round tin to a <b:length> [round] (one|tin)"],
        |c, _| {
            let cm = |key| {
                let (n, unit) = c.amount(key)?;
                let cm = match unit {
                    "inch" => n * crate::measure::CM_PER_INCH,
                    "mm" => n / 10.0,
                    _ => n,
                };
                // A size that no tin has is answered, not passed over.
                Some(Size {
                    shape: Shape::Round,
                    length_cm: cm,
                    width_cm: cm,
                    depth_cm: None,
                })
            };
            Some(Order::Ask(Question::Tins {
                from: cm("a")?,
                to: Some(cm("b")?),
                shape: None,
            }))
        },
    );
    let sizes = Egg::sizes().map(|size| give(size, Value::Sym(size)));
    g.lay("egg_size", sizes.collect());
    g.say(
        "sized_egg",
        &[
            "how (much|heavy) (does|is) (a|an|one) <s:egg_size> egg [weigh]",
            "how (much|heavy) (do|are) <n:count> <s:egg_size> eggs [weigh]",
            "[what is] the weight of (a|one) <s:egg_size> egg",
            "how many <s:egg_size> eggs (is|are|in|make) <m:mass>",
        ],
        |c, _| {
            let mass_g = c.mass("m").map(crate::measure::Mass::as_grams);
            Some(Order::Ask(Question::Eggs {
                number: mass_g.is_none().then(|| c.num("n").unwrap_or(1.0)),
                mass_g,
                part: EggPart::Whole,
                size: c.text("s"),
                region: None,
            }))
        },
    );
    g.lay(
        "strength",
        strengths().map(|s| give(s, Value::Sym(s))).collect(),
    );
    g.say(
        "gelatine",
        &["how much <t:strength> gelatine for <n:mass> of <f:strength>"],
        |c, _| {
            Some(Order::Ask(Question::Gelatine {
                number: c.mass("n")?.as_grams(),
                unit: UnitSymbol::GRAM,
                from: c.text("f")?,
                to: c.text("t")?,
            }))
        },
    );
    g.say(
        "water_in_ounces",
        &["how many ounces of water for <f:mass> of flour at <p:level_number> percent"],
        |c, _| {
            Some(Order::Ask(Question::Into {
                of: Box::new(Question::WaterForFlour {
                    flour_g: Some(c.mass("f")?.as_grams()),
                    percent: c.num("p")?,
                }),
                unit: UnitSymbol::OUNCE,
            }))
        },
    );
    g.say(
        "together",
        &[
            "<a:mass> of <i:the_table_stuff> and <b:mass> of <j:the_table_stuff> in <u:unit>",
            "!<a:amount> of <i:the_table_stuff> [and] <b:amount> of <j:the_table_stuff> [and <c:amount> of <k:the_table_stuff>] (in|to|into) <u:unit>",
            "!<a:amount> of <i:the_table_stuff> <b:amount> of <j:the_table_stuff> <c:amount> of <k:the_table_stuff> and <d:amount> of <l:the_table_stuff> (in|to|into) <u:unit>",
        ],
        |c, _| {
            let to = c.unit("u")?;
            let one = |(amount, name)| {
                let (number, from) = c.measured(amount)?;
                Some(Question::Convert {
                    number,
                    from,
                    to,
                    ingredient: Some(c.text(name)?),
                })
            };
            let each = [("a", "i"), ("b", "j"), ("c", "k"), ("d", "l")];
            Some(Order::Ask(Question::Together {
                each: each.into_iter().filter_map(one).collect(),
            }))
        },
    );
    g.say(
        "self_raising",
        &["how much baking powder (makes|for) <f:mass> of [plain] flour [to make it] self raising"],
        |c, _| {
            Some(Order::Ask(Question::SelfRaising {
                flour_g: c.mass("f")?.as_grams(),
                region: None,
            }))
        },
    );
}

/// A question of a sum.
fn ask(question: Question) -> Result<Order, String> {
    Ok(Order::Ask(question))
}

/// Water and salt in percent, from two answers on.
fn shares(a: &Answers, from: usize) -> Vec<Share> {
    let named = ["water", "salt"].into_iter().enumerate();
    named
        .filter_map(|(at, name)| {
            Some(Share {
                name: name.into(),
                percent: a.maybe(from + at)?,
            })
        })
        .collect()
}

/// A tin of so many sizes from the first answers.
fn tin_of(shape: Shape, sides: &[f64]) -> Result<Size, String> {
    Size::new(shape, sides).map_err(|_| "No tin has that size.".to_owned())
}

fn word(a: &Answers, at: usize) -> String {
    a.word(at).unwrap_or_default().to_owned()
}

/// The strengths of gelatine.
fn strengths() -> impl Iterator<Item = &'static str> {
    Gelatine::all().iter().map(|kind| kind.name.as_str())
}

/// The names of a table.
fn names(rows: &'static [NamedHeat]) -> impl Iterator<Item = &'static str> {
    rows.iter().map(|row| row.name.as_str())
}

/// The keys of the sums.
pub(super) fn keys(k: &mut Keys) {
    trough_keys(k);
    starter_keys(k);
    kitchen_keys(k);
    heat_keys(k);
    other_keys(k);
}

fn trough_keys(k: &mut Keys) {
    k.list(
        ". 7 8",
        "flour, water and starter",
        "Flour, water and starter.",
    );
    k.path(
        ". 7 8 1",
        "what a dough weighs in all",
        vec![
            number_or_none("How many grams of flour, if not this dough?"),
            number_or_none("Water, in percent?"),
            number_or_none("Salt, in percent?"),
        ],
        |a, _| {
            ask(Question::DoughMass {
                flour_g: a.maybe(0),
                shares: shares(a, 1),
            })
        },
    );
    k.show(
        ". 7 8 1 8 0 0 Enter 7 2 Enter 2 Enter",
        Place::Step,
        "what a dough of 800 grams of flour, 72 percent water and 2 percent salt weighs",
    );
    k.path(
        ". 7 8 2",
        "flour for so much of something",
        vec![
            number("How many grams of it?"),
            number("How many percent of the flour is it?"),
        ],
        |a, _| {
            ask(Question::FlourFor {
                part_g: a.number(0),
                percent: a.number(1),
            })
        },
    );
    k.show(
        ". 7 8 2 3 5 0 Enter 7 0 Enter",
        Place::Step,
        "the flour of which 350 grams are 70 percent",
    );
    k.path(
        ". 7 8 3",
        "flour in so much dough",
        vec![
            number("How many grams of dough?"),
            number("Water, in percent?"),
            number_or_none("Salt, in percent?"),
        ],
        |a, _| {
            ask(Question::FlourInDough {
                dough_g: a.number(0),
                shares: shares(a, 1),
            })
        },
    );
    k.show(
        ". 7 8 3 1 5 0 0 Enter 6 2 Enter 2 Enter",
        Place::Step,
        "the flour in 1500 grams of dough at 62 percent, with 2 percent salt",
    );
    k.path(
        ". 7 8 4",
        "water and salt for so much flour",
        vec![
            number_or_none("How many grams of flour, if not this dough's?"),
            number("Water, in percent?"),
            number("Salt, in percent?"),
        ],
        |a, _| {
            ask(Question::Shares {
                flour_g: a.maybe(0),
                shares: shares(a, 1),
            })
        },
    );
    k.show(
        ". 7 8 4 6 0 0 Enter 7 0 Enter 2 Enter",
        Place::Step,
        "water and salt for 600 grams of flour: 70 and 2 percent",
    );
    k.path(
        ". 7 8 5",
        "water for a wetter dough",
        vec![
            number_or_none("How many grams of flour, if not this dough's?"),
            number("Hydration now, in percent?"),
            number("Hydration wanted?"),
        ],
        |a, _| {
            ask(Question::MoreWater {
                flour_g: a.maybe(0),
                from: a.number(1),
                to: a.number(2),
            })
        },
    );
    k.show(
        ". 7 8 5 5 0 0 Enter 6 5 Enter 7 2 Enter",
        Place::Step,
        "the water from 65 to 72 percent for 500 grams of flour",
    );
}

fn starter_keys(k: &mut Keys) {
    k.path(
        ". 7 8 6",
        "hydration with a starter",
        vec![
            number("How many grams of flour?"),
            number("How many grams of water?"),
            number("How many grams of starter?"),
        ],
        |a, _| {
            ask(Question::HydrationOf {
                flour_g: a.number(0),
                water_g: a.number(1),
                starter_g: a.number(2),
                starter_percent: 100.0,
            })
        },
    );
    k.show(
        ". 7 8 6 5 0 0 Enter 3 6 0 Enter 1 0 0 Enter",
        Place::Step,
        "the hydration of 500 grams of flour, 360 of water and 100 of starter",
    );
    k.path(
        ". 7 8 7",
        "what is in a starter",
        vec![
            number("How many grams of starter?"),
            number("At what hydration, in percent?"),
        ],
        |a, _| {
            ask(Question::InStarter {
                starter_g: a.number(0),
                percent: a.number(1),
                water: false,
            })
        },
    );
    k.show(
        ". 7 8 7 4 5 0 Enter 1 2 5 Enter",
        Place::Step,
        "the flour in 450 grams of starter at 125 percent",
    );
    k.path(
        ". 7 8 8",
        "feeding a starter",
        vec![
            number("How many grams of starter?"),
            number("Parts of flour for one of starter?"),
            number("Parts of water?"),
        ],
        |a, _| {
            ask(Question::Feed {
                seed_g: Some(a.number(0)),
                wanted_g: None,
                flour: a.number(1),
                water: a.number(2),
                first: None,
            })
        },
    );
    k.show(
        ". 7 8 8 4 0 Enter 2 Enter 2 Enter",
        Place::Step,
        "feeding 40 grams of starter one to two to two",
    );
    k.path(
        ". 7 8 9",
        "what is left for the final dough",
        vec![
            number("Grams of flour in all?"),
            number("Grams of water in all?"),
            number("Flour that went ahead?"),
            number("Water that went ahead?"),
        ],
        |a, _| {
            ask(Question::FinalDough {
                flour_g: a.number(0),
                water_g: a.number(1),
                ahead_flour_g: a.number(2),
                ahead_water_g: a.number(3),
            })
        },
    );
    k.show(
        ". 7 8 9 1 0 0 0 Enter 6 8 0 Enter 3 0 0 Enter 3 0 0 Enter",
        Place::Step,
        "what is left of 1000 flour and 680 water after 300 and 300",
    );
    k.path(
        ". 7 8 10",
        "ice in grams",
        vec![
            number_or_none("How many grams of water, if not this dough's?"),
            number("How warm is the tap, in Celsius?"),
            number("How cold should it be?"),
        ],
        |a, _| {
            ask(Question::Ice {
                water_g: a.maybe(0),
                tap_c: a.number(1),
                water_c: a.number(2),
            })
        },
    );
    k.show(
        ". 7 8 0 3 5 0 Enter 2 8 Enter 1 2 Enter",
        Place::Step,
        "the ice for 350 grams of water from 28 to 12 degrees",
    );
}

fn kitchen_keys(k: &mut Keys) {
    k.list(". 7 9", "kitchen sums", "Kitchen sums.");
    k.path(
        ". 7 9 1",
        "if so much takes so much",
        vec![
            number("So many grams?"),
            number("For how many?"),
            number("And for how many now?"),
        ],
        |a, _| {
            ask(Question::RuleOfThree {
                amount: a.number(0),
                unit: UnitSymbol::GRAM,
                base: a.number(1),
                wanted: a.number(2),
                what: None,
            })
        },
    );
    k.show(
        ". 7 9 1 1 0 Enter 5 0 0 Enter 8 5 0 Enter",
        Place::Step,
        "if 500 takes 10 grams, what 850 takes",
    );
    k.path(
        ". 7 9 2",
        "so many times so much",
        vec![number("How many times?"), number("How many grams?")],
        |a, _| {
            ask(Question::Times {
                factor: a.number(0),
                number: a.number(1),
                unit: UnitSymbol::GRAM,
            })
        },
    );
    k.show(
        ". 7 9 2 1 . 5 Enter 3 4 0 Enter",
        Place::Step,
        "one and a half times 340 grams",
    );
    k.path(
        ". 7 9 3",
        "one tin and another",
        vec![
            number("Centimetres across the round tin that you have the recipe for?"),
            number("And across the other?"),
        ],
        |a, _| {
            ask(Question::Tins {
                from: tin_of(Shape::Round, &[a.number(0)])?,
                to: Some(tin_of(Shape::Round, &[a.number(1)])?),
                shape: None,
            })
        },
    );
    k.show(
        ". 7 9 3 2 0 Enter 2 3 Enter",
        Place::Step,
        "from a round tin of 20 centimetres to one of 23",
    );
    k.path(
        ". 7 9 4",
        "eggs by their size",
        vec![
            number("How many?"),
            one_of("Of what size?", |_| words(Egg::sizes())),
            one_of("Which part?", |_| {
                pairs(&[
                    ("without the shell", "whole"),
                    ("the white", "white"),
                    ("the yolk", "yolk"),
                    ("in the shell", "shell"),
                ])
            }),
        ],
        |a, _| {
            ask(Question::Eggs {
                number: Some(a.number(0)),
                mass_g: None,
                part: match a.word(2) {
                    Some("white") => EggPart::White,
                    Some("yolk") => EggPart::Yolk,
                    Some("shell") => EggPart::Shell,
                    _ => EggPart::Whole,
                },
                size: Some(word(a, 1).into()),
                region: None,
            })
        },
    );
    k.show(
        ". 7 9 4 2 Enter 2 1",
        Place::Step,
        "what two medium eggs weigh",
    );
    k.path(
        ". 7 9 5",
        "plain flour made self-raising",
        vec![number("How many grams of plain flour?")],
        |a, _| {
            ask(Question::SelfRaising {
                flour_g: a.number(0),
                region: None,
            })
        },
    );
    k.show(
        ". 7 9 5 2 0 0 Enter",
        Place::Step,
        "what makes 200 grams of plain flour self-raising",
    );
    k.path(
        ". 7 9 10",
        "gelatine of another strength",
        vec![
            number("How many grams?"),
            one_of("Of what strength?", |_| words(strengths())),
            one_of("And what have you?", |_| words(strengths())),
        ],
        |a, _| {
            ask(Question::Gelatine {
                number: a.number(0),
                unit: UnitSymbol::GRAM,
                from: word(a, 1).into(),
                to: word(a, 2).into(),
            })
        },
    );
    k.show(
        ". 7 9 0 1 0 Enter 2 4",
        Place::Step,
        "10 grams of silver gelatine in platinum",
    );
}

fn heat_keys(k: &mut Keys) {
    k.path(
        ". 7 9 6",
        "how hot a stage of sugar is",
        vec![one_of("Which stage?", |_| {
            words(names(NamedHeat::sugar_stages()))
        })],
        |a, _| {
            ask(Question::SugarStage {
                stage: word(a, 0).into(),
            })
        },
    );
    k.show(". 7 9 6 2", Place::Step, "how hot soft ball is");
    k.path(
        ". 7 9 7",
        "what stage sugar is at",
        vec![number("How many degrees Celsius?")],
        |a, _| {
            ask(Question::StageAt {
                sugar_c: a.number(0),
            })
        },
    );
    k.show(
        ". 7 9 7 1 1 8 Enter",
        Place::Step,
        "what stage sugar is at 118 degrees",
    );
    k.path(
        ". 7 9 8",
        "how hot oil should be",
        vec![one_of("For what?", |_| {
            words(names(NamedHeat::fried_foods()))
        })],
        |a, _| {
            ask(Question::Frying {
                food: Some(word(a, 0).into()),
            })
        },
    );
    k.show(
        ". 7 9 8 2",
        Place::Step,
        "how hot the oil should be for doughnuts",
    );
    k.path(
        ". 7 9 9",
        "what a hot or slow oven is",
        vec![one_of("Which oven?", |_| {
            words(names(NamedHeat::oven_words()))
        })],
        |a, _| {
            ask(Question::OvenWord {
                word: word(a, 0).into(),
            })
        },
    );
    k.show(". 7 9 9 4", Place::Step, "what a moderate oven is");
}

fn other_keys(k: &mut Keys) {
    k.list(". 7 10", "other sums", "Other sums.");
    k.path(
        ". 7 10 1",
        "what was lost in baking",
        vec![
            number("How many grams of dough?"),
            number("How many grams baked?"),
        ],
        |a, _| {
            ask(Question::LossIs {
                dough_g: a.number(0),
                baked_g: a.number(1),
            })
        },
    );
    k.show(
        ". 7 0 1 8 6 0 Enter 7 5 0 Enter",
        Place::Step,
        "what percent 860 grams lost that weigh 750 baked",
    );
    k.path(
        ". 7 10 2",
        "water in ounces for flour in ounces",
        vec![
            number("How many ounces of flour?"),
            number("At how many percent?"),
        ],
        |a, _| {
            ask(Question::Into {
                of: Box::new(Question::WaterForFlour {
                    flour_g: Some(a.number(0) * Unit::Ounce.size()),
                    percent: a.number(1),
                }),
                unit: UnitSymbol::OUNCE,
            })
        },
    );
    k.show(
        ". 7 0 2 1 7 . 5 Enter 6 6 Enter",
        Place::Step,
        "water in ounces for 17.5 ounces of flour at 66 percent",
    );
    k.path(
        ". 7 10 3",
        "two weights in ounces at once",
        vec![number("How many grams?"), number("And how many?")],
        |a, _| {
            ask(Question::Together {
                each: [a.number(0), a.number(1)]
                    .into_iter()
                    .map(|number| Question::Convert {
                        number,
                        from: UnitSymbol::GRAM,
                        to: UnitSymbol::OUNCE,
                        ingredient: None,
                    })
                    .collect(),
            })
        },
    );
    k.show(
        ". 7 0 3 2 0 0 Enter 1 5 0 Enter",
        Place::Step,
        "200 and 150 grams in ounces",
    );
    k.path(
        ". 7 10 4",
        "a round tin as large as a square one",
        vec![number("Centimetres along a side of the square one?")],
        |a, _| {
            ask(Question::Tins {
                from: tin_of(Shape::Square, &[a.number(0)])?,
                to: None,
                shape: Some(Shape::Round),
            })
        },
    );
    k.path(
        ". 7 10 5",
        "what a round tin holds",
        vec![number("Centimetres across?"), number("How deep?")],
        |a, _| {
            ask(Question::Tins {
                from: tin_of(Shape::Round, &[a.number(0), a.number(1)])?,
                to: None,
                shape: None,
            })
        },
    );
}
