//! What an event was taken to mean: the one thing that goes from the language to the deeds, and into the journal.

use serde::{Deserialize, Serialize};

use crate::order::Order;

/// What an event was taken to mean. A replay applies it, and never reads words or keys again: another grammar, other
/// thresholds or another keypad make nothing else of what was done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "taken", rename_all = "snake_case")]
pub enum Taken {
    /// The event says all there is: time, a device, news.
    AsItIs,
    /// Talk, or nothing at all.
    Ignored,
    /// An order, by word or by key.
    Order {
        /// The order.
        order: Order,
    },
    /// Several orders in one breath.
    Orders {
        /// The orders, in their order.
        orders: Vec<Order>,
    },
    /// An order heard too badly to act on: it is asked back.
    Doubtful {
        /// The order.
        order: Order,
        /// What it may have been instead.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rather: Option<Order>,
    },
    /// Words that mean several things.
    OneOf {
        /// The question between them.
        question: String,
        /// What they may mean.
        readings: Vec<Order>,
    },
    /// Several orders in one breath, read too freely to act on: they are asked about together.
    AllOf {
        /// The question.
        question: String,
        /// The orders, in their order.
        orders: Vec<Order>,
    },
    /// Words without a meaning here.
    NotUnderstood {
        /// What is asked.
        question: String,
    },
    /// A key that only says something: a number half entered, an item of a list, what a held key would do.
    KeySays {
        /// What is said.
        text: String,
        /// It is an item of a list, or a question.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        choosing: bool,
    },
}
