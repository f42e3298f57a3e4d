//! The commands that need no device.

use std::path::{Path, PathBuf};

use super::Record;
use super::chosen::Chosen;
pub(super) use super::formulas::read_formula;
use super::formulas::read_text;
use super::output::{complain, print, remark};
use super::rehearse::{Silence, Stage};
use super::script::Script;
use super::trouble::Trouble;
use crate::ask::{self, Context};
use crate::bench;
use crate::cli::{RehearseArgs, WeighArgs};
use crate::formula::{FormulaFile, WeighUp};
use crate::measure::Region;
use crate::order::Order;
use crate::reader::{self, Printed, ReaderSituation, Verdict};
use crate::safety::Law;
use crate::settings::Settings;
use crate::understand::{Lexicon, Understood, parse, question_between};

/// The largest script that is read, in bytes.
const LONGEST_SCRIPT: u64 = 4 << 20;

/// A rehearsal is the same everywhere: it takes settings only when they are given.
pub(super) fn rehearse(args: &RehearseArgs, file: Option<&Path>) -> Result<u8, Trouble> {
    let settings = match file {
        Some(_) => Chosen::load(file)?.settings,
        None => Settings::default(),
    };
    let (formula, _) = read_formula(&args.formula)?;
    let text = read_text(&args.script, LONGEST_SCRIPT)?;
    let script = Script::read(&text)
        .map_err(|e| Trouble::input(format!("{}: {e}", args.script.display())))?;
    let mut options = settings.options();
    if file.is_none() {
        // A script is spoken to nobody else.
        options.attention = bench::Attention::Open;
    }
    options.size =
        super::size::scale_by(&args.size, options.region, &formula).map_err(Trouble::input)?;
    if !args.with.is_empty() {
        super::several::one_size(&args.size)?;
    }
    for path in &args.with {
        let beside = super::several::beside(path, &args.size, options.region, None)?;
        options.beside.push(beside);
    }
    if let Some(text) = &args.ready_at {
        let wall = super::rehearse::opening_wall(&script);
        options.ready_at = Some(super::service::minute("ready-at", text, &wall)?);
    }
    let folder = args.script.parent().unwrap_or_else(|| Path::new("."));
    let mut listener = super::listen::FileListener::new(settings.model_folder());
    let mut silence = Silence;
    let mut recorder = args.record.as_deref().map(|path| {
        let voice = super::stage::recorded(&settings)
            .map_err(|e| complain(&e))
            .map(|voice| crate::say::respelt(voice, &formula.spelt()))
            .ok();
        crate::say::Recorder::new(path, voice, settings.voice)
    });
    let stage: &mut dyn Stage = match &mut recorder {
        Some(r) => r,
        None => &mut silence,
    };
    let mut stage = super::several::WithBook::new(stage);
    let mut trouble = None;
    let mut tell = |record: &Record| {
        let line = if args.json {
            Some(record.json())
        } else {
            record.line()
        };
        if let (Some(line), None) = (line, &trouble) {
            trouble = print(&(line + "\n")).err();
        }
    };
    super::rehearse::rehearse(
        formula,
        options,
        &script,
        folder,
        &mut listener,
        &mut stage,
        &mut tell,
    )
    .map_err(Trouble::input)?;
    if let Some(t) = trouble {
        return Err(t);
    }
    if let Some(r) = recorder {
        let note = r.finish().map_err(Trouble::failed)?;
        remark(&note);
    }
    Ok(0)
}

pub(super) fn understand(path: &Path) -> Result<u8, Trouble> {
    let (formula, _) = read_formula(path)?;
    let name = bench::Options::default().name;
    let lexicon = bench::lexicon(&formula).with_call_name(&name);
    let situation = ReaderSituation {
        titles: formula.steps.iter().map(|s| s.title.clone()).collect(),
        ..ReaderSituation::default()
    };
    let mut input = std::io::stdin().lock();
    loop {
        let line = crate::keys::next_line(&mut input)
            .map_err(|e| Trouble::failed(format!("cannot read: {e}")))?;
        let Some(line) = line else {
            return Ok(0);
        };
        let text = line.trim();
        if text.is_empty() {
            continue;
        }
        let read = matches!(parse(text, &lexicon), Understood::Nothing { .. })
            .then(|| freely(text, &lexicon, &situation))
            .flatten();
        let value = read.unwrap_or_else(|| meaning(text, &lexicon));
        print(&format!("{value}\n"))?;
    }
}

