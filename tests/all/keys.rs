//! The keypad as bytes: a socket pair or a FIFO stands in for the device, with storms, tears, stuck keys and unplugging.

use std::io::Write;
use std::os::unix::net::UnixStream;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use commis::bench::Key;
use commis::keys::{Decoder, Facts, InputEvent, Pads, Signal, read_until_gone};

// linux/input-event-codes.h
const KP_ENTER: u16 = 96;
const KP_1: u16 = 79;
const KP_2: u16 = 80;
const KP_PLUS: u16 = 78;

/// A key event with its report, as the kernel writes them.
pub fn bytes(code: u16, value: i32, at_us: u64) -> Vec<u8> {
    let event = |kind, code, value| InputEvent {
        at_us,
        kind,
        code,
        value,
    };
    let mut out = event(InputEvent::KEY, code, value).to_bytes().to_vec();
    out.extend(event(InputEvent::SYN, InputEvent::SYN_REPORT, 0).to_bytes());
    out
}

/// Reads until the writer is done; each signal with its time in milliseconds.
fn hear(
    device: &impl std::os::fd::AsFd,
    decoder: &mut Decoder,
    stop: &AtomicBool,
) -> Vec<(u64, Signal)> {
    let start = Instant::now();
    let now = || start.elapsed().as_millis() as u64;
    let mut got = Vec::new();
    assert!(read_until_gone(
        device,
        decoder,
        stop,
        &now,
        &mut |signal| {
            got.push((now(), signal));
            true
        }
    ));
    got
}

fn signals(heard: &[(u64, Signal)]) -> Vec<Signal> {
    heard.iter().map(|(_, s)| *s).collect()
}

#[test]
fn a_storm_of_a_thousand_events_a_second_loses_nothing() {
    let (mut keypad, device) = UnixStream::pair().expect("a socket pair");
    let writer = std::thread::spawn(move || {
        let start = Instant::now();
        for i in 0..1_000_u64 {
            let code = if i % 4 < 2 { KP_1 } else { KP_2 };
            let value = i32::from(i % 2 == 0);
            keypad
                .write_all(&bytes(code, value, i * 1_000))
                .expect("written");
            let due = Duration::from_millis(i + 1);
            std::thread::sleep(due.saturating_sub(start.elapsed()));
        }
        start.elapsed()
    });
    let heard = hear(&device, &mut Decoder::default(), &AtomicBool::new(false));
    assert!(writer.join().expect("the writer ends") >= Duration::from_secs(1));
    assert_eq!(heard.len(), 500);
    for (i, (_, signal)) in heard.iter().enumerate() {
        assert_eq!(
            *signal,
            Signal::Key(Key::Digit(1 + (i % 2) as u8)),
            "press {i}"
        );
    }
}

#[test]
fn torn_reads_and_unplugging_in_the_middle_of_an_event() {
    let (mut keypad, device) = UnixStream::pair().expect("a socket pair");
    let writer = std::thread::spawn(move || {
        let mut all = bytes(KP_1, 1, 0);
        all.extend(bytes(KP_1, 0, 50_000));
        all.extend(bytes(KP_2, 1, 100_000));
        all.extend(bytes(KP_2, 0, 150_000));
        // Down, and the cable goes half way through the rest.
        all.extend(bytes(KP_ENTER, 1, 200_000));
        all.extend(&bytes(KP_ENTER, 0, 250_000)[..11]);
        for piece in all.chunks(7) {
            keypad.write_all(piece).expect("written");
            std::thread::sleep(Duration::from_millis(1));
        }
    });
    let mut decoder = Decoder::default();
    let stop = AtomicBool::new(false);
    let heard = hear(&device, &mut decoder, &stop);
    writer.join().expect("the writer ends");
    assert_eq!(
        signals(&heard),
        [Signal::Key(Key::Digit(1)), Signal::Key(Key::Digit(2))]
    );
    // Plugged in again: the same decoder starts afresh; neither the half event nor the key that was down is left.
    let (mut keypad, device) = UnixStream::pair().expect("a socket pair");
    keypad.write_all(&bytes(KP_ENTER, 1, 0)).expect("written");
    keypad
        .write_all(&bytes(KP_ENTER, 0, 60_000))
        .expect("written");
    drop(keypad);
    assert_eq!(
        signals(&hear(&device, &mut decoder, &stop)),
        [Signal::Key(Key::Enter)]
    );
}

