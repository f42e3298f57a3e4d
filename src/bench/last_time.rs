//! What was done the last time, from the bake log: told before the next bake, and when the cook asks.

use serde::{Deserialize, Serialize};

use super::account::{Account, PutIn};
use super::words;
use crate::measure::words::{capital, cardinal};
use crate::measure::{Mass, say};
use crate::time::{Span, Wall};

/// The last bake of a formula.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct LastTime {
    /// When the cook left, in Unix milliseconds.
    pub at_ms: i64,
    /// What became of it.
    pub account: Account,
    /// What ended on a look, and how long it took.
    pub rises: Vec<(String, Span)>,
    /// What the cook noted for the next time.
    pub notes: Vec<String>,
    /// The files of the sound of those that were spoken, by their places among the notes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub recordings: Vec<Option<String>>,
    /// How it was.
    pub word: Option<String>,
}

/// So many things that took long are named.
const NAMED: usize = 2;

impl LastTime {
    /// `nine days ago`, by the days of the wall clock.
    fn ago(&self, wall: &Wall) -> String {
        let day = |ms: i64| {
            let s = ms.div_euclid(1000);
            (s + i64::from(wall.offset_at(s))).div_euclid(86_400)
        };
        match day(wall.unix_ms) - day(self.at_ms) {
            ..=0 => "earlier today".to_owned(),
            1 => "yesterday".to_owned(),
            n @ 2..=20 => format!("{} days ago", cardinal(n.unsigned_abs())),
            n @ 21..=60 => format!("{} weeks ago", cardinal((n / 7).unsigned_abs())),
            n => format!("{} months ago", cardinal((n / 30).unsigned_abs())),
        }
    }

    /// Before the next bake: 'Last time, nine days ago: the first rise took eighty minutes; you noted: ...' Nothing where
    /// there is nothing to tell.
    pub fn opening(&self, wall: &Wall) -> Option<String> {
        let mut told = self.rise_words();
        told.extend(self.swap_words());
        told.extend(self.word.as_ref().map(|word| format!("it was {word}")));
        told.extend(self.note_words());
        (!told.is_empty()).then(|| {
            self.ended(format!(
                "Last time, {}: {}",
                self.ago(wall),
                told.join("; ")
            ))
        })
    }

    /// 'What did I do last time?'
    pub fn did(&self, wall: &Wall) -> String {
        let size = match self.account.scale.as_str() {
            "" => "as written".to_owned(),
            scale => scale.to_owned(),
        };
        let mut told = vec![format!(
            "you made it {size} in {}",
            words::about(self.account.took)
        )];
        told.extend(self.rise_words());
        let other = |p: &&PutIn| {
            p.really_g
                .is_some_and(|g| (g - p.wanted_g).abs() >= 0.02 * p.wanted_g.max(1.0))
        };
        told.extend(self.account.went_in.iter().filter(other).map(|p| {
            format!(
                "{} of {} went in, not {}",
                grams(p.really_g.unwrap_or(p.wanted_g)),
                p.name,
                grams(p.wanted_g)
            )
        }));
        told.extend(self.swap_words());
        if !self.account.skipped.is_empty() {
            let names: Vec<String> = self
                .account
                .skipped
                .iter()
                .map(|s| s.to_lowercase())
                .collect();
            told.push(format!("left out: {}", words::list(&names)));
        }
        told.extend(self.word.as_ref().map(|word| format!("it was {word}")));
        told.extend(self.note_words());
        self.ended(format!("{}, {}", capital(&self.ago(wall)), told.join("; ")))
    }

    /// 'How long did it take last time?'
    pub fn took(&self, wall: &Wall) -> String {
        let mut told = vec![format!("{} in all", words::about(self.account.took))];
        told.extend(self.rise_words());
        format!("{}, {}.", capital(&self.ago(wall)), told.join("; "))
    }

    /// 'How much water did I use last time?'
    pub fn water(&self, wall: &Wall) -> String {
        let water: Vec<&PutIn> = self.account.went_in.iter().filter(|p| p.water).collect();
        if water.is_empty() {
            return "It had no water that I know of.".to_owned();
        }
        let known = water.iter().all(|p| p.really_g.is_some());
        let sum: f64 = water.iter().map(|p| p.really_g.unwrap_or(p.wanted_g)).sum();
        let (sum, ago) = (grams(sum), self.ago(wall));
        let heat = self.account.water_c.map_or(String::new(), |c| {
            format!(" at {} degrees", words::decimal(c, 1))
        });
        let sum = format!("{sum}{heat}");
        if known {
            format!("{}, {ago}.", capital(&sum))
        } else {
            format!(
                "{} by the formula, {ago}; I don't know what really went in.",
                capital(&sum)
            )
        }
    }

    fn rise_words(&self) -> Vec<String> {
        let mut rises: Vec<&(String, Span)> = self.rises.iter().collect();
        rises.sort_by_key(|(_, took)| std::cmp::Reverse(*took));
        rises.truncate(NAMED);
        let told = rises.iter();
        told.map(|(name, took)| format!("the {name} took {}", words::about(*took)))
            .collect()
    }

    fn swap_words(&self) -> Vec<String> {
        let swaps = self.account.swaps.iter();
        swaps
            .map(|(from, to)| format!("you took {to} for {from}"))
            .collect()
    }

    /// What was noted, with the file of its sound.
    pub fn all_notes(&self) -> impl Iterator<Item = (Option<String>, String)> + '_ {
        let notes = self.notes.iter().enumerate();
        notes.map(|(at, words)| (self.recordings.get(at).cloned().flatten(), words.clone()))
    }

    /// The notes that were spoken: the file of the sound, and the words.
    pub fn spoken(&self) -> impl Iterator<Item = (&str, &str)> {
        let notes = self.notes.iter().enumerate();
        notes.filter_map(|(at, words)| {
            let recording = self.recordings.get(at)?.as_deref()?;
            Some((recording, words.as_str()))
        })
    }

    /// What was noted of an ingredient, where that can be read: `ten grams less`.
    pub fn noted_of(&self, ingredient: &str) -> Option<String> {
        self.notes.iter().rev().find_map(|note| {
            let amount = note.strip_prefix("next time ")?.strip_suffix(ingredient)?;
            let amount = amount.trim_end();
            let ends = [" less", " more"].iter().any(|end| amount.ends_with(end));
            ends.then(|| amount.to_owned())
        })
    }

    /// Notes that are said; those that were spoken are played after them.
    fn note_words(&self) -> Option<String> {
        let said = self
            .all_notes()
            .filter(|(recording, _)| recording.is_none());
        let said: Vec<String> = said.map(|(_, words)| words).collect();
        match (said.as_slice(), self.spoken().next().is_some()) {
            ([], false) => None,
            ([], true) => Some("you noted".to_owned()),
            (some, false) => Some(format!("you noted: {}", some.join("; "))),
            (some, true) => Some(format!(
                "you noted: {}; and in your own voice",
                some.join("; ")
            )),
        }
    }

    /// With the stop at its end: what is played follows a colon.
    fn ended(&self, text: String) -> String {
        let plays = self.spoken().next().is_some();
        format!("{text}{}", if plays { ':' } else { '.' })
    }
}

fn grams(grams: f64) -> String {
    say::exact_mass(Mass::grams(grams.round()))
}
