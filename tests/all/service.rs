//! On the table at the hour: the plan on the command line, and followed at the bench.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::Output;

use commis::bench::{Options, OwnTime};
use commis::time::Span;

use super::program::{LOAF, Lines, program};
use super::rehearsal::{Rehearsal, formula};

/// Common practice, no source: three rises of 45, 30 and 45 minutes, the oven lit with ten minutes left of the last,
/// twenty minutes of baking with the tin turned at twelve.
const THREE_RISES: &str = r#"name = "Tin loaf"
[makes]
portions = 8
piece = "loaf"
[oven]
heat = "220 C"
lead = "10 min"
[[ingredient]]
id = "flour"
name = "strong white flour"
amount = "500 g"
[[step]]
title = "First rise"
text = "Cover {flour} of dough and leave it."
uses = ["flour"]
hands_on = "0 min"
[[step.timer]]
name = "first rise"
lasts = "45 min"
look = "Has it doubled?"
[[step]]
title = "Second rise"
text = "Fold it and leave it."
hands_on = "0 min"
[[step.timer]]
name = "second rise"
lasts = "30 min"
look = "Has it doubled?"
[[step]]
title = "Third rise"
text = "Leave it in the tin."
hands_on = "0 min"
[[step.timer]]
name = "third rise"
lasts = "45 min"
look = "Does it spring back slowly?"
cue = [{ left = "10 min", say = "Light the oven" }]
[[step]]
title = "Bake"
text = "Bake it."
oven = true
hands_on = "0 min"
[[step.timer]]
name = "bake"
lasts = "20 min"
cue = [{ at = "12 min", say = "Turn the tin" }]
"#;

