//! Questions about doughs: percentages, water, preferments, the rise, pieces, what is left after baking.

use super::book::{Book, give, way};
use super::keys::{Keys, number, number_or_none, one_of, words};
use super::order::Order;
use super::place::Place;
use super::question::Question;
use super::slots::{Caps, Value};
use crate::measure::Mass;

pub(super) fn lay(g: &mut Book) {
    percent(g);
    percent_is(g);
    preferment(g);
    water_heat(g);
    friction(g);
    rise(g);
    pieces(g);
    baked(g);
}

fn grams(c: &Caps, key: &str) -> Option<f64> {
    c.mass(key).map(Mass::as_grams)
}

fn percent(g: &mut Book) {
    g.lay(
        "percent",
        vec![way("<n:level_number> (percent|per cent)", |c, _| {
            c.get("n").cloned()
        })],
    );
    g.lay(
        "by_percent",
        vec![give(
            "salt|yeast|sugar|butter|oil|honey|malt|=seeds",
            Value::Flag,
        )],
    );
    g.say(
        "water_for_flour",
        &[
            "how much water [do i need] for <m:mass> [of] [the] flour at <p:percent> [hydration|water]", "[how much] water for <m:mass> [of [the] flour] at <p:percent> [hydration]",
            "how much water [do i need] (at|for) <p:percent> [hydration] [with|for] <m:mass> [of] [the] flour", "how much water (at|for) <p:percent> [hydration]", "!how much water [do i need] to get <p:percent> [hydration] with <m:mass> [of] flour",
            "what is <p:percent> hydration (for|of|with) <m:mass> [of [the] flour]", "how much water makes <p:percent> [hydration] [with <m:mass> of [the] flour]",
        ],
        |c, _| {
            let flour_g = grams(c, "m");
            Some(Order::Ask(Question::WaterForFlour { flour_g, percent: c.num("p")? }))
        },
    );
    g.say(
        "percent_of",
        &[
            "what is <p:percent> of <m:mass>",
            "[how much is] <p:percent> of <m:mass>",
            "how many grams is <p:percent> of <m:mass>",
            "how much is <p:percent> of <m:mass>",
            "<p:percent> of <m:mass> [in grams]",
            "what does <p:percent> of <m:mass> (make|weigh|come to)",
            "how much <s:by_percent> is <p:percent> of <m:mass> [[of] flour]",
            "!how much <s:by_percent> [do i need] (for|on|in|to) <m:mass> [of] flour at <p:percent>",
            "!how much <s:by_percent> is <p:percent> (on|for) <m:mass> [of] flour",
            "!<p:percent> <s:by_percent> (on|for|in) <m:mass> [of] flour",
        ],
        |c, _| {
            Some(Order::Ask(Question::PercentOf {
                percent: c.num("p")?,
                grams: grams(c, "m")?,
            }))
        },
    );
}

fn percent_is(g: &mut Book) {
    // With no unit said, both numbers are of the same one.
    g.lay(
        "weighed",
        vec![
            way("<m:mass>", |c, _| c.get("m").cloned()),
            way("~<n:level_number>", |c, _| {
                Some(Value::Amount(c.num("n")?, "g"))
            }),
        ],
    );
    g.say(
        "percent_is",
        &[
            "what percent is <a:weighed> (of|on) <b:weighed> [of flour]",
            "!what (percent|percentage) [[of] <s:by_percent>] is <a:weighed> [of water|of <s:by_percent>] (of|on|in|out of|to) <b:weighed> [of flour]",
            "!what (percent|percentage) of <b:weighed> [of flour] is <a:weighed> [of water]",
            "what is the hydration of <a:mass> of water (on|with) <b:mass> of flour",
            "!what is the hydration of <a:weighed> [of] water (on|in|to|for|with|and) <b:weighed> [of] flour",
            "what hydration is <a:weighed> of water (on|=in|to|=for|=with|=and) <b:weighed> of flour",
            "!what hydration is <a:weighed> [of] water (on|in|to|for|with|and) <b:weighed> [of] flour",
            "![what is] <a:mass> [of water] (on|of|out of|to) <b:mass> [of flour] (in|as [a]) (percent|percentage)",
            "!how (wet|hydrated) is <a:weighed> [of] water (on|in|to|for|with|and) <b:weighed> [of] flour",
            "!how many percent is <a:weighed> (of|on) <b:weighed>",
            "!what is <a:weighed> (of|out of|on) <b:weighed> (in|as a) (percent|percentage)|[what is the] hydration (of|with|for) <a:weighed> [of] water (on|in|to|for|with|and) <b:weighed> [of] flour",
        ],
        |c, _| {
            Some(Order::Ask(Question::PercentIs {
                part_g: grams(c, "a")?,
                whole_g: grams(c, "b")?,
            }))
        },
    );
}

