//! Temperature, in the four ways that ovens are marked.

use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::MeasureError;

/// A fan oven is set this much lower, in Celsius (common practice).
pub const FAN_DROP_C: f64 = 20.0;

/// A temperature. Base unit: degree Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

/// How a temperature is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Heat {
    /// Degrees Celsius.
    C,
    /// Degrees Fahrenheit.
    F,
    /// Gas mark.
    Gas,
    /// Degrees Celsius on the knob of a fan oven.
    Fan,
}

/// A gas mark of the printed table. Kept in quarters: 1 is mark 1/4, 2 is mark 1/2, 4 is mark 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct GasMark(u8);

#[derive(Deserialize)]
struct Printed {
    mark: Vec<Mark>,
}

#[derive(Deserialize)]
struct Mark {
    number: f64,
    fahrenheit: f64,
    celsius: f64,
}

/// The printed table, read once.
fn printed() -> &'static [Mark] {
    static TABLE: OnceLock<Vec<Mark>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let text = include_str!("../../shared/tables/gas.toml");
        toml::from_str::<Printed>(text)
            .expect("the shipped gas-mark table is read by a test of every build")
            .mark
    })
}

impl GasMark {
    fn of(mark: &Mark) -> Self {
        Self((mark.number * 4.0).round() as u8)
    }

    /// All marks of the printed table, coolest first.
    pub fn all() -> impl Iterator<Item = Self> {
        printed().iter().map(Self::of)
    }

    /// The mark with this number: 0.25, 0.5, 1 to 10.
    pub fn number(n: f64) -> Result<Self, MeasureError> {
        printed()
            .iter()
            .find(|mark| (mark.number - n).abs() < 1e-9)
            .map(Self::of)
            .ok_or(MeasureError::OutOfRange {
                what: "gas mark",
                min: 0.25,
                max: 10.0,
                found: n,
            })
    }

    /// Its number: 0.25, 0.5, 1 to 10.
    pub fn as_number(self) -> f64 {
        f64::from(self.0) / 4.0
    }

    /// The Fahrenheit of this mark.
    pub fn fahrenheit(self) -> f64 {
        self.row().fahrenheit
    }

    /// The Celsius that is printed beside this mark.
    pub fn printed_celsius(self) -> f64 {
        self.row().celsius
    }

    fn row(self) -> &'static Mark {
        printed()
            .iter()
            .find(|mark| Self::of(mark) == self)
            .expect("a GasMark is only made from a row of the table")
    }

    /// The mark whose printed Celsius is nearest; `None` when the oven has no such mark (further than 15 degrees).
    pub fn nearest(heat: Temperature) -> Option<Self> {
        let off = |mark: &Mark| (mark.celsius - heat.as_celsius()).abs();
        printed()
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .filter(|mark| off(mark) <= 15.0)
            .map(Self::of)
    }
}

impl std::fmt::Display for GasMark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0 {
            1 => f.write_str("1/4"),
            2 => f.write_str("1/2"),
            q => write!(f, "{}", q / 4),
        }
    }
}

impl Heat {
    /// Reads `c`, `f`, `gas`, `fan` and the words that cooks use for them.
    pub fn find(word: &str) -> Option<Self> {
        let word = word
            .trim()
            .trim_start_matches(['°', 'º'])
            .to_ascii_lowercase();
        Some(
            match word
                .trim_start_matches("degrees ")
                .trim_start_matches("degree ")
            {
                "c" | "celsius" | "centigrade" | "degrees" | "degree" | "deg" | "" => Self::C,
                "f" | "fahrenheit" => Self::F,
                "gas" | "gas mark" | "mark" | "gm" => Self::Gas,
                "fan" | "c fan" | "celsius fan" | "fan c" | "fan celsius" | "convection"
                | "fan oven" => Self::Fan,
                _ => return None,
            },
        )
    }

