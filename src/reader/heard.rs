//! What was heard as free speech: several readings of one utterance, of which each may mean something else.

use super::situation::{Printed, Situation};
use super::{Limits, Reader, Reading, Verdict, leaning};
use crate::understand::{Lexicon, reading};

/// So many of the likeliest readings count.
const MOST: usize = 4;

/// Free speech by ear: readings with their shares, best first, and how much better everyday talk fits, in nats a word.
#[derive(Debug, Clone, Copy)]
pub struct Speech<'a> {
    /// The readings.
    pub readings: &'a [(String, f32)],
    /// How much better talk fits; nothing where that cannot be told.
    pub rival: Option<f32>,
    /// Anybody in the kitchen may be speaking, to anybody.
    pub anybody: bool,
}

/// For who is known to speak to the program.
const SPOKEN_TO: Limits = Limits {
    ask: 0.3,
    harmless: 0.85,
    act: 0.92,
    talk: 0.3,
};

/// For whoever speaks. Chosen on writers and voices that the networks never heard.
const ANYBODY: Limits = Limits {
    ask: 0.45,
    harmless: 0.9,
    act: 0.97,
    talk: 0.03,
};
/// Talk that fits better than this beside free speech, which has that talk in it, is talk.
const FITS_TALK: f32 = 0.0;

impl Reader {
    /// All readings of one utterance as one.
    pub fn read_heard(
        &self,
        speech: &Speech<'_>,
        lexicon: &Lexicon,
        situation: &Situation,
    ) -> Option<Reading> {
        let counted = &speech.readings[..speech.readings.len().min(MOST)];
        let whole: f32 = counted.iter().map(|(_, share)| share).sum();
        let mut all: Vec<(Reading, f32)> = Vec::new();
        let (mut talk, mut said) = (0.0, 0.0);
        for (text, share) in counted {
            let share = share / whole.max(f32::MIN_POSITIVE);
            let Some(mut read) = self.read(text, lexicon, situation) else {
                continue;
            };
            talk += share * read.talk;
            if let Some(order) =
                reading(text, lexicon).and_then(|order| leaning(order, text, situation))
            {
                read = Reading {
                    orders: vec![Printed::from(&order)],
                    sure: 1.0,
                    doubtful: false,
                    wish: false,
                    ..read
                };
            }
            said += share;
            let same = |(other, _): &&mut (Reading, f32)| {
                other.orders == read.orders && other.wish == read.wish
            };
            match all.iter_mut().find(same) {
                Some((other, weight)) => {
                    *weight += share * read.sure;
                    other.doubtful &= read.doubtful;
                }
                None => {
                    let weight = share * read.sure;
                    all.push((read, weight));
                }
            }
        }
        let likelier = |a: &(Reading, f32), b: &(Reading, f32)| a.1.total_cmp(&b.1);
        let (read, weight) = all.into_iter().max_by(likelier)?;
        Some(Reading {
            sure: weight / said.max(f32::MIN_POSITIVE),
            talk,
            ..read
        })
    }

    /// What is to be done about it.
    pub fn verdict_heard(
        &self,
        speech: &Speech<'_>,
        lexicon: &Lexicon,
        situation: &Situation,
    ) -> Verdict {
        let limits = if speech.anybody { ANYBODY } else { SPOKEN_TO };
        if speech.anybody && speech.rival.is_some_and(|rival| rival > FITS_TALK) {
            return Verdict::Talk;
        }
        self.read_heard(speech, lexicon, situation)
            .map_or(Verdict::Unknown, |read| read.verdict_at(limits))
    }
}
