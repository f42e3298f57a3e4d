//! `commis log`: what was cooked here, and how.

use std::path::Path;

use super::commands::read_formula;
use super::log_picture::when;
use super::output::{complain, print};
use super::service::length;
use super::trouble::Trouble;
use crate::cli::LogArgs;
use crate::journal::{Bake, CooksNote, Log};
use crate::settings::Settings;
use crate::time::Span;

pub(super) fn log(args: &LogArgs, settings: &Settings) -> Result<u8, Trouble> {
    let folder = settings.journal_folder().map_err(Trouble::failed)?;
    let mut log = Log::read(&folder).map_err(Trouble::failed)?;
    if let Some(which) = &args.formula {
        let name = read_formula(Path::new(which)).map_or(which.clone(), |(f, _)| f.name);
        log.keep_only(&name.to_lowercase());
    }
    let left_out = [
        (log.bad_lines, "cannot be read"),
        (log.impossible_lines, "cannot be right"),
    ];
    for (lines, why) in left_out.into_iter().filter(|(lines, _)| *lines > 0) {
        let lines = match lines {
            1 => "one line".to_owned(),
            n => format!("{n} lines"),
        };
        let file = Log::file(&folder);
        complain(&format_args!(
            "{}: {lines} that {why}, left out",
            file.display()
        ));
    }
    if let Some(number) = args.forget {
        return forget(&folder, &log, number);
    }
    if let Some(file) = &args.picture {
        let svg = super::log_picture::picture(&log).ok_or_else(|| {
            Trouble::input("--picture: expected a formula with a session in the log, found none")
        })?;
        return std::fs::write(file, svg)
            .map(|()| 0)
            .map_err(|e| Trouble::failed(format!("{}: {e}", file.display())));
    }
    let text = if args.json {
        log_json(&log)?
    } else if args.csv {
        log_csv(&log)
    } else {
        log_table(&log, &Log::notes_folder(&folder))
    };
    print(&text).map(|()| 0)
}

/// Takes a session out, by its number: the last one is the first.
fn forget(folder: &Path, log: &Log, number: usize) -> Result<u8, Trouble> {
    let sessions = log.sessions();
    let began_ms = number.checked_sub(1).and_then(|at| sessions.get(at));
    let Some(&forget_ms) = began_ms else {
        return Err(Trouble::input(format!(
            "--forget: expected the number of a session from 1 to {}, found `{number}`",
            sessions.len()
        )));
    };
    Log::forget_session(folder, forget_ms).map_err(Trouble::failed)?;
    let when = when(forget_ms, 0).format("%Y-%m-%d %H:%M");
    print(&format!(
        "Forgotten: the session that began at {when} UTC, and what was learnt from it.\n"
    ))
    .map(|()| 0)
}

/// One value a line, quoted as RFC 4180 wants it.
fn log_csv(log: &Log) -> String {
    let quoted = |text: &str| {
        // A cell that begins so is taken for a sum by spreadsheets.
        let guard = if text.starts_with(['=', '+', '-', '@']) {
            "'"
        } else {
            ""
        };
        format!("\"{guard}{}\"", text.replace('"', "\"\""))
    };
    let mut text = "session,formula,scale,room_c,kind,what,planned,really,unit\r\n".to_owned();
    for bake in &log.bakes {
        let a = &bake.account;
        let began = when(bake.began_ms, bake.offset_s).to_rfc3339();
        let room = a.room_c.map_or(String::new(), |c| c.to_string());
        let mut row = |kind: &str, what: &str, planned: String, really: String, unit: &str| {
            let (formula, scale, what) = (quoted(&a.bake), quoted(&a.scale), quoted(what));
            text.push_str(&format!(
                "{began},{formula},{scale},{room},{kind},{what},{planned},{really},{unit}\r\n"
            ));
        };
        let min = |span: Span| minutes(span).to_string();
        row("all", "", String::new(), min(a.took), "min");
        for s in &a.steps {
            row("step", &s.title, min(s.planned), min(s.took), "min");
        }
        let mine = |of: &str, began_ms: i64| of == a.bake && began_ms == bake.began_ms;
        for r in log.rises.iter().filter(|r| mine(&r.formula, r.began_ms)) {
            row("timer", &r.timer, min(r.planned), min(r.took), "min");
        }
        for p in &a.went_in {
            let really = p.really_g.map_or(String::new(), |g| tenth(g).to_string());
            row(
                "ingredient",
                &p.name,
                tenth(p.wanted_g).to_string(),
                really,
                "g",
            );
        }
        if let Some(c) = a.water_c {
            row("water", "", String::new(), tenth(c).to_string(), "C");
        }
        for (from, to) in &a.swaps {
            row(
                "swap",
                &format!("{to} for {from}"),
                String::new(),
                String::new(),
                "",
            );
        }
        for what in &a.skipped {
            row("left out", what, String::new(), String::new(), "");
        }
        for w in log.words.iter().filter(|w| mine(&w.formula, w.began_ms)) {
            row("word", &w.word, String::new(), String::new(), "");
        }
        for n in log.notes.iter().filter(|n| mine(&n.formula, n.began_ms)) {
            row("note", &n.note, String::new(), String::new(), "");
        }
    }
    text
}

