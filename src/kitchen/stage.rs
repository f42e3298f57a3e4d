//! The rehearsal's loudspeaker: a WAV file.

use super::rehearse::Stage;
use crate::bench::{Effect, Moment};
use crate::say::Recorder;

impl Stage for Recorder {
    fn play(&mut self, effect: &Effect, at: Moment) {
        Recorder::play(self, effect, at);
    }

    fn cook(&mut self, audio: &[i16], at: Moment) {
        Recorder::cook(self, audio, at);
    }
}

/// The program's voice, or the sentence that says why there is none.
pub(super) fn voice(
    settings: &crate::settings::Settings,
) -> Result<Box<dyn crate::say::Voice>, crate::say::SayError> {
    Ok(Box::new(crate::say::Espeak::new(
        settings.voice_name.as_deref(),
    )?))
}
