//! The worst moment: everything that an alarm could wait for fails at once, and it rings in time. What the program weighs
//! while it is pressed as no cook presses it.

use std::io::Write;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use super::card::Card;
use super::program::{LOAF, Lines};

/// A line of a process's status (proc(5)) in MB.
fn megabytes(id: u32, which: &str) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).expect("it runs");
    let line = status.lines().find_map(|l| l.strip_prefix(which));
    let kilobytes = line.and_then(|l| l.split_whitespace().next()?.parse::<u64>().ok());
    kilobytes.expect("a number") / 1024
}

fn cooking(card: &Card, mut command: Command, engine: &str) -> Child {
    command
        .args(["cook", "--plain", LOAF])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    let settings = card.home.join("commis/settings.toml");
    let text = format!("[listening]\nattention = \"open\"\n[voice]\nengine = \"{engine}\"\n");
    std::fs::write(settings, text).expect("written");
    command.spawn().expect("the program starts")
}

/// The journal of the session that runs at this card.
fn journal(card: &Card) -> std::path::PathBuf {
    let files = std::fs::read_dir(card.home.join("commis")).expect("a folder");
    files
        .flatten()
        .map(|f| f.path())
        .find(|p| p.extension().is_some_and(|e| e == "journal"))
        .expect("a journal")
}

/// A disk without room, an output that nobody reads and a microphone that was pulled out.
/// Three alarms are timed by the sound of the card; the machine that runs the tests may be busy at one of them.
#[test]
fn alarms_ring_in_time_while_everything_else_fails() {
    let card = Card::new("worst");
    // The signal of a file that grows too long would end the program before it could be told of the full disk.
    let mut shell = card.command(Path::new("sh"));
    shell
        .args(["-c", "trap '' XFSZ; exec \"$0\" \"$@\""])
        .arg(env!("CARGO_BIN_EXE_commis"));
    // Nobody speaks, so that what sounds is a chime.
    let mut child = cooking(&card, shell, "none");
    let mut typed = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    lines.until("listening through");
    drop(lines);
    let size = std::fs::metadata(journal(&card)).expect("there").len();
    let full = Command::new("prlimit")
        .args(["--pid", &child.id().to_string(), &format!("--fsize={size}")])
        .status();
    assert!(
        full.is_ok_and(|s| s.success()),
        "prlimit comes with util-linux"
    );
    card.lose_microphone();
    std::thread::sleep(Duration::from_secs(3));
    let mut late: Vec<Duration> = (0..3)
        .map(|_| {
            let due = Instant::now() + Duration::from_secs(6);
            typed.write_all(b"six second timer\n").expect("it reads");
            // The chimes of questions and news are over by then.
            std::thread::sleep(Duration::from_secs(4));
            let rung = card.first_after(Instant::now(), Duration::from_secs(20));
            let rung = rung.expect("the alarm rings");
            assert!(rung + Duration::from_millis(100) > due, "it rings too soon");
            typed.write_all(b"stop\n").expect("it reads");
            std::thread::sleep(Duration::from_secs(2));
            rung.saturating_duration_since(due)
        })
        .collect();
    assert!(child.try_wait().expect("a child").is_none(), "it goes on");
    child.kill().expect("killed");
    child.wait().expect("gone");
    late.sort();
    println!("late by {late:?}");
    assert!(late[1] <= Duration::from_millis(300), "{late:?}");
}