/// A folder of its own, gone with the test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("commis-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).expect("a folder");
        Self(path)
    }

    fn file(&self, name: &str, text: &str) -> String {
        let path = self.0.join(name);
        std::fs::write(&path, text).expect("written");
        path.display().to_string()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn commis(folder: &Folder, zone: &str, args: &[&str]) -> Output {
    program()
        .args(args)
        .env("XDG_STATE_HOME", &folder.0)
        .env("TZ", zone)
        .env("LC_ALL", "C")
        .output()
        .expect("it runs")
}

fn out(o: &Output) -> String {
    assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
    String::from_utf8_lossy(&o.stdout).into_owned()
}

fn three_rises() -> commis::formula::Formula {
    commis::formula::read("three-rises.toml", THREE_RISES).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn three_rises_and_a_bake_on_the_command_line() {
    let folder = Folder::new("three");
    let file = folder.file("three-rises.toml", THREE_RISES);
    let from = "2026-11-25 12:00";
    let plan = |more: &[&str]| {
        let args = [
            &["plan", &file, "--from", from, "--ready-at", "19:30"],
            more,
        ]
        .concat();
        out(&commis(&folder, "UTC", &args))
    };
    let shown = plan(&[]);
    // 45 + 30 + 45 + 20 minutes before half past seven; the oven ten before the bake; the tin at twelve into it.
    for row in [
        "Tin loaf: ready at 19:30, start at 17:10",
        "17:10    first rise (timer)",
        "17:55    second rise (timer)",
        "18:25    third rise (timer)",
        "19:00  Light the oven, 220 C",
        "19:10    bake (timer)",
        "19:22    - Turn the tin",
        "19:30  Ready",
    ] {
        assert!(shown.contains(row), "{row}\n{shown}");
    }
    assert_eq!(shown.matches("ight the oven").count(), 1, "{shown}");
    let json: serde_json::Value = serde_json::from_str(&plan(&["--json"])).expect("JSON");
    assert_eq!(json["start"], "2026-11-25T17:10:00Z");
    let ical = plan(&["--ical"]);
    assert!(ical.starts_with("BEGIN:VCALENDAR\r\n") && ical.ends_with("END:VCALENDAR\r\n"));
    assert!(ical.contains("DTSTART:20261125T190000Z"), "{ical}");
}

#[test]
fn too_late_says_so_and_offers_the_earliest() {
    let folder = Folder::new("late");
    let file = folder.file("three-rises.toml", THREE_RISES);
    let plan = |from: &str, ready: &str| {
        commis(
            &folder,
            "Europe/Berlin",
            &["plan", &file, "--from", from, "--ready-at", ready],
        )
    };
    let late = plan("2026-11-25 17:21", "half past seven");
    assert_eq!(late.status.code(), Some(2));
    let said = String::from_utf8_lossy(&late.stderr).into_owned();
    assert!(
        said.ends_with(
            "commis: too late for 19:30: it takes 11 min longer. The earliest is --ready-at '19:45'\n"
        ),
        "{said}"
    );
    out(&plan("2026-11-25 17:21", "19:45"));
    // Past midnight, the next such time is meant.
    assert!(
        out(&plan("2026-11-25 22:30", "1:15"))
            .contains("ready at 01:15 on Thu 26 Nov, start at 22:55")
    );
    // 2026-10-25 03:00 becomes 02:00 (Directive 2000/84/EC): four hours and twenty minutes from midnight to 03:20.
    assert!(out(&plan("2026-10-24 23:00", "2026-10-25 03:20")).contains("start at 02:00"));
    for (from, ready, expected) in [
        ("noon", "25:00", "a time such as"),
        ("2026-13-01 10:00", "19:30", "a time such as"),
        ("12:00", "soon", "a time such as"),
        (
            "12:00",
            "2020-01-01 10:00",
            "a time from the start to 60 days",
        ),
    ] {
        let bad = plan(from, ready);
        assert_eq!(bad.status.code(), Some(2), "{from} {ready}");
        let said = String::from_utf8_lossy(&bad.stderr).into_owned();
        assert!(said.contains(&format!("expected {expected}")), "{said}");
    }
}

#[test]
fn two_dishes_at_two_heats_share_the_oven_in_turn() {
    let folder = Folder::new("heats");
    let shown = out(&commis(
        &folder,
        "UTC",
        &[
            "plan",
            LOAF,
            "shared/formulas/lemon-shortbread.toml",
            "shared/formulas/vegetable-soup.toml",
            "--from",
            "2026-11-25 08:00",
            "--ready-at",
            "19:30",
        ],
    ));
    assert!(
        shown.contains("One oven, each heat in its turn:"),
        "{shown}"
    );
    // The shortbread has the oven from the step that lights it.
    assert!(
        shown.contains("17:52 to 18:57  160 C  Lemon shortbread"),
        "{shown}"
    );
    for line in shown.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    // The shortbread's own step lights its oven: no second row for it.
    assert_eq!(shown.matches("Light the oven").count(), 2, "{shown}");
}

/// What is said from a line of the conversation on.
fn said_after(r: &Rehearsal, at: f64) -> Vec<&str> {
    r.records
        .iter()
        .filter(|x| x.kind == "said" && x.t >= at)
        .map(|x| x.text.as_str())
        .collect()
}

#[test]
fn the_cook_is_reminded_and_a_slow_rise_moves_what_follows() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 16:00\n0:00 say i want to eat at half past seven\n+5s say when do i start\n\
         1:10 wait\n+10s say next\n+0 say start it\n1:55:20 say not yet\n+5s say again\n2:06:10 wait\n2:10 wait\n",
    );
    let said = r.said();
    // 2 h 20 min before half past seven.
    assert_eq!(
        said[1],
        "On the table at half past seven. Start at ten past five: first rise."
    );
    assert_eq!(said[2], "Start at ten past five: first rise.");
    assert_eq!(said[3], "It is time to start, for half past seven.");
    // A quarter of 45 minutes, whole minutes: 11.
    let after = said_after(&r, 6920.0);
    assert_eq!(
        after[0],
        "Eleven minutes more for the first rise, until six oh six."
    );
    assert_eq!(
        after[1],
        "Everything from the second rise on is eleven minutes later: on the table at seven forty one."
    );
    assert_eq!(
        after[2],
        "Eleven minutes more for the first rise, until six oh six. Everything from the second rise on is eleven minutes \
         later: on the table at seven forty one."
    );
}

