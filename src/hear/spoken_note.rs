//! A note in the cook's own voice: what is said next, from its first sound until a pause, and nothing else.

use super::gate::{Gate, LOOK};
use super::{Hypothesis, RATE, UNKNOWN};

/// So much silence ends a note: a breath within it does not.
const ENDS: usize = RATE as usize * 2;
/// Who says nothing for so long has nothing to note.
const WAITS: usize = RATE as usize * 12;
/// The longest note.
const LONGEST: usize = RATE as usize * 60;
/// What is shorter was no word.
const SHORTEST: usize = RATE as usize / 2;

/// How far a note has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoteState {
    /// It has not begun, or goes on.
    GoesOn,
    /// It is whole.
    Whole,
    /// Nobody said anything.
    Nothing,
}

/// A note that is being said.
#[derive(Default)]
pub struct SpokenNote {
    gate: Gate,
    audio: Vec<i16>,
    /// Samples since the last sound in it, and since it was asked for.
    silent: usize,
    waited: usize,
    words: Vec<String>,
}

impl SpokenNote {
    /// Takes the next audio, 16 kHz mono. `over`: the program itself sounds meanwhile; before the first word that is no
    /// note.
    pub fn take(&mut self, audio: &[i16], over: bool) -> NoteState {
        for look in audio.chunks(LOOK) {
            if self.audio.is_empty() && over {
                continue;
            }
            let passed = self.gate.pass(look);
            if passed.is_empty() {
                self.silent += look.len();
                // A short pause is part of it.
                if !self.audio.is_empty() {
                    self.audio.extend_from_slice(look);
                }
            } else {
                self.silent = 0;
                self.audio.extend_from_slice(&passed);
            }
            self.waited += look.len();
        }
        if self.audio.is_empty() {
            return if self.waited >= WAITS {
                NoteState::Nothing
            } else {
                NoteState::GoesOn
            };
        }
        if self.silent >= ENDS || self.audio.len() >= LONGEST {
            self.ended_now()
        } else {
            NoteState::GoesOn
        }
    }

    /// What the recogniser made of the words meanwhile.
    pub fn hear(&mut self, heard: &Hypothesis) {
        let free = heard.free.first().map(|(text, _)| text.as_str());
        let text = if heard.is_loose() {
            free
        } else {
            Some(heard.text.as_str())
        };
        let words = text.unwrap_or_default().split_whitespace();
        let known: Vec<&str> = words.filter(|word| *word != UNKNOWN).collect();
        if !known.is_empty() {
            self.words.push(known.join(" "));
        }
    }

    /// How far it has come where it is ended now.
    pub fn ended_now(&self) -> NoteState {
        if self.spoken() < SHORTEST {
            NoteState::Nothing
        } else {
            NoteState::Whole
        }
    }

    /// So many samples of it are no silence at its end.
    fn spoken(&self) -> usize {
        self.audio.len().saturating_sub(self.silent)
    }

    /// Its sound without the silence at its end, and its words as far as they were recognised.
    pub fn kept(mut self) -> (Vec<i16>, String) {
        let spoken = self.spoken();
        self.audio.truncate(spoken);
        (self.audio, self.words.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Seconds of a voice-like sound, or of a quiet room.
    fn sound(seconds: f64, loud: f64) -> Vec<i16> {
        let sample = |n: usize| {
            let t = n as f64 / f64::from(RATE);
            let syllables = (t * 8.0).sin().abs();
            ((t * 900.0).sin() * syllables * loud * 32_767.0) as i16
        };
        (0..(seconds * f64::from(RATE)) as usize)
            .map(sample)
            .collect()
    }

    fn quiet(seconds: f64) -> Vec<i16> {
        sound(seconds, 0.0005)
    }

    #[test]
    fn what_is_said_is_kept_from_its_first_sound_to_a_pause_and_nothing_else() {
        let mut note = SpokenNote::default();
        // The program's own question is no note.
        assert_eq!(note.take(&sound(1.0, 0.3), true), NoteState::GoesOn);
        assert_eq!(note.take(&quiet(3.0), false), NoteState::GoesOn);
        assert_eq!(note.take(&sound(2.0, 0.3), false), NoteState::GoesOn);
        // A breath.
        assert_eq!(note.take(&quiet(1.0), false), NoteState::GoesOn);
        assert_eq!(note.take(&sound(1.5, 0.3), false), NoteState::GoesOn);
        note.hear(&Hypothesis {
            text: "next time ten grams less water".to_owned(),
            ..Hypothesis::default()
        });
        assert_eq!(note.take(&quiet(4.0), false), NoteState::Whole);
        let (audio, words) = note.kept();
        let seconds = audio.len() as f64 / f64::from(RATE);
        assert!((4.5..6.7).contains(&seconds), "{seconds}");
        assert_eq!(words, "next time ten grams less water");
    }

    #[test]
    fn silence_is_no_note_and_a_long_one_ends() {
        let mut note = SpokenNote::default();
        assert_eq!(note.take(&quiet(11.0), false), NoteState::GoesOn);
        assert_eq!(note.take(&quiet(2.0), false), NoteState::Nothing);
        let mut note = SpokenNote::default();
        note.take(&quiet(1.0), false);
        assert_eq!(note.take(&sound(61.0, 0.3), false), NoteState::Whole);
    }
}
