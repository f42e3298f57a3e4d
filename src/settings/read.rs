//! Reading the settings, strictly: every fault has its line, and an unknown name the nearest that there is.

use std::path::{Path, PathBuf};

use toml_edit::{Document, Item, Table, Value};

use super::error::{SettingFault, SettingsError};
use super::{Attention, Engine, ScreenKind, Settings};
use crate::bench::{English, Key};
use crate::clean;
use crate::measure::Region;
use crate::safety::Law;
use crate::scale::{Calls, Pattern};
use crate::scale_port::Wanted;
use crate::time::{ClockTime, HalfDay};

/// Every setting by its full name.
pub const KEYS: &[&str] = &[
    "region",
    "words",
    "allergens",
    "scale_step",
    "large_masses",
    "verbosity",
    "room",
    "screen",
    "plain_line",
    "theme",
    "journal",
    "books",
    "kitchen.cooks",
    "kitchen.ovens",
    "kitchen.hobs",
    "kitchen.sleep",
    "kitchen.judgement",
    "voice.engine",
    "voice.name",
    "voice.rate",
    "voice.pitch",
    "voice.volume",
    "listening.attention",
    "listening.name",
    "listening.model",
    "listening.microphone",
    "loudspeaker.name",
    "keypad.id",
    "scale.device",
    "scale.baud",
    "scale.lines",
    "scale.calls",
];

const TABLES: &[&str] = &[
    "kitchen",
    "voice",
    "listening",
    "loudspeaker",
    "scale",
    "keypad",
    "keypad.map",
];
const MAP: &str = "keypad.map.";

/// A key's word in the settings.
pub(super) fn key_word(key: Key) -> String {
    match key {
        Key::Digit(d) => d.to_string(),
        Key::Enter => "enter".to_owned(),
        Key::Plus => "plus".to_owned(),
        Key::Minus => "minus".to_owned(),
        Key::Times => "times".to_owned(),
        Key::Divide => "divide".to_owned(),
        Key::Dot => "dot".to_owned(),
        Key::Backspace => "backspace".to_owned(),
    }
}

fn key_of(word: &str) -> Option<Key> {
    Key::all().find(|k| key_word(*k) == word)
}

/// One setting as it stands in the file.
struct Entry<'a> {
    name: String,
    value: &'a Item,
    at: usize,
}

/// All settings of a table and the tables in it.
fn flatten<'a>(table: &'a Table, before: &str, out: &mut Vec<Entry<'a>>) {
    for (name, value) in table {
        let full = format!("{before}{name}");
        let at = table
            .key(name)
            .and_then(toml_edit::Key::span)
            .or_else(|| value.span())
            .map_or(0, |s| s.start);
        match value {
            Item::Table(inner) if TABLES.contains(&full.as_str()) => {
                flatten(inner, &format!("{full}."), out);
            }
            Item::Value(Value::InlineTable(inner)) if TABLES.contains(&full.as_str()) => {
                for (name, _) in inner {
                    if let Some(value) = value.get(name) {
                        let at = inner
                            .key(name)
                            .and_then(toml_edit::Key::span)
                            .map_or(at, |s| s.start);
                        out.push(Entry {
                            name: format!("{full}.{name}"),
                            value,
                            at,
                        });
                    }
                }
            }
            _ => out.push(Entry {
                name: full,
                value,
                at,
            }),
        }
    }
}

/// What a value looks like in a message.
fn shown(value: &Item) -> String {
    match value {
        Item::Value(v) => {
            let text = v.as_str().map_or_else(|| v.to_string(), str::to_owned);
            text.trim().to_owned()
        }
        Item::Table(_) | Item::ArrayOfTables(_) => "a table".to_owned(),
        Item::None => String::new(),
    }
}

