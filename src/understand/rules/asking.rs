//! Questions about quantities, conversions, oven heat, swaps and what is in the formula.

use super::amounts::unit_way;
use crate::measure::{Kind, Region, Thing, Unit};
use crate::order::Order;
use crate::order::{Food, Question};
use crate::understand::grammar::{Grammar, give, way};
use crate::understand::lexicon::Lexicon;
use crate::understand::value::{Caps, Value};

pub(super) fn lay(g: &mut Grammar) {
    how_much(g);
    contains(g);
    counted_thing(g);
    convert(g);
    convert_heat(g);
    swap(g);
    mass_of(g);
}

fn how_much(g: &mut Grammar) {
    g.lay(
        "to_unit",
        vec![
            way("<u:unit>", |c, _| c.get("u").cloned()),
            give("spoons|=spoonfuls", Value::Sym("spoons")),
        ],
    );
    g.lay(
        "part",
        vec![
            way("<f:fraction> [of]", |c, _| c.get("f").cloned()),
            give("all [of]|the whole of", Value::Num(1.0)),
        ],
    );
    let build = |c: &Caps, _: &Lexicon| {
        Some(Order::HowMuch {
            ingredient: c.text("i")?,
            part: c.num("p").filter(|p| *p != 1.0),
            unit: c.text("u"),
        })
    };
    g.say(
        "how_much",
        &[
            "how (much|many) [of] <i:the_any> [do i need|do we need|is there|are there|should i use|=shall =i =use|goes in|go in|do i use|in total|do i want|=is =it|=are =there =in =it] [in <u:to_unit>]",
            "how many <u:unit> of <i:the_any> [do i need|do we need|is there|are there|should i use|goes in|go in|do i use]",
            "how many <u:to_unit> (is|are) <i:the_known>",
            "how (much|many) (is|are) <i:the_known> [in <u:to_unit>]",
            "how (much|many) is <p:part> <i:the_known> [in <u:to_unit>]",
            "how much [of] <p:part> <i:the_known> [in <u:to_unit>]",
            "what is <p:part> <i:the_known> [in <u:to_unit>]",
            "<p:part> <i:the_known>",
            "what (amount|weight) of <i:the_known> [do i need]",
            "[what is] the (amount|weight) of <i:the_known>",
            "<i:the_known> in <u:to_unit>",
            "how much should <i:the_known> (weigh|be)",
            "do i need (much|a lot of) <i:the_known>",
            "~<i:the_own>",
        ],
        build,
    );
    g.say(
        "hydration",
        &[
            "[what is] the hydration",
            "what hydration is (it|this)",
            "how (wet|hydrated) is (it|this|the dough)",
            "hydration",
            "[what are] the [baker|bakers] (percentages|percents)",
            "how much water is that in percent",
            "what (percent|percentage) [of] water is (it|this)",
            "read [me] the (percentages|=percents)",
            "[what is] the hydration of the dough",
        ],
        |_, _| Some(Order::Hydration),
    );
    g.say(
        "todays_size",
        &[
            "what are we (making|baking|cooking)",
            "what am i (making|baking|cooking)",
            "what [is] (this|the) (size|recipe|formula)",
            "what size (is it|is this|are we making)",
            "how (much|many) does it make",
            "which tin [do i need|is it]",
            "what tin [do i need|is it]",
        ],
        |_, _| Some(Order::TodaysSize),
    );
}

