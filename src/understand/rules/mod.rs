//! The rules, one function each, in order: a rule uses only what stands before it.

mod amounts;
mod clock;
mod durations;
mod names;
mod numbers;

use crate::order::book::Book;

/// Lays down the whole grammar: the parts of speech that orders are made of, then the orders.
pub(super) fn lay_all(g: &mut Book) {
    numbers::lay(g);
    amounts::lay(g);
    durations::lay(g);
    clock::lay(g);
    names::lay(g);
    crate::order::wordings(g);
}
