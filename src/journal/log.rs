//! The bake log: how long each rise, or whatever else ended on a look, really took, so that the next bake starts from
//! this kitchen's own times.

use std::collections::BTreeMap;
use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::JournalError;
use super::file::lock;
use super::line;
use super::place::make_private;
use crate::bench::{Belief, OwnTime, believe, middle, rise_in};
use crate::clean;
use crate::time::Span;

/// One rise, or whatever else ended on a look.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rise {
    /// The formula's name.
    pub formula: String,
    /// The timer's name in the formula.
    pub timer: String,
    /// How long it takes as the formula is written.
    pub planned: Span,
    /// How long it really took.
    pub took: Span,
    /// The room in Celsius, where it is known and a dough rose in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_c: Option<f64>,
    /// Today's size in words; empty as written.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// It is far from what is written, and the cook said that it counts.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub asked: bool,
    /// When the session began, in Unix milliseconds: the rises of one bake have it in common.
    pub began_ms: i64,
    /// When the cook said that it was done, in Unix milliseconds.
    pub at_ms: i64,
    /// The offset of the wall clock from UTC then, in seconds, east positive.
    pub offset_s: i32,
}

/// What really went in of an ingredient, as the scale showed it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WentIn {
    /// The formula's name.
    pub formula: String,
    /// The ingredient's name.
    pub ingredient: String,
    /// What was wanted, in grams.
    pub wanted_g: f64,
    /// What the scale showed, in grams.
    pub really_g: f64,
    /// Today's size in words; empty as written.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scale: String,
    /// When the session began, in Unix milliseconds.
    pub began_ms: i64,
    /// When it was weighed, in Unix milliseconds.
    pub at_ms: i64,
    /// The offset of the wall clock from UTC then, in seconds, east positive.
    pub offset_s: i32,
}

/// The log as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Log {
    /// What was looked at and found done, the oldest first.
    pub rises: Vec<Rise>,
    /// What was weighed by the scale, the oldest first.
    pub went_in: Vec<WentIn>,
    /// How many lines could not be read and were left out.
    pub bad_lines: usize,
    /// How many lines tell what cannot be, such as a bake of no minutes, and were left out.
    pub impossible_lines: usize,
}

/// How many of the latest rises count.
const LATEST: usize = 5;
/// So much of the log is read, in bytes: some ten thousand rises.
const READ: u64 = 4 << 20;
/// How often a writer tries for the log: another one holds it for one line.
const WRITER_LOOKS: u32 = 50;

impl Log {
    /// The log's file in the state folder.
    pub fn file(folder: &Path) -> PathBuf {
        folder.join("log.jsonl")
    }

    /// Reads the log, of a long one the latest part; one that is not there is empty.
    pub fn read(folder: &Path) -> Result<Self, JournalError> {
        let path = Self::file(folder);
        let bytes = match latest(&path) {
            Ok(bytes) => bytes,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(e) => return Err(JournalError::from_io(&path, e)),
        };
        let mut log = Self::default();
        for line in bytes.split(|b| *b == b'\n').filter(|line| !line.is_empty()) {
            match line::decode::<Rise>(line) {
                Ok(rise) if !are_plain(&[&rise.formula, &rise.timer, &rise.scale]) => {
                    log.bad_lines += 1;
                }
                Ok(rise) if !is_possible(&rise) => log.impossible_lines += 1,
                Ok(rise) => log.rises.push(rise),
                Err(_) => match line::decode::<WentIn>(line) {
                    Ok(w) if are_plain(&[&w.formula, &w.ingredient, &w.scale]) => {
                        log.went_in.push(w);
                    }
                    _ => log.bad_lines += 1,
                },
            }
        }
        Ok(log)
    }

    /// Adds what was looked at, or weighed. When this returns `Ok`, it is on the disk.
    pub fn append(folder: &Path, entry: &impl Serialize) -> Result<(), JournalError> {
        make_private(folder)?;
        let path = Self::file(folder);
        let fail = |e| JournalError::from_io(&path, e);
        let line = line::encode(entry).map_err(|e| fail(std::io::Error::other(e)))?;
        let mut file = OpenOptions::new()
            .create(true)
            .read(true)
            .append(true)
            .mode(0o600)
            .open(&path)
            .map_err(fail)?;
        // Two sessions may write together; a line takes no time, so that the second waits for the first.
        lock(&file, &path, WRITER_LOOKS)?;
        add(&mut file, &line).map_err(fail)
    }

