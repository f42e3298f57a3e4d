//! What a stop, a fault of the disk or another session may do to a journal.

use std::fs::{self, OpenOptions, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::json;

use super::scratch::Scratch;
use super::*;
use crate::bench::{Device, Event, Heard, Key};
use crate::time::{Moment, Wall};

const START: i64 = 1_795_618_800_000;

fn wall(unix_ms: i64) -> Wall {
    Wall {
        unix_ms,
        offset_s: 0,
        changes: vec![],
    }
}

fn readings(boot_id: &str, boot_ms: u64, unix_ms: i64) -> Readings {
    Readings {
        boot_id: boot_id.to_owned(),
        boot_ms,
        wall: wall(unix_ms),
    }
}

fn header(unix_ms: i64) -> Header {
    Header::new(
        "loaf.toml",
        "name = \"tin loaf\"\n# \u{e9}t\u{e9}\n",
        json!({"voice": "brief", "confidence": 0.6}),
        &readings("boot-a", 50_000, unix_ms),
    )
}

fn entries() -> Vec<Entry> {
    let events = [
        Event::Start { wall: wall(START) },
        Event::Heard(Heard {
            others: vec![("start the first rice".to_owned(), 0.25)],
            ..Heard::spoken("start the first rise", 0.87)
        }),
        Event::Key { key: Key::Digit(7) },
        Event::Tick,
        Event::Device {
            device: Device::Microphone,
            present: false,
            note: "unplugged \"by\u{a0}hand\"\n".to_owned(),
        },
        Event::WallChanged {
            wall: Wall {
                unix_ms: START - 3_600_000,
                offset_s: 3600,
                changes: vec![(1_795_700_000, 0)],
            },
        },
    ];
    events
        .into_iter()
        .enumerate()
        .map(|(i, event)| Entry {
            at: Moment(i as u64 * 60_000),
            event,
            taken: None,
        })
        .collect()
}

fn written(folder: &Path) -> (PathBuf, Vec<u8>) {
    let mut journal = Journal::create(folder, &header(START)).unwrap();
    for entry in entries() {
        journal.append(&entry).unwrap();
    }
    let path = journal.path().to_path_buf();
    drop(journal);
    let bytes = fs::read(&path).unwrap();
    (path, bytes)
}

fn line_ends(bytes: &[u8]) -> Vec<usize> {
    (0..bytes.len())
        .filter(|i| bytes[*i] == b'\n')
        .map(|i| i + 1)
        .collect()
}

fn same_boot() -> Readings {
    readings("boot-a", 50_000 + 600_000, START + 600_000)
}

#[test]
fn takes_up_what_was_written() {
    let scratch = Scratch::new();
    let (path, _) = written(scratch.path());
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    assert_eq!(got.header, header(START));
    assert_eq!(got.entries, entries());
    assert_eq!(got.notes, []);
    assert_eq!(got.resumption.now, Moment(600_000));
    assert_eq!(got.resumption.gap_ms, 300_000);
    assert!(!got.header.formula_changed(&got.header.formula_text));
    assert!(got.header.formula_changed("name = \"another\""));
}

#[test]
fn a_cut_at_any_byte_keeps_exactly_the_whole_lines() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let ends = line_ends(&bytes);
    let added = Entry {
        at: Moment(600_000),
        event: Event::Tick,
        taken: None,
    };
    for cut in 0..=bytes.len() {
        fs::write(&path, &bytes[..cut]).unwrap();
        let whole = ends.iter().filter(|end| **end <= cut).count();
        let got = Journal::reopen_at(&path, &same_boot());
        if whole == 0 {
            assert!(
                matches!(got, Err(JournalError::Header { .. })),
                "cut at {cut}"
            );
            assert_eq!(
                Journal::unfinished(scratch.path()).unwrap(),
                [],
                "cut at {cut}"
            );
            continue;
        }
        let mut got = got.unwrap();
        let kept = whole.saturating_sub(2);
        assert_eq!(got.entries, entries()[..kept], "cut at {cut}");
        let torn = (cut - ends[whole - 1]) as u64;
        let want = if torn > 0 {
            vec![Note::Torn { bytes: torn }]
        } else {
            vec![]
        };
        assert_eq!(got.notes, want, "cut at {cut}");
        // And what is written next stands right after it.
        got.journal.append(&added).unwrap();
        drop(got);
        let again = Journal::reopen_at(&path, &same_boot()).unwrap();
        assert_eq!(again.notes, []);
        assert_eq!(again.entries[..kept], entries()[..kept]);
        assert_eq!(again.entries[kept..], std::slice::from_ref(&added)[..]);
    }
}

