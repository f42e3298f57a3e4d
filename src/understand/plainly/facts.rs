//! The oven, the weight of pieces, and what may be taken for an ingredient, in other words than those of the grammar.

use super::said::Said;
use crate::order::Order;
use crate::understand::expr::NameList;
use crate::understand::lexicon::Lexicon;
use crate::understand::spans::{FoundKind, spans};
use crate::understand::text::{Token, tokens};

pub(super) fn read(said: &Said, text: &str, lexicon: &Lexicon) -> Option<Order> {
    oven(said)
        .or_else(|| pieces(said, text, lexicon))
        .or_else(|| taken(text, lexicon))
}

fn oven(said: &Said) -> Option<Order> {
    if !said.has(&["oven"])
        || said.has(&[
            "when", "how", "what", "not", "timer", "remind", "minutes", "before", "need", "alarm",
        ])
    {
        return None;
    }
    let first = said.word(0);
    let asks = ["did", "have", "is", "was", "has"].contains(&first)
        || said.says(&[
            "did i",
            "have i",
            "is the oven",
            "i forget if",
            "remember if",
        ]);
    if asks && said.has(&["on", "off", "lit", "light"]) {
        return (!said.has(&["hot", "ready"])).then_some(Order::OvenState);
    }
    if asks {
        return None;
    }
    if said.then(
        &["turn", "turned", "switch", "switched", "oven", "shut"],
        &["off"],
        2,
    ) {
        return Some(Order::OvenOff);
    }
    let lights = said.has(&[
        "light",
        "lit",
        "preheat",
        "preheated",
        "preheating",
        "ignite",
        "warming",
        "heating",
    ]) || said.then(
        &[
            "put", "turn", "turned", "switch", "switched", "set", "get", "getting", "stick", "pop",
            "oven",
        ],
        &["on"],
        3,
    ) || said.then(&["set", "heat", "put"], &["to", "at"], 3)
        && said.then(&["oven"], &["to", "at"], 0);
    let into = said.then(&["in", "into", "to"], &["oven"], 1) || said.has(&["then", "while"]);
    (lights && !into).then_some(Order::OvenLit)
}

fn pieces(said: &Said, text: &str, lexicon: &Lexicon) -> Option<Order> {
    const PIECE: &[&str] = &[
        "piece", "pieces", "ball", "balls", "roll", "rolls", "bun", "buns", "loaf", "loaves",
        "biscuit", "biscuits", "one", "portion", "bagel", "dough", "each", "them", "cake", "pie",
        "finger",
    ];
    let weighs = said.has(&["weigh", "weight", "heavy", "grams"]);
    let asks = said.has(&["how", "what"]);
    let numbers = spans(text, lexicon)
        .1
        .into_iter()
        .any(|found| matches!(found.kind, FoundKind::Amount | FoundKind::Percent));
    if !asks
        || numbers
        || said.has(&[
            "flour", "salt", "yeast", "butter", "sugar", "egg", "eggs", "oven", "long", "baked",
            "egg",
        ])
    {
        return None;
    }
    let each = said.has(&["each", "every", "per", "one"]);
    if each && weighs && said.has(PIECE) {
        return Some(Order::PieceMass);
    }
    let dough = said.has(&["dough", "mixture", "batter"]) && (weighs || said.says(&["how much"]));
    (dough
        && said.has(&[
            "got",
            "have",
            "all",
            "total",
            "altogether",
            "weigh",
            "there",
        ])
        && !said.has(&["water", "starter"]))
    .then_some(Order::DoughMass)
}

/// 'I have got haddock', where the formula allows it for the cod.
fn taken(text: &str, lexicon: &Lexicon) -> Option<Order> {
    const BEFORE: &[&str] = &[
        "i have got",
        "i have",
        "we have",
        "we have got",
        "i only have",
        "i have only got",
        "i have only",
        "there is only",
        "i got",
        "i bought",
        "i am using",
        "i am taking",
        "i will have",
        "i want",
        "we are using",
        "it is only",
        "all i have is",
    ];
    const AFTER: &[&str] = &[
        "instead", "here", "though", "today", "please", "only", "the", "some", "just",
    ];
    let tokens = tokens(text);
    for from in 1..tokens.len() {
        for (length, _, value) in lexicon.names(NameList::Other).at(&tokens[from..]) {
            let word = |t: &Token| t.word().to_owned();
            let mut before: Vec<String> = tokens[..from].iter().map(word).collect();
            while before.last().is_some_and(|w| AFTER.contains(&w.as_str())) {
                before.pop();
            }
            let after = tokens[from + length..]
                .iter()
                .all(|t| AFTER.contains(&t.word()));
            if !after || !BEFORE.contains(&before.join(" ").as_str()) {
                continue;
            }
            let (id, take) = value.split_once('|')?;
            return Some(Order::Choose {
                ingredient: Some(id.into()),
                take: Some(take.into()),
            });
        }
    }
    None
}
