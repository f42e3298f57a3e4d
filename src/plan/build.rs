//! From formulas to knots and links, and from times back to blocks.

use super::effort::Effort;
use super::item::{PlanItem, PlanStep};
use super::kitchen::{Kitchen, SHARED_C};
use super::plan::{Block, BlockId, BlockPart, Plan, PlannedDish, Waived};
use super::problem::{Busy, Choice, Cost, Course, Link, Point, Problem, Solution, Use};
use super::search::{best, keep_to};
use crate::time::Minute;

/// How much a minute counts that hot food stands; of other food, one.
const HOT_COUNTS: i64 = 3;
/// So much more standing is worth an order that the cook knows.
const STEADY: i64 = 10;
/// And how much more a minute in which it is kept hot for longer than is good.
const SPOILS_COUNTS: i64 = 20;

/// How far a dish has come; the default is 'not begun'.
#[derive(Debug, Clone, Default)]
pub(super) struct Standing {
    /// Blocks (without the lighting of the oven) that are done or running, with their times so far.
    pub past: Vec<(BlockPart, usize, i64, i64)>,
    /// The last of them still runs.
    pub running: bool,
    /// The oven is on for this step: since when, when it is hot, and whether it was lit for it.
    pub lit: Vec<(usize, i64, i64, bool)>,
}

/// Everything that a plan is built from.
pub(super) struct Build<'a> {
    pub items: &'a [PlanItem],
    pub standing: &'a [Standing],
    /// Nothing starts before.
    pub now: i64,
    /// How closely the plan must follow what is already under way.
    pub grip: Grip,
    pub kitchen: &'a Kitchen,
    /// What the plan need not keep to.
    pub waived: Waived,
    pub effort: Effort,
}

/// How closely a plan follows what is already under way; the kitchen may have got itself where no plan would.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Grip {
    /// What runs keeps the cook and the oven, and what must follow it without a gap does so.
    Firm,
    /// What must follow it may be late.
    Late,
    /// Nor does what runs keep anything busy.
    Loose,
}

/// A block still to come.
struct Coming {
    id: BlockId,
    at: Point,
    lasts: i64,
}

/// The parts of a step that take time.
fn parts(step: &PlanStep) -> impl Iterator<Item = (BlockPart, i64)> {
    [(BlockPart::Hands, step.hands), (BlockPart::Wait, step.wait)]
        .into_iter()
        .filter(|(_, lasts)| *lasts > 0)
}

