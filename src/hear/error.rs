//! What can go wrong with hearing, with the place and what to do.

use std::path::PathBuf;

use thiserror::Error;

/// Why something could not be heard.
#[derive(Debug, Error)]
pub enum HearError {
    /// A file could not be read.
    #[error("{path}: cannot be read: {source}", path = path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A file could not be written.
    #[error("{path}: cannot be written: {source}", path = path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A file is not a WAV file that can be used.
    #[error("{path}: expected a WAV file, found {found}", path = path.display())]
    NotAudio {
        /// The file.
        path: PathBuf,
        /// What was found instead.
        found: String,
    },
    /// A folder is no Vosk model.
    #[error("{path}: expected a Vosk model folder, found {found}", path = path.display())]
    NotAModel {
        /// The folder.
        path: PathBuf,
        /// What was found instead.
        found: String,
    },
    /// The model folder looks right but libvosk would not take it.
    #[error("{path}: libvosk could not load this model", path = path.display())]
    ModelRefused {
        /// The folder.
        path: PathBuf,
    },
    /// A line of `words.txt` is not a word and a number.
    #[error("{path}:{line}: expected a word and its number, found `{found}`", path = path.display())]
    ModelWords {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// The line's text.
        found: String,
    },
    /// Nothing of a network is left once the words that the model lacks are taken out.
    #[error("expected at least one phrase that the model can hear, found none")]
    NothingToHear,
    /// A microphone could not be opened.
    #[error("microphone: {found}")]
    Microphone {
        /// What the sound system said.
        found: String,
    },
    /// Audio could not be brought to 16 kHz.
    #[error("expected a sampling rate from 4000 to 384000 Hz, found {found}")]
    Rate {
        /// The rate.
        found: u32,
    },
    /// The program was built without speech recognition.
    #[error("this build has no speech recognition: build it with the feature `recogniser`")]
    NotBuilt,
}
