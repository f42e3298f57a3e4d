//! The journal that is being written.

use std::fs::{File, Metadata, OpenOptions, TryLockError};
use std::io::{Read, Seek, SeekFrom, Write};
use std::os::unix::fs::{MetadataExt, OpenOptionsExt};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::error::JournalError;
use super::header::{Anchor, Header};
use super::line;
use super::place::make_private;
use crate::bench::{Bench, Effect, Event, Heard, Taken};
use crate::time::Moment;

/// An event with its session time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// When it reached the bench.
    pub at: Moment,
    /// What happened.
    pub event: Event,
    /// What it was taken to mean; nothing in a journal of the first format.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<Taken>,
}

impl Entry {
    /// Tells a bench of it again: what it was taken to mean then or, in a journal of the first format, what it means now.
    pub fn replay(&self, bench: &mut Bench) -> Vec<Effect> {
        match &self.taken {
            Some(taken) => bench.apply(&self.event, taken, self.at),
            None => bench.handle(&self.event, self.at),
        }
    }

    /// Nothing but time, which brought something.
    pub fn tick(at: Moment) -> Self {
        Self {
            at,
            event: Event::Tick,
            taken: Some(Taken::AsItIs),
        }
    }

    /// What is to be kept on disk of an event; nothing of talk that was ignored, and no words of what was not understood.
    pub fn kept(event: &Event, taken: &Taken, at: Moment) -> Option<Self> {
        if taken.passes(event) {
            return None;
        }
        let mut event = event.clone();
        if let Event::Heard(heard) = &mut event {
            // What else it may have been, and how talk would have fitted, has been weighed.
            let text = match taken {
                Taken::NotUnderstood { .. } => String::new(),
                _ => std::mem::take(&mut heard.text),
            };
            *heard = Heard::spoken(text, heard.confidence);
        }
        Some(Self {
            at,
            event,
            taken: Some(taken.clone()),
        })
    }
}

/// Any line of a journal.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Record {
    pub n: u64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub head: Option<Header>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// Read by itself, so that one event of another version is not the end of all that follow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub event: Option<Value>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<Value>,
    /// A line that made the program stumble, and is left out from now on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aside: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub anchor: Option<Anchor>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<End>,
}

impl Record {
    pub(super) fn of(entry: &Entry) -> Self {
        Self {
            at: Some(entry.at),
            event: serde_json::to_value(&entry.event).ok(),
            taken: entry
                .taken
                .as_ref()
                .and_then(|t| serde_json::to_value(t).ok()),
            ..Self::default()
        }
    }
}

/// The end of a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct End {
    pub at: Moment,
}

/// A journal open for writing, locked against every other session.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    /// Length of the file up to the last line that is safely on disk.
    safe: u64,
    /// The number of the next line.
    next: u64,
    /// Whole lines that the disk has refused so far.
    waiting: String,
    /// The file may end in part of a line.
    torn: bool,
}

impl Journal {
    /// Begins the journal of a session in `folder`, which is made if need be.
    pub fn create(folder: &Path, header: &Header) -> Result<Self, JournalError> {
        make_private(folder)?;
        let stem = file_stem(header.wall.unix_ms);
        let mut number = 0;
        let (file, path) = loop {
            let name = if number == 0 {
                format!("{stem}.journal")
            } else {
                format!("{stem}-{number}.journal")
            };
            let path = folder.join(name);
            let made = OpenOptions::new()
                .create_new(true)
                .read(true)
                .append(true)
                .mode(0o600)
                .open(&path);
            match made {
                Ok(file) => break (file, path),
                Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => number += 1,
                Err(e) => return Err(JournalError::from_io(&path, e)),
            }
        };
        lock(&file, &path, SESSION_LOOKS)?;
        let mut journal = Self::from_parts(file, path, 0, 0);
        // Twice: a bit that flips in it must not lose the timers.
        let mut written = Ok(());
        for _ in 0..2 {
            written = written.and_then(|()| {
                journal.put(Record {
                    head: Some(header.clone()),
                    ..Record::default()
                })
            });
        }
        if let Err(e) = written {
            // A journal without its first line helps nobody.
            let _ = std::fs::remove_file(&journal.path);
            return Err(e);
        }
        // The name must outlive a power cut as well.
        File::open(folder)
            .and_then(|folder| folder.sync_all())
            .map_err(|e| JournalError::from_io(folder, e))?;
        Ok(journal)
    }

    pub(super) fn from_parts(file: File, path: PathBuf, safe: u64, next: u64) -> Self {
        Self {
            file,
            path,
            safe,
            next,
            waiting: String::new(),
            torn: false,
        }
    }

    /// Writes one entry. When this returns `Ok`, the entry and all before it are on the disk.
    ///
    /// # Errors
    /// The entry is then kept in memory and written before the next one: say the error once and go on.
    pub fn append(&mut self, entry: &Entry) -> Result<(), JournalError> {
        self.put(Record::of(entry))
    }

    /// Writes down that a line is to be left out from now on.
    ///
    /// # Errors
    /// As [`Journal::append`].
    pub fn set_aside(&mut self, line: u64) -> Result<(), JournalError> {
        self.put(Record {
            aside: Some(line),
            ..Record::default()
        })
    }

