//! Choosing the orders: branch on the first clash, keep the best, leave what cannot become better. Where there is too
//! much to try, the best so far is made better a few dishes at a time.

use super::effort::Effort;
use super::problem::{Choice, Clash, Cost, Link, Problem, Pull, Solution};

/// After so many branches the best so far is taken; most dinners of six dishes stay below it.
const BRANCHES: usize = 200_000;
/// A branch costs by what may clash: after so many looks at that the best so far is taken as well. A million take some
/// twenty-five milliseconds.
const LOOKS: usize = 40_000_000;
/// The same where the cook waits for the answer. Dinners of the shipped formulas, counted by
/// `how_much_is_tried_while_the_cook_waits`: up to four dishes an eighth of it plans as well as eight times as much; of twelve
/// dinners of six dishes 7 are as good as the best known, 3 with half of it, 9 with twice as much and 12 with eight times, which
/// takes two and a half times as long on the average and six times at the most.
const LOOKS_AT_ONCE: usize = 600_000;
/// How many of these go into making a good answer before all is tried, and into each few dishes at a time.
const FIRST: usize = 2_000;
const FEW: usize = 600;

struct Search<'a, F> {
    problem: &'a Problem,
    clashes: Vec<Clash>,
    /// Whose each knot is.
    dish_of: Vec<Option<usize>>,
    cost: &'a F,
    pull: Pull<'a>,
    best: Option<Solution>,
    branches: usize,
    limit: usize,
}

/// The best solution, or `None` when there is none (or none was found within the limit).
///
/// `cost` must not fall when a time becomes earlier: then the latest times under some of the orders bound from below
/// what all of the orders can give, and nothing that is left out could have been better.
///
/// `hint` may name orders that are known to work.
pub(super) fn best<F: Fn(&[i64]) -> Cost>(
    problem: &Problem,
    cost: F,
    hint: Option<&Choice>,
    effort: Effort,
) -> Option<Solution> {
    let looks = match effort {
        Effort::Whole => LOOKS,
        Effort::AtOnce => LOOKS_AT_ONCE,
    };
    let clashes = problem.clashes().len().max(1);
    best_within(problem, cost, hint, BRANCHES.min(looks / clashes))
}

/// The best solution that keeps to what was chosen, as far as a few branches tell.
pub(super) fn keep_to<F: Fn(&[i64]) -> Cost>(
    problem: &Problem,
    cost: F,
    choice: &Choice,
) -> Option<Solution> {
    let root = problem.latest(problem.ceiling()?, &[])?;
    let mut search = Search::new(problem, problem.clashes(), &cost, FEW);
    search.keep_to(&root, choice.clone(), FEW);
    search.best
}

pub(super) fn best_within<F: Fn(&[i64]) -> Cost>(
    problem: &Problem,
    cost: F,
    hint: Option<&Choice>,
    limit: usize,
) -> Option<Solution> {
    let clashes = problem.clashes();
    let mut search = Search::new(problem, clashes, &cost, limit.min(FIRST));
    let root = problem.latest(problem.ceiling()?, &[])?;
    let root_cost = cost(&root);
    search.one_after_another(&root);
    if let Some(hint) = hint {
        search.keep_to(&root, hint.clone(), FEW);
    }
    search.branches = 0;
    let mut chosen = Choice::default();
    search.descend(&root, root_cost, &mut chosen);
    let mut proven = search.branches < search.limit;
    if !proven && limit > FIRST {
        search.a_few_at_a_time(&root, limit / 2);
        search.limit = limit;
        search.descend(&root, root_cost, &mut chosen);
        proven = search.branches < search.limit;
    }
    let bound = if proven {
        None
    } else {
        Some(search.bound(&root, root_cost))
    };
    search.best.map(|solution| Solution {
        proven,
        bound: bound.unwrap_or(solution.cost),
        ..solution
    })
}

/// A way on from a clash.
#[derive(Clone, Copy)]
enum Way {
    Order(Link),
    Apart(usize, usize),
}

