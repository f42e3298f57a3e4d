//! A kitchen that remembers: notes, the last bake of every dish, own times, sessions without goodbye; and the settings of the
//! kitchen in a session of several dishes.

use commis::bench::{
    Account, Bench, Beside, DishId, Effect, Event, Heard, Key, LastTime, Options, TakeDown,
};
use commis::journal::{Bake, CooksNote, Log, Rise, wall_now};
use commis::measure::Region;
use commis::time::{ClockTime, HalfDay, Minute, Moment, Span, Wall};

use super::live::Kitchen;
use super::rehearsal::{Rehearsal, beside, formula, shipped};

/// 2026-11-25 15:00:00 UTC.
const AFTERNOON_MS: i64 = 1_795_618_800_000;

/// What is said after events, and everything else that is wanted.
fn after(bench: &mut Bench, at: u64, event: &Event) -> (Vec<String>, Vec<Effect>) {
    let effects = bench.handle(event, Moment(at));
    let said = effects.iter().filter_map(|e| match e {
        Effect::Say { text, .. } => Some(text.clone()),
        _ => None,
    });
    (said.collect(), effects)
}

fn typed(text: &str) -> Event {
    Event::Heard(Heard::typed(text))
}

fn begun(first: &str, options: Options) -> (Bench, Vec<String>) {
    let mut bench = Bench::new(formula(first), options).expect("as written");
    let wall = Wall::fixed(AFTERNOON_MS, 0);
    let (said, _) = after(&mut bench, 0, &Event::Start { wall });
    (bench, said)
}

fn last_of(name: &str, notes: &[(&str, Option<&str>)]) -> LastTime {
    LastTime {
        at_ms: AFTERNOON_MS - 9 * 86_400_000,
        account: Account {
            bake: formula(name).name,
            took: Span::minutes(70),
            ..Account::default()
        },
        rises: vec![("first rise".to_owned(), Span::minutes(80))],
        notes: notes.iter().map(|(words, _)| (*words).to_owned()).collect(),
        recordings: notes
            .iter()
            .map(|(_, file)| file.map(str::to_owned))
            .collect(),
        word: None,
    }
}

#[test]
fn a_note_is_typed_said_or_ended_and_is_no_order() {
    let (mut bench, _) = begun("seeded-tin-loaf", Options::default());
    let begins =
        |effects: &[Effect], wanted: TakeDown| effects.contains(&Effect::TakeDown { what: wanted });
    let (said, effects) = after(&mut bench, 1_000, &typed("make a note"));
    assert_eq!(said, ["Say your note."]);
    assert!(begins(&effects, TakeDown::Begin));
    // What would be an order is a note now, and is read where it can be.
    let (said, effects) = after(&mut bench, 3_000, &typed("next time ten grams less water"));
    assert_eq!(
        said,
        ["Noted: next time ten grams less water. I will tell you before the next bake."]
    );
    assert!(
        begins(&effects, TakeDown::Drop),
        "what was typed is not recorded"
    );
    assert_eq!(bench.view(Moment(3_000)).step, 0);
    after(&mut bench, 4_000, &typed("take a note"));
    let (said, _) = after(
        &mut bench,
        5_000,
        &typed("next, the crust was burnt at the back"),
    );
    assert!(
        said[0].starts_with("Noted: next, the crust was burnt at the back."),
        "{said:?}"
    );
    // By key: dot four nine four begins it, Enter keeps what was said, Backspace leaves it.
    for (end, what) in [
        (Key::Enter, TakeDown::Keep),
        (Key::Backspace, TakeDown::Drop),
    ] {
        for key in [Key::Dot, Key::Digit(4), Key::Digit(9), Key::Digit(4)] {
            after(&mut bench, 20_000, &Event::Key { key });
        }
        assert!(bench.is_noting(), "{end:?}");
        let (_, effects) = after(&mut bench, 22_000, &Event::Key { key: end });
        assert!(begins(&effects, what), "{end:?}");
        assert!(!bench.is_noting());
    }
    // An alarm ends it, and keeps what was said until then.
    after(&mut bench, 30_000, &typed("one minute timer"));
    after(&mut bench, 60_000, &typed("make a note"));
    let (_, effects) = after(&mut bench, 90_000, &Event::Tick);
    assert!(begins(&effects, TakeDown::Keep));
    let (said, _) = after(&mut bench, 91_000, &typed("stop"));
    assert!(said.iter().all(|s| !s.contains("Noted")), "{said:?}");
}

