//! Who is spoken to: the name, the eight seconds after an answer, the key, and what is heard over the program's own voice.

use commis::bench::{Attention, Bench, Effect, Event, Heard, Key, Options};
use commis::order::{Order, Question};
use commis::time::{Moment, Wall};

use super::rehearsal::formula;

struct Kitchen(Bench);

impl Kitchen {
    fn with(attention: Attention) -> Self {
        let formula = formula("seeded-tin-loaf");
        let options = Options {
            attention,
            ..Options::default()
        };
        let mut bench = Bench::new(formula, options).expect("as written");
        let wall = Wall {
            unix_ms: 0,
            offset_s: 0,
            changes: Vec::new(),
        };
        bench.handle(&Event::Start { wall }, Moment(0));
        Self(bench)
    }

    /// Did it do or say anything?
    fn acts(&mut self, at_s: f64, heard: Heard) -> bool {
        let effects = self
            .0
            .handle(&Event::Heard(heard), Moment((at_s * 1000.0) as u64));
        effects
            .iter()
            .any(|e| matches!(e, Effect::Understood { .. } | Effect::Say { .. }))
    }

    fn says(&mut self, at_s: f64, text: &str) -> bool {
        self.acts(at_s, Heard::spoken(text, 1.0))
    }
}

#[test]
fn by_name_an_order_needs_the_name_until_it_has_been_answered() {
    let mut kitchen = Kitchen::with(Attention::Name);
    assert!(!kitchen.says(100.0, "how much salt"));
    assert!(
        !kitchen.says(101.0, "next please commis"),
        "the name comes first"
    );
    assert!(kitchen.says(102.0, "commis how much salt"));
    // 'No fine salt...' takes about four seconds to say, and then eight are open.
    assert!(kitchen.says(110.0, "how much water"));
    assert!(kitchen.says(118.0, "next"));
    assert!(!kitchen.says(160.0, "next"));
}

#[test]
fn the_name_alone_opens_the_ear_with_a_tick() {
    let mut kitchen = Kitchen::with(Attention::Name);
    assert!(kitchen.says(100.0, "commis"));
    assert!(kitchen.says(107.0, "next"));
    let mut kitchen = Kitchen::with(Attention::Name);
    assert!(kitchen.says(100.0, "commis"));
    assert!(!kitchen.says(109.0, "next"));
}

#[test]
fn stop_is_always_obeyed_and_a_typed_line_is_always_meant() {
    for attention in [Attention::Open, Attention::Name, Attention::Key] {
        let mut kitchen = Kitchen::with(attention);
        // Where nothing sounds and nobody called, there is nothing to stop.
        let open = attention == Attention::Open;
        assert_eq!(kitchen.says(90.0, "stop"), open, "{attention:?}");
        assert!(kitchen.acts(99.0, Heard::typed("how much salt")));
        assert!(kitchen.says(100.0, "stop"), "{attention:?}");
        let mut over = Heard::spoken("be quiet", 1.0);
        over.over = true;
        assert!(kitchen.acts(101.0, over), "{attention:?}");
        assert!(kitchen.acts(102.0, Heard::typed("next")), "{attention:?}");
    }
}

#[test]
fn by_key_nothing_is_heard_before_the_key() {
    let mut kitchen = Kitchen::with(Attention::Key);
    assert!(!kitchen.says(100.0, "next"));
    assert!(!kitchen.says(101.0, "commis next"));
    for (n, key) in [Key::Dot, Key::Digit(0), Key::Digit(1)]
        .into_iter()
        .enumerate()
    {
        kitchen
            .0
            .handle(&Event::Key { key }, Moment(102_000 + n as u64 * 300));
    }
    assert!(kitchen.says(105.0, "next"));
    assert!(
        kitchen.says(112.0, "how much salt"),
        "an answer keeps it open"
    );
    assert!(!kitchen.says(150.0, "next"));
}

#[test]
fn over_its_own_voice_only_stop_and_the_name_count() {
    let mut kitchen = Kitchen::with(Attention::Open);
    let over = |text: &str| {
        let mut heard = Heard::spoken(text, 1.0);
        heard.over = true;
        heard
    };
    assert!(!kitchen.acts(100.0, over("next")));
    assert!(kitchen.acts(101.0, over("commis next")));
    assert!(kitchen.acts(102.0, over("stop")));
}

/// The question that follows, if one does.
fn asked(effects: &[Effect]) -> Option<&str> {
    effects.iter().find_map(|e| match e {
        Effect::Say {
            text,
            why: commis::bench::Why::Ask,
        } => Some(text.as_str()),
        _ => None,
    })
}

