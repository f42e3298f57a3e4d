//! The rehearsal's loudspeaker: a WAV file.

use super::rehearse::Stage;
use crate::bench::Effect;
use crate::say::{Dispatcher, Espeak, Recorder, SayError, Voice};
use crate::settings::{Engine, Settings};
use crate::time::Moment;

impl Stage for Recorder {
    fn play(&mut self, effect: &Effect, at: Moment) {
        Recorder::play(self, effect, at);
    }

    fn cook(&mut self, audio: &[i16], at: Moment) {
        Recorder::cook(self, audio, at);
    }
}

/// The voice that gives its sound out of hand: for recordings, and where the desktop's own is not there.
pub(super) fn espeak(settings: &Settings) -> Result<Box<dyn Voice>, SayError> {
    let name = match settings.engine {
        Engine::EspeakNg => settings.voice_name.as_deref(),
        // The name is one of the other program's.
        Engine::SpeechDispatcher => Some("en-gb"),
    };
    Ok(Box::new(Espeak::new(name)?))
}

/// The voices in the order in which they are to speak, and why those that are not there are not.
pub(super) fn voices(settings: &Settings) -> (Vec<Box<dyn Voice>>, Vec<SayError>) {
    let (mut voices, mut trouble) = (Vec::new(), Vec::new());
    let mut add = |voice: Result<Box<dyn Voice>, SayError>| match voice {
        Ok(voice) => voices.push(voice),
        Err(e) => trouble.push(e),
    };
    if settings.engine == Engine::SpeechDispatcher {
        let voice = Dispatcher::new(settings.voice_name.as_deref());
        add(voice.map(|v| Box::new(v) as Box<dyn Voice>));
    }
    let named = espeak(settings);
    if matches!(named, Err(SayError::NoVoice(_))) {
        add(Espeak::new(None).map(|v| Box::new(v) as Box<dyn Voice>));
    }
    add(named);
    (voices, trouble)
}
