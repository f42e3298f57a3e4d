//! The worst moments: two presses too many, five alarms at once, a power cut with the salt on the scale.

use commis::bench::{Bench, Effect, Event, Heard, Key, Options};
use commis::journal::{Log, Rise};
use commis::time::{Moment, Span, Wall};
use commis::timer::DishId;

use super::rehearsal::{Rehearsal, formula};

fn said(effects: &[Effect]) -> Vec<&str> {
    effects
        .iter()
        .filter_map(|e| match e {
            Effect::Say { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect()
}

struct Kitchen(Bench);

impl Kitchen {
    fn new() -> Self {
        let mut bench =
            Bench::new(formula("seeded-tin-loaf"), Options::default()).expect("as written");
        let wall = Wall::fixed(1_767_625_200_000, 0);
        bench.handle(&Event::Start { wall }, Moment(0));
        Self(bench)
    }

    fn say(&mut self, at_s: u64, text: &str) -> String {
        let heard = Event::Heard(Heard::typed(text));
        said(&self.0.handle(&heard, Moment(at_s * 1000))).join(" ")
    }

    fn at(&mut self, at_s: u64, event: &Event) -> String {
        said(&self.0.handle(event, Moment(at_s * 1000))).join(" ")
    }
}

#[test]
fn two_presses_of_enter_do_not_end_a_running_bake() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step eight\n+2 say start it\n+1 key enter\n+1 key enter\n+1 say how long is left\n",
    );
    assert_eq!(r.bench.view(Moment(10_000)).step, 9, "it went on");
    assert_eq!(r.last(), "Bake: thirty five minutes left.");
    assert!(r.records.iter().all(|record| record.kind != "took"));
}

/// However often a key is pressed, forwards, backwards or to take back: the bake runs until somebody says that it is to stop.
#[test]
fn no_row_of_one_key_ends_a_running_bake() {
    for key in ["enter", "minus", "plus", "backspace", "dot", "divide", "0"] {
        for pause in ["1", "25"] {
            let press = format!("+{pause} key {key}\n").repeat(6);
            let script = format!("0:00 say go to step eight\n+2 say start it\n+60 wait\n{press}");
            let r = Rehearsal::play("seeded-tin-loaf", &script);
            assert_eq!(r.bench.rack().live_count(), 1, "{key}, {:?}", r.said());
        }
    }
}

#[test]
fn a_bake_is_not_taken_back_unasked_when_it_has_run_for_a_while() {
    let bake = "0:00 say go to step eight\n+2 say start it\n";
    let r = Rehearsal::play("seeded-tin-loaf", &format!("{bake}+20 say undo\n"));
    assert_eq!(r.last(), "Taken back. The bake is stopped.");
    let r = Rehearsal::play("seeded-tin-loaf", &format!("{bake}+600 say undo\n"));
    assert_eq!(r.last(), "Stop the bake, with twenty five minutes left?");
    assert_eq!(r.bench.rack().live_count(), 1);
    let no = format!("{bake}+600 say undo\n+2 say no\n");
    let r = Rehearsal::play("seeded-tin-loaf", &no);
    assert_eq!(r.bench.rack().live_count(), 1, "{:?}", r.said());
    let yes = format!("{bake}+600 say undo\n+2 say yes\n");
    let r = Rehearsal::play("seeded-tin-loaf", &yes);
    assert_eq!(r.last(), "Taken back. The bake is stopped.");
    // What was taken back by a yes is given back by an undo.
    let r = Rehearsal::play("seeded-tin-loaf", &format!("{yes}+2 say undo\n"));
    assert_eq!(r.bench.rack().live_count(), 1, "{:?}", r.said());
}

#[test]
fn next_said_twice_goes_on() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step eight\n+2 say start it\n+5 say next\n+2 say next\n",
    );
    let asked = r
        .said()
        .iter()
        .filter(|s| s.contains("Go on all the same?"))
        .count();
    assert_eq!(asked, 1, "{:#?}", r.said());
    assert_eq!(r.bench.view(Moment(10_000)).step, 9);
    assert_eq!(r.bench.rack().live_count(), 1);
}

