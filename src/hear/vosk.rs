//! The recogniser that ships: libvosk with a strict grammar.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use vosk::{Alternative, CompleteResult, DecodingState, LogLevel, Model, Recognizer};

use super::free::{self, Free};
use super::fst;
use super::model_folder::{ModelKind, PrivateModel, kind_of};
use super::{
    COMPETITION, Competition, HearError, Hearable, HeardWord, Hypothesis, ModelWords, Progress,
    RATE, Recogniser, Standing, UNKNOWN,
};
use crate::understand::Network;

/// The most phrases given to a model that takes no strict grammar.
const MOST_PHRASES: usize = 4_000;
/// Sentences of everyday talk, one a line: what orders compete with.
const TALK: &str = include_str!("talk.txt");
/// In a narrow recogniser talk counts this many times as much as all phrases together.
const TALK_SHARE: usize = 1;
/// After so many samples the recognisers are made anew between two utterances, which takes 24 ms: what they have
/// composed of their networks by then is kept and grows, to some 50 MiB in ten minutes of talk.
const ANEW_AFTER: usize = 20 * RATE as usize;
/// How many readings are told apart.
const READINGS: u16 = 16;

/// libvosk with a model folder.
pub struct VoskRecogniser {
    folder: PathBuf,
    kind: ModelKind,
    lexicon: Arc<ModelWords>,
    grammar: Option<Hearable>,
    // Before the model, so that they are dropped first.
    recogniser: Recognizer,
    rival: Option<Rival>,
    free: Option<Free>,
    /// The text of free speech; none where the model takes none.
    text: Vec<String>,
    /// Samples since they were made.
    taken: usize,
    /// No utterance is in progress.
    between: bool,
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
        let lexicon = Arc::new(ModelWords::read(folder)?);
        let model = load(folder, folder)?;
        let recogniser = fresh(&model, folder)?;
        Ok(Self {
            folder: folder.to_owned(),
            kind,
            lexicon,
            grammar: None,
            recogniser,
            rival: None,
            free: None,
            text: Vec::new(),
            taken: 0,
            between: true,
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
        let lexicon = Arc::new(ModelWords::read(folder)?);
        let grammar = Hearable::new(network, &lexicon)?;
        Self::with_grammar(folder, lexicon, grammar, network.spoken(), competition)
    }

    /// With the words that the model knows, and with a network that is needed no longer when the model is loaded: what
    /// makes one recogniser after the other takes little memory by that.
    ///
    /// # Errors
    /// As [`Self::with_network`].
    pub fn made_of(
        folder: &Path,
        lexicon: &Arc<ModelWords>,
        network: Network,
    ) -> Result<Self, HearError> {
        let grammar = Hearable::new(&network, lexicon)?;
        let spoken = network.spoken().to_vec();
        drop(network);
        Self::with_grammar(folder, Arc::clone(lexicon), grammar, &spoken, COMPETITION)
    }

    fn with_grammar(
        folder: &Path,
        lexicon: Arc<ModelWords>,
        grammar: Hearable,
        spoken: &[String],
        competition: Competition,
    ) -> Result<Self, HearError> {
        vosk::set_log_level(LogLevel::Error);
        let kind = kind_of(folder)?;
        let (model, recogniser) = build(folder, kind, &lexicon, &grammar, competition)?;
        let text = match kind {
            ModelKind::Strict => free::text(&lexicon, &talk(&lexicon), spoken),
            ModelKind::Fixed => Vec::new(),
        };
        Ok(Self {
            folder: folder.to_owned(),
            kind,
            rival: Rival::new(kind, &model, &lexicon),
            free: (!text.is_empty())
                .then(|| Free::new(&model, &text))
                .flatten(),
            text,
            lexicon,
            grammar: Some(grammar),
            recogniser,
            taken: 0,
            between: true,
            model: Some(model),
        })
    }

    /// The words that the model knows.
    pub fn lexicon(&self) -> &ModelWords {
        &self.lexicon
    }

    /// Recognisers that have composed nothing yet, where the network stands in the model itself.
    fn make_anew(&mut self) {
        if let Some(model) = &self.model
            && self.kind == ModelKind::Strict
            && let Ok(recogniser) = fresh(model, &self.folder)
        {
            self.recogniser = recogniser;
            self.rival = Rival::new(self.kind, model, &self.lexicon);
            self.free = Free::new(model, &self.text);
            self.taken = 0;
        }
    }

    /// What the recogniser made of the utterance, which it ends.
    fn ended(&mut self) -> Hypothesis {
        self.between = true;
        let (mut heard, fit) = readings(self.recogniser.final_result());
        let talk = self.rival.as_mut().and_then(Rival::ended);
        let words = heard.words.len();
        let talk_fit = talk.as_ref().map(|(_, fit)| *fit);
        if let Some((fit, (talk, talk_fit))) = fit.zip(talk).filter(|_| words > 0) {
            heard.rival = Some((talk_fit - fit) / words as f32);
            heard.talk = Some(talk);
        }
        if let Some(free) = &mut self.free {
            if heard.is_empty() {
                free.reset();
            } else if let Some(made) = free.ended() {
                let words = made.readings[0].0.split(' ').count();
                heard.free_rival = talk_fit.map(|talk| (talk - made.fit) / words as f32);
                heard.free_gain = fit.map(|fit| (made.fit - fit) / words as f32);
                heard.free = made.readings;
            }
        }
        heard
    }
}

/// The lines of everyday talk that the model has all words of.
fn talk(words: &ModelWords) -> Vec<&'static str> {
    let known = |line: &&str| line.split(' ').all(|word| words.knows(word));
    TALK.lines().filter(known).collect()
}

