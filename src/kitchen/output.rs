//! What is printed: clean of everything that steers a terminal, and never a reason to stop cooking.

use std::fmt::Display;
use std::fs::File;
use std::io::{self, IsTerminal, Write};
use std::os::fd::AsFd;
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crossbeam_channel::{Sender, bounded};

use super::trouble::Trouble;
use crate::clean;

/// So many lines wait for an output that takes none; what comes after them is left out.
const WAITING: usize = 1_000;
/// How often a printer that should end is looked at.
const LOOK: Duration = Duration::from_millis(5);

/// Prints, and ends quietly when nobody reads any more.
pub(super) fn print(text: &str) -> Result<(), Trouble> {
    print_bytes(clean::shown(text).as_bytes())
}

/// Gives out a file as it is.
pub(super) fn print_bytes(bytes: &[u8]) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => Err(Trouble::unread()),
        Err(e) => Err(Trouble::failed(format!("cannot print: {e}"))),
        Ok(()) => Ok(()),
    }
}

/// A word of trouble, to whoever reads it.
pub(super) fn complain(what: &dyn Display) {
    remark(&format_args!("commis: {what}"));
}

/// A word beside the output, to whoever reads it.
pub(super) fn remark(what: &dyn Display) {
    let text = what.to_string();
    super::hush::tell(&clean::shown(&text));
}

/// The lines of a live session. They are printed on a thread of their own: an output that is closed, full or stalled
/// holds up nothing.
pub(super) struct Printer {
    lines: Sender<String>,
    thread: Option<JoinHandle<()>>,
}

impl Printer {
    pub(super) fn start() -> Self {
        let (lines, inbox) = bounded::<String>(WAITING);
        let thread = std::thread::Builder::new()
            .name("printer".to_owned())
            .spawn(move || {
                // Not through the buffer of the standard library, which would keep what could not be written.
                let Ok(out) = io::stdout().as_fd().try_clone_to_owned() else {
                    return;
                };
                let mut out = File::from(out);
                for line in inbox {
                    // What cannot be printed now is lost; the next line may have more luck.
                    let _ = out.write_all(line.as_bytes());
                }
            })
            .ok();
        Self { lines, thread }
    }

    pub(super) fn line(&self, text: &str) {
        let _ = self.lines.try_send(format!("{}\n", clean::shown(text)));
    }

    /// Rings the bell of the terminal, where there is one.
    pub(super) fn bell(&self) {
        if io::stdout().is_terminal() {
            let _ = self.lines.try_send("\u{7}".to_owned());
        }
    }

    /// Prints what waits, within `patience`.
    pub(super) fn finish(self, patience: Duration) {
        drop(self.lines);
        let until = Instant::now() + patience;
        while self.thread.as_ref().is_some_and(|t| !t.is_finished()) && Instant::now() < until {
            std::thread::sleep(LOOK);
        }
    }
}
