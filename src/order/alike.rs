//! What the value of a slot may be taken for, and how it is said whole: fifteen minutes and fifty minutes, a teaspoon and a
//! tablespoon. Every kind of value says both for itself, and a bare number is none: it is declared with its measure. So no
//! slot is left out, no value is turned into one that there is not, and no question names a number without its unit.

use super::refs::{IngredientId, TimerRef};

/// The value of a slot as it is said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Said {
    /// So many of a unit.
    Measured {
        /// How many.
        number: String,
        /// Of what.
        unit: String,
    },
    /// A number that has its word before it: a step.
    Numbered {
        /// The word.
        before: &'static str,
        /// The number.
        number: String,
    },
    /// In words that are the value only together: a clock time, a unit.
    Whole(String),
    /// A word or a choice that shows in the sentence around it.
    InSentence(String),
}

impl Said {
    /// All of it.
    pub(crate) fn whole(&self) -> String {
        match self {
            Self::Measured { number, unit } => format!("{number} {unit}"),
            Self::Numbered { before, number } => format!("{before} {number}"),
            Self::Whole(words) | Self::InSentence(words) => words.clone(),
        }
    }

    /// Its unit is this other value.
    pub(crate) fn counts_in(&self, other: &Self) -> bool {
        matches!((self, other), (Self::Measured { unit, .. }, Self::Whole(words)) if unit == words)
    }

    /// What an answer may call it.
    pub(crate) fn short_and_whole(&self) -> Vec<String> {
        match self {
            Self::Measured { number, unit } => vec![number.clone(), unit.clone(), self.whole()],
            Self::Numbered { number, .. } => vec![number.clone(), self.whole()],
            _ => vec![self.whole()],
        }
    }
}

/// What a slot may hold.
pub(crate) trait SlotValue {
    /// Shows every single value in it, in order.
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue));
}

/// A value that is said as one.
pub(crate) trait SingleValue {
    /// Becomes what it may be taken for; false, and unchanged, where there is nothing.
    fn turn_alike(&mut self) -> bool;

    /// How it is said.
    fn said(&self) -> Said;

    /// The slot for a timer, where it is one.
    fn timer(&mut self) -> Option<&mut Option<TimerRef>> {
        None
    }

    /// The formula's ingredient, where it is one.
    fn ingredient(&self) -> Option<&IngredientId> {
        None
    }
}

impl<T: SingleValue> SlotValue for T {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        see(self);
    }
}

impl<T: SlotValue> SlotValue for Option<T> {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        if let Some(value) = self {
            value.visit(see);
        }
    }
}

impl<T: SlotValue> SlotValue for Vec<T> {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        for value in self {
            value.visit(see);
        }
    }
}

/// The number that sounds like this one: its last two digits are a teen or a full ten.
pub(super) fn other(n: f64) -> Option<f64> {
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
pub(super) fn put<T>(into: &mut T, other: Option<T>) -> bool {
    other.is_some_and(|other| {
        *into = other;
        true
    })
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
