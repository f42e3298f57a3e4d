//! Kitchen stories: what the cook suffers, and what is said.

use super::rehearsal::{Rehearsal, root};

#[test]
fn the_salt_is_not_forgotten() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say next\n+5 say it's in\n+5 say have I added the salt\n+5 say I've added the salt\n+60 say have I added the salt\n+5 say what's left to add\n",
    );
    let said = r.said();
    assert!(
        said.iter()
            .any(|s| s.starts_with("No, the fine salt is not in: ten grams")),
        "{said:#?}"
    );
    assert!(
        said.iter()
            .any(|s| s.starts_with("Yes, the fine salt is in, one minute ago")),
        "{said:#?}"
    );
    assert!(
        r.last()
            .starts_with("Here: wholemeal flour and instant yeast."),
        "{}",
        r.last()
    );
}

#[test]
fn a_step_skipped_with_salt_unweighed_is_mentioned() {
    let r = Rehearsal::play("seeded-tin-loaf", "0:00 say next\n+5 say go to step five\n");
    assert!(r.last().contains("fine salt"), "{}", r.last());
}

#[test]
fn an_alarm_rings_until_it_is_answered_and_not_after() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say start a timer for ten minutes\n+11m say stop\n+5m wait\n+1 say how long is left\n",
    );
    let rings = r.chimes("due");
    assert_eq!(rings, [600.0, 620.0, 635.0, 647.0, 657.0]);
    assert!(r.last().contains("over"), "{}", r.last());
}

#[test]
fn what_loses_work_is_confirmed() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say start a timer for ten minutes\n+1m say stop the timer\n+2 say no\n+1 say how long is left\n+5 say stop the timer\n+2 say yes\n+2 say how long is left\n",
    );
    let said = r.said();
    assert!(
        said.iter()
            .any(|s| s.starts_with("Stop timer one, with nine minutes left?")),
        "{said:#?}"
    );
    assert!(said.contains(&"I have changed nothing."), "{said:#?}");
    assert_eq!(r.last(), "No timer is running.");
    assert_eq!(r.bench.rack().live_count(), 0);
}

#[test]
fn a_question_left_unanswered_does_nothing_later() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say start a timer for ten minutes\n+1m say stop the timer\n+40s say yes\n+1 say how long is left\n",
    );
    assert!(r.last().starts_with("Timer one: "), "{}", r.last());
}

#[test]
fn a_rise_ends_on_a_look_and_a_slow_one_gets_longer() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say next\n+1 say go to step five\n+5 say start it\n+1h wait\n+10s say not yet\n+15m wait\n+5s say yes\n",
    );
    let said = r.said();
    assert!(
        said.iter().any(|s| s.contains("Has the dough doubled?")),
        "{said:#?}"
    );
    assert!(
        said.iter()
            .any(|s| s.starts_with("Fifteen minutes more for the first rise")),
        "{said:#?}"
    );
    assert!(
        r.last()
            .starts_with("Good. The first rise took one hour and fifteen minutes."),
        "{}",
        r.last()
    );
}

#[test]
fn the_tin_is_turned_at_its_cue() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step eight\n+1s say start it\n+20m wait\n",
    );
    assert_eq!(r.last(), "Bake: turn the tin.");
    assert_eq!(r.chimes("cue"), [1201.0]);
}

#[test]
fn the_oven_is_named_while_the_rise_has_twenty_five_minutes_left() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step seven\n+0 say start it\n+1m say add five minutes\n+24m wait\n",
    );
    assert_eq!(r.chimes("cue"), [1500.0], "45 minutes and 5 more, less 25");
}

#[test]
fn cautions_come_once_and_before_the_hand_does_it() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step eight\n+5 say back\n+5 say next\n",
    );
    let said = r.said();
    let cautions: Vec<usize> = said
        .iter()
        .enumerate()
        .filter(|(_, s)| s.starts_with("Careful."))
        .map(|(i, _)| i)
        .collect();
    assert_eq!(cautions.len(), 1, "{said:#?}");
    assert!(
        said[cautions[0] + 1].starts_with("Step eight."),
        "{said:#?}"
    );
}

#[test]
fn every_formula_is_cooked_to_its_end_by_one_key() {
    for (name, steps) in [
        ("seeded-tin-loaf", 9),
        ("vegetable-soup", 5),
        ("lemon-shortbread", 6),
    ] {
        let mut script = String::new();
        for _ in 0..60 {
            script += "+30s key enter\n";
        }
        let r = Rehearsal::play(name, &script);
        let said = r.said();
        assert!(
            said.iter()
                .any(|s| s.starts_with("That was the last step.")),
            "{name}: {said:#?}"
        );
        for n in 1..=steps {
            let step = format!("Step {}.", commis::understand::numbers::say_integer(n));
            assert!(said.iter().any(|s| s.starts_with(&step)), "{name}: {step}");
        }
    }
}

