//! Everything that a cook can mean, as one closed type: the orders of all families, each declared in its family's file.

use serde::{Deserialize, Serialize};
use strum::{IntoStaticStr, VariantNames};

use super::alike::{SingleValue, SlotValue};
use super::emergency_kind::EmergencyKind;
use super::meant::meant;
use super::measures::Measure::{Celsius, Things, Times};
use super::question::Question;
use super::refs::{DishRef, Food, IngredientId, StepId, TimerRef, Title};
use super::scale_by::ScaleBy;
use super::unit_symbol::UnitSymbol;
use crate::measure::Mass;
use crate::time::{ClockTime, Span};

/// The end of the chain of families: all their orders as one type.
macro_rules! whole {
    ([] $($orders:tt)*) => {
        meant! {
            /// One order or question, with its slots filled. Serialises as `{"intent": name, "slots": {...}}`.
            #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
            #[serde(tag = "intent", content = "slots", rename_all = "snake_case")]
            #[strum(serialize_all = "snake_case")]
            pub enum Order { $($orders)* }
        }
    };
}

moving! { [weighing at_scale asking sizes timers clock dishes past session emergency whole] }

impl SlotValue for Box<Order> {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        (**self).visit(see);
    }
}

impl Order {
    /// It answers a question, and means nothing where none waits.
    pub fn is_answer(&self) -> bool {
        matches!(self, Self::Yes | Self::No | Self::NotYet)
    }

    /// It is about what was said or heard, and how: a question that waits goes on waiting.
    pub fn is_about_speech(&self) -> bool {
        matches!(
            self,
            Self::Repeat { .. }
                | Self::RepeatLast { .. }
                | Self::Spell
                | Self::WhatHeard
                | Self::Louder
                | Self::Quieter
                | Self::Slower
                | Self::Faster
                | Self::Higher
                | Self::Lower
                | Self::HangOn
        )
    }

    /// The timer that it is for, named or not; nothing for what is no order for a timer.
    pub fn timer(&self) -> Option<Option<TimerRef>> {
        let (mut order, mut found) = (self.clone(), None);
        order.visit(&mut |value| {
            if let Some(timer) = value.timer() {
                found = Some(timer.clone());
            }
        });
        found
    }

    /// The same order for another timer; nothing for what is no order for a timer.
    pub fn for_timer(&self, timer: TimerRef) -> Option<Self> {
        let (mut order, mut found) = (self.clone(), false);
        order.visit(&mut |value| {
            if let Some(slot) = value.timer() {
                *slot = Some(timer.clone());
                found = true;
            }
        });
        found.then_some(order)
    }

    /// The order that sounds most like this one, when there is one: thirteen and thirty to nineteen and ninety,
    /// teaspoon and tablespoon, grams and kilograms.
    pub fn sounds_like(&self) -> Option<Self> {
        let (mut other, mut turned) = (self.clone(), false);
        other.visit(&mut |value| turned = turned || value.turn_alike());
        turned.then_some(other)
    }
}
