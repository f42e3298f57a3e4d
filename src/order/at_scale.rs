//! What is asked of the scale itself, where one is plugged in.

use super::book::Book;
use super::keys::{Keys, ingredients, number, one_of, pairs};
use super::order::Order;
use super::place::Place;
use super::said::{say_number, unit_words};
use super::situation::Situation;

macro_rules! at_scale {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// What is on the scale, in a unit where one was asked for.
        WeighThis {
            /// The unit.
            unit: Option<UnitSymbol>,
        },
        /// How much is in of what is being weighed, and what is still to come.
        HowMuchIsIn,
        /// There is no more of what is being weighed.
        AllIHave,
        /// How many cups what is on the scale makes, of an ingredient.
        CupsOfThis {
            /// Cups or spoons.
            unit: UnitSymbol,
            /// Of what; nothing is what is being weighed.
            ingredient: Option<IngredientId>,
        },
        /// Divide what is on the scale into pieces, and weigh each.
        DivideThis {
            /// How many.
            count: f64 => Things("pieces"),
        },
        /// How much lighter what is on the scale is than when it was weighed before.
        HowMuchLost,
        /// What is on the scale is the empty tin, and is left out from now on.
        KeepTin,
        /// What is on the scale counts as nothing.
        Tare,
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    g.say(
        "weigh_this",
        &[
            "weigh (this|that) [in <u:unit>]",
            "what does (this|that) weigh [in <u:unit>]",
            "how heavy is (this|that) [in <u:unit>]",
            "how much does (this|that) weigh [in <u:unit>]",
            "what is on the scale [in <u:unit>]",
            "what does the scale (say|show) [in <u:unit>]",
        ],
        |c, _| Some(Order::WeighThis { unit: c.unit("u") }),
    );
    g.say(
        "how_much_is_in",
        &[
            "how much is in [there|now|so far|already]",
            "how much is in there (now|already|so far)",
            "how much have i (poured|got in) [so far]",
            "how much (more|is) to go",
            "how much more",
            "how far am i off",
        ],
        |_, _| Some(Order::HowMuchIsIn),
    );
    g.say(
        "all_i_have",
        &[
            "that is all i have [got] [of it]",
            "that is all there is",
            "i have no more [of it]",
            "there is no more [of it]",
            "that is the last of it",
            "i have run out [of it]",
        ],
        |_, _| Some(Order::AllIHave),
    );
    g.say(
        "cups_of_this",
        &[
            "how many <u:unit> (is|are) (this|that) of [this|the] <i:own>",
            "how many <u:unit> of [this|the] <i:own> (is|are) (this|that)",
            "how many <u:unit> (is|are) (this|that)",
        ],
        |c, _| {
            Some(Order::CupsOfThis {
                unit: c.unit("u")?,
                ingredient: c.text("i"),
            })
        },
    );
    g.say(
        "divide_this",
        &[
            "(divide|split) (this|the|that) dough (in|into) <n:how_many> [pieces|parts|rolls|balls]",
            "(divide|split) (this|it|that) (in|into) <n:how_many> [pieces|parts|rolls|balls]",
        ],
        |c, _| Some(Order::DivideThis { count: c.num("n")? }),
    );
    g.say(
        "how_much_lost",
        &[
            "how much has it lost [in the oven]",
            "how much weight has it lost [in the oven]",
            "how much did it lose [in the oven]",
            "how much lighter is it [now]",
        ],
        |_, _| Some(Order::HowMuchLost),
    );
    g.say(
        "keep_tin",
        &[
            "keep (this|that) as the weight of the (tin|bowl|pan|tray)",
            "keep (this|that) as the (tin|bowl|pan|tray) weight",
            "!keep (this|that) as the (tin|bowl|pan|tray) is weight|keep (this|that) as the (tins|bowls|pans|trays) weight",
            "(this|that) is the empty (tin|bowl|pan|tray)",
        ],
        |_, _| Some(Order::KeepTin),
    );
    g.say(
        "tare",
        &[
            "(set|put|bring) the scale [back] to (zero|nothing)",
            "count from here",
            "start from (zero|nothing)",
            "!=tare [it|the scale|the bowl]|zero [it|the scale]",
        ],
        |_, _| Some(Order::Tare),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    Some(match order {
        Order::WeighThis { unit: None } => "what is on the scale".into(),
        Order::WeighThis { unit: Some(unit) } => {
            format!("what is on the scale, in {}", many(unit))
        }
        Order::HowMuchIsIn => "how much is in".into(),
        Order::AllIHave => "that is all you have".into(),
        Order::CupsOfThis { unit, ingredient } => {
            let of = ingredient
                .as_ref()
                .map(|id| format!(" of {}", here.ingredient(id)));
            format!(
                "what is on the scale, in {}{}",
                many(unit),
                of.unwrap_or_default()
            )
        }
        Order::DivideThis { count } => {
            format!("divide what is on the scale in {}", say_number(*count))
        }
        Order::HowMuchLost => "how much it has lost".into(),
        Order::KeepTin => "keep this as the weight of the tin".into(),
        Order::Tare => "count from what is on the scale now".into(),
        _ => return None,
    })
}

fn many(unit: &str) -> &str {
    unit_words(unit).map_or(unit, |(_, many)| many)
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::WeighThis { .. }
            | Order::HowMuchIsIn
            | Order::CupsOfThis { .. }
            | Order::HowMuchLost
    )
}

