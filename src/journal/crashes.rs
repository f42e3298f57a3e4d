//! Random sessions stopped at any byte of their journal: what is taken up is what was there, always.
//!
//! `COMMIS_SEQUENCES=100000 cargo test --lib journal::crashes` plays that many, each time others; `PROPTEST_RNG_SEED=1` before it
//! plays the same ones again, and shares many out over processes that have a number each. The figures of a long run stand in
//! `benches/FIGURES.md`.

use std::path::Path;
use std::sync::LazyLock;

use proptest::prelude::*;

use super::Readings;
use super::contents::read;
use super::file::{Entry, Record};
use super::header::Header;
use super::line;
use crate::bench::{Bench, Beside, Device, DishId, Event, Heard, Key, Options};
use crate::scale::{Reading, Status};
use crate::time::{Moment, Wall};
use crate::understand::{Understood, parse};

/// 2026-11-25 15:00:00 UTC.
const START: i64 = 1_795_618_800_000;
/// Ticks that a long silence may bring before the next event: an alarm that nobody answers rings for ever.
const MOST_TICKS: usize = 6;

/// Sequences in one run: what continuous integration plays in an optimised build, fewer where it would take minutes.
fn sequences() -> u32 {
    let chosen = std::env::var("COMMIS_SEQUENCES").ok();
    let usual = if cfg!(debug_assertions) { 300 } else { 2000 };
    chosen.and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Everything that can be said: the examples of the page on the grammar.
static ORDERS: LazyLock<Vec<String>> = LazyLock::new(|| {
    include_str!("../../GRAMMAR.md")
        .lines()
        .filter_map(|l| l.strip_prefix("- ")?.split_once("->"))
        .flat_map(|(said, _)| said.split('`').skip(1).step_by(2))
        .map(str::to_owned)
        .collect()
});

/// What a sentence that is no order does is play for the parser's own tests; here it would only cost time.
fn understood(bench: &Bench) -> Vec<&'static str> {
    let is_order = |o: &&String| !matches!(parse(o, bench.lexicon()), Understood::Nothing { .. });
    ORDERS.iter().filter(is_order).map(String::as_str).collect()
}

/// The shipped formulas, as they were when this was built: a copied test binary needs no other file.
const SHIPPED: [(&str, &str); 3] = [
    (
        "seeded-tin-loaf",
        include_str!("../../shared/formulas/seeded-tin-loaf.toml"),
    ),
    (
        "vegetable-soup",
        include_str!("../../shared/formulas/vegetable-soup.toml"),
    ),
    (
        "lemon-shortbread",
        include_str!("../../shared/formulas/lemon-shortbread.toml"),
    ),
];

/// Each by itself, two together, and all three.
static FORMULAS: LazyLock<Vec<Shipped>> = LazyLock::new(|| {
    let dinners: [&[usize]; 5] = [&[0], &[1], &[2], &[0, 1], &[2, 1, 0]];
    let of = |dishes: &&[usize]| {
        let (name, text) = SHIPPED[dishes[0]];
        let formula = crate::formula::read(name, text).expect("it reads");
        let beside = |at: &usize| Beside {
            path: SHIPPED[*at].0.to_owned(),
            text: SHIPPED[*at].1.to_owned(),
            ..Beside::default()
        };
        let options = Options {
            beside: dishes[1..].iter().map(beside).collect(),
            ..Options::default()
        };
        let bench = Bench::new(formula, options.clone()).expect("as written");
        let orders = understood(&bench);
        Shipped {
            text,
            options,
            bench,
            orders,
        }
    };
    dinners.iter().map(of).collect()
});

/// A formula of ours or several, and everything that can be said to it.
struct Shipped {
    text: &'static str,
    /// With the dishes beside it.
    options: Options,
    /// A bench at its beginning: its copies share the lists of names, which take longer to make than to use.
    bench: Bench,
    orders: Vec<&'static str>,
}

/// A moment's event before it is known when, and before time has brought its own.
#[derive(Debug, Clone)]
enum Happens {
    Said(prop::sample::Index, f32),
    /// What is said of timers, often: most of the state is theirs.
    Timer(usize),
    Key(Key),
    Held(Key),
    Device(Device, bool),
    Wall {
        by_ms: i64,
        offset_s: i32,
    },
    Told,
    /// The scale shows so many grams, standing or not.
    Shows(f64, bool),
    Nothing,
}

/// The answer to `which one?`.
const CHOICE: &str = "the first one";

const TIMERS: &[&str] = &[
    "next on the soup",
    "go to the soup",
    "back to the loaf",
    "put the soup off",
    "leave out the soup",
    "undo",
    "start it",
    "five second timer called tea",
    "one minute timer",
    "start the bake",
    "first rise for ten minutes",
    "second rise for thirty minutes",
    "add five minutes",
    "take two minutes off the bake",
    "pause",
    "resume",
    "restart the bake",
    "stop the timer",
    "stop all timers",
    "stop",
    "yes",
    "no",
    "not yet",
    CHOICE,
    "call it soup",
    "next",
];