#[test]
fn a_spoken_note_is_kept_told_and_played() {
    let (mut bench, _) = begun("seeded-tin-loaf", Options::default());
    after(&mut bench, 1_000, &typed("make a note"));
    let noted = Event::Noted {
        text: "next time ten grams less water".to_owned(),
        recording: Some("1-2.flac".to_owned()),
    };
    let (said, effects) = after(&mut bench, 9_000, &noted);
    assert_eq!(
        said,
        ["Noted: next time ten grams less water. I will play it before the next bake."]
    );
    assert!(effects.contains(&Effect::Noted {
        dish: DishId::default(),
        note: "next time ten grams less water".to_owned(),
        recording: Some("1-2.flac".to_owned()),
    }));
    let plays = |effects: &[Effect]| {
        let files = effects.iter().filter_map(|e| match e {
            Effect::PlayNote { recording, .. } => Some(recording.clone()),
            _ => None,
        });
        files.collect::<Vec<_>>()
    };
    let (said, effects) = after(&mut bench, 10_000, &typed("play my notes"));
    assert_eq!(
        (said, plays(&effects)),
        (vec!["You noted:".to_owned()], vec!["1-2.flac".to_owned()])
    );
    // Nobody spoke.
    after(&mut bench, 20_000, &typed("make a note"));
    let nothing = Event::Noted {
        text: String::new(),
        recording: None,
    };
    let (said, _) = after(&mut bench, 33_000, &nothing);
    assert_eq!(said, ["I heard nothing, and have noted nothing."]);
    // Before the next bake.
    let notes = [("next time ten grams less water", Some("1-2.flac"))];
    let options = Options {
        last: Some(last_of("seeded-tin-loaf", &notes)),
        ..Options::default()
    };
    let mut bench = Bench::new(formula("seeded-tin-loaf"), options).expect("as written");
    let wall = Wall::fixed(AFTERNOON_MS, 0);
    let (said, effects) = after(&mut bench, 0, &Event::Start { wall });
    assert_eq!(
        said[1],
        "Last time, nine days ago: the first rise took one hour and twenty minutes; you noted:"
    );
    assert_eq!(plays(&effects), ["1-2.flac"]);
    // And as the water is weighed in.
    let mut called = String::new();
    for n in 0..20 {
        let (said, _) = after(&mut bench, 10_000 + n * 5_000, &typed("next"));
        if let Some(water) = said.iter().find(|s| s.contains("Water: ")) {
            called.clone_from(water);
            break;
        }
    }
    assert!(called.ends_with("You noted ten grams less."), "{called}");
}

#[test]
fn every_dish_has_its_last_time() {
    let soup = Beside {
        last: Some(last_of("vegetable-soup", &[("more salt", None)])),
        ..beside("vegetable-soup")
    };
    let options = Options {
        last: Some(last_of("seeded-tin-loaf", &[])),
        beside: vec![soup],
        ..Options::default()
    };
    let (mut bench, said) = begun("seeded-tin-loaf", options);
    let has = |said: &[String], text: &str| said.iter().any(|s| s.contains(text));
    assert!(
        has(&said, "The loaf: last time, nine days ago: the first rise"),
        "{said:?}"
    );
    assert!(
        has(&said, "The soup: last time, nine days ago: "),
        "{said:?}"
    );
    assert!(has(&said, "you noted: more salt."), "{said:?}");
    let (said, _) = after(
        &mut bench,
        1_000,
        &typed("what did i do last time with the soup"),
    );
    assert!(has(&said, "you noted: more salt"), "{said:?}");
    let (said, _) = after(&mut bench, 9_000, &typed("what did i do last time"));
    assert!(
        !has(&said, "more salt") && has(&said, "Nine days ago"),
        "{said:?}"
    );
}

