//! Making a formula in a dialogue, and changing one by a sentence: no file format to know, one question a line.
//!
//! The dialogue is the fold of its answers. Whoever keeps them, line by line, can take it up where it was.

mod change;
mod draft;
mod guess;
mod pad;
mod phrases;
mod question;
mod say;
mod session;

pub use change::{Changed, change};
pub use draft::Draft;
pub use pad::{Pad, PadSays};
pub use phrases::phrases;
pub use question::{AnswerKind, Prompt};
pub use session::{Answered, RECORDING, Writing};