fn key() -> impl Strategy<Value = Key> {
    prop_oneof![
        (0..10_u8).prop_map(Key::Digit),
        prop::sample::select(Key::SIGNS.to_vec()),
    ]
}

fn happens() -> impl Strategy<Value = Happens> {
    let device = prop::sample::select(vec![
        Device::Microphone,
        Device::Loudspeaker,
        Device::Voice,
        Device::Model,
        Device::Keypad,
        Device::Journal,
        Device::Scale,
    ]);
    let sure = prop_oneof![4 => Just(1.0_f32), 1 => Just(0.5), 1 => Just(0.2), 1 => 0.0..1.0_f32];
    prop_oneof![
        6 => (any::<prop::sample::Index>(), sure).prop_map(|(i, c)| Happens::Said(i, c)),
        6 => (0..TIMERS.len()).prop_map(Happens::Timer),
        6 => key().prop_map(Happens::Key),
        1 => key().prop_map(Happens::Held),
        1 => (device, any::<bool>()).prop_map(|(d, p)| Happens::Device(d, p)),
        1 => (-7_200_000..7_200_000_i64, -43_200..50_400_i32)
            .prop_map(|(by_ms, offset_s)| Happens::Wall { by_ms, offset_s }),
        3 => (prop::sample::select(vec![0.0, 300.0, 412.0, 812.0, 912.0]), any::<bool>())
            .prop_map(|(grams, stands)| Happens::Shows(grams, stands)),
        1 => Just(Happens::Told),
        1 => Just(Happens::Nothing),
    ]
}

/// How long until the next thing happens.
fn pause_ms() -> impl Strategy<Value = u64> {
    prop_oneof![
        3 => Just(0_u64),
        6 => 0..5_000_u64,
        3 => 5_000..120_000_u64,
        2 => 120_000..7_200_000_u64,
    ]
}

fn event(happens: &Happens, orders: &[&str], bench: &Bench, at: Moment) -> Event {
    // Nobody says so while nothing is asked, or where there is no such dish; and what means nothing is not kept.
    let timer = |which: usize| match TIMERS[which] {
        CHOICE if bench.lexicon().choices().is_empty() => "again",
        other => match parse(other, bench.lexicon()) {
            Understood::Nothing { .. } => "again",
            _ => other,
        },
    };
    match happens {
        Happens::Said(which, confidence) => {
            Event::Heard(Heard::spoken((*which.get(orders)).to_owned(), *confidence))
        }
        Happens::Timer(which) => Event::Heard(Heard::spoken(timer(*which).to_owned(), 1.0)),
        Happens::Key(key) => Event::Key { key: *key },
        Happens::Held(key) => Event::KeyHeld { key: *key },
        Happens::Device(device, present) => Event::Device {
            device: *device,
            present: *present,
            note: "news of \"it\"\n\u{2026}".to_owned(),
        },
        Happens::Wall { by_ms, offset_s } => Event::WallChanged {
            wall: Wall::in_zone(START + at.0.cast_signed() + by_ms, |_| *offset_s),
        },
        Happens::Told => Event::Told {
            text: "The notes are whole.".to_owned(),
        },
        Happens::Shows(grams, stands) => Event::Scale {
            reading: Reading::grams(
                *grams,
                1.0,
                if *stands {
                    Status::Stable
                } else {
                    Status::Moving
                },
            ),
        },
        Happens::Nothing => Event::Tick,
    }
}

fn wall(at: Moment) -> Wall {
    Wall::in_zone(START + at.0.cast_signed(), |_| 3600)
}

/// The journal of a session as it is written.
struct Written {
    text: String,
    /// Where each line ends; the header's first.
    ends: Vec<usize>,
}

impl Written {
    fn begin(formula_text: &str, options: &Options) -> Self {
        let readings = Readings {
            boot_id: "a".to_owned(),
            boot_ms: 1_000_000,
            wall: wall(Moment(0)),
        };
        let settings = serde_json::to_value(options).expect("settings are JSON");
        let head = Header::new("x.toml", formula_text, settings, &readings);
        let mut written = Self {
            text: String::new(),
            ends: Vec::new(),
        };
        for _ in 0..2 {
            written.put(Record {
                head: Some(head.clone()),
                ..Record::default()
            });
        }
        written
    }

    fn put(&mut self, mut record: Record) {
        record.n = self.ends.len() as u64;
        self.text
            .push_str(&line::encode(&record).expect("a record is JSON"));
        self.ends.push(self.text.len());
    }