fn log_json(log: &Log) -> Result<String, Trouble> {
    let rises: Vec<serde_json::Value> = log
        .rises
        .iter()
        .map(|r| {
            serde_json::json!({
                "formula": r.formula, "timer": r.timer, "at": when(r.at_ms, r.offset_s).to_rfc3339(), "began_ms": r.began_ms,
                "planned_minutes": minutes(r.planned), "took_minutes": minutes(r.took), "room_c": r.room_c,
                "scale": r.scale,
            })
        })
        .collect();
    let went_in: Vec<serde_json::Value> = log
        .went_in
        .iter()
        .map(|w| {
            serde_json::json!({
                "formula": w.formula, "ingredient": w.ingredient, "at": when(w.at_ms, w.offset_s).to_rfc3339(),
                "began_ms": w.began_ms, "wanted_g": w.wanted_g, "really_g": w.really_g, "scale": w.scale,
            })
        })
        .collect();
    let bakes: Vec<serde_json::Value> = log
        .bakes
        .iter()
        .map(|b| {
            let a = &b.account;
            let mine = |of: &str, began_ms: i64| of == a.bake && began_ms == b.began_ms;
            let words = log.words.iter().filter(|w| mine(&w.formula, w.began_ms));
            let notes = log.notes.iter().filter(|n| mine(&n.formula, n.began_ms));
            serde_json::json!({
                "formula": a.bake, "began_ms": b.began_ms, "at": when(b.at_ms, b.offset_s).to_rfc3339(),
                "scale": a.scale, "room_c": a.room_c, "water_c": a.water_c, "took_minutes": minutes(a.took), "finished": a.finished,
                "steps": a.steps.iter().map(|s| serde_json::json!({
                    "title": s.title, "planned_minutes": minutes(s.planned), "took_minutes": minutes(s.took),
                })).collect::<Vec<_>>(),
                "went_in": a.went_in, "swaps": a.swaps, "left_out": a.skipped,
                "word": words.map(|w| &w.word).next_back(),
                "notes": notes.clone().map(|n| &n.note).collect::<Vec<_>>(),
                "recordings": notes.filter_map(|n| n.recording.as_ref()).collect::<Vec<_>>(),
            })
        })
        .collect();
    let own: Vec<serde_json::Value> = formulas(log)
        .iter()
        .flat_map(|formula| {
            log.own_times(formula, None)
                .into_iter()
                .map(move |(timer, own)| {
                    serde_json::json!({
                        "formula": formula, "timer": timer, "minutes": minutes(own.lasts),
                        "from_minutes": minutes(own.from), "to_minutes": minutes(own.to), "bakes": own.bakes,
                    })
                })
        })
        .collect();
    serde_json::to_string_pretty(
        &serde_json::json!({ "rises": rises, "went_in": went_in, "own": own, "bakes": bakes }),
    )
    .map(|text| text + "\n")
    .map_err(Trouble::failed)
}

