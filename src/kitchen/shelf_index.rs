//! What the formulas of the book are called, without reading each of them every time: a file in the cache folder keeps it
//! for as long as a formula's file has the same size and time.

use std::collections::HashMap;
use std::ffi::OsString;
use std::fs::File;
use std::io::{Read as _, Write as _};
use std::os::unix::fs::MetadataExt as _;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::formula::LARGEST;

/// How much of a file is read for its head at first.
const HEAD: u64 = 8 << 10;
/// From so many formulas on what they are called is kept.
const WORTH_KEEPING: usize = 50;
/// The largest file of it that is read.
const MOST: u64 = 64 << 20;

/// What a formula is called and found by: the head of its file.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Head {
    #[serde(default)]
    pub(super) name: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) also: Vec<String>,
    #[serde(default)]
    pub(super) about: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) tags: Vec<String>,
}

/// One line of the cache.
#[derive(Serialize, Deserialize)]
struct Line {
    path: String,
    /// Seconds and nanoseconds of its last change, and its size.
    key: (i64, i64, u64),
    head: Head,
}

/// The heads of these files, in their order; one that cannot be read is called by its file.
pub(super) fn heads(paths: &[PathBuf]) -> Vec<Head> {
    let worth = paths.len() >= WORTH_KEEPING;
    let cache = worth.then(cache_file).flatten();
    let mut known = cache.as_deref().map(read_cache).unwrap_or_default();
    let keys: Vec<Option<(i64, i64, u64)>> = in_parts(paths, |path| key_of(path));
    let mut heads: Vec<Option<Head>> = paths
        .iter()
        .zip(&keys)
        .map(|(path, key)| {
            let line = known.remove(path.to_str()?)?;
            (Some(line.key) == *key).then_some(line.head)
        })
        .collect();
    let new: Vec<usize> = (0..paths.len()).filter(|at| heads[*at].is_none()).collect();
    for (at, head) in new.iter().zip(in_parts(&new, |at| head_of(&paths[*at]))) {
        heads[*at] = Some(head);
    }
    let heads: Vec<Head> = heads.into_iter().map(Option::unwrap_or_default).collect();
    if let (Some(cache), false) = (cache, new.is_empty()) {
        let lines = paths.iter().zip(keys).zip(&heads);
        let lines = lines.filter_map(|((path, key), head)| {
            let (path, key, head) = (path.to_str()?.to_owned(), key?, head.clone());
            Some(Line { path, key, head })
        });
        // What is of other folders stays known.
        let all: Vec<Line> = lines.chain(known.into_values()).collect();
        // Without it everything works, only slower.
        let _ = write_cache(&cache, &all);
    }
    heads
}

/// Work on many things by all processors.
fn in_parts<T: Sync, U: Send>(things: &[T], work: impl Fn(&T) -> U + Sync) -> Vec<U> {
    let threads = std::thread::available_parallelism()
        .map_or(1, usize::from)
        .min(8);
    let part = things.len().div_ceil(threads).max(64);
    std::thread::scope(|scope| {
        let work = &work;
        let parts: Vec<_> = things
            .chunks(part)
            .map(|part| scope.spawn(move || part.iter().map(work).collect::<Vec<U>>()))
            .collect();
        parts
            .into_iter()
            .flat_map(|part| part.join().unwrap_or_default())
            .collect()
    })
}

fn key_of(path: &Path) -> Option<(i64, i64, u64)> {
    let about = std::fs::metadata(path).ok()?;
    about
        .is_file()
        .then(|| (about.mtime(), about.mtime_nsec(), about.size()))
}

fn head_of(path: &Path) -> Head {
    read_head(path).unwrap_or_else(|| Head {
        name: path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .replace('-', " "),
        ..Head::default()
    })
}

fn read_head(path: &Path) -> Option<Head> {
    let text = |most: u64| {
        let about = std::fs::metadata(path).ok()?;
        let mut bytes = Vec::new();
        let file = about.is_file().then(|| File::open(path))?.ok()?;
        file.take(most).read_to_end(&mut bytes).ok()?;
        Some(String::from_utf8_lossy(&bytes).into_owned())
    };
    let named = |head: &Head| !head.name.trim().is_empty();
    let start = text(HEAD)?;
    let head = start
        .find("\n[")
        .and_then(|at| toml::from_str::<Head>(&start[..at]).ok())
        .filter(named);
    // A bracket at the beginning of a line may stand within a text.
    head.or_else(|| {
        toml::from_str::<Head>(&text(LARGEST as u64)?)
            .ok()
            .filter(named)
    })
}

/// `$XDG_CACHE_HOME/commis/book.jsonl`, or `~/.cache/commis/book.jsonl`.
fn cache_file() -> Option<PathBuf> {
    let absolute = |value: Option<OsString>| value.map(PathBuf::from).filter(|p| p.is_absolute());
    let base = absolute(std::env::var_os("XDG_CACHE_HOME"))
        .or_else(|| absolute(std::env::var_os("HOME")).map(|home| home.join(".cache")));
    base.map(|base| base.join("commis/book.jsonl"))
}

fn read_cache(cache: &Path) -> HashMap<String, Line> {
    let text = crate::outside::read_text(cache, MOST).unwrap_or_default();
    let lines = text
        .lines()
        .filter_map(|line| serde_json::from_str::<Line>(line).ok());
    lines.map(|line| (line.path.clone(), line)).collect()
}

/// Written beside and put in its place, so that a stop leaves no half of it; what is gone from the disk is left out.
fn write_cache(cache: &Path, lines: &[Line]) -> std::io::Result<()> {
    let folder = cache.parent().unwrap_or(Path::new("/"));
    std::fs::create_dir_all(folder)?;
    let beside = cache.with_extension(format!("{}.new", std::process::id()));
    let mut text = String::new();
    for line in lines {
        text += &serde_json::to_string(line)?;
        text.push('\n');
    }
    let written = File::create(&beside).and_then(|mut file| file.write_all(text.as_bytes()));
    let put = written.and_then(|()| std::fs::rename(&beside, cache));
    if put.is_err() {
        let _ = std::fs::remove_file(&beside);
    }
    put
}
