//! Values that sound alike: fifteen and fifty, a teaspoon and a tablespoon. Every kind of slot says for itself what it may
//! be taken for, so that no order is left out and no value is turned into one that there is not.

use super::refs::{Food, IngredientId, PartName, StepId, TimerRef, UnitSymbol};
use crate::measure::tin::{Shape, Size};
use crate::measure::{Mass, Region};
use crate::time::{ClockTime, Span};

/// A slot of an order.
pub(crate) trait Slot {
    /// Becomes what it may be taken for; false, and unchanged, where there is nothing.
    fn turn_alike(&mut self) -> bool {
        false
    }

    /// The slot for a timer, where it is one.
    fn timer(&mut self) -> Option<&mut Option<TimerRef>> {
        None
    }
}

/// Lays down a type of meanings, of which every slot can be reached.
macro_rules! meant {
    ($(#[$meta:meta])* pub enum $Name:ident {
        $($(#[$about:meta])* $Variant:ident $({ $($(#[$of:meta])* $slot:ident: $Type:ty),* $(,)? })? $(($Inner:ty))?),* $(,)?
    }) => {
        $(#[$meta])*
        pub enum $Name {
            $($(#[$about])* $Variant $({ $($(#[$of])* $slot: $Type),* })? $(($Inner))?),*
        }

        impl $Name {
            /// Every slot, in order.
            pub(crate) fn slots(&mut self) -> Vec<&mut dyn Slot> {
                match self {
                    $(Self::$Variant $({ $($slot),* })? $(($crate::order::alike::of!($Inner, inner)))? => vec![
                        $($($slot as &mut dyn Slot),*)?
                        $($crate::order::alike::of!($Inner, inner) as &mut dyn Slot)?
                    ]),*
                }
            }
        }

        impl Slot for $Name {
            fn turn_alike(&mut self) -> bool {
                self.slots().into_iter().any(Slot::turn_alike)
            }
        }
    };
}

/// The name of what a variant has inside.
macro_rules! of {
    ($Inner:ty, $name:ident) => {
        $name
    };
}

pub(crate) use {meant, of};

/// The number that sounds like this one: its last two digits are a teen or a full ten.
fn other(n: f64) -> Option<f64> {
    if n.fract() != 0.0 || !(13.0..10_000.0).contains(&n) {
        return None;
    }
    let tail = n % 100.0;
    if (13.0..=19.0).contains(&tail) {
        return Some(n - tail + (tail - 10.0) * 10.0);
    }
    (tail % 10.0 == 0.0 && (30.0..=90.0).contains(&tail)).then(|| n - tail + tail / 10.0 + 10.0)
}

/// Puts another value in, where there is one.
fn put<T>(into: &mut T, other: Option<T>) -> bool {
    other.is_some_and(|other| {
        *into = other;
        true
    })
}

impl Slot for f64 {
    fn turn_alike(&mut self) -> bool {
        put(self, other(*self))
    }
}

impl Slot for u32 {
    fn turn_alike(&mut self) -> bool {
        put(self, other(f64::from(*self)).map(|n| n as u32))
    }
}

impl Slot for StepId {
    fn turn_alike(&mut self) -> bool {
        self.0.turn_alike()
    }
}

impl Slot for Span {
    /// What was said is the largest whole unit.
    fn turn_alike(&mut self) -> bool {
        let millis = self.as_millis();
        let unit = [3_600_000, 60_000, 1000]
            .into_iter()
            .find(|unit| millis.is_multiple_of(*unit))
            .unwrap_or(1000);
        let found = other(millis as f64 / unit as f64).map(|n| Self::millis(n as u64 * unit));
        put(self, found)
    }
}

impl Slot for ClockTime {
    /// The minutes, as far as there are such minutes; no hour sounds like another.
    fn turn_alike(&mut self) -> bool {
        let found = other(f64::from(self.minute)).filter(|minute| *minute < 60.0);
        let found = found.map(|minute| Self {
            minute: minute as u8,
            ..*self
        });
        put(self, found)
    }
}

impl Slot for Mass {
    fn turn_alike(&mut self) -> bool {
        let grams = self.as_grams();
        let unit = if grams >= 10_000.0 { 1000.0 } else { 1.0 };
        put(self, other(grams / unit).map(|n| Self::grams(n * unit)))
    }
}

impl Slot for UnitSymbol {
    fn turn_alike(&mut self) -> bool {
        let other = match &**self {
            "tsp" => "tbsp",
            "tbsp" => "tsp",
            "g" => "kg",
            "kg" => "g",
            _ => return false,
        };
        *self = other.into();
        true
    }
}

impl Slot for TimerRef {}

impl Slot for Option<TimerRef> {
    fn timer(&mut self) -> Option<&mut Option<TimerRef>> {
        Some(self)
    }
}

/// A value that may be left out.
macro_rules! optional {
    ($($Type:ty),*) => {
        $(impl Slot for Option<$Type> {
            fn turn_alike(&mut self) -> bool {
                self.as_mut().is_some_and(Slot::turn_alike)
            }
        })*
    };
}

optional!(
    f64,
    u32,
    StepId,
    Span,
    ClockTime,
    Mass,
    UnitSymbol,
    Food,
    IngredientId,
    String,
    bool,
    Shape,
    Size,
    Region
);

impl<T: Slot> Slot for Vec<T> {
    fn turn_alike(&mut self) -> bool {
        self.iter_mut().any(Slot::turn_alike)
    }
}

impl<T: Slot> Slot for Box<T> {
    fn turn_alike(&mut self) -> bool {
        (**self).turn_alike()
    }
}

/// What is a word sounds like nothing that could be meant as well: two names that do are asked about by the grammar.
macro_rules! words {
    ($($Type:ty),*) => {
        $(impl Slot for $Type {})*
    };
}

words!(
    bool,
    String,
    Food,
    IngredientId,
    PartName,
    Shape,
    Size,
    Region
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::HalfDay;

    #[test]
    fn numbers_that_sound_alike_come_in_pairs() {
        for (a, b) in [
            (13.0, 30.0),
            (15.0, 50.0),
            (19.0, 90.0),
            (115.0, 150.0),
            (317.0, 370.0),
            (1014.0, 1040.0),
        ] {
            assert_eq!(other(a), Some(b));
            assert_eq!(other(b), Some(a));
        }
        for n in [0.0, 1.0, 10.0, 12.0, 20.0, 25.0, 100.0, 13.5, 210.0] {
            assert_eq!(other(n), None, "{n}");
        }
    }

    #[test]
    fn a_clock_time_is_only_taken_for_one_that_there_is() {
        for hour in 0..24 {
            for minute in 0..60 {
                let at = ClockTime {
                    hour,
                    minute,
                    half: HalfDay::Said,
                };
                let mut like = at;
                let turned = like.turn_alike();
                assert_eq!(turned, [13, 14, 15, 30, 40, 50].contains(&minute), "{at:?}");
                assert_eq!(like.hour, hour, "no hour is taken for another");
                assert!(like.minute < 60 && (turned || like == at));
            }
        }
    }
}
