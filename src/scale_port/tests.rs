//! The reader over socket pairs and pipes, with reports as they come from hidraw; devices found in a folder like the kernel's.

use std::io::Write;
use std::os::unix::net::{UnixDatagram, UnixListener};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, unbounded};

use super::*;
use crate::scale::{Layout, Lines, Pattern, Reading, ReportDecoder, Status};

/// As the usage tables' own example has it (USB-IF, 'HID Point of Sale Usage Tables', from memory (m)): report 3 with status,
/// unit, scaling and 16 bits of weight.
const DESCRIPTOR: &[u8] = &[
    0x05, 0x8D, 0x09, 0x20, 0xA1, 0x01, 0x85, 0x03, 0x75, 0x08, 0x95, 0x01, 0x15, 0x01, 0x25, 0x08,
    0x19, 0x71, 0x29, 0x78, 0x81, 0x00, 0x25, 0x0C, 0x19, 0x51, 0x29, 0x5C, 0x81, 0x00, 0x15, 0x81,
    0x25, 0x7F, 0x09, 0x41, 0x81, 0x02, 0x15, 0x00, 0x27, 0xFF, 0xFF, 0x00, 0x00, 0x75, 0x10, 0x09,
    0x40, 0x81, 0x02, 0xC0,
];
const KEYBOARD: &[u8] = &[
    0x05, 0x01, 0x09, 0x06, 0xA1, 0x01, 0x05, 0x07, 0x75, 0x01, 0x95, 0x08, 0x81, 0x02, 0xC0,
];

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("commis-scale-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// A folder like /sys/class/hidraw, and one like /dev beside it.
fn plugged(name: &str, devices: &[(&str, &[u8])]) -> PortOptions {
    let root = folder(name);
    for (node, descriptor) in devices {
        let device = root.join("tells").join(node).join("device");
        std::fs::create_dir_all(&device).expect("a folder");
        std::fs::write(device.join("report_descriptor"), descriptor).expect("it is written");
        std::fs::write(
            device.join("uevent"),
            format!("DRIVER=hid-generic\nHID_NAME=A \u{1b}[31m{node}\n"),
        )
        .expect("it is written");
    }
    PortOptions {
        tells: root.join("tells"),
        nodes: root.clone(),
        ..PortOptions::default()
    }
}

#[test]
fn a_scale_is_found_by_its_descriptor_and_named_without_what_steers() {
    let options = plugged(
        "found",
        &[
            ("hidraw0", KEYBOARD),
            ("hidraw1", DESCRIPTOR),
            ("hidraw2", &[]),
        ],
    );
    let found = find(&options);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].path, options.nodes.join("hidraw1"));
    assert!(!found[0].name.contains('\u{1b}') && found[0].name.contains("hidraw1"));
    assert!(choose(found).is_ok());
    let two = plugged("two", &[("hidraw3", DESCRIPTOR), ("hidraw4", DESCRIPTOR)]);
    let error = choose(find(&two)).expect_err("several").to_string();
    assert!(
        error.contains("hidraw3") && error.contains("hidraw4") && error.contains("[scale]"),
        "{error}"
    );
    let none = plugged("none", &[("hidraw0", KEYBOARD)]);
    assert!(matches!(choose(find(&none)), Err(PortError::None)));
}

