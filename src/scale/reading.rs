//! One reading of a scale.

use serde::{Deserialize, Serialize};

/// No scale of a kitchen shows more, in grams.
const MOST_G: f64 = 1e6;

/// What a scale says of the weight: the statuses of the usage tables, and one for scales that say nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// The scale is broken, or cannot weigh.
    Fault,
    /// Stable, at the centre of zero.
    Zero,
    /// In motion.
    Moving,
    /// Stable.
    Stable,
    /// Less than nothing.
    UnderZero,
    /// More than the scale can weigh.
    OverLimit,
    /// It wants to be calibrated.
    Calibrate,
    /// It wants to be set to zero.
    Rezero,
    /// It does not say.
    Unsaid,
}

impl Status {
    /// The statuses in the order of usages 0x71 to 0x78.
    pub const IN_ORDER: [Self; 8] = [
        Self::Fault,
        Self::Zero,
        Self::Moving,
        Self::Stable,
        Self::UnderZero,
        Self::OverLimit,
        Self::Calibrate,
        Self::Rezero,
    ];

    /// The scale cannot weigh until somebody does something about it.
    pub fn is_trouble(self) -> bool {
        matches!(
            self,
            Self::Fault | Self::OverLimit | Self::Calibrate | Self::Rezero
        )
    }

    /// The weight may be standing, as far as the scale says.
    pub fn may_stand(self) -> bool {
        matches!(self, Self::Stable | Self::Zero | Self::Unsaid)
    }
}

/// The units of the usage tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WeightUnit {
    /// Milligrams.
    Milligram,
    /// Grams.
    Gram,
    /// Kilograms.
    Kilogram,
    /// Metric carats.
    Carat,
    /// Taels.
    Tael,
    /// Grains.
    Grain,
    /// Pennyweights.
    Pennyweight,
    /// Metric tons.
    Tonne,
    /// Avoirdupois (short) tons.
    ShortTon,
    /// Troy ounces.
    TroyOunce,
    /// Avoirdupois ounces.
    Ounce,
    /// Avoirdupois pounds.
    Pound,
}

impl WeightUnit {
    /// The units in the order of usages 0x51 to 0x5C.
    pub const IN_ORDER: [Self; 12] = [
        Self::Milligram,
        Self::Gram,
        Self::Kilogram,
        Self::Carat,
        Self::Tael,
        Self::Grain,
        Self::Pennyweight,
        Self::Tonne,
        Self::ShortTon,
        Self::TroyOunce,
        Self::Ounce,
        Self::Pound,
    ];

    /// Grams in one: exact by definition (the international pound of 1959: 453.59237 g; a grain is a 7000th of it), but for
    /// the tael, of which there are several: this is the one of 37.5 g (m).
    pub fn grams(self) -> f64 {
        match self {
            Self::Milligram => 1e-3,
            Self::Gram => 1.0,
            Self::Kilogram => 1e3,
            Self::Carat => 0.2,
            Self::Tael => 37.5,
            Self::Grain => 0.064_798_91,
            Self::Pennyweight => 1.555_173_84,
            Self::Tonne => 1e6,
            Self::ShortTon => 907_184.74,
            Self::TroyOunce => 31.103_476_8,
            Self::Ounce => 28.349_523_125,
            Self::Pound => 453.592_37,
        }
    }

    /// The unit of a word or sign as scales print them.
    pub fn named(word: &str) -> Option<Self> {
        Some(match word.to_ascii_lowercase().as_str() {
            "mg" => Self::Milligram,
            "g" | "gr" | "gram" | "grams" => Self::Gram,
            "kg" | "kilo" | "kilos" | "kilograms" => Self::Kilogram,
            "ct" | "carat" => Self::Carat,
            "tl" | "tael" => Self::Tael,
            "gn" | "grain" | "grains" => Self::Grain,
            "dwt" => Self::Pennyweight,
            "t" => Self::Tonne,
            "ozt" => Self::TroyOunce,
            "oz" | "ounce" | "ounces" => Self::Ounce,
            "lb" | "lbs" | "pound" | "pounds" => Self::Pound,
            _ => return None,
        })
    }

    /// In words, for more than one.
    pub fn words(self) -> &'static str {
        match self {
            Self::Milligram => "milligrams",
            Self::Gram => "grams",
            Self::Kilogram => "kilograms",
            Self::Carat => "carats",
            Self::Tael => "taels",
            Self::Grain => "grains",
            Self::Pennyweight => "pennyweights",
            Self::Tonne => "tonnes",
            Self::ShortTon => "short tons",
            Self::TroyOunce => "troy ounces",
            Self::Ounce => "ounces",
            Self::Pound => "pounds",
        }
    }
}

/// What a scale showed at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// The weight in grams, below nothing with its sign.
    pub grams: f64,
    /// The smallest step that it shows, in grams.
    pub step: f64,
    /// The unit that it is set to.
    pub unit: WeightUnit,
    /// What it says of the weight.
    pub status: Status,
}

impl Reading {
    /// So many of a unit, in steps of so many.
    pub fn of(count: f64, step: f64, unit: WeightUnit, status: Status) -> Self {
        // Below nothing the number comes without a sign from most devices.
        let count = match status {
            Status::UnderZero => -count.abs(),
            _ => count,
        };
        Self {
            grams: count * unit.grams(),
            step: step * unit.grams(),
            unit,
            status,
        }
    }

    /// Grams on a scale of such a step.
    pub fn grams(grams: f64, step: f64, status: Status) -> Self {
        Self::of(grams, step, WeightUnit::Gram, status)
    }

    /// A kitchen could have such a weight.
    pub fn is_sane(&self) -> bool {
        self.grams.is_finite()
            && self.grams.abs() <= MOST_G
            && self.step > 0.0
            && self.step <= MOST_G
    }
}