impl Build<'_> {
    /// The best plan with everything ready at `ready`.
    pub(super) fn latest_for(&self, ready: i64, hint: Option<&Choice>) -> Option<Solution> {
        // What runs already may end too late whatever is done next.
        let runs_on = |s: &Standing| s.running && s.past.last().is_some_and(|past| past.3 > ready);
        if self.standing.iter().any(runs_on) {
            return None;
        }
        let (problem, cost) = self.aim(ready);
        best(&problem, cost, hint, self.effort)
    }

    /// The plan for an hour in the order of another plan, where it is nearly as good as the best.
    pub(super) fn like(&self, old: &Plan, ready: i64, best: &Solution) -> Option<Solution> {
        let (problem, cost) = self.aim(ready);
        let choice = self.orders_of(&problem, old, ready, &best.chosen.apart)?;
        let found = keep_to(&problem, cost, &choice)?;
        (found.cost[0] <= best.cost[0] + STEADY).then(|| Solution {
            proven: best.proven && found.cost == best.cost,
            bound: best.bound,
            ..found
        })
    }

    /// The orders that another plan has, for the same hour or a later one.
    pub(super) fn as_in(&self, old: &Plan, ready: i64) -> Option<Choice> {
        let (problem, _) = self.problem(ready);
        self.orders_of(&problem, old, ready, &[])
    }

    fn orders_of(
        &self,
        problem: &Problem,
        old: &Plan,
        ready: i64,
        apart: &[(usize, usize)],
    ) -> Option<Choice> {
        let (_, coming) = self.problem(ready);
        let mut times = problem.ceiling()?;
        for one in &coming {
            if let Some(block) = old.block(one.id) {
                times[one.at.knot] = block.start.0 - one.at.after;
            }
        }
        Some(problem.orders(&problem.clashes(), &times, apart))
    }

    /// The problem for an hour, and what is aimed at: that finished food stands least, then that the first thing
    /// begins latest, then that every dish does.
    pub(super) fn aim(&self, ready: i64) -> (Problem, impl Fn(&[i64]) -> Cost + use<>) {
        let (problem, _) = self.problem(ready);
        let courses = problem.courses.clone();
        let cost = move |times: &[i64]| {
            let (mut stands, mut first, mut begun) = (0, 0, 0);
            for course in &courses {
                let stood = ready - Problem::at(times, course.ends);
                let spoils = course.keeps.map_or(0, |keeps| (stood - keeps).max(0));
                stands += (stood - course.free).max(0) * course.weight + spoils * SPOILS_COUNTS;
                let before = ready - Problem::begins(times, course);
                first = first.max(before);
                begun += before;
            }
            [stands, first, begun]
        };
        (problem, cost)
    }

    /// The soonest that everything can be ready, and the orders that make it so.
    /// `like` may name orders that are known to work.
    pub(super) fn soonest(&self, like: Option<&Choice>) -> Option<(i64, Choice)> {
        let (found, _) = self.forwards(like)?;
        Some((found.cost[0], found.chosen.turned()))
    }

    /// When the next work of each dish begins where everything is ready as soon as possible.
    pub(super) fn soonest_starts(&self) -> Option<Vec<Option<Minute>>> {
        let (found, coming) = self.forwards(None)?;
        // There time runs backwards.
        let start = |one: &Coming| Minute(one.at.after - found.times[one.at.knot]);
        let work = coming.iter().filter(|one| one.id.part == BlockPart::Hands);
        let first = |dish: usize| {
            let own = work.clone().filter(|one| one.id.dish == dish);
            own.map(start).min()
        };
        Some((0..self.items.len()).map(first).collect())
    }

    /// The plan by which everything is ready soonest, in time that runs backwards.
    fn forwards(&self, like: Option<&Choice>) -> Option<(Solution, Vec<Coming>)> {
        // One dish after another, each with its oven heated anew, always fits.
        let after: i64 = self
            .items
            .iter()
            .flat_map(|item| item.steps.iter())
            .map(|s| s.hands + s.wait + s.heat_c.map_or(0, |c| self.kitchen.cooling(c, 0.0)))
            .sum::<i64>()
            + self
                .items
                .iter()
                .map(|i| i.lead * i.steps.len() as i64)
                .sum::<i64>();
        // Each night may hold up whatever was to be done in it.
        let after = if self.sleeps() {
            4 * after + 3 * 1440
        } else {
            after
        };
        let busy_until = self
            .standing
            .iter()
            .flat_map(|s| s.past.iter().map(|(_, _, _, end)| *end))
            .chain(
                self.standing
                    .iter()
                    .flat_map(|s| s.lit.iter().map(|(_, _, hot, _)| *hot)),
            )
            .max()
            .unwrap_or(self.now);
        let (problem, coming) = self.problem(busy_until.max(self.now) + after);
        let mirrored = problem.mirrored();
        let ends = |times: &[i64]| -> Vec<i64> {
            mirrored
                .courses
                .iter()
                .map(|course| -Problem::at(times, course.ends))
                .collect()
        };
        let found = best(
            &mirrored,
            |times| {
                let ends = ends(times);
                let last = ends.iter().copied().max().unwrap_or(self.now);
                [last, ends.iter().sum(), 0]
            },
            like.map(Choice::turned).as_ref(),
            self.effort,
        )?;
        Some((found, coming))
    }

    /// The cook sleeps, and the plan keeps to it.
    fn sleeps(&self) -> bool {
        !(self.waived.sleep || self.kitchen.asleep.is_empty())
    }

    fn problem(&self, ready: i64) -> (Problem, Vec<Coming>) {
        let mut problem = Problem {
            kitchen: self.kitchen.clone(),
            ..Problem::default()
        };
        if self.sleeps() {
            let asleep = self.kitchen.asleep.iter();
            problem.asleep = asleep.map(|(from, to)| (from.0, to.0)).collect();
        }
        // A dish keeps to one oven.
        for _ in self.items {
            problem.unit();
        }
        let mut coming = Vec::new();
        let now = problem.knot(self.now, self.now);
        for (dish, (item, standing)) in self.items.iter().zip(self.standing).enumerate() {
            self.add(&mut problem, &mut coming, now, ready, dish, item, standing);
        }
        (problem, coming)
    }

    #[allow(clippy::too_many_arguments)]
    fn add(
        &self,
        problem: &mut Problem,
        coming: &mut Vec<Coming>,
        now: usize,
        ready: i64,
        dish: usize,
        item: &PlanItem,
        standing: &Standing,
    ) {
        let since_now = |time: i64| Point {
            knot: now,
            after: time - self.now,
        };
        // What runs keeps the cook and the oven until it ends.
        let last = standing.past.last().copied();
        let running = last.filter(|_| standing.running);
        let release = running.map_or(self.now, |(_, _, _, end)| end.max(self.now));
        let over = &standing.past[..standing.past.len() - usize::from(running.is_some())];
        if self.grip < Grip::Loose {
            let mut hold = |what, from, to| {
                let unit = unit_of(problem, dish, what);
                problem.busy.push(Busy {
                    dish,
                    what,
                    from: since_now(from),
                    to: since_now(to),
                    lead: 0,
                    unit,
                    fixed: true,
                });
            };
            // What is out of the oven has left it hot.
            for &(_, at, from, end) in over {
                if let Some(heat) = item.steps[at].heat_c {
                    hold(Use::Oven(heat), from, end);
                }
            }
            if let Some((part, at, ..)) = running {
                let step = &item.steps[at];
                if part == BlockPart::Hands {
                    hold(Use::Hands, self.now, release);
                }
                if let Some(heat) = step.heat_c {
                    hold(Use::Oven(heat), self.now, release);
                }
                if step.hob {
                    hold(Use::Hob, self.now, release);
                }
            }
        }

        // Where it has begun stays where it is, and counts as it did when the plan was made: whatever is best of what
        // is left is then what was best of the whole.
        let lit = standing.lit.iter().map(|(_, lit, _, _)| *lit);
        let past = standing.past.iter().map(|(_, _, from, _)| *from);
        let mut course = Course {
            begins: lit.chain(past).map(since_now).collect(),
            ends: since_now(release),
            free: item.steps.last().map_or(0, |step| step.stretch),
            weight: if item.keeps.is_some() { HOT_COUNTS } else { 1 },
            keeps: item.keeps,
        };
        // Where the previous block ends, its part and its place among the steps.
        let mut before: Option<(Point, BlockPart, usize)> =
            last.map(|(part, at, _, _)| (since_now(release), part, at));
        let mut is_past = last.is_some();
        // Where the dish last had something in the oven.
        let mut oven_until: Option<Point> = None;

        for (place, step) in item.steps.iter().enumerate() {
            let mut oven_from: Option<Point> = None;
            let mut hob_from: Option<Point> = None;
            for (part, lasts) in parts(step) {
                if last.is_some_and(|(p, at, _, _)| (place, part) <= (at, p)) {
                    if step.heat_c.is_some() {
                        oven_until = Some(since_now(release));
                    }
                    continue;
                }
                let joined = before.is_some_and(|(_, previous, at)| {
                    at == place || (previous == BlockPart::Wait && item.steps[at].heat_c.is_some())
                });
                let at = match before {
                    Some((end, _, _)) if joined && !is_past => end,
                    Some(_) if is_past => {
                        let latest = match (joined, last, self.grip) {
                            (true, _, Grip::Firm) => release,
                            (false, Some((_, at, _, end)), Grip::Firm) => self
                                .may_wait(item, at, place)
                                .map_or(ready, |most| ready.min(end + most))
                                .max(release),
                            _ => ready.max(release),
                        };
                        Point {
                            knot: problem.knot(release, latest),
                            after: 0,
                        }
                    }
                    Some((end, _, at)) => {
                        let knot = problem.knot(self.now, ready);
                        problem.links.push(Link {
                            first: end.knot,
                            then: knot,
                            gap: end.after,
                        });
                        if let Some(most) = self.may_wait(item, at, place) {
                            problem.links.push(Link {
                                first: knot,
                                then: end.knot,
                                gap: -(end.after + most),
                            });
                        }
                        Point { knot, after: 0 }
                    }
                    None => Point {
                        knot: problem.knot(self.now, ready),
                        after: 0,
                    },
                };
                is_past = false;
                let end = Point {
                    after: at.after + lasts,
                    ..at
                };
                if let Some(heat) = step.heat_c
                    && oven_from.is_none()
                {
                    let starts_here = !standing.past.iter().any(|(_, past, _, _)| *past == place);
                    if starts_here && !step.lights {
                        self.heat_up(
                            problem,
                            coming,
                            &mut course,
                            now,
                            dish,
                            item,
                            standing,
                            place,
                            heat,
                            at,
                            oven_until.filter(|_| item.keeps_oven(place)),
                        );
                    }
                    oven_from = Some(at);
                }
                if step.hob {
                    hob_from.get_or_insert(at);
                }
                if part == BlockPart::Hands {
                    let unit = problem.unit();
                    problem.busy.push(Busy {
                        dish,
                        what: Use::Hands,
                        from: at,
                        to: end,
                        lead: 0,
                        unit,
                        fixed: false,
                    });
                }
                // No work in the night, and nothing on a heat that nobody watches.
                if part == BlockPart::Hands || step.heat_c.is_some() || step.hob {
                    problem.awake.push((at, end));
                }
                course.begins.push(at);
                course.ends = end;
                coming.push(Coming {
                    id: BlockId {
                        dish,
                        step: step.step,
                        part,
                    },
                    at,
                    lasts,
                });
                before = Some((end, part, place));
            }
            if let (Some(heat), Some(from)) = (step.heat_c, oven_from) {
                problem.busy.push(Busy {
                    dish,
                    what: Use::Oven(heat),
                    from,
                    to: course.ends,
                    lead: 0,
                    unit: dish,
                    fixed: false,
                });
                oven_until = Some(course.ends);
            }
            if let Some(from) = hob_from {
                problem.busy.push(Busy {
                    dish,
                    what: Use::Hob,
                    from,
                    to: course.ends,
                    lead: 0,
                    unit: dish,
                    fixed: false,
                });
            }
        }
        // The dish's last knot ends by the hour; its links pull the rest.
        if course.ends.knot != now {
            let high = &mut problem.bounds[course.ends.knot].1;
            *high = (*high).min(ready - course.ends.after);
        }
        if !course.begins.is_empty() {
            problem.courses.push(course);
        }
    }

    /// The oven gets hot before a step, unless the dish itself has kept it hot.
    #[allow(clippy::too_many_arguments)]
    fn heat_up(
        &self,
        problem: &mut Problem,
        coming: &mut Vec<Coming>,
        course: &mut Course,
        now: usize,
        dish: usize,
        item: &PlanItem,
        standing: &Standing,
        place: usize,
        heat: f64,
        at: Point,
        kept_since: Option<Point>,
    ) {
        let low = &mut problem.bounds[at.knot].0;
        let lit = standing.lit.iter().find(|(lit, ..)| *lit == place);
        let from = if let Some((_, _, hot, _)) = lit {
            *low = (*low).max(hot - at.after);
            if self.grip == Grip::Loose {
                return;
            }
            Point {
                knot: now,
                after: 0,
            }
        } else if let Some(kept) = kept_since {
            kept
        } else {
            *low = (*low).max(self.now + item.lead - at.after);
            let from = Point {
                after: at.after - item.lead,
                ..at
            };
            if item.lead > 0 {
                course.begins.push(from);
                coming.push(Coming {
                    id: BlockId {
                        dish,
                        step: item.steps[place].step,
                        part: BlockPart::Preheat,
                    },
                    at: from,
                    lasts: item.lead,
                });
            }
            from
        };
        if from.knot == at.knot {
            problem.awake.push((from, at));
        }
        problem.busy.push(Busy {
            dish,
            what: Use::Oven(heat),
            from,
            to: at,
            // What is lit already waits for nothing to cool.
            lead: match lit {
                Some(_) => i64::MAX,
                None if from.knot == at.knot => item.lead,
                None => 0,
            },
            unit: dish,
            fixed: false,
        });
    }

    /// How long after one step of a dish another may begin at the most.
    fn may_wait(&self, item: &PlanItem, before: usize, after: usize) -> Option<i64> {
        Some(item.steps[after].within? + item.steps[before].stretch)
    }

    /// The plan at the times that were found.
    pub(super) fn plan(&self, found: &Solution, ready_at: Minute, wanted_at: Minute) -> Plan {
        let (problem, coming) = self.problem(ready_at.0);
        let units = found.chosen.units(problem.units).unwrap_or_default();
        let mut blocks: Vec<Block> = Vec::new();
        for (dish, (item, standing)) in self.items.iter().zip(self.standing).enumerate() {
            for (place, from, hot, own) in &standing.lit {
                if *own {
                    blocks.push(block(item, dish, *place, BlockPart::Preheat, *from, *hot));
                }
            }
            for (part, place, from, to) in &standing.past {
                blocks.push(block(item, dish, *place, *part, *from, *to));
            }
        }
        for one in &coming {
            let item = &self.items[one.id.dish];
            let start = Problem::at(&found.times, one.at);
            if let Some(place) = item.steps.iter().position(|s| s.step == one.id.step)
                && !(one.id.part == BlockPart::Preheat
                    && hot_already(
                        &problem,
                        &found.times,
                        one.id.dish,
                        item.steps[place].heat_c,
                        start,
                        &units,
                    ))
            {
                blocks.push(block(
                    item,
                    one.id.dish,
                    place,
                    one.id.part,
                    start,
                    start + one.lasts,
                ));
            }
        }
        self.stretch(&mut blocks);
        for block in &mut blocks {
            block.unit = unit_at(&problem, &found.times, block, &units);
        }
        blocks.sort_by_key(|block| (block.start, block.end, block.id));
        let dishes = self
            .items
            .iter()
            .enumerate()
            .map(|(dish, item)| {
                let own = || blocks.iter().filter(move |b| b.id.dish == dish);
                PlannedDish {
                    name: item.name.clone(),
                    start: own().map(|b| b.start).min().unwrap_or(ready_at),
                    ready: own().map(|b| b.end).max().unwrap_or(ready_at),
                }
            })
            .collect();
        let stood_too_long = |(item, dish): (&PlanItem, &PlannedDish)| {
            item.keeps
                .is_some_and(|keeps| ready_at.since(dish.ready) > keeps)
        };
        let hot = self.items.iter().zip(&dishes).any(stood_too_long);
        Plan {
            ready_at,
            wanted_at,
            dishes,
            blocks,
            proven: found.proven,
            stands: (found.cost[0], found.bound[0]),
            waived: Waived { hot, ..self.waived },
            kitchen: self.kitchen.clone(),
            items: self.items.to_vec(),
        }
    }

    /// A wait in the cold goes on until the next step begins, as long as it may.
    fn stretch(&self, blocks: &mut [Block]) {
        for at in 0..blocks.len() {
            let id = blocks[at].id;
            let steps = &self.items[id.dish].steps;
            let stretch = steps.iter().find(|s| s.step == id.step).map(|s| s.stretch);
            let Some(stretch) = stretch.filter(|s| *s > 0 && id.part == BlockPart::Wait) else {
                continue;
            };
            let later = |b: &&Block| b.id.dish == id.dish && b.id.step > id.step;
            let next = blocks
                .iter()
                .filter(later)
                .filter(|b| b.id.part != BlockPart::Preheat)
                .map(|b| b.start)
                .min();
            let block = &mut blocks[at];
            block.end = next
                .unwrap_or(block.end)
                .clamp(block.end, block.end.plus(stretch));
        }
    }
}