fn preferment(g: &mut Book) {
    g.lay(
        "preferment_kind",
        vec![
            give("poolish", Value::Sym("poolish")),
            give("biga", Value::Sym("biga")),
            give("sponge", Value::Sym("sponge")),
            give(
                "levain|leaven|starter|=sourdough|=sourdough =starter",
                Value::Sym("levain"),
            ),
        ],
    );
    g.lay(
        "a_preferment",
        vec![
            way("[a|the] <k:preferment_kind>", |c, _| c.get("k").cloned()),
            // A levain at its own hydration: the name and the number go on as words.
            way("[a|the] <k:preferment_kind> at <h:percent> hydration|[a|the] <h:percent> hydration <k:preferment_kind>", |c, _| {
                Some(Value::Text(format!("{} {}", c.text::<String>("k")?, c.num("h")?)))
            }),
        ],
    );
    g.say(
        "preferment",
        &[
            "[make|split off|take off|i want|what goes in|how do i make] <k:a_preferment> (with|of|from|at|using) <p:percent> of (the flour|<m:mass> [of] [the] flour)",
            "[how much] [flour and water] (for|in) <k:a_preferment> (with|of|from|at) <p:percent> of (the flour|<m:mass> [of] [the] flour)",
            "put <p:percent> of (the flour|<m:mass> [of] [the] flour) (in|into) <k:a_preferment>",
            "[make|split off] [a] <p:percent> <k:preferment_kind> [(with|from|for|of) (the flour|<m:mass> [of] [the] flour)]",
            "how much <k:preferment_kind> is <p:percent> of (the flour|<m:mass> [of] [the] flour)",
            "[make|split off|i want] <k:a_preferment> (with|of|from) <f:part> the flour",
            "!<k:a_preferment> (with|at|of) <p:percent> (for|from|of) <m:mass> [of] flour",
            "<k:a_preferment> with <p:percent> of (the flour|<m:mass> [of] flour) at <h:percent> hydration",
        ],
        |c, _| {
            let said: String = c.text("k")?;
            let (kind, hydration) = said.split_once(' ').unwrap_or((&said, ""));
            Some(Order::Ask(Question::Preferment {
                kind: kind.parse().ok()?,
                percent: c.num("p").or(c.num("f").map(|f| f * 100.0))?,
                flour_g: grams(c, "m"),
                hydration: hydration.parse().ok().or(c.num("h")),
            }))
        },
    );
}

