//! Real audio: recorded orders through the real recogniser, and through a virtual sound card into a live session.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use super::rehearsal::root;

fn hear(files: &[&str]) -> std::process::Output {
    super::program::program()
        .args(["hear", "--json", "shared/formulas/seeded-tin-loaf.toml"])
        .args(files)
        .output()
        .expect("the program starts")
}

#[test]
fn recorded_orders_are_understood_and_talk_is_not() {
    let orders = [
        ("next", "next"),
        ("how_much_salt", "how_much"),
        ("have_i_added_the_salt", "have_added"),
        ("half_the_water", "how_much"),
        ("one_and_a_half", "scale"),
        ("ten_minute_timer", "start_timer"),
        ("how_long_is_left", "time_left"),
        ("add_five_minutes", "add_time"),
        ("where_am_i", "where_am_i"),
        ("go_to_step_five", "go_to_step"),
        ("yes", "yes"),
    ];
    let files: Vec<String> = orders
        .iter()
        .map(|(f, _)| format!("shared/rehearsals/clips/{f}.wav"))
        .collect();
    let o = hear(&files.iter().map(String::as_str).collect::<Vec<_>>());
    let text = String::from_utf8_lossy(&o.stdout).into_owned();
    for (line, (file, intent)) in text.lines().zip(orders) {
        let v: serde_json::Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(v["intent"], intent, "{file}: {line}");
    }
    assert_eq!(text.lines().count(), orders.len());
    let talk = hear(&["shared/rehearsals/clips/talk.wav"]);
    let v: serde_json::Value = serde_json::from_slice(&talk.stdout).expect("JSON");
    assert!(v["intent"].is_null(), "{v}");
}

#[test]
fn what_is_no_sound_is_refused_in_a_sentence() {
    let o = hear(&["README.md", "no-such.wav"]);
    assert_eq!(o.status.code(), Some(2));
    let err = String::from_utf8_lossy(&o.stderr).into_owned();
    assert!(err.contains("README.md: expected a WAV file"), "{err}");
    assert!(err.contains("no-such.wav: cannot be read"), "{err}");
}

/// Speech made now by espeak-ng, at its own rate of 22,050 Hz, must go through the resampler and be heard as speech.
#[test]
fn a_fresh_synthetic_voice_at_another_rate_is_decoded() {
    let file = std::env::temp_dir().join(format!("commis-espeak-{}.wav", std::process::id()));
    let made = Command::new("espeak-ng")
        .args(["-w", &file.display().to_string(), "how much salt"])
        .status();
    assert!(
        made.is_ok_and(|s| s.success()),
        "espeak-ng is installed by ./setup"
    );
    let o = hear(&[&file.display().to_string()]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).expect("JSON");
    let _ = std::fs::remove_file(&file);
    assert!(v["text"].as_str().is_some_and(|t| !t.is_empty()), "{v}");
}

fn run(command: &mut Command) -> bool {
    command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|s| s.success())
}

