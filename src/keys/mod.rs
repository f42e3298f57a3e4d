//! Keys at the edge: a numeric keypad through evdev, or the same keys from the terminal, become events of the bench.
//!
//! A key acts when it is let go, or as soon as another key goes down. Held for a second it only says what it does: so
//! trying a key out changes nothing, and a key that sticks does nothing at all.

mod access;
mod codes;
mod decoder;
mod error;
mod facts;
mod lesson;
#[cfg(feature = "keypad")]
mod pad;
mod reader;
mod repeats;
#[cfg(feature = "program")]
mod strokes;
#[cfg(feature = "program")]
mod terminal;
mod typed;

pub use access::{RULE, access_sentence};
pub use codes::{KeyMap, code_key};
pub use decoder::{Decoder, Signal};
pub use error::KeysError;
pub use facts::{Choice, Facts, choose};
pub use lesson::Lesson;
#[cfg(feature = "keypad")]
pub use pad::{PadOptions, Pads, find, learn, read_until_gone, watch};
pub use reader::{EventReader, InputEvent};
pub use repeats::{Press, Repeats};
#[cfg(feature = "program")]
pub use terminal::watch_terminal;
pub use typed::{next_line, typed_lines};

/// What the keys tell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeyNews {
    /// A key was pressed.
    Press(crate::bench::Key),
    /// A key has been down for a second.
    Held(crate::bench::Key),
    /// A whole line was typed, as an order.
    Line(String),
    /// A line of keys was typed.
    Keys(Vec<crate::bench::Key>),
    /// A keypad came, by its name.
    Plugged(String),
    /// It went.
    Unplugged,
    /// There is no keypad although there could be: a sentence for the cook.
    NoKeypad(String),
    /// The terminal has another size.
    Resized,
    /// The cook wants to leave, or typed input has ended.
    Leave,
    /// The cook leaves now: Control-C.
    LeaveNow,
}
