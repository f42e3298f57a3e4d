//! A whole session with a keypad: real bytes of `struct input_event` through a FIFO into `commis cook`, and the lesson
//! for an odd keypad.

use std::fs::{File, OpenOptions};
use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, Stdio};
use std::time::{Duration, Instant};

use super::keys::bytes;
use super::program::{LOAF, Lines};
use super::settings::Folder;

// linux/input-event-codes.h
const NUM_LOCK: u16 = 69;
const KP_ENTER: u16 = 96;
const KP_1: u16 = 79;
const KP_2: u16 = 80;
const KP_PLUS: u16 = 78;
const KP_ASTERISK: u16 = 55;
const SCROLL_LOCK: u16 = 70;

struct Keypad {
    path: PathBuf,
    file: Option<File>,
    at_us: u64,
}

impl Keypad {
    /// A FIFO in the folder, named in the settings.
    fn new(folder: &Folder) -> Self {
        let path = folder.0.join("keypad");
        let made = std::process::Command::new("mkfifo").arg(&path).status();
        assert!(made.is_ok_and(|s| s.success()), "mkfifo");
        folder.write(&format!("[keypad]\nid = \"{}\"\n", path.display()));
        Self {
            path,
            file: None,
            at_us: 0,
        }
    }

    fn plug_in(&mut self) {
        self.file = Some(
            OpenOptions::new()
                .write(true)
                .open(&self.path)
                .expect("it is read"),
        );
    }

    fn unplug(&mut self) {
        self.file = None;
    }

    fn send(&mut self, bytes: &[u8]) {
        self.file
            .as_mut()
            .expect("plugged in")
            .write_all(bytes)
            .expect("written");
    }

    fn tap(&mut self, code: u16) {
        for value in [1, 0] {
            self.at_us += 40_000;
            self.send(&bytes(code, value, self.at_us));
        }
    }
}

