//! Descriptors and reports written from the published tables ('HID Point of Sale Usage Tables', page 0x8D, from memory (m)),
//! lines of several scales, and pours over the model of a load cell.

use super::*;
use crate::time::{Moment, Span};

/// As the tables' own example has it: a numbered data report of status, unit, scaling and 16 bits of weight, and a
/// report that sets to zero.
pub(super) const NUMBERED: &[u8] = &[
    0x05, 0x8D, 0x09, 0x20, 0xA1, 0x01, 0x85, 0x03, 0x09, 0x32, 0xA1, 0x02, 0x75, 0x08, 0x95, 0x01,
    0x15, 0x01, 0x25, 0x08, 0x09, 0x70, 0xA1, 0x02, 0x09, 0x71, 0x09, 0x72, 0x09, 0x73, 0x09, 0x74,
    0x09, 0x75, 0x09, 0x76, 0x09, 0x77, 0x09, 0x78, 0x81, 0x00, 0xC0, 0x09, 0x50, 0xA1, 0x02, 0x25,
    0x0C, 0x19, 0x51, 0x29, 0x5C, 0x81, 0x00, 0xC0, 0x15, 0x81, 0x25, 0x7F, 0x09, 0x41, 0x81, 0x02,
    0x15, 0x00, 0x27, 0xFF, 0xFF, 0x00, 0x00, 0x75, 0x10, 0x09, 0x40, 0x81, 0x02, 0xC0, 0x85, 0x02,
    0x09, 0x31, 0xA1, 0x02, 0x15, 0x00, 0x25, 0x01, 0x75, 0x01, 0x95, 0x02, 0x09, 0x81, 0x09, 0x80,
    0xB1, 0x02, 0x95, 0x06, 0xB1, 0x01, 0xC0, 0xC0,
];

/// Without report ids, fields in another order, 24 bits of weight with a sign behind 4 bits of status and padding; the unit
/// is a range with its whole page in each usage.
const PLAIN: &[u8] = &[
    0x06, 0x8D, 0x00, 0x09, 0x20, 0xA1, 0x01, 0x15, 0x00, 0x25, 0x07, 0x75, 0x04, 0x95, 0x01, 0x19,
    0x71, 0x29, 0x78, 0x81, 0x00, 0x81, 0x01, 0x17, 0x00, 0x00, 0x80, 0xFF, 0x27, 0xFF, 0xFF, 0x7F,
    0x00, 0x75, 0x18, 0x09, 0x40, 0x81, 0x02, 0x15, 0x00, 0x25, 0x0B, 0x75, 0x08, 0x1B, 0x51, 0x00,
    0x8D, 0x00, 0x2B, 0x5C, 0x00, 0x8D, 0x00, 0x81, 0x00, 0x15, 0x00, 0x26, 0xFF, 0x00, 0x09, 0x41,
    0x81, 0x02, 0xC0,
];

/// The status in a report of its own; the globals saved and taken back; a vendor's report beside them.
const APART: &[u8] = &[
    0x05, 0x8D, 0x09, 0x24, 0xA1, 0x01, 0xA4, 0x85, 0x05, 0x09, 0x33, 0xA1, 0x02, 0x15, 0x01, 0x25,
    0x08, 0x75, 0x08, 0x95, 0x01, 0x19, 0x71, 0x29, 0x78, 0x81, 0x00, 0xC0, 0xB4, 0x85, 0x04, 0x09,
    0x32, 0xA1, 0x02, 0x15, 0x00, 0x27, 0xFF, 0xFF, 0xFF, 0x7F, 0x75, 0x20, 0x95, 0x01, 0x09, 0x40,
    0x81, 0x02, 0xC0, 0x06, 0x00, 0xFF, 0x85, 0x09, 0x09, 0x01, 0x15, 0x00, 0x26, 0xFF, 0x00, 0x75,
    0x08, 0x95, 0x07, 0x81, 0x02, 0xC0,
];

