//! The program as a whole: bad input gets a sentence and exit code 2, output is stable, nothing panics.

use std::io::Write;
use std::process::{Command, Output, Stdio};

use super::rehearsal::root;

/// The program, with settings of its own: those of whoever runs the tests are left alone.
pub fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_commis"));
    let config = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("config");
    command.env("XDG_CONFIG_HOME", config).current_dir(root());
    command
}

pub fn commis(args: &[&str], input: &str) -> Output {
    run(program().args(args), input)
}

pub fn run(command: &mut Command, input: &str) -> Output {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child
        .stdin
        .take()
        .expect("piped")
        .write_all(input.as_bytes())
        .expect("written");
    child.wait_with_output().expect("it ends")
}

pub fn out(o: &Output) -> String {
    String::from_utf8_lossy(&o.stdout).into_owned()
}

pub const LOAF: &str = "shared/formulas/seeded-tin-loaf.toml";

#[test]
fn bad_input_is_a_sentence_and_code_2() {
    for (args, said) in [
        (
            vec!["weigh", "no-such-file.toml"],
            "no-such-file.toml: no such file",
        ),
        (vec!["weigh", LOAF, "--portions", "-3"], ""),
        (
            vec!["weigh", LOAF, "--portions=0"],
            "--portions: expected a number above 0, found `0`",
        ),
        (
            vec!["weigh", LOAF, "--pieces", "eight"],
            "--pieces: expected a number and a mass such as `8 x 95 g`, found `eight`",
        ),
        (
            vec!["weigh", LOAF, "--tin", "big"],
            "--tin: expected a size",
        ),
        (vec!["rehearse", LOAF, LOAF], "line 2: expected a time"),
        (vec!["check", "README.md"], "README.md:"),
        (vec!["ask", "why is the sky blue"], "I do not understand"),
        (vec!["ask", "how many grams in two cups of gravel"], ""),
    ] {
        let o = commis(&args, "");
        let err = String::from_utf8_lossy(&o.stderr).into_owned();
        assert_eq!(o.status.code(), Some(2), "{args:?}: {err}");
        assert!(err.contains(said), "{args:?}: {err}");
        assert!(!err.contains("panicked"), "{args:?}: {err}");
    }
}

#[test]
fn understand_prints_one_object_a_line() {
    let o = commis(
        &["understand", LOAF],
        "how much salt\n\nbanana spaceship\nstart a timer for ten minutes\ncommis next\nokay commis\n",
    );
    let lines: Vec<serde_json::Value> = out(&o)
        .lines()
        .map(|l| serde_json::from_str(l).expect("JSON"))
        .collect();
    assert_eq!(lines.len(), 5);
    assert_eq!(lines[0]["intent"], "how_much");
    assert_eq!(lines[0]["slots"]["ingredient"], "salt");
    assert!(lines[1]["intent"].is_null() && lines[1]["question"].is_string());
    assert_eq!(lines[2]["slots"]["lasts"], 600_000);
    assert_eq!(lines[3]["intent"], "next");
    // It calls the program, and agrees to nothing.
    assert_eq!(lines[4]["intent"], "start_listening");
}

#[test]
fn rehearse_is_stable_json_twice_the_same() {
    let args = ["rehearse", LOAF, "shared/rehearsals/short.txt", "--json"];
    let (a, b) = (commis(&args, ""), commis(&args, ""));
    assert_eq!(a.stdout, b.stdout);
    for line in out(&a).lines() {
        let v: serde_json::Value = serde_json::from_str(line).expect("JSON");
        assert!(v["t"].is_number() && v["text"].is_string(), "{line}");
        let kind = v["kind"].as_str().expect("a kind");
        assert!(
            [
                "heard",
                "understood",
                "said",
                "chime",
                "timer",
                "took",
                "weighed",
                "load",
                "shown",
                "note",
                "error"
            ]
            .contains(&kind),
            "{line}"
        );
    }
}

