//! Why a swap has no answer.

use thiserror::Error;

/// Why nothing can be named.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SwapError {
    /// Nothing is listed for it.
    #[error("no swap is listed for `{of}`")]
    NoneFor {
        /// What the formula says.
        of: String,
    },
    /// Something else is listed, but not this.
    #[error("I know of no way to take `{with}` for `{of}`; for `{of}` there is {}", listed.join(", "))]
    NotWith {
        /// What the formula says.
        of: String,
        /// What the cook has.
        with: String,
        /// What is listed instead.
        listed: Vec<String>,
    },
}
