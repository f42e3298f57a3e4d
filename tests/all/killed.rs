//! A real session killed without a word at any moment: what was announced is on the disk, no timer is lost or late.
//!
//! `COMMIS_KILLS=200 cargo test --test all killed` kills that often; the figures of a long run stand in
//! `benches/FIGURES.md`.

use std::io::{BufRead, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use commis::bench::{Bench, Effect, Event, Moment, Options, TimerChange};
use commis::journal::{Journal, Readings};
use commis::kitchen::Record;
use commis::timer::State;

use super::rehearsal::root;

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

/// A running session, and what it printed: (boot clock in milliseconds, line).
struct Session {
    child: Child,
    lines: Arc<Mutex<Vec<(u64, String)>>>,
    reader: std::thread::JoinHandle<()>,
}

impl Session {
    /// In a folder without a speech model: nothing but typed lines, so that a start takes no second.
    fn start(folder: &Path) -> Self {
        let mut child = Command::new(folder.join("bin/commis"))
            .args(["cook", "--plain"])
            .arg(root().join("shared/formulas/seeded-tin-loaf.toml"))
            .current_dir(folder)
            .env("XDG_STATE_HOME", folder)
            .env("XDG_CONFIG_HOME", folder.join("config"))
            .env("LD_LIBRARY_PATH", root().join("vendor/vosk"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let out = child.stdout.take().expect("piped");
        let lines = Arc::new(Mutex::new(Vec::new()));
        let told = Arc::clone(&lines);
        let reader = std::thread::spawn(move || {
            for line in std::io::BufReader::new(out).lines().map_while(Result::ok) {
                let at = Readings::now().boot_ms;
                told.lock().expect("one thread").push((at, line));
            }
        });
        Self {
            child,
            lines,
            reader,
        }
    }

    fn wait_for_a_line(&self) {
        let until = Instant::now() + Duration::from_mins(1);
        while self.lines.lock().expect("one thread").is_empty() {
            assert!(Instant::now() < until, "nothing is printed");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// `kill -9`, and everything that was printed until then.
    fn kill(mut self) -> Vec<(u64, String)> {
        self.child.kill().expect("killed");
        self.child.wait().expect("gone");
        self.reader.join().expect("read");
        Arc::try_unwrap(self.lines)
            .expect("one left")
            .into_inner()
            .expect("one thread")
    }
}

/// The conversation without its times, and without what the ear tells of itself.
fn plain(line: &str) -> Option<&str> {
    let text = line.get(7..)?.trim_start_matches(' ');
    (!line.starts_with(' ') && !text.is_empty()).then_some(text)
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
    // Deep enough that the program does not find the repository's models above itself.
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join(format!("killed-{}-{seed}", std::process::id()));
    std::fs::create_dir_all(folder.join("bin")).expect("a folder");
    let program = folder.join("bin/commis");
    std::fs::hard_link(env!("CARGO_BIN_EXE_commis"), &program).expect("linked");

    let mut first = Session::start(&folder);
    let mut pipe = first.child.stdin.take().expect("piped");
    first.wait_for_a_line();
    let began = Instant::now();
    let sleep_until = |ms: u64| {
        std::thread::sleep(Duration::from_millis(ms).saturating_sub(began.elapsed()));
    };
    for (at, line) in SCRIPT.iter().filter(|(at, _)| *at <= kill_ms) {
        sleep_until(*at);
        writeln!(pipe, "{line}").expect("it still reads");
    }
    sleep_until(kill_ms);
    let printed_before = first.kill();
    std::thread::sleep(Duration::from_millis(away_ms));
    let second = Session::start(&folder);
    second.wait_for_a_line();
    // Every timer of the script but the stock is due within this.
    std::thread::sleep(Duration::from_millis(LAST_MS + LATE_MS));
    let printed_after = second.kill();
    let figures = judge(&folder, &printed_before, &printed_after)
        .unwrap_or_else(|e| panic!("seed {seed}, killed at {kill_ms} ms: {e}"));
    let _ = std::fs::remove_dir_all(&folder);
    figures
}

/// The journal folded by a fresh bench must be what was printed, and every alarm must have been in time.
fn judge(
    folder: &Path,
    before: &[(u64, String)],
    after: &[(u64, String)],
) -> Result<Figures, String> {
    let found = Journal::unfinished(&folder.join("commis")).map_err(|e| e.to_string())?;
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
        let effects = bench.handle(&entry.event, entry.at);
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
        lines(&entry.event, &effects, entry.at, run);
    }
    let mut figures = seen.figures;
    if figures.late_ms > LATE_MS {
        return Err(format!("an alarm was {} ms late", figures.late_ms));
    }
    for t in bench.rack().live(Moment(u64::MAX / 2)) {
        let waits = t.name == "stock" || matches!(t.state, State::Ringing { .. });
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
        if !want
            .iter()
            .map(String::as_str)
            .take(got.len())
            .eq(got.iter().copied())
        {
            return Err(format!("the journal tells {want:#?}, printed was {got:#?}"));
        }
    }
    let zero = journal.header.boot_ms;
    for (name, due) in &seen.due {
        let heard = after.iter().find(|(_, l)| {
            let l = l.to_lowercase();
            l.contains(&format!("{name}: time is up")) || l.contains(&format!("the {name} ended"))
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

/// The lines that an event and its effects print, without their times.
fn lines(event: &Event, effects: &[Effect], at: Moment, out: &mut Vec<String>) {
    let records = Record::of_event(event, at)
        .into_iter()
        .chain(effects.iter().filter_map(|e| Record::of_effect(e, at)));
    for line in records.filter_map(|r| r.line()) {
        out.extend(plain(&line).map(str::to_owned));
    }
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
