//! The spoken language: what was said becomes an `Order`, and what can be said becomes the recogniser's network.
//!
//! One grammar does both. Its rules are data (`rules`, one function per rule), read by a matcher over words (`parse`)
//! and compiled into a finite-state network (`compiler`), so the two cannot drift apart.

mod automaton;
mod compiler;
mod dishes;
mod doubt;
mod expr;
mod grammar;
mod in_talk;
mod lexicon;
mod loose;
mod matcher;
mod names;
mod network;
pub mod numbers;
mod parse;
mod plainly;
mod repair;
mod rules;
mod spans;
mod text;

pub use compiler::network;
pub(crate) use dishes::AFTER;
pub use dishes::{parse, reading};
pub use doubt::{question_between, question_of_all};
pub use lexicon::{DishNames, Lexicon, is_common_adjective, timer_of_dish};
pub use network::{Network, NetworkArc};
pub use parse::Understood;
pub use plainly::{emergency, plainly};
pub use spans::{FoundKind, FoundValue, Mention, spans};
pub use text::name_words;

/// Every word of the grammar that does not depend on the formula and that the recogniser should know.
pub fn literal_words() -> std::collections::BTreeSet<&'static str> {
    grammar::GRAMMAR.literals()
}
