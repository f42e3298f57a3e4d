//! The settings: one commented TOML file, written on the first run, read strictly, written back with its comments.

mod error;
mod file;
mod read;

use std::collections::BTreeMap;
use std::path::PathBuf;

pub use error::{SettingFault, SettingsError};
pub use file::{Remember, settings_path, settings_path_of};
pub use read::KEYS;

pub use crate::bench::Attention;
use crate::bench::{English, Key, Options, VoiceSettings};
use crate::measure::Region;
use crate::safety::Law;
use crate::scale::{Calls, Pattern};
use crate::scale_port::Wanted;
use crate::time::ClockTime;

/// The file as it is written on the first run.
pub const FIRST: &str = include_str!("first.toml");

/// Everything that can be set.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Whose cup and spoon a bare `cup` is.
    pub region: Region,
    /// Whose words are said and shown, where they are not to be as written.
    pub english: Option<English>,
    /// Whose list of allergens is told, where it is not that of the region.
    pub allergen_law: Option<Law>,
    /// The smallest step that the scale shows, in grams.
    pub scale_step_g: f64,
    /// From a thousand grams on: 'one kilo two fifty'.
    pub kilos: bool,
    /// Say as few words as will do.
    pub brief: bool,
    /// Room temperature in Celsius.
    pub room_c: Option<f64>,
    /// What is shown.
    pub screen: ScreenKind,
    /// Letters that a plain line has at most; nought breaks none.
    pub plain_line: usize,
    /// Dark letters on a light ground, not light on dark.
    pub light: bool,
    /// Folder of the journals, when it is not the usual one.
    pub journal: Option<PathBuf>,
    /// Further folders with formulas, beside the book.
    pub books: Vec<PathBuf>,
    /// How many cooks there are.
    pub cooks: u8,
    /// How many ovens.
    pub ovens: u8,
    /// How many rings of the hob.
    pub hobs: u8,
    /// When the cook sleeps: from, and to.
    pub sleep: Option<(ClockTime, ClockTime)>,
    /// Ask at the end how it was.
    pub judgement: bool,
    /// What speaks.
    pub engine: Engine,
    /// Its voice by name, when it is not the engine's own choice.
    pub voice_name: Option<String>,
    /// How it speaks.
    pub voice: VoiceSettings,
    /// Who is spoken to.
    pub attention: Attention,
    /// The name that the program answers to.
    pub name: String,
    /// Folder of the speech model, when it is not the installed one.
    pub model: Option<PathBuf>,
    /// The microphone by name.
    pub microphone: Option<String>,
    /// The loudspeaker by name.
    pub loudspeaker: Option<String>,
    /// Which scale.
    pub scale: Wanted,
    /// Bits a second of a serial line.
    pub scale_rate: u32,
    /// What the lines of a scale look like.
    pub scale_lines: Pattern,
    /// How a weight is called while it is poured.
    pub calls: Calls,
    /// The keypad by its stable id.
    pub keypad: Option<String>,
    /// What was learnt of an odd keypad: code to key.
    pub key_map: BTreeMap<u16, Key>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            region: Region::Metric,
            english: None,
            allergen_law: None,
            scale_step_g: 1.0,
            kilos: false,
            brief: false,
            room_c: None,
            screen: ScreenKind::default(),
            plain_line: 40,
            light: false,
            journal: None,
            books: Vec::new(),
            cooks: 1,
            ovens: 1,
            hobs: 4,
            sleep: None,
            judgement: true,
            engine: Engine::default(),
            voice_name: Some("en-gb".to_owned()),
            voice: VoiceSettings::default(),
            attention: Attention::Name,
            name: "commis".to_owned(),
            model: None,
            microphone: None,
            loudspeaker: None,
            scale: Wanted::Any,
            scale_rate: 9600,
            scale_lines: Pattern::default(),
            calls: Calls::default(),
            keypad: None,
            key_map: BTreeMap::new(),
        }
    }
}

impl Settings {
    /// Whose list of allergens is told.
    pub fn law(&self) -> Law {
        self.allergen_law.unwrap_or(Law::of(self.region))
    }

    /// What the bench acts on.
    pub fn options(&self) -> Options {
        Options {
            region: self.region,
            english: self.english,
            allergen_law: self.allergen_law,
            scale_step_g: self.scale_step_g,
            kilos: self.kilos,
            room_c: self.room_c,
            brief: self.brief,
            calls: self.calls,
            voice: self.voice,
            attention: self.attention,
            name: self.name.clone(),
            judgement: self.judgement,
            cooks: self.cooks,
            ovens: self.ovens,
            hobs: self.hobs,
            sleep: self.sleep,
            ..Options::default()
        }
    }
}

/// What is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ScreenKind {
    /// Large letters.
    #[default]
    Big,
    /// One line after the other.
    Plain,
}

/// What speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Engine {
    /// The voice that comes with the program.
    #[default]
    Natural,
    /// espeak-ng.
    EspeakNg,
    /// The desktop's own voice.
    SpeechDispatcher,
    /// Nothing: for who uses a screen reader. Alarms ring all the same.
    None,
}

#[cfg(test)]
mod tests;
