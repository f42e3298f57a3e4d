//! Units, amounts (a number of a unit), and temperatures.

use crate::understand::grammar::{Build, Grammar, give, way};
use crate::understand::value::Value;

pub(super) fn lay(g: &mut Grammar) {
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
        "<q:quantity> <u:unit>",
        "<q:quantity> <u:unit> and <f:fraction>",
    );
    scales(g);
    heats(g);
}

fn units(g: &mut Grammar) {
    let mass = || {
        vec![
            give("grams|gram|=gramme|=grammes|=g|=gr|=gm", Value::Sym("g")),
            give("kilos|kilo|kilograms|kilogram|=kg|=kgs", Value::Sym("kg")),
            give("ounces|ounce|=oz", Value::Sym("oz")),
            give("pounds|pound|=lb|=lbs", Value::Sym("lb")),
        ]
    };
    g.lay("mass_unit", mass());
    let mut all = mass();
    all.extend([
        give(
            "millilitres|millilitre|milliliters|milliliter|=ml|=mls|=mil|=mils",
            Value::Sym("ml"),
        ),
        give(
            "centilitres|centilitre|=centiliters|=centiliter|=cl",
            Value::Sym("cl"),
        ),
        give(
            "decilitres|decilitre|=deciliters|=deciliter|=dl",
            Value::Sym("dl"),
        ),
        give("litres|litre|liters|liter|=l", Value::Sym("l")),
        give(
            "teaspoons|teaspoon|=teaspoonful|=teaspoonfuls|=tsp|=tsps",
            Value::Sym("tsp"),
        ),
        give(
            "tablespoons|tablespoon|=tablespoonful|=tablespoonfuls|=tbsp|=tbsps|=tbs",
            Value::Sym("tbsp"),
        ),
        give("cups|cup|=cupful|=cupfuls", Value::Sym("cup")),
        give(
            "fluid (ounces|ounce|=oz)|=fl =oz|=floz",
            Value::Sym("fl oz"),
        ),
        give("pints|pint|=pt|=pts", Value::Sym("pint")),
        give("quarts|quart|=qt|=qts", Value::Sym("quart")),
        give("gallons|gallon|=gal", Value::Sym("gallon")),
        give("pinches|pinch", Value::Sym("pinch")),
        give("=dashes|dash", Value::Sym("dash")),
        give("drops|drop", Value::Sym("drop")),
    ]);
    g.lay("unit", all);
}

/// A rule for amounts, of any unit or of mass only: `a pound and a half`, `one pound three ounces`, `one kilo two
/// fifty`.
fn amount_of(g: &mut Grammar, name: &'static str, plain: &'static str, and_part: &'static str) {
    g.lay(
        name,
        vec![
            way(plain, |c, _| Some(Value::Amount(c.num("q")?, c.sym("u")?))),
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

fn scales(g: &mut Grammar) {
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
            give("fan|a fan oven|fan oven|a fan", Value::Sym("fan")),
        ],
    );
}

fn heats(g: &mut Grammar) {
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