/// Every key that the session took, as its journal has them.
fn pressed(folder: &Folder) -> String {
    let files = std::fs::read_dir(folder.0.join("state/commis"));
    let files = files.into_iter().flatten().flatten();
    let journals = files.filter(|f| f.path().extension().is_some_and(|e| e == "journal"));
    let texts = journals.filter_map(|f| std::fs::read_to_string(f.path()).ok());
    let text: String = texts.collect();
    let keys = text.lines().filter(|l| l.contains(r#""event":"key"#));
    keys.map(|l| format!("{l}\n")).collect()
}

fn until_pressed(folder: &Folder, key: &str, times: usize) -> String {
    let start = Instant::now();
    loop {
        let pressed = pressed(folder);
        if pressed.matches(key).count() >= times {
            return pressed;
        }
        assert!(start.elapsed() < Duration::from_mins(1), "{key}: {pressed}");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn start(folder: &Folder, args: &[&str]) -> (Child, ChildStdin, Lines) {
    let mut child = folder
        .command(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let pipe = child.stdin.take().expect("piped");
    let lines = Lines::of(&mut child);
    (child, pipe, lines)
}

#[test]
fn a_session_by_keypad_with_a_storm_and_an_unplugging() {
    let folder = Folder::new("keypad-live");
    let mut keypad = Keypad::new(&folder);
    let (mut child, pipe, mut lines) = start(&folder, &["cook", "--plain", LOAF]);
    keypad.plug_in();
    keypad.tap(KP_ENTER);
    lines.until("Step one.");
    // NumLock pressed by the keypad itself around a digit; twelve minutes, in torn pieces.
    keypad.tap(NUM_LOCK);
    let mut torn = Vec::new();
    for code in [KP_1, KP_2, KP_ASTERISK] {
        torn.extend(bytes(code, 1, keypad.at_us));
        torn.extend(bytes(code, 0, keypad.at_us + 50_000));
        keypad.at_us += 100_000;
    }
    for piece in torn.chunks(5) {
        keypad.send(piece);
    }
    lines.until("Timer one started: twelve minutes");
    let first = pressed(&folder);
    assert!(!first.contains("backspace"), "{first}");
    // A thousand events a second from a broken keypad: it goes on, and the next key is answered at once.
    let begun = Instant::now();
    for i in 0..1_000_u64 {
        let code = if i % 4 < 2 { KP_1 } else { KP_2 };
        keypad.at_us += 1_000;
        let at = keypad.at_us;
        keypad.send(&bytes(code, i32::from(i % 2 == 0), at));
        std::thread::sleep(Duration::from_millis(i + 1).saturating_sub(begun.elapsed()));
    }
    let asked = Instant::now();
    keypad.at_us += 1_000_000;
    keypad.tap(KP_PLUS);
    let said = until_pressed(&folder, r#""plus""#, 1);
    assert!(
        asked.elapsed() < Duration::from_secs(2),
        "{:?}",
        asked.elapsed()
    );
    let digits = said.matches(r#"{"digit":1}"#).count() + said.matches(r#"{"digit":2}"#).count();
    assert_eq!(digits, 502, "none is lost and none is counted twice");
    // The cable goes in the middle of an event, with a key down.
    keypad.send(&bytes(KP_ENTER, 1, keypad.at_us));
    keypad.send(&bytes(KP_ENTER, 0, keypad.at_us)[..9]);
    keypad.unplug();
    lines.until("The keypad is gone; I take it up when it is back.");
    let plugged = Instant::now();
    keypad.plug_in();
    lines.until("The keypad is back");
    assert!(
        plugged.elapsed() < Duration::from_secs(1),
        "{:?}",
        plugged.elapsed()
    );
    keypad.at_us += 1_000_000;
    // A key that sticks tells what it does, and does nothing.
    keypad.send(&bytes(KP_ENTER, 1, keypad.at_us));
    lines.until("Enter: ");
    keypad.send(&bytes(KP_ENTER, 0, keypad.at_us + 3_000_000));
    keypad.at_us += 4_000_000;
    keypad.tap(KP_PLUS);
    let keys = until_pressed(&folder, r#""plus""#, 2);
    assert_eq!(
        keys.matches(r#""event":"key","key":"enter""#).count(),
        1,
        "{keys}"
    );
    let said = lines.so_far();
    assert_eq!(said.matches("The keypad is gone").count(), 1, "{said}");
    child.kill().expect("killed");
    child.wait().expect("gone");
    drop(pipe);
}

/// The lesson names each key, tells one that is pressed twice, and keeps what is odd in the settings.
#[test]
fn an_odd_keypad_is_learnt_through_the_program() {
    let folder = Folder::new("keypad-lesson");
    let mut keypad = Keypad::new(&folder);
    let (mut child, pipe, mut lines) = start(&folder, &["keys", "--learn"]);
    keypad.plug_in();
    lines.until("Press the key that should be Enter.");
    keypad.tap(KP_ENTER);
    lines.until("Enter. Press plus. If there is no such key, press Enter.");
    keypad.tap(SCROLL_LOCK);
    lines.until("Plus. Press minus.");
    keypad.tap(SCROLL_LOCK);
    lines.until("That is plus already. Press minus.");
    // Minus and star are not there; then the usual codes, with a NumLock around the digits.
    keypad.tap(KP_ENTER);
    lines.until("No minus. Press star.");
    keypad.tap(KP_ENTER);
    lines.until("No star. Press slash.");
    for (code, next) in [
        (98, "Press dot."),
        (83, "Press backspace."),
        (14, "Press 0."),
        (82, "Press 1."),
        (79, "Press 2."),
        (80, "Press 3."),
        (81, "Press 4."),
        (75, "Press 5."),
        (76, "Press 6."),
        (77, "Press 7."),
        (71, "Press 8."),
        (72, "Press 9."),
        (73, "That was the last. One key is odd, and I know it now."),
    ] {
        let mut echo = bytes(NUM_LOCK, 1, 0);
        echo.extend(bytes(NUM_LOCK, 0, 0));
        echo.extend(bytes(code, 1, 0));
        echo.extend(bytes(code, 0, 0));
        keypad.send(&echo);
        lines.until(next);
    }
    assert!(child.wait().expect("it ends").success());
    let mut kept = String::new();
    File::open(folder.file())
        .expect("there")
        .read_to_string(&mut kept)
        .expect("read");
    assert!(
        kept.contains("70 = \"plus\"") && !kept.contains("96 ="),
        "{kept}"
    );
    drop(pipe);
}
