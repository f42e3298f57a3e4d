//! Takes out of the microphone what the program itself says: the samples that it plays are known.
//!
//! The way from loudspeaker to microphone is a filter in blocks, adapted in the frequency domain by a diagonal Kalman
//! filter (Enzner and Vary, 'Frequency-domain adaptive Kalman filter for acoustic echo control in hands-free telephones',
//! Signal Processing 86, 2006; in partitions: Kuech, Mabande and Enzner, ICASSP 2014). It needs no detector of double
//! talk, leaves the cook's voice as it is, and spans the delays of common sound systems.

use std::collections::VecDeque;
use std::sync::Arc;

use realfft::num_complex::Complex;
use realfft::{ComplexToReal, RealFftPlanner, RealToComplex};

use super::{RATE, wav};

/// Samples that are taken at once: 16 ms.
const BLOCK: usize = 256;
/// The span of a transform.
const SPAN: usize = 2 * BLOCK;
/// Blocks from playing to the last echo that is taken out: 0.5 s.
const PARTS: usize = 32;
/// The room rings on after the last sample: it goes on for this long.
const TAIL: usize = RATE as usize * 8 / 10;
/// How much of the way from loudspeaker to microphone stays from block to block.
const STAYS: f32 = 0.9999;
/// What is left is taken for a remainder of the echo below this share of the echo's power: the cook is seldom so far below.
const REST_SHARE: f32 = 0.05;
/// The echo's power counts for a while after it was loud, each block this much less: between two words of the program's own the rest of the
/// first is not the cook.
const FADES: f32 = 0.95;
/// Where the cook was heard, everything passes for this many blocks: a quarter of a second.
const PASSES: usize = 16;
/// A rest of the echo is made this much softer.
const SOFTER: f32 = 0.03;
/// How slowly the estimate of everything that is not echo follows.
const SLOW: f32 = 0.9;

/// One part of the way from loudspeaker to microphone, and one past block of what was played.
#[derive(Clone)]
struct Part {
    played: Vec<Complex<f32>>,
    way: Vec<Complex<f32>>,
    doubt: Vec<f32>,
}

/// The echo canceller of one microphone and one loudspeaker.
pub struct Echo {
    forward: Arc<dyn RealToComplex<f32>>,
    inverse: Arc<dyn ComplexToReal<f32>>,
    parts: VecDeque<Part>,
    /// The power of what is not echo.
    rest: Vec<f32>,
    before: [f32; BLOCK],
    /// What is still to be played, from now on.
    playing: VecDeque<i16>,
    /// Heard, and too little for a block.
    waiting: Vec<i16>,
    tail: usize,
    /// Powers of what is left, over about three blocks, and of the echo.
    powers: (f32, f32),
    /// For how many blocks everything passes.
    open: usize,
}

impl Default for Echo {
    fn default() -> Self {
        let mut planner = RealFftPlanner::new();
        let bins = BLOCK + 1;
        let part = Part {
            played: vec![Complex::default(); bins],
            way: vec![Complex::default(); bins],
            doubt: vec![1.0; bins],
        };
        Self {
            forward: planner.plan_fft_forward(SPAN),
            inverse: planner.plan_fft_inverse(SPAN),
            parts: vec![part; PARTS].into(),
            rest: vec![1e-4; bins],
            before: [0.0; BLOCK],
            playing: VecDeque::new(),
            waiting: Vec::with_capacity(BLOCK),
            tail: 0,
            powers: (0.0, 0.0),
            open: 0,
        }
    }
}

impl Echo {
    /// These samples, 16 kHz mono, are played next: at once, or after those that are still playing.
    pub fn plays(&mut self, samples: &[i16]) {
        self.playing.extend(samples);
    }

    /// What was still to be played is not.
    pub fn stops(&mut self) {
        self.playing.clear();
    }

    /// The program sounds, or the room still rings with it.
    pub fn sounds(&self) -> bool {
        self.tail > 0 || !self.playing.is_empty()
    }

