//! Whatever is done to the clock on the wall, alarms ring when they should and the cook is told what happened.

use commis::bench::{Bench, Chime, Effect, Event, Heard, Options};
use commis::journal::{Clock, ClockWatch, Readings};
use commis::time::{Moment, Wall};

use super::rehearsal::formula;

const MINUTE: u64 = 60_000;
const HOUR: i64 = 3_600_000;
/// 2026-11-25 15:00:00 UTC.
const AFTERNOON: i64 = 1_795_618_800_000;

/// What a machine's clocks do: the boot clock runs, the wall clock and the zone can be changed.
struct Machine {
    boot_ms: u64,
    unix_ms: i64,
    zone: fn(i64) -> i32,
}

impl Machine {
    fn wall(&self) -> Wall {
        Wall::in_zone(self.unix_ms, self.zone)
    }

    fn passes(&mut self, ms: u64) {
        self.boot_ms += ms;
        self.unix_ms += ms.cast_signed();
    }
}

/// A session on that machine, in the order of the live loop: wake for the bench, look at the clocks every second.
struct Session {
    machine: Machine,
    clock: Clock,
    watch: ClockWatch,
    bench: Bench,
    /// (session time, what was said), and the session times at which an alarm rang.
    said: Vec<(u64, String)>,
    rang: Vec<u64>,
}

impl Session {
    fn begin(unix_ms: i64, zone: fn(i64) -> i32) -> Self {
        let machine = Machine {
            boot_ms: 5_000_000,
            unix_ms,
            zone,
        };
        let readings = Readings {
            boot_id: "here".to_owned(),
            boot_ms: machine.boot_ms,
            wall: machine.wall(),
        };
        let mut session = Self {
            clock: Clock::begin(&readings),
            watch: ClockWatch::new(readings.wall.clone(), readings.boot_ms),
            bench: Bench::new(formula("vegetable-soup"), Options::default()).expect("as written"),
            machine,
            said: Vec::new(),
            rang: Vec::new(),
        };
        session.event(&Event::Start {
            wall: readings.wall,
        });
        session
    }

    fn event(&mut self, event: &Event) {
        let at = self.clock.at(self.machine.boot_ms);
        for effect in self.bench.handle(event, at) {
            match effect {
                Effect::Say { text, .. } => self.said.push((at.0, text)),
                Effect::Chime {
                    chime: Chime::Due, ..
                } => self.rang.push(at.0),
                _ => {}
            }
        }
    }

    fn say(&mut self, text: &str) -> String {
        self.event(&Event::Heard(Heard::spoken(text, 1.0)));
        self.said.last().expect("it answers").1.clone()
    }

    /// Lets awake time pass.
    fn runs(&mut self, minutes: u64) {
        let end = self.machine.boot_ms + minutes * MINUTE;
        while self.machine.boot_ms < end {
            let now = self.clock.at(self.machine.boot_ms);
            let wake = self.bench.wake_at().unwrap_or(Moment(u64::MAX));
            let step = wake.0.saturating_sub(now.0).clamp(1, 1000);
            self.machine.passes(step.min(end - self.machine.boot_ms));
            self.looks();
        }
    }

    fn looks(&mut self) {
        let now = self.clock.at(self.machine.boot_ms);
        if self.bench.wake_at().is_some_and(|w| w <= now) {
            self.event(&Event::Tick);
        }
        if let Some(wall) = self.watch.seen(self.machine.boot_ms, self.machine.wall()) {
            self.event(&Event::WallChanged { wall });
        }
    }

    /// What was said of the clocks.
    fn told(&self) -> Vec<&str> {
        self.said
            .iter()
            .map(|(_, text)| text.as_str())
            .filter(|t| t.contains("The timers run on as they were."))
            .collect()
    }
}

fn utc(_: i64) -> i32 {
    0
}

