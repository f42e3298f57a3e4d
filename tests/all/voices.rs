//! The voices at work: an alarm passes over espeak-ng at once; a real speech-dispatcher plays into a virtual sound card.

use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use commis::bench::{Chime, Effect, VoiceSettings, Why};
use commis::say::{Dispatcher, Espeak, Mouth, MouthNews, SayError, Sink, Sound, Voice};

struct Desktop {
    home: PathBuf,
    sound: Child,
    daemon: Child,
}

/// A session with the loaf in plain mode.
#[cfg(feature = "sound")]
fn cooking(desktop: &Desktop) -> Child {
    at_home(super::program::program(), &desktop.home)
        .args(["cook", "--plain", super::program::LOAF])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}

fn at_home(mut command: Command, home: &std::path::Path) -> Command {
    for variable in [
        "XDG_RUNTIME_DIR",
        "XDG_CONFIG_HOME",
        "XDG_CACHE_HOME",
        "XDG_STATE_HOME",
        "HOME",
    ] {
        command.env(variable, home);
    }
    command.stdin(Stdio::null());
    command
}

impl Desktop {
    fn start(name: &str) -> Self {
        let home = std::env::temp_dir().join(format!("commis-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&home);
        std::fs::create_dir_all(&home).expect("a folder");
        let program = |name: &str| {
            let mut command = at_home(Command::new(name), &home);
            command.stdout(Stdio::null()).stderr(Stdio::null());
            command
        };
        let sound = program("pulseaudio")
            .args(["-n", "--daemonize=no", "--exit-idle-time=-1"])
            .args([
                "--load=module-native-protocol-unix",
                "--load=module-null-sink sink_name=hall",
                "--load=module-null-sink sink_name=kitchen",
            ])
            .spawn()
            .expect("pulseaudio is installed by ./setup");
        wait_for(&home.join("pulse/native"));
        let daemon = program("speech-dispatcher")
            .args([
                "--run-single",
                "--communication-method",
                "unix_socket",
                "--socket-path",
            ])
            .arg(home.join("voice"))
            .spawn()
            .expect("speech-dispatcher is installed by ./setup");
        wait_for(&home.join("voice"));
        Self {
            home,
            sound,
            daemon,
        }
    }

    fn voice(&self) -> Dispatcher {
        Dispatcher::at(&self.home.join("voice"), Some("en-gb")).expect("it answers")
    }
}

fn wait_for(path: &std::path::Path) {
    let start = Instant::now();
    while std::os::unix::net::UnixStream::connect(path).is_err() {
        assert!(
            start.elapsed() < Duration::from_secs(20),
            "{} never came",
            path.display()
        );
        std::thread::sleep(Duration::from_millis(20));
    }
}

impl Drop for Desktop {
    fn drop(&mut self) {
        for child in [&mut self.daemon, &mut self.sound] {
            let _ = child.kill();
            let _ = child.wait();
        }
        let _ = std::fs::remove_dir_all(&self.home);
    }
}

/// How long it goes on playing, up to ten seconds.
fn plays(voice: &Dispatcher) -> Duration {
    let start = Instant::now();
    while voice.busy() && start.elapsed() < Duration::from_secs(10) {
        std::thread::sleep(Duration::from_millis(2));
    }
    start.elapsed()
}

const LONG: &str =
    "Strong white flour: six hundred grams. Wholemeal flour: one hundred and fifty grams.";

#[test]
fn it_speaks_to_the_end_and_is_silent_when_told() {
    let desktop = Desktop::start("desktop-voice");
    let mut voice = desktop.voice();
    let said = voice.speak("Weigh eleven.", VoiceSettings::default());
    assert!(matches!(said, Ok(None)), "it plays by itself");
    let whole = plays(&voice);
    assert!(
        whole > Duration::from_millis(400) && whole < Duration::from_secs(8),
        "{whole:?}"
    );
    // A line that begins with a dot, and a step of every setting.
    let settings = VoiceSettings {
        volume: -2,
        rate: 4,
        pitch: 1,
    };
    voice
        .speak("..5 of a cup.\r\nQUIT", settings)
        .expect("it answers");
    assert!(plays(&voice) > Duration::from_millis(400));
    // The best of three: this machine may have other things to do.
    let took = (0..3).map(|_| {
        let said = voice.speak(LONG, VoiceSettings::default());
        assert!(said.is_ok(), "it answers");
        std::thread::sleep(Duration::from_millis(700));
        assert!(voice.busy());
        let told = Instant::now();
        voice.stop();
        plays(&voice);
        told.elapsed()
    });
    let best = took.min().unwrap_or_default();
    assert!(best < Duration::from_millis(250), "silent after {best:?}");
}

/// Plays in real time, and writes down when.
struct Clocked(Option<Instant>, Arc<Mutex<Vec<Instant>>>);

impl Sink for Clocked {
    fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
        self.1.lock().expect("one thread").push(Instant::now());
        self.0 = Some(Instant::now() + Duration::from_millis(sound.millis()));
        Ok(())
    }
    fn busy(&self) -> bool {
        self.0.is_some_and(|t| Instant::now() < t)
    }
    fn stop(&mut self) {
        self.0 = None;
    }
}

fn say(text: &str) -> Effect {
    Effect::Say {
        text: text.to_owned(),
        why: Why::Answer,
    }
}

/// A key or an alarm stops speech within a tenth of a second wherever it comes, in the making of a sentence too.
#[test]
fn an_alarm_passes_over_speech_within_a_tenth_of_a_second() {
    let played = Arc::new(Mutex::new(Vec::new()));
    let espeak = Espeak::new(Some("en-gb")).expect("espeak-ng is installed by ./setup");
    let sink = Box::new(Clocked(None, played.clone()));
    let (mouth, _news) = Mouth::start(vec![Box::new(espeak)], VoiceSettings::default(), sink, None);
    let mut took: Vec<Duration> = (0..9)
        .map(|i| {
            mouth.play(&say(&"Weigh it. Add it. ".repeat(4)));
            std::thread::sleep(Duration::from_millis(30 * i));
            let alarm = Instant::now();
            mouth.play(&Effect::Chime {
                chime: Chime::Due,
                urgency: 0,
            });
            std::thread::sleep(Duration::from_millis(400));
            let rung = played
                .lock()
                .expect("one thread")
                .iter()
                .rfind(|at| **at > alarm)
                .copied();
            mouth.play(&Effect::Hush);
            rung.expect("it rings") - alarm
        })
        .collect();
    took.sort();
    assert!(took[2] < Duration::from_millis(100), "{took:?}");
}

/// A chime waits for the end of what the desktop says, an alarm for nothing; and when the desktop's voice goes, the
/// other speaks in its place.
#[test]
fn chimes_keep_their_turn_and_another_voice_takes_over() {
    let mut desktop = Desktop::start("desktop-turns");
    let played = Arc::new(Mutex::new(Vec::new()));
    let voices: Vec<Box<dyn Voice>> = vec![
        Box::new(desktop.voice()),
        Box::new(Espeak::new(Some("en-gb")).expect("espeak-ng is installed by ./setup")),
    ];
    let sink = Box::new(Clocked(None, played.clone()));
    let (mouth, news) = Mouth::start(voices, VoiceSettings::default(), sink, None);
    let ring = |chime| Effect::Chime { chime, urgency: 0 };
    let waits = |n: usize| {
        let start = Instant::now();
        while played.lock().expect("one thread").len() < n {
            assert!(start.elapsed() < Duration::from_secs(15), "no sound {n}");
            std::thread::sleep(Duration::from_millis(2));
        }
        start.elapsed()
    };
    mouth.play(&say("Weigh eleven."));
    mouth.play(&ring(Chime::Asked));
    assert!(
        waits(1) > Duration::from_millis(400),
        "the chime rang over the words"
    );
    mouth.play(&say(LONG));
    std::thread::sleep(Duration::from_millis(900));
    mouth.play(&ring(Chime::Due));
    let took = waits(2);
    assert!(
        took < Duration::from_millis(1500),
        "the alarm rang after {took:?}"
    );
    desktop.daemon.kill().expect("killed");
    desktop.daemon.wait().expect("gone");
    mouth.play(&say("Are you there?"));
    waits(3);
    let other = news
        .try_iter()
        .any(|n| matches!(n, MouthNews::OtherVoice(SayError::Dispatcher(_))));
    assert!(other, "the cook is told");
}

/// Devices of the sound server are listed with what to write, and those that are named are used, not the usual ones.
#[cfg(feature = "sound")]
#[test]
fn a_named_microphone_and_loudspeaker_are_used() {
    let desktop = Desktop::start("named-devices");
    let folder = desktop.home.join("commis");
    std::fs::create_dir_all(&folder).expect("made");
    let ready = at_home(super::program::program(), &desktop.home)
        .arg("ready")
        .output()
        .expect("it ends");
    let ready = String::from_utf8_lossy(&ready.stdout).into_owned();
    assert!(
        ready.contains("for the settings: [loudspeaker] name = \"kitchen\" ("),
        "{ready}"
    );
    assert!(!ready.contains("kitchen.monitor"), "{ready}");
    let settings =
        "[listening]\nmicrophone = \"kitchen.monitor\"\n[loudspeaker]\nname = \"kitchen\"\n";
    std::fs::write(folder.join("settings.toml"), settings).expect("written");
    let mut child = cooking(&desktop);
    let mut lines = super::program::Lines::of(&mut child);
    lines.until("(listening through kitchen.monitor)");
    let told = |what: &str| -> Vec<serde_json::Value> {
        let told = at_home(Command::new("pactl"), &desktop.home)
            .args(["-f", "json", "list", what])
            .output();
        serde_json::from_slice(&told.expect("pactl is installed by ./setup").stdout).expect("JSON")
    };
    let at = |devices: &str, streams: &str, key: &str| {
        let kitchen = told(devices)
            .into_iter()
            .find(|d| d["name"].as_str().is_some_and(|n| n.starts_with("kitchen")));
        let index = kitchen.expect("it is there")["index"].clone();
        let mut streams = told(streams);
        // The desktop's own voice may be sounding still.
        streams.retain(|s| s["properties"]["application.process.binary"] == "commis");
        assert!(
            !streams.is_empty() && streams.iter().all(|s| s[key] == index),
            "{streams:?}"
        );
    };
    at("sinks", "sink-inputs", "sink");
    at("sources", "source-outputs", "source");
    child.kill().expect("killed");
    child.wait().expect("gone");
}

/// A loudspeaker that is not there yet is told of, and is used when it comes.
#[cfg(feature = "sound")]
#[test]
fn a_loudspeaker_that_comes_later_is_taken_up() {
    let desktop = Desktop::start("late-loudspeaker");
    let folder = desktop.home.join("commis");
    std::fs::create_dir_all(&folder).expect("made");
    let settings = "[loudspeaker]\nname = \"radio\"\n";
    std::fs::write(folder.join("settings.toml"), settings).expect("written");
    let mut child = cooking(&desktop);
    let mut typed = child.stdin.take().expect("piped");
    let mut lines = super::program::Lines::of(&mut child);
    lines.until("Loudspeaker: `radio` is not connected; there is");
    let came = at_home(Command::new("pactl"), &desktop.home)
        .args(["load-module", "module-null-sink", "sink_name=radio"])
        .stdout(Stdio::null())
        .status();
    assert!(
        came.is_ok_and(|s| s.success()),
        "pactl is installed by ./setup"
    );
    std::thread::sleep(Duration::from_secs(2));
    std::io::Write::write_all(&mut typed, b"where am i\n").expect("written");
    let said = lines.until("The loudspeaker is back.");
    assert_eq!(said.matches("is not connected").count(), 1, "{said}");
    child.kill().expect("killed");
    child.wait().expect("gone");
}
