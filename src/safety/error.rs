//! What the safety tables cannot answer.

use thiserror::Error;

/// Why a safety question has no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SafetyError {
    /// The food is not in the table.
    #[error("no safe temperature is listed for `{food}`; ask your local food authority")]
    UnknownFood {
        /// As the cook named it.
        food: String,
    },
    /// Outside the temperatures for which time can stand in for heat.
    #[error("core temperature in celsius: expected {min} to {max}, found {found}")]
    OutOfRange {
        /// The least.
        min: f64,
        /// The most.
        max: f64,
        /// What was asked.
        found: f64,
    },
}
