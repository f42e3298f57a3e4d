//! The plan for the hour of serving, kept while the cook works: what is late is noticed, and only what changed is said.

use super::{LATE_MIN, Service};
use crate::bench::Bench;
use crate::bench::dish::Dish;
use crate::bench::effect::{Chime, Effect, Why};
use crate::bench::pending::Pending;
use crate::bench::words;
use crate::formula::names_oven;
use crate::plan::{
    self, Block, BlockId, BlockPart, BlockProgress, Effort, Kitchen, Plan, PlanError, PlanItem,
    PlanStep, Reached,
};
use crate::time::{ClockTime, Minute, Moment, Span, Wall};
use crate::timer::{DishId, Origin, Timer, TimerPhase};

/// A cook who is ahead of the plan by this many minutes is told.
const AHEAD_MIN: i64 = 10;
/// A cue of the formula that lights the oven within this of the plan's own is left to say it.
const SAME_CUE: Span = Span::seconds(60);
/// Nights that a plan may need after the hour that is wanted.
const LATER_NIGHTS: i64 = 14;

impl Bench {
    // Orders.

    pub(in crate::bench) fn set_eat_at(&mut self, at: ClockTime, out: &mut Vec<Effect>) {
        let wanted = Minute::next(at, &self.wall_here());
        self.serve_at(wanted, Effort::AtOnce, out);
    }

    /// Plans for an hour; where that is too soon, offers the earliest.
    pub(in crate::bench) fn serve_at(
        &mut self,
        wanted: Minute,
        effort: Effort,
        out: &mut Vec<Effect>,
    ) {
        let wall = self.wall_here();
        let mut found = self.plan_for(wanted, effort);
        if effort == Effort::AtOnce && matches!(found, Err(PlanError::TooLate { .. })) {
            // Before it is said that an hour cannot be met, everything is tried.
            found = self.plan_for(wanted, Effort::Whole);
        }
        // While the cook thinks about the earliest hour, a minute goes by.
        if let Err(PlanError::TooLate { earliest, .. }) = &mut found {
            *earliest = earliest.plus(1);
        }
        match found {
            Ok((dishes, plan)) => {
                let text = format!(
                    "On the table at {}. {}",
                    plan::say_time(wanted, &wall),
                    self.start_words(&dishes, &plan)
                );
                let doubts = plan::say_doubts(&plan).join(" ");
                self.service = Some(Service::new(dishes, plan));
                self.tell(out, &text);
                if !doubts.is_empty() {
                    self.note(out, &doubts);
                }
            }
            Err(error) => {
                let PlanError::TooLate { earliest, .. } = error else {
                    self.tell(out, &plan::say_error(&error, &wall));
                    return;
                };
                let text = self.too_soon(wanted, &error);
                let question = format!("{text} Shall I plan for that?");
                let ready = earliest.to_five(&wall);
                self.put(Pending::offer(ready, question, self.now), out);
            }
        }
    }

    /// Why an hour cannot be met; with several dishes, which of them take longer even alone.
    pub(in crate::bench) fn too_soon(&self, wanted: Minute, error: &PlanError) -> String {
        let wall = self.wall_here();
        let PlanError::TooLate { earliest, .. } = error else {
            return plan::say_error(error, &wall);
        };
        let several = self.plan_items().ok().filter(|(ids, _)| ids.len() > 1);
        let (dishes, items) = several.unwrap_or_default();
        let alone = dishes.into_iter().zip(items).filter_map(|(id, item)| {
            let plan = self.plan_of((vec![id], vec![item]), wanted, Effort::AtOnce);
            matches!(plan, Err(PlanError::TooLate { .. })).then(|| self.dishes.the(id))
        });
        let slow: Vec<String> = alone.collect();
        plan::say_too_soon(*earliest, &words::list(&slow), &wall)
    }

