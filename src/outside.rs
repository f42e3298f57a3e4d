//! What lies outside this program: other programs, each with a time limit, and files, each with a largest size.

use std::fs::File;
use std::io::{self, Read, Write};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

use crossbeam_channel::{RecvTimeoutError, bounded};
use rustix::process::{Pid, Signal, kill_process_group};

/// The most that is taken of what a program gives: eight minutes of speech.
const MOST: u64 = 32 << 20;
/// How often a program that should end is looked at.
const LOOK: Duration = Duration::from_millis(1);
/// How often it is looked whether one that should answer has had its time.
const SLICE: Duration = Duration::from_millis(50);

/// More than this between two looks is no waiting: the process was suspended, or starved of the processor.
const STEP: Duration = Duration::from_millis(250);

/// How long something has been waited for, by looks at it: a process that is suspended and goes on has not waited meanwhile,
/// and whatever it waits for may be there in an instant.
#[derive(Debug, Clone, Copy)]
pub struct Waited {
    looked: Instant,
    so_far: Duration,
}

impl Waited {
    /// Begins to wait.
    #[allow(clippy::new_without_default)]
    pub fn new() -> Self {
        Self {
            looked: Instant::now(),
            so_far: Duration::ZERO,
        }
    }

    /// How long it is by now. To be asked several times a second.
    pub fn so_far(&mut self) -> Duration {
        let now = Instant::now();
        self.so_far += (now - self.looked).min(STEP);
        self.looked = now;
        self.so_far
    }
}

/// Why another program was of no use.
#[derive(Debug, thiserror::Error)]
pub enum OutsideError {
    /// It is not there.
    #[error("{program} is not installed")]
    Missing {
        /// Its name.
        program: String,
    },
    /// It did not end in time, and was ended.
    #[error("{program} did not answer within {} seconds", limit.as_secs())]
    Slow {
        /// Its name.
        program: String,
        /// How long it had.
        limit: Duration,
    },
    /// It could not be started, or not be read.
    #[error("{program} cannot be used: {source}")]
    Broken {
        /// Its name.
        program: String,
        /// Why.
        #[source]
        source: io::Error,
    },
}

/// Runs a program with `input` and takes what it gives. After `limit` it is ended, with all that it has started.
///
/// # Errors
/// When it is missing, cannot be used, or takes too long.
pub fn run(
    command: &mut Command,
    input: &str,
    limit: Duration,
) -> Result<(ExitStatus, Vec<u8>), OutsideError> {
    let mut running = Running::start(command.stdin(Stdio::piped()).stdout(Stdio::piped()), limit)?;
    let (stdin, stdout) = (running.child.stdin.take(), running.child.stdout.take());
    let (sender, read) = bounded(1);
    let input = input.to_owned();
    // On threads of their own: neither the writing nor the reading may wait longer than the limit.
    let threads = std::thread::Builder::new().spawn(move || {
        if let Some(mut pipe) = stdin {
            // A program that reads nothing may still answer.
            let _ = pipe.write_all(input.as_bytes());
        }
    });
    let reads = std::thread::Builder::new().spawn(move || {
        let mut bytes = Vec::new();
        let done = stdout.map_or(Ok(0), |pipe| pipe.take(MOST).read_to_end(&mut bytes));
        let _ = sender.send(done.map(|_| bytes));
    });
    if let Err(e) = threads.and(reads) {
        return Err(running.broken(e));
    }
    loop {
        match read.recv_timeout(SLICE) {
            Ok(Ok(bytes)) => return Ok((running.wait()?, bytes)),
            Ok(Err(e)) => return Err(running.broken(e)),
            Err(RecvTimeoutError::Timeout) if running.waited.so_far() < limit => {}
            Err(_) => return Err(running.slow()),
        }
    }
}

/// Runs a program for what it does alone.
///
/// # Errors
/// When it is missing, cannot be used, or takes too long.
pub fn status(command: &mut Command, limit: Duration) -> Result<ExitStatus, OutsideError> {
    Running::start(command.stdin(Stdio::null()).stdout(Stdio::null()), limit)?.wait()
}

/// A program that runs; whatever happens, it is not left running.
struct Running {
    child: Child,
    program: String,
    limit: Duration,
    waited: Waited,
    ended: bool,
}

impl Running {
    fn start(command: &mut Command, limit: Duration) -> Result<Self, OutsideError> {
        let program = command.get_program().to_string_lossy().into_owned();
        // In a group of its own: what it starts in its turn is ended with it, and the keys of the terminal are not its.
        match command.process_group(0).stderr(Stdio::null()).spawn() {
            Ok(child) => Ok(Self {
                child,
                program,
                limit,
                waited: Waited::new(),
                ended: false,
            }),
            Err(e) if e.kind() == io::ErrorKind::NotFound => Err(OutsideError::Missing { program }),
            Err(source) => Err(OutsideError::Broken { program, source }),
        }
    }

