//! Questions about quantities, conversions, heat, swaps and what is in the formula.

use crate::ask::Question;
use crate::understand::grammar::{Grammar, give, way};
use crate::understand::intent::Intent;
use crate::understand::lexicon::Lexicon;
use crate::understand::value::{Caps, Value};

pub(super) fn lay(g: &mut Grammar) {
    how_much(g);
    contains(g);
    convert(g);
    convert_heat(g);
    swap(g);
    percent(g);
    water_heat(g);
    rise(g);
    safe(g);
    pieces(g);
    mass_of(g);
}

fn how_much(g: &mut Grammar) {
    g.lay(
        "part",
        vec![
            way("<f:fraction> [of]", |c, _| c.get("f").cloned()),
            give("all [of]|the whole of", Value::Num(1.0)),
        ],
    );
    let build = |c: &Caps, _: &Lexicon| {
        Some(Intent::HowMuch {
            ingredient: c.text("i")?,
            part: c.num("p").filter(|p| *p != 1.0),
            unit: c.text("u"),
        })
    };
    g.say(
        "how_much",
        &[
            "how (much|many) [of] <i:the_any> [do i need|do we need|is there|are there|should i use|=shall =i =use|goes in|go in|do i use|in total|do i want|=is =it|=are =there =in =it] [in <u:unit>]",
            "how many <u:unit> of <i:the_any> [do i need|do we need|is there|are there|should i use|goes in|go in|do i use]",
            "how (much|many) (is|are) <i:the_known> [in <u:unit>]",
            "how (much|many) is <p:part> <i:the_known> [in <u:unit>]",
            "how much [of] <p:part> <i:the_known> [in <u:unit>]",
            "what is <p:part> <i:the_known> [in <u:unit>]",
            "<p:part> <i:the_known>",
            "what (amount|weight) of <i:the_known> [do i need]",
            "[what is] the (amount|weight) of <i:the_known>",
            "<i:the_known> in <u:unit>",
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
        |_, _| Some(Intent::Hydration),
    );
}

fn contains(g: &mut Grammar) {
    g.lay(
        "allergen",
        vec![
            give("gluten", Value::Sym("gluten")),
            give("wheat", Value::Sym("wheat")),
            give("milk|dairy|lactose", Value::Sym("milk")),
            give("eggs|egg", Value::Sym("eggs")),
            give("nuts|nut|tree nuts", Value::Sym("nuts")),
            give("peanuts|peanut", Value::Sym("peanuts")),
            give("sesame", Value::Sym("sesame")),
            give("soya|soy|soybeans", Value::Sym("soybeans")),
            give("fish", Value::Sym("fish")),
            give("shellfish", Value::Sym("shellfish")),
            give("crustaceans|=crustacean", Value::Sym("crustaceans")),
            give("molluscs|=mollusks", Value::Sym("molluscs")),
            give("celery", Value::Sym("celery")),
            give("mustard", Value::Sym("mustard")),
            give("lupin", Value::Sym("lupin")),
            give(
                "sulphites|=sulfites|=sulphur =dioxide",
                Value::Sym("sulphites"),
            ),
        ],
    );
    g.lay(
        "held",
        vec![
            way("[any|the|some] <n:allergen>", |c, _| {
                c.text("n").map(Value::Text)
            }),
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
            "is (it|this) <w:allergen> free",
            "is (it|this) free (of|from) <w:held>",
            "will (it|this) have <w:held> in it",
            "do we use <w:held>|do i use <w:held>",
        ],
        |c, _| Some(Intent::Contains { what: c.text("w")? }),
    );
    g.say(
        "allergens",
        &[
            "what allergens (are in it|are in this|are there|does it have|does it contain|are in the formula)", "[what are] the allergens", "allergens", "(are|is) there any allergens [in it|in this]",
            "(list|read|tell me) [me] the allergens", "does it (contain|have) any allergens", "what about (allergies|allergens)",
            "what can people be allergic to",
        ],
        |_, _| Some(Intent::Allergens),
    );
}

fn convert(g: &mut Grammar) {
    let build = |c: &Caps, _: &Lexicon| {
        let (number, from) = match c.amount("a") {
            Some((n, u)) => (n, u.to_string()),
            None => (1.0, c.text("from")?),
        };
        Some(Intent::Ask(Question::Convert {
            number,
            from,
            to: c.text("to")?,
            ingredient: c.text("i"),
        }))
    };
    g.say(
        "convert",
        &[
            "how many <to:unit> (in|is|are|are in|are there in|make|makes|to|=equals) <a:amount> [of <i:the_stuff>]",
            "how many <to:unit> of <i:the_stuff> (in|is|are|are in|make|makes) <a:amount>",
            "how many <to:unit> (to|in|make) (the|a|an|one) <from:unit> [of <i:the_stuff>]",
            "how much is <a:amount> [of <i:the_stuff>] in <to:unit>",
            "what (is|are) <a:amount> [of <i:the_stuff>] (in|to|into) <to:unit>",
            "(convert|change|turn) <a:amount> [of <i:the_stuff>] (to|into|in) <to:unit>",
            "<a:amount> [of <i:the_stuff>] (in|to|into) <to:unit>",
            "what is <a:amount> [of <i:the_stuff>] as <to:unit>",
        ],
        build,
    );
    g.say(
        "weight_of_measure",
        &[
            "how much does <a:amount> of <i:the_stuff> weigh", "how heavy is <a:amount> of <i:the_stuff>", "what does <a:amount> of <i:the_stuff> weigh",
            "[what is] the weight of <a:amount> of <i:the_stuff>", "what do <a:amount> of <i:the_stuff> weigh|how much do <a:amount> of <i:the_stuff> weigh",
            "weigh <a:amount> of <i:the_stuff>",
        ],
        |c, _| {
            let (number, from) = c.amount("a")?;
            let (from, to) = (from.to_string(), "g".to_string());
            Some(Intent::Ask(Question::Convert { number, from, to, ingredient: c.text("i") }))
        },
    );
}

fn convert_heat(g: &mut Grammar) {
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
            "what is <h:level_number> in (celsius|centigrade) {to_c: }",
            "what is <h:level_number> in fahrenheit {to_f: }",
            "what is <h:level_number> in gas [mark] {to_gas: }",
            "what is <h:level_number> [in|for] a fan oven {to_fan: }",
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

fn heat_question(c: &Caps, to: Option<&'static str>) -> Option<Intent> {
    let to = to.or(c.sym("to"))?;
    let (number, from) = match c.get("h")? {
        Value::Heat(n, Some(scale)) => (*n, *scale),
        Value::Heat(n, None) | Value::Num(n) => (*n, if to == "c" { "f" } else { "c" }),
        _ => return None,
    };
    Some(Intent::Ask(Question::ConvertTemperature {
        number,
        from: from.to_string(),
        to: to.to_string(),
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
            way("[the|any|=some] <n:yeast_kind>", |c, _| {
                c.text("n").map(Value::Text)
            }),
            way("~<n:the_stuff>", |c, _| c.get("n").cloned()),
        ],
    );
    g.lay(
        "swapped_known",
        vec![
            way("[the|any|=some] <n:yeast_kind>", |c, _| {
                c.text("n").map(Value::Text)
            }),
            way("~<n:the_known_stuff>", |c, _| c.get("n").cloned()),
        ],
    );
    g.say(
        "swap",
        &[
            "what (can|could|should|=do) i use instead of <of:swapped>", "what can i (swap|substitute|replace) [for] <of:swapped_known> [with]", "[what is] a (substitute|swap|replacement) for <of:swapped_known>",
            "i (have no|have not got any|do not have any|do not have|am out of|have run out of|ran out of) [=any] <of:swapped_known>", "there is no <of:swapped_known>|there is no more <of:swapped_known>",
            "instead of <of:swapped_known>", "(substitute|swap|replacement) for <of:swapped_known>", "what (instead of|replaces) <of:swapped_known>", "what if i have no <of:swapped_known>",
            "can i (leave out|replace) <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, None, None),
    );
    g.say(
        "swap_with",
        &[
            "can i use <with:swapped> (instead of|for|in place of) <of:swapped_known>",
            "how much <with:swapped> (instead of|for|in place of) <of:swapped_known>",
            "(swap|replace|substitute) <of:swapped_known> (for|with|by) <with:swapped>",
            "use <with:swapped> instead of <of:swapped_known>",
            "i have <with:swapped> instead of <of:swapped_known>",
            "how much <with:swapped> [do i need|should i use] instead of <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, c.text("with"), None),
    );
    g.say(
        "swap_amount",
        &[
            "how much <with:swapped> (for|instead of|is|makes|replaces|in place of) <a:amount> [of] <of:swapped_known>", "(swap|replace|substitute) <a:amount> [of] <of:swapped_known> (for|with|by) <with:swapped>",
            "<a:amount> [of] <of:swapped_known> (as|in) <with:swapped>", "what is <a:amount> [of] <of:swapped_known> (as|in) <with:swapped>", "how much <with:swapped> is <a:amount> [of] <of:swapped_known>",
            "use <with:swapped> instead of <a:amount> [of] <of:swapped_known>",
        ],
        |c, _| swap_question(c.text("of")?, c.text("with"), c.amount("a")),
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
            let with = c.text("with")?;
            let of = same_kind(&with, l);
            swap_question(of, Some(with), None)
        },
    );
}

fn swap_question(of: String, with: Option<String>, amount: Option<(f64, &str)>) -> Option<Intent> {
    let (number, unit) = (amount.map(|a| a.0), amount.map(|a| a.1.to_string()));
    Some(Intent::Ask(Question::Swap {
        of,
        with,
        number,
        unit,
    }))
}

/// What the formula holds of the same kind (`fresh yeast` is asked about where the formula has `instant yeast`).
fn same_kind(with: &str, lexicon: &Lexicon) -> String {
    let kind = with.rsplit(' ').next().unwrap_or(with);
    let own = lexicon
        .own
        .iter()
        .find(|o| o.name.rsplit(' ').next() == Some(kind) && o.table != with);
    own.map_or_else(|| kind.to_string(), |o| o.table.clone())
}

fn percent(g: &mut Grammar) {
    g.lay(
        "percent",
        vec![way("<n:level_number> (percent|per cent)", |c, _| {
            c.get("n").cloned()
        })],
    );
    g.say(
        "water_for_flour",
        &[
            "how much water [do i need] for <m:mass> of [the] flour at <p:percent> [hydration|water]", "[how much] water for <m:mass> [of [the] flour] at <p:percent> [hydration]",
            "how much water [do i need] (at|for) <p:percent> [hydration] [with|for] <m:mass> [of] [the] flour", "how much water (at|for) <p:percent> [hydration]",
            "what is <p:percent> hydration (for|of|with) <m:mass> [of [the] flour]", "how much water makes <p:percent> [hydration] [with <m:mass> of [the] flour]",
        ],
        |c, _| {
            let flour_g = c.mass("m").map(crate::measure::Mass::as_grams);
            Some(Intent::Ask(Question::WaterForFlour { flour_g, percent: c.num("p")? }))
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
        ],
        |c, _| {
            Some(Intent::Ask(Question::PercentOf {
                percent: c.num("p")?,
                grams: c.mass("m")?.as_grams(),
            }))
        },
    );
}

fn water_heat(g: &mut Grammar) {
    g.lay(
        "factor",
        vec![
            way("[with|and] [the|a] flour [is|at|of|=temperature] <n:heat>", |c, _| Some(Value::Heat(c.celsius("n")?, Some("flour")))),
            way("[with|and] [the|a|=my] (room|kitchen) [is|at|of|=temperature] <n:heat>", |c, _| {
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
            "what water do i need for [a|the] dough (at|of) <d:heat> [<1:factor> [<2:factor> [<3:factor>]]]",
        ],
        |c, _| {
            let factor = |name: &str| {
                ["1", "2", "3", "4", "5"].iter().rev().find_map(|k| match c.get(k) {
                    Some(Value::Heat(n, Some(f))) if *f == name => Some(*n),
                    _ => None,
                })
            };
            Some(Intent::Ask(Question::WaterTemperature {
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

fn rise(g: &mut Grammar) {
    g.lay(
        "rising",
        vec![give("rise|prove|=proof|=ferment", Value::Flag)],
    );
    g.say(
        "rise_at",
        &[
            "how long (will|does|should) (it|the dough|the bread|the rise|the prove|the first rise) (take|rise|prove|be) [to rise] (at|in|if it is) <r:heat> [in the kitchen]",
            "how long [is] [the|a] (rise|prove) (at|in) <r:heat>", "how long (will|does) [a|the] <t:duration> (rise|prove) take at <r:heat> [instead of <w:heat>]",
            "how long (will|does|should) (it|the dough|the rise) (take|rise|prove) at <r:heat> instead of <w:heat>", "[how long] if (the room|the kitchen|my kitchen|it) is [at|only] <r:heat>",
            "(the room|the kitchen|my kitchen) is [at|only] <r:heat> [how long will it (rise|take|prove)]", "how long is a <t:duration> (rise|prove) at <r:heat> [instead of <w:heat>]",
        ],
        |c, _| {
            let minutes = c.span("t").map(|s| s.as_millis() as f64 / 60_000.0);
            Some(Intent::Ask(Question::RiseAt { room_c: c.celsius("r")?, minutes, at_c: c.celsius("w") }))
        },
    );
}

fn safe(g: &mut Grammar) {
    g.say(
        "safe_heat",
        &[
            "how hot (should|must) [the|my] <f:food> be [inside|in the middle]",
            "how hot does [the|my] <f:food> (need|have) to be [inside|in the middle]",
            "what temperature (should|must) [the|my] <f:food> be [inside|in the middle]",
            "[what is] [the|a] (safe|core|inside) temperature (for|of) [the|my] <f:food>",
            "when is [the|my] <f:food> (safe|done|cooked)",
            "(safe|core) temperature <f:food>",
            "how do i know [when|that] [the|my] <f:food> is (done|cooked|safe)",
            "what temperature is safe for [the|my] <f:food>",
            "what temperature is [the|my] <f:food> (safe|done|cooked) at",
        ],
        |c, _| {
            Some(Intent::Ask(Question::SafeTemperature {
                food: c.text("f")?,
            }))
        },
    );
}

fn pieces(g: &mut Grammar) {
    g.lay(
        "piece_word",
        vec![
            give(
                "rolls|roll|pieces|piece|balls|buns|loaves|portions|=baps|=bits",
                Value::Flag,
            ),
            way("<p:piece>", |_, _| Some(Value::Flag)),
        ],
    );
    g.say(
        "pieces_from",
        &[
            "how many <e:mass> <w:piece_word> [from|in|out of|=can =i =make =from|do i get from|do i get out of|can i make from] <d:mass> [of dough]", "how many <w:piece_word> (of|at|=weighing) <e:mass> [each] (from|in|out of|do i get from) <d:mass> [of dough]",
            "how many <e:mass> <w:piece_word> (do i get|can i make|will it make|will that make|does it make|is that) [from (it|this|the dough)]", "how many <w:piece_word> (of|at) <e:mass> [each] (do i get|can i make|will it make|does it make) [from (it|this|the dough)]",
            "<d:mass> of dough in <e:mass> <w:piece_word>", "how many <e:mass> <w:piece_word> is <d:mass> [of dough]",
        ],
        |c, _| {
            let dough_g = c.mass("d").map(crate::measure::Mass::as_grams);
            Some(Intent::Ask(Question::PiecesFrom { dough_g, each_g: c.mass("e")?.as_grams() }))
        },
    );
}

fn mass_of(g: &mut Grammar) {
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
            give("onions|onion", Value::Sym("onion")),
            give("potatoes|potato", Value::Sym("potato")),
            give("carrots|carrot", Value::Sym("carrot")),
            give("tomatoes|tomato", Value::Sym("tomato")),
            give("apples|apple", Value::Sym("apple")),
            give("bananas|banana", Value::Sym("banana")),
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
            Some(Intent::Ask(Question::MassOf {
                number: c.num("n")?,
                ingredient: c.text("t")?,
            }))
        },
    );
}
