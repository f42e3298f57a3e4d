//! Journals that are there: what they hold, and taking one up again.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{Read, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use serde_json::Value;

use super::clock::{Basis, Resumption};
use super::error::JournalError;
use super::file::{End, Entry, Journal, Record, SESSION_LOOKS, lock};
use super::header::{Anchor, FORMAT, Header};
use super::line;
use super::note::Note;
use super::readings::Readings;

use crate::bench::{Event, Taken};
use crate::time::Moment;

/// The largest file that is taken for a journal, in bytes: months of cooking in one session.
const LARGEST: u64 = 256 << 20;

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
    pub fn unfinished(folder: &Path) -> Result<Vec<Found>, JournalError> {
        let fail = |e| JournalError::from_io(folder, e);
        let names = match fs::read_dir(folder) {
            Ok(names) => names,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(e) => return Err(fail(e)),
        };
        let mut found: Vec<Found> = names
            .filter_map(|name| Some(name.ok()?.path()))
            .filter(|path| path.extension().is_some_and(|e| e == "journal"))
            .filter_map(look_at)
            .collect();
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

        if !read.unknown.is_empty() {
            notes.push(Note::Unknown { what: read.unknown });
        }
        let last = read.last;
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
            lines: read.entry_lines,
            notes,
            trouble,
            journal,
            resumption,
        })
    }

    /// The cook does not want this session any more: it is marked as ended and not offered again.
    pub fn abandon(found: &Found) -> Result<(), JournalError> {
        if let State::Foreign | State::Newer = found.state {
            return Ok(());
        }
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
    /// The line of each entry.
    entry_lines: Vec<u64>,
    /// Session time of the last entry, left out or not.
    last: Moment,
    /// What this version of the program does not know.
    unknown: Vec<String>,
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

/// What the journal in `bytes` has: its header and its entries, whether it ended or not.
///
/// # Errors
/// When it has no header that this program reads.
pub fn contents(bytes: &[u8], path: &Path) -> Result<(Header, Vec<Entry>), JournalError> {
    read(bytes, path).map(|read| (read.header, read.entries))
}

pub(super) fn read(bytes: &[u8], path: &Path) -> Result<Contents, JournalError> {
    let (header, mut lines, next) = match headed(bytes) {
        Ok(headed) => headed,
        Err(Headless::Newer(format)) => return Err(newer(path, format)),
        Err(Headless::Found(found)) => {
            return Err(JournalError::Header {
                path: path.to_path_buf(),
                found: found.to_owned(),
            });
        }
    };
    let mut got = Contents {
        anchor: header.anchor(),
        wall_known: (Moment(0), header.wall.unix_ms),
        header,
        entries: Vec::new(),
        entry_lines: Vec::new(),
        last: Moment(0),
        unknown: Vec::new(),
        end: None,
        safe: lines.at as u64,
        lines: next,
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
                taken,
                ..
            } => self.entry(at, event, taken),
            Record {
                anchor: Some(anchor),
                ..
            } => {
                self.wall_known = (anchor.at, anchor.wall.unix_ms);
                self.anchor = anchor;
            }
            Record {
                aside: Some(line), ..
            } => {
                if let Some(at) = self.entry_lines.iter().position(|n| *n == line) {
                    self.entry_lines.remove(at);
                    self.entries.remove(at);
                }
            }
            Record { end: Some(end), .. } => self.end = Some(end),
            _ => return Err("a record of another kind"),
        }
        Ok(())
    }

    /// An event, and what it was taken to mean. What this version does not know is kept as time that passed, and told.
    fn entry(&mut self, at: Moment, event: Value, taken: Option<Value>) {
        self.last = at;
        let named = |value: &Value, key: &str| value[key].as_str().map(str::to_owned);
        let said = named(&event, "text").filter(|text| !text.is_empty());
        let order = taken.as_ref().and_then(|t| named(&t["order"], "intent"));
        let known: Option<Event> = serde_json::from_value(event.clone()).ok();
        let meant = taken.map(serde_json::from_value::<Taken>);
        let (event, taken) = match (known, meant) {
            (Some(event), None) => (event, None),
            (Some(event), Some(Ok(taken))) => (event, Some(taken)),
            // Its words are still there, and may be understood anew.
            (Some(event @ Event::Heard(_)), Some(Err(_))) if said.is_some() => (event, None),
            _ => {
                let name = said
                    .or_else(|| Some(order?.replace('_', " ")))
                    .or_else(|| Some(named(&event, "event")?.replace('_', " ")));
                self.unknown.extend(name);
                (Event::Tick, None)
            }
        };
        if let Event::Start { wall } | Event::WallChanged { wall } | Event::Resumed { wall, .. } =
            &event
        {
            self.wall_known = (at, wall.unix_ms);
        }
        self.entries.push(Entry { at, event, taken });
        self.entry_lines.push(self.lines);
    }
}

