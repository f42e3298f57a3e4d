//! The keypad itself: found, grabbed, read, and found again.

use std::collections::HashSet;
use std::fs;
use std::os::fd::{AsFd, BorrowedFd};
use std::os::unix::fs::{FileTypeExt, MetadataExt};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::Sender;
use evdev::KeyCode;
use evdev::raw_stream::RawDevice;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::io::Errno;

use super::KeyNews;
use super::codes::{KeyMap, NUM_LOCK};
use super::decoder::{Decoder, LOCK_MS, Signal};
use super::error::KeysError;
use super::facts::{Choice, Facts, choose};
use super::lesson::Lesson;
use super::reader::{EventReader, InputEvent};

/// How often the folder is looked at while there is no keypad.
const LOOK_MS: u64 = 400;
/// How long one wait for bytes lasts at most: a stop is noticed after this.
const WAIT_MS: u64 = 200;

/// What is wanted of the keypad.
#[derive(Debug, Clone)]
pub struct PadOptions {
    /// The keypad named in the settings.
    pub wanted: Option<String>,
    /// What was learnt of it.
    pub map: KeyMap,
    /// Where input devices lie.
    pub folder: PathBuf,
}

impl Default for PadOptions {
    fn default() -> Self {
        Self {
            wanted: None,
            map: KeyMap::new(),
            folder: PathBuf::from("/dev/input"),
        }
    }
}

impl PadOptions {
    /// A FIFO that was named in the place of a keypad: its events come from elsewhere, another machine for example.
    fn stand_in(&self) -> Option<&Path> {
        let path = Path::new(self.wanted.as_deref()?);
        let fifo = fs::metadata(path).is_ok_and(|m| m.file_type().is_fifo());
        (path.is_absolute() && fifo).then_some(path)
    }
}

/// An open keypad.
enum Pad {
    Device(RawDevice),
    StandIn(fs::File),
}

impl AsFd for Pad {
    fn as_fd(&self) -> BorrowedFd<'_> {
        match self {
            Self::Device(device) => device.as_fd(),
            Self::StandIn(file) => file.as_fd(),
        }
    }
}

/// Waits until somebody writes.
fn open_stand_in(path: &Path) -> Result<(Pad, String), KeysError> {
    let opened = fs::File::open(path).map_err(|_| KeysError::Denied {
        path: path.to_owned(),
    });
    opened.map(|file| (Pad::StandIn(file), path.display().to_string()))
}

/// The input devices that have digits, and the nodes that may not be opened.
#[derive(Debug, Clone, Default)]
pub struct Pads {
    /// What could be looked at.
    pub facts: Vec<Facts>,
    /// What could not.
    pub denied: Vec<PathBuf>,
}

impl Pads {
    /// The keypad to use.
    ///
    /// # Errors
    /// When there is none, none may be opened, or several would do.
    pub fn choose(&self, wanted: Option<&str>) -> Result<(&Facts, bool), KeysError> {
        match choose(&self.facts, wanted) {
            Choice::Take(at) => Ok((&self.facts[at], true)),
            Choice::Share(at) => Ok((&self.facts[at], false)),
            Choice::Several(all) => Err(KeysError::Several {
                ids: all.iter().map(|i| self.facts[*i].id.clone()).collect(),
            }),
            Choice::None => Err(match self.denied.first() {
                Some(path) => KeysError::Denied { path: path.clone() },
                None => KeysError::None,
            }),
        }
    }
}

fn nodes(folder: &Path) -> Result<Vec<PathBuf>, KeysError> {
    let trouble = |source| KeysError::Folder {
        path: folder.to_owned(),
        source,
    };
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        // A machine without any input device has no folder.
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(e) => return Err(trouble(e)),
    };
    let mut nodes: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|path| {
            path.file_name()
                .and_then(|n| n.to_str())
                .and_then(|n| n.strip_prefix("event"))
                .is_some_and(|n| n.parse::<u32>().is_ok())
        })
        .collect();
    nodes.sort();
    Ok(nodes)
}

