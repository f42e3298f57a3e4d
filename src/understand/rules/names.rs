//! Names in speech: an ingredient with its article, a timer, and the polite words around a sentence.

use crate::order::Situation;
use crate::order::book::{Book, give, way};
use crate::order::slots::{Caps, Value};
use crate::understand::names::TIMER_NUMBERS;

pub(super) fn lay(g: &mut Book) {
    ingredients(g);
    timer_names(g);
    politeness(g);
}

/// Formula ingredients (`own`), any ingredient (`any`), ingredients by table name (`stuff`;
/// `table_stuff` where it makes no difference which of the formula's is meant), each with its article. The
/// `known` forms offer the ear this formula's names only, and understand every name when typed: the whole tables in
/// every place would make the network large and the hearing worse.
fn ingredients(g: &mut Book) {
    let name = |c: &Caps, _: &Situation| c.get("n").cloned();
    g.lay(
        "the_own",
        vec![way("[the|=my|=all =the|=some] <n:own>", name)],
    );
    g.lay(
        "the_any",
        vec![way("[the|=my|=all =the|=some|=any] <n:any>", name)],
    );
    g.lay(
        "the_known",
        vec![
            way("[the] <n:own>", name),
            way("![the|my|all the|some|any] <n:any>", name),
        ],
    );
    g.lay(
        "the_stuff",
        vec![way("[the|=my|=some|=any|=a|=an] <n:stuff>", name)],
    );
    g.lay(
        "the_table_stuff",
        vec![way("[the|=my|=some|=any|=a|=an] <n:table_stuff>", name)],
    );
    g.lay("the_dish_part", vec![way("[the|=my] <n:dish_part>", name)]);
    g.lay(
        "the_alternative",
        vec![way("[the|=some] <n:alternative>", name)],
    );
    // What no table knows is read as well when it is typed, so that the answer can say what is missing.
    g.lay("unknown", vec![way("![the|my|some] <n:free>", name)]);
    g.lay(
        "the_known_stuff",
        vec![
            way("[the] <n:own_stuff>", name),
            way("![the|my|some|any|a|an] <n:stuff>", name),
        ],
    );
}

fn timer_names(g: &mut Book) {
    let mut ways: Vec<_> = TIMER_NUMBERS
        .iter()
        .map(|w| give(w, Value::Sym(w)))
        .collect();
    ways.push(way("!<n:digits_hour>", |c, _| {
        Some(Value::Text(crate::order::said::say_number(c.num("n")?)))
    }));
    g.lay("timer_number", ways);
    g.lay(
        "which_timer",
        vec![
            way("[the|my] <n:timer> [timer|=alarm|=clock]", |c, _| {
                c.get("n").cloned()
            }),
            way(
                "[the] timer (for|on|called|=named) [the|my] <n:timer>",
                |c, _| c.get("n").cloned(),
            ),
            way("[the] timer [number] <n:timer_number>", |c, _| {
                Some(Value::Text(format!("timer {}", c.text::<String>("n")?)))
            }),
            way(
                "the (first {one: timer}|second {two: timer}|third {three: timer})",
                |c, _| {
                    let number = ["one", "two", "three"].into_iter().find(|k| c.has(k))?;
                    Some(Value::Text(format!("timer {number}")))
                },
            ),
        ],
    );
    // No name: the only one, or each.
    g.lay(
        "a_timer",
        vec![way(
            "[the|my|this|that] (timer|=clock|=countdown)|it|this|that",
            |_, _| Some(Value::Flag),
        )],
    );
}

/// What may stand before and after any sentence.
fn politeness(g: &mut Book) {
    g.lay("call", vec![give("<call>", Value::Flag)]);
    g.lay(
        "before",
        vec![
            give("<c:call>|(okay|=ok|=hey|=oi|hello) <c:call>", Value::Flag),
            give("[<c:call>] (please|okay|=ok|=right|=so|=well|=now|=and|=um|=uh|=er|=erm|=hey|=hi)", Value::Flag),
            give(
                "[<c:call>] [please|okay|=ok|=so|=and|=um|=hey|=right] (can you|could you|would you|will you|=can =i|=could =i|\
                 i want you to|=i =would =like =you =to) [please] [tell me|=just|=also|=say|=kindly]",
                Value::Flag,
            ),
            give("[<c:call>] [please|okay|=so] (tell me|=do =you =know|=i =would =like =to =know|=i =want =to =know)", Value::Flag),
            give("!=could =you =please =tell =me|=i =need =to =know|=please =can =you|=let =us|=just|=okay =so|=okay =then|=okay =now|=yes|=thanks|=thank =you", Value::Flag),
        ],
    );
    g.lay(
        "after",
        vec![
            give("please [<c:call>]|<c:call>|=thanks|=thank =you|now|=then|=for =me|=again =please|=right =now|=would =you", Value::Flag),
            give("!=please =now|=now =please|=then =please|=for =now|=okay|=commis|=if =you =can|=do =you =know", Value::Flag),
        ],
    );
}
