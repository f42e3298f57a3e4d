//! Live sessions with sound, killed at any moment and within 50 ms of their start, of the goodbye and of a change of formula: the
//! session that is started after them has the timer, and its alarm is heard through a virtual sound card.
//!
//! `COMMIS_LOUD_KILLS=500 cargo test --test all killed_aloud` kills that often, `COMMIS_LOUD_FROM=500` before it others; figures stand in `benches/FIGURES.md`.

use std::io::Write;
use std::path::Path;
use std::process::{Child, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use super::card::Card;
use super::program::{LOAF, Lines};

const OTHER: &str = "shared/formulas/vegetable-soup.toml";
/// How long the timer runs.
const RUNS: Duration = Duration::from_secs(9);
/// How late the sound of an alarm may be while other sessions are killed beside it.
const LATE: Duration = Duration::from_secs(1);

/// So many sound cards and sessions at once: most of the time they only wait.
const AT_ONCE: u64 = 12;

/// When a session is killed.
#[derive(Debug, Clone, Copy, PartialEq)]
enum When {
    Any,
    Start,
    Goodbye,
    OtherFormula,
}

const ALL: [When; 4] = [When::Any, When::Start, When::Goodbye, When::OtherFormula];

/// A number that depends on the seed alone (SplitMix64, Steele and others 2014).
fn random(seed: u64) -> u64 {
    let z = seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z ^ (z >> 27)
}

fn cook(card: &Card, formula: &str) -> Child {
    card.command(Path::new(env!("CARGO_BIN_EXE_commis")))
        .args(["cook", "--plain", formula])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}

fn kill(mut child: Child) {
    child.kill().expect("killed");
    child.wait().expect("gone");
}

/// How late the alarm was heard; nothing where the goodbye had been taken before the kill.
fn one(card: &Card, seed: u64) -> Option<Duration> {
    let (when, dice) = (ALL[seed as usize % ALL.len()], random(seed));
    let soon = Duration::from_micros(dice % 50_000);
    for file in std::fs::read_dir(card.home.join("commis"))
        .expect("there")
        .flatten()
    {
        if file.path().extension().is_some_and(|e| e == "journal") {
            std::fs::remove_file(file.path()).expect("removed");
        }
    }
    let mut first = cook(card, LOAF);
    let mut lines = Lines::of(&mut first);
    lines.until("begin");
    let due = Instant::now() + RUNS;
    let mut typed = first.stdin.take().expect("piped");
    typed
        .write_all(b"nine second timer called tea\n")
        .expect("it reads");
    lines.until("Tea started");
    match when {
        When::Any => std::thread::sleep(Duration::from_micros(dice % 4_000_000)),
        When::Goodbye => {
            typed.write_all(b"goodbye\nyes\n").expect("it reads");
            std::thread::sleep(soon);
        }
        When::Start | When::OtherFormula => {}
    }
    kill(first);
    if let When::Start | When::OtherFormula = when {
        let second = cook(card, if when == When::Start { LOAF } else { OTHER });
        std::thread::sleep(soon);
        kill(second);
    }
    let mut last = cook(card, LOAF);
    let mut lines = Lines::of(&mut last);
    // A chime may come before the first sentence.
    let said = lines.until(".");
    // The second where it was away for longer than ten seconds, on a machine that is very busy.
    let back = said.contains("I am back") || said.contains("I was away");
    let told = Instant::now();
    assert!(
        back || when == When::Goodbye,
        "seed {seed}, {when:?}: it is lost: {said}"
    );
    let heard = back.then(|| {
        // The chime of the start is over by then; one that came due before it is told of with it.
        let from = due
            .max(told)
            .checked_sub(Duration::from_millis(100))
            .unwrap();
        let heard = card.first_after(from, RUNS + Duration::from_secs(10));
        let heard = heard.unwrap_or_else(|| panic!("seed {seed}, {when:?}: nothing is heard"));
        heard.saturating_duration_since(due.max(told))
    });
    kill(last);
    heard
}

#[test]
fn a_session_with_sound_is_never_lost_nor_silent() {
    let kills: u64 = std::env::var("COMMIS_LOUD_KILLS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(4);
    let from: u64 = std::env::var("COMMIS_LOUD_FROM")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(0);
    let (next, all) = (AtomicU64::new(from), Mutex::new(Vec::new()));
    std::thread::scope(|s| {
        for number in 0..kills.min(AT_ONCE) {
            let (next, all) = (&next, &all);
            s.spawn(move || {
                let card = Card::new(&format!("loud-{number}"));
                // Nobody speaks, so that what sounds is a chime; without a model the starts are quick.
                let settings = "[listening]\nmodel = \"/nowhere\"\n[voice]\nengine = \"none\"\n";
                std::fs::write(card.home.join("commis/settings.toml"), settings).expect("written");
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= from + kills {
                        return;
                    }
                    let late = one(&card, seed);
                    all.lock().expect("no thread panics with it").push(late);
                }
            });
        }
    });
    let all = all.into_inner().expect("done");
    let mut late: Vec<Duration> = all.iter().copied().flatten().collect();
    late.sort();
    println!(
        "{} kills, {} goodbyes taken before; {} alarms heard, late by {:?} in the middle and {:?} at most",
        all.len(),
        all.len() - late.len(),
        late.len(),
        late.get(late.len() / 2),
        late.last()
    );
    assert_eq!(all.len() as u64, kills);
    assert!(late.last().is_some_and(|l| *l <= LATE), "{late:?}");
}
