//! Weighing by a scale, over the model of a load cell: without a key or a word, with too much, by voice and by keys.

use commis::bench::{Bench, Chime, Effect, Event, Heard, Options, Taken, View};
use commis::scale::{LoadCell, Reading, Status};
use commis::time::{Moment, Wall};
use commis::timer::DishId;

use super::rehearsal::{Rehearsal, formula};

/// What each ingredient of the loaf's two weigh-ups weighs, bowl and jug apart.
const DRY: [f64; 4] = [400.0, 100.0, 7.0, 10.0];
const WET: [f64; 2] = [340.0, 15.0];

/// A bowl of 412 g and a jug of 350 g, and into each what belongs there; every `over`th pour is twelve grams (or a third)
/// too much, and is taken out again when that is said.
fn poured(over: Option<usize>) -> String {
    let mut script = "0:00 wait\n+2s scale 0\n+3s scale 412\n".to_owned();
    let mut pours = 0;
    let mut pour = |script: &mut String, gross: &mut f64, grams: f64| {
        pours += 1;
        let seconds = (grams / 30.0).ceil().max(3.0);
        let much = match over {
            Some(each) if pours % each == 0 => 12.0_f64.min(grams * 0.4).max(4.0),
            _ => 0.0,
        };
        let full = *gross + grams + much;
        script.push_str(&format!("+5s pour {gross}..{full} over {seconds}s\n"));
        script.push_str(&format!("+{}s wait\n", seconds + 3.0));
        if much > 0.0 {
            let right = *gross + grams;
            script.push_str(&format!("+4s pour {full}..{right} over 2s\n+5s wait\n"));
        }
        *gross += grams;
    };
    let mut gross = 412.0;
    for grams in DRY {
        pour(&mut script, &mut gross, grams);
    }
    script.push_str("+6s scale 0\n+4s scale 350\n");
    gross = 350.0;
    for grams in WET {
        pour(&mut script, &mut gross, grams);
    }
    script
}

fn end(rehearsal: &Rehearsal) -> View {
    let last = rehearsal.records.last().expect("something happened");
    let view = rehearsal.bench.view(Moment((last.t * 1000.0) as u64));
    View {
        heard: None,
        said: String::new(),
        keys: Vec::new(),
        clock: String::new(),
        now: Moment(0),
        pouring: None,
        ..view
    }
}

fn weighed(rehearsal: &Rehearsal) -> Vec<(String, f64)> {
    let records = rehearsal.records.iter().filter(|r| r.kind == "weighed");
    records
        .map(|r| {
            let more = r.more.as_ref().expect("its masses");
            (r.text.clone(), more["really"].as_f64().expect("grams"))
        })
        .collect()
}

/// By keys alone: begin, Enter for each, on to the wet things, Enter for each.
fn keyed() -> Rehearsal {
    let mut script = "0:00 key enter\n".to_owned();
    for _ in 0..7 {
        script.push_str("+20s key enter\n");
    }
    Rehearsal::play("seeded-tin-loaf", &script)
}

#[test]
fn a_whole_loaf_is_weighed_without_a_key_or_a_word() {
    let keyed = keyed();
    for over in [None, Some(3)] {
        let r = Rehearsal::play("seeded-tin-loaf", &poured(over));
        assert!(
            r.records.iter().all(|r| r.kind != "heard"),
            "no key and no word"
        );
        let weighed = weighed(&r);
        let names: Vec<&str> = weighed.iter().map(|(n, _)| n.as_str()).collect();
        assert_eq!(
            names,
            [
                "strong white flour",
                "wholemeal flour",
                "instant yeast",
                "fine salt",
                "water",
                "sunflower oil"
            ],
            "{:#?}",
            r.said()
        );
        for ((name, really), wanted) in weighed.iter().zip(DRY.iter().chain(&WET)) {
            assert!(
                (really - wanted).abs() <= (wanted * 0.02).clamp(1.0, 5.0) + 1e-6,
                "{name}: {really}"
            );
        }
        let overs = r
            .said()
            .iter()
            .filter(|s| s.contains(" over: take some out, or say leave it."))
            .count();
        assert_eq!(overs, over.map_or(0, |each| 6 / each), "{:#?}", r.said());
        assert_eq!(
            end(&r),
            end(&keyed),
            "{over:?}: the same in the end as by keys alone"
        );
        assert!(r.chimes("enough").len() >= 6);
    }
}

