//! Whose turn it is, where several dishes are made: `next` goes where the plan wants the cook.
//!
//! With an hour of serving the plan decides: the dish whose next work it has earliest. Without one it is the plan by which
//! everything is ready as soon as possible. Where nothing can be planned, the dish that has the longest way to go comes first
//! as soon as it wants hands, so that its waits are used for the others (Schrage's rule for one pair of hands). What has just come from the oven, and what rings, comes before either. The turn is taken with the event
//! and stands in the journal: another plan makes nothing else of what was done.

use super::Bench;
use super::dish::{Dish, SLIP, TO_THE_LAST};
use super::effect::Effect;
use super::pending::Pending;
use super::taken::{Taken, Turn};
use super::words;
use crate::order::{DishRef, Order};
use crate::plan::Kitchen;
use crate::time::{Moment, Span};
use crate::timer::{DishId, Origin, Timer, TimerPhase};

/// The cook stays at a dish whose way is shorter than the longest by no more than this: turning costs attention.
const STAYS: Span = Span::minutes(15);
/// Work that the plan has no earlier than this from now is asked about, not begun.
const SOON: Span = Span::minutes(10);

/// How a dish stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stand {
    /// Not begun.
    Before,
    /// The cook has a step in hand.
    Inside(usize),
    /// The timer of a step runs or is held; it ends then.
    Waits(usize, Moment),
    /// The timer of a step rings.
    Rings(usize),
    /// A step is done; the one after it is to come.
    Goes(usize),
    /// All steps are done.
    Done,
}

impl Bench {
    /// How a dish stands; `done`: what the cook has in hand there is done.
    pub(super) fn stand(&self, id: DishId, done: bool) -> Stand {
        let Some(dish) = self.dishes.get(id) else {
            return Stand::Done;
        };
        let at = match dish.step() {
            _ if dish.is_finished() => return Stand::Done,
            None => return Stand::Before,
            Some(at) => at,
        };
        if dish.is_left() {
            return Stand::Goes(at);
        }
        match self.timer_waited_for(id, dish, at).map(|t| (t, t.state)) {
            Some((_, TimerPhase::Running { due })) => Stand::Waits(at, due),
            Some((_, TimerPhase::Paused { left })) => Stand::Waits(at, self.now.plus(left)),
            Some((_, TimerPhase::Ringing { .. })) => Stand::Rings(at),
            Some((_, TimerPhase::Over { .. })) => Stand::Goes(at),
            None if done || dish.waited(at).is_some() => Stand::Goes(at),
            None => Stand::Inside(at),
        }
    }

    /// The timer of a step that its dish waits for.
    pub(super) fn timer_waited_for(&self, id: DishId, dish: &Dish, at: usize) -> Option<&Timer> {
        let origin = Some(Origin { dish: id, step: at });
        let all = self.rack.in_order(self.now);
        let mut of_step = all.into_iter().filter(|t| {
            let alongside = dish.spec_of(t).is_some_and(|spec| spec.alongside);
            t.origin == origin && !alongside
        });
        of_step.next()
    }

    /// The last step of a dish is done.
    fn ends(&self, id: DishId, stand: Stand) -> bool {
        let steps = self.dishes.get(id).map(|d| d.formula().steps.len());
        matches!(stand, Stand::Goes(at) if Some(at + 1) == steps)
    }

    /// Dishes away from hand whose last step is done are done: that is told before what comes next.
    fn end_others(&mut self, out: &mut Vec<Effect>) {
        let here = self.dishes.at_hand();
        let on: Vec<DishId> = self.dishes.on().filter(|id| *id != here).collect();
        for id in on {
            if !self.ends(id, self.stand(id, false)) {
                continue;
            }
            self.while_at(id, |bench| {
                if let Some(at) = bench.step() {
                    bench.leave_step(at, out);
                }
                let (now, steps) = (bench.now, bench.formula().steps.len());
                bench.dish_mut().enter(steps, now);
            });
            let the = words::capital(&self.dishes.the(id));
            self.dialogue.lead_with(&format!("{the} is done."));
            if let Some(hot) = self.keep_hot_words(id) {
                self.dialogue.lead_with(&hot);
            }
        }
    }

