//! The ear and the loudspeaker of a live session, in builds that have them and in builds that have not.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crossbeam_channel::Receiver;

use crate::say::{Sink, Sound};
use crate::settings::Settings;
use crate::understand::Lexicon;
#[cfg(all(feature = "recogniser", feature = "sound"))]
use crate::understand::{Network, network};

#[cfg(all(feature = "recogniser", feature = "sound"))]
pub(super) use crate::hear::EarNews as News;

/// What an ear would tell, in a build without one.
#[cfg(not(all(feature = "recogniser", feature = "sound")))]
#[allow(dead_code)]
#[derive(Debug)]
pub(super) enum News {
    Heard(crate::bench::Heard),
    Listening { microphone: String },
    NoMicrophone(String),
    MicrophoneBack,
    Dropped(u64),
    NoModel(String),
}

/// This build cannot hear.
pub(super) const NOT_BUILT: bool = cfg!(not(all(feature = "recogniser", feature = "sound")));

/// The network of what can be said, to be built where it is wanted.
#[cfg(all(feature = "recogniser", feature = "sound"))]
fn later(lexicon: &Lexicon) -> impl FnOnce() -> Network + Send + 'static {
    let lexicon = lexicon.clone();
    move || network(&lexicon)
}

/// The ear, where there is one.
pub(super) struct LiveEar {
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    ear: crate::hear::Ear,
    news: Option<Receiver<News>>,
}

impl LiveEar {
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    pub(super) fn start(model: &Path, settings: &Settings, lexicon: &Lexicon) -> Self {
        let (ear, news) = crate::hear::Ear::start(
            model.to_path_buf(),
            settings.microphone.clone(),
            &settings.name,
            later(lexicon),
        );
        Self {
            ear,
            news: Some(news),
        }
    }

    #[cfg(not(all(feature = "recogniser", feature = "sound")))]
    pub(super) fn start(_: &Path, _: &Settings, _: &Lexicon) -> Self {
        Self { news: None }
    }

    pub(super) fn news(&self) -> Option<Receiver<News>> {
        self.news.clone()
    }

    /// There is something that may yet hear the cook.
    pub(super) fn hears(&self) -> bool {
        self.news.is_some() && !NOT_BUILT
    }

    /// The program plays this.
    pub(super) fn plays(&self, sound: Sound) {
        #[cfg(all(feature = "recogniser", feature = "sound"))]
        self.ear.plays(sound);
        #[cfg(not(all(feature = "recogniser", feature = "sound")))]
        let _ = sound;
    }

    /// The program sounds, or has stopped.
    pub(super) fn sounding(&self, on: bool) {
        #[cfg(all(feature = "recogniser", feature = "sound"))]
        self.ear.sounding(on);
        let _ = on;
    }

    /// What it was playing has been cut off.
    pub(super) fn cut_off(&self) {
        #[cfg(all(feature = "recogniser", feature = "sound"))]
        self.ear.cut_off();
    }

    pub(super) fn set_words(&self, lexicon: &Lexicon) {
        #[cfg(all(feature = "recogniser", feature = "sound"))]
        self.ear.set_network(later(lexicon));
        let _ = lexicon;
    }
}

/// Where sound comes out.
pub(super) struct Speaker {
    pub(super) sink: Box<dyn Sink>,
    /// Its name, or why there is none now.
    pub(super) name: Result<String, String>,
    /// It is there: this changes when it comes and goes.
    pub(super) there: Arc<AtomicBool>,
}

/// The loudspeaker.
#[cfg(feature = "sound")]
pub(super) fn speaker(settings: &Settings) -> Speaker {
    let (sink, name) = crate::say::Loudspeaker::new(settings.loudspeaker.as_deref());
    Speaker {
        there: sink.there(),
        sink: Box::new(sink),
        name: name.map_err(|e| e.to_string()),
    }
}

/// No loudspeaker in this build: what is said is only shown.
#[cfg(not(feature = "sound"))]
pub(super) fn speaker(_: &Settings) -> Speaker {
    struct Nothing;
    impl Sink for Nothing {
        fn play(&mut self, _: &crate::say::Sound) -> Result<(), crate::say::SayError> {
            Ok(())
        }
        fn busy(&self) -> bool {
            false
        }
        fn stop(&mut self) {}
    }
    Speaker {
        sink: Box::new(Nothing),
        name: Err("this build has no sound".to_owned()),
        there: Arc::default(),
    }
}