#[test]
fn weigh_adds_up() {
    let o = commis(&["weigh", LOAF, "--factor", "1.5", "--json"], "");
    let v: serde_json::Value = serde_json::from_str(&out(&o)).expect("JSON");
    assert_eq!(v["lines"][0]["weigh_g"], 600.0);
    assert_eq!(v["hydration"].as_f64().map(f64::round), Some(68.0));
}

#[test]
fn the_readme_shows_what_really_happens() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let o = commis(&["rehearse", LOAF, "shared/rehearsals/short.txt"], "");
    assert!(
        readme.contains(out(&o).trim_end()),
        "the transcript in README.md is old: paste\n{}",
        out(&o)
    );
    let plan = program()
        .args([
            "plan",
            LOAF,
            "--from",
            "2026-11-25 12:00",
            "--ready-at",
            "19:30",
        ])
        .env("TZ", "UTC")
        .env("LC_ALL", "C")
        .env("XDG_STATE_HOME", "/nonexistent")
        .output()
        .expect("it runs");
    assert!(
        readme.contains(out(&plan).trim_end()),
        "the plan in README.md is old: paste\n{}",
        out(&plan)
    );
    assert!(
        readme.contains(commis::keypad::card_table().trim_end()),
        "the table of keys in README.md is old: paste\n{}",
        commis::keypad::card_table()
    );
}

/// A caution that the author forgot is attached, and told to be the program's.
#[test]
fn a_caution_that_the_author_forgot_is_marked_as_added() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (formula, script) = (folder.join("forgot.toml"), folder.join("forgot.txt"));
    let text = std::fs::read_to_string(root().join(LOAF)).expect("a shipped formula");
    let forgot: Vec<&str> = text
        .lines()
        .filter(|line| !line.starts_with("cautions"))
        .collect();
    std::fs::write(&formula, forgot.join("\n")).expect("written");
    std::fs::write(&script, "0:00 say go to step eight\n").expect("written");
    let (formula, script) = (formula.display().to_string(), script.display().to_string());
    let printed = out(&commis(&["check", &formula], ""));
    assert!(
        printed.contains(": step 8, Bake: the program adds a caution: The tin is hot:"),
        "{printed}"
    );
    let said = out(&commis(&["rehearse", &formula, &script], ""));
    assert!(said.contains("Careful. I add: The tin is hot:"), "{said}");
    let said = out(&commis(&["check", LOAF], ""));
    assert!(!said.contains("adds a caution"), "{said}");
}

/// A word that the model lacks is told with another name of the same thing that it does know.
#[cfg(feature = "recogniser")]
#[test]
fn check_names_another_word_for_one_that_cannot_be_heard() {
    let formula = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("unheard.toml");
    let text = std::fs::read_to_string(root().join("shared/formulas/vegetable-soup.toml"))
        .expect("a shipped formula")
        .replace("celeriac", "zibrelwort")
        .replace(
            "id = \"zibrelwort\"",
            "id = \"zibrelwort\"\nalso = [\"celery root\"]",
        );
    std::fs::write(&formula, text).expect("written");
    let o = commis(&["check", &formula.display().to_string()], "");
    assert!(
        out(&o)
            .contains("zibrelwort: the speech model does not know `zibrelwort`: say `celery root`"),
        "{}",
        out(&o)
    );
}