    pub(in crate::bench) fn when_start(&mut self, out: &mut Vec<Effect>) {
        let text = match &self.service {
            Some(service) => self.start_words(&service.dishes, &service.now),
            None => format!(
                "{} Tell me when you want to eat, and I will tell you when to start.",
                self.table_words()
            ),
        };
        self.tell(out, &text);
    }

    /// When the food is on the table: `On the table at half past seven.`
    pub(in crate::bench) fn table_words(&self) -> String {
        let wall = self.wall_here();
        if let Some(service) = &self.service {
            return format!(
                "On the table at {}.",
                plan::say_time(service.now.ready_at, &wall)
            );
        }
        match self.plan_for(Minute::of(&wall), Effort::AtOnce) {
            Err(PlanError::TooLate { earliest, .. }) => format!(
                "Without a break from now, on the table at {}.",
                plan::say_time(earliest.to_five(&wall), &wall)
            ),
            Err(error) => plan::say_error(&error, &wall),
            Ok(_) => "It is ready.".to_owned(),
        }
    }

    /// What a dish that is done wants until the rest is: kept hot, for so long; nothing where it is not eaten hot, or
    /// where everything is ready soon.
    pub(in crate::bench) fn keep_hot_words(&self, dish: DishId) -> Option<String> {
        let service = self.service.as_ref()?;
        let (plan, place) = (&service.now, service.place_of(dish)?);
        plan.items[place].keeps?;
        let stands = plan.ready_at.since(Minute::of(&self.wall_here()));
        (stands >= plan::KEEP_HOT).then(|| plan::say_kept_hot(plan, place, stands))
    }

    /// The plan for the hour of serving as it stands, where one was asked for.
    pub fn plan(&self) -> Option<&Plan> {
        self.service.as_ref().map(Service::plan)
    }

    /// When everything is ready by the plan, as the clock shows it.
    pub(in crate::bench) fn ready_clock(&self) -> Option<String> {
        let ready = self.service.as_ref()?.now.ready_at;
        Some(ready.local(self.clock.wall()).clock())
    }

    /// What the plan has next; nothing without a plan, nor where a cue says as much at about the same time.
    pub(in crate::bench) fn next_in_plan(&self, cue: Option<Moment>) -> Option<String> {
        let service = self.service.as_ref()?;
        let wall = self.wall_here();
        let near = |at: Moment, other: Moment| at.since(other).max(other.since(at)) <= SAME_CUE;
        let running = self.running(service);
        let next = service
            .now
            .next(Minute::of(&wall), running)
            .map(|b| self.moment(b.start));
        match (next, cue) {
            (Some(next), Some(cue)) if near(next, cue) => None,
            _ => Some(plan::say_next(&service.now, &wall, running)),
        }
    }

    /// A cook who is well ahead of the plan need not hurry: what is finished would only stand.
    pub(in crate::bench) fn can_wait(&self, step: usize) -> Option<String> {
        let wall = self.wall_here();
        let service = self.service.as_ref()?;
        let (plan, here) = (&service.now, service.place_of(self.dishes.at_hand())?);
        let is_of_step =
            |b: &&Block| (b.id.dish, b.id.step) == (here, step) && b.id.part != BlockPart::Preheat;
        let start = plan.blocks.iter().find(is_of_step)?.start;
        (start.since(Minute::of(&wall)) >= AHEAD_MIN).then(|| {
            let (start, ready) = (
                plan::say_time(start, &wall),
                plan::say_time(plan.ready_at, &wall),
            );
            format!("For {ready} this can wait until {start}.")
        })
    }

    /// When to begin, or what comes next where the cook has begun.
    pub(in crate::bench) fn start_words(&self, dishes: &[DishId], plan: &Plan) -> String {
        let wall = self.wall_here();
        if self.has_begun() {
            plan::say_next(plan, &wall, self.running_of(dishes, plan))
        } else if plan.start() <= Minute::after(&wall) {
            "Start now.".to_owned()
        } else {
            plan::say_start(plan, &wall)
        }
    }