fn decoder(descriptor: &[u8]) -> ReportDecoder {
    ReportDecoder::new(Layout::read(descriptor).expect("a scale"))
}

fn read(descriptor: &[u8], report: &[u8]) -> Option<(f64, f64, Status)> {
    let reading = decoder(descriptor).reading(report)?;
    let round = |x: f64| (x * 1e4).round() / 1e4;
    Some((round(reading.grams), round(reading.step), reading.status))
}

#[test]
fn reports_are_read_as_the_tables_say() {
    for (report, grams, step, status) in [
        (&[3, 4, 2, 0, 0xF4, 0x01][..], 500.0, 1.0, Status::Stable),
        (&[3, 3, 2, 0xFF, 0x8D, 0x13], 500.5, 0.1, Status::Moving),
        (&[3, 2, 2, 0, 0, 0], 0.0, 1.0, Status::Zero),
        (&[3, 5, 2, 0, 20, 0], -20.0, 1.0, Status::UnderZero),
        (&[3, 6, 2, 0, 0x88, 0x13], 5000.0, 1.0, Status::OverLimit),
        (&[3, 1, 2, 0, 0, 0], 0.0, 1.0, Status::Fault),
        (&[3, 7, 2, 0, 0, 0], 0.0, 1.0, Status::Calibrate),
        (&[3, 8, 2, 0, 0, 0], 0.0, 1.0, Status::Rezero),
        // 10.0 ounces: an avoirdupois ounce is 28.349523125 g by definition.
        (
            &[3, 4, 11, 0xFF, 0x64, 0x00],
            283.4952,
            2.835,
            Status::Stable,
        ),
        (
            &[3, 4, 12, 0xFE, 0x96, 0x00],
            680.3886,
            4.5359,
            Status::Stable,
        ),
        (&[3, 4, 3, 0xFD, 0x2C, 0x01], 300.0, 1.0, Status::Stable),
        (&[3, 4, 1, 0, 0xD0, 0x07], 2.0, 0.001, Status::Stable),
    ] {
        assert_eq!(
            read(NUMBERED, report),
            Some((grams, step, status)),
            "{report:?}"
        );
    }
    assert_eq!(
        read(PLAIN, &[0x03, 0x20, 0x03, 0x00, 0x01, 0x00]),
        Some((800.0, 1.0, Status::Stable))
    );
    assert_eq!(
        read(PLAIN, &[0x04, 0xF6, 0xFF, 0xFF, 0x01, 0x00]),
        Some((-10.0, 1.0, Status::UnderZero))
    );
}

#[test]
fn a_status_in_a_report_of_its_own_is_kept_for_the_next_weight() {
    let mut decoder = decoder(APART);
    assert_eq!(decoder.reading(&[5, 4]), None);
    let read = decoder.reading(&[4, 0x9C, 0x01, 0, 0]).expect("a weight");
    assert_eq!((read.grams, read.status), (412.0, Status::Stable));
    assert_eq!(decoder.reading(&[9, 1, 2, 3, 4, 5, 6, 7]), None);
    decoder.reading(&[5, 3]);
    let read = decoder.reading(&[4, 0x9D, 0x01, 0, 0]).expect("a weight");
    assert_eq!(read.status, Status::Moving);
}

#[test]
fn what_the_tables_do_not_have_is_no_weight() {
    for report in [
        &[][..],
        &[3],
        &[3, 4, 2],
        &[1, 4, 2, 0, 1, 0],
        &[3, 0, 2, 0, 1, 0],
        &[3, 0xEE, 2, 0, 1, 0],
        &[3, 4, 0, 0, 1, 0],
        &[3, 4, 99, 0, 1, 0],
        &[3, 4, 2, 0x7F, 1, 0],
        &[3, 4, 9, 4, 1, 0],
    ] {
        assert_eq!(read(NUMBERED, report), None, "{report:?}");
    }
    // A keyboard, a mouse, nothing.
    for other in [
        &[0x05, 0x01, 0x09, 0x06, 0xA1, 0x01, 0xC0][..],
        &[0x05, 0x01, 0x09, 0x02, 0xA1, 0x01],
        &[],
    ] {
        assert!(Layout::read(other).is_none());
    }
}