    /// This kitchen's own times for a formula, by timer: the middle one of the latest five, each brought to today's
    /// room where both rooms are known. Of an even number of times, the mean of the two in the middle.
    pub fn own_times(&self, formula: &str, room_c: Option<f64>) -> BTreeMap<String, OwnTime> {
        let mut latest: BTreeMap<String, Vec<&Rise>> = BTreeMap::new();
        for rise in self.rises.iter().rev().filter(|r| r.formula == formula) {
            let own = latest.entry(rise.timer.clone()).or_default();
            if own.len() < LATEST {
                own.push(rise);
            }
        }
        latest
            .into_iter()
            .filter_map(|(timer, rises)| Some((timer, own_time(&rises, room_c)?)))
            .collect()
    }
}

/// The end of the file, in whole lines.
fn latest(path: &Path) -> std::io::Result<Vec<u8>> {
    // A pipe would be waited for, and a device has no end.
    if !std::fs::metadata(path)?.is_file() {
        return Err(std::io::Error::new(
            std::io::ErrorKind::InvalidInput,
            "no plain file",
        ));
    }
    let mut file = File::open(path)?;
    let before = file.metadata()?.len().saturating_sub(READ);
    file.seek(SeekFrom::Start(before))?;
    let mut bytes = Vec::new();
    file.take(READ).read_to_end(&mut bytes)?;
    if before > 0 {
        let begun = bytes.iter().position(|b| *b == b'\n');
        bytes.drain(..begun.map_or(bytes.len(), |at| at + 1));
    }
    Ok(bytes)
}

/// Names that no formula may have: the program did not write them.
fn are_plain(names: &[&str]) -> bool {
    names.iter().all(|name| clean::first(name).is_none())
}

/// What is far from what is written counts only by the cook's word.
fn is_possible(rise: &Rise) -> bool {
    match believe(rise.took, rise.planned, rise.room_c) {
        Belief::Sure => true,
        Belief::Ask => rise.asked,
        Belief::Never => false,
    }
}

/// The latest rise first.
fn own_time(rises: &[&Rise], room_c: Option<f64>) -> Option<OwnTime> {
    let ranges: Vec<(Span, Span)> = rises
        .iter()
        .map(|rise| match (rise.room_c, room_c) {
            (Some(then), Some(now)) if then != now => rise_in(rise.took, then, now),
            _ => (to_minutes(rise.took), to_minutes(rise.took)),
        })
        .collect();
    let mut times: Vec<u64> = ranges.iter().map(|r| middle(*r).as_millis()).collect();
    times.sort_unstable();
    let (low, high) = (times.len().checked_sub(1)? / 2, times.len() / 2);
    Some(OwnTime {
        lasts: to_minutes(Span::millis(u64::midpoint(times[low], times[high]))),
        from: ranges.iter().map(|r| r.0).min()?,
        to: ranges.iter().map(|r| r.1).max()?,
        last: rises.first()?.took,
    })
}

