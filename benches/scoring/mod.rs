//! Hearing scored on recordings: a folder of WAVs with `said.tsv`, through the pipeline of a live session.
//!
//! `said.tsv` has a file, a tab and what is said in it a line, then perhaps a tab and the name of the voice; a `-` before
//! what is said marks talk that is no order. The recordings are one stream at one level of speech, 0.6 s of kitchen before
//! and 1.2 s after each, with noise as far below the speech as is asked for.

use std::path::{Path, PathBuf};
use std::time::Duration;

use serde::Serialize;

use commis::bench::{Attention, Bench, Effect, Event, Heard, Options};
use commis::formula::Formula;
use commis::hear::{
    Competition, Echo, HearError, Hearing, Hypothesis, RATE, VoskRecogniser,
    gate::{self, LOOK},
    wav,
};
use commis::order::Order;
use commis::say::Voice;
use commis::time::{Moment, Wall};
use commis::understand::{Understood, name_words, network, parse};

/// Kitchen before and after each recording, in samples.
const AROUND: (usize, usize) = (RATE as usize * 6 / 10, RATE as usize * 12 / 10);
/// The level of speech, of full scale.
const LEVEL: f32 = 0.05;
/// In `quiet` the kitchen is this much below the speech, in decibels.
const QUIET_DB: f32 = 60.0;

/// How to score.
#[derive(Debug, Clone)]
pub struct Scoring {
    /// The model's folder.
    pub model: PathBuf,
    /// Kitchen noise, 16 kHz mono; white noise of nobody's kitchen without it.
    pub noise: Vec<i16>,
    /// The speech is this many decibels above the noise; none for quiet.
    pub above_db: Option<f32>,
    /// Who is spoken to.
    pub attention: Attention,
    /// The program reads the formula aloud meanwhile, this many decibels above the speech at the microphone.
    pub own_db: Option<f32>,
    /// How orders compete with talk.
    pub competition: Competition,
}

/// What became of one recording.
#[derive(Debug, Clone, Serialize)]
pub struct Scored {
    /// The file's name.
    pub file: String,
    /// What was said; nothing for talk.
    pub said: Option<String>,
    /// Whose voice.
    pub voice: String,
    /// Its length in seconds.
    pub seconds: f32,
    /// What was heard, in the order of hearing.
    pub heard: Vec<Piece>,
    /// What the bench made of it.
    pub verdict: Verdict,
    /// Words heard wrong, left out or put in; none for talk.
    pub word_errors: usize,
    /// Words said.
    pub words: usize,
    /// From the end of speech to the decision, in seconds of audio and computing.
    pub waited: Option<f32>,
    /// From the decision to the first samples of the answer, in seconds.
    pub spoke: Option<f32>,
}

/// One utterance in a recording.
#[derive(Debug, Clone, Serialize)]
pub struct Piece {
    /// The words; talk is `[unk]`.
    pub text: String,
    /// The share of all readings that mean the same, 0 to 1.
    pub sure: f32,
    /// How much better everyday talk fits, in nats a word; nothing where that cannot be told.
    pub rival: Option<f32>,
    /// The words when it is taken for everyday talk.
    pub talk: Option<String>,
    /// It was taken to mean what was meant.
    pub right: bool,
}

/// What the bench made of a recording.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// It did what was meant, every slot right.
    Right,
    /// It did something else, or did something about talk.
    Wrong,
    /// It asked.
    Asked,
    /// It did nothing.
    Ignored,
}

/// A folder's scores.
#[derive(Debug, Clone, Serialize)]
pub struct Scores {
    /// One for each recording.
    pub clips: Vec<Scored>,
    /// Processor seconds for each second of audio.
    pub cost: f64,
    /// Resident memory at the end and at its highest, in MiB.
    pub memory: (f64, f64),
    /// From nothing to listening, in seconds.
    pub loading: f64,
}

struct Row {
    file: String,
    said: String,
    voice: String,
}

