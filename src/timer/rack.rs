//! All timers of a session, and finding one by the name that was heard.

use std::collections::HashSet;

use serde::{Deserialize, Serialize};

use super::timer::{Mark, Origin, Timer, TimerPhase};
use crate::time::{Moment, Span};

/// The longest time a timer may run: two days.
const LONGEST: Span = Span::seconds(172_800);
/// The most timers kept at once; the oldest finished ones go first.
const MOST: usize = 1000;

/// All timers of a session.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Rack {
    timers: Vec<Timer>,
    next_id: u32,
}

/// Something that came due.
#[derive(Debug, Clone, PartialEq)]
pub enum Ring {
    /// A cue inside a timer.
    Cue {
        /// The timer's id.
        id: u32,
        /// When it should have been said.
        at: Moment,
        /// What is said.
        say: String,
    },
    /// A timer is due: the first ring, or a later one.
    Due {
        /// The timer's id.
        id: u32,
        /// 1 for the first ring.
        times: u32,
        /// It is to be said, and not only to sound.
        spoken: bool,
    },
    /// What was silenced and not dealt with is told again.
    Again {
        /// The timer's id.
        id: u32,
    },
}

/// What a spoken name points at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TimerNamed {
    /// One timer.
    One(u32),
    /// Several fit: their ids.
    Several(Vec<u32>),
    /// None fits.
    None,
}

/// Beside an alarm that has rung for this long a new one is named again a little later.
const LONG_OVER: Span = Span::minutes(5);
/// So much later.
const SECOND_WORD: Span = Span::minutes(2);

impl Rack {
    /// Starts a timer. The length is kept between one second and two days; a name in use gets a number after it.
    pub fn start(
        &mut self,
        name: &str,
        lasts: Span,
        cues: Vec<Mark>,
        look: Option<String>,
        origin: Option<Origin>,
        now: Moment,
    ) -> u32 {
        let lasts = lasts.clamp(Span::seconds(1), LONGEST);
        self.next_id += 1;
        let id = self.next_id;
        let mut timer = Timer {
            id,
            name: self.free_name(name),
            lasts,
            state: TimerPhase::Running {
                due: now.plus(lasts),
            },
            cues,
            given: Vec::new(),
            look,
            started: now,
            origin,
            written: origin.map(|_| name.trim().to_lowercase()),
            silenced: None,
        };
        timer.set_length(lasts);
        self.timers.push(timer);
        if self.timers.len() > MOST
            && let Some(old) = self.timers.iter().position(|t| !t.is_live())
        {
            self.timers.remove(old);
        }
        id
    }

    /// The steps of a formula were edited: each timer belongs to where its step is now; where that is gone, to none.
    pub fn move_origins(&mut self, to: impl Fn(Origin) -> Option<Origin>) {
        for timer in &mut self.timers {
            timer.origin = timer.origin.and_then(&to);
        }
    }

    /// A name that no timer bears that is still told of: the wanted one, or with `two`, `three`... after it.
    fn free_name(&self, wanted: &str) -> String {
        let wanted = wanted.trim().to_lowercase();
        let told = |t: &&Timer| t.is_live() || t.silenced.is_some();
        let live = self.timers.iter().filter(told);
        let taken: HashSet<&str> = live.map(|t| t.name.as_str()).collect();
        if !wanted.is_empty() && !taken.contains(wanted.as_str()) {
            return wanted;
        }
        let base = if wanted.is_empty() {
            "timer".to_owned()
        } else {
            wanted
        };
        let first = if base == "timer" { 1 } else { 2 };
        (first..)
            .map(|n| format!("{base} {}", crate::measure::words::cardinal(n)))
            .find(|n| !taken.contains(n.as_str()))
            .unwrap_or(base)
    }

    /// All timers: live ones by time left, then the answered ones, latest first.
    pub fn in_order(&self, now: Moment) -> Vec<&Timer> {
        let mut all: Vec<&Timer> = self.timers.iter().collect();
        all.sort_by_cached_key(|t| {
            (
                !t.is_live(),
                if t.is_live() {
                    t.left_ms(now)
                } else {
                    -t.left_ms(now)
                },
                t.id,
            )
        });
        all
    }

    /// Timers that the cook still waits for, the next due first.
    pub fn live(&self, now: Moment) -> Vec<&Timer> {
        self.in_order(now)
            .into_iter()
            .filter(|t| t.is_live())
            .collect()
    }