/// What free speech means by the learned reader, as JSON; nothing where it would not be understood.
fn freely(text: &str, lexicon: &Lexicon, situation: &ReaderSituation) -> Option<serde_json::Value> {
    let reading = reader::read(text, lexicon, situation)?;
    let sure = (f64::from(reading.sure) * 100.0).round() / 100.0;
    let known = |orders: Vec<Printed>| {
        orders
            .iter()
            .map(Printed::order)
            .collect::<Option<Vec<_>>>()
    };
    match reading.verdict() {
        Verdict::Act(orders) => {
            let orders = known(orders)?;
            Some(match orders.as_slice() {
                [order] => {
                    let value = serde_json::to_value(order).unwrap_or_default();
                    let slots = value
                        .get("slots")
                        .cloned()
                        .unwrap_or_else(|| serde_json::json!({}));
                    serde_json::json!({ "text": text, "intent": value["intent"], "slots": slots, "sure": sure })
                }
                _ => {
                    serde_json::json!({ "text": text, "intent": null, "orders": orders, "sure": sure })
                }
            })
        }
        Verdict::Ask(orders) => {
            let readings = known(orders)?;
            let question = question_between(&readings, lexicon.situation());
            Some(
                serde_json::json!({ "text": text, "intent": null, "question": question, "readings": readings, "sure": sure }),
            )
        }
        Verdict::Wish | Verdict::Unknown | Verdict::Talk => None,
    }
}

/// What an utterance means, as JSON.
pub(super) fn meaning(text: &str, lexicon: &Lexicon) -> serde_json::Value {
    match parse(text, lexicon) {
        Understood::Order(intent) => {
            let value = serde_json::to_value(&intent).unwrap_or_default();
            let slots = value
                .get("slots")
                .cloned()
                .unwrap_or_else(|| serde_json::json!({}));
            serde_json::json!({ "text": text, "intent": value["intent"], "slots": slots })
        }
        Understood::Doubt { question, readings } => {
            serde_json::json!({ "text": text, "intent": null, "question": question, "readings": readings })
        }
        Understood::Nothing { question } => {
            serde_json::json!({ "text": text, "intent": null, "question": question })
        }
    }
}

pub(super) fn weigh(args: &WeighArgs, settings: &Settings) -> Result<u8, Trouble> {
    let (formula, _) = read_formula(&args.formula)?;
    let (region, step_g) = (settings.region, settings.scale_step_g);
    let batch = super::size::batch(&formula, &args.size, region).map_err(Trouble::input)?;
    let list =
        WeighUp::new(&formula, &batch, step_g, region).told_by(&formula.contents(), settings.law());
    if args.json {
        let json = serde_json::to_string_pretty(&list).map_err(Trouble::failed)?;
        print(&(json + "\n"))?;
    } else if args.large {
        print(&list.large(step_g))?;
    } else {
        print(&list.table(step_g))?;
    }
    Ok(0)
}

