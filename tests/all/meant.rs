//! What is done is what was meant: old questions are not answered by other words, a question is no deed, what names nothing
//! known is not bent, and what was told wrongly is put right.

use super::rehearsal::Rehearsal;

fn said(name: &str, script: &str) -> Vec<String> {
    let r = Rehearsal::play(name, script);
    r.said().into_iter().map(str::to_owned).collect()
}

fn dinner(dishes: &[&str], script: &str) -> Vec<String> {
    let r = Rehearsal::dinner(dishes, script);
    r.said().into_iter().map(str::to_owned).collect()
}

/// The timers that run at the end, by name.
fn running(name: &str, script: &str) -> Vec<String> {
    let r = Rehearsal::play(name, script);
    let live = r.bench.rack().live(commis::time::Moment(0));
    live.iter().map(|t| t.name.clone()).collect()
}

fn last(name: &str, script: &str) -> String {
    said(name, script).pop().unwrap_or_default()
}

#[test]
fn what_checks_off_answers_no_guess() {
    for done in ["done", "it's in", "got it", "i added it"] {
        let all = said(
            "soft-rolls",
            &format!("0:00 say next\n+5s type make it duoble\n+3s type {done}"),
        );
        let (asked, then) = (&all[all.len() - 2], &all[all.len() - 1]);
        assert!(asked.starts_with("Do you mean"), "{asked}");
        assert!(
            then.starts_with("The size is as it was. Strong white flour in."),
            "{done}: {then}"
        );
    }
}

#[test]
fn a_guess_lapses_with_the_next_thing_said() {
    // What is asked in between takes the question with it; a later yes is no answer to it.
    for between in ["how much flour", "banana telephone harbour"] {
        let all = said(
            "soft-rolls",
            &format!(
                "0:00 say next\n+5s type make it duoble\n+3s type {between}\n+3s type yes\n+1s say how much flour"
            ),
        );
        let end = all.last().expect("an answer");
        assert!(end.contains("Five hundred grams"), "{between}: {all:#?}");
    }
    // After a while as well.
    let end = last(
        "soft-rolls",
        "0:00 say next\n+5s type make it duoble\n+18s type yes\n+1s say how much flour",
    );
    assert!(end.contains("Five hundred grams"), "{end}");
    // Asked to say it again it still stands.
    let end = last(
        "soft-rolls",
        "0:00 say next\n+5s type make it duoble\n+4s say say that again\n+4s type yes\n+1s say how much flour",
    );
    assert!(
        end.contains("One thousand grams") || end.contains("One kilo"),
        "{end}"
    );
}

#[test]
fn it_is_in_leaves_no_step_whose_timer_was_not_started() {
    let all = said(
        "blackcurrant-jam",
        "0:00 say next\n+1s say it's in\n+1s say it's in\n+1s say it's in\n+1s say next\n+2s say next\n+2s say it's in\n+2s say where am i",
    );
    let asked = all.iter().filter(|t| t.contains("Go on all the same?"));
    let asked: Vec<&String> = asked.collect();
    assert!(!asked.is_empty(), "{all:#?}");
}

#[test]
fn a_question_is_no_deed() {
    for asks in [
        "is the gas lit",
        "did i put the heat on",
        "can i use the frozen sort",
        "how long will the rest of it keep",
        "do they freeze well",
        "is everything salted",
    ] {
        let script = format!("0:00 say next\n+1s type {asks}\n+1s type yes");
        assert_eq!(running("roast-chicken", &script), [""; 0], "{asks}");
        let r = Rehearsal::play("roast-chicken", &script);
        for record in r.records.iter().filter(|r| r.kind == "understood") {
            let deeds = [
                "oven_lit",
                "oven_hot",
                "mark_added",
                "start_offered",
                "stop_timer",
            ];
            assert!(
                !deeds.contains(&record.text.as_str()),
                "{asks}: {}",
                record.text
            );
        }
    }
}

