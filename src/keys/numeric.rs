//! The USB numeric keypad through evdev: found by what it can do, taken for the session, found again when re-plugged.

use std::time::Duration;

use crossbeam_channel::Sender;
use evdev::{Device, EventSummary, KeyCode};

use super::KeyNews;
use crate::bench::Key;

/// How often a missing keypad is looked for.
const LOOK_AGAIN: Duration = Duration::from_millis(900);

/// A keypad has the keypad's digits and Enter, and no letters.
fn is_keypad(device: &Device) -> bool {
    device.supported_keys().is_some_and(|keys| {
        keys.contains(KeyCode::KEY_KP1)
            && keys.contains(KeyCode::KEY_KP5)
            && keys.contains(KeyCode::KEY_KPENTER)
            && !keys.contains(KeyCode::KEY_A)
            && !keys.contains(KeyCode::KEY_SPACE)
    })
}

/// The names of the keypads that are connected now and may be read.
pub fn find() -> Vec<String> {
    evdev::enumerate()
        .filter(|(_, d)| is_keypad(d))
        .map(|(path, d)| {
            d.name()
                .map_or_else(|| path.display().to_string(), str::to_owned)
        })
        .collect()
}

/// NumLock changes what a keyboard's driver makes of a key, not its code: these are the same with it on and off.
fn key_of(code: KeyCode) -> Option<Key> {
    Some(match code {
        KeyCode::KEY_KP0 | KeyCode::KEY_0 | KeyCode::KEY_INSERT => Key::Digit(0),
        KeyCode::KEY_KP1 | KeyCode::KEY_1 | KeyCode::KEY_END => Key::Digit(1),
        KeyCode::KEY_KP2 | KeyCode::KEY_2 | KeyCode::KEY_DOWN => Key::Digit(2),
        KeyCode::KEY_KP3 | KeyCode::KEY_3 | KeyCode::KEY_PAGEDOWN => Key::Digit(3),
        KeyCode::KEY_KP4 | KeyCode::KEY_4 | KeyCode::KEY_LEFT => Key::Digit(4),
        KeyCode::KEY_KP5 | KeyCode::KEY_5 => Key::Digit(5),
        KeyCode::KEY_KP6 | KeyCode::KEY_6 | KeyCode::KEY_RIGHT => Key::Digit(6),
        KeyCode::KEY_KP7 | KeyCode::KEY_7 | KeyCode::KEY_HOME => Key::Digit(7),
        KeyCode::KEY_KP8 | KeyCode::KEY_8 | KeyCode::KEY_UP => Key::Digit(8),
        KeyCode::KEY_KP9 | KeyCode::KEY_9 | KeyCode::KEY_PAGEUP => Key::Digit(9),
        KeyCode::KEY_KPENTER | KeyCode::KEY_ENTER => Key::Enter,
        KeyCode::KEY_KPPLUS => Key::Plus,
        KeyCode::KEY_KPMINUS | KeyCode::KEY_MINUS => Key::Minus,
        KeyCode::KEY_KPASTERISK => Key::Times,
        KeyCode::KEY_KPSLASH | KeyCode::KEY_SLASH => Key::Divide,
        KeyCode::KEY_KPDOT | KeyCode::KEY_KPCOMMA | KeyCode::KEY_DOT | KeyCode::KEY_DELETE => {
            Key::Dot
        }
        KeyCode::KEY_BACKSPACE | KeyCode::KEY_NUMLOCK => Key::Backspace,
        _ => return None,
    })
}

/// Watches for a keypad and its keys until nobody listens. Repeats of a held key do nothing.
pub fn watch(news: Sender<KeyNews>) {
    let _ = std::thread::Builder::new()
        .name("keypad".to_owned())
        .spawn(move || {
            let mut had = false;
            loop {
                let found = evdev::enumerate().map(|(_, d)| d).find(is_keypad);
                let Some(mut device) = found else {
                    std::thread::sleep(LOOK_AGAIN);
                    continue;
                };
                // Another program that holds it keeps it; the keys are then shared.
                let _ = device.grab();
                let name = device.name().unwrap_or("keypad").to_owned();
                if news.send(KeyNews::Plugged(name)).is_err() {
                    return;
                }
                had |= true;
                while let Ok(events) = device.fetch_events() {
                    for event in events {
                        let EventSummary::Key(_, code, 1) = event.destructure() else {
                            continue;
                        };
                        if let Some(key) = key_of(code)
                            && news.send(KeyNews::Press(key)).is_err()
                        {
                            return;
                        }
                    }
                }
                if had && news.send(KeyNews::Unplugged).is_err() {
                    return;
                }
            }
        });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn num_lock_makes_no_difference() {
        assert_eq!(key_of(KeyCode::KEY_KP7), key_of(KeyCode::KEY_HOME));
        assert_eq!(key_of(KeyCode::KEY_KPDOT), key_of(KeyCode::KEY_DELETE));
        assert_eq!(key_of(KeyCode::KEY_A), None);
    }
}