#[test]
fn a_rise_cannot_be_held() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step five\n+2 say start it\n+1m say pause the first rise\n+10m say how long is left\n",
    );
    assert!(
        r.said()
            .iter()
            .any(|s| s.starts_with("The dough goes on rising")),
        "{:#?}",
        r.said()
    );
    assert_eq!(r.last(), "First rise: forty nine minutes left.");
}

#[test]
fn what_cannot_be_right_is_not_learnt_and_what_is_odd_is_asked() {
    let bake = |minutes: u64, answer: &str| {
        let r = Rehearsal::play(
            "seeded-tin-loaf",
            &format!(
                "0:00 say go to step eight\n+2 say start it\n+{minutes}m say yes\n+2 say yes\n+3 say {answer}\n"
            ),
        );
        let took = r.records.iter().filter(|r| r.kind == "took").count();
        (took, r.said().join(" | "))
    };
    let (took, said) = bake(1, "next");
    assert_eq!(took, 0, "{said}");
    assert!(
        said.contains("too far from the formula for me to count it"),
        "{said}"
    );
    let (took, said) = bake(12, "yes");
    assert_eq!(took, 1, "{said}");
    assert!(
        said.contains("shall I remember it for next time?"),
        "{said}"
    );
    assert_eq!(bake(12, "no").0, 0);
    let (took, said) = bake(30, "where am I");
    assert_eq!(took, 1, "{said}");
}

