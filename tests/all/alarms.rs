//! Timers as a kitchen needs them: named as heard, asked about when doubtful, never answered by accident.

use commis::bench::{Bench, Chime, Effect, Event, Heard, Key, Options, Why};
use commis::time::{Moment, Wall};
use commis::timer::DishId;

use super::rehearsal::{Rehearsal, formula};

/// A bench that can be spoken to at any moment, between ticks too.
struct Kitchen(Bench);

impl Kitchen {
    fn new() -> Self {
        let mut bench =
            Bench::new(formula("seeded-tin-loaf"), Options::default()).expect("as written");
        // 2026-01-05 15:00 UTC.
        let wall = Wall {
            unix_ms: 1_767_625_200_000,
            offset_s: 0,
            changes: Vec::new(),
        };
        bench.handle(&Event::Start { wall }, Moment(0));
        Self(bench)
    }

    fn say(&mut self, at_s: u64, text: &str) -> Vec<Effect> {
        let heard = Heard::spoken(text, 1.0);
        self.0.handle(&Event::Heard(heard), Moment(at_s * 1000))
    }

    fn at(&mut self, at_s: u64, event: &Event) -> Vec<Effect> {
        self.0.handle(event, Moment(at_s * 1000))
    }
}

fn said(effects: &[Effect]) -> Vec<&str> {
    effects
        .iter()
        .filter_map(|e| match e {
            Effect::Say { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect()
}

fn rings(effects: &[Effect]) -> bool {
    effects.iter().any(|e| {
        matches!(
            e,
            Effect::Chime {
                chime: Chime::Due,
                ..
            }
        )
    })
}

#[test]
fn which_one_is_asked_and_the_name_is_enough() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say set a timer for the oven for thirty minutes\n+1 say six minutes for the eggs\n+1 say ten minute timer\n\
         +1 say add five minutes\n+3 say the oven\n+1 say pause\n+3 say the second one\n+1 say stop it\n+3 say timer one\n",
    );
    let said = r.said();
    assert!(
        said.contains(&"Which one: the eggs, timer one or the oven timer?"),
        "{said:#?}"
    );
    assert!(
        said.contains(&"Five minutes more. Oven: thirty five minutes left."),
        "{said:#?}"
    );
    assert!(
        said.contains(&"Timer one held, with ten minutes left."),
        "{said:#?}"
    );
    assert_eq!(r.bench.rack().live_count(), 3, "nothing is stopped unasked");
}

#[test]
fn names_are_matched_as_heard() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say first rise for forty minutes\n+1 say set a timer for the oven for thirty minutes\n\
         +1 say how long on the oven timer\n+1 say how long is left on the rise\n+1 say when is the first rise done\n\
         +1 say rename the oven to soup\n+1 say how long on the soup\n",
    );
    let said = r.said();
    for want in [
        "Oven: thirty minutes left.",
        "First rise: forty minutes left.",
        "First rise at twenty to ten.",
        "It is called soup now.",
        "Soup: thirty minutes left.",
    ] {
        assert!(said.contains(&want), "{want}: {said:#?}");
    }
}

#[test]
fn alarms_that_nobody_answers_ring_together() {
    let mut k = Kitchen::new();
    k.say(0, "six minutes for the eggs");
    k.say(1, "six minutes for the rice");
    assert_eq!(
        said(&k.at(360, &Event::Tick)),
        ["Eggs: time is up."],
        "a second before the rice"
    );
    let both = k.at(361, &Event::Tick);
    assert_eq!(said(&both), ["Rice and eggs: time is up."]);
    let chimes = both.iter().filter(|e| matches!(e, Effect::Chime { .. }));
    assert_eq!(chimes.count(), 1);
    // The chime goes on; both are named again a minute after their time.
    let mut again = Vec::new();
    while let Some(at) = k.0.wake_at().filter(|at| *at <= Moment(430_000)) {
        let effects = k.0.handle(&Event::Tick, at);
        assert!(effects.iter().any(|e| matches!(e, Effect::Chime { .. })));
        again.extend(said(&effects).iter().map(|text| (*text).to_owned()));
    }
    assert_eq!(again, ["Rice one minute over and eggs one minute over."]);
    // Any key answers the one named first, and does nothing else.
    let first = k.at(435, &Event::Key { key: Key::Enter });
    assert_eq!(said(&first), ["All right. Still ringing: the eggs."]);
    k.at(436, &Event::Key { key: Key::Enter });
    assert!(k.0.rack().ringing().is_empty());
    assert_eq!(k.0.view(Moment(440_000)).step, 0);
    assert_eq!(
        said(&k.say(600, "how long on the eggs")),
        ["Eggs: four minutes over."]
    );
}

/// The machine slept past the alarm and is woken by a key: that key was not meant for an alarm that nobody heard.
#[test]
fn a_key_pressed_before_the_alarm_was_heard_does_not_answer_it() {
    let mut k = Kitchen::new();
    k.say(0, "ten minute timer");
    let effects = k.at(900, &Event::Key { key: Key::Enter });
    assert!(said(&effects)[0].starts_with("Step one."), "{effects:#?}");
    assert!(rings(&effects));
    assert_eq!(k.0.rack().ringing().len(), 1);
}

