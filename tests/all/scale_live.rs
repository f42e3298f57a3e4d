//! The whole program with a scale at the end of a pipe: it weighs by itself, and writes down what really went in.

use std::fs::OpenOptions;
use std::io::Write;
use std::process::Command;
use std::time::{Duration, Instant};

use super::live::{Kitchen, processor_time};
use super::rehearsal::root;

/// Readings a second, as many scales give them.
const A_SECOND: u32 = 10;

#[test]
fn a_flour_is_weighed_through_a_pipe_and_stands_in_the_log() {
    let kitchen = Kitchen::new("scale-pipe");
    let pipe = kitchen.file("readings", "");
    std::fs::remove_file(&pipe).expect("a fresh file");
    let made = Command::new("mkfifo").arg(&pipe).status();
    assert!(made.is_ok_and(|s| s.success()), "mkfifo");
    let settings = format!("[scale]\ndevice = {:?}\n", pipe.display().to_string());
    let settings = kitchen.file("scale.toml", &settings);
    let formula = root().join("shared/formulas/seeded-tin-loaf.toml");
    let settings = settings.display().to_string();
    let mut session = kitchen.cook_other(&formula, &["--settings", &settings]);
    let mut scale = OpenOptions::new()
        .write(true)
        .open(&pipe)
        .expect("it reads");
    let mut shows = |grams: f64, state: &str| {
        writeln!(scale, "{grams:.1} g {state}").expect("it still reads");
        std::thread::sleep(Duration::from_secs(1) / A_SECOND);
    };
    for _ in 0..10 {
        shows(0.0, "stable");
    }
    session.types("next");
    session.until("Strong white flour: four hundred grams.");
    // A bowl, then a pour with three grams too much, within what is asked for.
    for _ in 0..15 {
        shows(812.0, "stable");
    }
    let (begun, spent) = (Instant::now(), processor_time(session.id()));
    for at in 1..=100 {
        shows(812.0 + f64::from(at) * 4.03, "moving");
    }
    let (lasted, spent) = (begun.elapsed(), processor_time(session.id()) - spent);
    println!("{spent} ticks of 10 ms while {lasted:.1?} were poured");
    for _ in 0..20 {
        shows(1215.0, "stable");
    }
    session.until("Strong white flour in");
    session.types("goodbye");
    session.types("yes");
    session.until("Goodbye.");
    drop(session);
    let journals = kitchen.journals();
    let home = journals.parent().expect("a folder");
    let mut log = Command::new(env!("CARGO_BIN_EXE_commis"));
    log.args(["log", "--json"]).env("XDG_STATE_HOME", home);
    log.env("XDG_CONFIG_HOME", home.join("config"));
    let out = log.output().expect("the program starts");
    let told: serde_json::Value = serde_json::from_slice(&out.stdout).expect("JSON");
    let went_in = &told["went_in"][0];
    assert_eq!(went_in["ingredient"], "strong white flour", "{told}");
    assert_eq!(went_in["wanted_g"], 400.0);
    assert_eq!(went_in["really_g"], 403.0);
}
