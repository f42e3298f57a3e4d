//! A broken output is no death, and whoever asks a session to stop is obeyed with a word.

use std::fs::File;
use std::io::Write;
use std::os::unix::process::ExitStatusExt;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use super::live::Kitchen;

/// A session that prints into `out`, and where its lines are typed.
fn cook(kitchen: &Kitchen, out: Stdio) -> Child {
    let mut command = kitchen.command();
    command
        .stdin(Stdio::piped())
        .stdout(out)
        .stderr(Stdio::null());
    command.spawn().expect("the program starts")
}

fn types(child: &mut Child, line: &str) {
    let input = child.stdin.as_mut().expect("open");
    writeln!(input, "{line}").expect("it still reads");
}

/// Waits until the journal tells of `text`.
fn until_written(kitchen: &Kitchen, text: &str) {
    let end = Instant::now() + Duration::from_mins(3);
    while !kitchen.written().contains(text) {
        assert!(Instant::now() < end, "`{text}` is not written");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn ended(child: &mut Child, patience: Duration) -> std::process::ExitStatus {
    let end = Instant::now() + patience;
    loop {
        if let Some(status) = child.try_wait().expect("a child") {
            return status;
        }
        assert!(Instant::now() < end, "it does not end");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn signal(child: &Child, name: &str) {
    let sent = Command::new("kill")
        .args(["-s", name, &child.id().to_string()])
        .status();
    assert!(sent.is_ok_and(|s| s.success()));
}

/// `cook --plain | head`, a full disk (`/dev/full`), and a reader that has fallen asleep with its pipe full.
#[test]
fn a_session_goes_on_whatever_becomes_of_its_output() {
    let full = || {
        Stdio::from(
            File::options()
                .write(true)
                .open("/dev/full")
                .expect("Linux has it"),
        )
    };
    for (name, out) in [
        ("closed", Stdio::piped()),
        ("full-output", full()),
        ("stalled", Stdio::piped()),
    ] {
        let kitchen = Kitchen::new(name);
        let mut child = cook(&kitchen, out);
        let mut kept = child.stdout.take();
        if name == "closed" {
            kept = None;
        }
        types(&mut child, "ten minute timer");
        if name == "stalled" {
            // A pipe has room for 64 kB (pipe(7)); what is printed of this is more.
            for _ in 0..300 {
                types(
                    &mut child,
                    "what can i say here now and is there anything else that you can tell me of it",
                );
            }
        }
        types(&mut child, "how much salt");
        until_written(&kitchen, "how much salt");
        assert!(
            child.try_wait().expect("a child").is_none(),
            "{name}: it goes on"
        );
        signal(&child, "TERM");
        let status = ended(&mut child, Duration::from_secs(20));
        assert_eq!(
            (status.code(), status.signal()),
            (Some(143), None),
            "{name}"
        );
        drop(kept);
    }
}

/// Told to stop it says so, and the next start goes on from there.
#[test]
fn term_and_hup_keep_the_session_with_a_word() {
    for (name, code) in [("TERM", 143), ("HUP", 129), ("INT", 130)] {
        let kitchen = Kitchen::new(&format!("stopped-{name}"));
        let mut session = kitchen.cook();
        session.types("ten minute timer");
        session.until("Timer one started");
        let (status, printed) = session.signalled(name);
        assert_eq!(status.code(), Some(code), "{name}: {printed}");
        let told = "I am told to stop. Start me again with this formula, and I go on from here. Until then no timer rings.";
        assert!(printed.contains(told), "{name}: {printed}");
        let again = kitchen.cook();
        again.until("Timer one: ");
        again.kill();
    }
}
