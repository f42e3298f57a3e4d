//! Keys: the USB numeric keypad, and the terminal's keyboard as the second way.

#[cfg(feature = "keypad")]
mod numeric;
mod terminal;

#[cfg(feature = "keypad")]
pub use numeric::{find, watch};
pub use terminal::{key_of, typed_lines, watch_terminal};

/// What the keys tell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeyNews {
    /// A key went down.
    Press(crate::bench::Key),
    /// A key has been down for a second.
    Held(crate::bench::Key),
    /// A whole line was typed, as an order.
    Line(String),
    /// A keypad came, by its name.
    Plugged(String),
    /// It went.
    Unplugged,
    /// Control-C, or the end of typed input.
    Leave,
}
