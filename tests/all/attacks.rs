//! Attacks from outside that are none of the program's own parts: signals, folders, pipes, closed files, other programs.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::live::Kitchen;
use super::program::LOAF;
use super::rehearsal::root;

fn send(id: u32, name: &str) {
    let sent = Command::new("kill")
        .args(["-s", name, &id.to_string()])
        .status();
    assert!(sent.is_ok_and(|s| s.success()));
}

/// Told to stop while it asks whether it is to leave: it has not left.
#[test]
fn a_signal_within_the_question_of_a_goodbye_keeps_the_session() {
    for name in ["HUP", "TERM"] {
        let kitchen = Kitchen::new(&format!("asked-{name}"));
        let mut cook = kitchen.cook();
        cook.types("ten minute timer");
        cook.types("goodbye");
        cook.until("Leave now?");
        let (_, printed) = cook.signalled(name);
        assert!(printed.contains("I am told to stop."), "{printed}");
        let again = kitchen.cook();
        again.until("Timer one: ");
        again.kill();
    }
}

/// Stopped in the middle of everything and woken much later, as by a terminal's job control or a busy hypervisor.
#[test]
fn a_process_that_was_suspended_rings_as_soon_as_it_wakes() {
    let kitchen = Kitchen::new("suspended");
    let mut cook = kitchen.cook();
    cook.types("three second timer called tea");
    cook.types("ten second timer called rice");
    cook.until("Rice started");
    send(cook.id(), "STOP");
    std::thread::sleep(Duration::from_secs(6));
    assert!(!cook.printed().contains("time is up"));
    let woken = Instant::now();
    send(cook.id(), "CONT");
    cook.until("Tea: time is up");
    assert!(woken.elapsed() < Duration::from_secs(2));
    // What was in the making has not failed by that.
    let printed = cook.until("Rice and tea: time is up");
    assert!(!printed.contains("hangs"), "{printed}");
    assert!(!printed.contains("did not answer"), "{printed}");
    cook.kill();
    let again = kitchen.cook();
    again.until("The tea ended");
    again.kill();
}

/// Two sessions of one formula, both killed: one is gone on with, the other is named, and nothing is lost of either.
#[test]
fn two_sessions_of_one_formula_are_both_gone_on_with() {
    let kitchen = Kitchen::new("twins");
    let mut first = kitchen.cook();
    first.types("ninety minute timer called stock");
    first.until("Stock started");
    // The newer one is known by its second.
    std::thread::sleep(Duration::from_millis(1100));
    let mut second = kitchen.cook();
    second.types("eighty minute timer called pudding");
    second.until("Pudding started");
    first.kill();
    second.kill();
    let mut again = kitchen.cook();
    let printed = again.until("Pudding: ");
    assert!(
        printed.contains("There is a seeded tin loaf that is not finished, with a timer running."),
        "{printed}"
    );
    again.types("goodbye");
    again.types("yes");
    again.until("Goodbye.");
    again.kill();
    let other = kitchen.cook();
    other.until("Stock: ");
    other.kill();
}

/// The folder is moved away in the middle and something else stands in its place; later that goes as well.
#[test]
fn a_state_folder_that_becomes_something_else_is_told_and_written_again() {
    let kitchen = Kitchen::new("replaced");
    let mut cook = kitchen.cook();
    cook.types("ten minute timer");
    cook.until("Timer one started");
    let (folder, aside) = (
        kitchen.journals(),
        kitchen.journals().with_extension("aside"),
    );
    std::fs::rename(&folder, &aside).expect("moved");
    std::os::unix::fs::symlink(&folder, &folder).expect("a link to itself");
    cook.types("next");
    cook.until("I can't write this session down.");
    cook.types("twenty minute timer called tea");
    cook.until("Tea started");
    std::fs::remove_file(&folder).expect("removed");
    cook.until("I have written them again.");
    cook.kill();
    let again = kitchen.cook();
    let printed = again.until("Timer one: ");
    assert!(printed.contains("Tea: "), "{printed}");
    again.kill();
}

