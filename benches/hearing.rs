//! How well the live pipeline hears, in quiet and in kitchen noise: the table in the README and `benches/hearing.svg`.
//!
//! `cargo bench --bench hearing -- CLIPS [--model DIR] [--enter COST] [--again COST] [--choice SHARE] [--word COST] [--write]`
//! CLIPS is what `benches/clips/make.py` makes, with `noise.wav` in it. `--write` puts the table and the plot in place.

mod scoring;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use commis::bench::Attention;
use commis::formula::{self, Formula};
use commis::hear::{COMPETITION, Competition, wav};
use commis::say::{Natural, Voice};
use scoring::{Scored, Scores, Scoring, Verdict, at_share, score, waited};

type Failure = Box<dyn std::error::Error>;

/// Folders of orders, each with its formula.
const ORDERS: [(&str, &str); 3] = [
    ("loaf", "seeded-tin-loaf"),
    ("shortbread", "lemon-shortbread"),
    ("soup", "vegetable-soup"),
];
/// Levels of noise: none, then decibels that speech stands above it.
const LEVELS: [Option<f32>; 3] = [None, Some(12.0), Some(6.0)];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let Some(clips) = arguments.first().filter(|a| !a.starts_with("--")) else {
        println!("hearing: expected a folder of clips, found nothing to measure");
        return ExitCode::SUCCESS;
    };
    match measure(Path::new(clips), &arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("hearing: {error}");
            ExitCode::from(2)
        }
    }
}

/// The scores at one level of noise, all formulas together.
struct Level {
    name: String,
    clips: Vec<Scored>,
}

struct Runner<'a> {
    clips: &'a Path,
    model: PathBuf,
    noise: Vec<i16>,
    competition: Competition,
}

impl Runner<'_> {
    fn run(
        &self,
        folder: &str,
        formula: &str,
        above_db: Option<f32>,
        attention: Attention,
        own_db: Option<f32>,
    ) -> Result<Scores, Failure> {
        let how = Scoring {
            model: self.model.clone(),
            noise: self.noise.clone(),
            above_db,
            attention,
            own_db,
            competition: self.competition,
        };
        let voice = Natural::new().ok();
        let voice = voice.map(|v| Box::new(v) as Box<dyn Voice>);
        Ok(score(
            &self.clips.join(folder),
            &shipped(formula)?,
            &how,
            voice,
        )?)
    }
}

fn measure(clips: &Path, arguments: &[String]) -> Result<(), Failure> {
    let option = |name: &str| {
        arguments
            .iter()
            .position(|a| a == name)
            .and_then(|at| arguments.get(at + 1))
    };
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
    let runner = Runner {
        clips,
        model: option("--model").map_or_else(|| "models/en-kitchen".into(), PathBuf::from),
        noise: wav::read(&clips.join("noise.wav"))?,
        competition,
    };
    let mut levels = Vec::new();
    let mut last = None;
    for above_db in LEVELS {
        let mut all = Vec::new();
        for (folder, formula) in ORDERS {
            let scores = runner.run(folder, formula, above_db, Attention::Open, None)?;
            all.extend(scores.clips.iter().cloned());
            last = Some(scores);
        }
        levels.push(Level {
            name: level_name(above_db),
            clips: all,
        });
    }
    let loaf = ORDERS[0].1;
    let mut called = Vec::new();
    for above_db in LEVELS {
        let scores = runner.run("name", loaf, above_db, Attention::Name, None)?;
        called.push(Level {
            name: level_name(above_db),
            clips: scores.clips,
        });
    }
    let open = runner.run("talk", loaf, None, Attention::Open, None)?;
    let named = runner.run("talk", loaf, None, Attention::Name, None)?;
    let over = [0.0, 10.0]
        .map(|db| runner.run("stop", loaf, None, Attention::Open, Some(db)))
        .into_iter()
        .collect::<Result<Vec<_>, _>>()?;
    let text = page(&levels, &called, &open, &named, &over, last.as_ref());
    print!("{text}");
    if arguments.iter().any(|a| a == "--write") {
        between_marks(Path::new("README.md"), &text)?;
        fs::write("benches/hearing.svg", plot(&levels))?;
    }
    Ok(())
}

fn shipped(name: &str) -> Result<Formula, Failure> {
    let path = format!("shared/formulas/{name}.toml");
    let text = fs::read_to_string(&path)?;
    Ok(formula::read(&path, &text)?)
}

fn level_name(above_db: Option<f32>) -> String {
    above_db.map_or("quiet".to_owned(), |db| format!("{db} dB"))
}