fn water_heat(g: &mut Book) {
    g.lay(
        "factor",
        vec![
            way("[with|and|if] [the|a] flour [is|at|of|=temperature] <n:heat>", |c, _| Some(Value::Heat(c.celsius("n")?, Some("flour")))),
            way("[with|and|if] [the|a|my] (room|kitchen) [is|at|of|=temperature] <n:heat>", |c, _| {
                Some(Value::Heat(c.celsius("n")?, Some("room")))
            }),
            way("[with|and] [the|a] (preferment|poolish|biga|levain|sponge|starter) [is|at|of] <n:heat>", |c, _| {
                Some(Value::Heat(c.celsius("n")?, Some("preferment")))
            }),
            way("[with|and] [the|a] friction [is|at|of|factor] <n:heat>", |c, _| Some(Value::Heat(c.celsius("n")?, Some("friction")))),
            way("[with|and] [the|a] (tap|tap water) [is|at|of] <n:heat>", |c, _| Some(Value::Heat(c.celsius("n")?, Some("tap")))),
        ],
    );
    g.say(
        "water_heat",
        &[
            "[what is] [the] water temperature [for [a|the] dough (at|of) <d:heat>] [<1:factor> [<2:factor> [<3:factor> [<4:factor> [<5:factor>]]]]]",
            "what temperature should the water be [for [a|the] dough (at|of) <d:heat>] [<1:factor> [<2:factor> [<3:factor> [<4:factor> [<5:factor>]]]]]",
            "how (hot|warm|cold) should the water be [for [a|the] dough (at|of) <d:heat>] [<1:factor> [<2:factor> [<3:factor> [<4:factor> [<5:factor>]]]]]",
            "what should the water temperature be|how warm does the water need to be|how warm must the water be",
            "(how warm|what temperature) is the water",
            "!how (hot|warm|cold) should the water be for (a|an) <d:heat> dough|what temperature should the water be for (a|an) <d:heat> dough|water [temperature] for (a|an) <d:heat> dough",
            "!(what water temperature|how much =ice) [do i need] [for [a|the] dough (at|of) <d:heat>] [<1:factor> [<2:factor> [<3:factor> [<4:factor>]]]]",
            "what water do i need for [a|the] dough (at|of) <d:heat> [<1:factor> [<2:factor> [<3:factor>]]]",
        ],
        |c, _| {
            let factor = |name| factor(c, name);
            Some(Order::Ask(Question::WaterTemperature {
                dough_c: c.celsius("d"),
                flour_c: factor("flour"),
                room_c: factor("room"),
                preferment_c: factor("preferment"),
                friction_c: factor("friction"),
                tap_c: factor("tap"),
            }))
        },
    );
}

/// The last temperature that was said of this.
fn factor(c: &Caps, name: &str) -> Option<f64> {
    ["1", "2", "3", "4", "5"]
        .iter()
        .rev()
        .find_map(|k| match c.get(k) {
            Some(Value::Heat(n, Some(f))) if *f == name => Some(*n),
            _ => None,
        })
}

fn friction(g: &mut Book) {
    // Without the water, and without the flour or the room, there is nothing to work it out from.
    g.lay(
        "water_was",
        vec![way(
            "[with|and] [the] water [is|was|at|of] <n:heat>",
            |c, _| Some(Value::Num(c.celsius("n")?)),
        )],
    );
    g.lay(
        "flour_or_room",
        vec![
            way(
                "[with|and|if] [the|a] flour [is|at|of|=temperature] <n:heat>",
                |c, _| Some(Value::Heat(c.celsius("n")?, Some("flour"))),
            ),
            way(
                "[with|and|if] [the|a|my] (room|kitchen) [is|at|of|=temperature] <n:heat>",
                |c, _| Some(Value::Heat(c.celsius("n")?, Some("room"))),
            ),
        ],
    );
    g.say(
        "friction",
        &[
            "(my|the) dough came out at <d:heat> (<1:flour_or_room> <2:factor> <w:water_was>|<w:water_was> <1:flour_or_room> <2:factor>|<1:flour_or_room> <w:water_was> <2:factor>) [<4:factor>] [what is the friction]",
            "[what is] the friction [of (my|the) (mixer|machine)] (for|with|if|when) [my|the|a] dough (at|of|is|was|came out at) <d:heat> (<1:flour_or_room> <2:factor> <w:water_was>|<w:water_was> <1:flour_or_room> <2:factor>|<1:flour_or_room> <w:water_was> <2:factor>) [<4:factor>]",
            "!friction [of my mixer] (for|with|if) [my|the|a] dough (at|of|is|was|came out at) <d:heat> (<1:flour_or_room> <2:factor> <w:water_was>|<w:water_was> <1:flour_or_room> <2:factor>|<1:flour_or_room> <w:water_was> <2:factor>) [<4:factor>]",
        ],
        |c, _| {
            let went_in = |name| factor(c, name);
            Some(Order::Ask(Question::Friction {
                dough_c: c.celsius("d")?,
                // What was not said of the flour or the room is taken from the other.
                flour_c: went_in("flour").or_else(|| went_in("room"))?,
                room_c: went_in("room").or_else(|| went_in("flour"))?,
                water_c: c.num("w")?,
                preferment_c: went_in("preferment"),
            }))
        },
    );
}