    fn wait(mut self) -> Result<ExitStatus, OutsideError> {
        loop {
            match self.child.try_wait() {
                Ok(Some(status)) => {
                    self.ended = true;
                    return Ok(status);
                }
                Ok(None) if self.waited.so_far() >= self.limit => return Err(self.slow()),
                Ok(None) => std::thread::sleep(LOOK),
                Err(e) => return Err(self.broken(e)),
            }
        }
    }

    fn slow(self) -> OutsideError {
        OutsideError::Slow {
            program: self.program.clone(),
            limit: self.limit,
        }
    }

    fn broken(self, source: io::Error) -> OutsideError {
        OutsideError::Broken {
            program: self.program.clone(),
            source,
        }
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        if self.ended {
            return;
        }
        let group = i32::try_from(self.child.id()).ok().and_then(Pid::from_raw);
        if let Some(group) = group {
            let _ = kill_process_group(group, Signal::KILL);
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A pipe or a device may leave its reader waiting for so long.
const COMES: Duration = Duration::from_secs(10);

/// Reads a file of at most so many bytes. One that is longer, or has no end, is left after them; a pipe to which nobody writes
/// is waited for no longer than ten seconds.
///
/// # Errors
/// When it cannot be read, or is longer.
pub fn read(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    if std::fs::metadata(path)?.is_file() {
        return read_plain(path, most);
    }
    let (sender, read) = bounded(1);
    let path = path.to_path_buf();
    std::thread::Builder::new().spawn(move || sender.send(read_plain(&path, most)))?;
    read.recv_timeout(COMES).unwrap_or_else(|_| {
        let told = format!("nothing came within {} seconds", COMES.as_secs());
        Err(io::Error::new(io::ErrorKind::TimedOut, told))
    })
}

fn read_plain(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let file = File::open(path)?;
    let about = file.metadata()?;
    let mut bytes = Vec::new();
    if !about.is_file() || about.len() <= most {
        file.take(most + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 <= most {
            return Ok(bytes);
        }
    }
    let size = if most >= 1 << 20 {
        format!("{} MB", most >> 20)
    } else {
        format!("{} kB", most >> 10)
    };
    Err(io::Error::new(
        io::ErrorKind::FileTooLarge,
        format!("expected at most {size}, found more"),
    ))
}

/// The same for text.
///
/// # Errors
/// As [`read`], and when it is no UTF-8.
pub fn read_text(path: &Path, most: u64) -> io::Result<String> {
    String::from_utf8(read(path, most)?).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        let line = 1 + e.as_bytes()[..at].iter().filter(|b| **b == b'\n').count();
        io::Error::new(
            io::ErrorKind::InvalidData,
            format!("line {line}: expected text in UTF-8, found another byte"),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOON: Duration = Duration::from_millis(300);

    #[test]
    fn one_that_answers_one_that_hangs_and_one_that_is_missing() {
        let (status, said) =
            run(&mut Command::new("cat"), "salt", Duration::from_secs(20)).expect("it answers");
        assert!(status.success());
        assert_eq!(said, b"salt");
        let begun = Instant::now();
        // What the shell starts holds the pipe open after the shell has gone.
        let slow = run(
            Command::new("sh").args(["-c", "sleep 60; echo late"]),
            "",
            SOON,
        );
        assert!(matches!(slow, Err(OutsideError::Slow { .. })), "{slow:?}");
        let slow = super::status(Command::new("sleep").arg("60"), SOON);
        assert!(matches!(slow, Err(OutsideError::Slow { .. })), "{slow:?}");
        assert!(begun.elapsed() < Duration::from_secs(10));
        let missing = run(&mut Command::new("commis-no-such-program"), "", SOON);
        assert_eq!(
            missing.map(|_| ()).expect_err("missing").to_string(),
            "commis-no-such-program is not installed"
        );
    }

    #[test]
    fn a_pipe_to_which_nobody_writes_is_left() {
        let pipe = |which: &str| {
            let name = format!("commis-pipe-{which}-{}", std::process::id());
            let path = std::env::temp_dir().join(name);
            let made = Command::new("mkfifo").arg(&path).status();
            assert!(made.is_ok_and(|s| s.success()));
            path
        };
        let (nobody, somebody) = (pipe("nobody"), pipe("somebody"));
        let told = read(&nobody, 10).expect_err("nobody writes").to_string();
        assert_eq!(told, "nothing came within 10 seconds");
        let theirs = somebody.clone();
        let writes = std::thread::spawn(move || std::fs::write(theirs, "salt"));
        assert_eq!(read(&somebody, 10).expect("it comes"), b"salt");
        let _ = writes.join();
        for path in [nobody, somebody] {
            let _ = std::fs::remove_file(path);
        }
    }

    #[test]
    fn a_file_without_end_is_left_at_the_limit() {
        let told = read(Path::new("/dev/zero"), 4 << 20)
            .expect_err("too long")
            .to_string();
        assert_eq!(told, "expected at most 4 MB, found more");
        assert_eq!(read(Path::new("/dev/null"), 10).expect("empty"), b"");
    }
}
