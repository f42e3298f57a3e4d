//! What a disk, a power cut or a second session may do to a live session's notes: said once, and cooking goes on.

use std::os::unix::fs::PermissionsExt;
use std::time::Duration;

use super::live::{Kitchen, processor_time};

/// A limit on the size of files stands for a disk without room: writes beyond it are refused in the same way.
#[test]
fn a_disk_without_room_is_said_once_and_cooking_goes_on() {
    let kitchen = Kitchen::new("full");
    let mut cook = kitchen.cook_after("trap '' XFSZ; ulimit -f 30");
    cook.until("Say next");
    for _ in 0..60 {
        cook.types("how much salt");
    }
    cook.types("ten minute timer");
    let printed = cook.until("Timer one started");
    let told =
        "I can't write this session down. Cooking goes on, but a power cut would make me forget.";
    assert_eq!(printed.matches(told).count(), 1, "{printed}");
    cook.kill();
    // What was written until then is whole.
    let again = kitchen.cook();
    let printed = again.until("I am back.");
    assert!(!printed.contains("damaged"), "{printed}");
    again.kill();
}

#[test]
fn a_folder_that_may_not_be_written_is_said_and_cooking_goes_on() {
    let kitchen = Kitchen::new("locked");
    // A file where the folder should be: not even an administrator can make the folder.
    std::fs::write(kitchen.journals(), "").expect("written");
    let mut cook = kitchen.cook();
    cook.until("I can't write this session down.");
    cook.types("next");
    cook.until("Step one.");
    cook.kill();
}

#[test]
fn a_torn_end_and_a_damaged_middle_are_told_and_all_else_is_kept() {
    let kitchen = Kitchen::new("torn");
    let mut cook = kitchen.cook();
    cook.types("ten minute timer");
    cook.types("next");
    cook.until("Step one.");
    cook.types("twenty minute timer called tea");
    cook.until("Tea");
    cook.kill();
    let path = kitchen.journal();
    let whole = std::fs::read(&path).expect("it reads");
    let mode = std::fs::metadata(&path)
        .expect("there")
        .permissions()
        .mode();
    assert_eq!(mode & 0o777, 0o600);

    std::fs::write(&path, &whole[..whole.len() - 7]).expect("written");
    let cook = kitchen.cook();
    let printed = cook.until("I am back.");
    let told = "The last thing before the stop was only half written, so I left it out.";
    assert!(printed.contains(told), "{printed}");
    assert!(
        printed.contains("Timer one: ten minutes left."),
        "{printed}"
    );
    cook.kill();

    // The line of `next`, with a letter changed.
    let text = String::from_utf8(whole).expect("text");
    let damaged = text.replacen("\"next\"", "\"nest\"", 1);
    assert_ne!(text, damaged);
    std::fs::write(&path, &damaged).expect("written");
    let cook = kitchen.cook();
    let printed = cook.until("I am back.");
    assert!(
        printed.contains("A line of my notes is damaged, so there is one thing that you did that I don't know: check"),
        "{printed}"
    );
    assert!(
        printed.contains("Timer one: ten minutes left."),
        "{printed}"
    );
    assert!(printed.contains("Tea: twenty minutes left."), "{printed}");
    assert!(!printed.contains("We are at step one"), "{printed}");
    cook.kill();
    let aside = path.with_extension("damaged");
    assert_eq!(std::fs::read_to_string(aside).expect("kept"), damaged);
}

#[test]
fn a_second_session_keeps_a_journal_of_its_own_and_says_so() {
    let kitchen = Kitchen::new("two");
    let mut first = kitchen.cook();
    first.types("ten minute timer");
    first.until("Timer one started");
    let second = kitchen.cook();
    second.until("Another session is cooking at this moment; this one keeps a journal of its own.");
    let count = std::fs::read_dir(kitchen.journals())
        .expect("there")
        .count();
    assert_eq!(count, 2);
    second.kill();
    first.kill();
}

/// With a timer running and nothing to hear, the loop sleeps; one second of it is one look at the clocks.
#[test]
fn an_idle_session_takes_less_than_a_hundredth_of_the_processor() {
    let kitchen = Kitchen::new("idle");
    let mut cook = kitchen.cook();
    cook.types("ten minute timer");
    cook.until("Timer one started");
    // The last thing that a start takes time for is to look for the model; the welcome is spoken by then, or nearly.
    cook.until("use the keys");
    std::thread::sleep(Duration::from_secs(3));
    let seconds = std::env::var("COMMIS_IDLE_SECONDS")
        .ok()
        .and_then(|s| s.parse().ok())
        .unwrap_or(5);
    let before = processor_time(cook.id());
    std::thread::sleep(Duration::from_secs(seconds));
    let spent = processor_time(cook.id()) - before;
    println!("{spent} hundredths of a second of processor time in {seconds} seconds");
    cook.kill();
    assert!(spent <= seconds, "{spent} hundredths in {seconds} seconds");
}
