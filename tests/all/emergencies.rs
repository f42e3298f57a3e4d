//! Who is hurt or in danger is answered at once, in whatever words, and nobody else is.

use commis::bench::{Bench, Effect, Event, Heard, Options};
use commis::order::{EmergencyKind, Order};
use commis::time::{Moment, Wall};
use commis::understand::emergency;

use super::rehearsal::{formula, root};

/// Of the invented lines of the reader's corpus: what was said, and whether a burn was meant.
fn corpus() -> Vec<(String, bool)> {
    let folder = root().join("models/reader/corpus");
    let mut lines = Vec::new();
    for file in std::fs::read_dir(folder).expect("the corpus is there") {
        let text = std::fs::read_to_string(file.expect("a file").path()).expect("text");
        for line in text.lines() {
            let line: serde_json::Value = serde_json::from_str(line).expect("a line of JSON");
            let said = line["text"].as_str().expect("words").to_owned();
            lines.push((said, line["name"] == "burn_help"));
        }
    }
    lines
}

#[test]
fn burns_of_the_corpus_are_found_and_nothing_else_of_it_is_an_emergency() {
    let lines = corpus();
    assert!(lines.len() > 14_000);
    let (mut missed, mut false_alarms, mut burns) = (Vec::new(), Vec::new(), 0);
    for (said, is_burn) in &lines {
        let found = emergency(said);
        burns += usize::from(*is_burn);
        match (is_burn, found) {
            (true, found) if found != Some(Order::BurnHelp) => missed.push(said),
            // Somebody is hurt in it all the same.
            (false, Some(_)) if said.ends_with("again and broke the cup") => {}
            (false, Some(order)) => false_alarms.push(format!("{said}: {order:?}")),
            _ => {}
        }
    }
    assert!(false_alarms.is_empty(), "{}", false_alarms.join("\n"));
    assert!(
        missed.len() * 10 <= burns,
        "{} of {burns}: {missed:#?}",
        missed.len()
    );
}

