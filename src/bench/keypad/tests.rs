use super::*;
use crate::ask::Question;
use crate::measure::tin::Shape;
use crate::time::Span;
use crate::understand::ScaleBy;
use proptest::prelude::*;

fn at(name: &str) -> Place {
    example(name).unwrap_or_else(|| panic!("no example of the place `{name}`"))
}

fn meant(text: &str, place: &str) -> Option<Intent> {
    press_all(&strokes(text).expect("strokes"), &at(place))
}

#[test]
fn every_path_gives_its_intent() {
    for p in KEY_PATHS {
        let keys = strokes(p.strokes).unwrap_or_else(|| panic!("`{}` are no strokes", p.strokes));
        let got = press_all(&keys, &at(p.place)).map(|i| i.name());
        assert_eq!(
            got.as_deref(),
            Some(p.intent_name),
            "`{}` {}",
            p.strokes,
            p.place
        );
    }
}

#[test]
fn everything_that_can_be_meant_has_a_path() {
    let without: Vec<String> = Intent::names()
        .into_iter()
        .filter(|n| !KEY_PATHS.iter().any(|p| p.intent_name == n))
        .collect();
    assert!(without.is_empty(), "no key path for {without:?}");
}

#[test]
fn what_is_done_with_dough_on_the_hands_takes_two_strokes() {
    // Common practice, no source: what a cook does or asks between two grips into the dough.
    let floury = [
        "next",
        "back",
        "repeat",
        "done",
        "yes",
        "no",
        "not_yet",
        "stop_chime",
        "stop_talking",
        "start_offered",
        "time_left",
        "weigh_next",
        "how_much",
        "what_next",
        "where_am_i",
        "left_to_add",
        "read_step",
        "help",
        "add_time",
        "take_time",
        "start_timer",
        "needs_longer",
        "go_to_step",
    ];
    for name in floury {
        let fewest = KEY_PATHS
            .iter()
            .filter(|p| p.intent_name == name)
            .map(|p| p.strokes.split_whitespace().count())
            .min();
        assert!(fewest.is_some_and(|n| n <= 2), "{name}: {fewest:?} strokes");
    }
}

#[test]
fn strokes_fill_the_slots() {
    let lasts = |m| Some(Span::minutes(m));
    assert_eq!(
        meant("1 2 *", "at a step"),
        Some(Intent::StartTimer {
            lasts: lasts(12),
            name: None
        })
    );
    assert_eq!(
        meant("1 . 5 *", "at a step"),
        Some(Intent::StartTimer {
            lasts: Some(Span::seconds(90)),
            name: None
        })
    );
    assert_eq!(
        meant("5 + 2", "two timers"),
        Some(Intent::AddTime {
            by: Span::minutes(5),
            timer: Some("first rise".into())
        })
    );
    assert_eq!(
        meant("3 /", "at a step"),
        Some(Intent::HowMuch {
            ingredient: "salt".into(),
            part: None,
            unit: None
        })
    );
    assert_eq!(
        meant("/ . . Enter", "at a step"),
        Some(Intent::HowMuch {
            ingredient: "salt".into(),
            part: None,
            unit: None
        })
    );
    assert_eq!(
        meant(". 6 7 1 2 3 Enter 5 . 5 Enter", "at a step"),
        Some(Intent::Scale {
            by: ScaleBy::Tin {
                shape: Shape::Round,
                size_cm: vec![23.0, 5.5]
            }
        })
    );
    assert_eq!(
        meant(". 6 7 3 2 0 Enter 3 0 Enter Enter", "at a step"),
        Some(Intent::Scale {
            by: ScaleBy::Tin {
                shape: Shape::Rectangle,
                size_cm: vec![20.0, 30.0]
            }
        })
    );
    assert_eq!(
        meant(". 7 2 - 1 8 Enter 1 2", "at a step"),
        Some(Intent::Ask(Question::ConvertTemperature {
            number: -18.0,
            from: "c".into(),
            to: "f".into()
        }))
    );
    // Mass to mass asks for no ingredient.
    assert_eq!(
        meant(". 7 1 1 2 Enter 6 1", "at a step"),
        Some(Intent::Ask(Question::Convert {
            number: 12.0,
            from: "oz".into(),
            to: "g".into(),
            ingredient: None
        }))
    );
    assert_eq!(
        meant(". 4 3 Enter", "at a step"),
        Some(Intent::NeedsLonger { by: None })
    );
}

#[test]
fn an_alarm_takes_the_key_and_nothing_else() {
    for key in strokes("Enter + - * / . Back 0 5").expect("strokes") {
        let mut pad = Keypad::default();
        assert_eq!(
            pad.press(key, Moment(0), &at("an alarm")),
            KeyAnswer::Intent(Intent::StopChime)
        );
        assert_eq!(pad, Keypad::default());
    }
    // A number half entered when it rings is still there after it.
    let mut pad = Keypad::default();
    pad.press(Key::Digit(4), Moment(0), &at("at a step"));
    pad.press(Key::Digit(9), Moment(5_000), &at("an alarm"));
    assert_eq!(pad.entry(), "4");
    assert!(!pad.expire(Moment(10_999)));
    assert!(pad.expire(Moment(11_000)));
}

