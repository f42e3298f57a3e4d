//! Why a question has no answer, in words that can be spoken.

use thiserror::Error;

use crate::dough::DoughError;
use crate::measure::MeasureError;
use crate::safety::SafetyError;
use crate::swap::SwapError;

/// Why a question has no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum AskError {
    /// A unit or number.
    #[error(transparent)]
    Measure(#[from] MeasureError),
    /// A dough sum.
    #[error(transparent)]
    Dough(#[from] DoughError),
    /// A swap.
    #[error(transparent)]
    Swap(#[from] SwapError),
    /// A food.
    #[error(transparent)]
    Safety(#[from] SafetyError),
    /// Between a mass and a volume stands an ingredient.
    #[error("of what? from {from} to {to} it depends on the ingredient")]
    OfWhat {
        /// The unit that is known.
        from: String,
        /// The unit that is wanted.
        to: String,
    },
    /// The ingredient is not in the table, and it is needed.
    #[error("`{ingredient}` is not in the table, so I do not know {missing}{}",
        if near.is_empty() { String::new() } else { format!("; did you mean {}?", near.join(" or ")) })]
    UnknownIngredient {
        /// As the cook named it.
        ingredient: String,
        /// What is missing: how heavy a cup is, how heavy one is.
        missing: &'static str,
        /// Names near to it.
        near: Vec<String>,
    },
    /// A value that neither the question nor the formula gives.
    #[error("I need {what}: say it with the question")]
    Missing {
        /// What is missing: the flour, the room's temperature.
        what: &'static str,
    },
    /// A number that makes no sense here.
    #[error("{what}: expected {min} to {max}, found {found}")]
    OutOfRange {
        /// What the number is.
        what: &'static str,
        /// The least.
        min: f64,
        /// The most.
        max: f64,
        /// What was said.
        found: f64,
    },
    /// No oven is marked like this.
    #[error("no gas mark is near {celsius:.0} C: they go from 110 to 260 C")]
    NoGasMark {
        /// The temperature asked for.
        celsius: f64,
    },
    /// A word for a temperature scale or a preferment that is not known.
    #[error("expected {expected}, found `{found}`")]
    UnknownWord {
        /// What was expected.
        expected: &'static str,
        /// What was said.
        found: String,
    },
}

/// A value inside its limits, or the error that says so.
pub(super) fn within(what: &'static str, found: f64, min: f64, max: f64) -> Result<f64, AskError> {
    if (min..=max).contains(&found) {
        Ok(found)
    } else {
        Err(AskError::OutOfRange {
            what,
            min,
            max,
            found,
        })
    }
}
