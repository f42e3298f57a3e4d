//! Everything said and rung in one WAV file, long silences shortened.

use std::path::{Path, PathBuf};

use super::{SayError, Sound, Voice, chime, tone};
use crate::bench::{Effect, VoiceSettings};
use crate::time::Moment;

/// Samples a second in the file.
const RATE: u32 = 22_050;
/// Silences longer than this are cut to it.
const LONGEST_SILENCE_MS: u64 = 1_200;

/// Writes what is said into a file.
pub struct Recorder {
    path: PathBuf,
    voice: Option<Box<dyn Voice>>,
    settings: VoiceSettings,
    samples: Vec<f32>,
    last: Moment,
    trouble: Option<SayError>,
}

impl Recorder {
    /// A recording that will go to `path`, spoken by `voice` as `settings` say; chimes alone without one.
    pub fn new(path: &Path, voice: Option<Box<dyn Voice>>, settings: VoiceSettings) -> Self {
        Self {
            path: path.to_path_buf(),
            voice,
            settings,
            samples: Vec::new(),
            last: Moment(0),
            trouble: None,
        }
    }

    /// Takes an effect at its moment.
    pub fn play(&mut self, effect: &Effect, at: Moment) {
        let sound = match effect {
            Effect::Voice(v) => {
                self.settings = *v;
                return;
            }
            Effect::Chime {
                chime: which,
                urgency,
            } => chime(*which, *urgency),
            Effect::Sample { chime: which } => chime(*which, 0),
            Effect::Tone { near } => tone(*near),
            Effect::Say { text, .. } => {
                match self.voice.as_mut().map(|v| v.speak(text, self.settings)) {
                    Some(Ok(Some(sound))) => sound,
                    Some(Ok(None)) | None => return,
                    Some(Err(e)) => {
                        self.voice = None;
                        self.trouble = Some(e);
                        return;
                    }
                }
            }
            _ => return,
        };
        self.silence(
            at.0.saturating_sub(self.last.0)
                .clamp(150, LONGEST_SILENCE_MS),
        );
        self.samples.extend(sound.at_rate(RATE));
        self.last = at;
    }

    /// The cook's own voice, so that a listener hears both sides. 16 kHz mono.
    pub fn cook(&mut self, audio: &[i16], at: Moment) {
        self.silence(600);
        let sound = Sound {
            rate: 16_000,
            samples: audio.iter().map(|s| f32::from(*s) / 32768.0).collect(),
        };
        self.samples.extend(sound.at_rate(RATE));
        self.last = at;
    }

    fn silence(&mut self, ms: u64) {
        self.samples.resize(
            self.samples.len() + (ms * u64::from(RATE) / 1000) as usize,
            0.0,
        );
    }

    /// Writes the file; answers with a sentence about it.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn finish(self) -> Result<String, SayError> {
        let path = self.path.display().to_string();
        let fail = |source| SayError::Write {
            path: path.clone(),
            source,
        };
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: RATE,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut file = hound::WavWriter::create(&self.path, spec).map_err(fail)?;
        for s in &self.samples {
            file.write_sample((s.clamp(-1.0, 1.0) * 32767.0) as i16)
                .map_err(fail)?;
        }
        file.finalize().map_err(fail)?;
        let s = self.samples.len() / RATE as usize;
        let note = format!("{path}: {}:{:02} of sound", s / 60, s % 60);
        Ok(match self.trouble {
            Some(e) => format!("{note}; no speech in it: {e}"),
            None => note,
        })
    }
}
