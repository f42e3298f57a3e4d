//! Questions about quantities, conversions, oven heat, swaps and what is in the formula.

use super::asked::{asked, many};
use super::book::{Book, give, way};
use super::key::Key;
use super::keys::{
    Answers, Before, Choices, Keys, Press, ingredients, ingredients_and, number, number_or_none,
    numbered, one_of, pairs, words,
};
use super::order::Order;
use super::place::Place;
use super::question::Question;
use super::refs::Food;
use super::said::say_number;
use super::situation::Situation;
use super::slots::{Caps, Value};
use super::unit_symbol::UnitSymbol;
use super::units::unit_way;
use crate::measure::{Kind, Region, Thing, Unit};

macro_rules! asking {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// How much of one of the formula's ingredients, at today's scale.
        HowMuch {
            /// The ingredient.
            ingredient: IngredientId,
            /// A part of it, as a factor: half is 0.5.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            part: Option<f64> => Times,
            /// The unit wanted, by its symbol in `measure` (`g`, `oz`, `tsp`, `tbsp`, `cup`, `ml`...).
            #[serde(default, skip_serializing_if = "Option::is_none")]
            unit: Option<UnitSymbol>,
        },
        /// A question that the arithmetic answers, with or without a formula.
        Ask(Question),
        /// Does the formula contain this allergen or ingredient, or is it free of it?
        Contains {
            /// What is asked about: an allergen, an ingredient, a way of eating.
            what: Food,
            /// The cook hopes that there is none: 'is it dairy free', 'can a vegan eat this'.
            #[serde(default, skip_serializing_if = "std::ops::Not::not")]
            absent: bool,
        },
        /// Which allergens does the formula hold?
        Allergens,
        /// What the packet of an ingredient says of an allergen.
        Packet {
            /// The ingredient.
            ingredient: IngredientId,
            /// The allergen.
            what: Food,
            /// The packet says that there is none.
            #[serde(default, skip_serializing_if = "std::ops::Not::not")]
            absent: bool,
        },
        /// Baker's percentages and hydration of the formula.
        Hydration,

        /// What the thermometer shows in the middle of the food, in Celsius.
        CoreReads {
            /// How hot it is there.
            core_c: f64 => Celsius,
        },
        /// What one piece weighs.
        PieceMass,
        /// How much dough there is in all.
        DoughMass,

        /// What is being made today, in what size and in which tin.
        TodaysSize,
        /// Which tin the formula is for.
        AskTin,
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    how_much(g);
    contains(g);
    counted_thing(g);
    convert(g);
    convert_heat(g);
    swap(g);
    mass_of(g);
}

