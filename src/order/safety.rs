//! Questions about safety: core temperatures, time in place of heat, holding and cooling, and the cautions.

use super::book::{Book, give};
use super::keys::{Keys, number, one_of, pairs, words};
use super::order::Order;
use super::place::Place;
use super::question::{Keeping, Question};
use super::slots::{Caps, Value};
use crate::time::Span;

pub(super) fn lay(g: &mut Book) {
    safe(g);
    g.say(
        "safe_again",
        &["!how hot (must|should|do) i =reheat (it|this|food|[the|=my] <f:food>)|how hot (must|should) (=reheated|leftover) food be"],
        |_, _| {
            Some(Order::Ask(Question::SafeTemperature {
                food: "leftovers".into(),
            }))
        },
    );
    safe_at(g);
    safe_time(g);
    keep(g);
    caution(g);
}

fn safe(g: &mut Book) {
    g.say(
        "safe_heat",
        &[
            "how hot (should|must) [the|my] <f:food> be [inside|in the middle]",
            "how hot does [the|my] <f:food> (need|have) to be [inside|in the middle]",
            "what temperature (should|must) [the|my] <f:food> be [inside|in the middle]",
            "[what is] [the|a|what] (safe|core|inside|internal|cooking|done) temperature (for|of) [the|my|a] <f:food>",
            "what temperature (should|must|does) [the|my|a] <f:food> (reach|get to|need|need to be) [inside]",
            "when is [the|my] <f:food> (safe|done|cooked) [inside]",
            "(safe|core) temperature <f:food>",
            "how do i know [when|that] [the|my] <f:food> is (done|cooked|safe)",
            "what temperature is safe for [the|my] <f:food>",
            "what temperature is [the|my] <f:food> (safe|done|cooked) at",
        ],
        |c, _| {
            Some(Order::Ask(Question::SafeTemperature {
                food: c.text("f")?,
            }))
        },
    );
}

fn safe_at(g: &mut Book) {
    g.say(
        "safe_at",
        &[
            "(is|are) [the|my] <f:food> (safe|done|cooked) at <h:heat> [inside]",
            "(is|are) [the|my] <f:food> at <h:heat> (safe|done|cooked)",
            "(is|are) <h:heat> (safe|enough|hot enough|all right) for [the|my] <f:food>",
            "(is|are) [the|my] <f:food> (safe|done|cooked) [inside] when it is <h:heat>",
        ],
        |c, _| {
            Some(Order::Ask(Question::SafeAt {
                food: c.text("f")?,
                core_c: c.celsius("h")?,
            }))
        },
    );
    g.say(
        "core_reads",
        &[
            "the thermometer (says|reads|shows|is at) <h:heat>",
            "(it is|it is only|it has|it has only) [at|reached] <h:heat> (inside|in the middle)",
            "the (middle|inside|centre|core) is [at|only|only at] <h:heat>",
            "!(it|the =probe|the temperature) (reads|says|shows) <h:heat>",
        ],
        |c, _| {
            Some(Order::CoreReads {
                core_c: c.celsius("h")?,
            })
        },
    );
}

fn safe_time(g: &mut Book) {
    g.lay(
        "kept",
        vec![give(
            "it|this|that|[the|my|hot|cold] food|[the] (meat|chicken|fish|soup|stew|sauce|stock|leftovers|milk|cream|butter|eggs)|cooked (food|meat|chicken)",
            Value::Flag,
        ), give("[the|cooked] rice", Value::Sym("rice"))],
    );
    g.say(
        "safe_time",
        &[
            "how long at <h:heat> [inside|is safe|is enough]",
            "how long at <h:heat> [inside] is [as safe as|the same as|as good as|equal to] <s:heat> for <t:duration>",
            "how long (must|should|does) <k:kept> (be|=stay|need|have|=stand) [to be] at <h:heat> [inside]",
            "how many (minutes|seconds) at <h:heat> [inside|is safe|are safe|are enough]",
            "how long is safe at <h:heat> [inside]",
            "how long do i (hold|keep|cook) <k:kept> at <h:heat> [inside]",
            "(is|are) <h:heat> for <w:duration> (safe|enough)|(is|are) <w:duration> at <h:heat> (safe|enough)",
            "!what (time|length of time) at <h:heat> (is|equals) [as safe as|the same as] <s:heat> for <t:duration>",
        ],
        |c, _| {
            // The only reference is the printed one: seventy degrees for two minutes.
            let printed = c.celsius("s").is_none_or(|s| s == 70.0)
                && c.span("t").is_none_or(|t| t == Span::seconds(120));
            printed.then_some(Order::Ask(Question::SafeTime {
                core_c: c.celsius("h")?,
            }))
        },
    );
}