#[test]
fn weights_are_called_in_few_words_and_by_a_tone() {
    let r = Rehearsal::play("seeded-tin-loaf", &poured(None));
    let called: Vec<&str> = r
        .records
        .iter()
        .filter(|r| r.kind == "said" && r.more.as_ref().is_some_and(|m| m["why"] == "weight"))
        .map(|r| r.text.as_str())
        .collect();
    for words in ["one hundred", "fifty to go", "twenty", "ten"] {
        assert!(called.contains(&words), "{called:?}");
    }
    assert!(
        called.iter().all(|words| words.split(' ').count() <= 4),
        "{called:?}"
    );
    let tones: Vec<u64> = r
        .records
        .iter()
        .filter(|r| r.text == "tone")
        .filter_map(|r| r.more.as_ref()?["near"].as_u64())
        .collect();
    assert!(tones.len() > 5, "{tones:?}");
}

/// The bowl stands on the scale, and the loaf's first flour is called.
fn with_bowl(more: &str) -> String {
    format!("0:00 say next\n+2s scale 0\n+2s scale 412\n+4s wait\n{more}")
}

fn loaf(more: &str) -> Rehearsal {
    Rehearsal::play("seeded-tin-loaf", &with_bowl(more))
}

fn last(r: &Rehearsal) -> String {
    r.said().last().copied().unwrap_or_default().to_owned()
}

#[test]
fn too_much_is_left_or_makes_the_whole_batch_larger() {
    let poured = "+0 pour 412..828 over 12s\n+15s wait\n";
    let r = loaf(poured);
    assert_eq!(
        last(&r),
        "Sixteen grams over: take some out, or say leave it. Or say yes: I make the whole batch four percent larger."
    );
    for leave in ["say leave it", "key backspace"] {
        let r = loaf(&format!("{poured}+1s {leave}\n"));
        assert_eq!(
            last(&r),
            "Strong white flour in, four hundred and sixteen grams. Wholemeal flour: one hundred grams."
        );
        assert_eq!(r.bench.batch().factor(), 1.0);
        // Nothing of the next one is in yet.
        let r = loaf(&format!("{poured}+1s {leave}\n+2s say how much is in\n"));
        assert!(last(&r).starts_with("Nothing yet."), "{}", last(&r));
    }
    for yes in ["say yes", "key enter"] {
        let r = loaf(&format!("{poured}+1s {yes}\n"));
        assert_eq!(
            last(&r),
            "Strong white flour in. Everything is four percent larger. Wholemeal flour: one hundred and four grams."
        );
        assert!((r.bench.batch().factor() - 1.04).abs() < 1e-9);
    }
    // The second is too much: what is in already wants more.
    let second = "+0 pour 412..812 over 12s\n+16s pour 812..922 over 4s\n+8s say yes\n";
    let r = loaf(second);
    assert_eq!(
        last(&r),
        "Wholemeal flour in. Everything is ten percent larger. Strong white flour: forty grams more."
    );
    // Seven grams and a tenth more.
    let r = loaf(&format!("{second}+1s pour 922..962 over 4s\n+8s wait\n"));
    assert!(
        last(&r).starts_with("Strong white flour in. Instant yeast: eight grams."),
        "{}",
        last(&r)
    );
    // Far too much is no reason for a larger batch.
    let r = loaf("+0 pour 412..1012 over 12s\n+16s wait\n");
    assert_eq!(
        last(&r),
        "Two hundred grams over: take some out, or say leave it."
    );
}

