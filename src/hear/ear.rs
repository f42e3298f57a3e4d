//! The thread that listens: microphone, gate, recogniser, and the end of speech decided by what was said. Another network
//! is made beside it, one at a time: two models at most are in memory, whatever is asked for.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, TryRecvError, bounded, unbounded};

use super::model_folder::kind_of;
use super::silence::{Change, Silence};
use super::{
    Echo, HearError, Hearing, Hypothesis, Microphone, ModelWords, NoteState, SpokenNote,
    VoskRecogniser,
};
use crate::bench::Heard;
use crate::outside::Waited;
use crate::say::{OwnSound, Sound};
use crate::understand::Network;

/// How often a missing microphone is looked for.
const LOOK_AGAIN: Duration = Duration::from_secs(2);

/// A microphone that gives nothing for so long is gone: a sound server that dies may tell nobody.
const GIVES_NOTHING: Duration = Duration::from_secs(3);

/// What the ear tells.
#[derive(Debug)]
pub enum EarNews {
    /// An order was heard, or something like one.
    Heard(Heard),
    /// The model is loaded and the microphone gives sound.
    Listening {
        /// The microphone's name.
        microphone: String,
    },
    /// No microphone now; it is looked for.
    NoMicrophone(HearError),
    /// The microphone is back.
    MicrophoneBack,
    /// So many pieces of audio were lost since the microphone was opened: the machine is too slow.
    Dropped(u64),
    /// The model cannot be used.
    NoModel(HearError),
    /// The note that was asked for is whole.
    Noted {
        /// What was made of its words.
        text: String,
        /// Where its sound is kept, or why it is not.
        kept: Result<PathBuf, String>,
    },
    /// Nobody said anything to note.
    NothingNoted,
}

/// What becomes of what is said.
enum TakeDown {
    /// The next thing that is said goes into this file.
    Into(PathBuf),
    /// What has been said so far is the note.
    Keep,
    /// It is no note.
    Drop,
}

/// Builds a network on a thread of the ear's, so that keys and alarms never wait for it.
type Builder = Box<dyn FnOnce() -> Network + Send>;

/// The network that is wanted; a later one takes the place of one that nobody has begun to make.
#[derive(Clone, Default)]
struct Wanted(Arc<Mutex<Option<Builder>>>);

impl Wanted {
    fn put(&self, build: Builder) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Some(build);
    }

    fn take(&self) -> Option<Builder> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).take()
    }
}

/// The listening thread; it ends when this handle is dropped.
pub struct Ear {
    wanted: Wanted,
    notes: Sender<TakeDown>,
    _alive: Sender<()>,
}

impl Ear {
    /// Starts listening with a model, the microphone that the settings name, the name that it answers to, and a network,
    /// which is built on the ear's own thread. `own` tells what the program itself sounds like.
    pub fn start(
        model: PathBuf,
        microphone: Option<String>,
        name: &str,
        own: Receiver<OwnSound>,
        network: impl FnOnce() -> Network + Send + 'static,
    ) -> (Self, Receiver<EarNews>) {
        let (alive, owner) = bounded(0);
        let (news, outbox) = unbounded();
        let name = name.to_owned();
        let wanted = Wanted::default();
        let theirs = wanted.clone();
        let (notes, orders) = unbounded();
        // A thread that cannot be started is a deaf ear; its closed channel says so.
        let _ = std::thread::Builder::new()
            .name("ear".to_owned())
            .spawn(move || {
                let words = Words::start(model);
                match words.first(Box::new(network)) {
                    Ok(first) => Listening {
                        words,
                        microphone_wanted: microphone,
                        news,
                        hearing: Hearing::new(Box::new(first), &name),
                        microphone: None,
                        opening: None,
                        waited: Waited::new(),
                        silence: Silence::default(),
                        told: false,
                        told_missing: false,
                        echo: Echo::default(),
                        sounding: false,
                        dropped: 0,
                        wanted: theirs,
                        making: false,
                        orders,
                        note: None,
                    }
                    .run(&owner, &own),
                    Err(e) => {
                        let _ = news.send(EarNews::NoModel(e));
                    }
                }
            });
        let ear = Self {
            wanted,
            notes,
            _alive: alive,
        };
        (ear, outbox)
    }

    /// What is said next is a note: its sound goes into this file, and its words are no order.
    pub fn take_down(&self, file: PathBuf) {
        let _ = self.notes.send(TakeDown::Into(file));
    }

    /// The note ends now: what has been said of it is kept, or nothing.
    pub fn end_note(&self, keep: bool) {
        let end = if keep { TakeDown::Keep } else { TakeDown::Drop };
        let _ = self.notes.send(end);
    }

    /// What can be said has changed.
    pub fn set_network(&self, network: impl FnOnce() -> Network + Send + 'static) {
        self.wanted.put(Box::new(network));
    }
}

/// The thread that makes recognisers for other networks.
struct Words {
    orders: Sender<Builder>,
    made: Receiver<Result<VoskRecogniser, HearError>>,
}

