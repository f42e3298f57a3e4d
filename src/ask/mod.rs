//! Quantity questions, and their answers from real computation.

mod question;

pub use question::Question;
