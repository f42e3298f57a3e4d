//! The thread that listens: microphone, gate, recogniser, and the end of speech decided by what was said.

use std::path::PathBuf;
use std::time::Duration;

use crossbeam_channel::{Receiver, Sender, TryRecvError, unbounded};

use super::{Echo, HearError, Hearing, Hypothesis, Microphone, VoskRecogniser};
use crate::bench::Heard;
use crate::say::Sound;
use crate::understand::Network;

/// How often a missing microphone is looked for.
const LOOK_AGAIN: Duration = Duration::from_secs(2);

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
    /// So many pieces of audio were lost since the microphone was opened: the machine is too slow.
    Dropped(u64),
    /// The model cannot be used.
    NoModel(String),
}

/// Builds a network on the ear's own thread, so that keys and alarms never wait for it.
type Builder = Box<dyn FnOnce() -> Network + Send>;

/// What the ear is told.
enum Order {
    Network(Builder),
    Sounding(bool),
    Plays(Sound),
    CutOff,
}

/// The listening thread; it ends when this handle is dropped.
pub struct Ear {
    orders: Sender<Order>,
}

impl Ear {
    /// Starts listening with a model, the microphone that the settings name, the name that it answers to, and a network, which is built on the ear's own thread.
    pub fn start(
        model: PathBuf,
        microphone: Option<String>,
        name: &str,
        network: impl FnOnce() -> Network + Send + 'static,
    ) -> (Self, Receiver<EarNews>) {
        let (orders, inbox) = unbounded();
        let (news, outbox) = unbounded();
        let name = name.to_owned();
        // A thread that cannot be started is a deaf ear; its closed channel says so.
        let _ = std::thread::Builder::new()
            .name("ear".to_owned())
            .spawn(
                move || match VoskRecogniser::with_network(&model, &network()) {
                    Ok(first) => Listening::new(model, microphone, first, &name, news).run(&inbox),
                    Err(e) => {
                        let _ = news.send(EarNews::NoModel(e.to_string()));
                    }
                },
            );
        (Self { orders }, outbox)
    }

    /// What can be said has changed.
    pub fn set_network(&self, network: impl FnOnce() -> Network + Send + 'static) {
        let _ = self.orders.send(Order::Network(Box::new(network)));
    }

    /// The program plays this from now on, after what is playing: it is not the cook.
    pub fn plays(&self, sound: Sound) {
        let _ = self.orders.send(Order::Plays(sound));
    }

    /// The program sounds, or has stopped.
    pub fn sounding(&self, on: bool) {
        let _ = self.orders.send(Order::Sounding(on));
    }

    /// What was playing has been cut off.
    pub fn cut_off(&self) {
        let _ = self.orders.send(Order::CutOff);
    }
}

/// A recogniser with another network, or why there is none; with the number of the order.
type Made = (u64, Result<VoskRecogniser, HearError>);

/// The thread's state.
struct Listening {
    model: PathBuf,
    wanted: Option<String>,
    news: Sender<EarNews>,
    hearing: Hearing,
    microphone: Option<Microphone>,
    told_missing: bool,
    echo: Echo,
    sounding: bool,
    dropped: u64,
    made: (Sender<Made>, Receiver<Made>),
    ordered: u64,
}

impl Listening {
    fn new(
        model: PathBuf,
        wanted: Option<String>,
        first: VoskRecogniser,
        name: &str,
        news: Sender<EarNews>,
    ) -> Self {
        Self {
            model,
            wanted,
            news,
            hearing: Hearing::new(Box::new(first), name),
            microphone: None,
            told_missing: false,
            echo: Echo::default(),
            sounding: false,
            dropped: 0,
            made: unbounded(),
            ordered: 0,
        }
    }

    /// Until the handle or the receiver of news is gone.
    fn run(mut self, inbox: &Receiver<Order>) {
        loop {
            match inbox.try_recv() {
                Ok(order) => {
                    self.obey(order);
                    continue;
                }
                Err(TryRecvError::Empty) => {}
                Err(TryRecvError::Disconnected) => return,
            }
            while let Ok((number, made)) = self.made.1.try_recv() {
                self.take_up(number, made);
            }
            let Some(audio) = self.audio() else { continue };
            self.count_drops();
            let over = self.echo.sounds();
            // A voice that plays itself cannot be taken out.
            if self.sounding && !over {
                continue;
            }
            let audio = self.echo.clean(&audio);
            let heard = self.hearing.take(&audio, over);
            for heard in heard.iter().filter_map(Hypothesis::heard) {
                if self.news.send(EarNews::Heard(heard)).is_err() {
                    return;
                }
            }
        }
    }

    fn obey(&mut self, order: Order) {
        match order {
            Order::Network(build) => self.prepare(build),
            Order::Sounding(on) => self.sounding = on,
            Order::CutOff => self.echo.stops(),
            // Without a microphone nothing is heard, and nothing would be taken from what waits.
            Order::Plays(_) if self.microphone.is_none() => {}
            Order::Plays(sound) => {
                // A rate that no voice has: what it says then cannot be told from the cook.
                if let Ok(samples) = super::whole(&sound.samples, sound.rate) {
                    let samples: Vec<i16> = samples.into_iter().map(super::wav::to_i16).collect();
                    self.echo.plays(&samples);
                }
            }
        }
    }

    /// Makes a recogniser for another network beside this thread, which goes on listening with the one that it has.
    fn prepare(&mut self, build: Builder) {
        self.ordered += 1;
        let (number, model, made) = (self.ordered, self.model.clone(), self.made.0.clone());
        let _ = std::thread::Builder::new()
            .name("words".to_owned())
            .spawn(move || {
                let _ = made.send((number, VoskRecogniser::with_network(&model, &build())));
            });
    }

    fn take_up(&mut self, number: u64, made: Result<VoskRecogniser, HearError>) {
        match made {
            // One that was ordered before another is out of date.
            Ok(recogniser) if number == self.ordered => self.hearing.swap(Box::new(recogniser)),
            Ok(_) => {}
            Err(e) => {
                let _ = self.news.send(EarNews::NoModel(e.to_string()));
            }
        }
    }

    /// The next audio, opening the microphone where there is none open.
    fn audio(&mut self) -> Option<Vec<i16>> {
        let Some(open) = &mut self.microphone else {
            self.open();
            return None;
        };
        match open.next(Duration::from_millis(200)) {
            Ok(audio) => Some(audio),
            Err(e) => {
                self.microphone = None;
                self.missing(&e);
                None
            }
        }
    }

    fn open(&mut self) {
        match Microphone::open(self.wanted.as_deref()) {
            Ok(microphone) => {
                let _ = self.news.send(if std::mem::take(&mut self.told_missing) {
                    EarNews::MicrophoneBack
                } else {
                    EarNews::Listening {
                        microphone: microphone.name.clone(),
                    }
                });
                self.microphone = Some(microphone);
            }
            Err(e) => {
                self.missing(&e);
                std::thread::sleep(LOOK_AGAIN);
            }
        }
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
    fn missing(&mut self, why: &HearError) {
        if !std::mem::replace(&mut self.told_missing, true) {
            let _ = self.news.send(EarNews::NoMicrophone(why.to_string()));
        }
    }
}