#[test]
fn a_number_is_said_back_and_forgotten() {
    let place = at("at a step");
    let mut pad = Keypad::default();
    assert_eq!(pad.wake_at(), None);
    assert_eq!(
        pad.press(Key::Digit(1), Moment(1_000), &place),
        KeyAnswer::Entry { said: "1".into() }
    );
    assert_eq!(
        pad.press(Key::Digit(2), Moment(2_000), &place),
        KeyAnswer::Entry { said: "12".into() }
    );
    assert_eq!(pad.wake_at(), Some(Moment(8_000)));
    assert_eq!(pad.lapse(Moment(7_999)), None);
    assert_eq!(pad.lapse(Moment(8_000)).as_deref(), Some("12 forgotten."));
    // And a key that comes too late means what it means by itself, even when nobody called `lapse`.
    pad.press(Key::Digit(9), Moment(10_000), &place);
    assert_eq!(
        pad.press(Key::Enter, Moment(16_000), &place),
        KeyAnswer::Intent(Intent::Next)
    );
}

#[test]
fn backspace_takes_back_one_thing_at_a_time() {
    let place = at("at a step");
    let mut pad = Keypad::default();
    let mut press = |text: &str| {
        let key = strokes(text).expect("a stroke")[0];
        pad.press(key, Moment(0), &place)
    };
    press("1");
    press("2");
    assert_eq!(press("Back"), KeyAnswer::Entry { said: "1".into() });
    assert_eq!(
        press("Back"),
        KeyAnswer::Entry {
            said: "Nothing entered.".into()
        }
    );
    assert_eq!(press("Back"), KeyAnswer::Intent(Intent::StopTalking));
    press(".");
    press("6");
    press("5");
    press("4");
    assert_eq!(
        press("Back"),
        KeyAnswer::Entry {
            said: "Nothing entered.".into()
        }
    );
    assert_eq!(
        press("Back"),
        KeyAnswer::Choice {
            said: "5: pieces of a weight.".into(),
            item: 5,
            of: 10
        }
    );
    assert_eq!(
        press("Back"),
        KeyAnswer::Choice {
            said: "6: the size.".into(),
            item: 6,
            of: 10
        }
    );
    assert_eq!(press("Back"), KeyAnswer::Say("List closed.".into()));
    assert!(!pad.is_open());
}

#[test]
fn a_question_that_comes_while_a_list_is_open_is_not_answered_by_accident() {
    let mut pad = Keypad::default();
    pad.press(Key::Dot, Moment(0), &at("at a step"));
    assert_eq!(
        pad.hints(&at("a question")),
        [(
            "Enter".into(),
            "closes what is open: there is a question".into()
        )]
    );
    assert!(matches!(
        pad.press(Key::Enter, Moment(500), &at("a question")),
        KeyAnswer::Say(_)
    ));
    assert_eq!(
        pad.press(Key::Enter, Moment(1_000), &at("a question")),
        KeyAnswer::Intent(Intent::Yes)
    );
    // A list opened with the question waiting works as ever.
    let mut pad = Keypad::default();
    pad.press(Key::Dot, Moment(0), &at("a question"));
    assert_eq!(
        pad.press(Key::Digit(2), Moment(500), &at("a question")),
        KeyAnswer::Intent(Intent::ReadStep)
    );
}

#[test]
fn nought_and_a_number_only_tell() {
    assert_eq!(
        meant("0 4 +", "at a step"),
        Some(Intent::RepeatLast { count: 4 })
    );
    assert_eq!(
        meant("0 2 *", "two timers"),
        Some(Intent::TimeLeft {
            timer: Some("first rise".into())
        })
    );
    assert_eq!(
        meant("0 3 /", "at a step"),
        Some(Intent::HaveAdded {
            ingredient: "salt".into()
        })
    );
    // Neither goes anywhere, nor changes a timer; a decimal is still a number.
    assert_eq!(meant("0 6 Enter", "at a step"), None);
    assert_eq!(meant("0 5 -", "a timer runs"), None);
    assert_eq!(
        meant("0 . 5 +", "a timer runs"),
        Some(Intent::AddTime {
            by: Span::seconds(30),
            timer: None
        })
    );
}

