//! The loudspeaker, through rodio.

use std::num::NonZero;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use rodio::buffer::SamplesBuffer;
use rodio::{DeviceSinkBuilder, MixerDeviceSink, Player};

use super::{SayError, Sink, Sound};
use crate::devices::{self, Way};

/// Frames that are handed over in one go. What is stopped still sounds for two of these, 43 ms at 48 kHz.
const PERIOD: u32 = 1024;

/// One that is away is looked for no sooner than this after the last time.
const LOOK_AGAIN: Duration = Duration::from_secs(1);

/// The loudspeaker that the settings name, or the usual one: open, or to be opened as soon as it is there.
pub struct Loudspeaker {
    wanted: Option<String>,
    open: Option<Open>,
    /// When it was last looked for.
    tried: Instant,
    there: Arc<AtomicBool>,
}

struct Open {
    player: Player,
    _device: MixerDeviceSink,
    broken: Arc<AtomicBool>,
}

impl Loudspeaker {
    /// The loudspeaker of this name or id; without one, that which the system uses. With its name for people, or why it
    /// cannot be opened now.
    pub fn new(wanted: Option<&str>) -> (Self, Result<String, SayError>) {
        let wanted = wanted.map(str::to_owned);
        let (open, name) = match Open::new(wanted.as_deref()) {
            Ok((open, name)) => (Some(open), Ok(name)),
            Err(e) => (None, Err(e)),
        };
        let tried = Instant::now();
        (
            Self {
                wanted,
                open,
                tried,
                there: Arc::new(AtomicBool::new(name.is_ok())),
            },
            name,
        )
    }
}

impl Loudspeaker {
    /// Whether it is there, for whoever wants to look.
    pub fn there(&self) -> Arc<AtomicBool> {
        Arc::clone(&self.there)
    }

    /// Looks for one that is away. The error tells of a loss, once.
    fn find(&mut self) -> Result<(), SayError> {
        let lost = self.open.take().is_some();
        if !lost && self.tried.elapsed() < LOOK_AGAIN {
            return Ok(());
        }
        self.tried = Instant::now();
        let found = Open::new(self.wanted.as_deref());
        self.there.store(found.is_ok(), Ordering::Relaxed);
        match found {
            Ok((open, _)) => self.open = Some(open),
            Err(e) if lost => return Err(e),
            Err(_) => {}
        }
        Ok(())
    }
}

impl Open {
    fn new(wanted: Option<&str>) -> Result<(Self, String), SayError> {
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
            _device: device,
            broken,
        };
        Ok((open, found.name))
    }

    fn is_broken(&self) -> bool {
        self.broken.load(Ordering::Relaxed)
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
        Ok(())
    }

    fn busy(&self) -> bool {
        self.open
            .as_ref()
            .is_some_and(|open| !open.player.empty() && !open.is_broken())
    }

    fn stop(&mut self) {
        if let Some(open) = &self.open {
            open.player.stop();
        }
    }
}
