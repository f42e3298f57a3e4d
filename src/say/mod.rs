//! The voice and the chimes: from effects to sound.

mod chimes;
mod espeak;
#[cfg(feature = "sound")]
mod loudspeaker;
mod mouth;
mod recorder;
mod sound;

pub use chimes::chime;
pub use espeak::Espeak;
#[cfg(feature = "sound")]
pub use loudspeaker::Loudspeaker;
pub use mouth::{Mouth, MouthNews, Sink};
pub use recorder::Recorder;
pub use sound::Sound;

use crate::bench::VoiceSettings;

/// Turns a sentence into sound.
pub trait Voice: Send {
    /// Speaks one text.
    ///
    /// # Errors
    /// When the voice is missing or fails.
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Sound, SayError>;
}

/// Why something could not be said.
#[derive(Debug, thiserror::Error)]
pub enum SayError {
    /// The speech program is not installed.
    #[error("espeak-ng is not installed: `sudo apt-get install espeak-ng`")]
    NoEspeak,
    /// It is there and failed.
    #[error("espeak-ng failed: {0}")]
    Failed(String),
    /// No loudspeaker.
    #[error("loudspeaker: {0}")]
    Loudspeaker(String),
    /// A file could not be written.
    #[error("{path}: cannot be written: {what}")]
    Write {
        /// The file.
        path: String,
        /// What the system said.
        what: String,
    },
}
