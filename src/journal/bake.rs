//! What the bake log holds, one line each: what ended on a look, what was weighed, a dish that was left, a word about it, a
//! note, and a session that is to be forgotten.

use serde::{Deserialize, Serialize};

use crate::bench::Account;
use crate::time::Span;

/// One rise, or whatever else ended on a look.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rise {
    /// The formula's name.
    pub formula: String,
    /// The timer's name in the formula.
    pub timer: String,
    /// How long it takes as the formula is written.
    pub planned: Span,
    /// How long it really took.
    pub took: Span,
    /// The room in Celsius, where it is known and a dough rose in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_c: Option<f64>,
    /// Today's size in words; empty as written.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// It is far from what is written, and the cook said that it counts.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub asked: bool,
    /// When the session began, in Unix milliseconds: the rises of one bake have it in common.
    pub began_ms: i64,
    /// When the cook said that it was done, in Unix milliseconds.
    pub at_ms: i64,
    /// The offset of the wall clock from UTC then, in seconds, east positive.
    pub offset_s: i32,
}

/// What really went in of an ingredient, as the scale showed it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WentIn {
    /// The formula's name.
    pub formula: String,
    /// The ingredient's name.
    pub ingredient: String,
    /// What was wanted, in grams.
    pub wanted_g: f64,
    /// What the scale showed, in grams.
    pub really_g: f64,
    /// Today's size in words; empty as written.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// When the session began, in Unix milliseconds.
    pub began_ms: i64,
    /// When it was weighed, in Unix milliseconds.
    pub at_ms: i64,
    /// The offset of the wall clock from UTC then, in seconds, east positive.
    pub offset_s: i32,
}

/// A session with a dish, as it was when the cook left.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Bake {
    /// What became of it.
    #[serde(flatten)]
    pub account: Account,
    /// When the session began, in Unix milliseconds.
    pub began_ms: i64,
    /// When the cook left, in Unix milliseconds.
    pub at_ms: i64,
    /// The offset of the wall clock from UTC then, in seconds, east positive.
    pub offset_s: i32,
}

/// How it was, by the cook's word.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Word {
    /// The word: `too dry`.
    pub word: String,
    /// The formula's name.
    pub formula: String,
    /// When the session began, in Unix milliseconds.
    pub began_ms: i64,
    /// When it was said, in Unix milliseconds.
    pub at_ms: i64,
}

/// What the cook wants to know the next time.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct CooksNote {
    /// The note; of one that was spoken, what was made of its words.
    pub note: String,
    /// The file of its sound, where it was spoken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recording: Option<String>,
    /// The formula's name.
    pub formula: String,
    /// When the session began, in Unix milliseconds.
    pub began_ms: i64,
    /// When it was said, in Unix milliseconds.
    pub at_ms: i64,
}

/// A session that is to be forgotten: nothing of it counts, or is shown, from now on.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Forgotten {
    /// When the session began, in Unix milliseconds.
    pub forget_ms: i64,
}

/// Any line of the log.
pub(super) enum Line {
    Rise(Rise),
    WentIn(WentIn),
    Bake(Bake),
    Word(Word),
    Note(CooksNote),
    Forgotten(Forgotten),
}

impl Line {
    /// A line by its first name, which tells its kind.
    pub(super) fn read(line: &[u8]) -> Option<Self> {
        use super::line::decode;
        let body = line.get(BEFORE..)?;
        let begins = |name: &str| {
            body.strip_prefix(b"\"")
                .and_then(|body| body.strip_prefix(name.as_bytes()))
                .is_some_and(|rest| rest.starts_with(b"\":"))
        };
        if begins("bake") {
            decode(line).ok().map(Self::Bake)
        } else if begins("word") {
            decode(line).ok().map(Self::Word)
        } else if begins("note") {
            decode(line).ok().map(Self::Note)
        } else if begins("forget_ms") {
            decode(line).ok().map(Self::Forgotten)
        } else {
            match decode(line) {
                Ok(rise) => Some(Self::Rise(rise)),
                Err(_) => decode(line).ok().map(Self::WentIn),
            }
        }
    }

    /// Its names, none of which may steer a terminal.
    pub(super) fn names(&self) -> Vec<&str> {
        match self {
            Self::Rise(r) => vec![&r.formula, &r.timer, &r.scale],
            Self::WentIn(w) => vec![&w.formula, &w.ingredient, &w.scale],
            Self::Word(w) => vec![&w.formula, &w.word],
            Self::Note(n) => [Some(&n.formula), Some(&n.note), n.recording.as_ref()]
                .into_iter()
                .flatten()
                .map(String::as_str)
                .collect(),
            Self::Forgotten(_) => Vec::new(),
            Self::Bake(Bake { account, .. }) => {
                let steps = account.steps.iter().map(|s| &s.title);
                let put_in = account.went_in.iter().map(|p| &p.name);
                let swaps = account.swaps.iter().flat_map(|(from, to)| [from, to]);
                [&account.bake, &account.scale]
                    .into_iter()
                    .chain(steps)
                    .chain(put_in)
                    .chain(swaps)
                    .chain(&account.skipped)
                    .map(String::as_str)
                    .collect()
            }
        }
    }
}

/// `{"crc":"........",` stands before the body.
const BEFORE: usize = 18;
