//! The terminal's keyboard: the same keys, or whole lines in plain mode.

use std::io::BufRead;
use std::time::Duration;

use crossbeam_channel::Sender;
use crossterm::event::{self, Event, KeyCode, KeyEventKind, KeyModifiers};

use super::KeyNews;
use crate::bench::Key;

/// The keypad key that a character stands for.
pub fn key_of(code: KeyCode) -> Option<Key> {
    Some(match code {
        KeyCode::Enter => Key::Enter,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Delete => Key::Dot,
        KeyCode::Char(c) => match c {
            '0'..='9' => Key::Digit(c as u8 - b'0'),
            '+' => Key::Plus,
            '-' => Key::Minus,
            '*' => Key::Times,
            '/' => Key::Divide,
            '.' | ',' => Key::Dot,
            _ => return None,
        },
        _ => return None,
    })
}

/// Watches the terminal's keys until nobody listens. The terminal must be in raw mode.
pub fn watch_terminal(news: Sender<KeyNews>) {
    // A thread that cannot be started leaves the other ways in.
    let _ = std::thread::Builder::new()
        .name("terminal".to_owned())
        .spawn(move || {
            loop {
                match event::poll(Duration::from_millis(500)) {
                    Ok(false) => continue,
                    Ok(true) => {}
                    Err(_) => return,
                }
                let Ok(Event::Key(key)) = event::read() else {
                    continue;
                };
                if key.kind == KeyEventKind::Release {
                    continue;
                }
                let leave = key.modifiers.contains(KeyModifiers::CONTROL)
                    && matches!(key.code, KeyCode::Char('c' | 'd'));
                let told = if leave {
                    Some(KeyNews::Leave)
                } else {
                    key_of(key.code).map(KeyNews::Press)
                };
                if let Some(told) = told
                    && news.send(told).is_err()
                {
                    return;
                }
            }
        });
}

/// Reads standard input line by line: each line is an order, as if it had been said.
pub fn typed_lines(news: Sender<KeyNews>) {
    let _ = std::thread::Builder::new()
        .name("lines".to_owned())
        .spawn(move || {
            let mut input = std::io::stdin().lock();
            let mut line = Vec::new();
            loop {
                line.clear();
                match input.read_until(b'\n', &mut line) {
                    Ok(n) if n > 0 => {
                        let text = String::from_utf8_lossy(&line).trim().to_owned();
                        if !text.is_empty() && news.send(KeyNews::Line(text)).is_err() {
                            return;
                        }
                    }
                    _ => {
                        let _ = news.send(KeyNews::Leave);
                        return;
                    }
                }
            }
        });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_keyboard_has_every_key_of_the_keypad() {
        let all: Vec<Key> = "0123456789+-*/."
            .chars()
            .filter_map(|c| key_of(KeyCode::Char(c)))
            .collect();
        assert_eq!(all.len(), 15);
        assert_eq!(key_of(KeyCode::Enter), Some(Key::Enter));
        assert_eq!(key_of(KeyCode::Backspace), Some(Key::Backspace));
        assert_eq!(key_of(KeyCode::Char('q')), None);
    }
}
