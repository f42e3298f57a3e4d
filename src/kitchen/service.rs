//! `commis plan` and `commis log`: the hour of serving, and this kitchen's own times.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::path::Path;

use chrono::{DateTime, NaiveDate};

use super::formulas::read_formula;
use super::output::{complain, print};
use super::trouble::Trouble;
use crate::bench::{Options, OwnTime};
use crate::cli::{LogArgs, PlanArgs};
use crate::journal::{Log, local_offset, wall_now};
use crate::measure::Temperature;
use crate::order::Order;
use crate::plan::{self, Glyphs, PlanError, PlanItem};
use crate::settings::Settings;
use crate::time::{ClockTime, HalfDay, Minute, Span, Wall};
use crate::understand::{Lexicon, Understood, parse};

/// The farthest hour of serving from the start.
const FARTHEST_DAYS: i64 = 60;

pub(super) fn plan(args: &PlanArgs, settings: &Settings) -> Result<u8, Trouble> {
    let now = wall_now();
    let from = match &args.from {
        Some(text) => wall_at(minute("from", text, &now)?),
        None => now.clone(),
    };
    let ready = minute("ready-at", &args.ready_at, &from)?;
    let ahead = ready.since(Minute::of(&from));
    if !(0..FARTHEST_DAYS * 1440).contains(&ahead) {
        return Err(Trouble::input(format!(
            "--ready-at: expected a time from the start to {FARTHEST_DAYS} days after it, found `{}`",
            args.ready_at
        )));
    }
    // A day more: what is told of a plan that has become late.
    let until_s = from.unix_ms.max(ready.0.saturating_mul(60_000)) / 1000 + 86_400;
    let wall = Wall::until(from.unix_ms, until_s, local_offset);
    let mut options = settings.options();
    if let Some(text) = &args.room {
        options.room_c = Some(room(text)?);
    }
    let mut own = Vec::new();
    let items = args
        .formula
        .iter()
        .map(|path| item(path, &options, settings, &mut own))
        .collect::<Result<Vec<_>, _>>()?;
    let plan = plan::schedule(&items, ready, Minute::after(&wall))
        .map_err(|e| Trouble::input(why(&e, ready, &wall)))?;
    if args.ical {
        return print(&plan::calendar(&plan, now.unix_ms.div_euclid(1000))).map(|()| 0);
    }
    if args.json {
        let text =
            serde_json::to_string_pretty(&plan::json(&plan, &wall)).map_err(Trouble::failed)?;
        return print(&(text + "\n")).map(|()| 0);
    }
    let size = std::io::stdout()
        .is_terminal()
        .then(crossterm::terminal::size);
    let width = size
        .and_then(Result::ok)
        .map_or(80, |(columns, _)| usize::from(columns));
    let mut text = plan::timeline(&plan, &wall, width, glyphs()).join("\n") + "\n";
    if !own.is_empty() {
        text.push_str(&format!("As it goes here: {}\n", own.join(", ")));
    }
    print(&text).map(|()| 0)
}

/// A formula with the times of this kitchen; each that differs from the formula's is told in `own`.
fn item(
    path: &Path,
    options: &Options,
    settings: &Settings,
    own: &mut Vec<String>,
) -> Result<PlanItem, Trouble> {
    let (formula, _) = read_formula(path)?;
    let mut options = options.clone();
    options.own = settings.own_times(&formula.name, options.room_c);
    for (step, timer) in formula.timers() {
        let lasts = options.time_of(&options.own, &formula, step, timer);
        if lasts != timer.lasts {
            let (name, here, written) = (&timer.name, length(lasts), length(timer.lasts));
            own.push(format!("{name} {here} (written {written})"));
        }
    }
    PlanItem::with_times(&formula, |step, timer| {
        options.time_of(&options.own, &formula, step, timer)
    })
    .map_err(Trouble::input)
}

