//! The words of a sentence, and whether certain words stand in it, near one another or in a row.

use crate::understand::text::name_words;

/// A sentence by its plain words.
#[derive(Debug, Clone)]
pub(super) struct Said {
    pub(super) words: Vec<String>,
}

impl Said {
    pub(super) fn of(text: &str) -> Self {
        // 'He's bleeding' is no name of his.
        let mut text = text.to_lowercase().replace('\u{2019}', "'");
        for who in [
            "he",
            "she",
            "someone",
            "somebody",
            "something",
            "everyone",
            "everything",
        ] {
            text = text.replace(&format!(" {who}'s "), &format!(" {who} is "));
            if let Some(rest) = text.strip_prefix(&format!("{who}'s ")) {
                text = format!("{who} is {rest}");
            }
        }
        Self {
            words: name_words(&text),
        }
    }

    /// Where one of these words stands.
    pub(super) fn all<'a>(&'a self, any: &'a [&str]) -> impl Iterator<Item = usize> + 'a {
        let words = self.words.iter().enumerate();
        words
            .filter(|(_, word)| any.contains(&word.as_str()))
            .map(|(at, _)| at)
    }

    /// The first place of one of these words.
    pub(super) fn at(&self, any: &[&str]) -> Option<usize> {
        self.all(any).next()
    }

    /// One of these words is said.
    pub(super) fn has(&self, any: &[&str]) -> bool {
        self.at(any).is_some()
    }

    /// Where these words stand in a row.
    pub(super) fn place(&self, phrase: &str) -> Option<usize> {
        let phrase: Vec<&str> = phrase.split(' ').collect();
        self.words
            .windows(phrase.len())
            .position(|row| row.iter().zip(&phrase).all(|(word, of)| word == of))
    }

    /// One of these is said, word for word.
    pub(super) fn says(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.place(phrase).is_some())
    }

    /// One of the second stands behind one of the first, with at most so many words between.
    pub(super) fn then(&self, first: &[&str], second: &[&str], between: usize) -> bool {
        self.all(first).any(|from| {
            self.all(second)
                .any(|to| to > from && to - from <= between + 1)
        })
    }

    /// Both are said, with at most so many words between.
    pub(super) fn near(&self, one: &[&str], other: &[&str], between: usize) -> bool {
        self.then(one, other, between) || self.then(other, one, between)
    }

    /// The word there.
    pub(super) fn word(&self, at: usize) -> &str {
        self.words.get(at).map_or("", String::as_str)
    }

    /// The word before.
    pub(super) fn before(&self, at: usize) -> &str {
        at.checked_sub(1).map_or("", |at| self.word(at))
    }

    /// Nothing but these words stands between two places.
    pub(super) fn only(&self, from: usize, to: usize, words: &[&str]) -> bool {
        let between = self.words.get(from + 1..to).unwrap_or_default();
        between.iter().all(|word| words.contains(&word.as_str()))
    }
}
