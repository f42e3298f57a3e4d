//! A live session by typed lines, in a folder of its own and without a speech model, so that a start takes no second.

use std::io::{BufRead, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use commis::journal::Readings;

use super::rehearsal::root;

/// A folder for the sessions of one test: journals, settings, and the program; gone when it is dropped.
pub struct Kitchen(PathBuf);

impl Kitchen {
    pub fn new(name: &str) -> Self {
        // Deep enough that the program does not find the repository's models above itself.
        let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
            .join(format!("{name}-{}", std::process::id()));
        std::fs::create_dir_all(folder.join("bin")).expect("a folder");
        std::fs::hard_link(env!("CARGO_BIN_EXE_commis"), folder.join("bin/commis"))
            .expect("linked");
        // What is said is compared whole: `plain.rs` has lines as they are printed.
        std::fs::create_dir_all(folder.join("config/commis")).expect("a folder");
        std::fs::write(
            folder.join("config/commis/settings.toml"),
            "plain_line = 0\n",
        )
        .expect("written");
        Self(folder)
    }

    /// Where the journals lie.
    pub fn journals(&self) -> PathBuf {
        self.0.join("commis")
    }

    /// The one journal.
    pub fn journal(&self) -> PathBuf {
        let files = std::fs::read_dir(self.journals()).expect("a folder");
        let mut journals: Vec<PathBuf> = files
            .flatten()
            .map(|f| f.path())
            .filter(|p| p.extension().is_some_and(|e| e == "journal"))
            .collect();
        assert_eq!(journals.len(), 1, "{journals:?}");
        journals.remove(0)
    }

    /// Starts a session.
    pub fn cook(&self) -> Live {
        self.cook_by(Command::new(self.0.join("bin/commis")))
    }

    /// Starts a session in a shell, after some orders to that.
    pub fn cook_after(&self, orders: &str) -> Live {
        let mut shell = Command::new("sh");
        shell
            .args(["-c", &format!("{orders}; exec \"$0\" \"$@\"")])
            .arg(self.0.join("bin/commis"));
        self.cook_by(shell)
    }

    /// A session to be started.
    pub fn command(&self) -> Command {
        self.at_home(Command::new(self.0.join("bin/commis")))
    }

    /// Any command of the program, at home here.
    pub fn bare(&self, args: &[&str]) -> Command {
        let mut command = Command::new(self.0.join("bin/commis"));
        command.args(args);
        self.in_its_folder(command)
    }

    /// What the journal tells.
    pub fn written(&self) -> String {
        let files = std::fs::read_dir(self.journals())
            .into_iter()
            .flatten()
            .flatten();
        let journals = files.filter(|f| f.path().extension().is_some_and(|e| e == "journal"));
        journals
            .filter_map(|f| std::fs::read(f.path()).ok())
            .map(|bytes| String::from_utf8_lossy(&bytes).into_owned())
            .collect()
    }

    /// Starts a session of another formula, with more on its command line.
    pub fn cook_other(&self, formula: &Path, more: &[&str]) -> Live {
        let mut command = Command::new(self.0.join("bin/commis"));
        command.args(["cook", "--plain"]).args(more).arg(formula);
        Self::start(self.in_its_folder(command))
    }

    /// A file in the folder.
    pub fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.join(name);
        std::fs::write(&path, text).expect("written");
        path
    }

    fn at_home(&self, mut command: Command) -> Command {
        command
            .args(["cook", "--plain"])
            .arg(root().join("shared/formulas/seeded-tin-loaf.toml"));
        self.in_its_folder(command)
    }

    fn in_its_folder(&self, mut command: Command) -> Command {
        command
            .current_dir(&self.0)
            .env("XDG_STATE_HOME", &self.0)
            .env("XDG_CONFIG_HOME", self.0.join("config"))
            .env("LD_LIBRARY_PATH", root().join("vendor/vosk"));
        command
    }

    fn cook_by(&self, command: Command) -> Live {
        Self::start(self.at_home(command))
    }

    fn start(mut command: Command) -> Live {
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let out = child.stdout.take().expect("piped");
        let lines = Arc::new(Mutex::new(Vec::new()));
        let told = Arc::clone(&lines);
        let reader = std::thread::spawn(move || {
            for line in std::io::BufReader::new(out).lines().map_while(Result::ok) {
                let at = Readings::now().boot_ms;
                told.lock().expect("one thread").push((at, line));
            }
        });
        Live {
            input: child.stdin.take(),
            child,
            lines,
            reader,
        }
    }
}

impl Drop for Kitchen {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Whether a text is in what was printed. Lines may be short, and words go on in the next.
pub fn tells(printed: &str, text: &str) -> bool {
    let words: Vec<&str> = printed.split_whitespace().collect();
    printed.contains(text) || words.join(" ").contains(text)
}

/// A printed line and when it came, by the boot clock in milliseconds.
pub type Printed = (u64, String);

/// A running session.
pub struct Live {
    child: Child,
    input: Option<ChildStdin>,
    lines: Arc<Mutex<Vec<Printed>>>,
    reader: std::thread::JoinHandle<()>,
}

impl Live {
    /// Types a line.
    pub fn types(&mut self, line: &str) {
        let input = self.input.as_mut().expect("open");
        writeln!(input, "{line}").expect("it still reads");
    }

    /// Waits until `text` has been printed; everything printed so far.
    pub fn until(&self, text: &str) -> String {
        let end = Instant::now() + Duration::from_mins(2);
        loop {
            let printed = self.printed();
            if tells(&printed, text) {
                return printed;
            }
            assert!(Instant::now() < end, "`{text}` never came:\n{printed}");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Everything printed so far.
    pub fn printed(&self) -> String {
        let lines = self.lines.lock().expect("one thread");
        lines.iter().map(|(_, l)| format!("{l}\n")).collect()
    }

    /// The process's number.
    pub fn id(&self) -> u32 {
        self.child.id()
    }

    /// Sends a signal and waits for the end: the status, and everything that was printed.
    pub fn signalled(mut self, name: &str) -> (std::process::ExitStatus, String) {
        let id = self.id().to_string();
        let sent = Command::new("kill").args(["-s", name, &id]).status();
        assert!(sent.is_ok_and(|s| s.success()));
        let status = self.child.wait().expect("it ends");
        drop(self.input.take());
        self.reader.join().expect("read");
        let lines = self.lines.lock().expect("one thread");
        let printed = lines.iter().map(|(_, l)| format!("{l}\n")).collect();
        (status, printed)
    }

    /// `kill -9`, and everything that was printed until then.
    pub fn kill(mut self) -> Vec<Printed> {
        self.child.kill().expect("killed");
        self.child.wait().expect("gone");
        drop(self.input);
        self.reader.join().expect("read");
        std::mem::take(&mut self.lines.lock().expect("one thread"))
    }
}

/// Processor time that a process has taken, in hundredths of a second (proc(5), and the clock ticks of every Linux).
pub fn processor_time(id: u32) -> u64 {
    let stat = std::fs::read_to_string(Path::new("/proc").join(id.to_string()).join("stat"))
        .expect("it runs");
    let after_name = stat.rsplit(')').next().expect("a name in brackets");
    let field = |n: usize| -> u64 {
        after_name
            .split_whitespace()
            .nth(n)
            .and_then(|t| t.parse().ok())
            .expect("a number")
    };
    field(11) + field(12)
}