/// To the nearest minute, one at least.
fn to_minutes(span: Span) -> Span {
    Span::minutes(((span.as_seconds() + 30) / 60).max(1))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::scratch::Scratch;
    use std::fs;
    use std::os::unix::fs::PermissionsExt;

    fn rise(formula: &str, timer: &str, day: i64, minutes: u64, room_c: Option<f64>) -> Rise {
        Rise {
            formula: formula.to_owned(),
            timer: timer.to_owned(),
            planned: Span::minutes(45),
            took: Span::minutes(minutes),
            room_c,
            scale: String::new(),
            asked: false,
            began_ms: 1_795_618_800_000 + day * 86_400_000,
            at_ms: 1_795_622_400_000 + day * 86_400_000,
            offset_s: 0,
        }
    }

    fn own(log: &Log, formula: &str, timer: &str, room_c: Option<f64>) -> Option<OwnTime> {
        log.own_times(formula, room_c).remove(timer)
    }

    #[test]
    fn keeps_and_learns() {
        let scratch = Scratch::new();
        let folder = scratch.path().join("state");
        assert_eq!(Log::read(&folder).unwrap(), Log::default());
        let all: Vec<_> = [50, 90, 60, 55, 70, 58]
            .iter()
            .zip(0..)
            .map(|(m, day)| rise("tin loaf", "first rise", day, *m, None))
            .chain([rise("seed rolls", "first rise", 9, 33, None)])
            .collect();
        for one in &all {
            Log::append(&folder, one).unwrap();
        }
        let log = Log::read(&folder).unwrap();
        assert_eq!(log.rises, all);
        // The first, 50, is older than the latest five: 55 58 60 70 90.
        let m = Span::minutes;
        assert_eq!(
            own(&log, "tin loaf", "first rise", None),
            Some(OwnTime {
                lasts: m(60),
                from: m(55),
                to: m(90),
                last: m(58),
            })
        );
        let rolls = own(&log, "seed rolls", "first rise", None);
        assert_eq!(rolls.map(|own| own.lasts), Some(m(33)));
        assert_eq!(own(&log, "seed rolls", "last rise", None), None);
        let two = Log {
            rises: all[..2].to_vec(),
            ..Log::default()
        };
        let of_two = own(&two, "tin loaf", "first rise", None);
        assert_eq!(of_two.map(|own| own.lasts), Some(m(70)));
        let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&folder), 0o700);
        assert_eq!(mode(&Log::file(&folder)), 0o600);
    }

    #[test]
    fn of_a_long_log_the_end_is_read_and_what_has_no_end_is_refused() {
        let scratch = Scratch::new();
        let folder = scratch.path();
        Log::append(folder, &rise("loaf", "bake", 0, 40, None)).unwrap();
        let file = fs::OpenOptions::new()
            .append(true)
            .open(Log::file(folder))
            .unwrap();
        // A hole of a terabyte, which ends within a line.
        file.set_len(1 << 40).unwrap();
        for day in 1..4 {
            Log::append(folder, &rise("loaf", "bake", day, 50, None)).unwrap();
        }
        let log = Log::read(folder).unwrap();
        assert_eq!((log.rises.len(), log.bad_lines), (3, 0));
        fs::remove_file(Log::file(folder)).unwrap();
        std::os::unix::fs::symlink("/dev/zero", Log::file(folder)).unwrap();
        assert!(Log::read(folder).is_err());
        fs::remove_file(Log::file(folder)).unwrap();
        let made = std::process::Command::new("mkfifo")
            .arg(Log::file(folder))
            .status();
        assert!(made.unwrap().success());
        assert!(Log::read(folder).is_err());
    }

    // Common practice, no source: the time doubles for each 8 to 10 C colder.
    #[test]
    fn a_rise_is_brought_to_todays_room_where_both_are_known() {
        let log = Log {
            rises: vec![rise("loaf", "first rise", 0, 60, Some(24.0))],
            ..Log::default()
        };
        let m = Span::minutes;
        let cold = own(&log, "loaf", "first rise", Some(16.0)).unwrap();
        assert_eq!((cold.from, cold.to, cold.last), (m(104), m(120), m(60)));
        assert_eq!(cold.lasts, m(110));
        for room in [None, Some(24.0)] {
            let same = own(&log, "loaf", "first rise", room).unwrap();
            assert_eq!((same.lasts, same.from, same.to), (m(60), m(60), m(60)));
        }
    }

    #[test]
    fn a_half_written_line_costs_only_itself() {
        let scratch = Scratch::new();
        let (one, two) = (
            rise("a", "rise", 0, 30, None),
            rise("b", "rise", 1, 40, None),
        );
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
            assert_eq!(log.rises, want, "cut at {cut}");
            assert_eq!(log.bad_lines, usize::from(cut > 0 && cut < whole.len() - 1));
        }
    }

    #[test]
    fn names_that_would_steer_a_terminal_are_no_lines_of_ours() {
        let scratch = Scratch::new();
        Log::append(scratch.path(), &rise("a", "rise", 0, 30, None)).unwrap();
        for name in ["rise\r\nQUIT", "rise\u{1b}[2J", "rise\u{202e}"] {
            Log::append(scratch.path(), &rise("a", name, 0, 30, None)).unwrap();
            Log::append(scratch.path(), &rise(name, "rise", 0, 30, None)).unwrap();
        }
        let log = Log::read(scratch.path()).unwrap();
        assert_eq!((log.rises.len(), log.bad_lines), (1, 6));
    }

    #[test]
    fn two_sessions_writing_together_both_get_in() {
        let scratch = Scratch::new();
        std::thread::scope(|s| {
            for thread in 0..4 {
                let folder = scratch.path();
                s.spawn(move || {
                    for day in 0..10 {
                        Log::append(folder, &rise("a", "rise", thread * 10 + day, 30, None))
                            .unwrap();
                    }
                });
            }
        });
        let log = Log::read(scratch.path()).unwrap();
        assert_eq!((log.rises.len(), log.bad_lines), (40, 0));
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
