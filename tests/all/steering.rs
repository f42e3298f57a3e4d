//! No file steers the terminal or the voice: control characters are refused with their place, and what is printed or
//! spoken is clean of them wherever it came from.

use std::io::{BufRead, BufReader, Write};
use std::os::unix::ffi::OsStrExt;
use std::os::unix::net::UnixListener;

use commis::bench::VoiceSettings;
use commis::say::{Dispatcher, Voice};

use super::program::{LOAF, commis, out, program, run};

/// What steers, as it stands in a file and as it is named.
const STEERING: [(&str, &str); 8] = [
    ("\\u001b[2J", "U+001B"),
    ("\\u0000", "U+0000"),
    ("\\r", "U+000D"),
    ("\u{9b}31m", "U+009B"),
    ("\\u009d0;title\\u0007", "U+009D"),
    ("\u{202e}", "U+202E"),
    ("\\u2066", "U+2066"),
    ("\\u007f", "U+007F"),
];

/// No byte or character of an output steers: C0 but for the end of lines, C1, marks of direction.
fn assert_clean(o: &std::process::Output, what: &str) {
    for bytes in [&o.stdout, &o.stderr] {
        let text = String::from_utf8_lossy(bytes);
        let bad = text.chars().find(|c| {
            (c.is_control() && *c != '\n')
                || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        });
        assert_eq!(bad, None, "{what}: {text:?}");
    }
}

