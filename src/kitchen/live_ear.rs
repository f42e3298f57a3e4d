//! The ear and the loudspeaker of a live session, in builds that have them and in builds that have not.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

#[cfg(all(feature = "recogniser", feature = "sound"))]
use crossbeam_channel::bounded;
use crossbeam_channel::{Receiver, Sender};

use crate::say::{OwnSound, Sink};
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
    Listening {
        microphone: String,
    },
    NoMicrophone(crate::hear::HearError),
    MicrophoneBack,
    Dropped(u64),
    NoModel(crate::hear::HearError),
    Noted {
        text: String,
        kept: Result<std::path::PathBuf, String>,
    },
    NothingNoted,
}

/// This build cannot hear.
pub(super) const NOT_BUILT: bool = cfg!(not(all(feature = "recogniser", feature = "sound")));

/// So many sounds may wait to be told to the ear; more are waiting only while it opens a microphone.
const OWN_SOUNDS: usize = 64;

/// The ear, where there is one.
pub(super) struct LiveEar {
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    ear: crate::hear::Ear,
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    words: Lexicon,
    news: Option<Receiver<News>>,
}

#[cfg(all(feature = "recogniser", feature = "sound"))]
impl LiveEar {
    /// Starts it; the sender is for what the program itself sounds like.
    pub(super) fn start(
        model: &Path,
        settings: &Settings,
        lexicon: &Lexicon,
    ) -> (Self, Option<Sender<OwnSound>>) {
        let words = lexicon.for_the_ear();
        let (sender, own) = bounded(OWN_SOUNDS);
        let (ear, news) = crate::hear::Ear::start(
            model.to_path_buf(),
            settings.microphone.clone(),
            &settings.name,
            own,
            Self::later(&words),
        );
        let news = Some(news);
        (Self { ear, words, news }, Some(sender))
    }

    /// The network of what can be said, to be built where it is wanted.
    fn later(words: &Lexicon) -> impl FnOnce() -> Network + Send + 'static {
        let words = words.clone();
        move || network(&words)
    }

    /// What is said next goes into this file, as a note.
    pub(super) fn take_down(&self, file: std::path::PathBuf) {
        self.ear.take_down(file);
    }

    /// The note ends now.
    pub(super) fn end_note(&self, keep: bool) {
        self.ear.end_note(keep);
    }

    /// What can be said may have changed. Where nothing else can be heard by that, nothing is made.
    pub(super) fn set_words(&mut self, lexicon: &Lexicon) {
        let words = lexicon.for_the_ear();
        if words != self.words {
            self.ear.set_network(Self::later(&words));
            self.words = words;
        }
    }
}

#[cfg(not(all(feature = "recogniser", feature = "sound")))]
impl LiveEar {
    pub(super) fn start(_: &Path, _: &Settings, _: &Lexicon) -> (Self, Option<Sender<OwnSound>>) {
        (Self { news: None }, None)
    }

    pub(super) fn take_down(&self, _: std::path::PathBuf) {}

    pub(super) fn end_note(&self, _: bool) {}

    pub(super) fn set_words(&mut self, _: &Lexicon) {}
}

impl LiveEar {
    pub(super) fn news(&self) -> Option<Receiver<News>> {
        self.news.clone()
    }

    /// There is something that may yet hear the cook.
    pub(super) fn hears(&self) -> bool {
        self.news.is_some() && !NOT_BUILT
    }
}

/// What the program itself sounds like, told to an ear.
pub(super) type Own = Receiver<OwnSound>;

/// Both ends of it.
pub(super) fn own_sound() -> (Sender<OwnSound>, Own) {
    crossbeam_channel::bounded(OWN_SOUNDS)
}

/// An ear for names alone, where there is one.
pub(super) struct NamesEar {
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    ear: crate::hear::Ear,
    #[cfg(all(feature = "recogniser", feature = "sound"))]
    phrases: Vec<String>,
    news: Option<Receiver<News>>,
}

#[cfg(all(feature = "recogniser", feature = "sound"))]
impl NamesEar {
    /// Listens for these phrases, with the program's name before them or without.
    pub(super) fn start(settings: &Settings, phrases: Vec<String>, own: Option<Own>) -> Self {
        let own = own.unwrap_or_else(|| own_sound().1);
        let (ear, news) = crate::hear::Ear::start(
            settings.model_folder(),
            settings.microphone.clone(),
            &settings.name,
            own,
            Self::later(&phrases, &settings.name),
        );
        let news = Some(news);
        Self { ear, phrases, news }
    }

    fn later(phrases: &[String], name: &str) -> impl FnOnce() -> Network + Send + 'static {
        let called = phrases.iter().map(|phrase| format!("{name} {phrase}"));
        let all: Vec<String> = called.chain(phrases.iter().cloned()).collect();
        move || Network::of_phrases(all.iter().map(String::as_str))
    }

    /// What is said next goes into this file, and is no phrase.
    pub(super) fn take_down(&self, file: std::path::PathBuf) {
        self.ear.take_down(file);
    }

    /// That ends now.
    pub(super) fn end_note(&self, keep: bool) {
        self.ear.end_note(keep);
    }

    /// Others can be said now.
    pub(super) fn set_phrases(&mut self, phrases: Vec<String>, settings: &Settings) {
        if phrases != self.phrases {
            self.ear.set_network(Self::later(&phrases, &settings.name));
            self.phrases = phrases;
        }
    }
}

#[cfg(not(all(feature = "recogniser", feature = "sound")))]
impl NamesEar {
    pub(super) fn start(_: &Settings, _: Vec<String>, _: Option<Own>) -> Self {
        Self { news: None }
    }

    pub(super) fn take_down(&self, _: std::path::PathBuf) {}

    pub(super) fn end_note(&self, _: bool) {}

    pub(super) fn set_phrases(&mut self, _: Vec<String>, _: &Settings) {}
}

impl NamesEar {
    pub(super) fn news(&self) -> Option<Receiver<News>> {
        self.news.clone()
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
