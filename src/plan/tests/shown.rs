//! The plan in words, as bars, as JSON and as a calendar, read by a program of other hands.

use super::*;

#[test]
fn the_plan_in_words() {
    let wall = utc(NOON + 120);
    let plan = schedule(&items(&[loaf()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    assert_eq!(
        say_start(&plan, &wall),
        "Start weighing at three forty four."
    );
    assert_eq!(
        say_next(&plan, &wall, None),
        "Next, at three forty four: weigh the dry things."
    );
    let said = say_plan(&plan, &wall);
    assert!(
        said.starts_with("Ready at half past seven. At three forty four, weigh the dry things. "),
        "{said}"
    );
    assert!(
        said.contains("At five twenty six, light the oven, two hundred and twenty degrees."),
        "{said}"
    );
    let both = schedule(&items(&[loaf(), soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    assert_eq!(
        say_start(&both, &wall),
        "Start weighing for the tin loaf at three forty four. Start weighing for the autumn soup at six thirty seven."
    );
    let evening = utc(NOON + 451);
    assert_eq!(say_next(&plan, &evening, None), "The plan is done.");
    let late = schedule(&items(&[loaf()]), Minute(NOON + 200), Minute(NOON)).unwrap_err();
    assert_eq!(
        say_error(&late, &utc(NOON)),
        "That is too soon: ten to four is the earliest."
    );
    assert_eq!(
        late.to_string(),
        "expected to be ready in time, found that it takes 26 minutes longer"
    );
}

#[test]
fn times_are_said_as_near_as_they_are() {
    let wall = utc(NOON + 190); // Wednesday, 15:10
    for (minutes, want) in [
        (0, "ten past three"),
        (260, "half past seven"),
        (530, "midnight"),
        (719, "three oh nine"),
        (720, "ten past three tomorrow morning"),
        (1250, "noon tomorrow"),
        (-130, "one o'clock in the afternoon"),
        (2 * 1440, "ten past three in the afternoon on Friday"),
    ] {
        assert_eq!(say_time(Minute(NOON + 190 + minutes), &wall), want);
    }
}

// Other programs.

/// `COMMIS_WRITE_TABLES=tests/tables cargo test` writes the expected files anew; the test that did so then fails once.
fn rewrite(name: &str, text: &str) {
    if let Ok(folder) = std::env::var("COMMIS_WRITE_TABLES") {
        std::fs::write(format!("{folder}/{name}"), text).unwrap();
    }
}

#[test]
fn timeline_fits_its_width_and_needs_no_colour() {
    let wall = utc(NOON);
    let plan = schedule(&items(&[loaf(), soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    for width in [0, 20, 33, 59, 60, 72, 80, 100, 132, 400] {
        for glyphs in [Glyphs::Ascii, Glyphs::Blocks] {
            let lines = timeline(&plan, &wall, width, glyphs);
            for line in &lines {
                assert!(line.chars().count() <= width.max(20), "{width}: {line}");
                assert!(glyphs == Glyphs::Blocks || line.is_ascii(), "{line}");
                assert!(!line.contains('\u{1b}'));
            }
            assert_eq!(lines.iter().any(|l| l.contains("in the oven")), width >= 60);
        }
    }
    let one = schedule(&items(&[loaf()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    let shown = timeline(&one, &wall, 80, Glyphs::Ascii).join("\n") + "\n";
    rewrite("timeline.txt", &shown);
    assert_eq!(
        shown,
        include_str!("../../../tests/tables/timeline.txt"),
        "\n{shown}"
    );
}

#[test]
fn json_says_everything() {
    let wall = Wall {
        unix_ms: NOON * 60_000,
        offset_s: 3600,
        changes: vec![],
    };
    let plan = schedule(&items(&[three_rises()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    let v = json(&plan, &wall);
    assert_eq!(v["ready_at"], "2026-11-25T20:30:00+01:00");
    assert_eq!(v["late_minutes"], 0);
    assert_eq!(v["dishes"][0]["start"], "2026-11-25T18:10:00+01:00");
    assert_eq!(v["blocks"][3]["part"], "preheat");
    assert_eq!(v["blocks"][3]["oven_c"], 220.0);
    assert_eq!(v["blocks"][4]["step"], 4);
    assert_eq!(v["blocks"][4]["cues"][0]["at"], "2026-11-25T20:22:00+01:00");
    let text = serde_json::to_string(&plan).unwrap();
    assert_eq!(serde_json::from_str::<Plan>(&text).unwrap(), plan);
}

/// A calendar's events as `tests/tables/read_calendar.py` writes them: one a line, tabs between.
fn events_of(ics: &str) -> Vec<String> {
    let unfolded = ics.replace("\r\n ", "");
    let mut events = Vec::new();
    let mut fields = std::collections::BTreeMap::new();
    let mut alarms: Vec<String> = Vec::new();
    let mut inside = Vec::new();
    for line in unfolded.split("\r\n").filter(|l| !l.is_empty()) {
        let (name, value) = line.split_once(':').unwrap();
        match name {
            "BEGIN" => inside.push(value.to_owned()),
            "END" => {
                assert_eq!(inside.pop().as_deref(), Some(value));
                if value == "VEVENT" {
                    let get = |k: &str| fields.get(k).cloned().unwrap_or_default();
                    let mut row: Vec<String> = [
                        "UID",
                        "DTSTAMP",
                        "SEQUENCE",
                        "DTSTART",
                        "DTEND",
                        "SUMMARY",
                        "DESCRIPTION",
                        "TRANSP",
                    ]
                    .iter()
                    .map(|k| get(k))
                    .collect();
                    row.push(alarms.join("|"));
                    events.push(row.join("\t"));
                    fields.clear();
                    alarms.clear();
                }
            }
            _ if inside.last().is_some_and(|i| i == "VALARM") => match name {
                "TRIGGER" => {
                    let minutes = duration_minutes(value);
                    let last = alarms.pop().unwrap();
                    alarms.push(format!("{minutes} {last}"));
                }
                "DESCRIPTION" => alarms.push(unescape(value)),
                _ => assert_eq!(line, "ACTION:DISPLAY"),
            },
            _ => {
                fields.insert(name.to_owned(), unescape(value));
            }
        }
    }
    assert!(inside.is_empty());
    events
}

/// A duration (RFC 5545, 3.3.6) in minutes.
fn duration_minutes(value: &str) -> i64 {
    let (mut total, mut number) = (0, 0);
    for c in value.strip_prefix('P').unwrap().chars() {
        match c {
            '0'..='9' => number = number * 10 + i64::from(c as u8 - b'0'),
            'T' => {}
            unit => {
                total += number
                    * match unit {
                        'D' => 1440,
                        'H' => 60,
                        'M' => 1,
                        _ => panic!("unit {unit} in {value}"),
                    };
                number = 0;
            }
        }
    }
    total
}

/// As the table shows a text: a line feed as `<LF>`.
fn unescape(text: &str) -> String {
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next() {
                Some('n' | 'N') => out.push_str("<LF>"),
                Some(other) => out.push(other),
                None => {}
            },
            _ => out.push(c),
        }
    }
    out
}

fn calendar_example() -> String {
    let mut long = loaf();
    long.name = "Grandmother's \u{201c}Sunday\u{201d} loaf; seeds, salt \\ a cr\u{e8}me br\u{fb}l\u{e9}e of a crust \u{1F35E}".to_owned();
    let cues = &mut long.steps[5].timers[0].cues;
    cues.push(Cue {
        at: Span::minutes(30),
        left: None,
        say: "Look,\nthen listen; tap it".to_owned(),
    });
    let plan = schedule(&items(&[long, soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    calendar(&plan, 1_795_608_000, 3)
}

#[test]
fn calendar_is_read_by_others_as_it_was_meant() {
    // What the Python package `icalendar` reads from the same file: tests/tables/read_calendar.py.
    let ics = calendar_example();
    rewrite("calendar.ics", &ics);
    assert_eq!(ics, include_str!("../../../tests/tables/calendar.ics"));
    let read = include_str!("../../../tests/tables/calendar.tsv");
    let mut rows = read.lines();
    assert!(rows.next().unwrap().starts_with("# icalendar "));
    assert_eq!(events_of(&ics), rows.collect::<Vec<_>>());
    for line in ics.split("\r\n") {
        assert!(line.len() <= 75 && !line.contains('\n'));
    }
    // And what `icalendar` itself writes of them, our reader takes to be the same.
    let theirs = include_str!("../../../tests/tables/calendar-rewritten.ics");
    assert_eq!(events_of(theirs), events_of(&ics));
}
