//! Units, amounts (a number of a unit), and temperatures.

use crate::measure::{Kind, Region, Sense, Unit};
use crate::order::book::{Book, Build, give, way};
use crate::order::slots::Value;
use crate::order::units::unit_way;

pub(super) fn lay(g: &mut Book) {
    units(g);
    amount_of(
        g,
        "mass",
        "<q:quantity> <u:mass_unit>",
        "<q:quantity> <u:mass_unit> and <f:fraction>",
    );
    amount_of(
        g,
        "amount",
        "<q:quantity> [=level|{heaped: =heaped|=heaping}|{rounded: =rounded}|{scant: =scant}] <u:unit>",
        "<q:quantity> <u:unit> and <f:fraction>",
    );
    scales(g);
    heats(g);
}

fn units(g: &mut Book) {
    let mass = [Unit::Gram, Unit::Kilogram, Unit::Ounce, Unit::Pound];
    g.lay("mass_unit", mass.map(|u| unit_way(u, "")).into());
    let uncounted = |unit: &Unit| unit.kind() != Kind::Count;
    let mut all: Vec<_> = Unit::of_here(Region::Metric)
        .filter(uncounted)
        .map(|u| unit_way(u, ""))
        .collect();
    // 'imperial pint', 'american cup': a measure that is not this kitchen's.
    for (region, words) in [
        (Region::Us, "(american|=us|=usa)"),
        (Region::Uk, "(british|english|imperial|=uk)"),
        (Region::Metric, "metric"),
        (Region::Au, "(australian|=au|=aussie)"),
    ] {
        all.extend(Unit::of_region(region).map(|u| unit_way(u, words)));
    }
    g.lay("unit", all);
}

/// A rule for amounts, of any unit or of mass only: `a pound and a half`, `one pound three ounces`, `one kilo two
/// fifty`.
fn amount_of(g: &mut Book, name: &'static str, plain: &'static str, and_part: &'static str) {
    g.lay(
        name,
        vec![
            way(plain, |c, _| {
                let filled = [
                    ("heaped", Sense::Heaped),
                    ("rounded", Sense::Rounded),
                    ("scant", Sense::Scant),
                ];
                let filled = filled.iter().find(|(key, _)| c.has(key));
                let factor = filled.map_or(1.0, |(_, sense)| sense.factor());
                Some(Value::Amount(c.num("q")? * factor, c.sym("u")?))
            }),
            way(and_part, |c, _| Some(Value::Amount(c.num("q")? + c.num("f")?, c.sym("u")?))),
            way("<a:quantity> (pounds|pound|=lb|=lbs) [and] <b:rest_number> (ounces|ounce|=oz)", |c, _| {
                Some(Value::Amount(c.num("a")? * 16.0 + c.num("b")?, "oz"))
            }),
            way("<a:quantity> (kilos|kilo|kilograms|kilogram|=kg) [and] <b:level_number> (grams|gram|=g)", |c, _| {
                Some(Value::Amount(c.num("a")? * 1000.0 + c.num("b")?, "g"))
            }),
            // `one kilo two fifty`; below a hundred it would be doubtful (`one kilo five`).
            way("~<a:quantity> (kilo|kilos) <b:hundreds_only>", |c, _| {
                Some(Value::Amount(c.num("a")? * 1000.0 + c.num("b")?, "g"))
            }),
        ],
    );
}

fn scales(g: &mut Book) {
    g.lay(
        "scale",
        vec![
            give("celsius|centigrade|=c", Value::Sym("c")),
            give("fahrenheit|=f", Value::Sym("f")),
            give("fan|in a fan oven", Value::Sym("fan")),
            give("celsius fan|=c =fan", Value::Sym("fan")),
        ],
    );
    g.lay(
        "to_scale",
        vec![
            give("[degrees] (celsius|centigrade|=c)", Value::Sym("c")),
            give("[degrees] (fahrenheit|=f)", Value::Sym("f")),
            give("gas [mark|marks]|=regulo", Value::Sym("gas")),
            give(
                "fan|a fan oven|fan oven|a fan|fan celsius|=celsius =fan",
                Value::Sym("fan"),
            ),
        ],
    );
}

fn heats(g: &mut Book) {
    g.lay(
        "heat",
        vec![
            way("<n:level_number> [degrees|degree] [<s:scale>]", |c, _| {
                Some(Value::Heat(c.num("n")?, c.sym("s")))
            }),
            way(
                "minus <n:level_number> [degrees|degree] [<s:scale>]",
                |c, _| Some(Value::Heat(-c.num("n")?, c.sym("s"))),
            ),
        ],
    );
    // With the scale said, so that the question cannot be about anything else.
    g.lay(
        "scaled_heat",
        vec![
            way("<n:level_number> [degrees|degree] <s:scale>", |c, _| {
                Some(Value::Heat(c.num("n")?, c.sym("s")))
            }),
            way(
                "minus <n:level_number> [degrees|degree] <s:scale>",
                |c, _| Some(Value::Heat(-c.num("n")?, c.sym("s"))),
            ),
            way("[a] fan [oven] [at] <n:level_number> [degrees]", |c, _| {
                Some(Value::Heat(c.num("n")?, Some("fan")))
            }),
            way("gas [mark] <n:small_number>", |c, _| {
                Some(Value::Heat(c.num("n")?, Some("gas")))
            }),
            way("!=regulo <n:small_number>", |c, _| {
                Some(Value::Heat(c.num("n")?, Some("gas")))
            }),
        ],
    );
    // `degrees` said, the scale not.
    g.lay(
        "bare_heat",
        vec![(
            "<n:level_number> (degrees|degree)",
            Build::From(|c, _| Some(Value::Heat(c.num("n")?, None))),
        )],
    );
}
