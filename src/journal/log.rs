//! The bake log: what was finished here, and how long each rise really took, so that the next bake starts from this
//! kitchen's own times.

use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::JournalError;
use super::file::lock;
use super::line;
use super::place::make_private;
use crate::bench::Wall;
use crate::measure::Span;

/// One finished session.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Baked {
    /// The formula's name.
    pub formula: String,
    /// When the session ended.
    pub wall: Wall,
    /// How long the session was.
    pub took: Span,
    /// The scale in words; empty as written.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// What ended on a look, in order.
    pub rises: Vec<Rise>,
}

/// One rise, or whatever else ended on a look.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rise {
    /// The timer's name in the formula.
    pub timer: String,
    /// How long it was to take.
    pub planned: Span,
    /// How long it really took.
    pub took: Span,
    /// The room in Celsius, when the cook said so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_c: Option<f64>,
}

/// The log as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Log {
    /// What was finished, the oldest first.
    pub baked: Vec<Baked>,
    /// How many lines could not be read and were left out.
    pub bad_lines: usize,
}

/// How many of the latest rises count.
const LATEST: usize = 5;
/// How often a writer tries for the log: another one holds it for one line.
const WRITER_LOOKS: u32 = 50;

impl Log {
    /// The log's file in the state folder.
    pub fn file(folder: &Path) -> PathBuf {
        folder.join("log.jsonl")
    }

    /// Reads the log; one that is not there is empty.
    pub fn read(folder: &Path) -> Result<Self, JournalError> {
        let path = Self::file(folder);
        let bytes = match std::fs::read(&path) {
            Ok(bytes) => bytes,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(e) => return Err(JournalError::from_io(&path, e)),
        };
        let mut log = Self::default();
        for line in bytes.split(|b| *b == b'\n').filter(|line| !line.is_empty()) {
            match line::decode(line) {
                Ok(baked) => log.baked.push(baked),
                Err(_) => log.bad_lines += 1,
            }
        }
        Ok(log)
    }

    /// Adds a finished session. When this returns `Ok`, it is on the disk.
    pub fn append(folder: &Path, baked: &Baked) -> Result<(), JournalError> {
        make_private(folder)?;
        let path = Self::file(folder);
        let fail = |e| JournalError::from_io(&path, e);
        let line = line::encode(baked).map_err(|e| fail(std::io::Error::other(e)))?;
        let mut file = OpenOptions::new()
            .create(true)
            .read(true)
            .append(true)
            .mode(0o600)
            .open(&path)
            .map_err(fail)?;
        // Two sessions may end together; a line takes no time, so that the second waits for the first.
        lock(&file, &path, WRITER_LOOKS)?;
        add(&mut file, &line).map_err(fail)
    }
}

fn add(file: &mut File, line: &str) -> std::io::Result<()> {
    let length = file.seek(SeekFrom::End(0))?;
    let mut whole = String::new();
    if length > 0 {
        file.seek(SeekFrom::End(-1))?;
        let mut last = [0];
        file.read_exact(&mut last)?;
        if last != *b"\n" {
            // A line that a power cut left half written must not swallow this one.
            whole.push('\n');
        }
    }
    whole.push_str(line);
    let written = file
        .write_all(whole.as_bytes())
        .and_then(|()| file.sync_data());
    if written.is_err() {
        let _ = file.set_len(length);
    }
    written
}