#[test]
fn the_rule_is_one_line_that_names_no_maker() {
    let rules: Vec<&str> = RULE
        .lines()
        .filter(|l| !l.starts_with('#') && !l.is_empty())
        .collect();
    assert_eq!(rules.len(), 1);
    // udev(7): `uaccess` must be set before 73-seat-late.rules, so the file's number is below 73.
    assert!(rules[0].ends_with("TAG+=\"uaccess\"") && rules[0].contains("SUBSYSTEM==\"hidraw\""));
    assert!(
        !rules[0].contains("idVendor") && access_sentence().contains("udev/70-commis-scale.rules")
    );
    // What the rule asks of a descriptor, `od` answers so.
    let file = folder("rule").join("report_descriptor");
    for (descriptor, is_scale) in [
        (DESCRIPTOR, true),
        (&[0x06, 0x8D, 0x00, 0x09, 0x20][..], true),
        (KEYBOARD, false),
    ] {
        std::fs::write(&file, descriptor).expect("it is written");
        let od = std::process::Command::new("od")
            .args(["-An", "-v", "-tx1", "-N3"])
            .arg(&file)
            .output()
            .expect("od is there");
        let said = String::from_utf8_lossy(&od.stdout).trim().to_owned();
        assert_eq!(
            said.starts_with("05 8d") || said == "06 8d 00",
            is_scale,
            "{said}"
        );
    }
}

fn report(status: u8, grams: u16) -> [u8; 6] {
    let [low, high] = grams.to_le_bytes();
    [3, status, 2, 0, low, high]
}

#[test]
fn reports_come_through_a_socket_pair_as_through_hidraw_and_the_same_again_is_silent() {
    // Datagrams keep one report a read, as hidraw does.
    let (device, port) = UnixDatagram::pair().expect("a pair");
    let (sender, news) = unbounded();
    let stop = Arc::new(AtomicBool::new(false));
    let told_to_stop = Arc::clone(&stop);
    let reader = std::thread::spawn(move || {
        let start = Instant::now();
        let mut input = Input::Reports(ReportDecoder::new(
            Layout::read(DESCRIPTOR).expect("a scale"),
        ));
        read_until_gone(
            &port,
            &mut input,
            false,
            &told_to_stop,
            &|| start.elapsed().as_millis() as u64,
            &mut |r| sender.send((start.elapsed(), r)).is_ok(),
        )
    });
    for grams in [0, 60, 130, 200, 260, 300] {
        device.send(&report(3, grams)).expect("it is sent");
        std::thread::sleep(Duration::from_millis(100));
    }
    for _ in 0..45 {
        device.send(&report(4, 300)).expect("it is sent");
        std::thread::sleep(Duration::from_millis(100));
    }
    let got: Vec<(Duration, Reading)> = news.try_iter().collect();
    let moving: Vec<f64> = got
        .iter()
        .filter(|(_, r)| r.status == Status::Moving)
        .map(|(_, r)| r.grams)
        .collect();
    for grams in [0.0, 60.0, 130.0, 200.0, 260.0, 300.0] {
        assert!(moving.contains(&grams), "{moving:?}");
    }
    let stable = got
        .iter()
        .filter(|(_, r)| r.status == Status::Stable)
        .count();
    assert!(
        (10..=30).contains(&stable),
        "told {stable} times, and then silent"
    );
    stop.store(true, Ordering::Relaxed);
    assert!(reader.join().is_ok_and(|gone| gone));
}

#[test]
fn what_stands_by_its_own_word_is_told_again_and_what_does_not_say_so_is_not() {
    for (status, again) in [
        (Status::Stable, true),
        (Status::Unsaid, false),
        (Status::Moving, false),
    ] {
        let mut relay = Relay::default();
        assert!(relay.take(Reading::grams(300.0, 1.0, status), 0).is_some());
        let told = (1..100).filter(|k| relay.tick(k * 100).is_some()).count();
        assert_eq!(told > 10, again, "{status:?}: {told}");
        assert!(told <= 25);
    }
    // Nothing of a fast scale is lost but what is between.
    let mut relay = Relay::default();
    let mut told = Vec::new();
    for k in 0..1_000_u64 {
        let at = k * 5;
        told.extend(
            relay
                .take(Reading::grams(k as f64, 1.0, Status::Moving), at)
                .map(|r| (at, r.grams)),
        );
        told.extend(relay.tick(at).map(|r| (at, r.grams)));
    }
    told.extend(relay.tick(6_000).map(|r| (6_000, r.grams)));
    assert!(
        told.len() < 140 && told.last().map(|(_, g)| *g) == Some(999.0),
        "{}",
        told.len()
    );
    assert!(
        told.iter()
            .all(|(at, grams)| *at as f64 - grams * 5.0 <= 1_100.0)
    );
}