    fn has_begun(&self) -> bool {
        let mut on = self.dishes.on().filter_map(|id| self.dishes.get(id));
        on.any(|dish| dish.step().is_some())
            || self
                .rack
                .in_order(self.now)
                .iter()
                .any(|t| t.origin.is_some())
    }

    // The plan.

    /// The block that is under way, the one of the dish at hand first.
    fn running(&self, service: &Service) -> Option<BlockId> {
        self.running_of(&service.dishes, &service.now)
    }

    fn running_of(&self, dishes: &[DishId], plan: &Plan) -> Option<BlockId> {
        let here = dishes.iter().position(|id| *id == self.dishes.at_hand());
        let all = self.progress(dishes, &plan.items);
        let mut running = all
            .iter()
            .filter(|p| matches!(p.state, Reached::Running(_)) && p.id.part != BlockPart::Preheat);
        let at_hand = running.clone().find(|p| Some(p.id.dish) == here);
        at_hand.or_else(|| running.next()).map(|p| p.id)
    }

    /// The formulas as the plan sees them, with the times of this kitchen: of every dish that is not done. One without
    /// times is left out where another has some.
    fn plan_items(&self) -> Result<(Vec<DishId>, Vec<PlanItem>), PlanError> {
        let several = self.dishes.are_several();
        let (mut ids, mut items, mut trouble) = (Vec::new(), Vec::new(), None);
        for id in self.dishes.on() {
            let Some(dish) = self.dishes.get(id).filter(|d| !several || !d.is_finished()) else {
                continue;
            };
            let item = PlanItem::with_times(dish.formula(), |step, timer| {
                dish.time_of(&self.options, step, timer)
            });
            match item {
                Ok(item) => {
                    let known = dish.remembered();
                    let oven = known.oven().map(|own| own.lasts);
                    let mut item = item.at_home(oven, |title| known.work(title));
                    if several {
                        self.dishes.name(id).clone_into(&mut item.name);
                    }
                    ids.push(id);
                    items.push(item);
                }
                Err(e) => trouble = Some(e),
            }
        }
        match trouble {
            Some(e) if items.is_empty() => Err(e),
            _ if items.is_empty() => Err(PlanError::Nothing),
            _ => Ok((ids, items)),
        }
    }

    /// The kitchen, with its nights until a while after an hour.
    fn kitchen_until(&self, until: Minute, dishes: usize) -> Kitchen {
        let wall = self.wall_here();
        let days = until.since(Minute::of(&wall)).max(0) / 1440;
        self.options
            .kitchen(&wall, days + dishes as i64 + LATER_NIGHTS)
    }

    /// When the next work of each dish begins so that everything is ready as soon as possible; `done`: what the cook has
    /// in hand is done.
    pub(in crate::bench) fn soonest_starts(&self, done: bool) -> Vec<(DishId, Moment)> {
        let Ok((dishes, mut items)) = self.plan_items() else {
            return Vec::new();
        };
        // Nobody has been told when to light the oven: nothing waits for it to get hot.
        for item in &mut items {
            item.lead = 0;
        }
        let now = Minute::of(&self.wall_here());
        let mut progress = self.progress(&dishes, &items);
        let here = dishes.iter().position(|id| *id == self.dishes.at_hand());
        for p in progress.iter_mut().filter(|_| done) {
            let in_hand = Some(p.id.dish) == here && p.id.part == BlockPart::Hands;
            if in_hand && matches!(p.state, Reached::Running(_)) {
                let step = items[p.id.dish].steps.iter().find(|s| s.step == p.id.step);
                if step.is_some_and(|step| step.wait > 0) {
                    p.id.part = BlockPart::Wait;
                }
                p.state = Reached::Done(now);
            }
        }
        let kitchen = self.kitchen_until(now, dishes.len());
        let starts = plan::soonest_starts(&kitchen, &items, &progress, now);
        let each = dishes.into_iter().zip(starts.unwrap_or_default());
        each.filter_map(|(id, at)| Some((id, self.moment(at?))))
            .collect()
    }

