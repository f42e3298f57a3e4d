//! The terminal given back as it was, whoever has to do it: the end of the screen, a panic, a second signal.

use std::io::{self, Write};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::ThreadId;

use crossterm::cursor::Show;
use crossterm::execute;
use crossterm::terminal::{LeaveAlternateScreen, disable_raw_mode};

/// The terminal is a screen now.
static DRAWN_ON: AtomicBool = AtomicBool::new(false);
/// The thread that a session runs on.
static SESSION: OnceLock<ThreadId> = OnceLock::new();

/// The name of the thread that draws.
pub(crate) const DRAWER: &str = "screen";

/// The terminal becomes a screen. A panic of the session or of the drawing gives it back before it is told; one of another
/// thread is left to whoever notices that the thread has gone, since the session goes on.
pub(super) fn taken() {
    DRAWN_ON.store(true, Ordering::SeqCst);
    if SESSION.set(std::thread::current().id()).is_err() {
        return;
    }
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        let thread = std::thread::current();
        let ours = SESSION.get() == Some(&thread.id()) || thread.name() == Some(DRAWER);
        if ours {
            give_back();
        }
        if ours || !DRAWN_ON.load(Ordering::SeqCst) {
            before(panic);
        }
    }));
}

/// Gives the terminal back, where it is a screen; true where that was so.
pub fn give_back() -> bool {
    if !DRAWN_ON.swap(false, Ordering::SeqCst) {
        return false;
    }
    // A terminal that has gone, or takes no more, can be given nothing back.
    let raw = disable_raw_mode().is_ok();
    let mut out = io::stdout();
    execute!(out, LeaveAlternateScreen, Show)
        .and_then(|()| out.flush())
        .is_ok()
        && raw
}
