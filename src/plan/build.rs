//! From formulas to knots and links, and from times back to blocks.

use super::item::{PlanItem, PlanStep};
use super::plan::{Block, BlockId, Part, Plan, PlannedDish};
use super::problem::{Busy, Cost, Course, Link, Point, Problem, Solution, Use};
use super::search::best;
use crate::time::Minute;

/// How far a dish has come; the default is 'not begun'.
#[derive(Debug, Clone, Default)]
pub(super) struct Standing {
    /// Blocks (without the lighting of the oven) that are done or running, with their times so far.
    pub past: Vec<(Part, usize, i64, i64)>,
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
fn parts(step: &PlanStep) -> impl Iterator<Item = (Part, i64)> {
    [(Part::Hands, step.hands), (Part::Wait, step.wait)]
        .into_iter()
        .filter(|(_, lasts)| *lasts > 0)
}

impl Build<'_> {
    /// The best plan with everything ready at `ready`.
    pub(super) fn latest_for(&self, ready: i64, hint: Option<&[Link]>) -> Option<Solution> {
        // What runs already may end too late whatever is done next.
        let runs_on = |s: &Standing| s.running && s.past.last().is_some_and(|past| past.3 > ready);
        if self.standing.iter().any(runs_on) {
            return None;
        }
        let (problem, cost) = self.aim(ready);
        best(&problem, cost, hint)
    }

    /// The problem for an hour, and what is aimed at: that finished food stands least, then that the first thing
    /// begins latest, then that every dish does.
    pub(super) fn aim(&self, ready: i64) -> (Problem, impl Fn(&[i64]) -> Cost + use<>) {
        let (problem, _) = self.problem(ready);
        let courses = problem.courses.clone();
        let cost = move |times: &[i64]| {
            let (mut stands, mut first, mut begun) = (0, 0, 0);
            for course in &courses {
                stands += ready - Problem::at(times, course.ends);
                let before = ready - Problem::begins(times, course);
                first = first.max(before);
                begun += before;
            }
            [stands, first, begun]
        };
        (problem, cost)
    }

