//! The loudspeaker, through rodio.

use std::num::NonZero;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use rodio::buffer::SamplesBuffer;
use rodio::{DeviceSinkBuilder, MixerDeviceSink, Player};

use super::{SayError, Sink, Sound};

/// The default output device.
pub struct Loudspeaker {
    player: Player,
    _device: MixerDeviceSink,
    broken: Arc<AtomicBool>,
}

impl Loudspeaker {
    /// Opens the default output device.
    ///
    /// # Errors
    /// When there is none, or it cannot be opened.
    pub fn open() -> Result<Self, SayError> {
        let fail = |e: &dyn std::fmt::Display| SayError::Loudspeaker(e.to_string());
        let broken = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&broken);
        let mut device = DeviceSinkBuilder::from_default_device()
            .map_err(|e| fail(&e))?
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
