//! The signals that ask a session to stop.

use std::time::Duration;

use crossbeam_channel::{Receiver, bounded};
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM};
use signal_hook::iterator::Signals;

/// A terminal is given back within this.
const PATIENCE: Duration = Duration::from_millis(300);

/// What a shell tells of a program that a signal ended: 128 and the signal's number.
pub(super) fn exit_code(signal: i32) -> u8 {
    u8::try_from(128 + signal).unwrap_or(1)
}

/// The signal of a terminal that was closed.
pub(super) fn is_hang_up(signal: i32) -> bool {
    signal == SIGHUP
}

/// Listens for them. A second request to stop is obeyed at once, whatever the session is doing; the terminal is given back
/// first.
pub(super) fn watch() -> Receiver<i32> {
    let (sender, news) = bounded(8);
    // Where this fails the signals do what they always did.
    if let Ok(mut signals) = Signals::new([SIGTERM, SIGINT, SIGQUIT, SIGHUP]) {
        let _ = std::thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                let mut asked = false;
                for signal in signals.forever() {
                    if asked && !is_hang_up(signal) {
                        leave_now(signal);
                    }
                    asked |= !is_hang_up(signal);
                    if sender.try_send(signal).is_err() {
                        return;
                    }
                }
            });
    }
    news
}

/// Ends the program. A terminal that takes nothing is not waited for.
fn leave_now(signal: i32) -> ! {
    let (done, given) = bounded(1);
    std::thread::spawn(move || {
        crate::screen::give_back();
        let _ = done.send(());
    });
    let _ = given.recv_timeout(PATIENCE);
    signal_hook::low_level::exit(i32::from(exit_code(signal)))
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
