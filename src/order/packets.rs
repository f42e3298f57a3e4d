//! What the cook read on a packet: 'the stock cubes have celery', 'the margarine has no milk'.

use super::asking::ALLERGENS;
use super::book::Book;
use super::keys::{Keys, ingredients, one_of, pairs, words};
use super::order::Order;
use super::place::Place;
use super::situation::Situation;
use super::slots::Caps;

pub(super) fn lay(g: &mut Book) {
    g.say(
        "packet_holds",
        &[
            "<i:the_own> (has|have|contains|contain) <w:allergen> [in (it|them)]",
            "there (is|are) <w:allergen> in <i:the_own>",
            "the packet of <i:the_own> (says|has|contains) <w:allergen>",
            "i [have] read the packet of <i:the_own> (it contains|it has|there is|they contain|they have) <w:allergen>",
        ],
        |c, _| packet(c, false),
    );
    g.say(
        "packet_has_none",
        &[
            "<i:the_own> (has|have|contains|contain) no <w:allergen> [in (it|them)]",
            "<i:the_own> (does|do) not (have|contain) <w:allergen>",
            "<i:the_own> (is|are) <w:allergen> free|<i:the_own> (is|are) free (of|from) <w:allergen>",
            "there is no <w:allergen> in <i:the_own>",
            "the packet of <i:the_own> (says|has) no <w:allergen>",
            "i [have] read the packet of <i:the_own> [it contains|it has|there is|they contain|they have] no <w:allergen>",
        ],
        |c, _| packet(c, true),
    );
}

fn packet(c: &Caps, absent: bool) -> Option<Order> {
    Some(Order::Packet {
        ingredient: c.text("i")?,
        what: c.text("w")?,
        absent,
    })
}

/// `the packet of the margarine says no milk`.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    let Order::Packet {
        ingredient,
        what,
        absent,
    } = order
    else {
        return None;
    };
    let no = if *absent { "no " } else { "" };
    let name = here.ingredient(ingredient);
    Some(format!("the packet of the {name} says {no}{what}"))
}

pub(super) fn keys(k: &mut Keys) {
    k.path(
        ". 9 13",
        "what a packet says",
        vec![
            one_of("The packet of what?", ingredients),
            one_of("What of it?", |_| words(ALLERGENS)),
            one_of("Does the packet say that it is in it?", |_| {
                pairs(&[("it is in it", "in"), ("there is none", "none")])
            }),
        ],
        |a, _| {
            Ok(Order::Packet {
                ingredient: a.ingredient(0),
                what: a.word(1).unwrap_or_default().into(),
                absent: a.word(2) == Some("none"),
            })
        },
    );
    k.show(
        ". 9 - Enter 1 2 2",
        Place::Step,
        "the packet of the first ingredient says no milk",
    );
}
