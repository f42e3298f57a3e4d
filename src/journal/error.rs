//! What can go wrong with the journal, for the terminal (`Display`) and for the cook's ear (`spoken`).

use std::io;
use std::path::{Path, PathBuf};

/// A failure of the journal. None of them stops the cooking.
#[derive(Debug, thiserror::Error)]
pub enum JournalError {
    /// The disk has no room left.
    #[error("expected room on the disk for `{}`, found none", .path.display())]
    Full {
        /// The file or folder.
        path: PathBuf,
    },
    /// The folder may not be written to.
    #[error("expected a folder that can be written at `{}`, found: {source}", .path.display())]
    ReadOnly {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Another session has the journal.
    #[error("expected a journal that nobody writes, found `{}` in use by another session", .path.display())]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The first line cannot be read, so that nobody can say what the session was.
    #[error("expected a journal's first line in `{}`, found {found}", .path.display())]
    Header {
        /// The file.
        path: PathBuf,
        /// What stood there instead.
        found: String,
    },
    /// The file was written by a newer program.
    #[error("expected a journal of format {known} or older in `{}`, found format {found}", .path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: u32,
        /// The newest format that this program reads.
        known: u32,
    },
    /// The session ended properly: there is nothing to take up.
    #[error("expected an unfinished session in `{}`, found one that ended", .path.display())]
    Ended {
        /// The file.
        path: PathBuf,
    },
    /// Neither `XDG_STATE_HOME` nor `HOME` names a folder.
    #[error("expected a folder in `XDG_STATE_HOME` or `HOME`, found neither")]
    NoHome,
    /// Anything else that the system refused.
    #[error("expected to use `{}`, found: {source}", .path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl JournalError {
    /// Sorts a refusal of the system by what the cook can do about it.
    pub fn from_io(path: &Path, source: io::Error) -> Self {
        let path = path.to_path_buf();
        match source.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full { path },
            io::ErrorKind::ReadOnlyFilesystem | io::ErrorKind::PermissionDenied => {
                Self::ReadOnly { path, source }
            }
            _ => Self::Io { path, source },
        }
    }

    /// The failure as a person at the bench would say it: what it means for the cook first.
    pub fn spoken(&self) -> &'static str {
        match self {
            Self::Full { .. } => {
                "The disk is full, so I can't write this session down. Cooking goes on, but a power cut would make me \
                 forget."
            }
            Self::ReadOnly { .. } => {
                "I may not write where I keep my notes, so I can't write this session down. Cooking goes on, but a \
                 power cut would make me forget."
            }
            Self::Busy { .. } => {
                "Another session is using that journal. Close it first, or start a new one."
            }
            Self::Header { .. } => {
                "I can't read what that session was, so I can't take it up again."
            }
            Self::Newer { .. } => {
                "That session was written by a newer version of me, so I can't take it up again."
            }
            Self::Ended { .. } => "That session has ended already.",
            Self::NoHome => {
                "I have nowhere to keep my notes, so I can't write this session down. Cooking goes on, but a power \
                 cut would make me forget."
            }
            Self::Io { .. } => {
                "I can't write this session down. Cooking goes on, but a power cut would make me forget."
            }
        }
    }
}
