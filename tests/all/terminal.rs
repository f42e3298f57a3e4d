//! The live session in a real terminal (tmux): pictures, and the terminal given back as it was, however the session ends.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// A terminal of our own, killed when the test ends.
pub struct Terminal {
    socket: String,
    pub home: PathBuf,
}

impl Terminal {
    pub fn run(name: &str, command: &str) -> Self {
        let socket = format!("commis-{name}-{}", std::process::id());
        let home = std::env::temp_dir().join(&socket);
        let _ = std::fs::remove_dir_all(&home);
        std::fs::create_dir_all(&home).expect("a home of its own");
        let it = Self { socket, home };
        let line = format!(
            "cd '{}'; export HOME='{home}' XDG_STATE_HOME='{home}/state' XDG_CONFIG_HOME='{home}/config' \
             ALSA_CONFIG_PATH=/dev/null NO_COLOR=; {command}; echo left with $?; stty -a; sleep 60",
            env!("CARGO_MANIFEST_DIR"),
            home = it.home.display(),
        );
        it.tmux(&[
            "new-session",
            "-d",
            "-x",
            "80",
            "-y",
            "24",
            "sh",
            "-c",
            &line,
        ]);
        it
    }

    pub fn tmux(&self, args: &[&str]) -> String {
        let out = Command::new("tmux")
            .args(["-f", "/dev/null", "-L", &self.socket])
            .args(args)
            .output()
            .expect("tmux is installed by ./setup");
        assert!(
            out.status.success(),
            "tmux {args:?}: {}",
            String::from_utf8_lossy(&out.stderr)
        );
        String::from_utf8_lossy(&out.stdout).into_owned()
    }

    /// The process of the session: the child of the shell in the pane.
    fn session(&self) -> u32 {
        let shell = self.tmux(&["display-message", "-p", "#{pane_pid}"]);
        let shell = shell.trim();
        let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children"));
        let first = children
            .ok()
            .and_then(|c| c.split_whitespace().next()?.parse().ok());
        first.expect("the session")
    }

    fn signal(&self, name: &str) {
        let id = self.session().to_string();
        let sent = Command::new("kill").args(["-s", name, &id]).status();
        assert!(sent.is_ok_and(|s| s.success()));
    }

    /// The session has ended, and the terminal is in its own mode, on its own screen.
    fn is_as_it_was(&self, left: &str) -> String {
        let after = self.until(&[left, " icanon"]);
        assert!(after.contains(" echo "), "{after}");
        let alternate = self.tmux(&["display-message", "-p", "#{alternate_on} #{cursor_flag}"]);
        assert_eq!(alternate.trim(), "0 1", "{after}");
        after
    }

    /// Waits until the screen shows all of this.
    pub fn until(&self, parts: &[&str]) -> String {
        let start = Instant::now();
        loop {
            let shown = self.tmux(&["capture-pane", "-p"]);
            if parts.iter().all(|p| shown.contains(p)) {
                return shown;
            }
            assert!(
                start.elapsed() < Duration::from_secs(30),
                "waited for {parts:?}:\n{shown}"
            );
            std::thread::sleep(Duration::from_millis(100));
        }
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = Command::new("tmux")
            .args(["-L", &self.socket, "kill-server"])
            .output();
        let _ = std::fs::remove_dir_all(&self.home);
    }
}

/// Without what differs between moments: the time of day.
fn masked(shown: &str) -> String {
    let mut out = String::new();
    for (i, line) in shown.lines().enumerate() {
        match line {
            _ if i == 0 => out.push_str(&format!("HH:MM{}", line.get(5..).unwrap_or_default())),
            _ => out.push_str(line),
        }
        out.push('\n');
    }
    out
}

