//! What time alone brings: cues, alarms that grow until they are answered, and what came while the program was away.

use super::Bench;
use super::effect::{Chime, Effect, TimerChange, Why};
use super::pending::{Pending, asked_again, look_of};
use super::telling::REMINDER;
use super::words;
use crate::order::TimerRef;
use crate::time::{KitchenClock, Moment, Span, Wall};
use crate::timer::{DishId, Mark, Ring, Timer, TimerPhase};

/// An alarm that rings this long after its time says how long it is over.
const OVER_MS: u64 = 30_000;
/// So many timers are told with what is left on them; the others are named.
const NAMED: usize = 3;
/// A stop shorter than this is told without its length.
const AT_ONCE: Span = Span::seconds(10);
/// After a stop this long the cook may have given the session up.
const GIVEN_UP: Span = Span::minutes(12 * 60);

impl Bench {
    /// Questions and half entered keys that time has taken back: before the event, which must not answer them.
    pub(super) fn lapse(&mut self, out: &mut Vec<Effect>) {
        self.dialogue.forget_stale(self.now);
        if let Some(text) = self.dialogue.take_lapsed() {
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
                Ring::Due { id, times, spoken } => due.push((id, times, spoken)),
                Ring::Again { id } => self.comes_back(id, out),
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
        let origin = t.origin;
        let text = format!("{}: {}.", words::capital(&t.name), words::clause(say));
        if !self.oven_cue(origin, say) {
            return;
        }
        self.dialogue.drop_doubt();
        self.alarm(Chime::Cue, 1, &text, out);
    }

    /// What was silenced and not dealt with, once more and gently: `Bake: two minutes over.`, with what was asked.
    fn comes_back(&mut self, id: u32, out: &mut Vec<Effect>) {
        let Some(t) = self.rack.get(id) else { return };
        let mut text = self.left_words(t);
        if let Some(question) = t.look.as_deref().map(asked_again)
            && !self.dialogue.question().is_some_and(Pending::is_doubt)
        {
            text = format!("{text} {question}");
            self.dialogue.wait_for(Pending::Look {
                timer: id,
                question,
            });
        }
        self.alarm(Chime::Cue, 0, &text, out);
    }

    /// Every alarm that rings now, in one chime and, where it is time to say so again, one breath.
    fn due(&mut self, rings: &[(u32, u32, bool)], out: &mut Vec<Effect>) {
        for (id, _, _) in rings {
            self.changed(*id, TimerChange::Due, out);
        }
        if rings.iter().any(|(_, times, _)| *times == 1) {
            self.dialogue.drop_doubt();
        }
        let timers: Vec<&Timer> = rings
            .iter()
            .rev()
            .filter_map(|(id, _, _)| self.rack.get(*id))
            .collect();
        let mut text = self.due_words(&timers);
        // A doubt about an order may wait while an alarm repeats; a look takes its place only when nothing else is asked.
        if matches!(
            self.dialogue.question(),
            None | Some(Pending::StepLook { .. } | Pending::Look { .. })
        ) && let Some((timer, question)) = look_of(&timers)
        {
            let again = rings
                .iter()
                .any(|(id, times, _)| *id == timer && *times > 1);
            let question = if again {
                asked_again(&question)
            } else {
                question
            };
            text = format!("{text} {question}");
            self.dialogue.wait_for(Pending::Look { timer, question });
        }
        let times = rings.iter().map(|(_, times, _)| *times).max().unwrap_or(1);
        let urgency = u8::try_from((times - 1).min(3)).unwrap_or(3);
        out.push(Effect::Chime {
            chime: Chime::Due,
            urgency,
        });
        if rings.iter().any(|(_, _, spoken)| *spoken) {
            self.dialogue.say(out, &text, Why::Alarm);
        }
    }

    /// Every timer that rings, in two sentences, the newest first: `First rise and soup: time is up. Bake: four minutes
    /// over.`
    fn due_words(&self, newest_first: &[&Timer]) -> String {
        let (over, up): (Vec<&Timer>, Vec<&Timer>) = newest_first
            .iter()
            .partition(|t| t.left_ms(self.now).unsigned_abs() >= OVER_MS);
        let names = |timers: &[&Timer]| timers.iter().map(|t| t.name.clone()).collect::<Vec<_>>();
        let mut parts = Vec::new();
        if self.dishes.are_several() {
            // Of several dishes each has a sentence of its own.
            let each = up
                .iter()
                .map(|t| format!("{}: time is up.", words::capital(&t.name)));
            parts.extend(each);
        } else if !up.is_empty() {
            let (reminders, timers): (Vec<&Timer>, Vec<&Timer>) = up
                .iter()
                .copied()
                .partition(|t| t.name.starts_with(REMINDER));
            let due = reminders
                .iter()
                .filter_map(|t| t.name.strip_prefix(REMINDER));
            parts.extend(due.map(|what| format!("Time to {what}.")));
            if !timers.is_empty() {
                let names = words::capital(&words::list(&names(&timers)));
                parts.push(format!("{names}: time is up."));
            }
        }
        match over.as_slice() {
            [] => {}
            [one] => parts.push(self.left_words(one)),
            few if few.len() <= NAMED => {
                let each: Vec<String> = few.iter().map(|t| self.over_clause(t)).collect();
                parts.push(format!("{}.", words::capital(&words::list(&each))));
            }
            many => parts.push(format!("Still due: {}.", words::list(&names(many)))),
        }
        parts.join(" ")
    }

    /// `bake four minutes over`.
    fn over_clause(&self, t: &Timer) -> String {
        let over = words::about(Span::millis(t.left_ms(self.now).unsigned_abs()));
        format!("{} {over} over", t.name)
    }

    pub(super) fn alarm(&mut self, chime: Chime, urgency: u8, text: &str, out: &mut Vec<Effect>) {
        out.push(Effect::Chime { chime, urgency });
        self.dialogue.say(out, text, Why::Alarm);
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
            (false, _) => format!(
                "That moment is not ahead of us in {name}. {}",
                self.left_words(t)
            ),
            (true, Some(left)) => format!("In {name}, with {} left: {say}.", words::span(left)),
            (true, None) => {
                let at = words::span(at.unwrap_or_default());
                format!("In {name}, after {at}: {say}.")
            }
        };
        self.tell(out, &text);
    }

