//! Why there is no scale.

use std::path::PathBuf;

/// Why a scale cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum PortError {
    /// No device is a scale.
    #[error("expected a scale, found none")]
    None,
    /// There is one, and it may not be opened.
    #[error(
        "expected leave to read `{path}`, found none: {}",
        super::access_sentence()
    )]
    Denied {
        /// Where.
        path: PathBuf,
    },
    /// What the settings name cannot be opened.
    #[error("cannot read the scale at `{path}`: {source}")]
    Open {
        /// Where.
        path: PathBuf,
        /// Why.
        #[source]
        source: std::io::Error,
    },
    /// What the settings name is a HID device, and no scale.
    #[error("expected a scale at `{path}`, found another device")]
    NoScale {
        /// Where.
        path: PathBuf,
    },
    /// Several are plugged in and the settings name none.
    #[error("expected one scale, found {}: write one as `device` under [scale] in the settings", paths.iter().map(|p| p.display().to_string()).collect::<Vec<_>>().join(", "))]
    Several {
        /// Where.
        paths: Vec<PathBuf>,
    },
}
