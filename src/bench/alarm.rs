//! What time alone brings: cues, alarms that grow until they are answered, and what came while the program was away.

use super::effect::{Chime, Effect, TimerChange, Why};
use super::pending::Pending;
use super::state::Bench;
use super::words;
use crate::order::TimerRef;
use crate::time::{KitchenClock, Moment, Span, Wall};
use crate::timer::{Mark, Ring, State, Timer};

/// An alarm that rings this long after its time says how long it is over.
const OVER_MS: u64 = 30_000;
/// So many timers are named in one sentence; the others are counted.
const NAMED: usize = 3;
/// After a stop this long the cook may have given the session up.
const GIVEN_UP: Span = Span::minutes(12 * 60);

impl Bench {
    /// Questions and half entered keys that time has taken back: before the event, which must not answer them.
    pub(super) fn lapse(&mut self, out: &mut Vec<Effect>) {
        self.forget_stale(self.now);
        if let Some(text) = self.keypad.lapse(self.now) {
            out.push(Effect::Say {
                text,
                why: Why::Notice,
            });
        }
    }

    /// Cues and alarms that have come: after the event, so that a key pressed before an alarm was heard does not
    /// answer it.
    pub(super) fn ring(&mut self, out: &mut Vec<Effect>) {
        let mut due = Vec::new();
        for ring in self.rack.tick(self.now) {
            match ring {
                Ring::Cue { id, say, .. } => self.cue(id, &say, out),
                Ring::Due { id, times } => due.push((id, times)),
            }
        }
        if !due.is_empty() {
            self.due(&due, out);
        }
    }

    /// A timer's change, for the log and the screen.
    pub(super) fn changed(&self, id: u32, change: TimerChange, out: &mut Vec<Effect>) {
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
        let step = t.step;
        let text = format!("{}: {}.", words::capital(&t.name), words::clause(say));
        if !self.oven_cue(step, say) {
            return;
        }
        self.drop_doubt();
        self.alarm(Chime::Cue, 1, &text, out);
    }

    /// Every alarm that rings now, in one chime and one breath.
    fn due(&mut self, rings: &[(u32, u32)], out: &mut Vec<Effect>) {
        for (id, _) in rings {
            self.changed(*id, TimerChange::Due, out);
        }
        if rings.iter().any(|(_, times)| *times == 1) {
            self.drop_doubt();
        }
        let timers: Vec<&Timer> = rings
            .iter()
            .filter_map(|(id, _)| self.rack.get(*id))
            .collect();
        let mut text = self.due_words(&timers);
        // A doubt about an order may wait while an alarm repeats; a look takes its place only when nothing else is asked.
        if matches!(
            self.pending,
            None | Some(Pending::StepLook { .. } | Pending::Look { .. })
        ) && let Some((timer, question)) = look_of(&timers)
        {
            text = format!("{text} {question}");
            self.pending = Some(Pending::Look { timer, question });
        }
        let times = rings.iter().map(|(_, times)| *times).max().unwrap_or(1);
        let urgency = u8::try_from((times - 1).min(3)).unwrap_or(3);
        self.alarm(Chime::Due, urgency, &text, out);
    }

    /// `Bake: four minutes over. First rise and soup: time is up.`
    fn due_words(&self, timers: &[&Timer]) -> String {
        let over = |t: &&&Timer| t.left_ms(self.now).unsigned_abs() >= OVER_MS;
        let mut parts: Vec<String> = timers
            .iter()
            .take(NAMED)
            .filter(over)
            .map(|t| self.left_words(t))
            .collect();
        let up: Vec<String> = timers
            .iter()
            .take(NAMED)
            .filter(|t| !over(t))
            .map(|t| t.name.clone())
            .collect();
        if !up.is_empty() {
            parts.push(format!(
                "{}: time is up.",
                words::capital(&words::list(&up))
            ));
        }
        if let Some(more) = timers.len().checked_sub(NAMED).filter(|n| *n > 0) {
            parts.push(format!("And {} more.", words::count(more)));
        }
        parts.join(" ")
    }

    pub(super) fn alarm(&mut self, chime: Chime, urgency: u8, text: &str, out: &mut Vec<Effect>) {
        out.push(Effect::Chime { chime, urgency });
        self.say(out, text, Why::Alarm);
    }

    /// An alarm passes over a question about an order; what is said after the alarm must not answer the question.
    fn drop_doubt(&mut self) {
        if !matches!(
            self.pending,
            Some(Pending::Look { .. } | Pending::StepLook { .. })
        ) {
            self.pending = None;
        }
    }

