//! The first line of a journal: what the session is, and which clocks it began by.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::readings::Readings;
use crate::time::{Moment, Wall};

/// The format of journal that this program writes, and the newest that it reads. The first had events alone: its words
/// and keys are understood anew. The second has what they were taken to mean, and its first line twice.
pub const FORMAT: u32 = 2;

/// The first line of a journal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Header {
    /// The format of the file.
    pub format: u32,
    /// The version of the program that wrote it.
    pub program: String,
    /// Where the formula was read from.
    pub formula_path: String,
    /// The whole formula file, so that a session that is taken up again uses the formula as it was.
    pub formula_text: String,
    /// CRC-32 of the text, eight hexadecimal digits: tells at a glance whether the file has changed since.
    pub formula_crc: String,
    /// Which run of the machine this was.
    pub boot_id: String,
    /// The boot clock at session time 0, in milliseconds.
    pub boot_ms: u64,
    /// The wall clock at session time 0.
    pub wall: Wall,
    /// The settings that the bench was made with.
    pub settings: Value,
}

impl Header {
    /// The header of a session that begins now.
    pub fn new(
        formula_path: &str,
        formula_text: &str,
        settings: Value,
        readings: &Readings,
    ) -> Self {
        Self {
            format: FORMAT,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            formula_path: formula_path.to_owned(),
            formula_text: formula_text.to_owned(),
            formula_crc: crc_of(formula_text),
            boot_id: readings.boot_id.clone(),
            boot_ms: readings.boot_ms,
            wall: readings.wall.clone(),
            settings,
        }
    }

    /// Does this text of the formula's file differ from the one that the session used?
    pub fn formula_changed(&self, text_now: &str) -> bool {
        crc_of(text_now) != self.formula_crc
    }

    /// The header as the first place where session time and the clocks were tied together.
    pub fn anchor(&self) -> Anchor {
        Anchor {
            at: Moment(0),
            boot_id: self.boot_id.clone(),
            boot_ms: self.boot_ms,
            wall: self.wall.clone(),
        }
    }
}

fn crc_of(text: &str) -> String {
    format!("{:08x}", crc32fast::hash(text.as_bytes()))
}

/// Where session time and the machine's clocks are tied together. The header is the first; another is written when
/// the session goes on in another run of the machine.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Anchor {
    /// Session time.
    pub at: Moment,
    /// Which run of the machine.
    pub boot_id: String,
    /// Its boot clock at that session time, in milliseconds.
    pub boot_ms: u64,
    /// The wall clock at that session time.
    pub wall: Wall,
}