/// Plays every recording of a folder to the pipeline.
///
/// # Errors
/// When the model, the list or a recording cannot be read.
pub fn score(
    folder: &Path,
    formula: &Formula,
    how: &Scoring,
    mut voice: Option<Box<dyn Voice>>,
) -> Result<Scores, HearError> {
    let options = Options {
        attention: how.attention,
        ..Options::default()
    };
    let mut bench = Bench::new(formula.clone(), options).map_err(|e| HearError::NotAudio {
        path: folder.to_owned(),
        found: e.to_string(),
    })?;
    let wall = Wall {
        unix_ms: 0,
        offset_s: 0,
        changes: Vec::new(),
    };
    bench.handle(&Event::Start { wall }, Moment(0));
    let began = std::time::Instant::now();
    let recogniser =
        VoskRecogniser::with_competition(&how.model, &network(bench.lexicon()), how.competition)?;
    let loading = began.elapsed().as_secs_f64();
    let mut hearing = Hearing::new(Box::new(recogniser), &Options::default().name);
    let mut kitchen = Kitchen::new(how, own_speech(&bench, how, voice.as_deref_mut()));
    // Long enough for the gate to know the noise.
    kitchen.play(&mut hearing, &vec![0.0; RATE as usize * 10]);
    let (mut clips, mut cost, mut audio_s) = (Vec::new(), 0.0, 0.0);
    for row in rows(folder)? {
        let talk = row.said.strip_prefix('-');
        let meant = match parse(talk.unwrap_or(&row.said), bench.lexicon()) {
            Understood::Order(intent) => Some(intent),
            _ => None,
        };
        // Talk that happens to be an order, and orders that are none here, tell nothing.
        if talk.is_some() == meant.is_some() {
            continue;
        }
        let clip = levelled(&wav::read(&folder.join(&row.file))?);
        let start = processor_time();
        let (heard, ended) = listen(&mut hearing, &mut kitchen, &clip);
        cost += processor_time() - start;
        audio_s += (clip.len() + AROUND.0 + AROUND.1) as f64 / f64::from(RATE);
        let mut scored = judge(&bench, &row, meant, heard, voice.as_deref_mut());
        scored.seconds = clip.len() as f32 / RATE as f32;
        scored.waited = ended.map(|at| at - speech_end(&clip));
        clips.push(scored);
    }
    Ok(Scores {
        clips,
        cost: cost / audio_s.max(0.001),
        memory: (memory("VmRSS:"), memory("VmHWM:")),
        loading,
    })
}

fn rows(folder: &Path) -> Result<Vec<Row>, HearError> {
    let path = folder.join("said.tsv");
    let text = std::fs::read_to_string(&path).map_err(|source| HearError::Read {
        path: path.clone(),
        source,
    })?;
    Ok(text
        .lines()
        .filter_map(|line| {
            let mut parts = line.split('\t');
            Some(Row {
                file: parts.next()?.to_owned(),
                said: parts.next()?.to_owned(),
                voice: parts.next().unwrap_or_default().to_owned(),
            })
        })
        .filter(|row| folder.join(&row.file).exists())
        .collect())
}

/// What was heard, with confidences, and when the last of it was decided: seconds from the start of the clip.
fn listen(
    hearing: &mut Hearing,
    kitchen: &mut Kitchen,
    clip: &[f32],
) -> (Vec<Hypothesis>, Option<f32>) {
    let mut stream = vec![0.0; AROUND.0];
    stream.extend_from_slice(clip);
    stream.resize(stream.len() + AROUND.1, 0.0);
    let all = kitchen.play(hearing, &stream);
    let ended = all.last().map(|(_, at)| at - AROUND.0 as f32 / RATE as f32);
    (all.into_iter().map(|(h, _)| h).collect(), ended)
}

