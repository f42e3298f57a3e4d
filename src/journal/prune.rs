//! Which journals are kept: the unfinished ones until they are finished, the others for a while.

use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use super::file::Record;
use super::line;

/// A session that ended, and the copy of a damaged one, is kept for so many days...
pub const KEPT_DAYS: u64 = 30;
/// ...and no more than so many of them.
pub const KEPT_SESSIONS: usize = 50;
/// The last line of a session that ended is shorter than this.
const LAST_LINE: u64 = 256;

/// Removes what is kept no longer. A file that cannot be read or removed stays: nothing depends on it.
pub fn prune(folder: &Path, now: SystemTime) {
    let Ok(names) = fs::read_dir(folder) else {
        return;
    };
    let mut old: Vec<(SystemTime, PathBuf)> = names
        .filter_map(|name| {
            let path = name.ok()?.path();
            let meta = fs::symlink_metadata(&path).ok()?;
            let extension = path.extension()?.to_str()?;
            let done = match extension {
                "journal" => meta.is_file() && has_ended(&path),
                other => meta.is_file() && other.starts_with("damaged"),
            };
            done.then_some((meta.modified().ok()?, path))
        })
        .collect();
    old.sort_by(|a, b| b.cmp(a));
    let too_old = |at: &SystemTime| {
        now.duration_since(*at)
            .is_ok_and(|age| age > Duration::from_secs(KEPT_DAYS * 86_400))
    };
    for (place, (at, path)) in old.iter().enumerate() {
        if place >= KEPT_SESSIONS || too_old(at) {
            let _ = fs::remove_file(path);
        }
    }
}

/// Its last line is the end of a session.
fn has_ended(path: &Path) -> bool {
    let tail = || -> std::io::Result<Vec<u8>> {
        let mut file = File::open(path)?;
        let length = file.metadata()?.len();
        file.seek(SeekFrom::Start(length.saturating_sub(LAST_LINE)))?;
        let mut tail = Vec::new();
        file.take(LAST_LINE).read_to_end(&mut tail)?;
        Ok(tail)
    };
    let Ok(tail) = tail() else { return false };
    let Some(whole) = tail.strip_suffix(b"\n") else {
        return false;
    };
    let last = whole.rsplit(|b| *b == b'\n').next().unwrap_or(whole);
    line::decode::<Record>(last).is_ok_and(|record| record.end.is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::scratch::Scratch;

    fn ended(folder: &Path, name: &str, days: u64) {
        let text = line::encode(&serde_json::json!({"n": 0, "end": {"at": 5}})).unwrap();
        fs::write(folder.join(name), text).unwrap();
        let at = SystemTime::now() - Duration::from_secs(days * 86_400);
        File::options()
            .write(true)
            .open(folder.join(name))
            .unwrap()
            .set_modified(at)
            .unwrap();
    }

    #[test]
    fn what_ended_goes_after_thirty_days_and_beyond_fifty() {
        let scratch = Scratch::new();
        let folder = scratch.path();
        for n in 0..60 {
            ended(folder, &format!("{n:02}.journal"), n);
        }
        fs::write(folder.join("unfinished.journal"), "{}\n").unwrap();
        fs::write(folder.join("log.jsonl"), "{}\n").unwrap();
        ended(folder, "x.damaged-2", 40);
        prune(folder, SystemTime::now() + Duration::from_mins(1));
        let left = |name: &str| folder.join(name).exists();
        assert!(left("00.journal") && left("29.journal"));
        assert!(!left("30.journal") && !left("59.journal") && !left("x.damaged-2"));
        assert!(left("unfinished.journal") && left("log.jsonl"));
        for n in 0..60 {
            ended(folder, &format!("{n:02}.journal"), 0);
        }
        prune(folder, SystemTime::now());
        let count = fs::read_dir(folder).unwrap().count();
        assert_eq!(count, KEPT_SESSIONS + 2);
    }
}