    /// What a dish has still to go, hands and waits: nothing when it is done.
    fn way_to_go(&self, id: DishId) -> Span {
        let Some(dish) = self.dishes.get(id).filter(|d| !d.is_finished()) else {
            return Span::ZERO;
        };
        let from = dish.step().map_or(0, |at| at + 1);
        let steps = dish.formula().steps.iter().enumerate().skip(from);
        let ms = steps.map(|(at, step)| {
            let waits = step.timers.iter().filter(|t| !t.alongside);
            let waits = waits.map(|t| dish.time_of(&self.options, at, t).as_millis());
            step.hands_on.as_millis() + waits.max().unwrap_or(0)
        });
        Span::millis(ms.sum())
    }

    /// Every oven has another heat than a dish wants next.
    fn oven_is_taken(&self, id: DishId, stand: Stand) -> bool {
        let heat = |id: DishId, step: usize| self.dishes.get(id)?.formula().steps.get(step)?.oven_c;
        let next = match stand {
            Stand::Before => 0,
            Stand::Goes(at) => at + 1,
            _ => return false,
        };
        let Some(wanted) = heat(id, next) else {
            return false;
        };
        let mut others: Vec<f64> = Vec::new();
        for other in self.dishes.on().filter(|other| *other != id) {
            if let Stand::Waits(at, _) = self.stand(other, false)
                && let Some(is) = heat(other, at)
                && !others.iter().any(|near| Kitchen::shares(*near, is))
            {
                others.push(is);
            }
        }
        let shared = others.iter().any(|is| Kitchen::shares(*is, wanted));
        !shared && others.len() >= usize::from(self.options.ovens)
    }

    /// Whose turn it is; `done`: what the cook has in hand is done.
    pub(super) fn whose_turn(&self, done: bool) -> Turn {
        let here = self.dishes.at_hand();
        let mut wants: Vec<(DishId, Stand)> = Vec::new();
        for id in self.dishes.on() {
            let stand = self.stand(id, done && id == here);
            // The end of a dish is told on the way.
            let is_over = stand == Stand::Done || self.ends(id, stand);
            if !is_over && !matches!(stand, Stand::Waits(..)) {
                wants.push((id, stand));
            }
        }
        let is_off = |id: DishId| self.dishes.get(id).and_then(|d| d.is_off(self.now));
        if wants.iter().any(|(id, _)| is_off(*id).is_none()) {
            wants.retain(|(id, _)| is_off(*id).is_none());
        } else {
            // Where a time was said, it is kept; the others wait no longer.
            wants.retain(|(id, _)| is_off(*id) == Some(TO_THE_LAST));
        }
        // What was left in the middle of a step is in the other cook's hands.
        let with_other = |(id, stand): &(DishId, Stand)| {
            self.options.cooks > 1 && *id != here && matches!(stand, Stand::Inside(_))
        };
        if !wants.iter().all(with_other) {
            wants.retain(|want| !with_other(want));
        }
        // What wants another heat waits for the oven.
        wants.retain(|(id, stand)| !self.oven_is_taken(*id, *stand));
        let from_oven = |(id, stand): &(DishId, Stand)| match stand {
            Stand::Rings(at) | Stand::Goes(at) => {
                let dish = self.dishes.get(*id);
                let hot = dish.is_some_and(|d| d.formula().steps[*at].oven_c.is_some());
                hot || matches!(stand, Stand::Rings(_))
            }
            _ => false,
        };
        if let Some((dish, _)) = wants.iter().find(|w| from_oven(w)) {
            return Turn::Of { dish: *dish };
        }
        let starts = self.starts(&wants, done);
        let first = starts.iter().map(|(dish, at)| {
            let at = (*at).max(self.now);
            (at, *dish != here, *dish)
        });
        // The dish at hand where several are to have begun.
        match first.min() {
            Some((at, true, dish)) if at.since(self.now) >= SOON => Turn::Soon { dish, at },
            Some((_, _, dish)) => Turn::Of { dish },
            None => match self.by_the_way(&wants) {
                Some(dish) => Turn::Of { dish },
                None => Turn::Nobody,
            },
        }
    }