    /// Answers the alarm that was named first, which is the newest, and of several dishes what else rings for its dish; false
    /// when none rings.
    pub(super) fn answer_alarm(&mut self, out: &mut Vec<Effect>) -> bool {
        let ringing = self.rack.ringing();
        let Some(newest) = ringing.last() else {
            return false;
        };
        let several = self.dishes.are_several();
        let with_it = |t: &&&Timer| {
            let dish = |t: &Timer| t.origin.map(|o| o.dish);
            t.id == newest.id || several && dish(t).is_some() && dish(t) == dish(newest)
        };
        let ids: Vec<u32> = ringing.iter().rev().filter(with_it).map(|t| t.id).collect();
        for id in ids {
            self.silence(id, out);
            out.push(Effect::Hush);
        }
        true
    }

    /// Answers every alarm; false when none rings.
    pub(super) fn answer_all_alarms(&mut self, out: &mut Vec<Effect>) -> bool {
        let mut any = false;
        while self.answer_alarm(out) {
            any = true;
        }
        any
    }

    fn silence(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.rack.answer(id, self.now);
        // Whose step has been left without waiting for it is dealt with by that.
        let timer = self.rack.get(id).filter(|t| t.look.is_none());
        let left = timer.and_then(|t| t.origin).filter(|from| {
            let dish = self.dishes.get(from.dish);
            dish.is_none_or(|dish| dish.step() != Some(from.step))
        });
        if let Some(step) = left {
            self.rack.deal_with(step);
        }
        self.changed(id, TimerChange::Answered, out);
        if self.dialogue.question().is_none()
            && let Some(question) = self.rack.get(id).and_then(|t| t.look.clone())
        {
            self.dialogue.wait_for(Pending::Look {
                timer: id,
                question,
            });
        }
    }

