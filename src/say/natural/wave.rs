//! From the network's spectra to sound: pulses at the pitch, filtered; noise, shaped; a part with its own phases; then one
//! inverse transform over overlapping frames. After hibari-tts (Apache 2.0), `dsp.py`.

use std::f32::consts::{PI, TAU};

use realfft::{RealFftPlanner, num_complex::Complex};

use super::net::{BINS, Spectra};

/// Samples a second.
pub(super) const RATE: u32 = 24_000;
/// Samples under one window, and from one to the next.
const SPAN: usize = 1200;
const HOP: usize = 300;
/// Below this pitch a frame has no voice.
const LOWEST: f32 = 40.0;
/// No harmonic above this.
const HIGHEST: f32 = 11_000.0;
/// A spectrum's logarithm goes no higher.
const CEILING: f32 = 7.0;

/// A train of pulses that has every harmonic up to `HIGHEST` at the same strength.
fn pulses(pitch: &[f32]) -> Vec<f32> {
    let n = pitch.len();
    let mut out = Vec::with_capacity(n * HOP);
    let mut phase = 0.0_f64;
    for k in 0..n {
        for j in 0..HOP {
            let at = (j as f32 + 0.5) / HOP as f32 - 0.5;
            let (from, to, share) = if at < 0.0 {
                (pitch[k.saturating_sub(1)], pitch[k], at + 1.0)
            } else {
                (pitch[k], pitch[(k + 1).min(n - 1)], at)
            };
            let tone = from * (1.0 - share) + to * share;
            let held = tone.max(LOWEST);
            phase = (phase + f64::from(held) / f64::from(RATE)).fract();
            if tone <= LOWEST {
                out.push(0.0);
                continue;
            }
            let angle = phase as f32 * TAU;
            let harmonics = (HIGHEST / held).floor() + 0.5;
            let below = 2.0 * (angle * 0.5).sin();
            let sum = if below.abs() <= 2e-3 {
                harmonics
            } else {
                (harmonics * angle).sin() / below
            };
            out.push(sum - 0.5);
        }
    }
    out
}

/// Normal numbers, always the same ones: the same sentence is the same sound.
struct Noise(u64);

impl Noise {
    /// Marsaglia's xorshift generator with the shifts 13, 7 and 17.
    fn uniform(&mut self) -> f32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 40) as f32 + 0.5) / (1_u64 << 24) as f32
    }

    /// Box and Muller's pair.
    fn pair(&mut self) -> Complex<f32> {
        let far = (-2.0 * self.uniform().ln()).sqrt();
        let (sin, cos) = (TAU * self.uniform()).sin_cos();
        Complex::new(far * cos, far * sin)
    }
}

fn loud(log: f32) -> f32 {
    log.min(CEILING).exp()
}

/// The sound of spectra.
pub(super) fn sound(spectra: &Spectra) -> Vec<f32> {
    let n = spectra.pitch.len();
    let window: Vec<f32> = (0..SPAN)
        .map(|i| 0.5 - 0.5 * (TAU * i as f32 / SPAN as f32).cos())
        .collect();
    let mut planner = RealFftPlanner::<f32>::new();
    let forward = planner.plan_fft_forward(SPAN);
    let inverse = planner.plan_fft_inverse(SPAN);
    let (mut there, mut back) = (forward.make_scratch_vec(), inverse.make_scratch_vec());
    let train = pulses(&spectra.pitch);
    let half = SPAN / 2;
    // Before its beginning and after its end the train is its own mirror.
    let at = |i: usize| {
        let i = i.abs_diff(half);
        let i = if i < train.len() {
            i
        } else {
            (2 * train.len()).saturating_sub(2 + i)
        };
        train.get(i).copied().unwrap_or(0.0)
    };
    let mut noise = Noise(0x9E37_79B9_7F4A_7C15);
    let mut out = vec![0.0_f32; (n + 3) * HOP];
    let mut share = vec![0.0_f32; (n + 3) * HOP];
    let mut span = vec![0.0_f32; SPAN];
    let mut spectrum = vec![Complex::<f32>::default(); BINS];
    for (f, row) in spectra.frames.rows().into_iter().enumerate() {
        for (i, x) in span.iter_mut().enumerate() {
            *x = at(f * HOP + i) * window[i] * 4.0 / SPAN as f32;
        }
        // The lengths are those that the plans were made for.
        let _ = forward.process_with_scratch(&mut span, &mut spectrum, &mut there);
        for (b, z) in spectrum.iter_mut().enumerate() {
            let part = |k: usize| row[k * BINS + b];
            let voiced = Complex::from_polar(loud(part(0)), PI * part(1).tanh());
            let free = Complex::from_polar(loud(part(3)), part(4));
            *z = *z * voiced + noise.pair() * loud(part(2)) + free;
        }
        spectrum[0].im = 0.0;
        spectrum[BINS - 1].im = 0.0;
        let _ = inverse.process_with_scratch(&mut spectrum, &mut span, &mut back);
        for i in 0..SPAN {
            out[f * HOP + i] += span[i] / SPAN as f32 * window[i];
            share[f * HOP + i] += window[i] * window[i];
        }
    }
    (half..half + n * HOP)
        .map(|i| out[i] / share[i].max(1e-11))
        .collect()
}