/// Rice has a rule of its own for cooling and for standing out.
#[allow(clippy::unnecessary_wraps)]
fn asks(how: Keeping, kept: &Caps) -> Option<Order> {
    let rice = kept.text::<String>("k").is_some();
    Some(Order::Ask(match how {
        Keeping::Cool | Keeping::Out if rice => Question::Caution {
            about: "rice-cooling".into(),
        },
        _ => Question::Keep { how },
    }))
}

fn keep(g: &mut Book) {
    g.say(
        "keep_hot",
        &[
            "how (hot|warm) (must|should|do) i (hold|keep) <k:kept> [hot|warm]",
            "how (hot|warm) (must|should) <k:kept> be (held|kept)",
            "how do i (keep|hold) <k:kept> (hot|warm)",
            "what temperature (must|should|do) i (hold|keep) hot food [at]",
            "what temperature (must|should) hot food be (held|kept) [at]",
            "(what|at what) temperature do i keep <k:kept> (hot|warm) [at]",
        ],
        |c, _| asks(Keeping::Hot, c),
    );
    g.say(
        "keep_cold",
        &[
            "how cold (must|should|do) i (hold|keep) <k:kept> [cold]",
            "how cold (must|should) (<k:kept>|the fridge) be [held|kept]",
            "what temperature (must|should) the fridge be [at]|how cold does the fridge (need|have) to be",
            "how do i (keep|hold) <k:kept> cold",
            "(what|at what) temperature do i keep <k:kept> cold [at]",
            "what temperature do i keep cold food at",
            "what temperature (must|should) cold food be (held|kept) [at]",
        ],
        |c, _| asks(Keeping::Cold, c),
    );
    g.say(
        "cool_down",
        &[
            "how (do|should|must|can) i cool <k:kept> [down]",
            "!how (quickly|soon) (must|should|do) (i cool <k:kept>|<k:kept> cool) [down]",
            "how fast (must|should|do) i cool <k:kept> [down]",
            "how fast (must|should) <k:kept> (cool|be cold) [down]",
            "how long (can|may) <k:kept> take to cool [down]",
            "how long do i have to cool <k:kept> [down]",
        ],
        |c, _| asks(Keeping::Cool, c),
    );
    g.say(
        "left_out",
        &[
            "how long can <k:kept> (=stay|stand|be|be left|=sit|=lie) out [of the fridge|on the (table|counter)]",
            "how long can i leave <k:kept> (out [of the fridge]|on the (table|counter)|at room temperature)",
            "can i leave <k:kept> out [all night|=overnight|of the fridge]",
            "how long (is|will|can) <k:kept> (safe|keep|=stay|be) (out of the fridge|at room temperature|on the (table|counter))",
            "how long (can|may) <k:kept> (=stay|stand|be left) (at room temperature|on the (table|counter))",
        ],
        |c, _| asks(Keeping::Out, c),
    );
}