#[test]
fn the_oven_is_lit_by_the_plan_where_the_formula_forgot() {
    let forgot = THREE_RISES.replace(
        "cue = [{ left = \"10 min\", say = \"Light the oven\" }]\n",
        "",
    );
    let script = "start 17:10\n0:00 say eat at half past seven\n+0 say next\n+0 say start it\n\
                  0:45:01 say yes\n+0 say next\n+0 say start it\n1:15:02 say yes\n+0 say next\n+0 say start it\n\
                  2:00:03 say yes\n+0 say next\n+0 say start it\n2:20:30 say stop\n";
    // An oven that needs longer than the author of the cue thought.
    let slow = THREE_RISES.replace("lead = \"10 min\"", "lead = \"20 min\"");
    for (text, at, cue) in [
        (THREE_RISES, 6602.0, "Third rise: light the oven."),
        (
            &slow,
            6000.0,
            "Light the oven, two hundred and twenty degrees.",
        ),
        (
            &forgot,
            6600.0,
            "Light the oven, two hundred and twenty degrees.",
        ),
    ] {
        let formula =
            commis::formula::read("three-rises.toml", text).unwrap_or_else(|e| panic!("{e}"));
        let r = Rehearsal::play_with(formula, Options::default(), script);
        let lit: Vec<(f64, &str)> = r
            .records
            .iter()
            .filter(|x| {
                x.kind == "said"
                    && x.text.contains("ight the oven")
                    && x.more.as_ref().is_some_and(|m| m["why"] == "alarm")
            })
            .map(|x| (x.t, x.text.as_str()))
            .collect();
        // Ten minutes left of the third rise: an hour and fifty minutes from the start; once, whoever says it.
        assert_eq!(lit, [(at, cue)]);
        assert!(
            r.said().iter().all(|s| !s.contains("later")),
            "{:#?}",
            r.said()
        );
    }
}

#[test]
fn a_late_cook_is_told_at_five_ten_and_twenty_minutes() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 17:00\n0:00 say eat at half past seven\n0:35 wait\n",
    );
    let told: Vec<(f64, &str)> = r
        .records
        .iter()
        .filter(|x| x.kind == "said" && x.text.starts_with("We have not begun"))
        .map(|x| (x.t / 60.0, x.text.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (
                15.0,
                "We have not begun. If you start now, on the table at twenty five to eight."
            ),
            (
                20.0,
                "We have not begun. If you start now, on the table at twenty to eight."
            ),
            (
                30.0,
                "We have not begun. If you start now, on the table at ten to eight."
            ),
        ]
    );
}

#[test]
fn too_soon_is_offered_later_and_taken() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 17:31\n0:00 say i want to eat at half past seven\n+3s key enter\n+3s say when will it be ready\n\
         +1s say what is next on the clock\n",
    );
    let said = r.said();
    assert_eq!(
        &said[1..],
        [
            "That is too soon: five to eight is the earliest. Shall I plan for that?",
            "On the table at five to eight. Start at twenty five to six: first rise.",
            "On the table at five to eight.",
            "Next, at twenty five to six: first rise.",
        ]
    );
}

#[test]
fn what_the_plan_and_a_timer_both_know_is_said_once() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 18:25\n0:00 say go to step three\n+0 say start it\n+0 say eat at half past seven\n\
         +0 say what is next on the clock\n",
    );
    assert_eq!(
        r.last(),
        "At seven o'clock, in the third rise: light the oven."
    );
}

#[test]
fn a_plan_made_half_way_knows_what_is_done() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 17:00\n0:00 say next\n+0 say start it\n0:45:01 say yes\n+0 say when will it be ready\n\
         +0 say eat at eight\n",
    );
    // 30 + 45 + 20 minutes from the next minute on, to five minutes.
    let said = r.said();
    assert!(
        said.contains(&"Without a break from now, on the table at twenty five past seven."),
        "{said:#?}"
    );
    // A dough that has risen waits ten minutes at the most, whatever the hour.
    assert_eq!(
        r.last(),
        "On the table at eight o'clock. Next, at five to six: second rise."
    );
}