#[test]
fn what_sounds_alike_is_asked_about_and_the_telling_word_answers() {
    for (said, question, answer, done) in [
        (
            "start a timer for fifteen minutes",
            "Did you say fifteen or fifty minutes?",
            "fifty",
            "Timer one started: fifty minutes",
        ),
        (
            "start a timer for thirty minutes",
            "Did you say thirty or thirteen minutes?",
            "the second one",
            "Timer one started: thirteen minutes",
        ),
    ] {
        let mut bench = Kitchen::with(Attention::Open).0;
        let effects = bench.handle(&Event::Heard(Heard::spoken(said, 0.9)), Moment(10_000));
        assert_eq!(asked(&effects), Some(question));
        assert_eq!(bench.rack().live_count(), 0, "nothing is done yet");
        assert!(
            effects.contains(&Effect::Vocabulary),
            "the ear learns the answers"
        );
        let effects = bench.handle(&Event::Heard(Heard::spoken(answer, 0.9)), Moment(14_000));
        let said = effects
            .iter()
            .any(|e| matches!(e, Effect::Say { text, .. } if text.starts_with(done)));
        assert!(said, "{effects:?}");
    }
    let mut bench = Kitchen::with(Attention::Open).0;
    let sure = Heard::spoken("start a timer for fifteen minutes", 1.0);
    bench.handle(&Event::Heard(sure), Moment(10_000));
    assert_eq!(bench.rack().live_count(), 1);
}

/// What it is taken to mean when several readings have these shares.
fn with_readings(bench: &mut Bench, readings: &[(&str, f32)], rival: Option<f32>) -> Vec<Effect> {
    let mut heard = Heard::spoken(readings[0].0, readings[0].1);
    heard.others = readings[1..]
        .iter()
        .map(|(text, share)| ((*text).to_owned(), *share))
        .collect();
    heard.rival = rival;
    bench.handle(&Event::Heard(heard), Moment(10_000))
}

fn understood(effects: &[Effect]) -> bool {
    effects
        .iter()
        .any(|e| matches!(e, Effect::Understood { .. }))
}

#[test]
fn wordings_of_one_meaning_count_together_and_the_next_meaning_is_named() {
    let mut bench = Kitchen::with(Attention::Open).0;
    let effects = with_readings(
        &mut bench,
        &[
            ("how much salt", 0.45),
            ("how much salt is it", 0.4),
            ("how much soda", 0.15),
        ],
        None,
    );
    assert!(understood(&effects), "{effects:?}");
    let effects = with_readings(
        &mut bench,
        &[("how much salt", 0.5), ("how much water", 0.45)],
        None,
    );
    assert!(!understood(&effects));
    assert_eq!(
        asked(&effects),
        Some("Did you say the fine salt or the water?")
    );
    // The meaning with the greater share is taken, though no one wording of it is ahead.
    let mut bench = Kitchen::with(Attention::Open).0;
    let effects = with_readings(
        &mut bench,
        &[
            ("how much salt", 0.28),
            ("next", 0.26),
            ("next step", 0.24),
            ("what is next", 0.22),
        ],
        None,
    );
    assert!(
        asked(&effects).is_some() && !understood(&effects),
        "{effects:?}"
    );
}

/// In a loud kitchen with nobody speaking some sound fits 'skip now' now and then. What the program waits for is heard all the same.
#[test]
fn what_may_be_the_noise_of_the_kitchen_is_left_alone() {
    let in_noise = |text: &str, rival: f32, voiceless: bool| {
        Event::Heard(Heard {
            rival: Some(rival),
            in_noise: true,
            voiceless,
            ..Heard::spoken(text, 1.0)
        })
    };
    let mut open = Kitchen::with(Attention::Open).0;
    for (text, rival, voiceless) in [
        ("skip now", -5.2, false),
        ("how much salt", -1.8, false),
        ("how much salt", -9.0, true),
    ] {
        let effects = open.handle(&in_noise(text, rival, voiceless), Moment(100_000));
        assert!(effects.is_empty(), "{text}: {effects:?}");
    }
    let order = in_noise("how much salt", -5.0, false);
    assert!(understood(&open.handle(&order, Moment(110_000))));
    // Where it asks, a word is enough.
    let asks = Heard::spoken("start a timer for fifteen minutes", 0.9);
    let effects = open.handle(&Event::Heard(asks), Moment(130_000));
    assert!(asked(&effects).is_some(), "{effects:?}");
    open.handle(&in_noise("fifteen", -3.0, false), Moment(42_000));
    assert_eq!(open.rack().live_count(), 1);
}