fn log_table(log: &Log, sounds: &Path) -> String {
    if log.rises.is_empty() && log.went_in.is_empty() && log.bakes.is_empty() {
        return "Nothing in the log yet: it is written when you say that a rise, or a bake, is done.\n".to_owned();
    }
    let mut text = String::new();
    let sessions = log.sessions();
    for formula in formulas(log) {
        text.push_str(&format!("{formula}\n"));
        for b in log.bakes.iter().filter(|b| b.account.bake == formula) {
            let number = sessions.iter().position(|began| *began == b.began_ms);
            text.push_str(&session_lines(
                log,
                b,
                number.map_or(0, |at| at + 1),
                sounds,
            ));
        }
        for r in log.rises.iter().filter(|r| r.formula == formula) {
            let room = r.room_c.map_or(String::new(), |c| format!("  room {c} C"));
            let scale = if r.scale.is_empty() {
                String::new()
            } else {
                format!("  {}", r.scale)
            };
            text.push_str(&format!(
                "  {}  {:16}  {:>10}  (written {}){room}{scale}\n",
                when(r.at_ms, r.offset_s).format("%Y-%m-%d %H:%M"),
                r.timer,
                length(r.took),
                length(r.planned)
            ));
        }
        for w in log.went_in.iter().filter(|w| w.formula == formula) {
            text.push_str(&format!(
                "  {}  {:16}  {:>8} g  (wanted {} g)\n",
                when(w.at_ms, w.offset_s).format("%Y-%m-%d %H:%M"),
                w.ingredient,
                tenth(w.really_g),
                tenth(w.wanted_g)
            ));
        }
        for (title, (took, bakes)) in log.own_work(&formula) {
            let by = by_bakes(bakes);
            text.push_str(&format!(
                "  your work    {title:16}  {:>10}, {by}\n",
                length(took)
            ));
        }
        for (timer, own) in log.own_times(&formula, None) {
            let range = if own.from == own.to {
                String::new()
            } else {
                format!(", from {} to {}", length(own.from), length(own.to))
            };
            let by = by_bakes(own.bakes as usize);
            text.push_str(&format!(
                "  next time    {timer:16}  {:>10}{range}, {by}\n",
                length(own.lasts)
            ));
        }
    }
    text
}

/// A session as it is listed, with the number that it can be forgotten by.
fn session_lines(log: &Log, bake: &Bake, number: usize, sounds: &Path) -> String {
    let a = &bake.account;
    let size = if a.scale.is_empty() {
        "as written"
    } else {
        &a.scale
    };
    let room = a.room_c.map_or(String::new(), |c| format!("  room {c} C"));
    let left = if a.finished {
        ""
    } else {
        "  (left before the end)"
    };
    let mut text = format!(
        "  {}  session {number:<8}  {:>10}  {size}{room}{left}\n",
        when(bake.began_ms, bake.offset_s).format("%Y-%m-%d %H:%M"),
        length(a.took)
    );
    let mine = |of: &str, began_ms: i64| of == a.bake && began_ms == bake.began_ms;
    let words = log.words.iter().filter(|w| mine(&w.formula, w.began_ms));
    let notes = log.notes.iter().filter(|n| mine(&n.formula, n.began_ms));
    let more = a
        .swaps
        .iter()
        .map(|(from, to)| format!("{to} for {from}"))
        .chain(a.skipped.iter().map(|what| format!("left out: {what}")))
        .chain(words.map(|w| format!("it was {}", w.word)))
        .chain(a.water_c.map(|c| format!("water at {} C", tenth(c))))
        .chain(notes.map(|n| note_line(n, sounds)));
    for line in more {
        text.push_str(&format!("      {line}\n"));
    }
    text
}

/// A note, and where its sound lies.
fn note_line(note: &CooksNote, sounds: &Path) -> String {
    match &note.recording {
        Some(file) => format!("noted: {} ({})", note.note, sounds.join(file).display()),
        None => format!("noted: {}", note.note),
    }
}

/// The formulas in the log, each once, in order.
fn formulas(log: &Log) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let of_rises = log.rises.iter().map(|r| &r.formula);
    let weighed = log.went_in.iter().map(|w| &w.formula);
    let bakes = log.bakes.iter().map(|b| &b.account.bake);
    for formula in of_rises.chain(weighed).chain(bakes) {
        if !names.contains(formula) {
            names.push(formula.clone());
        }
    }
    names
}

fn by_bakes(bakes: usize) -> String {
    match bakes {
        1 => "by one bake".to_owned(),
        n => format!("by {n} bakes"),
    }
}

fn tenth(grams: f64) -> f64 {
    (grams * 10.0).round() / 10.0
}

fn minutes(span: Span) -> f64 {
    (span.as_millis() as f64 / 6000.0).round() / 10.0
}