impl Entry<'_> {
    fn bad(&self, expected: &str) -> SettingFault {
        SettingFault::Value {
            setting: self.name.clone(),
            expected: expected.to_owned(),
            found: shown(self.value),
        }
    }

    fn text(&self) -> Result<String, SettingFault> {
        self.value
            .as_str()
            .map(str::to_owned)
            .ok_or_else(|| self.bad("text in quotation marks"))
    }

    fn text_or_none(&self) -> Result<Option<String>, SettingFault> {
        self.text().map(|t| (!t.is_empty()).then_some(t))
    }

    fn folder(&self) -> Result<Option<PathBuf>, SettingFault> {
        Ok(self.text_or_none()?.map(PathBuf::from))
    }

    /// Folders by their whole paths.
    fn folders(&self) -> Result<Vec<PathBuf>, SettingFault> {
        let bad = || self.bad("a list of whole paths such as `[\"/home/you/recipes\"]`");
        let all = self.value.as_array().ok_or_else(bad)?;
        let folder = |value: &Value| {
            value
                .as_str()
                .map(PathBuf::from)
                .filter(|p| p.is_absolute())
        };
        all.iter()
            .map(|value| folder(value).ok_or_else(bad))
            .collect()
    }

    fn number(&self, from: f64, to: f64) -> Result<f64, SettingFault> {
        self.value
            .as_float()
            .or_else(|| self.value.as_integer().map(|i| i as f64))
            .filter(|n| (from..=to).contains(n))
            .ok_or_else(|| self.bad(&format!("a number from {from} to {to}")))
    }

    fn step(&self) -> Result<i8, SettingFault> {
        self.value
            .as_integer()
            .and_then(|i| i8::try_from(i).ok())
            .filter(|i| (-5..=5).contains(i))
            .ok_or_else(|| self.bad("a whole number from -5 to 5"))
    }

    fn count(&self, from: u8, to: u8) -> Result<u8, SettingFault> {
        self.value
            .as_integer()
            .and_then(|i| u8::try_from(i).ok())
            .filter(|i| (from..=to).contains(i))
            .ok_or_else(|| self.bad(&format!("a whole number from {from} to {to}")))
    }

    /// Letters of a line: enough for most words, or nought for a line of any length.
    fn line_length(&self) -> Result<usize, SettingFault> {
        self.value
            .as_integer()
            .and_then(|i| usize::try_from(i).ok())
            .filter(|i| *i == 0 || (10..=1000).contains(i))
            .ok_or_else(|| self.bad("a whole number from 10 to 1000, or 0"))
    }

    /// From one time of the day to another; nothing where nothing is said.
    fn hours(&self) -> Result<Option<(ClockTime, ClockTime)>, SettingFault> {
        let text = self.text()?;
        let clock = |text: &str| {
            let (hour, minute) = text.trim().split_once(':')?;
            let (hour, minute) = (hour.parse::<u8>().ok()?, minute.parse::<u8>().ok()?);
            let half = HalfDay::Said;
            (hour < 24 && minute < 60).then_some(ClockTime { hour, minute, half })
        };
        if text.is_empty() {
            return Ok(None);
        }
        let ends = text.split_once('-');
        let read = ends.and_then(|(from, to)| Some((clock(from)?, clock(to)?)));
        read.filter(|(from, to)| from != to)
            .map(Some)
            .ok_or_else(|| self.bad("hours such as `22:30-6:30`"))
    }

    /// One of some words.
    fn word<T: Copy>(&self, words: &[(&str, T)]) -> Result<T, SettingFault> {
        let found = self.value.as_str();
        words
            .iter()
            .find(|(w, _)| Some(*w) == found)
            .map(|(_, it)| *it)
            .ok_or_else(|| {
                let all: Vec<String> = words.iter().map(|(w, _)| format!("`{w}`")).collect();
                self.bad(&all.join(" or "))
            })
    }
}

fn set(settings: &mut Settings, entry: &Entry<'_>) -> Result<(), SettingFault> {
    match entry.name.as_str() {
        "region" => {
            settings.region = entry.word(&Region::ALL.map(|r| (r.symbol(), r)))?;
        }
        "allergens" => {
            settings.allergen_law = entry.word(&[
                ("region", None),
                ("eu", Some(Law::Eu)),
                ("us", Some(Law::Us)),
                ("codex", Some(Law::Codex)),
                ("anz", Some(Law::Anz)),
            ])?;
        }
        "scale_step" => settings.scale_step_g = entry.number(0.01, 100.0)?,
        "large_masses" => settings.kilos = entry.word(&[("grams", false), ("kilos", true)])?,
        "verbosity" => settings.brief = entry.word(&[("full", false), ("brief", true)])?,
        "room" => {
            let room = entry.number(0.0, 50.0)?;
            settings.room_c = (room > 0.0).then_some(room);
        }
        "screen" => {
            settings.screen =
                entry.word(&[("big", ScreenKind::Big), ("plain", ScreenKind::Plain)])?;
        }
        "words" => {
            settings.english = entry.word(&[
                ("written", None),
                ("british", Some(English::British)),
                ("american", Some(English::American)),
            ])?;
        }
        "plain_line" => settings.plain_line = entry.line_length()?,
        "theme" => settings.light = entry.word(&[("dark", false), ("light", true)])?,
        "journal" => settings.journal = entry.folder()?,
        "books" => settings.books = entry.folders()?,
        "kitchen.cooks" => settings.cooks = entry.count(1, 2)?,
        "kitchen.ovens" => settings.ovens = entry.count(1, 2)?,
        "kitchen.hobs" => settings.hobs = entry.count(1, 12)?,
        "kitchen.sleep" => settings.sleep = entry.hours()?,
        "kitchen.judgement" => {
            settings.judgement = entry.word(&[("ask", true), ("off", false)])?;
        }
        "voice.engine" => {
            settings.engine = entry.word(&[
                ("natural", Engine::Natural),
                ("espeak-ng", Engine::EspeakNg),
                ("speech-dispatcher", Engine::SpeechDispatcher),
                ("desktop", Engine::SpeechDispatcher),
                ("none", Engine::None),
            ])?;
        }
        "voice.name" => settings.voice_name = entry.text_or_none()?,
        "voice.rate" => settings.voice.rate = entry.step()?,
        "voice.pitch" => settings.voice.pitch = entry.step()?,
        "voice.volume" => settings.voice.volume = entry.step()?,
        "listening.attention" => {
            settings.attention = entry.word(&[
                ("open", Attention::Open),
                ("name", Attention::Name),
                ("key", Attention::Key),
            ])?;
        }
        "listening.name" => {
            let name = entry.text()?.trim().to_lowercase();
            if name.is_empty() {
                return Err(entry.bad("a name"));
            }
            settings.name = name;
        }
        "listening.model" => settings.model = entry.folder()?,
        "listening.microphone" => settings.microphone = entry.text_or_none()?,
        "loudspeaker.name" => settings.loudspeaker = entry.text_or_none()?,
        "scale.device" => {
            settings.scale = match entry.text()?.as_str() {
                "" => Wanted::Any,
                "off" => Wanted::Off,
                path => Wanted::At(PathBuf::from(path)),
            };
        }
        "scale.baud" => {
            settings.scale_rate = entry.number(300.0, 1_000_000.0)?.round() as u32;
        }
        "scale.lines" => {
            let text = entry.text()?;
            settings.scale_lines = Pattern::read(&text).map_err(|e| SettingFault::Value {
                setting: entry.name.clone(),
                expected: e.expected.to_owned(),
                found: e.found,
            })?;
        }
        "scale.calls" => {
            settings.calls = entry.word(&[
                ("speech", Calls::Speech),
                ("tones", Calls::Tones),
                ("both", Calls::Both),
            ])?;
        }
        "keypad.id" => settings.keypad = entry.text_or_none()?,
        other => match other.strip_prefix(MAP) {
            Some(code) => {
                let code: u16 = code.parse().map_err(|_| SettingFault::Value {
                    setting: "keypad.map".to_owned(),
                    expected: "a code from 0 to 65535".to_owned(),
                    found: code.to_owned(),
                })?;
                let key = entry
                    .value
                    .as_str()
                    .and_then(key_of)
                    .ok_or_else(|| entry.bad("a key such as `enter`, `plus` or `5`"))?;
                settings.key_map.insert(code, key);
            }
            None if TABLES.contains(&other) => return Err(entry.bad("a table")),
            None => return Err(unknown(other)),
        },
    }
    Ok(())
}

