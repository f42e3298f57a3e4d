//! A dinner of four dishes by the real program, driven by typed lines to its end: once from end to end, with its transcript
//! kept, and killed without a word at random moments.
//!
//! `COMMIS_KILLS=200 cargo test --test all whole_dinner` kills that often. The formulas are those that come with the program,
//! with a second for every ten minutes of their timers.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use commis::bench::Event;
use commis::journal::{Entry, Journal, Log};

use super::live::{Kitchen, Live};
use super::rehearsal::root;

const DISHES: [&str; 4] = [
    "seeded-tin-loaf",
    "vegetable-soup",
    "roast-chicken",
    "baked-custard",
];
const NAMES: [&str; 4] = ["loaf", "soup", "chicken", "custard"];

/// Nothing new is printed for so long: what was said last is what stands.
const QUIET: Duration = Duration::from_millis(120);
/// No dinner takes longer.
const LONGEST: Duration = Duration::from_mins(8);

/// A formula whose timers run six hundred times as fast.
fn in_a_hurry(name: &str) -> String {
    let path = root()
        .join("shared/formulas")
        .join(name)
        .with_extension("toml");
    let text = std::fs::read_to_string(path).expect("a shipped formula");
    let line = |line: &str| {
        let timed = line.starts_with("lasts = ") || line.starts_with("cue = ");
        if timed {
            hurried(line)
        } else {
            line.to_owned()
        }
    };
    text.lines().map(|l| line(l) + "\n").collect()
}

/// `80-90 min` as `8-9 s`, and `3 h to 24 h` as `18 s to 144 s`; nothing is shorter than a second.
fn hurried(line: &str) -> String {
    let (mut out, mut rest, mut before) = (String::new(), line, 0);
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(rest.len());
        let number: u64 = rest[..end].parse().expect("digits");
        rest = &rest[end..];
        let hours = rest.starts_with(" h");
        let least = if line.starts_with("lasts") { 2 } else { 1 };
        let seconds = number * if hours { 60 } else { 1 } / 10;
        // A range stays one.
        before = seconds.max(least).max(if line.starts_with("lasts") {
            before + 1
        } else {
            0
        });
        out.push_str(&before.to_string());
    }
    out.push_str(rest);
    out.replace(" min\"", " s\"")
        .replace(" h\"", " s\"")
        .replace(" h to", " s to")
}

/// The formulas in the kitchen's folder.
fn laid_out(kitchen: &Kitchen) -> Vec<PathBuf> {
    let file = |name: &&str| kitchen.file(&format!("{name}.toml"), &in_a_hurry(name));
    DISHES.iter().map(file).collect()
}

fn start(kitchen: &Kitchen, files: &[PathBuf]) -> Live {
    let more: Vec<String> = files[..3].iter().map(|f| f.display().to_string()).collect();
    let more: Vec<&str> = more.iter().map(String::as_str).collect();
    kitchen.cook_other(&files[3], &more)
}

/// What was said: without what the machine tells of itself.
fn said(printed: &str) -> Vec<&str> {
    let of_itself = |line: &&str| line.starts_with('(') || *line == "I am listening.";
    let lines = printed.lines().filter(|line| !line.is_empty());
    lines.filter(|line| !of_itself(line)).collect()
}

/// What a cook types who does as told; nothing where there is nothing to do.
fn answer(last: &str) -> Option<&'static str> {
    let asks = last.contains('?');
    if last.contains("Nothing for ") || last.contains("Nothing wants you now") {
        None
    } else if asks {
        Some("yes")
    } else if last.contains("time is up") {
        Some("stop")
    } else if last.contains("tarts the") || last.contains("Say start it") {
        Some("start it")
    } else {
        Some("next")
    }
}

/// A cook at the keyboard of a session.
struct Cook {
    live: Live,
    /// So many things had been said when the last line was typed.
    seen: usize,
    typed: usize,
}

impl Cook {
    fn new(live: Live) -> Self {
        Self {
            live,
            seen: 0,
            typed: 0,
        }
    }

    /// Waits until something new was said and it is quiet, or so long.
    fn settled(&self, most: Duration) -> Vec<String> {
        let end = Instant::now() + most;
        let mut printed = self.live.printed();
        let mut since = Instant::now();
        loop {
            std::thread::sleep(Duration::from_millis(10));
            let now = self.live.printed();
            if now != printed {
                (printed, since) = (now, Instant::now());
            }
            let news = said(&printed).len() > self.seen;
            if (news && since.elapsed() >= QUIET) || Instant::now() >= end {
                return said(&printed).into_iter().map(str::to_owned).collect();
            }
        }
    }

    fn types(&mut self, line: &str) {
        self.seen = said(&self.live.printed()).len();
        self.live.types(line);
        self.typed += 1;
    }