#[test]
fn torn_and_hostile_descriptors_and_reports_are_harmless() {
    let mut x = 1_u32;
    let mut byte = move || {
        x = x.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (x >> 24) as u8
    };
    for whole in [NUMBERED, PLAIN, APART] {
        for end in 0..whole.len() {
            let _ = Layout::read(&whole[..end]);
        }
        for _ in 0..5_000 {
            let mut bytes = whole.to_vec();
            for _ in 0..=byte() % 4 {
                let at = usize::from(byte()) % bytes.len();
                bytes[at] = byte();
            }
            let report: Vec<u8> = (0..byte() % 40).map(|_| byte()).collect();
            if let Some(layout) = Layout::read(&bytes) {
                assert!(layout.longest() < 10_000);
                let mut decoder = ReportDecoder::new(layout);
                for report in [&report[..], &[3, 4, 2, 0, 1, 0]] {
                    assert!(decoder.reading(report).is_none_or(|r| r.is_sane()));
                }
            }
        }
    }
    for _ in 0..20_000 {
        let bytes: Vec<u8> = (0..byte()).map(|_| byte()).collect();
        let _ = Layout::read(&bytes);
    }
}

#[test]
fn lines_of_common_scales() {
    let own = "{status ST=stable US=moving OL=over},{skip},{weight}{unit}";
    for (pattern, line, read) in [
        ("", "412.5 g stable", Some((412.5, 0.1, Status::Stable))),
        ("", "412.5 g", Some((412.5, 0.1, Status::Unsaid))),
        ("", "412", Some((412.0, 1.0, Status::Unsaid))),
        ("", "-3 g stable", Some((-3.0, 1.0, Status::UnderZero))),
        ("", "0.4125 kg moving", Some((412.5, 0.1, Status::Moving))),
        ("", "412,5 g zero", Some((412.5, 0.1, Status::Zero))),
        ("", "9999 g over", Some((9999.0, 1.0, Status::OverLimit))),
        ("", "0 fault", Some((0.0, 1.0, Status::Fault))),
        ("", "hello", None),
        ("", "412.5 g stable and more", None),
        ("", "412.5 stone", None),
        (own, "ST,GS,+  412.5  g", Some((412.5, 0.1, Status::Stable))),
        (own, "US,NT,-   12.5 g", Some((-12.5, 0.1, Status::Moving))),
        (
            own,
            "OL,GS,+9999.9  g",
            Some((9999.9, 0.1, Status::OverLimit)),
        ),
        (own, "XX,GS,+9999.9  g", None),
        (
            "{skip}{weight} {unit}",
            "Net:    1.250 kg",
            Some((1250.0, 1.0, Status::Unsaid)),
        ),
        (
            "S {status} {weight} {unit}",
            "S S     100.00 g",
            Some((100.0, 0.01, Status::Stable)),
        ),
        (
            "S {status} {weight} {unit}",
            "S D     100.00 g",
            Some((100.0, 0.01, Status::Moving)),
        ),
    ] {
        let pattern = match pattern {
            "" => Pattern::default(),
            text => Pattern::read(text).expect("a pattern"),
        };
        let found = pattern.reading(line);
        let round = |x: f64| (x * 1e4).round() / 1e4;
        let found = found.map(|r| (round(r.grams), round(r.step), r.status));
        assert_eq!(found, read, "{line}");
    }
    assert_eq!(
        Pattern::read("{weight}[ {unit}][ {status}]"),
        Ok(Pattern::default())
    );
}