/// A session whose speech program says nothing loud, and hangs as soon as a timer is typed: how late the alarm rang, and
/// how long after it somebody spoke.
#[cfg(feature = "natural-voice")]
fn alarm_while_the_voice_hangs() -> (Duration, Option<Duration>) {
    let card = Card::new("hangs");
    let (hangs, soft) = (card.home.join("hangs"), card.home.join("soft.wav"));
    commis::hear::wav::write(&soft, &[0, 1].repeat(1_000), 22_050).expect("written");
    card.stand_in(
        "espeak-ng",
        &format!(
            "[ -e {} ] && exec sleep 600\nexec cat {}",
            hangs.display(),
            soft.display()
        ),
    );
    let program = card.command(Path::new(env!("CARGO_BIN_EXE_commis")));
    let mut child = cooking(&card, program, "espeak-ng");
    let mut typed = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    lines.until("listening through");
    std::thread::sleep(Duration::from_secs(1));
    let lasts = Duration::from_secs(9);
    let typed_at = Instant::now();
    typed.write_all(b"nine second timer\n").expect("it reads");
    lines.until("started: nine seconds");
    // A busy machine takes it up later than it was typed, and prints it later still.
    let due = Instant::now() + lasts;
    // The chime of the start is over, on a busy machine too, when the program hangs: what it should say is waited for,
    // for five seconds, and the alarm falls into them.
    std::thread::sleep(
        (typed_at + Duration::from_secs(7)).saturating_duration_since(Instant::now()),
    );
    std::fs::write(hangs, "").expect("written");
    let from = Instant::now();
    typed.write_all(b"how long is left\n").expect("it reads");
    let rung = card.first_after(from, Duration::from_secs(20));
    let rung = rung.expect("the alarm rings");
    // It rings again after 20 s: what is heard before that is speech.
    let spoken = card.first_after(rung + Duration::from_millis(2_500), Duration::from_secs(15));
    child.kill().expect("killed");
    child.wait().expect("gone");
    let early = (typed_at + lasts).saturating_duration_since(rung);
    assert!(
        early < Duration::from_millis(50),
        "something sounds {early:?} before the alarm"
    );
    let late = rung.saturating_duration_since(due);
    (late, spoken.map(|at| at.saturating_duration_since(rung)))
}

/// A speech program that hangs holds up no alarm; it is given up, and the voice that comes with the program speaks in its
/// place, aloud. The machine that runs the tests may be busy once or twice.
#[cfg(feature = "natural-voice")]
#[test]
fn where_a_speech_program_hangs_alarms_ring_and_the_natural_voice_speaks() {
    let heard: Vec<_> = (0..3).map(|_| alarm_while_the_voice_hangs()).collect();
    println!("late, and spoken after: {heard:?}");
    let mut late: Vec<_> = heard.iter().map(|(late, _)| *late).collect();
    late.sort();
    assert!(late[1] < Duration::from_millis(300), "{heard:?}");
    assert!(
        heard.iter().all(|(_, spoken)| spoken.is_some()),
        "nobody speaks: {heard:?}"
    );
}

/// Lines with a slip in them, each after a timer of another name, so that nothing is known of the words beforehand.
#[test]
fn alarms_ring_in_time_while_lines_are_typed_that_must_be_mended() {
    let card = Card::new("mended");
    let mut child = cooking(
        &card,
        card.command(Path::new(env!("CARGO_BIN_EXE_commis"))),
        "none",
    );
    let typed = std::sync::Mutex::new(child.stdin.take().expect("piped"));
    let types = |line: &str| {
        let mut typed = typed.lock().expect("no thread panics with it");
        writeln!(typed, "{line}").expect("it reads");
    };
    let mut lines = Lines::of(&mut child);
    lines.until("listening through");
    std::thread::spawn(move || lines.until("the end never comes"));
    let mut late: Vec<Duration> = std::thread::scope(|s| {
        s.spawn(|| {
            // Every timer changes what can be said.
            for name in [
                "oven", "rice", "soup", "pasta", "meat", "fish", "sauce", "cake",
            ]
            .iter()
            .cycle()
            {
                let timer = format!("two hour timer called {name}");
                let slips = ["have i aded the flour", "how mcuh salt is there"];
                for line in slips.repeat(20).into_iter().chain([timer.as_str()]) {
                    let written = writeln!(typed.lock().expect("no panic"), "{line}");
                    std::thread::sleep(Duration::from_millis(100));
                    if written.is_err() {
                        return;
                    }
                }
            }
        });
        let late = (0..3).map(|_| {
            let due = Instant::now() + Duration::from_secs(6);
            types("six second timer");
            std::thread::sleep(Duration::from_secs(4));
            let rung = card.first_after(Instant::now(), Duration::from_secs(20));
            types("stop");
            std::thread::sleep(Duration::from_secs(2));
            (due, rung)
        });
        let late: Vec<_> = late.collect();
        // That is the end for whoever types.
        child.kill().expect("killed");
        child.wait().expect("gone");
        let late = late.into_iter().map(|(due, rung)| {
            let rung = rung.expect("the alarm rings");
            assert!(rung + Duration::from_millis(100) > due, "it rings too soon");
            rung.saturating_duration_since(due)
        });
        late.collect()
    });
    late.sort();
    println!("late by {late:?}");
    assert!(late[1] <= Duration::from_millis(300), "{late:?}");
}