/// The same dinner is ready sooner with two cooks and two ovens, and no work is planned in the night.
#[test]
fn the_settings_of_the_kitchen_hold_in_a_session() {
    let ready = |cooks: u8, ovens: u8, sleep| {
        let options = Options {
            beside: ["roast-chicken", "baked-custard", "plum-tart"]
                .map(beside)
                .to_vec(),
            cooks,
            ovens,
            sleep,
            // Far too soon: the earliest is offered.
            ready_at: Some(Minute(AFTERNOON_MS / 60_000 + 30)),
            ..Options::default()
        };
        let (mut bench, said) = begun("seeded-tin-loaf", options);
        let offer = said.iter().find(|s| s.contains("is the earliest")).cloned();
        after(&mut bench, 1_000, &typed("yes"));
        (
            offer.expect("it is too soon"),
            bench.plan().cloned().expect("a plan"),
        )
    };
    let (_, one) = ready(1, 1, None);
    let (_, two) = ready(2, 2, None);
    assert!(
        two.ready_at < one.ready_at,
        "{:?} {:?}",
        two.ready_at,
        one.ready_at
    );
    assert_eq!((two.kitchen.cooks, two.kitchen.ovens), (2, 2));
    let at = |hour| ClockTime {
        hour,
        minute: 0,
        half: HalfDay::Said,
    };
    let (_, slept) = ready(1, 1, Some((at(17), at(23))));
    let (from, to) = (AFTERNOON_MS / 60_000 + 120, AFTERNOON_MS / 60_000 + 480);
    let hands = slept
        .blocks
        .iter()
        .filter(|b| b.id.part == commis::plan::BlockPart::Hands);
    for block in hands {
        assert!(block.end.0 <= from || block.start.0 >= to, "{block:?}");
    }
}

/// The settings file reaches the plan of a live session.
#[test]
fn a_live_session_has_the_kitchen_of_the_settings_file() {
    let kitchen = Kitchen::new("remembers-kitchen");
    std::fs::create_dir_all(kitchen.file("x", "").with_file_name("config/commis")).expect("made");
    kitchen.file(
        "config/commis/settings.toml",
        "[kitchen]\ncooks = 2\novens = 2\nhobs = 3\nsleep = \"23:00-6:30\"\n",
    );
    let mut cook = kitchen.cook_other(
        &shipped("vegetable-soup"),
        &[&shipped("baked-custard").display().to_string()],
    );
    cook.until("Two dishes:");
    cook.types("next");
    cook.until("tep one.");
    cook.kill();
    let written = kitchen.written();
    for wanted in ["\"cooks\":2", "\"ovens\":2", "\"hobs\":3", "\"sleep\":["] {
        assert!(written.contains(wanted), "{wanted}");
    }
}

// 63 C: Food Hygiene (England) Regulations 2013, schedule 4 (m); 135 F: FDA Food Code 2022, 3-501.16 (shared/tables/safe.toml).
#[test]
fn what_is_kept_hot_is_told_with_its_temperature_and_how_long_it_stays_good() {
    let told = |region: Region| {
        let options = Options {
            region,
            ..Options::default()
        };
        let kitchen = options.kitchen(&Wall::fixed(AFTERNOON_MS, 0), 1);
        let item = commis::plan::PlanItem::from_formula(&formula("vegetable-soup")).expect("times");
        let ready = Minute(AFTERNOON_MS / 60_000 + 300);
        let earliest = Minute(AFTERNOON_MS / 60_000);
        let mut plan =
            commis::plan::schedule_in(&kitchen, &[item], ready, earliest).expect("a plan");
        plan.dishes[0].ready = ready.plus(-20);
        commis::plan::say_doubts(&plan).join(" ")
    };
    assert_eq!(
        told(Region::Uk),
        "Keep the autumn vegetable soup hot for twenty minutes, at sixty three degrees or more. It stays good for forty five minutes."
    );
    assert!(
        told(Region::Us)
            .contains("at fifty seven degrees, one hundred and thirty five Fahrenheit, or more"),
        "{}",
        told(Region::Us)
    );
}