    /// One deed. False where the dinner is over.
    fn goes_on(&mut self) -> bool {
        // A busy machine answers late, and `next` twice is a step too far.
        let told = self.settled(Duration::from_secs(12));
        let Some(last) = told.last() else {
            return true;
        };
        if last.contains("That was the last step. ") {
            return false;
        }
        if told.len() > self.seen
            && let Some(line) = answer(last)
        {
            self.types(line);
        } else if told.len() <= self.seen {
            // Nothing came for a while.
            self.types("next");
        } else {
            self.seen = told.len();
        }
        true
    }
}

/// The order of the steps of a dish, as far as they were said.
fn steps_of(told: &[String], dish: &str) -> Vec<String> {
    let mut here = String::new();
    let mut steps = Vec::new();
    for line in told {
        for name in NAMES {
            if line.starts_with(&format!("The {name}: "))
                || line.contains(&format!(". The {name}: "))
            {
                name.clone_into(&mut here);
            }
        }
        if here == dish
            && let Some(at) = line.find("tep ")
            && let Some((number, _)) = line[at + 4..].split_once('.')
            && steps.last().is_none_or(|last| last != number)
            && number.split(' ').count() == 1
        {
            steps.push(number.to_owned());
        }
    }
    steps
}

/// Every dish in the log to its end, with all that belongs in it.
fn all_is_in_the_log(folder: &Path) {
    let log = Log::read(folder).expect("a log");
    assert_eq!(log.bakes.len(), 4, "{:?}", log.bakes);
    for bake in &log.bakes {
        let a = &bake.account;
        assert!(a.finished, "{}: {a:?}", a.bake);
        assert!(a.skipped.is_empty(), "{}: {:?}", a.bake, a.skipped);
        assert!(!a.went_in.is_empty(), "{}", a.bake);
    }
    assert_eq!(log.bad_lines, 0);
}

#[test]
fn four_dishes_by_typed_lines_in_the_real_program() {
    let kitchen = Kitchen::new("whole-dinner");
    let files = laid_out(&kitchen);
    let mut cook = Cook::new(start(&kitchen, &files));
    cook.live.until("Four dishes:");
    let end = Instant::now() + LONGEST;
    while cook.goes_on() {
        assert!(Instant::now() < end, "no end:\n{}", cook.live.printed());
    }
    cook.types("goodbye");
    cook.settled(Duration::from_secs(4));
    cook.types("yes");
    cook.live.until("Goodbye.");
    let printed = cook.live.printed();
    let told: Vec<String> = said(&printed).into_iter().map(str::to_owned).collect();
    let end = Instant::now() + Duration::from_secs(10);
    while Log::read(&kitchen.journals()).is_ok_and(|log| log.bakes.len() < 4) {
        assert!(Instant::now() < end, "nothing in the log");
        std::thread::sleep(Duration::from_millis(20));
    }
    all_is_in_the_log(&kitchen.journals());
    cook.live.kill();
    let path = root().join("tests/dinners/four-dishes-live.txt");
    if std::env::var_os("COMMIS_WRITE").is_some() {
        std::fs::write(&path, &printed).expect("written");
    }
    let kept = std::fs::read_to_string(&path).expect("a transcript");
    let kept: Vec<String> = said(&kept).into_iter().map(str::to_owned).collect();
    for (dish, count) in NAMES.iter().zip(["nine", "five", "five", "four"]) {
        let (now, then) = (steps_of(&told, dish), steps_of(&kept, dish));
        assert_eq!(
            now.last().map(String::as_str),
            Some(count),
            "{dish}: {now:?}"
        );
        assert_eq!(
            now, then,
            "COMMIS_WRITE=1 cargo test --test all whole_dinner writes {path:?}"
        );
    }
    assert_eq!(told.first(), kept.first());
}

