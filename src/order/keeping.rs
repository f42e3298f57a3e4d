//! Whether food is still good: left out, kept, frozen, warmed up, made ahead, used from the freezer.

use super::book::{Book, give};
use super::keys::{Keys, number, number_or_none, one_of, words};
use super::order::Order;
use super::place::Place;
use super::question::{KeptHow, Question};
use super::slots::{Caps, Value};

#[allow(clippy::unnecessary_wraps)]
fn keeps(c: &Caps, how: KeptHow) -> Option<Order> {
    let food = c.text("f");
    Some(Order::Ask(Question::Keeps { food, how }))
}

pub(super) fn lay(g: &mut Book) {
    g.lay(
        "kept_it",
        vec![give(
            "it|this|that|them|they|these|the rest|leftovers",
            Value::Flag,
        )],
    );
    g.say(
        "keeps",
        &[
            "how long (does|do|will) (<k:kept_it>|[the|my] <f:food>) keep [in the fridge|for]",
            "how long can i keep (<k:kept_it>|[the|my] <f:food>) [in the fridge]",
            "how many days (does|do|will) (<k:kept_it>|[the|my] <f:food>) keep",
            "can i keep (<k:kept_it>|[the|my] <f:food>) (until|for) tomorrow",
        ],
        |c, _| keeps(c, KeptHow::Keep),
    );
    g.say(
        "freezes",
        &[
            "can i freeze (<k:kept_it>|[the|my] <f:food>)",
            "(does|do) (<k:kept_it>|[the|my] <f:food>) freeze [well]",
            "how long (does|do|will|can) (<k:kept_it>|[the|my] <f:food>) keep in the freezer",
            "can (<k:kept_it>|[the|my] <f:food>) go in the freezer",
        ],
        |c, _| keeps(c, KeptHow::Freeze),
    );
    g.say(
        "warms_up",
        &[
            "can i (=reheat|warm|heat) (<k:kept_it>|[the|my] <f:food>) [up|again] [tomorrow]",
            "can (<k:kept_it>|[the|my] <f:food>) be (heated|=reheated) [up|again]",
            "how do i (warm|heat) (<k:kept_it>|[the|my] <f:food>) (up|again)",
            "!(is it safe|is it all right) to reheat (<k:kept_it>|[the|my] <f:food>)",
        ],
        |c, _| keeps(c, KeptHow::Reheat),
    );
    g.say(
        "made_ahead",
        &[
            "can i make (<k:kept_it>|[the|my] <f:food>) (in the morning|the day before|ahead|yesterday|tonight for tomorrow)",
            "can (<k:kept_it>|[the|my] <f:food>) be made (ahead|the day before|in the morning)",
            "how far ahead can i make (<k:kept_it>|[the|my] <f:food>)",
            "can i prepare (<k:kept_it>|[the|my] <f:food>) (ahead|the day before|in the morning)",
        ],
        |c, _| keeps(c, KeptHow::Ahead),
    );
    g.say(
        "left_out_long",
        &[
            "(<k:kept_it>|[the|my] <f:food>) (was|were|has been|have been) [left] out (all night|overnight|all day|for <t:duration>|since this morning)",
            "i left (<k:kept_it>|[the|my] <f:food>) out (all night|overnight|all day|for <t:duration>)",
            "can i eat (<k:kept_it>|[the|my] <f:food>) that was left out [all night|overnight]",
            "(<k:kept_it>|[the|my] <f:food>) (stood|was left) on the (table|counter) (all night|overnight|all day|for <t:duration>)",
        ],
        |c, _| {
            Some(Order::Ask(Question::LeftOut {
                food: c.text("f"),
                minutes: c.span("t").map(|t| t.as_seconds() as f64 / 60.0),
            }))
        },
    );
    g.say(
        "from_frozen",
        &[
            "can i (cook|use) [the] <f:food> from frozen|can i (cook|use) it from frozen",
            "can i use frozen <f:food>",
            "[the|my] <f:food> is [still] frozen",
            "do i have to defrost [the|my] <f:food>",
        ],
        |c, _| Some(Order::Ask(Question::FromFrozen { food: c.text("f") })),
    );
}

/// Foods that are asked about, as they are offered.
const FOODS: &[&str] = &["meat", "fish", "chicken", "rice", "soup", "leftovers"];

/// How what is made is kept.
#[allow(clippy::unnecessary_wraps)]
fn it(how: KeptHow) -> Result<Order, String> {
    Ok(Order::Ask(Question::Keeps { food: None, how }))
}

/// The keys of these questions.
pub(super) fn keys(k: &mut Keys) {
    k.path(
        ". 7 6 8",
        "whether food at a heat is done",
        vec![
            one_of("Which food?", |_| words(super::safety::FOODS)),
            number("How many degrees Celsius inside?"),
        ],
        |a, here| {
            Ok(Order::Ask(Question::SafeAt {
                food: a.food(0, here).ok_or("Nothing was chosen.")?,
                core_c: a.number(1),
            }))
        },
    );
    k.show(
        ". 7 6 8 1 6 8 Enter",
        Place::Step,
        "whether chicken is done at 68 degrees",
    );
    k.path(
        ". 7 6 9",
        "what the thermometer shows",
        vec![number("How many degrees Celsius inside?")],
        |a, _| {
            Ok(Order::CoreReads {
                core_c: a.number(0),
            })
        },
    );
    k.show(
        ". 7 6 9 7 4 Enter",
        Place::Step,
        "the thermometer shows 74 degrees",
    );
    k.list(". 7 6 10", "food that is kept", "Food that is kept.");
    k.path(
        ". 7 6 10 1",
        "food that was left out",
        vec![number_or_none("For how many minutes?")],
        |a, _| {
            Ok(Order::Ask(Question::LeftOut {
                food: None,
                minutes: a.maybe(0),
            }))
        },
    );
    k.show(
        ". 7 6 0 1 Enter",
        Place::Step,
        "food that was left out all night",
    );
    k.path(
        ". 7 6 10 2",
        "food from the freezer",
        vec![one_of("Which food?", |_| words(FOODS))],
        |a, here| {
            let food = a.food(0, here);
            Ok(Order::Ask(Question::FromFrozen { food }))
        },
    );
    k.show(". 7 6 0 2 2", Place::Step, "fish from the freezer");
    k.item(
        ". 7 6 10 3",
        "how long it keeps",
        "how long it keeps",
        |_, _| it(KeptHow::Keep),
    );
    k.path(". 7 6 10 4", "freezing it", vec![], |_, _| {
        it(KeptHow::Freeze)
    });
    k.path(". 7 6 10 5", "warming it up", vec![], |_, _| {
        it(KeptHow::Reheat)
    });
    k.path(". 7 6 10 6", "making it ahead", vec![], |_, _| {
        it(KeptHow::Ahead)
    });
}