    /// The plan from here on, and the dishes in it.
    pub(in crate::bench) fn plan_for(
        &self,
        wanted: Minute,
        effort: Effort,
    ) -> Result<(Vec<DishId>, Plan), PlanError> {
        self.plan_of(self.plan_items()?, wanted, effort)
    }

    fn plan_of(
        &self,
        (dishes, items): (Vec<DishId>, Vec<PlanItem>),
        wanted: Minute,
        effort: Effort,
    ) -> Result<(Vec<DishId>, Plan), PlanError> {
        let now = Minute::after(&self.wall_here());
        let progress = self.progress(&dishes, &items);
        if !self.has_begun() {
            let kitchen = self.kitchen_until(wanted, items.len());
            let plan = plan::schedule_with(effort, &kitchen, &items, wanted, now)?;
            return Ok((dishes, plan));
        }
        // A plan as if nothing were done, and then made again from what is done.
        let each = items
            .iter()
            .map(|item| item.lead + item.steps.iter().map(|s| s.hands + s.wait).sum::<i64>());
        let far = wanted.max(now.plus(each.sum()));
        let kitchen = self.kitchen_until(far, items.len());
        let mut whole = plan::schedule_with(effort, &kitchen, &items, far, now)?;
        whole.wanted_at = wanted;
        let (plan, _) = plan::replan(&whole, &progress, now);
        match plan.ready_at.since(wanted) {
            late @ 1.. => Err(PlanError::TooLate {
                earliest: plan.ready_at,
                late_min: late,
            }),
            _ => Ok((dishes, plan)),
        }
    }

    /// After the formula was edited: the plan for the same hour, or why there is none any more.
    pub(in crate::bench) fn plan_again(&mut self) -> Option<String> {
        let wanted = self.service.take()?.now.wanted_at;
        match self.plan_for(wanted, Effort::AtOnce) {
            Ok((dishes, plan)) => {
                self.service = Some(Service::new(dishes, plan));
                None
            }
            Err(error) => Some(format!(
                "{} The plan is gone: tell me again when you want to eat.",
                plan::say_error(&error, &self.wall_here())
            )),
        }
    }

    /// How far the cook has come with each dish: the furthest block that is done or runs, and the oven.
    fn progress(&self, dishes: &[DishId], items: &[PlanItem]) -> Vec<BlockProgress> {
        let each = dishes.iter().zip(items).enumerate();
        each.flat_map(|(at, (id, item))| self.progress_of(at, *id, item))
            .collect()
    }

    fn progress_of(&self, at: usize, of: DishId, item: &PlanItem) -> Vec<BlockProgress> {
        let Some(dish) = self.dishes.get(of) else {
            return Vec::new();
        };
        let id = |step: usize, part| BlockId {
            dish: at,
            step,
            part,
        };
        let furthest = item.steps.iter().rev().find_map(|step| {
            self.reached(of, dish, step)
                .map(|(part, state)| (step.step, part, state))
        });
        let mut all: Vec<BlockProgress> = furthest
            .map(|(step, part, state)| BlockProgress {
                id: id(step, part),
                state,
            })
            .into_iter()
            .collect();
        let here = furthest.map_or(0, |(step, ..)| step + 1);
        let oven = item.steps.iter().find(|s| s.heat_c.is_some() && !s.lights);
        if let Some(oven) = oven.filter(|s| s.step >= here) {
            all.push(BlockProgress {
                id: id(oven.step, BlockPart::Preheat),
                state: match dish.lit() {
                    Some(lit) => Reached::Done(self.minute(lit).plus(item.lead)),
                    None => Reached::NotYet,
                },
            });
        }
        all
    }

