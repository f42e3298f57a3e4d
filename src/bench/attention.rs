//! Whom the cook is speaking to: the name, and how long none is needed.

use super::Bench;
use super::event::Heard;
use super::options::Attention;
use crate::time::Moment;
use crate::understand::name_words;

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
        self.dialogue.spoke_lately(self.now) || !self.rack.ringing().is_empty()
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
        self.options.attention == Attention::Open || self.dialogue.is_awake(moment)
    }
}

/// What was said without the name before or behind it.
pub(super) fn without_call(text: &str, name: &str) -> String {
    let (said, name) = (name_words(text), name_words(name));
    if name.is_empty() {
        return text.to_owned();
    }
    let greeted = said.iter().take_while(|w| GREETINGS.contains(&w.as_str()));
    let from = greeted.count();
    let from = if said[from..].starts_with(&name) {
        from + name.len()
    } else {
        0
    };
    let rest = &said[from..];
    rest.strip_suffix(name.as_slice()).unwrap_or(rest).join(" ")
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
