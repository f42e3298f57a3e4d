//! The unit of an order.

use std::fmt;
use std::ops::Deref;
use std::str::FromStr;
use std::sync::OnceLock;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::measure::{Heat, MeasureError, Region, Unit};

/// A unit by its symbol in `measure`: `g`, `us cup`; a cup without a country is this kitchen's. Beside these the scales of
/// heat (`c`, `f`, `gas`, `fan`), lengths (`cm`, `inch`, `mm`), minutes (`min`), spoons of both sizes (`spoons`), and no
/// unit at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct UnitSymbol(&'static str);

impl UnitSymbol {
    /// A bare number.
    pub const NONE: Self = Self("");
    /// Grams.
    pub const GRAM: Self = Self("g");
    /// Kilograms.
    pub const KILOGRAM: Self = Self("kg");
    /// Ounces.
    pub const OUNCE: Self = Self("oz");
    /// Teaspoons, this kitchen's.
    pub const TEASPOON: Self = Self("tsp");
    /// Tablespoons, this kitchen's.
    pub const TABLESPOON: Self = Self("tbsp");
    /// Cups, this kitchen's.
    pub const CUP: Self = Self("cup");
    /// Spoons of both sizes.
    pub const SPOONS: Self = Self("spoons");
    /// Degrees Celsius.
    pub const CELSIUS: Self = Self("c");
    /// Degrees Fahrenheit.
    pub const FAHRENHEIT: Self = Self("f");
    /// A gas mark.
    pub const GAS: Self = Self("gas");
    /// Celsius of an oven with a fan.
    pub const FAN: Self = Self("fan");
    /// Centimetres.
    pub const CENTIMETRE: Self = Self("cm");
    /// Inches.
    pub const INCH: Self = Self("inch");
    /// Millimetres.
    pub const MILLIMETRE: Self = Self("mm");
    /// Minutes.
    pub const MINUTE: Self = Self("min");

    /// What stands beside the units of amount.
    const BESIDE: [Self; 10] = [
        Self::NONE,
        Self::SPOONS,
        Self::CELSIUS,
        Self::FAHRENHEIT,
        Self::GAS,
        Self::FAN,
        Self::CENTIMETRE,
        Self::INCH,
        Self::MILLIMETRE,
        Self::MINUTE,
    ];

    /// It is no unit.
    pub fn is_none(&self) -> bool {
        *self == Self::NONE
    }

    /// This kitchen's unit, or with `whose` the unit of its region.
    pub(crate) fn of(unit: Unit, whose: bool) -> Self {
        static REGIONAL: OnceLock<Vec<(Unit, String)>> = OnceLock::new();
        if !whose || unit.region().is_none() {
            return Self(unit.symbol());
        }
        let all = REGIONAL.get_or_init(|| {
            Unit::all()
                .filter(|unit| unit.region().is_some())
                .map(|unit| (unit, unit.full_symbol()))
                .collect()
        });
        let found = all.iter().find(|(known, _)| *known == unit);
        Self(found.map_or(unit.symbol(), |(_, symbol)| symbol))
    }
}

impl FromStr for UnitSymbol {
    type Err = MeasureError;

    fn from_str(text: &str) -> Result<Self, MeasureError> {
        if let Some(beside) = Self::BESIDE.into_iter().find(|known| known.0 == text) {
            return Ok(beside);
        }
        let whose = text
            .split_once(' ')
            .and_then(|(first, _)| Region::find(first));
        match (
            Unit::find(text, whose.unwrap_or_default()),
            Heat::find(text),
        ) {
            (Ok(unit), _) => Ok(Self::of(unit, whose.is_some())),
            (Err(_), Some(heat)) => Ok(Self(heat.symbol())),
            (Err(error), None) => Err(error),
        }
    }
}

impl Serialize for UnitSymbol {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0)
    }
}

impl<'de> Deserialize<'de> for UnitSymbol {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl Deref for UnitSymbol {
    type Target = str;
    fn deref(&self) -> &str {
        self.0
    }
}

impl fmt::Display for UnitSymbol {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

impl PartialEq<str> for UnitSymbol {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for UnitSymbol {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_reads_back_as_itself_and_nothing_else_is_one() {
        for unit in Unit::all() {
            for symbol in [UnitSymbol::of(unit, true), UnitSymbol::of(unit, false)] {
                assert_eq!(symbol.parse::<UnitSymbol>().ok(), Some(symbol));
            }
        }
        for beside in UnitSymbol::BESIDE {
            assert_eq!(beside.parse::<UnitSymbol>().ok(), Some(beside));
        }
        assert!("walnut".parse::<UnitSymbol>().is_err());
    }
}