#[test]
fn too_little_and_no_more_makes_it_smaller_or_is_left() {
    let poured = "+0 pour 412..792 over 12s\n+15s wait\n";
    for all in [
        "say that is all i have",
        "key dot\n+0 key minus\n+0 key enter\n+0 key 5",
    ] {
        let r = loaf(&format!("{poured}+0 {all}\n"));
        assert_eq!(
            last(&r).split(" Enter is").next(),
            Some(
                "Three hundred and eighty grams of four hundred grams. Shall I make the whole batch five percent smaller? Or ask what you can use instead of the strong white flour."
            ),
        );
        let r = loaf(&format!("{poured}+0 {all}\n+1s say yes\n"));
        assert_eq!(
            last(&r),
            "Strong white flour in. Everything is five percent smaller. Wholemeal flour: ninety five grams."
        );
        let r = loaf(&format!("{poured}+0 {all}\n+1s say no\n"));
        assert_eq!(
            last(&r),
            "Strong white flour in, three hundred and eighty grams. Wholemeal flour: one hundred grams."
        );
    }
}

#[test]
fn how_much_is_in_is_told_at_any_time() {
    let poured = "+0 pour 412..612 over 12s\n+15s wait\n";
    for way in [
        "say how much is in",
        "say what do i weigh next",
        "key divide",
        "key dot\n+0 key minus\n+0 key enter\n+0 key 3",
    ] {
        let r = loaf(&format!("{poured}+0 {way}\n"));
        assert_eq!(
            last(&r),
            "Two hundred grams; two hundred grams to go.",
            "{way}"
        );
    }
}

#[test]
fn what_really_went_in_is_kept_told_and_taken_back() {
    let poured = "+0 pour 412..808 over 12s\n+15s wait\n";
    let r = loaf(&format!("{poured}+1s say what has gone in\n"));
    assert_eq!(
        last(&r),
        "In so far: three hundred and ninety six grams of strong white flour."
    );
    // By the cook's word, with what the scale shows of it.
    let r = loaf("+0 pour 412..762 over 12s\n+15s say done\n+1s say what has gone in\n");
    assert_eq!(
        last(&r),
        "In so far: three hundred and fifty grams of strong white flour."
    );
    // Water 343 on 396 and 100 of flour.
    let whole = poured_with(&[396.0, 100.0, 7.0, 10.0], &[343.0, 15.0]);
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        &format!("{whole}+1s say what is the hydration\n"),
    );
    assert!(last(&r).starts_with("Sixty nine point"), "{}", last(&r));
    // Taken back it is called again, and is not taken for in by what stands there.
    let r = loaf(&format!(
        "{poured}+1s say undo\n+8s wait\n+1s say where am i\n"
    ));
    assert!(
        last(&r).contains("Strong white flour: four hundred grams."),
        "{}",
        last(&r)
    );
}

fn poured_with(dry: &[f64], wet: &[f64]) -> String {
    let mut script = "0:00 wait\n+2s scale 0\n+3s scale 412\n".to_owned();
    for (vessel, all) in [(412.0, dry), (350.0, wet)] {
        if vessel == 350.0 {
            script.push_str("+4s scale 0\n+4s scale 350\n");
        }
        let mut gross = vessel;
        for grams in all {
            let seconds = (grams / 30.0_f64).ceil().max(3.0);
            script.push_str(&format!(
                "+5s pour {gross}..{} over {seconds}s\n+{}s wait\n",
                gross + grams,
                seconds + 3.0
            ));
            gross += grams;
        }
    }
    script
}

