//! Recordings and the vocabulary through the real recogniser.

use std::path::{Path, PathBuf};

use super::rehearse::Listener;
use crate::bench::{Bench, Heard};
use crate::formula::Formula;
use crate::hear::{self, HearError};
use crate::understand::network;

/// The speech model that the program uses: the shipped one.
pub(super) fn model_folder() -> PathBuf {
    super::place::shipped("models/en-kitchen")
}

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
    let Ok(known) = hear::Lexicon::read(model) else {
        return vec![format!(
            "{}: no speech model here, so I cannot tell which words it knows",
            model.display()
        )];
    };
    // Every name as the formula gives it; the network has already lost what cannot be heard.
    let names = formula
        .ingredients
        .iter()
        .flat_map(|i| {
            std::iter::once(&i.name)
                .chain(&i.also)
                .map(move |n| (i.id.as_str(), n.clone()))
        })
        .chain(
            formula
                .steps
                .iter()
                .flat_map(|s| s.timers.iter().map(|t| ("timer", t.name.clone()))),
        );
    let mut warnings = Vec::new();
    for (id, name) in names {
        for word in crate::understand::name_words(&name) {
            if !known.knows(&word) {
                let near =
                    nearest(&known, &word).map_or(String::new(), |n| format!(" such as `{n}`"));
                let warning = format!(
                    "{id}: the speech model does not know `{word}`: give it another name in `also`{near}"
                );
                if !warnings.contains(&warning) {
                    warnings.push(warning);
                }
            }
        }
    }
    warnings
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
        if let hear::Step::Final(h) = ear.accept(piece) {
            join(h);
        }
    }
    join(ear.finish());
    ear.reset();
    whole
}

/// The known word that sounds or looks nearest.
fn nearest<'k>(known: &'k hear::Lexicon, word: &str) -> Option<&'k str> {
    let near = |w: &str| strsim::jaro_winkler(w, word);
    known
        .in_order()
        .iter()
        .map(|(w, _)| (near(w), w.as_str()))
        .filter(|(score, _)| *score > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, w)| w)
}