/// Pipes, folders, devices, links to themselves and empty files where files of ours should be: no start waits for them.
#[test]
fn what_lies_about_in_the_folders_holds_up_no_start() {
    let kitchen = Kitchen::new("litter");
    let folder = kitchen.journals();
    std::fs::create_dir_all(&folder).expect("a folder");
    let pipe = |path: &Path| {
        let made = Command::new("mkfifo").arg(path).status();
        assert!(made.is_ok_and(|s| s.success()));
    };
    pipe(&folder.join("a.journal"));
    pipe(&folder.join("log.jsonl"));
    std::fs::write(folder.join("b.journal"), "").expect("written");
    std::os::unix::fs::symlink("/dev/zero", folder.join("c.journal")).expect("a link");
    std::os::unix::fs::symlink("d.journal", folder.join("d.journal")).expect("a link");
    std::fs::write(folder.join("e\u{1b}[2J.journal"), "no journal\n").expect("written");
    let begun = Instant::now();
    let mut cook = kitchen.cook();
    let printed = cook.until("Say next");
    assert!(begun.elapsed() < Duration::from_secs(20));
    assert!(!printed.contains('\u{1b}'), "{printed:?}");
    cook.types("next");
    cook.until("is not mine, so I leave it alone.");
    cook.until("Step one.");
    cook.kill();
    let left = std::fs::read_dir(&folder).expect("there").count();
    assert_eq!(left, 7, "nothing is removed, and a journal is made");
}

/// A formula, a script and settings that are pipes to which nobody writes are refused in a sentence.
#[test]
fn nobody_waits_for_a_pipe() {
    let kitchen = Kitchen::new("pipes");
    let folder = kitchen.journals().with_extension("pipes");
    std::fs::create_dir_all(folder.join("book")).expect("a folder");
    let pipe = folder.join("book/soup.toml");
    let made = Command::new("mkfifo").arg(&pipe).status();
    assert!(made.is_ok_and(|s| s.success()));
    std::fs::copy(root().join(LOAF), folder.join("book/loaf.toml")).expect("copied");
    let path = pipe.display().to_string();
    let book = folder.join("book").display().to_string();
    let told = |args: &[&str]| {
        let o = super::program::commis(args, "");
        let err = String::from_utf8_lossy(&o.stderr).into_owned();
        (o.status.code(), super::program::out(&o) + &err)
    };
    std::thread::scope(|s| {
        for args in [
            vec!["check", &path],
            vec!["rehearse", LOAF, &path],
            vec!["weigh", LOAF, "--settings", &path],
            vec!["import", &path],
        ] {
            s.spawn(move || {
                let (code, said) = told(&args);
                assert_eq!(code, Some(2), "{args:?}: {said}");
                assert!(said.contains("nothing came within 10 seconds"), "{said}");
            });
        }
        s.spawn(|| {
            let begun = Instant::now();
            let (code, said) = told(&["book", &book]);
            assert_eq!(code, Some(0), "{said}");
            assert!(said.contains("Seeded tin loaf"), "{said}");
            assert!(begun.elapsed() < Duration::from_secs(9));
        });
    });
    std::fs::remove_dir_all(&folder).expect("removed");
}

/// With input, output and errors closed, none of the files that are opened takes their place.
#[test]
fn closed_files_stay_out_of_the_journal() {
    let kitchen = Kitchen::new("nothing-open");
    let inside = kitchen.command();
    let mut shell = Command::new("sh");
    shell
        .args(["-c", "exec \"$0\" \"$@\" <&- >&- 2>&-"])
        .arg(inside.get_program())
        .args(inside.get_args())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    for (name, value) in inside.get_envs() {
        shell.env(name, value.unwrap_or_default());
    }
    shell.current_dir(inside.get_current_dir().expect("its folder"));
    let mut child = shell.spawn().expect("it starts");
    let until_written = |text: &str| {
        let end = Instant::now() + Duration::from_mins(1);
        while !kitchen.written().contains(text) {
            assert!(Instant::now() < end, "{}", kitchen.written());
            std::thread::sleep(Duration::from_millis(50));
        }
    };
    // It has nobody to hear or to read, and ends.
    until_written("\"end\":");
    child.wait().expect("gone");
    for line in kitchen.written().lines() {
        let read = serde_json::from_str::<serde_json::Value>(line);
        assert!(read.is_ok_and(|v| v["crc"].is_string()), "{line}");
    }
}

