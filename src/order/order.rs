//! Everything that a cook can mean, as one closed type: the orders of all families, each declared in its family's file.

use serde::{Deserialize, Serialize};
use strum::{IntoStaticStr, VariantNames};

use super::alike::{Slot, meant};
use super::question::Question;
use super::refs::{Food, IngredientId, StepId, TimerRef, UnitSymbol};
use super::scale_by::ScaleBy;
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

moving! { [weighing at_scale asking sizes timers clock session whole] }

impl Order {
    /// It answers a question, and means nothing where none waits.
    pub fn is_answer(&self) -> bool {
        matches!(self, Self::Yes | Self::No | Self::NotYet)
    }

    /// The timer that it is for, named or not; nothing for what is no order for a timer.
    pub fn timer(&self) -> Option<Option<TimerRef>> {
        let mut order = self.clone();
        order.slots().into_iter().find_map(Slot::timer).cloned()
    }

    /// The same order for another timer; nothing for what is no order for a timer.
    pub fn for_timer(&self, timer: TimerRef) -> Option<Self> {
        let mut order = self.clone();
        let slot = order.slots().into_iter().find_map(Slot::timer)?;
        *slot = Some(timer);
        Some(order)
    }

    /// The order that sounds most like this one, when there is one: thirteen and thirty to nineteen and ninety,
    /// teaspoon and tablespoon, grams and kilograms.
    pub fn sounds_like(&self) -> Option<Self> {
        let mut other = self.clone();
        other.turn_alike().then_some(other)
    }
}