fn rise(g: &mut Book) {
    g.lay(
        "rising",
        vec![give("rise|prove|=proof|=ferment", Value::Flag)],
    );
    g.say(
        "rise_at",
        &[
            "how long (will|does|should) (it|the dough|the bread|the rise|the prove|the first rise) (take|rise|prove|be) [to (rise|prove)] (at|in|if it is) <r:heat> [in the kitchen]",
            "how long [is] [the|a] (rise|prove) (at|in) <r:heat>", "how much longer (will|does) (it|the dough|the rise) (take|rise|be) at <r:heat>", "how long (will|does) [a|the] <t:duration> (rise|prove) take at <r:heat> [instead of <w:heat>]",
            "how long (will|does|should) (it|the dough|the rise) (take|rise|prove) at <r:heat> instead of <w:heat>", "[how long] if (the room|the kitchen|my kitchen|it) is [at|only] <r:heat>",
            "(the room|the kitchen|my kitchen) is [at|only] <r:heat> [how long will it (rise|take|prove)]", "how long is a <t:duration> (rise|prove) at <r:heat> [instead of <w:heat>]",
            "how long (should|do|must) i (prove|=proof|rise|leave|let) (it|the dough|the bread) [rise|prove] at <r:heat>",
            "!if (the|a|my) (rise|prove) takes <t:duration> at <w:heat> how long [will it take|does it take|is it] at <r:heat>",
            "!(rise|rising|prove|proving|proofing) time at <r:heat>|<t:duration> (rise|prove) at <r:heat>",
        ],
        |c, _| {
            let minutes = c.span("t").map(|s| s.as_millis() as f64 / 60_000.0);
            Some(Order::Ask(Question::RiseAt { room_c: c.celsius("r")?, minutes, at_c: c.celsius("w"), halves_per_c: None }))
        },
    );
}

fn pieces(g: &mut Book) {
    g.lay(
        "piece_word",
        vec![
            give(
                "rolls|roll|pieces|piece|balls|buns|bun|loaves|loaf|portions|=baps|=bits|=baguettes|=baguette",
                Value::Flag,
            ),
            way("<p:piece>", |_, _| Some(Value::Flag)),
        ],
    );
    g.say(
        "pieces_from",
        &[
            "how many <e:mass> <w:piece_word> [from|in|out of|=can =i =make =from|do i get from|do i get out of|can i make from] <d:mass> [[of] dough]", "how many <w:piece_word> (of|at|=weighing) <e:mass> [each] (from|in|out of|do i get from) <d:mass> [[of] dough]",
            "how many <e:mass> <w:piece_word> (do i get|can i make|will it make|will that make|does it make|is that) [from (it|this|the dough)]", "how many <w:piece_word> (of|at) <e:mass> [each] (do i get|can i make|will it make|does it make) [from (it|this|the dough)]",
            "[divide] <d:mass> of dough (in|into) <e:mass> <w:piece_word>", "how many <e:mass> <w:piece_word> is <d:mass> [of dough]",
        ],
        |c, _| {
            let dough_g = grams(c, "d");
            Some(Order::Ask(Question::PiecesFrom { dough_g, each_g: grams(c, "e")? }))
        },
    );
}

