//! Timers, alarms and the clock.

use super::clock::{Moment, Wall};
use super::effect::{Chime, Effect, TimerChange, Why};
use super::event::Device;
use super::pending::Pending;
use super::state::Bench;
use super::words;
use crate::formula::TimerSpec;
use crate::measure::Span;
use crate::timer::{Found, Mark, Ring, Timer};
use crate::understand::ClockTime;

impl Bench {
    /// Everything that time alone brings.
    pub(super) fn tick(&mut self, out: &mut Vec<Effect>) {
        self.forget_stale(self.now);
        if let Some(text) = self.keypad.lapse(self.now) {
            out.push(Effect::Say {
                text,
                why: Why::Notice,
            });
        }
        for ring in self.rack.tick(self.now) {
            match ring {
                Ring::Cue { id, say, .. } => self.cue(id, &say, out),
                Ring::Due { id, times } => self.due(id, times, out),
            }
        }
    }

    fn changed(&self, id: u32, change: TimerChange, out: &mut Vec<Effect>) {
        if let Some(t) = self.rack.get(id) {
            out.push(Effect::Timer {
                name: t.name.clone(),
                change,
                left_ms: t.left_ms(self.now),
            });
        }
    }

    fn cue(&mut self, id: u32, say: &str, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Cue, out);
        let Some(t) = self.rack.get(id) else { return };
        let text = format!(
            "{}: {}.",
            words::capital(&t.name),
            words::lower_first(say.trim_end_matches('.'))
        );
        out.push(Effect::Chime {
            chime: Chime::Cue,
            urgency: 1,
        });
        text.clone_into(&mut self.last);
        out.push(Effect::Say {
            text,
            why: Why::Alarm,
        });
    }

    fn due(&mut self, id: u32, times: u32, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Due, out);
        let Some(t) = self.rack.get(id) else { return };
        let over = t.left_ms(self.now).unsigned_abs();
        let mut text = if over < 30_000 {
            format!("{}: time is up.", words::capital(&t.name))
        } else {
            format!(
                "{}: {} over.",
                words::capital(&t.name),
                words::about(Span::millis(over))
            )
        };
        if let Some(look) = t.look.clone() {
            text = format!("{text} {look}");
            // A doubt about an order may wait; a look takes its place only when nothing else is asked.
            if matches!(self.pending, None | Some(Pending::StepLook { .. })) {
                self.pending = Some(Pending::Look {
                    timer: id,
                    question: look,
                });
            }
        }
        let urgency = u8::try_from((times - 1).min(3)).unwrap_or(3);
        out.push(Effect::Chime {
            chime: Chime::Due,
            urgency,
        });
        text.clone_into(&mut self.last);
        out.push(Effect::Say {
            text,
            why: Why::Alarm,
        });
    }

    /// Answers every ringing alarm; false when none rings.
    pub(super) fn answer_alarms(&mut self, out: &mut Vec<Effect>) -> bool {
        let ringing: Vec<u32> = self.rack.ringing().iter().map(|t| t.id).collect();
        for id in &ringing {
            self.rack.answer(*id);
            self.changed(*id, TimerChange::Answered, out);
            if self.pending.is_none()
                && let Some(question) = self.rack.get(*id).and_then(|t| t.look.clone())
            {
                self.pending = Some(Pending::Look {
                    timer: *id,
                    question,
                });
            }
        }
        if !ringing.is_empty() {
            out.push(Effect::Hush);
        }
        !ringing.is_empty()
    }

    pub(super) fn stop_chime(&mut self, out: &mut Vec<Effect>) {
        let look = match &self.pending {
            Some(Pending::Look { question, .. }) => Some(question.clone()),
            _ => None,
        };
        if self.answer_alarms(out) {
            let question = look.or_else(|| match &self.pending {
                Some(Pending::Look { question, .. }) => Some(question.clone()),
                _ => None,
            });
            self.tell(out, &question.unwrap_or_else(|| "All right.".to_owned()));
        } else {
            out.push(Effect::Hush);
        }
    }

    /// The look says that it is done.
    pub(super) fn looked(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.rack.answer(id);
        self.changed(id, TimerChange::Answered, out);
        out.push(Effect::Hush);
        let Some(t) = self.rack.remove(id) else {
            return;
        };
        let took = words::about(self.now.since(t.started));
        self.tell(
            out,
            &format!("Good. The {} took {took}. Say next to go on.", t.name),
        );
    }

    /// The look says that it needs longer.
    pub(super) fn longer(&mut self, id: u32, by: Option<Span>, out: &mut Vec<Effect>) {
        let Some(t) = self.rack.get(id) else { return };
        // A quarter of the first length, whole minutes, five at least (common practice, no source: look often near
        // the end).
        let quarter = Span::minutes((t.lasts.as_seconds() / 240).max(5));
        let by = by.unwrap_or(quarter);
        let name = t.name.clone();
        out.push(Effect::Hush);
        self.rack.add(id, by, self.now);
        self.changed(id, TimerChange::Changed, out);
        let ready = self.clock_at(self.now.plus(self.left_of(id)));
        self.tell(
            out,
            &format!(
                "{} more for the {name}, until {ready}.",
                words::capital(&words::span(by))
            ),
        );
    }

    fn left_of(&self, id: u32) -> Span {
        Span::millis(
            self.rack
                .get(id)
                .map_or(0, |t| u64::try_from(t.left_ms(self.now)).unwrap_or(0)),
        )
    }

    pub(super) fn needs_longer(&mut self, by: Option<Span>, out: &mut Vec<Effect>) {
        let id = match self.pending {
            Some(Pending::Look { timer, .. }) => Some(timer),
            _ => {
                let looks = |t: &&Timer| t.look.is_some();
                self.rack
                    .in_order(self.now)
                    .into_iter()
                    .find(looks)
                    .map(|t| t.id)
            }
        };
        match id {
            Some(id) => self.longer(id, by, out),
            None => self.tell(out, "No rise is running that could take longer."),
        }
    }

    /// The first timer of the current step that has not been started.
    pub(super) fn offered(&self) -> Option<&TimerSpec> {
        let at = self.step.filter(|_| !self.finished)?;
        let started = |spec: &TimerSpec| {
            self.rack
                .in_order(self.now)
                .iter()
                .any(|t| t.step == Some(at) && t.name.starts_with(&spec.name))
        };
        self.formula.steps[at]
            .timers
            .iter()
            .find(|spec| !started(spec))
    }

    pub(super) fn start_offered(&mut self, out: &mut Vec<Effect>) {
        if let Some(spec) = self.offered().cloned() {
            let step = self.step;
            self.start_spec(&spec, step, out);
        } else if let Some(held) = self
            .rack
            .live(self.now)
            .into_iter()
            .find(|t| matches!(t.state, crate::timer::State::Paused { .. }))
            .map(|t| t.name.clone())
        {
            self.resume(Some(&held), out);
        } else {
            self.tell(
                out,
                "No timer is offered here. Say how long: start a timer for ten minutes.",
            );
        }
    }

    fn start_spec(&mut self, spec: &TimerSpec, step: Option<usize>, out: &mut Vec<Effect>) {
        let cues = marks(spec);
        let id = self.rack.start(
            &spec.name,
            spec.lasts,
            cues,
            spec.look.clone(),
            step,
            self.now,
        );
        self.started(id, out);
    }

    fn started(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Started, out);
        self.names_changed(out);
        let Some(t) = self.rack.get(id) else { return };
        let ready = self.clock_at(self.now.plus(t.lasts));
        let text = format!(
            "{} started: {}, until {ready}.",
            words::capital(&t.name),
            words::span(t.lasts)
        );
        self.tell(out, &text);
    }

    /// The recogniser should know the names of the cook's own timers.
    fn names_changed(&mut self, out: &mut Vec<Effect>) {
        let names: Vec<String> = self
            .rack
            .live(self.now)
            .iter()
            .map(|t| t.name.clone())
            .collect();
        self.lexicon = super::lexicon(&self.formula, &names);
        out.push(Effect::Vocabulary);
    }

    pub(super) fn start_timer(
        &mut self,
        lasts: Option<Span>,
        name: Option<String>,
        out: &mut Vec<Effect>,
    ) {
        // A timer of the formula by its name, without a length, is the formula's own.
        if let Some(wanted) = &name {
            let spec = self.formula.steps.iter().enumerate().find_map(|(s, step)| {
                let spec = step
                    .timers
                    .iter()
                    .find(|t| t.name == wanted.trim().to_lowercase())?;
                Some((s, spec.clone()))
            });
            if let Some((s, mut spec)) = spec {
                if let Some(lasts) = lasts {
                    spec.lasts = lasts;
                    spec.cues.retain(|c| c.left.map_or(c.at, |l| l) < lasts);
                }
                self.start_spec(&spec, Some(s), out);
                return;
            }
        }
        match lasts {
            Some(lasts) => {
                if lasts < Span::seconds(1) || lasts > Span::seconds(172_800) {
                    self.tell(out, "A timer can run from one second to two days.");
                    return;
                }
                let id = self.rack.start(
                    &name.unwrap_or_default(),
                    lasts,
                    Vec::new(),
                    None,
                    None,
                    self.now,
                );
                self.started(id, out);
            }
            None => {
                let question = match &name {
                    Some(n) => format!("How long for the {n}?"),
                    None => "How long?".to_owned(),
                };
                self.pending = Some(Pending::how_long(name, question.clone(), self.now));
                self.ask(out, &question);
            }
        }
    }

    /// The one timer meant; the error is the sentence to say.
    pub(super) fn one_timer(&self, name: Option<&str>) -> Result<u32, String> {
        if let Some(name) = name {
            return match self.rack.find(name) {
                Found::One(id) => Ok(id),
                Found::Several(ids) => {
                    let names: Vec<String> = ids
                        .iter()
                        .filter_map(|id| self.rack.get(*id))
                        .map(|t| format!("the {}", t.name))
                        .collect();
                    Err(format!("Which one: {}?", words::or_list(&names)))
                }
                Found::None => Err(format!("No timer is called {name}.")),
            };
        }
        let ringing = self.rack.ringing();
        if let [one] = ringing.as_slice() {
            return Ok(one.id);
        }
        let live = self.rack.live(self.now);
        match live.as_slice() {
            [] => self
                .rack
                .in_order(self.now)
                .first()
                .map(|t| t.id)
                .ok_or_else(|| "No timer is running.".to_owned()),
            [one] => Ok(one.id),
            several => {
                let names: Vec<String> =
                    several.iter().map(|t| format!("the {}", t.name)).collect();
                Err(format!("Which one: {}?", words::or_list(&names)))
            }
        }
    }

    /// The one timer meant, or the sentence said.
    fn timer(&mut self, name: Option<&str>, out: &mut Vec<Effect>) -> Option<u32> {
        match self.one_timer(name) {
            Ok(id) => Some(id),
            Err(text) => {
                if text.ends_with('?') {
                    self.ask(out, &text);
                } else {
                    self.tell(out, &text);
                }
                None
            }
        }
    }

    fn left_words(&self, t: &Timer) -> String {
        let left = t.left_ms(self.now);
        let held = if matches!(t.state, crate::timer::State::Paused { .. }) {
            ", held"
        } else {
            ""
        };
        if left >= 0 {
            format!(
                "{}: {} left{held}.",
                words::capital(&t.name),
                words::left(left)
            )
        } else {
            format!(
                "{}: {} over.",
                words::capital(&t.name),
                words::about(Span::millis(left.unsigned_abs()))
            )
        }
    }

    /// Every live timer and what is left on it.
    pub(super) fn all_left(&self) -> String {
        let live = self.rack.live(self.now);
        if live.is_empty() {
            return "No timer is running.".to_owned();
        }
        live.iter()
            .map(|t| self.left_words(t))
            .collect::<Vec<_>>()
            .join(" ")
    }

    pub(super) fn time_left(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        let text = match name {
            None => match (self.rack.live_count(), self.rack.in_order(self.now).first()) {
                (0, Some(t)) => self.left_words(t),
                _ => self.all_left(),
            },
            Some(_) => {
                let Some(id) = self.timer(name, out) else {
                    return;
                };
                self.rack
                    .get(id)
                    .map(|t| self.left_words(t))
                    .unwrap_or_default()
            }
        };
        self.tell(out, &text);
    }

    pub(super) fn ready_when(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        if name.is_none() && self.rack.live_count() > 1 {
            let lines: Vec<String> = self
                .rack
                .live(self.now)
                .iter()
                .map(|t| {
                    format!(
                        "{} at {}.",
                        words::capital(&t.name),
                        self.clock_at(Moment(
                            self.now.0.saturating_add_signed(t.left_ms(self.now))
                        ))
                    )
                })
                .collect();
            self.tell(out, &lines.join(" "));
            return;
        }
        let Some(id) = self.timer(name, out) else {
            return;
        };
        let Some(t) = self.rack.get(id) else { return };
        let left = t.left_ms(self.now);
        let at = self.clock_at(Moment(self.now.0.saturating_add_signed(left)));
        let text = if left >= 0 {
            format!("{} at {at}.", words::capital(&t.name))
        } else {
            format!("{} was due at {at}.", words::capital(&t.name))
        };
        self.tell(out, &text);
    }

    pub(super) fn add_time(&mut self, by: Span, name: Option<&str>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        let rang = self.rack.get(id).is_some_and(|t| t.left_ms(self.now) <= 0);
        if rang {
            out.push(Effect::Hush);
        }
        self.rack.add(id, by, self.now);
        self.changed(id, TimerChange::Changed, out);
        let Some(t) = self.rack.get(id) else { return };
        let text = format!(
            "{} more. {}",
            words::capital(&words::span(by)),
            self.left_words(t)
        );
        self.tell(out, &text);
    }

    pub(super) fn take_time(&mut self, by: Span, name: Option<&str>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        if !self.rack.take(id, by, self.now) {
            self.tell(out, "Its time is up already.");
            return;
        }
        self.changed(id, TimerChange::Changed, out);
        let Some(t) = self.rack.get(id) else { return };
        let text = format!(
            "{} less. {}",
            words::capital(&words::span(by)),
            self.left_words(t)
        );
        self.tell(out, &text);
        self.tick(out);
    }

    pub(super) fn pause(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        let done = self.rack.pause(id, self.now);
        let Some(t) = self.rack.get(id).cloned() else {
            return;
        };
        if done {
            self.changed(id, TimerChange::Paused, out);
            self.tell(
                out,
                &format!(
                    "{} held, with {} left.",
                    words::capital(&t.name),
                    words::left(t.left_ms(self.now))
                ),
            );
        } else {
            self.tell(out, &format!("The {} is not running.", t.name));
        }
    }

    pub(super) fn resume(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        let held: Vec<u32> = self
            .rack
            .live(self.now)
            .iter()
            .filter(|t| matches!(t.state, crate::timer::State::Paused { .. }))
            .map(|t| t.id)
            .collect();
        let id = match (name, held.as_slice()) {
            (None, [one]) => *one,
            (None, []) => {
                self.tell(out, "No timer is held.");
                return;
            }
            _ => match self.timer(name, out) {
                Some(id) => id,
                None => return,
            },
        };
        let done = self.rack.resume(id, self.now);
        let Some(t) = self.rack.get(id).cloned() else {
            return;
        };
        if done {
            self.changed(id, TimerChange::Resumed, out);
            self.tell(
                out,
                &format!(
                    "{} runs on, {} left.",
                    words::capital(&t.name),
                    words::left(t.left_ms(self.now))
                ),
            );
        } else {
            self.tell(out, &format!("The {} is not held.", t.name));
        }
    }

    pub(super) fn restart(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        let cues = self
            .rack
            .get(id)
            .and_then(|t| {
                let step = t.step?;
                self.formula
                    .steps
                    .get(step)?
                    .timers
                    .iter()
                    .find(|s| t.name.starts_with(&s.name))
                    .map(marks)
            })
            .unwrap_or_default();
        self.rack.restart(id, cues, self.now);
        self.started(id, out);
    }

    pub(super) fn rename(&mut self, name: Option<&str>, to: &str, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        let Some(new) = self.rack.rename(id, to) else {
            return;
        };
        self.changed(id, TimerChange::Renamed, out);
        self.names_changed(out);
        self.tell(out, &format!("It is called {new} now."));
    }

    pub(super) fn stop_timer(&mut self, name: Option<&str>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(name, out) else {
            return;
        };
        self.drop_timer(id, out);
        self.names_changed(out);
    }

    fn drop_timer(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Stopped, out);
        if matches!(self.pending, Some(Pending::Look { timer, .. }) if timer == id) {
            self.pending = None;
        }
        out.push(Effect::Hush);
        if let Some(t) = self.rack.remove(id) {
            self.tell(out, &format!("{} stopped.", words::capital(&t.name)));
        }
    }

    pub(super) fn stop_all(&mut self, out: &mut Vec<Effect>) {
        let all: Vec<u32> = self.rack.live(self.now).iter().map(|t| t.id).collect();
        if all.is_empty() {
            self.tell(out, "No timer is running.");
            return;
        }
        for id in &all {
            self.changed(*id, TimerChange::Stopped, out);
            self.rack.remove(*id);
        }
        if matches!(self.pending, Some(Pending::Look { .. })) {
            self.pending = None;
        }
        out.push(Effect::Hush);
        self.names_changed(out);
        self.tell(
            out,
            if all.len() == 1 {
                "Stopped."
            } else {
                "All stopped."
            },
        );
    }

    pub(super) fn next_on_clock(&mut self, out: &mut Vec<Effect>) {
        let next = self.rack.live(self.now).first().map(|t| {
            let cue = t.next_cue(self.now);
            match cue {
                Some((at, say)) => format!(
                    "At {}, in the {}: {}.",
                    self.clock_at(at),
                    t.name,
                    words::lower_first(say)
                ),
                None => format!(
                    "{} at {}.",
                    words::capital(&t.name),
                    self.clock_at(Moment(
                        self.now.0.saturating_add_signed(t.left_ms(self.now))
                    ))
                ),
            }
        });
        self.tell(
            out,
            &next.unwrap_or_else(|| "Nothing is on the clock.".to_owned()),
        );
    }

    // The wall clock.

    /// Local time of day at a moment: (hour, minute, second).
    pub(super) fn local(&self, at: Moment) -> (u8, u8, u8) {
        let (read_at, wall) = &self.wall;
        wall.time_of_day(
            i64::try_from(at.0).unwrap_or(i64::MAX) - i64::try_from(read_at.0).unwrap_or(0),
        )
    }

    /// A moment as a clock time in words.
    pub(super) fn clock_at(&self, at: Moment) -> String {
        let (h, m, s) = self.local(at);
        // To the nearest minute: half past, not twenty nine and fifty eight seconds past.
        let minutes = (u32::from(h) * 60 + u32::from(m) + u32::from(s >= 30)) % 1440;
        words::clock(minutes)
    }

    pub(super) fn tell_time(&mut self, out: &mut Vec<Effect>) {
        let (h, m, _) = self.local(self.now);
        self.tell(
            out,
            &format!("It is {}.", words::clock(u32::from(h) * 60 + u32::from(m))),
        );
    }

    pub(super) fn set_eat_at(&mut self, _at: ClockTime, out: &mut Vec<Effect>) {
        self.tell(out, "I cannot plan back from the hour of serving yet.");
    }

    pub(super) fn when_start(&mut self, out: &mut Vec<Effect>) {
        self.tell(out, "I cannot plan back from the hour of serving yet.");
    }

    pub(super) fn wall_changed(&mut self, wall: &Wall, out: &mut Vec<Effect>) {
        let before = self.local(self.now);
        self.wall = (self.now, wall.clone());
        let after = self.local(self.now);
        let text = if (before.0, before.1) == (after.0, after.1) {
            return;
        } else {
            format!(
                "The clock on the wall was changed: it is {} now. The timers run on as they were.",
                self.clock_at(self.now)
            )
        };
        self.note(out, &text);
    }

    pub(super) fn resumed(&mut self, wall: &Wall, gap_ms: u64, out: &mut Vec<Effect>) {
        self.wall = (self.now, wall.clone());
        let away = words::about(Span::millis(gap_ms));
        let place = match self.step {
            Some(at) if !self.finished => {
                format!("We are at step {}.", words::number(at as f64 + 1.0))
            }
            _ => String::new(),
        };
        self.note(out, format!("I was away for {away}. {place}").trim_end());
    }

    pub(super) fn device(
        &mut self,
        device: Device,
        present: bool,
        note: &str,
        out: &mut Vec<Effect>,
    ) {
        let was = self.missing.iter().position(|(d, _)| *d == device);
        match (present, was) {
            (true, Some(at)) => {
                self.missing.remove(at);
                self.note(out, &words::sentence(note));
            }
            (false, None) => {
                self.missing.push((device, note.to_owned()));
                self.note(out, &words::sentence(note));
            }
            _ => {}
        }
    }
}

fn marks(spec: &TimerSpec) -> Vec<Mark> {
    spec.cues
        .iter()
        .map(|c| Mark {
            at: c.at,
            left: c.left,
            say: c.say.clone(),
        })
        .collect()
}
