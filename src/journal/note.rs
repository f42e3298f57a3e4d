//! What was found when a journal was opened again.

use std::path::PathBuf;

use crate::measure::words::{capital, cardinal};

/// Something that the cook, or a log, should be told about a journal that was opened again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Note {
    /// The last line was not wholly written, and was dropped.
    Torn {
        /// How many bytes of it there were.
        bytes: u64,
    },
    /// Lines are damaged. All others were kept.
    Damaged {
        /// The number of the first of them, from 1.
        line: usize,
        /// What stood there.
        found: &'static str,
        /// How many there are.
        lost: usize,
        /// The copy of the file as it was found, unless it could not be made.
        copy: Option<PathBuf>,
    },
    /// Things of another version of the program that this one does not know: the words, or the order's name.
    Unknown {
        /// Each as it stood there.
        what: Vec<String>,
    },
    /// The machine was restarted: time went on by the wall clock.
    OtherBoot,
    /// The machine was restarted and its wall clock now stands earlier than when the session stopped, so no time was
    /// counted.
    WallWentBack {
        /// By how many milliseconds.
        by_ms: u64,
    },
}

impl Note {
    /// The note as a person at the bench would say it.
    pub fn spoken(&self) -> String {
        match self {
            Self::Torn { .. } => {
                "The last thing before the stop was only half written, so I left it out.".to_owned()
            }
            Self::Damaged { copy, lost, .. } => {
                let kept = if copy.is_some() {
                    " I kept a copy of the damaged file."
                } else {
                    ""
                };
                let what = match lost {
                    1 => "A line of my notes is damaged, so there is one thing that you did that I don't know"
                        .to_owned(),
                    n => format!(
                        "{} lines of my notes are damaged, so there are things that you did that I don't know",
                        capital(&cardinal(*n as u64))
                    ),
                };
                format!("{what}: check the timers and where you are.{kept}")
            }
            Self::Unknown { what } => {
                let named = what.iter().take(3).cloned().collect::<Vec<_>>().join("; ");
                let more = match what.len().saturating_sub(3) {
                    0 => "",
                    _ => ", and more",
                };
                format!(
                    "My notes are from another version of me, and I do not know this any more: {named}{more}. Check where \
                     you are."
                )
            }
            Self::OtherBoot => {
                "The machine was restarted, so I went by the clock on the wall.".to_owned()
            }
            Self::WallWentBack { .. } => {
                "The machine was restarted and its clock stands earlier than before, so I don't know how long I was \
                 away: check the timers."
                    .to_owned()
            }
        }
    }
}