    /// The timers that ring now, the longest overdue first.
    pub fn ringing(&self) -> Vec<&Timer> {
        let mut all: Vec<&Timer> = self
            .timers
            .iter()
            .filter(|t| matches!(t.state, TimerPhase::Ringing { .. }))
            .collect();
        all.sort_by_key(|t| {
            if let TimerPhase::Ringing { due, .. } = t.state {
                due
            } else {
                Moment(u64::MAX)
            }
        });
        all
    }

    /// One timer by id.
    pub fn get(&self, id: u32) -> Option<&Timer> {
        self.timers.iter().find(|t| t.id == id)
    }

    fn get_mut(&mut self, id: u32) -> Option<&mut Timer> {
        self.timers.iter_mut().find(|t| t.id == id)
    }

    /// The timer meant by a spoken name: the whole name, then all of its words in the name (`the oven` for
    /// `oven`, `rise` for `first rise`), live timers before finished ones.
    pub fn find(&self, spoken: &str) -> TimerNamed {
        let said = plain(spoken);
        if said.is_empty() {
            return TimerNamed::None;
        }
        for live in [true, false] {
            let pool = || self.timers.iter().filter(move |t| t.is_live() == live);
            let exact: Vec<u32> = pool()
                .filter(|t| plain(&t.name) == said)
                .map(|t| t.id)
                .collect();
            if let Some(latest) = exact.last() {
                // Of finished ones that bore the same name, the latest.
                return TimerNamed::One(*latest);
            }
            let part: Vec<u32> = pool()
                .filter(|t| {
                    let name = plain(&t.name);
                    said.iter().all(|w| name.contains(w)) || name.iter().all(|w| said.contains(w))
                })
                .map(|t| t.id)
                .collect();
            if !part.is_empty() {
                return one_or_several(part);
            }
        }
        TimerNamed::None
    }

    /// When the rack next does something by itself.
    pub fn wake_at(&self) -> Option<Moment> {
        self.timers.iter().filter_map(Timer::wake_at).min()
    }

    /// Everything that has come due by `now`, in order of time. Alarms ring together: when one rings, every other that
    /// nobody has answered rings with it.
    pub fn tick(&mut self, now: Moment) -> Vec<Ring> {
        let mut rings: Vec<(Moment, u32, Ring)> = Vec::new();
        let any = self.timers.iter().any(|t| t.is_to_ring(now));
        for t in &mut self.timers {
            while let Some((at, cue)) = t.take_cue(now) {
                rings.push((
                    at,
                    t.id,
                    Ring::Cue {
                        id: t.id,
                        at,
                        say: cue.say,
                    },
                ));
            }
            if t.take_reminder(now) {
                rings.push((now, t.id, Ring::Again { id: t.id }));
            }
            if any && (t.is_to_ring(now) || matches!(t.state, TimerPhase::Ringing { .. })) {
                let spoken = t.ring(now);
                if let TimerPhase::Ringing { due, rung, .. } = t.state {
                    rings.push((
                        due,
                        t.id,
                        Ring::Due {
                            id: t.id,
                            times: rung,
                            spoken,
                        },
                    ));
                }
            }
        }
        rings.sort_by_key(|(at, id, _)| (*at, *id));
        // Where several ring the newest has the word, and the others are named with it.
        let ringing = || {
            rings
                .iter()
                .filter(|(_, _, r)| matches!(r, Ring::Due { .. }))
        };
        if ringing().count() > 1 {
            let newest = ringing().map(|(at, id, _)| (*at, *id)).max();
            let oldest = ringing().map(|(at, _, _)| *at).min();
            let long = oldest.is_some_and(|at| now.since(at) >= LONG_OVER);
            for (at, id, ring) in &mut rings {
                if let Ring::Due { times, spoken, .. } = ring
                    && *times > 1
                {
                    let early = long && now.since(*at) < SECOND_WORD;
                    *spoken &= Some((*at, *id)) == newest && !early;
                }
            }
        }
        rings.into_iter().map(|(_, _, r)| r).collect()
    }

    /// The cook has heard this alarm. What ends on a look, or belongs to a step, comes back until it is dealt with.
    pub fn answer(&mut self, id: u32, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        let TimerPhase::Ringing { due, .. } = t.state else {
            return false;
        };
        t.state = TimerPhase::Over { due };
        t.silenced = (t.look.is_some() || t.origin.is_some()).then_some((now, 0));
        true
    }

