//! The voice that comes with the program: a lexicon and a small network (`models/voice`), compiled in. It needs no other
//! program, file or library.

mod kept;
mod letters;
mod net;
mod phrase;
mod sorted;
mod wave;

use std::sync::{Arc, LazyLock, Mutex};

use crossbeam_channel::{Receiver, Sender, unbounded};

use self::kept::Kept;
use self::net::Net;
use self::phrase::Speech;
use self::sorted::Sorted;
use super::{SayError, Sound, Voice, for_the_ear};
use crate::bench::VoiceSettings;

const WORDS: &str = include_str!("../../../models/voice/words.txt");
/// Kitchen words that are not in the lexicon, or not as a kitchen says them.
const KITCHEN: &str = include_str!("../../../models/voice/kitchen.txt");
const RULES: &str = include_str!("../../../models/voice/letters.txt");
static NET: LazyLock<Option<Net>> =
    LazyLock::new(|| Net::read(include_bytes!("../../../models/voice/voice.bin")));

const SPEECH: Speech = Speech {
    kitchen: Sorted(KITCHEN),
    words: Sorted(WORDS),
    rules: Sorted(RULES),
};

/// Of the usual speed, for each step: as many words a minute more as espeak-ng's.
const RATE: f32 = 15.0 / 155.0;
/// Each step of pitch is a semitone, each of loudness three decibels.
const PITCH: f32 = 1.0 / 12.0;
const VOLUME_DB: f32 = 3.0;
/// The network speaks softly: so much louder is as loud as espeak-ng.
const GAIN_DB: f32 = 7.0;
/// Above this the tops of the waves are rounded, so that nothing is cut off.
const KNEE: f32 = 0.8;
/// What is softer than this is silence, full scale 1.
const SILENCE: f32 = 0.001;
/// Pauses after a sentence and within one, in milliseconds.
const PAUSES: (u32, u32) = (240, 90);
/// More sounds than this at once are made one part after the other: attention grows with the square.
const LONGEST: usize = 300;

/// The natural voice.
pub struct Natural {
    net: &'static Net,
    kept: Arc<Mutex<Kept>>,
    /// What may be said soon, and in which voice: the newest list is made.
    ahead: Sender<(Vec<String>, VoiceSettings)>,
}

impl Natural {
    /// The voice, ready.
    ///
    /// # Errors
    /// When what was compiled in is damaged.
    pub fn new() -> Result<Self, SayError> {
        let net = NET.as_ref().ok_or(SayError::Damaged)?;
        let kept = Arc::new(Mutex::new(Kept::default()));
        let (ahead, lists) = unbounded();
        let to = Arc::clone(&kept);
        // Without the thread nothing is made ahead, and everything when it is wanted.
        let _ = std::thread::Builder::new()
            .name("voice ahead".to_owned())
            .spawn(move || make_ahead(net, &lists, &to));
        Ok(Self { net, kept, ahead })
    }

    /// What is read when this text is said: the sounds, in the voice's own letters.
    pub fn sounds(text: &str) -> String {
        SPEECH.sounds(&for_the_ear(text))
    }
}

impl Voice for Natural {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        if let Ok(mut kept) = self.kept.lock()
            && let Some(sound) = kept.find(text, settings)
        {
            return Ok(Some(sound));
        }
        let sound = make(self.net, text, settings);
        if let Ok(mut kept) = self.kept.lock() {
            kept.keep(text, settings, &sound);
        }
        Ok(Some(sound))
    }

    fn prepare(&mut self, texts: Vec<String>, settings: VoiceSettings) {
        let _ = self.ahead.send((texts, settings));
    }
}

/// Makes what may be said soon, behind everything else that the machine does; a newer list takes the place of one that
/// is not done.
fn make_ahead(net: &'static Net, lists: &Receiver<(Vec<String>, VoiceSettings)>, to: &Mutex<Kept>) {
    // On Linux this is the niceness of the thread. Without it the work is done all the same.
    let _ = rustix::process::setpriority_process(None, 10);
    while let Ok(mut list) = lists.recv() {
        while let Ok(newer) = lists.try_recv() {
            list = newer;
        }
        let (texts, settings) = list;
        for text in texts {
            if !lists.is_empty() {
                break;
            }
            let known = to.lock().is_ok_and(|kept| kept.has(&text, settings));
            if !known {
                let sound = make(net, &text, settings);
                if let Ok(mut kept) = to.lock() {
                    kept.keep(&text, settings, &sound);
                }
            }
        }
    }
}

/// The sound of one sentence or part of one.
fn make(net: &Net, text: &str, settings: VoiceSettings) -> Sound {
    let sounds = SPEECH.sounds(&for_the_ear(text));
    let speed = 1.0 + RATE * f32::from(settings.rate);
    let pitch = (PITCH * f32::from(settings.pitch)).exp2();
    let db = GAIN_DB + VOLUME_DB * f32::from(settings.volume);
    let gain = 10.0_f32.powf(db / 20.0);
    let mut samples = Vec::new();
    for part in parts(&sounds) {
        let made = wave::sound(&net.run(&net.numbers(part), speed, pitch));
        samples.extend(trimmed(&made).iter().map(|x| rounded(x * gain)));
        let pause = match part.chars().last() {
            Some('.' | '?' | '!' | '…') => PAUSES.0,
            Some(',' | ';' | ':' | '—') => PAUSES.1,
            _ => 0,
        };
        let pause = (wave::RATE * pause / 1000) as f32 / speed;
        samples.resize(samples.len() + pause as usize, 0.0);
    }
    Sound {
        rate: wave::RATE,
        samples,
    }
}

/// The sounds of a text in parts that are not too long, cut at a pause where there is one, else at a space.
fn parts(sounds: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut rest = sounds.trim();
    while rest.chars().any(char::is_alphabetic) {
        let ends = rest.char_indices().enumerate();
        let stop = ends.clone().find_map(|(n, (at, c))| {
            (n < LONGEST && matches!(c, '.' | '?' | '!') && rest[at + 1..].starts_with(' '))
                .then_some(at + 1)
        });
        let long = || {
            let within = |signs: &[char]| {
                let found = ends
                    .clone()
                    .take(LONGEST)
                    .filter(|(_, (_, c))| signs.contains(c));
                found.last().map(|(_, (at, c))| at + c.len_utf8())
            };
            (rest.chars().count() > LONGEST)
                .then(|| within(&[',', ';', ':', '—']).or_else(|| within(&[' '])))
                .flatten()
        };
        let cut = stop.or_else(long).unwrap_or(rest.len());
        out.push(rest[..cut].trim());
        rest = rest[cut..].trim();
    }
    out
}

/// Without the silence around it, and with a hundredth of a second to come and go.
fn trimmed(samples: &[f32]) -> &[f32] {
    let edge = wave::RATE as usize / 100;
    let loud = |x: &f32| x.abs() > SILENCE;
    let from = samples.iter().position(loud).unwrap_or(0);
    let to = samples.iter().rposition(loud).map_or(0, |at| at + 1);
    &samples[from.saturating_sub(edge)
        ..(to + edge)
            .min(samples.len())
            .max(from.saturating_sub(edge))]
}

/// A sample within full scale, the tops of the waves rounded.
fn rounded(x: f32) -> f32 {
    let over = x.abs() - KNEE;
    if over <= 0.0 {
        return x;
    }
    let room = 1.0 - KNEE;
    (KNEE + room * (over / room).tanh()).copysign(x)
}

#[cfg(test)]
mod tests;
