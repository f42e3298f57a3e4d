//! Voice for a cook who does not see the screen: everything on it can be asked for, again, slowly, in letters.

use commis::bench::{Bench, Effect, Event, Heard, Key, Listening, View};
use commis::time::Moment;

use super::rehearsal::Rehearsal;

/// What a question is to tell, from the picture that the screen shows.
type Told = fn(&View) -> Vec<String>;

fn play(script: &str) -> Rehearsal {
    Rehearsal::play("seeded-tin-loaf", script)
}

/// A session with something in every corner of the screen.
const BUSY: &str = "0:00 say make it one and a half times\n+1s say go to step five\n+5s say start it\n\
    +1s say start a timer for ten minutes\n+1s say go to step one\n+5s say it's in\n+1s keypad gone\n+1s say wobbly spoon\n\
    +1s say stop all timers\n";

#[test]
fn everything_on_the_screen_can_be_asked_for() {
    // Taking the view apart here makes the compiler ask for a question when the screen gets something new.
    let View {
        formula: _,
        scale: _,
        step: _,
        steps: _,
        title: _,
        text: _,
        big: _,
        timers: _,
        weighing: _,
        // 'How much is in' tells it: `at_scale.rs` asks so while something is poured.
        pouring: _,
        heard: _,
        said: _,
        question: _,
        entry: _,
        choosing: _,
        // Every key of a list reads it; `keypad` tests it.
        list: _,
        // `cautions_can_be_asked_for`, where a step has one.
        cautions: _,
        contains: _,
        keys: _,
        listening: _,
        now: _,
        clock: _,
        ready: _,
        others: _,
        troubles: _,
    } = play(BUSY).bench.view(Moment(0));
    let asked: [(&str, &str, Told); 16] = [
        ("formula", "what are we making", |v| vec![v.formula.clone()]),
        ("scale", "what size is it", |v| vec![v.scale.clone()]),
        ("step, steps and title", "where am I", |v| {
            let n = |n: usize| commis::understand::numbers::say_integer(n as u64);
            vec![
                format!("step {} of {}", n(v.step), n(v.steps)),
                v.title.clone(),
            ]
        }),
        ("text", "read the whole step", |v| {
            vec![v.text.split('.').next().unwrap_or_default().to_owned()]
        }),
        ("big, the thing to weigh", "what do I weigh next", |v| {
            vec![v.big.under.clone(), "one hundred and fifty grams".into()]
        }),
        ("timers", "how long is left", |v| {
            v.timers.iter().map(|t| t.name.clone()).collect()
        }),
        ("weighing, what is not in", "what's left to add", |v| {
            let open = v.weighing.iter().filter(|w| !w.2);
            open.map(|w| w.0.clone()).collect()
        }),
        (
            "weighing, what is in",
            "have I added the white flour",
            |v| {
                let inside = v.weighing.iter().filter(|w| w.2);
                inside.map(|w| format!("yes, the {} is in", w.0)).collect()
            },
        ),
        ("heard", "what did you hear", |v| {
            v.heard.iter().map(|(words, _)| words.clone()).collect()
        }),
        ("said", "repeat that", |v| vec![v.said.clone()]),
        ("question", "where am I", |v| {
            v.question.iter().cloned().collect()
        }),
        ("keys", "key . 1", |_| {
            vec!["Enter is yes".into(), "Backspace is no".into()]
        }),
        ("listening", "are you listening", |v| {
            assert_eq!(v.listening, Listening::Yes);
            vec!["I am listening".into()]
        }),
        ("clock", "what time is it", |_| vec!["nine".into()]),
        ("troubles", "is anything wrong", |v| {
            let missing = v.troubles.iter();
            missing
                .map(|t| t.trim_start_matches("no ").to_owned())
                .collect()
        }),
        ("contains", "what are the allergens", |v| {
            let line = v.contains.trim_start_matches("Contains ");
            line.split(", ").map(str::to_owned).collect()
        }),
    ];
    let quiet = play(BUSY.trim_end().rsplit_once('\n').expect("lines").0);
    let asking = play(BUSY);
    for (what, ask, told) in asked {
        // A question is put last of all, because most orders answer it.
        let (before, now) = match what {
            "question" | "keys" => (&asking, Moment(16_000)),
            _ => (&quiet, Moment(15_000)),
        };
        let wanted = told(&before.bench.view(now));
        assert!(!wanted.is_empty(), "{what}: the screen shows none of it");
        let answer = answer(&before.bench, ask, now).to_lowercase();
        for part in wanted {
            assert!(
                answer.contains(&part.to_lowercase()),
                "{what}: `{ask}` does not tell `{part}`: {answer}"
            );
        }
    }
}