fn judge(
    bench: &Bench,
    row: &Row,
    meant: Option<Order>,
    hypotheses: Vec<Hypothesis>,
    voice: Option<&mut (dyn Voice + '_)>,
) -> Scored {
    let mut own: Option<Bench> = None;
    let mut verdict = Verdict::Ignored;
    let mut spoke = None;
    let mut voice = voice;
    for heard in hypotheses.iter().filter_map(Hypothesis::heard) {
        let now = Moment(3_600_000);
        let bench = own.get_or_insert_with(|| {
            let mut bench = bench.clone();
            // What answers is said when something was asked.
            if meant.as_ref().is_some_and(Order::is_answer) {
                bench.handle(&Event::Heard(Heard::typed("goodbye")), now);
            }
            bench
        });
        let effects = bench.handle(&Event::Heard(heard), now);
        let this = verdict_of(&effects, meant.as_ref());
        // One thing wrong makes it wrong; a question may come on the way to the right thing.
        verdict = match (verdict, this) {
            (Verdict::Wrong, _) | (_, Verdict::Wrong) => Verdict::Wrong,
            (old, Verdict::Ignored) => old,
            (_, new) => new,
        };
        if let (Some(voice), None, Some(Effect::Say { text, .. })) = (
            voice.as_deref_mut(),
            spoke,
            effects.iter().find(|e| matches!(e, Effect::Say { .. })),
        ) {
            let first = text.split_inclusive(['.', '?', '!']).next().unwrap_or(text);
            let start = std::time::Instant::now();
            if voice.speak(first, bench.voice_settings()).is_ok() {
                spoke = Some(start.elapsed().as_secs_f32());
            }
        }
    }
    let said = meant.is_some().then(|| row.said.clone());
    let heard: Vec<Piece> = hypotheses
        .iter()
        .map(|h| piece(bench, h, meant.as_ref()))
        .collect();
    let all: Vec<&str> = heard.iter().map(|piece| piece.text.as_str()).collect();
    let (was, is) = (name_words(&row.said), name_words(&all.join(" ")));
    Scored {
        file: row.file.clone(),
        word_errors: if said.is_some() {
            strsim::generic_levenshtein(&was, &is)
        } else {
            0
        },
        words: if said.is_some() { was.len() } else { 0 },
        said,
        voice: row.voice.clone(),
        seconds: 0.0,
        heard,
        verdict,
        waited: None,
        spoke,
    }
}

fn piece(bench: &Bench, hypothesis: &Hypothesis, meant: Option<&Order>) -> Piece {
    let weighed = hypothesis.heard().map(|heard| bench.weighed(&heard));
    Piece {
        text: hypothesis.text.clone(),
        sure: weighed.as_ref().map_or(hypothesis.confidence, |w| w.sure),
        rival: hypothesis.rival,
        talk: hypothesis.talk.clone(),
        right: weighed
            .is_some_and(|w| matches!(&w.understood, Understood::Order(i) if Some(i) == meant)),
    }
}

fn verdict_of(effects: &[Effect], meant: Option<&Order>) -> Verdict {
    for effect in effects {
        match effect {
            Effect::Understood { intent } if Some(intent) == meant => return Verdict::Right,
            Effect::Understood { .. } => return Verdict::Wrong,
            Effect::Say { .. } => return Verdict::Asked,
            _ => {}
        }
    }
    Verdict::Ignored
}

/// What the microphone gets beside the cook: noise, which goes on from clip to clip, and the program's own voice.
struct Kitchen<'a> {
    noise: &'a [i16],
    gain: f32,
    at: usize,
    counter: u32,
    echo: Echo,
    own: Vec<f32>,
    own_at: usize,
    echoes: Vec<(usize, f32)>,
}

impl<'a> Kitchen<'a> {
    fn new(how: &'a Scoring, own: Vec<f32>) -> Self {
        let (noise, level): (&[i16], f32) = match how.above_db {
            Some(_) => (&how.noise, gate::rms(&how.noise)),
            None => (&[], 0.577),
        };
        let db = how.above_db.unwrap_or(QUIET_DB);
        Self {
            noise,
            gain: LEVEL * 10_f32.powf(-db / 20.0) / level.max(1e-4),
            at: 0,
            counter: 1,
            echo: Echo::default(),
            own,
            own_at: 0,
            echoes: room(),
        }
    }

    /// Plays a stretch with the cook's voice in it; each hypothesis with when it was there, computing included: seconds
    /// from the start of the stretch.
    fn play(&mut self, hearing: &mut Hearing, cook: &[f32]) -> Vec<(Hypothesis, f32)> {
        let mut out = Vec::new();
        let mut at = 0;
        for piece in cook.chunks(LOOK) {
            let heard: Vec<i16> = piece
                .iter()
                .map(|sample| wav::to_i16(sample + self.gain * self.next() + self.own_heard()))
                .collect();
            if !self.own.is_empty() {
                let played =
                    (0..piece.len()).map(|i| self.own_sample(self.own_at + i - piece.len()));
                let played: Vec<i16> = played.map(wav::to_i16).collect();
                self.echo.plays(&played);
            }
            at += piece.len();
            let start = processor_time();
            let over = self.echo.sounds();
            let clean = self.echo.clean(&heard);
            let ended = hearing.take(&clean, over);
            let when = at as f32 / RATE as f32 + (processor_time() - start) as f32;
            out.extend(ended.into_iter().map(|h| (h, when)));
        }
        out
    }

    fn own_sample(&self, at: usize) -> f32 {
        self.own[at % self.own.len()]
    }

    /// The program's own voice as it comes back from the room.
    fn own_heard(&mut self) -> f32 {
        if self.own.is_empty() {
            return 0.0;
        }
        self.own_at += 1;
        let now = self.own_at - 1;
        self.echoes
            .iter()
            .filter(|(late, _)| *late <= now)
            .map(|(late, gain)| gain * self.own_sample(now - late))
            .sum()
    }

    fn next(&mut self) -> f32 {
        if self.noise.is_empty() {
            return chance(&mut self.counter);
        }
        self.at = (self.at + 1) % self.noise.len();
        f32::from(self.noise[self.at]) / 32_768.0
    }
}