    fn append(&mut self, entry: &Entry) {
        self.put(Record::of(entry));
    }
}

/// A whole session that nothing interrupts.
struct Whole {
    /// Its events, with the ticks that time brought.
    entries: Vec<Entry>,
    /// The bench in the middle, and after how many events that was.
    middle: (usize, Bench),
    end: Bench,
}

/// Plays a plan to its end; `middle` is the place in the plan where the bench is looked at.
fn uninterrupted(shipped: &Shipped, plan: &[(u64, Happens)], middle: usize) -> Whole {
    let mut bench = shipped.bench.clone();
    let mut entries = Vec::new();
    let mut looked = None;
    let mut now = Moment(0);
    let mut happen = |bench: &mut Bench, at: Moment, event: Event| {
        let taken = bench.take(&event, at);
        bench.apply(&event, &taken, at);
        entries.extend(Entry::kept(&event, &taken, at));
        entries.len()
    };
    happen(&mut bench, now, Event::Start { wall: wall(now) });
    for (place, (pause, next)) in plan.iter().enumerate() {
        let at = Moment(now.0 + pause);
        for _ in 0..MOST_TICKS {
            let Some(wake) = bench.wake_at().filter(|w| *w < at) else {
                break;
            };
            now = now.max(wake);
            happen(&mut bench, now, Event::Tick);
        }
        now = at;
        let event = event(next, &shipped.orders, &bench, at);
        let count = happen(&mut bench, at, event);
        if place == middle {
            looked = Some((count, bench.clone()));
        }
    }
    Whole {
        entries,
        middle: looked.expect("the place is in the plan"),
        end: bench,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: sequences(), ..ProptestConfig::default() })]

    #[test]
    fn what_is_taken_up_is_what_was_there(
        which in 0..5_usize,
        plan in prop::collection::vec((pause_ms(), happens()), 1..30),
        middle in any::<prop::sample::Index>(),
        torn in any::<prop::sample::Index>(),
        away_ms in pause_ms(),
    ) {
        let shipped = &FORMULAS[which];
        let Whole { entries, middle: (kept, there), end } = uninterrupted(shipped, &plan, middle.index(plan.len()));
        let mut written = Written::begin(shipped.text, &shipped.options);
        for entry in &entries {
            written.append(entry);
        }
        // The power goes at any byte of the next line: a line of which a part is there was never announced.
        let whole = written.ends[kept + 1];
        let next = written.ends.get(kept + 2).copied().unwrap_or(whole + 1);
        let cut = &written.text.as_bytes()[..whole + torn.index(next - whole)];
        let journal = read(cut, Path::new("x")).expect("the first line is whole");
        prop_assert_eq!(&journal.entries[..], &entries[..kept]);
        let mut bench = shipped.bench.clone();
        for entry in &journal.entries {
            entry.replay(&mut bench);
        }
        let (mut bench, mut there) = (bench, there);
        same_time(&mut bench, &mut there);
        prop_assert!(bench == there, "after {} of {} events", kept, entries.len());
        // Told that it is taken up, it is right about every timer, and about what has gone in.
        if !bench.is_over() {
            let now = Moment(entries[kept - 1].at.0 + away_ms);
            let (mut ticked, mut resumed) = (there, bench.clone());
            ticked.handle(&Event::Tick, now);
            resumed.handle(&Event::Resumed { wall: wall(now), gap_ms: away_ms, notes: Vec::new(), dish: DishId::default(), formula: None }, now);
            prop_assert_eq!(resumed.rack(), ticked.rack());
            prop_assert_eq!(resumed.view(now).weighing, ticked.view(now).weighing);
            prop_assert_eq!(resumed.view(now).step, ticked.view(now).step);
        }
        // What follows is the same as if nothing had happened.
        for entry in &entries[kept..] {
            entry.replay(&mut bench);
        }
        let mut end = end;
        same_time(&mut bench, &mut end);
        prop_assert!(bench == end, "taken up after {} of {} events", kept, entries.len());
    }
}

/// Talk is not kept: what time did meanwhile is brought up, and what a stop forgets is forgotten.
fn same_time(one: &mut Bench, other: &mut Bench) {
    let now = one.view(Moment(0)).now.max(other.view(Moment(0)).now);
    for bench in [one, other] {
        bench.handle(&Event::Tick, now);
        bench.forget_passing();
    }
}

#[test]
fn every_example_of_the_grammar_is_played() {
    assert!(ORDERS.len() > 300, "{} orders", ORDERS.len());
    assert!(ORDERS.iter().any(|o| o == "add five minutes to the oven"));
    for shipped in FORMULAS.iter() {
        // Some examples name what only one formula has, such as rye.
        assert!(shipped.orders.len() * 10 > ORDERS.len() * 9);
    }
}