#[test]
fn what_the_scale_cannot_tell_is_said_and_a_spoon_offered() {
    let mut formula = formula("seeded-tin-loaf");
    formula.ingredients[2].mass = commis::measure::Mass::grams(2.0);
    let script = with_bowl("+0 pour 412..812 over 12s\n+16s pour 812..912 over 4s\n+8s wait\n");
    let r = Rehearsal::play_with(formula, Options::default(), &script);
    assert_eq!(
        last(&r),
        "Wholemeal flour in. Instant yeast: two grams. That is beyond this scale: about five eighths of a teaspoon, level. Say done when it is in."
    );
}

#[test]
fn the_scale_is_asked_by_voice_and_by_key() {
    let on = |grams: &str, ask: &str| {
        let script = format!("0:00 wait\n+2s scale 0\n+3s scale {grams}\n+4s {ask}\n");
        let r = Rehearsal::play("vegetable-soup", &script);
        (last(&r), r)
    };
    let list = "key dot\n+0 key minus\n+0 key enter\n+0 key";
    assert_eq!(
        on("250", "say weigh this").0,
        "Two hundred and fifty grams."
    );
    assert_eq!(
        on("250", &format!("{list} 1")).0,
        "Two hundred and fifty grams."
    );
    for ask in [
        "say weigh this in ounces".to_owned(),
        format!("{list} 2\n+0 key 2"),
    ] {
        let answer = on("250", &ask).0;
        assert!(answer.contains("ounces"), "{answer}");
    }
    for ask in [
        "say how many cups is this of wholemeal flour".to_owned(),
        format!("{list} 6\n+0 key 1\n+0 key 2"),
    ] {
        let script = format!("0:00 say step three\n+2s scale 0\n+3s scale 250\n+4s {ask}\n");
        let r = Rehearsal::play("seeded-tin-loaf", &script);
        assert!(last(&r).contains("cups"), "{}", last(&r));
    }
    assert_eq!(
        on(
            "500",
            "say this is the empty tin\n+5s scale 620\n+5s say weigh this"
        )
        .0,
        "One hundred and twenty grams."
    );
    assert_eq!(
        on(
            "500",
            &format!("{list} 9\n+5s scale 620\n+5s say weigh this")
        )
        .0,
        "One hundred and twenty grams."
    );
    let lost = "say weigh this\n+5s scale 0\n+40m scale 748\n+5s say how much has it lost";
    assert_eq!(
        on("850", lost).0,
        "One hundred and two grams, twelve percent: eight hundred and fifty grams before, seven hundred and forty eight grams now."
    );
    assert_eq!(
        on("850", "scale gone\n+1s say weigh this").0,
        "I hear nothing from a scale."
    );
}

#[test]
fn dough_is_divided_and_every_piece_weighed() {
    for ask in [
        "say divide this dough in four".to_owned(),
        "key dot\n+0 key minus\n+0 key enter\n+0 key 7\n+0 key 4\n+0 key enter".to_owned(),
    ] {
        let script = format!(
            "0:00 say step six\n+2s scale 0\n+3s scale 800\n+4s {ask}\n+5s scale 0\n+5s scale 201\n+4s scale 0\n+4s scale 184\n\
             +4s scale 199\n+4s scale 0\n+4s scale 215\n+4s scale 202\n+4s scale 401\n+4s wait\n"
        );
        let r = Rehearsal::play("seeded-tin-loaf", &script);
        let words = r.records.iter().filter(|r| r.kind == "said");
        let said: Vec<&str> = words
            .filter(|r| r.more.as_ref().is_some_and(|m| m["why"] != "weight"))
            .map(|r| r.text.as_str())
            .collect();
        let from = said
            .iter()
            .position(|s| s.starts_with("Four of two hundred grams each."))
            .unwrap_or_else(|| panic!("{said:#?}"));
        assert_eq!(
            said[from + 1..],
            [
                "One.",
                "Sixteen grams short.",
                "Two.",
                "Fifteen grams over.",
                "Three.",
                "Four. That is all of them."
            ],
            "{ask}"
        );
    }
}

