//! The plan as a set of differences between starting times.
//!
//! Everything that must follow something else without a gap is one knot with one time; between knots there are only
//! differences ('this at least so long after that', and with a negative length 'at most'). For given orders of the
//! cook's work and of the oven such a set has one latest solution, in which every knot is as late as it can be at once;
//! hours that are kept free only move it. Whatever grows worse with an earlier time is best there. What remains to be
//! chosen are the orders and, of two cooks or two ovens, which two things do not share one.

use std::collections::VecDeque;

use super::kitchen::{Kitchen, SHARED_C};

/// A point in time: a knot and a distance from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Point {
    pub knot: usize,
    pub after: i64,
}

/// The cook, the oven or the hob in use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Use {
    /// A cook's hands: one thing at a time.
    Hands,
    /// An oven at a heat: only that heat, or one near it, at a time.
    Oven(f64),
    /// A ring of the hob: so many at a time.
    Hob,
}

/// Something in use from a point to a point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Busy {
    /// Whose: the same dish never waits for itself.
    pub dish: usize,
    pub what: Use,
    pub from: Point,
    pub to: Point,
    /// So long from its beginning an oven only gets hot.
    pub lead: i64,
    /// What keeps to one cook, or to one oven: uses with the same number do.
    pub unit: usize,
    /// It is so already: two such may clash, and nothing can be done about it.
    pub fixed: bool,
}

/// `then` is at least `gap` after `first`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Link {
    pub first: usize,
    pub then: usize,
    pub gap: i64,
}

impl Link {
    fn turned(self) -> Self {
        Self {
            first: self.then,
            then: self.first,
            gap: self.gap,
        }
    }
}

/// Two uses that may not overlap.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clash {
    pub i: usize,
    pub j: usize,
    /// So long must lie between, if `i` comes first, and if `j` does.
    pub between: (i64, i64),
    /// There are two of what they use.
    pub spare: bool,
}

/// A dish, as far as the aim looks at it.
#[derive(Debug, Clone)]
pub(super) struct Course {
    /// Where it begins: the earliest of these.
    pub begins: Vec<Point>,
    /// Where it is ready.
    pub ends: Point,
    /// So long it may stand, and be none the worse.
    pub free: i64,
    /// How much a minute counts that it stands longer.
    pub weight: i64,
    /// How long it may stand, kept hot, and be good.
    pub keeps: Option<i64>,
}

/// What was chosen: orders, and what does not share a cook or an oven.
#[derive(Debug, Clone, Default)]
pub(super) struct Choice {
    pub links: Vec<Link>,
    pub apart: Vec<(usize, usize)>,
}

impl Choice {
    /// The same with time running the other way.
    pub(super) fn turned(&self) -> Self {
        Self {
            links: self.links.iter().map(|link| link.turned()).collect(),
            apart: self.apart.clone(),
        }
    }

    /// For each unit which of two it takes; nothing where that cannot be.
    pub(super) fn units(&self, units: usize) -> Option<Vec<u8>> {
        let mut taken = vec![None; units];
        for start in 0..units {
            if taken[start].is_some() {
                continue;
            }
            taken[start] = Some(0);
            let mut open = vec![start];
            while let Some(at) = open.pop() {
                let other = taken[at].map(|one: u8| 1 - one);
                for &(a, b) in self.apart.iter().filter(|(a, b)| *a == at || *b == at) {
                    let next = if a == at { b } else { a };
                    if taken[next].is_none() {
                        taken[next] = other;
                        open.push(next);
                    } else if taken[next] != other {
                        return None;
                    }
                }
            }
        }
        taken.into_iter().collect()
    }
}