/// What is said last when the cook says something, or presses keys (`key . 1`).
fn answer(bench: &Bench, ask: &str, now: Moment) -> String {
    let mut bench = bench.clone();
    let events: Vec<Event> = match ask.strip_prefix("key ") {
        Some(keys) => Key::strokes(keys)
            .expect("strokes")
            .into_iter()
            .map(|key| Event::Key { key })
            .collect(),
        None => vec![Event::Heard(Heard::spoken(ask.to_lowercase(), 1.0))],
    };
    let effects = events
        .iter()
        .flat_map(|e| bench.handle(e, now))
        .collect::<Vec<_>>();
    let said = effects.iter().rev().find_map(|e| match e {
        Effect::Say { text, .. } => Some(text.clone()),
        _ => None,
    });
    said.unwrap_or_default()
}

#[test]
fn cautions_can_be_asked_for() {
    let r = play("0:00 say go to step eight\n+1s say read the whole step\n");
    let shown = r.bench.view(Moment(1_000)).cautions;
    assert!(!shown.is_empty());
    for caution in shown {
        assert!(r.last().contains(&caution), "{caution}: {}", r.last());
    }
}

#[test]
fn the_number_half_entered_can_be_asked_for() {
    let r = play("0:00 say next\n+1s key 1\n+1s key 2\n+1s say where am I\n");
    assert!(r.last().ends_with("Entered so far: 12."), "{}", r.last());
}

#[test]
fn the_hour_of_serving_can_be_asked_for() {
    let r =
        play("start 10:00\n0:00 say dinner is at half past seven in the evening\n+5s say yes\n");
    let now = Moment(10_000);
    let shown = r.bench.view(now).ready;
    assert_eq!(shown, "19:30", "{:?}", r.said());
    let told = answer(&r.bench, "when is it ready", now);
    assert!(told.contains("half past seven"), "{told}");
}

#[test]
fn the_open_list_can_be_asked_for() {
    let r = play("0:00 key dot\n+1s key dot\n+1s say where am I\n");
    assert!(
        r.last().ends_with("A list is open: 2: the whole step."),
        "{}",
        r.last()
    );
}

#[test]
fn help_is_about_this_moment_and_short() {
    let moments = [
        ("0:00 wait\n", "next, to begin"),
        ("0:00 say next\n", "it's in"),
        ("0:00 say go to step five\n", "start it"),
        (
            "0:00 say go to step five\n+1s say start it\n",
            "add five minutes",
        ),
        (
            "0:00 say go to step five\n+1s say start it\n+60m wait\n+1s say stop\n",
            "not yet",
        ),
        (
            "0:00 say start a timer for one minute\n+61s wait\n",
            "stop, for the alarm",
        ),
        ("0:00 say goodbye\n", "You can say: yes; no."),
        ("0:00 say set a timer\n", "ten minutes"),
        ("0:00 say how much flour\n", "the second one"),
    ];
    let mut seen = Vec::new();
    for (script, holds) in moments {
        let spoken = play(&format!("{script}+1s say what can I say here\n"));
        let spoken = spoken.last();
        assert!(spoken.contains(holds), "{script}: {spoken}");
        assert!(
            !seen.contains(&spoken.to_owned()),
            "{script}: as elsewhere: {spoken}"
        );
        seen.push(spoken.to_owned());
        let here = spoken.split(" Anywhere:").next().unwrap_or_default();
        assert!(
            here.split_whitespace().count() <= 30,
            "too long to hear: {here}"
        );
    }
}