/// Other words for settings that someone may write.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("speed", "voice.rate"),
    ("loudness", "voice.volume"),
    ("colour", "theme"),
    ("color", "theme"),
    ("units", "region"),
];

fn unknown(found: &str) -> SettingFault {
    let (table, last) = found.rsplit_once('.').unwrap_or(("", found));
    // Inside a table that there is, only its own settings are near. Elsewhere the last part of a name counts as much
    // as the whole: `rate` outside its table is near `voice.rate`.
    let inside = TABLES.contains(&table).then(|| format!("{table}."));
    let likeness = |key: &str| {
        let key_last = key.rsplit('.').next().unwrap_or(key);
        let by_last = strsim::jaro_winkler(key_last, last) * 0.99;
        strsim::jaro_winkler(key, found).max(by_last)
    };
    let other = OTHER_WORDS
        .iter()
        .find(|(w, _)| *w == last)
        .map(|(_, k)| *k);
    let nearest = other.or_else(|| {
        KEYS.iter()
            .chain(TABLES)
            .copied()
            .filter(|k| inside.as_ref().is_none_or(|t| k.starts_with(t.as_str())))
            .max_by(|a, b| likeness(a).total_cmp(&likeness(b)))
    });
    SettingFault::Unknown {
        found: found.to_owned(),
        nearest: nearest.unwrap_or("keypad.map").to_owned(),
    }
}

impl Settings {
    /// Reads the text of a settings file; what it leaves out is as on the first run.
    ///
    /// # Errors
    /// The first fault, with its line.
    pub fn parse(text: &str, path: &Path) -> Result<Self, SettingsError> {
        let fault = |at: usize, fault| SettingsError::Fault {
            path: path.to_owned(),
            line: 1 + text.bytes().take(at).filter(|b| *b == b'\n').count(),
            fault,
        };
        let document = Document::parse(text).map_err(|e| {
            let message = e
                .message()
                .lines()
                .next()
                .unwrap_or_default()
                .to_lowercase();
            fault(
                e.span().map_or(0, |s| s.start),
                SettingFault::Syntax(message),
            )
        })?;
        if let Some(found) = clean::in_toml(text).first() {
            let line_start = text[..found.at.start].rfind('\n').map_or(0, |at| at + 1);
            let column = text[line_start..found.at.start].chars().count() + 1;
            let character = found.character;
            return Err(fault(
                found.at.start,
                SettingFault::Steering { column, character },
            ));
        }
        let mut entries = Vec::new();
        flatten(document.as_table(), "", &mut entries);
        entries.sort_by_key(|e| e.at);
        let mut settings = Self::default();
        for entry in &entries {
            set(&mut settings, entry).map_err(|f| fault(entry.at, f))?;
        }
        Ok(settings)
    }
}
