//! The book of wordings: patterns of words, and what each means, as the families of orders and the rules of the language
//! write them down. `understand` reads it once, for matching and for the recogniser's network.

use super::order::Order;
use super::situation::Situation;
use super::slots::{Caps, Value};

/// How a way's captures become its value.
pub(crate) enum Build {
    /// Always this.
    Const(Value),
    /// From the captures.
    From(fn(&Caps, &Situation) -> Option<Value>),
    /// A whole order or question, from the captures.
    Order(fn(&Caps, &Situation) -> Option<Order>),
}

/// The ways to say one thing.
pub(crate) struct Wording {
    /// Its name, by which later patterns use it.
    pub(crate) name: &'static str,
    /// Pattern and meaning.
    pub(crate) ways: Vec<(&'static str, Build)>,
    /// Its ways are whole sentences.
    pub(crate) whole: bool,
}

/// All wordings, in order: a pattern uses only what stands before it.
#[derive(Default)]
pub(crate) struct Book {
    pub(crate) wordings: Vec<Wording>,
}

impl Book {
    /// Lays down a rule. A pattern that begins with `~` is a less usual wording (`~~` twice so), with `!` it is
    /// understood when typed and not offered to the recogniser.
    pub(crate) fn lay(&mut self, name: &'static str, ways: Vec<(&'static str, Build)>) {
        self.wordings.push(Wording {
            name,
            ways,
            whole: false,
        });
    }

    /// Lays down a rule whose ways are whole sentences with one meaning.
    pub(crate) fn say(
        &mut self,
        name: &'static str,
        patterns: &[&'static str],
        build: fn(&Caps, &Situation) -> Option<Order>,
    ) {
        let ways = patterns.iter().map(|p| (*p, Build::Order(build))).collect();
        self.wordings.push(Wording {
            name,
            ways,
            whole: true,
        });
    }
}

/// A pattern and its meaning from the captures.
pub(crate) fn way(
    pattern: &'static str,
    build: fn(&Caps, &Situation) -> Option<Value>,
) -> (&'static str, Build) {
    (pattern, Build::From(build))
}

/// A pattern that always means the same.
pub(crate) fn give(pattern: &'static str, value: Value) -> (&'static str, Build) {
    (pattern, Build::Const(value))
}
