//! A formula is written in a dialogue by the whole program: typed, stopped in the middle without a word, gone on with, kept,
//! changed, and the change taken back.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use super::program::{Lines, out, program, run};

/// A home of its own.
struct Home(PathBuf);

impl Home {
    fn new(name: &str) -> Self {
        let home =
            Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&home);
        std::fs::create_dir_all(&home).expect("a folder");
        Self(home)
    }

    fn program(&self) -> Command {
        let mut command = program();
        command
            .env("HOME", &self.0)
            .env("XDG_STATE_HOME", self.0.join("state"))
            .env("XDG_DATA_HOME", self.0.join("data"))
            .env("XDG_CACHE_HOME", self.0.join("cache"))
            .env("XDG_CONFIG_HOME", self.0.join("config"));
        command
    }

    fn run(&self, args: &[&str], input: &str) -> std::process::Output {
        run(self.program().args(args), input)
    }

    fn book(&self, file: &str) -> PathBuf {
        self.0.join("data/commis/formulas").join(file)
    }
}

impl Drop for Home {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

const SOUP: [&str; 14] = [
    "Carrot soup",
    "",
    "4",
    "a pot",
    "1 kg carrots",
    "salt to taste",
    "done",
    "Boil the carrots for 20-25 minutes until soft.",
    "carrots and salt",
    "",
    "hot water splashes",
    "done",
    "soup, vegan",
    "yes",
];

fn say(child: &mut Child, line: &str) {
    let stdin = child.stdin.as_mut().expect("piped");
    stdin
        .write_all(format!("{line}\n").as_bytes())
        .expect("written");
}

/// Killed after every answer, and gone on with: the formula is the one of a dialogue without a stop.
#[test]
fn a_dialogue_killed_at_every_answer_loses_none() {
    let home = Home::new("killed-writing");
    for (n, answer) in SOUP.iter().enumerate().take(SOUP.len() - 1) {
        let mut child = home
            .program()
            .args(["write", "--plain"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        let mut lines = Lines::of(&mut child);
        if n > 0 {
            lines.until("Go on with it?");
            say(&mut child, "yes");
        }
        say(&mut child, answer);
        // The next question tells that the answer is kept.
        say(&mut child, "help");
        lines.until("An empty line takes");
        child.kill().expect("killed");
        child.wait().expect("gone");
    }
    let o = home.run(&["write"], "yes\nyes\n");
    let told = out(&o);
    assert!(
        o.status.success(),
        "{told}{}",
        String::from_utf8_lossy(&o.stderr)
    );
    assert!(told.contains("It is kept"), "{told}");
    let text = std::fs::read_to_string(home.book("carrot-soup.toml")).expect("in the book");
    let formula = commis::formula::read("soup", &text).expect("it passes");
    assert_eq!(
        formula.steps[0].timers[0].lasts,
        commis::time::Span::minutes(20)
    );
    assert_eq!(formula.steps[0].cautions, ["Hot water splashes."]);
    assert_eq!(formula.told.tags, ["soup", "vegan"]);
    // The draft has done its work.
    assert!(!home.0.join("state/commis/drafts/new").exists());
    let again = Home::new("whole-writing");
    let whole = again.run(&["write"], &(SOUP.join("\n") + "\n"));
    assert!(whole.status.success(), "{}", out(&whole));
    assert_eq!(
        std::fs::read_to_string(again.book("carrot-soup.toml")).expect("in the book"),
        text
    );
}

#[test]
fn a_torn_line_and_the_end_of_input_lose_nothing_else() {
    let home = Home::new("torn-writing");
    let o = home.run(&["write"], "Carrot soup\n\n4\n");
    assert!(
        o.status.success() && out(&o).contains("Everything is kept"),
        "{}",
        out(&o)
    );
    let answers = home.0.join("state/commis/drafts/new/answers");
    let mut text = std::fs::read_to_string(&answers).expect("kept");
    assert_eq!(text, "Carrot soup\n\n4\n");
    text.push_str("a po");
    std::fs::write(&answers, text).expect("written");
    let o = home.run(&["write"], "yes\npause\n");
    let told = out(&o);
    assert!(
        told.contains("Carrot soup, 3 answers long") && told.contains("What does it make"),
        "{told}"
    );
}

/// A step is spoken: kept as FLAC beside the formula, in its entry, and passed by `check`.
#[test]
fn a_spoken_step_lies_beside_the_formula() {
    let home = Home::new("spoken-writing");
    let clip = super::rehearsal::root().join("shared/rehearsals/clips/next.wav");
    let record = format!("record {}", clip.display());
    let answers = [
        "Soup",
        "",
        "",
        "",
        "1 kg carrots",
        "done",
        &record,
        "Boil the carrots",
        "",
        "20 min",
        "",
        "",
        "done",
        "",
        "yes",
    ];
    let o = home.run(&["write"], &(answers.join("\n") + "\n"));
    assert!(
        o.status.success(),
        "{}{}",
        out(&o),
        String::from_utf8_lossy(&o.stderr)
    );
    let text = std::fs::read_to_string(home.book("soup.toml")).expect("in the book");
    let formula = commis::formula::read("soup", &text).expect("it passes");
    let file = formula.steps[0].recording.clone().expect("a recording");
    let bytes = std::fs::read(home.book(&file)).expect("beside the formula");
    let sound = commis::say::from_flac(&bytes).expect("FLAC");
    let wav = commis::hear::wav::read(&clip).expect("the clip");
    assert_eq!(
        (sound.rate, sound.samples.len()),
        (commis::hear::RATE, wav.len())
    );
    assert!(bytes.len() < wav.len() * 2);
}

#[test]
fn one_change_and_the_change_taken_back() {
    let home = Home::new("changing");
    let file = home.0.join("loaf.toml");
    let shipped = super::rehearsal::root().join(super::program::LOAF);
    let was = std::fs::read_to_string(shipped).expect("a formula");
    std::fs::write(&file, &was).expect("written");
    let path = file.display().to_string();
    for (said, told, key) in [
        (
            "salt to nine grams",
            "nine grams, was",
            "amount = \"nine grams\"",
        ),
        (
            "step three to mix it all with a wooden spoon",
            "Step 3: Mix it all",
            "text = \"Mix it all with a wooden spoon.\"",
        ),
        ("heat of step eight to 230 C", "230 C", "heat = \"230 C\""),
        ("bake to forty minutes", "Bake: 40 min", "40 min"),
        (
            "time of step five to an hour and a half",
            "1 h 30 min",
            "1 h 30 min",
        ),
        (
            "title of step one to Dry things",
            "Dry things",
            "title = \"Dry things\"",
        ),
        (
            "name to sunday loaf",
            "Sunday loaf",
            "name = \"Sunday loaf\"",
        ),
    ] {
        let before = std::fs::read_to_string(&file).expect("there");
        let o = home.run(&["change", &path, said], "");
        let text = std::fs::read_to_string(&file).expect("there");
        assert!(
            o.status.success(),
            "{said}: {}",
            String::from_utf8_lossy(&o.stderr)
        );
        assert!(out(&o).contains(told), "{said}: {}", out(&o));
        assert!(text.contains(key) && text != before, "{said}");
        commis::formula::read("loaf", &text).expect("it passes");
        // Undone, and done again.
        for other in [&before, &text] {
            let o = home.run(&["change", &path, "undo"], "");
            assert!(o.status.success());
            assert_eq!(
                &std::fs::read_to_string(&file).expect("there"),
                other,
                "{said}"
            );
        }
    }
    for wrong in [
        "salt to 3 parsecs",
        "step ninety to stir",
        "the frobnia to 5 g",
        "step two",
        "heat of step two to warm",
        "salt to 5 g\u{1b}[2J",
    ] {
        let before = std::fs::read_to_string(&file).expect("there");
        let o = home.run(&["change", &path, wrong], "");
        assert_eq!(o.status.code(), Some(2), "{wrong}: {}", out(&o));
        assert_eq!(
            std::fs::read_to_string(&file).expect("there"),
            before,
            "{wrong}"
        );
    }
}

#[test]
fn a_formula_that_is_there_is_changed_line_by_line() {
    let home = Home::new("rewriting");
    let file = home.0.join("loaf.toml");
    let shipped = super::rehearsal::root().join(super::program::LOAF);
    std::fs::copy(shipped, &file).expect("copied");
    let path = file.display().to_string();
    let o = home.run(
        &["write", &path],
        "salt to 11 g\nsalt to 12 parsecs\nundo\nadd 5 g honey to step 2\ndone\n",
    );
    assert!(
        o.status.success(),
        "{}{}",
        out(&o),
        String::from_utf8_lossy(&o.stderr)
    );
    let formula = commis::formula::read("loaf", &std::fs::read_to_string(&file).expect("there"))
        .expect("it passes");
    let salt = &formula.ingredients[formula.find("salt").expect("salt")];
    assert_eq!(salt.mass.as_grams(), 10.0, "taken back");
    let honey = formula.find("honey").expect("honey");
    assert_eq!(formula.steps[1].part_of(honey), 1.0);
}