#[test]
fn a_real_terminal_at_all_sizes_is_given_back() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("sizes", &cook);
    // No sound on this machine: both devices are told of, and only then is the picture still.
    terminal.until(&["no loudspeaker", "no microphone", "begins"]);
    terminal.tmux(&["send-keys", "Enter"]);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/all/screens");
    for (w, h) in [("80", "24"), ("120", "40"), ("200", "60"), ("40", "15")] {
        terminal.tmux(&["resize-window", "-x", w, "-y", h]);
        // The picture is there when its last row is.
        terminal.until(&["step 1 of 9", "(x) keys only", "[Enter] it is in"]);
        let path = folder.join(format!("live-{w}x{h}.txt"));
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        let start = Instant::now();
        loop {
            let now = masked(&terminal.tmux(&["capture-pane", "-p"]));
            if now == kept {
                break;
            }
            if start.elapsed() > Duration::from_secs(5) {
                if std::env::var_os("COMMIS_KEEP_SCREENS").is_some() {
                    std::fs::write(&path, &now).expect("a picture is kept");
                    break;
                }
                panic!("{w}x{h} looks different:\n{now}");
            }
            std::thread::sleep(Duration::from_millis(100));
        }
    }
    // Q asks, Enter is yes; the terminal is as it was.
    terminal.tmux(&["resize-window", "-x", "80", "-y", "24"]);
    terminal.tmux(&["send-keys", "q"]);
    terminal.until(&["Leave the kitchen now?"]);
    terminal.tmux(&["send-keys", "Enter"]);
    terminal.is_as_it_was("left with 0");
}

/// Control-C leaves without a question, and a signal as well; the session is kept, and a word says so.
#[test]
fn whatever_ends_a_session_gives_the_terminal_back() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    for (name, code) in [
        ("C-c", 130),
        ("INT", 130),
        ("TERM", 143),
        ("QUIT", 131),
        ("HUP", 129),
    ] {
        let terminal = Terminal::run(&format!("ends-{name}"), &cook);
        terminal.until(&["no loudspeaker", "no microphone", "begins"]);
        terminal.tmux(&["send-keys", "Enter"]);
        terminal.until(&["step 1 of 9"]);
        if name == "C-c" {
            terminal.tmux(&["send-keys", "C-c"]);
        } else {
            terminal.signal(name);
        }
        let after = terminal.is_as_it_was(&format!("left with {code}"));
        let word = "Start me again with this formula, and I go on from";
        assert!(after.replace('\n', " ").contains(word), "{name}: {after}");
        assert!(!after.contains("ALSA"), "{name}: {after}");
    }
}

/// A second request to stop is obeyed at once, within the last words of the first.
#[test]
fn a_second_signal_gives_the_terminal_back_as_well() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("ends-twice", &cook);
    terminal.until(&["no loudspeaker", "no microphone", "begins"]);
    terminal.signal("TERM");
    terminal.signal("TERM");
    terminal.is_as_it_was("left with 143");
}

/// A panic of the session or of the drawing: the terminal is given back, and then it is told.
#[test]
fn a_panic_gives_the_terminal_back() {
    for (place, told) in [
        ("session", "the session fails"),
        ("drawer", "the drawing fails"),
    ] {
        let this = std::env::current_exe().expect("a test");
        let run = format!(
            "RUST_BACKTRACE=0 COMMIS_FAILS={place} '{}' --ignored --exact --nocapture --test-threads 1 terminal::on_the_screen_and_failing",
            this.display()
        );
        let terminal = Terminal::run(&format!("panic-{place}"), &run);
        let after = terminal.is_as_it_was("left with");
        assert!(after.contains(told), "{after}");
    }
}

/// Run by the test above, in a terminal of its own.
#[test]
#[ignore = "it fails, as it is to"]
fn on_the_screen_and_failing() {
    let mut screen =
        commis::screen::Screen::enter(commis::screen::Theme::default()).expect("a terminal");
    let bench = commis::bench::Bench::new(
        super::rehearsal::formula("seeded-tin-loaf"),
        commis::bench::Options::default(),
    )
    .expect("as written");
    screen
        .show(&bench.view(commis::time::Moment(0)), false)
        .expect("drawn");
    if std::env::var("COMMIS_FAILS").as_deref() == Ok("session") {
        // Not dropped first: the panic itself is to give the terminal back.
        std::mem::forget(screen);
        panic!("the session fails");
    }
    let drawer = std::thread::Builder::new().name("screen".to_owned());
    let drawer = drawer.spawn(move || {
        std::mem::forget(screen);
        panic!("the drawing fails")
    });
    let _ = drawer.expect("a thread").join();
}