fn page(
    levels: &[Level],
    called: &[Level],
    open: &Scores,
    named: &Scores,
    over: &[Scores],
    last: Option<&Scores>,
) -> String {
    let mut out = String::from(
        "| orders | clips | right | asked back | ignored | wrong | words wrong | to the first sound, median / 95 % |\n|---|---|---|---|---|---|---|---|\n",
    );
    let open_levels = levels.iter().map(|l| (l, "open"));
    for (level, how) in open_levels.chain(called.iter().map(|l| (l, "by name"))) {
        let n = level.clips.len();
        let share = |v| 100.0 * count(&level.clips, v) as f64 / n.max(1) as f64;
        let errors: usize = level.clips.iter().map(|c| c.word_errors).sum();
        let words: usize = level.clips.iter().map(|c| c.words).sum();
        let waited = waited(&level.clips);
        let at = |part| at_share(&waited, part).unwrap_or(0.0);
        out += &format!(
            "| {how}, {} | {n} | {:.0} % | {:.0} % | {:.0} % | {:.0} % | {:.0} % | {:.2} s / {:.2} s |\n",
            level.name,
            share(Verdict::Right),
            share(Verdict::Asked),
            share(Verdict::Ignored),
            share(Verdict::Wrong),
            100.0 * errors as f64 / words.max(1) as f64,
            at(0.5),
            at(0.95),
        );
    }
    let hours = open.clips.iter().map(|c| c.seconds).sum::<f32>() / 3600.0;
    let an_hour = |scores: &Scores, v| count(&scores.clips, v) as f32 / hours;
    out += &format!(
        "\n{:.0} minutes of talk: open, {:.0} false actions and {:.0} questions an hour; by name, {:.1} and {:.1}.\n",
        hours * 60.0,
        an_hour(open, Verdict::Wrong),
        an_hour(open, Verdict::Asked),
        an_hour(named, Verdict::Wrong),
        an_hour(named, Verdict::Asked),
    );
    for (scores, db) in over.iter().zip([0, 10]) {
        let stops: Vec<Scored> = scores
            .clips
            .iter()
            .filter(|c| c.said.as_deref().is_some_and(|s| s.contains("stop")))
            .cloned()
            .collect();
        out += &format!(
            "While it speaks, {db} dB above the cook at the microphone: {} of {} 'stop' heard.\n",
            count(&stops, Verdict::Right),
            stops.len(),
        );
    }
    if let Some(scores) = last {
        out += &format!(
            "{:.3} s of a core for a second of audio, {:.0} MiB resident.\n",
            scores.cost, scores.memory.0
        );
    }
    out
}

fn count(clips: &[Scored], verdict: Verdict) -> usize {
    clips.iter().filter(|c| c.verdict == verdict).count()
}

/// Puts `text` between the marks of the hearing table.
fn between_marks(path: &Path, text: &str) -> Result<(), Failure> {
    let page = fs::read_to_string(path)?;
    let (start, end) = ("<!-- hearing -->\n", "<!-- /hearing -->");
    let from = page
        .find(start)
        .ok_or("README.md: expected the mark `<!-- hearing -->`, found none")?
        + start.len();
    let to = page
        .find(end)
        .ok_or("README.md: expected the mark `<!-- /hearing -->`, found none")?;
    fs::write(path, format!("{}{text}{}", &page[..from], &page[to..]))?;
    Ok(())
}

/// Orders right by voice and level, as bars.
fn plot(levels: &[Level]) -> String {
    let mut voices: Vec<&str> = levels
        .iter()
        .flat_map(|l| &l.clips)
        .map(|c| c.voice.as_str())
        .collect();
    voices.sort_unstable();
    voices.dedup();
    let shades = ["#1b4965", "#5fa8d3", "#cae9ff"];
    let (row, left, width) = (54, 190, 480);
    let height = 60 + row * voices.len();
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 720 {height}\" font-family=\"sans-serif\" font-size=\"13\">\n\
         <title>Orders heard with every slot right, in percent, by voice and noise</title>\n<rect width=\"720\" height=\"{height}\" fill=\"white\"/>\n"
    );
    for (k, level) in levels.iter().enumerate() {
        let x = left + 120 * k;
        out += &format!(
            "<rect x=\"{x}\" y=\"16\" width=\"14\" height=\"14\" fill=\"{}\" stroke=\"black\"/><text x=\"{}\" y=\"28\">{}</text>\n",
            shades[k % 3],
            x + 20,
            level.name
        );
    }
    for (v, voice) in voices.iter().enumerate() {
        let y = 50 + row * v;
        out += &format!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{voice}</text>\n",
            left - 8,
            y + 26
        );
        for (k, level) in levels.iter().enumerate() {
            let of: Vec<Scored> = level
                .clips
                .iter()
                .filter(|c| c.voice == *voice)
                .cloned()
                .collect();
            let share = count(&of, Verdict::Right) as f64 / of.len().max(1) as f64;
            let (top, long) = (y + 15 * k, share * f64::from(width));
            out += &format!(
                "<rect x=\"{left}\" y=\"{top}\" width=\"{long:.0}\" height=\"13\" fill=\"{}\" stroke=\"black\" stroke-width=\"0.5\"/><text x=\"{:.0}\" y=\"{}\" font-size=\"11\">{:.0}</text>\n",
                shades[k % 3],
                left as f64 + long + 4.0,
                top + 11,
                100.0 * share
            );
        }
    }
    out + "</svg>\n"
}
