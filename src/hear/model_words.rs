//! The words that a model knows: its `words.txt`.

use std::collections::HashMap;
use std::path::Path;

use super::{HearError, UNKNOWN};
use crate::outside;
use crate::understand::Network;

/// The largest `words.txt` that is read, in bytes: some two million words.
const LARGEST: u64 = 32 << 20;

/// The words that a model knows, with their numbers.
#[derive(Debug, Clone, Default)]
pub struct ModelWords {
    in_order: Vec<(String, i32)>,
    numbers: HashMap<String, i32>,
}

impl ModelWords {
    /// Reads `graph/words.txt` of a model folder (or `words.txt` in it).
    ///
    /// # Errors
    /// When there is no such file or a line in it is no word and number.
    pub fn read(model: &Path) -> Result<Self, HearError> {
        let inner = model.join("graph/words.txt");
        let path = if inner.exists() {
            inner
        } else {
            model.join("words.txt")
        };
        let text = outside::read_text(&path, LARGEST).map_err(|source| HearError::Read {
            path: path.clone(),
            source,
        })?;
        Self::parse(&text).map_err(|(line, found)| HearError::ModelWords { path, line, found })
    }

    /// Reads the text of a `words.txt`; on failure gives the line's number and text.
    pub(super) fn parse(text: &str) -> Result<Self, (usize, String)> {
        let mut lexicon = Self::default();
        for (number, line) in text.lines().enumerate() {
            let bad = || (number + 1, line.to_owned());
            let mut parts = line.split_ascii_whitespace();
            let Some(word) = parts.next() else { continue };
            let id: i32 = parts.next().ok_or_else(bad)?.parse().map_err(|_| bad())?;
            if parts.next().is_some() || id < 0 {
                return Err(bad());
            }
            lexicon.in_order.push((word.to_owned(), id));
            lexicon.numbers.insert(word.to_owned(), id);
        }
        Ok(lexicon)
    }

    /// The word's number; 0 is kept for 'no word'.
    pub fn number(&self, word: &str) -> Option<i32> {
        self.numbers.get(word).copied().filter(|id| *id > 0)
    }

    /// Does the model know this word?
    pub fn knows(&self, word: &str) -> bool {
        self.number(word).is_some()
    }

    /// Words and numbers in the file's order, the first ('no word') included.
    pub fn in_order(&self) -> &[(String, i32)] {
        &self.in_order
    }

    /// Each word of the network that the model does not know, once, in order of first use.
    pub fn unknown_words(&self, network: &Network) -> Vec<String> {
        let mut unknown: Vec<String> = Vec::new();
        for arc in &network.arcs {
            let word = &*arc.word;
            if word != UNKNOWN && !self.knows(word) && !unknown.iter().any(|u| u == word) {
                unknown.push(word.to_owned());
            }
        }
        unknown
    }
}

#[cfg(test)]
mod tests {
    use super::ModelWords;

    #[test]
    fn a_word_has_its_number_and_no_word_has_none() {
        let lexicon = ModelWords::parse("<eps> 0\nsalt 1\nwater 2\n").expect("three good lines");
        assert_eq!(lexicon.number("water"), Some(2));
        assert_eq!(lexicon.number("<eps>"), None);
        assert!(!lexicon.knows("flour"));
    }

    #[test]
    fn a_bad_line_is_named() {
        assert_eq!(
            ModelWords::parse("<eps> 0\nsalt\n").unwrap_err(),
            (2, "salt".to_owned())
        );
        assert_eq!(
            ModelWords::parse("salt x").unwrap_err(),
            (1, "salt x".to_owned())
        );
        assert_eq!(
            ModelWords::parse("salt -4").unwrap_err(),
            (1, "salt -4".to_owned())
        );
    }
}