    /// `Still ringing: the soup and the eggs.`, the newest first; empty where nothing rings.
    pub(super) fn still_ringing(&self) -> String {
        let ringing = self.rack.ringing();
        let names: Vec<String> = ringing.iter().rev().map(|t| words::the(&t.name)).collect();
        match names.as_slice() {
            [] => String::new(),
            some => format!("Still ringing: {}.", words::list(some)),
        }
    }

    /// `stop`: the alarm just named is silent. What still rings is said.
    pub(super) fn stop_chime(&mut self, out: &mut Vec<Effect>) {
        if !self.answer_alarm(out) {
            out.push(Effect::Hush);
            return;
        }
        let still = self.still_ringing();
        let text = match self.dialogue.question() {
            Some(Pending::Look { question, .. }) => {
                let hint = self.hint("", "Enter is yes, minus is not yet.");
                format!("{still} {question}{hint}")
            }
            _ => format!("All right. {still}"),
        };
        self.tell(out, text.trim());
    }

    /// Taken up again from the journal: what came meanwhile, and where everything stands.
    pub(super) fn resumed(
        &mut self,
        wall: &Wall,
        gap_ms: u64,
        notes: &[String],
        edited: Option<(DishId, &str)>,
        out: &mut Vec<Effect>,
    ) {
        self.clock = KitchenClock::read(self.now, wall.clone());
        self.forget_passing();
        let edited = edited.and_then(|(dish, text)| self.take_edited(dish, text, out));
        // Devices are found anew by every run of the program.
        self.dialogue.find_devices_anew();
        let mut parts = notes.to_vec();
        parts.push(if Span::millis(gap_ms) < AT_ONCE {
            "I am back.".to_owned()
        } else {
            let gap = words::about(Span::millis(gap_ms));
            format!("I was away for {gap}.")
        });
        // That tells the step as well.
        let tells_step = edited.is_none();
        parts.extend(edited);
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
                        self.oven_cue(t.origin, &say);
                    }
                }
                Ring::Due { id, .. } => self.changed(id, TimerChange::Due, out),
                Ring::Again { id } => parts.extend(self.rack.get(id).map(|t| self.ended_words(t))),
            }
        }
        let ringing = self.rack.ringing();
        parts.extend(ringing.iter().map(|t| self.ended_words(t)));
        if !ringing.is_empty() {
            loudest = Some(Chime::Due);
        }
        let look = look_of(&ringing);
        let live = self.rack.live(self.now);
        let mut silent = live
            .into_iter()
            .filter(|t| !matches!(t.state, TimerPhase::Ringing { .. }));
        parts.extend(silent.by_ref().take(NAMED).map(|t| self.left_words(t)));
        let more: Vec<String> = silent.map(|t| t.name.clone()).collect();
        match more.as_slice() {
            [] => {}
            [one] => parts.push(format!("{} runs too.", words::capital(one))),
            some if some.len() <= 2 * NAMED => {
                parts.push(format!("{} run too.", words::capital(&words::list(some))));
            }
            many => parts.push(format!("And {} more run.", words::count(many.len()))),
        }
        match self.step() {
            _ if self.dishes.are_several() => {
                let on: Vec<DishId> = self.dishes.on().collect();
                parts.extend(on.into_iter().map(|id| self.doing_words(id)));
            }
            Some(at) if tells_step && !self.is_finished() => {
                parts.push(format!("We are at step {}.", words::count(at + 1)));
            }
            _ => {}
        }
        if Span::millis(gap_ms) >= GIVEN_UP {
            parts.push("To begin anew, say goodbye and start me again.".to_owned());
        }
        if let Some((timer, question)) = look {
            self.dialogue.drop_doubt();
            self.dialogue.wait_for(Pending::Look { timer, question });
        }
        if self.dialogue.question().is_none()
            && let Some(at) = self.dish().called()
        {
            let question = self.on_scale_words(at);
            self.dialogue.wait_for(Pending::OnScale { question });
        }
        if let Some(p) = self.dialogue.question() {
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
