//! Whether something is in it, asked for somebody: 'my mother cannot have nuts, which dish can she eat'.

use super::said::Said;
use crate::order::slots::Value;
use crate::order::{DishRef, Order};
use crate::understand::lexicon::Lexicon;
use crate::understand::matcher::Matcher;
use crate::understand::text::{name_words, tokens};

/// It must not be in it.
const MUST_NOT: &[&str] = &[
    "can not have",
    "can not eat",
    "can not touch",
    "must not have",
    "must not eat",
    "should not have",
    "should not eat",
    "may not eat",
    "does not eat",
    "do not eat",
    "will not eat",
    "can not tolerate",
    "not allowed",
    "can not do",
];
const ALLERGIC: &[&str] = &[
    "allergic",
    "allergy",
    "allergies",
    "intolerant",
    "intolerance",
    "coeliac",
    "celiac",
    "avoid",
    "avoids",
    "reacts",
    "react",
];
/// What is asked about.
const WHICH: &[&str] = &[
    "anything",
    "something",
    "which",
    "what",
    "any",
    "dish",
    "dishes",
    "everything",
    "nothing",
    "either",
    "both",
    "ones",
    "one",
    "they",
    "them",
];
const HAS: &[&str] = &[
    "with",
    "in",
    "has",
    "have",
    "contain",
    "contains",
    "containing",
    "got",
    "includes",
    "include",
    "made",
];
/// It is about something else.
const OTHER: &[&str] = &[
    "much",
    "many",
    "instead",
    "use",
    "put",
    "add",
    "added",
    "grams",
    "long",
    "when",
    "timer",
    "next",
    "left",
    "weigh",
    "first",
    "minutes",
    "replace",
    "swap",
    "substitute",
    "temperature",
    "degrees",
    "do",
    "step",
];

/// The allergen or the way of eating that is meant, whether it is a way of eating, and where it stands: what is nearest to
/// who must not have it, for a dish may have the name of a food.
fn topic(said: &Said, text: &str, lexicon: &Lexicon) -> Option<(String, bool, usize)> {
    let tokens = tokens(text);
    let mut matcher = Matcher::new(lexicon, &tokens);
    let mut found: Vec<(usize, usize, String, bool)> = Vec::new();
    for from in 0..tokens.len() {
        for (rule, diet) in [("allergen", false), ("diet", true)] {
            for (to, _, value) in matcher.at(rule, from) {
                let inside = found.iter().any(|(f, t, ..)| *f <= from && to <= *t);
                if let (Value::Sym(word), false) = (value, inside) {
                    found.retain(|(f, ..)| *f != from);
                    found.push((from, to, word.to_owned(), diet));
                }
            }
        }
    }
    let ill = said.at(ALLERGIC);
    let must_not = MUST_NOT.iter().find_map(|phrase| said.place(phrase));
    let near = |at: &usize| match (ill, must_not) {
        (Some(ill), _) => at.abs_diff(ill),
        (None, Some(from)) if *at > from => at - from,
        _ => usize::MAX - at,
    };
    let (at, _, word, diet) = found.into_iter().min_by_key(|(at, ..)| near(at))?;
    Some((word, diet, at))
}

/// The dish of several that is named.
fn dish(said: &Said, lexicon: &Lexicon) -> Option<DishRef> {
    let dishes = &lexicon.situation().dishes;
    let named = dishes
        .iter()
        .filter(|dish| said.place(&name_words(&dish.name).join(" ")).is_some());
    match named.collect::<Vec<_>>().as_slice() {
        [one] => Some(one.id),
        _ => None,
    }
}

pub(super) fn read(said: &Said, text: &str, lexicon: &Lexicon) -> Option<Order> {
    let (what, diet, at) = topic(said, text, lexicon)?;
    let ill = said.has(ALLERGIC) || said.says(MUST_NOT);
    let free = matches!(said.word(at + 1), "free" | "safe" | "friendly")
        && said.has(&["is", "are", "it", "which", "what", "anything"]);
    let eats =
        diet && said.has(&[
            "is", "are", "can", "eat", "eats", "for", "still", "now", "suitable",
        ]) && !said.has(&["make", "how"]);
    let asks = said.has(WHICH) && said.has(HAS) && !said.has(OTHER);
    let made = said.says(&["have made", "no longer"]);
    let absent = ill || free || eats;
    if !(absent || asks) || made || said.says(&["packet says", "label says"]) {
        return None;
    }
    // 'I can not have put the milk in.'
    if !diet && said.says(&["have put", "have added", "have forgotten", "eat yet"]) {
        return None;
    }
    let order = Order::Contains {
        what: what.as_str().into(),
        absent,
    };
    Some(match dish(said, lexicon) {
        Some(dish) => Order::AtDish {
            dish,
            order: Box::new(order),
        },
        None => order,
    })
}
