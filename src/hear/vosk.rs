//! The recogniser that ships: libvosk with a strict grammar.

use std::path::{Path, PathBuf};

use vosk::{CompleteResult, DecodingState, LogLevel, Model, Recognizer};

use super::fst;
use super::model_folder::{ModelKind, PrivateModel, kind_of};
use super::{
    COMPETITION, Competition, Grammar, HearError, HeardWord, Hypothesis, Lexicon, RATE, Recogniser,
    Standing, Step, UNKNOWN,
};
use crate::understand::Network;

/// The most phrases given to a model that takes no strict grammar.
const MOST_PHRASES: usize = 4_000;
/// In a narrow recogniser talk counts this many times as much as all phrases together.
const TALK_SHARE: usize = 1;
/// How many other readings are sought.
const OTHERS: u16 = 5;

/// libvosk with a model folder.
pub struct VoskRecogniser {
    folder: PathBuf,
    kind: ModelKind,
    lexicon: Lexicon,
    competition: Competition,
    grammar: Option<Grammar>,
    // Before the model, so that it is dropped first.
    recogniser: Recognizer,
    /// None in a narrow one: libvosk keeps what it needs of the model of another.
    model: Option<Model>,
}

impl VoskRecogniser {
    /// Loads a model folder; until a network is set it hears whatever the model hears.
    ///
    /// # Errors
    /// When the folder is no model or libvosk refuses it.
    pub fn open(folder: &Path) -> Result<Self, HearError> {
        vosk::set_log_level(LogLevel::Error);
        let kind = kind_of(folder)?;
        let lexicon = Lexicon::read(folder)?;
        let model = load(folder, folder)?;
        let recogniser = fresh(&model, folder)?;
        Ok(Self {
            folder: folder.to_owned(),
            kind,
            lexicon,
            competition: COMPETITION,
            grammar: None,
            recogniser,
            model: Some(model),
        })
    }

    /// Loads a model folder with a network at once: faster than one after the other.
    ///
    /// # Errors
    /// When the folder is no model, libvosk refuses it, or nothing of the network can be heard.
    pub fn with_network(folder: &Path, network: &Network) -> Result<Self, HearError> {
        Self::with_competition(folder, network, COMPETITION)
    }

    /// The same with another weight for talk, to measure with.
    ///
    /// # Errors
    /// As [`Self::with_network`].
    pub fn with_competition(
        folder: &Path,
        network: &Network,
        competition: Competition,
    ) -> Result<Self, HearError> {
        vosk::set_log_level(LogLevel::Error);
        let kind = kind_of(folder)?;
        let lexicon = Lexicon::read(folder)?;
        let grammar = Grammar::new(network, &lexicon)?;
        let (model, recogniser) = build(folder, kind, &lexicon, &grammar, competition)?;
        Ok(Self {
            folder: folder.to_owned(),
            kind,
            lexicon,
            competition,
            grammar: Some(grammar),
            recogniser,
            model: Some(model),
        })
    }

    /// The words that the model knows.
    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    fn hypothesis(&self, result: CompleteResult<'_>) -> Hypothesis {
        let Some(single) = result.single() else {
            return Hypothesis::default();
        };
        let words: Vec<HeardWord> = single
            .result
            .iter()
            .map(|w| HeardWord {
                word: w.word.to_owned(),
                confidence: w.conf,
                start: w.start,
                end: w.end,
            })
            .collect();
        let lowest = words
            .iter()
            .map(|word| word.confidence)
            .fold(1.0_f32, f32::min);
        let confidence = if words.is_empty() {
            0.0
        } else {
            lowest.clamp(0.0, 1.0)
        };
        Hypothesis {
            text: single.text.trim().to_owned(),
            confidence,
            words,
            others: Vec::new(),
            over: false,
        }
    }
}

impl Recogniser for VoskRecogniser {
    fn accept(&mut self, audio: &[i16]) -> Step {
        match self.recogniser.accept_waveform(audio) {
            Ok(DecodingState::Finalized) => Step::Final(self.finish()),
            Ok(DecodingState::Running) => {
                let partial = self.recogniser.partial_result().partial;
                if partial.is_empty() {
                    Step::Nothing
                } else {
                    Step::Partial(partial.to_owned())
                }
            }
            Ok(DecodingState::Failed) | Err(_) => {
                self.reset();
                Step::Nothing
            }
        }
    }

