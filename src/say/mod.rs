//! The voice and the chimes: from effects to sound.

mod chimes;
mod dispatcher;
mod espeak;
mod late;
#[cfg(feature = "sound")]
mod loudspeaker;
mod mouth;
#[cfg(feature = "natural-voice")]
mod natural;
mod news;
mod numbers;
mod recorder;
#[cfg(feature = "program")]
mod recording;
mod respelt;
mod sound;
mod voices;

pub use chimes::{chime, tone};
pub use dispatcher::Dispatcher;
pub use espeak::Espeak;
pub use late::Late;
#[cfg(feature = "sound")]
pub use loudspeaker::Loudspeaker;
pub use mouth::{Mouth, Sink};
#[cfg(feature = "natural-voice")]
pub use natural::Natural;
pub use news::{MouthNews, OwnSound};
pub use recorder::Recorder;
#[cfg(feature = "program")]
pub use recording::{RecordingError, from_flac, to_flac};
pub use respelt::respelt;
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

    /// What may be said soon: a voice that takes its time may make it now, in the background.
    fn prepare(&mut self, _texts: Vec<String>, _settings: VoiceSettings) {}

    /// Whether it plays its sentences itself.
    fn plays_itself(&self) -> bool {
        false
    }

    /// Is it playing?
    fn busy(&self) -> bool {
        false
    }

    /// Silent, now, where it plays itself.
    fn stop(&mut self) {}
}

/// What every voice is given: figures, units and signs in words. Nothing in it is an order to a voice: square brackets twice
/// would begin phonemes in espeak-ng.
pub fn for_the_ear(text: &str) -> String {
    numbers::in_words(&clean::spoken(text).replace(['[', ']'], ", "))
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
    /// The settings want none.
    #[error("the settings want no voice: `engine = \"none\"`")]
    Chosen,
    /// A voice did not come back.
    #[error("the voice hangs")]
    Hangs,
    /// What was compiled in of the natural voice is damaged.
    #[error("the natural voice is damaged: build it again")]
    Damaged,
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