fn next(news: &Receiver<ScaleNews>) -> ScaleNews {
    news.recv_timeout(Duration::from_secs(10))
        .expect("news of the scale")
}

fn wanted(path: &std::path::Path) -> PortOptions {
    PortOptions {
        wanted: Wanted::At(path.to_owned()),
        ..PortOptions::default()
    }
}

#[test]
fn a_pipe_a_socket_and_a_file_come_go_and_come_back() {
    let folder = folder("lines");
    let grams = |news: &Receiver<ScaleNews>, wanted: f64| loop {
        match next(news) {
            ScaleNews::Reading(r) if (r.grams - wanted).abs() < 1e-9 => return,
            ScaleNews::Reading(_) => {}
            other => panic!("{other:?}"),
        }
    };
    // A pipe: whoever writes comes and goes.
    let pipe = folder.join("pipe");
    assert!(
        std::process::Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .expect("mkfifo is there")
            .success()
    );
    let (sender, news) = unbounded();
    watch(wanted(&pipe), sender);
    for weight in [412.5, 300.0] {
        let mut writer = std::fs::OpenOptions::new()
            .write(true)
            .open(&pipe)
            .expect("the scale is read");
        assert!(matches!(next(&news), ScaleNews::Plugged(_)));
        writeln!(writer, "nonsense\n{weight} g stable").expect("it is written");
        grams(&news, weight);
        drop(writer);
        while next(&news) != ScaleNews::Unplugged {}
    }
    // A socket that is there later than the program.
    let socket = folder.join("socket");
    let (sender, news) = unbounded();
    watch(wanted(&socket), sender);
    std::thread::sleep(Duration::from_millis(300));
    let listener = UnixListener::bind(&socket).expect("a socket");
    let (mut writer, _) = listener.accept().expect("it comes");
    assert!(matches!(next(&news), ScaleNews::Plugged(_)));
    writer.write_all(b"1.25 kg\n").expect("it is written");
    grams(&news, 1_250.0);
    // A file that grows.
    let file = folder.join("file");
    std::fs::write(&file, "100 g\n").expect("it is written");
    let (sender, news) = unbounded();
    watch(wanted(&file), sender);
    assert!(matches!(next(&news), ScaleNews::Plugged(_)));
    grams(&news, 100.0);
    let mut more = std::fs::OpenOptions::new()
        .append(true)
        .open(&file)
        .expect("it opens");
    writeln!(more, "200 g").expect("it is written");
    grams(&news, 200.0);
}

#[test]
fn what_cannot_be_used_is_told_once() {
    let options = plugged(
        "denied",
        &[("hidraw7", DESCRIPTOR), ("hidraw8", DESCRIPTOR)],
    );
    let (sender, news) = unbounded();
    watch(options, sender);
    let ScaleNews::NoScale(why) = next(&news) else {
        panic!("two scales")
    };
    assert!(why.contains("expected one scale"), "{why}");
    assert!(
        news.recv_timeout(Duration::from_millis(1_200)).is_err(),
        "told once"
    );
    // None at all is no trouble.
    let (sender, news) = unbounded();
    watch(plugged("nothing", &[]), sender);
    assert!(news.recv_timeout(Duration::from_millis(700)).is_err());
}

#[test]
fn lines_of_a_serial_line_are_read_however_the_reads_tear_them() {
    let pattern =
        Pattern::read("{status ST=stable US=moving},{skip},{weight}{unit}").expect("a pattern");
    let mut input = Input::Text(Lines::default(), pattern);
    let text = b"ST,GS,+  412.5  g\r\nUS,GS,+  413.0  g\r\n";
    let read: Vec<f64> = text
        .chunks(5)
        .flat_map(|c| input.feed(c))
        .map(|r| r.grams)
        .collect();
    assert_eq!(read, [412.5, 413.0]);
}