/// A folder for one file.
fn folder(name: &str) -> std::path::PathBuf {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join(format!("{name}-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn formulas_with_control_characters_are_refused_with_their_place() {
    let folder = folder("steering");
    let file = folder.join("bad.toml");
    let path = file.display().to_string();
    let good =
        std::fs::read_to_string(super::rehearsal::root().join(LOAF)).expect("a shipped formula");
    for (bad, named) in STEERING {
        // In the name, in the text of a step, in an ingredient, in what a timer is called.
        for place in ["name = \"", "text = \"", "also = [\"", "say = \""] {
            let Some(at) = good.find(place).map(|at| at + place.len()) else {
                continue;
            };
            let text = format!("{}{bad}{}", &good[..at], &good[at..]);
            std::fs::write(&file, &text).expect("written");
            let line = text[..at].matches('\n').count() + 1;
            let column = text[..at].chars().count()
                - text[..at]
                    .rfind('\n')
                    .map_or(0, |n| text[..=n].chars().count())
                + 1;
            let script = "shared/rehearsals/short.txt";
            for args in [
                vec!["check", &path],
                vec!["weigh", &path],
                vec!["rehearse", &path, script],
                vec!["plan", &path, "--ready-at", "19:30"],
            ] {
                let o = commis(&args, "");
                let told = String::from_utf8_lossy(&o.stderr).into_owned();
                assert_eq!(o.status.code(), Some(2), "{args:?}: {told}");
                let wanted = format!(
                    "bad.toml:{line}:{column}: expected plain text, found the control character {named}"
                );
                assert!(told.contains(&wanted), "{wanted}: {told}");
                assert_clean(&o, &format!("{args:?} {named}"));
            }
            assert_clean(&commis(&["book", &folder.display().to_string()], ""), named);
        }
    }
    let _ = std::fs::remove_dir_all(folder);
}

#[test]
fn scripts_and_settings_with_control_characters_are_refused_with_their_place() {
    let folder = folder("steering-script");
    let script = folder.join("bad.txt");
    std::fs::write(&script, "0:00 say next\n0:01 note é\u{1b}[2J\n").expect("written");
    let o = commis(&["rehearse", LOAF, &script.display().to_string()], "");
    let told = String::from_utf8_lossy(&o.stderr).into_owned();
    assert_eq!(o.status.code(), Some(2));
    assert!(
        told.contains("line 2: column 12: expected plain text, found the control character U+001B"),
        "{told}"
    );
    assert_clean(&o, "a script");
    let settings = folder.join("settings.toml");
    std::fs::write(
        &settings,
        "room = 20\n[listening]\nname = \"com\\u001b[2Jmis\"\n",
    )
    .expect("written");
    let o = commis(
        &[
            "--settings",
            &settings.display().to_string(),
            "ask",
            "how many grams in two cups of flour",
        ],
        "",
    );
    let told = String::from_utf8_lossy(&o.stderr).into_owned();
    assert_eq!(o.status.code(), Some(2));
    assert!(
        told.contains("settings.toml:3: column 12: expected plain text"),
        "{told}"
    );
    assert_clean(&o, "settings");
    let _ = std::fs::remove_dir_all(folder);
}

#[test]
fn what_is_asked_typed_and_named_is_printed_clean() {
    assert_clean(
        &commis(&["ask", "how much \u{1b}[2J is \u{9b}31m it"], ""),
        "a question",
    );
    assert_clean(
        &commis(&["weigh", LOAF, "--pieces", "\u{1b}[2J"], ""),
        "an option",
    );
    let odd = std::ffi::OsStr::from_bytes(b"no-such-\x1b[2J-\xff.toml");
    assert_clean(
        &run(program().arg("check").arg(odd), ""),
        "a file that is not there",
    );
    let o = commis(
        &["understand", LOAF],
        "how much \u{1b}[2Jsalt\nnext\u{202e}\u{9b}31m\n",
    );
    assert_clean(&o, "understand");
    assert_eq!(out(&o).lines().count(), 2);
    for line in out(&o).lines() {
        serde_json::from_str::<serde_json::Value>(line).expect("JSON");
    }
}

/// A fault is shown with its line and carets below it.
#[test]
fn check_points_at_the_fault() {
    let folder = folder("caret");
    let file = folder.join("rolls.toml");
    let text =
        std::fs::read_to_string(super::rehearsal::root().join(LOAF)).expect("a shipped formula");
    let at = text.find("amount = \"").expect("an amount");
    let end = at + text[at..].find('\n').expect("a line");
    std::fs::write(
        &file,
        format!("{}amount = \"7 gg\"{}", &text[..at], &text[end..]),
    )
    .expect("written");
    let o = commis(&["check", &file.display().to_string()], "");
    let told = String::from_utf8_lossy(&o.stderr).into_owned();
    let line = text[..at].matches('\n').count() + 1;
    let gutter = " ".repeat(line.to_string().len());
    let wanted = format!(
        "unknown unit \"gg\"; did you mean \"g\"?\n {gutter} |\n {line} | amount = \"7 gg\"\n {gutter} |          ^^^^^^\n"
    );
    assert!(told.contains(&wanted), "{told}");
    let _ = std::fs::remove_dir_all(folder);
}

/// A line of ours stays one line of the protocol (SSIP), whatever stands in a text or in the name of a voice.
#[test]
fn nothing_breaks_out_of_the_protocol_of_the_desktops_voice() {
    let folder = folder("ssip");
    let socket = folder.join("s");
    let _ = std::fs::remove_file(&socket);
    let listener = UnixListener::bind(&socket).expect("bound");
    let server = std::thread::spawn(move || {
        let (stream, _) = listener.accept().expect("it comes");
        let mut answers = stream.try_clone().expect("cloned");
        let (mut seen, mut data) = (Vec::new(), false);
        for line in BufReader::new(stream).lines().map_while(Result::ok) {
            let answer = match (data, line.trim_end()) {
                (false, "QUIT") => break,
                (false, "SPEAK") => {
                    data = true;
                    "230 OK RECEIVING DATA\r\n"
                }
                (true, ".") => {
                    data = false;
                    "225-7\r\n225 OK MESSAGE QUEUED\r\n"
                }
                (true, _) => "",
                (false, _) => "200 OK\r\n",
            };
            seen.push(line);
            answers.write_all(answer.as_bytes()).expect("it listens");
        }
        seen
    });
    let mut voice = Dispatcher::at(&socket, Some("Linda\r\nSTOP ALL\r\n")).expect("it answers");
    let text = "Salt\r\n.\r\nSTOP ALL\n[[s'i:]] \u{1b}[2J";
    assert!(voice.speak(text, VoiceSettings::default()).is_ok());
    drop(voice);
    let seen = server.join().expect("it ends");
    assert!(
        seen.iter().all(|l| !l.trim().starts_with("STOP ALL")),
        "{seen:?}"
    );
    assert!(
        seen.iter()
            .all(|l| !l.contains("[[") && !l.contains('\u{1b}')),
        "{seen:?}"
    );
    let after = seen
        .iter()
        .position(|l| l.trim_end() == "SPEAK")
        .expect("it speaks");
    assert_eq!(seen[after + 2].trim_end(), ".", "{seen:?}");
    let _ = std::fs::remove_dir_all(folder);
}
