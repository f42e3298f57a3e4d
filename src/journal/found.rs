//! Journals that are there: what they hold, and taking one up again.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{Read, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use super::clock::{Basis, Resumption};
use super::contents::read;
use super::error::JournalError;
use super::file::{Entry, Journal, SESSION_LOOKS, is_named, lock};
use super::header::{Anchor, Header};
use super::note::Note;
use super::readings::Readings;

use crate::time::Moment;

/// The largest file that is taken for a journal, in bytes: months of cooking in one session.
const LARGEST: u64 = 256 << 20;

/// A session that did not end properly.
#[derive(Debug, Clone, PartialEq)]
pub struct Unfinished {
    /// The file.
    pub path: PathBuf,
    /// What can be done with it.
    pub state: UnfinishedState,
}

/// What can be done with an unfinished session.
#[derive(Debug, Clone, PartialEq)]
pub enum UnfinishedState {
    /// It can be taken up.
    Ready {
        /// What it was.
        header: Box<Header>,
        /// Session time of the last entry.
        last: Moment,
    },
    /// Another session is writing it at this moment.
    Busy,
    /// It is a journal, but what the session was cannot be read.
    Unreadable {
        /// What stood there.
        found: String,
    },
    /// A newer version of the program wrote it, and will take it up.
    Newer,
    /// It is no journal, or none that this user may read: a folder, a pipe, somebody else's file. It is left alone.
    Foreign,
}

/// A session that was taken up again.
#[derive(Debug)]
pub struct Reopened {
    /// What it is.
    pub header: Header,
    /// Everything that happened, in order.
    pub entries: Vec<Entry>,
    /// The line of each entry: what [`Journal::set_aside`] names.
    pub lines: Vec<u64>,
    /// What the cook should be told about the file and the clocks.
    pub notes: Vec<Note>,
    /// Why the journal can be read but not written, when that is so. Cooking goes on; say it once.
    pub trouble: Option<JournalError>,
    /// The journal, ready for the next entry.
    pub journal: Journal,
    /// The session clock, its time now and how long the stop was.
    pub resumption: Resumption,
}

impl Journal {
    /// The sessions in `folder` that did not end properly, the newest first. A folder that is not there holds none.
    pub fn unfinished(folder: &Path) -> Result<Vec<Unfinished>, JournalError> {
        let fail = |e| JournalError::from_io(folder, e);
        let names = match fs::read_dir(folder) {
            Ok(names) => names,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(e) => return Err(fail(e)),
        };
        let mut found: Vec<Unfinished> = names
            .filter_map(|name| Some(name.ok()?.path()))
            .filter(|path| path.extension().is_some_and(|e| e == "journal"))
            .filter_map(look_at)
            .collect();
        found.sort_by(|a, b| newness(b).cmp(&newness(a)));
        Ok(found)
    }

    /// Takes a session up again by the machine's clocks.
    pub fn reopen(found: &Unfinished) -> Result<Reopened, JournalError> {
        Self::reopen_at(&found.path, &Readings::now())
    }

    /// Takes the session in `path` up again at given readings of the clocks.
    pub fn reopen_at(path: &Path, readings: &Readings) -> Result<Reopened, JournalError> {
        let fail = |e| JournalError::from_io(path, e);
        // Where the disk may no longer be written, what is there can still be taken up.
        let (mut file, mut trouble) = match OpenOptions::new().read(true).append(true).open(path) {
            Ok(file) => (file, None),
            Err(e) => (
                File::open(path).map_err(fail)?,
                Some(JournalError::from_io(path, e)),
            ),
        };
        lock(&file, path, SESSION_LOOKS)?;
        if !is_named(&file, path) {
            // Another session has just written it anew, and goes on with that.
            return Err(JournalError::Busy {
                path: path.to_path_buf(),
            });
        }
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).map_err(fail)?;
        let read = read(&bytes, path)?;
        if read.end.is_some() {
            return Err(JournalError::Ended {
                path: path.to_path_buf(),
            });
        }

        let mut notes = Vec::new();
        if let Some((line, found, lost)) = read.damage {
            let copy = keep_aside(path, &bytes).ok();
            notes.push(Note::Damaged {
                line,
                found,
                lost,
                copy,
            });
        }
        if read.torn > 0 {
            notes.push(Note::Torn { bytes: read.torn });
        }
        let mut safe = read.safe;
        if let Some(whole) = &read.whole {
            match anew(path, whole) {
                Ok(written) => {
                    file = written;
                    safe = whole.len() as u64;
                }
                // It is read in the same way the next time.
                Err(e) => {
                    trouble.get_or_insert(JournalError::from_io(path, e));
                }
            }
        }
        let too_long = read.torn > 0;

