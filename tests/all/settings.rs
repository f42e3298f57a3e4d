//! The settings file at work in the whole program.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use commis::settings::FIRST;

use super::program::{LOAF, Lines, out, program, run};

/// A folder of our own, gone at the end.
pub struct Folder(pub PathBuf);

impl Folder {
    pub fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("commis-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).expect("a folder of our own");
        Self(path)
    }

    pub fn file(&self) -> PathBuf {
        self.0.join("commis/settings.toml")
    }

    pub fn write(&self, text: &str) {
        std::fs::create_dir_all(self.0.join("commis")).expect("made");
        std::fs::write(self.file(), text).expect("written");
    }

    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = program();
        command
            .args(args)
            .env("XDG_CONFIG_HOME", &self.0)
            .env("XDG_STATE_HOME", self.0.join("state"))
            .env("ALSA_CONFIG_PATH", "/dev/null");
        command
    }

    fn ask(&self, args: &[&str]) -> String {
        out(&run(&mut self.command(args), ""))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).expect("it is there")
}

#[test]
fn the_first_run_writes_the_file_and_says_so_once() {
    let folder = Folder::new("first-run");
    let mut ask = folder.command(&["ask", "how many grams in one cup of water"]);
    let said = String::from_utf8_lossy(&run(&mut ask, "").stderr).into_owned();
    let sentence = format!(
        "I have written your settings to {}: change them there.\n",
        folder.file().display()
    );
    assert_eq!(said, sentence);
    assert_eq!(text(&folder.file()), FIRST);
    assert_eq!(run(&mut ask, "").stderr, b"");
}

#[test]
fn region_scale_and_faults() {
    let folder = Folder::new("region");
    folder.write("region = \"us\"\nscale_step = 5.0\n");
    let cup = ["ask", "how many millilitres in one cup"];
    let us = folder.ask(&cup);
    folder.write("region = \"metric\"\nscale_step = 5.0\n");
    let metric = folder.ask(&cup);
    // NIST Handbook 44, appendix C: a cup is 236.588 ml; the metric cup is 250 ml.
    assert!(
        us.contains("thirty seven") && metric.contains("fifty"),
        "{us}{metric}"
    );
    let given = folder.ask(&[&cup[..], &["--region", "us"]].concat());
    assert_eq!(given, us);
    let weighed = folder.ask(&["weigh", LOAF, "--json", "--factor", "0.51"]);
    let list: serde_json::Value = serde_json::from_str(&weighed).expect("JSON");
    assert_eq!(list["lines"][0]["weigh_g"], 205.0, "{weighed}");
    folder.write("regoin = \"us\"\n");
    let bad = run(&mut folder.command(&cup), "");
    assert_eq!(bad.status.code(), Some(2));
    let said = String::from_utf8_lossy(&bad.stderr).into_owned();
    assert!(
        said.contains(
            "settings.toml:1: expected a setting, found `regoin`; did you mean `region`?"
        ),
        "{said}"
    );
    let gone = run(
        folder.command(&cup).args(["--settings", "no-such.toml"]),
        "",
    );
    assert_eq!(gone.status.code(), Some(2));
}

#[test]
fn a_rehearsal_is_the_same_whatever_is_set() {
    let folder = Folder::new("rehearse");
    let args = ["rehearse", LOAF, "shared/rehearsals/short.txt"];
    let plain = folder.ask(&args);
    folder.write("verbosity = \"brief\"\nscale_step = 0.1\n");
    assert_eq!(folder.ask(&args), plain);
    let file = folder.file().display().to_string();
    let set = folder.ask(&[&args[..], &["--settings", &file]].concat());
    assert!(
        plain.contains("yeast: eleven grams") && set.contains("yeast: ten and a half grams"),
        "{set}"
    );
}