fn caution(g: &mut Book) {
    g.lay(
        "small_child",
        vec![give(
            "infants|=infant|[a|the|my] [=small|=young] child|[the] [=small|=young] children|=babies|[a|the|my] (=baby|=toddler)",
            Value::Flag,
        )],
    );
    g.lay(
        "mind_child",
        vec![
            give("honey", Value::Sym("honey")),
            give(
                "nuts|whole nuts|=peanuts|=almonds",
                Value::Sym("whole-nuts"),
            ),
        ],
    );
    g.lay(
        "mind_raw",
        vec![
            give(
                "[the] raw [=cookie|=bread|=cake] (dough|flour)|raw =batter|=cookie dough|=cake =batter",
                Value::Sym("raw-flour"),
            ),
            give("[a] raw (egg|eggs)|mayonnaise", Value::Sym("raw-egg")),
            give("raw milk", Value::Sym("unpasteurised")),
            give("[the] [dried] kidney beans", Value::Sym("kidney-beans")),
        ],
    );
    g.lay(
        "mind_kept",
        vec![
            give("garlic [in] oil", Value::Sym("garlic-oil")),
            give("(herb|herbs) [in] oil", Value::Sym("herbs-oil")),
            give(
                "[the] cooked rice|=leftover =rice",
                Value::Sym("rice-cooling"),
            ),
        ],
    );
    g.say(
        "caution",
        &[
            "(is|are) <a:mind_child> safe for <c:small_child>",
            "can (i give|i feed) <a:mind_child> to <c:small_child>|can i give <c:small_child> <a:mind_child>",
            "can <c:small_child> (eat|have) <a:mind_child>",
            "can i (eat|=taste|=lick|=try) <a:mind_raw>",
            "(is|are) (<a:mind_raw>|<a:mind_kept>) (safe|safe to eat)",
            "how (do|should|long can|can|long do) i (keep|=store) <a:mind_kept>",
            "how long (does|will|can) <a:mind_kept> (keep|be kept)",
            "can i (keep|=store) <a:mind_kept>",
            "how ((do|must|should|long do|long must|long should) i|long to) (boil|cook) {beans: [the] [dried] kidney beans}",
            "(should|can|must|do) i (rinse|wash) {bird: [the|=a] [raw] (chicken|=turkey|=poultry)}",
            "how (do|should|can) i (defrost|=thaw) {thaw: [the|=a] (chicken|meat|fish|=turkey|=beef|=lamb|=pork)}",
        ],
        |c, _| {
            let noted = [
                ("beans", "kidney-beans"),
                ("bird", "raw-poultry"),
                ("thaw", "thaw"),
            ];
            let noted = noted.iter().find(|(key, _)| c.has(key));
            let about = c
                .text("a")
                .or_else(|| noted.map(|(_, id)| (*id).into()))?;
            Some(Order::Ask(Question::Caution { about }))
        },
    );
}

/// Foods as they are offered.
pub(super) const FOODS: &[&str] = &[
    "chicken",
    "minced meat",
    "pork",
    "beef",
    "lamb",
    "fish",
    "egg dishes",
    "stuffing",
    "leftovers",
];

/// What to be careful with, as said, and its name in the table of cautions.
const CAUTIONS: &[(&str, &str)] = &[
    ("honey and infants", "honey"),
    ("nuts and small children", "whole-nuts"),
    ("raw flour", "raw-flour"),
    ("raw egg", "raw-egg"),
    ("garlic in oil", "garlic-oil"),
    ("herbs in oil", "herbs-oil"),
    ("cooked rice", "rice-cooling"),
    ("dried kidney beans", "kidney-beans"),
    ("raw poultry", "raw-poultry"),
    ("frozen meat and fish", "thaw"),
];

/// How food is kept, whatever it is.
#[allow(clippy::unnecessary_wraps)]
fn keeps(how: Keeping) -> Result<Order, String> {
    Ok(Order::Ask(Question::Keep { how }))
}

/// The keys of the questions about safety.
pub(super) fn keys(k: &mut Keys) {
    k.list(". 7 6", "food safety", "Food safety.");
    k.path(
        ". 7 6 1",
        "how hot food must be inside",
        vec![one_of("Which food?", |_| words(FOODS))],
        |a, here| {
            Ok(Order::Ask(Question::SafeTemperature {
                food: a.food(0, here).ok_or("Nothing was chosen.")?,
            }))
        },
    );
    k.show(". 7 6 1 1", Place::Step, "how hot chicken must be inside");
    k.path(
        ". 7 6 2",
        "how long at a lower heat inside",
        vec![number("How many degrees Celsius inside?")],
        |a, _| {
            Ok(Order::Ask(Question::SafeTime {
                core_c: a.number(0),
            }))
        },
    );
    k.show(
        ". 7 6 2 6 5 Enter",
        Place::Step,
        "how long at 65 degrees inside is safe",
    );
    k.path(". 7 6 3", "how hot to hold food", vec![], |_, _| {
        keeps(Keeping::Hot)
    });
    k.path(". 7 6 4", "how cold to keep food", vec![], |_, _| {
        keeps(Keeping::Cold)
    });
    k.path(". 7 6 5", "how to cool food", vec![], |_, _| {
        keeps(Keeping::Cool)
    });
    k.item(
        ". 7 6 6",
        "how long food can stay out",
        "how long food can stay out",
        |_, _| keeps(Keeping::Out),
    );
    k.path(
        ". 7 6 7",
        "what to be careful with",
        vec![one_of("What to be careful with.", |_| pairs(CAUTIONS))],
        |a, _| {
            Ok(Order::Ask(Question::Caution {
                about: a.word(0).unwrap_or_default().into(),
            }))
        },
    );
    k.show(
        ". 7 6 7 1",
        Place::Step,
        "what to be careful with: honey and infants",
    );
}