/// What keeps to one of two: a dish to its oven, each work to a cook.
fn unit_of(problem: &mut Problem, dish: usize, what: Use) -> usize {
    match what {
        Use::Hands => problem.unit(),
        Use::Oven(_) | Use::Hob => dish,
    }
}

/// Which of two cooks does a block, or which of two ovens it uses.
fn unit_at(problem: &Problem, times: &[i64], block: &Block, units: &[u8]) -> u8 {
    let uses = |what: Use| match block.id.part {
        BlockPart::Hands => what == Use::Hands,
        BlockPart::Preheat | BlockPart::Wait => {
            matches!(what, Use::Oven(_)) && block.heat_c.is_some()
        }
    };
    let found = problem.busy.iter().find(|busy| {
        busy.dish == block.id.dish
            && uses(busy.what)
            && Problem::at(times, busy.from) <= block.start.0
            && block.end.0 <= Problem::at(times, busy.to)
    });
    found
        .and_then(|busy| units.get(busy.unit))
        .copied()
        .unwrap_or(0)
}

/// Another dish has the oven at this heat, or getting there, when `dish` would light it at `start`.
fn hot_already(
    problem: &Problem,
    times: &[i64],
    dish: usize,
    heat_c: Option<f64>,
    start: i64,
    units: &[u8],
) -> bool {
    problem.busy.iter().any(|busy| {
        let (from, to) = (Problem::at(times, busy.from), Problem::at(times, busy.to));
        let near = |heat: f64| matches!(busy.what, Use::Oven(c) if (c - heat).abs() <= SHARED_C);
        busy.dish != dish
            && heat_c.is_some_and(near)
            && units.get(busy.dish) == units.get(dish)
            && to >= start
            && (from < start || (from == start && busy.dish < dish))
    })
}

fn block(item: &PlanItem, dish: usize, place: usize, part: BlockPart, from: i64, to: i64) -> Block {
    let step = &item.steps[place];
    let is_wait = part == BlockPart::Wait;
    Block {
        id: BlockId {
            dish,
            step: step.step,
            part,
        },
        title: step.title.clone(),
        timer: step.timer.clone().filter(|_| is_wait),
        start: Minute(from),
        end: Minute(to),
        heat_c: step.heat_c,
        unit: 0,
        weigh_up: step.weigh_up && part == BlockPart::Hands,
        cues: step
            .cues
            .iter()
            .filter(|_| is_wait)
            .map(|(at, say)| (Minute(from + at), say.clone()))
            .collect(),
    }
}