/// From -1 to 1, the same in every run.
fn chance(counter: &mut u32) -> f32 {
    *counter = counter.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
    (*counter >> 8) as f32 / 8_388_608.0 - 1.0
}

/// A kitchen's echoes: the sound system's 70 ms, then sixty reflections that die away by 60 dB in 0.4 s.
fn room() -> Vec<(usize, f32)> {
    let direct = RATE as usize * 7 / 100;
    let mut counter = 7;
    let mut taps = vec![(direct, 1.0)];
    for i in 1..60 {
        let late = i * RATE as usize / 150 + (chance(&mut counter).abs() * 90.0) as usize;
        let fades = 10_f32.powf(-3.0 * late as f32 / (0.4 * RATE as f32));
        taps.push((direct + late, 0.7 * fades * chance(&mut counter)));
    }
    taps
}

/// The formula read aloud, at the level of the loudspeaker; nothing where the program is to be silent.
fn own_speech(bench: &Bench, how: &Scoring, voice: Option<&mut (dyn Voice + '_)>) -> Vec<f32> {
    let (Some(db), Some(voice)) = (how.own_db, voice) else {
        return Vec::new();
    };
    let mut bench = bench.clone();
    let mut own = Vec::new();
    for k in 0..2 * bench.formula().steps.len() {
        let said = if k % 2 == 0 {
            "next"
        } else {
            "read the whole step"
        };
        let now = Moment(k as u64 * 1000);
        for effect in bench.handle(&Event::Heard(Heard::typed(said)), now) {
            let Effect::Say { text, .. } = effect else {
                continue;
            };
            let sound = voice.speak(&text, bench.voice_settings());
            let samples = sound
                .ok()
                .flatten()
                .and_then(|s| commis::hear::whole(&s.samples, s.rate).ok());
            own.extend(samples.unwrap_or_default());
            own.resize(own.len() + RATE as usize / 4, 0.0);
        }
    }
    let samples: Vec<i16> = own.into_iter().map(wav::to_i16).collect();
    let gain = 10_f32.powf(db / 20.0);
    levelled(&samples).into_iter().map(|s| s * gain).collect()
}

/// A clip with its speech at the one level.
fn levelled(clip: &[i16]) -> Vec<f32> {
    let levels: Vec<f32> = clip.chunks(LOOK).map(gate::rms).collect();
    let loudest = levels.iter().copied().fold(0.0, f32::max);
    let speech: Vec<f32> = levels
        .into_iter()
        .filter(|l| *l > 0.1 * loudest)
        .map(|l| l * l)
        .collect();
    let level = (speech.iter().sum::<f32>() / speech.len().max(1) as f32).sqrt();
    let gain = LEVEL / level.max(1e-4);
    clip.iter()
        .map(|s| f32::from(*s) / 32_768.0 * gain)
        .collect()
}

/// Where speech ends, in seconds from the start: the last look above a twentieth of the loudest.
fn speech_end(clip: &[f32]) -> f32 {
    let level = |look: &[f32]| (look.iter().map(|s| s * s).sum::<f32>() / look.len() as f32).sqrt();
    let levels: Vec<f32> = clip.chunks(LOOK).map(level).collect();
    let loudest = levels.iter().copied().fold(0.0, f32::max);
    let last = levels.iter().rposition(|l| *l > 0.05 * loudest);
    last.map_or(0.0, |at| ((at + 1) * LOOK) as f32 / RATE as f32)
}

/// Seconds that this thread has computed.
fn processor_time() -> f64 {
    let t = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
    Duration::new(t.tv_sec as u64, t.tv_nsec as u32).as_secs_f64()
}

/// A line of this process's status, in MiB.
fn memory(which: &str) -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix(which));
    let kib = line.and_then(|l| l.split_whitespace().next()?.parse::<f64>().ok());
    kib.unwrap_or(0.0) / 1024.0
}

/// From the end of speech to the first sound of orders heard right, in seconds, sorted.
pub fn waited(clips: &[Scored]) -> Vec<f32> {
    let mut all: Vec<f32> = clips
        .iter()
        .filter(|c| c.verdict == Verdict::Right)
        .filter_map(|c| Some(c.waited? + c.spoke.unwrap_or(0.0)))
        .collect();
    all.sort_by(f32::total_cmp);
    all
}

/// The value below which this share of a sorted list lies.
pub fn at_share(sorted: &[f32], share: f32) -> Option<f32> {
    let at = ((sorted.len() as f32 * share) as usize).min(sorted.len().checked_sub(1)?);
    sorted.get(at).copied()
}
