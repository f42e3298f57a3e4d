//! Is anybody speaking? An energy gate over a floor that follows the kitchen's noise.

use super::RATE;

/// Length of one look, in samples: 20 ms.
pub const LOOK: usize = RATE as usize / 50;
/// Speech stands this much above the floor, in amplitude (about 6 dB).
const ABOVE: f32 = 2.0;
/// The quietest floor: an empty room with a good microphone.
const LOWEST_FLOOR: f32 = 0.0008;
/// Audio kept from before the gate opens, so that no first sound is lost: 400 ms.
const BEFORE: usize = RATE as usize * 2 / 5;
/// The gate stays open this long after the last loud look: 1.2 s.
const AFTER: usize = RATE as usize * 6 / 5;

/// The gate.
#[derive(Debug, Clone)]
pub struct Gate {
    floor: f32,
    open_for: usize,
    before: Vec<i16>,
}

impl Default for Gate {
    fn default() -> Self {
        Self {
            floor: 0.003,
            open_for: 0,
            before: Vec::new(),
        }
    }
}

impl Gate {
    /// Takes audio and gives what the recogniser should hear of it: nothing while the kitchen is quiet.
    pub fn pass(&mut self, audio: &[i16]) -> Vec<i16> {
        let mut out = Vec::new();
        for look in audio.chunks(LOOK) {
            let level = rms(look);
            // The floor falls at once and rises slowly: speech lifts it little, a fan that is switched on in seconds.
            self.floor = if level < self.floor {
                level.max(LOWEST_FLOOR)
            } else {
                self.floor + (level - self.floor) * 0.004
            };
            let was_open = self.open_for > 0;
            if level > self.floor * ABOVE {
                self.open_for = AFTER;
            } else {
                self.open_for = self.open_for.saturating_sub(look.len());
            }
            if self.open_for > 0 {
                if !was_open {
                    out.append(&mut self.before);
                }
                out.extend_from_slice(look);
            } else {
                self.before.extend_from_slice(look);
                let over = self.before.len().saturating_sub(BEFORE);
                self.before.drain(..over);
            }
        }
        out
    }

    /// The level of the kitchen's noise, of full scale.
    pub fn floor(&self) -> f32 {
        self.floor
    }

    /// Somebody may be speaking.
    pub fn is_open(&self) -> bool {
        self.open_for > 0
    }
}

/// Root mean square of full scale, 0 to 1.
pub fn rms(audio: &[i16]) -> f32 {
    if audio.is_empty() {
        return 0.0;
    }
    let sum: f64 = audio.iter().map(|s| f64::from(*s) * f64::from(*s)).sum();
    ((sum / audio.len() as f64).sqrt() / 32768.0) as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A steady hiss from a counter, no chance in it.
    fn hiss(n: usize, level: f32) -> Vec<i16> {
        let mut x = 12_345_u32;
        (0..n)
            .map(|_| {
                x = x.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                ((x >> 16) as f32 / 32768.0 - 1.0).mul_add(level * 32767.0, 0.0) as i16
            })
            .collect()
    }

    #[test]
    fn a_quiet_kitchen_costs_nothing_and_speech_keeps_its_first_sound() {
        let mut gate = Gate::default();
        let passed = gate.pass(&hiss(RATE as usize * 10, 0.002)).len();
        assert!(passed < RATE as usize * 2, "{passed}");
        assert!(!gate.is_open());
        let speech = hiss(RATE as usize, 0.2);
        let heard = gate.pass(&speech);
        assert!(
            heard.len() >= speech.len() + BEFORE - LOOK,
            "{}",
            heard.len()
        );
    }

    #[test]
    fn a_fan_is_got_used_to() {
        let mut gate = Gate::default();
        gate.pass(&hiss(RATE as usize * 5, 0.002));
        gate.pass(&hiss(RATE as usize * 30, 0.05));
        assert!(!gate.is_open());
    }

    #[test]
    fn absurd_audio_does_no_harm() {
        let mut gate = Gate::default();
        for audio in [
            vec![],
            vec![i16::MIN; 1000],
            vec![i16::MAX; 1000],
            vec![0; 100_000],
        ] {
            gate.pass(&audio);
        }
        assert_eq!(rms(&[]), 0.0);
    }
}
