//! Conversation: what is said leans on what was said or asked before. What is typed is read freely as well.

use super::rehearsal::Rehearsal;

fn play(script: &str) -> Rehearsal {
    Rehearsal::play("seeded-tin-loaf", script)
}

/// The last thing said contains all of these.
fn ends(script: &str, wanted: &[&str]) {
    let r = play(script);
    for part in wanted {
        assert!(
            r.last().contains(part),
            "{script}\n-> {}\nwithout: {part}",
            r.last()
        );
    }
}

#[test]
fn ten_minutes_is_more_time_after_a_look() {
    ends(
        "0:00 say start the first rise\n1:00:05 type ten minutes\n+1s say how long is left",
        &["First rise", "ten minutes left"],
    );
}

#[test]
fn what_is_broken_off_is_no_yes() {
    let r = play("0:00 say start the first rise\n1:00:02 type it's...\n+1s type well it's");
    assert!(
        r.records
            .iter()
            .all(|r| r.kind != "understood" || r.text != "yes")
    );
}

#[test]
fn what_was_done_last_is_taken_back_and_told() {
    ends(
        "0:00 say make it double\n+0 type scrub that",
        &["Taken back", "one loaf"],
    );
    ends(
        "0:00 say ten minute timer for the eggs\n+0 type undo that please",
        &["Taken back", "eggs"],
    );
    ends(
        "0:00 say the salt is in\n+0 type undo",
        &["Taken back", "salt is not in"],
    );
    ends(
        "0:00 say start the bake\n0:10 say five minutes less on the bake\n+1s say take it back\n",
        &["Taken back", "Bake"],
    );
}

#[test]
fn a_number_that_was_misheard_is_put_right() {
    for said in ["no, fifteen not fifty", "not fifty fifteen"] {
        let r = play(&format!(
            "0:00 say fifty minute timer\n+0 type {said}\n+1s type yes\n+1s say how long is left"
        ));
        assert!(
            r.last().contains("Fourteen minutes")
                || r.last().contains("fifteen minutes")
                || r.last().contains("fourteen minutes"),
            "{said}: {}",
            r.last()
        );
        assert!(!r.last().contains("fifty"), "{said}: {}", r.last());
    }
}

#[test]
fn a_fragment_asks_the_same_of_another_thing() {
    ends(
        "0:00 say have i added the salt\n+0 say and the water?",
        &["water is not in"],
    );
    ends(
        "0:00 say how much salt\n+0 say and the water?",
        &["forty grams of water"],
    );
    let two = "0:00 say ten minute timer for the rice\n+0 say twenty minute timer for the eggs\n+1m say how long for the rice\n";
    ends(&format!("{two}+1s type the other one"), &["Eggs", "left"]);
    ends(&format!("{two}+1s say and the eggs?"), &["Eggs", "left"]);
}

#[test]
fn which_flour_is_answered_by_its_colour_or_its_place() {
    for (said, amount) in [
        ("the white one", "Four hundred grams"),
        ("the second one", "One hundred grams"),
        ("the wholemeal", "One hundred grams"),
    ] {
        ends(
            &format!("0:00 say how much flour\n+0 type {said}"),
            &[amount],
        );
    }
}

#[test]
fn several_orders_in_one_breath_are_all_done() {
    let r = play(
        "0:00 say next\n+0 type the salt's in and the oil as well, what's next\n+1s type yes\n+1s say what has gone in so far",
    );
    for part in ["salt", "oil"] {
        assert!(r.last().contains(part), "{:?}", r.said());
    }
    let question = r.said().iter().any(|s| s.contains(" or what to weigh"));
    assert!(!question, "one breath is no choice: {:?}", r.said());
}

#[test]
fn patience_is_asked_for_and_timers_run_on() {
    for said in ["hang on", "wait", "one second"] {
        ends(
            &format!(
                "0:00 say ten minute timer for the rice\n+1m say {said}\n+1m say how long is left"
            ),
            &["Rice: eight minutes left"],
        );
    }
}

#[test]
fn longer_never_becomes_shorter() {
    let r = play(
        "0:00 say ten minute timer for the cake\n+1m type make the cake five minutes longer\n+1s type yes\n+1s say how long is left",
    );
    assert!(
        r.last().contains("fourteen minutes") || r.last().contains("thirteen minutes"),
        "{:?}",
        r.said()
    );
}

#[test]
fn to_be_told_of_a_step_does_not_go_there() {
    ends(
        "0:00 say tell me step five\n+0 say where am i",
        &["At the beginning"],
    );
}