#[test]
fn danger_is_taken_for_nothing_else() {
    for said in [
        "the tea towel is on fire",
        "there is smoke coming from the pan",
        "the fat in the pan is burning",
        "my son is choking",
    ] {
        let script = format!("0:00 say next\n+1s type {said}\n+1s type yes");
        assert_eq!(running("roast-chicken", &script), [""; 0], "{said}");
    }
}

#[test]
fn who_is_not_sure_has_told_nothing() {
    for doubt in [
        "i can't remember if i put the sugar in",
        "not sure the sugar went in",
        "don't know whether i added the sugar",
    ] {
        let end = last(
            "soft-rolls",
            &format!(
                "0:00 say next\n+1s type {doubt}\n+1s type yes\n+1s say have i added the sugar"
            ),
        );
        assert!(end.starts_with("No, "), "{doubt}: {end}");
    }
}

#[test]
fn another_timer_stops_none() {
    let script = "0:00 say start a timer for forty minutes called roast\n+5s type and set one for the leeks, eight minutes\n+2s type yes";
    let names = running("roast-chicken", script);
    assert!(names.contains(&"roast".to_owned()), "{names:?}");
    assert!(names.contains(&"leeks".to_owned()), "{names:?}");
}

#[test]
fn a_timer_is_called_what_it_was_called() {
    for (asks, name) in [
        (
            "set a timer for the washing machine, thirty minutes",
            "washing machine",
        ),
        ("start a timer for toast, fifteen seconds", "toast"),
        ("set ten minutes for the dog walk", "dog walk"),
        ("put on a timer for the laundry for one hour", "laundry"),
    ] {
        let names = running("roast-chicken", &format!("0:00 type {asks}\n+1s type yes"));
        assert_eq!(names, [name], "{asks}");
    }
    // What stands beside a length is no name.
    for plain in [
        "set a timer for about ten minutes",
        "start a timer for exactly ten minutes",
    ] {
        let names = running("roast-chicken", &format!("0:00 type {plain}\n+1s type yes"));
        assert!(
            names.iter().all(|n| n.starts_with("timer")),
            "{plain}: {names:?}"
        );
    }
}

#[test]
fn an_amount_is_put_right() {
    for right in [
        "no sorry, seven hundred and sixty",
        "i meant seven hundred and sixty grams",
        "sorry, seven hundred sixty not nine hundred",
        "no it was seven hundred and sixty grams of potatoes",
        "change that to seven hundred and sixty",
    ] {
        let end = last(
            "roast-chicken",
            &format!(
                "0:00 say next\n+1s say i put in nine hundred grams of potatoes\n+2s type {right}\n+1s type yes\n+1s say what is in so far"
            ),
        );
        assert!(
            end.contains("seven hundred and sixty grams"),
            "{right}: {end}"
        );
        assert!(!end.contains("nine hundred"), "{right}: {end}");
    }
    // Without a word that puts right it is none.
    let end = last(
        "roast-chicken",
        "0:00 say next\n+1s say i put in nine hundred grams of potatoes\n+2s type seven hundred and sixty\n+1s say what is in so far",
    );
    assert!(end.contains("nine hundred"), "{end}");
}

#[test]
fn two_in_one_breath_are_both_in() {
    let end = last(
        "roast-chicken",
        "0:00 say next\n+1s say carrots and potatoes too\n+1s say what is in so far",
    );
    assert!(end.contains("carrots") && end.contains("potatoes"), "{end}");
}

#[test]
fn what_is_not_there_does_not_go_in() {
    for lacks in ["i have no thyme", "i'm out of thyme"] {
        let all = said(
            "roast-chicken",
            &format!(
                "0:00 say go to step two\n+1s type {lacks}\n+1s say no\n+1s say i'm done\n+1s say have i added the thyme"
            ),
        );
        let end = all.last().expect("an answer");
        assert!(end.starts_with("No"), "{lacks}: {all:#?}");
    }
    // Found after all.
    let end = last(
        "roast-chicken",
        "0:00 say go to step two\n+1s type i have no thyme\n+1s say the thyme is in\n+1s say have i added the thyme",
    );
    assert!(end.starts_with("Yes"), "{end}");
}