    /// What ended and belongs to this step is dealt with.
    pub fn deal_with(&mut self, step: Origin) {
        for t in self.timers.iter_mut().filter(|t| t.origin == Some(step)) {
            t.silenced = None;
        }
    }

    /// All that ended is dealt with; the ids of what would have come back.
    pub fn deal_with_all(&mut self) -> Vec<u32> {
        let again = self.timers.iter_mut().filter(|t| t.silenced.is_some());
        again
            .map(|t| {
                t.silenced = None;
                t.id
            })
            .collect()
    }

    /// Lengthens a timer; one that is over runs again from now for the added time.
    pub fn add(&mut self, id: u32, by: Span, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        let left = u64::try_from(t.left_ms(now)).unwrap_or(0);
        let room = Span::millis(LONGEST.as_millis().saturating_sub(left));
        let by = by.min(room);
        match t.state {
            TimerPhase::Running { due } => {
                t.state = TimerPhase::Running { due: due.plus(by) };
                t.set_length(Span::millis(t.lasts.as_millis() + by.as_millis()));
            }
            TimerPhase::Paused { left } => {
                t.state = TimerPhase::Paused {
                    left: Span::millis(left.as_millis() + by.as_millis()),
                };
                t.set_length(Span::millis(t.lasts.as_millis() + by.as_millis()));
            }
            TimerPhase::Ringing { .. } | TimerPhase::Over { .. } => {
                let due = now.plus(by);
                t.lasts = due.since(t.started);
                t.state = TimerPhase::Running { due };
                t.silenced = None;
            }
        }
        true
    }

    /// Shortens a timer, to no less than nothing left. False when there is nothing to shorten.
    pub fn take(&mut self, id: u32, by: Span, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        match t.state {
            TimerPhase::Running { due } => {
                let cut = due.since(now).min(by);
                t.state = TimerPhase::Running {
                    due: Moment(due.0 - cut.as_millis()),
                };
                t.set_length(Span::millis(
                    t.lasts.as_millis().saturating_sub(cut.as_millis()),
                ));
                true
            }
            TimerPhase::Paused { left } => {
                let cut = left.min(by);
                t.state = TimerPhase::Paused {
                    left: Span::millis(left.as_millis() - cut.as_millis()),
                };
                t.set_length(Span::millis(
                    t.lasts.as_millis().saturating_sub(cut.as_millis()),
                ));
                true
            }
            TimerPhase::Ringing { .. } | TimerPhase::Over { .. } => false,
        }
    }

    /// Holds a running timer.
    pub fn pause(&mut self, id: u32, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        match t.state {
            TimerPhase::Running { due } if due > now => {
                t.state = TimerPhase::Paused {
                    left: due.since(now),
                };
                true
            }
            _ => false,
        }
    }

    /// Lets a held timer run on.
    pub fn resume(&mut self, id: u32, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        let TimerPhase::Paused { left } = t.state else {
            return false;
        };
        t.state = TimerPhase::Running {
            due: now.plus(left),
        };
        true
    }

    /// Starts a timer again from its full length, with all its cues.
    pub fn restart(&mut self, id: u32, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        t.state = TimerPhase::Running {
            due: now.plus(t.lasts),
        };
        t.started = now;
        t.cues.append(&mut t.given);
        t.set_length(t.lasts);
        true
    }

    /// Puts a cue into a timer. False when its moment is not between now and the end.
    pub fn add_cue(&mut self, id: u32, mut cue: Mark, now: Moment) -> bool {
        let Some(t) = self.get_mut(id) else {
            return false;
        };
        if !matches!(
            t.state,
            TimerPhase::Running { .. } | TimerPhase::Paused { .. }
        ) {
            return false;
        }
        let lasts = t.lasts.as_millis();
        if let Some(left) = cue.left {
            cue.at = Span::millis(lasts.saturating_sub(left.as_millis()));
        }
        let gone = lasts.saturating_sub(u64::try_from(t.left_ms(now)).unwrap_or(0));
        let ahead = (gone + 1..lasts).contains(&cue.at.as_millis());
        if ahead {
            t.cues.push(cue);
        }
        ahead
    }

    /// Gives a timer another name; returns the name that it got.
    pub fn rename(&mut self, id: u32, name: &str) -> Option<String> {
        let now_called = self.get(id)?.name.clone();
        if now_called == name.trim().to_lowercase() {
            return Some(now_called);
        }
        let name = self.free_name(name);
        self.get_mut(id)?.name.clone_from(&name);
        Some(name)
    }