fn links(folder: &Path, node: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder.join("by-id")) else {
        return Vec::new();
    };
    let mut names: Vec<String> = entries
        .filter_map(Result::ok)
        .filter(|e| fs::canonicalize(e.path()).is_ok_and(|to| to == node))
        .filter_map(|e| e.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

fn facts_of(device: &RawDevice, path: &Path, folder: &Path) -> Facts {
    const ROWS: [std::ops::RangeInclusive<u16>; 3] = [16..=25, 30..=38, 44..=50];
    let has = |code: u16| {
        device
            .supported_keys()
            .is_some_and(|keys| keys.contains(KeyCode::new(code)))
    };
    let digit = |d: u8| {
        (0..=u16::from(u8::MAX))
            .any(|c| has(c) && super::code_key(c) == Some(crate::bench::Key::Digit(d)))
    };
    let id = device.input_id();
    let place = device.physical_path().unwrap_or("");
    Facts {
        id: format!(
            "{:04x}:{:04x}:{:04x}@{place}",
            id.bus_type().0,
            id.vendor(),
            id.product()
        ),
        links: links(folder, path),
        name: device.name().unwrap_or("").to_owned(),
        path: path.to_owned(),
        letters: ROWS.into_iter().flatten().filter(|c| has(*c)).count(),
        digits: (0..10).filter(|d| digit(*d)).count(),
        enter: has(KeyCode::KEY_KPENTER.code()) || has(KeyCode::KEY_ENTER.code()),
        made_up: id.bus_type() == evdev::BusType::BUS_VIRTUAL,
    }
}

/// Looks at every input device.
///
/// # Errors
/// When the folder of devices cannot be read.
pub fn find(folder: &Path) -> Result<Pads, KeysError> {
    let mut pads = Pads::default();
    for path in nodes(folder)? {
        match RawDevice::open(&path) {
            Ok(device) => {
                let facts = facts_of(&device, &path, folder);
                if facts.digits > 0 {
                    pads.facts.push(facts);
                }
            }
            Err(e) if e.kind() == std::io::ErrorKind::PermissionDenied => pads.denied.push(path),
            // It went while we looked, or is no evdev device.
            Err(_) => {}
        }
    }
    Ok(pads)
}

/// The devices already looked at and found wanting: a node is looked at again when it is another one.
#[derive(Default)]
struct Seen(HashSet<(PathBuf, u64, i64, i64)>);

impl Seen {
    /// Is there a node that has not been looked at? One that may not be opened yet stays new: the rule that opens it
    /// may only be on its way.
    fn anything_new(&self, folder: &Path) -> bool {
        nodes(folder)
            .unwrap_or_default()
            .iter()
            .any(|n| !Self::mark(n).is_some_and(|m| self.0.contains(&m)))
    }

    fn remember(&mut self, folder: &Path, pads: &Pads) {
        self.0 = nodes(folder)
            .unwrap_or_default()
            .iter()
            .filter(|n| !pads.denied.contains(n))
            .filter_map(|n| Self::mark(n))
            .collect();
    }

    fn mark(node: &Path) -> Option<(PathBuf, u64, i64, i64)> {
        let m = fs::metadata(node).ok()?;
        Some((node.to_owned(), m.ino(), m.ctime(), m.ctime_nsec()))
    }
}

/// Finds the keypad, grabs it, and tells its keys until nobody listens; tells when it goes, and finds it again within
/// half a second of its coming back.
pub fn watch(options: PadOptions, news: Sender<KeyNews>) {
    // A thread that cannot be started leaves the other ways in.
    let _ = std::thread::Builder::new()
        .name("keypad".to_owned())
        .spawn(move || watch_for_ever(&options, &news));
}

fn watch_for_ever(options: &PadOptions, news: &Sender<KeyNews>) {
    let start = Instant::now();
    let now = || start.elapsed().as_millis() as u64;
    let never = AtomicBool::new(false);
    let mut seen = Seen::default();
    let mut told = None;
    loop {
        let opened = match options.stand_in() {
            Some(path) => Some(open_stand_in(path)),
            None if seen.anything_new(&options.folder) => {
                Some(find(&options.folder).and_then(|pads| {
                    seen.remember(&options.folder, &pads);
                    take(&pads, options)
                }))
            }
            None => None,
        };
        if let Some(opened) = opened {
            match opened {
                Ok((device, name)) => {
                    told = None;
                    seen = Seen::default();
                    if news.send(KeyNews::Plugged(name)).is_err() {
                        return;
                    }
                    let mut decoder = Decoder::new(options.map.clone());
                    let alive =
                        read_until_gone(&device, &mut decoder, &never, &now, &mut |signal| {
                            tell(news, signal)
                        });
                    drop(device);
                    if !alive || news.send(KeyNews::Unplugged).is_err() {
                        return;
                    }
                }
                // Only what the cook can mend is told, and once: having no keypad at all is no trouble.
                Err(e @ (KeysError::Several { .. } | KeysError::Folder { .. })) => {
                    let text = e.to_string();
                    if told.as_ref() != Some(&text) {
                        if news.send(KeyNews::NoKeypad(text.clone())).is_err() {
                            return;
                        }
                        told = Some(text);
                    }
                }
                // Held by another program, or not yet ours to open: once more.
                Err(KeysError::Denied { .. }) => seen = Seen::default(),
                Err(_) => {}
            }
        }
        std::thread::sleep(Duration::from_millis(LOOK_MS));
    }
}

fn take(pads: &Pads, options: &PadOptions) -> Result<(Pad, String), KeysError> {
    let (facts, grab) = pads.choose(options.wanted.as_deref())?;
    open(facts, grab).map(|device| (Pad::Device(device), facts.name.clone()))
}

fn open(facts: &Facts, grab: bool) -> Result<RawDevice, KeysError> {
    let denied = |_| KeysError::Denied {
        path: facts.path.clone(),
    };
    let mut device = RawDevice::open(&facts.path).map_err(denied)?;
    if grab {
        // A key that is down while the device is grabbed would stay down for every other program.
        for _ in 0..20 {
            if device
                .get_key_state()
                .is_ok_and(|down| down.iter().next().is_some())
            {
                std::thread::sleep(Duration::from_millis(100));
            }
        }
        // Another program may hold it; its keys would then be that program's.
        device.grab().map_err(denied)?;
    }
    Ok(device)
}

fn tell(news: &Sender<KeyNews>, signal: Signal) -> bool {
    let told = match signal {
        Signal::Key(key) => KeyNews::Press(key),
        Signal::Held(key) => KeyNews::Held(key),
        Signal::Odd(_) => return true,
    };
    news.send(told).is_ok()
}

/// Waits for bytes; nothing when none came in time, no bytes at the end.
fn wait_and_read(
    device: &impl AsFd,
    wait_ms: u64,
    bytes: &mut [u8],
) -> Result<Option<usize>, Errno> {
    let wait = Timespec {
        tv_sec: (wait_ms / 1000) as i64,
        tv_nsec: (wait_ms % 1000 * 1_000_000) as i64,
    };
    match poll(&mut [PollFd::new(device, PollFlags::IN)], Some(&wait)) {
        Ok(0) | Err(Errno::INTR) => return Ok(None),
        Ok(_) => {}
        Err(e) => return Err(e),
    }
    match rustix::io::read(device, bytes) {
        Ok(n) => Ok(Some(n)),
        Err(Errno::INTR | Errno::AGAIN) => Ok(None),
        Err(e) => Err(e),
    }
}

/// Reads a device's bytes until it has gone or `stop` is set (true), or `take` has no more use for keys (false).
pub fn read_until_gone(
    device: &impl AsFd,
    decoder: &mut Decoder,
    stop: &AtomicBool,
    now: &dyn Fn() -> u64,
    take: &mut dyn FnMut(Signal) -> bool,
) -> bool {
    let mut bytes = [0; 64 * InputEvent::SIZE];
    loop {
        if stop.load(Ordering::Relaxed) {
            return true;
        }
        let wait = decoder
            .due()
            .map_or(WAIT_MS, |due| due.saturating_sub(now()).min(WAIT_MS));
        let signals = match wait_and_read(device, wait, &mut bytes) {
            Ok(Some(0)) | Err(_) => {
                decoder.reset();
                return true;
            }
            Ok(Some(n)) => decoder.feed(&bytes[..n], now()),
            Ok(None) => decoder.tick(now()),
        };
        for signal in signals {
            if !take(signal) {
                return false;
            }
        }
    }
}

/// Teaches an odd keypad: says what to press through `say` and gives what it learnt.
///
/// # Errors
/// When there is no keypad to learn, or it goes during the lesson.
pub fn learn(options: &PadOptions, say: &mut dyn FnMut(&str)) -> Result<KeyMap, KeysError> {
    let (pad, _) = match options.stand_in() {
        Some(path) => open_stand_in(path)?,
        None => take(&find(&options.folder)?, options)?,
    };
    teach(&pad, say)
}

/// The lesson over any device. What is pressed in one go counts as one key: a NumLock around it is none, nor is its
/// own echo.
fn teach(device: &impl AsFd, say: &mut dyn FnMut(&str)) -> Result<KeyMap, KeysError> {
    let (mut lesson, mut reader) = (Lesson::default(), EventReader::default());
    let mut bytes = [0; 64 * InputEvent::SIZE];
    let mut pressed: Vec<u16> = Vec::new();
    say(&lesson.asks().unwrap_or_default());
    while lesson.asks().is_some() {
        let wait = if pressed.is_empty() { WAIT_MS } else { LOCK_MS };
        match wait_and_read(device, wait, &mut bytes) {
            Ok(Some(0)) | Err(_) => return Err(KeysError::Gone),
            Ok(Some(n)) => {
                let downs = reader.feed(&bytes[..n]).into_iter();
                let downs = downs.filter(|e| e.kind == InputEvent::KEY && e.value == 1);
                pressed.extend(downs.map(|e| e.code));
            }
            Ok(None) if pressed.is_empty() => {}
            Ok(None) => {
                let key = pressed.iter().find(|code| **code != NUM_LOCK);
                let answer = lesson.pressed(*key.unwrap_or(&NUM_LOCK));
                pressed.clear();
                if let Some(ask) = lesson.asks() {
                    say(&format!("{answer} {ask}"));
                }
            }
        }
    }
    Ok(lesson.map())
}
