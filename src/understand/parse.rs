//! From words to an order, or to the one question that the program would ask.

use super::doubt::question_between;
use super::lexicon::Lexicon;
use super::loose;
use super::matcher::{FREE, Matcher};
use super::numbers::say_number;
use super::repair::{Repair, repair};
use super::text::{Token, tokens};
use crate::measure::words::capital;
use crate::order::Order;
use crate::order::slots::Value;

/// A reading that is this much dearer (in thousandths) than the best is not in doubt with it.
const MARGIN: u32 = 250;
/// Longer utterances are talk.
const LONGEST: usize = 48;

/// What an utterance was taken to mean.
#[derive(Debug, Clone, PartialEq)]
pub enum Understood {
    /// One meaning.
    Order(Order),
    /// More than one meaning, or one that was mended and is not safe to act on: ask, and do nothing.
    Doubt {
        /// The one short question.
        question: String,
        /// What it may mean, the likeliest first.
        readings: Vec<Order>,
    },
    /// No meaning.
    Nothing {
        /// The one short question.
        question: String,
    },
}

/// Reads what was heard or typed by the names of one dish.
pub(super) fn parse_one(text: &str, lexicon: &Lexicon) -> Understood {
    let tokens = tokens(text);
    if tokens.is_empty() || tokens.len() > LONGEST {
        return nothing(&[], lexicon);
    }
    let (best, near) = nearest(&tokens, lexicon);
    // A name that no table knows may be a known one with a slip in it.
    let unknown = best >= FREE && matches!(near.as_slice(), [Order::Ask(_), ..]);
    if !near.is_empty() && !unknown {
        let near = near.into_iter().map(|order| loose::as_written(order, text));
        return settle(near.collect(), lexicon);
    }
    if let Some(question) = loose::read(text, lexicon) {
        return Understood::Order(Order::Ask(question));
    }
    if let Some(order) = super::plainly::plainly(text, lexicon) {
        return Understood::Order(order);
    }
    match repair(text, lexicon) {
        // A slip of the finger in a question harms nobody; an order is asked about first.
        Repair::Clear(order, slip) if !slip || order.only_asks() => Understood::Order(order),
        Repair::Clear(order, _) => doubt(vec![order], lexicon),
        Repair::Doubtful(readings) => doubt(readings, lexicon),
        Repair::None if unknown => settle(near, lexicon),
        Repair::None => nothing(&tokens, lexicon),
    }
}

/// The one meaning of words that are a sentence as they stand; quick, and nothing is mended.
pub(super) fn reading_one(text: &str, lexicon: &Lexicon) -> Option<Order> {
    let tokens = tokens(text);
    if tokens.len() > LONGEST {
        return None;
    }
    let (_, mut near) = nearest(&tokens, lexicon);
    near.pop().filter(|_| near.is_empty())
}

/// The meanings of words that are a sentence as they stand, several where they are in doubt; none where a name in them is
/// known nowhere.
pub(super) fn exact(text: &str, lexicon: &Lexicon) -> Vec<Order> {
    let tokens = tokens(text);
    if tokens.is_empty() || tokens.len() > LONGEST {
        return Vec::new();
    }
    match nearest(&tokens, lexicon) {
        (cost, _) if cost >= FREE => Vec::new(),
        (_, near) => near,
    }
}

/// The readings that are not in doubt with better ones, and what the best one costs.
fn nearest(tokens: &[Token], lexicon: &Lexicon) -> (u32, Vec<Order>) {
    let readings = Matcher::new(lexicon, tokens).sentences();
    let best = readings.first().map_or(0, |(cost, _)| *cost);
    let mut near: Vec<Order> = readings
        .into_iter()
        .filter(|(cost, _)| *cost <= best + MARGIN)
        .map(|(_, i)| i)
        .collect();
    // A timer of the oven is called the oven timer; the oven is a switch.
    let is_switch =
        |order: &Order| matches!(order, Order::OvenOff | Order::OvenLit | Order::OvenState);
    if near.iter().any(is_switch) {
        near.retain(is_switch);
    }
    (best, near)
}

fn settle(mut near: Vec<Order>, lexicon: &Lexicon) -> Understood {
    if near.len() == 1 {
        Understood::Order(near.remove(0))
    } else {
        doubt(near, lexicon)
    }
}

pub(super) fn doubt(readings: Vec<Order>, lexicon: &Lexicon) -> Understood {
    Understood::Doubt {
        question: question_between(&readings, lexicon.situation()),
        readings,
    }
}

fn nothing(tokens: &[Token], lexicon: &Lexicon) -> Understood {
    let mut matcher = Matcher::new(lexicon, tokens);
    let question = if tokens.is_empty() {
        "Say that again, please?".to_string()
    } else if let Some(Value::Num(n)) = matcher.whole("number").first() {
        format!("{} what?", capital(&say_number(*n)))
    } else if let Some(Value::Text(name)) = matcher.whole("the_any").first() {
        format!("What about the {}?", lexicon.situation().ingredient(name))
    } else if let Some(Value::Text(name)) = matcher.whole("which_timer").first() {
        format!("What about the {name} timer?")
    } else {
        "I did not understand. Say that another way?".to_string()
    };
    Understood::Nothing { question }
}