fn how_much(g: &mut Book) {
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
    let build = |c: &Caps, _: &Situation| {
        Some(Order::HowMuch {
            ingredient: c.text("i")?,
            part: c.num("p").filter(|p| *p != 1.0),
            unit: c.unit("u"),
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
            "how many (<p:piece>|portions) [do i get|are there|does it make|do i make|are we making|will there be]",
            "how many (people|portions) (is it|is this) for|how many (people|portions) does it (feed|serve)",
        ],
        |_, _| Some(Order::TodaysSize),
    );
    g.say(
        "piece_mass",
        &[
            "how much (does|should|will|must) (each|one|a) (<p:piece>|piece|ball|bun|roll|loaf) (weigh|be)",
            "how heavy (is|should|must) (each|one|a) (<p:piece>|piece|ball|bun|roll|loaf) [be]",
            "(what is|how much is) the weight of (each|one|a) (<p:piece>|piece|ball|bun|roll|loaf)",
            "how many grams (is|for|in) (each|one|a) (<p:piece>|piece|ball|bun|roll|loaf)",
            "how much dough (for|in|goes in) (each|one|a) (<p:piece>|piece|ball|bun|roll|loaf)",
        ],
        |_, _| Some(Order::PieceMass),
    );
    g.say(
        "dough_mass_here",
        &[
            "how much dough (have i got|do i have|is there|have we got|do we have)|how much dough (have i got|do i have|have we got|do we have) (in all|altogether)",
            "how much does (the dough|it all) weigh [in all|altogether]",
            "what does the dough weigh [in all|altogether]",
            "how heavy is the dough|the weight of the dough",
        ],
        |_, _| Some(Order::DoughMass),
    );
    g.say(
        "ask_tin",
        &[
            "which (tin|pan|dish|tray) [do i need|do i use|should i use|is it]",
            "what (tin|pan|dish|tray) [do i need|do i use|should i use|is it]",
            "what size (tin|pan|dish|tray) [do i need|is it]",
            "how big (is|should) the (tin|pan|dish|tray) [be]",
        ],
        |_, _| Some(Order::AskTin),
    );
}

fn contains(g: &mut Book) {
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

fn counted_thing(g: &mut Book) {
    let things = Unit::of_here(Region::Metric)
        .filter(|u| u.kind() == Kind::Count && *u != Unit::Count(Thing::Piece));
    g.lay("thing_word", things.map(|u| unit_way(u, "")).collect());
    g.lay(
        "counted_thing",
        vec![
            give("eggs|egg", Value::Sym("egg")),
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

fn convert(g: &mut Book) {
    let build = |c: &Caps, _: &Situation| {
        let (number, from) = match c.measured("a") {
            Some(amount) => amount,
            None => (1.0, c.unit("from")?),
        };
        Some(Order::Ask(Question::Convert {
            number,
            from,
            to: c.unit("to").or(c.has("to_g").then_some(UnitSymbol::GRAM))?,
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
            let (number, from) = c.measured("a")?;
            Some(Order::Ask(Question::Convert {
                number,
                from,
                to: to.parse().ok()?,
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
            let (cm, inch) = (UnitSymbol::CENTIMETRE, UnitSymbol::INCH);
            let one = c.has("one").then_some((1.0, inch));
            let (number, from) = c.measured("a").or(one)?;
            Some(Order::Ask(Question::Convert {
                number,
                from,
                to: c.unit("to").unwrap_or(if from == inch { cm } else { inch }),
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
            let (number, from) = c.measured("a")?;
            // 'How much is' so many grams asks for the other kind of measure.
            let weighed = ["g", "kg", "oz", "lb"].contains(&&*from);
            let to = if weighed && c.has("of_which") { UnitSymbol::CUP } else { UnitSymbol::GRAM };
            Some(Order::Ask(Question::Convert { number, from, to, ingredient: c.text("i") }))
        },
    );
}

fn convert_heat(g: &mut Book) {
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
        from: from.parse().ok()?,
        to: to.parse().ok()?,
    }))
}

fn swap(g: &mut Book) {
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
        |c, _| swap_question(c.text("of")?, c.text("with"), c.measured("a")),
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
        |c, _| swap_question("egg".into(), c.text("with"), c.measured("a")),
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

fn swap_question(of: Food, with: Option<Food>, amount: Option<(f64, UnitSymbol)>) -> Option<Order> {
    let (number, unit) = (amount.map(|a| a.0), amount.map(|a| a.1));
    Some(Order::Ask(Question::Swap {
        of,
        with,
        number,
        unit,
    }))
}

/// What the formula holds of the same kind (`fresh yeast` is asked about where the formula has `instant yeast`).
fn same_kind(with: &Food, situation: &Situation) -> Food {
    let kind = with.rsplit(' ').next().unwrap_or(with);
    let own = situation
        .ingredients
        .iter()
        .find(|o| o.name.rsplit(' ').next() == Some(kind) && with != o.table.as_str());
    own.map_or_else(|| kind.into(), |o| o.table.as_str().into())
}

fn mass_of(g: &mut Book) {
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

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    Some(match order {
        Order::HowMuch {
            ingredient,
            part,
            unit,
        } => {
            let part = part.map_or_else(String::new, |p| format!("{} of ", say_number(p)));
            let unit = unit
                .as_deref()
                .map_or_else(String::new, |u| format!(" in {}", many(u)));
            format!(
                "how much is {part}the {}{unit}",
                here.ingredient(ingredient)
            )
        }
        Order::Ask(question) => asked(question),
        Order::Contains { what, absent: true } => match what.to_string().as_str() {
            diet @ ("vegan" | "vegetarian" | "pescatarian") => format!("is it {diet}"),
            _ => format!("is it free of {}", here.ingredient(what)),
        },
        Order::Contains { what, .. } => format!("is there {} in it", here.ingredient(what)),
        Order::Allergens => "the allergens".into(),
        Order::Hydration => "the hydration".into(),
        Order::CoreReads { core_c } => {
            format!("it is at {} degrees inside", say_number(*core_c))
        }
        Order::PieceMass => "what one piece weighs".into(),
        Order::DoughMass => "how much dough there is".into(),
        Order::TodaysSize => "what we are making".into(),
        Order::AskTin => "which tin you need".into(),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::HowMuch { .. }
            | Order::Ask(_)
            | Order::Contains { .. }
            | Order::Allergens
            | Order::Hydration
            | Order::PieceMass
            | Order::DoughMass
            | Order::TodaysSize
            | Order::AskTin
    )
}

/// What is hoped not to be in it, ways of eating first.
const FREE_OF: &[&str] = &[
    "vegan",
    "vegetarian",
    "gluten",
    "milk",
    "lactose",
    "egg",
    "nuts",
    "peanuts",
    "sesame",
    "soya",
    "fish",
    "shellfish",
    "pork",
    "alcohol",
];

/// The fourteen of Regulation (EU) No 1169/2011, annex II, as they are said.
pub(super) const ALLERGENS: &[&str] = &[
    "gluten",
    "milk",
    "eggs",
    "nuts",
    "peanuts",
    "sesame",
    "soya",
    "fish",
    "crustaceans",
    "molluscs",
    "celery",
    "mustard",
    "lupin",
    "sulphites",
];

/// Units as they are offered: as said, and by their symbols.
const UNITS: &[(&str, &str)] = &[
    ("grams", "g"),
    ("millilitres", "ml"),
    ("cups", "cup"),
    ("teaspoons", "tsp"),
    ("tablespoons", "tbsp"),
    ("ounces", "oz"),
    ("fluid ounces", "fl oz"),
    ("pounds", "lb"),
    ("kilograms", "kg"),
    ("litres", "l"),
];

/// What an amount can be turned into: spoons of both sizes as well.
fn into_units(_: &Situation) -> Choices {
    let mut all = pairs(UNITS)?;
    all.extend(pairs(&[("spoons, large and small", "spoons")])?);
    Ok(all)
}

const DEGREES: &[(&str, &str)] = &[
    ("Celsius", "c"),
    ("Fahrenheit", "f"),
    ("gas mark", "gas"),
    ("Celsius with fan", "fan"),
];

/// From mass to volume or back the ingredient counts.
fn needs_ingredient(a: &Answers) -> bool {
    let is_mass = |at| {
        let unit = Unit::find(a.word(at).unwrap_or_default(), Region::Metric);
        unit.is_ok_and(|unit| unit.kind() == Kind::Mass)
    };
    is_mass(1) != is_mass(2)
}

/// How much of an ingredient, or a part of it.
fn how_much_of(a: &Answers, part: Option<f64>) -> Order {
    Order::HowMuch {
        ingredient: a.ingredient(0),
        part,
        unit: None,
    }
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.key(
        Key::Divide,
        Place::Step,
        "how much of which ingredient",
        |_, _| Press::Open("/", Vec::new()),
    );
    k.path(
        "/",
        "how much",
        vec![one_of("How much of which?", ingredients)],
        |a, _| Ok(how_much_of(a, None)),
    );
    k.show(
        "/ Enter",
        Place::Step,
        "how much: a list of the ingredients",
    );
    k.stroke(
        Before::Number,
        Key::Divide,
        Place::Step,
        "how much of ingredient number {n}",
        |n, here| {
            numbered(n, here, |ingredient| Order::HowMuch {
                ingredient,
                part: None,
                unit: None,
            })
        },
    );
    k.show("3 /", Place::Step, "how much of the third ingredient");
    k.list_of(". 3", "one ingredient", "Which ingredient?", ingredients);
    k.list(". 3 #", "", "");
    k.path(". 3 # 1", "how much", vec![], |a, _| {
        Ok(how_much_of(a, None))
    });
    k.path(". 3 # 5", "half of it", vec![], |a, _| {
        Ok(how_much_of(a, Some(0.5)))
    });
    k.show(". 3 1 5", Place::Step, "half of the first ingredient");
    k.path(". 3 # 6", "a third of it", vec![], |a, _| {
        Ok(how_much_of(a, Some(1.0 / 3.0)))
    });
    k.path(
        ". 3 # 7",
        "its amount in another unit",
        vec![one_of("In what?", into_units)],
        |a, _| {
            Ok(Order::HowMuch {
                ingredient: a.ingredient(0),
                part: None,
                unit: Some(a.unit(1)),
            })
        },
    );
    k.show(". 3 1 7 6", Place::Step, "the first ingredient in ounces");
    k.path(
        ". 3 # 9",
        "what to use instead",
        vec![number_or_none("How many grams of it?")],
        instead,
    );
    k.item(". 9 2", "its allergens", "the allergens", |_, _| {
        Ok(Order::Allergens)
    });
    k.path(
        ". 9 3",
        "does it contain a certain thing",
        vec![one_of("Does it contain what?", |_| words(ALLERGENS))],
        |a, _| {
            Ok(Order::Contains {
                absent: false,
                what: a.word(0).unwrap_or_default().into(),
            })
        },
    );
    k.show(". 9 3 2", Place::Step, "is there milk in it");
    k.path(
        ". 9 11",
        "is it free of a certain thing, or for a way of eating",
        vec![one_of("Free of what, or for whom?", |_| words(FREE_OF))],
        |a, _| {
            Ok(Order::Contains {
                absent: true,
                what: a.word(0).unwrap_or_default().into(),
            })
        },
    );
    k.show(". 9 - - - Enter 1", Place::Step, "is it vegan");
    k.item(". 9 4", "its hydration", "the hydration", |_, _| {
        Ok(Order::Hydration)
    });
    k.item(
        ". 9 7",
        "what we are making, and its size",
        "what we are making, and its size",
        |_, _| Ok(Order::TodaysSize),
    );
    k.item(
        ". 7 10 8",
        "what one piece weighs",
        "what one piece weighs",
        |_, _| Ok(Order::PieceMass),
    );
    k.item(
        ". 7 10 9",
        "how much dough there is",
        "how much dough there is",
        |_, _| Ok(Order::DoughMass),
    );
    k.path(". 6 12", "which tin it needs", vec![], |_, _| {
        Ok(Order::AskTin)
    });
    k.show(". 6 - Enter", Place::Step, "which tin it needs");
    question_keys(k);
}

/// What to use instead of so much of an ingredient.
fn instead(a: &Answers, here: &Situation) -> Result<Order, String> {
    Ok(Order::Ask(Question::Swap {
        of: a.food(0, here).ok_or("Nothing was chosen.")?,
        with: None,
        number: a.maybe(1),
        unit: a.maybe(1).map(|_| UnitSymbol::GRAM),
    }))
}

fn question_keys(k: &mut Keys) {
    k.list(". 7", "questions", "Questions.");
    k.path(
        ". 7 1",
        "turn an amount into another unit",
        vec![
            number("How many?"),
            one_of("Of what unit?", |_| pairs(UNITS)),
            one_of("Into what?", into_units),
            one_of("Of which ingredient?", |here| {
                ingredients_and(
                    here,
                    &[
                        "flour",
                        "caster sugar",
                        "butter",
                        "milk",
                        "water",
                        "honey",
                        "salt",
                        "rolled oats",
                    ],
                )
            })
            .when(needs_ingredient),
        ],
        |a, here| {
            Ok(Order::Ask(Question::Convert {
                number: a.number(0),
                from: a.unit(1),
                to: a.unit(2),
                ingredient: a.food(3, here),
            }))
        },
    );
    k.show(
        ". 7 1 2 Enter 3 1 1",
        Place::Step,
        "2 cups of the first ingredient in grams",
    );
    k.path(
        ". 7 2",
        "turn an oven heat into another scale",
        vec![
            number("What heat?"),
            one_of("On what scale?", |_| pairs(DEGREES)),
            one_of("Into what?", |_| pairs(DEGREES)),
        ],
        |a, _| {
            Ok(Order::Ask(Question::ConvertTemperature {
                number: a.number(0),
                from: a.unit(1),
                to: a.unit(2),
            }))
        },
    );
    k.show(
        ". 7 2 2 2 0 Enter 1 2",
        Place::Step,
        "220 Celsius in Fahrenheit",
    );
    k.path(
        ". 7 3",
        "what to use instead",
        vec![
            one_of("Instead of what?", |here| {
                ingredients_and(
                    here,
                    &[
                        "instant yeast",
                        "active dried yeast",
                        "fresh yeast",
                        "butter",
                        "milk",
                        "buttermilk",
                        "egg",
                        "self-raising flour",
                        "caster sugar",
                    ],
                )
            }),
            number_or_none("How many grams of it?"),
        ],
        instead,
    );
    k.show(
        ". 7 3 4 7 Enter",
        Place::Step,
        "what to use instead of 7 grams of the fourth ingredient",
    );
    k.path(
        ". 7 4",
        "what a thing weighs",
        vec![
            number("How many of them?"),
            one_of("Of what?", |_| {
                words(["egg", "egg white", "egg yolk", "clove of garlic"])
            }),
        ],
        |a, here| {
            Ok(Order::Ask(Question::MassOf {
                number: a.number(0),
                ingredient: a.food(1, here).ok_or("Nothing was chosen.")?,
            }))
        },
    );
    k.show(". 7 4 2 Enter 1", Place::Step, "what 2 eggs weigh");
    k.path(
        ". 7 7",
        "centimetres and inches",
        vec![
            number("How many?"),
            one_of("Which way?", |_| {
                pairs(&[
                    ("centimetres into inches", "cm"),
                    ("inches into centimetres", "inch"),
                ])
            }),
        ],
        |a, _| {
            let from = a.unit(1);
            let to = if from == UnitSymbol::CENTIMETRE {
                UnitSymbol::INCH
            } else {
                UnitSymbol::CENTIMETRE
            };
            Ok(Order::Ask(Question::Convert {
                number: a.number(0),
                from,
                to,
                ingredient: None,
            }))
        },
    );
    k.show(". 7 7 9 Enter 2", Place::Step, "9 inches in centimetres");
}
