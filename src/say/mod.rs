//! The voice and the chimes: from effects to sound.

mod chimes;
mod dispatcher;
mod espeak;
#[cfg(feature = "sound")]
mod loudspeaker;
mod mouth;
mod recorder;
mod sound;

pub use chimes::chime;
pub use dispatcher::Dispatcher;
pub use espeak::Espeak;
#[cfg(feature = "sound")]
pub use loudspeaker::Loudspeaker;
pub use mouth::{Mouth, MouthNews, Sink};
pub use recorder::Recorder;
pub use sound::Sound;

use crate::bench::VoiceSettings;

/// Speaks.
pub trait Voice: Send {
    /// Speaks one text: gives its sound, or nothing when the voice plays it itself.
    ///
    /// # Errors
    /// When the voice is missing or fails.
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError>;

    /// Is it playing?
    fn busy(&self) -> bool {
        false
    }

    /// Silent, now, where it plays itself.
    fn stop(&mut self) {}
}

/// What a voice would read wrongly, in words.
fn for_the_ear(text: &str) -> String {
    text.replace('°', " degrees ")
        .replace(" C.", " Celsius.")
        .replace('%', " percent")
        .replace('×', " by ")
        .replace('–', ", ")
}

/// Why something could not be said.
#[derive(Debug, thiserror::Error)]
pub enum SayError {
    /// The speech program is not installed.
    #[error("espeak-ng is not installed: `sudo apt-get install espeak-ng`")]
    NoEspeak,
    /// It has no such voice.
    #[error("espeak-ng has no voice called `{0}`")]
    NoVoice(String),
    /// It is there and failed.
    #[error("espeak-ng failed: {0}")]
    Failed(String),
    /// The desktop's voice cannot be used.
    #[error("speech-dispatcher: {0}")]
    Dispatcher(String),
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
