//! The draft of a formula that is being written: every answer is on the disk before the next question.

use std::fs::{File, OpenOptions};
use std::io::Write as _;
use std::os::unix::fs::{DirBuilderExt as _, OpenOptionsExt as _};
use std::path::{Path, PathBuf};

use rustix::fs::{FlockOperation, flock};

use super::trouble::Trouble;
use crate::outside;
use crate::say::{Sound, to_flac};
use crate::writing::{Answered, Writing};

/// The largest draft that is read, in bytes.
const MOST: u64 = 4 << 20;

/// A draft on the disk: a line for each answer, and the recordings beside it.
pub(super) struct DraftFile {
    folder: PathBuf,
    file: File,
}

impl DraftFile {
    /// The draft of this name in the state folder: its answers so far, and the file for the next ones.
    ///
    /// # Errors
    /// Where there is no room for it, or another dialogue writes in it.
    pub(super) fn open(state: &Path, name: &str) -> Result<(Self, Vec<String>), Trouble> {
        let folder = state.join("drafts").join(name);
        let path = folder.join("answers");
        let fail = |e: std::io::Error| Trouble::failed(format!("{}: {e}", path.display()));
        let mut maker = std::fs::DirBuilder::new();
        maker
            .recursive(true)
            .mode(0o700)
            .create(&folder)
            .map_err(fail)?;
        let mut options = OpenOptions::new();
        options.create(true).append(true).read(true).mode(0o600);
        let file = options.open(&path).map_err(fail)?;
        if flock(&file, FlockOperation::NonBlockingLockExclusive).is_err() {
            return Err(Trouble::input(
                "this formula is being written in another window",
            ));
        }
        let text = outside::read_text(&path, MOST).map_err(fail)?;
        // A line that a power cut tore is no answer.
        let whole = text.rfind('\n').map_or(0, |at| at + 1);
        if whole < text.len() {
            file.set_len(whole as u64).map_err(fail)?;
        }
        let answers = text[..whole].lines().map(str::to_owned).collect();
        Ok((Self { folder, file }, answers))
    }

    /// Puts an answer on the disk.
    pub(super) fn keep(&mut self, answer: &str) -> Result<(), Trouble> {
        let line = format!("{}\n", answer.trim());
        let written = self.file.write_all(line.as_bytes());
        written
            .and_then(|()| self.file.sync_data())
            .map_err(|e| Trouble::failed(format!("I cannot keep this: {e}")))
    }

    /// Keeps a recording beside the answers; its name there.
    pub(super) fn keep_sound(&self, step: usize, sound: &Sound) -> Result<String, Trouble> {
        let bytes = to_flac(sound).map_err(Trouble::input)?;
        let name = self.free_name(step);
        let path = self.folder.join(&name);
        let fail = |e: std::io::Error| Trouble::failed(format!("{}: {e}", path.display()));
        let mut file = File::create(&path).map_err(fail)?;
        file.write_all(&bytes)
            .and_then(|()| file.sync_all())
            .map_err(fail)?;
        Ok(name)
    }

    /// The same of one that lies in a file already, which goes there.
    pub(super) fn take_sound(&self, step: usize, from: &Path) -> Result<String, Trouble> {
        let name = self.free_name(step);
        let path = self.folder.join(&name);
        std::fs::rename(from, &path)
            .map_err(|e| Trouble::failed(format!("{}: {e}", path.display())))?;
        Ok(name)
    }

    fn free_name(&self, step: usize) -> String {
        (1..)
            .map(|n| format!("step-{step}-{n}.flac"))
            .find(|name| !self.folder.join(name).exists())
            .unwrap_or_default()
    }

    /// Where its recordings are.
    pub(super) fn folder(&self) -> &Path {
        &self.folder
    }

    /// The formula is written: the draft has done its work.
    pub(super) fn done(self) {
        // What stays is asked about next time; nothing is lost by that.
        let _ = std::fs::remove_dir_all(&self.folder);
    }

    /// Another formula is begun: the old answers are put aside, beside.
    pub(super) fn put_aside(self) -> Result<(), Trouble> {
        let aside = (1..)
            .map(|n| self.folder.with_extension(format!("{n}.old")))
            .find(|path| !path.exists());
        let moved = aside.map_or(Ok(()), |aside| std::fs::rename(&self.folder, aside));
        moved.map_err(|e| Trouble::failed(format!("{}: {e}", self.folder.display())))
    }
}

/// The dialogue as the answers of a draft tell it, `undo` among them; and how many could not be taken.
pub(super) fn taken_up(answers: &[String]) -> (Writing, usize) {
    let mut writing = Writing::default();
    let lost = answers
        .iter()
        .filter(|answer| matches!(writing.answer(answer), Answered::Not(_)))
        .count();
    (writing, lost)
}