/// Ordinary talk by the same model: how well an utterance fits English that is no order.
struct Rival(Recognizer);

impl Rival {
    /// Nothing where the model has a fixed graph.
    fn new(kind: ModelKind, model: &Model, lexicon: &ModelWords) -> Option<Self> {
        if kind == ModelKind::Fixed {
            return None;
        }
        let mut recogniser = Recognizer::new_with_grammar(model, RATE as f32, &talk(lexicon))?;
        recogniser.set_max_alternatives(1);
        Some(Self(recogniser))
    }

    fn accept(&mut self, audio: &[i16]) {
        // It may find that speech has ended; it goes on all the same, to the end of what is compared.
        let _ = self.0.accept_waveform(audio);
    }

    /// The words of the utterance, which ends here, and how well they fit.
    fn ended(&mut self) -> Option<(String, f32)> {
        let CompleteResult::Multiple(all) = self.0.final_result() else {
            return None;
        };
        let best = all.alternatives.first()?;
        Some((best.text.trim().to_owned(), best.confidence))
    }

    fn reset(&mut self) {
        self.0.reset();
    }
}

/// The readings of one utterance with their shares, and the logarithm of how well the best one fits the audio, in nats.
fn readings(result: CompleteResult<'_>) -> (Hypothesis, Option<f32>) {
    let CompleteResult::Multiple(all) = result else {
        return (Hypothesis::default(), None);
    };
    let Some(best) = all.alternatives.first() else {
        return (Hypothesis::default(), None);
    };
    let parts: Vec<f32> = all
        .alternatives
        .iter()
        .map(|one| (one.confidence - best.confidence).exp())
        .collect();
    let whole: f32 = parts.iter().sum();
    let shared: Vec<(&Alternative<'_>, f32)> = all
        .alternatives
        .iter()
        .zip(parts)
        .map(|(one, part)| (one, part / whole))
        .collect();
    let words = best
        .result
        .iter()
        .map(|word| HeardWord {
            word: word.word.to_owned(),
            confidence: shared
                .iter()
                .filter(|(one, _)| {
                    one.result
                        .iter()
                        .any(|w| w.word == word.word && w.start < word.end && w.end > word.start)
                })
                .map(|(_, share)| share)
                .sum::<f32>()
                .min(1.0),
        })
        .collect();
    let text = |one: &Alternative<'_>| one.text.trim().to_owned();
    let heard = Hypothesis {
        text: text(best),
        confidence: if best.text.trim().is_empty() {
            0.0
        } else {
            shared[0].1
        },
        words,
        others: shared[1..]
            .iter()
            .map(|(one, share)| (text(one), *share))
            .collect(),
        rival: None,
        talk: None,
        free: Vec::new(),
        free_rival: None,
        free_gain: None,
        over: false,
        follows_talk: false,
        voiced: 0,
        above: 0.0,
    };
    (heard, Some(best.confidence))
}

impl Recogniser for VoskRecogniser {
    fn accept(&mut self, audio: &[i16]) -> Progress {
        if std::mem::take(&mut self.between) && self.taken > ANEW_AFTER {
            self.make_anew();
        }
        self.taken += audio.len();
        if let Some(rival) = &mut self.rival {
            rival.accept(audio);
        }
        if let Some(free) = &mut self.free {
            free.take(audio);
        }
        match self.recogniser.accept_waveform(audio) {
            Ok(DecodingState::Finalized) => Progress::Final(self.ended()),
            Ok(DecodingState::Running) => {
                let partial = self.recogniser.partial_result().partial;
                if partial.is_empty() {
                    Progress::Nothing
                } else {
                    if let Some(free) = &mut self.free
                        && partial.contains(UNKNOWN)
                    {
                        free.follow();
                    }
                    Progress::Partial(partial.to_owned())
                }
            }
            Ok(DecodingState::Failed) | Err(_) => {
                self.reset();
                Progress::Nothing
            }
        }
    }

    fn finish(&mut self) -> Hypothesis {
        self.ended()
    }

    fn reset(&mut self) {
        self.between = true;
        self.recogniser.reset();
        if let Some(rival) = &mut self.rival {
            rival.reset();
        }
        if let Some(free) = &mut self.free {
            free.reset();
        }
    }

    fn standing(&self, text: &str) -> Standing {
        self.grammar
            .as_ref()
            .map_or(Standing::Outside, |grammar| grammar.standing(text))
    }

    fn narrow(&self, phrases: &[String]) -> Option<Box<dyn Recogniser>> {
        let network = Network::of_phrases(phrases.iter().map(String::as_str));
        let grammar = Hearable::new(&network, &self.lexicon).ok()?;
        let mut all = grammar.phrases(phrases.len());
        // Said several times, talk is likelier than any one phrase.
        all.extend(vec![UNKNOWN.to_owned(); TALK_SHARE * all.len()]);
        let mut recogniser = Recognizer::new_with_grammar(self.model.as_ref()?, RATE as f32, &all)?;
        tell_apart(&mut recogniser);
        Some(Box::new(Self {
            folder: self.folder.clone(),
            kind: self.kind,
            lexicon: Arc::default(),
            grammar: Some(grammar),
            recogniser,
            rival: None,
            free: None,
            text: Vec::new(),
            taken: 0,
            between: true,
            model: None,
        }))
    }
}

fn build(
    folder: &Path,
    kind: ModelKind,
    lexicon: &ModelWords,
    grammar: &Hearable,
    competition: Competition,
) -> Result<(Model, Recognizer), HearError> {
    match kind {
        ModelKind::Strict => {
            let bytes = fst::to_bytes(grammar.acceptor(lexicon, competition), lexicon, "words.txt");
            let private = PrivateModel::with_grammar(folder, &bytes)?;
            drop(bytes);
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
                    tell_apart(&mut recogniser);
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
    tell_apart(&mut recogniser);
    Ok(recogniser)
}

/// Readings with the times of their words.
fn tell_apart(recogniser: &mut Recognizer) {
    recogniser.set_max_alternatives(READINGS);
    recogniser.set_words(true);
}
