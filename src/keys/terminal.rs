//! The same keys from the terminal.

use std::time::{Duration, Instant};

use crossbeam_channel::Sender;
use crossterm::event::{self, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use rustix::event::{PollFd, PollFlags, Timespec, poll};

use super::KeyNews;
use super::repeats::{Press, Repeats};
use crate::bench::Key;

/// How long one wait for keys lasts at most. Another size of the terminal is noticed after this; crossterm would pass over
/// keys that came together with it.
const LOOK_MS: u64 = 20;

/// The key of the keypad that a key of the terminal stands for.
pub fn key_of(key: &KeyEvent) -> Option<Key> {
    if key
        .modifiers
        .intersects(KeyModifiers::CONTROL | KeyModifiers::ALT | KeyModifiers::SUPER)
    {
        return None;
    }
    Some(match key.code {
        KeyCode::Char(c @ '0'..='9') => Key::Digit(c as u8 - b'0'),
        KeyCode::Char('+') => Key::Plus,
        KeyCode::Char('-') => Key::Minus,
        KeyCode::Char('*') => Key::Times,
        KeyCode::Char('/') => Key::Divide,
        KeyCode::Char('.' | ',') | KeyCode::Delete => Key::Dot,
        KeyCode::Enter => Key::Enter,
        KeyCode::Backspace => Key::Backspace,
        _ => return None,
    })
}

fn is_leave(key: &KeyEvent) -> bool {
    matches!(key.code, KeyCode::Char('c' | 'd')) && key.modifiers.contains(KeyModifiers::CONTROL)
}

/// Watches the terminal's keys until nobody listens. The terminal must be in raw mode.
pub fn watch_terminal(news: Sender<KeyNews>) {
    // A thread that cannot be started, or a terminal that has gone, leaves the other ways in.
    let _ = std::thread::Builder::new()
        .name("terminal".to_owned())
        .spawn(move || read_terminal(&news));
}

fn read_terminal(news: &Sender<KeyNews>) -> std::io::Result<()> {
    let start = Instant::now();
    let now = || start.elapsed().as_millis() as u64;
    let mut repeats = Repeats::default();
    while wait_for_terminal(
        repeats
            .due()
            .map_or(LOOK_MS, |due| due.saturating_sub(now()).min(LOOK_MS)),
    ) {
        let mut told = Vec::new();
        while event::poll(Duration::ZERO)? {
            match event::read()? {
                Event::Key(key) if key.kind == KeyEventKind::Release => {}
                Event::Key(key) if is_leave(&key) => told.push(KeyNews::Leave),
                Event::Key(key) => {
                    if let Some(key) = key_of(&key) {
                        told.extend(repeats.press(key, now()).into_iter().map(as_news));
                    }
                }
                Event::Resize(..) => told.push(KeyNews::Resized),
                _ => {}
            }
        }
        told.extend(repeats.tick(now()).into_iter().map(as_news));
        for news_item in told {
            if news.send(news_item).is_err() {
                return Ok(());
            }
        }
    }
    Ok(())
}

/// Waits for bytes of the terminal, so many milliseconds at most. False: the terminal has gone, and reading on would find
/// its end over and over.
fn wait_for_terminal(ms: u64) -> bool {
    let input = std::io::stdin();
    let mut fds = [PollFd::new(&input, PollFlags::IN)];
    let limit = Timespec {
        tv_sec: 0,
        tv_nsec: (ms * 1_000_000) as i64,
    };
    let _ = poll(&mut fds, Some(&limit));
    !fds[0]
        .revents()
        .intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
}

fn as_news(press: Press) -> KeyNews {
    match press {
        Press::Key(key) => KeyNews::Press(key),
        Press::Held(key) => KeyNews::Held(key),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_keys_of_the_pad_and_no_others() {
        let key = |code| key_of(&KeyEvent::new(code, KeyModifiers::NONE));
        for c in '0'..='9' {
            assert_eq!(key(KeyCode::Char(c)), Some(Key::Digit(c as u8 - b'0')));
        }
        assert_eq!(key(KeyCode::Char('*')), Some(Key::Times));
        assert_eq!(key(KeyCode::Char(',')), Some(Key::Dot));
        assert_eq!(key(KeyCode::Enter), Some(Key::Enter));
        assert_eq!(key(KeyCode::Char('q')), None);
        assert_eq!(key(KeyCode::Esc), None);
        let shifted = KeyEvent::new(KeyCode::Char('+'), KeyModifiers::SHIFT);
        assert_eq!(key_of(&shifted), Some(Key::Plus));
        let control = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
        assert!(is_leave(&control));
        assert_eq!(key_of(&control), None);
    }
}
