//! The thread that finds the scale, reads it, and finds it again.

use std::fs;
use std::os::fd::{AsFd, BorrowedFd};
use std::os::unix::fs::{FileTypeExt, OpenOptionsExt};
use std::os::unix::net::UnixStream;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::Sender;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::fs::OFlags;
use rustix::io::Errno;
use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};

use super::ScaleNews;
use super::error::PortError;
use super::find::{FoundScale, PortOptions, Wanted, choose, find, layout, names};
use super::input::Input;
use super::relay::Relay;
use crate::scale::{Lines, Reading, ReportDecoder};

/// How often it is looked for while there is none.
const LOOK: Duration = Duration::from_millis(500);
/// How long one wait for bytes lasts at most, in milliseconds: a stop is noticed after this.
const WAIT_MS: u64 = 1_000;
/// How often a file is looked at that may have grown.
const GROWS: Duration = Duration::from_millis(100);
/// What one read takes at most, in bytes.
const READ: usize = 4096;

/// An open scale.
enum Port {
    Bytes(fs::File),
    Socket(UnixStream),
}

impl AsFd for Port {
    fn as_fd(&self) -> BorrowedFd<'_> {
        match self {
            Self::Bytes(file) => file.as_fd(),
            Self::Socket(socket) => socket.as_fd(),
        }
    }
}

/// A scale that is open, with how it is read and what it is called.
struct Open {
    port: Port,
    input: Input,
    name: String,
    /// It is a file: its end is not the end.
    grows: bool,
}

/// Finds the scale and tells what it shows until nobody listens; tells when it goes, and finds it again.
pub fn watch(options: PortOptions, news: Sender<ScaleNews>) {
    if options.wanted == Wanted::Off {
        return;
    }
    // A thread that cannot be started leaves weighing by hand.
    let _ = std::thread::Builder::new()
        .name("scale".to_owned())
        .spawn(move || watch_for_ever(&options, &news));
}

fn watch_for_ever(options: &PortOptions, news: &Sender<ScaleNews>) {
    let start = Instant::now();
    let now = || start.elapsed().as_millis() as u64;
    let never = AtomicBool::new(false);
    let mut seen = None;
    let mut told = None;
    loop {
        match open(options, &mut seen) {
            Ok(mut open) => {
                told = None;
                seen = None;
                if news.send(ScaleNews::Plugged(open.name)).is_err() {
                    return;
                }
                let alive = read_until_gone(
                    &open.port,
                    &mut open.input,
                    open.grows,
                    &never,
                    &now,
                    &mut |reading| news.send(ScaleNews::Reading(reading)).is_ok(),
                );
                drop(open.port);
                if !alive || news.send(ScaleNews::Unplugged).is_err() {
                    return;
                }
            }
            // Having no scale at all is no trouble.
            Err(PortError::None) => {}
            // What is not there yet may come.
            Err(PortError::Open { source, .. })
                if matches!(
                    source.kind(),
                    std::io::ErrorKind::NotFound | std::io::ErrorKind::ConnectionRefused
                ) => {}
            Err(e) => {
                // Another look: the rule that opens it may only be on its way.
                seen = None;
                let text = e.to_string();
                if told.as_ref() != Some(&text) {
                    if news.send(ScaleNews::NoScale(text.clone())).is_err() {
                        return;
                    }
                    told = Some(text);
                }
            }
        }
        std::thread::sleep(LOOK);
    }
}

/// Opens the scale that is wanted. Where one is looked for, nothing is looked at again before other devices are there.
fn open(options: &PortOptions, seen: &mut Option<Vec<String>>) -> Result<Open, PortError> {
    match &options.wanted {
        Wanted::Off => Err(PortError::None),
        Wanted::At(path) => open_at(path, options),
        Wanted::Any => {
            let here = names(&options.tells);
            if seen.as_ref() == Some(&here) {
                return Err(PortError::None);
            }
            *seen = Some(here);
            open_hid(choose(find(options))?)
        }
    }
}

fn open_hid(found: FoundScale) -> Result<Open, PortError> {
    let FoundScale { path, name, layout } = found;
    let file = fs::File::open(&path).map_err(|source| match source.kind() {
        std::io::ErrorKind::PermissionDenied => PortError::Denied { path: path.clone() },
        _ => PortError::Open {
            path: path.clone(),
            source,
        },
    })?;
    Ok(Open {
        port: Port::Bytes(file),
        input: Input::Reports(ReportDecoder::new(layout)),
        name,
        grows: false,
    })
}

