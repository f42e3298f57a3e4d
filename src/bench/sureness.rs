//! How sure a hearing is of its meaning: several wordings of one thing are one thing, and everyday talk may fit better.

use super::dialogue::is_stop;
use super::event::Heard;
use super::options::Attention;
use super::pending::{Pending, look_of};
use super::state::Bench;
use crate::ask::Question;
use crate::understand::{Intent, ScaleBy, Understood, confusable, parse, reading};

/// What one utterance is taken to mean, weighed over all its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The likeliest meaning.
    pub understood: Understood,
    /// Its share of all readings, 0 to 1.
    pub sure: f32,
    /// The next likely one with its share.
    pub next: Option<(Intent, f32)>,
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

/// From this share of its double on, what has one that sounds alike is asked about.
const ALIKE_FROM: f32 = 0.04;
/// Another meaning with at least this share is named in the question.
const WORTH_NAMING: f32 = 0.1;

/// Water for flour, in percent, of any dough or batter. Common practice, no source.
const HYDRATION: std::ops::RangeInclusive<f64> = 35.0..=250.0;

/// How far the order must fit better than talk does, in nats a word: above the first it is asked about, above the second
/// it is talk.
const OPEN: (f32, f32) = (-2.5, -1.5);
/// The same after the name, which is no word of everyday talk: of 213 orders that began with it, by natural voices in up to 6 dB of noise,
/// all fitted 2.5 nats a word better, 'come forward' 1.7.
const NAMED: (f32, f32) = (-2.5, -2.0);
/// The same without it where the cook is known to speak to it.
const SPOKEN_TO: (f32, f32) = (-1.0, 1.0);
/// An order that anybody may have said and that fits less than this much better must be this sure.
const CLEAR: (f32, f32) = (-4.0, 0.95);

impl Bench {
    /// What it means, by the weight of its readings.
    pub fn weighed(&self, heard: &Heard) -> Weighed {
        let understood = self.meant(parse(&heard.text, self.lexicon()));
        let Understood::Order(first) = &understood else {
            return Weighed {
                understood,
                sure: heard.confidence,
                next: None,
                alike: None,
            };
        };
        let mut shares = vec![(first.clone(), heard.confidence)];
        for (text, share) in &heard.others {
            let Some(intent) = reading(text, self.lexicon()) else {
                continue;
            };
            match shares.iter_mut().find(|(known, _)| *known == intent) {
                Some((_, sum)) => *sum += share,
                None => shares.push((intent, *share)),
            }
        }
        only_likely(&mut shares);
        // Stable: of equal shares the reading that fits best stays first.
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        let (likeliest, sure) = shares.remove(0);
        let alike = confusable(&likeliest).map(|double| {
            let found = shares.iter().find(|(intent, _)| *intent == double);
            match found {
                Some((_, share)) => *share,
                // Where nothing else was told apart, all that is left may be the double.
                None if heard.others.is_empty() => 1.0 - sure,
                None => 0.0,
            }
        });
        Weighed {
            understood: Understood::Order(likeliest),
            sure: sure.min(1.0),
            next: shares.into_iter().next(),
            alike,
        }
    }

    /// Is it sure enough to act on?
    pub(super) fn trust(&self, heard: &Heard, weighed: &Weighed) -> Trust {
        if heard.typed {
            return Trust::Act;
        }
        if weighed.sure < self.options.reject_below {
            return Trust::Ignore;
        }
        let is_awaited = matches!(
            self.dialogue.question(),
            Some(Pending::Which { .. } | Pending::Confirm { .. })
        );
        let is_called = self.is_called(heard);
        let anybody = self.options.attention == Attention::Open && !is_called && !is_awaited;
        let intent = match &weighed.understood {
            Understood::Order(intent) => Some(intent),
            _ => None,
        };
        // The end of a sentence that was talk is talk, and an answer to nothing was meant for somebody else.
        if anybody
            && (heard.follows_talk || intent.is_some_and(Intent::is_answer) && self.asks_nothing())
        {
            return Trust::Ignore;
        }
        let (ask_above, talk_above) = if is_called {
            NAMED
        } else if anybody {
            OPEN
        } else {
            SPOKEN_TO
        };
        // Talk of the same meaning tells nothing against it.
        let talk = || reading(heard.talk.as_deref()?, self.lexicon());
        let rival = match heard.rival {
            Some(rival) if intent.is_none() || talk().as_ref() != intent => rival,
            _ => f32::NEG_INFINITY,
        };
        let harmless = intent.is_some_and(|i| is_stop(i) || matches!(i, Intent::Repeat { .. }));
        if rival > talk_above {
            Trust::Ignore
        } else if !harmless
            && (rival > ask_above
                || weighed.sure < self.options.doubt_below
                || anybody && rival > CLEAR.0 && weighed.sure < CLEAR.1
                || intent.is_some_and(|i| self.is_alike(i, weighed)))
        {
            Trust::Ask
        } else {
            Trust::Act
        }
    }

    /// Nothing of the program's waits for an answer.
    fn asks_nothing(&self) -> bool {
        self.dialogue.question().is_none()
            && self.rack.ringing().is_empty()
            && look_of(&self.rack.live(self.now)).is_none()
    }

    /// Fifteen and fifty, tea and table spoons, grams and kilograms are heard for one another.
    fn is_alike(&self, intent: &Intent, weighed: &Weighed) -> bool {
        // The answer to just that question is not asked about again.
        let answers = matches!(self.dialogue.question(), Some(Pending::Which { readings, .. }) if readings.contains(intent));
        !answers && weighed.sounds_alike()
    }
}

/// Of two meanings that sound alike the one that no dough has is the other one.
fn only_likely(shares: &mut Vec<(Intent, f32)>) {
    for at in (0..shares.len()).rev() {
        let double = Some(&shares[at].0)
            .filter(|intent| is_unlikely(intent))
            .and_then(confusable)
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
fn is_unlikely(intent: &Intent) -> bool {
    let percent = match intent {
        Intent::Scale {
            by: ScaleBy::Hydration(percent),
        }
        | Intent::Ask(Question::WaterForFlour { percent, .. }) => *percent,
        _ => return false,
    };
    !HYDRATION.contains(&percent)
}

impl Weighed {
    fn sounds_alike(&self) -> bool {
        self.alike.is_some_and(|share| share >= ALIKE_FROM)
    }

    /// What else it may have been, where that is worth naming in a question.
    pub(super) fn rather(&self, intent: &Intent) -> Option<Intent> {
        self.next
            .clone()
            .filter(|(_, share)| *share >= WORTH_NAMING)
            .map(|(next, _)| next)
            .or_else(|| confusable(intent).filter(|_| self.sounds_alike()))
    }
}