#[test]
fn a_tail_of_zeros_is_a_torn_line() {
    // What some file systems leave of a block that was allocated but never written.
    let scratch = Scratch::new();
    let (path, mut bytes) = written(scratch.path());
    bytes.extend_from_slice(&[0; 4096]);
    fs::write(&path, &bytes).unwrap();
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    assert_eq!(got.entries, entries());
    assert_eq!(got.notes, [Note::Torn { bytes: 4096 }]);
}

/// The entries as they are read where one line is lost.
fn without(lost: usize) -> Vec<Entry> {
    let mut all = entries();
    all[lost] = match lost {
        0 => Entry {
            event: Event::Start { wall: wall(START) },
            ..Entry::tick(Moment(0))
        },
        _ => Entry::tick(all[lost - 1].at),
    };
    all
}

#[test]
fn damage_at_any_byte_costs_the_line_that_it_is_in_and_in_the_header_nothing() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let ends = line_ends(&bytes);
    for place in 0..bytes.len() {
        let mut bad = bytes.clone();
        bad[place] ^= 0x15;
        fs::write(&path, &bad).unwrap();
        let line = ends.iter().filter(|end| **end <= place).count();
        let got = Journal::reopen_at(&path, &same_boot());
        let got = got.unwrap();
        assert_eq!(got.header, header(START), "byte {place}");
        // A line feed that is another letter now ends its line all the same.
        if line < 2 || bytes[place] == b'\n' {
            assert_eq!(got.entries, entries(), "byte {place}");
            assert_eq!(got.notes, [], "byte {place}");
        } else {
            assert_eq!(got.entries, without(line - 2), "byte {place}");
            let [
                Note::Damaged {
                    line: told,
                    lost: 1,
                    copy: Some(copy),
                    ..
                },
            ] = &got.notes[..]
            else {
                panic!("byte {place}: {:?}", got.notes)
            };
            assert_eq!(*told, line + 1);
            assert_eq!(fs::read(copy).unwrap(), bad);
            assert_eq!(
                fs::metadata(copy).unwrap().permissions().mode() & 0o777,
                0o600
            );
            fs::remove_file(copy).unwrap();
        }
        // It is told once, and what is written next stands after it.
        let (was, mut journal) = (got.entries, got.journal);
        journal.append(&entries()[3]).unwrap();
        drop(journal);
        let again = Journal::reopen_at(&path, &same_boot()).unwrap();
        assert_eq!(again.notes, [], "byte {place}");
        assert_eq!(again.entries[..was.len()], was, "byte {place}");
        assert_eq!(again.entries[was.len()..], entries()[3..4], "byte {place}");
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }
}

#[test]
fn a_bit_that_flips_anywhere_costs_nothing() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    for bit in 0..bytes.len() * 8 {
        let mut bad = bytes.clone();
        bad[bit / 8] ^= 1 << (bit % 8);
        let got = contents::read(&bad, &path).unwrap();
        assert_eq!(got.header, header(START), "bit {bit}");
        assert_eq!(got.entries, entries(), "bit {bit}");
        assert_eq!((got.damage, got.torn), (None, 0), "bit {bit}");
        // A damaged one of two headers is left as it is.
        let whole = got.whole.as_deref().unwrap_or(&bytes);
        assert_eq!(whole, bytes, "bit {bit}");
    }
}

#[test]
fn lines_that_are_gone_are_told_and_lines_doubled_or_swapped_cost_nothing() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let lines: Vec<&[u8]> = bytes.split_inclusive(|b| *b == b'\n').collect();
    let cases: [(Vec<usize>, Vec<usize>); 5] = [
        (vec![0, 1, 3, 4, 5, 6, 7], vec![2]),
        (vec![0, 1, 2, 5, 6, 7], vec![3, 4]),
        (vec![0, 1, 2, 2, 3, 4, 5, 6, 7], vec![]),
        (vec![0, 1, 3, 2, 4, 5, 6, 7], vec![]),
        (vec![0, 1, 2, 1, 3, 4, 5, 6, 7], vec![]),
    ];
    for (order, gone) in cases {
        let mixed: Vec<u8> = order.iter().flat_map(|i| lines[*i]).copied().collect();
        fs::write(&path, &mixed).unwrap();
        let got = Journal::reopen_at(&path, &same_boot()).unwrap();
        assert_eq!(got.entries.len(), entries().len(), "{order:?}");
        for (place, entry) in entries().iter().enumerate() {
            if !gone.contains(&(place + 2)) {
                assert_eq!(&got.entries[place], entry, "{order:?}");
            }
        }
        match got.notes[..] {
            [] => assert!(gone.is_empty(), "{order:?}"),
            [Note::Damaged { lost, line, .. }] => {
                assert_eq!((lost, line), (gone.len(), gone[0] + 1), "{order:?}");
            }
            _ => panic!("{order:?}: {:?}", got.notes),
        }
    }
}

