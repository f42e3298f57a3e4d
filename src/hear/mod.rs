//! Hearing: from a microphone or a file to words, inside the grammar of what can be said now.

#[cfg(all(feature = "recogniser", feature = "sound"))]
mod ear;
#[cfg(feature = "recogniser")]
mod echo;
mod error;
#[cfg(feature = "recogniser")]
mod free;
mod fst;
pub mod gate;
mod hearable;
mod hearing;
mod hypothesis;
#[cfg(feature = "sound")]
mod microphone;
mod model_folder;
mod model_words;
pub mod name;
mod recogniser;
mod resample;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod silence;
mod spoken_note;
mod voiced;
#[cfg(feature = "recogniser")]
mod vosk;
pub mod wav;

#[cfg(all(feature = "recogniser", feature = "sound"))]
pub use ear::{Ear, EarNews};
#[cfg(feature = "recogniser")]
pub use echo::Echo;
pub use error::HearError;
pub use hearable::{COMPETITION, Competition, Hearable};
pub use hearing::Hearing;
pub use hypothesis::{HeardWord, Hypothesis, UNKNOWN};
#[cfg(feature = "sound")]
pub use microphone::Microphone;
pub use model_words::ModelWords;
pub use recogniser::{Progress, Recogniser, Standing};
pub use resample::{Resampler, whole};
pub use spoken_note::{NoteState, SpokenNote};
#[cfg(feature = "recogniser")]
pub use vosk::VoskRecogniser;

/// The sampling rate inside the program, in Hz.
pub const RATE: u32 = 16_000;
