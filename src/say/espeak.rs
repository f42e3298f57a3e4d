//! Speech by the program `espeak-ng`: one process a sentence, text on its standard input, sound from its output.

use std::io::{Read, Write};
use std::process::{Command, Stdio};

use super::{SayError, Sound, Voice, for_the_ear};
use crate::bench::VoiceSettings;

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
        let run = Command::new("espeak-ng")
            .args(voice.iter().flat_map(|v| ["-v", *v]))
            .args(["-q", ""])
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        match run {
            Ok(s) if s.success() => Ok(Self {
                voice: voice.map(str::to_owned),
            }),
            Ok(s) => Err(match voice {
                Some(voice) => SayError::NoVoice(voice.to_owned()),
                None => SayError::Failed(s.to_string()),
            }),
            Err(_) => Err(SayError::NoEspeak),
        }
    }
}

impl Voice for Espeak {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        let at = |(normal, step): (i32, i32), by: i8| (normal + step * i32::from(by)).to_string();
        let mut child = Command::new("espeak-ng")
            .args(self.voice.iter().flat_map(|v| ["-v", v]))
            .args([
                "-s",
                &at(RATE, settings.rate),
                "-p",
                &at(PITCH, settings.pitch),
            ])
            .args([
                "-a",
                &at(VOLUME, settings.volume),
                "-g",
                "2",
                "--stdin",
                "--stdout",
            ])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|_| SayError::NoEspeak)?;
        let failed = |e: std::io::Error| SayError::Failed(e.to_string());
        if let Some(mut pipe) = child.stdin.take() {
            pipe.write_all(for_the_ear(text).as_bytes())
                .map_err(failed)?;
        }
        let mut wav = Vec::new();
        if let Some(mut out) = child.stdout.take() {
            out.read_to_end(&mut wav).map_err(failed)?;
        }
        let status = child.wait().map_err(failed)?;
        let sound = Sound::from_wav(&wav);
        sound
            .map(Some)
            .ok_or_else(|| SayError::Failed(format!("no sound came ({status})")))
    }
}