#[test]
fn a_pattern_that_cannot_be_read_says_why() {
    for (text, message) in [
        (
            "{grams}",
            "expected `{weight}`, `{unit}`, `{status}` or `{skip}`, found `{grams}`",
        ),
        ("{unit}", "expected one `{weight}`, found `{unit}`"),
        (
            "{weight}{weight}",
            "expected one `{weight}`, found `{weight}{weight}`",
        ),
        ("{weight", "expected a `}`, found `weight`"),
        ("{weight}[ g", "expected a `]`, found `{weight}[ g`"),
        ("{weight}]", "expected a `[` before, found `]`"),
        (
            "{weight} {status ST=fine}",
            "expected a word such as `ST=stable` or `US=moving`, found `ST=fine`",
        ),
    ] {
        let error = Pattern::read(text).map_err(|e| e.to_string());
        assert_eq!(error, Err(message.to_owned()));
    }
}

#[test]
fn lines_come_whole_however_they_are_torn() {
    let text = b"\x02412.5 g stable\x03\r\n\r\n413.0 g moving\n";
    for piece in 1..text.len() {
        let mut lines = Lines::default();
        let got: Vec<String> = text.chunks(piece).flat_map(|c| lines.feed(c)).collect();
        assert_eq!(got, ["412.5 g stable", "413.0 g moving"]);
    }
    let mut lines = Lines::default();
    assert!(lines.feed(&vec![b'7'; 100_000]).is_empty());
    assert!(lines.feed(b"\n").is_empty());
    assert_eq!(lines.feed(b"5 g\n"), ["5 g"]);
    // No line takes long, whatever the pattern.
    let pattern =
        Pattern::read("{skip}a{skip}a{skip}a{skip}a{skip}a{skip}{weight}").expect("a pattern");
    assert_eq!(pattern.reading(&"a".repeat(256)), None);
}

/// What a weighing told, and when.
pub(super) type Told = Vec<(Moment, WeightNews)>;

/// A scale, and what is told of what lies on it.
pub(super) struct Bench {
    pub(super) cell: LoadCell,
    pub(super) pour: Pour,
    pub(super) load: f64,
    pub(super) told: Told,
    pub(super) shown: Vec<(Moment, f64)>,
    calls: Calls,
}

impl Bench {
    pub(super) fn new(step: f64, seed: u64) -> Self {
        Self {
            cell: LoadCell::new(step, Moment(0), seed),
            pour: Pour::default(),
            load: 0.0,
            told: Vec::new(),
            shown: Vec::new(),
            calls: Calls::Both,
        }
    }

    fn aim(&mut self, grams: f64, step: f64, pieces: bool) {
        let target = Target {
            grams,
            tolerance: tolerance(grams, step, pieces),
            pieces,
            bare: false,
        };
        self.pour.aim(Some(target), None, self.cell.now());
    }

    fn run(&mut self, seconds: f64, mut load: impl FnMut(Moment, &[WeightNews]) -> f64) {
        let until = Moment(self.cell.now().0 + (seconds * 1000.0) as u64);
        let mut heard = Vec::new();
        while self.cell.now() < until {
            let mut last = self.load;
            let (now, reading) = self.cell.next(|at| {
                last = load(at, &heard);
                last
            });
            self.load = last;
            self.shown.push((now, reading.grams));
            heard = self.pour.take(&reading, self.calls, now);
            self.told.extend(heard.iter().map(|n| (now, *n)));
        }
    }

    fn stand(&mut self, seconds: f64) {
        let load = self.load;
        self.run(seconds, |_, _| load);
    }

    fn put(&mut self, grams: f64, seconds: f64) {
        self.load += grams;
        self.stand(seconds);
    }

    fn told(&self) -> Vec<WeightNews> {
        let news = self.told.iter().map(|(_, n)| *n);
        news.filter(|n| !n.is_passing()).collect()
    }

