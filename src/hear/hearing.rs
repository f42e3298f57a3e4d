//! From 16 kHz audio to utterances: the gate, the recogniser, and the end of speech decided by what was said. It reads
//! no clock and no device: time is the audio that it was given.

use super::gate::{Gate, rms};
use super::{Hypothesis, RATE, Recogniser, Standing, Step};

/// One look at the audio, in samples: 20 ms.
const LOOK: usize = RATE as usize / 50;
/// Silence that ends speech when it is a whole order already and nothing could follow.
const AFTER_COMPLETE: usize = RATE as usize * 25 / 100;
/// Silence that ends a whole order to which something could be added.
const AFTER_EXTENDABLE: usize = RATE as usize * 45 / 100;
/// Silence that ends anything else.
const AFTER_UNFINISHED: usize = RATE as usize * 90 / 100;
/// A look is silent below this share of the loudest part of the utterance.
const SILENT_SHARE: f32 = 0.12;
/// A look is silent when it is not this much above the kitchen's noise.
const ABOVE_NOISE: f32 = 1.6;

/// What stops speech and alarms: beside the name, all that is heard while the program itself sounds.
const STOPS: [&str; 8] = [
    "stop",
    "stop it",
    "stop talking",
    "quiet",
    "be quiet",
    "enough",
    "that is enough",
    "stop the alarm",
];

/// The listening pipeline behind a microphone.
pub struct Hearing {
    recogniser: Box<dyn Recogniser>,
    next: Option<Box<dyn Recogniser>>,
    name: String,
    /// Hears only what may interrupt.
    narrow: Option<Box<dyn Recogniser>>,
    gate: Gate,
    speech: Utterance,
}

impl Hearing {
    /// With a recogniser that has its network, and the name that may interrupt.
    pub fn new(recogniser: Box<dyn Recogniser>, name: &str) -> Self {
        Self {
            narrow: recogniser.narrow(&interruptions(name)),
            recogniser,
            next: None,
            name: name.to_owned(),
            gate: Gate::default(),
            speech: Utterance::default(),
        }
    }

    /// Takes the next audio, 16 kHz mono, and gives the utterances that ended in it.
    /// `over`: the program itself sounds meanwhile.
    pub fn take(&mut self, audio: &[i16], over: bool) -> Vec<Hypothesis> {
        let mut ended = Vec::new();
        for look in audio.chunks(LOOK) {
            let passed = self.gate.pass(look);
            if !self.speech.any {
                self.speech.over = over;
            }
            let recogniser = match &mut self.narrow {
                Some(narrow) if self.speech.over => narrow,
                _ => &mut self.recogniser,
            };
            let heard = self.speech.take(recogniser.as_mut(), &passed, &self.gate);
            ended.extend(heard.map(|h| self.called(h)).filter(|h| !h.is_empty()));
            if !self.speech.any
                && let Some(next) = self.next.take()
            {
                self.take_up(next);
            }
        }
        ended
    }

    /// Goes on with another recogniser, which knows other words. Speech in progress is heard to its end by the old one.
    pub fn swap(&mut self, recogniser: Box<dyn Recogniser>) {
        if self.speech.any {
            self.next = Some(recogniser);
        } else {
            self.take_up(recogniser);
        }
    }

    /// The name before whatever else, heard over the program's own voice, is a call: it falls silent and listens.
    fn called(&self, mut heard: Hypothesis) -> Hypothesis {
        let name = crate::understand::name_words(&self.name);
        let said: Vec<&str> = heard.text.split(' ').collect();
        if heard.over
            && heard.is_talk()
            && !name.is_empty()
            && said.starts_with(&name.iter().map(String::as_str).collect::<Vec<_>>())
        {
            heard.text = name.join(" ");
            heard.confidence = heard.words.first().map_or(0.0, |w| w.confidence);
        }
        heard
    }

    fn take_up(&mut self, recogniser: Box<dyn Recogniser>) {
        self.narrow = recogniser.narrow(&interruptions(&self.name));
        self.recogniser = recogniser;
    }
}

fn interruptions(name: &str) -> Vec<String> {
    let mut all: Vec<String> = STOPS.map(str::to_owned).into();
    let name = crate::understand::name_words(name).join(" ");
    if !name.is_empty() {
        all.push(format!("{name} stop"));
        all.push(name);
    }
    all
}

/// One stretch of speech, from the first sound to the silence that ends it.
#[derive(Default)]
struct Utterance {
    text: String,
    loudest: f32,
    silent: usize,
    any: bool,
    over: bool,
}

impl Utterance {
    /// Gives audio to the recogniser; the hypothesis when speech has ended.
    fn take(
        &mut self,
        recogniser: &mut dyn Recogniser,
        audio: &[i16],
        gate: &Gate,
    ) -> Option<Hypothesis> {
        for look in audio.chunks(LOOK) {
            let level = rms(look);
            self.loudest = self.loudest.max(level);
            if level < (self.loudest * SILENT_SHARE).max(gate.floor() * ABOVE_NOISE) {
                self.silent += look.len();
            } else {
                self.silent = 0;
            }
            self.any = true;
            match recogniser.accept(look) {
                Step::Final(mut h) => {
                    h.over = std::mem::take(self).over;
                    if !h.is_empty() {
                        return Some(h);
                    }
                }
                Step::Partial(text) => self.text = text,
                Step::Nothing => {}
            }
            if !self.text.is_empty() {
                let patience = match recogniser.standing(&self.text) {
                    Standing::Complete => AFTER_COMPLETE,
                    Standing::Extendable => AFTER_EXTENDABLE,
                    Standing::Unfinished | Standing::Outside => AFTER_UNFINISHED,
                };
                if self.silent >= patience {
                    return Some(self.end(recogniser));
                }
            }
        }
        (!gate.is_open() && self.any).then(|| self.end(recogniser))
    }

    fn end(&mut self, recogniser: &mut dyn Recogniser) -> Hypothesis {
        let over = std::mem::take(self).over;
        let mut h = recogniser.finish();
        h.over = over;
        recogniser.reset();
        h
    }
}