/// Knots with their bounds, what ties them, and what may not happen at once.
#[derive(Debug, Clone, Default)]
pub(super) struct Problem {
    /// (not before, not after) of each knot.
    pub bounds: Vec<(i64, i64)>,
    pub links: Vec<Link>,
    pub busy: Vec<Busy>,
    pub courses: Vec<Course>,
    /// What does not happen while the cook sleeps.
    pub awake: Vec<(Point, Point)>,
    /// When the cook sleeps, in order of time.
    pub asleep: Vec<(i64, i64)>,
    /// How many units there are.
    pub units: usize,
    pub kitchen: Kitchen,
    /// Time runs backwards.
    pub turned: bool,
}

/// What to aim at; smaller is better, the first number counting most.
pub(super) type Cost = [i64; 3];

/// A time for each knot, and what was chosen.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    pub times: Vec<i64>,
    pub chosen: Choice,
    pub cost: Cost,
    /// Nothing can cost less than this.
    pub bound: Cost,
    /// Nothing better exists; otherwise the search was cut short.
    pub proven: bool,
}

impl Problem {
    pub(super) fn knot(&mut self, not_before: i64, not_after: i64) -> usize {
        self.bounds.push((not_before, not_after));
        self.bounds.len() - 1
    }

    pub(super) fn unit(&mut self) -> usize {
        self.units += 1;
        self.units - 1
    }

    /// The same problem with time running backwards: its latest solution is the earliest one of this.
    pub(super) fn mirrored(&self) -> Self {
        let turn = |p: Point| Point {
            knot: p.knot,
            after: -p.after,
        };
        let low_high = self.bounds.iter().map(|(low, high)| (-high, -low));
        Self {
            bounds: low_high.collect(),
            links: self.links.iter().map(|link| link.turned()).collect(),
            busy: self
                .busy
                .iter()
                .map(|busy| Busy {
                    from: turn(busy.to),
                    to: turn(busy.from),
                    ..*busy
                })
                .collect(),
            courses: self
                .courses
                .iter()
                .map(|course| Course {
                    begins: course.begins.iter().copied().map(turn).collect(),
                    ends: turn(course.ends),
                    ..*course
                })
                .collect(),
            awake: self
                .awake
                .iter()
                .map(|(from, to)| (turn(*to), turn(*from)))
                .collect(),
            asleep: self.asleep.iter().rev().map(|(a, b)| (-b, -a)).collect(),
            units: self.units,
            kitchen: self.kitchen.clone(),
            turned: !self.turned,
        }
    }

    /// Every two uses that may not overlap.
    pub(super) fn clashes(&self) -> Vec<Clash> {
        let mut clashes = Vec::new();
        for (i, one) in self.busy.iter().enumerate() {
            for (j, other) in self.busy.iter().enumerate().skip(i + 1) {
                if one.dish == other.dish || (one.fixed && other.fixed) {
                    continue;
                }
                let (between, spare) = match (one.what, other.what) {
                    (Use::Hands, Use::Hands) => ((0, 0), self.kitchen.cooks > 1),
                    (Use::Oven(a), Use::Oven(b)) if (a - b).abs() > SHARED_C => {
                        let cools = |from: f64, to: f64, lead: i64| {
                            (self.kitchen.cooling(from, to) - lead).max(0)
                        };
                        let (forth, back) = (cools(a, b, other.lead), cools(b, a, one.lead));
                        let between = if self.turned {
                            (back, forth)
                        } else {
                            (forth, back)
                        };
                        (between, self.kitchen.ovens > 1)
                    }
                    _ => continue,
                };
                clashes.push(Clash {
                    i,
                    j,
                    between,
                    spare,
                });
            }
        }
        clashes
    }

    /// The link that puts use `i` before use `j`, with so much between.
    pub(super) fn order(&self, i: usize, j: usize, between: i64) -> Link {
        let (to, from) = (self.busy[i].to, self.busy[j].from);
        Link {
            first: to.knot,
            then: from.knot,
            gap: to.after - from.after + between,
        }
    }

