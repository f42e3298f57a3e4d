//! What the families of orders declare, put together.

use super::book::Book;
use super::keys::Keys;
use super::loss::Loss;
use super::order::Order;
use super::situation::Situation;
use super::{
    asking, at_scale, baking, clock, diet, dishes, emergency, keeping, moving, packets, past,
    portions, safety, session, sizes, sums, timers, weighing,
};

/// Lays down the wordings of all orders.
pub(crate) fn wordings(g: &mut Book) {
    session::lay(g);
    emergency::lay(g);
    moving::lay(g);
    weighing::lay(g);
    asking::lay(g);
    at_scale::lay(g);
    diet::lay(g);
    packets::lay(g);
    baking::lay(g);
    safety::lay(g);
    keeping::lay(g);
    sums::lay(g);
    portions::lay(g);
    sizes::lay(g);
    timers::lay(g);
    clock::lay(g);
    dishes::lay(g);
    past::lay(g);
}

/// The keys of all orders.
pub(crate) fn all_keys() -> Keys {
    let mut k = Keys::default();
    moving::keys(&mut k);
    weighing::keys(&mut k);
    at_scale::keys(&mut k);
    asking::keys(&mut k);
    baking::keys(&mut k);
    safety::keys(&mut k);
    keeping::keys(&mut k);
    sums::keys(&mut k);
    portions::keys(&mut k);
    sizes::keys(&mut k);
    timers::keys(&mut k);
    clock::keys(&mut k);
    dishes::keys(&mut k);
    past::keys(&mut k);
    packets::keys(&mut k);
    session::keys(&mut k);
    emergency::keys(&mut k);
    k
}

/// The meaning of an order in a few words, as the end of `do you mean ...?`.
pub fn describe(order: &Order, here: &Situation) -> String {
    if let Order::AtDish { dish, order } = order {
        let (what, dish) = (describe(order, here), here.dish(*dish));
        return format!("{what} for the {dish}");
    }
    moving::describe(order)
        .or_else(|| weighing::describe(order, here))
        .or_else(|| at_scale::describe(order, here))
        .or_else(|| asking::describe(order, here))
        .or_else(|| packets::describe(order, here))
        .or_else(|| sizes::describe(order, here))
        .or_else(|| timers::describe(order, here))
        .or_else(|| clock::describe(order))
        .or_else(|| dishes::describe(order, here))
        .or_else(|| past::describe(order))
        .or_else(|| session::describe(order))
        .or_else(|| emergency::describe(order))
        .unwrap_or_else(|| order.name())
}

impl Order {
    /// It only asks, reads or repeats: nothing changes.
    pub fn only_asks(&self) -> bool {
        moving::asks(self)
            || weighing::asks(self)
            || at_scale::asks(self)
            || asking::asks(self)
            || timers::asks(self)
            || clock::asks(self)
            || dishes::asks(self)
            || past::asks(self)
            || session::asks(self)
            || emergency::asks(self)
    }

    /// It is about what is on the scale.
    pub fn is_at_scale(&self) -> bool {
        at_scale::describe(self, &Situation::default()).is_some()
    }

    /// What it may lose, about which the cook is asked first.
    pub fn loses(&self) -> Option<Loss<'_>> {
        sizes::loses(self)
            .or_else(|| timers::loses(self))
            .or_else(|| dishes::loses(self))
            .or_else(|| session::loses(self))
    }
}
