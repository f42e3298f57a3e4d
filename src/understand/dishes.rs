//! Words where several dishes are made: which dish they are about.
//!
//! What the dish at hand has is about the dish at hand. 'Of the soup' at the end (or 'for the soup' in front) is about the
//! soup, and read by the soup's own names. What only another dish has is about that dish; where several others have it, the
//! cook is asked.

use super::lexicon::{DishNames, Lexicon};
use super::parse::{Understood, doubt, exact, parse_one, reading_one};
use super::text::name_words;
use crate::order::alike::SlotValue;
use crate::order::{DishRef, Order};

/// What may stand between a sentence and its dish.
const WHOSE: [&str; 5] = ["on", "of", "in", "for", "with"];
/// What may stand before the name by which the program is called.
const BEFORE: [&str; 4] = ["okay", "ok", "hey", "hello"];
/// What may stand after a sentence, and changes nothing.
pub(crate) const AFTER: [&str; 4] = ["please", "now", "then", "thanks"];

/// Reads what was heard or typed.
pub fn parse(text: &str, lexicon: &Lexicon) -> Understood {
    if let Some(order) = super::plainly::emergency(text) {
        return Understood::Order(order);
    }
    let here = || parse_one(text, lexicon);
    if lexicon.dishes().is_empty() {
        return here();
    }
    let exact = exact(text, lexicon);
    if exact.iter().any(has_words_of_the_cook) {
        return here();
    }
    if let Some(read) = with_its_dish(text, lexicon) {
        return read;
    }
    // Where two of its own ingredients may be meant, the dish at hand asks.
    if exact.iter().any(|order| !names_a_stranger(order, lexicon)) {
        return here();
    }
    elsewhere(text, lexicon).unwrap_or_else(here)
}

/// The one meaning of words that are a sentence as they stand; quick, and nothing is mended.
pub fn reading(text: &str, lexicon: &Lexicon) -> Option<Order> {
    if lexicon.dishes().is_empty() {
        return reading_one(text, lexicon);
    }
    match parse(text, lexicon) {
        Understood::Order(order) => Some(order),
        _ => None,
    }
}

/// Its words are the cook's own, and may name anything: 'remind me in ten minutes to put the leeks in the soup'.
fn has_words_of_the_cook(order: &Order) -> bool {
    matches!(
        order,
        Order::Remind { .. } | Order::AddCue { .. } | Order::StartWithCue { .. }
    )
}

/// It names an ingredient that the formula at hand has not.
fn names_a_stranger(order: &Order, lexicon: &Lexicon) -> bool {
    ingredients(order).iter().any(|id| !lexicon.has(id))
}

/// The ingredients that an order names.
fn ingredients(order: &Order) -> Vec<String> {
    let (mut order, mut all) = (order.clone(), Vec::new());
    order.visit(&mut |value| all.extend(value.ingredient().map(ToString::to_string)));
    all
}

/// The same order for another dish than the one at hand.
fn at(dish: &DishNames, order: Order) -> Order {
    match order {
        // What is about dishes is about the one that it names.
        order @ (Order::AtDish { .. }
        | Order::GoToDish { .. }
        | Order::DishDoing { dish: Some(_) }
        | Order::PutOff { .. }
        | Order::LeaveOut { .. }) => order,
        order => Order::AtDish {
            dish: dish.id,
            order: Box::new(order),
        },
    }
}

