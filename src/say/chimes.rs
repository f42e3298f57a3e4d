//! The chimes of `sounds/`, part of the program.

use super::Sound;
use crate::bench::Chime;

const LISTENING: &[u8] = include_bytes!("../../sounds/listening.wav");
const CUE: &[u8] = include_bytes!("../../sounds/cue.wav");
const ASKED: &[u8] = include_bytes!("../../sounds/asked.wav");
const NOT_UNDERSTOOD: &[u8] = include_bytes!("../../sounds/not_understood.wav");
const DUE: [&[u8]; 4] = [
    include_bytes!("../../sounds/due0.wav"),
    include_bytes!("../../sounds/due1.wav"),
    include_bytes!("../../sounds/due2.wav"),
    include_bytes!("../../sounds/due3.wav"),
];

/// A chime at an urgency from 0 to 3.
pub fn chime(which: Chime, urgency: u8) -> Sound {
    let bytes = match which {
        Chime::Listening => LISTENING,
        Chime::Cue => CUE,
        Chime::Asked => ASKED,
        Chime::NotUnderstood => NOT_UNDERSTOOD,
        Chime::Due => DUE[usize::from(urgency).min(3)],
    };
    Sound::from_wav(bytes).expect("the chimes are part of the program, and a test reads them")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_chime_reads_and_an_unanswered_alarm_grows() {
        for c in [
            Chime::Listening,
            Chime::Cue,
            Chime::Asked,
            Chime::NotUnderstood,
            Chime::Due,
        ] {
            assert!(chime(c, 0).millis() >= 40, "{c:?}");
        }
        let energy = |u| {
            chime(Chime::Due, u)
                .samples
                .iter()
                .map(|s| f64::from(s * s))
                .sum::<f64>()
                / chime(Chime::Due, u).samples.len() as f64
        };
        assert!((0..3).all(|u| energy(u) < energy(u + 1)));
    }

    /// On-off patterns, in tenths of a second, differ between any two meanings.
    #[test]
    fn rhythms_differ() {
        let pattern = |c| -> Vec<bool> {
            let s = chime(c, 0);
            s.samples
                .chunks(s.rate as usize / 20)
                .map(|w| w.iter().fold(0f32, |m, x| m.max(x.abs())) > 0.05)
                .collect()
        };
        let all = [
            Chime::Listening,
            Chime::Cue,
            Chime::Asked,
            Chime::NotUnderstood,
            Chime::Due,
        ];
        for (i, a) in all.iter().enumerate() {
            for b in &all[i + 1..] {
                assert_ne!(pattern(*a), pattern(*b), "{a:?} {b:?}");
            }
        }
    }
}
