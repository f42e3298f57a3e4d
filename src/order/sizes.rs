//! Changing the size: by a factor, portions, flour, dough, pieces, what there is, a tin, a hydration.

use super::book::{Book, Build, give, way};
use super::keys::{Answers, Keys, ingredients, number, number_or_none, one_of, parts, words};
use super::loss::Loss;
use super::order::Order;
use super::place::Place;
use super::said::{say_amount, say_number};
use super::scale_by::ScaleBy;
use super::situation::Situation;
use super::slots::{Caps, Value};
use crate::measure::Mass;
use crate::measure::tin::Shape;

macro_rules! sizes {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// Change the size of the whole formula.
        Scale {
            /// By what.
            by: ScaleBy,
        },
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    factor(g);
    portions(g);
    masses(g);
    pieces(g);
    limit(g);
    part(g);
    tin(g);
    hydration(g);
}

#[allow(clippy::unnecessary_wraps)]
fn scale(by: ScaleBy) -> Option<Order> {
    Some(Order::Scale { by })
}

fn factor(g: &mut Book) {
    g.lay(
        "multiple",
        vec![
            way("<n:number> times", |c, _| c.get("n").cloned()),
            give("twice|double", Value::Num(2.0)),
            give("triple|three times", Value::Num(3.0)),
            give("half|a half", Value::Num(0.5)),
        ],
    );
    g.lay(
        "doubling",
        vec![
            give("double", Value::Num(2.0)),
            give("triple", Value::Num(3.0)),
            give("halve|half", Value::Num(0.5)),
        ],
    );
    g.lay(
        "half_word",
        vec![
            give("half", Value::Num(0.5)),
            give("double", Value::Num(2.0)),
            give("quarter", Value::Num(0.25)),
        ],
    );
    g.say(
        "scale_factor",
        &[
            "(make|scale) (it|this|the formula|the recipe|that) <f:multiple> [the (size|formula|recipe|amount)|as (much|big|large)|over]", "make <f:multiple> (the (size|formula|recipe|amount)|as much|as big|a batch|the batch|batches)",
            "(scale|multiply) [it|this|everything|the formula] by <n:number>", "<d:doubling> (it|the formula|the recipe|everything|this|the batch)", "<f:multiple> (the (size|formula|recipe|amount)|as much)",
            "(scale|multiply) [it|this|everything|the formula] by <p:level_number> percent|scale [it|this|everything|the formula] to <p:level_number> percent", "make (a|one) <f:half_word> batch|<f:half_word> a batch|[a] <f:half_word> batch", "times <n:number>",
            "make it <n:number> (batches|times)", "make <n:count> batches",
        ],
        |c, _| {
            let factor = c.num("f").or(c.num("n")).or(c.num("d")).or(c.num("p").map(|p| p / 100.0))?;
            scale(ScaleBy::Factor(factor))
        },
    );
    g.say(
        "scale_as_written",
        &[
            "as written",
            "[go] back to the (original|formula) [size]",
            "[make it|use] the (original|written|normal) (size|amount|amounts)",
            "(make it|use the formula) as (written|it is|it was)",
            "normal size|original size",
            "undo the scaling|scale it back",
            "no scaling",
            "one times the formula",
        ],
        |_, _| scale(ScaleBy::AsWritten),
    );
}

fn portions(g: &mut Book) {
    g.lay("people", vec![give("people|persons|portions|portion|servings|serving|helpings|of us|guests|friends|=heads|=mouths", Value::Flag)]);
    g.say(
        "scale_portions",
        &[
            "for <n:count> [<w:people>]", "(make|scale) (it|this|the formula|enough|the recipe) (for|to serve|to feed) <n:count> [<w:people>]", "make enough for <n:count> [<w:people>]", "(make|scale [it] to) <n:count> <w:people>",
            "(serves|serve|feeds|feed) <n:count> [<w:people>]", "there (are|will be) <n:count> (of us|people|guests)", "we are <n:count> people", "<n:count> (portions|servings|people|helpings)", "enough for <n:count> [<w:people>]",
            "i (need|want) <n:count> (portions|servings|helpings)", "cook for <n:count> [<w:people>]",
        ],
        |c, _| scale(ScaleBy::Portions(c.num("n")?)),
    );
}

