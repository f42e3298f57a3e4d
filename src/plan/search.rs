//! Choosing the orders: branch on the first clash, keep the best, leave what cannot become better.

use super::problem::{Cost, Link, Problem, Solution};

/// After so many branches the best so far is taken. Plans of two or three dishes stay far below it.
const BRANCHES: usize = 20_000;

struct Search<'a, F> {
    problem: &'a Problem,
    clashes: Vec<(usize, usize)>,
    cost: F,
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
    hint: Option<&[Link]>,
) -> Option<Solution> {
    best_within(problem, cost, hint, BRANCHES)
}

pub(super) fn best_within<F: Fn(&[i64]) -> Cost>(
    problem: &Problem,
    cost: F,
    hint: Option<&[Link]>,
    limit: usize,
) -> Option<Solution> {
    let mut search = Search {
        problem,
        clashes: problem.clashes(),
        cost,
        best: None,
        branches: 0,
        limit,
    };
    let root = problem.latest(problem.ceiling()?, &[])?;
    let root_cost = (search.cost)(&root);
    search.one_after_another();
    if let Some(hint) = hint {
        search.try_orders(hint);
    }
    let mut chosen = Vec::new();
    search.descend(root, root_cost, &mut chosen);
    let proven = search.branches < limit;
    search.best.map(|solution| Solution { proven, ..solution })
}

impl<F: Fn(&[i64]) -> Cost> Search<'_, F> {
    fn offer(&mut self, times: Vec<i64>, cost: Cost, chosen: &[Link]) {
        if self.best.as_ref().is_none_or(|best| cost < best.cost) {
            self.best = Some(Solution {
                times,
                chosen: chosen.to_vec(),
                cost,
                proven: false,
            });
        }
    }

    /// Dish after dish, in the order given and in the opposite: never good, but always something.
    fn one_after_another(&mut self) {
        for turned in [false, true] {
            let chosen: Vec<Link> = self
                .clashes
                .iter()
                .map(|&(i, j)| {
                    let (a, b) = (self.problem.busy[i].dish, self.problem.busy[j].dish);
                    if (a < b) == turned {
                        self.problem.order(j, i)
                    } else {
                        self.problem.order(i, j)
                    }
                })
                .collect();
            self.try_orders(&chosen);
        }
    }

    fn try_orders(&mut self, chosen: &[Link]) {
        let times = self
            .problem
            .ceiling()
            .and_then(|times| self.problem.latest(times, chosen));
        if let Some(times) = times
            && self.latest_overlap(&times).is_none()
        {
            let cost = (self.cost)(&times);
            self.offer(times, cost, chosen);
        }
    }

    fn descend(&mut self, times: Vec<i64>, cost: Cost, chosen: &mut Vec<Link>) {
        if self.best.as_ref().is_some_and(|best| cost >= best.cost) || self.branches >= self.limit {
            return;
        }
        let Some((i, j)) = self.latest_overlap(&times) else {
            self.offer(times, cost, chosen);
            return;
        };
        self.branches += 1;
        let mut ways: Vec<(Cost, Vec<i64>, Link)> = [(i, j), (j, i)]
            .into_iter()
            .filter_map(|(first, then)| {
                let link = self.problem.order(first, then);
                chosen.push(link);
                let next = self.problem.latest(times.clone(), chosen);
                chosen.pop();
                next.map(|next| ((self.cost)(&next), next, link))
            })
            .collect();
        ways.sort_by_key(|(cost, _, _)| *cost);
        for (cost, next, link) in ways {
            chosen.push(link);
            self.descend(next, cost, chosen);
            chosen.pop();
        }
    }

    /// The overlap nearest to the end: times are fixed from the end backwards.
    fn latest_overlap(&self, times: &[i64]) -> Option<(usize, usize)> {
        let busy = &self.problem.busy;
        self.clashes
            .iter()
            .copied()
            .filter_map(|(i, j)| {
                let (a, b) = (&busy[i], &busy[j]);
                let from = Problem::at(times, a.from).max(Problem::at(times, b.from));
                let to = Problem::at(times, a.to).min(Problem::at(times, b.to));
                (from < to).then_some((to, i, j))
            })
            .max_by_key(|(to, i, j)| (*to, std::cmp::Reverse((*i, *j))))
            .map(|(_, i, j)| (i, j))
    }
}
