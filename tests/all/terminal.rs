//! The live session in a real terminal (tmux): pictures at three sizes, and the terminal given back as it was.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// A terminal of our own, killed when the test ends.
struct Terminal {
    socket: String,
    home: PathBuf,
}

impl Terminal {
    fn run(command: &str) -> Self {
        let socket = format!("commis-test-{}", std::process::id());
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

    fn tmux(&self, args: &[&str]) -> String {
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
    fn until(&self, parts: &[&str]) -> String {
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
    let terminal = Terminal::run(&format!(
        "'{program}' cook shared/formulas/seeded-tin-loaf.toml"
    ));
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