    /// Which part of a step is done or runs; nothing where the cook has not come to it.
    fn reached(&self, of: DishId, dish: &Dish, step: &PlanStep) -> Option<(BlockPart, Reached)> {
        let now = self.minute(self.now);
        if let Some(timer) = self.planned_timer(of, step) {
            let until = |m: Moment| Reached::Running(self.minute(m).max(now));
            return Some(match timer.state {
                TimerPhase::Over { due } if timer.look.is_none() => {
                    (BlockPart::Wait, Reached::Done(self.minute(due)))
                }
                TimerPhase::Running { due }
                | TimerPhase::Ringing { due, .. }
                | TimerPhase::Over { due } => (BlockPart::Wait, until(due)),
                TimerPhase::Paused { left } => (BlockPart::Wait, until(self.now.plus(left))),
            });
        }
        let last = if step.wait > 0 {
            BlockPart::Wait
        } else {
            BlockPart::Hands
        };
        if let Some(at) = dish.waited(step.step).filter(|_| step.wait > 0) {
            return Some((BlockPart::Wait, Reached::Done(self.minute(at))));
        }
        let passed = |at: usize| at > step.step || dish.is_left() && at == step.step;
        match dish.step() {
            Some(at) if passed(at) || dish.is_finished() => {
                let since = dish.entered(at).filter(|_| !dish.is_finished());
                Some((last, Reached::Done(self.minute(since.unwrap_or(self.now)))))
            }
            Some(at) if at == step.step && step.hands > 0 => {
                let minutes = u64::try_from(step.hands).unwrap_or(0);
                let since = dish.entered(at).unwrap_or(self.now);
                let until = self.minute(since.plus(Span::minutes(minutes)));
                Some((BlockPart::Hands, Reached::Running(until.max(now))))
            }
            _ => None,
        }
    }

    /// The timer that decides a step's wait, once it has been started.
    fn planned_timer(&self, of: DishId, step: &PlanStep) -> Option<&Timer> {
        let name = step.timer.as_deref()?;
        let origin = Origin {
            dish: of,
            step: step.step,
        };
        self.rack
            .in_order(self.now)
            .into_iter()
            .find(|t| t.origin == Some(origin) && t.written.as_deref() == Some(name))
    }

    // The wall clock in minutes.

    /// How many minutes late the food will be by the plan; none without a plan.
    pub(in crate::bench) fn minutes_late(&self) -> Option<i64> {
        self.service.as_ref().map(Service::late)
    }

    /// When the oven is to be lit by the plan, in words.
    pub(in crate::bench) fn oven_time(&self) -> Option<String> {
        let service = self.service.as_ref()?;
        let block = self.to_light(service)?;
        Some(plan::say_time(block.start, &self.wall_here()))
    }

    /// The wall clock at this moment.
    pub(in crate::bench) fn wall_here(&self) -> Wall {
        self.clock.wall_at(self.now)
    }

    /// The minute nearest to a moment.
    fn minute(&self, at: Moment) -> Minute {
        self.clock.minute(at)
    }

    /// The moment at which a minute begins.
    pub(in crate::bench) fn moment(&self, at: Minute) -> Moment {
        self.clock.moment(at)
    }

    // Live.

    /// After every event: what the plan wants now, and the plan made again from what really happened.
    pub(in crate::bench) fn follow(&mut self, out: &mut Vec<Effect>) {
        let Some(mut service) = self.service.take() else {
            return;
        };
        let progress = self.progress(&service.dishes, &service.told.items);
        let is_last = |p: &BlockProgress| {
            let last = service.told.items[p.id.dish].steps.last();
            last.is_some_and(|step| p.id.step == step.step)
        };
        let all_done = (0..service.dishes.len()).all(|at| {
            let mut work = progress.iter().filter(|p| is_work(p) && p.id.dish == at);
            work.any(|p| is_last(p) && matches!(p.state, Reached::Done(_)))
        });
        if all_done {
            return;
        }
        self.begin(&mut service, &progress, out);
        self.light_oven(&service, &progress, out);
        let minute = Minute::of(&self.wall_here());
        let same = service.progress == progress && service.made == Some(minute);
        if !(same && self.dishes.are_several()) {
            self.make_again(&mut service, progress, out);
            service.made = Some(minute);
        }
        service.wake = self.next_look(&service);
        self.service = Some(service);
    }

