//! The rules, one function each, in order: a rule uses only what stands before it.

mod amounts;
mod asking;
mod baking;
mod clock;
mod diet;
mod durations;
mod moving;
mod names;
mod numbers;
mod planning;
mod safety;
mod scaling;
mod session;
mod sums;
mod timers;
mod weighing;

use super::grammar::Grammar;

/// Lays down the whole grammar.
pub(super) fn lay_all(g: &mut Grammar) {
    numbers::lay(g);
    amounts::lay(g);
    durations::lay(g);
    clock::lay(g);
    names::lay(g);
    session::lay(g);
    moving::lay(g);
    weighing::lay(g);
    asking::lay(g);
    diet::lay(g);
    baking::lay(g);
    safety::lay(g);
    sums::lay(g);
    scaling::lay(g);
    timers::lay(g);
    planning::lay(g);
}