#[test]
fn a_scale_that_goes_in_the_middle_is_said_once_and_the_weighing_goes_on_by_hand() {
    let r = loaf("+0 pour 412..612 over 12s\n+5s scale gone\n+20s say done\n+2s say done\n");
    let gone = r
        .said()
        .iter()
        .filter(|s| s.contains("The scale is gone"))
        .count();
    assert_eq!(gone, 1);
    assert!(last(&r).starts_with("Wholemeal flour in."), "{}", last(&r));
}

/// What a bench has said and done, event by event, kept as the journal keeps it.
struct Kept {
    bench: Bench,
    entries: Vec<commis::journal::Entry>,
    effects: Vec<(Moment, Effect)>,
    events: usize,
}

impl Kept {
    /// A session that was away for five seconds goes on.
    fn taken_up(bench: Bench, at: Moment) -> Self {
        let mut kept = Self {
            bench,
            entries: Vec::new(),
            effects: Vec::new(),
            events: 0,
        };
        kept.tell(
            &Event::Resumed {
                wall: Wall::fixed(0, 0),
                gap_ms: 5_000,
                notes: Vec::new(),
                dish: DishId::default(),
                formula: None,
            },
            at,
        );
        kept
    }

    fn new() -> Self {
        let bench = Bench::new(formula("seeded-tin-loaf"), Options::default()).expect("a bench");
        let mut kept = Self {
            bench,
            entries: Vec::new(),
            effects: Vec::new(),
            events: 0,
        };
        let wall = Wall::fixed(0, 0);
        kept.tell(&Event::Start { wall }, Moment(0));
        kept
    }

    fn tell(&mut self, event: &Event, at: Moment) -> Taken {
        let taken = self.bench.take(event, at);
        self.entries
            .extend(commis::journal::Entry::kept(event, &taken, at));
        let effects = self.bench.apply(event, &taken, at);
        self.effects.extend(effects.into_iter().map(|e| (at, e)));
        self.events += 1;
        taken
    }
}

#[test]
fn a_journal_has_what_came_of_a_pour_and_not_ten_lines_a_second() {
    let mut kept = Kept::new();
    kept.tell(&Event::Heard(Heard::typed("next")), Moment(100));
    let mut cell = LoadCell::new(1.0, Moment(1_000), 5);
    let load = |at: Moment| match at.0 {
        0..3_000 => 0.0,
        3_000..8_000 => 412.0,
        at => 412.0 + ((at - 8_000) as f64 / 1000.0 * 35.0).min(400.0),
    };
    while cell.now() < Moment(24_000) {
        let (at, reading) = cell.next(load);
        kept.tell(&Event::Scale { reading }, at);
    }
    assert!(kept.events > 200);
    let of_scale = kept
        .entries
        .iter()
        .filter(|e| matches!(e.event, Event::Scale { .. }))
        .count();
    assert!((3..=5).contains(&of_scale), "{of_scale} lines");
    // A replay is where the session was: what is in, and what the next counts from.
    let mut again = Bench::new(formula("seeded-tin-loaf"), Options::default()).expect("a bench");
    for entry in &kept.entries {
        let text = serde_json::to_string(entry).expect("it is JSON");
        let entry: commis::journal::Entry = serde_json::from_str(&text).expect("it reads back");
        entry.replay(&mut again);
    }
    let seen = |bench: &Bench| View {
        pouring: None,
        said: String::new(),
        ..bench.view(Moment(24_000))
    };
    assert_eq!(seen(&again), seen(&kept.bench));
    assert!(again.view(Moment(24_000)).weighing[0].2);
    // The next goes on from what stands there, without a new bowl.
    let mut resumed = Kept::taken_up(again, Moment(24_100));
    while cell.now() < Moment(40_000) {
        let (at, reading) =
            cell.next(|at| 812.0 + (at.0.saturating_sub(26_000) as f64 / 1000.0 * 20.0).min(100.0));
        resumed.tell(&Event::Scale { reading }, at);
    }
    assert!(resumed.bench.view(Moment(40_000)).weighing[1].2);
}