impl Settings {
    /// This kitchen's own times from the bake log; none where the log cannot be read.
    pub(super) fn own_times(
        &self,
        formula: &str,
        room_c: Option<f64>,
    ) -> BTreeMap<String, OwnTime> {
        self.journal_folder()
            .and_then(|folder| Log::read(&folder))
            .map(|log| log.own_times(formula, room_c))
            .unwrap_or_default()
    }
}

/// `19`, `19 C`, `66 F`, in Celsius.
fn room(text: &str) -> Result<f64, Trouble> {
    let wrong = || {
        Trouble::input(format!(
            "--room: expected a temperature such as `19 C` from -10 to 50 C, found `{text}`"
        ))
    };
    let celsius = match text.trim().parse::<f64>() {
        Ok(bare) => bare,
        Err(_) => Temperature::parse(text).map_err(|_| wrong())?.as_celsius(),
    };
    if (-10.0..=50.0).contains(&celsius) {
        Ok(celsius)
    } else {
        Err(wrong())
    }
}

/// A time on the command line: `19:30` is the next such time after `from`, on twenty-four hours; a day may stand
/// before it (`tomorrow 7:00`, `2026-11-26 07:00`); and as it is said: `half past seven`.
pub(super) fn minute(option: &str, text: &str, from: &Wall) -> Result<Minute, Trouble> {
    let wrong = || {
        Trouble::input(format!(
            "--{option}: expected a time such as `19:30`, `tomorrow 7:00`, `2026-11-26 07:00` or `half past seven`, \
             found `{text}`"
        ))
    };
    let lower = text.trim().to_lowercase();
    if let Some(at) = clock(&lower) {
        return Ok(Minute::next(at, from));
    }
    let parts = lower.split_once(' ').or_else(|| lower.split_once('t'));
    if let Some((day, time)) = parts {
        let today = Minute::of(from).local(from).day;
        let day = match day {
            "today" => Some(today),
            "tomorrow" => Some(today + 1),
            _ => NaiveDate::parse_from_str(day, "%Y-%m-%d")
                .ok()
                .map(|day| i64::from(day.to_epoch_days())),
        };
        if let (Some(day), Some(at)) = (day, clock(time.trim())) {
            let ahead = from.unix_ms.div_euclid(1000) + FARTHEST_DAYS * 86_400;
            let wall = Wall::until(from.unix_ms, ahead, local_offset);
            return Ok(Minute::on_day(day, at, &wall));
        }
    }
    match parse(&format!("ready at {lower}"), &Lexicon::without_formula()) {
        Understood::Order(Order::EatAt { at }) => Ok(Minute::next(at, from)),
        _ => Err(wrong()),
    }
}

/// `7:00`, `19:30`, `19.30` on twenty-four hours.
fn clock(text: &str) -> Option<ClockTime> {
    let (hour, minute) = text.split_once([':', '.'])?;
    let (hour, minute) = (
        hour.parse().ok()?,
        minute.parse().ok().filter(|_| minute.len() == 2)?,
    );
    (hour < 24 && minute < 60).then_some(ClockTime {
        hour,
        minute,
        half: HalfDay::Said,
    })
}

fn wall_at(from: Minute) -> Wall {
    let unix_s = from.0.saturating_mul(60);
    Wall::until(
        unix_s.saturating_mul(1000),
        unix_s + FARTHEST_DAYS * 86_400,
        local_offset,
    )
}

/// Why there is no plan, with the earliest hour that can be met.
fn why(error: &PlanError, wanted: Minute, wall: &Wall) -> String {
    let PlanError::TooLate { earliest, late_min } = error else {
        return error.to_string();
    };
    let long = length(Span::minutes(late_min.unsigned_abs()));
    let at = earliest.to_five(wall);
    format!(
        "too late for {}: it takes {long} longer. The earliest is --ready-at '{}'",
        stamp(wanted, wall),
        stamp(at, wall)
    )
}

