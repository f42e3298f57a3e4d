//! From 16 kHz audio to utterances: the gate, the recogniser, and the end of speech decided by what was said. It reads
//! no clock and no device: time is the audio that it was given.

use super::gate::{Gate, LOOK, rms};
use super::voiced::Voiced;
use super::{Hypothesis, Progress, RATE, Recogniser, Standing};

/// Silence that ends anything else.
const AFTER_UNFINISHED: usize = RATE as usize * 90 / 100;
/// A look is silent below this share of the loudest part of the utterance.
const SILENT_SHARE: f32 = 0.12;
/// A look is silent when it is not this much above the kitchen's noise.
const ABOVE_NOISE: f32 = 1.6;

/// No louder is below this many times the mean noise, or this share of the loudest part of the utterance.
const HUSHED_NOISE: f32 = 1.7;
const HUSHED_SHARE: f32 = 0.25;
/// Speech is louder than this share of its loudest part, whatever the noise.
const HUSHED_MOST: f32 = 0.4;
/// How fast the mean noise follows, for each look at which no word is heard.
const NOISE_FOLLOWS: f32 = 0.02;

/// Speech that follows talk after a shorter pause belongs to it.
const BREATH: usize = RATE as usize * 120 / 100;

/// Free speech that pauses for so long has ended; a pause within it was cut where its beginning alone was an order.
const GOES_ON: usize = RATE as usize * 55 / 100;
/// Whatever follows it for so long is no part of it.
const GOES_ON_LONGEST: usize = 8 * RATE as usize;

/// So much better talk must fit, in nats a word, for what was heard as words of an order to be taken for talk.
const FITS_TALK: f32 = 0.0;

/// What ends a whole order: times in samples.
struct Patience {
    /// So much silence, or
    silent: usize,
    /// words that have not changed for this long while the kitchen was as loud as before they began for that long, in steady noise which no
    /// silence follows, or
    steady: usize,
    hushed: usize,
    /// words that have not changed for this long, however loud the kitchen is.
    in_noise: usize,
}

/// After an order to which nothing could be added.
const AFTER_COMPLETE: Patience = Patience::of_hundredths(25, 26, 20, 42);
/// After one to which something could be added.
const AFTER_EXTENDABLE: Patience = Patience::of_hundredths(45, 34, 28, 50);
/// After one that seldom ends there: 'set a timer'.
const AFTER_HANGING: Patience = Patience::of_hundredths(60, 50, 40, 80);

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

impl Patience {
    const fn of_hundredths(silent: usize, steady: usize, hushed: usize, in_noise: usize) -> Self {
        let hundredth = RATE as usize / 100;
        Self {
            silent: silent * hundredth,
            steady: steady * hundredth,
            hushed: hushed * hundredth,
            in_noise: in_noise * hundredth,
        }
    }
}

/// The listening pipeline behind a microphone.
pub struct Hearing {
    recogniser: Box<dyn Recogniser>,
    next: Option<Box<dyn Recogniser>>,
    name: String,
    /// Hears only what may interrupt.
    narrow: Option<Box<dyn Recogniser>>,
    gate: Gate,
    noise: Noise,
    voiced: Voiced,
    speech: Utterance,
    /// The last utterance was talk.
    talked: bool,
    /// Free speech that may go on, and how long ago it paused, in samples.
    held: Option<(Hypothesis, usize)>,
}

/// The mean level of the kitchen while nobody speaks, of full scale.
#[derive(Default)]
struct Noise(f32);

impl Hearing {
    /// With a recogniser that has its network, and the name that may interrupt.
    pub fn new(recogniser: Box<dyn Recogniser>, name: &str) -> Self {
        Self {
            narrow: recogniser.narrow(&interruptions(name)),
            recogniser,
            next: None,
            name: name.to_owned(),
            gate: Gate::default(),
            noise: Noise::default(),
            voiced: Voiced::default(),
            speech: Utterance::default(),
            talked: false,
            held: None,
        }
    }