fn baked(g: &mut Book) {
    g.lay(
        "when_baked",
        vec![give(
            "[when] [it is] baked|[when] [they are] baked|after (baking|the bake)|out of the oven|when [it is] (done|ready)",
            Value::Flag,
        )],
    );
    g.lay(
        "the_bake",
        vec![give(
            "it|this|they|the (bread|loaf|dough|loaves|rolls)",
            Value::Flag,
        )],
    );
    g.say(
        "baked_mass",
        &[
            "(what|how much) will (<i:the_bake>|<d:mass> [of] dough) weigh <w:when_baked>",
            "(what|how much) (does|do) (<i:the_bake>|<d:mass> [of] dough) weigh <w:when_baked>",
            "how heavy (will|is) <i:the_bake> [be] <w:when_baked>",
            "how heavy will <d:mass> [of] dough be <w:when_baked>",
            "[what is] the baked (weight|mass) [of (the (dough|bread|loaf)|<d:mass> [of] dough)]",
            "how much is <d:mass> [of] dough <w:when_baked>",
            "[what is] the weight <w:when_baked>",
            "how much bread (from|is|does) <d:mass> of dough [make]",
            "!how much [weight] (does|will) <i:the_bake> =lose (in baking|in the oven|when baked)|how much [weight] does bread =lose (in baking|in the oven)",
        ],
        |c, _| {
            Some(Order::Ask(Question::BakedMass {
                dough_g: grams(c, "d"),
                loss_percent: None,
            }))
        },
    );
    g.say(
        "dough_for",
        &[
            "how much dough [do i need] for [a|an|one] <e:mass> <w:piece_word>",
            "how much dough [do i need] for [a|an|one|<n:count>] <w:piece_word> of <e:mass> [each] [<b:when_baked>]",
            "how much dough [do i need] for <n:count> <e:mass> <w:piece_word>",
            "how much dough [do i need] (for|to get|makes) <e:mass> [of] (baked bread|bread) [<b:when_baked>]",
            "how much dough gives <e:mass> of (baked bread|bread)",
        ],
        |c, _| {
            Some(Order::Ask(Question::DoughFor {
                baked_g: grams(c, "e")? * c.num("n").unwrap_or(1.0),
                loss_percent: None,
            }))
        },
    );
}

fn ask(question: Question) -> Result<Order, String> {
    Ok(Order::Ask(question))
}

