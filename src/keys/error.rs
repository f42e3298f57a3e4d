//! Why there are no keys.

use std::path::PathBuf;

/// Why a keypad cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum KeysError {
    /// The folder of input devices cannot be read.
    #[error("cannot read `{path}`: {source}")]
    Folder {
        /// Where.
        path: PathBuf,
        /// Why.
        #[source]
        source: std::io::Error,
    },
    /// No device looks like a keypad.
    #[error("expected a numeric keypad, found none")]
    None,
    /// There are keypads, and none may be opened.
    #[error(
        "expected leave to read `{path}`, found none: {}",
        super::access_sentence()
    )]
    Denied {
        /// The first that was refused.
        path: PathBuf,
    },
    /// Several look like a keypad and the settings name none.
    #[error("expected one keypad, found {}: write one as `id` under [keypad] in the settings", ids.join(", "))]
    Several {
        /// Their stable ids.
        ids: Vec<String>,
    },
    /// The keypad went while it was used.
    #[error("the keypad was unplugged")]
    Gone,
}