#[test]
fn what_talk_explains_better_is_no_order() {
    let order = [("how much salt", 1.0)];
    let mut open = Kitchen::with(Attention::Open).0;
    assert!(understood(&with_readings(&mut open, &order, Some(-5.0))));
    assert!(
        with_readings(&mut open, &order, Some(2.0)).is_empty(),
        "talk"
    );
    // Not even 'stop' is taken out of talk.
    assert!(with_readings(&mut open, &[("stop", 1.0)], Some(2.0)).is_empty());
    let between = with_readings(&mut open, &order, Some(-2.0));
    assert!(
        !understood(&between) && asked(&between).is_some(),
        "{between:?}"
    );
    // What fits talk nearly as well must be heard for sure.
    let mut open = Kitchen::with(Attention::Open).0;
    let unsure = [("how much salt", 0.9)];
    assert!(understood(&with_readings(&mut open, &unsure, Some(-5.0))));
    assert!(!understood(&with_readings(&mut open, &unsure, Some(-3.0))));
    // Talk that means the same tells nothing against it.
    let mut same = Heard::spoken("how much salt", 1.0);
    (same.rival, same.talk) = (Some(1.0), Some("how much salt is it".to_owned()));
    assert!(understood(
        &open.handle(&Event::Heard(same.clone()), Moment(100_000))
    ));
    same.talk = Some("how much salty".to_owned());
    assert!(open.handle(&Event::Heard(same), Moment(150_000)).is_empty());
    // What means nothing, either way, is talk.
    let mut nothing = Heard::spoken("the weather is nice", 1.0);
    (nothing.rival, nothing.talk) = (Some(1.0), Some("the weather is nice".to_owned()));
    assert!(
        open.handle(&Event::Heard(nothing), Moment(170_000))
            .is_empty()
    );
    // The end of a sentence that was talk is talk as well.
    let mut rest = Heard::spoken("how much salt", 1.0);
    rest.follows_talk = true;
    assert!(open.handle(&Event::Heard(rest), Moment(200_000)).is_empty());
    // With the name before it, it is meant for the program.
    let called = [("commis how much salt", 1.0)];
    assert!(understood(&with_readings(&mut open, &called, Some(-2.6))));
    // The name is no word of talk: what talk fits about as well did not have it.
    assert!(with_readings(&mut open, &[("commis forward", 1.0)], Some(-1.7)).is_empty());
}

#[test]
fn a_yes_that_answers_nothing_is_somebody_elses() {
    let yes = [("yes please", 1.0)];
    let mut open = Kitchen::with(Attention::Open).0;
    assert!(with_readings(&mut open, &yes, None).is_empty());
    open.handle(&Event::Heard(Heard::typed("goodbye")), Moment(11_000));
    assert!(understood(&with_readings(&mut open, &yes, None)), "asked");
    // Who calls it by its name is answered.
    let mut named = Kitchen::with(Attention::Name).0;
    let called = with_readings(&mut named, &[("commis yes", 1.0)], None);
    assert!(understood(&called), "{called:?}");
    // A rise waits for a look at any time.
    let mut rising = Kitchen::with(Attention::Open).0;
    rising.handle(
        &Event::Heard(Heard::typed("start the first rise")),
        Moment(9_000),
    );
    let risen = with_readings(&mut rising, &[("it has doubled", 1.0)], None);
    assert!(understood(&risen), "{risen:?}");
}

#[test]
fn a_hydration_that_no_dough_has_was_heard_wrong() {
    let mut open = Kitchen::with(Attention::Open).0;
    let effects = with_readings(
        &mut open,
        &[
            ("how much water at seventeen percent", 0.55),
            ("how much water at seventy percent", 0.45),
        ],
        None,
    );
    let seventy = effects.iter().any(|e| {
        matches!(e, Effect::Understood { intent: Order::Ask(Question::WaterForFlour { percent, .. }) } if *percent == 70.0)
    });
    assert!(seventy, "{effects:?}");
    // Both are possible: asked.
    let effects = with_readings(
        &mut open,
        &[
            ("start a timer for seventeen minutes", 0.55),
            ("start a timer for seventy minutes", 0.45),
        ],
        None,
    );
    assert_eq!(
        asked(&effects),
        Some("Did you say seventeen or seventy minutes?")
    );
}
