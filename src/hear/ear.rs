//! The thread that listens: microphone, gate, recogniser, and the end of speech decided by what was said.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, unbounded};

use super::gate::Gate;
use super::{Hypothesis, Microphone, RATE, Recogniser, Standing, Step, VoskRecogniser};
use crate::bench::Heard;
use crate::understand::Network;

/// Silence that ends speech when it is a whole order already and nothing could follow.
const AFTER_COMPLETE: usize = RATE as usize * 25 / 100;
/// Silence that ends a whole order to which something could be added.
const AFTER_EXTENDABLE: usize = RATE as usize * 45 / 100;
/// Silence that ends anything else.
const AFTER_UNFINISHED: usize = RATE as usize * 90 / 100;
/// After the loudspeaker falls silent the room still rings.
const TAIL: Duration = Duration::from_millis(250);
/// How often a missing microphone is looked for.
const LOOK_AGAIN: Duration = Duration::from_secs(2);
/// A look is silent below this share of the loudest part of the utterance.
const SILENT_SHARE: f32 = 0.12;

/// What the ear tells.
#[derive(Debug)]
pub enum EarNews {
    /// An order was heard, or something like one.
    Heard(Heard),
    /// The model is loaded and the microphone is open.
    Listening {
        /// The microphone's name.
        microphone: String,
    },
    /// No microphone now; it is looked for.
    NoMicrophone(String),
    /// The microphone is back.
    MicrophoneBack,
    /// The model cannot be used.
    NoModel(String),
}

/// Builds a network on the ear's own thread, so that keys and alarms never wait for it.
type Builder = Box<dyn FnOnce() -> Network + Send>;

/// What the ear is told.
enum Order {
    Network(Builder),
    Mute(bool),
}

/// The listening thread; it ends when this handle is dropped.
pub struct Ear {
    orders: Sender<Order>,
}

impl Ear {
    /// Starts listening with a model, the microphone that the settings name, and a network, which is built on the ear's own thread.
    pub fn start(
        model: PathBuf,
        microphone: Option<String>,
        network: impl FnOnce() -> Network + Send + 'static,
    ) -> (Self, Receiver<EarNews>) {
        let (orders, inbox) = unbounded();
        let (news, outbox) = unbounded();
        // A thread that cannot be started is a deaf ear; its closed channel says so.
        let _ = std::thread::Builder::new()
            .name("ear".to_owned())
            .spawn(move || listen(&model, microphone.as_deref(), &network(), &inbox, &news));
        (Self { orders }, outbox)
    }

    /// What can be said has changed.
    pub fn set_network(&self, network: impl FnOnce() -> Network + Send + 'static) {
        let _ = self.orders.send(Order::Network(Box::new(network)));
    }

    /// The program makes a sound: what comes in now is not the cook.
    pub fn mute(&self, on: bool) {
        let _ = self.orders.send(Order::Mute(on));
    }
}

fn listen(
    model: &std::path::Path,
    wanted: Option<&str>,
    network: &Network,
    inbox: &Receiver<Order>,
    news: &Sender<EarNews>,
) {
    let mut recogniser = match VoskRecogniser::with_network(model, network) {
        Ok(r) => r,
        Err(e) => {
            let _ = news.send(EarNews::NoModel(e.to_string()));
            return;
        }
    };
    let mut microphone: Option<Microphone> = None;
    let mut told_missing = false;
    let mut ever = false;
    let mut muted = false;
    let mut deaf_until = Instant::now();
    let mut speech = Utterance::default();
    let mut gate = Gate::default();
    loop {
        loop {
            match inbox.try_recv() {
                Ok(Order::Network(build)) => {
                    if let Err(e) = recogniser.set_network(&build()) {
                        let _ = news.send(EarNews::NoModel(e.to_string()));
                    }
                    speech = Utterance::default();
                }
                Ok(Order::Mute(on)) => {
                    if muted && !on {
                        deaf_until = Instant::now() + TAIL;
                    }
                    muted = on;
                    recogniser.reset();
                    speech = Utterance::default();
                }
                Err(crossbeam_channel::TryRecvError::Empty) => break,
                Err(crossbeam_channel::TryRecvError::Disconnected) => return,
            }
        }
        let Some(open) = &mut microphone else {
            match Microphone::open(wanted) {
                Ok(m) => {
                    let _ = news.send(if ever && told_missing {
                        EarNews::MicrophoneBack
                    } else {
                        EarNews::Listening {
                            microphone: m.name.clone(),
                        }
                    });
                    ever = true;
                    told_missing = false;
                    microphone = Some(m);
                }
                Err(e) => {
                    if !told_missing {
                        told_missing = true;
                        ever = true;
                        let _ = news.send(EarNews::NoMicrophone(e.to_string()));
                    }
                    std::thread::sleep(LOOK_AGAIN);
                }
            }
            continue;
        };
        let audio = match open.next(Duration::from_millis(200)) {
            Ok(audio) => audio,
            Err(e) => {
                microphone = None;
                told_missing = true;
                let _ = news.send(EarNews::NoMicrophone(e.to_string()));
                continue;
            }
        };
        if muted || Instant::now() < deaf_until {
            continue;
        }
        let passed = gate.pass(&audio);
        let heard = speech.take(&mut recogniser, &passed, !gate.is_open());
        if let Some(heard) = heard.and_then(|h| h.heard())
            && news.send(EarNews::Heard(heard)).is_err()
        {
            return;
        }
    }
}

/// One stretch of speech, from the first sound to the silence that ends it.
#[derive(Default)]
pub(super) struct Utterance {
    text: String,
    loudest: f32,
    silent: usize,
    any: bool,
}

impl Utterance {
    /// Gives audio to the recogniser; the hypothesis when speech has ended.
    pub(super) fn take(
        &mut self,
        recogniser: &mut dyn Recogniser,
        audio: &[i16],
        closed: bool,
    ) -> Option<Hypothesis> {
        for look in audio.chunks(RATE as usize / 50) {
            let level = super::gate::rms(look);
            self.loudest = self.loudest.max(level);
            if level < self.loudest * SILENT_SHARE {
                self.silent += look.len();
            } else {
                self.silent = 0;
            }
            self.any = true;
            match recogniser.accept(look) {
                Step::Final(h) => {
                    *self = Self::default();
                    if !h.is_empty() {
                        return Some(h);
                    }
                }
                Step::Partial(text) => self.text = text,
                Step::Nothing => {}
            }
            if !self.text.is_empty() {
                let patience = match recogniser.standing(&self.text) {
                    Standing::Complete => AFTER_COMPLETE,
                    Standing::Extendable => AFTER_EXTENDABLE,
                    Standing::Unfinished | Standing::Outside => AFTER_UNFINISHED,
                };
                if self.silent >= patience {
                    return Some(self.end(recogniser));
                }
            }
        }
        (closed && self.any).then(|| self.end(recogniser))
    }

    fn end(&mut self, recogniser: &mut dyn Recogniser) -> Hypothesis {
        *self = Self::default();
        let h = recogniser.finish();
        recogniser.reset();
        h
    }
}