fn contains(g: &mut Grammar) {
    g.lay(
        "allergen",
        vec![
            give("gluten", Value::Sym("gluten")),
            give("wheat", Value::Sym("wheat")),
            give("milk|dairy", Value::Sym("milk")),
            give("lactose", Value::Sym("lactose")),
            give("eggs|egg", Value::Sym("eggs")),
            give("nuts|nut", Value::Sym("nuts")),
            give("tree nuts|tree nut", Value::Sym("tree nuts")),
            give("almonds|almond", Value::Sym("almonds")),
            give("hazelnuts|hazelnut", Value::Sym("hazelnuts")),
            give("walnuts|walnut", Value::Sym("walnuts")),
            give("cashews|cashew", Value::Sym("cashews")),
            give("pecans|pecan", Value::Sym("pecans")),
            give("pistachios|pistachio", Value::Sym("pistachios")),
            give("brazil nuts", Value::Sym("brazil nuts")),
            give("=macadamias|=macadamia [nuts]", Value::Sym("macadamias")),
            give("pine nuts", Value::Sym("pine nuts")),
            give("rye", Value::Sym("rye")),
            give("barley", Value::Sym("barley")),
            give("oats|oat", Value::Sym("oats")),
            give("pork", Value::Sym("pork")),
            give("meat", Value::Sym("meat")),
            give("alcohol", Value::Sym("alcohol")),
            give("gelatine|gelatin", Value::Sym("gelatine")),
            give("seafood", Value::Sym("seafood")),
            give("peanuts|peanut", Value::Sym("peanuts")),
            give("sesame", Value::Sym("sesame")),
            give("soya|soy|soybeans", Value::Sym("soybeans")),
            give("fish", Value::Sym("fish")),
            give("shellfish", Value::Sym("shellfish")),
            give("crustaceans|=crustacean", Value::Sym("crustaceans")),
            give("molluscs|=mollusks", Value::Sym("molluscs")),
            give("celery|=celeriac", Value::Sym("celery")),
            give("mustard", Value::Sym("mustard")),
            give("lupin|=lupine", Value::Sym("lupin")),
            give(
                "sulphites|=sulphite|=sulfites|=sulfite|=sulphur =dioxide",
                Value::Sym("sulphites"),
            ),
        ],
    );
    g.lay(
        "held",
        vec![
            way("[any|the|some] <n:allergen>", |c, _| c.get("n").cloned()),
            way("~[any|the|some] <n:own>", |c, _| c.get("n").cloned()),
            way("!~[any|the|some] <n:any>", |c, _| c.get("n").cloned()),
        ],
    );
    g.say(
        "contains",
        &[
            "(is|are) there <w:held> in (it|this|that|there|the formula|the recipe)",
            "does (it|this|the formula|the recipe) (contain|have|use|hold) <w:held> [in it]",
            "does (it|this) have <w:held>",
            "(is|has) (it|this) got <w:held> in it",
            "(is|are) <w:held> in (it|this)",
            "(is|are) there <w:held>",
            "will (it|this) have <w:held> in it",
            "do we use <w:held>|do i use <w:held>",
        ],
        |c, _| {
            Some(Order::Contains {
                absent: false,
                what: c.text("w")?,
            })
        },
    );
    g.say(
        "allergens",
        &[
            "what allergens (are in it|are in this|are there|does it have|does it contain|are in the formula)", "[what are] the allergens", "allergens", "(are|is) there any allergens [in it|in this]",
            "(list|read|tell me) [me] the allergens", "does it (contain|have) any allergens", "what about (allergies|allergens)",
            "what can people be allergic to",
        ],
        |_, _| Some(Order::Allergens),
    );
}

fn counted_thing(g: &mut Grammar) {
    let things = Unit::of_here(Region::Metric)
        .filter(|u| u.kind() == Kind::Count && *u != Unit::Count(Thing::Piece));
    g.lay("thing_word", things.map(|u| unit_way(u, "")).collect());
    g.lay(
        "counted_thing",
        vec![
            give("large (eggs|egg)|eggs|egg", Value::Sym("egg")),
            give("egg (whites|white)", Value::Sym("egg white")),
            give("egg (yolks|yolk)", Value::Sym("egg yolk")),
            give(
                "(cloves|clove) of garlic|garlic (cloves|clove)",
                Value::Sym("clove of garlic"),
            ),
            give("(sticks|stick) of butter", Value::Sym("stick of butter")),
            give(
                "(sheets|sheet|leaves|leaf) of (gelatine|gelatin)|(gelatine|gelatin) (leaves|leaf)",
                Value::Sym("sheet of gelatine"),
            ),
            give(
                "(packets|packet|=sachets|=sachet|=packs) of [dried|dry] yeast",
                Value::Sym("packet of yeast"),
            ),
            give("lemons|lemon", Value::Sym("lemon")),
            give("[=medium|=average] (onions|onion)", Value::Sym("onion")),
            give("[=medium|=average] (potatoes|potato)", Value::Sym("potato")),
            give("[=medium|=average] (carrots|carrot)", Value::Sym("carrot")),
            give("[=medium|=average] (tomatoes|tomato)", Value::Sym("tomato")),
            give("[=medium|=average] (apples|apple)", Value::Sym("apple")),
            give("[=medium|=average] (bananas|banana)", Value::Sym("banana")),
        ],
    );
    g.lay(
        "how_many",
        vec![
            way("<+:count>", |c, _| c.get("+").cloned()),
            give("a|an", Value::Num(1.0)),
            way("!<+:digits>", |c, _| c.get("+").cloned()),
        ],
    );
}