#[test]
fn talk_and_orders_are_no_emergency() {
    let talk = include_str!("../../src/hear/talk.txt");
    let page = include_str!("../../GRAMMAR.md");
    let page = page.lines().filter(|l| l.starts_with("- `"));
    let page = page.filter(|l| !l.contains("burn_help") && !l.contains("\"emergency\""));
    let said = page.flat_map(|l| l.split(" -> ").next().unwrap_or_default().split('`'));
    let tricky = "the top is burnt\nburn off the alcohol\nthe toast caught a bit\ncut the butter in\ntake the choke out\n\
        how do i cut the chicken\nmy hands are full and the onions are burning\ni burnt the onions\nthe bottom has burnt\n\
        the caramel is burning\nset fire to the pudding\ngas mark six\nis the gas on\nthe cake collapsed\n\
        let the wine breathe\nis anyone allergic to nuts\nshe is allergic to eggs\nthe dough is swelling\n\
        how do i stop my hands smelling of onion\ni have cut the onions by hand\nfish fingers burnt on one side\n\
        is honey a choking hazard\nshock the beans in ice water\nthe rice is burning at the bottom\nburnt butter\n\
        do not burn your fingers\ncut my portion in half\nlight the candles\nmy mouth is on fire with this chilli\n\
        burn the skin of the peppers over the flame\nhow hot is the burning point of oil\ni drank a glass of water\n\
        turn the flame down\nslice the leg of lamb\nwash my hands in hot water\nthe soup is too hot for my tongue";
    let all = talk.lines().chain(said).chain(tricky.lines());
    let found: Vec<String> = all
        .filter_map(|text| Some(format!("{text}: {:?}", emergency(text)?)))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// What somebody may say first, by what has happened.
const SAID: &[(Option<EmergencyKind>, &[&str])] = &[
    (
        None,
        &[
            "i burnt my hand on the tin",
            "i've scalded my foot with hot water",
            "i burnt my arm on the oven door",
            "i've got hot jam on my hand",
            "boiling sugar splashed all over my wrist",
            "the kettle's steam got my face",
            "ouch, I just grabbed the hot pan with my bare hand",
            "he has burned his fingers badly",
            "my finger is scalded",
            "oil spat on my arm",
            "i leant my arm on the hot hob",
            "what should I do about a burn",
            "hot caramel on my fingers",
            "I've burned myself",
            "the soup went over my lap and burnt my leg",
        ],
    ),
    (
        Some(EmergencyKind::BurntMouth),
        &[
            "i burnt my tongue",
            "she scalded her mouth on the soup",
            "burned my tongue on the jam",
        ],
    ),
    (
        Some(EmergencyKind::Cut),
        &[
            "i cut my finger",
            "I've sliced the top off my thumb",
            "the knife slipped and went into my hand",
            "I've cut myself quite badly",
            "it won't stop bleeding",
            "he's bleeding",
            "I grated my knuckles",
            "there is blood everywhere",
            "she cut her palm on a tin",
            "my finger's bleeding",
        ],
    ),
    (
        Some(EmergencyKind::PanFire),
        &[
            "there's oil burning in the pan",
            "the pan is on fire",
            "the oil is on fire",
            "how do i put out a pan fire",
            "my frying pan has caught fire",
            "the fat's caught fire",
            "flames are coming out of the pan",
            "the chip pan is in flames",
        ],
    ),
    (
        Some(EmergencyKind::OvenFire),
        &[
            "there is a fire in the oven",
            "the oven's on fire",
            "the toaster has caught fire",
            "flames in the oven and they are huge",
            "something's on fire in the microwave",
        ],
    ),
    (
        Some(EmergencyKind::ClothesFire),
        &[
            "my hair caught fire",
            "my sleeve is on fire",
            "her apron has caught fire",
            "I'm on fire",
        ],
    ),
    (
        Some(EmergencyKind::Fire),
        &[
            "the tea towel is on fire",
            "there's a fire in the kitchen",
            "fire",
            "call the fire brigade",
            "the oven glove caught fire",
            "the curtains are burning",
        ],
    ),
    (
        Some(EmergencyKind::Gas),
        &[
            "i smell gas",
            "it smells of gas in here",
            "there's a gas leak",
            "the whole kitchen stinks of gas",
            "can you smell gas",
        ],
    ),
    (
        Some(EmergencyKind::Choking),
        &[
            "my guest is choking",
            "help, he's choking on a bone",
            "something is stuck in her throat",
            "the baby is choking",
            "a fishbone is stuck in my throat",
        ],
    ),
    (
        Some(EmergencyKind::Allergy),
        &[
            "someone is having an allergic reaction",
            "she's got hives and can't breathe",
            "his face is swelling up",
            "her lips have swollen",
            "where is the adrenaline pen",
            "he ate a nut and he is allergic",
            "i can't breathe",
            "my tongue is tingling and swelling",
            "she is in anaphylactic shock",
        ],
    ),
    (
        Some(EmergencyKind::Shock),
        &[
            "i got an electric shock",
            "the mixer gave me a shock",
            "he's been electrocuted",
        ],
    ),
    (
        Some(EmergencyKind::Swallowed),
        &[
            "my son drank bleach",
            "she has swallowed some lye",
            "the toddler swallowed a battery",
            "he drank the cleaner by mistake",
        ],
    ),
    (
        Some(EmergencyKind::Splash),
        &[
            "i have chilli in my eye",
            "bleach splashed in my eyes",
            "i've got lye on my hands",
            "lemon juice squirted into my eye",
        ],
    ),
    (
        Some(EmergencyKind::Collapse),
        &[
            "someone fainted",
            "my father has collapsed",
            "she's unconscious",
            "he is not breathing",
            "grandad passed out",
            "my wife is having a stroke",
        ],
    ),
    (
        Some(EmergencyKind::Call),
        &[
            "call an ambulance",
            "this is an emergency",
            "i need first aid",
        ],
    ),
];

#[test]
fn whoever_is_hurt_is_understood_in_any_words() {
    let mut wrong = Vec::new();
    for (kind, all) in SAID {
        let meant = kind.map_or(Order::BurnHelp, |kind| Order::Emergency { kind });
        for text in *all {
            let found = emergency(text);
            if found.as_ref() != Some(&meant) {
                wrong.push(format!("{text}: expected {meant:?}, found {found:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn typed(text: &str) -> Event {
    Event::Heard(Heard::typed(text))
}

fn said(effects: &[Effect]) -> String {
    let said = effects.iter().filter_map(|effect| match effect {
        Effect::Say { text, .. } => Some(text.as_str()),
        _ => None,
    });
    said.collect::<Vec<_>>().join(" ")
}

/// Whatever is open: a weigh-up, a doubt, a question before something is lost. The step and the timers stay.
#[test]
fn the_answer_comes_first_and_touches_nothing() {
    let opened: &[&[&str]] = &[
        &[],
        &["next"],
        &["start a timer for ten minutes", "stop the timer"],
        &["next", "make it double"],
        &["goodbye"],
        &["make a note"],
        &["start a timer"],
        &["stop listening"],
    ];
    // Every danger somewhere, and at every place a third of them.
    for (nth, open) in opened.iter().enumerate() {
        for (kind, all) in SAID.iter().skip(nth % 3).step_by(3) {
            let mut bench =
                Bench::new(formula("roast-chicken"), Options::default()).expect("a size");
            let wall = Wall::fixed(0, 0);
            let _ = bench.handle(&Event::Start { wall }, Moment(0));
            for (at, text) in open.iter().enumerate() {
                let _ = bench.handle(&typed(text), Moment(1_000 * (at as u64 + 1)));
            }
            let before = bench.view(Moment(10_000));
            let now = Moment(10_000);
            let answer = said(&bench.handle(&typed(all[0]), now));
            let first = answer.split(['.', '?']).next().expect("a sentence");
            assert!(
                !answer.contains("Do you mean"),
                "{open:?}: {kind:?}: {answer}"
            );
            assert!(first.split(' ').count() <= 20, "{answer}");
            assert!(
                answer.contains("mergency") || answer.contains("doctor"),
                "{answer}"
            );
            let after = bench.view(now);
            assert_eq!(
                (before.timers, before.big),
                (after.timers, after.big),
                "{open:?}: {}",
                all[0]
            );
            let calm = said(&bench.handle(&typed("yes"), Moment(11_000)));
            assert!(!bench.is_over(), "{open:?}: {calm}");
        }
    }
}