#[test]
fn a_cook_who_is_ahead_need_not_hurry() {
    let r = Rehearsal::play_with(
        three_rises(),
        Options::default(),
        "start 17:00\n0:00 say eat at eight\n+0 say next\n",
    );
    assert!(
        r.last()
            .ends_with("For eight o'clock this can wait until twenty to six."),
        "{}",
        r.last()
    );
}

mod any_cook {
    use commis::bench::{Bench, Event, Heard, Options};
    use commis::time::{Moment, Wall};
    use proptest::prelude::*;

    /// What a cook may say while a plan is kept.
    const SAID: &[&str] = &[
        "next",
        "start it",
        "yes",
        "not yet",
        "no",
        "back",
        "go to step six",
        "go to step two",
        "add five minutes",
        "take off five minutes",
        "pause",
        "resume",
        "stop",
        "stop the timer",
        "start the bake",
        "start again",
        "i want to eat at half past seven",
        "eat at nine",
        "when do i start",
        "when will it be ready",
        "what is next on the clock",
    ];

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(6))]

        /// Whatever the cook does: the bench never wants to be woken in the past, and the same events make the same plan.
        #[test]
        fn the_plan_keeps_up(
            said in prop::collection::vec((0..SAID.len(), 0..2_400_u64), 1..25),
            jump_h in -3..3_i64,
        ) {
            let new = || Bench::new(super::formula("seeded-tin-loaf"), Options::default()).expect("a bench");
            let (mut one, mut two) = (new(), new());
            let wall = |s: u64, hours: i64| Wall {
                unix_ms: 1_795_600_800_000 + s as i64 * 1000 + hours * 3_600_000,
                offset_s: 0,
                changes: Vec::new(),
            };
            let mut s = 0;
            let mut events = vec![(0, Event::Start { wall: wall(0, 0) })];
            for (n, (which, gap)) in said.iter().enumerate() {
                s += gap;
                let event = if n == 10 {
                    Event::WallChanged { wall: wall(s, jump_h) }
                } else {
                    Event::Heard(Heard::spoken(SAID[*which], 1.0))
                };
                events.push((s, event));
            }
            for (s, event) in &events {
                while let Some(wake) = one.wake_at().filter(|w| w.0 < s * 1000) {
                    let (a, b) = (one.handle(&Event::Tick, wake), two.handle(&Event::Tick, wake));
                    prop_assert_eq!(a, b);
                    prop_assert!(one.wake_at().is_none_or(|next| next > wake));
                }
                let now = Moment(s * 1000);
                prop_assert_eq!(one.handle(event, now), two.handle(event, now));
                prop_assert!(one.wake_at().is_none_or(|next| next > now));
            }
        }
    }
}

/// State is the fold of the events: the plan too.
#[test]
fn a_plan_comes_back_from_the_journal() {
    use commis::bench::{Bench, Event, Heard};
    use commis::time::{Moment, Wall};
    let say = |text: &str| Event::Heard(Heard::spoken(text, 1.0));
    let wall = Wall {
        unix_ms: 1_795_626_000_000,
        offset_s: 0,
        changes: Vec::new(),
    };
    let events = [
        (0, Event::Start { wall }),
        (1, say("i want to eat at half past seven")),
        (600, say("next")),
        (601, say("start it")),
        (3310, Event::Tick),
        (3315, say("not yet")),
    ];
    let mut bench = Bench::new(three_rises(), Options::default()).expect("a bench");
    let mut journal = Vec::new();
    for (s, event) in &events {
        journal.push(serde_json::to_string(event).expect("a line"));
        bench.handle(event, Moment(s * 1000));
    }
    let mut again = Bench::new(three_rises(), Options::default()).expect("a bench");
    for ((s, _), line) in events.iter().zip(&journal) {
        let event: Event = serde_json::from_str(line).expect("a line");
        again.handle(&event, Moment(s * 1000));
    }
    assert!(bench == again);
    let asked = say("when will it be ready");
    let (a, b) = (
        bench.handle(&asked, Moment(3_320_000)),
        again.handle(&asked, Moment(3_320_000)),
    );
    assert_eq!(a, b);
    assert!(format!("{a:?}").contains("On the table at"), "{a:?}");
}