    /// When the next work of those that want the cook begins, by the plan for the hour of serving or by the one that is
    /// ready soonest.
    fn starts(&self, wants: &[(DishId, Stand)], done: bool) -> Vec<(DishId, Moment)> {
        if self.service.is_some() {
            let planned = wants
                .iter()
                .map(|(id, _)| Some((*id, self.planned_start(*id)?)));
            return planned.flatten().collect();
        }
        // One alone is not weighed against another.
        if wants.len() < 2 {
            return Vec::new();
        }
        let mut starts = self.soonest_starts(done);
        starts.retain(|(id, _)| wants.iter().any(|(want, _)| want == id));
        starts
    }

    /// The one that has the longest way to go, or nearly.
    fn by_the_way(&self, wants: &[(DishId, Stand)]) -> Option<DishId> {
        let here = self.dishes.at_hand();
        let longest = wants.iter().map(|(id, _)| self.way_to_go(*id)).max()?;
        let stays =
            |id: DishId| self.way_to_go(id).as_millis() + STAYS.as_millis() >= longest.as_millis();
        let mut ids = wants.iter().map(|(id, _)| *id);
        ids.clone()
            .find(|id| *id == here && stays(*id))
            .or_else(|| ids.find(|id| self.way_to_go(*id) == longest))
    }

    /// With an order that may go on: whose turn it is now.
    pub(super) fn with_turn(&self, taken: Taken) -> Taken {
        match taken {
            Taken::Order { order }
                if self.dishes.are_several()
                    && matches!(order, Order::Next | Order::Done | Order::Yes)
                    && self.dish().called().is_none() =>
            {
                Taken::GoOn {
                    order,
                    turn: self.whose_turn(true),
                }
            }
            other => other,
        }
    }

    /// `next` where several dishes are made.
    pub(super) fn next_of_all(&mut self, out: &mut Vec<Effect>) {
        let here = self.dishes.at_hand();
        if self.dish().called().is_some() {
            self.done(out);
            return;
        }
        self.dishes.take_came();
        let turn = self.turn.unwrap_or_else(|| self.whose_turn(true));
        let ends = self.ends(here, self.stand(here, true));
        if let Some(spec) = self.dish().offered().filter(|spec| !spec.alongside) {
            // The plan counts on the wait: it is not passed over unasked.
            let name = words::the(&spec.name);
            let lasts = self.step().map_or(spec.lasts, |at| {
                self.dish().time_of(&self.options, at, spec)
            });
            let lasts = words::window(lasts, spec.most.filter(|_| lasts == spec.lasts));
            let question = format!("Shall I start {name}, {lasts}?");
            self.put(
                Pending::confirm(Order::StartOffered, question, self.now),
                out,
            );
            return;
        }
        if let Turn::Soon { dish, at } = turn
            && !ends
        {
            let (the, when) = (self.dishes.the(dish), self.clock_at(at));
            let question = format!("Nothing wants you until {when}: then {the}. Begin it now?");
            let order = Order::GoToDish {
                dish: DishRef(dish.0),
            };
            self.put(Pending::confirm(order, question, self.now), out);
            return;
        }
        self.end_others(out);
        let skipped = self.dish().offered().map(|spec| spec.name.clone());
        let to = match turn {
            Turn::Of { dish } if self.dishes.is_on(dish) => Some(dish),
            _ => None,
        };
        if ends {
            self.end_here(to.is_none(), out);
        }
        match to {
            Some(to) if to == here => {
                self.next_here(out);
                return;
            }
            Some(to) => {
                if let (false, Some(at)) = (ends, self.step())
                    && matches!(self.stand(here, true), Stand::Goes(_))
                    && !self.dish().is_left()
                {
                    self.leave_step(at, out);
                    self.dish_mut().leave();
                }
                if !ends {
                    let the = self.dishes.the(here);
                    if self.step().is_some() && !self.is_finished() {
                        self.dialogue.lead_with(&format!("Leave {the}."));
                    }
                }
                self.turn_to(to, out);
                let entered = self.take_up(out);
                self.dishes.note_came(here, self.now, entered);
            }
            None if self.all_done() && !ends => {
                self.tell_the_end(out, "That was the last step.");
            }
            None if !ends => {
                let text = self.until_needed_words();
                self.tell(out, &text);
            }
            None => {}
        }
        if let Some(timer) = skipped.filter(|_| to.is_some()) {
            self.tell_not_started(&timer, out);
        }
    }