    fn finish(&mut self) -> Hypothesis {
        let result: CompleteResult<'_> = self.recogniser.final_result();
        // Copied out first: the result borrows the recogniser.
        let owned = serde_json::to_string(&result).unwrap_or_default();
        let Ok(result) = serde_json::from_str::<CompleteResult<'_>>(&owned) else {
            return Hypothesis::default();
        };
        self.hypothesis(result)
    }

    fn reset(&mut self) {
        self.recogniser.reset();
    }

    fn set_network(&mut self, network: &Network) -> Result<(), HearError> {
        let grammar = Grammar::new(network, &self.lexicon)?;
        let (model, recogniser) = build(
            &self.folder,
            self.kind,
            &self.lexicon,
            &grammar,
            self.competition,
        )?;
        self.recogniser = recogniser;
        self.model = Some(model);
        self.grammar = Some(grammar);
        Ok(())
    }

    fn standing(&self, text: &str) -> Standing {
        self.grammar
            .as_ref()
            .map_or(Standing::Outside, |grammar| grammar.standing(text))
    }

    fn narrow(&self, phrases: &[String]) -> Option<Box<dyn Recogniser>> {
        let network = Network::of_phrases(phrases.iter().map(String::as_str));
        let grammar = Grammar::new(&network, &self.lexicon).ok()?;
        let mut all = grammar.phrases(phrases.len());
        // Said several times, talk is likelier than any one phrase.
        all.extend(vec![UNKNOWN.to_owned(); TALK_SHARE * all.len()]);
        let mut recogniser = Recognizer::new_with_grammar(self.model.as_ref()?, RATE as f32, &all)?;
        recogniser.set_words(true);
        Some(Box::new(Self {
            folder: self.folder.clone(),
            kind: self.kind,
            lexicon: Lexicon::default(),
            competition: self.competition,
            grammar: Some(grammar),
            recogniser,
            model: None,
        }))
    }

    fn others(&mut self, audio: &[i16]) -> Vec<String> {
        let model = self.model.as_ref();
        let Some(mut second) = model.and_then(|m| fresh(m, &self.folder).ok()) else {
            return Vec::new();
        };
        second.set_max_alternatives(OTHERS);
        if second.accept_waveform(audio).is_err() {
            return Vec::new();
        }
        let mut found: Vec<String> = Vec::new();
        if let Some(result) = second.final_result().multiple() {
            for alternative in result.alternatives {
                let text = alternative.text.trim();
                if !text.is_empty()
                    && !text.contains(UNKNOWN)
                    && !found.iter().any(|known| known == text)
                {
                    found.push(text.to_owned());
                }
            }
        }
        found
    }
}

fn build(
    folder: &Path,
    kind: ModelKind,
    lexicon: &Lexicon,
    grammar: &Grammar,
    competition: Competition,
) -> Result<(Model, Recognizer), HearError> {
    match kind {
        ModelKind::Strict => {
            let bytes = fst::to_bytes(
                &grammar.acceptor(lexicon, competition),
                lexicon,
                "words.txt",
            );
            let private = PrivateModel::with_grammar(folder, &bytes)?;
            // libvosk reads everything while it loads: the private folder may go right after.
            let model = load(private.path(), folder)?;
            let recogniser = fresh(&model, folder)?;
            Ok((model, recogniser))
        }
        ModelKind::Fixed => {
            let model = load(folder, folder)?;
            let mut phrases = grammar.phrases(MOST_PHRASES);
            phrases.push(UNKNOWN.to_owned());
            // A fixed graph refuses phrases; the parser then judges what it hears.
            let with_phrases = Recognizer::new_with_grammar(&model, RATE as f32, &phrases);
            let recogniser = match with_phrases {
                Some(mut recogniser) => {
                    recogniser.set_words(true);
                    recogniser
                }
                None => fresh(&model, folder)?,
            };
            Ok((model, recogniser))
        }
    }
}

fn load(path: &Path, named: &Path) -> Result<Model, HearError> {
    let refused = || HearError::ModelRefused {
        path: named.to_owned(),
    };
    Model::new(path.to_str().ok_or_else(refused)?).ok_or_else(refused)
}

fn fresh(model: &Model, named: &Path) -> Result<Recognizer, HearError> {
    let mut recogniser =
        Recognizer::new(model, RATE as f32).ok_or_else(|| HearError::ModelRefused {
            path: named.to_owned(),
        })?;
    recogniser.set_words(true);
    Ok(recogniser)
}
