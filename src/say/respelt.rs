//! Names that a formula spells for the ear, in every voice.

use super::{SayError, Sound, Voice};
use crate::bench::VoiceSettings;

/// A voice that says each of these names as it is spelt beside it.
pub fn respelt(voice: Box<dyn Voice>, names: &[(String, String)]) -> Box<dyn Voice> {
    if names.is_empty() {
        return voice;
    }
    Box::new(Respelt::new(voice, names))
}

/// A voice that says some names as they are spelt for it.
struct Respelt {
    voice: Box<dyn Voice>,
    /// A name in small letters, and how it is to be said; the longest first.
    names: Vec<(String, String)>,
}

impl Respelt {
    fn new(voice: Box<dyn Voice>, names: &[(String, String)]) -> Self {
        let mut names: Vec<(String, String)> = names
            .iter()
            .filter(|(name, _)| !name.trim().is_empty())
            .map(|(name, say)| (name.trim().to_lowercase(), say.trim().to_owned()))
            .collect();
        names.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
        Self { voice, names }
    }

    fn respelt(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(c) = rest.chars().next() {
            let begins = !out.ends_with(char::is_alphanumeric);
            let found = self
                .names
                .iter()
                .filter(|_| begins)
                .find_map(|(name, say)| Some((after(rest, name)?, say)));
            if let Some((after, say)) = found {
                out.push_str(say);
                rest = after;
            } else {
                out.push(c);
                rest = &rest[c.len_utf8()..];
            }
        }
        out
    }
}

/// What comes after a name that a text begins with, whatever its capitals; a plural keeps its s.
fn after<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    let mut wanted = name.chars();
    let mut rest = text.chars();
    for w in wanted.by_ref() {
        if !rest.next()?.to_lowercase().eq(std::iter::once(w)) {
            return None;
        }
    }
    let after = rest.as_str();
    let bare = after.strip_prefix('s').unwrap_or(after);
    (!bare.starts_with(char::is_alphanumeric)).then_some(after)
}

impl Voice for Respelt {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        self.voice.speak(&self.respelt(text), settings)
    }

    fn prepare(&mut self, texts: Vec<String>, settings: VoiceSettings) {
        let texts = texts.iter().map(|text| self.respelt(text)).collect();
        self.voice.prepare(texts, settings);
    }

    fn plays_itself(&self) -> bool {
        self.voice.plays_itself()
    }

    fn busy(&self) -> bool {
        self.voice.busy()
    }

    fn stop(&mut self) {
        self.voice.stop();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::{Arc, Mutex};

    use super::*;

    struct Heard(Arc<Mutex<Vec<String>>>);
    impl Voice for Heard {
        fn speak(&mut self, text: &str, _: VoiceSettings) -> Result<Option<Sound>, SayError> {
            self.0.lock().expect("one thread").push(text.to_owned());
            Ok(None)
        }
    }

    #[test]
    fn whole_names_are_respelt_whatever_their_capitals() {
        let heard = Arc::new(Mutex::new(Vec::new()));
        let names = [
            ("nduja", "en doo ya"),
            ("nduja paste", "en doo ya paste, the hot one"),
        ]
        .map(|(name, say)| (name.to_owned(), say.to_owned()));
        let mut voice = Respelt::new(Box::new(Heard(Arc::clone(&heard))), &names);
        for (text, said) in [
            ("Nduja: fifty grams.", "en doo ya: fifty grams."),
            (
                "Add the nduja paste.",
                "Add the en doo ya paste, the hot one.",
            ),
            ("Two ndujas.", "Two en doo yas."),
            ("An undujal is none.", "An undujal is none."),
            ("ndujan", "ndujan"),
        ] {
            voice
                .speak(text, VoiceSettings::default())
                .expect("it speaks");
            assert_eq!(
                heard.lock().expect("one thread").pop().as_deref(),
                Some(said)
            );
        }
    }
}