    /// Whether two uses that clash do so at these times, and where that overlap ends.
    pub(super) fn overlap(&self, times: &[i64], clash: &Clash) -> Option<i64> {
        let (a, b) = (&self.busy[clash.i], &self.busy[clash.j]);
        let (a_from, a_to) = (Self::at(times, a.from), Self::at(times, a.to));
        let (b_from, b_to) = (Self::at(times, b.from), Self::at(times, b.to));
        // What takes no time is in nobody's way.
        let empty = a_from >= a_to || b_from >= b_to;
        let apart = a_to + clash.between.0 <= b_from || b_to + clash.between.1 <= a_from;
        (!empty && !apart).then(|| a_to.min(b_to))
    }

    /// Every order that these times have: with it, and whatever else is moved, they stay without an overlap.
    pub(super) fn orders(
        &self,
        clashes: &[Clash],
        times: &[i64],
        apart: &[(usize, usize)],
    ) -> Choice {
        let begins = |u: usize| Self::at(times, self.busy[u].from);
        let ends = |u: usize| Self::at(times, self.busy[u].to);
        let mut links = Vec::new();
        for clash in clashes {
            let units = (self.busy[clash.i].unit, self.busy[clash.j].unit);
            if self.overlap(times, clash).is_some() || apart.contains(&units) {
                continue;
            }
            links.push(if begins(clash.i) < begins(clash.j) {
                self.order(clash.i, clash.j, clash.between.0)
            } else {
                self.order(clash.j, clash.i, clash.between.1)
            });
        }
        let hobs = self.hobs();
        if hobs.len() > usize::from(self.kitchen.hobs) {
            for &i in &hobs {
                for &j in hobs
                    .iter()
                    .filter(|j| self.busy[**j].dish != self.busy[i].dish)
                {
                    if ends(i) <= begins(j) {
                        links.push(self.order(i, j, 0));
                    }
                }
            }
        }
        Choice {
            links,
            apart: apart.to_vec(),
        }
    }

    /// What stands on the hob.
    pub(super) fn hobs(&self) -> Vec<usize> {
        let on_hob = |u: &usize| self.busy[*u].what == Use::Hob;
        (0..self.busy.len()).filter(on_hob).collect()
    }

    /// Some uses of the hob that are one too many at once.
    pub(super) fn crowd(&self, times: &[i64]) -> Option<Vec<usize>> {
        let most = usize::from(self.kitchen.hobs);
        let hobs = self.hobs();
        if hobs.len() <= most {
            return None;
        }
        let span = |u: usize| {
            let busy = &self.busy[u];
            (Self::at(times, busy.from), Self::at(times, busy.to))
        };
        hobs.iter().find_map(|&at| {
            let when = span(at).0;
            let mut together: Vec<usize> = hobs
                .iter()
                .copied()
                .filter(|&u| span(u).0 <= when && when < span(u).1)
                .collect();
            let movable = together.iter().any(|u| !self.busy[*u].fixed);
            (together.len() > most && movable).then(|| {
                together.truncate(most + 1);
                together
            })
        })
    }

    /// The latest times under the problem's links and the chosen ones, from times that are not too early already.
    /// `None` when there are none.
    pub(super) fn latest(&self, times: Vec<i64>, chosen: &[Link]) -> Option<Vec<i64>> {
        let mut pull = Pull::new(self);
        for link in chosen {
            pull.push(*link);
        }
        let mut times = times;
        pull.all(&mut times).then_some(times)
    }

    /// The latest times that anything could have.
    pub(super) fn ceiling(&self) -> Option<Vec<i64>> {
        if self.bounds.iter().any(|(low, high)| low > high) {
            return None;
        }
        Some(self.bounds.iter().map(|(_, high)| *high).collect())
    }

    pub(super) fn at(times: &[i64], point: Point) -> i64 {
        times[point.knot] + point.after
    }

