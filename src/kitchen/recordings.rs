//! The recordings of a formula's steps, ready to be played in place of their words.

use std::collections::HashMap;
use std::path::Path;

use crate::bench::Effect;
use crate::formula::Formula;
use crate::outside;
use crate::say::{Mouth, Sound, from_flac};

/// The largest file of one that is read, in bytes.
const MOST: u64 = 64 << 20;

/// The recordings of a session, by the name of the formula and their paths in it.
#[derive(Default)]
pub(super) struct Recordings {
    sounds: HashMap<(String, String), Sound>,
}

impl Recordings {
    /// Those of a formula in this folder as well; a sentence for each that cannot be played. Nothing outside the folder is
    /// opened, by whatever link.
    pub(super) fn add(&mut self, formula: &Formula, folder: &Path) -> Vec<String> {
        let mut notes = Vec::new();
        for (n, step) in formula.steps.iter().enumerate() {
            let Some(file) = &step.recording else {
                continue;
            };
            match load(folder, file) {
                Ok(sound) => {
                    let key = (formula.name.clone(), file.clone());
                    self.sounds.insert(key, sound);
                }
                Err(why) => notes.push(format!(
                    "I cannot play the recording of step {}: {why}. I say its words.",
                    n + 1
                )),
            }
        }
        notes
    }

    /// Plays what is said, with the recording in place of the words that it stands for.
    pub(super) fn play(
        &self,
        mouth: &Mouth,
        effect: &Effect,
        formula: &str,
        recorded: Option<(String, &str)>,
    ) {
        if let (Effect::Say { text, why }, Some((words, file))) = (effect, recorded)
            && let key = (formula.to_owned(), file.to_owned())
            && let (Some(at), Some(sound)) = (text.find(&words), self.sounds.get(&key))
            && !words.is_empty()
        {
            let say = |text: &str| {
                let text = text.trim().to_owned();
                if !text.is_empty() {
                    mouth.play(&Effect::Say { text, why: *why });
                }
            };
            say(&text[..at]);
            mouth.sound(sound.clone());
            say(&text[at + words.len()..]);
            return;
        }
        mouth.play(effect);
    }
}

/// The sound of a file in a folder. Nothing outside of that is opened, by whatever name or link.
pub(super) fn load(folder: &Path, file: &str) -> Result<Sound, String> {
    let missing = |e: std::io::Error| match e.kind() {
        std::io::ErrorKind::NotFound => "it is not there".to_owned(),
        _ => e.to_string(),
    };
    let folder = std::fs::canonicalize(folder).map_err(missing)?;
    let path = std::fs::canonicalize(folder.join(file)).map_err(missing)?;
    if !path.starts_with(&folder) {
        return Err("it leads out of its folder".to_owned());
    }
    let bytes = outside::read(&path, MOST).map_err(missing)?;
    from_flac(&bytes).map_err(|e| e.to_string())
}