fn masses(g: &mut Book) {
    g.say(
        "scale_flour",
        &[
            "(make it|scale it|scale|make this) (for|to|with|from) <m:mass> [of] flour",
            "(use|for|with|from) <m:mass> [of] flour",
            "make it with <m:mass> of flour in total",
            "set the flour to <m:mass>",
            "i want to use <m:mass> of flour",
            "[a] total flour [of] <m:mass>",
            "<m:mass> (of|total) flour",
        ],
        |c, _| scale(ScaleBy::Flour(c.mass("m")?)),
    );
    g.say(
        "scale_dough",
        &[
            "(make|for|i need|i want|give me) <m:mass> [of] dough",
            "scale [it|the dough] to <m:mass> of dough",
            "(make|scale) the dough to <m:mass>",
            "set the dough to <m:mass>",
            "[a] total dough [of] <m:mass>",
            "make it <m:mass> (of dough|in total)",
            "<m:mass> of dough",
        ],
        |c, _| scale(ScaleBy::Dough(c.mass("m")?)),
    );
}

fn pieces(g: &mut Book) {
    g.say(
        "scale_pieces",
        &[
            "[make|scale [it] to|i want|i need|give me] <n:count> <w:piece_word> (of|at|=weighing) <m:mass> [each] [{baked: baked|after baking}]", "[make|scale [it] to|i want|i need|give me] <n:count> <m:mass> <w:piece_word> [{baked: =baked|=after =baking}]", "[make] <n:count> <w:piece_word> <m:mass> each",
            "[make] <n:count> (of|at) <m:mass> [each]", "divide it into <n:count> <w:piece_word> (of|at) <m:mass> [each]", "[make] <n:count> (by|times) <m:mass>",
        ],
        |c, _| scale(ScaleBy::Pieces { count: c.num("n")?, each: c.mass("m")?, baked: c.has("baked") }),
    );
    g.say(
        "scale_own_pieces",
        &[
            "make [me] <n:count> <w:piece>",
            "i (want|need) <n:count> <w:piece>",
            "(scale [it] to|enough for) <n:count> <w:piece>",
            "make (it|this|enough) for <n:count> <w:piece>",
            "<n:count> <w:piece> please",
            "we need <n:count> <w:piece>",
        ],
        |c, l| {
            scale(ScaleBy::Factor(
                c.num("n")? / if l.pieces > 0.0 { l.pieces } else { 1.0 },
            ))
        },
    );
}

fn limit(g: &mut Book) {
    g.say(
        "scale_limit",
        &[
            "i (only have|have only|only have got|have only got|have got only|have just|just have) <m:mass> [of] <i:the_own>", "i only have <m:mass> of <i:the_own> left", "there (is|are) only <m:mass> [of] <i:the_own> [left]", "all (i have|i have got|there is) is <m:mass> [of] <i:the_own>",
            "limit <i:the_own> to <m:mass>", "i have <m:mass> of <i:the_own> [left]", "(no|not) more than <m:mass> of <i:the_own>", "make what i can (with|from) <m:mass> of <i:the_own>",
            "my <i:the_own> is only <m:mass>",
        ],
        |c, _| scale(ScaleBy::Limit { ingredient: c.text("i")?, have: c.mass("m")? }),
    );
}

fn part(g: &mut Book) {
    g.say(
        "scale_part",
        &[
            "<d:doubling> <p:the_dish_part> [only|alone]",
            "[make|i want|use] <f:multiple> <p:the_dish_part> [only|alone]",
            "(scale|multiply) <p:the_dish_part> by <n:number>",
            "make <p:the_dish_part> <f:multiple>",
        ],
        |c, _| {
            let times = c.num("d").or(c.num("f")).or(c.num("n"))?;
            let part = c.text("p")?;
            scale(ScaleBy::Part { part, times })
        },
    );
}

