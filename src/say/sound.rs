//! Samples with their rate.

/// Sampling rates that a voice has.
const RATES: std::ops::RangeInclusive<u32> = 4_000..=192_000;
/// A sentence lasts no longer than this in milliseconds: at all, and more for each of its letters.
const LASTS: (u64, u64) = (10_000, 250);

/// Mono sound.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// Samples a second.
    pub rate: u32,
    /// Samples, full scale 1.
    pub samples: Vec<f32>,
}

impl Sound {
    /// Reads a WAV held in memory; espeak-ng's header, whose lengths are a guess, included.
    pub(super) fn from_wav(bytes: &[u8]) -> Option<Self> {
        let word = |at: usize| {
            bytes
                .get(at..at + 4)
                .map(|b| u32::from_le_bytes([b[0], b[1], b[2], b[3]]))
        };
        if bytes.get(..4)? != b"RIFF" || bytes.get(8..12)? != b"WAVE" {
            return None;
        }
        let (mut at, mut rate, mut channels) = (12, 0, 1_usize);
        loop {
            let (id, size) = (bytes.get(at..at + 4)?, word(at + 4)? as usize);
            at += 8;
            match id {
                b"fmt " => {
                    channels = usize::from(*bytes.get(at + 2)?).max(1);
                    rate = word(at + 4)?;
                    if *bytes.get(at + 14)? != 16 {
                        return None;
                    }
                }
                b"data" => {
                    let end = at.saturating_add(size).min(bytes.len());
                    let samples = bytes[at..end]
                        .chunks_exact(2 * channels)
                        .map(|b| f32::from(i16::from_le_bytes([b[0], b[1]])) / 32768.0)
                        .collect();
                    return (rate > 0).then_some(Self { rate, samples });
                }
                _ => {}
            }
            at = at.checked_add(size)?.checked_add(size % 2)?;
        }
    }

    /// What is wrong with it as speech of this text: a program that fails may give anything.
    pub(super) fn fault_as(&self, text: &str) -> Option<&'static str> {
        let says_something = text.chars().any(char::is_alphanumeric);
        if !RATES.contains(&self.rate) {
            Some("no voice has that rate")
        } else if self.millis() > LASTS.0 + LASTS.1 * text.len() as u64 {
            Some("the sound does not end")
        } else if says_something && self.samples.iter().all(|s| *s == 0.0) {
            Some("only silence came")
        } else {
            None
        }
    }

    /// Length in milliseconds.
    pub fn millis(&self) -> u64 {
        self.samples.len() as u64 * 1000 / u64::from(self.rate.max(1))
    }

    /// At another rate, by straight lines between samples; good enough to join speech and chimes in one file.
    pub fn at_rate(&self, rate: u32) -> Vec<f32> {
        if rate == self.rate || self.samples.is_empty() {
            return self.samples.clone();
        }
        let n = self.samples.len() * rate as usize / self.rate as usize;
        let last = self.samples.len() - 1;
        (0..n)
            .map(|i| {
                let x = i as f64 * f64::from(self.rate) / f64::from(rate);
                let at = (x as usize).min(last);
                let f = (x - at as f64) as f32;
                self.samples[at] * (1.0 - f) + self.samples[(at + 1).min(last)] * f
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_speech_is_told_from_it() {
        let fault = |rate, samples: usize, loud: f32| {
            let samples = vec![loud; samples];
            Sound { rate, samples }.fault_as("Salt: ten grams.")
        };
        assert_eq!(fault(22_050, 22_050, 0.1), None);
        assert_eq!(fault(2, 2_000, 0.1), Some("no voice has that rate"));
        assert_eq!(
            fault(4_000_000_000, 2_000, 0.1),
            Some("no voice has that rate")
        );
        assert_eq!(
            fault(22_050, 22_050 * 20, 0.1),
            Some("the sound does not end")
        );
        assert_eq!(fault(22_050, 22_050, 0.0), Some("only silence came"));
        assert_eq!(fault(22_050, 0, 0.0), Some("only silence came"));
        let nothing = Sound {
            rate: 22_050,
            samples: Vec::new(),
        };
        assert_eq!(nothing.fault_as("..."), None);
    }
}