    /// The last step of the dish at hand is done. Where nothing else wants the cook that is told here, else on the way.
    fn end_here(&mut self, alone: bool, out: &mut Vec<Effect>) {
        if let Some(at) = self.step() {
            self.leave_step(at, out);
        }
        let (now, steps) = (self.now, self.formula().steps.len());
        self.dish_mut().enter(steps, now);
        if self.all_done() {
            self.tell_last_step(out);
            return;
        }
        let the = self.dishes.the(self.dishes.at_hand());
        let mut text = self.with_forgotten(format!("That was the last step of {the}."));
        if let Some(hot) = self.keep_hot_words(self.dishes.at_hand()) {
            text = format!("{text} {hot}");
        }
        if alone {
            let needed = self.until_needed_words();
            self.tell(out, &format!("{text} {needed}"));
        } else {
            self.dialogue.lead_with(&text);
        }
    }

    /// Every dish is done.
    pub(super) fn all_done(&self) -> bool {
        let mut on = self.dishes.on();
        on.all(|id| self.dishes.get(id).is_some_and(Dish::is_finished))
    }

    /// The cook turns to a dish: what can be said is what it has.
    pub(super) fn turn_to(&mut self, dish: DishId, out: &mut Vec<Effect>) {
        if dish == self.dishes.at_hand() {
            return;
        }
        self.dishes.turn_to(dish);
        self.dialogue.drop_step_look();
        self.name_anew(out);
    }

    /// At the dish that the cook has turned to: what there is to do. True where a step was entered.
    pub(super) fn take_up(&mut self, out: &mut Vec<Effect>) -> bool {
        let here = self.dishes.at_hand();
        let the = words::capital(&self.dishes.the(here));
        self.dish_mut().put_off(None);
        match self.stand(here, false) {
            Stand::Before => {
                self.dialogue.lead_with(&format!("{the}:"));
                self.enter(0, out);
                true
            }
            Stand::Goes(at) => {
                self.leave_step(at, out);
                if at + 1 == self.formula().steps.len() {
                    self.end_here(true, out);
                } else {
                    self.dialogue.lead_with(&format!("{the}:"));
                    self.enter(at + 1, out);
                }
                true
            }
            Stand::Inside(at) => {
                self.dialogue.lead_with(&format!("{the}:"));
                self.say_step(at, out);
                false
            }
            Stand::Waits(..) | Stand::Rings(_) | Stand::Done => {
                let text = self.doing_words(here);
                self.tell(out, &text);
                false
            }
        }
    }

    /// Going back at once from where `next` led: to the dish before. False where it is no such slip.
    pub(super) fn back_to_dish(&mut self, out: &mut Vec<Effect>) -> bool {
        let Some((from, when, entered)) = self.dishes.take_came() else {
            return false;
        };
        if self.now.since(when) > SLIP || !self.dishes.is_on(from) {
            return false;
        }
        if entered {
            self.dish_mut().go_back();
        }
        self.turn_to(from, out);
        if self.is_finished() || self.dish().is_left() {
            self.dish_mut().go_back();
        }
        let the = self.dishes.the(from);
        self.dialogue.lead_with(&format!("Back to {the}:"));
        match self.step() {
            Some(at) => {
                let now = self.now;
                self.dish_mut().take_back_slip(at, now);
                self.say_step(at, out);
            }
            None => self.tell(out, "Not begun."),
        }
        true
    }

    /// Does something for a dish, and comes back to the one at hand.
    pub(super) fn while_at<T>(&mut self, dish: DishId, deed: impl FnOnce(&mut Self) -> T) -> T {
        let here = self.dishes.at_hand();
        self.dishes.turn_to(dish);
        let done = deed(self);
        if self.dishes.at_hand() == dish {
            self.dishes.turn_to(here);
        }
        done
    }

    /// `next` again, where the timer of the step was offered: it goes on without.
    pub(super) fn pass_over_timer(&mut self, out: &mut Vec<Effect>) {
        let offered = self.dish().offered().map(|spec| spec.name.clone());
        if let (Some(at), Some(timer)) = (self.step(), offered) {
            self.dish_mut().begin(at, &timer);
            self.tell_not_started(&timer, out);
        }
    }
}