fn tin(g: &mut Book) {
    g.lay(
        "side",
        vec![
            way(
                "<n:level_number> (centimetres|centimetre|centimeters|centimeter|=cm)",
                |c, _| c.get("n").cloned(),
            ),
            way("<n:level_number> (inches|inch|=in)", |c, _| {
                Some(Value::Num((c.num("n")? * 2.54 * 1e6).round() / 1e6))
            }),
        ],
    );
    g.lay(
        "tin_word",
        vec![give(
            "tin|pan|tray|mould|dish|=mold|=baking =tin|baking tray|cake tin",
            Value::Flag,
        )],
    );
    let two_sided: Build = Build::From(|c, _| sides(c, &["a", "b"], c.has("inch")));
    let three_sided: Build = Build::From(|c, _| sides(c, &["a", "b", "e"], c.has("inch")));
    g.lay(
        "sides",
        vec![
            ("<a:level_number> by <b:level_number> [(centimetres|centimetre|centimeters|centimeter|=cm)|{inch: inches|inch}]", two_sided),
            (
                "<a:level_number> by <b:level_number> by <e:level_number> [(centimetres|centimetre|centimeters|centimeter|=cm)|{inch: inches|inch}]",
                three_sided,
            ),
        ],
    );
    g.lay(
        "tin",
        vec![
            (
                "[a|the|my] <d:sides> [rectangular|=oblong] <w:tin_word>",
                tin_way("rectangle"),
            ),
            (
                "[a|the|my] [rectangular] <w:tin_word> (of|that is|=measuring) <d:sides>",
                tin_way("rectangle"),
            ),
            (
                "[a|the|my] <d:sides> square <w:tin_word>",
                tin_way("square"),
            ),
            ("[a|the|my] <d:sides> loaf <w:tin_word>", tin_way("loaf")),
            (
                "[a|the|my] loaf <w:tin_word> (of|that is|=measuring) <d:sides>",
                tin_way("loaf"),
            ),
            ("[a|the|my] <d:side> round <w:tin_word>", tin_way("round")),
            ("[a|the|my] round <d:side> <w:tin_word>", tin_way("round")),
            (
                "[a|the|my] round <w:tin_word> of <d:side>",
                tin_way("round"),
            ),
            ("[a|the|my] <d:side> square <w:tin_word>", tin_way("square")),
            ("[a|the|my] square <d:side> <w:tin_word>", tin_way("square")),
            (
                "[a|the|my] square <w:tin_word> of <d:side>",
                tin_way("square"),
            ),
            // Neither round nor square was said: both readings stand, and the cook is asked.
            ("[a|the|my] <d:side> <w:tin_word>", tin_way("round")),
            ("[a|the|my] <d:side> <w:tin_word>", tin_way("square")),
        ],
    );
    g.say(
        "scale_tin",
        &[
            "for <t:tin> [and] <e:side> deep",
            // Its depth is often said after a breath.
            "~for <t:tin>",
            "!<t:tin> [and] <e:side> deep|(use|i have|my tin is) <t:tin> [and] <e:side> deep",
            "(make|scale) (it|this|the formula|enough) (for|to|to fit) <t:tin>",
            "(use|i have|i am using|my tin is|the tin is) <t:tin>",
            "i (only have|have only|have only got) <t:tin>",
            "<t:tin>",
            "(make it fit|will it fit|fit it to|to fit) <t:tin>",
            "(in|into|with) <t:tin>",
            "(my|the) tin is <d:sides>",
        ],
        |c, _| {
            let text = c
                .text::<String>("t")
                .or_else(|| c.text::<String>("d").map(|d| format!("rectangle {d}")))?;
            let mut words = text.split(' ');
            let shape = Shape::find(words.next()?)?;
            let mut size_cm: Vec<f64> = words.filter_map(|w| w.parse().ok()).collect();
            if shape == Shape::Square && size_cm.len() > 1 && size_cm[0] == size_cm[1] {
                size_cm.remove(1);
            }
            size_cm.extend(c.num("e"));
            scale(ScaleBy::Tin { shape, size_cm })
        },
    );
}