/// `19:30` today, `2026-11-26 07:00` on another day.
fn stamp(at: Minute, wall: &Wall) -> String {
    let local = at.local(wall);
    if local.day == Minute::of(wall).local(wall).day {
        return local.clock();
    }
    let date = DateTime::from_timestamp(local.day.saturating_mul(86_400), 0);
    format!(
        "{} {}",
        date.map_or_else(String::new, |d| d.format("%Y-%m-%d").to_string()),
        local.clock()
    )
}

/// Bars as the terminal can show them.
fn glyphs() -> Glyphs {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|v| !v.is_empty()))
        .unwrap_or_default()
        .to_lowercase();
    if locale.contains("utf-8") || locale.contains("utf8") {
        Glyphs::Blocks
    } else {
        Glyphs::Ascii
    }
}

pub(super) fn log(args: &LogArgs, settings: &Settings) -> Result<u8, Trouble> {
    let folder = settings.journal_folder().map_err(Trouble::failed)?;
    let mut log = Log::read(&folder).map_err(Trouble::failed)?;
    if let Some(which) = &args.formula {
        let name = read_formula(Path::new(which)).map_or(which.clone(), |(f, _)| f.name);
        let wanted = name.to_lowercase();
        log.rises
            .retain(|r| r.formula.to_lowercase().contains(&wanted));
        log.went_in
            .retain(|w| w.formula.to_lowercase().contains(&wanted));
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
    let text = if args.json {
        log_json(&log)?
    } else {
        log_table(&log)
    };
    print(&text).map(|()| 0)
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
    let own: Vec<serde_json::Value> = formulas(log)
        .iter()
        .flat_map(|formula| {
            log.own_times(formula, None)
                .into_iter()
                .map(move |(timer, own)| {
                    serde_json::json!({
                        "formula": formula, "timer": timer, "minutes": minutes(own.lasts),
                        "from_minutes": minutes(own.from), "to_minutes": minutes(own.to),
                    })
                })
        })
        .collect();
    serde_json::to_string_pretty(
        &serde_json::json!({ "rises": rises, "went_in": went_in, "own": own }),
    )
    .map(|text| text + "\n")
    .map_err(Trouble::failed)
}

fn log_table(log: &Log) -> String {
    if log.rises.is_empty() && log.went_in.is_empty() {
        return "Nothing in the log yet: it is written when you say that a rise, or a bake, is done.\n".to_owned();
    }
    let mut text = String::new();
    for formula in formulas(log) {
        text.push_str(&format!("{formula}\n"));
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
        for (timer, own) in log.own_times(&formula, None) {
            let range = if own.from == own.to {
                String::new()
            } else {
                format!(", from {} to {}", length(own.from), length(own.to))
            };
            text.push_str(&format!(
                "  next time    {timer:16}  {:>10}{range}\n",
                length(own.lasts)
            ));
        }
    }
    text
}

/// The formulas in the log, each once, in order.
fn formulas(log: &Log) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let of_rises = log.rises.iter().map(|r| &r.formula);
    for formula in of_rises.chain(log.went_in.iter().map(|w| &w.formula)) {
        if !names.contains(formula) {
            names.push(formula.clone());
        }
    }
    names
}

fn tenth(grams: f64) -> f64 {
    (grams * 10.0).round() / 10.0
}

/// When something was done, by the clock of that kitchen.
fn when(at_ms: i64, offset_s: i32) -> DateTime<chrono::FixedOffset> {
    let offset = chrono::FixedOffset::east_opt(offset_s);
    let utc = DateTime::from_timestamp_millis(at_ms).unwrap_or_default();
    match offset {
        Some(offset) => utc.with_timezone(&offset),
        None => utc.fixed_offset(),
    }
}

fn minutes(span: Span) -> f64 {
    (span.as_millis() as f64 / 6000.0).round() / 10.0
}

/// `1 h 10 min`, to the minute.
fn length(span: Span) -> String {
    let minutes = (span.as_seconds() + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m} min"),
    }
}
