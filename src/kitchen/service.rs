//! `commis plan`: the hour of serving.

use std::io::IsTerminal;
use std::path::Path;

use chrono::{DateTime, NaiveDate};

use super::formulas::read_formula;
use super::memory;
use super::output::print;
use super::trouble::Trouble;
use crate::bench::{OVEN, Options, Remembered};
use crate::cli::PlanArgs;
use crate::formula::Formula;
use crate::journal::{Journal, Log, local_offset, wall_now};
use crate::measure::Temperature;
use crate::order::Order;
use crate::plan::{self, Glyphs, Plan, PlanError, PlanItem};
use crate::settings::Settings;
use crate::time::{ClockTime, HalfDay, Minute, Span, Wall};
use crate::understand::{Lexicon, Understood, parse};

/// The farthest hour of serving from the start.
const FARTHEST_DAYS: i64 = 60;

pub(super) fn plan(args: &PlanArgs, settings: &Settings) -> Result<u8, Trouble> {
    let stamp_ms = wall_now().unix_ms;
    let mut own = Vec::new();
    let (plan, wall) = match &args.ready_at {
        Some(ready_at) => of_formulas(args, ready_at, settings, &mut own)?,
        None => of_session(settings)?,
    };
    if args.ical {
        let folder = settings.journal_folder();
        let sequence = folder.map_or(0, |folder| super::given_out::sequence(&folder, &plan));
        let stamp = stamp_ms.div_euclid(1000);
        return print(&plan::calendar(&plan, stamp, sequence)).map(|()| 0);
    }
    if let Some(file) = &args.picture {
        let svg = plan::picture(&plan, &wall);
        return std::fs::write(file, svg)
            .map(|()| 0)
            .map_err(|e| Trouble::failed(format!("{}: {e}", file.display())));
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

/// The plan of formulas for an hour, and the wall clock that it is read by.
fn of_formulas(
    args: &PlanArgs,
    ready_at: &str,
    settings: &Settings,
    own: &mut Vec<String>,
) -> Result<(Plan, Wall), Trouble> {
    let now = wall_now();
    let from = match &args.from {
        Some(text) => wall_at(minute("from", text, &now)?),
        None => now.clone(),
    };
    let ready = minute("ready-at", ready_at, &from)?;
    let ahead = ready.since(Minute::of(&from));
    if !(0..FARTHEST_DAYS * 1440).contains(&ahead) {
        return Err(Trouble::input(format!(
            "--ready-at: expected a time from the start to {FARTHEST_DAYS} days after it, found `{ready_at}`"
        )));
    }
    // A day more: what is told of a plan that has become late.
    let until_s = from.unix_ms.max(ready.0.saturating_mul(60_000)) / 1000 + 86_400;
    let wall = Wall::until(from.unix_ms, until_s, local_offset);
    let mut options = settings.options();
    if let Some(text) = &args.room {
        options.room_c = Some(room(text)?);
    }
    let items = args
        .formula
        .iter()
        .map(|path| item(path, &options, settings, own))
        .collect::<Result<Vec<_>, _>>()?;
    let days = FARTHEST_DAYS.min(ahead / 1440 + items.len() as i64 + 14);
    let kitchen = options.kitchen(&wall, days);
    let plan = plan::schedule_in(&kitchen, &items, ready, Minute::after(&wall))
        .map_err(|e| Trouble::input(why(&e, ready, &wall)))?;
    Ok((plan, wall))
}

/// The plan of the newest session that goes on or was not finished, as its journal has it.
fn of_session(settings: &Settings) -> Result<(Plan, Wall), Trouble> {
    let folder = settings.journal_folder().map_err(Trouble::failed)?;
    let found = Journal::unfinished(&folder).map_err(Trouble::failed)?;
    let plan = found
        .iter()
        .filter_map(|found| memory::bench_of(&found.path))
        .find_map(|bench| bench.plan().cloned());
    let plan = plan.ok_or_else(|| {
        Trouble::input("--session: expected a session with an hour of serving, found none")
    })?;
    let now_ms = wall_now().unix_ms;
    let until_s = now_ms.max(plan.ready_at.0.saturating_mul(60_000)) / 1000 + 86_400;
    Ok((plan, Wall::until(now_ms, until_s, local_offset)))
}

/// A formula with the times of this kitchen; each that differs from the formula's is told in `own`.
fn item(
    path: &Path,
    options: &Options,
    settings: &Settings,
    own: &mut Vec<String>,
) -> Result<PlanItem, Trouble> {
    let (formula, _) = read_formula(path)?;
    let known = settings.remembered(&formula, options.room_c);
    let mut told = |name: &str, here: Span, written: Span, bakes: u32| {
        if here != written {
            let (here, written) = (length(here), length(written));
            let by = match bakes {
                0 => String::new(),
                1 => ", by one bake".to_owned(),
                n => format!(", by {n} bakes"),
            };
            own.push(format!("{name} {here} (written {written}{by})"));
        }
    };
    for (step, timer) in formula.timers() {
        let lasts = options.time_of(&known.own, &formula, step, timer);
        let bakes = known.own.get(&timer.name).map_or(0, |own| own.bakes);
        told(&timer.name, lasts, timer.lasts, bakes);
    }
    let oven = known.own.get(OVEN);
    if let (Some(written), Some(here)) = (&formula.oven, oven) {
        told("the oven", here.lasts, written.lead, here.bakes);
    }
    for step in &formula.steps {
        if let Some(here) = known.work.get(&step.title) {
            let title = step.title.to_lowercase();
            told(&title, here.lasts, step.hands_on, here.bakes);
        }
    }
    PlanItem::with_times(&formula, |step, timer| {
        options.time_of(&known.own, &formula, step, timer)
    })
    .map(|item| {
        let work = |title: &str| known.work.get(title).map(|own| own.lasts);
        item.at_home(oven.map(|own| own.lasts), work)
    })
    .map_err(Trouble::input)
}

impl Settings {
    /// What the bake log remembers of a formula, in a room as warm as that.
    pub(super) fn remembered(&self, formula: &Formula, room_c: Option<f64>) -> Remembered {
        let oven = formula.oven.as_ref().map(|oven| oven.lead);
        self.log().remembered(&formula.name, oven, room_c)
    }

    /// The bake log; empty where it cannot be read.
    pub(super) fn log(&self) -> Log {
        self.journal_folder()
            .and_then(|folder| Log::read(&folder))
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

/// `1 h 10 min`, to the minute.
pub(super) fn length(span: Span) -> String {
    let minutes = (span.as_seconds() + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m} min"),
    }
}
