//! For the figures of free hearing: one JSON line with the name of a recording in, the same line with what became of it out.
//!
//!     cargo run --release --example by_ear -- FORMULAS WEIGHTS RECORDINGS [perhaps|anybody [NOISE DB]] < lines > more
//!
//! In: `{"text": ..., "file": ..., "situation": {"formula": name, ...}}`. Out, beside that: `heard`, what the pipeline of a live
//! session made of the recording, with its readings; `strict` and `verdict` as `examples/reader.rs` has them.

mod situated;

use std::collections::BTreeMap;
use std::io::{BufRead, Write};
use std::path::Path;

use commis::bench::{Bench, Heard, Options};
use commis::hear::{Hearing, Hypothesis, RATE, VoskRecogniser, gate, wav};
use commis::reader::{Printed, Reader, SaidTo, Speech, Verdict};
use commis::understand::{Understood, network, reading};
use serde_json::{Value, json};
use situated::situated;

/// The level of speech, of full scale.
const LEVEL: f32 = 0.05;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let reader = Reader::from_bytes(&std::fs::read(&args[1]).expect("the weights"))
        .expect("what training wrote");
    let noise = args
        .get(4)
        .map(|path| wav::read(Path::new(path)).expect("the noise"))
        .unwrap_or_default();
    let above: f32 = args.get(5).map_or(60.0, |db| db.parse().expect("decibels"));
    let to = match args.get(3).map(String::as_str) {
        Some("anybody") => SaidTo::Anybody,
        _ => SaidTo::Perhaps,
    };
    let mut by_formula: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    for line in std::io::stdin().lock().lines() {
        let line: Value = serde_json::from_str(&line.expect("UTF-8")).expect("JSON");
        let name = line["situation"]["formula"]
            .as_str()
            .expect("a formula")
            .to_owned();
        by_formula.entry(name).or_default().push(line);
    }
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for (name, lines) in by_formula {
        let path = format!("{}/{name}.toml", args[0]);
        let source = std::fs::read_to_string(&path).expect("the formula");
        let formula = commis::formula::read(&path, &source).unwrap_or_else(|e| panic!("{e}"));
        let bench = Bench::new(formula.clone(), Options::default()).expect("a bench");
        let recogniser =
            VoskRecogniser::with_network(Path::new("models/en-kitchen"), &network(bench.lexicon()))
                .expect("the model");
        let mut hearing = Hearing::new(Box::new(recogniser), &Options::default().name);
        let mut kitchen = Kitchen {
            noise: &noise,
            above,
            at: 0,
            counter: 1,
        };
        hearing.take(&kitchen.with(&vec![0.0; 5 * RATE as usize]), false);
        for mut line in lines {
            let (situation, lexicon) = situated(&line, &formula, bench.lexicon());
            let clip = wav::read(&Path::new(&args[2]).join(line["file"].as_str().expect("a file")))
                .expect("a recording");
            let began = std::time::Instant::now();
            let (mut heard, mut told) = (Vec::new(), Vec::new());
            let mut cook = levelled(&clip);
            let spoken = ends(&cook);
            cook.extend(vec![0.0; 2 * RATE as usize]);
            for (n, look) in kitchen.with(&cook).chunks(gate::LOOK).enumerate() {
                let ended = hearing.take(look, false);
                let after = ((n + 1) * gate::LOOK) as f64 - spoken as f64;
                told.resize(heard.len() + ended.len(), after / f64::from(RATE));
                heard.extend(ended);
            }
            line["seconds"] = json!([
                clip.len() as f64 / f64::from(RATE),
                began.elapsed().as_secs_f64()
            ]);
            line["typed"] = json!(reading(line["text"].as_str().expect("text"), &lexicon));
            line["pieces"] = heard
                .iter()
                .zip(told)
                .map(|(h, after)| json!({ "text": h.text, "confidence": h.confidence, "others": h.others, "after": after, "rival": h.rival, "free": h.free, "free_rival": h.free_rival, "free_gain": h.free_gain, "follows_talk": h.follows_talk, "voiced": h.voiced, "above": h.above }))
                .collect();
            let (mut orders, mut asked) = (Vec::new(), None);
            let mut verdicts = Vec::new();
            for h in heard.iter().filter_map(Hypothesis::heard) {
                let speech = Speech {
                    readings: &h.free,
                    rival: h.rival.filter(|_| h.loosely),
                    to,
                };
                let free = || reader.verdict_heard(&speech, &lexicon, &situation);
                let verdict = if h.loosely {
                    if h.follows_talk {
                        Verdict::Talk
                    } else {
                        free()
                    }
                } else {
                    let asks_nothing = situation.asked.is_none() && situation.rings.is_none();
                    strict(&bench, &h, to, asks_nothing, free)
                };
                verdicts.push(match &verdict {
                    Verdict::Act(_) => "act",
                    Verdict::Ask(_) => "ask",
                    _ => "none",
                });
                match verdict {
                    Verdict::Act(more) => orders.extend(more),
                    Verdict::Ask(them) if asked.is_none() => asked = Some(them),
                    _ => {}
                }
            }
            line["verdicts"] = json!(verdicts);
            line["strict"] = match (orders.is_empty(), asked) {
                (false, _) => json!({ "orders": orders }),
                (true, Some(orders)) if orders.len() > 1 => json!({ "all": orders }),
                (true, Some(orders)) => json!({ "readings": orders }),
                (true, None) => Value::Null,
            };
            writeln!(out, "{line}").expect("written");
        }
    }
}

