//! Messages of libraries kept away from the terminal: those of ALSA would be written across the screen, or between the lines
//! that a screen reader reads. Our own words still come through.

use std::fs::File;
use std::io::{self, Write};
use std::os::fd::OwnedFd;
use std::sync::OnceLock;

/// Standard error as it was.
static KEPT: OnceLock<OwnedFd> = OnceLock::new();

/// Sends standard error nowhere; a panic brings it back before it speaks.
pub(super) fn hush() {
    let stderr = io::stderr();
    if KEPT.get().is_some() {
        return;
    }
    let (Ok(kept), Ok(nowhere)) = (
        rustix::io::fcntl_dupfd_cloexec(&stderr, 3),
        File::options().write(true).open("/dev/null"),
    ) else {
        return;
    };
    if KEPT.set(kept).is_err() || rustix::stdio::dup2_stderr(&nowhere).is_err() {
        return;
    }
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        if let Some(kept) = KEPT.get() {
            let _ = rustix::stdio::dup2_stderr(kept);
        }
        before(panic);
    }));
}

/// A line of our own to standard error, hushed or not. Nobody may read it.
pub(super) fn tell(line: &str) {
    let line = format!("{line}\n");
    let _ = match KEPT.get() {
        Some(kept) => rustix::io::write(kept, line.as_bytes())
            .map(|_| ())
            .map_err(io::Error::from),
        None => io::stderr().write_all(line.as_bytes()),
    };
}
