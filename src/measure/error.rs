//! What can be wrong with an amount.

use thiserror::Error;

/// Why an amount, unit or temperature could not be read or turned into another.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MeasureError {
    /// Nothing was written.
    #[error("expected an amount, found nothing")]
    Empty,
    /// The whole amount did not parse; the cause says where.
    #[error("amount \"{amount}\": {cause}")]
    Amount {
        /// The amount as written.
        amount: String,
        /// What is wrong in it.
        cause: Box<MeasureError>,
    },
    /// A unit that is not known.
    #[error("unknown unit \"{unit}\"{}", near.as_ref().map(|n| format!("; did you mean \"{n}\"?")).unwrap_or_default())]
    UnknownUnit {
        /// The word as written.
        unit: String,
        /// The nearest known unit, when one is near.
        near: Option<String>,
    },
    /// The size of a tin that cannot be read.
    #[error(
        "expected a size such as `30 x 20 cm`, `round 20 cm` or `loaf 23 x 13 x 7 cm`, found `{found}`"
    )]
    Tin {
        /// As written.
        found: String,
    },
    /// A number was expected.
    #[error("expected a number, found \"{found}\"")]
    NotANumber {
        /// What stood there.
        found: String,
    },
    /// Something is left over after the amount.
    #[error("expected the end of the amount, found \"{found}\"")]
    LeftOver {
        /// What stood there.
        found: String,
    },
    /// A fraction over zero.
    #[error("expected a fraction that can be divided, found \"{found}\"")]
    DivisionByZero {
        /// What stood there.
        found: String,
    },
    /// A range whose end is below its start.
    #[error("expected a range from small to large, found {low} to {high}")]
    Backwards {
        /// The first number.
        low: f64,
        /// The second number.
        high: f64,
    },
    /// A number outside what a kitchen holds.
    #[error("{what}: expected {min} to {max}, found {found}")]
    OutOfRange {
        /// Name of the limit.
        what: &'static str,
        /// The least.
        min: f64,
        /// The most.
        max: f64,
        /// What stood there.
        found: f64,
    },
    /// Two kinds of measure that cannot be joined or turned into one another.
    #[error("{from} is a {from_kind} and {to} is a {to_kind}: they do not turn into each other")]
    Kinds {
        /// The unit that is known.
        from: String,
        /// Its kind.
        from_kind: &'static str,
        /// The unit that is wanted.
        to: String,
        /// Its kind.
        to_kind: &'static str,
    },
    /// Mass and volume need the ingredient's density.
    #[error("the density of {} is not in the table, so {from} cannot become {to}",
        ingredient.as_ref().map_or_else(|| "this ingredient".to_owned(), |i| format!("`{i}`")))]
    NoDensity {
        /// The ingredient, when one was named.
        ingredient: Option<String>,
        /// The unit that is known.
        from: String,
        /// The unit that is wanted.
        to: String,
    },
    /// A count needs the mass of one piece.
    #[error("the mass of one {piece} of {} is not in the table",
        ingredient.as_ref().map_or_else(|| "this ingredient".to_owned(), |i| format!("`{i}`")))]
    NoPiece {
        /// The ingredient, when one was named.
        ingredient: Option<String>,
        /// What one is called.
        piece: String,
    },
}

impl MeasureError {
    /// Puts the amount as written in front.
    pub(crate) fn in_amount(self, amount: &str) -> Self {
        match self {
            Self::Empty | Self::Amount { .. } => self,
            cause => Self::Amount {
                amount: amount.trim().to_owned(),
                cause: Box::new(cause),
            },
        }
    }
}