    /// A cue of the cook's own, in the timer named or in the one started last.
    pub(super) fn add_cue(
        &mut self,
        say: &str,
        at: Option<Span>,
        left: Option<Span>,
        which: Option<&TimerRef>,
        out: &mut Vec<Effect>,
    ) {
        let newest = self.rack.live(self.now).iter().map(|t| t.id).max();
        let id = match which {
            None if newest.is_some() => newest,
            which => self.timer(which, out),
        };
        let Some(id) = id else { return };
        let cue = Mark {
            at: at.unwrap_or_default(),
            left,
            say: say.to_owned(),
        };
        let added = self.rack.add_cue(id, cue, self.now);
        let Some(t) = self.rack.get(id) else { return };
        let name = words::the(&t.name);
        let text = match (added, left) {
            (false, _) => format!("That moment is not ahead in {name}. {}", self.left_words(t)),
            (true, Some(left)) => format!("In {name}, with {} left: {say}.", words::span(left)),
            (true, None) => {
                let at = words::span(at.unwrap_or_default());
                format!("In {name}, after {at}: {say}.")
            }
        };
        self.tell(out, &text);
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
        if self.answer_alarms(out) {
            let text = match &self.pending {
                Some(Pending::Look { question, .. }) => {
                    format!(
                        "{question}{}",
                        self.hint("", "Enter is yes, minus is not yet.")
                    )
                }
                _ => "All right.".to_owned(),
            };
            self.tell(out, &text);
        } else {
            out.push(Effect::Hush);
        }
    }

    /// Taken up again from the journal: what came meanwhile, and where everything stands.
    pub(super) fn resumed(
        &mut self,
        wall: &Wall,
        gap_ms: u64,
        notes: &[String],
        out: &mut Vec<Effect>,
    ) {
        self.clock = KitchenClock::read(self.now, wall.clone());
        // Devices are found anew by every run of the program.
        self.missing.clear();
        let mut parts = notes.to_vec();
        parts.push(format!(
            "I was away for {}.",
            words::about(Span::millis(gap_ms))
        ));
        let mut loudest = None;
        for ring in self.rack.tick(self.now) {
            match ring {
                Ring::Cue { id, at, say } => {
                    self.changed(id, TimerChange::Cue, out);
                    loudest.get_or_insert(Chime::Cue);
                    let ago = words::capital(&words::ago(self.now.since(at)));
                    if let Some(t) = self.rack.get(id) {
                        let (name, clause) = (words::the(&t.name), words::clause(&say));
                        parts.push(format!("{ago}, in {name}: {clause}."));
                        self.oven_cue(t.step, &say);
                    }
                }
                Ring::Due { id, .. } => self.changed(id, TimerChange::Due, out),
            }
        }
        let ringing = self.rack.ringing();
        parts.extend(ringing.iter().map(|t| self.ended_words(t)));
        if !ringing.is_empty() {
            loudest = Some(Chime::Due);
        }
        let look = look_of(&ringing);
        parts.extend(
            self.rack
                .live(self.now)
                .into_iter()
                .filter(|t| !matches!(t.state, State::Ringing { .. }))
                .take(NAMED)
                .map(|t| self.left_words(t)),
        );
        match self.step {
            Some(at) if !self.finished => {
                parts.push(format!("We are at step {}.", words::count(at + 1)));
            }
            _ => {}
        }
        if Span::millis(gap_ms) >= GIVEN_UP {
            parts.push("To begin anew, say goodbye and start me again.".to_owned());
        }
        if let Some((timer, question)) = look {
            self.drop_doubt();
            self.pending = Some(Pending::Look { timer, question });
        }
        if let Some(p) = &self.pending {
            parts.push(p.question().to_owned());
        }
        let text = parts.join(" ");
        match loudest {
            Some(chime) => self.alarm(chime, 1, &text, out),
            None => self.note(out, &text),
        }
    }

    /// `The first rise ended six minutes ago.`
    fn ended_words(&self, t: &Timer) -> String {
        let over = words::about(Span::millis(t.left_ms(self.now).unsigned_abs()));
        words::capital(&format!("{} ended {over} ago.", words::the(&t.name)))
    }

    /// The clock on the wall was set, or the machine went to another zone.
    pub(super) fn wall_changed(&mut self, wall: &Wall, out: &mut Vec<Effect>) {
        let minute = |(h, m, _): (u8, u8, u8)| (h, m);
        let before = minute(self.local(self.now));
        let old = self.clock.wall_at(self.now);
        self.clock = KitchenClock::read(self.now, wall.clone());
        if before == minute(self.local(self.now)) {
            return;
        }
        let set_by = wall.unix_ms.saturating_sub(old.unix_ms);
        let same_zone = wall.offset_s == old.offset_at(wall.unix_ms.div_euclid(1000));
        let what = if same_zone {
            let way = if set_by < 0 { "back" } else { "forward" };
            let by = words::about(Span::millis(set_by.unsigned_abs()));
            format!("The clock on the wall was put {way} by {by}")
        } else {
            "We are in another time zone".to_owned()
        };
        let time = self.clock_at(self.now);
        self.note(
            out,
            &format!("{what}: it is {time} now. The timers run on as they were."),
        );
    }

    /// Local time of day at a moment: (hour, minute, second).
    pub(super) fn local(&self, at: Moment) -> (u8, u8, u8) {
        self.clock.time_of_day(at)
    }
}

/// The first look among timers.
pub(super) fn look_of(timers: &[&Timer]) -> Option<(u32, String)> {
    timers.iter().find_map(|t| Some((t.id, t.look.clone()?)))
}