/// What is said of the voice in one session is there in the next, beside the remarks; a file that cannot be written is
/// told once.
#[test]
fn the_voice_is_remembered_and_trouble_is_told_once() {
    let folder = Folder::new("voice");
    let mut child = folder
        .command(&["cook", "--plain", "--fresh", LOAF])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let mut pipe = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    lines.until("I have written a settings file");
    // No sound here: what there is not has been told, and the rest is said once.
    lines.until("I found no device: the keys of this terminal will do.");
    pipe.write_all(b"louder\nkey dot\nkey 8\nkey 3\nfewer words\n")
        .expect("written");
    lines.until("Fewer words.");
    pipe.write_all(b"where am i\n").expect("written");
    lines.until("At the beginning");
    let kept = text(&folder.file());
    for line in [
        "volume = 1",
        "rate = -1",
        "pitch = 0",
        "verbosity = \"brief\"",
    ] {
        assert!(kept.contains(&format!("\n{line}\n")), "{line}:\n{kept}");
    }
    let remarks = |t: &str| t.lines().filter(|l| l.starts_with('#')).count();
    assert_eq!(remarks(&kept), remarks(FIRST));
    // The folder becomes a file: nothing can be written there, whoever runs this.
    std::fs::remove_dir_all(folder.0.join("commis")).expect("removed");
    std::fs::write(folder.0.join("commis"), "").expect("written");
    pipe.write_all(b"louder\nlouder\ngoodbye\nyes\n")
        .expect("written");
    let said = lines.until("Goodbye.");
    drop(pipe);
    child.wait().expect("it ends");
    assert_eq!(
        said.matches("I cannot keep this for next time").count(),
        1,
        "{said}"
    );
}

/// A voice that is not there, of either engine, is told of, and another speaks.
#[test]
fn a_missing_voice_is_told_and_another_speaks() {
    let folder = Folder::new("voices");
    for (settings, said) in [
        (
            "engine = \"espeak-ng\"\nname = \"nobody\"",
            "Espeak-ng has no voice called `nobody`. Another voice speaks in its place.",
        ),
        ("engine = \"speech-dispatcher\"", "Speech-dispatcher: "),
    ] {
        folder.write(&format!("[voice]\n{settings}\n"));
        let mut child = folder
            .command(&["cook", "--plain", "--fresh", LOAF])
            // No daemon may be started from here.
            .env("SPEECHD_ADDRESS", "unix_socket:/dev/null/none")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let mut pipe = child.stdin.take().expect("piped");
        let mut lines = Lines::of(&mut child);
        lines.until(said);
        pipe.write_all(b"goodbye\nyes\n").expect("written");
        let all = lines.until("Goodbye.");
        assert!(
            all.contains("Another voice speaks") && !all.contains("read the screen.\nVoice"),
            "{all}"
        );
        drop(pipe);
        child.wait().expect("it ends");
    }
}

/// A session that is taken up again goes on with the settings that it began with, whatever the file says by then.
#[test]
fn a_session_taken_up_keeps_its_settings() {
    let folder = Folder::new("resume-settings");
    let mut said = Vec::new();
    for (settings, waits) in [
        ("plain_line = 0\nscale_step = 5.0\n", "begin"),
        ("plain_line = 0\nscale_step = 1.0\n", "I am back."),
    ] {
        folder.write(settings);
        let mut child = folder
            .command(&["cook", "--plain", LOAF])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let mut pipe = child.stdin.take().expect("piped");
        let mut lines = Lines::of(&mut child);
        lines.until(waits);
        pipe.write_all(b"how much yeast\n").expect("written");
        let all = lines.until("Seven grams");
        said.push(all.lines().last().unwrap_or_default().to_owned());
        child.kill().expect("killed");
        child.wait().expect("gone");
        drop(pipe);
    }
    assert!(said[0].contains("weigh five"), "{said:?}");
    let answer = |line: &str| {
        line.trim_start_matches(|c: char| !c.is_alphabetic())
            .to_owned()
    };
    assert_eq!(answer(&said[0]), answer(&said[1]));
}
