//! The book: many formulas are listed at once, and found by name, nickname or a part by every command.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::program::{out, program, run};

/// In an optimised build ten thousand are listed within this; an unoptimised one reads ten times as slowly.
const LIMIT: Duration = Duration::from_millis(if cfg!(debug_assertions) { 4_000 } else { 200 });

fn home(name: &str) -> PathBuf {
    let home =
        Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&home);
    std::fs::create_dir_all(home.join("data/commis/formulas")).expect("a folder");
    home
}

fn at(home: &Path, args: &[&str], input: &str) -> std::process::Output {
    let mut command = program();
    command
        .env("HOME", home)
        .env("XDG_DATA_HOME", home.join("data"))
        .env("XDG_CACHE_HOME", home.join("cache"))
        .env("XDG_STATE_HOME", home.join("state"))
        .env("XDG_CONFIG_HOME", home.join("config"));
    run(command.args(args), input)
}

fn formula(name: &str, also: &str, tags: &str) -> String {
    let mut text =
        format!("name = \"{name}\"\nalso = [{also}]\nabout = \"Of {name}.\"\ntags = [{tags}]\n");
    text += "[makes]\nportions = 4\npiece = \"dish\"\n[[ingredient]]\nid = \"water\"\namount = \"1 kg\"\n";
    text += "[[step]]\ntitle = \"Boil\"\ntext = \"Boil the water.\"\nuses = [\"water\"]\n";
    text
}

#[test]
fn ten_thousand_formulas_are_listed_at_once_and_one_is_found() {
    let home = home("large-book");
    let folder = home.join("data/commis/formulas");
    for n in 0..10_000 {
        let also = if n == 7_777 { "\"the usual\"" } else { "" };
        let tags = if n % 100 == 0 {
            "\"bread\""
        } else {
            "\"other\""
        };
        std::fs::write(
            folder.join(format!("dish-{n}.toml")),
            formula(&format!("Dish {n}"), also, tags),
        )
        .expect("written");
    }
    let first = out(&at(&home, &["book"], ""));
    assert!(
        first.matches("  Dish ").count() == 10_000,
        "{}",
        first.len()
    );
    let begun = Instant::now();
    let again = out(&at(&home, &["book"], ""));
    let took = begun.elapsed();
    assert_eq!(first, again);
    assert!(took < LIMIT, "{took:?}");
    let bread = out(&at(&home, &["book", "--tag", "Bread"], ""));
    assert_eq!(
        bread.matches("  Dish ").count(),
        100,
        "and those that come with the program beside"
    );
    for (named, found) in [
        ("the usual", "Dish 7777"),
        ("dish 42", "Dish 42"),
        ("dish-9999", "Dish 9999"),
    ] {
        let weighed = out(&at(&home, &["weigh", named], ""));
        assert!(weighed.starts_with(found), "{named}: {weighed}");
    }
    let several = at(&home, &["weigh", "dish"], "");
    let told = String::from_utf8_lossy(&several.stderr).into_owned();
    assert!(
        told.contains("which one") && told.contains("or one of 9991 more"),
        "{told}"
    );
    // A formula that was changed is read again, and one that is gone is gone.
    std::fs::write(folder.join("dish-1.toml"), formula("Renamed pie", "", "")).expect("written");
    std::fs::remove_file(folder.join("dish-2.toml")).expect("removed");
    let now = out(&at(&home, &["book"], ""));
    assert!(now.contains("  Renamed pie: ") && !now.contains("dish-2.toml"));
    std::fs::write(home.join("cache/commis/book.jsonl"), "{\"torn").expect("written");
    assert_eq!(
        out(&at(&home, &["book"], "")),
        now,
        "a damaged cache is read past"
    );
    let _ = std::fs::remove_dir_all(home);
}

#[test]
fn further_folders_are_in_the_settings() {
    let home = home("further-book");
    let further = home.join("recipes");
    std::fs::create_dir_all(&further).expect("a folder");
    std::fs::write(
        further.join("pot.toml"),
        formula("Monday pot", "\"leftovers\"", "\"soup\""),
    )
    .expect("written");
    let settings = home.join("settings.toml");
    let mut text = String::new();
    let _ = writeln!(text, "books = [\"{}\"]", further.display());
    std::fs::write(&settings, text).expect("written");
    let settings = settings.display().to_string();
    let listed = out(&at(
        &home,
        &["--settings", &settings, "book", "--tag", "soup"],
        "",
    ));
    assert!(
        listed.contains("  Monday pot: Of Monday pot. [soup]"),
        "{listed}"
    );
    for args in [
        ["check", "leftovers"],
        ["weigh", "monday"],
        ["card", "pot"],
        ["export", "Monday pot"],
    ] {
        let o = at(&home, &["--settings", &settings, args[0], args[1]], "");
        assert!(
            o.status.success(),
            "{args:?}: {}",
            String::from_utf8_lossy(&o.stderr)
        );
    }
    std::fs::write(home.join("bad.toml"), "books = [\"recipes\"]\n").expect("written");
    let bad = home.join("bad.toml").display().to_string();
    let o = at(
        &home,
        &["--settings", &bad, "ask", "what is 2 cups in ml"],
        "",
    );
    assert!(
        String::from_utf8_lossy(&o.stderr).contains("a list of whole paths"),
        "{o:?}"
    );
    let _ = std::fs::remove_dir_all(home);
}