/// The sound server dies and is started again: it is told, the microphone is taken up, and an order is heard through it.
#[test]
fn a_sound_server_that_comes_back_is_listened_to() {
    let mut card = Card::new("back");
    let mut child = cooking(
        &card,
        card.command(Path::new(env!("CARGO_BIN_EXE_commis"))),
        "natural",
    );
    let typed = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    lines.until("listening through");
    card.stop();
    lines.until("Microphone: ");
    card.start_again();
    lines.until("microphone is back");
    let heard = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|s| {
        s.spawn(|| {
            // While it still speaks it obeys 'stop' alone.
            for _ in 0..20 {
                card.says("next");
                std::thread::sleep(Duration::from_secs(3));
                if heard.load(std::sync::atomic::Ordering::Relaxed) {
                    return;
                }
            }
        });
        lines.until("Step one.");
        heard.store(true, std::sync::atomic::Ordering::Relaxed);
    });
    child.kill().expect("killed");
    child.wait().expect("gone");
    drop(typed);
}

/// A microphone that is there and gives only zeros is told, looked for, and taken up again: nothing that is typed or rings
/// waits for it, and what is asked meanwhile is answered honestly.
#[test]
fn a_microphone_that_is_switched_off_is_told_and_taken_up_again() {
    let mut card = Card::new("zeros");
    let program = card.command(Path::new(env!("CARGO_BIN_EXE_commis")));
    let mut child = cooking(&card, program, "none");
    let mut typed = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    lines.until("listening through");
    // A room was heard for a while.
    std::thread::sleep(Duration::from_secs(7));
    card.switch_off();
    lines.until("Microphone: it gives nothing but silence");
    typed.write_all(b"what is wrong\n").expect("it reads");
    lines.until("I cannot hear you.");
    card.switch_on();
    lines.until("microphone is back");
    typed.write_all(b"what is wrong\n").expect("it reads");
    let said = lines.until("I am listening.");
    assert_eq!(said.matches("nothing but silence").count(), 2, "{said}");
    let heard = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|s| {
        s.spawn(|| {
            for _ in 0..20 {
                card.says("next");
                std::thread::sleep(Duration::from_secs(3));
                if heard.load(std::sync::atomic::Ordering::Relaxed) {
                    return;
                }
            }
        });
        lines.until("Step one.");
        heard.store(true, std::sync::atomic::Ordering::Relaxed);
    });
    child.kill().expect("killed");
    child.wait().expect("gone");
}

/// Numbers that look like chance, the same in every run.
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: usize) -> usize {
        // The constants of Knuth's MMIX (Knuth, 'The Art of Computer Programming', 3.3.4).
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % n
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }

    /// A line as it is typed: an order, a key, a doubt, a timer with a name that no table has.
    fn line(&mut self) -> String {
        let n = self.below(90) + 1;
        let name = self.one(&[
            "amaranth",
            "buckwheat",
            "cardamom",
            "damson",
            "elderflower",
            "fenugreek",
        ]);
        let pair = self.one(&["seven or six", "fifteen or fifty", "ten or two"]);
        let key = self.one(&[
            "0",
            "1",
            "2",
            "3",
            "4",
            "5",
            "6",
            "7",
            "8",
            "9",
            "enter",
            "plus",
            "minus",
            "times",
            "divide",
            "dot",
            "backspace",
        ]);
        let order = self.one(&[
            "next",
            "back",
            "how much salt",
            "where am i",
            "stop",
            "yes",
            "no",
            "neither",
            "it's in",
            "what can i say",
            "start it",
            "how long is left",
            "stop all timers",
            "make it twice",
            "quiet",
            "louder",
            "spell that",
            "when is it ready",
        ]);
        match self.below(10) {
            0..4 => format!("key {key}"),
            4 => format!("{n} minute timer called {name} {}", self.below(30)),
            5 => format!("{n} minute timer"),
            6 => format!("set a timer for {pair} minutes"),
            7 => format!("stop the {name} {} timer", self.below(30)),
            _ => order.to_owned(),
        }
    }
}

