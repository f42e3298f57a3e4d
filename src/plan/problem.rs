//! The plan as a set of differences between starting times.
//!
//! Everything that must follow something else without a gap is one knot with one time; between knots there are only
//! differences ('this at least so long after that'). For given orders of the cook's work and of the oven such a set
//! has one latest solution, in which every knot is as late as it can be at once; whatever grows worse with an earlier
//! time is best there. What remains to be chosen are the orders.

/// A point in time: a knot and a distance from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Point {
    pub knot: usize,
    pub after: i64,
}

/// The cook or the oven in use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Use {
    /// The cook's hands: one thing at a time.
    Hands,
    /// The oven at a heat: only that heat at a time.
    Oven(f64),
}

/// Something in use from a point to a point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Busy {
    /// Whose: the same dish never waits for itself.
    pub dish: usize,
    pub what: Use,
    pub from: Point,
    pub to: Point,
    /// It is so already: two such may clash, and nothing can be done about it.
    pub fixed: bool,
}

impl Busy {
    fn clashes_with(&self, other: &Self) -> bool {
        !(self.fixed && other.fixed)
            && self.dish != other.dish
            && match (self.what, other.what) {
                (Use::Hands, Use::Hands) => true,
                (Use::Oven(a), Use::Oven(b)) => a != b,
                _ => false,
            }
    }
}

/// `then` is at least `gap` after `first`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Link {
    pub first: usize,
    pub then: usize,
    pub gap: i64,
}

/// A dish, as far as the aim looks at it.
#[derive(Debug, Clone)]
pub(super) struct Course {
    /// Where it begins: the earliest of these.
    pub begins: Vec<Point>,
    /// Where it is ready.
    pub ends: Point,
}

/// Knots with their bounds, what ties them, and what may not happen at once.
#[derive(Debug, Clone, Default)]
pub(super) struct Problem {
    /// (not before, not after) of each knot.
    pub bounds: Vec<(i64, i64)>,
    pub links: Vec<Link>,
    pub busy: Vec<Busy>,
    pub courses: Vec<Course>,
}

/// What to aim at; smaller is better, the first number counting most.
pub(super) type Cost = [i64; 3];

/// A time for each knot, and the links that choose the orders.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    pub times: Vec<i64>,
    pub chosen: Vec<Link>,
    pub cost: Cost,
    /// Nothing better exists; otherwise the search was cut short.
    pub proven: bool,
}

impl Problem {
    pub(super) fn knot(&mut self, not_before: i64, not_after: i64) -> usize {
        self.bounds.push((not_before, not_after));
        self.bounds.len() - 1
    }

    /// The same problem with time running backwards: its latest solution is the earliest one of this.
    pub(super) fn mirrored(&self) -> Self {
        let turn = |p: Point| Point {
            knot: p.knot,
            after: -p.after,
        };
        Self {
            bounds: self
                .bounds
                .iter()
                .map(|(low, high)| (-high, -low))
                .collect(),
            links: self
                .links
                .iter()
                .map(|link| Link {
                    first: link.then,
                    then: link.first,
                    gap: link.gap,
                })
                .collect(),
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
                })
                .collect(),
        }
    }

    /// Every two uses that may not overlap.
    pub(super) fn clashes(&self) -> Vec<(usize, usize)> {
        let mut clashes = Vec::new();
        for (i, one) in self.busy.iter().enumerate() {
            for (j, other) in self.busy.iter().enumerate().skip(i + 1) {
                if one.clashes_with(other) {
                    clashes.push((i, j));
                }
            }
        }
        clashes
    }

    /// The link that puts use `i` before use `j`.
    pub(super) fn order(&self, i: usize, j: usize) -> Link {
        let (to, from) = (self.busy[i].to, self.busy[j].from);
        Link {
            first: to.knot,
            then: from.knot,
            gap: to.after - from.after,
        }
    }

    /// The latest times under the problem's links and the chosen ones, from times that are not too early already.
    /// `None` when there are none.
    pub(super) fn latest(&self, mut times: Vec<i64>, chosen: &[Link]) -> Option<Vec<i64>> {
        // A chain of links passes each knot at most once, unless it is a ring that no times satisfy.
        for _ in 0..=self.bounds.len() {
            let mut settled = true;
            for link in self.links.iter().chain(chosen).rev() {
                let limit = times[link.then] - link.gap;
                if times[link.first] > limit {
                    if limit < self.bounds[link.first].0 {
                        return None;
                    }
                    times[link.first] = limit;
                    settled = false;
                }
            }
            if settled {
                return Some(times);
            }
        }
        None
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