impl<'a, F: Fn(&[i64]) -> Cost> Search<'a, F> {
    fn new(problem: &'a Problem, clashes: Vec<Clash>, cost: &'a F, limit: usize) -> Self {
        let mut dish_of = vec![None; problem.bounds.len()];
        for busy in problem.busy.iter().filter(|busy| !busy.fixed) {
            dish_of[busy.from.knot] = Some(busy.dish);
            dish_of[busy.to.knot] = Some(busy.dish);
        }
        Self {
            problem,
            clashes,
            dish_of,
            cost,
            pull: Pull::new(problem),
            best: None,
            branches: 0,
            limit,
        }
    }

    fn offer(&mut self, times: &[i64], cost: Cost, chosen: &Choice) {
        if self.best.as_ref().is_none_or(|best| cost < best.cost) {
            self.best = Some(Solution {
                times: times.to_vec(),
                chosen: self.problem.orders(&self.clashes, times, &chosen.apart),
                cost,
                bound: cost,
                proven: false,
            });
        }
    }

    /// Dish after dish, in the order given and in the opposite: never good, but always something.
    fn one_after_another(&mut self, root: &[i64]) {
        let problem = self.problem;
        let hobs = problem.hobs();
        for turned in [false, true] {
            let first =
                |i: usize, j: usize| (problem.busy[i].dish < problem.busy[j].dish) != turned;
            let mut choice = Choice::default();
            for clash in &self.clashes {
                let (i, j, between) = (clash.i, clash.j, clash.between);
                choice.links.push(if first(i, j) {
                    problem.order(i, j, between.0)
                } else {
                    problem.order(j, i, between.1)
                });
            }
            for &i in &hobs {
                for &j in hobs
                    .iter()
                    .filter(|j| problem.busy[**j].dish != problem.busy[i].dish)
                {
                    if first(i, j) {
                        choice.links.push(problem.order(i, j, 0));
                    }
                }
            }
            self.keep_to(root, choice, 1);
        }
    }

    /// The best that keeps to what was chosen, as far as so many branches tell.
    fn keep_to(&mut self, root: &[i64], mut kept: Choice, branches: usize) {
        let links = kept.links.clone();
        for link in &links {
            self.pull.push(*link);
        }
        let mut times = root.to_vec();
        if self.pull.all(&mut times) && kept.units(self.problem.units).is_some() {
            let cost = (self.cost)(&times);
            let limit = std::mem::replace(&mut self.limit, self.branches + branches);
            self.descend(&times, cost, &mut kept);
            self.limit = limit;
        }
        for link in links.iter().rev() {
            self.pull.pop(*link);
        }
    }

    /// Takes the orders of the best so far, all but those of a few dishes, and finds the best of these.
    fn a_few_at_a_time(&mut self, root: &[i64], limit: usize) {
        let dishes = self.problem.busy.iter().map(|b| b.dish + 1).max();
        let dishes = dishes.unwrap_or(0);
        let mut few: Vec<Vec<usize>> = Vec::new();
        for a in 0..dishes {
            for b in a + 1..dishes {
                few.push(vec![a, b]);
                few.extend((b + 1..dishes).map(|c| vec![a, b, c]));
            }
        }
        let mut since = 0;
        let mut at = 0;
        while since < few.len() && self.branches < limit {
            let free = &few[at % few.len()];
            at += 1;
            since += 1;
            let Some(best) = self.best.clone() else {
                return;
            };
            let mut kept = best.chosen.clone();
            kept.links = self
                .problem
                .orders(&self.clashes, &best.times, &kept.apart)
                .links;
            let free_of = |link: &Link| {
                let of = |knot: usize| self.dish_of[knot];
                !free
                    .iter()
                    .any(|d| of(link.first) == Some(*d) || of(link.then) == Some(*d))
            };
            kept.links.retain(free_of);
            // What need not share a cook or an oven may be chosen anew as well.
            let dish_of = |unit: &usize| {
                self.problem
                    .busy
                    .iter()
                    .find(|b| b.unit == *unit)
                    .map(|b| b.dish)
            };
            kept.apart.retain(|(a, b)| {
                !free
                    .iter()
                    .any(|d| dish_of(a) == Some(*d) || dish_of(b) == Some(*d))
            });
            self.keep_to(root, kept, FEW);
            if self.best.as_ref().is_some_and(|now| now.cost < best.cost) {
                since = 0;
            }
        }
    }