/// Orders, keys, doubts and timers by chance, typed forty times a second, and recorded orders into the microphone: one model
/// in use and one in the making, and no folder left behind by a session that is killed. `COMMIS_PRESS_MINUTES` presses on.
#[test]
fn at_most_250_megabytes_whatever_is_pressed() {
    let minutes: u64 = std::env::var("COMMIS_PRESS_MINUTES")
        .ok()
        .and_then(|m| m.parse().ok())
        .unwrap_or(0);
    let card = Card::new("weight");
    let start = || {
        let mut child = cooking(
            &card,
            card.command(Path::new(env!("CARGO_BIN_EXE_commis"))),
            "natural",
        );
        let mut lines = Lines::of(&mut child);
        lines.until("listening through");
        let typed = child.stdin.take().expect("piped");
        (child, typed, lines)
    };
    let (mut child, mut typed, mut _lines) = start();
    let (mut chance, begun, mut count) = (Chance(1), Instant::now(), 0);
    let long = Duration::from_secs(25).max(Duration::from_secs(60 * minutes));
    let (mut seen, mut next, mut says) = (Vec::new(), Duration::ZERO, Duration::ZERO);
    while begun.elapsed() < long {
        let line = chance.line() + "\n";
        if typed.write_all(line.as_bytes()).is_err() {
            // Keys by chance come to 'leave', and 'yes'.
            assert!(child.wait().expect("gone").success());
            (child, typed, _lines) = start();
        }
        count += 1;
        std::thread::sleep(Duration::from_millis(25));
        if begun.elapsed() >= next {
            next += Duration::from_secs(5).max(long / 60);
            let now = megabytes(child.id(), "VmRSS:");
            println!("{} s, {count} lines: {now} MB", begun.elapsed().as_secs());
            seen.push(now);
            assert!(now <= 250, "{seen:?} MB resident after {count} lines");
        }
        if begun.elapsed() >= says {
            says += Duration::from_secs(5);
            card.says(chance.one(&[
                "next",
                "how_much_salt",
                "ten_minute_timer",
                "stop",
                "talk",
                "yes",
            ]));
        }
    }
    let most = megabytes(child.id(), "VmHWM:");
    println!(
        "{count} lines in {:?}: {seen:?} MB, {most} at the highest",
        begun.elapsed()
    );
    assert!(most <= 250, "{most} MB at the highest");
    // What rises for ever rises from the second third to the last, of a run that is long enough.
    if minutes >= 5 {
        let third = seen.len() / 3;
        let highest = |of: &[u64]| of.iter().max().copied().unwrap_or(0);
        let (second, last) = (
            highest(&seen[third..2 * third]),
            highest(&seen[2 * third..]),
        );
        assert!(last <= second + 8, "{second} MB, then {last}: {seen:?}");
    }
    child.kill().expect("killed");
    child.wait().expect("gone");
    // What the killed session may have left is gone when the next one listens.
    let mut next = cooking(
        &card,
        card.command(Path::new(env!("CARGO_BIN_EXE_commis"))),
        "natural",
    );
    Lines::of(&mut next).until("listening through");
    let left: Vec<_> = std::fs::read_dir(card.home.join("tmp"))
        .expect("a folder")
        .flatten()
        .map(|f| f.file_name())
        .filter(|n| n.to_string_lossy().starts_with("commis-model"))
        .collect();
    next.kill().expect("killed");
    next.wait().expect("gone");
    assert!(left.is_empty(), "{left:?}");
}
