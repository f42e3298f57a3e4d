//! Sums beside the formula's: flour and starters, ice, tins, eggs by size, sugar, oil and ovens.

use crate::ask::{EggPart, Question, Share};
use crate::measure::tin::{Shape, Size};
use crate::order::Order;
use crate::understand::grammar::{Grammar, give};
use crate::understand::value::Value;

pub(super) fn lay(g: &mut Grammar) {
    trough(g);
    starter(g);
    heats(g);
    kitchen(g);
}

fn water(percent: f64) -> Vec<Share> {
    vec![Share {
        name: "water".to_owned(),
        percent,
    }]
}

fn trough(g: &mut Grammar) {
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

fn starter(g: &mut Grammar) {
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

fn heats(g: &mut Grammar) {
    g.lay(
        "sugar_stage",
        vec![
            give("soft ball", Value::Sym("soft ball")),
            give("firm ball", Value::Sym("firm ball")),
            give("hard ball", Value::Sym("hard ball")),
            give("soft crack", Value::Sym("soft crack")),
            give("hard crack", Value::Sym("hard crack")),
        ],
    );
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
    g.say(
        "frying",
        &[
            "how hot (should|must) the [frying] oil be",
            "what temperature (should|must) the [frying] oil be",
        ],
        |_, _| Some(Order::Ask(Question::Frying { food: None })),
    );
    g.lay(
        "oven_word",
        vec![
            give("very slow", Value::Sym("very slow")),
            give("slow|cool", Value::Sym("slow")),
            give("warm", Value::Sym("warm")),
            give("moderate", Value::Sym("moderate")),
            give("fairly hot|moderately hot", Value::Sym("moderately hot")),
            give("hot", Value::Sym("hot")),
            give("very hot", Value::Sym("very hot")),
        ],
    );
    g.say(
        "oven_word_heat",
        &[
            "(what|how hot) is a <w:oven_word> oven",
            "what temperature is a <w:oven_word> oven",
        ],
        |c, _| Some(Order::Ask(Question::OvenWord { word: c.text("w")? })),
    );
}

fn kitchen(g: &mut Grammar) {
    g.say(
        "rule_of_three",
        &[
            "if <b:mass> takes <a:mass> [of <i:the_stuff>] (what|how much) does <c:mass> take",
            "if <b:mass> needs <a:mass> [of <i:the_stuff>] (what|how much) does <c:mass> need",
        ],
        |c, _| {
            Some(Order::Ask(Question::RuleOfThree {
                amount: c.mass("a")?.as_grams(),
                unit: "g".to_owned(),
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
                unit: "g".to_owned(),
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
                Size::new(Shape::Round, &[cm]).ok()
            };
            Some(Order::Ask(Question::Tins {
                from: cm("a")?,
                to: Some(cm("b")?),
                shape: None,
            }))
        },
    );
    g.say(
        "sized_egg",
        &[
            "how (much|heavy) (does|is) a {small: small} egg [weigh]",
            "how (much|heavy) (does|is) a {medium: medium} egg [weigh]",
            "how (much|heavy) (does|is) a {large: large} egg [weigh]",
        ],
        |c, _| {
            let size = ["small", "medium", "large"]
                .into_iter()
                .find(|s| c.has(s))?;
            Some(Order::Ask(Question::Eggs {
                number: Some(1.0),
                mass_g: None,
                part: EggPart::Whole,
                size: Some(size.to_owned()),
                region: None,
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
