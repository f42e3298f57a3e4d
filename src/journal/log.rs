//! The bake log: how long each rise, or whatever else ended on a look, really took, so that the next bake starts from
//! this kitchen's own times.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::bake::{Bake, CooksNote, Forgotten, Line, Rise, WentIn, Word};
use super::error::JournalError;
use super::file::lock;
use super::line;
use super::place::make_private;
use crate::bench::{Belief, LastTime, OVEN, OwnTime, Remembered, believe, middle, rise_in};
use crate::clean;
use crate::time::Span;

/// The log as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Log {
    /// What was looked at and found done, the oldest first.
    pub rises: Vec<Rise>,
    /// What was weighed by the scale, the oldest first.
    pub went_in: Vec<WentIn>,
    /// Whole sessions, the oldest first.
    pub bakes: Vec<Bake>,
    /// How they were.
    pub words: Vec<Word>,
    /// What the cook noted.
    pub notes: Vec<CooksNote>,
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
        let mut forgotten = Vec::new();
        for line in bytes.split(|b| *b == b'\n').filter(|line| !line.is_empty()) {
            match Line::read(line).filter(|line| are_plain(&line.names())) {
                Some(Line::Rise(rise)) if !is_possible(&rise) => log.impossible_lines += 1,
                Some(Line::Rise(rise)) => log.rises.push(rise),
                Some(Line::WentIn(went_in)) => log.went_in.push(went_in),
                Some(Line::Bake(bake)) => log.bakes.push(bake),
                Some(Line::Word(word)) => log.words.push(word),
                Some(Line::Note(note)) => log.notes.push(note),
                Some(Line::Forgotten(Forgotten { forget_ms })) => forgotten.push(forget_ms),
                None => log.bad_lines += 1,
            }
        }
        log.forget(&forgotten);
        log.keep_latest();
        Ok(log)
    }

    /// A session that was written down when it was found unfinished, and again when it ended, is one: the last line counts.
    fn keep_latest(&mut self) {
        let mut seen = BTreeSet::new();
        let mut latest: Vec<Bake> = Vec::with_capacity(self.bakes.len());
        for bake in self.bakes.drain(..).rev() {
            if seen.insert((bake.began_ms, bake.account.bake.clone())) {
                latest.push(bake);
            }
        }
        latest.reverse();
        self.bakes = latest;
    }

    /// Takes sessions out, with all that was learnt from them.
    fn forget(&mut self, began_ms: &[i64]) {
        let is_kept = |of: i64| !began_ms.contains(&of);
        self.rises.retain(|r| is_kept(r.began_ms));
        self.went_in.retain(|w| is_kept(w.began_ms));
        self.bakes.retain(|b| is_kept(b.began_ms));
        self.words.retain(|w| is_kept(w.began_ms));
        self.notes.retain(|n| is_kept(n.began_ms));
    }

    /// What is left of it for one formula, by a part of its name in small letters.
    pub fn keep_only(&mut self, wanted: &str) {
        let is_it = |name: &str| name.to_lowercase().contains(wanted);
        self.rises.retain(|r| is_it(&r.formula));
        self.went_in.retain(|w| is_it(&w.formula));
        self.bakes.retain(|b| is_it(&b.account.bake));
        self.words.retain(|w| is_it(&w.formula));
        self.notes.retain(|n| is_it(&n.formula));
    }

    /// Where the notes that were spoken lie, in the state folder.
    pub fn notes_folder(folder: &Path) -> PathBuf {
        folder.join("notes")
    }

    /// The file for a note of a session.
    pub fn note_file(began_ms: i64, at_ms: i64) -> String {
        format!("{began_ms}-{at_ms}.flac")
    }

    /// Forgets a session, with the sound of its notes. When this returns `Ok`, that is on the disk.
    pub fn forget_session(folder: &Path, forget_ms: i64) -> Result<(), JournalError> {
        Self::append(folder, &Forgotten { forget_ms })?;
        let notes = Self::notes_folder(folder);
        let Ok(names) = std::fs::read_dir(&notes) else {
            return Ok(());
        };
        let mine = format!("{forget_ms}-");
        let names = names.flatten().map(|name| name.path());
        for path in names.filter(|p| is_note_of(p, &mine)) {
            std::fs::remove_file(&path).map_err(|e| JournalError::from_io(&path, e))?;
        }
        Ok(())
    }

    /// When the sessions began that it knows of, the latest first.
    pub fn sessions(&self) -> Vec<i64> {
        let rises = self.rises.iter().map(|r| r.began_ms);
        let weighed = self.went_in.iter().map(|w| w.began_ms);
        let bakes = self.bakes.iter().map(|b| b.began_ms);
        let mut all: Vec<i64> = rises.chain(weighed).chain(bakes).collect();
        all.sort_unstable();
        all.dedup();
        all.reverse();
        all
    }

    /// What the cook is told of the last bake of a formula; nothing where there was none.
    pub fn last_time(&self, formula: &str) -> Option<LastTime> {
        let last = self
            .bakes
            .iter()
            .rev()
            .find(|b| b.account.bake == formula)?;
        let of_it = |name: &str, began: i64| name == formula && began == last.began_ms;
        let rises = self.rises.iter().filter(|r| of_it(&r.formula, r.began_ms));
        // A note stands until the formula was baked again.
        let notes = self.notes.iter().filter(|n| of_it(&n.formula, n.began_ms));
        let recordings: Vec<Option<String>> = notes.clone().map(|n| n.recording.clone()).collect();
        let mut words = self.words.iter().rev();
        Some(LastTime {
            at_ms: last.at_ms,
            account: last.account.clone(),
            rises: rises.map(|r| (r.timer.clone(), r.took)).collect(),
            notes: notes.map(|n| n.note.clone()).collect(),
            recordings: if recordings.iter().any(Option::is_some) {
                recordings
            } else {
                Vec::new()
            },
            word: words
                .find(|w| of_it(&w.formula, w.began_ms))
                .map(|w| w.word.clone()),
        })
    }

    /// All that is remembered of a formula for the next bake of it: its oven takes so long to get hot as it is written, and
    /// the room is as warm as that.
    pub fn remembered(&self, formula: &str, oven: Option<Span>, room_c: Option<f64>) -> Remembered {
        let always = |(lasts, bakes): (Span, usize)| OwnTime {
            lasts,
            from: lasts,
            to: lasts,
            last: lasts,
            bakes: bakes as u32,
        };
        let mut own = self.own_times(formula, room_c);
        own.remove(OVEN);
        let oven = oven.and_then(|written| self.own_oven(written));
        own.extend(oven.map(|oven| (OVEN.to_owned(), always(oven))));
        let work = self.own_work(formula).into_iter();
        Remembered {
            own,
            work: work.map(|(title, own)| (title, always(own))).collect(),
            last: self.last_time(formula),
        }
    }

    /// How long the oven took to get hot here: the middle one of the latest, and of how many. A colder one is no measure
    /// for a hotter one, so that only those of formulas whose oven takes as long by the formula count.
    pub fn own_oven(&self, written: Span) -> Option<(Span, usize)> {
        let ovens = self.rises.iter().rev();
        let near = ovens.filter(|r| r.timer == OVEN && r.planned == written);
        middle_of(near.map(|r| r.took).take(LATEST))
    }

    /// How long the cook's own work takes at the steps of a formula that are only work, by the step's heading: the middle
    /// one of the latest, and of how many.
    pub fn own_work(&self, formula: &str) -> BTreeMap<String, (Span, usize)> {
        let mut latest: BTreeMap<&str, Vec<Span>> = BTreeMap::new();
        let bakes = self.bakes.iter().rev();
        for bake in bakes.filter(|b| b.account.bake == formula) {
            let work = bake.account.steps.iter().filter(|s| s.hands == s.planned);
            // Who leaves in the middle of a step has not done it; what took a third or thrice was something else.
            for step in work.filter(|s| {
                let (took, written) = (s.took.as_millis(), s.hands.as_millis());
                written > 0
                    && took.saturating_mul(3) >= written
                    && took <= written.saturating_mul(3)
            }) {
                latest.entry(&step.title).or_default().push(step.took);
            }
        }
        let middles = latest.into_iter().filter_map(|(title, mut times)| {
            times.truncate(LATEST);
            Some((title.to_owned(), middle_of(times.into_iter())?))
        });
        middles.collect()
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

/// A file that is called so, and is a note.
fn is_note_of(path: &Path, begins: &str) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy());
    let note = path.extension().is_some_and(|e| e == "flac");
    note && name.is_some_and(|name| name.starts_with(begins))
}