#[test]
fn the_next_bake_starts_from_this_kitchens_own_times() {
    let m = Span::minutes;
    let own = BTreeMap::from([(
        "first rise".to_owned(),
        OwnTime {
            lasts: m(70),
            from: m(65),
            to: m(80),
            last: m(70),
            bakes: 3,
        },
    )]);
    let options = Options {
        own,
        ..Options::default()
    };
    let r = Rehearsal::play_with(
        formula("seeded-tin-loaf"),
        options,
        "start 12:00\n0:00 say go to step five\n+0 say more\n+1s say start it\n+40m wait\n1:10:05 say not yet\n",
    );
    let said = r.said();
    assert!(
        said.iter()
            .any(|s| s.ends_with("Say start it for the first rise, one hour and ten minutes.")),
        "{said:#?}"
    );
    assert!(
        said.iter().any(|s| s.ends_with(
            "Last time it took one hour and ten minutes here. \
             Expect one hour and five minutes to one hour and twenty minutes."
        )),
        "{said:#?}"
    );
    assert!(
        said.contains(&"First rise started: one hour and ten minutes, until ten past one."),
        "{said:#?}"
    );
    // A quarter of this kitchen's seventy minutes.
    assert!(
        r.last()
            .starts_with("Seventeen minutes more for the first rise"),
        "{}",
        r.last()
    );
}

#[test]
fn a_cold_room_is_minded_until_there_are_own_times() {
    // Common practice, no source: twice the time for 8 to 10 degrees colder than the usual 21.
    let options = Options {
        room_c: Some(13.0),
        ..Options::default()
    };
    let r = Rehearsal::play_with(
        formula("seeded-tin-loaf"),
        options,
        "start 12:00\n0:00 say go to step five\n+0 say more\n+1s say start it\n1:50:05 say not yet\n",
    );
    let said = r.said();
    assert!(
        said.iter()
            .any(|s| s.ends_with("Say start it for the first rise, one hour and fifty minutes.")),
        "{said:#?}"
    );
    assert!(
        said.iter().any(|s| s.ends_with(
            "The formula says one hour; your room is at \
             thirteen degrees."
        )),
        "{said:#?}"
    );
    assert!(
        r.last().starts_with("Twenty seven minutes more"),
        "{}",
        r.last()
    );
}

#[test]
fn what_a_rise_took_goes_to_the_log_when_the_cook_says_so() {
    let took = |script: &str| {
        let r = Rehearsal::play("seeded-tin-loaf", script);
        r.records
            .iter()
            .filter(|x| x.kind == "took")
            .map(|x| (x.text.clone(), x.more.as_ref().map(|m| m["took"].as_u64())))
            .collect::<Vec<_>>()
    };
    let rise = |s: u64| ("first rise".to_owned(), Some(Some(s)));
    let start = "0:00 say go to step five\n+1s say start it\n";
    assert_eq!(
        took(&format!("{start}1:00:30 say not yet\n1:16 say yes\n")),
        [rise(4559)]
    );
    // It is done before its time.
    assert_eq!(
        took(&format!("{start}0:45:01 say it has doubled\n+2s say yes\n")),
        [rise(2702)]
    );
    // Going on ends no timer, and teaches nothing.
    assert_eq!(took(&format!("{start}0:45:01 say next\n+2s say yes\n")), []);
    // Nobody looked for another hour: nothing is known.
    assert_eq!(took(&format!("{start}2:30 say yes\n2:31 say yes\n")), []);
}

