use super::*;
use crate::measure::tin::Shape;
use crate::order::UnitSymbol;
use crate::order::{Asked, Place, Question, ScaleBy, TimerRef};
use crate::time::Span;
use proptest::prelude::*;

fn meant(text: &str, place: Place) -> Option<Order> {
    press_all(&Key::strokes(text).expect("strokes"), &place.example())
}

#[test]
fn every_line_of_the_card_gives_an_order() {
    for p in key_paths() {
        assert!(!p.order.is_empty(), "`{}` at {:?}", p.strokes, p.place);
    }
    let twice = |p: &&KeyPath| {
        let same = |q: &&KeyPath| (&q.strokes, q.place) == (&p.strokes, p.place);
        key_paths().iter().filter(same).count() > 1
    };
    assert_eq!(key_paths().iter().find(twice), None);
}

#[test]
fn everything_that_can_be_meant_has_a_path() {
    let without: Vec<String> = Order::names()
        .into_iter()
        .filter(|n| !key_paths().iter().any(|p| p.order == *n))
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
        let fewest = key_paths()
            .iter()
            .filter(|p| p.order == name)
            .map(|p| p.strokes.split_whitespace().count())
            .min();
        assert!(fewest.is_some_and(|n| n <= 2), "{name}: {fewest:?} strokes");
    }
}

#[test]
fn strokes_fill_the_slots() {
    let lasts = |m| Some(Span::minutes(m));
    assert_eq!(
        meant("1 2 *", Place::Step),
        Some(Order::StartTimer {
            lasts: lasts(12),
            name: None
        })
    );
    assert_eq!(
        meant("1 . 5 *", Place::Step),
        Some(Order::StartTimer {
            lasts: Some(Span::seconds(90)),
            name: None
        })
    );
    assert_eq!(
        meant("5 + 2", Place::TwoTimers),
        Some(Order::AddTime {
            by: Span::minutes(5),
            timer: Some(TimerRef::Id(1))
        })
    );
    assert_eq!(
        meant("3 /", Place::Step),
        Some(Order::HowMuch {
            ingredient: "salt".into(),
            part: None,
            unit: None
        })
    );
    assert_eq!(
        meant("/ . . Enter", Place::Step),
        Some(Order::HowMuch {
            ingredient: "salt".into(),
            part: None,
            unit: None
        })
    );
    assert_eq!(
        meant(". 6 7 1 2 3 Enter 5 . 5 Enter", Place::Step),
        Some(Order::Scale {
            by: ScaleBy::Tin {
                shape: Shape::Round,
                size_cm: vec![23.0, 5.5]
            }
        })
    );
    assert_eq!(
        meant(". 6 7 3 2 0 Enter 3 0 Enter Enter", Place::Step),
        Some(Order::Scale {
            by: ScaleBy::Tin {
                shape: Shape::Rectangle,
                size_cm: vec![20.0, 30.0]
            }
        })
    );
    assert_eq!(
        meant(". 7 2 - 1 8 Enter 1 2", Place::Step),
        Some(Order::Ask(Question::ConvertTemperature {
            number: -18.0,
            from: UnitSymbol::CELSIUS,
            to: UnitSymbol::FAHRENHEIT
        }))
    );
    // Mass to mass asks for no ingredient.
    assert_eq!(
        meant(". 7 1 1 2 Enter 6 1", Place::Step),
        Some(Order::Ask(Question::Convert {
            number: 12.0,
            from: UnitSymbol::OUNCE,
            to: UnitSymbol::GRAM,
            ingredient: None
        }))
    );
    assert_eq!(
        meant(". 4 3 Enter", Place::Step),
        Some(Order::NeedsLonger { by: None })
    );
}