/// A speech program that leaves something behind which holds its output, that gives noise, silence, a sound of half an hour, or
/// nothing: the chime of an alarm is heard in time, and the cook is told once that another voice speaks.
#[cfg(all(feature = "recogniser", feature = "sound"))]
#[test]
fn a_speech_program_may_give_anything() {
    const WAV: &str = "printf 'RIFF\\377\\377\\377\\377WAVEfmt \\020\\0\\0\\0\\001\\0\\001\\0RATE\\0\\0\\0\\0\\002\\0\\020\\0data\\377\\377\\377\\377'";
    let (usual, two) = ("\\042\\126\\0\\0", "\\002\\0\\0\\0");
    let wav = |rate: &str, then: &str| format!("{}; {then}", WAV.replace("RATE", rate));
    std::thread::scope(|s| {
        for (name, script) in [
            ("leaves", "(sleep 60 &); exit 0".to_owned()),
            ("noise", "head -c 100000 /dev/urandom".to_owned()),
            ("silent", wav(usual, "head -c 60000 /dev/zero")),
            ("endless", wav(usual, "head -c 31000000 /dev/urandom")),
            ("slow", wav(two, "head -c 4000 /dev/urandom")),
            ("nothing", "exit 1".to_owned()),
        ] {
            s.spawn(move || {
                let card = super::card::Card::new(&format!("says-{name}"));
                card.stand_in(
                    "espeak-ng",
                    &format!("case \"$*\" in *-q*) exit 0;; esac; {script}"),
                );
                let settings =
                    "[listening]\nmodel = \"/nowhere\"\n[voice]\nengine = \"espeak-ng\"\n";
                std::fs::write(card.home.join("commis/settings.toml"), settings).expect("written");
                let mut child = card
                    .command(Path::new(env!("CARGO_BIN_EXE_commis")))
                    .args(["cook", "--plain", LOAF])
                    .stdin(Stdio::piped())
                    .stdout(Stdio::piped())
                    .stderr(Stdio::null())
                    .spawn()
                    .expect("the program starts");
                let mut typed = child.stdin.take().expect("piped");
                let mut lines = super::program::Lines::of(&mut child);
                let typed_at = Instant::now();
                std::io::Write::write_all(&mut typed, b"twelve second timer called tea\n")
                    .expect("it reads");
                let said = lines.until("Tea started");
                // What is printed comes a little after it is done.
                let lasts = Duration::from_secs(12);
                let (soonest, due) = (typed_at + lasts, Instant::now() + lasts);
                // The other voice is silent when the alarm comes, so that what sounds is its chime.
                std::thread::sleep(Duration::from_secs(6));
                std::io::Write::write_all(&mut typed, b"stop talking\n").expect("it reads");
                std::thread::sleep(
                    soonest
                        .saturating_duration_since(Instant::now())
                        .saturating_sub(Duration::from_millis(300)),
                );
                let heard = card.first_after(Instant::now(), Duration::from_secs(12));
                let late = heard.unwrap_or_else(|| panic!("{name}: no chime: {said}"));
                assert!(
                    late.saturating_duration_since(due) < Duration::from_secs(1),
                    "{name}"
                );
                // An unoptimised build on a busy machine may be too slow for the other voice as well.
                let told = |said: &str| {
                    said.matches("Another voice speaks in its place.").count()
                        + said.matches("; read the screen.").count()
                };
                let mut said = lines.until("time is up");
                if told(&said) == 0 {
                    said = lines.until("in its place.");
                }
                assert_eq!(told(&said), 1, "{name}: {said}");
                child.kill().expect("killed");
                child.wait().expect("gone");
            });
        }
    });
}

/// Any single bit of a journal that was really written: nothing of it is lost.
#[test]
fn a_flipped_bit_of_a_recorded_journal_costs_nothing() {
    for file in std::fs::read_dir(root().join("tests/journals"))
        .expect("a folder")
        .flatten()
    {
        let path = file.path();
        let bytes = std::fs::read(&path).expect("it reads");
        let whole = commis::journal::contents(&bytes, &path).expect("a journal");
        for bit in (0..bytes.len() * 8).step_by(211) {
            let mut bad = bytes.clone();
            bad[bit / 8] ^= 1 << (bit % 8);
            let got = commis::journal::contents(&bad, &path);
            assert_eq!(got.ok().as_ref(), Some(&whole), "bit {bit} of {path:?}");
        }
    }
}
