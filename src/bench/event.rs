//! What reaches the bench.

use serde::{Deserialize, Serialize};

use super::beside::Beside;
use crate::order::Key;
use crate::scale::Reading;
use crate::time::Wall;
use crate::timer::DishId;

/// Something that happened at the bench's edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case")]
pub enum Event {
    /// The session begins; always the first event.
    Start {
        /// The wall clock and its coming changes of offset.
        wall: Wall,
    },
    /// The recogniser heard something.
    Heard(Heard),
    /// A key of the keypad went down.
    Key {
        /// Which key.
        key: Key,
    },
    /// A key has been held for a second: say what it does.
    KeyHeld {
        /// Which key.
        key: Key,
    },
    /// The scale shows something.
    Scale {
        /// What it shows.
        reading: Reading,
    },
    /// Nothing but time: sent when `wake_at` has come.
    Tick,
    /// The wall clock was set, or the time zone changed.
    WallChanged {
        /// The wall clock now.
        wall: Wall,
    },
    /// A device came or went.
    Device {
        /// Which one.
        device: Device,
        /// Is it there?
        present: bool,
        /// One clause for the cook: why, or what to do.
        note: String,
    },
    /// The session was taken up again from its journal after a stop of `gap_ms`.
    Resumed {
        /// The wall clock now.
        wall: Wall,
        /// How long the program was away, in milliseconds.
        gap_ms: u64,
        /// What else the cook should be told of it: whole sentences.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        notes: Vec<String>,
        /// The dish that `formula` is of.
        #[serde(default, skip_serializing_if = "DishId::is_first")]
        dish: DishId,
        /// The text of the formula, where it is another now: the session goes on by it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        formula: Option<String>,
    },
    /// What the cook said after 'make a note' was kept with its sound, or nothing was said.
    Noted {
        /// What was made of the words.
        text: String,
        /// The file of its sound, where it could be kept.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        recording: Option<String>,
    },
    /// Another dish is made as well.
    Beside {
        /// The dish.
        beside: Box<Beside>,
    },
    /// Something that the cook should be told, found at the edge: whole sentences.
    Told {
        /// The sentences.
        text: String,
    },
}

/// One utterance as the recogniser gave it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Heard {
    /// Words, lower case, single spaces.
    pub text: String,
    /// The share of this reading in all that were told apart, 0 to 1. Typed text is 1.
    pub confidence: f32,
    /// Other readings with their shares, best first, without `text`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<(String, f32)>,
    /// How much better everyday talk fits than the order, in nats a word; below 0 the order fits better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rival: Option<f32>,
    /// What was heard when it is taken for everyday talk.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub talk: Option<String>,
    /// What was heard as free speech, where that fits nearly as well: readings with their shares, best first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub free: Vec<(String, f32)>,
    /// It was no order of the strict network: `text` is the first of `free`, and `rival` is set against that.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub loosely: bool,
    /// Typed, not spoken: surely meant for the program.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub typed: bool,
    /// Heard while the program itself was sounding.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub over: bool,
    /// It goes on from talk, without a pause for breath.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub follows_talk: bool,
    /// The kitchen was nearly as loud as whatever was heard.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub in_noise: bool,
    /// In that noise no voice could be told.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub voiceless: bool,
}

impl Heard {
    /// Spoken words and how sure they are, 0 to 1.
    pub fn spoken(text: impl Into<String>, confidence: f32) -> Self {
        Self {
            text: text.into(),
            confidence,
            others: Vec::new(),
            rival: None,
            talk: None,
            free: Vec::new(),
            loosely: false,
            typed: false,
            over: false,
            follows_talk: false,
            in_noise: false,
            voiceless: false,
        }
    }

    /// A line typed by the cook.
    pub fn typed(text: impl Into<String>) -> Self {
        Self {
            typed: true,
            ..Self::spoken(text, 1.0)
        }
    }
}

/// Devices whose coming and going the cook is told of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Device {
    /// The microphone.
    Microphone,
    /// The loudspeaker.
    Loudspeaker,
    /// The voice (speech synthesis).
    Voice,
    /// The speech model.
    Model,
    /// The numeric keypad.
    Keypad,
    /// The journal's folder.
    Journal,
    /// The scale.
    Scale,
}
