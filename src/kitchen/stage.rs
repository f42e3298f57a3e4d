//! The rehearsal's loudspeaker: a WAV file.

use super::rehearse::Stage;
use crate::bench::Effect;
#[cfg(feature = "natural-voice")]
use crate::say::Natural;
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

/// Makes a voice, with the name that was chosen.
type Make = fn(Option<&str>) -> Result<Box<dyn Voice>, SayError>;

/// A voice that may speak.
struct May {
    /// As `ready` calls it.
    called: &'static str,
    make: Make,
    /// By that program's own name.
    name: Option<String>,
    plays_itself: bool,
}

impl May {
    #[cfg(feature = "natural-voice")]
    fn natural() -> Self {
        Self {
            called: "the natural voice",
            make: |_| Ok(Box::new(Natural::new()?)),
            name: None,
            plays_itself: false,
        }
    }

    fn espeak(name: Option<&str>) -> Self {
        Self {
            called: "espeak-ng",
            make: |name| Ok(Box::new(Espeak::new(name)?)),
            name: name.map(str::to_owned),
            plays_itself: false,
        }
    }

    fn desktop(name: Option<&str>) -> Self {
        Self {
            called: "the desktop's voice",
            make: |name| Ok(Box::new(Dispatcher::new(name)?)),
            name: name.map(str::to_owned),
            plays_itself: true,
        }
    }

    fn made(&self) -> Result<Box<dyn Voice>, SayError> {
        (self.make)(self.name.as_deref())
    }
}

/// The voices in the order in which they are to speak: what was chosen, then what stands in when it fails.
fn order(settings: &Settings) -> Vec<May> {
    let name = settings.voice_name.as_deref();
    let mut order = match settings.engine {
        Engine::None => return Vec::new(),
        Engine::Natural => Vec::new(),
        Engine::EspeakNg => vec![May::espeak(name)],
        Engine::SpeechDispatcher => vec![May::desktop(name)],
    };
    #[cfg(feature = "natural-voice")]
    order.push(May::natural());
    // The name is one of the chosen program's.
    if settings.engine != Engine::EspeakNg {
        order.push(May::espeak(Some("en-gb")));
    }
    if settings.engine != Engine::EspeakNg || name.is_some() {
        order.push(May::espeak(None));
    }
    order
}

/// The first voice that can speak and gives its sound out of hand: for recordings.
pub(super) fn recorded(settings: &Settings) -> Result<Box<dyn Voice>, SayError> {
    let mut trouble = SayError::Chosen;
    for may in order(settings).iter().filter(|may| !may.plays_itself) {
        match may.made() {
            Ok(voice) => return Ok(voice),
            Err(e) => trouble = e,
        }
    }
    Err(trouble)
}

/// The voices in the order in which they are to speak. Whether they can is found out when they are to.
pub(super) fn voices(settings: &Settings) -> Vec<Box<dyn Voice>> {
    let late = |may: May| -> Box<dyn Voice> {
        let plays = may.plays_itself;
        let late = Late::new(move || may.made());
        Box::new(if plays { late.that_plays() } else { late })
    };
    order(settings).into_iter().map(late).collect()
}

/// Whether one can speak, and why those that cannot do not.
pub(super) fn tried(settings: &Settings) -> (Option<&'static str>, Vec<SayError>) {
    let mut trouble = Vec::new();
    for may in order(settings) {
        match may.made() {
            Ok(_) => return (Some(may.called), trouble),
            Err(e) => trouble.push(e),
        }
    }
    (None, trouble)
}
