//! The settings file: where it lies, how it is written first, and how it is written back.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::io::Write;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};

use toml_edit::{DocumentMut, Item, Table, Value};

use super::error::{SettingFault, SettingsError};
use super::read::key_word;
use super::{FIRST, Settings};
use crate::bench::{Key, VoiceSettings};
use crate::outside;

/// The largest settings file that is read, in bytes.
const LARGEST: u64 = 256 << 10;
/// The mode of a settings file, whatever the umask: nobody else's business. One that is there keeps its own.
const MODE: u32 = 0o600;

/// The settings file: `$XDG_CONFIG_HOME/commis/settings.toml`, or `~/.config/commis/settings.toml`.
///
/// # Errors
/// When neither the folder nor a home is known.
pub fn settings_path() -> Result<PathBuf, SettingsError> {
    settings_path_of(
        std::env::var_os("XDG_CONFIG_HOME"),
        std::env::var_os("HOME"),
    )
}

/// The same from given values. As the XDG Base Directory Specification (0.8) wants, a path that is empty or not
/// absolute counts as not set.
///
/// # Errors
/// When both count as not set.
pub fn settings_path_of(
    config_home: Option<OsString>,
    home: Option<OsString>,
) -> Result<PathBuf, SettingsError> {
    let absolute = |value: Option<OsString>| value.map(PathBuf::from).filter(|p| p.is_absolute());
    absolute(config_home)
        .or_else(|| absolute(home).map(|home| home.join(".config")))
        .map(|base| base.join("commis/settings.toml"))
        .ok_or(SettingsError::NoFolder)
}

impl Settings {
    /// Reads the settings from a file that is there.
    ///
    /// # Errors
    /// When the file cannot be read, or something in it is wrong.
    pub fn read(path: &Path) -> Result<Self, SettingsError> {
        Self::parse(&text_of(path)?, path)
    }

    /// Writes the file of the first run, unless there is one already; tells whether it did.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn write_first(path: &Path) -> Result<bool, SettingsError> {
        if path.exists() {
            return Ok(false);
        }
        write(path, FIRST).map(|()| true)
    }
}

/// What a session changes in the settings file; everything else in it stays as it is, remarks included.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Remember {
    /// How the voice speaks.
    pub voice: Option<VoiceSettings>,
    /// Few words or many.
    pub brief: Option<bool>,
    /// The keypad by its id.
    pub keypad: Option<String>,
    /// What was learnt of it: takes the place of what was known.
    pub key_map: Option<BTreeMap<u16, Key>>,
}

impl Remember {
    /// Writes what is to be remembered into the file.
    ///
    /// # Errors
    /// When the file cannot be read or written, or is no TOML.
    pub fn write(&self, path: &Path) -> Result<(), SettingsError> {
        let old = if path.exists() {
            text_of(path)?
        } else {
            FIRST.to_owned()
        };
        let new = self.change(&old).map_err(|fault| SettingsError::Fault {
            path: path.to_owned(),
            line: 1,
            fault,
        })?;
        if new == old && path.exists() {
            return Ok(());
        }
        write(path, &new)
    }

    /// The text of the file with the changes in it.
    pub(super) fn change(&self, text: &str) -> Result<String, SettingFault> {
        let mut document: DocumentMut = text
            .parse()
            .map_err(|e: toml_edit::TomlError| SettingFault::Syntax(e.message().to_lowercase()))?;
        let root = document.as_table_mut();
        if let Some(voice) = self.voice {
            let table = inner(root, "voice")?;
            put(table, "rate", i64::from(voice.rate).into());
            put(table, "pitch", i64::from(voice.pitch).into());
            put(table, "volume", i64::from(voice.volume).into());
        }
        if let Some(brief) = self.brief {
            put(
                root,
                "verbosity",
                if brief { "brief" } else { "full" }.into(),
            );
        }
        if let Some(id) = &self.keypad {
            put(inner(root, "keypad")?, "id", id.as_str().into());
        }
        if let Some(map) = &self.key_map {
            let table = inner(inner(root, "keypad")?, "map")?;
            let gone: Vec<String> = table
                .iter()
                .map(|(k, _)| k.to_owned())
                .filter(|k| k.parse().is_ok_and(|code: u16| !map.contains_key(&code)))
                .collect();
            for code in gone {
                table.remove(&code);
            }
            for (code, key) in map {
                put(table, &code.to_string(), key_word(*key).into());
            }
        }
        Ok(document.to_string())
    }
}

fn text_of(path: &Path) -> Result<String, SettingsError> {
    outside::read_text(path, LARGEST).map_err(|source| SettingsError::Read {
        path: path.to_owned(),
        source,
    })
}

/// The table of this name, made when it is not there.
fn inner<'a>(table: &'a mut Table, name: &str) -> Result<&'a mut Table, SettingFault> {
    let item = table
        .entry(name)
        .or_insert_with(|| Item::Table(Table::new()));
    // `voice = { rate = 1 }` is the same table in another dress.
    if let Some(inline) = item.as_inline_table() {
        *item = Item::Table(inline.clone().into_table());
    }
    let found = item.type_name().to_owned();
    item.as_table_mut().ok_or_else(|| SettingFault::Value {
        setting: name.to_owned(),
        expected: "a table".to_owned(),
        found,
    })
}

/// Changes a value where it stands, with its remarks, or adds it.
fn put(table: &mut Table, name: &str, mut value: Value) {
    match table.get_mut(name).and_then(Item::as_value_mut) {
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            table.insert(name, Item::Value(value));
        }
    }
}

/// Writes the file in one piece: a power cut leaves the old one or the new one.
fn write(path: &Path, text: &str) -> Result<(), SettingsError> {
    let attempt = || -> std::io::Result<()> {
        // Through a link to where the file really is: some keep their settings elsewhere.
        let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        if let Some(folder) = target.parent() {
            fs::DirBuilder::new()
                .recursive(true)
                .mode(0o700)
                .create(folder)?;
        }
        let fresh = target.with_extension(format!("toml.{}", std::process::id()));
        let mode = fs::metadata(&target).map_or(MODE, |m| m.permissions().mode() & 0o7777);
        let _ = fs::remove_file(&fresh);
        let mut file = fs::OpenOptions::new()
            .write(true)
            .create_new(true)
            .mode(MODE)
            .open(&fresh)?;
        let written = file
            .write_all(text.as_bytes())
            .and_then(|()| file.set_permissions(fs::Permissions::from_mode(mode)))
            .and_then(|()| file.sync_all())
            .and_then(|()| fs::rename(&fresh, &target));
        if written.is_err() {
            let _ = fs::remove_file(&fresh);
        }
        written
    };
    attempt().map_err(|source| SettingsError::Write {
        path: path.to_owned(),
        source,
    })
}
