//! An alarm that cannot be heard: the terminal's bell rings and its row flashes.

use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};

use super::card::Card;
use super::live::{Kitchen, tells};
use super::program::LOAF;
use super::terminal::Terminal;

/// No more often than this does anything flash (WCAG 2.2, success criterion 2.3.1).
const MOST_FLASHES_A_SECOND: usize = 3;

/// A session in a terminal, all that it writes kept in a file (script(1), util-linux).
fn recorded(kitchen: &Kitchen, to: &Path) -> std::process::Command {
    let inside = kitchen.command();
    let words = std::iter::once(inside.get_program()).chain(inside.get_args());
    let line: Vec<String> = words
        .map(|w| format!("'{}'", w.to_string_lossy()))
        .collect();
    let mut script = std::process::Command::new("script");
    script.args(["-q", "-f", "-c", &line.join(" ")]).arg(to);
    for (name, value) in inside.get_envs() {
        script.env(name, value.unwrap_or_default());
    }
    script
        .current_dir(inside.get_current_dir().expect("its folder"))
        .env("ALSA_CONFIG_PATH", "/dev/null")
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    script
}

fn text_of(file: &Path) -> String {
    String::from_utf8_lossy(&std::fs::read(file).unwrap_or_default()).into_owned()
}

fn wait_for(file: &Path, text: &str) -> String {
    let begun = Instant::now();
    loop {
        let shown = text_of(file);
        if tells(&shown, text) {
            return shown;
        }
        assert!(
            begun.elapsed() < Duration::from_mins(1),
            "no {text:?} in {shown}"
        );
        std::thread::sleep(Duration::from_millis(20));
    }
}

/// Without a loudspeaker the bell rings when the alarm does, again while nobody answers, and no more once it is answered.
#[test]
fn without_a_loudspeaker_the_bell_rings() {
    let kitchen = Kitchen::new("bell");
    let file = kitchen.file("shown", "");
    let mut child = recorded(&kitchen, &file).spawn().expect("script starts");
    let mut typed = child.stdin.take().expect("piped");
    wait_for(&file, "read the screen");
    typed.write_all(b"two second timer\n").expect("it reads");
    let before = wait_for(&file, "Timer one started");
    assert!(!before.contains('\u{7}'), "{before:?}");
    wait_for(&file, "\u{7}");
    wait_for(&file, "time is up");
    let begun = Instant::now();
    while text_of(&file).matches('\u{7}').count() < 2 {
        assert!(begun.elapsed() < Duration::from_mins(1), "it rings once");
        std::thread::sleep(Duration::from_millis(20));
    }
    typed.write_all(b"stop\n").expect("it reads");
    std::thread::sleep(Duration::from_secs(1));
    let stopped = text_of(&file).matches('\u{7}').count();
    std::thread::sleep(Duration::from_secs(12));
    assert_eq!(text_of(&file).matches('\u{7}').count(), stopped);
    child.kill().expect("killed");
    child.wait().expect("gone");
}

/// The row of the alarm is light and dark in turn, not too fast, and nothing flashes when it is answered.
#[test]
fn without_a_loudspeaker_the_alarm_flashes() {
    let program = env!("CARGO_BIN_EXE_commis");
    // Killed as soon as it has written the timer down.
    let timer = "{ echo six second timer called soup; sleep 60; }";
    let written = "grep -qs 'called soup' \"$XDG_STATE_HOME\"/commis/*.journal";
    let dies = format!(
        "{timer} | '{program}' cook --plain {LOAF} & until {written}; do sleep 0.1; done; kill -KILL $!; while kill -0 $! 2>/dev/null; do sleep 0.1; done"
    );
    let terminal = Terminal::run("flash", &format!("{dies}; '{program}' cook {LOAF}"));
    terminal.until(&["soup, RINGING"]);
    let row = || {
        let shown = terminal.tmux(&["capture-pane", "-p", "-e"]);
        let row = shown.lines().find(|l| l.contains("soup, RINGING"));
        row.map(str::to_owned)
    };
    let flashes = |seconds: u64| {
        let (begun, mut seen) = (Instant::now(), Vec::new());
        while begun.elapsed() < Duration::from_secs(seconds) {
            seen.extend(row());
            std::thread::sleep(Duration::from_millis(20));
        }
        seen.windows(2).filter(|two| two[0] != two[1]).count()
    };
    let begun = Instant::now();
    while flashes(1) == 0 {
        assert!(begun.elapsed() < Duration::from_secs(40), "{:?}", row());
    }
    let changes = flashes(6);
    println!("{changes} changes in 6 seconds");
    assert!(changes >= 4, "{changes} changes in 6 seconds: {:?}", row());
    assert!(changes <= 6 * 2 * MOST_FLASHES_A_SECOND);
    terminal.tmux(&["send-keys", "Enter"]);
    std::thread::sleep(Duration::from_secs(2));
    assert_eq!(flashes(3), 0, "{:?}", row());
}

