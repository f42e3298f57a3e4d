//! What the recogniser made of one utterance.

use crate::bench::Heard;

/// The word that stands for speech outside the grammar.
pub const UNKNOWN: &str = "[unk]";

/// One word with its confidence and place.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardWord {
    /// The word.
    pub word: String,
    /// 0 to 1.
    pub confidence: f32,
    /// Where it starts, in seconds from the start of the utterance's audio.
    pub start: f32,
    /// Where it ends.
    pub end: f32,
}

/// What the recogniser made of one utterance.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hypothesis {
    /// The words, single spaces between; [`UNKNOWN`] where speech was no order.
    pub text: String,
    /// The lowest word's confidence, 0 to 1.
    pub confidence: f32,
    /// The words one by one.
    pub words: Vec<HeardWord>,
    /// Other readings, best first, without `text`; only sought where the first is doubtful.
    pub others: Vec<String>,
    /// The program itself was sounding meanwhile.
    pub over: bool,
}

impl Hypothesis {
    /// Nothing was said.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Speech that is no order: talk, the radio, a cough.
    pub fn is_talk(&self) -> bool {
        self.text.split(' ').any(|word| word == UNKNOWN)
    }

    /// As the bench takes it; nothing where nothing was said or it was talk.
    pub fn heard(&self) -> Option<Heard> {
        if self.is_empty() || self.is_talk() {
            return None;
        }
        Some(Heard {
            text: self.text.clone(),
            confidence: self.confidence,
            others: self.others.clone(),
            typed: false,
            over: self.over,
        })
    }
}