fn convert(g: &mut Grammar) {
    let build = |c: &Caps, _: &Lexicon| {
        let (number, from) = match c.amount("a") {
            Some((n, u)) => (n, u.into()),
            None => (1.0, c.text("from")?),
        };
        Some(Order::Ask(Question::Convert {
            number,
            from,
            to: c.text("to").or_else(|| c.has("to_g").then(|| "g".into()))?,
            ingredient: c.text("i"),
        }))
    };
    g.say(
        "convert",
        &[
            "how many <to:to_unit> (in|is|are|are in|are there in|make|makes|to|for|=equals) <a:amount> [of <i:the_stuff>]",
            "how many <to:unit> of <i:the_stuff> (in|is|are|are in|make|makes) <a:amount>",
            "how many <to:to_unit> (to|in|make) (the|a|an|one) <from:unit> [of <i:the_stuff>]",
            "how much is <a:amount> [of <i:the_stuff>] in <to:to_unit>",
            "what (is|are) <a:amount> [of <i:the_stuff>] (in|to|into) <to:to_unit>",
            "(convert|change|turn) <a:amount> [of <i:the_stuff>] (to|into|in) <to:to_unit>",
            "<a:amount> [of <i:the_stuff>] (in|to|into) <to:to_unit>",
            "what is <a:amount> [of <i:the_stuff>] as <to:to_unit>",
            "!how many <to:to_unit> (in|is|are|are in|for) <a:amount> of <i:unknown>|(what is|how much is|convert|change|turn) <a:amount> of <i:unknown> (in|to|into|as) <to:to_unit>|<a:amount> of <i:unknown> (in|to|into|as) <to:to_unit>",
            "!how many <to:to_unit> (in|is|are|are in|for) <a:amount> <i:the_stuff>",
            "!<a:amount> <i:the_stuff> (in|to|into|as) <to:to_unit>",
            "!(what (is|are)|how much is|convert|change|turn) <a:amount> <i:the_stuff> (in|to|into|as) <to:to_unit>",
            "!(grams {to_g: }|=g {to_g: }|<to:unit>) (in|for|of) <a:amount> [of] <i:the_stuff>",
        ],
        build,
    );
    g.say(
        "how_many_things",
        &[
            "how many <t:counted_thing> (is|are|in|make|makes|are in|for) <a:mass>",
            "!<a:mass> [of] <t:counted_thing> in (pieces|=numbers)",
            "!how many <w:thing_word> (is|are|in|make|makes|are in|for) <a:mass> [of] <i:the_stuff>",
        ],
        |c, _| {
            let thing = match (c.text::<String>("w"), c.text::<String>("i")) {
                (Some(one), Some(of)) => format!("{one} of {of}"),
                _ => c.text("t")?,
            };
            let (to, ingredient) = match thing.as_str() {
                "egg" | "egg white" | "egg yolk" => (thing.as_str(), None),
                "sheet of gelatine" => ("sheet", Some("leaf gelatine")),
                other => other
                    .split_once(" of ")
                    .map_or(("piece", Some(other)), |(one, of)| (one, Some(of))),
            };
            let (number, from) = c.amount("a")?;
            Some(Order::Ask(Question::Convert {
                number,
                from: from.into(),
                to: to.into(),
                ingredient: ingredient.map(Food::from),
            }))
        },
    );
    g.lay(
        "length",
        vec![
            way(
                "<n:quantity> (centimetres|centimetre|centimeters|centimeter|=cm|=cms)",
                |c, _| Some(Value::Amount(c.num("n")?, "cm")),
            ),
            way("<n:quantity> (inches|inch|=in|=ins)", |c, _| {
                Some(Value::Amount(c.num("n")?, "inch"))
            }),
            way(
                "!<n:quantity> (=millimetres|=millimetre|=millimeters|=mm)",
                |c, _| Some(Value::Amount(c.num("n")?, "mm")),
            ),
        ],
    );
    g.lay(
        "length_unit",
        vec![
            give(
                "centimetres|centimeters|=cm|=centimetre|=centimeter",
                Value::Sym("cm"),
            ),
            give("inches|=inch|=in", Value::Sym("inch")),
            give("=millimetres|=millimeters|=mm", Value::Sym("mm")),
        ],
    );
    g.say(
        "convert_length",
        &[
            "how many <to:length_unit> (is|are|in|are in|to) <a:length>",
            "how many <to:length_unit> (in|to|make) (an|a|one) {one: inch}",
            "what is [a|an] <a:length> [tin|round tin|pan] in <to:length_unit>",
            "[a|an] <a:length> [tin|round tin|pan] (in|to) <to:length_unit>",
            "how (big|=wide) is (a|an) <a:length> [round|square] (tin|pan) [in <to:length_unit>]",
            "(convert|change|turn) <a:length> (to|into|in) <to:length_unit>",
        ],
        |c, _| {
            let (number, from) = c.amount("a").or(c.has("one").then_some((1.0, "inch")))?;
            Some(Order::Ask(Question::Convert {
                number,
                from: from.into(),
                to: c
                    .text("to")
                    .unwrap_or_else(|| if from == "inch" { "cm" } else { "inch" }.into()),
                ingredient: None,
            }))
        },
    );
    g.say(
        "weight_of_measure",
        &[
            "how much does <a:amount> of <i:the_stuff> weigh", "how heavy is <a:amount> of <i:the_stuff>", "what does <a:amount> of <i:the_stuff> weigh",
            "[what is] the weight of <a:amount> of <i:the_stuff>", "what do <a:amount> of <i:the_stuff> weigh|how much do <a:amount> of <i:the_stuff> weigh",
            "weigh <a:amount> of <i:the_stuff>",
            "{of_which: how much is} <a:amount> of <i:the_stuff>",
            "!(how much|what) (does|do) <a:amount> of <i:unknown> weigh|[what is] the weight of <a:amount> of <i:unknown>|how heavy (is|are) <a:amount> of <i:unknown>",
        ],
        |c, _| {
            let (number, from) = c.amount("a")?;
            // 'How much is' so many grams asks for the other kind of measure.
            let weighed = ["g", "kg", "oz", "lb"].contains(&from);
            let to = if weighed && c.has("of_which") { "cup" } else { "g" };
            let (from, to) = (from.into(), to.into());
            Some(Order::Ask(Question::Convert { number, from, to, ingredient: c.text("i") }))
        },
    );
}

