//! The rehearsal's loudspeaker: a WAV file.

use super::rehearse::Stage;
use crate::bench::Effect;
use crate::say::{Dispatcher, Espeak, Late, Recorder, SayError, Voice};
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
    Ok(Box::new(Espeak::new(espeak_name(settings))?))
}

fn espeak_name(settings: &Settings) -> Option<&str> {
    match settings.engine {
        Engine::EspeakNg => settings.voice_name.as_deref(),
        // The name is one of the other program's.
        Engine::SpeechDispatcher => Some("en-gb"),
    }
}

/// Makes a voice, with the name that was chosen.
type Make = fn(Option<&str>) -> Result<Box<dyn Voice>, SayError>;

/// The voices in the order in which they are to speak. Whether they can is found out when they are to.
pub(super) fn voices(settings: &Settings) -> Vec<Box<dyn Voice>> {
    let mut voices: Vec<Box<dyn Voice>> = Vec::new();
    let mut add = |make: Make, name: Option<&str>| {
        let name = name.map(str::to_owned);
        voices.push(Box::new(Late::new(move || make(name.as_deref()))));
    };
    if settings.engine == Engine::SpeechDispatcher {
        add(
            |name| Ok(Box::new(Dispatcher::new(name)?)),
            settings.voice_name.as_deref(),
        );
    }
    let name = espeak_name(settings);
    add(|name| Ok(Box::new(Espeak::new(name)?)), name);
    if name.is_some() {
        add(|name| Ok(Box::new(Espeak::new(name)?)), None);
    }
    voices
}

/// Whether one can speak, and why those that cannot do not.
pub(super) fn tried(settings: &Settings) -> (Option<&'static str>, Vec<SayError>) {
    let mut trouble = Vec::new();
    if settings.engine == Engine::SpeechDispatcher {
        match Dispatcher::new(settings.voice_name.as_deref()) {
            Ok(_) => return (Some("speech-dispatcher"), trouble),
            Err(e) => trouble.push(e),
        }
    }
    let speaks = match espeak(settings) {
        Ok(_) => true,
        Err(e) => {
            trouble.push(e);
            Espeak::new(None).is_ok()
        }
    };
    (speaks.then_some("espeak-ng"), trouble)
}
