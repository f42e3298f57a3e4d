//! Numbers as people say them: 0 to 9999, fractions, decimals, `three fifty`, `a dozen`.

use crate::order::Situation;
use crate::order::book::{Book, Build, give, way};
use crate::order::slots::{Caps, Value};

pub(super) fn lay(g: &mut Book) {
    small(g);
    hundreds(g);
    whole(g);
    broken(g);
    in_place(g);
    counted(g);
}

fn list(words: &[&'static str], from: f64, step: f64) -> Vec<(&'static str, Build)> {
    words
        .iter()
        .enumerate()
        .map(|(i, w)| give(w, Value::Num(from + step * i as f64)))
        .collect()
}

/// Captures under `h` are hundreds, under `t` thousands, under `+` ones.
#[allow(clippy::unnecessary_wraps)]
fn place_values(c: &Caps, _: &Situation) -> Option<Value> {
    Some(Value::Num(
        c.sum("t") * 1000.0 + c.sum("h") * 100.0 + c.sum("+"),
    ))
}

fn small(g: &mut Book) {
    g.lay(
        "digit",
        list(
            &[
                "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
            ],
            1.0,
            1.0,
        ),
    );
    let teens = [
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    g.lay("teen", list(&teens, 10.0, 1.0));
    g.lay(
        "tens",
        list(
            &[
                "twenty",
                "thirty",
                "forty|=fourty",
                "fifty",
                "sixty",
                "seventy",
                "eighty",
                "ninety",
            ],
            20.0,
            10.0,
        ),
    );
    g.lay("oh", vec![give("oh|zero|=o", Value::Num(0.0))]);
    g.lay("a", vec![give("a", Value::Num(1.0))]);
    g.lay(
        "from_ten",
        vec![way("<+:teen>|<+:tens> [<+:digit>]", place_values)],
    );
    g.lay(
        "below_hundred",
        vec![way("<+:digit>|<+:teen>|<+:tens> [<+:digit>]", place_values)],
    );
}

fn hundreds(g: &mut Book) {
    g.lay(
        "hundreds",
        vec![way(
            "(<h:digit>|<h:a>) hundred [[and] <+:below_hundred>]",
            place_values,
        )],
    );
    g.lay(
        "hundreds_only",
        vec![
            way("<+:hundreds>|<h:digit> <+:from_ten>", place_values),
            way("<+:digits_whole>", place_values),
        ],
    );
    g.lay(
        "below_thousand",
        vec![
            way("<+:below_hundred>", place_values),
            way("<+:hundreds>", place_values),
            // `three fifty`, `one twenty five`: dearer than two numbers side by side (`eight ninety five gram rolls`).
            ("~<h:digit> <+:from_ten>", Build::From(place_values)),
            ("~<h:digit> oh <+:digit>", Build::From(place_values)),
        ],
    );
}

fn whole(g: &mut Book) {
    g.lay(
        "integer",
        vec![
            give("zero|=nought|=nil", Value::Num(0.0)),
            way("<+:below_thousand>", place_values),
            // `twelve hundred`, `twelve hundred and fifty`.
            way(
                "<h:from_ten> hundred [[and] <+:below_hundred>]",
                place_values,
            ),
            ("!~~<h:from_ten> <+:from_ten>", Build::From(place_values)),
            way(
                "(<t:digit>|<t:teen>|<t:a>) thousand [[and] (<+:below_hundred>|<+:hundreds>)]",
                place_values,
            ),
            way(
                "!<t:below_thousand> thousand [[and] (<+:below_hundred>|<+:hundreds>)]",
                place_values,
            ),
            way("<+:digits_whole>", place_values),
        ],
    );
}

fn broken(g: &mut Book) {
    g.lay(
        "kitchen_fraction",
        vec![
            give("[a|one] half", Value::Num(0.5)),
            give("[a|one] (quarter|fourth)", Value::Num(0.25)),
            give("three (quarters|quarter|fourths)", Value::Num(0.75)),
            give("(a|one) third", Value::Num(1.0 / 3.0)),
            give("two (thirds|third)", Value::Num(2.0 / 3.0)),
        ],
    );
    g.lay(
        "fraction",
        vec![
            way("<+:kitchen_fraction>", place_values),
            give("~(a|an|one) eighth", Value::Num(0.125)),
            give("~three eighths", Value::Num(0.375)),
            give("~five eighths", Value::Num(0.625)),
            give("~seven eighths", Value::Num(0.875)),
            give("~~(a|one) fifth", Value::Num(0.2)),
            give("~~two fifths", Value::Num(0.4)),
            give("~~three fifths", Value::Num(0.6)),
            give("~~four fifths", Value::Num(0.8)),
            give("~~(a|one) sixth", Value::Num(1.0 / 6.0)),
            give("~~five sixths", Value::Num(5.0 / 6.0)),
            give("~~(a|one) tenth", Value::Num(0.1)),
        ],
    );
    g.lay("place", vec![way("<+:oh>|<+:digit>", place_values)]);
    g.lay(
        "decimals",
        vec![
            way("<a:place> [<b:place> [<c:place>]]", |c, _| {
                let thousandths = c.sum("a") * 100.0 + c.sum("b") * 10.0 + c.sum("c");
                Some(Value::Num(thousandths / 1000.0))
            }),
            // `point twenty five`.
            (
                "~<+:from_ten>",
                Build::From(|c, _| Some(Value::Num(c.sum("+") / 100.0))),
            ),
        ],
    );
    g.lay(
        "number",
        vec![
            way("<+:integer>|<+:fraction>", place_values),
            way("<+:integer> and <+:fraction>", place_values),
            // One division, so that the value is the nearest to what was said.
            way("[<+:integer>] point <d:decimals>", |c, _| {
                let thousandths = c.sum("+") * 1000.0 + (c.sum("d") * 1000.0).round();
                Some(Value::Num(thousandths / 1000.0))
            }),
            way("<+:digits>", place_values),
        ],
    );
}

/// Numbers as they are said in some places only. The ear is offered just these, which keeps the network small; what is
/// typed may be any number.
fn in_place(g: &mut Book) {
    // How many hours, minutes, people: `forty five`, `one and a half`, `a hundred and twenty`.
    g.lay(
        "small_number",
        vec![
            way(
                "<+:below_hundred>|<+:hundreds>|<+:kitchen_fraction>",
                place_values,
            ),
            way("<+:below_hundred> and <+:kitchen_fraction>", place_values),
            way("!<+:number>", place_values),
        ],
    );
    // Before a unit of mass or volume: fractions and decimals on what is below a hundred, whole numbers beyond.
    g.lay(
        "amount_number",
        vec![
            way("<+:below_thousand>|<+:fraction>", place_values),
            way("<+:below_hundred> and <+:fraction>", place_values),
            way("[<+:below_hundred>] point <a:digit> [<b:digit>]", |c, _| {
                Some(Value::Num(
                    (c.sum("+") * 100.0 + c.sum("a") * 10.0 + c.sum("b")) / 100.0,
                ))
            }),
            way("<h:teen> hundred [[and] <+:below_hundred>]", place_values),
            way(
                "(<t:digit>|<t:a>) thousand [[and] (<+:below_hundred>|<+:hundreds>)]",
                place_values,
            ),
            way("!<+:number>", place_values),
        ],
    );
    // The minutes after the hours, the ounces after the pounds.
    g.lay(
        "rest_number",
        vec![
            way("<+:below_hundred>", place_values),
            way("!<+:number>", place_values),
        ],
    );
    // Degrees and percents: `two hundred and twenty`, `two twenty`, `twenty five point five`.
    g.lay(
        "level_number",
        vec![
            way("<+:below_thousand>", place_values),
            way("<+:below_hundred> and a half", |c, _| {
                Some(Value::Num(c.sum("+") + 0.5))
            }),
            way("<+:below_hundred> point <d:digit>", |c, _| {
                Some(Value::Num((c.sum("+") * 10.0 + c.sum("d")) / 10.0))
            }),
            way("!<+:number>", place_values),
        ],
    );
}

fn counted(g: &mut Book) {
    g.lay(
        "small_quantity",
        vec![
            way("<+:small_number>", place_values),
            give("a|an", Value::Num(1.0)),
            give("[a] couple [of]", Value::Num(2.0)),
            way("<+:kitchen_fraction> [of] (a|an)", place_values),
            way("!<+:fraction> [of] (a|an)", place_values),
        ],
    );
    g.lay(
        "count",
        vec![
            way("<+:below_hundred>|<+:hundreds>", place_values),
            way("!<+:integer>", place_values),
            give("a couple [of]", Value::Num(2.0)),
            give("(a|one) dozen", Value::Num(12.0)),
            give("half a dozen", Value::Num(6.0)),
            give("two dozen", Value::Num(24.0)),
            give("a dozen and a half", Value::Num(18.0)),
        ],
    );
    g.lay(
        "quantity",
        vec![
            way("<+:amount_number>", place_values),
            give("a|an", Value::Num(1.0)),
            give("[a] couple [of]", Value::Num(2.0)),
            way("<+:fraction> [of] (a|an)", place_values),
            give("!~half of one", Value::Num(0.5)),
            give("!(a|one) dozen", Value::Num(12.0)),
            give("!half a dozen", Value::Num(6.0)),
        ],
    );
}