impl Words {
    fn start(model: PathBuf) -> Self {
        let (orders, inbox) = bounded::<Builder>(1);
        let (sender, made) = bounded(1);
        // One thread for all of them, the first included: each thread has memory of its own, which it does not give back.
        let _ = std::thread::Builder::new()
            .name("words".to_owned())
            .spawn(move || {
                let mut words = None;
                for build in inbox {
                    let made = known(&mut words, &model)
                        .and_then(|words| VoskRecogniser::made_of(&model, words, build()));
                    if sender.send(made).is_err() {
                        return;
                    }
                }
            });
        Self { orders, made }
    }

    /// The first recogniser, waited for.
    fn first(&self, build: Builder) -> Result<VoskRecogniser, HearError> {
        let asked = self.orders.send(build);
        let made = asked.ok().and_then(|()| self.made.recv().ok());
        made.unwrap_or(Err(HearError::NothingToHear))
    }
}

/// The words that the model knows, read once.
fn known<'w>(
    words: &'w mut Option<Arc<ModelWords>>,
    model: &Path,
) -> Result<&'w Arc<ModelWords>, HearError> {
    if words.is_none() {
        kind_of(model)?;
        *words = Some(Arc::new(ModelWords::read(model)?));
    }
    words.as_ref().ok_or(HearError::NothingToHear)
}

/// The thread's state.
struct Listening {
    words: Words,
    microphone_wanted: Option<String>,
    news: Sender<EarNews>,
    hearing: Hearing,
    microphone: Option<Microphone>,
    /// It is being opened.
    opening: Option<Receiver<Result<Microphone, HearError>>>,
    /// How long ago it gave something.
    waited: Waited,
    /// Whether that is only zeros.
    silence: Silence,
    /// That it listens has been told since it was opened.
    told: bool,
    told_missing: bool,
    echo: Echo,
    sounding: bool,
    dropped: u64,
    wanted: Wanted,
    /// A recogniser for another network is being made.
    making: bool,
    orders: Receiver<TakeDown>,
    /// A note that is being said, and its file.
    note: Option<(SpokenNote, PathBuf)>,
}

impl Listening {
    /// Until the handle or the receiver of news is gone.
    fn run(mut self, owner: &Receiver<()>, own: &Receiver<OwnSound>) {
        while owner.try_recv() != Err(TryRecvError::Disconnected) {
            while let Ok(what) = own.try_recv() {
                self.own_sound(what);
            }
            self.other_network();
            self.take_orders();
            let Some(audio) = self.audio() else { continue };
            self.count_drops();
            let over = self.echo.sounds();
            // A voice that plays itself cannot be taken out.
            if self.sounding && !over {
                continue;
            }
            let audio = self.echo.clean(&audio);
            let heard = self.hearing.take(&audio, over);
            if let Some((note, _)) = &mut self.note {
                let state = note.take(&audio, over);
                for heard in &heard {
                    note.hear(heard);
                }
                self.note_is(state);
                continue;
            }
            for heard in heard.iter().filter_map(Hypothesis::heard) {
                if self.news.send(EarNews::Heard(heard)).is_err() {
                    return;
                }
            }
        }
    }

    /// Notes are begun and ended.
    fn take_orders(&mut self) {
        while let Ok(order) = self.orders.try_recv() {
            match order {
                TakeDown::Into(file) => self.note = Some((SpokenNote::default(), file)),
                TakeDown::Keep => {
                    let state = self.note.as_ref().map(|(note, _)| note.ended_now());
                    self.note_is(state.unwrap_or(NoteState::GoesOn));
                }
                TakeDown::Drop => self.note = None,
            }
        }
    }

    /// A note has come so far: one that is whole is kept.
    fn note_is(&mut self, state: NoteState) {
        if state == NoteState::GoesOn {
            return;
        }
        let Some((note, file)) = self.note.take() else {
            return;
        };
        let news = if state == NoteState::Nothing {
            EarNews::NothingNoted
        } else {
            let (audio, text) = note.kept();
            let samples = audio.iter().map(|s| f32::from(*s) / 32_768.0).collect();
            let rate = super::RATE;
            let kept = write_note(&Sound { rate, samples }, &file);
            EarNews::Noted {
                text,
                kept: kept.map(|()| file),
            }
        };
        let _ = self.news.send(news);
    }

    fn own_sound(&mut self, what: OwnSound) {
        match what {
            OwnSound::Sounding(on) => self.sounding = on,
            OwnSound::CutOff => self.echo.stops(),
            // Without a microphone nothing is heard, and nothing would be taken from what waits.
            OwnSound::Plays(_) if self.microphone.is_none() => {}
            OwnSound::Plays(sound) => {
                // A rate that no voice has: what it says then cannot be told from the cook.
                if let Ok(samples) = super::whole(&sound.samples, sound.rate) {
                    let samples: Vec<i16> = samples.into_iter().map(super::wav::to_i16).collect();
                    self.echo.plays(&samples);
                }
            }
        }
    }

