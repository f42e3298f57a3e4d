//! What can be wrong with the settings: with file and line.

use std::path::PathBuf;

/// Why the settings cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// There is no folder to keep them in.
    #[error("expected `HOME` or `XDG_CONFIG_HOME` to be set, found neither")]
    NoFolder,
    /// The file cannot be read.
    #[error("{}: cannot be read: {source}", path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        #[source]
        source: std::io::Error,
    },
    /// The file cannot be written.
    #[error("{}: cannot be written: {source}", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        #[source]
        source: std::io::Error,
    },
    /// Something in it is wrong.
    #[error("{}:{line}: {fault}", path.display())]
    Fault {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What.
        fault: SettingFault,
    },
}

/// What is wrong at one place of the settings.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SettingFault {
    /// It is no TOML.
    #[error("expected TOML, found a fault: {0}")]
    Syntax(String),
    /// There is no such setting.
    #[error("expected a setting, found `{found}`; did you mean `{nearest}`?")]
    Unknown {
        /// What stands there.
        found: String,
        /// The nearest name that there is.
        nearest: String,
    },
    /// A control character, which would steer the terminal.
    #[error("column {column}: expected plain text, found the control character {}", crate::clean::named(*character))]
    Steering {
        /// The column, from 1.
        column: usize,
        /// What stands there.
        character: char,
    },
    /// The value will not do.
    #[error("`{setting}`: expected {expected}, found `{found}`")]
    Value {
        /// Which setting.
        setting: String,
        /// What would do.
        expected: String,
        /// What stands there.
        found: String,
    },
}