/// A session in plain lines in a terminal, with all that it writes in a file.
fn in_a_terminal(card: &Card) -> (std::process::Child, std::path::PathBuf) {
    let shown = card.home.join("shown");
    let line = format!("'{}' cook --plain {LOAF}", env!("CARGO_BIN_EXE_commis"));
    let child = card
        .command(Path::new("script"))
        .args(["-q", "-f", "-c", &line])
        .arg(&shown)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("script starts");
    (child, shown)
}

/// The sound server dies while nothing sounds: the next alarm finds out, and has its bell at once.
#[test]
fn a_loudspeaker_that_went_meanwhile_is_no_silent_alarm() {
    let mut card = Card::new("unheard");
    let (mut child, shown) = in_a_terminal(&card);
    let mut typed = child.stdin.take().expect("piped");
    wait_for(&shown, "listening through");
    typed
        .write_all(b"fifteen second timer\nquiet\n")
        .expect("it reads");
    wait_for(&shown, "Timer one started");
    std::thread::sleep(Duration::from_secs(4));
    card.stop();
    let rung = wait_for(&shown, "time is up");
    let begun = Instant::now();
    while !text_of(&shown).contains('\u{7}') {
        assert!(
            begun.elapsed() < Duration::from_secs(2),
            "no bell within two seconds of {rung}"
        );
        std::thread::sleep(Duration::from_millis(20));
    }
    child.kill().expect("killed");
    child.wait().expect("gone");
}

/// The sound server hangs, while something sounds or while nothing does: that takes no sound and tells nobody, so the bell
/// rings; and when it goes on, alarms are heard again.
#[test]
fn a_sound_server_that_hangs_is_no_silent_alarm() {
    for name in ["hangs", "hangs-in-speech"] {
        let card = Card::new(name);
        let (mut child, shown) = in_a_terminal(&card);
        let mut typed = child.stdin.take().expect("piped");
        wait_for(&shown, "listening through");
        typed
            .write_all(b"eight second timer called tea\n")
            .expect("it reads");
        wait_for(&shown, "Tea started");
        if name == "hangs" {
            typed.write_all(b"quiet\n").expect("it reads");
            std::thread::sleep(Duration::from_secs(4));
        } else {
            std::thread::sleep(Duration::from_secs(6));
            typed
                .write_all(b"read the ingredients\n")
                .expect("it reads");
            std::thread::sleep(Duration::from_secs(1));
        }
        card.hang();
        let rung = wait_for(&shown, "time is up");
        let begun = Instant::now();
        while !text_of(&shown).contains('\u{7}') {
            let late = begun.elapsed();
            assert!(late < Duration::from_secs(3), "no bell in {late:?}: {rung}");
            std::thread::sleep(Duration::from_millis(20));
        }
        typed.write_all(b"stop\n").expect("it reads");
        // What is asked after it is answered after it.
        typed.write_all(b"how many steps\n").expect("it reads");
        wait_for(&shown, "Nine more steps.");
        card.go_on();
        // Whatever it still had is played by now.
        typed
            .write_all(b"twelve second timer called rice\nquiet\n")
            .expect("it reads");
        wait_for(&shown, "Rice started");
        std::thread::sleep(Duration::from_secs(10));
        let from = Instant::now();
        wait_for(&shown, "Rice: time is up");
        let heard = card.first_after(from, Duration::from_secs(10));
        assert!(heard.is_some(), "{name}: {}", text_of(&shown));
        child.kill().expect("killed");
        child.wait().expect("gone");
    }
}

/// A session that is begun while the sound server hangs begins all the same, tells what is missing, and takes it up later.
#[test]
fn a_sound_server_that_hangs_at_the_start_holds_up_nothing() {
    let card = Card::new("hung");
    card.hang();
    let begun = Instant::now();
    let (mut child, shown) = in_a_terminal(&card);
    let mut typed = child.stdin.take().expect("piped");
    typed
        .write_all(b"three second timer called tea\n")
        .expect("it reads");
    wait_for(&shown, "Tea started");
    assert!(
        begun.elapsed() < Duration::from_secs(15),
        "{:?}",
        begun.elapsed()
    );
    wait_for(&shown, "Loudspeaker: the sound server does not answer");
    wait_for(&shown, "Microphone: the sound server does not answer");
    wait_for(&shown, "time is up");
    wait_for(&shown, "\u{7}");
    card.go_on();
    wait_for(&shown, "microphone is back");
    wait_for(&shown, "loudspeaker is back");
    let from = Instant::now();
    assert!(card.first_after(from, Duration::from_secs(30)).is_some());
    child.kill().expect("killed");
    child.wait().expect("gone");
}