/// The alarm passes over the question, so a yes after it is no answer to the question.
#[test]
fn an_alarm_takes_back_a_question_that_it_passes_over() {
    let mut k = Kitchen::new();
    k.say(0, "first rise for ten minutes");
    k.say(1, "twenty minutes for the soup");
    k.say(595, "stop all timers");
    let due = k.at(600, &Event::Tick);
    assert_eq!(
        said(&due),
        ["First rise: time is up. Has the dough doubled?"]
    );
    let yes = k.say(603, "yes");
    assert!(
        said(&yes)[0].starts_with("Good. The first rise took ten minutes."),
        "{yes:#?}"
    );
    assert_eq!(k.0.rack().live_count(), 1, "the soup still runs");
}

#[test]
fn a_step_with_two_timers_offers_one_after_the_other() {
    let mut formula = formula("seeded-tin-loaf");
    let mut second = formula.steps[2].timers[0].clone();
    second.name = "chill".to_owned();
    formula.steps[2].timers.push(second);
    let mut k = Kitchen(Bench::new(formula, Options::default()).expect("as written"));
    let wall = Wall {
        unix_ms: 0,
        offset_s: 0,
        changes: Vec::new(),
    };
    k.at(0, &Event::Start { wall });
    let step = k.say(1, "go to step three");
    assert!(said(&step)[0].ends_with("Say start it for the rest, fifteen minutes."));
    let first = k.say(2, "start it");
    assert!(
        said(&first)[0].ends_with("Say start it for the chill, fifteen minutes."),
        "{first:#?}"
    );
    k.say(3, "call the rest soup");
    let second = k.say(4, "start it");
    assert!(said(&second)[0].starts_with("Chill started"), "{second:#?}");
    assert!(
        said(&k.say(5, "start it"))[0].starts_with("No timer is offered here."),
        "a timer that was renamed is not offered again"
    );
}

#[test]
fn a_shorter_rise_keeps_the_oven_at_its_time_from_the_end() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say second rise for thirty minutes\n+5m wait\n+1s wait\n",
    );
    assert_eq!(r.chimes("cue"), [300.0], "30 minutes less 25");
}

#[test]
fn a_restart_brings_the_cues_back() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say start the bake\n+21m say restart the bake\n+2 say yes\n+21m wait\n",
    );
    assert_eq!(r.chimes("cue"), [1200.0, 1262.0 + 1200.0]);
}

#[test]
fn after_a_stop_it_says_what_ended_and_what_still_runs() {
    let mut k = Kitchen::new();
    k.say(0, "go to step five");
    k.say(1, "start it");
    k.say(2, "two hours for the stock");
    k.say(3, "start the bake");
    // The power goes at 10 minutes and is back at 66.
    let wall = Wall {
        unix_ms: 1_767_625_200_000 + 66 * 60_000,
        offset_s: 0,
        changes: Vec::new(),
    };
    let gap_ms = 56 * 60_000;
    let effects = k.at(
        66 * 60,
        &Event::Resumed {
            wall,
            gap_ms,
            notes: vec!["The last thing was only half written.".to_owned()],
            dish: DishId::default(),
            formula: None,
        },
    );
    assert_eq!(
        said(&effects),
        [
            "The last thing was only half written. I was away for fifty six minutes. \
             Forty six minutes ago, in the bake: turn the tin. Twenty six minutes ago, in the first rise: look at the dough. \
             The bake ended thirty one minutes ago. The first rise ended six minutes ago. \
             Stock: fifty five minutes left. We are at step five. Is it deep brown, and does it sound hollow underneath?"
        ]
    );
    assert!(rings(&effects));
    assert!(matches!(
        effects.last(),
        Some(Effect::Say {
            why: Why::Alarm,
            ..
        })
    ));
    // And it goes on ringing until somebody answers.
    let again = k.0.wake_at().expect("it rings again");
    assert!(rings(&k.0.handle(&Event::Tick, again)));
}

#[test]
fn a_cue_of_the_cooks_own_is_said_at_its_time() {
    let r = Rehearsal::play(
        "vegetable-soup",
        "0:00 say one hour called second rise\n+1 say twenty minutes called bread\n+1 say turn the tin at twelve minutes\n\
         +1 say which timer is next\n+1 say look at thirty five\n+1 say heat the oven when ten minutes are left on the second rise\n\
         +1 say add five minutes to the second rise\n+60m wait\n",
    );
    let said = r.said();
    for want in [
        "In the bread, after twelve minutes: turn the tin.",
        "At nine twelve, in the bread: turn the tin.",
        "That moment is not ahead of us in the bread. Bread: twenty minutes left.",
        "In the second rise, with ten minutes left: heat the oven.",
        "Bread: turn the tin.",
        "Second rise: heat the oven.",
    ] {
        assert!(said.contains(&want), "{want}: {said:#?}");
    }
    // The bread began at 1 s; the rise ends five minutes later than it was to.
    assert_eq!(r.chimes("cue"), [721.0, 3300.0]);
}
