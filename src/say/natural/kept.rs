//! Sentences that were made, kept for when they are said again: the newest, so many seconds of them and no more.

use std::collections::{HashMap, VecDeque};

use super::super::Sound;
use super::wave::RATE;
use crate::bench::VoiceSettings;

/// Samples that are kept: three minutes, 9 MB.
const MOST: usize = 3 * 60 * RATE as usize;

type Key = (String, i8, i8, i8);

/// Sentences with their sound.
#[derive(Default)]
pub(super) struct Kept {
    sounds: HashMap<Key, Vec<i16>>,
    /// The oldest first.
    order: VecDeque<Key>,
    samples: usize,
}

fn key(text: &str, v: VoiceSettings) -> Key {
    (text.to_owned(), v.rate, v.pitch, v.volume)
}

impl Kept {
    /// Whether this is kept.
    pub(super) fn has(&self, text: &str, settings: VoiceSettings) -> bool {
        self.sounds.contains_key(&key(text, settings))
    }

    /// The sound of a text that is kept; it counts as new again.
    pub(super) fn find(&mut self, text: &str, settings: VoiceSettings) -> Option<Sound> {
        let key = key(text, settings);
        let samples = self.sounds.get(&key)?;
        let samples = samples.iter().map(|s| f32::from(*s) / 32767.0).collect();
        self.order.retain(|k| *k != key);
        self.order.push_back(key);
        Some(Sound {
            rate: RATE,
            samples,
        })
    }

    /// Keeps a sound, and forgets the oldest where there is no room.
    pub(super) fn keep(&mut self, text: &str, settings: VoiceSettings, sound: &Sound) {
        let key = key(text, settings);
        if sound.samples.len() > MOST / 4 || self.sounds.contains_key(&key) {
            return;
        }
        self.samples += sound.samples.len();
        let samples = sound
            .samples
            .iter()
            .map(|x| (x.clamp(-1.0, 1.0) * 32767.0) as i16);
        self.sounds.insert(key.clone(), samples.collect());
        self.order.push_back(key);
        while self.samples > MOST {
            let Some(oldest) = self.order.pop_front() else {
                return;
            };
            if let Some(gone) = self.sounds.remove(&oldest) {
                self.samples -= gone.len();
            }
        }
    }

    /// How many samples are kept.
    #[cfg(test)]
    pub(super) fn samples(&self) -> usize {
        self.sounds.values().map(Vec::len).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_goes_and_what_is_used_stays() {
        let sound = |seconds: usize| Sound {
            rate: RATE,
            samples: vec![0.5; seconds * RATE as usize],
        };
        let v = VoiceSettings::default();
        let mut kept = Kept::default();
        kept.keep("first", v, &sound(40));
        for i in 0..20 {
            kept.keep(&format!("sentence {i}"), v, &sound(40));
            assert!(kept.find("first", v).is_some(), "it is used all the time");
            assert!(kept.samples() <= MOST && kept.samples() == kept.samples);
        }
        assert!(!kept.has("sentence 3", v) && kept.has("sentence 19", v));
        let faster = VoiceSettings { rate: 1, ..v };
        assert!(
            kept.find("first", faster).is_none(),
            "another voice is another sound"
        );
        kept.keep("an hour", v, &sound(50));
        assert!(
            !kept.has("an hour", v),
            "what would push out everything is not kept"
        );
    }
}
