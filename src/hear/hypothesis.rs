//! What the recogniser made of one utterance.

use crate::bench::Heard;

/// The word that stands for speech outside the grammar.
pub const UNKNOWN: &str = "[unk]";

/// Readings with a smaller share tell nothing.
const SMALLEST: f32 = 0.005;

/// Orders that were said, by six natural voices, all fitted at least 1.3 nats a word better than free speech; free speech that was
/// taken for an order fitted it worse.
const FREER: f32 = -1.2;
/// Below this, free speech tells nothing against an order.
const NEAR: f32 = -2.0;

/// What was heard stands in noise when its loudest look is not so many times louder than the kitchen while nobody speaks: orders at 12 dB of
/// recorded noise are 2 to 14 times as loud, at 6 dB 2 to 9 times, in quiet more than 200 times.
const CLEAR_OF_NOISE: f32 = 25.0;
/// A voice that sounded in fewer looks is none. Of 855 pieces of speech that were understood, in quiet and in noise, 6 had fewer, and
/// no order was lost by them; of 224 sounds of a kitchen that fitted an order, 48 had.
const FEWEST_VOICED: usize = 6;

/// One word with its confidence.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardWord {
    /// The word.
    pub word: String,
    /// 0 to 1.
    pub confidence: f32,
}

/// What the recogniser made of one utterance.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hypothesis {
    /// The words, single spaces between; [`UNKNOWN`] where speech was no order.
    pub text: String,
    /// The share of this reading in all that were told apart, 0 to 1.
    pub confidence: f32,
    /// The words one by one.
    pub words: Vec<HeardWord>,
    /// Other readings with their shares, best first, without `text`.
    pub others: Vec<(String, f32)>,
    /// How much better everyday talk fits than the order: nats for each word of the order, below 0 where the order fits
    /// better; nothing where the model cannot tell.
    pub rival: Option<f32>,
    /// The words when it is taken for everyday talk.
    pub talk: Option<String>,
    /// The readings of free speech with their shares, best first.
    pub free: Vec<(String, f32)>,
    /// How much better everyday talk fits than free speech of cooks, which has that talk in it, in nats a word.
    pub free_rival: Option<f32>,
    /// How much better free speech fits than the order, in nats a word.
    pub free_gain: Option<f32>,
    /// The program itself was sounding meanwhile.
    pub over: bool,
    /// It goes on from talk, without a pause for breath.
    pub follows_talk: bool,
    /// In so many looks of 20 ms of the last three seconds a voice sounded.
    pub voiced: usize,
    /// How much louder its loudest look was than the kitchen while nobody speaks.
    pub above: f32,
}

impl Hypothesis {
    /// Nothing was said.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Speech that is no order: talk, the radio, a cough.
    pub fn is_talk(&self) -> bool {
        self.text.split(' ').any(|word| word == UNKNOWN)
    }

    /// No order of the network: free speech fits better than an order that was said would leave it.
    pub fn is_loose(&self) -> bool {
        self.is_talk() || self.free_gain.is_some_and(|gain| gain > FREER)
    }

    /// With the one before it, which went on after a breath.
    pub(super) fn after(self, before: &Self) -> Self {
        let Some((begun, _)) = before.free.first() else {
            return self;
        };
        let free: Vec<(String, f32)> = match self.free.is_empty() {
            true if self.is_talk() => before.free.clone(),
            true => vec![(format!("{begun} {}", self.text), 1.0)],
            false => self
                .free
                .iter()
                .map(|(text, share)| (format!("{begun} {text}"), *share))
                .collect(),
        };
        Self {
            text: UNKNOWN.to_owned(),
            free_rival: match (before.free_rival, self.free_rival) {
                (Some(a), Some(b)) => Some(a.max(b)),
                (one, other) => one.or(other),
            },
            follows_talk: before.follows_talk,
            free,
            ..self
        }
    }

    /// The kitchen was nearly as loud.
    pub fn is_in_noise(&self) -> bool {
        self.above < CLEAR_OF_NOISE
    }

    /// No voice could be told from that noise.
    pub fn is_voiceless(&self) -> bool {
        self.is_in_noise() && self.voiced < FEWEST_VOICED
    }

    /// As the bench takes it; nothing where nothing was said, or nothing that has words.
    pub fn heard(&self) -> Option<Heard> {
        if self.is_empty() {
            return None;
        }
        let free = || self.free.clone();
        if self.is_loose() {
            let (text, _) = self.free.first()?;
            return Some(Heard {
                loosely: true,
                free: free(),
                rival: self.free_rival,
                follows_talk: self.follows_talk,
                over: self.over,
                in_noise: self.is_in_noise(),
                voiceless: self.is_voiceless(),
                ..Heard::spoken(text.clone(), 0.0)
            });
        }
        Some(Heard {
            // What fits so much worse tells nothing against the order.
            free: if self.free_gain.is_some_and(|gain| gain > NEAR) {
                free()
            } else {
                Vec::new()
            },
            loosely: false,
            text: self.text.clone(),
            confidence: self.confidence,
            others: self
                .others
                .iter()
                .filter(|(text, share)| *share >= SMALLEST && !text.contains(UNKNOWN))
                .cloned()
                .collect(),
            rival: self.rival,
            talk: self.talk.clone(),
            follows_talk: self.follows_talk,
            typed: false,
            over: self.over,
            in_noise: self.is_in_noise(),
            voiceless: self.is_voiceless(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_and_the_lack_of_a_voice_are_told_with_it() {
        let told = |above, voiced| {
            let heard = Hypothesis {
                text: "skip now".to_owned(),
                above,
                voiced,
                ..Hypothesis::default()
            };
            heard.heard().map(|h| (h.in_noise, h.voiceless))
        };
        assert_eq!(told(700.0, 40), Some((false, false)));
        assert_eq!(
            told(700.0, 2),
            Some((false, false)),
            "in quiet a whisper is heard"
        );
        assert_eq!(told(8.0, 40), Some((true, false)));
        assert_eq!(told(8.0, 2), Some((true, true)));
    }
}
