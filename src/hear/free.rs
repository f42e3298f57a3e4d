//! Free speech by the same model: an n-gram of how cooks talk, beside the strict network of orders.

use vosk::{CompleteResult, Model, Recognizer};

use super::{ModelWords, RATE};

/// What cooks say at the bench, to the program and to others, one a line (`models/reader/said.py`).
const SAID: &str = include_str!("../../models/reader/said.txt");
/// So many readings are told apart.
const READINGS: u16 = 6;
/// An utterance longer than this is no order.
const LONGEST: usize = 25 * RATE as usize;
/// A shorter piece of a line tells nothing of what follows what.
const FEWEST_WORDS: usize = 2;

/// A recogniser of free speech. It decodes nothing until the strict one has heard words.
pub(super) struct Free {
    recogniser: Recognizer,
    /// What was said and is not decoded yet.
    waiting: Vec<i16>,
    /// So many samples of the utterance.
    taken: usize,
    follows: bool,
}

/// What it made of an utterance.
pub(super) struct FreeReadings {
    /// With their shares, best first.
    pub(super) readings: Vec<(String, f32)>,
    /// How well the best one fits, in nats.
    pub(super) fit: f32,
}

impl Free {
    /// Of the text that [`text`] made; nothing where the model takes none.
    pub(super) fn new(model: &Model, text: &[String]) -> Option<Self> {
        let mut recogniser = Recognizer::new_with_grammar(model, RATE as f32, text)?;
        recogniser.set_max_alternatives(READINGS);
        Some(Self {
            recogniser,
            waiting: Vec::new(),
            taken: 0,
            follows: false,
        })
    }

    /// The next audio of the utterance.
    pub(super) fn take(&mut self, audio: &[i16]) {
        self.taken += audio.len();
        if self.taken <= LONGEST {
            self.waiting.extend_from_slice(audio);
        }
        if self.follows {
            self.decode();
        }
    }

    /// The utterance is no order of the network so far: decode it while it goes on.
    pub(super) fn follow(&mut self) {
        self.follows = true;
    }

    /// The readings of the utterance, which ends here.
    pub(super) fn ended(&mut self) -> Option<FreeReadings> {
        let too_long = self.taken > LONGEST;
        self.decode();
        let result = self.recogniser.final_result();
        let made = match result {
            CompleteResult::Multiple(all) if !too_long => shares(&all.alternatives),
            _ => None,
        };
        self.begin();
        made
    }

    /// Forgets the utterance.
    pub(super) fn reset(&mut self) {
        if self.follows {
            self.recogniser.reset();
        }
        self.begin();
    }

    fn begin(&mut self) {
        self.waiting.clear();
        self.taken = 0;
        self.follows = false;
    }

    fn decode(&mut self) {
        // It may find that speech has ended; it goes on all the same.
        let _ = self.recogniser.accept_waveform(&self.waiting);
        self.waiting.clear();
    }
}

/// What it is made of: what cooks say, lines with the names of today, and the talk of everyday life.
pub(super) fn text(words: &ModelWords, talk: &[&str], names: &[String]) -> Vec<String> {
    let lines = SAID.lines().chain(names.iter().map(String::as_str));
    let mut text: Vec<String> = lines.flat_map(|line| known_pieces(line, words)).collect();
    text.extend(talk.iter().map(|&line| line.to_owned()));
    text
}

fn shares(all: &[vosk::Alternative<'_>]) -> Option<FreeReadings> {
    let best = all.first().filter(|one| !one.text.trim().is_empty())?;
    let parts: Vec<f32> = all
        .iter()
        .map(|one| (one.confidence - best.confidence).exp())
        .collect();
    let whole: f32 = parts.iter().sum();
    Some(FreeReadings {
        readings: all
            .iter()
            .zip(parts)
            .map(|(one, part)| (one.text.trim().to_owned(), part / whole))
            .collect(),
        fit: best.confidence,
    })
}

/// The stretches of a line that the model has all words of.
fn known_pieces(line: &str, words: &ModelWords) -> Vec<String> {
    let line: Vec<&str> = line.split(' ').collect();
    line.split(|word| !words.knows(word))
        .filter(|piece| piece.len() >= FEWEST_WORDS.min(line.len()))
        .map(|piece| piece.join(" "))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_where_the_model_lacks_a_word() {
        let words = ModelWords::parse("<eps> 0\nthe 1\nsalt 2\nis 3\nin 4\n").expect("good lines");
        assert_eq!(known_pieces("the salt is in", &words), ["the salt is in"]);
        assert_eq!(
            known_pieces("is the zaatar in the salt", &words),
            ["is the", "in the salt"]
        );
        assert_eq!(known_pieces("salt", &words), ["salt"]);
        assert!(known_pieces("zaatar", &words).is_empty());
    }
}