/// The live program writes the log, keeps it private, and starts the next bake from it.
#[test]
fn the_log_is_written_live_and_printed() {
    use std::io::Write;
    use std::os::unix::fs::PermissionsExt;
    use std::process::Stdio;

    let folder = Folder::new("log");
    let quick = THREE_RISES.replace(
        "lasts = \"45 min\"\nlook = \"Has it doubled?\"",
        "lasts = \"1 s\"\nlook = \"Has it doubled?\"",
    );
    let file = folder.file("quick.toml", &quick);
    let mut child = program()
        .args(["cook", "--plain", &file])
        .env("XDG_STATE_HOME", &folder.0)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    let mut pipe = child.stdin.take().expect("piped");
    let mut lines = Lines::of(&mut child);
    pipe.write_all(b"next\nstart it\n").expect("written");
    lines.until("Has it doubled?");
    pipe.write_all(b"yes\n").expect("written");
    lines.until("The first rise took one second.");
    pipe.write_all(b"goodbye\nyes\n").expect("written");
    lines.until("Goodbye.");
    drop(pipe);
    child.wait().expect("it ends");
    let path = folder.0.join("commis/log.jsonl");
    assert_eq!(
        std::fs::metadata(&path)
            .expect("a log")
            .permissions()
            .mode()
            & 0o777,
        0o600
    );
    let table = out(&commis(&folder, "UTC", &["log"]));
    assert!(
        table.contains("Tin loaf\n") && table.contains("first rise"),
        "{table}"
    );
    let json: serde_json::Value =
        serde_json::from_str(&out(&commis(&folder, "UTC", &["log", &file, "--json"])))
            .expect("JSON");
    assert_eq!(json["rises"][0]["timer"], "first rise");
    assert_eq!(json["own"][0]["minutes"], 1.0);
    // A torn last line costs only itself.
    std::fs::OpenOptions::new()
        .append(true)
        .open(&path)
        .and_then(|mut f| f.write_all(b"{\"crc\":\"00"))
        .expect("torn");
    let torn = commis(&folder, "UTC", &["log", "Tin"]);
    assert!(String::from_utf8_lossy(&torn.stderr).contains("one line that cannot be read"));
    assert_eq!(out(&torn), table);
    // The plan takes the minute that it took here, and not the formula's second.
    let plan = out(&commis(
        &folder,
        "UTC",
        &[
            "plan",
            &file,
            "--from",
            "2026-11-25 12:00",
            "--ready-at",
            "19:30",
        ],
    ));
    assert!(plan.contains("first rise (timer)    0:01"), "{plan}");
    assert!(
        plan.ends_with("As it goes here: first rise 1 min (written 0 min, by one bake)\n"),
        "{plan}"
    );
    // The session is listed, drawn, given out, and forgotten with what was learnt from it.
    assert!(
        table.contains("session 1 ") && table.contains("(left before the end)"),
        "{table}"
    );
    assert_eq!(json["bakes"][0]["formula"], "Tin loaf");
    assert_eq!(json["bakes"][0]["steps"][0]["title"], "First rise");
    let csv = out(&commis(&folder, "UTC", &["log", "--csv"]));
    assert!(csv.starts_with("session,formula,scale,room_c,kind,what,planned,really,unit\r\n"));
    assert!(csv.contains(",timer,\"first rise\","), "{csv}");
    let svg = folder.0.join("bakes.svg").display().to_string();
    out(&commis(&folder, "UTC", &["log", "Tin", "--picture", &svg]));
    let drawn = std::fs::read_to_string(&svg).expect("a picture");
    assert!(
        drawn.contains(">First rise</text>") && drawn.contains(">planned</text>"),
        "{drawn}"
    );
    let said = out(&commis(&folder, "UTC", &["log", "--forget", "1"]));
    assert!(said.starts_with("Forgotten: "), "{said}");
    let empty = out(&commis(&folder, "UTC", &["log"]));
    assert!(empty.starts_with("Nothing in the log yet"), "{empty}");
    let none = commis(&folder, "UTC", &["log", "--forget", "1"]);
    assert_eq!(none.status.code(), Some(2));
}