#[test]
fn an_alarm_takes_the_key_and_nothing_else() {
    for key in Key::strokes("Enter + - * / . Back 0 5").expect("strokes") {
        let mut pad = Keypad::default();
        assert_eq!(
            pad.press(key, Moment(0), &Place::Alarm.example()),
            KeyAnswer::Order(Order::StopChime)
        );
        assert_eq!(pad, Keypad::default());
    }
    // A number half entered when it rings is still there after it.
    let mut pad = Keypad::default();
    pad.press(Key::Digit(4), Moment(0), &Place::Step.example());
    pad.press(Key::Digit(9), Moment(5_000), &Place::Alarm.example());
    assert_eq!(pad.entry(), "4");
    assert!(!pad.expire(Moment(10_999)));
    assert!(pad.expire(Moment(11_000)));
}

#[test]
fn a_number_is_said_back_and_forgotten() {
    let place = Place::Step.example();
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
        KeyAnswer::Order(Order::Next)
    );
}

#[test]
fn backspace_takes_back_one_thing_at_a_time() {
    let place = Place::Step.example();
    let mut pad = Keypad::default();
    let mut press = |text: &str| {
        let key = Key::strokes(text).expect("a stroke")[0];
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
    assert_eq!(press("Back"), KeyAnswer::Order(Order::StopTalking));
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
            of: 12
        }
    );
    assert_eq!(
        press("Back"),
        KeyAnswer::Choice {
            said: "6: the size.".into(),
            item: 6,
            of: 11
        }
    );
    assert_eq!(press("Back"), KeyAnswer::Say("List closed.".into()));
    assert!(!pad.is_open());
}

#[test]
fn a_question_that_comes_while_a_list_is_open_is_not_answered_by_accident() {
    let mut pad = Keypad::default();
    pad.press(Key::Dot, Moment(0), &Place::Step.example());
    assert_eq!(
        pad.hints(&Place::Question.example()),
        [("Enter".into(), "closes what is open".into())]
    );
    assert!(matches!(
        pad.press(Key::Enter, Moment(500), &Place::Question.example()),
        KeyAnswer::Say(_)
    ));
    assert_eq!(
        pad.press(Key::Enter, Moment(1_000), &Place::Question.example()),
        KeyAnswer::Order(Order::Yes)
    );
    // A list opened with the question waiting works as ever.
    let mut pad = Keypad::default();
    pad.press(Key::Dot, Moment(0), &Place::Question.example());
    assert_eq!(
        pad.press(Key::Digit(2), Moment(500), &Place::Question.example()),
        KeyAnswer::Order(Order::ReadStep)
    );
}

#[test]
fn nought_and_a_number_only_tell() {
    assert_eq!(
        meant("0 4 +", Place::Step),
        Some(Order::RepeatLast { count: 4 })
    );
    assert_eq!(
        meant("0 2 *", Place::TwoTimers),
        Some(Order::TimeLeft {
            timer: Some(TimerRef::Id(1))
        })
    );
    assert_eq!(
        meant("0 3 /", Place::Step),
        Some(Order::HaveAdded {
            ingredient: "salt".into()
        })
    );
    // Neither goes anywhere, nor changes a timer; a decimal is still a number.
    assert_eq!(meant("0 6 Enter", Place::Step), None);
    assert_eq!(meant("0 5 -", Place::Timer), None);
    assert_eq!(
        meant("0 . 5 +", Place::Timer),
        Some(Order::AddTime {
            by: Span::seconds(30),
            timer: None
        })
    );
}

#[test]
fn a_doubt_is_a_numbered_list() {
    let mut place = Place::Question.example();
    let add = |minutes| Order::AddTime {
        by: Span::minutes(minutes),
        timer: None,
    };
    place.asked = Asked::Which(vec![add(15), add(50)]);
    let mut pad = Keypad::default();
    let mut press = |key| pad.press(key, Moment(0), &place);
    let said = |answer| match answer {
        KeyAnswer::Choice { said, .. } => said,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        said(press(Key::Enter)),
        "Which did you mean? 1: add fifteen minutes to the timer."
    );
    assert_eq!(said(press(Key::Dot)), "2: add fifty minutes to the timer.");
    assert_eq!(press(Key::Enter), KeyAnswer::Pick(1));
    press(Key::Enter);
    assert_eq!(press(Key::Digit(1)), KeyAnswer::Pick(0));
    press(Key::Enter);
    assert_eq!(press(Key::Digit(3)), KeyAnswer::Order(Order::No));
    assert_eq!(press(Key::Minus), KeyAnswer::Order(Order::NotYet));
    // A number of the cook's own is still a number: nothing is picked by accident.
    assert_eq!(press(Key::Digit(1)), KeyAnswer::Entry { said: "1".into() });
    // The doubt that passes while its list is open cannot be chosen from.
    let mut pad = Keypad::default();
    pad.press(Key::Enter, Moment(0), &place);
    assert_eq!(
        pad.press(Key::Enter, Moment(1), &Place::Step.example()),
        KeyAnswer::Say("List closed.".into())
    );
}

