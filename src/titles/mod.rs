//! The titles of the book: how one is found by its name, a nickname or a part, and the dialogue that asks for one.

mod asking;
mod title;

pub use asking::{Asking, Reply};
pub use title::{Title, named};