/// A live session by typed lines: killed without a word, taken up again with the true time.
#[test]
fn a_killed_session_is_taken_up_with_its_timers() {
    let home = std::env::temp_dir().join(format!("commis-resume-{}", std::process::id()));
    let start = || {
        program()
            .args(["cook", "--plain", LOAF])
            .env("XDG_STATE_HOME", &home)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts")
    };
    let mut first = start();
    let mut pipe = first.stdin.take().expect("piped");
    pipe.write_all(b"next\nit's in\nstart a timer for ten minutes\n")
        .expect("written");
    let mut lines = Lines::of(&mut first);
    lines.until("Timer one started");
    first.kill().expect("killed");
    first.wait().expect("gone");
    let mut second = start();
    let mut pipe = second.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut second);
    lines.until("I am back.");
    pipe.write_all(b"how long is left\nwhere am I\ngoodbye\nyes\n")
        .expect("written");
    let said = lines.until("Goodbye.");
    drop(pipe);
    second.wait().expect("it ends");
    let _ = std::fs::remove_dir_all(&home);
    assert!(said.contains("Timer one: ten minutes left"), "{said}");
    assert!(said.contains("Step one of nine"), "{said}");
    assert!(
        said.contains("Wholemeal flour: one hundred grams"),
        "{said}"
    );
}

/// The lines that a session prints, waited for.
pub struct Lines {
    printed: std::sync::mpsc::Receiver<String>,
    seen: String,
    /// What was asked for so far ends here.
    asked: usize,
}

impl Lines {
    /// Of a child with a piped standard output.
    pub fn of(child: &mut std::process::Child) -> Self {
        let out = child.stdout.take().expect("piped");
        let (sender, lines) = std::sync::mpsc::channel();
        std::thread::spawn(move || {
            for line in std::io::BufRead::lines(std::io::BufReader::new(out)).map_while(Result::ok)
            {
                if sender.send(line).is_err() {
                    return;
                }
            }
        });
        Self {
            printed: lines,
            seen: String::new(),
            asked: 0,
        }
    }

    /// Everything that was asked for so far.
    pub fn so_far(&self) -> &str {
        &self.seen
    }

    /// Everything up to a line with which `text` has come, over however many lines; fails after two minutes.
    pub fn until(&mut self, text: &str) -> String {
        let end = std::time::Instant::now() + std::time::Duration::from_mins(2);
        loop {
            let left = end.saturating_duration_since(std::time::Instant::now());
            match self.printed.recv_timeout(left) {
                Ok(line) => {
                    // A line that ends without a stop is broken for the display and goes on in the next.
                    let ends = line.ends_with(['.', '?', '!', ')']);
                    self.seen.push_str(&line);
                    self.seen.push(if ends { '\n' } else { ' ' });
                    if self.seen[self.asked..].replace('\n', " ").contains(text) {
                        self.asked = self.seen.len();
                        return self.seen.clone();
                    }
                }
                Err(e) => panic!("`{text}` never came ({e}):\n{}", self.seen),
            }
        }
    }
}

/// The card in every form, the words for a shell and the page for `man`.
#[test]
fn the_card_and_what_the_shell_wants() {
    let svg = out(&commis(&["keys", "--svg"], ""));
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
    assert!(out(&commis(&["keys", "--html"], "")).starts_with("<!DOCTYPE html>"));
    let wav = std::env::temp_dir().join(format!("commis-card-{}.wav", std::process::id()));
    let path = wav.display().to_string();
    let spoken = commis(&["keys", "--speak", "--record", &path], "");
    let length = std::fs::metadata(&wav).expect("a recording").len();
    let _ = std::fs::remove_file(&wav);
    // 22,050 samples of two bytes a second; a card of so many sentences takes more than a minute.
    assert!(length > 60 * 2 * 22_050, "{length} bytes: {}", out(&spoken));
    for (args, code) in [
        (["keys", "--svg", "--html"], 2),
        (["keys", "--record", "x.wav"], 2),
    ] {
        assert_eq!(commis(&args, "").status.code(), Some(code), "{args:?}");
    }
    for shell in ["bash", "zsh", "fish"] {
        let words = out(&commis(&["completions", shell], ""));
        assert!(
            words.contains("rehearse") && words.contains("portions"),
            "{shell}"
        );
    }
    let man = out(&commis(&["man"], ""));
    assert!(
        man.starts_with(".ie \\n(.g .ds Aq")
            && man.contains(".SH \"COOK\"")
            && !man.contains("cook(1)"),
        "{man}"
    );
}
