//! What every recogniser does.

use super::Hypothesis;

/// What a piece of audio brought.
#[derive(Debug, Clone, PartialEq)]
pub enum Progress {
    /// Nothing new.
    Nothing,
    /// The words so far; they may still change.
    Partial(String),
    /// The utterance has ended.
    Final(Hypothesis),
}

/// Turns 16 kHz mono audio into words.
pub trait Recogniser: Send {
    /// Takes the next piece of audio: 16 kHz, mono.
    fn accept(&mut self, audio: &[i16]) -> Progress;

    /// Ends the utterance now and says what was heard in it.
    fn finish(&mut self) -> Hypothesis;

    /// Forgets the utterance in progress.
    fn reset(&mut self);

    /// How far `text` is a whole phrase of the network in use.
    fn standing(&self, text: &str) -> Standing;

    /// A recogniser by the same model that hears these phrases alone, and all else as talk; nothing where it has none.
    fn narrow(&self, phrases: &[String]) -> Option<Box<dyn Recogniser>>;
}

/// How the words so far stand in the network.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// A whole phrase, and nothing could follow but courtesy.
    Complete,
    /// A whole phrase, but more could follow that changes its meaning.
    Extendable,
    /// A whole phrase that seldom ends here.
    Hanging,
    /// The start of a phrase.
    Unfinished,
    /// No part of any phrase, or no network is set.
    Outside,
}