/// How long this timer takes in this kitchen: the middle one of the latest five times, or `None` where there is none.
/// Of an even number of times, the mean of the two in the middle.
pub fn learned(log: &Log, formula: &str, timer: &str) -> Option<Span> {
    let mut times: Vec<u64> = log
        .baked
        .iter()
        .rev()
        .filter(|baked| baked.formula == formula)
        .flat_map(|baked| baked.rises.iter().rev())
        .filter(|rise| rise.timer == timer)
        .map(|rise| rise.took.as_millis())
        .take(LATEST)
        .collect();
    times.sort_unstable();
    let (low, high) = (times.len().checked_sub(1)? / 2, times.len() / 2);
    Some(Span::millis(u64::midpoint(times[low], times[high])))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::scratch::Scratch;
    use std::fs;
    use std::os::unix::fs::PermissionsExt;

    fn baked(formula: &str, day: i64, rises: &[(&str, u64)]) -> Baked {
        Baked {
            formula: formula.to_owned(),
            wall: Wall {
                unix_ms: 1_795_618_800_000 + day * 86_400_000,
                offset_s: 0,
                changes: vec![],
            },
            took: Span::minutes(240),
            scale: String::new(),
            rises: rises
                .iter()
                .map(|(timer, minutes)| Rise {
                    timer: (*timer).to_owned(),
                    planned: Span::minutes(45),
                    took: Span::minutes(*minutes),
                    room_c: Some(19.5),
                })
                .collect(),
        }
    }

    #[test]
    fn keeps_and_learns() {
        let scratch = Scratch::new();
        let folder = scratch.path().join("state");
        assert_eq!(Log::read(&folder).unwrap(), Log::default());
        let all: Vec<_> = [50, 90, 60, 55, 70, 58]
            .iter()
            .zip(0..)
            .map(|(m, day)| baked("tin loaf", day, &[("first rise", *m), ("last rise", 40)]))
            .chain([baked("seed rolls", 9, &[("first rise", 33)])])
            .collect();
        for one in &all {
            Log::append(&folder, one).unwrap();
        }
        let log = Log::read(&folder).unwrap();
        assert_eq!(log.baked, all);
        // The first, 50, is older than the latest five: 55 58 60 70 90.
        assert_eq!(
            learned(&log, "tin loaf", "first rise"),
            Some(Span::minutes(60))
        );
        assert_eq!(
            learned(&log, "seed rolls", "first rise"),
            Some(Span::minutes(33))
        );
        assert_eq!(learned(&log, "seed rolls", "last rise"), None);
        let two = Log {
            baked: all[..2].to_vec(),
            bad_lines: 0,
        };
        assert_eq!(
            learned(&two, "tin loaf", "first rise"),
            Some(Span::minutes(70))
        );
        let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&folder), 0o700);
        assert_eq!(mode(&Log::file(&folder)), 0o600);
    }

    #[test]
    fn a_half_written_line_costs_only_itself() {
        let scratch = Scratch::new();
        let (one, two) = (baked("a", 0, &[]), baked("b", 1, &[("rise", 20)]));
        Log::append(scratch.path(), &one).unwrap();
        let file = Log::file(scratch.path());
        let whole = fs::read(&file).unwrap();
        for cut in 0..whole.len() {
            fs::write(&file, &whole[..cut]).unwrap();
            Log::append(scratch.path(), &two).unwrap();
            let log = Log::read(scratch.path()).unwrap();
            // Without its line feed the line is whole all the same: in the log nothing is committed by it.
            let want = if cut == whole.len() - 1 {
                vec![one.clone(), two.clone()]
            } else {
                vec![two.clone()]
            };
            assert_eq!(log.baked, want, "cut at {cut}");
            assert_eq!(log.bad_lines, usize::from(cut > 0 && cut < whole.len() - 1));
        }
    }

    #[test]
    fn two_sessions_ending_together_both_get_in() {
        let scratch = Scratch::new();
        std::thread::scope(|s| {
            for thread in 0..4 {
                let folder = scratch.path();
                s.spawn(move || {
                    for day in 0..10 {
                        Log::append(folder, &baked("a", thread * 10 + day, &[("rise", 30)]))
                            .unwrap();
                    }
                });
            }
        });
        let log = Log::read(scratch.path()).unwrap();
        assert_eq!((log.baked.len(), log.bad_lines), (40, 0));
    }

    #[test]
    fn a_full_disk_is_said() {
        let mut full = OpenOptions::new()
            .read(true)
            .append(true)
            .open("/dev/full")
            .unwrap();
        let e = add(&mut full, "{}\n").unwrap_err();
        let e = JournalError::from_io(Path::new("log.jsonl"), e);
        assert!(matches!(e, JournalError::Full { .. }), "{e}");
    }
}