    /// What the microphone heard, without what was played. While nothing sounds it is given back as it is.
    pub fn clean(&mut self, heard: &[i16]) -> Vec<i16> {
        if !self.sounds() && self.waiting.is_empty() {
            return heard.to_vec();
        }
        self.waiting.extend_from_slice(heard);
        let mut out = Vec::with_capacity(self.waiting.len());
        while self.waiting.len() >= BLOCK {
            let heard: Vec<f32> = self.waiting.drain(..BLOCK).map(unit).collect();
            if self.playing.is_empty() {
                self.tail = self.tail.saturating_sub(BLOCK);
            } else {
                self.tail = TAIL;
            }
            let n = self.playing.len().min(BLOCK);
            let mut played = [0.0; BLOCK];
            for (to, sample) in played.iter_mut().zip(self.playing.drain(..n)) {
                *to = unit(sample);
            }
            out.extend(self.block(&played, &heard).into_iter().map(wav::to_i16));
        }
        if !self.sounds() {
            out.append(&mut self.waiting);
        }
        out
    }

    /// One block: what was played and heard in it, to what of it is not echo.
    fn block(&mut self, played: &[f32; BLOCK], heard: &[f32]) -> Vec<f32> {
        self.hear_played(played);
        let mut echo = vec![Complex::default(); BLOCK + 1];
        for part in &self.parts {
            for ((sum, x), w) in echo.iter_mut().zip(&part.played).zip(&part.way) {
                *sum += x * w;
            }
        }
        let echo = self.back(&mut echo);
        let rest: Vec<f32> = heard
            .iter()
            .zip(&echo[BLOCK..])
            .map(|(h, e)| h - e)
            .collect();
        let mut span = vec![0.0; BLOCK];
        span.extend_from_slice(&rest);
        let error = self.spectrum(&mut span);
        for (slow, e) in self.rest.iter_mut().zip(&error) {
            *slow = SLOW * *slow + (1.0 - SLOW) * e.norm_sqr();
        }
        self.adapt(&error);
        self.passed(rest, &echo[BLOCK..])
    }

    /// What is left, made soft where it is no more than a remainder of the echo.
    fn passed(&mut self, mut rest: Vec<f32>, echo: &[f32]) -> Vec<f32> {
        let power = |samples: &[f32]| samples.iter().map(|s| s * s).sum::<f32>();
        self.powers.0 = 0.6 * self.powers.0 + 0.4 * power(&rest);
        self.powers.1 = (0.6 * self.powers.1 + 0.4 * power(echo)).max(FADES * self.powers.1);
        if self.powers.0 > REST_SHARE * self.powers.1 {
            self.open = PASSES;
        } else {
            self.open = self.open.saturating_sub(1);
        }
        if self.open == 0 {
            for sample in &mut rest {
                *sample *= SOFTER;
            }
        }
        rest
    }

    /// The newest block of what is played takes the place of the oldest; the ways stay where they are.
    fn hear_played(&mut self, played: &[f32; BLOCK]) {
        let mut span = self.before.to_vec();
        span.extend_from_slice(played);
        self.before = *played;
        let mut newer = self.spectrum(&mut span);
        for part in &mut self.parts {
            std::mem::swap(&mut part.played, &mut newer);
        }
    }

    fn adapt(&mut self, error: &[Complex<f32>]) {
        let mut total: Vec<f32> = self.rest.iter().map(|r| 2.0 * r + 1e-8).collect();
        for part in &self.parts {
            for ((sum, x), p) in total.iter_mut().zip(&part.played).zip(&part.doubt) {
                *sum += x.norm_sqr() * p;
            }
        }
        for at in 0..self.parts.len() {
            let part = &self.parts[at];
            let step: Vec<Complex<f32>> = (0..error.len())
                .map(|k| part.played[k].conj() * error[k] * (part.doubt[k] / total[k]))
                .collect();
            let step = self.causal(step);
            let part = &mut self.parts[at];
            for k in 0..error.len() {
                part.way[k] += step[k];
                let known = 1.0 - 0.5 * part.doubt[k] / total[k] * part.played[k].norm_sqr();
                part.doubt[k] = STAYS * STAYS * part.doubt[k] * known
                    + (1.0 - STAYS * STAYS) * part.way[k].norm_sqr();
            }
        }
    }

