//! Recordings and the vocabulary through the real recogniser.

use std::path::{Path, PathBuf};

use super::rehearse::Listener;
use crate::bench::{Bench, Heard};
use crate::formula::Formula;
use crate::hear::{self, HearError};
#[cfg(feature = "recogniser")]
use crate::understand::network;

/// Hears whole files, with the vocabulary of the bench at hand.
pub(super) struct FileListener {
    model: PathBuf,
    #[cfg(feature = "recogniser")]
    ear: Option<hear::VoskRecogniser>,
}

impl FileListener {
    pub(super) fn new(model: PathBuf) -> Self {
        Self {
            model,
            #[cfg(feature = "recogniser")]
            ear: None,
        }
    }
}

impl Listener for FileListener {
    #[cfg(feature = "recogniser")]
    fn listen(
        &mut self,
        file: &Path,
        bench: &Bench,
    ) -> Result<(Vec<i16>, Option<Heard>), HearError> {
        let audio = hear::wav::read(file)?;
        if self.ear.is_none() {
            self.ear = Some(hear::VoskRecogniser::with_network(
                &self.model,
                &network(bench.lexicon()),
            )?);
        }
        let Some(ear) = &mut self.ear else {
            return Err(HearError::NotBuilt);
        };
        let heard = whole_utterance(ear, &audio).heard();
        Ok((audio, heard))
    }

    #[cfg(not(feature = "recogniser"))]
    fn listen(&mut self, _: &Path, _: &Bench) -> Result<(Vec<i16>, Option<Heard>), HearError> {
        let _ = &self.model;
        Err(HearError::NotBuilt)
    }

    fn vocabulary_changed(&mut self) {
        #[cfg(feature = "recogniser")]
        {
            self.ear = None;
        }
    }
}

/// Words of this formula that the model cannot hear, each with what to do.
pub(super) fn unknown_words(formula: &Formula, model: &Path) -> Vec<String> {
    let Ok(known) = hear::ModelWords::read(model) else {
        return vec![format!(
            "{}: no speech model here, so I cannot tell which words it knows",
            model.display()
        )];
    };
    let heard = |name: &str| {
        crate::understand::name_words(name)
            .iter()
            .all(|w| known.knows(w))
    };
    let mut warnings = Vec::new();
    for i in &formula.ingredients {
        // Names from the formula first, then those of the ingredient table: all of them can be said.
        let row = crate::measure::ingredients().find(&i.table);
        let others: Vec<&String> = i
            .also
            .iter()
            .chain(row.iter().flat_map(|r| &r.also))
            .collect();
        if heard(&i.name) {
            continue;
        }
        let lacks = unknown_of(&i.name, &known);
        warnings.push(match others.into_iter().find(|n| heard(n)) {
            Some(other) => format!("{}: the speech model does not know {lacks}: say `{other}`", i.id),
            None => format!(
                "{}: the speech model does not know {lacks}, nor any other name of it: give it one in `also`",
                i.id
            ),
        });
    }
    for t in formula.steps.iter().flat_map(|s| &s.timers) {
        if !heard(&t.name) {
            let lacks = unknown_of(&t.name, &known);
            warnings.push(format!(
                "timer `{}`: the speech model does not know {lacks}: choose another name, or use the keys for it",
                t.name
            ));
        }
    }
    warnings
}

/// The words of a name that the model lacks, quoted, each with the nearest that it knows.
fn unknown_of(name: &str, known: &hear::ModelWords) -> String {
    let words: Vec<String> = crate::understand::name_words(name)
        .into_iter()
        .filter(|w| !known.knows(w))
        .map(|w| match nearest(known, &w) {
            Some(near) => format!("`{w}` (it knows `{near}`)"),
            None => format!("`{w}`"),
        })
        .collect();
    words.join(", ")
}

/// One recording as one utterance: the pieces that the recogniser ends on the way are joined.
#[cfg(feature = "recogniser")]
pub(super) fn whole_utterance(ear: &mut dyn hear::Recogniser, audio: &[i16]) -> hear::Hypothesis {
    let mut whole = hear::Hypothesis {
        confidence: 1.0,
        ..hear::Hypothesis::default()
    };
    let mut join = |h: hear::Hypothesis| {
        if h.is_empty() {
            return;
        }
        if whole.is_empty() {
            whole = h;
        } else {
            whole.text = format!("{} {}", whole.text, h.text);
            whole.confidence = whole.confidence.min(h.confidence);
            whole.words.extend(h.words);
            whole.others.clear();
        }
    };
    for piece in audio.chunks(hear::RATE as usize / 10) {
        if let hear::Progress::Final(h) = ear.accept(piece) {
            join(h);
        }
    }
    join(ear.finish());
    ear.reset();
    whole
}

/// The known word that sounds or looks nearest.
fn nearest<'k>(known: &'k hear::ModelWords, word: &str) -> Option<&'k str> {
    let near = |w: &str| strsim::jaro_winkler(w, word);
    known
        .in_order()
        .iter()
        .map(|(w, _)| (near(w), w.as_str()))
        .filter(|(score, _)| *score > 0.93)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, w)| w)
}
