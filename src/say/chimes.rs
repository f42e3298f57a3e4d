//! The chimes of `sounds/`, part of the program.

use super::Sound;
use crate::bench::Chime;

const LISTENING: &[u8] = include_bytes!("../../sounds/listening.wav");
const CUE: &[u8] = include_bytes!("../../sounds/cue.wav");
const ASKED: &[u8] = include_bytes!("../../sounds/asked.wav");
const NOT_UNDERSTOOD: &[u8] = include_bytes!("../../sounds/not_understood.wav");
const ENOUGH: &[u8] = include_bytes!("../../sounds/enough.wav");
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
        Chime::Enough => ENOUGH,
        Chime::Due => DUE[usize::from(urgency).min(3)],
    };
    Sound::from_wav(bytes).expect("the chimes are part of the program, and a test reads them")
}

/// The rate of a tone, its length in samples, and its pitch far and near in hertz: an octave and a half.
const TONE: (u32, u32, f64, f64) = (22_050, 1_200, 440.0, 1_245.0);

/// A short tone, the higher the nearer: 0 far, 100 there.
pub fn tone(near: u8) -> Sound {
    let (rate, length, far, there) = TONE;
    let hz = far * (there / far).powf(f64::from(near.min(100)) / 100.0);
    let sample = |at: u32| {
        let edge = f64::from(at.min(length - at)) / 130.0;
        let wave = (std::f64::consts::TAU * hz * f64::from(at) / f64::from(rate)).sin();
        (0.35 * edge.min(1.0) * wave) as f32
    };
    Sound {
        rate,
        samples: (0..length).map(sample).collect(),
    }
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
            Chime::Enough,
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

    #[test]
    fn a_tone_is_short_and_the_higher_the_nearer() {
        let crossings = |near| {
            let samples = tone(near).samples;
            let up = |w: &&[f32]| w[0] <= 0.0 && w[1] > 0.0;
            samples.windows(2).filter(up).count()
        };
        assert!(tone(0).millis() < 60);
        assert!(crossings(0) < crossings(50) && crossings(50) < crossings(100));
    }

    /// How long each note of a chime sounds, in milliseconds, whatever its pitch: runs of ten milliseconds above a
    /// twentieth of the loudest, joined over gaps that no ear takes for a rest.
    fn notes(c: Chime, urgency: u8) -> Vec<u32> {
        let s = chime(c, urgency);
        let peak = |w: &[f32]| w.iter().fold(0_f32, |m, x| m.max(x.abs()));
        let loudest = peak(&s.samples);
        let on: Vec<bool> = s
            .samples
            .chunks(s.rate as usize / 100)
            .map(|w| peak(w) > loudest / 20.0)
            .collect();
        on.split(|sounds| !sounds)
            .map(|run| run.len() as u32 * 10)
            .filter(|ms| *ms > 0)
            .collect()
    }

    /// The rhythms that `sounds/README.md` promises: short and long notes, with no regard to pitch.
    #[test]
    fn each_meaning_has_a_rhythm_of_its_own() {
        let rhythm = |c, urgency| -> String {
            let notes = notes(c, urgency);
            notes
                .iter()
                .map(|ms| if *ms < 200 { '.' } else { '-' })
                .collect()
        };
        assert_eq!(rhythm(Chime::Listening, 0), ".");
        assert_eq!(rhythm(Chime::Cue, 0), "-");
        assert_eq!(rhythm(Chime::Asked, 0), ".-");
        assert_eq!(rhythm(Chime::NotUnderstood, 0), "-.");
        assert_eq!(rhythm(Chime::Enough, 0), "..");
        for urgency in 0..4 {
            assert_eq!(rhythm(Chime::Due, urgency), "......", "urgency {urgency}");
        }
        // A tick is far shorter than a cue, and an alarm gets quicker.
        assert!(notes(Chime::Listening, 0)[0] * 5 < notes(Chime::Cue, 0)[0]);
        let length = |u| chime(Chime::Due, u).millis();
        assert!((0..3).all(|u| length(u) > length(u + 1)));
    }

    /// The script in the repository makes exactly the sounds that are shipped.
    #[test]
    fn the_script_makes_the_shipped_sounds() {
        let sounds = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sounds");
        let folder = std::env::temp_dir().join(format!("commis-sounds-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        let made = std::process::Command::new("python3")
            .arg(sounds.join("make.py"))
            .current_dir(&folder)
            .status()
            .expect("python3 comes with the packages that ./setup installs");
        assert!(made.success());
        let mut count = 0;
        for file in std::fs::read_dir(&sounds).expect("sounds/").flatten() {
            let name = file.file_name();
            if file.path().extension().is_some_and(|e| e == "wav") {
                let shipped = std::fs::read(file.path()).expect("it reads");
                let again = std::fs::read(folder.join(&name)).expect("it was made");
                assert!(shipped == again, "{name:?} is made differently");
                count += 1;
            }
        }
        assert_eq!(count, 9);
        let _ = std::fs::remove_dir_all(&folder);
    }
}