fn open_at(path: &Path, options: &PortOptions) -> Result<Open, PortError> {
    let trouble = |source: std::io::Error| PortError::Open {
        path: path.to_owned(),
        source,
    };
    let name = path.display().to_string();
    let kind = fs::metadata(path).map_err(trouble)?.file_type();
    let real = fs::canonicalize(path).map_err(trouble)?;
    let node = real
        .file_name()
        .and_then(|n| n.to_str())
        .unwrap_or_default();
    if kind.is_char_device() && node.starts_with("hidraw") {
        let layout = layout(&options.tells, node).ok_or_else(|| PortError::NoScale {
            path: path.to_owned(),
        })?;
        let path = real.clone();
        return open_hid(FoundScale { path, name, layout });
    }
    let port = if kind.is_socket() {
        Port::Socket(UnixStream::connect(path).map_err(trouble)?)
    } else if kind.is_char_device() {
        Port::Bytes(open_serial(path, options.rate).map_err(trouble)?)
    } else {
        // A pipe waits here until somebody writes.
        Port::Bytes(fs::File::open(path).map_err(trouble)?)
    };
    Ok(Open {
        port,
        input: Input::Text(Lines::default(), options.pattern.clone()),
        name,
        grows: kind.is_file(),
    })
}

/// A serial line, eight bits and nothing in between, that does not become the terminal of this process.
fn open_serial(path: &Path, rate: u32) -> std::io::Result<fs::File> {
    let flags = OFlags::NOCTTY | OFlags::NONBLOCK;
    let file = fs::OpenOptions::new()
        .read(true)
        .custom_flags(flags.bits().cast_signed())
        .open(path)?;
    let mut line = tcgetattr(&file)?;
    line.make_raw();
    line.set_speed(rate)?;
    tcsetattr(&file, OptionalActions::Now, &line)?;
    Ok(file)
}

/// Waits for bytes; nothing when none came in time, no bytes at the end.
fn wait_and_read(port: &impl AsFd, wait_ms: u64, bytes: &mut [u8]) -> Result<Option<usize>, Errno> {
    let wait = Timespec {
        tv_sec: (wait_ms / 1000) as i64,
        tv_nsec: (wait_ms % 1000 * 1_000_000) as i64,
    };
    match poll(&mut [PollFd::new(port, PollFlags::IN)], Some(&wait)) {
        Ok(0) | Err(Errno::INTR) => return Ok(None),
        Ok(_) => {}
        Err(e) => return Err(e),
    }
    match rustix::io::read(port, bytes) {
        Ok(n) => Ok(Some(n)),
        Err(Errno::INTR | Errno::AGAIN) => Ok(None),
        Err(e) => Err(e),
    }
}

/// Reads a scale's bytes until it has gone or `stop` is set (true), or `take` has no more use for it (false). Where it `grows`,
/// the end of what is there is not the end.
pub fn read_until_gone(
    port: &impl AsFd,
    input: &mut Input,
    grows: bool,
    stop: &AtomicBool,
    now: &dyn Fn() -> u64,
    take: &mut dyn FnMut(Reading) -> bool,
) -> bool {
    let mut bytes = [0; READ];
    let mut relay = Relay::default();
    loop {
        if stop.load(Ordering::Relaxed) {
            return true;
        }
        let due = relay.due().map(|due| due.saturating_sub(now()));
        let wait = due.unwrap_or(WAIT_MS).min(WAIT_MS);
        let readings = match wait_and_read(port, wait, &mut bytes) {
            Ok(Some(0)) if grows => {
                std::thread::sleep(GROWS);
                Vec::new()
            }
            Ok(Some(0)) | Err(_) => return true,
            Ok(Some(n)) => input.feed(&bytes[..n]),
            Ok(None) => Vec::new(),
        };
        let told = readings.into_iter().filter_map(|r| relay.take(r, now()));
        let mut told: Vec<Reading> = told.collect();
        told.extend(relay.tick(now()));
        for reading in told {
            if !take(reading) {
                return false;
            }
        }
    }
}