    /// Takes the next audio, 16 kHz mono, and gives the utterances that ended in it.
    /// `over`: the program itself sounds meanwhile.
    pub fn take(&mut self, audio: &[i16], over: bool) -> Vec<Hypothesis> {
        let mut ended = Vec::new();
        for look in audio.chunks(LOOK) {
            let passed = self.gate.pass(look);
            if !passed.is_empty() {
                self.voiced.take(look, self.noise.0);
            }
            if !self.speech.any {
                self.speech.over = over;
            }
            if passed.is_empty() {
                self.speech.hush(look.len());
            }
            let recogniser = match &mut self.narrow {
                Some(narrow) if self.speech.over => narrow,
                _ => &mut self.recogniser,
            };
            let heard = self
                .speech
                .take(recogniser.as_mut(), &passed, &self.gate, &mut self.noise);
            // In a loud kitchen a pause cannot be told from speech.
            let told = self.noise.0 * HUSHED_NOISE < self.speech.loudest_before * HUSHED_SHARE;
            match heard {
                Some((heard, pause)) if heard.is_empty() => {
                    self.speech.pause = self.speech.pause.max(pause);
                }
                Some((mut heard, pause)) => {
                    heard.voiced = self.voiced.looks();
                    heard.above = self.speech.loudest_before / self.noise.0.max(1e-6);
                    self.voiced.forget();
                    let pause = if told { pause } else { BREATH };
                    ended.extend(self.one_more(heard, pause));
                }
                None => {}
            }
            ended.extend(self.paused(look.len()));
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

    /// The other recogniser waits for the end of what is being said.
    pub fn is_swapping(&self) -> bool {
        self.next.is_some()
    }

    /// Another utterance has ended. Free speech is held back until it is clear that it does not go on.
    fn one_more(&mut self, heard: Hypothesis, pause: usize) -> Vec<Hypothesis> {
        let mut ended = Vec::new();
        let heard = match self.held.take() {
            Some((before, _)) if heard.is_loose() => heard.after(&before),
            Some((before, _)) => {
                ended.push(before);
                self.noted(heard, pause)
            }
            None => self.noted(heard, pause),
        };
        if heard.is_loose() && !heard.free.is_empty() {
            self.held = Some((heard, self.speech.silent_before));
        } else {
            ended.push(heard);
        }
        ended
    }

    /// What was held back, when nothing has followed it for long enough.
    fn paused(&mut self, samples: usize) -> Option<Hypothesis> {
        let (_, since) = self.held.as_mut()?;
        *since += samples;
        // Words that have begun are waited for.
        let over = *since >= GOES_ON && (self.speech.text.is_empty() || *since >= GOES_ON_LONGEST);
        over.then(|| self.held.take())?.map(|(heard, _)| heard)
    }

    fn noted(&mut self, heard: Hypothesis, pause: usize) -> Hypothesis {
        let heard = self.after_talk(heard, pause);
        self.called(heard)
    }

    /// Notes whether it goes on from talk; what does is talk itself.
    fn after_talk(&mut self, mut heard: Hypothesis, pause: usize) -> Hypothesis {
        heard.follows_talk = self.talked && pause < BREATH;
        let fits_talk = heard.rival.is_some_and(|rival| rival > FITS_TALK);
        self.talked = heard.follows_talk || heard.is_talk() || fits_talk;
        heard
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

impl Noise {
    /// Takes one more look, of which a clatter or the start of speech counts little.
    fn follow(&mut self, level: f32) {
        let most = if self.0 > 0.0 { 2.0 * self.0 } else { level };
        self.0 += (level.min(most) - self.0) * NOISE_FOLLOWS;
    }
}

/// One stretch of speech, from the first sound to the silence that ends it.
#[derive(Default)]
struct Utterance {
    text: String,
    loudest: f32,
    /// The loudest of the one before, and the silence that ended it.
    loudest_before: f32,
    silent_before: usize,
    /// So many samples since: the last sound, the last sound louder than the kitchen, another word.
    silent: usize,
    hushed: usize,
    steady: usize,
    /// The longest pause before its first word, in samples.
    pause: usize,
    /// The pause that goes on: clatter takes from it what it lasts.
    lull: usize,
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
        noise: &mut Noise,
    ) -> Option<(Hypothesis, usize)> {
        for look in audio.chunks(LOOK) {
            let level = rms(look);
            self.loudest = self.loudest.max(level);
            if level < (self.loudest * SILENT_SHARE).max(gate.floor() * ABOVE_NOISE) {
                self.silent += look.len();
            } else {
                self.silent = 0;
            }
            let speech = if self.text.is_empty() {
                self.loudest.max(self.loudest_before)
            } else {
                self.loudest
            };
            let no_louder = (speech * HUSHED_SHARE)
                .max(noise.0 * HUSHED_NOISE)
                .min(speech * HUSHED_MOST);
            if level < no_louder {
                self.hush(look.len());
            } else {
                self.hushed = 0;
                self.lull = self.lull.saturating_sub(look.len());
            }
            if self.text.is_empty() {
                noise.follow(level);
            }
            self.any = true;
            match recogniser.accept(look) {
                Progress::Final(mut h) => {
                    let was = self.next();
                    h.over = was.over;
                    if !h.is_empty() {
                        return Some((h, was.pause));
                    }
                    self.pause = self.pause.max(was.pause);
                }
                Progress::Partial(text) if text != self.text => {
                    self.text = text;
                    self.steady = 0;
                }
                Progress::Partial(_) | Progress::Nothing => self.steady += look.len(),
            }
            if !self.text.is_empty() && self.is_over(recogniser.standing(&self.text)) {
                return Some(self.end(recogniser));
            }
        }
        (!gate.is_open() && self.any).then(|| self.end(recogniser))
    }

    /// Has enough been heard, and waited for?
    fn is_over(&self, standing: Standing) -> bool {
        let patience = match standing {
            Standing::Complete => AFTER_COMPLETE,
            Standing::Extendable => AFTER_EXTENDABLE,
            Standing::Hanging => AFTER_HANGING,
            Standing::Unfinished | Standing::Outside => return self.silent >= AFTER_UNFINISHED,
        };
        self.silent >= patience.silent
            || self.steady >= patience.steady && self.hushed >= patience.hushed
            || self.steady >= patience.in_noise
    }

    /// So many samples were no louder than the kitchen.
    fn hush(&mut self, samples: usize) {
        self.hushed += samples;
        self.lull += samples;
        if self.text.is_empty() {
            self.pause = self.pause.max(self.lull);
        }
    }

    /// This utterance; what follows is another one.
    fn next(&mut self) -> Self {
        let next = Self {
            loudest_before: self.loudest,
            silent_before: self.silent,
            hushed: self.hushed,
            pause: self.hushed,
            over: self.over,
            lull: self.hushed,
            ..Self::default()
        };
        std::mem::replace(self, next)
    }

    /// The hypothesis, and the pause before it.
    fn end(&mut self, recogniser: &mut dyn Recogniser) -> (Hypothesis, usize) {
        let was = self.next();
        let mut h = recogniser.finish();
        h.over = was.over;
        recogniser.reset();
        (h, was.pause)
    }
}