#[test]
fn a_pour_that_was_cut_off_in_the_middle_goes_on_where_it_was() {
    let mut kept = Kept::new();
    kept.tell(&Event::Heard(Heard::typed("next")), Moment(100));
    let mut cell = LoadCell::new(1.0, Moment(1_000), 6);
    cell.rest_at(412.0);
    while cell.now() < Moment(10_000) {
        let (at, reading) =
            cell.next(|at| 412.0 + (at.0.saturating_sub(3_000) as f64 / 1000.0 * 40.0).min(200.0));
        kept.tell(&Event::Scale { reading }, at);
    }
    let mut again = Bench::new(formula("seeded-tin-loaf"), Options::default()).expect("a bench");
    for entry in &kept.entries {
        entry.replay(&mut again);
    }
    let mut resumed = Kept::taken_up(again, Moment(10_100));
    while cell.now() < Moment(25_000) {
        let (at, reading) =
            cell.next(|at| 612.0 + (at.0.saturating_sub(13_000) as f64 / 1000.0 * 40.0).min(200.0));
        resumed.tell(&Event::Scale { reading }, at);
    }
    let really: Vec<f64> = resumed
        .effects
        .iter()
        .filter_map(|(_, e)| match e {
            Effect::Weighed { really, .. } => Some(*really),
            _ => None,
        })
        .collect();
    assert!(
        matches!(really[..], [grams] if (grams - 400.0).abs() <= 5.0),
        "{really:?}"
    );
}

/// Nothing that a broken scale shows checks anything off at the bench either.
#[test]
fn a_broken_scale_checks_nothing_off() {
    let mut kept = Kept::new();
    kept.tell(&Event::Heard(Heard::typed("next")), Moment(100));
    let mut at = Moment(1_000);
    let mut show = |kept: &mut Kept, grams: f64, status, times: u64| {
        for _ in 0..times {
            at = Moment(at.0 + 100);
            let reading = Reading::grams(grams, 1.0, status);
            kept.tell(&Event::Scale { reading }, at);
        }
    };
    show(&mut kept, 412.0, Status::Stable, 20);
    for (grams, status) in [
        (812.0, Status::Stable),
        (412.0, Status::Stable),
        (812.0, Status::OverLimit),
        (812.0, Status::Fault),
        (812.0, Status::Rezero),
        (812.0, Status::Moving),
        (-812.0, Status::UnderZero),
        (f64::NAN, Status::Stable),
        (f64::INFINITY, Status::Stable),
        (1e300, Status::Stable),
    ] {
        show(&mut kept, grams, status, 30);
    }
    assert!(
        kept.bench
            .view(at)
            .weighing
            .iter()
            .all(|(_, _, inside)| !inside)
    );
    let said: Vec<&str> = kept
        .effects
        .iter()
        .filter_map(|(_, e)| match e {
            Effect::Say { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect();
    assert!(
        said.contains(&"The weight jumped. Is the strong white flour in?"),
        "{said:#?}"
    );
    assert!(
        said.contains(&"That is too heavy for the scale."),
        "{said:#?}"
    );
}

#[test]
fn without_a_scale_everything_is_as_it_was() {
    let mut kept = Kept::new();
    let taken = kept.tell(&Event::Heard(Heard::typed("next")), Moment(100));
    assert!(matches!(taken, Taken::Order { .. }));
    let taken = kept.tell(&Event::Heard(Heard::typed("done")), Moment(5_000));
    assert!(matches!(taken, Taken::Order { .. }));
    let never = |e: &Effect| {
        matches!(
            e,
            Effect::Weighed { .. }
                | Effect::Tone { .. }
                | Effect::Chime {
                    chime: Chime::Enough,
                    ..
                }
        )
    };
    assert!(!kept.effects.iter().any(|(_, e)| never(e)));
}
