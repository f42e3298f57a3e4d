//! How well the recogniser hears a list of clips inside a grammar, what it makes of talk, and what it costs.
//!
//! `cargo bench --bench hearing -- GRAMMAR LIST [--model DIR] [--enter COST] [--again COST] [--choice SHARE] [--word COST] [--detail]`
//! GRAMMAR is a formula (`.toml`) or a text file with one phrase a line. LIST has a WAV file, a tab and what was said a line; `-` and what was said for talk that is no order.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

use commis::bench::lexicon;
use commis::hear::{COMPETITION, Hypothesis, RATE, Recogniser, Step, VoskRecogniser, wav};
use commis::understand::{Lexicon, Network, Understood, network, parse};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    if arguments.len() < 2 {
        println!("hearing: expected GRAMMAR and LIST, found nothing to measure");
        return ExitCode::SUCCESS;
    }
    match measure(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("hearing: {error}");
            ExitCode::from(2)
        }
    }
}

fn measure(arguments: &[String]) -> Result<(), Box<dyn std::error::Error>> {
    let option = |name: &str| {
        arguments
            .iter()
            .position(|a| a == name)
            .and_then(|at| arguments.get(at + 1))
    };
    let model = option("--model").map_or_else(|| PathBuf::from("models/en-kitchen"), PathBuf::from);
    let mut competition = COMPETITION;
    for (name, weight) in [
        ("--enter", &mut competition.enter),
        ("--again", &mut competition.again),
        ("--choice", &mut competition.choice),
        ("--word", &mut competition.word),
    ] {
        if let Some(cost) = option(name) {
            *weight = cost.parse()?;
        }
    }
    let detail = arguments.iter().any(|a| a == "--detail");
    let (network, names) = network_of(Path::new(&arguments[0]))?;
    let same = |one: &str, other: &str| {
        one == other
            || names
                .as_ref()
                .is_some_and(|names| match (parse(one, names), parse(other, names)) {
                    (Understood::Intent(one), Understood::Intent(other)) => one == other,
                    _ => false,
                })
    };
    let acted_on = |text: &str| {
        names
            .as_ref()
            .is_none_or(|names| matches!(parse(text, names), Understood::Intent(_)))
    };
    let started = Instant::now();
    let mut recogniser = VoskRecogniser::with_competition(&model, &network, competition)?;
    println!(
        "loaded in {} ms; {} states, {} arcs",
        started.elapsed().as_millis(),
        network.states,
        network.arcs.len()
    );
    let unknown = recogniser.lexicon().unknown_words(&network);
    if !unknown.is_empty() {
        println!("unknown words: {}", unknown.join(", "));
    }
    let (mut orders, mut right, mut talk, mut taken, mut seconds, mut spent) =
        (0, 0, 0, 0, 0.0, 0.0);
    let (mut rejected, mut right_confidence, mut wrong_confidence, mut talk_confidence) =
        (0, vec![], vec![], vec![]);
    for line in fs::read_to_string(&arguments[1])?.lines() {
        let Some((file, said)) = line.split_once('\t') else {
            continue;
        };
        let audio = wav::read(Path::new(file))?;
        let started = Instant::now();
        let heard = hear(&mut recogniser, &audio);
        spent += started.elapsed().as_secs_f64();
        seconds += audio.len() as f64 / f64::from(RATE);
        let order = heard.heard();
        if let Some(talked) = said.strip_prefix('-') {
            if !talked.is_empty() && names.is_some() && acted_on(talked) {
                continue;
            }
            talk += 1;
            if let Some(order) = order.as_ref().filter(|order| acted_on(&order.text)) {
                taken += 1;
                talk_confidence.push(order.confidence);
            }
        } else {
            orders += 1;
            match &order {
                Some(order) if same(&order.text, said) => {
                    right += 1;
                    right_confidence.push(order.confidence);
                }
                Some(order) => wrong_confidence.push(order.confidence),
                None => rejected += 1,
            }
        }
        if detail {
            println!("{file}\t{said}\t{}\t{:.3}", heard.text, heard.confidence);
        }
    }
    println!(
        "orders {orders}: right {right}, wrong {}, rejected {rejected}; talk {talk}: taken for an order {taken}; \
         {:.3} s a second",
        wrong_confidence.len(),
        spent / seconds
    );
    for limit in [0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 0.98, 0.99, 1.0] {
        let above = |list: &[f32]| list.iter().filter(|c| **c >= limit).count();
        println!(
            "confidence >= {limit}: right {} wrong {} talk {}",
            above(&right_confidence),
            above(&wrong_confidence),
            above(&talk_confidence)
        );
    }
    Ok(())
}

fn hear(recogniser: &mut VoskRecogniser, audio: &[i16]) -> Hypothesis {
    let mut parts = Vec::new();
    recogniser.reset();
    for chunk in audio.chunks(1600) {
        if let Step::Final(part) = recogniser.accept(chunk) {
            parts.push(part);
        }
    }
    parts.push(recogniser.finish());
    parts.retain(|part| !part.is_empty());
    let text = parts
        .iter()
        .map(|part| part.text.as_str())
        .collect::<Vec<_>>()
        .join(" ");
    let confidence = parts.iter().map(|part| part.confidence).fold(1.0, f32::min);
    let words = parts.into_iter().flat_map(|part| part.words).collect();
    Hypothesis {
        text,
        confidence,
        words,
        others: Vec::new(),
    }
}

/// A formula's own network and names, or one of the phrases in a text file.
fn network_of(path: &Path) -> Result<(Network, Option<Lexicon>), Box<dyn std::error::Error>> {
    let text = fs::read_to_string(path)?;
    if path
        .extension()
        .is_some_and(|extension| extension == "toml")
    {
        let formula = commis::formula::read(&path.to_string_lossy(), &text)?;
        let names = lexicon(&formula, &[]);
        return Ok((network(&names), Some(names)));
    }
    Ok((Network::of_phrases(text.lines()), None))
}