    /// Its symbol in questions: `c`, `f`, `gas`, `fan`.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::C => "c",
            Self::F => "f",
            Self::Gas => "gas",
            Self::Fan => "fan",
        }
    }
}

impl Temperature {
    /// Absolute zero in Celsius: nothing is colder.
    const COLDEST_C: f64 = -273.15;

    /// A temperature in Celsius. Non-finite values become zero; below absolute zero becomes absolute zero.
    pub fn celsius(c: f64) -> Self {
        Self(if c.is_finite() {
            c.max(Self::COLDEST_C)
        } else {
            0.0
        })
    }
    /// A temperature in Fahrenheit: F = 1.8 C + 32.
    pub fn fahrenheit(f: f64) -> Self {
        Self::celsius((f - 32.0) / 1.8)
    }
    /// What a gas mark means, by the printed table.
    pub fn gas(mark: GasMark) -> Self {
        Self::celsius(mark.printed_celsius())
    }
    /// A still oven's equal of this setting on a fan oven.
    pub fn fan(c: f64) -> Self {
        Self::celsius(c + FAN_DROP_C)
    }
    /// A number in one of the four ways of marking.
    pub fn of(number: f64, heat: Heat) -> Result<Self, MeasureError> {
        let t = match heat {
            Heat::C => number,
            Heat::F => (number - 32.0) / 1.8,
            Heat::Gas => return GasMark::number(number).map(Self::gas),
            Heat::Fan => number + FAN_DROP_C,
        };
        if t.is_finite() && (Self::COLDEST_C..=2000.0).contains(&t) {
            Ok(Self(t))
        } else {
            Err(MeasureError::OutOfRange {
                what: "temperature in celsius",
                min: Self::COLDEST_C,
                max: 2000.0,
                found: t,
            })
        }
    }
    /// The temperature in Celsius.
    pub fn as_celsius(self) -> f64 {
        self.0
    }
    /// The temperature in Fahrenheit.
    pub fn as_fahrenheit(self) -> f64 {
        1.8 * self.0 + 32.0
    }
    /// The setting of a fan oven for the same bake.
    pub fn as_fan(self) -> f64 {
        self.0 - FAN_DROP_C
    }
    /// The gas mark printed nearest to it, when there is one.
    pub fn as_gas(self) -> Option<GasMark> {
        GasMark::nearest(self)
    }

    /// Reads '180 C', '350 °F', 'gas 4', 'gas mark 1/2', '160 fan', '200C fan', '180'.
    pub fn parse(text: &str) -> Result<Self, MeasureError> {
        let whole = text.trim().to_ascii_lowercase();
        if whole.is_empty() {
            return Err(MeasureError::Empty);
        }
        let at = whole.find(|c: char| c.is_ascii_digit() || "½¼-−".contains(c));
        let Some(at) = at else {
            return Err(MeasureError::NotANumber { found: whole }.in_amount(text));
        };
        let before = whole[..at].trim().to_owned();
        let rest = &whole[at..];
        let end = rest
            .find(|c: char| !(c.is_ascii_digit() || "./½¼-−".contains(c)))
            .unwrap_or(rest.len());
        let number = match rest[..end].trim() {
            "½" | "1/2" => 0.5,
            "¼" | "1/4" => 0.25,
            digits => digits.replace('−', "-").parse::<f64>().map_err(|_| {
                MeasureError::NotANumber {
                    found: digits.to_owned(),
                }
                .in_amount(text)
            })?,
        };
        let after = rest[end..].trim();
        let word = match (before.as_str(), after) {
            ("", after) => after.to_owned(),
            (before, "") => before.to_owned(),
            (before, after) => format!("{after} {before}"),
        };
        let heat = Heat::find(&word).ok_or_else(|| {
            MeasureError::UnknownUnit {
                unit: word.clone(),
                near: Some("c".to_owned()),
            }
            .in_amount(text)
        })?;
        Self::of(number, heat).map_err(|e| e.in_amount(text))
    }
}
