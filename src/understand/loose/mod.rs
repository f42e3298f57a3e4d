//! Typed questions in free words: read by what is in them, whatever the order and the courtesies.
//!
//! The rules of the grammar come first. What none of them fits is taken apart into numbers with their units, things and
//! telling words; a frame then asks for exactly the pieces that its question needs. A word that is not known, a number
//! that no frame has a place for, or two frames that both fit: then there is no reading, and the question is declined.

mod clock;
mod dough;
mod fact;
mod food;
mod frames;
mod heard;
mod heats;
mod into;
mod item;
mod kitchen;
mod operations;
mod ovens;
mod own;
mod rates;
mod relations;
mod size;
mod topics;
mod troughs;
mod wants;
mod words;
mod yields;

use super::lexicon::Lexicon;
use crate::ask::Question;
use heard::Heard;
pub(super) use own::as_written;

/// The one question that the words can mean, or nothing.
pub(super) fn read(text: &str, lexicon: &Lexicon) -> Option<Question> {
    clock::between(text).or_else(|| frames::read(&Heard::of(text, lexicon)?))
}
