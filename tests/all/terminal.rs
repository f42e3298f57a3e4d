//! The live session in a real terminal (tmux): pictures at three sizes, and the terminal given back as it was.

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

/// Without what differs between machines and moments: the time of day, and the words of a missing device.
fn masked(shown: &str) -> String {
    let mut out = String::new();
    for (i, line) in shown.lines().enumerate() {
        match line {
            _ if i == 0 => out.push_str(&format!("HH:MM{}", line.get(5..).unwrap_or_default())),
            _ if line.starts_with("! ") => out.push_str("! ..."),
            _ => out.push_str(line),
        }
        out.push('\n');
    }
    out
}

#[test]
fn a_real_terminal_at_three_sizes_is_given_back() {
    let program = env!("CARGO_BIN_EXE_commis");
    let cook = format!("'{program}' cook shared/formulas/seeded-tin-loaf.toml");
    let terminal = Terminal::run("sizes", &cook);
    // No sound on this machine: both devices are told of, and only then is the picture still.
    terminal.until(&["! loudspeaker", "! microphone", "begins"]);
    terminal.tmux(&["send-keys", "Enter"]);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/all/screens");
    for (w, h) in [("80", "24"), ("120", "40"), ("40", "12")] {
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
    // Control-C asks, Enter is yes; the terminal is as it was: no raw mode, no alternate screen.
    terminal.tmux(&["resize-window", "-x", "80", "-y", "24"]);
    terminal.tmux(&["send-keys", "C-c"]);
    terminal.until(&["Leave the kitchen now?"]);
    terminal.tmux(&["send-keys", "Enter"]);
    let after = terminal.until(&["left with 0", " icanon"]);
    assert!(after.contains(" echo "), "{after}");
    assert_eq!(
        terminal
            .tmux(&["display-message", "-p", "#{alternate_on}"])
            .trim(),
        "0"
    );
}

/// A terminal that does not say what it is, or has no name that anybody knows.
#[test]
fn an_unnamed_terminal_shows_the_big_screen() {
    let program = env!("CARGO_BIN_EXE_commis");
    for (name, term) in [("no-term", "unset TERM"), ("odd-term", "TERM=none")] {
        let cook = format!("{term}; '{program}' cook shared/formulas/seeded-tin-loaf.toml");
        let terminal = Terminal::run(name, &cook);
        terminal.until(&["! loudspeaker", "! microphone", "begins"]);
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
    terminal.until(&["! loudspeaker", "! microphone", "begins"]);
    for step in 1..=8 {
        let size = |at: u32| {
            let (w, h) = [("80", "24"), ("100", "30")][at as usize % 2];
            ["resize-window", "-x", w, "-y", h, ";", "send-keys"]
        };
        terminal.tmux(&[&size(step)[..], &["C-c"]].concat());
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
    terminal.until(&["! loudspeaker", "! microphone", "begins"]);
    terminal.tmux(&["send-keys", "Enter"]);
    terminal.until(&["step 1 of 9"]);
    let shell = terminal.tmux(&["display-message", "-p", "#{pane_pid}"]);
    let shell = shell.trim();
    let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children"));
    let session: u32 = children
        .ok()
        .and_then(|c| c.split_whitespace().next()?.parse().ok())
        .expect("the session");
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
    let before = super::live::processor_time(session);
    std::thread::sleep(Duration::from_secs(3));
    assert!(lives());
    let spent = super::live::processor_time(session) - before;
    assert!(
        spent < 60,
        "{spent} hundredths of a second in three seconds"
    );
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