fn convert_heat(g: &mut Grammar) {
    g.lay(
        "below_nought",
        vec![way("minus <n:level_number> [degrees]", |c, _| {
            Some(Value::Num(-c.num("n")?))
        })],
    );
    g.say(
        "convert_heat",
        &[
            "what (is|are) <h:scaled_heat> [in|into|as|to] <to:to_scale>",
            "(convert|change|turn) <h:scaled_heat> (to|into|in) <to:to_scale>",
            "<h:scaled_heat> (in|to|into) <to:to_scale>",
            "how (hot|much) is <h:scaled_heat> in <to:to_scale>",
            "what <to:to_scale> is <h:scaled_heat>",
            "<to:to_scale> for <h:scaled_heat>|what is the <to:to_scale> for <h:scaled_heat>",
            "how many degrees <to:to_scale> is <h:scaled_heat>",
            "what is <h:scaled_heat> in <to:to_scale>",
        ],
        |c, _| heat_question(c, None),
    );
    // The scale is not said: Celsius, but for Fahrenheit from Celsius' place.
    g.say(
        "convert_bare_heat",
        &[
            "what is <h:bare_heat> [in|into|as|to] <to:to_scale>",
            "(convert|change|turn) <h:bare_heat> (to|into|in) <to:to_scale>",
            "<h:bare_heat> (in|to|into) <to:to_scale>",
            "gas mark for <h:heat>",
            "what gas mark (is|for) <h:heat>",
            "[what is] the gas mark for <h:heat>",
            "[what is] <h:level_number> in (celsius|centigrade) {to_c: }",
            "[what is] <h:level_number> in fahrenheit {to_f: }",
            "[what is] <h:below_nought> in (fahrenheit {to_f: }|celsius {to_c: })",
            "what is <h:level_number> in gas [mark] {to_gas: }",
            "what is <h:level_number> [in|for] a fan oven {to_fan: }",
            "what (do|should) i set (a|the|my) fan oven to for <h:heat> {to_fan: }",
            "[what is] the fan temperature for <h:heat> {to_fan: }",
            "!how hot is <h:scaled_heat> {to_c: }|what [oven] temperature is <h:scaled_heat> {to_c: }|what does <h:scaled_heat> mean {to_c: }",
            "!<h:scaled_heat> (in|to) {to_c: =conventional|=normal|=ordinary|=static} [oven]|what is <h:scaled_heat> in {to_c: a =conventional|=conventional|a normal} [oven]",
        ],
        |c, _| {
            let to = [
                ("to_c", "c"),
                ("to_f", "f"),
                ("to_gas", "gas"),
                ("to_fan", "fan"),
            ]
            .into_iter()
            .find(|(k, _)| c.has(k));
            let to = to.map(|(_, to)| to).or(c.sym("to")).unwrap_or("gas");
            heat_question(c, Some(to))
        },
    );
}

