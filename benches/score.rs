//! How well folders of recordings are heard by the pipeline of a live session, in quiet, in noise and while the program
//! speaks: `cargo bench --bench score -- FORMULA FOLDER... [--noise WAV] [--above 12,6] [--own 10] [--named] [--json]`.

mod scoring;

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use commis::bench::Attention;
use commis::hear::{COMPETITION, wav};
use commis::say::{Natural, Voice};
use scoring::{Scored, Scores, Scoring, Verdict, at_share, score, waited};

/// Score folders of recordings: each has `said.tsv` with a file, a tab and what is said in it a line (`-` in front: talk, no
/// order).
#[derive(Debug, Parser)]
struct Arguments {
    /// The formula whose names can be said
    formula: PathBuf,
    /// Folders of recordings
    #[arg(required = true)]
    folder: Vec<PathBuf>,
    /// Folder of the speech model
    #[arg(long, default_value = "models/en-kitchen")]
    model: PathBuf,
    /// One JSON object a recording
    #[arg(long)]
    json: bool,
    /// Kitchen noise (WAV); hiss without it
    #[arg(long)]
    noise: Option<PathBuf>,
    /// Levels beside quiet: how far the speech stands above the noise, in decibels
    #[arg(long, value_delimiter = ',', allow_negative_numbers = true)]
    above: Vec<f32>,
    /// While the program reads the formula aloud, this many decibels above the speech
    #[arg(long, allow_negative_numbers = true)]
    own: Option<f32>,
    /// As if only what begins with the name were acted on
    #[arg(long)]
    named: bool,
}

fn main() -> ExitCode {
    let given: Vec<String> = std::env::args().filter(|a| a != "--bench").collect();
    if given.len() < 2 {
        println!("score: expected a formula and folders of recordings, found nothing to measure");
        return ExitCode::SUCCESS;
    }
    match scores(&Arguments::parse_from(given)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("score: {error}");
            ExitCode::from(2)
        }
    }
}

fn scores(args: &Arguments) -> Result<(), Box<dyn std::error::Error>> {
    let text = std::fs::read_to_string(&args.formula)?;
    let formula = commis::formula::read(&args.formula.display().to_string(), &text)?;
    let noise = args.noise.as_deref().map(wav::read).transpose()?;
    let noise = noise.unwrap_or_default();
    for above_db in [None]
        .into_iter()
        .chain(args.above.iter().copied().map(Some))
    {
        let how = Scoring {
            model: args.model.clone(),
            noise: noise.clone(),
            above_db,
            attention: if args.named {
                Attention::Name
            } else {
                Attention::Open
            },
            own_db: args.own,
            competition: COMPETITION,
        };
        for folder in &args.folder {
            let voice = Natural::new().ok();
            let voice = voice.map(|v| Box::new(v) as Box<dyn Voice>);
            let scores = score(folder, &formula, &how, voice)?;
            if args.json {
                for clip in &scores.clips {
                    let mut value = serde_json::to_value(clip)?;
                    value["above_db"] = above_db.into();
                    println!("{value}");
                }
            } else {
                let at = above_db.map_or("quiet".to_owned(), |db| format!("{db} dB"));
                println!("{}, {at}\n{}", folder.display(), table(&scores));
            }
        }
    }
    Ok(())
}

/// The scores by voice, as lines for people.
fn table(scores: &Scores) -> String {
    let mut voices: BTreeMap<&str, Vec<&Scored>> = BTreeMap::new();
    for clip in &scores.clips {
        voices.entry(&clip.voice).or_default().push(clip);
    }
    let mut out = String::new();
    for (voice, clips) in &voices {
        out.push_str(&line(voice, clips));
    }
    let all: Vec<&Scored> = scores.clips.iter().collect();
    out.push_str(&line("all", &all));
    let waited = waited(&scores.clips);
    if let (Some(median), Some(p95)) = (at_share(&waited, 0.5), at_share(&waited, 0.95)) {
        out.push_str(&format!(
            "from the end of speech to the first sound: median {median:.2} s, 95 % within {p95:.2} s\n"
        ));
    }
    out.push_str(&format!(
        "{:.3} s of a core for a second of audio; {:.0} MiB resident, {:.0} at the highest; {:.2} s to listening\n",
        scores.cost, scores.memory.0, scores.memory.1, scores.loading
    ));
    out
}

fn line(voice: &str, clips: &[&Scored]) -> String {
    let count = |talk: bool, verdict: Verdict| {
        clips
            .iter()
            .filter(|c| c.said.is_none() == talk && c.verdict == verdict)
            .count()
    };
    let orders = clips.iter().filter(|c| c.said.is_some()).count();
    let mut out = format!("{voice}:");
    if orders > 0 {
        let errors: usize = clips.iter().map(|c| c.word_errors).sum();
        let words: usize = clips.iter().map(|c| c.words).sum();
        out.push_str(&format!(
            " {} of {orders} orders right, {} asked, {} ignored, {} wrong; {:.1} % of words wrong",
            count(false, Verdict::Right),
            count(false, Verdict::Asked),
            count(false, Verdict::Ignored),
            count(false, Verdict::Wrong),
            100.0 * errors as f64 / words.max(1) as f64
        ));
    }
    let talk_s: f32 = clips
        .iter()
        .filter(|c| c.said.is_none())
        .map(|c| c.seconds)
        .sum();
    if talk_s > 0.0 {
        let hours = talk_s / 3600.0;
        let (acted, asked) = (count(true, Verdict::Wrong), count(true, Verdict::Asked));
        out.push_str(&format!(
            " {:.1} min of talk: {acted} false actions ({:.1} an hour), {asked} questions",
            talk_s / 60.0,
            acted as f32 / hours
        ));
    }
    out + "\n"
}