/// RFC 5545, 3.8.7.4: what is given out again changed has a higher number, and the same names.
#[test]
fn a_calendar_given_out_again_is_numbered() {
    let folder = Folder::new("calendar");
    let file = folder.file("loaf.toml", THREE_RISES);
    let ical = |ready: &str| {
        let args = [
            "plan",
            &file,
            "--from",
            "2026-11-25 12:00",
            "--ready-at",
            ready,
            "--ical",
        ];
        out(&commis(&folder, "UTC", &args))
    };
    let lines = |text: &str, name: &str| -> Vec<String> {
        let of_name = text.lines().filter(|line| line.starts_with(name));
        of_name.map(str::to_owned).collect()
    };
    let first = ical("19:30");
    assert!(
        lines(&first, "SEQUENCE:")
            .iter()
            .all(|line| line == "SEQUENCE:0"),
        "{first}"
    );
    assert_eq!(
        lines(&ical("19:30"), "SEQUENCE:"),
        lines(&first, "SEQUENCE:")
    );
    let later = ical("20:00");
    assert!(
        lines(&later, "SEQUENCE:")
            .iter()
            .all(|line| line == "SEQUENCE:1"),
        "{later}"
    );
    assert_eq!(lines(&later, "UID:"), lines(&first, "UID:"));
    let svg = folder.0.join("plan.svg").display().to_string();
    let args = [
        "plan",
        &file,
        "--from",
        "2026-11-25 12:00",
        "--ready-at",
        "19:30",
        "--picture",
        &svg,
    ];
    out(&commis(&folder, "UTC", &args));
    assert!(
        std::fs::read_to_string(&svg)
            .expect("a picture")
            .contains(">Ready</text>")
    );
}

/// What the log knows is told before the next bake and when it is asked for; what the cook notes goes into it.
#[test]
fn the_kitchen_remembers() {
    use commis::bench::{Account, LastTime, PutIn};

    let m = Span::minutes;
    let water = PutIn {
        name: "water".to_owned(),
        wanted_g: 330.0,
        really_g: Some(320.0),
        water: true,
    };
    let name = formula("seeded-tin-loaf").name;
    let last = LastTime {
        // Nine days before the rehearsal's Monday.
        at_ms: 1_767_571_200_000 - 9 * 86_400_000,
        account: Account {
            bake: name,
            took: m(250),
            went_in: vec![water],
            ..Account::default()
        },
        rises: vec![("first rise".to_owned(), m(80))],
        notes: vec!["next time ten grams less water".to_owned()],
        ..LastTime::default()
    };
    let options = Options {
        last: Some(last),
        ..Options::default()
    };
    let script = "start 12:00\n0:01 say what did i do last time\n+20s say how long did it take last time\n\
                  +20s say how much water did i use last time\n+20s say note next time five minutes longer\n\
                  +20s say it was too dry\n";
    let played = Rehearsal::play_with(formula("seeded-tin-loaf"), options, script);
    let said = played.said();
    let told = |words: &str| said.iter().any(|line| line.contains(words));
    for words in [
        "Last time, nine days ago: the first rise took one hour and twenty minutes; you noted: next time ten grams less water.",
        "Nine days ago, you made it as written in four hours and ten minutes;",
        "Nine days ago, four hours and ten minutes in all; the first rise took one hour and twenty minutes.",
        "Three hundred and twenty grams, nine days ago.",
        "Noted: next time five minutes longer. I will tell you before the next bake.",
        "It was too dry: I will remember that for next time.",
    ] {
        assert!(told(words), "{words}: {said:?}");
    }
    let nothing = "start 12:00\n0:01 say what did i do last time\n";
    let played = Rehearsal::play_with(formula("soft-rolls"), Options::default(), nothing);
    let said = played.said();
    assert!(
        said.iter()
            .any(|line| line.contains("I have nothing in my log of ")),
        "{said:?}"
    );
}

#[test]
fn another_hour_is_asked_for_and_told() {
    let script = "start 12:00\n0:01 say i want to eat at half past seven\n+20s say what if we eat at eight o'clock\n\
                  +20s say the guests are late by half an hour\n+20s say when will it be ready\n\
                  +20s say i am behind by ten minutes\n";
    let played = Rehearsal::play_with(formula("vegetable-soup"), Options::default(), script);
    let said = played.said();
    let told = |words: &str| said.iter().filter(|line| line.contains(words)).count();
    // First only asked, then done.
    assert_eq!(
        told("thirty minutes later: on the table at eight o'clock."),
        2,
        "{said:?}"
    );
    assert!(told("eight o'clock") >= 3, "{said:?}");
    let none = "start 12:00\n0:01 say the guests are late\n";
    let played = Rehearsal::play_with(formula("vegetable-soup"), Options::default(), none);
    let said = played.said();
    assert!(
        said.iter()
            .any(|line| line.starts_with("No hour of serving is set.")),
        "{said:?}"
    );
}
