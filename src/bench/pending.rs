//! A question of the program's that waits for the cook.

use super::dish::At;
use super::effect::Effect;
use crate::order::Order;
use crate::time::{Minute, Moment, Span};
use crate::timer::{DishId, Timer};

/// A question about an order is forgotten after this; nothing is done.
const PATIENCE: Span = Span::seconds(20);
/// What was only guessed from a sentence waits less: it belongs to that sentence.
const GUESS: Span = Span::seconds(15);
/// So long a note is waited for: longer than an ear waits and listens.
const NOTE: Span = Span::seconds(90);

/// A question that was asked before, without how long it may take: by then that has gone by.
pub(super) fn asked_again(question: &str) -> String {
    question
        .split_once(" It may ")
        .map_or(question, |(asked, _)| asked)
        .to_owned()
}

/// The first look among timers.
pub(super) fn look_of(timers: &[&Timer]) -> Option<(u32, String)> {
    timers.iter().find_map(|t| Some((t.id, t.look.clone()?)))
}

/// What is waited for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Pending {
    /// Yes does this, and what was said in the same breath; no does nothing. A guess at what was said is passed over by
    /// the next thing said.
    Confirm {
        order: Box<Order>,
        then: Vec<Order>,
        guess: bool,
        question: String,
        until: Moment,
    },
    /// One of these was meant.
    Which {
        readings: Vec<Order>,
        question: String,
        until: Moment,
    },
    /// Yes plans for this hour of serving.
    Offer {
        ready: Minute,
        question: String,
        until: Moment,
    },
    /// A look before its time: yes ends the timer, no leaves it running.
    Early {
        timer: u32,
        question: String,
        until: Moment,
    },
    /// A timer's length is missing.
    HowLong {
        name: Option<String>,
        question: String,
        until: Moment,
    },
    /// It took much longer or shorter than is written: yes writes it down for next time.
    Keep {
        took: Effect,
        question: String,
        until: Moment,
    },
    /// After a stop in the middle of a weigh-up: is what was called in? Waits as long as it takes.
    OnScale { question: String },
    /// Too much of an ingredient is on the scale: yes makes the whole batch larger where that is offered, no leaves it.
    /// Waits as long as it takes.
    TooMuch {
        dish: DishId,
        at: At,
        net: f64,
        gross: f64,
        larger: Option<f64>,
        question: String,
    },
    /// There is no more of an ingredient: yes makes the whole batch smaller, no leaves it. Waits as long as it takes.
    TooLittle {
        dish: DishId,
        at: At,
        net: f64,
        gross: f64,
        question: String,
    },
    /// What is said or typed next is kept as a note for a dish. Yes ends it, no leaves it.
    Note {
        dish: DishId,
        question: String,
        until: Moment,
    },
    /// A timer ended on a look: yes ends it, not yet lengthens it. Waits as long as it takes.
    Look { timer: u32, question: String },
    /// A step ends on a look: yes goes on. Waits as long as it takes.
    StepLook { dish: DishId, question: String },
}

impl Pending {
    pub(super) fn confirm(order: Order, question: String, now: Moment) -> Self {
        Self::Confirm {
            order: Box::new(order),
            then: Vec::new(),
            guess: false,
            question,
            until: now.plus(PATIENCE),
        }
    }

    /// These may have been meant: yes does all of them, in their order.
    pub(super) fn guess(mut orders: Vec<Order>, question: String, now: Moment) -> Self {
        let then = orders.split_off(1);
        Self::Confirm {
            order: Box::new(orders.remove(0)),
            then,
            guess: true,
            question,
            until: now.plus(GUESS),
        }
    }

    /// A doubt between readings; one reading alone is a matter of yes or no.
    pub(super) fn which(readings: Vec<Order>, question: String, now: Moment) -> Self {
        if readings.len() == 1 {
            return Self::guess(readings, question, now);
        }
        Self::Which {
            readings,
            question,
            until: now.plus(PATIENCE),
        }
    }

    pub(super) fn how_long(name: Option<String>, question: String, now: Moment) -> Self {
        Self::HowLong {
            name,
            question,
            until: now.plus(PATIENCE),
        }
    }

    pub(super) fn offer(ready: Minute, question: String, now: Moment) -> Self {
        Self::Offer {
            ready,
            question,
            until: now.plus(PATIENCE),
        }
    }

    pub(super) fn early(timer: u32, question: String, now: Moment) -> Self {
        Self::Early {
            timer,
            question,
            until: now.plus(PATIENCE),
        }
    }

    pub(super) fn keep(took: Effect, question: String, now: Moment) -> Self {
        Self::Keep {
            took,
            question,
            until: now.plus(PATIENCE),
        }
    }

    pub(super) fn note(dish: DishId, question: String, now: Moment) -> Self {
        Self::Note {
            dish,
            question,
            until: now.plus(NOTE),
        }
    }

    /// The dish that it is about, where it is about one: whoever answers is at that dish.
    pub(super) fn dish(&self) -> Option<DishId> {
        match self {
            Self::TooMuch { dish, .. }
            | Self::TooLittle { dish, .. }
            | Self::Note { dish, .. }
            | Self::StepLook { dish, .. } => Some(*dish),
            _ => None,
        }
    }

    /// It asks about an order that is not done yet.
    pub(super) fn is_doubt(&self) -> bool {
        matches!(
            self,
            Self::Confirm { .. } | Self::Which { .. } | Self::HowLong { .. }
        )
    }

    /// It asks whether something that was said meant this.
    pub(super) fn is_guess(&self) -> bool {
        matches!(self, Self::Confirm { guess: true, .. })
    }

    pub(super) fn question(&self) -> &str {
        match self {
            Self::Confirm { question, .. }
            | Self::Which { question, .. }
            | Self::Offer { question, .. }
            | Self::Early { question, .. }
            | Self::HowLong { question, .. }
            | Self::Keep { question, .. }
            | Self::Note { question, .. }
            | Self::OnScale { question }
            | Self::TooMuch { question, .. }
            | Self::TooLittle { question, .. }
            | Self::Look { question, .. }
            | Self::StepLook { question, .. } => question,
        }
    }

    /// How to answer it by key.
    pub(super) fn keys(&self) -> &'static str {
        match self {
            Self::Confirm { .. }
            | Self::Offer { .. }
            | Self::Early { .. }
            | Self::Keep { .. }
            | Self::TooLittle { .. } => "Enter is yes, Backspace is no.",
            Self::TooMuch {
                larger: Some(_), ..
            } => "Enter makes it all larger, Backspace leaves it.",
            Self::TooMuch { larger: None, .. } => "Enter leaves it.",
            Self::Note { .. } => "Enter ends it, Backspace leaves it.",
            Self::Which { .. } => "Enter reads the choices, minus leaves it.",
            Self::HowLong { .. } => "Enter the minutes, then Enter. Backspace leaves it.",
            Self::Look { .. } | Self::StepLook { .. } | Self::OnScale { .. } => {
                "Enter is yes, minus is not yet."
            }
        }
    }

    pub(super) fn wake_at(&self) -> Option<Moment> {
        match self {
            Self::Confirm { until, .. }
            | Self::Note { until, .. }
            | Self::Which { until, .. }
            | Self::Offer { until, .. }
            | Self::Early { until, .. }
            | Self::Keep { until, .. }
            | Self::HowLong { until, .. } => Some(*until),
            Self::Look { .. }
            | Self::StepLook { .. }
            | Self::OnScale { .. }
            | Self::TooMuch { .. }
            | Self::TooLittle { .. } => None,
        }
    }
}
