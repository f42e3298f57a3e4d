//! Timers, alarms and the clock.

use super::Bench;
use super::context::is_rise;
use super::effect::{Effect, TimerChange, Why};
use super::event::Device;
use super::length;
use super::own_time::{Belief, believe};
use super::pending::Pending;
use super::words;
use crate::formula::TimerSpec;
use crate::order::{Order, TimerRef};
use crate::time::{Moment, Span};
use crate::timer::{DishId, Mark, Origin, Timer, TimerNamed, TimerPhase};

/// A timer that the cook has answered is still told of this long.
const JUST_OVER_MS: i64 = 15 * 60_000;

/// Words for how many more timers there are.
const AND_MORE: usize = 3;

/// What was learnt of how long something takes here.
pub(super) enum Learnt {
    /// It is in the log, or nothing is known of it.
    Kept,
    /// Nobody looked for longer than half of its time, so that nothing is known.
    Unseen,
    /// It is far from what is written: the cook is to say whether it counts.
    Doubtful(Effect),
    /// It cannot be.
    Impossible,
}

impl Bench {
    /// The look says that it is done.
    pub(super) fn looked(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.rack.answer(id, self.now);
        self.changed(id, TimerChange::Answered, out);
        out.push(Effect::Hush);
        let Some((t, learnt)) = self.seen(id, out) else {
            return;
        };
        let took = words::about(self.now.since(t.started));
        let name = words::capital(&words::the(&t.name));
        let text = match learnt {
            Learnt::Kept => format!("Good. {name} took {took}.{}", self.go_on_hint()),
            Learnt::Unseen => "Good. That was too long ago for me to count it.".to_owned(),
            Learnt::Impossible => format!(
                "Good. {name} took {took}. That is too far from the formula for me to count it."
            ),
            Learnt::Doubtful(effect) => {
                let question = format!(
                    "Good. {name} took {took}. That is far from the formula: shall I remember it for next time?"
                );
                self.put(Pending::keep(effect, question, self.now), out);
                return;
            }
        };
        self.tell(out, &text);
    }

    /// What was looked for is seen: the timer goes, and the time that it really took goes to the bake log where it can be
    /// believed.
    pub(super) fn seen(&mut self, id: u32, out: &mut Vec<Effect>) -> Option<(Timer, Learnt)> {
        let t = self.rack.remove(id)?;
        self.over(&t);
        let spec = self.spec_of(&t).cloned();
        let unseen = u64::try_from(-t.left_ms(self.now)).unwrap_or(0);
        if unseen > t.lasts.as_millis() / 2 {
            return Some((t, Learnt::Unseen));
        }
        let (Some(origin), Some(spec), Some(dish)) = (t.origin, spec, self.dishes.dish_of(&t))
        else {
            return Some((t, Learnt::Kept));
        };
        let room_c = self.options.room_of(dish.formula(), origin.step, &spec);
        let took = self.now.since(t.started);
        let belief = believe(took, spec.lasts, room_c);
        let effect = Effect::Took {
            dish: origin.dish,
            room_c,
            timer: spec.name,
            planned: spec.lasts,
            took,
            asked: belief == Belief::Ask,
        };
        let learnt = match belief {
            Belief::Sure => {
                out.push(effect);
                Learnt::Kept
            }
            Belief::Ask => Learnt::Doubtful(effect),
            Belief::Never => Learnt::Impossible,
        };
        Some((t, learnt))
    }

    /// A timer of the formula is over by the cook's word.
    fn over(&mut self, t: &Timer) {
        let now = self.now;
        if let (Some(origin), Some(dish)) = (t.origin, self.dishes.dish_of_mut(t)) {
            dish.wait_is_over(origin.step, now);
        }
    }

    /// What the formula says of a timer.
    fn spec_of(&self, t: &Timer) -> Option<&TimerSpec> {
        self.dishes.dish_of(t)?.spec_of(t)
    }