    /// The soonest that everything can be ready, and the orders that make it so.
    pub(super) fn soonest(&self) -> Option<(i64, Vec<Link>)> {
        // One dish after another, each with its oven heated anew, always fits.
        let after: i64 = self
            .items
            .iter()
            .flat_map(|item| item.steps.iter().map(|s| s.hands + s.wait + item.lead))
            .sum();
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
        let (problem, _) = self.problem(busy_until.max(self.now) + after);
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
            None,
        )?;
        let orders = found
            .chosen
            .iter()
            .map(|link| Link {
                first: link.then,
                then: link.first,
                gap: link.gap,
            })
            .collect();
        Some((found.cost[0], orders))
    }

    fn problem(&self, ready: i64) -> (Problem, Vec<Coming>) {
        let mut problem = Problem::default();
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
        let release = match last {
            Some((_, _, _, end)) if standing.running => end.max(self.now),
            _ => self.now,
        };
        let running_step = last.and_then(|(part, at, _, _)| item.steps.get(at).map(|s| (part, s)));
        if let Some((part, step)) =
            running_step.filter(|_| standing.running && self.grip < Grip::Loose)
        {
            let mut hold = |what| {
                problem.busy.push(Busy {
                    dish,
                    what,
                    from: since_now(self.now),
                    to: since_now(release),
                    fixed: true,
                });
            };
            if part == Part::Hands {
                hold(Use::Hands);
            }
            if let Some(heat) = step.heat_c {
                hold(Use::Oven(heat));
            }
        }

        // Where it has begun stays where it is, and counts as it did when the plan was made: whatever is best of what
        // is left is then what was best of the whole.
        let lit = standing.lit.iter().map(|(_, lit, _, _)| *lit);
        let past = standing.past.iter().map(|(_, _, from, _)| *from);
        let mut course = Course {
            begins: lit.chain(past).map(since_now).collect(),
            ends: since_now(release),
        };
        // Where the previous block ends, its part and its place among the steps.
        let mut before: Option<(Point, Part, usize)> =
            last.map(|(part, at, _, _)| (since_now(release), part, at));
        let mut is_past = last.is_some();
        // Where the dish last had something in the oven.
        let mut oven_until: Option<Point> = None;

        for (place, step) in item.steps.iter().enumerate() {
            let mut oven_from: Option<Point> = None;
            for (part, lasts) in parts(step) {
                if last.is_some_and(|(p, at, _, _)| (place, part) <= (at, p)) {
                    if step.heat_c.is_some() {
                        oven_until = Some(since_now(release));
                    }
                    continue;
                }
                let joined = before.is_some_and(|(_, previous, at)| {
                    at == place || (previous == Part::Wait && item.steps[at].heat_c.is_some())
                });
                let at = match before {
                    Some((end, _, _)) if joined && !is_past => end,
                    Some(_) if is_past => {
                        let latest = if joined && self.grip == Grip::Firm {
                            release
                        } else {
                            ready.max(release)
                        };
                        Point {
                            knot: problem.knot(release, latest),
                            after: 0,
                        }
                    }
                    Some((end, _, _)) => {
                        let knot = problem.knot(self.now, ready);
                        problem.links.push(Link {
                            first: end.knot,
                            then: knot,
                            gap: end.after,
                        });
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
                if part == Part::Hands {
                    problem.busy.push(Busy {
                        dish,
                        what: Use::Hands,
                        from: at,
                        to: end,
                        fixed: false,
                    });
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
                    fixed: false,
                });
                oven_until = Some(course.ends);
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
                        part: Part::Preheat,
                    },
                    at: from,
                    lasts: item.lead,
                });
            }
            from
        };
        problem.busy.push(Busy {
            dish,
            what: Use::Oven(heat),
            from,
            to: at,
            fixed: false,
        });
    }

    /// The plan at the times that were found.
    pub(super) fn plan(&self, found: &Solution, ready_at: Minute, wanted_at: Minute) -> Plan {
        let (problem, coming) = self.problem(ready_at.0);
        let mut blocks: Vec<Block> = Vec::new();
        for (dish, (item, standing)) in self.items.iter().zip(self.standing).enumerate() {
            for (place, from, hot, own) in &standing.lit {
                if *own {
                    blocks.push(block(item, dish, *place, Part::Preheat, *from, *hot));
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
                && !(one.id.part == Part::Preheat
                    && hot_already(
                        &problem,
                        &found.times,
                        one.id.dish,
                        item.steps[place].heat_c,
                        start,
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
        Plan {
            ready_at,
            wanted_at,
            dishes,
            blocks,
            proven: found.proven,
            items: self.items.to_vec(),
        }
    }
}

/// Another dish has the oven at this heat, or getting there, when `dish` would light it at `start`.
fn hot_already(
    problem: &Problem,
    times: &[i64],
    dish: usize,
    heat_c: Option<f64>,
    start: i64,
) -> bool {
    problem.busy.iter().any(|busy| {
        let (from, to) = (Problem::at(times, busy.from), Problem::at(times, busy.to));
        busy.dish != dish
            && heat_c.is_some_and(|heat| busy.what == Use::Oven(heat))
            && to >= start
            && (from < start || (from == start && busy.dish < dish))
    })
}

fn block(item: &PlanItem, dish: usize, place: usize, part: Part, from: i64, to: i64) -> Block {
    let step = &item.steps[place];
    let is_wait = part == Part::Wait;
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
        weigh_up: step.weigh_up && part == Part::Hands,
        cues: step
            .cues
            .iter()
            .filter(|_| is_wait)
            .map(|(at, say)| (Minute(from + at), say.clone()))
            .collect(),
    }
}