/// Why a file has no header.
enum Headless {
    Newer(u32),
    Found(&'static str),
}

/// The header, the lines after it, and the number of the first of them. The second line is the header again: either will
/// do, also where the line feed between them is gone or one has come into the middle of the first.
fn headed(bytes: &[u8]) -> Result<(Header, Lines<'_>, u64), Headless> {
    let mut lines = Lines { bytes, at: 0 };
    let mut header: Option<Header> = None;
    let mut trouble = None;
    let (mut after, mut next) = (0, 0);
    loop {
        let begin = lines.at;
        let line = match lines.next_line() {
            Some(Ok(line)) => line,
            Some(Err(_)) => {
                trouble.get_or_insert("a line that was only half written");
                break;
            }
            None => break,
        };
        let mut entry = None;
        for (at, piece) in pieces(line) {
            match line::decode::<Record>(piece) {
                Ok(Record {
                    head: Some(head), ..
                }) if entry.is_none() => {
                    if head.format > FORMAT {
                        return Err(Headless::Newer(head.format));
                    }
                    next = if head.format == 1 { 1 } else { 2 };
                    header.get_or_insert(head);
                    after = lines.at;
                }
                Ok(record) => {
                    trouble.get_or_insert("a record of another kind");
                    entry.get_or_insert((begin + at, record.n));
                }
                Err(found) => {
                    // A newer program may write a first line that this one cannot read, but its format stands there.
                    if let Ok(value) = line::decode::<Value>(piece)
                        && let Some(format) = value["head"]["format"].as_u64()
                        && format > u64::from(FORMAT)
                    {
                        return Err(Headless::Newer(u32::try_from(format).unwrap_or(u32::MAX)));
                    }
                    trouble.get_or_insert(found);
                }
            }
        }
        match (&header, entry) {
            // What lies between is the other header, damaged.
            (Some(_), Some((at, n))) if n == next => {
                after = at;
                break;
            }
            (_, Some(_)) => break,
            (Some(header), None) if header.format == 1 => break,
            (_, None) => {}
        }
    }
    let header = header.ok_or(Headless::Found(trouble.unwrap_or("nothing")))?;
    Ok((header, Lines { bytes, at: after }, next))
}

/// The beginnings of records in a line, with their places: more than one where the line feed between two is gone.
fn pieces(line: &[u8]) -> Vec<(usize, &[u8])> {
    const MARK: &[u8] = b"{\"crc\":\"";
    let later = (1..line.len()).filter(|at| line[*at..].starts_with(MARK));
    let mut starts: Vec<usize> = std::iter::once(0).chain(later).collect();
    starts.push(line.len() + 1);
    starts
        .windows(2)
        .map(|pair| (pair[0], &line[pair[0]..pair[1] - 1]))
        .collect()
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
fn look_at(path: PathBuf) -> Option<Found> {
    let state = state_of(&path)?;
    Some(Found { path, state })
}

fn state_of(path: &Path) -> Option<State> {
    // A pipe would be waited for, a folder cannot be read, and what is so large is no journal.
    match fs::metadata(path) {
        Ok(meta) if meta.is_file() && meta.len() <= LARGEST => {}
        Ok(_) => return Some(State::Foreign),
        Err(_) => return None,
    }
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return None,
        Err(_) => return Some(State::Foreign),
    };
    match file.try_lock_shared() {
        Err(TryLockError::WouldBlock) => return Some(State::Busy),
        Err(TryLockError::Error(_)) => return Some(State::Foreign),
        Ok(()) => {}
    }
    let mut bytes = Vec::new();
    if file.read_to_end(&mut bytes).is_err() {
        return Some(State::Foreign);
    }
    if !bytes.contains(&b'\n') {
        // Not even the first line was committed: nothing had happened yet.
        return None;
    }
    match read(&bytes, path) {
        Ok(read) if read.end.is_some() => None,
        Ok(read) => Some(State::Ready {
            last: read.last,
            header: Box::new(read.header),
        }),
        Err(JournalError::Header { found, .. }) => {
            let ours = bytes.windows(8).any(|w| w == b"{\"crc\":\"");
            Some(if ours {
                State::Unreadable { found }
            } else {
                State::Foreign
            })
        }
        Err(_) => Some(State::Newer),
    }
}

/// Ready ones by when they began; the rest after them by name.
fn newness(found: &Found) -> (Option<i64>, &Path) {
    let began = match &found.state {
        State::Ready { header, .. } => Some(header.wall.unix_ms),
        State::Busy | State::Unreadable { .. } | State::Newer | State::Foreign => None,
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
