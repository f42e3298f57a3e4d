//! The cook's settings, for the commands that act on them.

use std::path::{Path, PathBuf};

use super::output::{complain, remark};
use super::trouble::Trouble;
use crate::settings::{Settings, SettingsError, settings_path};

/// The settings, and where they stand.
pub(super) struct Chosen {
    pub(super) settings: Settings,
    /// The file; none when there is no folder for it, or it cannot be used.
    pub(super) path: Option<PathBuf>,
    /// This is the first run: the file was written just now.
    pub(super) first: bool,
}

impl Chosen {
    /// The settings of `file`, or those of the usual place, where the file is written when it is not there. What stands
    /// in the way of that is told, and the settings are then as on the first run; a fault in the file stops.
    pub(super) fn load(file: Option<&Path>) -> Result<Self, Trouble> {
        if let Some(file) = file {
            return Self::read(file, false).map_err(Trouble::input);
        }
        let read = settings_path().and_then(|path| {
            let first = Settings::write_first(&path)?;
            Self::read(&path, first)
        });
        match read {
            Ok(chosen) => {
                if let (true, Some(path)) = (chosen.first, &chosen.path) {
                    remark(&format_args!(
                        "I have written your settings to {}: change them there.",
                        path.display()
                    ));
                }
                Ok(chosen)
            }
            Err(e @ SettingsError::Fault { .. }) => Err(Trouble::input(e)),
            Err(e) => {
                complain(&format_args!("{e}; I go on with the usual settings"));
                Ok(Self {
                    settings: Settings::default(),
                    path: None,
                    first: false,
                })
            }
        }
    }

    fn read(path: &Path, first: bool) -> Result<Self, SettingsError> {
        Ok(Self {
            settings: Settings::read(path)?,
            path: Some(path.to_owned()),
            first,
        })
    }
}

impl Settings {
    /// Before sound is used: the devices that are named can be opened.
    pub(super) fn route_sound(&self) {
        #[cfg(feature = "sound")]
        crate::devices::route(self.microphone.as_deref(), self.loudspeaker.as_deref());
    }

    /// Folder of the speech model: the one that is set, or the shipped one.
    pub(super) fn model_folder(&self) -> PathBuf {
        let shipped = || super::place::shipped("models/en-kitchen");
        self.model.clone().unwrap_or_else(shipped)
    }

    /// What is wanted of the keypad.
    #[cfg(feature = "keypad")]
    pub(super) fn pad(&self) -> crate::keys::PadOptions {
        crate::keys::PadOptions {
            wanted: self.keypad.clone(),
            map: self.key_map.clone(),
            ..crate::keys::PadOptions::default()
        }
    }

    /// What is wanted of the scale.
    pub(super) fn port(&self) -> crate::scale_port::PortOptions {
        crate::scale_port::PortOptions {
            wanted: self.scale.clone(),
            pattern: self.scale_lines.clone(),
            rate: self.scale_rate,
            ..crate::scale_port::PortOptions::default()
        }
    }

    /// Folder of the journals.
    pub(super) fn journal_folder(&self) -> Result<PathBuf, crate::journal::JournalError> {
        self.journal
            .clone()
            .map_or_else(crate::journal::state_folder, Ok)
    }
}