/// Units that a scale could have.
const UNITS: &[(&str, &str)] = &[
    ("grams", "g"),
    ("ounces", "oz"),
    ("kilograms", "kg"),
    ("pounds", "lb"),
];
/// Measures of the kitchen.
const MEASURES: &[(&str, &str)] = &[
    ("cups", "cup"),
    ("tablespoons", "tbsp"),
    ("teaspoons", "tsp"),
];

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.list(". 11", "the scale", "The scale.");
    k.item(". 11 1", "what is on it", "what is on the scale", |_, _| {
        Ok(Order::WeighThis { unit: None })
    });
    k.path(
        ". 11 2",
        "what is on it, in another unit",
        vec![one_of("In what?", |_| pairs(UNITS))],
        |a, _| {
            Ok(Order::WeighThis {
                unit: Some(a.unit(0)),
            })
        },
    );
    k.item(
        ". 11 3",
        "how much is in, and how much is to go",
        "how much is in, and how much is to go",
        |_, _| Ok(Order::HowMuchIsIn),
    );
    k.item(
        ". 11 4",
        "count from what is on it",
        "count from what is on the scale",
        |_, _| Ok(Order::Tare),
    );
    k.item(
        ". 11 5",
        "that is all I have",
        "that is all I have",
        |_, _| Ok(Order::AllIHave),
    );
    k.path(
        ". 11 6",
        "how many cups or spoons it is",
        vec![
            one_of("What measure?", |_| pairs(MEASURES)),
            one_of("Of which ingredient?", ingredients),
        ],
        |a, _| {
            Ok(Order::CupsOfThis {
                unit: a.unit(0),
                ingredient: Some(a.ingredient(1)),
            })
        },
    );
    k.path(
        ". 11 7",
        "divide it into pieces",
        vec![number("Into how many?")],
        |a, _| Ok(Order::DivideThis { count: a.number(0) }),
    );
    k.item(
        ". 11 8",
        "how much it has lost",
        "how much it has lost",
        |_, _| Ok(Order::HowMuchLost),
    );
    k.item(
        ". 11 9",
        "this is the empty tin",
        "this is the empty tin",
        |_, _| Ok(Order::KeepTin),
    );
    for (strokes, says) in [
        (". - Enter 2 2", "what is on the scale in ounces"),
        (
            ". - Enter 6 1 1",
            "how many cups that is of the first ingredient",
        ),
        (
            ". - Enter 7 8 Enter",
            "divide what is on the scale in eight",
        ),
    ] {
        k.show(strokes, Place::Step, says);
    }
}