pub(super) fn ask(
    text: &str,
    json: bool,
    region: Option<&str>,
    settings: &Settings,
) -> Result<u8, Trouble> {
    let region = match region {
        None => settings.region,
        Some(word) => Region::find(word).ok_or_else(|| {
            Trouble::input(format!(
                "--region: expected us, uk, metric or au, found `{word}`"
            ))
        })?,
    };
    let lexicon = bench::kitchen_lexicon();
    let question = match parse(text, &lexicon) {
        Understood::Order(Order::Ask(q)) => q,
        Understood::Order(order) if order.is_emergency() => {
            let kind = match order {
                Order::Emergency { kind } => Some(kind),
                _ => None,
            };
            print(&(bench::first_aid(kind, region) + "\n"))?;
            return Ok(0);
        }
        Understood::Doubt { question, .. } => {
            return Err(Trouble::input(format!("`{text}`: {question}")));
        }
        _ => {
            let near: String = ask::nearest(text)
                .iter()
                .map(|n| format!("\n  {n}"))
                .collect();
            return Err(Trouble::input(format!(
                "I do not understand `{text}`. I can answer, for example:{near}"
            )));
        }
    };
    let context = Context {
        law: settings.allergen_law.unwrap_or(Law::of(region)),
        region,
        scale_step_g: settings.scale_step_g,
        kilos: settings.kilos,
        room_c: settings.room_c,
        ..Context::default()
    };
    let answer = ask::answer(&question, &context).map_err(Trouble::input)?;
    if json {
        print(&(serde_json::to_string(&answer).map_err(Trouble::failed)? + "\n"))?;
    } else {
        print(&(answer.words + "\n"))?;
    }
    Ok(0)
}

pub(super) fn check(paths: &[PathBuf], settings: &Settings) -> Result<u8, Trouble> {
    let mut bad = Vec::new();
    for path in paths {
        match read_formula(path) {
            Err(t) => bad.push(t.to_string()),
            Ok((formula, _)) => {
                let holds = formula.contents().line(settings.law());
                print(&format!(
                    "{}: {}: {} ingredients, {} steps; {holds}\n",
                    path.display(),
                    formula.name,
                    formula.ingredients.len(),
                    formula.steps.len(),
                ))?;
                for (at, step) in formula.steps.iter().enumerate() {
                    for danger in &step.dangers {
                        let caution = danger.spoken(settings.region);
                        print(&format!(
                            "{}: step {}, {}: the program adds a caution: {caution}\n",
                            path.display(),
                            at + 1,
                            step.title
                        ))?;
                    }
                }
                for warning in super::listen::unknown_words(&formula, &settings.model_folder()) {
                    print(&format!("{}: warning: {warning}\n", path.display()))?;
                }
            }
        }
    }
    if bad.is_empty() {
        Ok(0)
    } else {
        Err(Trouble::input(bad.join("\n")))
    }
}

/// Lists formulas by what the heads of their files say; `check` finds their faults.
pub(super) fn book(folder: Option<PathBuf>, tag: Option<&str>) -> Result<u8, Trouble> {
    let kept = match folder {
        None => super::shelf::all(),
        Some(folder) => {
            let name = folder.display().to_string();
            std::fs::read_dir(&folder)
                .map_err(|e| Trouble::input(format!("{name}: cannot be read: {e}")))?;
            let kept = super::shelf::in_folders(&[folder]);
            if kept.is_empty() {
                let none = format!("{name}: expected formula files, found none");
                return Err(Trouble::input(none));
            }
            kept
        }
    };
    let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let has = |tags: &[String]| tag.is_none_or(|tag| tags.iter().any(|t| same(t, tag)));
    let mut out = String::new();
    for kept in kept.iter().filter(|kept| has(&kept.head.tags)) {
        let head = &kept.head;
        let tags = if head.tags.is_empty() {
            String::new()
        } else {
            format!(" [{}]", head.tags.join(", "))
        };
        let line = format!("{}: {}{tags}", head.name, head.about);
        out += &format!(
            "{}\n  {}\n",
            kept.path.display(),
            line.trim_end_matches(": ")
        );
    }
    if let (true, Some(tag)) = (out.is_empty(), tag) {
        return Err(Trouble::input(format!("no formula has the tag `{tag}`")));
    }
    print(&out)?;
    Ok(0)
}

pub(super) fn schema() -> Result<u8, Trouble> {
    let schema = schemars::schema_for!(FormulaFile);
    print(&(serde_json::to_string_pretty(&schema).map_err(Trouble::failed)? + "\n"))?;
    Ok(0)
}