#[test]
fn a_timer_that_goes_while_its_list_is_open_cannot_be_chosen() {
    let mut pad = Keypad::default();
    pad.press(Key::Digit(5), Moment(0), &Place::TwoTimers.example());
    pad.press(Key::Plus, Moment(0), &Place::TwoTimers.example());
    assert_eq!(
        pad.press(Key::Digit(2), Moment(0), &Place::Timer.example()),
        KeyAnswer::Say("This list has 1.".into())
    );
    assert_eq!(
        pad.press(Key::Enter, Moment(0), &Place::Step.example()),
        KeyAnswer::Say("List closed.".into())
    );
}

#[test]
fn lists_are_read_and_go_round() {
    let place = Place::Step.example();
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
    assert_eq!(said(Key::Minus), "11: the scale.");
    assert_eq!(said(Key::Minus), "10: listening and leaving.");
    assert_eq!(said(Key::Dot), "11: the scale.");
    assert_eq!(said(Key::Dot), "1: what can be done here.");
}

#[test]
fn a_held_key_tells_what_a_press_would_do() {
    let pad = Keypad::default();
    assert_eq!(
        pad.held(Key::Enter, &Place::Weighing.example()),
        "Enter: it is in; on to the next."
    );
    assert_eq!(
        pad.held(Key::Enter, &Place::Question.example()),
        "Enter: yes."
    );
    assert_eq!(
        pad.held(Key::Times, &Place::Offered.example()),
        "Star: starts this step's timer."
    );
    let mut pad = Keypad::default();
    pad.press(Key::Digit(7), Moment(0), &Place::Step.example());
    assert_eq!(
        pad.held(Key::Times, &Place::Step.example()),
        "Star: a timer of 7 minutes."
    );
    pad.clear();
    pad.press(Key::Dot, Moment(0), &Place::Step.example());
    assert_eq!(
        pad.held(Key::Digit(6), &Place::Step.example()),
        "6: chooses the size."
    );
}

#[test]
fn the_state_survives_a_power_cut() {
    let place = Place::TwoTimers.example();
    let mut pad = Keypad::default();
    for key in Key::strokes(". 6 5 4 Enter 2 5").expect("strokes") {
        pad.press(key, Moment(0), &place);
    }
    let json = serde_json::to_string(&pad).expect("plain data");
    let mut back: Keypad = serde_json::from_str(&json).expect("what was written");
    assert_eq!(back, pad);
    back.press(Key::Digit(0), Moment(0), &place);
    assert!(matches!(
        back.press(Key::Enter, Moment(0), &place),
        KeyAnswer::Order(Order::Scale {
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
    fn any_keys_at_all(presses in prop::collection::vec((any_key(), 0u64..9_000, 0usize..11), 0..60)) {
        let mut pad = Keypad::default();
        let mut now = 0;
        for (key, wait, place) in presses {
            now += wait;
            let place = Place::ALL[place].example();
            prop_assert!(pad.held(key, &place).len() > 4);
            prop_assert!(!pad.hints(&place).is_empty());
            pad.press(key, Moment(now), &place);
            prop_assert!(pad.entry().len() <= 8);
        }
        let mut out = pad.clone();
        for _ in 0..20 {
            out.press(Key::Backspace, Moment(now), &Place::Step.example());
        }
        prop_assert!(!out.is_open());
        pad.expire(Moment(now + 60_000));
        prop_assert!(!pad.is_open());
        prop_assert_eq!(pad.wake_at(), None);
    }
}
