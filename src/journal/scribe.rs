//! Writing the journal beside the session, so that an alarm never waits for the disk.

use std::path::{Path, PathBuf};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, bounded, unbounded};

use super::error::JournalError;
use super::file::{Entry, Journal};
use super::header::Header;
use crate::time::Moment;

/// What the disk refused is tried again after this, and the file looked for.
const AGAIN: Duration = Duration::from_secs(5);

/// A journal with a thread of its own.
#[derive(Debug)]
pub struct Scribe {
    jobs: Sender<Job>,
    news: Receiver<ScribeNews>,
    thread: JoinHandle<()>,
}

/// What the cook should know of the journal; each is told once until it changes.
#[derive(Debug, PartialEq, Eq)]
pub enum ScribeNews {
    /// The disk refuses; what it refused is kept and tried again. The sentence for the cook.
    Refused(&'static str),
    /// Everything is on the disk again.
    Whole,
    /// The file or its folder was deleted while the session ran, and has been written again.
    Deleted,
}

#[derive(Debug)]
enum Job {
    Write(Box<Entry>, Option<Sender<()>>),
    Finish(Moment, Sender<Result<(), JournalError>>),
}

impl Scribe {
    /// Begins to write.
    pub fn start(journal: Journal) -> Self {
        let (jobs, todo) = unbounded();
        let (tell, news) = unbounded();
        let thread = std::thread::spawn(move || work(journal, &todo, &tell));
        Self { jobs, news, thread }
    }

    /// Begins to write as soon as the disk lets a journal be made; what happens until then is kept.
    pub fn later(folder: PathBuf, header: Header) -> Self {
        let (jobs, todo) = unbounded();
        let (tell, news) = unbounded();
        let thread = std::thread::spawn(move || {
            if let Some(journal) = wait_for_room(&folder, &header, &todo) {
                let _ = tell.send(ScribeNews::Whole);
                work(journal, &todo, &tell);
            }
        });
        Self { jobs, news, thread }
    }

    /// Writes an entry, some time soon.
    pub fn write(&self, entry: Entry) {
        let _ = self.jobs.send(Job::Write(Box::new(entry), None));
    }

    /// Writes an entry, and comes back when it is on the disk, when the disk refuses it, or after `wait`.
    pub fn write_first(&self, entry: Entry, wait: Duration) {
        let (done, wait_for) = bounded(1);
        if self
            .jobs
            .send(Job::Write(Box::new(entry), Some(done)))
            .is_ok()
        {
            let _ = wait_for.recv_timeout(wait);
        }
    }

    /// What there is to tell.
    pub fn news(&self) -> Option<ScribeNews> {
        self.news.try_recv().ok()
    }

