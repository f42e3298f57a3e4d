//! The loudspeaker, through rodio.

use std::num::NonZero;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use rodio::buffer::SamplesBuffer;
use rodio::{DeviceSinkBuilder, MixerDeviceSink, Player};

use super::{SayError, Sink, Sound};
use crate::devices::{self, Way};

/// Frames that are handed over in one go. What is stopped still sounds for two of these, 43 ms at 48 kHz.
const PERIOD: u32 = 1024;

/// An open loudspeaker.
pub struct Loudspeaker {
    /// The device's name, for people.
    pub name: String,
    player: Player,
    _device: MixerDeviceSink,
    broken: Arc<AtomicBool>,
}

impl Loudspeaker {
    /// Opens the loudspeaker of this name or id; without one, that which the system uses.
    ///
    /// # Errors
    /// When there is none, or it cannot be opened.
    pub fn open(wanted: Option<&str>) -> Result<Self, SayError> {
        let fail = |e: &dyn std::fmt::Display| SayError::Loudspeaker(devices::clause(e));
        let broken = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&broken);
        let (found, device) = devices::choose(Way::Out, wanted).map_err(|e| fail(&e))?;
        let mut device = DeviceSinkBuilder::from_device(device)
            .map_err(|e| fail(&e))?
            .with_buffer_size(rodio::cpal::BufferSize::Fixed(PERIOD))
            .with_error_callback(move |e: rodio::cpal::Error| {
                if matches!(e.kind(), rodio::cpal::ErrorKind::DeviceNotAvailable) {
                    flag.store(true, Ordering::Relaxed);
                }
            })
            .open_stream()
            .map_err(|e| fail(&e))?;
        device.log_on_drop(false);
        let player = Player::connect_new(device.mixer());
        Ok(Self {
            name: found.name,
            player,
            _device: device,
            broken,
        })
    }
}

impl Sink for Loudspeaker {
    fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
        if self.broken.load(Ordering::Relaxed) {
            return Err(SayError::Loudspeaker("it was unplugged".to_owned()));
        }
        let Some(rate) = NonZero::new(sound.rate) else {
            return Ok(());
        };
        self.player.append(SamplesBuffer::new(
            NonZero::<u16>::MIN,
            rate,
            sound.samples.clone(),
        ));
        self.player.play();
        Ok(())
    }

    fn busy(&self) -> bool {
        !self.player.empty() && !self.broken.load(Ordering::Relaxed)
    }

    fn stop(&mut self) {
        self.player.stop();
    }
}
