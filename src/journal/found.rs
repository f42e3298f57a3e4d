//! Journals that are there: what they hold, and taking one up again.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{Read, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use super::clock::{Basis, Readings, Resumption};
use super::error::JournalError;
use super::file::{End, Entry, Journal, Record, SESSION_LOOKS, lock};
use super::header::{Anchor, FORMAT, Header};
use super::line;
use super::note::Note;
use crate::bench::Event;
use crate::time::Moment;

/// A session that did not end properly.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The file.
    pub path: PathBuf,
    /// What can be done with it.
    pub state: State,
}

/// What can be done with an unfinished session.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// It can be taken up.
    Ready {
        /// What it was.
        header: Box<Header>,
        /// Session time of the last entry.
        last: Moment,
    },
    /// Another session is writing it at this moment.
    Busy,
    /// Its first line cannot be read.
    Unreadable {
        /// What stood there.
        found: String,
    },
}

/// A session that was taken up again.
#[derive(Debug)]
pub struct Reopened {
    /// What it is.
    pub header: Header,
    /// Everything that happened, in order.
    pub entries: Vec<Entry>,
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
    pub fn unfinished(folder: &Path) -> Result<Vec<Found>, JournalError> {
        let fail = |e| JournalError::from_io(folder, e);
        let names = match fs::read_dir(folder) {
            Ok(names) => names,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(e) => return Err(fail(e)),
        };
        let mut found = Vec::new();
        for name in names {
            let path = name.map_err(fail)?.path();
            if path.extension().is_some_and(|e| e == "journal") {
                found.extend(look_at(path)?);
            }
        }
        found.sort_by(|a, b| newness(b).cmp(&newness(a)));
        Ok(found)
    }

    /// Takes a session up again by the machine's clocks.
    pub fn reopen(found: &Found) -> Result<Reopened, JournalError> {
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
        } else if (read.safe as usize) < bytes.len() {
            notes.push(Note::Torn {
                bytes: bytes.len() as u64 - read.safe,
            });
        }
        let too_long = (read.safe as usize) < bytes.len();

        let last = read.entries.last().map_or(Moment(0), |e| e.at);
        let resumption = Resumption::new(&read.anchor, last, read.wall_known, readings);
        let mut journal = Self::from_parts(file, path.to_path_buf(), read.safe, read.lines);
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
            notes,
            trouble,
            journal,
            resumption,
        })
    }

    /// The cook does not want this session any more: it is marked as ended and not offered again.
    pub fn abandon(found: &Found) -> Result<(), JournalError> {
        if let State::Unreadable { .. } = found.state {
            let aside = free_name(&found.path);
            return fs::rename(&found.path, aside)
                .map_err(|e| JournalError::from_io(&found.path, e));
        }
        let reopened = Self::reopen(found)?;
        let at = reopened.resumption.now;
        reopened.journal.finish(at)
    }
}