/// What the limits of open attention make of an order of the network.
fn strict(
    bench: &Bench,
    heard: &Heard,
    to: SaidTo,
    asks_nothing: bool,
    free: impl Fn() -> Verdict,
) -> Verdict {
    let weighed = bench.weighed(heard);
    let rival = heard.rival.unwrap_or(f32::NEG_INFINITY);
    let may_be_noise = asks_nothing && heard.may_be_noise(rival);
    if may_be_noise && to == SaidTo::Anybody {
        return Verdict::Talk;
    }
    match &weighed.understood {
        Understood::Order(_) if rival > -1.5 => Verdict::Talk,
        Understood::Order(order) => {
            let order = Printed::from(order);
            if may_be_noise
                || rival > -2.5
                || weighed.sure < 0.5
                || rival > -4.0 && weighed.sure < 0.95
            {
                return Verdict::Ask(vec![order]);
            }
            match free() {
                Verdict::Act(other) if other.len() == 1 && other[0] != order => Verdict::Ask(other),
                _ => Verdict::Act(vec![order]),
            }
        }
        _ => Verdict::Unknown,
    }
}

/// Where speech ends: the last look that is not 30 dB below the loudest one.
fn ends(cook: &[f32]) -> usize {
    let power = |look: &[f32]| look.iter().map(|x| x * x).sum::<f32>();
    let loudest = cook.chunks(gate::LOOK).map(power).fold(0.0, f32::max);
    let last = cook
        .chunks(gate::LOOK)
        .rposition(|look| power(look) > loudest / 1000.0);
    last.map_or(cook.len(), |n| (n + 1) * gate::LOOK)
}

/// At the usual level of speech.
fn levelled(clip: &[i16]) -> Vec<f32> {
    let gain = LEVEL / gate::rms(clip).max(1e-4);
    clip.iter()
        .map(|&s| f32::from(s) / 32_768.0 * gain)
        .collect()
}

/// The noise that goes on from clip to clip.
struct Kitchen<'a> {
    noise: &'a [i16],
    above: f32,
    at: usize,
    counter: u32,
}

impl Kitchen<'_> {
    fn with(&mut self, cook: &[f32]) -> Vec<i16> {
        let level = if self.noise.is_empty() {
            0.577
        } else {
            gate::rms(self.noise)
        };
        let gain = LEVEL * 10_f32.powf(-self.above / 20.0) / level.max(1e-4);
        cook.iter()
            .map(|sample| wav::to_i16(sample + gain * self.next()))
            .collect()
    }

    fn next(&mut self) -> f32 {
        if self.noise.is_empty() {
            self.counter = self
                .counter
                .wrapping_mul(1_664_525)
                .wrapping_add(1_013_904_223);
            return (self.counter >> 8) as f32 / 8_388_608.0 - 1.0;
        }
        self.at = (self.at + 1) % self.noise.len();
        f32::from(self.noise[self.at]) / 32_768.0
    }
}
