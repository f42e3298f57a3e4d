//! What an event was taken to mean: the one thing that goes from the language to the deeds, and into the journal.

use serde::{Deserialize, Serialize};

use super::event::Event;
use crate::order::Order;
use crate::scale::{Call, WeightNews};
use crate::time::Moment;
use crate::timer::DishId;

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
    /// An order beside a scale, with what the scale showed then.
    AtScale {
        /// The order.
        order: Order,
        /// What it showed.
        shows: Shows,
    },
    /// An order that may go on, and the dish whose turn it was then.
    GoOn {
        /// The order.
        order: Order,
        /// Whose turn it was.
        turn: Turn,
    },
    /// What the scale showed comes to something that stays.
    Weighed {
        /// To what.
        news: Vec<WeightNews>,
    },
    /// The scale is called: now, or not at all.
    Called {
        /// What is called.
        call: Call,
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

impl Taken {
    /// Whether nothing stays of the event: talk, or a reading that came to nothing, ten times a second. It is not written
    /// into the journal, so the bench must be afterwards as if it had not been.
    pub fn passes(&self, event: &Event) -> bool {
        match event {
            Event::Heard(_) => *self == Self::Ignored,
            Event::Scale { .. } => !matches!(self, Self::Weighed { .. }),
            _ => false,
        }
    }
}

/// Whose turn it is, where several dishes are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "turn", rename_all = "snake_case")]
pub enum Turn {
    /// A dish's.
    Of {
        /// Which.
        dish: DishId,
    },
    /// A dish's, but by the plan not yet.
    Soon {
        /// Which.
        dish: DishId,
        /// When.
        at: Moment,
    },
    /// Nothing wants the cook now.
    Nobody,
}

/// What a scale showed when something was said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Shows {
    /// All that is on it, in grams.
    pub gross: f64,
    /// So much of what is being weighed, where that has begun to go in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net: Option<f64>,
    /// It is at rest.
    pub rests: bool,
}
