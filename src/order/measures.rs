//! What the numbers in slots count, and how they are said with it.

use super::alike::{Said, SingleValue, other, put};
use super::said::{say_number, unit_words};
use super::unit_symbol::UnitSymbol;
use crate::measure::Unit;

/// What a number in a slot counts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Measure {
    /// A mass in grams, which may have been said in kilograms, ounces or pounds.
    Grams,
    /// Percent.
    Percent,
    /// Degrees Celsius, which may have been said in Fahrenheit.
    Celsius,
    /// Minutes.
    Minutes,
    /// Centimetres.
    Centimetres,
    /// How many times something is taken.
    Times,
    /// Parts of a proportion.
    Parts,
    /// Things of this name, many.
    Things(&'static str),
    /// Things of this name as it was said.
    ThingsNamed(String),
    /// Of this unit.
    Of(UnitSymbol),
    /// What the unit is stands elsewhere, or nowhere.
    For(&'static str),
}

/// How near a number must be to a whole one to have been said as one.
const NEAR: f64 = 1e-6;

impl Measure {
    /// The unit in which a number was said: its size, nought, and its name.
    fn spoken(&self, n: f64) -> (f64, f64, &str) {
        let whole = |size: f64, zero: f64| {
            let n = (n - zero) / size;
            (n - n.round()).abs() < NEAR
        };
        match self {
            Self::Grams => {
                let (ounce, pound) = (Unit::Ounce.size(), Unit::Pound.size());
                if n >= 10_000.0 && whole(1000.0, 0.0) {
                    (1000.0, 0.0, "kilograms")
                } else if whole(1.0, 0.0) {
                    (1.0, 0.0, "grams")
                } else if n >= 13.0 * pound && whole(pound, 0.0) {
                    (pound, 0.0, "pounds")
                } else if whole(ounce, 0.0) {
                    (ounce, 0.0, "ounces")
                } else {
                    (1.0, 0.0, "grams")
                }
            }
            Self::Celsius if !whole(1.0, 0.0) && whole(1.0 / 1.8, -32.0 / 1.8) => {
                (1.0 / 1.8, -32.0 / 1.8, "degrees fahrenheit")
            }
            Self::Celsius => (1.0, 0.0, "degrees"),
            Self::Percent => (1.0, 0.0, "percent"),
            Self::Minutes => (1.0, 0.0, "minutes"),
            Self::Centimetres => (1.0, 0.0, "centimetres"),
            Self::Times => (1.0, 0.0, "times"),
            Self::Parts => (1.0, 0.0, "parts"),
            Self::Things(name) | Self::For(name) => (1.0, 0.0, name),
            Self::ThingsNamed(name) => (1.0, 0.0, name),
            Self::Of(unit) => (1.0, 0.0, unit_words(unit).map_or(&**unit, |(_, many)| many)),
        }
    }

    /// Turns a number into the one that it may be taken for.
    pub(super) fn turn_alike(&self, n: &mut f64) -> bool {
        let (size, zero, _) = self.spoken(*n);
        let said = (*n - zero) / size;
        let said = if (said - said.round()).abs() < NEAR {
            said.round()
        } else {
            said
        };
        // Rounded as the grammar rounds what it converts.
        let turned = other(said).map(|m| ((m * size + zero) * 1e9).round() / 1e9);
        put(n, turned)
    }

    /// A number as it is said, with what it counts.
    pub(super) fn said(&self, n: f64) -> Said {
        let (size, zero, unit) = self.spoken(n);
        let number = (n - zero) / size;
        let number = if (number - number.round()).abs() < NEAR {
            number.round()
        } else {
            number
        };
        match self {
            Self::Of(UnitSymbol::NONE) => Said::Whole(say_number(number)),
            Self::For(before) => Said::Numbered {
                before,
                number: say_number(number),
            },
            _ => Said::Measured {
                number: say_number(number),
                unit: unit.to_owned(),
            },
        }
    }
}

/// The numbers that a slot may hold.
pub(crate) trait Numbers {
    /// Shows each.
    fn each(&mut self, see: &mut dyn FnMut(&mut f64));
}

impl Numbers for f64 {
    fn each(&mut self, see: &mut dyn FnMut(&mut f64)) {
        see(self);
    }
}

impl Numbers for u32 {
    fn each(&mut self, see: &mut dyn FnMut(&mut f64)) {
        let mut n = f64::from(*self);
        see(&mut n);
        *self = n as u32;
    }
}

impl<T: Numbers> Numbers for Option<T> {
    fn each(&mut self, see: &mut dyn FnMut(&mut f64)) {
        if let Some(n) = self {
            n.each(see);
        }
    }
}

impl<T: Numbers> Numbers for Vec<T> {
    fn each(&mut self, see: &mut dyn FnMut(&mut f64)) {
        for n in self {
            n.each(see);
        }
    }
}

/// A number with what it counts.
struct Counted<'a> {
    number: &'a mut f64,
    measure: &'a Measure,
}

impl SingleValue for Counted<'_> {
    fn turn_alike(&mut self) -> bool {
        self.measure.turn_alike(self.number)
    }

    fn said(&self) -> Said {
        self.measure.said(*self.number)
    }
}

/// Shows the numbers of a slot with what they count.
pub(crate) fn visit(
    slot: &mut impl Numbers,
    measure: Measure,
    see: &mut dyn FnMut(&mut dyn SingleValue),
) {
    slot.each(&mut |number| {
        see(&mut Counted {
            number,
            measure: &measure,
        });
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_said_in_another_unit_is_turned_in_that_unit() {
        for (measure, said, other, words) in [
            (
                Measure::Grams,
                315.0,
                350.0,
                "three hundred and fifteen grams",
            ),
            (Measure::Grams, 15_000.0, 50_000.0, "fifteen kilograms"),
            (
                Measure::Grams,
                15.0 * Unit::Ounce.size(),
                50.0 * Unit::Ounce.size(),
                "fifteen ounces",
            ),
            (
                Measure::Grams,
                15.0 * Unit::Pound.size(),
                50.0 * Unit::Pound.size(),
                "fifteen pounds",
            ),
            (
                Measure::Celsius,
                (115.0 - 32.0) / 1.8,
                (150.0 - 32.0) / 1.8,
                "one hundred and fifteen degrees fahrenheit",
            ),
        ] {
            let mut n = said;
            assert!(measure.turn_alike(&mut n), "{words}");
            assert!((n - other).abs() < NEAR, "{words}: {n}");
            assert_eq!(measure.said(said).whole(), words);
        }
    }
}
