//! How soon a key is answered aloud, and how soon it silences speech: the whole program through a virtual sound card
//! (PulseAudio), in a folder of its own. `cargo bench --bench first_sound`, with an engine's name behind `--`.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// Samples a second of the recording, and samples in one look at it.
const RATE: usize = 48_000;
const LOOK: usize = RATE / 200;
/// Louder than this is sound; full scale is 32,768.
const SOUND: i16 = 200;
/// Silence this long is silence: pauses between words are shorter.
const SILENCE: Duration = Duration::from_millis(700);
const TIMES: usize = 12;

struct Kitchen {
    home: PathBuf,
    cook: Child,
    recorder: Child,
    typed: ChildStdin,
    /// Each look at the recording: when it came, and its loudest sample.
    looks: Receiver<(Instant, i16)>,
}

fn with<'c>(command: &'c mut Command, home: &Path) -> &'c mut Command {
    command
        .env("XDG_RUNTIME_DIR", home)
        .env("XDG_CONFIG_HOME", home.join("config"))
        .env("XDG_STATE_HOME", home.join("state"))
        .env("XDG_CACHE_HOME", home.join("cache"))
        .env("HOME", home)
        .env(
            "ALSA_CONFIG_PATH",
            format!(
                "/usr/share/alsa/alsa.conf:{}",
                home.join("asound.conf").display()
            ),
        )
        .stderr(Stdio::null())
}

impl Kitchen {
    fn new(engine: &str) -> Self {
        let home = std::env::temp_dir().join(format!("commis-first-sound-{}", std::process::id()));
        std::fs::create_dir_all(&home).expect("a folder");
        let write =
            |name: &str, text: &str| std::fs::write(home.join(name), text).expect("written");
        write(
            "asound.conf",
            "pcm.!default { type pulse }\nctl.!default { type pulse }\n",
        );
        write(
            "settings.toml",
            &format!("[voice]\nengine = \"{engine}\"\n"),
        );
        let pulse = with(&mut Command::new("pulseaudio"), &home)
            .args(["-n", "--daemonize=yes", "--exit-idle-time=-1"])
            .args([
                "--load=module-native-protocol-unix",
                "--load=module-null-sink sink_name=out",
            ])
            .status();
        assert!(
            pulse.is_ok_and(|s| s.success()),
            "pulseaudio is installed by ./setup"
        );
        let mut recorder = with(&mut Command::new("parec"), &home)
            .args([
                "--device=out.monitor",
                "--format=s16le",
                "--channels=1",
                "--latency-msec=10",
            ])
            .arg(format!("--rate={RATE}"))
            .stdout(Stdio::piped())
            .spawn()
            .expect("parec is installed by ./setup");
        let mut sound = recorder.stdout.take().expect("piped");
        let (sender, looks) = channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 2 * LOOK];
            while sound.read_exact(&mut bytes).is_ok() {
                let samples = bytes
                    .chunks_exact(2)
                    .map(|b| i16::from_le_bytes([b[0], b[1]]));
                let loudest = samples.map(i16::saturating_abs).max().unwrap_or(0);
                if sender.send((Instant::now(), loudest)).is_err() {
                    return;
                }
            }
        });
        let mut cook = with(&mut Command::new(env!("CARGO_BIN_EXE_commis")), &home)
            .args([
                "cook",
                "--plain",
                "shared/formulas/seeded-tin-loaf.toml",
                "--settings",
            ])
            .arg(home.join("settings.toml"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let out = BufReader::new(cook.stdout.take().expect("piped"));
        std::thread::spawn(move || out.lines().map_while(Result::ok).for_each(drop));
        let typed = cook.stdin.take().expect("piped");
        Self {
            home,
            cook,
            recorder,
            typed,
            looks,
        }
    }

    fn press(&mut self, key: &str) -> Instant {
        writeln!(self.typed, "key {key}").expect("written");
        Instant::now()
    }

    fn silence(&self) -> Instant {
        let mut since = Instant::now();
        for (at, loudest) in &self.looks {
            if loudest > SOUND {
                since = at;
            } else if at.saturating_duration_since(since) > SILENCE {
                break;
            }
        }
        since
    }

    fn sound(&self, after: Instant) -> Instant {
        let heard = self
            .looks
            .iter()
            .find(|(at, loudest)| *at > after && *loudest > SOUND);
        heard.expect("the recording goes on").0
    }
}

impl Drop for Kitchen {
    fn drop(&mut self) {
        let _ = self.cook.kill();
        let _ = self.recorder.kill();
        let _ = with(&mut Command::new("pulseaudio"), &self.home)
            .arg("--kill")
            .status();
        if let Ok(pid) = std::fs::read_to_string(
            self.home
                .join("speech-dispatcher/pid/speech-dispatcher.pid"),
        ) {
            let _ = Command::new("kill").arg(pid.trim()).status();
        }
        let _ = std::fs::remove_dir_all(&self.home);
    }
}

fn told(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let ms = |d: Duration| d.as_millis();
    println!(
        "{what}: median {} ms, longest {} ms of {}",
        ms(times[times.len() / 2]),
        ms(times[times.len() - 1]),
        times.len()
    );
}

fn main() {
    let engine = std::env::args().skip(1).find(|a| !a.starts_with('-'));
    let mut kitchen = Kitchen::new(engine.as_deref().unwrap_or("natural"));
    kitchen.sound(Instant::now());
    kitchen.silence();
    let (mut answered, mut silenced) = (Vec::new(), Vec::new());
    for _ in 0..TIMES {
        let pressed = kitchen.press("plus");
        let first = kitchen.sound(pressed);
        answered.push(first - pressed);
        // In the middle of it, Backspace: be silent.
        while kitchen
            .looks
            .recv()
            .is_ok_and(|(at, _)| at < first + Duration::from_millis(900))
        {}
        let pressed = kitchen.press("backspace");
        silenced.push(kitchen.silence().saturating_duration_since(pressed));
    }
    told("first sound after a key", answered);
    told("silence after a key", silenced);
}