#[test]
fn a_doubt_is_a_numbered_list() {
    let mut place = at("a question");
    place.readings = vec!["fifteen minutes".into(), "fifty minutes".into()];
    let mut pad = Keypad::default();
    let mut press = |key| pad.press(key, Moment(0), &place);
    let said = |answer| match answer {
        KeyAnswer::Choice { said, .. } => said,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        said(press(Key::Enter)),
        "Which did you mean? 1: fifteen minutes."
    );
    assert_eq!(said(press(Key::Dot)), "2: fifty minutes.");
    assert_eq!(press(Key::Enter), KeyAnswer::Pick(1));
    press(Key::Enter);
    assert_eq!(press(Key::Digit(1)), KeyAnswer::Pick(0));
    press(Key::Enter);
    assert_eq!(press(Key::Digit(3)), KeyAnswer::Intent(Intent::No));
    assert_eq!(press(Key::Minus), KeyAnswer::Intent(Intent::NotYet));
    // A number of the cook's own is still a number: nothing is picked by accident.
    assert_eq!(press(Key::Digit(1)), KeyAnswer::Entry { said: "1".into() });
    // The doubt that passes while its list is open cannot be chosen from.
    let mut pad = Keypad::default();
    pad.press(Key::Enter, Moment(0), &place);
    assert_eq!(
        pad.press(Key::Enter, Moment(1), &at("at a step")),
        KeyAnswer::Say("List closed.".into())
    );
}

#[test]
fn a_timer_that_goes_while_its_list_is_open_cannot_be_chosen() {
    let mut pad = Keypad::default();
    pad.press(Key::Digit(5), Moment(0), &at("two timers"));
    pad.press(Key::Plus, Moment(0), &at("two timers"));
    assert_eq!(
        pad.press(Key::Digit(2), Moment(0), &at("a timer runs")),
        KeyAnswer::Say("This list has 1.".into())
    );
    assert_eq!(
        pad.press(Key::Enter, Moment(0), &at("at a step")),
        KeyAnswer::Say("List closed.".into())
    );
}

#[test]
fn lists_are_read_and_go_round() {
    let place = at("at a step");
    let mut pad = Keypad::default();
    let mut said = |key| match pad.press(key, Moment(0), &place) {
        KeyAnswer::Choice { said, .. } => said,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        said(Key::Dot),
        "The lists. Dot goes on, Enter chooses. 1: what can be done here."
    );
    assert_eq!(said(Key::Dot), "2: the whole step.");
    assert_eq!(said(Key::Plus), "2: the whole step.");
    assert_eq!(said(Key::Minus), "1: what can be done here.");
    assert_eq!(said(Key::Minus), "10: listening and leaving.");
    assert_eq!(said(Key::Dot), "1: what can be done here.");
}

#[test]
fn a_held_key_tells_what_a_press_would_do() {
    let pad = Keypad::default();
    assert_eq!(
        pad.held(Key::Enter, &at("weighing")),
        "Enter: it is in; on to the next."
    );
    assert_eq!(pad.held(Key::Enter, &at("a question")), "Enter: yes.");
    assert_eq!(
        pad.held(Key::Times, &at("a timer offered")),
        "Star: starts this step's timer."
    );
    let mut pad = Keypad::default();
    pad.press(Key::Digit(7), Moment(0), &at("at a step"));
    assert_eq!(
        pad.held(Key::Times, &at("at a step")),
        "Star: a timer of 7 minutes."
    );
    pad.clear();
    pad.press(Key::Dot, Moment(0), &at("at a step"));
    assert_eq!(
        pad.held(Key::Digit(6), &at("at a step")),
        "6: chooses the size."
    );
}

#[test]
fn the_state_survives_a_power_cut() {
    let place = at("two timers");
    let mut pad = Keypad::default();
    for key in strokes(". 6 5 4 Enter 2 5").expect("strokes") {
        pad.press(key, Moment(0), &place);
    }
    let json = serde_json::to_string(&pad).expect("plain data");
    let mut back: Keypad = serde_json::from_str(&json).expect("what was written");
    assert_eq!(back, pad);
    back.press(Key::Digit(0), Moment(0), &place);
    assert!(matches!(
        back.press(Key::Enter, Moment(0), &place),
        KeyAnswer::Intent(Intent::Scale {
            by: ScaleBy::Pieces { .. }
        })
    ));
}

fn any_key() -> impl Strategy<Value = Key> {
    prop_oneof![
        1 => (0u8..10).prop_map(Key::Digit),
        7 => prop::sample::select(Key::SIGNS.to_vec()),
    ]
}

proptest! {
    /// No sequence of keys, places and pauses panics; what is open is always forgotten in the end; every key says
    /// what it does; and Backspace alone always leads out.
    #[test]
    fn any_keys_at_all(presses in prop::collection::vec((any_key(), 0u64..9_000, 0usize..9), 0..60)) {
        let places = ["at a step", "weighing", "a question", "a look", "asked how long", "an alarm", "a timer offered",
            "a timer runs", "two timers"];
        let mut pad = Keypad::default();
        let mut now = 0;
        for (key, wait, place) in presses {
            now += wait;
            let place = at(places[place]);
            prop_assert!(pad.held(key, &place).len() > 4);
            prop_assert!(!pad.hints(&place).is_empty());
            pad.press(key, Moment(now), &place);
            prop_assert!(pad.entry().len() <= 8);
        }
        let mut out = pad.clone();
        for _ in 0..20 {
            out.press(Key::Backspace, Moment(now), &at("at a step"));
        }
        prop_assert!(!out.is_open());
        pad.expire(Moment(now + 60_000));
        prop_assert!(!pad.is_open());
        prop_assert_eq!(pad.wake_at(), None);
    }
}
