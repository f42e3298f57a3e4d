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
        let told = out(&o);
        assert!(told.contains("What shall we make?"), "{told}");
        assert!(told.contains("Say next or press Enter"), "{answer}: {told}");
    }
    let o = at(&home, &["cook", "--plain"], "goodbye\n");
    assert_eq!(o.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&o.stderr).contains("Nothing was chosen"));
    let _ = std::fs::remove_dir_all(home);
}