    /// Puts a timer back as it was: in the place of the one with its number, or among the others.
    pub fn put_back(&mut self, timer: Timer) {
        match self.get_mut(timer.id) {
            Some(now) => *now = timer,
            None => {
                let at = self.timers.partition_point(|t| t.id < timer.id);
                self.timers.insert(at, timer);
            }
        }
    }

    /// Takes a timer off the rack.
    pub fn remove(&mut self, id: u32) -> Option<Timer> {
        let at = self.timers.iter().position(|t| t.id == id)?;
        Some(self.timers.remove(at))
    }

    /// How many timers the cook still waits for.
    pub fn live_count(&self) -> usize {
        self.timers.iter().filter(|t| t.is_live()).count()
    }
}

fn one_or_several(ids: Vec<u32>) -> TimerNamed {
    match ids.as_slice() {
        [one] => TimerNamed::One(*one),
        _ => TimerNamed::Several(ids),
    }
}

/// The words of a name that tell timers apart.
fn plain(name: &str) -> Vec<String> {
    let words: Vec<String> = name
        .to_lowercase()
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    let kept: Vec<String> = words
        .iter()
        .filter(|w| !matches!(w.as_str(), "the" | "a" | "my" | "timer" | "one's"))
        .cloned()
        .collect();
    // `timer one` is told apart only by its number, and `timer` alone by nothing.
    if kept.is_empty() {
        words.into_iter().filter(|w| w == "timer").collect()
    } else {
        kept
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::timer::DishId;

    fn rack() -> Rack {
        let mut r = Rack::default();
        r.start(
            "first rise",
            Span::minutes(60),
            vec![],
            Some("Has it doubled?".into()),
            Some(Origin {
                dish: DishId(0),
                step: 3,
            }),
            Moment(0),
        );
        r.start(
            "oven",
            Span::minutes(30),
            vec![Mark {
                at: Span::minutes(12),
                left: None,
                say: "turn the tin".into(),
            }],
            None,
            None,
            Moment(0),
        );
        r
    }

    #[test]
    fn cue_then_due_then_again_until_answered() {
        let mut r = rack();
        assert_eq!(r.wake_at(), Some(Moment(720_000)));
        assert!(r.tick(Moment(719_999)).is_empty());
        assert_eq!(
            r.tick(Moment(720_000)),
            [Ring::Cue {
                id: 2,
                at: Moment(720_000),
                say: "turn the tin".into()
            }]
        );
        assert_eq!(r.wake_at(), Some(Moment(1_800_000)));
        assert_eq!(
            r.tick(Moment(1_800_000)),
            [Ring::Due {
                id: 2,
                times: 1,
                spoken: true
            }]
        );
        assert_eq!(r.wake_at(), Some(Moment(1_820_000)));
        assert_eq!(
            r.tick(Moment(1_820_000)),
            [Ring::Due {
                id: 2,
                times: 2,
                spoken: false
            }]
        );
        assert_eq!(
            r.wake_at(),
            Some(Moment(1_835_000)),
            "the second wait is shorter"
        );
        assert!(r.answer(2, Moment(1_836_000)));
        assert_eq!(r.wake_at(), Some(Moment(3_600_000)));
        assert_eq!(
            r.get(2).map(|t| t.left_ms(Moment(2_040_000))),
            Some(-240_000)
        );
    }

    #[test]
    fn what_was_silenced_and_not_dealt_with_comes_back() {
        let mut r = rack();
        r.tick(Moment(3_600_000));
        assert!(
            r.answer(2, Moment(3_600_000)),
            "the cook's own is dealt with by that"
        );
        assert!(r.answer(1, Moment(3_600_000)));
        let mut minutes = Vec::new();
        while let Some(at) = r
            .wake_at()
            .filter(|at| *at <= Moment(3_600_000 + 31 * 60_000))
        {
            assert_eq!(r.tick(at), [Ring::Again { id: 1 }]);
            minutes.push((at.0 - 3_600_000) / 60_000);
        }
        assert_eq!(minutes, [2, 5, 10, 20, 30]);
        // After a stop of the program, once.
        assert_eq!(r.tick(Moment(9_000_000)).len(), 1);
        r.deal_with(Origin {
            dish: DishId(0),
            step: 3,
        });
        assert_eq!(r.wake_at(), None);
    }

    #[test]
    fn names_are_found_as_heard() {
        let r = rack();
        assert_eq!(r.find("the oven"), TimerNamed::One(2));
        assert_eq!(r.find("oven timer"), TimerNamed::One(2));
        assert_eq!(r.find("rise"), TimerNamed::One(1));
        assert_eq!(r.find("second rise"), TimerNamed::None);
        assert_eq!(r.find("soup"), TimerNamed::None);
    }

    #[test]
    fn two_of_a_name_are_told_apart() {
        let mut r = rack();
        let id = r.start("oven", Span::minutes(5), vec![], None, None, Moment(0));
        assert_eq!(r.get(id).map(|t| t.name.as_str()), Some("oven two"));
        let id = r.start("", Span::minutes(5), vec![], None, None, Moment(0));
        assert_eq!(r.get(id).map(|t| t.name.as_str()), Some("timer one"));
        assert_eq!(r.find("oven"), TimerNamed::One(2));
        assert_eq!(r.find("timer one"), TimerNamed::One(id));
    }

    #[test]
    fn a_pause_loses_no_time_and_keeps_the_cue() {
        let mut r = rack();
        assert!(r.pause(2, Moment(600_000)));
        assert!(r.tick(Moment(3_000_000)).is_empty());
        assert!(r.resume(2, Moment(3_000_000)));
        assert_eq!(r.wake_at(), Some(Moment(3_120_000)));
        assert_eq!(r.tick(Moment(3_120_000)).len(), 1);
        assert!(!r.resume(2, Moment(3_130_000)), "it runs already");
    }

    #[test]
    fn adding_to_a_finished_timer_runs_it_on_from_now() {
        let mut r = rack();
        r.tick(Moment(1_800_000));
        assert!(r.add(2, Span::minutes(5), Moment(1_810_000)));
        assert_eq!(
            r.get(2).map(|t| t.left_ms(Moment(1_810_000))),
            Some(300_000)
        );
        assert!(r.take(2, Span::minutes(10), Moment(1_810_000)));
        assert_eq!(r.get(2).map(|t| t.left_ms(Moment(1_810_000))), Some(0));
    }

    #[test]
    fn adding_keeps_a_cue_at_its_time_from_the_start() {
        let mut r = rack();
        r.add(2, Span::minutes(10), Moment(60_000));
        assert_eq!(r.wake_at(), Some(Moment(720_000)));
    }

    #[test]
    fn a_cue_counted_from_the_end_moves_with_the_end() {
        let mut r = Rack::default();
        let oven = Mark {
            at: Span::minutes(35),
            left: Some(Span::minutes(10)),
            say: "light the oven".into(),
        };
        let id = r.start(
            "second rise",
            Span::minutes(45),
            vec![oven],
            None,
            None,
            Moment(0),
        );
        r.add(id, Span::minutes(15), Moment(60_000));
        assert_eq!(r.wake_at(), Some(Moment(50 * 60_000)));
    }

    #[test]
    fn an_hour_without_an_answer_is_spoken_ten_times_and_chimes_on() {
        let mut r = Rack::default();
        r.start("tea", Span::seconds(1), Vec::new(), None, None, Moment(0));
        let (mut spoken, mut rung) = (Vec::new(), 0);
        while let Some(at) = r.wake_at().filter(|at| at.0 <= 3_601_000) {
            for ring in r.tick(at) {
                rung += 1;
                if matches!(ring, Ring::Due { spoken: true, .. }) {
                    spoken.push((at.0 - 1000) / 60_000);
                }
            }
        }
        assert_eq!(spoken, [0, 1, 2, 5, 10, 20, 30, 40, 50, 60][..spoken.len()]);
        assert!((9..=10).contains(&spoken.len()), "{spoken:?}");
        assert!(rung > 300, "{rung}");
    }

    #[test]
    fn two_alarms_together_are_spoken_twelve_times_an_hour_at_most() {
        for apart in [0, 61, 121, 301, 601, 1201, 1801] {
            let mut r = Rack::default();
            r.start("tea", Span::seconds(1), Vec::new(), None, None, Moment(0));
            let later = Span::seconds(1 + apart);
            r.start("eggs", later, Vec::new(), None, None, Moment(0));
            let mut spoken = 0;
            while let Some(at) = r.wake_at().filter(|at| at.0 < 3_601_000) {
                let said = |ring: &Ring| matches!(ring, Ring::Due { spoken: true, .. });
                spoken += usize::from(r.tick(at).iter().any(said));
            }
            assert!((8..=12).contains(&spoken), "{apart}: {spoken}");
        }
    }
}