    /// What nothing can cost less than: two dishes are worse off together than they would be alone, and two others as
    /// well.
    fn bound(&mut self, root: &[i64], root_cost: Cost) -> Cost {
        let dishes = self.problem.busy.iter().map(|b| b.dish + 1).max();
        let dishes = dishes.unwrap_or(0);
        let (all, best) = (std::mem::take(&mut self.clashes), self.best.take());
        let mut more: Vec<(i64, usize, usize)> = Vec::new();
        for a in 0..dishes {
            for b in a + 1..dishes {
                let of = |u: usize| [a, b].contains(&self.problem.busy[u].dish);
                self.clashes = all.iter().filter(|c| of(c.i) && of(c.j)).copied().collect();
                self.best = None;
                (self.branches, self.limit) = (0, FEW);
                self.descend(root, root_cost, &mut Choice::default());
                if let Some(pair) = self.best.take().filter(|_| self.branches < FEW) {
                    more.push((pair.cost[0] - root_cost[0], a, b));
                }
            }
        }
        (self.clashes, self.best) = (all, best);
        more.sort_unstable_by_key(|(cost, ..)| std::cmp::Reverse(*cost));
        let mut taken = vec![false; dishes];
        let mut bound = root_cost;
        for (cost, a, b) in more {
            if !taken[a] && !taken[b] {
                (taken[a], taken[b]) = (true, true);
                bound[0] += cost;
            }
        }
        bound
    }

    fn descend(&mut self, times: &[i64], cost: Cost, chosen: &mut Choice) {
        if self.best.as_ref().is_some_and(|best| cost >= best.cost) || self.branches >= self.limit {
            return;
        }
        let Some(ways) = self.conflict(times, chosen) else {
            self.offer(times, cost, chosen);
            return;
        };
        self.branches += 1;
        let mut next: Vec<(Cost, Vec<i64>, Way)> = Vec::with_capacity(ways.len());
        for way in ways {
            match way {
                Way::Order(link) => {
                    let mut later = times.to_vec();
                    self.pull.push(link);
                    let good = self.pull.link(&mut later, link);
                    self.pull.pop(link);
                    if good {
                        next.push(((self.cost)(&later), later, way));
                    }
                }
                Way::Apart(a, b) => {
                    chosen.apart.push((a, b));
                    if chosen.units(self.problem.units).is_some() {
                        next.push((cost, times.to_vec(), way));
                    }
                    chosen.apart.pop();
                }
            }
        }
        next.sort_by_key(|(cost, _, _)| *cost);
        for (cost, later, way) in next {
            match way {
                Way::Order(link) => {
                    chosen.links.push(link);
                    self.pull.push(link);
                    self.descend(&later, cost, chosen);
                    self.pull.pop(link);
                    chosen.links.pop();
                }
                Way::Apart(a, b) => {
                    chosen.apart.push((a, b));
                    self.descend(&later, cost, chosen);
                    chosen.apart.pop();
                }
            }
        }
    }

    /// The ways out of the overlap nearest to the end (times are fixed from the end backwards), or out of a crowd on the
    /// hob.
    fn conflict(&self, times: &[i64], chosen: &Choice) -> Option<Vec<Way>> {
        let busy = &self.problem.busy;
        let mut worst: Option<(i64, &Clash)> = None;
        for clash in &self.clashes {
            if let Some(to) = self.problem.overlap(times, clash)
                && worst.is_none_or(|(most, _)| to > most)
                && !(clash.spare
                    && chosen
                        .apart
                        .contains(&(busy[clash.i].unit, busy[clash.j].unit)))
            {
                worst = Some((to, clash));
            }
        }
        if let Some((_, clash)) = worst {
            let (i, j) = (clash.i, clash.j);
            let mut ways = Vec::with_capacity(3);
            if clash.spare {
                ways.push(Way::Apart(busy[i].unit, busy[j].unit));
            }
            ways.push(Way::Order(self.problem.order(i, j, clash.between.0)));
            ways.push(Way::Order(self.problem.order(j, i, clash.between.1)));
            return Some(ways);
        }
        let crowd = self.problem.crowd(times)?;
        let mut ways = Vec::new();
        for &i in &crowd {
            for &j in &crowd {
                if busy[i].dish != busy[j].dish && !(busy[i].fixed && busy[j].fixed) {
                    ways.push(Way::Order(self.problem.order(i, j, 0)));
                }
            }
        }
        Some(ways)
    }
}