    /// Writes down that the session ended properly.
    ///
    /// # Errors
    /// When that could not be written within `wait`.
    pub fn finish(self, at: Moment, wait: Duration) -> Result<(), JournalError> {
        let (done, wait_for) = bounded(1);
        let _ = self.jobs.send(Job::Finish(at, done));
        let Ok(written) = wait_for.recv_timeout(wait) else {
            return Ok(());
        };
        let _ = self.thread.join();
        written
    }
}

/// The journal with all that was kept for it, once there is room for it; nothing where the session ends before.
fn wait_for_room(folder: &Path, header: &Header, todo: &Receiver<Job>) -> Option<Journal> {
    let mut kept: Vec<Entry> = Vec::new();
    let mut tried = Instant::now();
    loop {
        match todo.recv_timeout(AGAIN) {
            Ok(Job::Write(entry, done)) => {
                kept.push(*entry);
                if let Some(done) = done {
                    let _ = done.send(());
                }
            }
            Ok(Job::Finish(_, done)) => {
                let _ = done.send(Ok(()));
                return None;
            }
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return None,
        }
        if tried.elapsed() < AGAIN {
            continue;
        }
        tried = Instant::now();
        if let Ok(mut journal) = Journal::create(folder, header) {
            // What is refused from here on is kept by the journal.
            for entry in kept {
                let _ = journal.append(&entry);
            }
            return Some(journal);
        }
    }
}

fn work(mut journal: Journal, todo: &Receiver<Job>, tell: &Sender<ScribeNews>) {
    let mut refused = false;
    loop {
        let (written, done) = match todo.recv_timeout(AGAIN) {
            Ok(Job::Write(entry, done)) => (journal.append(&entry), done),
            Ok(Job::Finish(at, done)) => {
                let _ = done.send(journal.finish(at));
                return;
            }
            Err(RecvTimeoutError::Timeout) => (journal.try_again(), None),
            Err(RecvTimeoutError::Disconnected) => {
                let _ = journal.try_again();
                return;
            }
        };
        let written = written.and_then(|()| {
            if journal.is_there() {
                return Ok(false);
            }
            journal.write_again().map(|()| true)
        });
        let was = std::mem::replace(&mut refused, written.is_err());
        let news = match written {
            Err(e) if !was => Some(ScribeNews::Refused(e.spoken())),
            Ok(true) => Some(ScribeNews::Deleted),
            Ok(false) if was => Some(ScribeNews::Whole),
            _ => None,
        };
        if let Some(news) = news {
            let _ = tell.send(news);
        }
        if let Some(done) = done {
            let _ = done.send(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Event;
    use crate::journal::Readings;
    use crate::journal::scratch::Scratch;
    use crate::time::Wall;

    fn journal(folder: &std::path::Path) -> Journal {
        let readings = Readings {
            boot_id: "a".to_owned(),
            boot_ms: 0,
            wall: Wall::fixed(0, 0),
        };
        let header = Header::new("x", "y", serde_json::json!({}), &readings);
        Journal::create(folder, &header).unwrap()
    }

    fn tick(at: u64) -> Entry {
        Entry {
            at: Moment(at),
            event: Event::Tick,
            taken: None,
        }
    }

    #[test]
    fn a_folder_deleted_in_the_middle_is_told_and_written_again() {
        let scratch = Scratch::new();
        let folder = scratch.path().join("state");
        let journal = journal(&folder);
        let path = journal.path().to_path_buf();
        let scribe = Scribe::start(journal);
        let wait = Duration::from_secs(20);
        scribe.write_first(tick(1), wait);
        assert_eq!(scribe.news(), None);
        std::fs::remove_dir_all(&folder).unwrap();
        scribe.write_first(tick(2), wait);
        assert_eq!(scribe.news(), Some(ScribeNews::Deleted));
        scribe.write(tick(3));
        scribe.finish(Moment(4), wait).unwrap();
        let text = std::fs::read_to_string(path).unwrap();
        assert_eq!(text.lines().count(), 2 + 3 + 1, "{text}");
    }

    #[test]
    fn a_full_disk_is_told_once_and_so_is_its_end() {
        let scratch = Scratch::new();
        let mut journal = journal(scratch.path());
        let path = journal.path().to_path_buf();
        let full = std::fs::OpenOptions::new().append(true).open("/dev/full");
        journal.swap_file(full.unwrap());
        for at in 0..3 {
            let e = journal.append(&tick(at)).unwrap_err();
            assert!(e.spoken().starts_with("The disk is full"));
        }
        let again = std::fs::OpenOptions::new()
            .read(true)
            .append(true)
            .open(path);
        journal.swap_file(again.unwrap());
        journal.try_again().unwrap();
        assert_eq!(journal.waiting(), 0);
    }

    #[test]
    fn a_journal_that_could_not_be_made_is_made_when_it_can() {
        let scratch = Scratch::new();
        let folder = scratch.path().join("state");
        std::fs::write(&folder, "a file in its place").unwrap();
        let readings = Readings {
            boot_id: "a".to_owned(),
            boot_ms: 0,
            wall: Wall::fixed(0, 0),
        };
        let header = Header::new("x", "y", serde_json::json!({}), &readings);
        let scribe = Scribe::later(folder.clone(), header);
        let wait = Duration::from_secs(20);
        scribe.write_first(tick(1), wait);
        std::fs::remove_file(&folder).unwrap();
        let end = Instant::now() + wait;
        while scribe.news().is_none() {
            assert!(Instant::now() < end);
            std::thread::sleep(Duration::from_millis(50));
        }
        scribe.write(tick(2));
        scribe.finish(Moment(3), wait).unwrap();
        let journal = std::fs::read_dir(&folder).unwrap().next().unwrap().unwrap();
        let text = std::fs::read_to_string(journal.path()).unwrap();
        assert_eq!(text.lines().count(), 2 + 2 + 1, "{text}");
    }
}
