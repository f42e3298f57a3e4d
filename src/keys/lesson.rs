//! Learning an odd keypad: each key is asked for aloud, and what it sends is remembered.

use super::codes::{KeyMap, code_key};
use crate::bench::Key;

/// The key asked for at this place, Enter first: it then serves to pass over a key that is not there.
fn asked(at: usize) -> Option<Key> {
    Key::all().nth(at)
}

/// A lesson under way: pure, fed with the codes that were pressed.
#[derive(Debug, Clone, Default)]
pub struct Lesson {
    at: usize,
    taught: KeyMap,
}

impl Lesson {
    /// What to say now; nothing when the lesson is over.
    pub fn asks(&self) -> Option<String> {
        let key = asked(self.at)?;
        Some(match self.at {
            0 => "Press the key that should be Enter.".to_owned(),
            1 => format!(
                "Press {}. If there is no such key, press Enter.",
                key.spoken().to_lowercase()
            ),
            _ => format!("Press {}.", key.spoken().to_lowercase()),
        })
    }

    /// A key of this code was pressed; what to say to that.
    pub fn pressed(&mut self, code: u16) -> String {
        let Some(key) = asked(self.at) else {
            return "That was all.".to_owned();
        };
        let name = key.spoken();
        match self.taught.get(&code) {
            Some(Key::Enter) => {
                self.at += 1;
                format!("No {}.", name.to_lowercase())
            }
            Some(other) => format!("That is {} already.", other.spoken().to_lowercase()),
            None => {
                self.taught.insert(code, key);
                self.at += 1;
                format!("{name}.")
            }
        }
    }

    /// What differs from a keypad as they are usually made: for the settings.
    pub fn map(&self) -> KeyMap {
        self.taught
            .iter()
            .filter(|(code, key)| code_key(**code) != Some(**key))
            .map(|(code, key)| (*code, *key))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_odd_keypad_is_learnt() {
        let mut lesson = Lesson::default();
        assert_eq!(
            lesson.asks().as_deref(),
            Some("Press the key that should be Enter.")
        );
        assert_eq!(lesson.pressed(96), "Enter.");
        assert_eq!(
            lesson.asks().as_deref(),
            Some("Press plus. If there is no such key, press Enter.")
        );
        assert_eq!(lesson.pressed(113), "Plus.");
        assert_eq!(lesson.pressed(113), "That is plus already.");
        assert_eq!(lesson.pressed(74), "Minus.");
        assert_eq!(lesson.pressed(96), "No star.");
        for code in [98, 83, 14, 82, 79, 80, 81, 75, 76, 77, 71, 72] {
            lesson.pressed(code);
        }
        assert_eq!(lesson.asks().as_deref(), Some("Press 9."));
        lesson.pressed(73);
        assert_eq!(lesson.asks(), None);
        assert_eq!(lesson.pressed(1), "That was all.");
        assert_eq!(lesson.map(), KeyMap::from([(113, Key::Plus)]));
    }
}