#[test]
fn a_stuck_key_on_a_fifo_tells_once_after_a_second() {
    let folder = std::env::temp_dir().join(format!("commis-keys-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder of our own");
    let path = folder.join("event0");
    let _ = std::fs::remove_file(&path);
    let made = std::process::Command::new("mkfifo").arg(&path).status();
    assert!(
        made.is_ok_and(|s| s.success()),
        "mkfifo makes `{}`",
        path.display()
    );
    let there = path.clone();
    let writer = std::thread::spawn(move || {
        let mut keypad = std::fs::OpenOptions::new()
            .write(true)
            .open(there)
            .expect("the FIFO opens");
        keypad.write_all(&bytes(KP_PLUS, 1, 0)).expect("written");
        // The kernel's own repeat: after 250 ms, every 33 ms.
        for i in 0..50_u64 {
            std::thread::sleep(Duration::from_millis(33));
            keypad
                .write_all(&bytes(KP_PLUS, 2, 250_000 + i * 33_000))
                .expect("written");
        }
        keypad
            .write_all(&bytes(KP_PLUS, 0, 2_000_000))
            .expect("written");
        keypad
            .write_all(&bytes(KP_1, 1, 2_100_000))
            .expect("written");
        keypad
            .write_all(&bytes(KP_1, 0, 2_150_000))
            .expect("written");
    });
    let device = std::fs::File::open(&path).expect("the FIFO opens");
    let heard = hear(&device, &mut Decoder::default(), &AtomicBool::new(false));
    writer.join().expect("the writer ends");
    let _ = std::fs::remove_dir_all(&folder);
    assert_eq!(
        signals(&heard),
        [Signal::Held(Key::Plus), Signal::Key(Key::Digit(1))]
    );
    assert!(
        (1_000..1_300).contains(&heard[0].0),
        "told after {} ms",
        heard[0].0
    );
}

#[test]
fn a_key_is_out_within_a_few_milliseconds() {
    let (mut keypad, device) = UnixStream::pair().expect("a socket pair");
    let start = Instant::now();
    let writer = std::thread::spawn(move || {
        let mut sent = Vec::new();
        for i in 0..20_u64 {
            keypad
                .write_all(&bytes(KP_ENTER, 1, i * 100_000))
                .expect("written");
            std::thread::sleep(Duration::from_millis(20));
            keypad
                .write_all(&bytes(KP_ENTER, 0, i * 100_000 + 20_000))
                .expect("written");
            sent.push(start.elapsed());
            std::thread::sleep(Duration::from_millis(20));
        }
        sent
    });
    let mut got = Vec::new();
    let now = || start.elapsed().as_millis() as u64;
    let stop = AtomicBool::new(false);
    read_until_gone(&device, &mut Decoder::default(), &stop, &now, &mut |_| {
        got.push(start.elapsed());
        true
    });
    let sent = writer.join().expect("the writer ends");
    assert_eq!(got.len(), 20);
    let mut late: Vec<Duration> = got
        .iter()
        .zip(&sent)
        .map(|(g, s)| g.saturating_sub(*s))
        .collect();
    late.sort();
    assert!(
        late[10] < Duration::from_millis(20),
        "median {:?}",
        late[10]
    );
}

#[test]
fn a_stop_is_noticed_while_nothing_is_pressed() {
    let (_keypad, device) = UnixStream::pair().expect("a socket pair");
    let stop = std::sync::Arc::new(AtomicBool::new(false));
    let flag = stop.clone();
    let reader = std::thread::spawn(move || hear(&device, &mut Decoder::default(), &flag).len());
    std::thread::sleep(Duration::from_millis(50));
    let asked = Instant::now();
    stop.store(true, Ordering::Relaxed);
    assert_eq!(reader.join().expect("the reader ends"), 0);
    assert!(asked.elapsed() < Duration::from_secs(1));
}

/// What `commis ready` says where there is no keypad to take: how to be let in, or which names there are.
#[test]
fn a_refused_keypad_and_several_are_told_with_what_to_do() {
    let refused = Pads {
        denied: vec!["/dev/input/event3".into()],
        ..Pads::default()
    };
    let said = refused.choose(None).expect_err("refused").to_string();
    assert!(
        said.starts_with("expected leave to read `/dev/input/event3`"),
        "{said}"
    );
    assert!(
        said.contains("sudo install -m 0644 udev/70-commis-keypad.rules"),
        "{said}"
    );
    let pad = |id: &str| Facts {
        id: id.to_owned(),
        digits: 10,
        enter: true,
        ..Facts::default()
    };
    let two = Pads {
        facts: vec![
            pad("0003:04d9:a02a@usb-1/input0"),
            pad("0003:1a2c:4c5e@usb-2/input0"),
        ],
        ..Pads::default()
    };
    let said = two.choose(None).expect_err("several").to_string();
    assert!(said.contains("04d9:a02a@usb-1/input0, 0003:1a2c"), "{said}");
    let (taken, alone) = two
        .choose(Some("0003:1a2c:4c5e@usb-2/input0"))
        .expect("named");
    assert!(alone && taken.id.starts_with("0003:1a2c"));
}
