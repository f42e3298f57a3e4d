//! What stands in a journal's file, also where the disk has changed some of it: one line that cannot be read costs that line.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;

use super::error::JournalError;
use super::file::{End, Entry, Record};
use super::header::{Anchor, FORMAT, Header};
use super::line;
use crate::bench::{Event, Taken};
use crate::time::Moment;

/// A line whose number is further on than this is no line of this journal.
const MOST_LOST: u64 = 10_000;

/// What a file holds.
#[derive(Debug)]
pub(super) struct Contents {
    pub(super) header: Header,
    pub(super) entries: Vec<Entry>,
    /// The line of each entry.
    pub(super) entry_lines: Vec<u64>,
    /// Session time of the last entry, left out or not.
    pub(super) last: Moment,
    /// What this version of the program does not know.
    pub(super) unknown: Vec<String>,
    /// The last anchor.
    pub(super) anchor: Anchor,
    /// The last session time with a known wall clock.
    pub(super) wall_known: (Moment, i64),
    pub(super) end: Option<End>,
    /// Length of the lines with a line feed.
    pub(super) safe: u64,
    /// Bytes after those: a line that was never committed.
    pub(super) torn: u64,
    /// The number of the next line.
    pub(super) lines: u64,
    /// (number of the first line that is lost, from 1; what stood there; how many are lost)
    pub(super) damage: Option<(usize, &'static str, usize)>,
    /// The file as it should stand, where it does not.
    pub(super) whole: Option<Vec<u8>>,
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
    let gathered = gather(&mut lines, next);
    let mut got = Contents {
        anchor: header.anchor(),
        wall_known: (Moment(0), header.wall.unix_ms),
        entries: Vec::new(),
        entry_lines: Vec::new(),
        last: Moment(0),
        unknown: Vec::new(),
        end: None,
        safe: gathered.safe as u64,
        torn: (bytes.len() - gathered.safe) as u64,
        lines: next,
        damage: None,
        whole: None,
        header,
    };
    let mut whole = Vec::new();
    for n in 0..next {
        whole.extend(
            line::encode(&headed_by(&got.header, n))
                .unwrap_or_default()
                .bytes(),
        );
    }
    let mut records = gathered.records;
    let end = records.last_key_value().map_or(next, |(n, _)| n + 1) + gathered.after;
    let mut lost = 0;
    while got.lines < end && got.end.is_none() {
        let (record, line) = records.remove(&got.lines).unzip();
        if record.is_some_and(|record| got.take(record)) {
            whole.extend_from_slice(&line.unwrap_or_default());
            whole.push(b'\n');
        } else {
            // In its place is time that passed, so that no line changes its number.
            let record = got.instead();
            whole.extend(line::encode(&record).unwrap_or_default().bytes());
            got.damage.get_or_insert((
                got.lines as usize + 1,
                gathered.found.unwrap_or("a gap"),
                0,
            ));
            lost += 1;
        }
        got.lines += 1;
    }
    if let Some((.., count)) = &mut got.damage {
        *count = lost;
    }
    got.whole = (gathered.changed || lost > 0).then_some(whole);
    Ok(got)
}

/// A line that has the header.
fn headed_by(header: &Header, n: u64) -> Record {
    Record {
        n,
        head: Some(header.clone()),
        ..Record::default()
    }
}

/// The lines after the header that can be read, by their numbers.
struct Gathered<'a> {
    records: BTreeMap<u64, (Record, Cow<'a, [u8]>)>,
    /// They do not stand as they were written.
    changed: bool,
    /// What stood where the first of them cannot be read.
    found: Option<&'static str>,
    /// Lines after the last of them, which cannot be read.
    after: u64,
    /// Where the last line with a line feed ends.
    safe: usize,
}

fn gather<'a>(lines: &mut Lines<'a>, next: u64) -> Gathered<'a> {
    let mut got = Gathered {
        records: BTreeMap::new(),
        changed: false,
        found: None,
        after: 0,
        safe: lines.at,
    };
    let mut highest = next;
    loop {
        let (line, committed) = match lines.next_line() {
            None => return got,
            Some(Ok(line)) => (line, true),
            // What is left without a line feed was never committed, unless the line feed is what the disk has changed.
            Some(Err(rest)) => (rest, false),
        };
        let pieces = pieces(line);
        for (place, (_, piece)) in pieces.iter().enumerate() {
            let is_last = place + 1 == pieces.len();
            let read = match line::decode::<Record>(piece) {
                Ok(record) if committed || !is_last => Ok((record, Cow::Borrowed(*piece), true)),
                Ok(_) => break,
                Err(_) if is_last && !committed => {
                    let Some((_, piece)) = piece.split_last() else {
                        break;
                    };
                    match line::decode::<Record>(piece) {
                        Ok(record) => Ok((record, Cow::Borrowed(piece), false)),
                        Err(_) => break,
                    }
                }
                Err(found) => put_right(lines, piece).ok_or(found),
            };
            match read {
                Ok((record, line, as_written))
                    if record.n >= next && record.n <= highest + MOST_LOST =>
                {
                    got.changed |= !as_written || record.n < highest;
                    got.after = 0;
                    highest = highest.max(record.n + 1);
                    got.records.entry(record.n).or_insert((record, line));
                }
                // The header, once more.
                Ok((Record { head: Some(_), .. }, ..)) => {}
                other => {
                    let found = other.err().unwrap_or("a line out of order");
                    got.found.get_or_insert(found);
                    got.changed = true;
                    got.after += 1;
                }
            }
            if is_last {
                got.safe = lines.at;
            }
        }
    }
}

/// A line in which one bit has flipped, as it was; also where the bit made it two.
fn put_right<'a>(lines: &mut Lines<'a>, line: &[u8]) -> Option<(Record, Cow<'a, [u8]>, bool)> {
    let mut further = Lines { ..*lines };
    let begin = lines.at.checked_sub(line.len() + 1)?;
    let right = line::put_right(line).or_else(|| {
        further.next_line()?.ok()?;
        let right = line::put_right(lines.bytes.get(begin..further.at - 1)?)?;
        lines.at = further.at;
        Some(right)
    })?;
    Some((line::decode(&right).ok()?, Cow::Owned(right), false))
}

impl Contents {
    /// Takes a record; false where it is of no kind that is known.
    fn take(&mut self, record: Record) -> bool {
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
            _ => return false,
        }
        true
    }

    /// Keeps time that passed in the place of a line that is lost; in the place of the first a session's beginning.
    fn instead(&mut self) -> Record {
        let mut entry = Entry::tick(self.last);
        if self.entries.is_empty() {
            let wall = self.header.wall.clone();
            entry.event = Event::Start { wall };
        }
        let record = Record {
            n: self.lines,
            ..Record::of(&entry)
        };
        self.entries.push(entry);
        self.entry_lines.push(self.lines);
        record
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
            let right = line::put_right(piece);
            match line::decode::<Record>(right.as_deref().unwrap_or(piece)) {
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
