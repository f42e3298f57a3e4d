//! A formula at today's size as a page to print: what stands on it, and the forms that it takes.

mod braille;
mod content;
mod html;
#[cfg(feature = "program")]
mod pdf;
mod plain;

pub use braille::{CELLS, LINES, brf, to_translate};
pub use content::{ListItem, Page, Passage};
pub use html::html;
#[cfg(feature = "program")]
pub use pdf::{Paper, pdf};
pub use plain::plain;
