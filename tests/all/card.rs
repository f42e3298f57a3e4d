//! A virtual sound card (PulseAudio), what it plays recorded, and the program in a folder of its own beside it.

use std::io::Read;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Samples a second of the recording, and samples in one look at it: 5 ms.
const RATE: usize = 48_000;
const LOOK: usize = RATE / 200;
/// Louder than this is sound; full scale is 32,768.
const SOUND: u16 = 200;

/// Of full scale, cubed (65,536 is 1): noise of some ten steps of 32,768, as a microphone gives in a quiet room.
const ROOM: &str = "4500";

/// A sound server with a microphone in a quiet room into which nobody speaks, and a loudspeaker that is recorded.
pub struct Card {
    pub home: PathBuf,
    server: Child,
    room: Option<Child>,
    recorder: Child,
    /// When something could be heard: each look that was loud.
    loud: Arc<Mutex<Vec<Instant>>>,
}

impl Card {
    pub fn new(name: &str) -> Self {
        let home = std::env::temp_dir().join(format!("commis-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&home);
        std::fs::create_dir_all(home.join("commis")).expect("a folder");
        std::fs::create_dir_all(home.join("bin")).expect("a folder");
        std::fs::create_dir_all(home.join("tmp")).expect("a folder");
        let asound = "pcm.!default { type pulse }\nctl.!default { type pulse }\n";
        std::fs::write(home.join("asound.conf"), asound).expect("written");
        let server = serve(&home);
        let mut recorder = at(Command::new("parec"), &home)
            .args(["--device=out.monitor", "--format=s16le", "--channels=1"])
            .args(["--latency-msec=10", &format!("--rate={RATE}")])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("parec is installed by ./setup");
        let loud = Arc::default();
        let sound = recorder.stdout.take().expect("piped");
        let theirs = Arc::clone(&loud);
        std::thread::spawn(move || listen(sound, &theirs));
        let room = Some(room(&home));
        Self {
            home,
            server,
            room,
            recorder,
            loud,
        }
    }

    /// The microphone gives nothing but zeros, as one that is switched off.
    pub fn switch_off(&mut self) {
        if let Some(mut room) = self.room.take() {
            let _ = room.kill();
            let _ = room.wait();
        }
    }

    /// It gives the sound of the room again.
    pub fn switch_on(&mut self) {
        self.room = Some(room(&self.home));
    }

    /// Puts a program of this name before the real one.
    pub fn stand_in(&self, name: &str, script: &str) {
        let path = self.home.join("bin").join(name);
        std::fs::write(&path, format!("#!/bin/sh\n{script}\n")).expect("written");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o755)).expect("set");
    }

    /// The program, at home on this card.
    pub fn command(&self, program: &Path) -> Command {
        at(Command::new(program), &self.home)
    }

    /// One of the recorded orders is spoken into the microphone.
    pub fn says(&self, clip: &str) {
        let wav = super::rehearsal::root().join(format!("shared/rehearsals/clips/{clip}.wav"));
        let played = at(Command::new("paplay"), &self.home)
            .arg("--device=mic")
            .arg(wav)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        assert!(
            played.is_ok_and(|s| s.success()),
            "paplay is installed by ./setup"
        );
    }

    /// The microphone is pulled out.
    pub fn lose_microphone(&self) {
        let listed = at(Command::new("pactl"), &self.home)
            .args(["list", "short", "modules"])
            .output()
            .expect("pactl is installed by ./setup");
        let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
        let line = listed.lines().find(|l| l.contains("sink_name=mic"));
        let number = line.and_then(|l| l.split_whitespace().next());
        pactl(&self.home, &["unload-module", number.expect("it is there")]);
    }

    /// The sound server dies; whoever uses it is told nothing.
    pub fn stop(&mut self) {
        self.switch_off();
        let _ = self.server.kill();
        let _ = self.server.wait();
    }

    /// The sound server hangs: it is there, and does nothing.
    pub fn hang(&self) {
        self.signal("STOP");
    }

