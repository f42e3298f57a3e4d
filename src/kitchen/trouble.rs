//! Why a command ended badly.

use std::error::Error;

/// Why a command ended badly: a sentence for the user with what it came from, and the exit code.
#[derive(Debug, thiserror::Error)]
#[error("{cause}")]
pub(super) struct Trouble {
    cause: Box<dyn Error + Send + Sync>,
    pub(super) code: u8,
}

impl Trouble {
    /// Bad input: exit code 2.
    pub(super) fn input(cause: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self {
            cause: cause.into(),
            code: 2,
        }
    }

    /// Nobody reads what is printed: no failure.
    pub(super) fn unread() -> Self {
        Self {
            cause: "nobody reads this".into(),
            code: 0,
        }
    }

    /// Something failed that is not the user's doing: exit code 1.
    pub(super) fn failed(cause: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self {
            cause: cause.into(),
            code: 1,
        }
    }
}