    /// Takes up the recogniser that was made, and has the next one made when that is in use; meanwhile it goes on listening
    /// with the one that it has.
    fn other_network(&mut self) {
        match self.words.made.try_recv() {
            Ok(Ok(recogniser)) => {
                self.making = false;
                self.hearing.swap(Box::new(recogniser));
            }
            Ok(Err(e)) => {
                self.making = false;
                let _ = self.news.send(EarNews::NoModel(e));
            }
            Err(_) => {}
        }
        if !self.making
            && !self.hearing.is_swapping()
            && self.microphone.is_some()
            && let Some(build) = self.wanted.take()
        {
            self.making = self.words.orders.try_send(build).is_ok();
        }
    }

    /// The next audio, opening the microphone where there is none open.
    fn audio(&mut self) -> Option<Vec<i16>> {
        let Some(open) = &mut self.microphone else {
            self.open();
            return None;
        };
        let audio = match open.next(Duration::from_millis(200)) {
            Ok(audio) if audio.is_empty() && self.waited.so_far() > GIVES_NOTHING => {
                let found = "it gives no sound".to_owned();
                Err(HearError::Microphone { found })
            }
            other => other,
        };
        let zeros = open.gave_zeros();
        match audio {
            Ok(audio) => {
                if !audio.is_empty() {
                    self.waited = Waited::new();
                    match self.silence.take(audio.len(), zeros, self.sounding) {
                        Some(Change::Gone) => {
                            self.lose();
                            let found = "it gives nothing but silence, and may be switched off";
                            let found = found.to_owned();
                            self.missing(HearError::Microphone { found });
                        }
                        Some(Change::OpenAnew) => self.lose(),
                        Some(Change::Back) | None => {}
                    }
                    if !self.silence.is_gone() {
                        self.tell();
                    }
                }
                Some(audio)
            }
            Err(e) => {
                self.lose();
                self.silence.begin_anew();
                self.missing(e);
                None
            }
        }
    }

    /// Lets go of the microphone, on a thread of its own: a stream whose server hangs may not end.
    fn lose(&mut self) {
        if let Some(gone) = self.microphone.take() {
            let _ = std::thread::Builder::new().spawn(move || drop(gone));
        }
    }

    /// Opens the microphone, on a thread of its own: a sound server that hangs may keep whoever asks it for ever.
    fn open(&mut self) {
        let opening = self.opening.take().unwrap_or_else(|| {
            let (sender, opening) = bounded(1);
            let wanted = self.microphone_wanted.clone();
            let _ = std::thread::Builder::new().spawn(move || {
                let _ = sender.send(Microphone::open(wanted.as_deref()));
            });
            opening
        });
        match opening.recv_timeout(LOOK_AGAIN) {
            Ok(Ok(microphone)) => {
                self.microphone = Some(microphone);
                self.waited = Waited::new();
                self.told = false;
            }
            Ok(Err(e)) => {
                self.missing(e);
                std::thread::sleep(LOOK_AGAIN);
            }
            Err(RecvTimeoutError::Timeout) => {
                self.opening = Some(opening);
                let found = "the sound server does not answer".to_owned();
                self.missing(HearError::Microphone { found });
            }
            Err(RecvTimeoutError::Disconnected) => std::thread::sleep(LOOK_AGAIN),
        }
    }

    /// The first sound of a microphone shows that it listens.
    fn tell(&mut self) {
        let Some(microphone) = &self.microphone else {
            return;
        };
        if std::mem::replace(&mut self.told, true) {
            return;
        }
        let _ = self.news.send(if std::mem::take(&mut self.told_missing) {
            EarNews::MicrophoneBack
        } else {
            EarNews::Listening {
                microphone: microphone.name.clone(),
            }
        });
    }

    /// After a gap in what is heard, what is played can no longer be told from it: until it ends nothing is heard.
    fn count_drops(&mut self) {
        let now = self.microphone.as_ref().map_or(0, Microphone::dropped);
        if now > self.dropped {
            self.echo.stops();
            let _ = self.news.send(EarNews::Dropped(now));
        }
        self.dropped = now;
    }

    /// Says once that there is no microphone.
    fn missing(&mut self, why: HearError) {
        if !std::mem::replace(&mut self.told_missing, true) {
            let _ = self.news.send(EarNews::NoMicrophone(why));
        }
    }
}

/// Writes a note's sound, for the cook alone.
#[cfg(feature = "program")]
fn write_note(sound: &Sound, file: &Path) -> Result<(), String> {
    use std::io::Write;
    use std::os::unix::fs::OpenOptionsExt;
    let bytes = crate::say::to_flac(sound).map_err(|e| e.to_string())?;
    let mut options = std::fs::OpenOptions::new();
    options.create_new(true).write(true).mode(0o600);
    let mut file = options.open(file).map_err(|e| e.to_string())?;
    let written = file.write_all(&bytes).and_then(|()| file.sync_data());
    written.map_err(|e| e.to_string())
}

#[cfg(not(feature = "program"))]
fn write_note(_: &Sound, _: &Path) -> Result<(), String> {
    Err("this build keeps no sound".to_owned())
}