fn heat_question(c: &Caps, to: Option<&'static str>) -> Option<Order> {
    let to = to.or(c.sym("to"))?;
    let (number, from) = match c.get("h")? {
        Value::Heat(n, Some(scale)) => (*n, *scale),
        Value::Heat(n, None) | Value::Num(n) => (*n, if to == "c" { "f" } else { "c" }),
        _ => return None,
    };
    Some(Order::Ask(Question::ConvertTemperature {
        number,
        from: from.into(),
        to: to.into(),
    }))
}

fn swap(g: &mut Grammar) {
    g.lay(
        "yeast_kind",
        vec![
            give("fresh [yeast]", Value::Sym("fresh yeast")),
            give(
                "(dried|dry|active dry|active dried) [yeast]",
                Value::Sym("active dried yeast"),
            ),
            give(
                "(instant|easy|fast action|quick) [dried|dry] [yeast]",
                Value::Sym("instant yeast"),
            ),
        ],
    );
    g.lay(
        "swapped",
        vec![
            way("[the|any|=some] <n:yeast_kind>", |c, _| c.get("n").cloned()),
            way("~<n:the_stuff>", |c, _| c.get("n").cloned()),
        ],
    );
    g.lay(
        "swapped_known",
        vec![
            way("[the|any|=some] <n:yeast_kind>", |c, _| c.get("n").cloned()),
            way("~<n:the_known_stuff>", |c, _| c.get("n").cloned()),
            way("~[the|any] <n:replaceable>", |c, _| c.get("n").cloned()),
        ],
    );
    g.say(
        "swap",
        &[
            "what (can|could|should|=do) i use (instead of|in place of|for) <of:swapped>", "what can i (swap|substitute|replace) [for] <of:swapped_known> [with]", "[what is] a (substitute|swap|replacement) for <of:swapped_known>",
            "i (have no|have not got any|do not have any|do not have|am out of|have run out of|ran out of) [=any] <of:swapped_known>", "there is no <of:swapped_known>|there is no more <of:swapped_known>",
            "instead of <of:swapped_known>", "(substitute|swap|replacement) for <of:swapped_known>", "what (instead of|replaces|can replace|could replace) <of:swapped_known>", "what if i have no <of:swapped_known>",
            "can i (leave out|replace) <of:swapped_known>",
            "!what (can|could) i use if i (have no|have not got any|do not have any|do not have|am out of|have run out of) <of:swapped_known>",
            "!how (do|can|could) i make [=my =own|some] <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, None, None),
    );
    g.say(
        "swap_with",
        &[
            "can i use <with:swapped> (instead of|for|in place of) <of:swapped_known>",
            "how much <with:swapped> (instead of|for|in place of) <of:swapped_known>",
            "(swap|replace) <of:swapped_known> (for|with|by) <with:swapped>|substitute <of:swapped_known> (with|by) <with:swapped>",
            "substitute <with:swapped> for <of:swapped_known>",
            "use <with:swapped> instead of <of:swapped_known>",
            "i have <with:swapped> instead of <of:swapped_known>",
            "how much <with:swapped> [do i need|should i use] instead of <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, c.text("with"), None),
    );
    g.say(
        "swap_amount",
        &[
            "how much <with:swapped> (for|instead of|is|makes|replaces|in place of) <a:amount> [of] <of:swapped_known>", "!how many grams of <with:swapped> (for|instead of|is|replaces|in place of) <a:amount> [of] <of:swapped_known>", "(swap|replace) <a:amount> [of] <of:swapped_known> (for|with|by) <with:swapped>", "!substitute <a:amount> [of] <of:swapped_known> (with|by) <with:swapped>|substitute <with:swapped> for <a:amount> [of] <of:swapped_known>",
            "<a:amount> [of] <of:swapped_known> (as|in) <with:swapped>", "what is <a:amount> [of] <of:swapped_known> (as|in) <with:swapped>", "how much <with:swapped> is <a:amount> [of] <of:swapped_known>",
            "use <with:swapped> instead of <a:amount> [of] <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, c.text("with"), c.amount("a")),
    );
    g.lay(
        "some_eggs",
        vec![way("<n:how_many> (eggs|egg)", |c, _| {
            Some(Value::Amount(c.num("n")?, "egg"))
        })],
    );
    g.say(
        "swap_eggs",
        &[
            "what (can|could|should) i use instead of <a:some_eggs>",
            "how much <with:swapped> (for|instead of) <a:some_eggs>",
            "!how many grams of <with:swapped> (for|instead of|is|replaces|in place of) <a:some_eggs>",
            "!(swap|replace|substitute) <a:some_eggs> (for|with|by) <with:swapped>",
            "!use <with:swapped> instead of <a:some_eggs>",
            "![a] substitute for <a:some_eggs>",
        ],
        |c, _| swap_question("egg".into(), c.text("with"), c.amount("a")),
    );
    g.say(
        "swap_kind",
        &[
            "how much <with:swapped> instead",
            "what if i (use|have) <with:yeast_kind> [instead]",
            "can i use <with:swapped> [instead]",
            "i (only have|have only|only have got|have only got) <with:swapped>",
            "use <with:swapped> instead",
            "how much if i use <with:yeast_kind>|how much <with:yeast_kind> if i use that",
        ],
        |c, l| {
            let with: Food = c.text("with")?;
            let of = same_kind(&with, l);
            swap_question(of, Some(with), None)
        },
    );
}

fn swap_question(of: Food, with: Option<Food>, amount: Option<(f64, &str)>) -> Option<Order> {
    let (number, unit) = (amount.map(|a| a.0), amount.map(|a| a.1.into()));
    Some(Order::Ask(Question::Swap {
        of,
        with,
        number,
        unit,
    }))
}

/// What the formula holds of the same kind (`fresh yeast` is asked about where the formula has `instant yeast`).
fn same_kind(with: &Food, lexicon: &Lexicon) -> Food {
    let kind = with.rsplit(' ').next().unwrap_or(with);
    let own = lexicon
        .own
        .iter()
        .find(|o| o.name.rsplit(' ').next() == Some(kind) && with != o.table.as_str());
    own.map_or_else(|| kind.into(), |o| o.table.as_str().into())
}

fn mass_of(g: &mut Grammar) {
    g.say(
        "mass_of",
        &[
            "how much (does|do) <n:how_many> <t:counted_thing> weigh",
            "how heavy (is|are) <n:how_many> <t:counted_thing>",
            "what (does|do) <n:how_many> <t:counted_thing> weigh",
            "[what is] the weight of <n:how_many> <t:counted_thing>",
            "how many grams (is|are|in|does|do) <n:how_many> <t:counted_thing> [weigh]",
            "how much is <n:how_many> <t:counted_thing> [in grams]",
            "weight of <n:how_many> <t:counted_thing>",
        ],
        |c, _| {
            Some(Order::Ask(Question::MassOf {
                number: c.num("n")?,
                ingredient: c.text("t")?,
            }))
        },
    );
    g.lay(
        "squeezed",
        vec![
            give("lemons|lemon", Value::Sym("lemon juice")),
            give("limes|lime", Value::Sym("lime juice")),
            give("oranges|orange", Value::Sym("orange juice")),
        ],
    );
    // Anything that the tables know by the piece, when it is typed.
    g.say(
        "mass_of_any",
        &[
            "!~~(how much|what) (does|do) <n:how_many> [=medium|=average] [<w:thing_word> of] <i:the_stuff> weigh",
            "!~~how heavy (is|are) <n:how_many> [=medium|=average] [<w:thing_word> of] <i:the_stuff>",
            "!~~how many grams (is|are|in) <n:how_many> [<w:thing_word> of] <i:the_stuff>",
            "!~~(how much|what) (does|do) <n:how_many> <i:unknown> weigh|how heavy (is|are) <n:how_many> <i:unknown>",
            "!~~how much juice [is|are] (in|there in) <n:how_many> <j:squeezed>|how much is the juice of <n:how_many> <j:squeezed>|how much juice does <n:how_many> <j:squeezed> (give|make|=yield)",
        ],
        |c, _| {
            let what: String = c.text("j").or(c.text("i"))?;
            let ingredient = match c.text::<String>("w") {
                Some(one) => format!("{one} of {what}").into(),
                None => what.into(),
            };
            Some(Order::Ask(Question::MassOf {
                number: c.num("n")?,
                ingredient,
            }))
        },
    );
}