    /// A cook pours until it is enough; when the last gram fell.
    fn pour(&mut self, target: f64, fast: f64, slow: f64, seed: u64) -> Moment {
        let mut cook = Cook::new(
            target,
            fast,
            slow,
            self.cell.now().plus(Span::millis(500)),
            seed,
        );
        let began = self.load;
        let mut hears = |now: Moment, heard: &[WeightNews]| {
            for news in heard {
                match news {
                    WeightNews::Call(Call::ToGo { .. } | Call::Tone { .. }) => {
                        cook.hear(true, false, now);
                    }
                    WeightNews::Call(Call::Reached) => cook.hear(false, true, now),
                    _ => {}
                }
            }
            began + cook.poured(now)
        };
        self.run(target / fast + target * 0.2 / slow + 8.0, &mut hears);
        cook.stopped().expect("it stopped")
    }
}

fn is_in(news: &WeightNews) -> bool {
    matches!(news, WeightNews::In { .. })
}

/// What is poured in these tests: a target, grams a second far and near, the scale's step.
const POURS: [(f64, f64, f64, f64); 8] = [
    (500.0, 60.0, 12.0, 1.0),
    (500.0, 110.0, 18.0, 1.0),
    (320.0, 45.0, 8.0, 1.0),
    (150.0, 25.0, 6.0, 1.0),
    (60.0, 12.0, 4.0, 1.0),
    (25.0, 6.0, 2.5, 1.0),
    (10.0, 2.0, 1.2, 0.1),
    (2_000.0, 150.0, 30.0, 5.0),
];

#[test]
fn from_the_last_gram_to_in_in_ninety_five_of_a_hundred_pours() {
    let (mut late, mut calls, mut waits, mut not_at_once) = (0, 0, Vec::new(), 0);
    for seed in 1..=400_u64 {
        let (target, fast, slow, step) = POURS[seed as usize % POURS.len()];
        let mut bench = Bench::new(step, seed);
        bench.aim(target, step, false);
        bench.put(412.0, 3.0);
        let last_gram = bench.pour(target, fast, slow, seed);
        let told = bench.told();
        match bench.told.iter().find(|(_, n)| is_in(n)) {
            Some((at, WeightNews::In { net, .. })) => {
                let off = (net - target).abs();
                assert!(off <= tolerance(target, step, false), "{seed}: {told:?}");
                waits.push(at.0 as i64 - last_gram.0 as i64);
            }
            // A hand that was too fast: too much, and said so as soon.
            _ => {
                not_at_once += 1;
                let over = bench
                    .told
                    .iter()
                    .find(|(_, n)| matches!(n, WeightNews::Over { .. }));
                let (at, _) = over.unwrap_or_else(|| panic!("{seed} {target}: {told:?}"));
                waits.push(at.0 as i64 - last_gram.0 as i64);
            }
        }
        let base = told.iter().find_map(|n| match n {
            WeightNews::Begins { base } => Some(*base),
            _ => None,
        });
        let base = base.expect("it begins");
        // A call is what the scale showed within the last 0.2 s, or shows now.
        for (at, news) in &bench.told {
            let shown: Vec<f64> = bench
                .shown
                .iter()
                .filter(|(t, _)| t <= at && at.since(*t) <= Span::millis(200))
                .map(|(_, g)| g - base)
                .collect();
            let least = shown.iter().copied().fold(f64::MAX, f64::min) - 1.5 * step;
            let most = shown.iter().copied().fold(f64::MIN, f64::max) + 1.5 * step;
            let passes = |mark: f64| least <= mark && mark <= most;
            match news {
                WeightNews::Call(Call::IsIn { grams }) => {
                    calls += 1;
                    late += usize::from(!passes(*grams));
                }
                WeightNews::Call(Call::ToGo { grams, .. }) => {
                    calls += 1;
                    late += usize::from(!passes(target - grams));
                }
                _ => {}
            }
        }
    }
    waits.sort_unstable();
    let at = |share: f64| waits[(waits.len() as f64 * share) as usize - 1];
    println!(
        "last gram to 'in' or 'over', ms: median {}, 95 % {}, longest {}; {not_at_once} of 400 over; {late} of {calls} calls late",
        at(0.5),
        at(0.95),
        at(1.0)
    );
    assert!(at(0.95) <= 1_200, "{waits:?}");
    assert_eq!(late, 0);
    assert!(calls > 800);
}

