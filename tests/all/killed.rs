//! A real session killed without a word at any moment: what was announced is on the disk, no timer is lost or late.
//!
//! `COMMIS_KILLS=200 cargo test --test all killed` kills that often; the figures of a long run stand in
//! `benches/FIGURES.md`.

use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use commis::bench::{Bench, Effect, Event, Options, TimerChange};
use commis::journal::Journal;
use commis::time::Moment;
use commis::timer::TimerPhase;

use super::live::{Kitchen, Printed};

/// What the cook types, and when (milliseconds from the first line that the session prints).
const SCRIPT: &[(u64, &str)] = &[
    (0, "two second timer called tea"),
    (150, "three second timer called soup"),
    (300, "next"),
    (450, "one hour timer called stock"),
    (600, "it's in"),
    (2600, "key enter"),
    (2900, "pause the stock"),
    (3100, "two second timer called rice"),
    (3500, "resume the stock"),
    (3800, "four second timer called eggs"),
    (4000, "add one second to the eggs"),
    (4300, "stop the stock"),
    (4500, "yes"),
    (4700, "call the eggs pasta"),
];
/// The last moment of the script at which a session is killed.
const LAST_MS: u64 = 6000;
/// How late an alarm may be.
const LATE_MS: u64 = 1000;

/// A number that depends on the seed alone (SplitMix64, Steele and others 2014).
fn random(seed: &mut u64) -> u64 {
    *seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (*seed ^ (*seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// What is said, without what the ear tells of itself.
fn plain(line: &str) -> Option<&str> {
    (!line.starts_with('(')).then_some(line)
}

/// What one kill showed.
#[derive(Default, Clone, Copy)]
struct Figures {
    /// Alarms that rang after the resume, first rings.
    rang: u64,
    /// Timers that had rung and were not answered, and were said again.
    again: u64,
    /// The latest alarm by its entry in the journal, in milliseconds.
    late_ms: u64,
    /// The latest alarm by its printed line.
    heard_late_ms: u64,
}

/// What a fold of the journal has shown so far.
#[derive(Default)]
struct Seen {
    figures: Figures,
    /// Timers that have rung.
    rang: std::collections::HashSet<String>,
    /// Timers that rang first after the resume, and when they were due.
    due: Vec<(String, u64)>,
}

/// Everything said.
fn words(effects: &[Effect]) -> String {
    let said = effects.iter().filter_map(|e| match e {
        Effect::Say { text, .. } => Some(text.as_str()),
        _ => None,
    });
    said.collect::<Vec<_>>().join(" ")
}

fn one(seed: u64) -> Figures {
    let mut dice = seed;
    let kill_ms = random(&mut dice) % LAST_MS;
    let away_ms = random(&mut dice) % 2500;
    let kitchen = Kitchen::new(&format!("killed-{seed}"));
    let mut first = kitchen.cook();
    first.until("Say next");
    let began = Instant::now();
    let sleep_until = |ms: u64| {
        std::thread::sleep(Duration::from_millis(ms).saturating_sub(began.elapsed()));
    };
    for (at, line) in SCRIPT.iter().filter(|(at, _)| *at <= kill_ms) {
        sleep_until(*at);
        first.types(line);
    }
    sleep_until(kill_ms);
    let before = first.kill();
    std::thread::sleep(Duration::from_millis(away_ms));
    let second = kitchen.cook();
    second.until("I am back.");
    // Every timer of the script but the stock is due within this.
    std::thread::sleep(Duration::from_millis(LAST_MS + LATE_MS));
    let after = second.kill();
    judge(&kitchen, &before, &after)
        .unwrap_or_else(|e| panic!("seed {seed}, killed at {kill_ms} ms: {e}"))
}

/// The journal folded by a fresh bench must be what was printed, and every alarm must have been in time.
fn judge(kitchen: &Kitchen, before: &[Printed], after: &[Printed]) -> Result<Figures, String> {
    let found = Journal::unfinished(&kitchen.journals()).map_err(|e| e.to_string())?;
    let [found] = found.as_slice() else {
        return Err(format!("expected one journal, found {}", found.len()));
    };
    let journal = Journal::reopen(found).map_err(|e| e.to_string())?;
    let formula =
        commis::formula::read("loaf", &journal.header.formula_text).map_err(|e| e.to_string())?;
    let mut bench = Bench::new(formula, Options::default()).map_err(|e| e.to_string())?;
    let mut seen = Seen::default();
    let (mut folded, mut resumed) = (vec![Vec::new()], None);
    for entry in &journal.entries {
        let ringing = bench.rack().ringing();
        let unanswered: Vec<String> = ringing.iter().map(|t| t.name.clone()).collect();
        let live = bench.rack().live_count();
        let effects = entry.replay(&mut bench);
        if matches!(entry.event, Event::Resumed { .. }) {
            if bench.rack().live_count() != live {
                return Err("a timer was lost by the stop".to_owned());
            }
            let said = words(&effects).to_lowercase();
            if let Some(name) = unanswered
                .iter()
                .find(|n| !said.contains(&format!("the {n} ended")))
            {
                return Err(format!("{name} rang before and is not said again: {said}"));
            }
            seen.figures.again += unanswered.len() as u64;
            resumed = Some(entry.at.0);
            folded.push(Vec::new());
        }
        note(&effects, entry.at, resumed, &mut seen);
        let run = folded.last_mut().expect("begun with one");
        lines(&effects, run);
    }
    let mut figures = seen.figures;
    if figures.late_ms > LATE_MS {
        return Err(format!("an alarm was {} ms late", figures.late_ms));
    }
    for t in bench.rack().live(Moment(u64::MAX / 2)) {
        let waits = t.name == "stock" || matches!(t.state, TimerPhase::Ringing { .. });
        if !waits {
            return Err(format!("{} never rang", t.name));
        }
    }
    // What was printed is what the journal tells; the last entries before each kill may not have been printed yet.
    let runs = [before, after];
    if folded.len() != runs.len() {
        return Err(format!("expected two runs, found {}", folded.len()));
    }
    for (want, got) in folded.iter().zip(runs) {
        let got: Vec<&str> = got.iter().filter_map(|(_, l)| plain(l)).collect();
        // An alarm waits for no disk: the last one before a kill may not have been written yet.
        let both = want.len().min(got.len());
        let is_alarm = |line: &&str| line.contains("time is up");
        if want[..both] != got[..both] || !got[both..].iter().all(is_alarm) {
            return Err(format!("the journal tells {want:#?}, printed was {got:#?}"));
        }
    }
    let zero = journal.header.boot_ms;
    for (name, due) in &seen.due {
        let heard = after.iter().find(|(_, l)| {
            let l = l.to_lowercase();
            l.contains(name.as_str()) && l.contains("time is up")
                || l.contains(&format!("the {name} ended"))
        });
        let Some((boot, _)) = heard else {
            return Err(format!("{name} came due and was not announced"));
        };
        let since = (zero + due).max(zero + resumed.unwrap_or(0));
        figures.heard_late_ms = figures.heard_late_ms.max(boot.saturating_sub(since));
    }
    Ok(figures)
}

/// Keeps the first rings: how late, counted from the resume at the earliest, and when due where it was after the resume.
fn note(effects: &[Effect], at: Moment, resumed: Option<u64>, seen: &mut Seen) {
    for effect in effects {
        if let Effect::Timer {
            name,
            change: TimerChange::Due,
            left_ms,
        } = effect
            && seen.rang.insert(name.clone())
        {
            let over = left_ms.unsigned_abs();
            let late = over.min(at.0 - resumed.unwrap_or(0));
            seen.figures.late_ms = seen.figures.late_ms.max(late);
            if resumed.is_some() {
                seen.figures.rang += 1;
                seen.due.push((name.clone(), at.0 - over));
            }
        }
    }
}

/// The lines that effects print.
fn lines(effects: &[Effect], out: &mut Vec<String>) {
    let said = effects.iter().filter_map(|e| match e {
        Effect::Say { text, .. } => Some(text.clone()),
        _ => None,
    });
    out.extend(said);
}

#[test]
fn a_session_killed_at_any_moment_loses_no_timer_and_rings_in_time() {
    let kills: u64 = std::env::var("COMMIS_KILLS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(6);
    let next = AtomicU64::new(0);
    let all = Mutex::new(Vec::new());
    std::thread::scope(|s| {
        for _ in 0..kills.min(6) {
            s.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= kills {
                        return;
                    }
                    let figures = one(seed);
                    all.lock().expect("no thread panics with it").push(figures);
                }
            });
        }
    });
    let all = all.into_inner().expect("done");
    let rang: u64 = all.iter().map(|f| f.rang).sum();
    let again: u64 = all.iter().map(|f| f.again).sum();
    let late = all.iter().map(|f| f.late_ms).max();
    let heard = all.iter().map(|f| f.heard_late_ms).max();
    println!(
        "{} kills: {rang} alarms rang after the resume, {again} were said again; the latest by the journal {late:?} ms, \
         by its printed line {heard:?} ms",
        all.len()
    );
    assert_eq!(all.len() as u64, kills);
    assert!(rang > 0);
}
