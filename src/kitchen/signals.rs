//! The signals that ask a session to stop.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crossbeam_channel::{Receiver, bounded};
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::flag;
use signal_hook::iterator::Signals;

/// What a shell tells of a program that a signal ended: 128 and the signal's number.
pub(super) fn exit_code(signal: i32) -> u8 {
    u8::try_from(128 + signal).unwrap_or(1)
}

/// The signal of a terminal that was closed.
pub(super) fn is_hang_up(signal: i32) -> bool {
    signal == SIGHUP
}

/// Listens for them. A second request to stop is obeyed at once, whatever the program is doing.
pub(super) fn watch() -> Receiver<i32> {
    let (sender, news) = bounded(8);
    let asked = Arc::new(AtomicBool::new(false));
    for signal in [SIGTERM, SIGINT] {
        // Where this fails the signal does what it always did.
        let _ = flag::register_conditional_shutdown(
            signal,
            i32::from(exit_code(signal)),
            Arc::clone(&asked),
        );
        let _ = flag::register(signal, Arc::clone(&asked));
    }
    if let Ok(mut signals) = Signals::new([SIGTERM, SIGINT, SIGHUP]) {
        let _ = std::thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                for signal in signals.forever() {
                    if sender.send(signal).is_err() {
                        return;
                    }
                }
            });
    }
    news
}

/// Whether the terminal behind standard input has gone.
pub(super) fn terminal_is_gone() -> bool {
    let input = std::io::stdin();
    let mut fds = [PollFd::new(&input, PollFlags::IN)];
    let now = Timespec {
        tv_sec: 0,
        tv_nsec: 0,
    };
    poll(&mut fds, Some(&now)).is_ok()
        && fds[0]
            .revents()
            .intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
}