    /// Writes what the disk refused before; nothing happens where it owes nothing.
    ///
    /// # Errors
    /// As [`Journal::append`].
    pub fn try_again(&mut self) -> Result<(), JournalError> {
        if self.waiting.is_empty() {
            return Ok(());
        }
        self.flush()
            .map_err(|e| JournalError::from_io(&self.path, e))
    }

    /// The file is still the one that is being written.
    pub fn is_there(&self) -> bool {
        is_named(&self.file, &self.path)
    }

    /// The file was deleted: writes it again under its name, all that was in it included.
    ///
    /// # Errors
    /// Where that cannot be done; what follows is still written to the file without a name.
    pub fn write_again(&mut self) -> Result<(), JournalError> {
        let fail = |e| JournalError::from_io(&self.path, e);
        if let Some(folder) = self.path.parent() {
            make_private(folder)?;
        }
        let mut was = Vec::new();
        self.file.seek(SeekFrom::Start(0)).map_err(fail)?;
        self.file.read_to_end(&mut was).map_err(fail)?;
        let mut file = OpenOptions::new()
            .create_new(true)
            .read(true)
            .append(true)
            .mode(0o600)
            .open(&self.path)
            .map_err(fail)?;
        lock(&file, &self.path, SESSION_LOOKS)?;
        was.truncate(self.safe as usize);
        let written = file.write_all(&was).and_then(|()| file.sync_all());
        if let Err(e) = written {
            let _ = std::fs::remove_file(&self.path);
            return Err(fail(e));
        }
        self.file = file;
        Ok(())
    }

    /// Writes down that the session goes on by other clocks.
    pub(super) fn anchor(&mut self, anchor: Anchor) -> Result<(), JournalError> {
        self.put(Record {
            anchor: Some(anchor),
            ..Record::default()
        })
    }

    /// Writes down that the session ended properly: it will not be offered again.
    pub fn finish(mut self, at: Moment) -> Result<(), JournalError> {
        self.put(Record {
            end: Some(End { at }),
            ..Record::default()
        })
    }

    #[cfg(test)]
    pub(super) fn swap_file(&mut self, file: File) {
        self.file = file;
    }

    /// How many lines the disk has refused and still owes.
    pub fn waiting(&self) -> usize {
        self.waiting.bytes().filter(|b| *b == b'\n').count()
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Cuts off what stands after the last good line, if anything does; tried again before the next line if it fails.
    pub(super) fn cut(&mut self, too_long: bool) -> Result<(), JournalError> {
        self.torn = too_long;
        if too_long {
            self.flush()
                .map_err(|e| JournalError::from_io(&self.path, e))?;
        }
        Ok(())
    }

    fn put(&mut self, mut record: Record) -> Result<(), JournalError> {
        record.n = self.next;
        let line = line::encode(&record)
            .map_err(|e| JournalError::from_io(&self.path, std::io::Error::other(e)))?;
        self.waiting.push_str(&line);
        self.next += 1;
        self.flush()
            .map_err(|e| JournalError::from_io(&self.path, e))
    }

    /// Takes off what stands after the last good line.
    fn cut_back(&mut self) -> std::io::Result<()> {
        if self.file.metadata()?.len() > self.safe {
            self.file.set_len(self.safe)?;
        }
        self.torn = false;
        Ok(())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        if self.torn {
            self.cut_back()?;
        }
        let written = self
            .file
            .write_all(self.waiting.as_bytes())
            .and_then(|()| self.file.sync_data());
        if let Err(e) = written {
            self.torn = true;
            let _ = self.cut_back();
            return Err(e);
        }
        self.safe += self.waiting.len() as u64;
        self.waiting.clear();
        Ok(())
    }
}

/// The file that has this name is this one.
pub(super) fn is_named(file: &File, path: &Path) -> bool {
    let same = |a: &Metadata, b: &Metadata| (a.dev(), a.ino()) == (b.dev(), b.ino());
    match (std::fs::metadata(path), file.metadata()) {
        (Ok(named), Ok(open)) => same(&named, &open),
        _ => false,
    }
}

/// How often a session tries for its journal: a look at the folder by another one holds it for an instant.
pub(super) const SESSION_LOOKS: u32 = 5;

/// Takes the lock within so many looks, 20 ms apart, or says who has it.
pub(super) fn lock(file: &File, path: &Path, looks: u32) -> Result<(), JournalError> {
    for _ in 0..looks {
        match file.try_lock() {
            Ok(()) => return Ok(()),
            Err(TryLockError::WouldBlock) => {
                std::thread::sleep(std::time::Duration::from_millis(20));
            }
            Err(TryLockError::Error(e)) => return Err(JournalError::from_io(path, e)),
        }
    }
    Err(JournalError::Busy {
        path: path.to_path_buf(),
    })
}

/// `2026-11-25T15-04-05Z`: sorts by time, and is a file name anywhere.
fn file_stem(unix_ms: i64) -> String {
    chrono::DateTime::from_timestamp_millis(unix_ms).map_or_else(
        || "session".to_owned(),
        |t| t.format("%Y-%m-%dT%H-%M-%SZ").to_string(),
    )
}