/// The middle one in whole minutes, and of how many.
fn middle_of(times: impl Iterator<Item = Span>) -> Option<(Span, usize)> {
    let mut times: Vec<u64> = times.map(Span::as_millis).collect();
    times.sort_unstable();
    let (low, high) = (times.len().checked_sub(1)? / 2, times.len() / 2);
    let middle = Span::millis(u64::midpoint(times[low], times[high]));
    Some((to_minutes(middle), times.len()))
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
        bakes: rises.len() as u32,
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
    use crate::bench::{Account, PutIn, StepTaken};
    use crate::journal::scratch::Scratch;
    use std::fs;
    use std::os::unix::fs::PermissionsExt;
    use std::time::{Duration, Instant};

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
                bakes: 5,
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

    fn bake(formula: &str, day: i64, shaped: u64) -> Bake {
        let m = Span::minutes;
        let step = |title: &str, hands, wait, took| StepTaken {
            title: title.to_owned(),
            planned: m(hands + wait),
            hands: m(hands),
            took: m(took),
            oven: title == "Bake",
        };
        let put_in = |name: &str, wanted_g, really_g, water| PutIn {
            name: name.to_owned(),
            wanted_g,
            really_g,
            water,
        };
        let steps = [
            step("Weigh", 4, 0, 6),
            step("First rise", 3, 60, 80),
            step("Shape", 8, 0, shaped),
            step("Bake", 2, 35, 40),
        ];
        let went_in = [
            put_in("strong white flour", 500.0, Some(502.0), false),
            put_in("water", 330.0, Some(322.0), true),
            put_in("fine salt", 10.0, None, false),
        ];
        let at = rise(formula, "first rise", day, 80, Some(21.0));
        Bake {
            account: Account {
                bake: formula.to_owned(),
                room_c: Some(21.0),
                took: m(200),
                finished: true,
                steps: steps.to_vec(),
                went_in: went_in.to_vec(),
                swaps: vec![("butter".to_owned(), "margarine".to_owned())],
                ..Account::default()
            },
            began_ms: at.began_ms,
            at_ms: at.at_ms,
            offset_s: 0,
        }
    }

    #[test]
    fn the_last_time_is_known_and_a_session_can_be_forgotten() {
        let scratch = Scratch::new();
        let folder = scratch.path();
        for (day, shaped) in [(0, 10), (1, 12), (2, 100)] {
            Log::append(folder, &rise("tin loaf", "first rise", day, 80, None)).unwrap();
            Log::append(folder, &bake("tin loaf", day, shaped)).unwrap();
        }
        let began_ms = bake("tin loaf", 2, 0).began_ms;
        let formula = "tin loaf".to_owned();
        let note = CooksNote {
            note: "ten grams less water".to_owned(),
            recording: None,
            formula: formula.clone(),
            began_ms,
            at_ms: began_ms + 1000,
        };
        let word = Word {
            word: "a bit dense".to_owned(),
            formula,
            began_ms,
            at_ms: began_ms + 2000,
        };
        Log::append(folder, &note).unwrap();
        Log::append(folder, &word).unwrap();
        let log = Log::read(folder).unwrap();
        let m = Span::minutes;
        // A hundred minutes of shaping were something else.
        assert_eq!(log.own_work("tin loaf")["Shape"], (m(11), 2));
        assert_eq!(log.own_work("tin loaf").get("First rise"), None);
        let last = log.last_time("tin loaf").unwrap();
        let wall = |days: i64| {
            let ms = last.at_ms + days * 86_400_000;
            crate::time::Wall::fixed(ms, 0)
        };
        assert_eq!(
            last.opening(&wall(9)).unwrap(),
            "Last time, nine days ago: the first rise took one hour and twenty minutes; you took margarine for butter; it was \
             a bit dense; you noted: ten grams less water."
        );
        assert_eq!(
            last.water(&wall(1)),
            "Three hundred and twenty two grams, yesterday."
        );
        assert!(
            last.took(&wall(0))
                .starts_with("Earlier today, three hours and twenty minutes in all;")
        );
        assert!(
            last.did(&wall(40))
                .contains("three hundred and twenty two grams of water went in")
        );
        assert!(
            last.did(&wall(40))
                .starts_with("Five weeks ago, you made it as written")
        );
        assert_eq!(log.last_time("soup"), None);
        // Forgotten: the one before is the last, and nothing of it counts; the lines stay.
        let before = fs::read(Log::file(folder)).unwrap();
        let forget_ms = log.sessions()[0];
        Log::append(folder, &Forgotten { forget_ms }).unwrap();
        assert!(fs::read(Log::file(folder)).unwrap().starts_with(&before));
        let log = Log::read(folder).unwrap();
        assert_eq!((log.bakes.len(), log.rises.len(), log.bad_lines), (2, 2, 0));
        assert_eq!((log.notes.len(), log.words.len()), (0, 0));
        assert_eq!(own(&log, "tin loaf", "first rise", None).unwrap().bakes, 2);
        assert_eq!(
            log.last_time("tin loaf").unwrap().notes,
            Vec::<String>::new()
        );
    }

    /// Whatever stands in a line that was torn, the others are read.
    #[test]
    fn a_torn_line_of_any_kind_costs_itself_only() {
        let scratch = Scratch::new();
        let file = Log::file(scratch.path());
        Log::append(scratch.path(), &bake("tin loaf", 0, 9)).unwrap();
        let one = fs::read(&file).unwrap();
        for cut in (1..one.len() - 1).step_by(7) {
            fs::write(&file, &one[..cut]).unwrap();
            Log::append(scratch.path(), &bake("tin loaf", 1, 9)).unwrap();
            let log = Log::read(scratch.path()).unwrap();
            assert_eq!((log.bakes.len(), log.bad_lines), (1, 1), "cut at {cut}");
        }
    }

    #[test]
    fn a_year_of_four_hundred_sessions_answers_at_once() {
        let scratch = Scratch::new();
        let mut lines = String::new();
        for day in 0..400 {
            let name = ["tin loaf", "seed rolls", "soup", "poolish loaf"][day as usize % 4];
            for timer in ["first rise", "second rise", "bake"] {
                lines += &line::encode(&rise(name, timer, day, 50, Some(21.0))).unwrap();
            }
            lines += &line::encode(&bake(name, day, 9)).unwrap();
        }
        fs::write(Log::file(scratch.path()), lines).unwrap();
        let answer = || {
            let begun = Instant::now();
            let log = Log::read(scratch.path()).unwrap();
            assert_eq!((log.bakes.len(), log.bad_lines), (400, 0));
            assert!(log.last_time("tin loaf").is_some());
            assert_eq!(log.own_times("tin loaf", Some(19.0)).len(), 3);
            assert_eq!(log.own_work("tin loaf").len(), 2);
            assert_eq!(log.sessions().len(), 400);
            begun.elapsed()
        };
        // An unoptimised build takes some ten times as long.
        let most = if cfg!(debug_assertions) { 300 } else { 20 };
        let best = (0..5).map(|_| answer()).min().unwrap();
        assert!(best <= Duration::from_millis(most), "{best:?}");
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
