//! Hearing: from a microphone or a file to words, inside the grammar of what can be said now.

#[cfg(all(feature = "recogniser", feature = "sound"))]
mod ear;
mod error;
mod fst;
pub mod gate;
mod grammar;
mod hypothesis;
mod lexicon;
#[cfg(feature = "sound")]
mod microphone;
mod model_folder;
mod recogniser;
mod resample;
#[cfg(feature = "recogniser")]
mod vosk;
pub mod wav;

#[cfg(all(feature = "recogniser", feature = "sound"))]
pub use ear::{Ear, EarNews};
pub use error::HearError;
pub use grammar::{COMPETITION, Competition, Grammar};
pub use hypothesis::{HeardWord, Hypothesis, UNKNOWN};
pub use lexicon::Lexicon;
#[cfg(feature = "sound")]
pub use microphone::Microphone;
pub use recogniser::{Recogniser, Standing, Step};
pub use resample::Resampler;
#[cfg(feature = "recogniser")]
pub use vosk::VoskRecogniser;

/// The sampling rate inside the program, in Hz.
pub const RATE: u32 = 16_000;