#[test]
fn the_first_five_minutes_teach_ten_phrases_and_ten_keys() {
    let path = root().join("shared/rehearsals/first-five-minutes.txt");
    let script = std::fs::read_to_string(path).expect("a shipped rehearsal");
    let r = Rehearsal::play("seeded-tin-loaf", &script);
    let phrases = [
        "next",
        "it's in",
        "how much salt",
        "have i added the salt",
        "again",
        "start it",
        "how long is left",
        "where am i",
        "stop",
        "what can i say",
    ];
    let keys = [
        "enter",
        "plus",
        "minus",
        "divide",
        "times",
        "1",
        "0",
        "dot",
        "backspace",
        "times held",
    ];
    let readme = std::fs::read_to_string(root().join("README.md"))
        .expect("README.md")
        .to_lowercase();
    for taught in phrases.iter().chain(&keys) {
        let heard = |r: &commis::kitchen::Record| r.kind == "heard" && r.text == *taught;
        let at = r.records.iter().position(heard);
        let at = at.unwrap_or_else(|| panic!("`{taught}` is not taught"));
        // What it is for is told before it is done, and then it is answered.
        assert!(r.records[..at].iter().any(|r| r.kind == "note"), "{taught}");
        let next = r.records[at + 1..]
            .iter()
            .find(|r| ["said", "heard"].contains(&r.kind));
        assert!(
            *taught == "stop" || next.is_some_and(|r| r.kind == "said"),
            "{taught}"
        );
    }
    for phrase in phrases {
        assert!(readme.contains(&format!("`{phrase}`")), "{phrase}");
    }
    assert!(
        !r.said().iter().any(|s| s.contains("not understand")),
        "{:?}",
        r.said()
    );
    assert!(
        r.records.last().is_some_and(|r| r.t < 300.0),
        "longer than five minutes"
    );
}

#[test]
fn a_whole_bake_is_twice_the_same() {
    let script = "0:00 say next\n+9 say it's in\n+3m say go to step five\n+1 say start it\n+70m key 5\n+1s key enter\n";
    let a = Rehearsal::play("seeded-tin-loaf", script);
    let b = Rehearsal::play("seeded-tin-loaf", script);
    assert_eq!(a.records, b.records);
}

#[test]
fn a_missing_device_is_said_once() {
    let r = Rehearsal::play(
        "vegetable-soup",
        "0:00 microphone gone\n+1s microphone gone\n+5s microphone back\n",
    );
    let said = r.said();
    assert_eq!(
        said.iter()
            .filter(|s| s.contains("microphone is gone"))
            .count(),
        1
    );
    assert!(r.last().contains("microphone is back"));
}

#[test]
fn dough_sums_lean_on_the_loaf_at_hand() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say next\n\
         +5 say how long will the rise take at eighteen degrees\n\
         +5 say make a poolish with thirty percent of the flour\n\
         +5 say what is the baked weight\n\
         +5 say my dough came out at twenty seven with flour twenty room twenty two and water thirty\n\
         +5 say water temperature with room twenty two\n\
         +5 say make eight rolls of ninety five grams baked\n\
         +5 say how much salt\n\
         +5 say oil in spoons\n",
    );
    let said = r.said().join("\n");
    for expected in [
        // 60 minutes at 21 C: 2^(3/10) and 2^(3/8) times as long (common practice).
        "Seventy five to eighty minutes for the first rise: look, not clock.",
        // 500 g of flour and 340 g of water, of which 150 g each go ahead.
        "One hundred and fifty grams of flour and one hundred and fifty grams of water for the poolish; three hundred \
         and fifty grams of flour and one hundred and ninety grams of water stay for the dough.",
        // 932 g of dough less 12 %.
        "About eight hundred and twenty grams, with twelve percent lost in baking.",
        // 3 x 27 - 20 - 22 - 30.
        "Friction is nine degrees for this mixer and this time. From now on I count it in for the water.",
        // 3 x 25 - 22 - 22 - 9.
        "Twenty two degrees, with the flour as warm as the room.",
        // 8 x 95 / 0.88 g of dough: 463 g of it flour, and 2 % of that salt.
        "Eight pieces of ninety five grams baked: four hundred and sixty three grams of flour, about one loaf.",
        "Nine point two seven grams of fine salt, more than your scale can show: weigh nine, or one and a half level",
        "About one tablespoon of sunflower oil.",
    ] {
        assert!(said.contains(expected), "`{expected}` in\n{said}");
    }
}