    /// The look says that it needs longer.
    pub(super) fn longer(&mut self, id: u32, by: Option<Span>, out: &mut Vec<Effect>) {
        let Some(t) = self.rack.get(id) else { return };
        let by = by.unwrap_or_else(|| self.a_little(t));
        let name = t.name.clone();
        out.push(Effect::Hush);
        self.rack.add(id, by, self.now);
        self.changed(id, TimerChange::Changed, out);
        let ready = self.clock_at(self.now.plus(self.left_of(id)));
        self.tell(
            out,
            &format!(
                "{} more for {}, until {ready}.",
                words::capital(&words::span(by)),
                words::the(&name)
            ),
        );
    }

    /// A quarter of the time that it takes here, whole minutes, five at least (common practice, no source: look often
    /// near the end). That time has the room in it, where the room is known.
    fn a_little(&self, t: &Timer) -> Span {
        let whole = match (t.origin, self.dishes.dish_of(t), self.spec_of(t)) {
            (Some(origin), Some(dish), Some(spec)) => {
                dish.time_of(&self.options, origin.step, spec)
            }
            _ => t.lasts,
        };
        Span::minutes((whole.as_seconds() / 240).max(5))
    }

    fn left_of(&self, id: u32) -> Span {
        Span::millis(
            self.rack
                .get(id)
                .map_or(0, |t| u64::try_from(t.left_ms(self.now)).unwrap_or(0)),
        )
    }

    pub(super) fn needs_longer(&mut self, by: Option<Span>, out: &mut Vec<Effect>) {
        let id = match self.dialogue.question() {
            Some(Pending::Look { timer, .. }) => Some(*timer),
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
            None => self.tell(out, "No rise is running."),
        }
    }

    pub(super) fn start_offered(&mut self, out: &mut Vec<Effect>) {
        if let (Some(step), Some(spec)) = (self.step(), self.dish().offered().cloned()) {
            let lasts = self.dish().time_of(&self.options, step, &spec);
            self.start_spec(&spec.lasting(lasts), Some(step), out);
        } else if let Some(held) = self
            .rack
            .live(self.now)
            .into_iter()
            .find(|t| matches!(t.state, TimerPhase::Paused { .. }))
            .map(|t| TimerRef::Id(t.id))
        {
            self.resume(Some(&held), out);
        } else if self.step().is_none() {
            // 'Let us start', 'go', at the very beginning.
            self.next(out);
        } else {
            let hint = self.hint(
                "Say how long: start a timer for ten minutes.",
                "Enter the minutes, then star.",
            );
            self.tell(out, &format!("No timer is offered here.{hint}"));
        }
    }

    fn start_spec(&mut self, spec: &TimerSpec, step: Option<usize>, out: &mut Vec<Effect>) {
        if let Some(step) = step {
            self.dish_mut().begin(step, &spec.name);
        }
        let origin = step.map(|step| self.dishes.origin(step));
        let cues = marks(spec);
        let mut look = spec.look.clone();
        let here = self.dishes.at_hand();
        let several = origin.is_some() && self.dishes.are_several();
        if several {
            // Heard while the cook is at another dish, it is told which.
            let the = words::capital(&self.dishes.the(here));
            look = look.map(|look| format!("{the}: {}", words::lower_first(&look)));
        }
        if let Some(origin) = origin {
            self.end_before(origin, out);
        }
        let id = self
            .rack
            .start(&spec.name, spec.lasts, cues, look, origin, self.now);
        if several {
            let name = self.timer_called(here, &spec.name);
            self.rack.rename(id, &name);
        }
        self.started(id, out);
    }

    /// What came due of a step is dealt with when the step's next timer starts: its alarm rings no more.
    fn end_before(&mut self, step: Origin, out: &mut Vec<Effect>) {
        let due: Vec<(u32, bool)> = self
            .rack
            .in_order(self.now)
            .into_iter()
            .filter(|t| t.origin == Some(step) && t.has_come_due())
            .map(|t| (t.id, t.look.is_some()))
            .collect();
        for (id, looked_at) in due {
            if looked_at {
                self.seen(id, out);
            } else {
                self.rack.answer(id, self.now);
                self.changed(id, TimerChange::Answered, out);
            }
        }
        self.rack.deal_with(step);
    }