/// `commis cook` without a name, answered by a typed part, by a number of the list, and by the keys of the pad.
#[test]
fn what_shall_we_make_is_answered_in_every_way() {
    let home = home("asked-book");
    for answer in [
        "seeded tin",
        "key enter\nkey 1",
        "nothing like it\nseeded tin loaf",
    ] {
        let o = at(
            &home,
            &["cook", "--plain"],
            &format!("{answer}\ngoodbye\nyes\n"),
        );
        let told = out(&o).replace('\n', " ");
        assert!(told.contains("What shall we make?"), "{told}");
        assert!(told.contains("Say next or press Enter"), "{answer}: {told}");
    }
    let o = at(&home, &["cook", "--plain"], "goodbye\n");
    assert_eq!(o.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&o.stderr).contains("Nothing was chosen"));
    let _ = std::fs::remove_dir_all(home);
}

/// The formulas that the examples of the help name are in the book, and each name means one.
#[test]
fn the_examples_of_the_help_name_formulas_that_are_there() {
    for name in [
        "seeded loaf",
        "chickpea rice",
        "custard",
        "rolls",
        "shortbread",
    ] {
        let out = super::program::commis(&["card", name], "");
        assert!(
            out.status.success(),
            "{name}: {}",
            String::from_utf8_lossy(&out.stderr)
        );
    }
}

/// A name or a file that is not there: the nearest one is told.
#[test]
fn what_is_not_there_names_the_nearest_in_the_book() {
    for (args, nearest) in [
        (["weigh", "seeded tin laof"], "`seeded tin loaf`"),
        (["card", "baked custrad"], "`baked custard`"),
        (
            ["weigh", "recipes/lemon-shortbred.toml"],
            "`lemon shortbread`",
        ),
        (["check", "vegetable-suop.toml"], "`autumn vegetable soup`"),
    ] {
        let out = super::program::commis(&args, "");
        let told = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{args:?}: {told}");
        assert!(
            told.contains("no such file") && told.contains(nearest),
            "{args:?}: {told}"
        );
    }
    let out = super::program::commis(&["weigh", "xyzzy.toml"], "");
    let told = String::from_utf8_lossy(&out.stderr);
    assert!(told.contains("`commis book` lists what there is"), "{told}");
}

/// Whoever stops reading is no trouble to anybody, whatever is printed.
#[test]
fn a_reader_that_leaves_is_no_trouble() {
    for line in [
        "keys",
        "keys --table",
        "keys --svg",
        "man",
        "completions bash",
        "schema",
        "book",
        "--help",
        "cook --help",
        "card custard",
        "weigh custard",
        "export custard",
        "ask how much is a cup of flour in grams",
        "check shared/formulas/baked-custard.toml",
        "rehearse shared/formulas/seeded-tin-loaf.toml shared/rehearsals/short.txt",
    ] {
        let mut child = super::program::program()
            .args(line.split(' '))
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .expect("the program starts");
        drop(child.stdout.take());
        let out = child.wait_with_output().expect("it ends");
        let told = String::from_utf8_lossy(&out.stderr);
        assert!(
            told.is_empty() && out.status.code() == Some(0),
            "{line}: {:?} {told}",
            out.status
        );
    }
}

/// The manual has what a manual has.
#[test]
fn the_manual_has_its_sections() {
    let out = super::program::commis(&["man"], "");
    let page = String::from_utf8_lossy(&out.stdout).into_owned();
    for section in ["NAME", "SYNOPSIS", "EXIT STATUS", "FILES", "EXAMPLES"] {
        assert!(
            page.contains(&format!(".SH \"{section}\""))
                || page.contains(&format!(".SH {section}")),
            "{section}"
        );
    }
    assert!(page.find("COOK").expect("a command") < page.find("REHEARSE").expect("a command"));
}