/// What `next` does without an hour is what makes everything ready soonest: the custard, which must chill for three hours, is
/// begun before the soup, whatever the order on the command line.
#[test]
fn without_an_hour_next_goes_where_everything_is_ready_soonest() {
    for (first, other) in [
        ("vegetable-soup", "baked-custard"),
        ("baked-custard", "vegetable-soup"),
    ] {
        let options = Options {
            beside: vec![beside(other)],
            ..Options::default()
        };
        let (mut bench, _) = begun(first, options);
        let (said, _) = after(&mut bench, 1_000, &typed("next"));
        assert!(said[0].contains("The custard: "), "{first}: {said:?}");
    }
}

/// Two of the same name, due in the same second.
#[test]
fn the_same_timer_of_two_dishes_is_told_apart_by_ear() {
    let options = Options {
        beside: vec![beside("rye-tin-loaf")],
        ..Options::default()
    };
    let script = "start 17:00\n+1s say ten minute timer for the seeded tin loaf\n+0s say ten minute timer for the rye tin loaf\n+10m wait\n\
                  +2s say what rings\n";
    let r = Rehearsal::play_with(formula("seeded-tin-loaf"), options, script);
    let rings: Vec<&str> = r
        .said()
        .into_iter()
        .filter(|t| t.contains("time is up"))
        .collect();
    let all = rings.join(" ").to_lowercase();
    assert!(
        all.contains("tin loaf") && all.contains("rye"),
        "{rings:?}: {:?}",
        r.said()
    );
}

fn rise(
    kitchen: &Kitchen,
    now_ms: i64,
    day: i64,
    name: &str,
    timer: &str,
    written: u64,
    minutes: u64,
) {
    let began_ms = now_ms - (20 - day) * 86_400_000;
    let rise = Rise {
        formula: formula(name).name,
        timer: timer.to_owned(),
        planned: Span::minutes(written),
        took: Span::minutes(minutes),
        room_c: None,
        scale: String::new(),
        asked: false,
        began_ms,
        at_ms: began_ms + 3_600_000,
        offset_s: 0,
    };
    Log::append(&kitchen.journals(), &rise).expect("written");
}

fn run(kitchen: &Kitchen, args: &[&str]) -> String {
    let mut command = kitchen.bare(args);
    let out = command.output().expect("it runs");
    assert!(
        out.status.success(),
        "{args:?}: {}",
        String::from_utf8_lossy(&out.stderr)
    );
    String::from_utf8_lossy(&out.stdout).into_owned()
}

/// What was learnt is used in the plan and in the session, shown with the bakes that it rests on, and forgotten on request.
#[test]
fn own_times_are_used_shown_and_forgotten() {
    let kitchen = Kitchen::new("remembers-own");
    let loaf = shipped("seeded-tin-loaf").display().to_string();
    let now_ms = wall_now().unix_ms;
    for (day, minutes, oven) in [(1, 80, 33), (2, 90, 35), (3, 85, 31)] {
        rise(
            &kitchen,
            now_ms,
            day,
            "seeded-tin-loaf",
            "first rise",
            60,
            minutes,
        );
        rise(&kitchen, now_ms, day, "seeded-tin-loaf", "oven", 25, oven);
    }
    let lead = formula("seeded-tin-loaf").oven.expect("it has one").lead;
    assert_eq!(lead, Span::minutes(25), "the test's log goes by it");
    let plan = || {
        run(
            &kitchen,
            &["plan", &loaf, "--ready-at", "tomorrow 19:00", "--json"],
        )
    };
    let text = run(&kitchen, &["plan", &loaf, "--ready-at", "tomorrow 19:00"]);
    assert!(
        text.contains("first rise 1:25 h (written 1 h, by 3 bakes)")
            || text.contains("first rise 1 h 25 min (written 1 h, by 3 bakes)"),
        "{text}"
    );
    assert!(
        text.contains("the oven 33 min (written 25 min, by 3 bakes)"),
        "{text}"
    );
    let minutes = |text: &str, title: &str, part: &str| {
        let plan: serde_json::Value = serde_json::from_str(text).expect("JSON");
        let blocks = plan["blocks"].as_array().expect("an array").clone();
        let of = blocks
            .iter()
            .find(|b| b["title"] == title && b["part"] == part);
        of.map(|b| b["minutes"].as_i64().expect("a number"))
    };
    assert_eq!(minutes(&plan(), "First rise", "wait"), Some(85));
    // In a session as well.
    let mut cook = kitchen.cook();
    cook.until("Say next");
    cook.types("when do i light the oven");
    cook.until("Thirty three minutes before the bake");
    let printed = cook.until("by three bakes");
    assert!(!printed.contains("wenty five minutes before"), "{printed}");
    cook.kill();
    // Forgotten, one session after the other.
    for left in [2, 1, 0] {
        run(&kitchen, &["log", "--forget", "1"]);
        let own = run(&kitchen, &["log"]);
        let said = match left {
            2 => "by 2 bakes",
            1 => "by one bake",
            _ => "Nothing in the log yet",
        };
        assert!(own.contains(said), "{left}: {own}");
    }
    assert_eq!(minutes(&plan(), "First rise", "wait"), Some(60));
}