#[test]
fn a_number_far_beyond_the_others_is_no_line_of_the_journal() {
    let scratch = Scratch::new();
    let (path, mut bytes) = written(scratch.path());
    let far = line::encode(&json!({"n": u64::MAX, "at": 9, "event": {"event": "tick"}})).unwrap();
    bytes.extend_from_slice(far.as_bytes());
    fs::write(&path, &bytes).unwrap();
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    assert_eq!(got.entries[..6], entries());
    assert!(matches!(got.notes[..], [Note::Damaged { lost: 1, .. }]));
}

#[test]
fn only_the_owner_can_look() {
    let scratch = Scratch::new();
    let folder = scratch.path().join("deep/state/commis");
    let (path, _) = written(&folder);
    let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&folder), 0o700);
    assert_eq!(mode(&path), 0o600);
    // A folder that was there may be shared: it stays as it is, and the file is the owner's alone.
    fs::set_permissions(&folder, Permissions::from_mode(0o775)).unwrap();
    let second = Journal::create(&folder, &header(START)).unwrap();
    assert_eq!(mode(&folder), 0o775);
    assert_eq!(mode(second.path()), 0o600);
}

#[test]
fn two_sessions_cannot_write_one_journal() {
    let scratch = Scratch::new();
    let mut journal = Journal::create(scratch.path(), &header(START)).unwrap();
    journal.append(&entries()[0]).unwrap();
    let path = journal.path().to_path_buf();
    let e = Journal::reopen_at(&path, &same_boot()).unwrap_err();
    assert!(matches!(e, JournalError::Busy { .. }));
    assert!(e.to_string().contains("in use by another session"), "{e}");
    assert!(e.spoken().contains("Another session"), "{}", e.spoken());
    let found = Journal::unfinished(scratch.path()).unwrap();
    assert!(
        matches!(
            found[..],
            [Unfinished {
                state: UnfinishedState::Busy,
                ..
            }]
        ),
        "{found:?}"
    );
    // A second session in the same second gets a file of its own.
    let second = Journal::create(scratch.path(), &header(START)).unwrap();
    assert_ne!(second.path(), path);
    drop(journal);
    let reopened = Journal::reopen_at(&path, &same_boot()).unwrap();
    assert_eq!(reopened.entries.len(), 1);
}

#[test]
fn lists_what_is_unfinished_newest_first() {
    let scratch = Scratch::new();
    assert_eq!(
        Journal::unfinished(&scratch.path().join("not there")).unwrap(),
        []
    );
    for hours in [3, 1, 2] {
        drop(Journal::create(scratch.path(), &header(START + hours * 3_600_000)).unwrap());
    }
    let ended = Journal::create(scratch.path(), &header(START + 9 * 3_600_000)).unwrap();
    let ended_path = ended.path().to_path_buf();
    ended.finish(Moment(5)).unwrap();
    fs::write(scratch.path().join("log.jsonl"), "{}\n").unwrap();
    // Among the journals: somebody else's file, a folder, a pipe that nobody writes, and a journal without its header.
    fs::write(scratch.path().join("x.journal"), "no journal\n").unwrap();
    fs::create_dir(scratch.path().join("folder.journal")).unwrap();
    let pipe = scratch.path().join("pipe.journal");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    let headless = line::encode(&json!({"n": 2, "at": 0, "event": {"event": "tick"}})).unwrap();
    fs::write(scratch.path().join("headless.journal"), headless).unwrap();
    let found = Journal::unfinished(scratch.path()).unwrap();
    let began: Vec<_> = found
        .iter()
        .map(|f| match &f.state {
            UnfinishedState::Ready { header, .. } => (header.wall.unix_ms - START) / 3_600_000,
            UnfinishedState::Busy => -1,
            UnfinishedState::Unreadable { .. } => -2,
            UnfinishedState::Foreign => -3,
            UnfinishedState::Newer => -4,
        })
        .collect();
    assert_eq!(began[..3], [3, 2, 1]);
    let mut rest = began[3..].to_vec();
    rest.sort_unstable();
    assert_eq!(rest, [-3, -3, -3, -2]);
    assert!(matches!(
        Journal::reopen_at(&ended_path, &same_boot()),
        Err(JournalError::Ended { .. })
    ));
    for one in &found {
        Journal::abandon(one).unwrap();
    }
    // What is not ours was left alone.
    let left = Journal::unfinished(scratch.path()).unwrap();
    assert_eq!(left.len(), 3);
    assert!(left.iter().all(|f| f.state == UnfinishedState::Foreign));
    assert!(scratch.path().join("headless.damaged").exists());
}