#[test]
fn help_by_key_names_keys() {
    let r = play("0:00 key enter\n+1s key dot\n+1s key 1\n");
    assert!(r.last().starts_with("Enter: it is in."), "{}", r.last());
    assert!(r.last().contains("any key held"), "{}", r.last());
    // Without a microphone the keys are named from the start.
    let r = play("0:00 microphone gone\n");
    assert!(
        r.last()
            .ends_with("Enter begins; hold a key to hear what it does."),
        "{}",
        r.last()
    );
}

#[test]
fn a_doubt_is_settled_by_word_or_key_and_forgotten() {
    let ask = "0:00 say how much flour\n+2s ";
    for (answer, told) in [
        (
            "say the second one",
            "One hundred grams of wholemeal flour.",
        ),
        ("say the wholemeal", "One hundred grams of wholemeal flour."),
        ("say the first", "Four hundred grams of strong white flour."),
        ("say neither", "I have changed nothing."),
        ("say none of them", "I have changed nothing."),
        (
            "key enter\n+1s key enter",
            "Four hundred grams of strong white flour.",
        ),
        (
            "key enter\n+1s key 2",
            "One hundred grams of wholemeal flour.",
        ),
        (
            "key enter\n+1s key dot\n+1s key enter",
            "One hundred grams of wholemeal flour.",
        ),
        ("key enter\n+1s key 3", "I have changed nothing."),
        ("key minus", "I have changed nothing."),
        ("key backspace", "I have changed nothing."),
    ] {
        let r = play(&format!("{ask}{answer}\n"));
        assert_eq!(r.last(), told, "{answer}");
    }
    // Half a minute later `the second one` is talk.
    let r = play("0:00 say how much flour\n+30s say the second one\n");
    assert!(
        !r.said().iter().any(|s| s.contains("grams of")),
        "{:?}",
        r.said()
    );
    // One reading alone is a matter of yes and no.
    let r = play("0:00 say start a timer for ten minutes\n+1s say pauze the timer\n+1s say yes\n");
    assert!(r.last().starts_with("Timer one held"), "{:?}", r.said());
}

#[test]
fn the_last_few_things_again() {
    let r = play(
        "0:00 say next\n+5s say how much salt\n+5s say how much water\n+5s say repeat the last two things\n",
    );
    let said = r.said();
    assert_eq!(
        said[said.len() - 2..],
        [
            "Ten grams of fine salt.",
            "Three hundred and forty grams of water."
        ]
    );
    // Hearing them again makes nothing new: `again` is still the last answer, and so are the last two.
    let r = play(
        "0:00 say how much salt\n+5s say how much water\n+5s say repeat the last two things\n+5s say again\n\
         +1s key 0\n+1s key 2\n+1s key plus\n",
    );
    let said = r.said();
    let water = "Three hundred and forty grams of water.";
    assert_eq!(said[said.len() - 2..], ["Ten grams of fine salt.", water]);
    assert!(said[..said.len() - 4].contains(&water));
    // A caution is among them, though `again` is the step.
    let r =
        play("0:00 say go to step eight\n+9s say again\n+9s say repeat the last three things\n");
    assert!(
        r.said()[r.said().len() - 3..]
            .iter()
            .any(|s| s.starts_with("Careful.")),
        "{:?}",
        r.said()
    );
}

#[test]
fn spelled_is_the_name_in_letters_and_the_number_in_digits() {
    let r =
        play("0:00 say make it one and a half times\n+5s say how much salt\n+5s say spell that\n");
    assert_eq!(
        r.last(),
        "Fine salt: F, I, N, E, space, S, A, L, T. Fifteen: one, five."
    );
    let r = play("0:00 say go to step five\n+5s say start it\n+5s say spell that\n");
    assert!(
        r.last()
            .starts_with("First rise: F, I, R, S, T, space, R, I, S, E."),
        "{}",
        r.last()
    );
    // `again` is the answer, not its letters.
    let r = play("0:00 say how much salt\n+5s say spell that\n+5s say again\n");
    assert_eq!(r.last(), "Ten grams of fine salt.");
}