/// A sentence that names its dish; nothing where it names none, or what is left of it is no sentence.
fn with_its_dish(text: &str, lexicon: &Lexicon) -> Option<Understood> {
    let mut words: Vec<String> = text
        .to_lowercase()
        .split_whitespace()
        .map(|w| w.trim_matches([',', '.', '?', '!', ':']).to_owned())
        .filter(|w| !w.is_empty())
        .collect();
    let call = lexicon.call().map(name_words).unwrap_or_default();
    while let Some(word) = words.last() {
        if !call.is_empty() && words.ends_with(&call) {
            words.truncate(words.len() - call.len());
        } else if AFTER.contains(&word.as_str()) {
            words.pop();
        } else {
            break;
        }
    }
    // The dish's own names know no call; other polite words are read with the sentence.
    let polite = words.first().is_some_and(|w| BEFORE.contains(&w.as_str()));
    let from = usize::from(polite && words[1..].starts_with(&call));
    if !call.is_empty() && words[from..].starts_with(&call) {
        words.drain(..from + call.len());
    }
    let (named, left) = at_the_end(&words, lexicon).or_else(|| in_front(&words, lexicon))?;
    let mut readings: Vec<Order> = Vec::new();
    for dish in lexicon.dishes().iter().filter(|d| named.contains(&d.id)) {
        let read = left
            .iter()
            .find_map(|text| reading_one(text, &dish.lexicon));
        // What the dish has not is asked of it all the same, and told.
        let read = read.or_else(|| left.iter().find_map(|text| reading_one(text, lexicon)));
        readings.extend(read.map(|order| at(dish, order)));
    }
    match readings.as_slice() {
        [] => {
            let [one] = named.as_slice() else { return None };
            let dish = lexicon.dishes().iter().find(|d| d.id == *one)?;
            // Two of its ingredients, or a slip: asked about as ever.
            let wrapped = |order: Order| at(dish, order);
            let by = |names: &Lexicon| {
                left.iter().find_map(|text| match parse_one(text, names) {
                    Understood::Order(order) => Some(Understood::Order(wrapped(order))),
                    Understood::Doubt { readings, .. } => {
                        let readings = readings.into_iter().map(wrapped).collect();
                        Some(doubt(readings, lexicon))
                    }
                    Understood::Nothing { .. } => None,
                })
            };
            by(&dish.lexicon).or_else(|| by(lexicon))
        }
        [one] => Some(Understood::Order(one.clone())),
        _ => Some(doubt(readings, lexicon)),
    }
}

type Named = (Vec<DishRef>, Vec<String>);

/// `how much salt in the soup`: the dishes that may be meant, and the sentence without them, and without them but with
/// the little word before.
fn at_the_end(words: &[String], lexicon: &Lexicon) -> Option<Named> {
    let (mut named, mut longest) = (Vec::new(), 0);
    for dish in lexicon.dishes() {
        for name in dish.spoken() {
            let n = name.len();
            let ends = words.len() > n && plain(&words[words.len() - n..]) == name;
            if ends && n > longest {
                (named, longest) = (vec![dish.id], n);
            } else if ends && n == longest {
                named.push(dish.id);
            }
        }
    }
    let only = lexicon.dishes().iter();
    let ended = words.get(words.len().checked_sub(longest)?..)?;
    let exact: Vec<DishRef> = only
        .filter(|d| name_words(&d.name) == plain(ended))
        .map(|d| d.id)
        .collect();
    if !exact.is_empty() {
        named = exact;
    }
    let mut to = words.len() - longest;
    if to > 0 && ["the", "my", "that"].contains(&words[to - 1].as_str()) {
        to -= 1;
    }
    if longest == 0 || to == 0 || !WHOSE.contains(&words[to - 1].as_str()) || to < 2 {
        return None;
    }
    Some((
        named,
        vec![words[..to - 1].join(" "), words[..to].join(" ")],
    ))
}

/// `for the soup, how much salt`.
fn in_front(words: &[String], lexicon: &Lexicon) -> Option<Named> {
    let first = words.first()?;
    if !WHOSE.contains(&first.as_str()) {
        return None;
    }
    let from = 1 + usize::from(words.get(1).is_some_and(|w| w == "the"));
    let (mut named, mut longest) = (Vec::new(), 0);
    for dish in lexicon.dishes() {
        for name in dish.spoken() {
            let n = name.len();
            let is = words.len() > from + n && plain(&words[from..from + n]) == name;
            if is && n > longest {
                (named, longest) = (vec![dish.id], n);
            } else if is && n == longest {
                named.push(dish.id);
            }
        }
    }
    (longest > 0).then(|| (named, vec![words[from + longest..].join(" ")]))
}

fn plain(words: &[String]) -> Vec<String> {
    name_words(&words.join(" "))
}

/// What another dish has, and the one at hand has not.
fn elsewhere(text: &str, lexicon: &Lexicon) -> Option<Understood> {
    let mut readings: Vec<Order> = Vec::new();
    for dish in lexicon.dishes() {
        let Some(order) = reading_one(text, &dish.lexicon) else {
            continue;
        };
        let its = ingredients(&order);
        let names_its_own = !its.is_empty() && its.iter().all(|id| dish.lexicon.has(id));
        let names_its_step = matches!(order, Order::GoToStep { .. } | Order::TellStep { .. });
        if names_its_own || names_its_step {
            readings.push(at(dish, order));
        }
    }
    match readings.len() {
        0 => None,
        1 => Some(Understood::Order(readings.remove(0))),
        _ => Some(doubt(readings, lexicon)),
    }
}