/// A number that depends on the seed alone (SplitMix64, Steele and others 2014).
fn random(seed: &mut u64) -> u64 {
    *seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (*seed ^ (*seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// The orders that the journal has, and everything said in it.
fn in_journal(kitchen: &Kitchen) -> (usize, Vec<Entry>) {
    let bytes = std::fs::read(kitchen.journal()).expect("a journal");
    let (_, entries) = commis::journal::contents(&bytes, &kitchen.journal()).expect("a header");
    let orders = entries
        .iter()
        .filter(|e| matches!(e.event, Event::Heard(_)))
        .count();
    (orders, entries)
}

/// One dinner, killed so often; gives how many kills there were before it ended.
fn killed_dinner(seed: u64, kills: usize) -> usize {
    let mut dice = seed;
    let kitchen = Kitchen::new(&format!("whole-dinner-{seed}"));
    let files = laid_out(&kitchen);
    let mut cook = Cook::new(start(&kitchen, &files));
    cook.live.until("Four dishes:");
    let (mut done, mut orders_before, mut over) = (0, 0, false);
    let end = Instant::now() + LONGEST;
    while done < kills && !over {
        // A few deeds, then a kill at any moment after the next line was typed.
        for _ in 0..random(&mut dice) % 5 {
            over |= !cook.goes_on();
        }
        if over {
            break;
        }
        let told = cook.settled(Duration::from_secs(2));
        cook.types(
            told.last()
                .and_then(|last| answer(last))
                .unwrap_or("what is running"),
        );
        std::thread::sleep(Duration::from_millis(random(&mut dice) % 400));
        let printed = cook.live.kill();
        done += 1;
        // What was answered is in the journal, after what had been there before.
        let lines: String = printed.iter().map(|(_, l)| format!("{l}\n")).collect();
        let typed: Vec<&str> = lines.lines().filter(|l| l.contains('\u{201c}')).collect();
        let (orders, entries) = in_journal(&kitchen);
        assert!(
            orders >= orders_before + typed.len(),
            "seed {seed}: {orders_before} orders and {} more were printed, {orders} are written:\n{lines}",
            typed.len()
        );
        orders_before = orders;
        let found = Journal::unfinished(&kitchen.journals()).expect("a folder");
        assert_eq!(found.len(), 1, "seed {seed}");
        drop(entries);
        cook = Cook::new(start(&kitchen, &files));
        let back = cook.live.until("I am back.");
        assert!(
            !back.contains("damaged") && !back.contains("could not") && !back.contains("stumble"),
            "seed {seed}: {back}"
        );
        assert!(Instant::now() < end, "seed {seed}: no end");
    }
    while !over && cook.goes_on() {
        assert!(
            Instant::now() < end,
            "seed {seed}: no end:\n{}",
            cook.live.printed()
        );
    }
    cook.types("goodbye");
    cook.settled(Duration::from_secs(4));
    cook.types("yes");
    cook.live.until("Goodbye.");
    let end = Instant::now() + Duration::from_secs(20);
    let finished = || {
        let log = Log::read(&kitchen.journals()).unwrap_or_default();
        log.bakes.len() == 4 && log.bakes.iter().all(|b| b.account.finished)
    };
    while !finished() {
        assert!(
            Instant::now() < end,
            "seed {seed}: {:?}",
            Log::read(&kitchen.journals())
        );
        std::thread::sleep(Duration::from_millis(20));
    }
    all_is_in_the_log(&kitchen.journals());
    cook.live.kill();
    done
}

#[test]
fn a_dinner_killed_at_random_moments_comes_to_its_end_with_nothing_lost() {
    let kills: usize = std::env::var("COMMIS_KILLS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(6);
    let (mut done, mut dinners) = (0, 0);
    while done < kills {
        let three = (0..3).map(|n| dinners + n).collect::<Vec<u64>>();
        let each = (kills - done).div_ceil(3).min(12);
        done += std::thread::scope(|s| {
            let all: Vec<_> = three
                .iter()
                .map(|seed| s.spawn(move || killed_dinner(*seed, each)))
                .collect();
            let each = all.into_iter().map(|one| one.join().expect("a dinner"));
            each.sum::<usize>()
        });
        dinners += 3;
    }
    println!("{done} kills in {dinners} dinners of four dishes, each to its end with nothing lost");
}

/// The note of a resumed dinner that names its first dish alone keeps the others.
#[test]
fn a_dinner_is_taken_up_by_its_first_dish_alone() {
    let kitchen = Kitchen::new("whole-dinner-first");
    let files = laid_out(&kitchen);
    let mut cook = start(&kitchen, &files);
    cook.until("Four dishes:");
    cook.types("go to the soup");
    cook.until("Onion");
    cook.kill();
    // The first on the command line is the loaf.
    let mut cook = kitchen.cook_other(&files[0], &[]);
    let back = cook.until("I am back.");
    assert!(!back.contains("could not carry over"), "{back}");
    cook.types("what is running");
    let printed = cook.until("The custard: not begun.");
    assert!(printed.contains("The soup: step one"), "{printed}");
    cook.kill();
}

#[test]
fn formulas_in_a_hurry_are_formulas() {
    for name in DISHES {
        let text = in_a_hurry(name);
        let formula = commis::formula::read(name, &text).unwrap_or_else(|e| panic!("{name}: {e}"));
        let longest = formula.timers().map(|(_, t)| t.lasts.as_seconds()).max();
        assert!(longest.is_some_and(|s| s <= 30), "{name}: {longest:?}");
    }
}
