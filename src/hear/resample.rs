//! Any sampling rate to 16 kHz, and to any other rate.

use rubato::audioadapter_buffers::direct::InterleavedSlice;
use rubato::{Fft, FixedSync, Resampler as _};

use super::{HearError, RATE};

/// Brings a stream of mono samples from one rate to 16 kHz.
pub struct Resampler {
    inner: Option<Fft<f32>>,
    waiting: Vec<f32>,
}

impl Resampler {
    /// From `rate` to 16 kHz.
    ///
    /// # Errors
    /// For rates that no microphone has.
    pub fn new(rate: u32) -> Result<Self, HearError> {
        Ok(Self {
            inner: (rate != RATE).then(|| fft(rate, RATE)).transpose()?,
            waiting: Vec::new(),
        })
    }

    /// Takes the next samples and gives what is ready.
    pub fn push(&mut self, samples: &[f32]) -> Vec<f32> {
        let Some(inner) = &mut self.inner else {
            return samples.to_vec();
        };
        self.waiting.extend_from_slice(samples);
        let mut out = Vec::new();
        let mut used = 0;
        loop {
            let need = inner.input_frames_next();
            let Some(chunk) = self.waiting.get(used..used + need) else {
                break;
            };
            used += need;
            let Ok(input) = InterleavedSlice::new(chunk, 1, need) else {
                break;
            };
            match inner.process(&input, None) {
                Ok(ready) => out.extend_from_slice(&ready.take_data()),
                Err(_) => break,
            }
        }
        self.waiting.drain(..used);
        out
    }
}

/// A whole clip at 16 kHz, aligned with the start.
///
/// # Errors
/// For rates outside 4 to 384 kHz.
pub fn whole(samples: &[f32], rate: u32) -> Result<Vec<f32>, HearError> {
    if rate == RATE || samples.is_empty() {
        return Ok(samples.to_vec());
    }
    let mut inner = fft(rate, RATE)?;
    let bad = HearError::Rate { found: rate };
    let Ok(input) = InterleavedSlice::new(samples, 1, samples.len()) else {
        return Err(bad);
    };
    inner
        .process_all(&input, samples.len(), None)
        .map(rubato::audioadapter_buffers::owned::InterleavedOwned::take_data)
        .map_err(|_| bad)
}

fn fft(from: u32, to: u32) -> Result<Fft<f32>, HearError> {
    let bad = HearError::Rate { found: from };
    if !(4_000..=384_000).contains(&from) {
        return Err(bad);
    }
    Fft::new(from as usize, to as usize, 512, 1, FixedSync::Both).map_err(|_| bad)
}