#[test]
fn a_first_line_that_cannot_be_read_is_said() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let (first, second) = (line_ends(&bytes)[0], line_ends(&bytes)[1]);
    for (text, want) in [
        (Vec::new(), "nothing"),
        (
            bytes[..first - 1].to_vec(),
            "a line that was only half written",
        ),
        (b"hello\n".to_vec(), "no checksum"),
        (bytes[second..].to_vec(), "a record of another kind"),
    ] {
        fs::write(&path, text).unwrap();
        let e = Journal::reopen_at(&path, &same_boot()).unwrap_err();
        assert_eq!(
            e.to_string(),
            format!(
                "expected a journal's first line in `{}`, found {want}",
                path.display()
            )
        );
    }
    let newer = line::encode(&json!({"n": 0, "head": {"format": 9, "unheard": "of"}})).unwrap();
    fs::write(&path, newer).unwrap();
    let found = Journal::unfinished(scratch.path()).unwrap();
    assert_eq!(found[0].state, UnfinishedState::Newer);
    let e = Journal::reopen_at(&path, &same_boot()).unwrap_err();
    assert!(
        matches!(
            e,
            JournalError::Newer {
                found: 9,
                known: FORMAT,
                ..
            }
        ),
        "{e}"
    );
}

#[test]
fn a_place_that_may_not_be_written_is_said() {
    let scratch = Scratch::new();
    let folder = scratch.path().join("locked");
    fs::create_dir(&folder).unwrap();
    fs::set_permissions(&folder, Permissions::from_mode(0o500)).unwrap();
    // The administrator may write anywhere but into the kernel's own folder.
    let folder = if fs::write(folder.join("probe"), "").is_ok() {
        PathBuf::from("/sys")
    } else {
        folder
    };
    let folder = folder.join("commis");
    let e = Journal::create(&folder, &header(START)).unwrap_err();
    assert!(matches!(e, JournalError::ReadOnly { .. }), "{e}");
    assert!(e.spoken().contains("may not write"));
    let e = Log::read(&folder).unwrap();
    assert_eq!(e, Log::default());

    // A file where the folder should be.
    let file = scratch.path().join("file");
    fs::write(&file, "").unwrap();
    let e = Journal::create(&file.join("commis"), &header(START)).unwrap_err();
    assert!(matches!(e, JournalError::Io { .. }), "{e}");
}

#[test]
fn a_full_disk_is_said_and_nothing_is_forgotten() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let full = OpenOptions::new().append(true).open("/dev/full").unwrap();
    let mut journal = Journal::from_parts(full, path.clone(), bytes.len() as u64, 8);
    for late in 0..3 {
        let e = journal
            .append(&Entry {
                at: Moment(400_000 + late),
                event: Event::Tick,
                taken: None,
            })
            .unwrap_err();
        assert!(matches!(e, JournalError::Full { .. }), "{e}");
        assert!(e.spoken().starts_with("The disk is full"));
    }
    assert_eq!(journal.waiting(), 3);
    // Room again: all that was owed is written, in order.
    journal.swap_file(OpenOptions::new().append(true).open(&path).unwrap());
    journal
        .append(&Entry {
            at: Moment(500_000),
            event: Event::Tick,
            taken: None,
        })
        .unwrap();
    assert_eq!(journal.waiting(), 0);
    drop(journal);
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    assert_eq!(got.notes, []);
    let times: Vec<_> = got.entries[6..].iter().map(|e| e.at.0).collect();
    assert_eq!(times, [400_000, 400_001, 400_002, 500_000]);
}