    /// It does what it had to do.
    pub fn go_on(&self) {
        self.signal("CONT");
    }

    fn signal(&self, name: &str) {
        let id = self.server.id().to_string();
        let sent = Command::new("kill").args(["-s", name, &id]).status();
        assert!(sent.is_ok_and(|s| s.success()));
    }

    /// The sound server is there again, with the same devices. What it plays now is recorded no more.
    pub fn start_again(&mut self) {
        self.server = serve(&self.home);
        self.switch_on();
    }

    /// When something was first heard after a moment, within `patience`.
    pub fn first_after(&self, from: Instant, patience: Duration) -> Option<Instant> {
        while from.elapsed() < patience {
            let heard = self
                .loud
                .lock()
                .expect("one thread")
                .iter()
                .find(|t| **t > from)
                .copied();
            if heard.is_some() {
                return heard;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        None
    }
}

impl Drop for Card {
    fn drop(&mut self) {
        self.switch_off();
        for child in [&mut self.recorder, &mut self.server] {
            let _ = child.kill();
            let _ = child.wait();
        }
        let _ = std::fs::remove_dir_all(&self.home);
    }
}

/// Starts the sound server with its devices, and waits for it.
fn serve(home: &Path) -> Child {
    let _ = std::fs::remove_dir_all(home.join("pulse"));
    let server = at(Command::new("pulseaudio"), home)
        .args(["-n", "--daemonize=no", "--exit-idle-time=-1"])
        .args([
            "--load=module-native-protocol-unix",
            "--load=module-null-sink sink_name=out",
            "--load=module-null-sink sink_name=mic rate=16000 channels=1",
        ])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("pulseaudio is installed by ./setup");
    let began = Instant::now();
    while std::os::unix::net::UnixStream::connect(home.join("pulse/native")).is_err() {
        assert!(began.elapsed() < Duration::from_secs(30), "no sound server");
        std::thread::sleep(Duration::from_millis(20));
    }
    for default in [
        ["set-default-source", "mic.monitor"],
        ["set-default-sink", "out"],
    ] {
        pactl(home, &default);
    }
    server
}

/// The noise of a room, into the microphone.
fn room(home: &Path) -> Child {
    at(Command::new("pacat"), home)
        .args([
            "--playback",
            "--device=mic",
            "--format=s16le",
            "--rate=16000",
        ])
        .args(["--channels=1", "--latency-msec=200"])
        .args([&format!("--volume={ROOM}"), "/dev/urandom"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("pacat comes with parec")
}

fn at(mut command: Command, home: &Path) -> Command {
    for variable in [
        "XDG_RUNTIME_DIR",
        "XDG_CONFIG_HOME",
        "XDG_CACHE_HOME",
        "XDG_STATE_HOME",
        "HOME",
    ] {
        command.env(variable, home);
    }
    let path = std::env::var("PATH").unwrap_or_default();
    let alsa = home.join("asound.conf");
    command
        .env("TMPDIR", home.join("tmp"))
        .env("PATH", format!("{}:{path}", home.join("bin").display()))
        .env(
            "ALSA_CONFIG_PATH",
            format!("/usr/share/alsa/alsa.conf:{}", alsa.display()),
        )
        .current_dir(super::rehearsal::root());
    command
}

fn pactl(home: &Path, args: &[&str]) {
    let told = at(Command::new("pactl"), home)
        .args(args)
        .stdout(Stdio::null())
        .status();
    assert!(
        told.is_ok_and(|s| s.success()),
        "pactl is installed by ./setup"
    );
}

fn listen(mut sound: ChildStdout, loud: &Mutex<Vec<Instant>>) {
    let mut look = vec![0; LOOK * 2];
    while sound.read_exact(&mut look).is_ok() {
        let loudest = look
            .chunks_exact(2)
            .map(|b| i16::from_le_bytes([b[0], b[1]]).unsigned_abs())
            .max();
        if loudest.is_some_and(|l| l > SOUND) {
            loud.lock().expect("one thread").push(Instant::now());
        }
    }
}