/// Sizes in centimetres, as text.
fn sides(c: &Caps, keys: &[&str], inches: bool) -> Option<Value> {
    let to_cm = if inches { 2.54 } else { 1.0 };
    let sides: Option<Vec<String>> = keys
        .iter()
        .map(|k| Some(((c.num(k)? * to_cm * 1e6).round() / 1e6).to_string()))
        .collect();
    Some(Value::Text(sides?.join(" ")))
}

fn tin_way(shape: &'static str) -> Build {
    match shape {
        "rectangle" => Build::From(|c, _| shaped("rectangle", c)),
        "square" => Build::From(|c, _| shaped("square", c)),
        "loaf" => Build::From(|c, _| shaped("loaf", c)),
        _ => Build::From(|c, _| shaped("round", c)),
    }
}

fn shaped(shape: &str, c: &Caps) -> Option<Value> {
    let sizes = match c.get("d")? {
        Value::Text(sizes) => sizes.clone(),
        Value::Num(side) => side.to_string(),
        _ => return None,
    };
    Some(Value::Text(format!("{shape} {sizes}")))
}

fn hydration(g: &mut Book) {
    g.say(
        "scale_hydration",
        &[
            "(make|set) (it|the hydration|the dough) [to] <p:percent> [hydration|water]",
            "[at|to] <p:percent> hydration",
            "(set|change|make|bring|raise|lower) [the] hydration (to|at) (<p:percent>|<p:level_number>)",
            "hydration [of] <p:percent>|hydration <p:level_number>",
            "i want [a hydration of] <p:percent> hydration",
            "use <p:percent> (hydration|water)",
        ],
        |c, _| scale(ScaleBy::Hydration(c.num("p")?)),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    let Order::Scale { by } = order else {
        return None;
    };
    let mass = |mass: Mass| say_amount(mass.as_grams(), "g");
    Some(match by {
        ScaleBy::AsWritten => "the formula as written".to_string(),
        ScaleBy::Factor(f) => format!("make it {} times", say_number(*f)),
        ScaleBy::Portions(n) => format!("make it for {}", say_number(*n)),
        ScaleBy::Flour(m) => format!("make it with {} of flour", mass(*m)),
        ScaleBy::Dough(m) => format!("make {} of dough", mass(*m)),
        ScaleBy::Pieces { count, each, baked } => format!(
            "make {} pieces of {}{}",
            say_number(*count),
            mass(*each),
            if *baked { " baked" } else { "" }
        ),
        ScaleBy::Limit { ingredient, have } => format!(
            "you only have {} of the {}",
            mass(*have),
            here.ingredient(ingredient)
        ),
        ScaleBy::Tin { shape, size_cm } => {
            let sizes: Vec<String> = size_cm.iter().map(|s| say_number(*s)).collect();
            format!(
                "a {} tin of {} centimetres",
                shape.word(),
                sizes.join(" by ")
            )
        }
        ScaleBy::Part { part, times } => {
            format!("make {} times the {part}", say_number(*times))
        }
        ScaleBy::Hydration(p) => format!("make it {} percent hydration", say_number(*p)),
    })
}

/// What was weighed for another size is lost.
pub(super) fn loses(order: &Order) -> Option<Loss<'_>> {
    matches!(order, Order::Scale { .. }).then_some(Loss::Weighed)
}

#[allow(clippy::unnecessary_wraps)]
fn by(by: ScaleBy) -> Result<Order, String> {
    Ok(Order::Scale { by })
}

/// A tin of a shape that has one size and a depth only.
fn one_sided(a: &Answers) -> bool {
    matches!(a.word(0), Some("round" | "square"))
}

/// So many pieces of so much.
fn pieces_of(a: &Answers, baked: bool) -> Result<Order, String> {
    by(ScaleBy::Pieces {
        count: a.number(0),
        each: a.mass(1),
        baked,
    })
}