#[test]
fn the_bowl_counts_as_nothing() {
    let mut bench = Bench::new(1.0, 3);
    bench.aim(500.0, 1.0, false);
    bench.stand(1.0);
    bench.put(412.0, 3.0);
    assert!(
        matches!(bench.told()[..], [WeightNews::Bowl { grams }] if (grams - 412.0).abs() <= 2.0)
    );
    bench.pour(500.0, 60.0, 10.0, 3);
    let told = bench.told();
    assert!(
        matches!(
            told[1..],
            [WeightNews::Begins { .. }, WeightNews::In { .. }]
        ),
        "{told:?}"
    );
    assert!(
        bench
            .told
            .iter()
            .all(|(_, n)| !matches!(n, WeightNews::Call(Call::IsIn { grams }) if *grams > 500.0))
    );
}

#[test]
fn a_bowl_on_a_scale_that_was_set_to_nothing_by_hand() {
    // The bowl stood on it when it was switched on.
    let mut bench = Bench::new(1.0, 5);
    bench.aim(320.0, 1.0, false);
    bench.stand(1.0);
    bench.pour(320.0, 45.0, 8.0, 5);
    let told = bench.told();
    assert!(
        matches!(told[..], [WeightNews::Begins { .. }, WeightNews::In { .. }]),
        "{told:?}"
    );
}

#[test]
fn the_bowl_is_lifted_and_put_back() {
    let mut bench = Bench::new(1.0, 7);
    bench.put(412.0, 2.0);
    bench.aim(500.0, 1.0, false);
    bench.put(200.0, 2.0);
    bench.put(-612.0, 3.0);
    assert_eq!(bench.pour.net(), None, "nobody knows while it is off");
    bench.put(612.0, 3.0);
    let net = bench.pour.net().expect("it is back");
    assert!((net - 200.0).abs() <= 2.0, "{net}");
    bench.pour(298.0, 40.0, 8.0, 7);
    assert!(bench.told().iter().any(is_in), "{:?}", bench.told());
}

#[test]
fn the_bowl_is_swapped_before_anything_is_in() {
    for other in [230.0, 700.0] {
        let mut bench = Bench::new(1.0, 9);
        bench.put(412.0, 2.0);
        bench.aim(150.0, 1.0, false);
        bench.stand(1.0);
        bench.put(-412.0, 2.0);
        bench.put(other, 2.0);
        bench.pour(150.0, 25.0, 6.0, 9);
        let told = bench.told();
        assert!(
            matches!(
                told[..],
                [
                    WeightNews::Bowl { .. },
                    WeightNews::Begins { .. },
                    WeightNews::In { .. }
                ]
            ),
            "{other}: {told:?}"
        );
    }
}

#[test]
fn less_than_before_is_not_taken_for_anything() {
    let mut bench = Bench::new(1.0, 11);
    bench.put(412.0, 2.0);
    bench.aim(500.0, 1.0, false);
    bench.put(300.0, 2.0);
    bench.put(-712.0, 2.0);
    bench.put(450.0, 4.0);
    let told = bench.told();
    assert_eq!(
        told.last(),
        Some(&WeightNews::Unclear { why: Unclear::Less }),
        "{told:?}"
    );
}

