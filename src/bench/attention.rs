//! Whom the cook is speaking to: the name, and how long none is needed.

use super::effect::{Effect, VoiceSettings, Why};
use super::event::Heard;
use super::options::Attention;
use super::state::Bench;
use crate::time::{Moment, Span};
use crate::understand::{Intent, name_words};

/// After an answer no name is needed for this long.
const OPEN_FOR: Span = Span::seconds(8);
/// Words that may stand before the name.
const GREETINGS: [&str; 4] = ["okay", "hello", "hey", "please"];

impl Bench {
    /// Is this said to the program?
    pub(super) fn is_spoken_to(&self, heard: &Heard) -> bool {
        let called = || self.is_called(heard);
        heard.typed
            || match self.options.attention {
                // What it hears beside its own voice may be a rest of that.
                _ if heard.over => called(),
                Attention::Open => true,
                Attention::Name => self.is_awake() || called(),
                Attention::Key => self.is_awake(),
            }
    }

    /// There may be something to stop: an alarm rings, or it speaks or did so lately, as far as can be told.
    pub(super) fn may_sound(&self) -> bool {
        let spoke = self.speaking_until != NEVER && self.now < self.speaking_until.plus(OPEN_FOR);
        spoke || !self.rack.ringing().is_empty()
    }

    /// It begins with the name.
    pub(super) fn is_called(&self, heard: &Heard) -> bool {
        calls(&heard.text, &self.options.name)
    }

    /// No name is needed now.
    pub(super) fn is_awake(&self) -> bool {
        self.is_awake_at(self.now)
    }

    /// No name is needed at that moment, as far as can be told now.
    pub(super) fn is_awake_at(&self, moment: Moment) -> bool {
        self.options.attention == Attention::Open || moment < self.awake_until
    }

    /// No name is needed for a while after what is being said.
    pub(super) fn stay_awake(&mut self) {
        self.awake_until = self.speaking_until.max(self.now).plus(OPEN_FOR);
    }

    /// Keeps count of how long the speech in these effects will last, and of who is spoken to after it.
    pub(super) fn follow_speech(&mut self, out: &[Effect]) {
        for effect in out {
            match effect {
                Effect::Hush => self.speaking_until = self.now,
                Effect::Say { text, why } => {
                    let from = self.speaking_until.max(self.now);
                    self.speaking_until = from.plus(speaking(text, self.voice));
                    let answers = matches!(why, Why::Answer | Why::Ask);
                    // Where a key opens the ear, only what follows one another keeps it open.
                    if answers && (self.options.attention != Attention::Key || self.is_awake()) {
                        self.stay_awake();
                    }
                }
                _ => {}
            }
        }
    }
}

/// Stops speech and alarms: obeyed without the name.
pub(super) fn is_stop(intent: &Intent) -> bool {
    matches!(intent, Intent::StopTalking | Intent::StopChime)
}

/// Does `text` begin with the name?
fn calls(text: &str, name: &str) -> bool {
    let (said, name) = (name_words(text), name_words(name));
    let from = said
        .iter()
        .take_while(|w| GREETINGS.contains(&w.as_str()))
        .count();
    !name.is_empty() && said[from..].starts_with(&name)
}

/// About how long the voice takes for a text: 63 ms a letter and 300 ms a stop at the normal rate of 155 words a minute,
/// fitted to espeak-ng's own lengths (within a tenth for answers of a sentence or more).
fn speaking(text: &str, voice: VoiceSettings) -> Span {
    let stops = text.matches(['.', ',', ':', ';', '?', '!']).count();
    let ms = 63 * text.chars().count() as u64 + 300 * stops as u64;
    let words_a_minute = 155 + 15 * i64::from(voice.rate);
    Span::millis(ms * 155 / words_a_minute.max(1) as u64)
}

/// Before this moment nothing was ever said.
pub(super) const NEVER: Moment = Moment(0);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_comes_first() {
        for (text, name) in [
            ("commis next", "commis"),
            ("okay commis how much salt", "commis"),
            ("commis", "Commis"),
            ("sous chef next", "sous chef"),
        ] {
            assert!(calls(text, name), "{text}");
        }
        for text in ["next", "next please commis", "", "how much salt"] {
            assert!(!calls(text, "commis"), "{text}");
        }
        assert!(!calls("next", ""));
    }
}
