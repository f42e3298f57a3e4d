//! What one utterance is taken to mean, with how sure that is.

use super::event::Heard;
use crate::ask::Question;
use crate::order::{Order, ScaleBy};
use crate::understand::{Lexicon, Understood, reading};

/// From this share of its double on, what has one that sounds alike is asked about.
const ALIKE_FROM: f32 = 0.04;
/// Another meaning with at least this share is named in the question.
const WORTH_NAMING: f32 = 0.1;

/// Water for flour, in percent, of any dough or batter. Common practice, no source.
const HYDRATION: std::ops::RangeInclusive<f64> = 35.0..=250.0;

/// What one utterance is taken to mean, weighed over all its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The likeliest meaning.
    pub understood: Understood,
    /// Its share of all readings, 0 to 1.
    pub sure: f32,
    /// The next likely one with its share.
    pub next: Option<(Order, f32)>,
    /// The share of the meaning that sounds alike, where it has one.
    alike: Option<f32>,
}

/// What is to be done about a hearing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Trust {
    /// Act on it.
    Act,
    /// Ask back.
    Ask,
    /// It is talk.
    Ignore,
}

/// Of two meanings that sound alike, one that no dough can have gives way to the other.
fn only_likely(shares: &mut Vec<(Order, f32)>) {
    for at in (0..shares.len()).rev() {
        let double = Some(&shares[at].0)
            .filter(|order| is_unlikely(order))
            .and_then(Order::sounds_like)
            .filter(|double| !is_unlikely(double));
        let likely = shares
            .iter()
            .position(|(other, _)| Some(other) == double.as_ref());
        if let Some(likely) = likely {
            shares[likely].1 += shares[at].1;
            shares.remove(at);
        }
    }
}

/// A hydration of seventeen percent: nobody asks for it.
fn is_unlikely(order: &Order) -> bool {
    let percent = match order {
        Order::Scale {
            by: ScaleBy::Hydration(percent),
        }
        | Order::Ask(Question::WaterForFlour { percent, .. }) => *percent,
        _ => return false,
    };
    !HYDRATION.contains(&percent)
}

impl Weighed {
    /// Weighs an utterance, of which `understood` is what its likeliest reading means.
    pub(super) fn of(heard: &Heard, understood: Understood, lexicon: &Lexicon) -> Self {
        let Understood::Order(first) = &understood else {
            return Self {
                understood,
                sure: heard.confidence,
                next: None,
                alike: None,
            };
        };
        let mut shares = vec![(first.clone(), heard.confidence)];
        for (text, share) in &heard.others {
            let Some(order) = reading(text, lexicon) else {
                continue;
            };
            match shares.iter_mut().find(|(known, _)| *known == order) {
                Some((_, sum)) => *sum += share,
                None => shares.push((order, *share)),
            }
        }
        only_likely(&mut shares);
        // Stable: of equal shares the reading that fits best stays first.
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        let (likeliest, sure) = shares.remove(0);
        let alike = likeliest.sounds_like().map(|double| {
            let found = shares.iter().find(|(order, _)| *order == double);
            match found {
                Some((_, share)) => *share,
                // Where nothing else was told apart, all that is left may be the double.
                None if heard.others.is_empty() => 1.0 - sure,
                None => 0.0,
            }
        });
        Self {
            understood: Understood::Order(likeliest),
            sure: sure.min(1.0),
            next: shares.into_iter().next(),
            alike,
        }
    }

    pub(super) fn sounds_alike(&self) -> bool {
        self.alike.is_some_and(|share| share >= ALIKE_FROM)
    }

    /// What else it may have been, where that is worth naming in a question.
    pub(super) fn rather(&self, order: &Order) -> Option<Order> {
        self.next
            .clone()
            .filter(|(_, share)| *share >= WORTH_NAMING)
            .map(|(next, _)| next)
            .or_else(|| order.sounds_like().filter(|_| self.sounds_alike()))
    }
}
