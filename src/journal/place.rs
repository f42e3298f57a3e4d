//! Where the journal lives: `commis` under the XDG state folder, for the cook's eyes only.

use std::ffi::OsString;
use std::fs::DirBuilder;
use std::os::unix::fs::DirBuilderExt;
use std::path::{Path, PathBuf};

use super::error::JournalError;

/// The folder for journals and the bake log: `$XDG_STATE_HOME/commis`, or `~/.local/state/commis`.
pub fn state_folder() -> Result<PathBuf, JournalError> {
    state_folder_of(std::env::var_os("XDG_STATE_HOME"), std::env::var_os("HOME"))
}

/// The same from given values. As the XDG Base Directory Specification (0.8) wants, a path that is empty or not
/// absolute counts as not set.
pub fn state_folder_of(
    state_home: Option<OsString>,
    home: Option<OsString>,
) -> Result<PathBuf, JournalError> {
    let absolute = |value: Option<OsString>| value.map(PathBuf::from).filter(|p| p.is_absolute());
    absolute(state_home)
        .or_else(|| absolute(home).map(|home| home.join(".local/state")))
        .map(|base| base.join("commis"))
        .ok_or(JournalError::NoHome)
}

/// Makes the folder, for its owner's eyes only. One that is there may be shared by others, and is left as it is: each
/// file in it is the owner's alone.
///
/// # Errors
/// When it cannot be made.
pub fn make_private(folder: &Path) -> Result<(), JournalError> {
    DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(folder)
        .map_err(|e| JournalError::from_io(folder, e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn follows_the_specification() {
        let of = |state: Option<&str>, home: Option<&str>| {
            state_folder_of(state.map(Into::into), home.map(Into::into))
        };
        assert_eq!(
            of(Some("/var/me"), Some("/home/me")).unwrap(),
            Path::new("/var/me/commis")
        );
        for unset in [None, Some(""), Some("not/absolute")] {
            assert_eq!(
                of(unset, Some("/home/me")).unwrap(),
                Path::new("/home/me/.local/state/commis")
            );
            assert!(matches!(of(unset, Some("")), Err(JournalError::NoHome)));
            assert!(matches!(of(unset, None), Err(JournalError::NoHome)));
        }
    }
}
