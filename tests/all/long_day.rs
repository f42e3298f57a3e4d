//! A whole day with five hundred timers at once: every alarm in time, and no more memory in the evening than in the
//! morning.

use std::collections::HashSet;
use std::process::Command;

use commis::bench::{Bench, Effect, Event, Key, Options, TimerChange};
use commis::time::{Moment, Wall};

use super::rehearsal::formula;

const HOUR_MS: u64 = 3_600_000;
const TIMERS: usize = 500;
/// How late an alarm may be.
const LATE_MS: u64 = 100;
/// A busy machine wakes the loop this late at the most.
const JITTER_MS: u64 = 20;
/// The longest sleep of this loop.
const LOOK_MS: u64 = 60_000;
/// What the allocator may keep between two hours, in bytes.
const SLACK: u64 = 1 << 20;

/// Memory in use by this process, in bytes: resident pages of four kilobytes (proc(5)).
fn memory() -> u64 {
    let pages = std::fs::read_to_string("/proc/self/statm").expect("Linux");
    let resident = pages.split(' ').nth(1).and_then(|n| n.parse::<u64>().ok());
    resident.expect("the second number") * 4096
}

/// The day as the live loop would live it.
struct Day {
    bench: Bench,
    now: u64,
    dice: u64,
    ringing: HashSet<String>,
    answer_at: Option<u64>,
    rang: u64,
    late_ms: u64,
}

impl Day {
    fn random(&mut self, below: u64) -> u64 {
        // The constants of Numerical Recipes' 64-bit generator (Knuth's MMIX).
        self.dice = self
            .dice
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.dice >> 33) % below
    }

    fn event(&mut self, event: &Event) {
        for effect in self.bench.handle(event, Moment(self.now)) {
            let Effect::Timer {
                name,
                change,
                left_ms,
            } = effect
            else {
                continue;
            };
            match change {
                TimerChange::Due if self.ringing.insert(name.clone()) => {
                    self.rang += 1;
                    self.late_ms = self.late_ms.max(left_ms.unsigned_abs());
                    // Somebody comes within three seconds.
                    self.answer_at.get_or_insert(self.now + 3000);
                }
                TimerChange::Answered => {
                    self.ringing.remove(&name);
                }
                _ => {}
            }
        }
    }

    fn key(&mut self, key: Key) {
        self.event(&Event::Key { key });
    }

    /// A timer of one to twelve hours, by keys.
    fn start_one(&mut self) {
        let minutes = 60 + self.random(660);
        for digit in minutes.to_string().bytes() {
            self.key(Key::Digit(digit - b'0'));
        }
        self.key(Key::Times);
    }

    /// One turn of the loop.
    fn turn(&mut self) {
        let wake = self.bench.wake_at().map_or(u64::MAX, |w| w.0);
        let next = wake.min(self.answer_at.unwrap_or(u64::MAX));
        // The looks at the clocks between do nothing to the bench.
        self.now = self.now.max(next.min(self.now + LOOK_MS)) + self.random(JITTER_MS);
        if wake <= self.now {
            self.event(&Event::Tick);
        }
        if self.answer_at.is_some_and(|at| at <= self.now) {
            self.answer_at = None;
            self.key(Key::Enter);
            while self.bench.rack().live_count() < TIMERS {
                self.start_one();
            }
        }
    }
}

fn day() {
    let mut bench = Bench::new(formula("vegetable-soup"), Options::default()).expect("as written");
    let wall = Wall {
        unix_ms: 1_795_618_800_000,
        offset_s: 0,
        changes: Vec::new(),
    };
    bench.handle(&Event::Start { wall }, Moment(0));
    let mut day = Day {
        bench,
        now: 0,
        dice: 1,
        ringing: HashSet::new(),
        answer_at: None,
        rang: 0,
        late_ms: 0,
    };
    while day.bench.rack().live_count() < TIMERS {
        day.start_one();
    }
    let mut each_hour = Vec::new();
    for hour in 1..=24 {
        while day.now < hour * HOUR_MS {
            day.turn();
        }
        each_hour.push(memory());
    }
    println!(
        "{} alarms in 24 hours with {TIMERS} timers at once: the latest {} ms late; memory {} kB after 12 hours, {} kB \
         after 24",
        day.rang,
        day.late_ms,
        each_hour[11] / 1024,
        each_hour[23] / 1024
    );
    assert!(day.rang > 1000, "{} alarms", day.rang);
    assert!(day.late_ms <= LATE_MS, "{} ms late", day.late_ms);
    // By noon every timer has been replaced, and as many finished ones are kept as ever will be.
    assert!(
        each_hour[23] <= each_hour[11] + SLACK,
        "memory by the hour: {each_hour:?}"
    );
}

#[test]
fn five_hundred_timers_for_a_day_are_in_time_and_take_no_more_memory() {
    // In a process of its own, where nothing else takes memory.
    if std::env::var_os("COMMIS_LONG_DAY").is_some() {
        return day();
    }
    let child = Command::new(std::env::current_exe().expect("this test"))
        .args([
            "--exact",
            "long_day::five_hundred_timers_for_a_day_are_in_time_and_take_no_more_memory",
            "--nocapture",
        ])
        .env("COMMIS_LONG_DAY", "1")
        .output()
        .expect("it runs");
    let said = String::from_utf8_lossy(&child.stdout).into_owned();
    let err = String::from_utf8_lossy(&child.stderr).into_owned();
    assert!(
        child.status.success() && said.contains("1 passed"),
        "{said}{err}"
    );
    print!("{said}");
}