/// The keys of the dough sums.
pub(super) fn keys(k: &mut Keys) {
    k.list(". 7 5", "dough sums", "Dough sums.");
    k.path(
        ". 7 5 1",
        "water temperature for a dough",
        vec![
            number("How warm is the room, in Celsius?"),
            number_or_none("How warm is the flour, if not as the room?"),
            number_or_none("How warm should the dough be, if not as written?"),
        ],
        |a, _| {
            ask(Question::WaterTemperature {
                dough_c: a.maybe(2),
                flour_c: a.maybe(1),
                room_c: a.maybe(0),
                preferment_c: None,
                friction_c: None,
                tap_c: None,
            })
        },
    );
    k.show(
        ". 7 5 1 2 3 Enter Enter Enter",
        Place::Step,
        "water temperature in a room of 23",
    );
    k.path(
        ". 7 5 2",
        "how long the rise takes in this room",
        vec![
            number("How warm is the room, in Celsius?"),
            number_or_none("How many minutes are written, if not this step's?"),
        ],
        |a, _| {
            ask(Question::RiseAt {
                room_c: a.number(0),
                minutes: a.maybe(1),
                at_c: None,
                halves_per_c: None,
            })
        },
    );
    k.show(
        ". 7 5 2 1 8 Enter Enter",
        Place::Step,
        "how long the rise takes at 18 degrees",
    );
    k.path(
        ". 7 5 3",
        "water for so much flour",
        vec![
            number("At how many percent?"),
            number_or_none("For how many grams of flour?"),
        ],
        |a, _| {
            ask(Question::WaterForFlour {
                flour_g: a.maybe(1),
                percent: a.number(0),
            })
        },
    );
    k.show(
        ". 7 5 3 6 8 Enter 9 0 0 Enter",
        Place::Step,
        "water for 900 grams of flour at 68 percent",
    );
    k.path(
        ". 7 5 4",
        "so many percent of a weight",
        vec![number("How many percent?"), number("Of how many grams?")],
        |a, _| {
            ask(Question::PercentOf {
                percent: a.number(0),
                grams: a.number(1),
            })
        },
    );
    k.show(
        ". 7 5 4 2 Enter 9 0 0 Enter",
        Place::Step,
        "2 percent of 900 grams",
    );
    k.path(
        ". 7 5 5",
        "what percent one weight is of another",
        vec![
            number("How many grams is the part?"),
            number("Of how many grams?"),
        ],
        |a, _| {
            ask(Question::PercentIs {
                part_g: a.number(0),
                whole_g: a.number(1),
            })
        },
    );
    k.show(
        ". 7 5 5 3 6 0 Enter 6 0 0 Enter",
        Place::Step,
        "what percent 360 grams is of 600",
    );
    k.path(
        ". 7 5 6",
        "a poolish, biga, sponge or levain",
        vec![
            one_of("Which?", |_| words(["poolish", "biga", "sponge", "levain"])),
            number("With how many percent of the flour?"),
            number_or_none("Of how many grams of flour, if not this?"),
            number_or_none("At what hydration, if not a hundred percent?")
                .when(|a| a.word(0) == Some("levain")),
        ],
        |a, _| {
            ask(Question::Preferment {
                kind: a
                    .word(0)
                    .and_then(|kind| kind.parse().ok())
                    .ok_or("Nothing was chosen.")?,
                percent: a.number(1),
                flour_g: a.maybe(2),
                hydration: a.maybe(3),
            })
        },
    );
    k.show(
        ". 7 5 6 1 3 0 Enter Enter",
        Place::Step,
        "a poolish with 30 percent of the flour",
    );
    k.path(
        ". 7 5 7",
        "how many pieces from a dough",
        vec![
            number("How many grams is one piece?"),
            number_or_none("From how many grams of dough, if not this one?"),
        ],
        |a, _| {
            ask(Question::PiecesFrom {
                dough_g: a.maybe(1),
                each_g: a.number(0),
            })
        },
    );
    k.show(
        ". 7 5 7 9 5 Enter Enter",
        Place::Step,
        "how many pieces of 95 grams",
    );
    k.path(
        ". 7 5 8",
        "what a dough weighs baked",
        vec![number_or_none("How many grams of dough, if not this one?")],
        |a, _| {
            ask(Question::BakedMass {
                dough_g: a.maybe(0),
                loss_percent: None,
            })
        },
    );
    k.show(". 7 5 8 Enter", Place::Step, "what the dough weighs baked");
    k.path(
        ". 7 5 9",
        "how much dough for a baked weight",
        vec![number("How many grams baked, in all?")],
        |a, _| {
            ask(Question::DoughFor {
                baked_g: a.number(0),
                loss_percent: None,
            })
        },
    );
    k.show(
        ". 7 5 9 8 0 0 Enter",
        Place::Step,
        "how much dough for 800 grams baked",
    );
    k.path(
        ". 7 5 10",
        "the friction of the mixer",
        vec![
            number("What did the dough come out at, in Celsius?"),
            number("How warm was the flour?"),
            number("How warm was the room?"),
            number("How warm was the water?"),
            number_or_none("How warm was the preferment, if there was one?"),
        ],
        |a, _| {
            ask(Question::Friction {
                dough_c: a.number(0),
                flour_c: a.number(1),
                room_c: a.number(2),
                water_c: a.number(3),
                preferment_c: a.maybe(4),
            })
        },
    );
    k.show(
        ". 7 5 0 2 7 Enter 2 0 Enter 2 2 Enter 3 0 Enter Enter",
        Place::Step,
        "the mixer's friction: dough 27, flour 20, room 22, water 30",
    );
}