/// A session that was killed stands in the log from the next start on, once; and as it ended, where it is taken up.
#[test]
fn a_session_without_goodbye_stands_in_the_log() {
    let kitchen = Kitchen::new("remembers-killed");
    let soup = shipped("vegetable-soup");
    let mut cook = kitchen.cook_other(&soup, &[]);
    cook.until("Autumn vegetable soup");
    cook.types("next");
    cook.until("Onion");
    cook.types("it's in");
    cook.until("Leek");
    cook.kill();
    assert!(
        Log::read(&kitchen.journals())
            .expect("none yet")
            .bakes
            .is_empty()
    );
    // Another formula is begun.
    let cook = kitchen.cook_other(&shipped("soft-rolls"), &[]);
    cook.until("There is an autumn vegetable soup that is not finished");
    cook.kill();
    let log = Log::read(&kitchen.journals()).expect("a log");
    assert_eq!(log.bakes.len(), 1, "{:?}", log.bakes);
    let account = &log.bakes[0].account;
    assert_eq!(
        (account.bake.as_str(), account.finished),
        ("Autumn vegetable soup", false)
    );
    let listed = run(&kitchen, &["log"]);
    assert!(listed.contains("left before the end"), "{listed}");
    // Begun anew: the one before is not told twice.
    let mut cook = kitchen.cook_other(&soup, &["--fresh"]);
    cook.until("Autumn vegetable soup");
    cook.types("goodbye");
    cook.until("Leave the kitchen now?");
    cook.types("yes");
    cook.until("Goodbye.");
    cook.kill();
    assert_eq!(
        Log::read(&kitchen.journals()).expect("a log").bakes.len(),
        1
    );
}

