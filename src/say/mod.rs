//! The voice and the chimes: from effects to sound.

mod chimes;
mod dispatcher;
mod espeak;
mod late;
#[cfg(feature = "sound")]
mod loudspeaker;
mod mouth;
mod news;
mod recorder;
#[cfg(feature = "program")]
mod recording;
mod sound;
mod voices;

pub use chimes::{chime, tone};
pub use dispatcher::Dispatcher;
pub use espeak::Espeak;
pub use late::Late;
#[cfg(feature = "sound")]
pub use loudspeaker::Loudspeaker;
pub use mouth::{Mouth, Sink};
pub use news::{MouthNews, OwnSound};
pub use recorder::Recorder;
#[cfg(feature = "program")]
pub use recording::{RecordingError, from_flac, to_flac};
pub use sound::Sound;

use crate::bench::VoiceSettings;
use crate::clean;
use crate::outside::OutsideError;

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

/// What a voice would read wrongly, in words. Nothing in it is an order to a voice: square brackets twice would begin
/// phonemes in espeak-ng.
fn for_the_ear(text: &str) -> String {
    clean::spoken(text)
        .replace(['[', ']'], ", ")
        .replace('°', " degrees ")
        .replace(" C.", " Celsius.")
        .replace('%', " percent")
        .replace('×', " by ")
        .replace('–', ", ")
}

/// Why something could not be said.
#[derive(Debug, thiserror::Error)]
pub enum SayError {
    /// A speech program is missing, or cannot be used.
    #[error("{cause}{}", hint(cause))]
    Outside {
        /// Why.
        #[from]
        cause: OutsideError,
    },
    /// A voice did not come back.
    #[error("the voice hangs")]
    Hangs,
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
    #[error("{path}: cannot be written: {source}")]
    Write {
        /// The file.
        path: String,
        /// Why.
        source: hound::Error,
    },
}

/// What to do about a speech program that is missing.
fn hint(cause: &OutsideError) -> String {
    match cause {
        OutsideError::Missing { program } => format!(": `sudo apt-get install {program}`"),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::for_the_ear;

    /// espeak-ng(1): `[[` begins phoneme mnemonics.
    #[test]
    fn nothing_in_a_text_is_an_order_to_a_voice() {
        let said = for_the_ear("salt [[s'i:]] \u{1b}[2J\r\nQUIT\0 20 °C");
        assert!(
            !said.contains(['[', ']', '\r', '\n', '\0', '\u{1b}']),
            "{said}"
        );
        assert!(said.contains("degrees"), "{said}");
    }
}