/// A terminal that can only print lines gets lines, without a word of the libraries between them.
#[test]
fn a_dumb_terminal_gets_plain_lines() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("export TERM=dumb; '{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("dumb", &cook);
    terminal.until(&["Seeded tin loaf"]);
    terminal.tmux(&["send-keys", "how much salt", "Enter"]);
    let shown = terminal.until(&["Ten grams of fine salt."]);
    assert!(!shown.contains("step 1 of"), "{shown}");
    assert!(!shown.contains("ALSA"), "{shown}");
    assert_eq!(
        terminal
            .tmux(&["display-message", "-p", "#{alternate_on}"])
            .trim(),
        "0"
    );
    // The end of what is typed is the end of the session.
    terminal.tmux(&["send-keys", "C-d"]);
    terminal.is_as_it_was("left with 0");
}

/// A terminal that does not say what it is, or has no name that anybody knows.
#[test]
fn an_unnamed_terminal_shows_the_big_screen() {
    let program = env!("CARGO_BIN_EXE_commis");
    for (name, term) in [("no-term", "unset TERM"), ("odd-term", "TERM=none")] {
        let cook = format!("{term}; '{program}' cook shared/formulas/seeded-tin-loaf.toml");
        let terminal = Terminal::run(name, &cook);
        terminal.until(&["no loudspeaker", "no microphone", "begins"]);
        terminal.tmux(&["send-keys", "Enter"]);
        terminal.until(&["step 1 of 9"]);
    }
}

/// A key that comes together with another size of the terminal is a key all the same.
#[test]
fn a_key_is_taken_while_the_window_changes_its_size() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("resized", &cook);
    terminal.until(&["no loudspeaker", "no microphone", "begins"]);
    for step in 1..=8 {
        let size = |at: u32| {
            let (w, h) = [("80", "24"), ("100", "30")][at as usize % 2];
            ["resize-window", "-x", w, "-y", h, ";", "send-keys"]
        };
        terminal.tmux(&[&size(step)[..], &["q"]].concat());
        terminal.until(&["Leave the kitchen now?"]);
        terminal.tmux(&[&size(step + 1)[..], &["BSpace"]].concat());
        terminal.until(&["I have changed nothing."]);
    }
}

/// The window is closed in the middle of a bake: the session goes on, costs next to nothing, and ends when it is told to.
#[test]
fn a_session_outlives_its_terminal() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("closed", &cook);
    terminal.until(&["no loudspeaker", "no microphone", "begins"]);
    terminal.tmux(&["send-keys", "Enter"]);
    terminal.until(&["step 1 of 9"]);
    let session = terminal.session();
    // 'Z' is one that has ended and that nobody has asked for yet (proc(5)).
    let lives = || {
        let stat = std::fs::read_to_string(format!("/proc/{session}/stat")).unwrap_or_default();
        stat.rsplit(')')
            .next()
            .is_some_and(|s| !s.is_empty() && !s.starts_with(" Z"))
    };
    terminal.tmux(&["kill-server"]);
    let written = || -> String {
        let folder = terminal.home.join("state/commis");
        let files = std::fs::read_dir(folder).into_iter().flatten().flatten();
        let texts = files.filter_map(|f| std::fs::read(f.path()).ok());
        texts
            .map(|t| String::from_utf8_lossy(&t).into_owned())
            .collect()
    };
    let start = Instant::now();
    while !written().contains("The screen is gone.") {
        assert!(start.elapsed() < Duration::from_secs(30), "it is not told");
        std::thread::sleep(Duration::from_millis(50));
    }
    // An unoptimised voice takes a while to make what it has still to say; what runs in circles never rests.
    let mut spent = Vec::new();
    while spent.last().is_none_or(|spent| *spent >= 60) {
        assert!(
            spent.len() < 5,
            "{spent:?} hundredths of a second in three seconds each"
        );
        let before = super::live::processor_time(session);
        std::thread::sleep(Duration::from_secs(3));
        assert!(lives());
        spent.push(super::live::processor_time(session) - before);
    }
    let told = Command::new("kill")
        .args(["-s", "TERM", &session.to_string()])
        .status();
    assert!(told.is_ok_and(|s| s.success()));
    let start = Instant::now();
    while lives() {
        assert!(start.elapsed() < Duration::from_secs(30), "it does not end");
        std::thread::sleep(Duration::from_millis(50));
    }
}