    fn started(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Started, out);
        self.names_changed(out);
        let Some(t) = self.rack.get(id) else { return };
        let ready = self.clock_at(self.now.plus(t.lasts));
        let most = self
            .spec_of(t)
            .filter(|spec| spec.lasts == t.lasts)
            .and_then(|spec| spec.most);
        let (name, lasts) = (
            words::capital(&words::timer(&t.name)),
            words::window(t.lasts, most),
        );
        let mut text = if self.options.brief {
            format!("{name}, until {ready}.")
        } else if most.is_some() {
            format!("{name} started: {lasts}. I ask at {ready}.")
        } else {
            format!("{name} started: {lasts}, until {ready}.")
        };
        // A step may offer several, one after the other.
        if t.written.is_some()
            && t.origin == self.step().map(|step| self.dishes.origin(step))
            && let Some(next) = self.dish().offered()
        {
            text = format!("{text} {}", self.offer_words(next));
        }
        self.tell(out, &text);
    }

    /// The recogniser should know the names of the cook's own timers.
    pub(super) fn names_changed(&mut self, out: &mut Vec<Effect>) {
        let live = self.rack.live(self.now);
        let timers: Vec<(u32, String)> = live.iter().map(|t| (t.id, t.name.clone())).collect();
        self.lexicon = self.lexicon.clone().with_timers(timers);
        out.push(Effect::Vocabulary);
    }

    pub(super) fn start_timer(
        &mut self,
        lasts: Option<Span>,
        name: Option<String>,
        out: &mut Vec<Effect>,
    ) {
        // 'Start the custard' at its first step is no word about the timer of its last.
        if lasts.is_none()
            && let Some(dish) = name.as_deref().and_then(|name| self.dish_to_begin(name))
        {
            self.go_to_dish(dish, out);
            return;
        }
        // A timer of the formula by its name, without a length, is the formula's own.
        if let Some(wanted) = &name {
            let name = wanted.trim().to_lowercase();
            let spec = self.formula().timers().find(|(_, t)| t.name == name);
            if let Some((s, spec)) = spec.map(|(s, t)| (s, t.clone())) {
                let own = || self.dish().time_of(&self.options, s, &spec);
                let lasts = lasts.unwrap_or_else(own);
                let behind = self.step_behind(s);
                self.start_spec(&spec.lasting(lasts), Some(s), out);
                if let Some(text) = behind {
                    self.dialogue.aside(out, &text, Why::Answer);
                }
                return;
            }
        }
        // That of another dish by its dish and its name: `soup simmer`.
        let of_dish = |id: DishId| {
            let formula = self.dishes.get(id)?.formula();
            let called = |t: &TimerSpec| self.timer_called(id, &t.name);
            let (step, spec) = formula
                .timers()
                .find(|(_, t)| name.as_ref().is_some_and(|n| *n == called(t)))?;
            Some((id, step, spec.clone()))
        };
        let found = self
            .dishes
            .are_several()
            .then(|| self.dishes.on().find_map(of_dish));
        if let Some((id, step, spec)) = found.flatten() {
            self.while_at(id, |bench| {
                let own = || bench.dish().time_of(&bench.options, step, &spec);
                let lasts = lasts.unwrap_or_else(own);
                bench.start_spec(&spec.lasting(lasts), Some(step), out);
            });
            return;
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
                    Some(n) => format!("How long for {}?", words::the(n)),
                    None => "How long?".to_owned(),
                };
                self.put(Pending::how_long(name, question, self.now), out);
            }
        }
    }

    /// What is said where a timer of a later step is started than the one that the cook is at.
    fn step_behind(&self, of: usize) -> Option<String> {
        let at = self.step().filter(|at| *at < of && !self.is_finished())?;
        // The last thing of a step may be said of the next one's timer.
        if of == at + 1 && self.dish().called().is_none() && self.dish().offered().is_none() {
            return None;
        }
        let (of, at) = (of as f64 + 1.0, at as f64 + 1.0);
        Some(format!(
            "That is of step {}; for me you are still at step {}.",
            words::number(of),
            words::number(at)
        ))
    }

    /// The timers that may be meant; the error is the sentence to say.
    fn timers_meant(&self, which: Option<&TimerRef>) -> Result<Vec<u32>, String> {
        match which {
            Some(TimerRef::Id(id)) if self.rack.get(*id).is_some() => return Ok(vec![*id]),
            Some(TimerRef::Id(_)) => return Err("That timer is no longer there.".to_owned()),
            Some(TimerRef::Said(name)) => {
                return match self.rack.find(name) {
                    TimerNamed::One(id) => Ok(vec![id]),
                    TimerNamed::Several(ids) => Ok(self.of_dish_at_hand(ids)),
                    TimerNamed::None => Err(format!("No timer is called {name}.")),
                };
            }
            None => {}
        }
        let ids = |timers: &[&Timer]| timers.iter().map(|t| t.id).collect::<Vec<_>>();
        let ringing = self.rack.ringing();
        if let [one] = ringing.as_slice() {
            return Ok(vec![one.id]);
        }
        let live = self.rack.live(self.now);
        if !live.is_empty() {
            return Ok(self.of_dish_at_hand(ids(&live)));
        }
        match self.rack.in_order(self.now).first() {
            Some(last) => Ok(vec![last.id]),
            None => Err("No timer is running.".to_owned()),
        }
    }

    /// Where several dishes are made, the one timer among these that is the dish's at hand, where there is one.
    fn of_dish_at_hand(&self, ids: Vec<u32>) -> Vec<u32> {
        let here = self.dishes.at_hand();
        let is_here = |id: &&u32| {
            let origin = self.rack.get(**id).and_then(|t| t.origin);
            origin.is_some_and(|o| o.dish == here)
        };
        let mine: Vec<u32> = ids.iter().filter(is_here).copied().collect();
        match mine.as_slice() {
            [_] if self.dishes.are_several() => mine,
            _ => ids,
        }
    }

    /// The one timer meant, when it is clear which.
    pub(super) fn one_timer(&self, which: Option<&TimerRef>) -> Option<u32> {
        match self.timers_meant(which).ok()?.as_slice() {
            [one] => Some(*one),
            _ => None,
        }
    }

    /// The one timer meant, or the sentence said. Which of several was asked before.
    pub(super) fn timer(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) -> Option<u32> {
        match self.timers_meant(which) {
            Ok(ids) => ids.first().copied(),
            Err(text) => {
                self.tell(out, &text);
                None
            }
        }
    }

    /// Asks which timer an order for one is meant for, when it may be several.
    pub(super) fn asks_which(&mut self, order: &Order, out: &mut Vec<Effect>) -> bool {
        let Some(name) = self.timer_wanted(order) else {
            return false;
        };
        let Ok(ids) = self.timers_meant(name.as_ref()) else {
            return false;
        };
        if ids.len() < 2 {
            return false;
        }
        let names: Vec<String> = ids
            .iter()
            .filter_map(|id| self.rack.get(*id))
            .map(|t| t.name.clone())
            .collect();
        let mut said: Vec<String> = names.iter().take(4).map(|n| words::the(n)).collect();
        if names.len() > said.len() {
            said.push("another".to_owned());
        }
        let question = format!("Which one: {}?", words::or_list(&said));
        let readings = ids
            .into_iter()
            .filter_map(|id| order.for_timer(TimerRef::Id(id)))
            .collect();
        self.put(Pending::which(readings, question, self.now), out);
        true
    }

    /// The timer of an order that is for one; nothing for what may be for all of them.
    #[expect(
        clippy::option_option,
        reason = "an order for any timer and an order for none are two things"
    )]
    fn timer_wanted(&self, order: &Order) -> Option<Option<TimerRef>> {
        let timer = order.timer()?;
        let of_one = timer.is_some()
            || match order {
                // Without a name a cue goes into the timer that was started last.
                Order::AddCue { .. } => false,
                // What is held is what is meant, when only one is.
                Order::ResumeTimer { .. } => self.held().len() > 1,
                _ => !order.only_asks(),
            };
        of_one.then_some(timer)
    }

    /// The timers that are held.
    fn held(&self) -> Vec<u32> {
        self.rack
            .live(self.now)
            .iter()
            .filter(|t| matches!(t.state, TimerPhase::Paused { .. }))
            .map(|t| t.id)
            .collect()
    }

    pub(super) fn left_words(&self, t: &Timer) -> String {
        let left = t.left_ms(self.now);
        let held = if matches!(t.state, TimerPhase::Paused { .. }) {
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

    /// Every live timer and what is left on it, and those that ended within the last quarter of an hour and are not dealt
    /// with.
    fn left_and_over(&self) -> String {
        let just_over = |t: &&Timer| {
            !t.is_live() && t.silenced.is_some() && t.left_ms(self.now) > -JUST_OVER_MS
        };
        let over = self.rack.in_order(self.now).into_iter().filter(just_over);
        std::iter::once(self.all_left())
            .chain(over.map(|t| self.left_words(t)))
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// Every live timer and what is left on it.
    pub(super) fn all_left(&self) -> String {
        let live = self.rack.live(self.now);
        if live.is_empty() {
            return "No timer is running.".to_owned();
        }
        let most = self.at_most(length::TIMERS) - AND_MORE;
        let mut said: Vec<String> = Vec::new();
        for t in &live {
            let words = self.left_words(t);
            let so_far: usize = said.iter().map(|s| length::count(s)).sum();
            if !said.is_empty() && so_far + length::count(&words) > most {
                break;
            }
            said.push(words);
        }
        match live.len() - said.len() {
            0 => {}
            more => said.push(format!("And {} more.", words::count(more))),
        }
        said.join(" ")
    }

    pub(super) fn time_left(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let text = match which {
            None => match (self.rack.live_count(), self.rack.in_order(self.now).first()) {
                (0, Some(t)) => self.left_words(t),
                _ => self.left_and_over(),
            },
            Some(_) => {
                let Some(id) = self.timer(which, out) else {
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

    pub(super) fn ready_when(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        // `when is the bread ready` asks for the bread, where no timer has that name.
        let whole = match which {
            None => true,
            Some(TimerRef::Said(words)) => self.rack.find(words) == TimerNamed::None,
            Some(TimerRef::Id(_)) => false,
        };
        if whole && self.rack.live_count() == 0 {
            let text = self.table_words();
            self.tell(out, &text);
            return;
        }
        if whole && (self.rack.live_count() > 1 || self.service.is_some()) {
            let mut lines: Vec<String> = self
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
            if self.service.is_some() {
                lines.push(self.table_words());
            }
            self.tell(out, &lines.join(" "));
            return;
        }
        let Some(id) = self.timer(which, out) else {
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

    pub(super) fn add_time(&mut self, by: Span, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
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

    pub(super) fn take_time(&mut self, by: Span, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
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
    }

    pub(super) fn pause(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
            return;
        };
        if let Some(t) = self.rack.get(id)
            && t.look.is_some()
            && self.spec_of(t).is_some_and(|spec| is_rise(&spec.name))
        {
            let (name, left) = (words::the(&t.name), self.left_words(t));
            let text = format!("The dough goes on rising, so {name} cannot be held. {left}");
            self.tell(out, &text);
            return;
        }
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
            let name = words::capital(&words::the(&t.name));
            self.tell(out, &format!("{name} is not running."));
        }
    }

    pub(super) fn resume(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let id = match (which, self.held().as_slice()) {
            (None, [one]) => *one,
            (None, []) => {
                self.tell(out, "No timer is held.");
                return;
            }
            _ => match self.timer(which, out) {
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
                    "{} running again: {} left.",
                    words::capital(&t.name),
                    words::left(t.left_ms(self.now))
                ),
            );
        } else {
            let name = words::capital(&words::the(&t.name));
            self.tell(out, &format!("{name} is not held."));
        }
    }

    pub(super) fn restart(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
            return;
        };
        self.rack.restart(id, self.now);
        self.started(id, out);
    }

    pub(super) fn rename(&mut self, which: Option<&TimerRef>, to: &str, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
            return;
        };
        let Some(new) = self.rack.rename(id, to) else {
            return;
        };
        self.changed(id, TimerChange::Renamed, out);
        self.names_changed(out);
        self.tell(out, &format!("It is called {new} now."));
    }

    pub(super) fn stop_timer(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        let Some(id) = self.timer(which, out) else {
            return;
        };
        self.drop_timer(id, out);
        self.names_changed(out);
    }

    fn drop_timer(&mut self, id: u32, out: &mut Vec<Effect>) {
        self.changed(id, TimerChange::Stopped, out);
        self.dialogue.drop_look(|timer| timer == id);
        out.push(Effect::Hush);
        if let Some(t) = self.rack.remove(id) {
            self.over(&t);
            if let (Some(origin), Some(dish)) = (t.origin, self.dishes.dish_of_mut(&t)) {
                dish.offer_again(origin.step, t.written.as_deref());
            }
            self.tell(
                out,
                &format!("{} stopped.", words::capital(&words::timer(&t.name))),
            );
        }
    }

    /// While something rings, what rings is silenced and what runs goes on; else every timer stops.
    pub(super) fn stop_all(&mut self, out: &mut Vec<Effect>) {
        if self.answer_all_alarms(out) {
            let running = self.rack.live_count();
            let text = match running {
                0 => "All silent.".to_owned(),
                _ => format!("All silent. {}", self.all_left()),
            };
            self.tell(out, &text);
            return;
        }
        // What was silenced and still comes back is over with as well.
        let nags = self.rack.deal_with_all();
        self.dialogue.drop_look(|timer| nags.contains(&timer));
        let all: Vec<u32> = self.rack.live(self.now).iter().map(|t| t.id).collect();
        if all.is_empty() {
            out.push(Effect::Hush);
            let text = if nags.is_empty() {
                "No timer is running."
            } else {
                "All silent. No timer is running."
            };
            self.tell(out, text);
            return;
        }
        for id in &all {
            self.changed(*id, TimerChange::Stopped, out);
            if let Some(t) = self.rack.remove(*id) {
                self.over(&t);
            }
        }
        self.dialogue.drop_look(|_| true);
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
        // A cue counts for itself: the timer that ends first need not be what happens first.
        let running = self.rack.live(self.now).into_iter();
        let running = running.filter(|t| matches!(t.state, TimerPhase::Running { .. }));
        let next = running
            .map(|t| {
                let due = Moment(self.now.0.saturating_add_signed(t.left_ms(self.now)));
                match t.next_cue(self.now) {
                    Some((at, say)) if at < due => (at, Some(say), t),
                    _ => (due, None, t),
                }
            })
            .min_by_key(|(at, ..)| *at);
        let cue = next.as_ref().and_then(|(at, say, _)| say.map(|_| *at));
        let timer = next.map(|(at, say, t)| {
            let clock = self.clock_at(at);
            match say {
                Some(say) => {
                    let (name, say) = (words::the(&t.name), words::clause(say));
                    format!("At {clock}, in {name}: {say}.")
                }
                None => format!("{} at {clock}.", words::capital(&t.name)),
            }
        });
        let plan = self.next_in_plan(cue);
        let both: Vec<String> = timer.into_iter().chain(plan).collect();
        let text = match both.as_slice() {
            [] => "Nothing is on the clock.".to_owned(),
            both => both.join(" "),
        };
        self.tell(out, &text);
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

    pub(super) fn device(
        &mut self,
        device: Device,
        present: bool,
        note: &str,
        out: &mut Vec<Effect>,
    ) {
        if !self.dialogue.device(device, present, note) {
            return;
        }
        let hint = match (device, self.step()) {
            (Device::Microphone | Device::Model, None) if !present => {
                self.hint("", "Enter begins; hold a key to hear what it does.")
            }
            _ => String::new(),
        };
        self.note(out, &format!("{}{hint}", words::sentence(note)));
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
