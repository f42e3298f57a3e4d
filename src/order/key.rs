//! The keys of a numeric keypad.

use serde::{Deserialize, Serialize};

/// The keys of a numeric keypad.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Key {
    /// A digit, 0-9.
    Digit(u8),
    /// Enter.
    Enter,
    /// Plus.
    Plus,
    /// Minus.
    Minus,
    /// Times (asterisk).
    Times,
    /// Divide (slash).
    Divide,
    /// Dot (decimal point, Delete).
    Dot,
    /// Backspace; on keypads without one, NumLock.
    Backspace,
}

impl Key {
    /// The keys that are no digits, Enter first.
    pub const SIGNS: [Self; 7] = [
        Self::Enter,
        Self::Plus,
        Self::Minus,
        Self::Times,
        Self::Divide,
        Self::Dot,
        Self::Backspace,
    ];

    /// Every key: the signs, then the digits upwards.
    pub fn all() -> impl Iterator<Item = Self> {
        Self::SIGNS.into_iter().chain((0..10).map(Self::Digit))
    }
}

impl Key {
    /// Its name as spoken.
    pub fn spoken(self) -> String {
        match self {
            Self::Digit(d) => d.to_string(),
            Self::Enter => "Enter".to_owned(),
            Self::Plus => "Plus".to_owned(),
            Self::Minus => "Minus".to_owned(),
            Self::Times => "Star".to_owned(),
            Self::Divide => "Slash".to_owned(),
            Self::Dot => "Dot".to_owned(),
            Self::Backspace => "Backspace".to_owned(),
        }
    }

    /// Its name as printed.
    pub fn sign(self) -> &'static str {
        const DIGITS: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
        match self {
            Self::Digit(d) => DIGITS.get(usize::from(d)).copied().unwrap_or("?"),
            Self::Enter => "Enter",
            Self::Plus => "+",
            Self::Minus => "-",
            Self::Times => "*",
            Self::Divide => "/",
            Self::Dot => ".",
            Self::Backspace => "Back",
        }
    }

    /// Reads strokes as they are printed, with spaces between: `1 2 *`.
    pub fn strokes(text: &str) -> Option<Vec<Self>> {
        text.split_whitespace()
            .map(|word| Self::all().find(|key| key.sign() == word))
            .collect()
    }
}
