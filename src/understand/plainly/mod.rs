//! What is read by its meaning, in whatever words: a part of the body and what hurt it, a thing and a fire; a food and a night
//! on the table; an allergy and a dish.
//!
//! A sentence of the grammar says what it says. What is said in other words is read here where a few words of it leave no doubt,
//! before anything is mended or guessed.

mod allergens;
mod emergency;
mod facts;
mod keeping;
mod said;

pub use emergency::emergency;

use crate::order::Order;
use crate::understand::lexicon::Lexicon;
use said::Said;

/// Longer speech is talk.
const LONGEST: usize = 24;

/// What words mean that are no sentence of the grammar and leave no doubt; nothing where they do.
pub fn plainly(text: &str, lexicon: &Lexicon) -> Option<Order> {
    let said = Said::of(text);
    if said.words.len() < 2 || said.words.len() > LONGEST {
        return None;
    }
    allergens::read(&said, text, lexicon)
        .or_else(|| keeping::read(&said, text, lexicon))
        .or_else(|| facts::read(&said, text, lexicon))
}
