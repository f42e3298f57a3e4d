//! A scale at the edge: found by what its report descriptor says and never by its maker, or named in the settings as a
//! serial line, a file, a pipe or a socket; read, and found again when it was unplugged.

mod access;
mod error;
mod find;
mod input;
mod relay;
mod watch;

pub use access::{RULE, access_sentence};
pub use error::PortError;
pub use find::{FoundScale, PortOptions, Wanted, choose, find};
pub use input::Input;
pub use relay::Relay;
pub use watch::{read_until_gone, watch};

/// What a scale tells.
#[derive(Debug, Clone, PartialEq)]
pub enum ScaleNews {
    /// A scale came, by its name.
    Plugged(String),
    /// It went.
    Unplugged,
    /// There is one that cannot be used: a sentence for the cook.
    NoScale(String),
    /// It shows something.
    Reading(crate::scale::Reading),
}

#[cfg(test)]
mod tests;