#[test]
fn each_chime_is_played_before_it_is_explained() {
    let r = play("0:00 say next\n+9s say what do the chimes mean\n");
    let from = r
        .records
        .iter()
        .position(|r| r.text == "what do the chimes mean")
        .expect("asked");
    let after: Vec<(&str, &str)> = r.records[from + 1..]
        .iter()
        .filter(|r| ["chime", "said"].contains(&r.kind))
        .map(|r| (r.kind, r.text.as_str()))
        .collect();
    let chimes: Vec<&str> = after.iter().step_by(2).map(|(_, name)| *name).collect();
    assert_eq!(
        chimes,
        [
            "cue",
            "due",
            "asked",
            "not understood",
            "listening",
            "enough"
        ]
    );
    for pair in after.chunks(2) {
        assert_eq!([pair[0].0, pair[1].0], ["chime", "said"], "{pair:?}");
    }
    // No timer rang.
    assert!(r.bench.rack().ringing().is_empty());
}

#[test]
fn fewer_words_keep_what_matters() {
    let words = |script: &str| -> usize {
        let r = play(script);
        r.said().iter().map(|s| s.split_whitespace().count()).sum()
    };
    let bake = "+1s say next\n+1s say it's in\n+1s say it's in\n+1s say it's in\n+1s say it's in\n+1s say go to step five\n\
        +1s say start it\n+1s say how hot should the oven be\n+1s say what can I say\n";
    let full = words(&format!("0:00 say more words\n{bake}"));
    let brief = words(&format!("0:00 say fewer words\n{bake}"));
    assert!(brief * 5 < full * 4, "brief {brief}, full {full} words");
}

#[test]
fn a_slip_of_the_hand_is_taken_back() {
    // Twice Enter in a weigh-up: minus takes the second back, and again the first.
    let r = play("0:00 key enter\n+5s key enter\n+1s key enter\n+1s key minus\n");
    assert_eq!(
        r.last(),
        "The wholemeal flour is not in. Wholemeal flour: one hundred grams."
    );
    let r = play(
        "0:00 key enter\n+5s key enter\n+1s key enter\n+1s key minus\n+1s key minus\n+1s key minus\n",
    );
    assert_eq!(r.last(), "Back at the beginning. Enter begins.");
    // Enter once too often past a step that names things: what it took for in is not, when minus follows at once.
    let seeds = "0:00 say go to step four\n+5s say start it\n+485s say stop\n+1s key enter\n";
    let r = play(&format!(
        "{seeds}+3s key minus\n+1s say have I added the sunflower seeds\n"
    ));
    assert!(
        r.last().starts_with("No, the sunflower seeds"),
        "{}",
        r.last()
    );
    let r = play(&format!(
        "{seeds}+3m key minus\n+1s say have I added the sunflower seeds\n"
    ));
    assert!(
        r.last().starts_with("Yes, the sunflower seeds"),
        "{}",
        r.last()
    );
}

#[test]
fn a_timer_that_was_not_started_is_asked_about_before_its_step_is_left() {
    let passed = "0:00 say go to step five\n+5s key enter\n";
    let r = play(passed);
    assert_eq!(
        r.last(),
        "The first rise timer has not been started. Go on all the same? Enter is yes, Backspace is no."
    );
    assert_eq!(
        r.bench.view(Moment(6_000)).step,
        5,
        "nothing is left unasked"
    );
    // Twice is yes, by key and by word.
    let r = play(&format!("{passed}+1s key enter\n"));
    assert!(
        r.said().iter().any(|s| s.starts_with("Step six.")),
        "{:?}",
        r.said()
    );
    let r = play("0:00 say go to step five\n+5s say next\n+3s say next\n");
    assert!(
        r.said().iter().any(|s| s.starts_with("Step six.")),
        "{:?}",
        r.said()
    );
    let r = play(&format!("{passed}+1s key times\n"));
    assert!(r.last().starts_with("First rise started"), "{}", r.last());
    let r = play(
        "0:00 say go to step five\n+5s say start it\n+61m key enter\n+1s key enter\n+1s key enter\n",
    );
    assert!(
        !r.said()
            .iter()
            .any(|s| s.starts_with("The first rise timer")),
        "{:?}",
        r.said()
    );
}