    /// At its hour: that it is time to begin, with each dish.
    fn begin(&mut self, service: &mut Service, progress: &[BlockProgress], out: &mut Vec<Effect>) {
        for at in 0..service.dishes.len() {
            let has_begun = progress.iter().any(|p| is_work(p) && p.id.dish == at);
            let due = self.begins(service, at).is_some_and(|at| at <= self.now);
            if has_begun || !due || !service.begun_told.insert(at) {
                continue;
            }
            // At once after the order there is nothing to remind of.
            if service.wake.is_some() {
                let table = plan::say_time(service.told.ready_at, &self.wall_here());
                let text = if self.dishes.are_several() {
                    let the = self.dishes.the(service.dishes[at]);
                    format!("It is time to start {the}, for {table}.")
                } else {
                    format!("It is time to start, for {table}.")
                };
                self.alarm(Chime::Cue, 1, &text, out);
            }
        }
    }

    /// When a dish is to be begun: its first work, or the whole of a dish that is alone.
    fn begins(&self, service: &Service, at: usize) -> Option<Moment> {
        if !self.dishes.are_several() {
            return Some(self.moment(service.told.start()));
        }
        let mut blocks = service.now.blocks.iter();
        let first = blocks.find(|b| b.id.dish == at && b.id.part != BlockPart::Preheat)?;
        Some(self.moment(first.start))
    }

    /// At its time: that the oven is to be lit, unless a cue of the formula says it.
    fn light_oven(&mut self, service: &Service, progress: &[BlockProgress], out: &mut Vec<Effect>) {
        let Some(block) = self.to_light(service) else {
            return;
        };
        let waits = progress
            .iter()
            .any(|p| p.id.part == BlockPart::Preheat && p.id.dish == block.id.dish);
        if waits && self.moment(block.start) <= self.now && !self.formula_lights() {
            let text = words::sentence(&plan::say_what(&service.now, block));
            let now = self.now;
            if let Some(dish) = self.dishes.get_mut(service.dishes[block.id.dish]) {
                dish.light(now);
            }
            self.alarm(Chime::Cue, 1, &text, out);
        }
    }