#[test]
fn the_scale_is_set_to_nothing_by_hand() {
    let mut bench = Bench::new(1.0, 13);
    bench.put(412.0, 2.0);
    bench.aim(500.0, 1.0, false);
    bench.put(200.0, 2.0);
    // The same load, shown as nothing from one reading to the next.
    let mut at = bench.cell.now();
    let mut show = |bench: &mut Bench, grams: f64, status| {
        at = Moment(at.0 + 100);
        let news = bench
            .pour
            .take(&Reading::grams(grams, 1.0, status), Calls::Both, at);
        bench.told.extend(news.into_iter().map(|n| (at, n)));
    };
    for _ in 0..20 {
        show(&mut bench, 0.0, Status::Zero);
    }
    let net = bench.pour.net().expect("it goes on");
    assert!((net - 200.0).abs() <= 2.0, "{net}");
    for k in 0..50 {
        show(&mut bench, f64::from(k) * 6.0, Status::Moving);
    }
    for _ in 0..20 {
        show(&mut bench, 299.0, Status::Stable);
    }
    assert!(bench.told().iter().any(is_in), "{:?}", bench.told());
}

#[test]
fn too_much_is_told_once_and_taking_some_out_makes_it_right() {
    let mut bench = Bench::new(1.0, 15);
    bench.put(412.0, 2.0);
    bench.aim(100.0, 1.0, false);
    bench.stand(1.0);
    bench.run(4.0, |now, _| {
        412.0 + (now.0 as f64 / 1000.0 - 3.0).clamp(0.0, 2.8) * 40.0
    });
    bench.stand(5.0);
    let told = bench.told();
    assert!(
        matches!(told[..], [WeightNews::Begins { .. }, WeightNews::Over { net, .. }] if (net - 112.0).abs() <= 2.0),
        "{told:?}"
    );
    bench.put(-5.0, 2.0);
    assert_eq!(bench.told().len(), 3, "still too much, and told again");
    bench.put(-7.0, 2.0);
    assert!(bench.told().iter().any(is_in), "{:?}", bench.told());
}

#[test]
fn a_block_that_is_put_down_is_weighed() {
    let mut bench = Bench::new(1.0, 17);
    bench.put(412.0, 2.0);
    bench.aim(250.0, 1.0, false);
    bench.put(251.0, 3.0);
    assert!(bench.told().iter().any(is_in), "{:?}", bench.told());
    // Two eggs, one after the other, into a bowl on a scale that shows nothing.
    let mut bench = Bench::new(1.0, 19);
    bench.aim(100.0, 1.0, true);
    bench.stand(1.0);
    bench.put(54.0, 3.0);
    bench.put(51.0, 3.0);
    let told = bench.told();
    assert!(
        matches!(told[..], [WeightNews::Begins { .. }, WeightNews::In { .. }]),
        "{told:?}"
    );
}

#[test]
fn nothing_is_called_when_nothing_is_poured() {
    let mut bench = Bench::new(1.0, 21);
    bench.put(412.0, 2.0);
    bench.aim(500.0, 1.0, false);
    bench.put(300.0, 3.0);
    bench.told.clear();
    bench.stand(600.0);
    assert!(bench.told.is_empty(), "{:?}", bench.told);
}

#[test]
fn calls_are_as_they_were_wished_for() {
    for (calls, words, tones) in [
        (Calls::Speech, true, false),
        (Calls::Tones, false, true),
        (Calls::Both, true, true),
    ] {
        let mut bench = Bench::new(1.0, 23);
        bench.calls = calls;
        bench.put(412.0, 2.0);
        bench.aim(500.0, 1.0, false);
        bench.pour(500.0, 50.0, 10.0, 23);
        let any = |is: fn(&Call) -> bool| {
            bench
                .told
                .iter()
                .any(|(_, n)| matches!(n, WeightNews::Call(call) if is(call)))
        };
        assert_eq!(
            any(|c| matches!(c, Call::ToGo { .. } | Call::IsIn { .. })),
            words
        );
        assert_eq!(any(|c| matches!(c, Call::Tone { .. })), tones);
        assert!(any(|c| *c == Call::Reached));
        let nears: Vec<u8> = bench
            .told
            .iter()
            .filter_map(|(_, n)| match n {
                WeightNews::Call(Call::Tone { near }) => Some(*near),
                _ => None,
            })
            .collect();
        assert!(nears.is_sorted(), "{nears:?}");
    }
}
