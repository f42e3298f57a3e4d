//! Hearing from files: what is heard in each.

#[cfg(feature = "recogniser")]
use std::path::PathBuf;
#[cfg(feature = "recogniser")]
use std::time::Instant;

use super::trouble::Trouble;
#[cfg(feature = "recogniser")]
use super::{
    commands::{meaning, read_formula},
    output::print,
};
use crate::cli::HearArgs;
use crate::settings::Settings;
#[cfg(feature = "recogniser")]
use crate::{bench, formula::Formula, hear};

#[cfg(not(feature = "recogniser"))]
pub(super) fn hear(_: &HearArgs, _: &Settings) -> Result<u8, Trouble> {
    Err(Trouble::input(crate::hear::HearError::NotBuilt))
}

#[cfg(feature = "recogniser")]
pub(super) fn hear(args: &HearArgs, settings: &Settings) -> Result<u8, Trouble> {
    let (formula, _) = read_formula(&args.formula)?;
    files(&formula, &args.wav, args.json, settings)
}

/// Says what is heard in each file.
#[cfg(feature = "recogniser")]
fn files(
    formula: &Formula,
    files: &[PathBuf],
    json: bool,
    settings: &Settings,
) -> Result<u8, Trouble> {
    let name = settings.options().name;
    let lexicon = bench::lexicon(formula).with_call_name(&name);
    let network = crate::understand::network(&lexicon);
    let mut ear = hear::VoskRecogniser::with_network(&settings.model_folder(), &network)
        .map_err(Trouble::input)?;
    let mut bad = Vec::new();
    for file in files {
        let audio = match hear::wav::read(file) {
            Ok(a) => a,
            Err(e) => {
                bad.push(e.to_string());
                continue;
            }
        };
        let start = Instant::now();
        let h = super::listen::whole_utterance(&mut ear, &audio);
        let seconds = audio.len() as f64 / f64::from(hear::RATE);
        let cost = start.elapsed().as_secs_f64() * 1000.0 / seconds.max(0.001);
        let mut value = if h.heard().is_some() {
            meaning(&h.text, &lexicon)
        } else {
            serde_json::json!({ "text": h.text, "intent": null })
        };
        value["file"] = file.display().to_string().into();
        value["confidence"] = ((f64::from(h.confidence) * 1000.0).round() / 1000.0).into();
        value["ms_per_s"] = cost.round().into();
        if json {
            print(&format!("{value}\n"))?;
        } else {
            let what = match (h.heard(), value["intent"].as_str()) {
                (None, _) => "talk, not for me".to_owned(),
                (Some(_), Some(intent)) => format!("{intent} {}", value["slots"]),
                (Some(_), None) => format!(
                    "I would ask: {}",
                    value["question"].as_str().unwrap_or_default()
                ),
            };
            print(&format!(
                "{}: \u{201c}{}\u{201d}, confidence {:.2}, {what}, {cost:.0} ms a second\n",
                file.display(),
                h.text,
                h.confidence,
            ))?;
        }
    }
    if bad.is_empty() {
        Ok(0)
    } else {
        Err(Trouble::input(bad.join("\n")))
    }
}