/// Notes by the whole program: typed, told before the next bake, forgotten with the session and its sound.
#[test]
fn a_note_is_told_before_the_next_bake_and_forgotten() {
    let kitchen = Kitchen::new("remembers-note");
    let soup = shipped("vegetable-soup");
    let mut cook = kitchen.cook_other(&soup, &[]);
    cook.until("Autumn vegetable soup");
    cook.types("next");
    cook.until("Onion");
    cook.types("make a note");
    cook.until("our note.");
    cook.types("the leek was sandy");
    cook.until("Noted: the leek was sandy.");
    cook.types("goodbye");
    cook.until("Leave the kitchen now?");
    cook.types("yes");
    cook.until("Goodbye.");
    let folder = kitchen.journals();
    let until = std::time::Instant::now() + std::time::Duration::from_secs(10);
    while Log::read(&folder).is_ok_and(|log| log.bakes.is_empty()) {
        assert!(std::time::Instant::now() < until, "nothing in the log");
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    cook.kill();
    // A sound beside it, as an ear would keep it.
    let began_ms = Log::read(&folder).expect("a log").bakes[0].began_ms;
    let notes = Log::notes_folder(&folder);
    std::fs::create_dir_all(&notes).expect("made");
    let (mine, other) = (
        Log::note_file(began_ms, began_ms + 5),
        Log::note_file(began_ms + 1, began_ms + 5),
    );
    for file in [&mine, &other] {
        std::fs::write(notes.join(file), b"fLaC").expect("written");
    }
    let sounding = CooksNote {
        note: "less salt".to_owned(),
        recording: Some(mine.clone()),
        formula: formula("vegetable-soup").name,
        began_ms,
        at_ms: began_ms + 5,
    };
    Log::append(&folder, &sounding).expect("written");
    let cook = kitchen.cook_other(&soup, &[]);
    cook.until("you noted: the leek was sandy; and in your own voice:");
    cook.until("Your note: less salt.");
    cook.kill();
    assert!(run(&kitchen, &["log"]).contains(&mine));
    let sessions = Log::read(&folder).expect("a log").sessions();
    let at = sessions
        .iter()
        .position(|began| *began == began_ms)
        .expect("there")
        + 1;
    run(&kitchen, &["log", "--forget", &at.to_string()]);
    assert!(!notes.join(&mine).exists() && notes.join(&other).exists());
    let log = Log::read(&folder).expect("a log");
    assert!(log.notes.is_empty(), "{:?}", log.notes);
}

/// The plan of the session that runs, as a calendar with its dishes; and several formulas given out together.
#[test]
fn a_running_dinner_is_given_out_as_a_calendar() {
    let kitchen = Kitchen::new("remembers-calendar");
    let custard = shipped("baked-custard").display().to_string();
    let cook = kitchen.cook_other(
        &shipped("vegetable-soup"),
        &[&custard, "--ready-at", "tomorrow 19:30"],
    );
    cook.until("On the table at ");
    let calendar = run(&kitchen, &["plan", "--session", "--ical"]);
    for wanted in [
        "BEGIN:VCALENDAR",
        "SUMMARY:Ready: custard\\, soup",
        "SUMMARY:soup: ",
        "SUMMARY:custard: ",
        "DTSTART:",
    ] {
        assert!(calendar.contains(wanted), "{wanted}: {calendar}");
    }
    let again = run(&kitchen, &["plan", "--session", "--ical"]);
    let uids = |text: &str| {
        let lines = text.lines().filter(|l| l.starts_with("UID:"));
        lines.map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(uids(&calendar), uids(&again));
    let json = run(&kitchen, &["plan", "--session", "--json"]);
    assert!(json.contains("\"dishes\""), "{json}");
    cook.kill();
    let both = run(
        &kitchen,
        &[
            "export",
            &custard,
            &shipped("vegetable-soup").display().to_string(),
        ],
    );
    let both: serde_json::Value = serde_json::from_str(&both).expect("JSON");
    let names: Vec<&str> = both
        .as_array()
        .expect("an array")
        .iter()
        .filter_map(|one| one["name"].as_str())
        .collect();
    assert_eq!(names, ["Baked custard", "Autumn vegetable soup"]);
}

/// How warm the water was to be stands in the account, and is told the next time.
#[test]
fn the_heat_of_the_water_is_kept() {
    let options = Options {
        room_c: Some(21.0),
        ..Options::default()
    };
    let (mut bench, _) = begun("seeded-tin-loaf", options);
    after(&mut bench, 1_000, &typed("next"));
    let (said, _) = after(&mut bench, 5_000, &typed("how warm must the water be"));
    let told = said.join(" ");
    let account = bench.accounts().remove(0);
    let water_c = account.water_c.unwrap_or_else(|| panic!("{told}"));
    assert!((20.0..45.0).contains(&water_c), "{water_c}: {told}");
    let last = LastTime {
        account: Account {
            water_c: Some(32.0),
            went_in: vec![commis::bench::PutIn {
                name: "water".to_owned(),
                wanted_g: 340.0,
                really_g: Some(340.0),
                water: true,
            }],
            ..account
        },
        ..last_of("seeded-tin-loaf", &[])
    };
    assert_eq!(
        last.water(&Wall::fixed(AFTERNOON_MS, 0)),
        "Three hundred and forty grams at thirty two degrees, nine days ago."
    );
    let bake = Bake {
        account: last.account,
        began_ms: 1,
        at_ms: 2,
        offset_s: 0,
    };
    let text = serde_json::to_string(&bake).expect("plain data");
    assert!(text.contains("\"water_c\":32.0"), "{text}");
}
