//! Nothing unfinished is ever passed over: the formula's file gone, wrong, changed or renamed, another formula asked for, a
//! goodbye cut short.

use std::path::PathBuf;

use super::live::{Kitchen, Live};
use super::rehearsal::root;

fn loaf() -> String {
    let path = root().join("shared/formulas/seeded-tin-loaf.toml");
    std::fs::read_to_string(path).expect("a shipped formula")
}

/// A session of a formula in the kitchen's own folder, killed with a timer running.
fn killed_with_a_timer(kitchen: &Kitchen) -> PathBuf {
    let path = kitchen.file("loaf.toml", &loaf());
    let mut cook = kitchen.cook_other(&path, &[]);
    cook.types("ten minute timer");
    cook.until("Timer one started");
    cook.kill();
    path
}

fn goes_on(cook: Live, told: &str) {
    let printed = cook.until("Timer one: ten minutes left.");
    assert!(printed.contains(told), "{told}: {printed}");
    assert!(printed.contains("I am back."), "{printed}");
    cook.kill();
}

#[test]
fn a_formula_whose_file_is_gone_wrong_or_renamed_is_gone_on_with() {
    let kitchen = Kitchen::new("gone");
    let path = killed_with_a_timer(&kitchen);
    std::fs::write(&path, "name = \n").expect("written");
    let told = "The formula's file has a fault now; I go on with my own copy of it.";
    goes_on(kitchen.cook_other(&path, &[]), told);
    std::fs::remove_file(&path).expect("gone");
    let told = "The formula's file is gone; I go on with my own copy of it.";
    goes_on(kitchen.cook_other(&path, &[]), told);
    let renamed = kitchen.file("bread.toml", &loaf());
    goes_on(kitchen.cook_other(&renamed, &[]), "I am back.");
}

/// It is told once: what was taken up then is what the next start finds.
#[test]
fn an_edited_formula_is_gone_on_with_and_what_changed_is_told_once() {
    let kitchen = Kitchen::new("edited");
    let path = killed_with_a_timer(&kitchen);
    let text = loaf();
    let title = text
        .lines()
        .filter(|line| line.trim_start().starts_with("title = "))
        .nth(1)
        .expect("a second step");
    std::fs::write(&path, text.replace(title, &format!("{title} # the same"))).expect("written");
    goes_on(kitchen.cook_other(&path, &[]), "I am back.");
    let more = text.replacen("amount = \"400 g\"", "amount = \"420 g\"", 1);
    std::fs::write(&path, more).expect("written");
    goes_on(kitchen.cook_other(&path, &[]), "The formula has changed: ");
    let cook = kitchen.cook_other(&path, &[]);
    let printed = cook.until("Timer one: ten minutes left.");
    assert!(!printed.contains("has changed"), "{printed}");
    cook.kill();
}

#[test]
fn another_size_on_the_command_line_is_told() {
    let kitchen = Kitchen::new("factor");
    let path = killed_with_a_timer(&kitchen);
    goes_on(
        kitchen.cook_other(&path, &["--factor", "2"]),
        "We go on in the size that we had; to change it, say the new one.",
    );
}

#[test]
fn a_session_that_waits_is_named_whichever_formula_is_asked_for() {
    let kitchen = Kitchen::new("waits");
    killed_with_a_timer(&kitchen);
    let soup = root().join("shared/formulas/vegetable-soup.toml");
    let cook = kitchen.cook_other(&soup, &[]);
    cook.until(
        "There is a seeded tin loaf that is not finished, with a timer running. Start me with it to go on.",
    );
    cook.kill();
}

/// Killed between the goodbye and the last line of the journal.
#[test]
fn a_goodbye_cut_short_is_a_goodbye() {
    let kitchen = Kitchen::new("goodbye");
    let path = kitchen.file("loaf.toml", &loaf());
    let mut cook = kitchen.cook_other(&path, &[]);
    cook.types("next");
    cook.types("goodbye");
    cook.types("yes");
    cook.until("Goodbye.");
    cook.kill();
    let journal = kitchen.journal();
    let text = std::fs::read_to_string(&journal).expect("it reads");
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let end = lines
        .iter()
        .position(|l| l.contains("\"end\":"))
        .unwrap_or(lines.len());
    std::fs::write(&journal, lines[..end].concat()).expect("written");
    let cook = kitchen.cook_other(&path, &[]);
    let printed = cook.until("You had said goodbye before I stopped, so we begin anew.");
    assert!(printed.contains("Say next or press Enter"), "{printed}");
    cook.kill();
}

#[test]
fn what_is_no_journal_among_the_journals_is_stepped_over() {
    let kitchen = Kitchen::new("foreign");
    std::fs::create_dir_all(kitchen.journals().join("old.journal")).expect("a folder");
    let cook = kitchen.cook();
    cook.until("old.journal among my notes is not mine, so I leave it alone.");
    cook.kill();
}

#[test]
fn a_state_folder_deleted_in_the_middle_is_told_and_written_again() {
    let kitchen = Kitchen::new("deleted");
    let mut cook = kitchen.cook();
    cook.types("ten minute timer");
    cook.until("Timer one started");
    std::fs::remove_dir_all(kitchen.journals()).expect("deleted");
    cook.types("next");
    cook.until("My notes were deleted while we cook. I have written them again.");
    cook.kill();
    let again = kitchen.cook();
    again.until("Timer one: ten minutes left.");
    again.kill();
}

/// What bystanders say is in no file.
#[test]
fn talk_is_not_written_down() {
    let kitchen = Kitchen::new("talk");
    let mut cook = kitchen.cook();
    cook.types("my sister is coming on sunday");
    cook.types("how much salt");
    cook.until("Ten grams of fine salt.");
    cook.kill();
    let written = kitchen.written();
    assert!(written.contains("how much salt"), "{written}");
    assert!(!written.contains("sister"), "{written}");
}
