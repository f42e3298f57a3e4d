//! The same keys from the terminal. Its bytes are read here and not by crossterm: where another size of the terminal comes
//! together with a key, that passes over the key until the next one.

use std::time::Instant;

use crossbeam_channel::Sender;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::termios::{Winsize, tcgetwinsize};

use super::KeyNews;
use super::repeats::{Press, Repeats};
use super::strokes::{Stroke, Strokes};

/// How long one wait for keys lasts at most. Another size of the terminal is noticed after this.
const LOOK_MS: u64 = 20;
/// The bytes of one key come together; an escape that nothing follows for so long is a key by itself.
const TOGETHER_MS: u64 = 60;

/// Watches the terminal's keys until nobody listens. The terminal must be in raw mode.
pub fn watch_terminal(news: Sender<KeyNews>) {
    // A thread that cannot be started, or a terminal that has gone, leaves the other ways in.
    let _ = std::thread::Builder::new()
        .name("terminal".to_owned())
        .spawn(move || read_terminal(&news));
}

fn read_terminal(news: &Sender<KeyNews>) -> std::io::Result<()> {
    let input = std::io::stdin();
    let start = Instant::now();
    let now = || start.elapsed().as_millis() as u64;
    let mut repeats = Repeats::default();
    let (mut strokes, mut came) = (Strokes::default(), 0);
    let mut size = size();
    loop {
        let wait = repeats
            .due()
            .map_or(LOOK_MS, |due| due.saturating_sub(now()).min(LOOK_MS));
        let mut bytes = [0; 256];
        let count = match wait_for_terminal(wait) {
            // Reading on would find its end over and over.
            Wait::Gone => return Ok(()),
            Wait::Nothing => 0,
            Wait::Bytes => match rustix::io::read(&input, &mut bytes) {
                Ok(0) => return Ok(()),
                Ok(count) => count,
                Err(e) if e == rustix::io::Errno::INTR || e == rustix::io::Errno::AGAIN => 0,
                Err(e) => return Err(e.into()),
            },
        };
        let mut told = Vec::new();
        if count > 0 {
            came = now();
        } else if now().saturating_sub(came) > TOGETHER_MS && strokes.rest().is_some() {
            told.push(KeyNews::Leave);
        }
        for stroke in bytes[..count].iter().filter_map(|byte| strokes.take(*byte)) {
            match stroke {
                Stroke::Leave | Stroke::LeaveNow => {
                    told.extend(repeats.other().into_iter().map(as_news));
                    told.push(match stroke {
                        Stroke::LeaveNow => KeyNews::LeaveNow,
                        _ => KeyNews::Leave,
                    });
                }
                Stroke::Key(key) => {
                    told.extend(repeats.press(key, now()).into_iter().map(as_news));
                }
            }
        }
        told.extend(repeats.tick(now()).into_iter().map(as_news));
        let now_of = self::size();
        if now_of != size {
            size = now_of;
            told.push(KeyNews::Resized);
        }
        for news_item in told {
            if news.send(news_item).is_err() {
                return Ok(());
            }
        }
    }
}

/// Columns and rows.
fn size() -> Option<(u16, u16)> {
    let of = |w: Winsize| (w.ws_col, w.ws_row);
    tcgetwinsize(std::io::stdin()).ok().map(of)
}

enum Wait {
    Bytes,
    Nothing,
    Gone,
}

/// Waits for bytes of the terminal, so many milliseconds at most.
fn wait_for_terminal(ms: u64) -> Wait {
    let input = std::io::stdin();
    let mut fds = [PollFd::new(&input, PollFlags::IN)];
    let limit = Timespec {
        tv_sec: 0,
        tv_nsec: (ms * 1_000_000) as i64,
    };
    let _ = poll(&mut fds, Some(&limit));
    let is = fds[0].revents();
    if is.intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL) {
        Wait::Gone
    } else if is.contains(PollFlags::IN) {
        Wait::Bytes
    } else {
        Wait::Nothing
    }
}

fn as_news(press: Press) -> KeyNews {
    match press {
        Press::Key(key) => KeyNews::Press(key),
        Press::Held(key) => KeyNews::Held(key),
    }
}