    /// The lighting of the oven, while it has not been told.
    fn to_light<'a>(&self, service: &'a Service) -> Option<&'a Block> {
        let waits = |block: &&Block| {
            let dish = self.dishes.get(service.dishes[block.id.dish]);
            block.id.part == BlockPart::Preheat && dish.is_some_and(|dish| dish.lit().is_none())
        };
        service.now.blocks.iter().find(waits)
    }

    /// A running timer is about to say that the oven is to be lit.
    fn formula_lights(&self) -> bool {
        self.rack.live(self.now).iter().any(|t| {
            t.upcoming(self.now)
                .any(|(at, say)| names_oven(say) && at.since(self.now) <= SAME_CUE)
        })
    }

    /// A cue of the formula is about to be said; false where it lights an oven that the plan has had lit already.
    pub(in crate::bench) fn oven_cue(&mut self, origin: Option<Origin>, say: &str) -> bool {
        let for_later = origin.is_some_and(|origin| {
            let dish = self.dishes.get(origin.dish);
            dish.map(Dish::formula).is_some_and(|f| {
                f.steps[origin.step].oven_c.is_none() && f.oven_comes_after(origin.step)
            })
        });
        if !(for_later && names_oven(say)) {
            return true;
        }
        let (now, planned) = (self.now, self.service.is_some());
        let dish = origin.and_then(|origin| self.dishes.get_mut(origin.dish));
        let told = dish.is_some_and(|dish| {
            let told = planned && dish.lit().is_some();
            dish.light(now);
            told
        });
        !told
    }

    /// Makes the plan again, and tells what changed when it is the cook's doing or has become enough.
    fn make_again(
        &mut self,
        service: &mut Service,
        progress: Vec<BlockProgress>,
        out: &mut Vec<Effect>,
    ) {
        let wall = self.wall_here();
        let (now, changes) = plan::replan(&service.told, &progress, Minute::after(&wall));
        let by = now.ready_at.since(service.told.ready_at);
        let lengthened = progress.iter().any(|after| {
            let before = service.progress.iter().find(|b| b.id == after.id);
            before.is_some_and(|before| before.state != after.state) && self.runs(service, after)
        });
        service.now = now;
        service.progress = progress;
        let late = service.late();
        if by == 0 || !(lengthened || by <= -LATE_MIN || (by > 0 && late >= service.tell_at)) {
            return;
        }
        let mut text = plan::say_changes(&service.now, &changes, &wall);
        if !self.has_begun() {
            text = format!("We have not begun. {}", self.table_words_of(&service.now));
        }
        service.told = service.now.clone();
        service.tell_at = if late > 0 {
            late + late.max(LATE_MIN)
        } else {
            LATE_MIN
        };
        // `again` says the answer and what it moves.
        let answer = match out.last() {
            Some(Effect::Say {
                text,
                why: Why::Answer,
            }) => format!("{text} "),
            _ => String::new(),
        };
        self.note(out, &text);
        self.dialogue.set_last(format!("{answer}{text}"));
    }

    fn table_words_of(&self, plan: &Plan) -> String {
        format!(
            "If you start now, on the table at {}.",
            plan::say_time(plan.ready_at, &self.wall_here())
        )
    }

    /// Does its timer run towards an end, so that another end is the cook's doing?
    fn runs(&self, service: &Service, progress: &BlockProgress) -> bool {
        let Reached::Running(until) = progress.state else {
            return false;
        };
        progress.id.part == BlockPart::Wait && until > self.minute(self.now) && {
            let origin = Origin {
                dish: service.dishes[progress.id.dish],
                step: progress.id.step,
            };
            let of_step = |t: &&Timer| t.origin == Some(origin);
            self.rack
                .live(self.now)
                .iter()
                .find(|t| of_step(t))
                .is_some_and(|t| matches!(t.state, TimerPhase::Running { .. }))
        }
    }

    /// When the plan next has something to do.
    fn next_look(&self, service: &Service) -> Option<Moment> {
        let until = |p: &BlockProgress| match p.state {
            Reached::Running(until) => self.moment(until),
            Reached::Done(_) | Reached::NotYet => self.now,
        };
        let work = service.progress.iter().filter(|p| is_work(p));
        let until = work.map(until).min();
        let until = until.unwrap_or_else(|| self.moment(service.told.start()));
        let more = u64::try_from((service.tell_at - service.late()).max(1)).unwrap_or(1);
        let late = until.max(self.now).plus(Span::minutes(more));
        let has_begun = |at: usize| {
            service
                .progress
                .iter()
                .any(|p| is_work(p) && p.id.dish == at)
        };
        let begin = (0..service.dishes.len())
            .filter(|at| !has_begun(*at) && !service.begun_told.contains(at))
            .filter_map(|at| self.begins(service, at))
            .min();
        let light = self.to_light(service).map(|block| self.moment(block.start));
        [Some(late), begin, light]
            .into_iter()
            .flatten()
            .filter(|at| *at > self.now)
            .min()
    }
}

/// It is about the work, and not about the oven that gets hot for it.
fn is_work(p: &BlockProgress) -> bool {
    p.id.part != BlockPart::Preheat
}