#[test]
fn an_hour_forward_or_back_moves_no_alarm_and_is_said() {
    for (jump, told, due) in [
        (
            HOUR,
            "The clock on the wall was put forward by one hour: it is ten past four now. The timers run on as they were.",
            "Soup at half past four.",
        ),
        (
            -HOUR,
            "The clock on the wall was put back by one hour: it is ten past two now. The timers run on as they were.",
            "Soup at half past two.",
        ),
    ] {
        let mut s = Session::begin(AFTERNOON, utc);
        s.say("thirty minutes for the soup");
        s.runs(10);
        s.machine.unix_ms += jump;
        s.runs(1);
        assert_eq!(s.told(), [told]);
        assert_eq!(s.say("when is the soup done"), due);
        assert_eq!(s.say("how long is left"), "Soup: nineteen minutes left.");
        s.runs(19);
        assert_eq!(s.rang, [30 * MINUTE]);
        assert_eq!(s.told().len(), 1, "said once");
    }
}

#[test]
fn a_small_correction_of_the_clock_is_not_said() {
    let mut s = Session::begin(AFTERNOON, utc);
    s.say("thirty minutes for the soup");
    s.machine.unix_ms += 1500;
    s.runs(30);
    assert_eq!(s.told(), Vec::<&str>::new());
    assert_eq!(s.rang, [30 * MINUTE]);
}

/// The lid is closed: the boot clock and the wall clock go on, the program does not.
#[test]
fn an_alarm_that_came_due_in_sleep_rings_on_waking_and_says_how_late() {
    let mut s = Session::begin(AFTERNOON, utc);
    s.say("thirty minutes for the soup");
    s.runs(10);
    s.machine.passes(24 * MINUTE);
    s.looks();
    assert_eq!(s.rang, [34 * MINUTE]);
    assert_eq!(
        s.said.last().map(|(_, t)| t.as_str()),
        Some("Soup: four minutes over. Are the carrots soft?")
    );
    assert_eq!(s.told(), Vec::<&str>::new(), "sleep is no jump");
    // And one that is not yet due keeps its time.
    let mut s = Session::begin(AFTERNOON, utc);
    s.say("thirty minutes for the soup");
    s.machine.passes(24 * MINUTE);
    s.looks();
    s.runs(6);
    assert_eq!(s.rang, [30 * MINUTE]);
}

#[test]
fn another_time_zone_moves_no_alarm_and_is_said() {
    let mut s = Session::begin(AFTERNOON, utc);
    s.say("thirty minutes for the soup");
    s.runs(10);
    // Tokyo: nine hours east, without summer time.
    s.machine.zone = |_| 9 * 3600;
    s.runs(1);
    assert_eq!(
        s.told(),
        ["We are in another time zone: it is ten past twelve now. The timers run on as they were."]
    );
    assert_eq!(s.say("when is the soup done"), "Soup at half past twelve.");
    s.runs(19);
    assert_eq!(s.rang, [30 * MINUTE]);
}

/// Clocks of the European Union go forward at 01:00 UTC on the last Sunday of March and back at 01:00 UTC on the last
/// Sunday of October (Directive 2000/84/EC): here 2026-03-29 and 2026-10-25.
fn berlin(unix_s: i64) -> i32 {
    if (1_774_746_000..1_792_890_000).contains(&unix_s) {
        7200
    } else {
        3600
    }
}

#[test]
fn a_rise_over_a_daylight_saving_night_takes_its_time_and_ends_at_the_new_hour() {
    for (change, said_at, then) in [
        // From 01:30 to 04:30 is two hours when the clocks go forward at two.
        (
            1_774_746_000,
            "until half past four",
            "It is half past four.",
        ),
        // From 02:30 to 03:30 is two hours when the clocks go back at three.
        (
            1_792_890_000,
            "until half past three",
            "It is half past three.",
        ),
    ] {
        let half_an_hour_before = (change - 1800) * 1000;
        let mut s = Session::begin(half_an_hour_before, berlin);
        let answer = s.say("two hours for the dough");
        assert!(answer.contains(said_at), "{answer}");
        s.runs(120);
        assert_eq!(s.rang, [120 * MINUTE]);
        assert_eq!(s.say("what time is it"), then);
        assert_eq!(s.told(), Vec::<&str>::new(), "the night was foretold");
    }
}
