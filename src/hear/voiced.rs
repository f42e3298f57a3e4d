//! Does anybody's voice sound in it? Speech has a pitch in its vowels; pans, water and machines have none that moves into
//! the range of a voice and stands well above the noise.

use std::collections::VecDeque;

use super::RATE;
use super::gate::LOOK;

/// Every so many samples are taken as one: pitch needs no more, and what hisses is gone.
const TOGETHER: usize = 4;
/// A pitch is looked for in so much: 40 ms.
const WINDOW: usize = 2 * LOOK / TOGETHER;
/// Pitches of people who speak, in Hz.
const PITCH: (usize, usize) = (75, 400);
/// A window repeats itself when it is this much like itself a period later.
const ALIKE: f32 = 0.6;
/// So many looks are remembered: three seconds.
const REMEMBERED: usize = 3 * RATE as usize / LOOK;

/// Which of the last looks a voice sounded in.
#[derive(Debug, Clone, Default)]
pub(super) struct Voiced {
    window: VecDeque<f32>,
    looks: VecDeque<bool>,
}

impl Voiced {
    /// Takes one look; `noise` is the mean level of the kitchen while nobody speaks.
    pub(super) fn take(&mut self, look: &[i16], noise: f32) {
        self.window.extend(look.chunks_exact(TOGETHER).map(|few| {
            few.iter().map(|s| f32::from(*s)).sum::<f32>() / (TOGETHER as f32 * 32_768.0)
        }));
        let over = self.window.len().saturating_sub(WINDOW);
        self.window.drain(..over);
        let power: f32 = self.window.iter().map(|x| x * x).sum::<f32>() / WINDOW as f32;
        self.looks
            .push_back(power.sqrt() > noise && self.repeats() > ALIKE);
        if self.looks.len() > REMEMBERED {
            self.looks.pop_front();
        }
    }

    /// In how many of the last looks.
    pub(super) fn looks(&self) -> usize {
        self.looks.iter().filter(|voiced| **voiced).count()
    }

    /// What was said before is over.
    pub(super) fn forget(&mut self) {
        self.looks.clear();
    }

    /// How much the window is like itself a period later, for the period that fits best: 0 to 1.
    fn repeats(&self) -> f32 {
        let x: Vec<f32> = self.window.iter().copied().collect();
        let mean = x.iter().sum::<f32>() / x.len().max(1) as f32;
        let x: Vec<f32> = x.iter().map(|s| s - mean).collect();
        let rate = RATE as usize / TOGETHER;
        let periods = rate / PITCH.1..=(rate / PITCH.0).min(x.len().saturating_sub(1));
        periods
            .map(|period| {
                let (early, late) = (&x[..x.len() - period], &x[period..]);
                let both: f32 = early.iter().zip(late).map(|(a, b)| a * b).sum();
                let powers: f32 = early.iter().map(|a| a * a).sum::<f32>()
                    * late.iter().map(|b| b * b).sum::<f32>();
                both / powers.sqrt().max(1e-9)
            })
            .fold(0.0, f32::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn looks(sound: impl Fn(usize) -> f32) -> usize {
        let samples: Vec<i16> = (0..RATE as usize)
            .map(|i| (sound(i) * 10_000.0) as i16)
            .collect();
        let mut voiced = Voiced::default();
        samples
            .chunks(LOOK)
            .for_each(|look| voiced.take(look, 0.001));
        voiced.looks()
    }

    #[test]
    fn a_voice_repeats_itself_and_a_hiss_does_not() {
        // Pulses of the throat, 140 a second, as a first approximation of a vowel.
        let vowel = |i: usize| (-((i % 114) as f32) / 20.0).exp();
        let mut x = 12_345_u32;
        let hiss: Vec<f32> = (0..RATE)
            .map(|_| {
                x = x.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (x >> 16) as f32 / 32_768.0 - 1.0
            })
            .collect();
        assert!(looks(vowel) > 40);
        assert!(looks(|i| hiss[i]) < 3);
        // As loud as the voice.
        let power: f32 = (0..RATE as usize).map(|i| vowel(i).powi(2)).sum::<f32>() / RATE as f32;
        let as_loud = (power * 3.0).sqrt() / 2.0;
        assert!(looks(|i| vowel(i) + as_loud * hiss[i]) > 30);
    }

    /// Recorded speech of synthetic voices, alone and with a hiss a third as loud; then a knife and water, as arithmetic.
    #[test]
    fn speech_has_a_voice_and_a_kitchen_has_none() {
        let folder =
            std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("shared/rehearsals/clips");
        let mut x = 12_345_u32;
        let mut chance = || {
            x = x.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (x >> 16) as f32 / 32_768.0 - 1.0
        };
        let count = |samples: &[i16], noise: f32| {
            let mut voiced = Voiced::default();
            samples
                .chunks(LOOK)
                .for_each(|look| voiced.take(look, noise));
            voiced.looks()
        };
        for clip in ["next", "stop", "its_in", "start_it", "how_much_salt"] {
            let clip = crate::hear::wav::read(&folder.join(format!("{clip}.wav"))).expect("a clip");
            // Its first two seconds: no more than is remembered, whatever comes before.
            let clip = &clip[..clip.len().min(2 * RATE as usize)];
            assert!(count(clip, 0.001) >= 6, "{}", count(clip, 0.001));
            let level = crate::hear::gate::rms(clip);
            let noisy: Vec<i16> = clip
                .iter()
                .map(|s| s.saturating_add((chance() * level * 0.333 * 1.732 * 32_768.0) as i16))
                .collect();
            assert!(
                count(&noisy, level * 0.333) >= 6,
                "{}",
                count(&noisy, level * 0.333)
            );
        }
        let seconds = |sound: &mut dyn FnMut(usize) -> f32| -> Vec<i16> {
            (0..2 * RATE as usize)
                .map(|i| (sound(i) * 8_000.0) as i16)
                .collect()
        };
        // A knife on a board, four times a second.
        let knife = seconds(&mut |i| chance() * (-40.0 * (i % 4_000) as f32 / RATE as f32).exp());
        let water = seconds(&mut |_| chance());
        for (name, sound) in [("a knife", knife), ("water", water)] {
            assert!(count(&sound, 0.01) < 6, "{name}: {}", count(&sound, 0.01));
        }
    }
}