        if !read.unknown.is_empty() {
            notes.push(Note::Unknown { what: read.unknown });
        }
        let last = read.last;
        let resumption = Resumption::new(&read.anchor, last, read.wall_known, readings);
        let mut journal = Self::from_parts(file, path.to_path_buf(), safe, read.lines);
        if let Err(e) = journal.cut(too_long) {
            trouble.get_or_insert(e);
        }
        match resumption.basis {
            Basis::BootClock => {}
            Basis::WallClock => notes.push(Note::OtherBoot),
            Basis::WallWentBack { by_ms } => notes.push(Note::WallWentBack { by_ms }),
        }
        if resumption.basis != Basis::BootClock {
            let written = journal.anchor(Anchor {
                at: resumption.now,
                boot_id: readings.boot_id.clone(),
                boot_ms: readings.boot_ms,
                wall: readings.wall.clone(),
            });
            if let Err(e) = written {
                trouble.get_or_insert(e);
            }
        }
        Ok(Reopened {
            header: read.header,
            entries: read.entries,
            lines: read.entry_lines,
            notes,
            trouble,
            journal,
            resumption,
        })
    }

    /// The cook does not want this session any more: it is marked as ended and not offered again.
    pub fn abandon(found: &Unfinished) -> Result<(), JournalError> {
        if let UnfinishedState::Foreign | UnfinishedState::Newer = found.state {
            return Ok(());
        }
        if let UnfinishedState::Unreadable { .. } = found.state {
            let aside = free_name(&found.path);
            return fs::rename(&found.path, aside)
                .map_err(|e| JournalError::from_io(&found.path, e));
        }
        let reopened = Self::reopen(found)?;
        let at = reopened.resumption.now;
        reopened.journal.finish(at)
    }
}

/// The session in a file, unless it ended or never began.
fn look_at(path: PathBuf) -> Option<Unfinished> {
    let state = state_of(&path)?;
    Some(Unfinished { path, state })
}

fn state_of(path: &Path) -> Option<UnfinishedState> {
    // A pipe would be waited for, a folder cannot be read, and what is so large is no journal.
    match fs::metadata(path) {
        Ok(meta) if meta.is_file() && meta.len() <= LARGEST => {}
        Ok(_) => return Some(UnfinishedState::Foreign),
        Err(_) => return None,
    }
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return None,
        Err(_) => return Some(UnfinishedState::Foreign),
    };
    match file.try_lock_shared() {
        Err(TryLockError::WouldBlock) => return Some(UnfinishedState::Busy),
        Err(TryLockError::Error(_)) => return Some(UnfinishedState::Foreign),
        Ok(()) => {}
    }
    let mut bytes = Vec::new();
    if file.read_to_end(&mut bytes).is_err() {
        return Some(UnfinishedState::Foreign);
    }
    if !bytes.contains(&b'\n') {
        // Not even the first line was committed: nothing had happened yet.
        return None;
    }
    match read(&bytes, path) {
        Ok(read) if read.end.is_some() => None,
        Ok(read) => Some(UnfinishedState::Ready {
            last: read.last,
            header: Box::new(read.header),
        }),
        Err(JournalError::Header { found, .. }) => {
            let ours = bytes.windows(8).any(|w| w == b"{\"crc\":\"");
            Some(if ours {
                UnfinishedState::Unreadable { found }
            } else {
                UnfinishedState::Foreign
            })
        }
        Err(_) => Some(UnfinishedState::Newer),
    }
}

/// Ready ones by when they began; the rest after them by name.
fn newness(found: &Unfinished) -> (Option<i64>, &Path) {
    let began = match &found.state {
        UnfinishedState::Ready { header, .. } => Some(header.wall.unix_ms),
        UnfinishedState::Busy
        | UnfinishedState::Unreadable { .. }
        | UnfinishedState::Newer
        | UnfinishedState::Foreign => None,
    };
    (began, &found.path)
}

/// Writes a journal anew in the place of a damaged one: there is always one or the other, and nobody else has it meanwhile.
fn anew(path: &Path, whole: &[u8]) -> std::io::Result<File> {
    let beside = path.with_extension("damaged-new");
    let _ = fs::remove_file(&beside);
    let written = || -> std::io::Result<File> {
        let mut file = OpenOptions::new()
            .create_new(true)
            .read(true)
            .append(true)
            .mode(0o600)
            .open(&beside)?;
        file.lock()?;
        file.write_all(whole)?;
        file.sync_all()?;
        fs::rename(&beside, path)?;
        Ok(file)
    };
    let file = written().inspect_err(|_| {
        let _ = fs::remove_file(&beside);
    })?;
    if let Some(folder) = path.parent() {
        File::open(folder)?.sync_all()?;
    }
    Ok(file)
}

/// Writes the bytes of a damaged journal beside it, under a name of its own.
fn keep_aside(path: &Path, bytes: &[u8]) -> std::io::Result<PathBuf> {
    let copy = free_name(path);
    let mut file = OpenOptions::new()
        .create_new(true)
        .write(true)
        .mode(0o600)
        .open(&copy)?;
    if let Err(e) = file.write_all(bytes).and_then(|()| file.sync_all()) {
        // Half a copy helps nobody.
        let _ = fs::remove_file(&copy);
        return Err(e);
    }
    Ok(copy)
}

/// The first of `x.damaged`, `x.damaged-2`, `x.damaged-3`... that is free.
fn free_name(path: &Path) -> PathBuf {
    let mut name = path.with_extension("damaged");
    let mut number = 1;
    while name.exists() {
        number += 1;
        name = path.with_extension(format!("damaged-{number}"));
    }
    name
}