#[test]
fn a_line_that_was_refused_half_way_is_cut_off_before_the_next() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    let mut journal = Journal::reopen_at(&path, &same_boot()).unwrap().journal;
    let mut half = bytes.clone();
    half.extend_from_slice(b"{\"crc\":\"0123");
    fs::write(&path, half).unwrap();
    journal.cut(true).unwrap();
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_session_can_be_taken_up_from_a_disk_that_cannot_be_written() {
    let scratch = Scratch::new();
    let (path, bytes) = written(scratch.path());
    fs::write(&path, &bytes[..bytes.len() - 3]).unwrap();
    fs::set_permissions(&path, Permissions::from_mode(0o400)).unwrap();
    let mut got = Journal::reopen_at(&path, &readings("boot-b", 9, START + 900_000)).unwrap();
    assert_eq!(got.entries, entries()[..5]);
    if OpenOptions::new().append(true).open(&path).is_ok() {
        // The administrator may write it all the same.
        assert!(got.trouble.is_none());
        return;
    }
    assert!(matches!(got.trouble, Some(JournalError::ReadOnly { .. })));
    assert!(got.journal.append(&entries()[5]).is_err());
}

#[test]
fn goes_on_through_restarts_of_the_machine() {
    let scratch = Scratch::new();
    let (path, _) = written(scratch.path());
    // At 5 min of session time the wall clock was set an hour back (the last entry); 10 minutes later the power is
    // back in another run of the machine.
    let set_back = START - 3_600_000;
    let second = readings("boot-b", 7_000, set_back + 600_000);
    let mut got = Journal::reopen_at(&path, &second).unwrap();
    assert_eq!(got.resumption.now, Moment(900_000));
    assert_eq!(got.resumption.gap_ms, 600_000);
    assert_eq!(got.notes, [Note::OtherBoot]);
    let entry = Entry {
        at: got.resumption.clock.at(8_000),
        event: Event::Tick,
        taken: None,
    };
    assert_eq!(entry.at, Moment(901_000));
    got.journal.append(&entry).unwrap();
    drop(got);
    // Killed, and taken up a minute later in the same run, with the wall clock a day wrong: by the boot clock.
    let third = readings("boot-b", 68_000, START + 86_400_000);
    let got = Journal::reopen_at(&path, &third).unwrap();
    assert_eq!(got.entries.len(), 7);
    assert_eq!(got.notes, []);
    assert_eq!(got.resumption.now, Moment(961_000));
    drop(got);
    // A third run whose clock was never set.
    let fourth = readings("boot-c", 100, 0);
    let got = Journal::reopen_at(&path, &fourth).unwrap();
    assert_eq!(got.resumption.now, Moment(901_000));
    assert!(matches!(got.notes[..], [Note::WallWentBack { .. }]));
}

#[test]
fn a_line_set_aside_does_not_come_back() {
    let scratch = Scratch::new();
    let (path, _) = written(scratch.path());
    let mut got = Journal::reopen_at(&path, &same_boot()).unwrap();
    let line = got.lines[3];
    got.journal.set_aside(line).unwrap();
    drop(got);
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    let mut want = entries();
    want.remove(3);
    assert_eq!(got.entries, want);
}

#[test]
fn what_another_version_wrote_is_left_out_and_told() {
    let scratch = Scratch::new();
    let (path, mut bytes) = written(scratch.path());
    for (n, record) in [
        json!({"n": 8, "at": 400_000, "event": {"event": "key", "key": "enter"},
               "taken": {"taken": "order", "order": {"intent": "light_the_grill"}}}),
        json!({"n": 9, "at": 400_001, "event": {"event": "heard", "text": "next", "confidence": 1.0},
               "taken": {"taken": "order", "order": {"intent": "go_forth"}}}),
        json!({"n": 10, "at": 400_002, "event": {"event": "smoke"}}),
    ]
    .into_iter()
    .enumerate()
    {
        assert_eq!(record["n"], n + 8);
        bytes.extend_from_slice(line::encode(&record).unwrap().as_bytes());
    }
    fs::write(&path, &bytes).unwrap();
    let got = Journal::reopen_at(&path, &same_boot()).unwrap();
    let what = vec!["light the grill".to_owned(), "smoke".to_owned()];
    assert_eq!(got.notes, [Note::Unknown { what }]);
    let last: Vec<&Event> = got.entries[6..].iter().map(|e| &e.event).collect();
    assert_eq!(last[0], &Event::Tick, "a key is not pressed anew");
    assert!(matches!(last[1], Event::Heard(h) if h.text == "next"));
    assert_eq!(last[2], &Event::Tick);
}