#[test]
fn impossible_lines_of_the_log_are_left_out_and_counted() {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join(format!("log-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    for (took_s, asked) in [
        (0, false),
        (20, true),
        (12 * 60, false),
        (12 * 60, true),
        (33 * 60, false),
    ] {
        let rise = Rise {
            formula: "loaf".to_owned(),
            timer: "bake".to_owned(),
            planned: Span::minutes(35),
            took: Span::seconds(took_s),
            room_c: None,
            scale: String::new(),
            asked,
            began_ms: 0,
            at_ms: 0,
            offset_s: 0,
        };
        Log::append(&folder, &rise).expect("written");
    }
    let log = Log::read(&folder).expect("read");
    assert_eq!((log.rises.len(), log.impossible_lines), (2, 3));
    std::fs::remove_dir_all(&folder).expect("gone");
}

/// The newest first; all within two sentences; `stop` answers the one just named, `stop all timers` all that ring.
#[test]
fn every_alarm_has_a_name() {
    let mut k = Kitchen::new();
    for (at, name) in ["eggs", "rice", "soup", "pasta", "stock"]
        .iter()
        .enumerate()
    {
        k.say(at as u64, &format!("six minutes for the {name}"));
    }
    k.say(6, "one hour called ham");
    for at in 360..364 {
        k.at(at, &Event::Tick);
    }
    let all = k.at(364, &Event::Tick);
    assert_eq!(all, "Stock, pasta, soup, rice and eggs: time is up.");
    assert!(
        k.say(366, "stop")
            .contains("Still ringing: the pasta, the soup, the rice and the eggs.")
    );
    // One has the word for all, about a minute after they were due.
    let later: Vec<String> = (367..440).map(|at| k.at(at, &Event::Tick)).collect();
    let told = later.iter().filter(|said| !said.is_empty());
    assert_eq!(
        told.collect::<Vec<_>>(),
        ["Still due: pasta, soup, rice and eggs."]
    );
    assert!(
        k.at(441, &Event::Key { key: Key::Plus })
            .contains("the soup, the rice and the eggs.")
    );
    let silent = k.say(442, "stop all timers");
    assert!(silent.starts_with("All silent. Ham: "), "{silent}");
    assert_eq!(k.0.rack().live_count(), 1);
}

#[test]
fn a_new_alarm_comes_before_the_old_ones() {
    let mut k = Kitchen::new();
    for (name, minutes) in [("eggs", "six"), ("rice", "seven"), ("soup", "eight")] {
        k.say(0, &format!("{minutes} minutes for the {name}"));
    }
    k.at(360, &Event::Tick);
    k.at(420, &Event::Tick);
    let newest = k.at(480, &Event::Tick);
    assert!(newest.starts_with("Soup: time is up. "), "{newest}");
    assert!(
        newest.contains("Rice one minute over and eggs two minutes over."),
        "{newest}"
    );
}

#[test]
fn after_a_stop_every_timer_is_told() {
    let mut k = Kitchen::new();
    for (at, name) in ["eggs", "rice", "soup", "pasta", "stock"]
        .iter()
        .enumerate()
    {
        k.say(
            at as u64,
            &format!(
                "{} minutes for the {name}",
                ["ten", "twenty", "thirty", "forty", "fifty"][at]
            ),
        );
    }
    let wall = Wall::fixed(1_767_625_200_000 + 60_000, 0);
    let told = k.at(
        60,
        &Event::Resumed {
            wall,
            gap_ms: 40_000,
            notes: Vec::new(),
            dish: DishId::default(),
            formula: None,
        },
    );
    for name in ["Eggs: ", "Rice: ", "Soup: ", "Pasta and stock run too."] {
        assert!(told.contains(name), "{name}: {told}");
    }
}

/// What was called before the power went may be in or not: it is asked.
#[test]
fn after_a_stop_in_a_weigh_up_it_asks_whether_the_last_is_in() {
    let resumed = || {
        let mut k = Kitchen::new();
        k.say(0, "next");
        k.say(2, "it's in");
        let wall = Wall::fixed(1_767_625_200_000 + 60_000, 0);
        let told = k.at(
            60,
            &Event::Resumed {
                wall,
                gap_ms: 3000,
                notes: Vec::new(),
                dish: DishId::default(),
                formula: None,
            },
        );
        assert!(
            told.ends_with(
                "We are at step one. Wholemeal flour was called, one hundred grams. Is it in?"
            ),
            "{told}"
        );
        assert!(told.starts_with("I am back."), "{told}");
        k
    };
    assert_eq!(
        resumed().say(62, "no"),
        "Wholemeal flour: one hundred grams."
    );
    assert!(
        resumed()
            .say(62, "yes")
            .starts_with("Wholemeal flour in. Instant yeast")
    );
    assert!(
        resumed()
            .at(62, &Event::Key { key: Key::Enter })
            .starts_with("Wholemeal flour in.")
    );
}

#[test]
fn a_rehearsal_ends_though_a_timer_rings_at_goodbye() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say one minute timer\n+61s say goodbye\n+1 say yes\n+5m wait\n",
    );
    assert!(r.bench.is_over());
}

#[test]
fn the_last_thing_done_is_taken_back_whatever_it_was() {
    let mut k = Kitchen::new();
    let back = |k: &mut Kitchen| {
        let mut out = Vec::new();
        k.0.take_back_last(&mut out);
        said(&out).join(" ")
    };
    assert_eq!(back(&mut k), "There is nothing to take back.");
    k.say(1, "next");
    k.say(2, "it's in");
    k.say(3, "ten minute timer called soup");
    k.say(4, "how much salt");
    k.say(5, "add five minutes to the soup");
    assert_eq!(back(&mut k), "Taken back. Soup: ten minutes left.");
    assert_eq!(back(&mut k), "Taken back. The soup is stopped.");
    assert_eq!(k.0.rack().live_count(), 0);
    assert_eq!(
        back(&mut k),
        "Taken back. The strong white flour is not in."
    );
    assert_eq!(back(&mut k), "Taken back. We are back at the beginning.");
    k.say(6, "make it twice the size");
    assert!(back(&mut k).starts_with("Taken back. As written: five hundred grams of flour"));
    k.say(7, "ten minute timer called tea");
    k.say(8, "stop the tea");
    k.say(9, "yes");
    assert_eq!(back(&mut k), "Taken back. Tea: ten minutes left.");
}