#[test]
fn of_two_waters_the_one_that_is_wanted_here() {
    for words in ["water is in", "i added the water", "the water's in"] {
        let end = last(
            "poolish-loaf",
            &format!("0:00 say next\n+1s type {words}\n+1s say what is left to add"),
        );
        let (here, later) = end.split_once("Later").unwrap_or((&end, ""));
        assert!(!here.contains("water"), "{words}: {end}");
        assert!(later.contains("water"), "{words}: {end}");
    }
    let end = last(
        "poolish-loaf",
        "0:00 say next\n+1s type flour in\n+1s say what is left to add",
    );
    assert!(!end.contains("flour for the poolish"), "{end}");
}

#[test]
fn a_dish_that_is_named_is_gone_to() {
    let dishes = ["soft-rolls", "roast-chicken", "baked-custard"];
    for named in [
        "custard first",
        "start with the custard",
        "start the custard",
        "the custard next",
    ] {
        let all = dinner(&dishes, &format!("0:00 type {named}"));
        let end = all.last().expect("an answer");
        assert!(
            end.starts_with("Step one") || end.contains("step one"),
            "{named}: {all:#?}"
        );
        let r = all.iter().any(|t| t.contains("started"));
        assert!(!r, "{named}: {all:#?}");
    }
}

#[test]
fn a_timer_of_a_later_step_is_started_with_a_word() {
    let all = said("soft-rolls", "0:00 say next\n+1s say start the bake");
    let end = all.last().expect("an answer");
    assert!(end.contains("still at step one"), "{all:#?}");
    let all = said("soft-rolls", "0:00 say start the bake");
    assert!(all.iter().all(|t| !t.contains("still at")), "{all:#?}");
}

#[test]
fn an_alarm_that_is_over_with_is_told_no_more() {
    let rings = "0:00 say ten minute timer for the eggs\n+1s say twenty minute timer for the rice\n0:10:05 say stop\n";
    let end = last("soft-rolls", &format!("{rings}+9s say how long is left"));
    assert!(end.contains("Rice") && !end.contains("Eggs"), "{end}");
    // What was silenced and still comes back ends with everything else.
    let all = said(
        "soft-rolls",
        "0:00 say start the bake\n0:30:05 say stop\n+20s say stop all timers\n+20m wait",
    );
    let at = all.iter().position(|t| t.starts_with("All silent"));
    let at = at.unwrap_or_else(|| panic!("{all:#?}"));
    assert_eq!(at + 1, all.len(), "{all:#?}");
}

#[test]
fn openers_begin() {
    for opener in [
        "let's start",
        "ok let's get started",
        "let's get cooking",
        "begin",
        "i'm ready to start",
    ] {
        let end = last("soft-rolls", &format!("0:00 type {opener}"));
        assert!(end.starts_with("Step one."), "{opener}: {end}");
    }
    for asks in ["what do i do first", "what's first", "where do i start"] {
        let end = last("soft-rolls", &format!("0:00 type {asks}"));
        assert!(end.starts_with("Next comes step one."), "{asks}: {end}");
    }
    let end = last(
        "soft-rolls",
        "0:00 say next\n+1s say twenty minute timer for the eggs\n+5m say how long have i got",
    );
    assert!(end.contains("Eggs: fifteen minutes left"), "{end}");
    let end = last(
        "soft-rolls",
        "0:00 say next\n+5m type i'm back, what did i miss",
    );
    assert!(end.starts_with("Step one of"), "{end}");
    for not_yet in ["it's not ready yet", "not yet"] {
        let end = last("soft-rolls", &format!("0:00 say next\n+1s type {not_yet}"));
        assert!(end.starts_with("All right"), "{not_yet}: {end}");
    }
}
