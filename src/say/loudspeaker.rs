//! The loudspeaker, through rodio. Nothing here waits for a sound server that hangs: it is opened and let go on threads of
//! their own, and one that takes no sound counts as gone.

use std::cell::Cell;
use std::num::NonZero;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, RecvTimeoutError, bounded};
use rodio::buffer::SamplesBuffer;
use rodio::{DeviceSinkBuilder, MixerDeviceSink, Player};

use super::{SayError, Sink, Sound};
use crate::devices::{self, Way};
use crate::outside::Waited;

/// Frames that are handed over in one go. What is stopped still sounds for two of these, 43 ms at 48 kHz.
const PERIOD: u32 = 1024;

/// One that is away is looked for no sooner than this after the last time.
const LOOK_AGAIN: Duration = Duration::from_secs(1);
/// One that takes nothing of what it is to play for so long is gone: a sound server that hangs tells nobody.
const TAKES_NOTHING: Duration = Duration::from_secs(1);
/// How long it is waited for while it opens: at the start, and when something is to be played.
const OPENS: (Duration, Duration) = (Duration::from_secs(3), Duration::from_secs(1));

/// The loudspeaker that the settings name, or the usual one: open, or to be opened as soon as it is there.
pub struct Loudspeaker {
    wanted: Option<String>,
    open: Option<Open>,
    /// It is being opened.
    opening: Option<Receiver<Opened>>,
    /// When it was last looked for.
    tried: Instant,
    there: Arc<AtomicBool>,
}

/// With its name for people, or why it cannot be opened.
type Opened = Result<(Open, String), SayError>;

struct Open {
    player: Player,
    device: MixerDeviceSink,
    broken: Arc<AtomicBool>,
    /// How much of a sound it had taken when it last took some, and how long that was ago.
    took: Cell<(Duration, Waited)>,
}

impl Loudspeaker {
    /// The loudspeaker of this name or id; without one, that which the system uses. With its name for people, or why it
    /// cannot be opened now.
    pub fn new(wanted: Option<&str>) -> (Self, Result<String, SayError>) {
        let mut it = Self {
            wanted: wanted.map(str::to_owned),
            open: None,
            opening: None,
            tried: Instant::now(),
            there: Arc::default(),
        };
        let name = it.opened(OPENS.0);
        (it, name)
    }
}

impl Loudspeaker {
    /// Whether it is there, for whoever wants to look.
    pub fn there(&self) -> Arc<AtomicBool> {
        Arc::clone(&self.there)
    }

    /// Opens it, or waits on where it is being opened; its name.
    fn opened(&mut self, wait: Duration) -> Result<String, SayError> {
        let (wait, opening) = match self.opening.take() {
            Some(opening) => (Duration::ZERO, opening),
            None => (wait, Open::later(self.wanted.clone())),
        };
        let opened = match opening.recv_timeout(wait) {
            Err(RecvTimeoutError::Timeout) => {
                self.opening = Some(opening);
                let found = "the sound server does not answer";
                Err(SayError::Loudspeaker(found.to_owned()))
            }
            Err(RecvTimeoutError::Disconnected) => {
                let found = "it cannot be opened";
                Err(SayError::Loudspeaker(found.to_owned()))
            }
            Ok(opened) => opened,
        };
        self.there.store(opened.is_ok(), Ordering::Relaxed);
        let (open, name) = opened?;
        self.open = Some(open);
        Ok(name)
    }

    /// Looks for one that is away. The error tells of a loss, once.
    fn find(&mut self) -> Result<(), SayError> {
        let lost = self.open.take();
        let was_there = lost.is_some();
        if let Some(lost) = lost {
            // A stream whose server hangs may not end.
            let _ = std::thread::Builder::new().spawn(move || drop(lost));
        } else if self.opening.is_none() && self.tried.elapsed() < LOOK_AGAIN {
            return Ok(());
        }
        self.tried = Instant::now();
        match self.opened(OPENS.1) {
            Err(e) if was_there => Err(e),
            _ => Ok(()),
        }
    }
}

impl Open {
    /// Opens it on a thread of its own.
    fn later(wanted: Option<String>) -> Receiver<Opened> {
        let (sender, opening) = bounded(1);
        let _ = std::thread::Builder::new().spawn(move || {
            let _ = sender.send(Self::new(wanted.as_deref()));
        });
        opening
    }

    fn new(wanted: Option<&str>) -> Opened {
        let fail = |e: &dyn std::fmt::Display| SayError::Loudspeaker(devices::clause(e));
        let broken = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&broken);
        let (found, device) = devices::choose(Way::Out, wanted).map_err(|e| fail(&e))?;
        let mut device = DeviceSinkBuilder::from_device(device)
            .map_err(|e| fail(&e))?
            .with_buffer_size(rodio::cpal::BufferSize::Fixed(PERIOD))
            .with_error_callback(move |e: rodio::cpal::Error| {
                if devices::is_lost(&e) {
                    flag.store(true, Ordering::Relaxed);
                }
            })
            .open_stream()
            .map_err(|e| fail(&e))?;
        device.log_on_drop(false);
        let player = Player::connect_new(device.mixer());
        let open = Self {
            player,
            device,
            broken,
            took: Cell::new((Duration::ZERO, Waited::new())),
        };
        Ok((open, found.name))
    }

    fn is_broken(&self) -> bool {
        self.broken.load(Ordering::Relaxed)
    }

    /// It has sound and takes nothing of it.
    fn hangs(&self) -> bool {
        let so_far = self.player.get_pos();
        let (was, mut waited) = self.took.get();
        if self.player.empty() || so_far != was {
            waited = Waited::new();
        }
        let hangs = waited.so_far() > TAKES_NOTHING;
        self.took.set((so_far, waited));
        hangs
    }
}

impl Sink for Loudspeaker {
    fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
        if self.open.as_ref().is_none_or(Open::is_broken) {
            self.find()?;
        }
        let (Some(open), Some(rate)) = (&self.open, NonZero::new(sound.rate)) else {
            return Ok(());
        };
        open.player.append(SamplesBuffer::new(
            NonZero::<u16>::MIN,
            rate,
            sound.samples.clone(),
        ));
        open.player.play();
        open.took.set((open.player.get_pos(), Waited::new()));
        Ok(())
    }

    fn busy(&self) -> bool {
        let Some(open) = &self.open else { return false };
        if open.hangs() {
            open.broken.store(true, Ordering::Relaxed);
            self.there.store(false, Ordering::Relaxed);
        }
        !open.player.empty() && !open.is_broken()
    }

    fn stop(&mut self) {
        if let Some(open) = &mut self.open {
            // Another player in its place: the old one would wait for its own end before it took another sound.
            open.player = Player::connect_new(open.device.mixer());
        }
    }
}