/// A virtual sound card: WAVs are played into it, and `commis cook` hears them through cpal, 'stop' while it speaks.
#[test]
fn a_live_session_hears_through_a_virtual_sound_card() {
    let home = std::env::temp_dir().join(format!("commis-pulse-{}", std::process::id()));
    std::fs::create_dir_all(&home).expect("a folder");
    let conf = home.join("asound.conf");
    std::fs::write(
        &conf,
        "pcm.!default { type pulse }\nctl.!default { type pulse }\n",
    )
    .expect("written");
    let alsa = format!("/usr/share/alsa/alsa.conf:{}", conf.display());
    let with = |c: &mut Command, home: &Path| {
        c.env("XDG_RUNTIME_DIR", home)
            .env("HOME", home)
            .env("ALSA_CONFIG_PATH", &alsa)
            .env("XDG_STATE_HOME", home.join("state"));
    };
    let pulse = |args: &[&str]| {
        let mut c = Command::new(args[0]);
        c.args(&args[1..]);
        with(&mut c, &home);
        run(&mut c)
    };
    assert!(
        pulse(&[
            "pulseaudio",
            "-n",
            "--daemonize=yes",
            "--exit-idle-time=-1",
            "--load=module-native-protocol-unix",
            "--load=module-null-sink sink_name=kitchen_mic rate=16000 channels=1",
            "--load=module-null-sink sink_name=kitchen_out",
        ]),
        "pulseaudio is installed by ./setup"
    );
    assert!(pulse(&[
        "pactl",
        "set-default-source",
        "kitchen_mic.monitor"
    ]));
    assert!(pulse(&["pactl", "set-default-sink", "kitchen_out"]));
    let mut cook = super::program::program();
    cook.args(["cook", "--plain", "shared/formulas/seeded-tin-loaf.toml"]);
    with(&mut cook, &home);
    std::fs::create_dir_all(home.join("commis")).expect("a folder");
    let settings = "[listening]\nattention = \"open\"\n";
    std::fs::write(home.join("commis/settings.toml"), settings).expect("written");
    cook.env("XDG_CONFIG_HOME", &home);
    let mut child = cook
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut pipe = child.stdin.take().expect("piped");
    let mut lines = super::program::Lines::of(&mut child);
    lines.until("listening through");
    // The welcome is spoken first, and while it speaks it obeys 'stop' alone: each clip is played until it is heard.
    let said_until = |lines: &mut super::program::Lines, clip: &str, line: &str, pause: u64| {
        let clip = root().join("shared/rehearsals/clips").join(clip);
        let clip = clip.display().to_string();
        let heard = std::sync::atomic::AtomicBool::new(false);
        std::thread::scope(|s| {
            s.spawn(|| {
                for _ in 0..20 {
                    std::thread::sleep(Duration::from_millis(pause));
                    if heard.load(std::sync::atomic::Ordering::Relaxed) {
                        return;
                    }
                    pulse(&["paplay", "--device=kitchen_mic", &clip]);
                }
            });
            let said = lines.until(line);
            heard.store(true, std::sync::atomic::Ordering::Relaxed);
            said
        })
    };
    let said = said_until(&mut lines, "next.wav", "Step one.", 3000);
    said_until(&mut lines, "stop.wav", "\u{201c}stop\u{201d}", 1500);
    // A note: what is said after it is kept as it was said, is no order, and is for the cook alone.
    writeln!(pipe, "make a note").expect("it still reads");
    lines.until("Say your note.");
    said_until(&mut lines, "how_much_salt.wav", "Noted", 4000);
    let notes = home.join("state/commis/notes");
    let names = std::fs::read_dir(&notes).expect("a folder of notes");
    let notes: Vec<_> = names.flatten().map(|name| name.path()).collect();
    assert_eq!(notes.len(), 1, "{notes:?}");
    let mode = |path: &Path| {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(path).expect("it is there");
        about.permissions().mode() & 0o777
    };
    assert_eq!(mode(&notes[0]), 0o600);
    assert_eq!(mode(notes[0].parent().expect("a folder")), 0o700);
    let sound = commis::say::from_flac(&std::fs::read(&notes[0]).expect("it is there"));
    let sound = sound.expect("FLAC");
    let seconds = sound.samples.len() as f64 / f64::from(sound.rate);
    assert!((0.5..8.0).contains(&seconds), "{seconds} s");
    writeln!(pipe, "play my notes").expect("it still reads");
    let said = format!("{said}{}", lines.until("Your note: how much salt."));
    child.kill().expect("killed");
    child.wait().expect("gone");
    drop(pipe);
    pulse(&["pulseaudio", "--kill"]);
    let _ = std::fs::remove_dir_all(&home);
    // The order is asserted by what it means, Step one. A loaded machine has heard 'next step' in the same clip.
    let heard = said.contains("\u{201c}next\u{201d}") || said.contains("\u{201c}next step\u{201d}");
    assert!(heard, "{said}");
}
