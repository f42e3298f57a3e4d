//! Quantity questions, and their answers from real computation.

mod answer;
mod question;

pub use answer::{Answer, AskError, Context, answer, nearest};
pub use question::Question;
