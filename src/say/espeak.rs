//! Speech by the program `espeak-ng`: one process a sentence, text on its standard input, sound from its output.

use std::process::Command;
use std::time::Duration;

use super::{SayError, Sound, Voice, for_the_ear};
use crate::bench::VoiceSettings;
use crate::outside;

/// A sentence, or the look whether there is such a voice, may take this long. A small computer needs a second for the
/// longest.
const LIMIT: Duration = Duration::from_secs(5);
/// Words a minute at the normal rate, and for each step.
const RATE: (i32, i32) = (155, 15);
/// Pitch 0-99 at normal, and for each step.
const PITCH: (i32, i32) = (50, 8);
/// Amplitude 0-200 at normal, and for each step.
const VOLUME: (i32, i32) = (100, 18);

/// The voice of espeak-ng.
#[derive(Debug, Clone)]
pub struct Espeak {
    voice: Option<String>,
}

impl Espeak {
    /// With a voice by espeak-ng's name, such as `en-gb`; without one, its own choice.
    ///
    /// # Errors
    /// When espeak-ng is not installed, or has no such voice.
    pub fn new(voice: Option<&str>) -> Result<Self, SayError> {
        let mut look = Command::new("espeak-ng");
        look.args(voice.iter().flat_map(|v| ["-v", *v]))
            .args(["-q", ""]);
        let status = outside::status(&mut look, LIMIT)?;
        match voice {
            _ if status.success() => Ok(Self {
                voice: voice.map(str::to_owned),
            }),
            Some(voice) => Err(SayError::NoVoice(voice.to_owned())),
            None => Err(SayError::Failed(status.to_string())),
        }
    }
}

impl Voice for Espeak {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        let at = |(normal, step): (i32, i32), by: i8| (normal + step * i32::from(by)).to_string();
        let mut speak = Command::new("espeak-ng");
        speak
            .args(self.voice.iter().flat_map(|v| ["-v", v]))
            .args(["-s", &at(RATE, settings.rate)])
            .args(["-p", &at(PITCH, settings.pitch)])
            .args(["-a", &at(VOLUME, settings.volume)])
            .args(["-g", "2", "--stdin", "--stdout"]);
        let (status, wav) = outside::run(&mut speak, &for_the_ear(text), LIMIT)?;
        let Some(sound) = Sound::from_wav(&wav) else {
            return Err(SayError::Failed(format!("no sound came ({status})")));
        };
        match sound.fault_as(text) {
            Some(fault) => Err(SayError::Failed(fault.to_owned())),
            None => Ok(Some(sound)),
        }
    }
}