/// What a file holds up to its first bad line.
#[derive(Debug)]
pub(super) struct Contents {
    header: Header,
    pub(super) entries: Vec<Entry>,
    /// The last anchor.
    anchor: Anchor,
    /// The last session time with a known wall clock.
    wall_known: (Moment, i64),
    end: Option<End>,
    /// Length of the good lines.
    safe: u64,
    /// How many good lines.
    lines: u64,
    /// (number of the bad line from 1, what stood there, lines lost from there on)
    damage: Option<(usize, &'static str, usize)>,
}

pub(super) fn read(bytes: &[u8], path: &Path) -> Result<Contents, JournalError> {
    let bad_header = |found: &str| JournalError::Header {
        path: path.to_path_buf(),
        found: found.to_owned(),
    };
    let mut lines = Lines { bytes, at: 0 };
    let first = match lines.next_line() {
        Some(Ok(line)) => line,
        Some(Err(_)) => return Err(bad_header("a line that was only half written")),
        None => return Err(bad_header("nothing")),
    };
    let header = match line::decode::<Record>(first) {
        Ok(Record {
            n: 0,
            head: Some(header),
            ..
        }) => header,
        Ok(_) => return Err(bad_header("a record of another kind")),
        // A newer program may write a first line that this one cannot read, but its format stands there.
        Err(found) => match line::decode::<serde_json::Value>(first) {
            Ok(value) => match value["head"]["format"].as_u64() {
                Some(format) if format > u64::from(FORMAT) => {
                    return Err(newer(path, u32::try_from(format).unwrap_or(u32::MAX)));
                }
                _ => return Err(bad_header(found)),
            },
            Err(_) => return Err(bad_header(found)),
        },
    };
    if header.format > FORMAT {
        return Err(newer(path, header.format));
    }
    let mut got = Contents {
        anchor: header.anchor(),
        wall_known: (Moment(0), header.wall.unix_ms),
        header,
        entries: Vec::new(),
        end: None,
        safe: lines.at as u64,
        lines: 1,
        damage: None,
    };
    loop {
        let record = match lines.next_line() {
            // What is left without a line feed was never committed.
            None | Some(Err(_)) => break,
            Some(Ok(line)) => line::decode::<Record>(line),
        };
        match record.and_then(|record| got.take(record)) {
            Ok(()) => {
                got.lines += 1;
                got.safe = lines.at as u64;
            }
            Err(found) => {
                let mut lost = 1;
                while lines.next_line().is_some() {
                    lost += 1;
                }
                got.damage = Some((got.lines as usize + 1, found, lost));
                break;
            }
        }
    }
    Ok(got)
}

impl Contents {
    fn take(&mut self, record: Record) -> Result<(), &'static str> {
        if record.n != self.lines {
            return Err("a line out of order");
        }
        if self.end.is_some() {
            return Err("a line after the end");
        }
        match record {
            Record {
                at: Some(at),
                event: Some(event),
                ..
            } => {
                if let Event::Start { wall }
                | Event::WallChanged { wall }
                | Event::Resumed { wall, .. } = &event
                {
                    self.wall_known = (at, wall.unix_ms);
                }
                self.entries.push(Entry { at, event });
            }
            Record {
                anchor: Some(anchor),
                ..
            } => {
                self.wall_known = (anchor.at, anchor.wall.unix_ms);
                self.anchor = anchor;
            }
            Record { end: Some(end), .. } => self.end = Some(end),
            _ => return Err("a record of another kind"),
        }
        Ok(())
    }
}

/// Lines ended by a line feed; `Err` is a last one without.
struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Lines<'a> {
    fn next_line(&mut self) -> Option<Result<&'a [u8], &'a [u8]>> {
        let rest = &self.bytes[self.at..];
        if rest.is_empty() {
            return None;
        }
        if let Some(end) = rest.iter().position(|b| *b == b'\n') {
            self.at += end + 1;
            Some(Ok(&rest[..end]))
        } else {
            self.at = self.bytes.len();
            Some(Err(rest))
        }
    }
}

fn newer(path: &Path, found: u32) -> JournalError {
    JournalError::Newer {
        path: path.to_path_buf(),
        found,
        known: FORMAT,
    }
}

/// The session in a file, unless it ended or never began.
fn look_at(path: PathBuf) -> Result<Option<Found>, JournalError> {
    let fail = |e| JournalError::from_io(&path, e);
    let mut file = match File::open(&path) {
        Ok(file) => file,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        Err(e) => return Err(fail(e)),
    };
    let state = match file.try_lock_shared() {
        Err(TryLockError::WouldBlock) => State::Busy,
        Err(TryLockError::Error(e)) => return Err(fail(e)),
        Ok(()) => {
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).map_err(fail)?;
            if !bytes.contains(&b'\n') {
                // Not even the first line was committed: nothing had happened yet.
                return Ok(None);
            }
            match read(&bytes, &path) {
                Ok(read) if read.end.is_some() => return Ok(None),
                Ok(read) => State::Ready {
                    last: read.entries.last().map_or(Moment(0), |e| e.at),
                    header: Box::new(read.header),
                },
                Err(JournalError::Header { found, .. }) => State::Unreadable { found },
                // A newer program takes its own session up.
                Err(_) => return Ok(None),
            }
        }
    };
    Ok(Some(Found { path, state }))
}

/// Ready ones by when they began; the rest after them by name.
fn newness(found: &Found) -> (Option<i64>, &Path) {
    let began = match &found.state {
        State::Ready { header, .. } => Some(header.wall.unix_ms),
        State::Busy | State::Unreadable { .. } => None,
    };
    (began, &found.path)
}

/// Writes the bytes of a damaged journal beside it, under a name of its own.
fn keep_aside(path: &Path, bytes: &[u8]) -> std::io::Result<PathBuf> {
    let copy = free_name(path);
    let mut file = OpenOptions::new()
        .create_new(true)
        .write(true)
        .mode(0o600)
        .open(&copy)?;
    file.write_all(bytes)?;
    file.sync_all()?;
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