fn limited(a: &Answers, _: &Situation) -> Result<Order, String> {
    by(ScaleBy::Limit {
        ingredient: a.ingredient(0),
        have: a.mass(1),
    })
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.list(". 6", "the size", "The size.");
    k.path(
        ". 6 1",
        "so many times",
        vec![number("How many times?")],
        |a, _| by(ScaleBy::Factor(a.number(0))),
    );
    k.show(
        ". 6 1 1 . 5 Enter",
        Place::Step,
        "one and a half times the formula",
    );
    k.path(
        ". 6 2",
        "so many portions",
        vec![number("For how many?")],
        |a, _| by(ScaleBy::Portions(a.number(0))),
    );
    k.show(". 6 2 1 2 Enter", Place::Step, "for 12");
    k.path(
        ". 6 3",
        "so much flour",
        vec![number("How many grams of flour?")],
        |a, _| by(ScaleBy::Flour(a.mass(0))),
    );
    k.show(". 6 3 9 0 0 Enter", Place::Step, "with 900 grams of flour");
    k.path(
        ". 6 4",
        "so much dough",
        vec![number("How many grams of dough?")],
        |a, _| by(ScaleBy::Dough(a.mass(0))),
    );
    k.show(". 6 4 2 0 0 0 Enter", Place::Step, "2000 grams of dough");
    k.path(
        ". 6 5",
        "pieces of a weight",
        vec![number("How many pieces?"), number("How many grams each?")],
        |a, _| pieces_of(a, false),
    );
    k.show(
        ". 6 5 4 Enter 2 5 0 Enter",
        Place::Step,
        "4 pieces of 250 grams",
    );
    k.path(
        ". 6 6",
        "only so much of one ingredient",
        vec![
            one_of("Only so much of which?", ingredients),
            number("How many grams do you have?"),
        ],
        limited,
    );
    k.show(
        ". 6 6 1 3 8 0 Enter",
        Place::Step,
        "only 380 grams of the first ingredient",
    );
    k.path(
        ". 3 # 8",
        "I have only so much",
        vec![number("How many grams do you have?")],
        limited,
    );
    k.path(
        ". 6 7",
        "another tin",
        vec![
            one_of("What shape?", |_| {
                words(["round", "square", "rectangle", "loaf"])
            }),
            number("How many centimetres across?").when(|a| a.word(0) == Some("round")),
            number("How many centimetres each side?").when(|a| a.word(0) == Some("square")),
            number("How many centimetres long?").when(|a| !one_sided(a)),
            number("How many centimetres wide?").when(|a| !one_sided(a)),
            number_or_none("How deep?"),
        ],
        |a, _| {
            by(ScaleBy::Tin {
                shape: Shape::find(a.word(0).unwrap_or_default()).ok_or("There is no such tin.")?,
                size_cm: (1..6).filter_map(|at| a.maybe(at)).collect(),
            })
        },
    );
    k.show(
        ". 6 7 3 2 0 Enter 3 0 Enter Enter",
        Place::Step,
        "a tin of 20 by 30 centimetres",
    );
    k.path(
        ". 6 8",
        "another hydration",
        vec![number("What hydration, in percent?")],
        |a, _| by(ScaleBy::Hydration(a.number(0))),
    );
    k.show(". 6 8 7 0 Enter", Place::Step, "70 percent hydration");
    k.item(
        ". 6 9",
        "as written",
        "back to the formula as written",
        |_, _| by(ScaleBy::AsWritten),
    );
    k.path(
        ". 6 10",
        "pieces of a baked weight",
        vec![
            number("How many pieces?"),
            number("How many grams each, baked?"),
        ],
        |a, _| pieces_of(a, true),
    );
    k.path(
        ". 6 11",
        "one part alone",
        vec![
            one_of("Which part?", parts),
            number("How many times as written?"),
        ],
        |a, _| {
            by(ScaleBy::Part {
                part: a.word(0).unwrap_or_default().into(),
                times: a.number(1),
            })
        },
    );
    k.show(
        ". 6 - - Enter 1 2 Enter",
        Place::Step,
        "twice the first part alone",
    );
    k.show(
        ". 6 0 8 Enter 9 5 Enter",
        Place::Step,
        "8 pieces of 95 grams baked",
    );
}