    /// Only the first half of a step in time is a filter of this part; the other half is wound round.
    fn causal(&self, mut step: Vec<Complex<f32>>) -> Vec<Complex<f32>> {
        let mut time = self.back(&mut step);
        time[BLOCK..].fill(0.0);
        self.spectrum(&mut time)
    }

    fn spectrum(&self, span: &mut [f32]) -> Vec<Complex<f32>> {
        let mut out = vec![Complex::default(); BLOCK + 1];
        // It refuses only other lengths.
        let _ = self.forward.process(span, &mut out);
        out
    }

    fn back(&self, spectrum: &mut [Complex<f32>]) -> Vec<f32> {
        // The ends of a real signal's spectrum are real; sums of small numbers leave a rest.
        spectrum[0].im = 0.0;
        spectrum[BLOCK].im = 0.0;
        let mut out = vec![0.0; SPAN];
        let _ = self.inverse.process(spectrum, &mut out);
        for sample in &mut out {
            *sample /= SPAN as f32;
        }
        out
    }
}

fn unit(sample: i16) -> f32 {
    f32::from(sample) / 32_768.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hear::gate::rms;

    fn hiss(n: usize, seed: u32) -> Vec<i16> {
        let mut x = seed;
        // Louder and softer three times a second, as speech is.
        (0..n)
            .map(|i| {
                x = x.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let swing = (i as f32 * 19.0 / RATE as f32).sin().abs();
                (((x >> 16) as f32 / 32_768.0 - 1.0) * 6_000.0 * swing) as i16
            })
            .collect()
    }

    /// The room: 60 ms away, and once more from a wall.
    fn room(played: &[i16]) -> Vec<i16> {
        let at = |i: usize, back: usize| i.checked_sub(back).map_or(0.0, |j| f32::from(played[j]));
        (0..played.len())
            .map(|i| (0.8 * at(i, 960) - 0.3 * at(i, 1500)) as i16)
            .collect()
    }

    #[test]
    fn its_own_sound_goes_and_the_cook_stays() {
        let mut echo = Echo::default();
        let played = hiss(RATE as usize * 4, 1);
        let mut heard = room(&played);
        let cook = hiss(RATE as usize, 9);
        let from = RATE as usize * 3;
        for (sum, own) in heard[from..].iter_mut().zip(&cook) {
            *sum = sum.saturating_add(own / 3);
        }
        echo.plays(&played);
        let out: Vec<i16> = heard.chunks(333).flat_map(|h| echo.clean(h)).collect();
        let second = from - RATE as usize..from;
        let (before, after) = (rms(&heard[second.clone()]), rms(&out[second]));
        // 15 dB within three seconds, from nothing; of speech it takes 29 dB.
        assert!(after < before / 5.6, "{before} {after}");
        let both = from + 1600..from + RATE as usize - 1600;
        let cooks = rms(&cook[1600..RATE as usize - 1600]) / 3.0;
        let stays = rms(&out[both]);
        assert!((0.8..1.2).contains(&(stays / cooks)), "{stays} {cooks}");
    }

    #[test]
    fn in_silence_it_changes_nothing_and_a_stop_is_a_stop() {
        let mut echo = Echo::default();
        let heard = hiss(1000, 3);
        assert_eq!(echo.clean(&heard), heard);
        echo.plays(&hiss(RATE as usize, 4));
        assert!(echo.sounds());
        echo.stops();
        let n: usize = (0..40).map(|_| echo.clean(&heard).len()).sum();
        assert!(!echo.sounds());
        assert_eq!(n, 40_000);
    }
}
