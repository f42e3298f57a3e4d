//! The microphone, through cpal: any rate and any number of channels become 16 kHz mono.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Duration;

use cpal::traits::{DeviceTrait, StreamTrait};
use cpal::{FromSample, Sample, SampleFormat, SizedSample};
use crossbeam_channel::{Receiver, Sender, bounded};

use super::{HearError, Resampler, wav};
use crate::devices::{self, Way};

/// Buffers that may wait between the sound system and the recogniser: about four seconds of common buffer sizes.
const RING: usize = 256;

/// An open microphone.
pub struct Microphone {
    /// The device's name, for people.
    pub name: String,
    buffers: Receiver<Vec<f32>>,
    resampler: Resampler,
    dropped: Arc<AtomicU64>,
    broken: Arc<AtomicBool>,
    zeros: bool,
    _stream: cpal::Stream,
}

impl Microphone {
    /// Opens the microphone of this name or id; without one, that which the system uses.
    ///
    /// # Errors
    /// When there is none, or it cannot be opened.
    pub fn open(wanted: Option<&str>) -> Result<Self, HearError> {
        let fail = |e: &dyn std::fmt::Display| HearError::Microphone {
            found: devices::clause(e),
        };
        let (found, device) = devices::choose(Way::In, wanted).map_err(|e| fail(&e))?;
        let config = device.default_input_config().map_err(|e| fail(&e))?;
        let (sender, buffers) = bounded(RING);
        let shared = Shared {
            sender,
            dropped: Arc::new(AtomicU64::new(0)),
            broken: Arc::new(AtomicBool::new(false)),
            channels: usize::from(config.channels()).max(1),
        };
        let (dropped, broken) = (Arc::clone(&shared.dropped), Arc::clone(&shared.broken));
        let resampler = Resampler::new(config.sample_rate())?;
        let format = config.sample_format();
        let config = config.config();
        let stream = match format {
            SampleFormat::F32 => shared.stream::<f32>(&device, config),
            SampleFormat::I16 => shared.stream::<i16>(&device, config),
            SampleFormat::I32 => shared.stream::<i32>(&device, config),
            SampleFormat::U8 => shared.stream::<u8>(&device, config),
            SampleFormat::U16 => shared.stream::<u16>(&device, config),
            other => {
                return Err(fail(&format!(
                    "its sample format {other} is not one that I can read"
                )));
            }
        }
        .map_err(|e| fail(&e))?;
        stream.play().map_err(|e| fail(&e))?;
        Ok(Self {
            name: found.name,
            buffers,
            resampler,
            dropped,
            broken,
            zeros: false,
            _stream: stream,
        })
    }

    /// The next piece of audio at 16 kHz; nothing within `patience`. The error says that the microphone is gone.
    ///
    /// # Errors
    /// When the device was unplugged.
    pub fn next(&mut self, patience: Duration) -> Result<Vec<i16>, HearError> {
        if self.broken.load(Ordering::Relaxed) {
            return Err(HearError::Microphone {
                found: "it was unplugged".to_owned(),
            });
        }
        match self.buffers.recv_timeout(patience) {
            Ok(mono) => {
                self.zeros = mono.iter().all(|s| *s == 0.0);
                let audio = self.resampler.push(&mono);
                Ok(audio.into_iter().map(wav::to_i16).collect())
            }
            Err(_) => Ok(Vec::new()),
        }
    }

    /// The last piece was nothing but zeros.
    pub fn gave_zeros(&self) -> bool {
        self.zeros
    }

    /// How many buffers were dropped because the recogniser was too slow.
    pub fn dropped(&self) -> u64 {
        self.dropped.load(Ordering::Relaxed)
    }
}

struct Shared {
    sender: Sender<Vec<f32>>,
    dropped: Arc<AtomicU64>,
    broken: Arc<AtomicBool>,
    channels: usize,
}

impl Shared {
    /// The callback only mixes to mono and pushes; what does not fit is dropped and counted.
    fn stream<T>(
        self,
        device: &cpal::Device,
        config: cpal::StreamConfig,
    ) -> Result<cpal::Stream, cpal::Error>
    where
        T: SizedSample,
        f32: FromSample<T>,
    {
        let Self {
            sender,
            dropped,
            broken,
            channels,
        } = self;
        device.build_input_stream(
            config,
            move |data: &[T], _: &_| {
                let mono = data
                    .chunks(channels)
                    .map(|frame| {
                        frame.iter().map(|s| f32::from_sample(*s)).sum::<f32>() / frame.len() as f32
                    })
                    .collect();
                if sender.try_send(mono).is_err() {
                    dropped.fetch_add(1, Ordering::Relaxed);
                }
            },
            move |e: cpal::Error| {
                if devices::is_lost(&e) {
                    broken.store(true, Ordering::Relaxed);
                }
            },
            None,
        )
    }
}