    /// When a dish begins.
    pub(super) fn begins(times: &[i64], course: &Course) -> i64 {
        course
            .begins
            .iter()
            .map(|p| Self::at(times, *p))
            .min()
            .unwrap_or_else(|| Self::at(times, course.ends))
    }
}

/// Pulls knots to their latest times, from those that moved on.
pub(super) struct Pull<'a> {
    problem: &'a Problem,
    /// The links that end at each knot.
    into: Vec<Vec<Link>>,
    /// What does not happen in sleep, by its knot: from and to.
    awake: Vec<Vec<(i64, i64)>>,
    waits: VecDeque<usize>,
    is_waiting: Vec<bool>,
    /// How often each knot was moved since the last night: more often than there are knots is a ring.
    moved: Vec<u32>,
}

impl<'a> Pull<'a> {
    pub(super) fn new(problem: &'a Problem) -> Self {
        let knots = problem.bounds.len();
        let mut into = vec![Vec::new(); knots];
        for link in &problem.links {
            into[link.then].push(*link);
        }
        let mut awake = vec![Vec::new(); knots];
        if !problem.asleep.is_empty() {
            for (from, to) in &problem.awake {
                awake[from.knot].push((from.after, to.after));
            }
        }
        Self {
            problem,
            into,
            awake,
            waits: VecDeque::new(),
            is_waiting: vec![false; knots],
            moved: vec![0; knots],
        }
    }

    /// One more link; [`Pull::pop`] takes it away again.
    pub(super) fn push(&mut self, link: Link) {
        self.into[link.then].push(link);
    }

    pub(super) fn pop(&mut self, link: Link) {
        self.into[link.then].pop();
    }

    /// From every knot on. False where there are no such times.
    pub(super) fn all(&mut self, times: &mut [i64]) -> bool {
        for (knot, time) in times.iter_mut().enumerate() {
            let at = self.to_waking(knot, *time);
            if at < self.problem.bounds[knot].0 {
                return false;
            }
            *time = at;
        }
        for knot in 0..times.len() {
            self.wait(knot);
        }
        self.settle(times)
    }

    /// After a new link. False where there are no such times.
    pub(super) fn link(&mut self, times: &mut [i64], link: Link) -> bool {
        self.wait(link.then);
        self.settle(times)
    }

    fn wait(&mut self, knot: usize) {
        if !self.is_waiting[knot] {
            self.is_waiting[knot] = true;
            self.waits.push_back(knot);
        }
    }

    fn settle(&mut self, times: &mut [i64]) -> bool {
        self.moved.fill(0);
        let most = times.len() as u32 + 1;
        let mut good = true;
        while let Some(knot) = self.waits.pop_front() {
            self.is_waiting[knot] = false;
            if !good {
                continue;
            }
            for n in 0..self.into[knot].len() {
                let link = self.into[knot][n];
                let limit = times[knot] - link.gap;
                if times[link.first] <= limit {
                    continue;
                }
                let at = self.to_waking(link.first, limit);
                if at < limit {
                    self.moved.fill(0);
                }
                self.moved[link.first] += 1;
                if at < self.problem.bounds[link.first].0 || self.moved[link.first] > most {
                    good = false;
                    break;
                }
                times[link.first] = at;
                self.wait(link.first);
            }
        }
        good
    }

    /// The latest time of a knot, not after this, with nothing of it in sleep.
    fn to_waking(&self, knot: usize, mut at: i64) -> i64 {
        let parts = &self.awake[knot];
        if parts.is_empty() {
            return at;
        }
        let asleep = &self.problem.asleep;
        loop {
            let before = at;
            for (from, to) in parts {
                // The last night that begins before this part ends.
                let night = asleep.partition_point(|(begins, _)| *begins < at + to);
                if let Some((begins, ends)) = night.checked_sub(1).map(|n| asleep[n])
                    && at + from < ends
                {
                    at = begins - to;
                }
            }
            if at == before {
                return at;
            }
        }
    }
}
