//! What stands on the scale: is it at rest, since when, and how did it come there?

use std::collections::VecDeque;

use super::reading::{Reading, Status};
use crate::time::{Moment, Span};

/// So many readings are remembered, and for so long.
const REMEMBERED: (usize, Span) = (64, Span::millis(3_000));
/// What flickers by less than this, or by less than a step of the scale, is at rest. In grams.
const FLICKER_G: f64 = 0.5;
/// A rate is told over this.
const RATE_OVER: Span = Span::millis(500);
/// What a hand does is seen over this: two steps of the scale, or half a gram.
const HAND_OVER: Span = Span::millis(1_000);
/// Readings farther apart than this tell nothing of what was between them: so long one holds at most.
const HOLDS: Span = Span::millis(250);

/// The load on the scale, as its last readings have it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Load {
    recent: VecDeque<(Moment, f64)>,
    last: Option<Reading>,
    /// Where it rests, since when, and how many readings say so.
    rest: Option<Rest>,
    /// Where it rested before.
    before: Option<f64>,
    /// It leapt from there to where it rests, as nothing that is poured or put down does.
    leapt_from: Option<f64>,
    /// So much has come or gone too slowly for a hand; and what may yet turn out to have been the begin of more.
    crept: f64,
    slow: VecDeque<(Moment, f64)>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Rest {
    at: f64,
    since: Moment,
    count: u32,
    /// The step into it, and whether that came from a rest at once.
    landing: f64,
    quick: bool,
    at_once: bool,
}

impl Load {
    /// What flickers by less is at rest.
    pub fn slack(&self) -> f64 {
        self.last.map_or(FLICKER_G, |r| r.step.max(FLICKER_G)) + 1e-6
    }

    /// Takes a reading that has a weight.
    pub(super) fn take(&mut self, reading: &Reading, now: Moment) {
        let grams = reading.grams;
        let gap = self
            .recent
            .back()
            .map_or(Span::ZERO, |(at, _)| now.since(*at));
        let step_into = self.last.map_or(0.0, |last| grams - last.grams);
        self.last = Some(*reading);
        let slack = self.slack();
        // One that was not heard of meanwhile has stood where it was.
        if let Some((at, was)) = self.recent.back().copied()
            && gap > HOLDS
        {
            self.recent.push_back((at.plus(HOLDS), was));
            if gap.as_millis() > RATE_OVER.as_millis() + HOLDS.as_millis() {
                let near = Moment(now.0.saturating_sub(HOLDS.as_millis()));
                self.recent.push_back((near, was));
            }
        }
        self.recent.push_back((now, grams));
        while self.recent.len() > REMEMBERED.0
            || self
                .recent
                .front()
                .is_some_and(|(at, _)| now.since(*at) > REMEMBERED.1)
        {
            self.recent.pop_front();
        }
        match &mut self.rest {
            Some(rest) if (grams - rest.at).abs() <= slack => rest.count += 1,
            rest => {
                let at_once = rest.is_some_and(|r| r.count >= 3);
                if let Some(r) = rest.filter(|r| r.count >= 3) {
                    self.before = Some(r.at);
                }
                *rest = Some(Rest {
                    at: grams,
                    since: now,
                    count: 1,
                    landing: step_into,
                    quick: gap <= HOLDS,
                    at_once,
                });
            }
        }
        self.look_for_leap(slack);
        let by_hand = self.changed_over(HAND_OVER).abs() >= (1.9 * reading.step).max(0.5)
            || reading.status == Status::Moving;
        if by_hand {
            self.slow.clear();
        } else if step_into != 0.0 {
            self.slow.push_back((now, step_into));
        }
        while self.slow.len() > REMEMBERED.0
            || self
                .slow
                .front()
                .is_some_and(|(at, _)| now.since(*at) > HAND_OVER)
        {
            self.crept += self.slow.pop_front().map_or(0.0, |(_, step)| step);
        }
    }

    /// What settles comes nearer in smaller and smaller steps: one large step and then rest is a fault, and so is a step from
    /// rest to rest.
    fn look_for_leap(&mut self, slack: f64) {
        if let Some(from) = self.leapt_from
            && self.rest.is_some_and(|r| (r.at - from).abs() <= slack)
        {
            self.leapt_from = None;
        }
        let Some(rest) = self.rest.filter(|r| r.count == 2) else {
            return;
        };
        let step = self.last.map_or(1.0, |r| r.step);
        let unsettled = rest.quick && rest.landing.abs() > 8.0 * slack;
        let at_once = rest.at_once && rest.landing.abs() > (3.0 * step).max(2.0);
        if unsettled || at_once {
            let from = self.before.unwrap_or(rest.at - rest.landing);
            self.leapt_from.get_or_insert(from);
        }
    }

    /// The scale told that it cannot weigh: nothing has been standing.
    pub(super) fn disturb(&mut self) {
        self.rest = None;
        self.recent.clear();
    }

    /// The last reading.
    pub fn last(&self) -> Option<&Reading> {
        self.last.as_ref()
    }

    /// For how long it has been at rest.
    pub fn rests_for(&self, now: Moment) -> Span {
        match (self.rest, self.last) {
            (Some(rest), Some(last)) if last.status.may_stand() && rest.count >= 2 => {
                now.since(rest.since)
            }
            _ => Span::ZERO,
        }
    }

    /// For how long it has stood within so much of where it is.
    pub(super) fn stands_within(&self, within: f64, now: Moment) -> Span {
        let since = self.stood(within).last().map(|(at, _)| *at);
        match self.last {
            Some(last) if last.status.may_stand() => since.map_or(Span::ZERO, |at| now.since(at)),
            _ => Span::ZERO,
        }
    }

    /// The readings within so much of where it is, the last first.
    fn stood(&self, within: f64) -> impl Iterator<Item = &(Moment, f64)> {
        let back = || self.recent.iter().rev();
        let mut last: Vec<f64> = back().take(3).map(|(_, g)| *g).collect();
        last.sort_by(f64::total_cmp);
        let middle = last.get(1).copied();
        back().take_while(move |(_, g)| middle.is_some_and(|m| (g - m).abs() <= within))
    }

    /// Where it stands: the middle of its last second's tremble, to the scale's step.
    pub fn standing(&self) -> Option<f64> {
        let step = self.last?.step;
        let same: Vec<f64> = self.stood(self.slack()).take(10).map(|(_, g)| *g).collect();
        let sum: f64 = same.iter().sum();
        (!same.is_empty()).then(|| (sum / same.len() as f64 / step).round() * step)
    }

    /// It leapt to where it is.
    pub(super) fn leapt(&self) -> bool {
        self.leapt_from.is_some()
    }

    /// It leapt with the last reading, from a rest to another place.
    pub(super) fn leaps(&self) -> Option<f64> {
        let rest = self.rest.filter(|r| r.count == 1 && r.at_once)?;
        let still = self.last.is_some_and(|r| r.status != Status::Moving);
        self.before.filter(|_| still && rest.quick)
    }

    /// So much has come too slowly for a hand since `forget`.
    pub(super) fn crept(&self) -> f64 {
        self.crept + self.slow.iter().map(|(_, step)| step).sum::<f64>()
    }

    /// What comes from now on is something else.
    pub(super) fn forget(&mut self) {
        self.crept = 0.0;
        self.slow.clear();
        self.leapt_from = None;
    }

    /// It leapt because somebody set the scale.
    pub(super) fn excuse(&mut self) {
        self.leapt_from = None;
        if let Some(rest) = &mut self.rest {
            (rest.landing, rest.at_once) = (0.0, false);
        }
    }

    /// By how much it has changed over a time.
    pub(super) fn changed_over(&self, time: Span) -> f64 {
        let Some((now, grams)) = self.recent.back() else {
            return 0.0;
        };
        let earlier = self
            .recent
            .iter()
            .rev()
            .find(|(at, _)| now.since(*at) >= time);
        let first = earlier.or(self.recent.front());
        first.map_or(0.0, |(_, was)| grams - was)
    }

    /// Grams a second, now.
    pub fn rate(&self) -> f64 {
        self.changed_over(RATE_OVER) / (RATE_OVER.as_millis() as f64 / 1000.0)
    }

    /// How long it took from a tenth to nine tenths of the way from `base` to where it is.
    pub(super) fn rise(&self, base: f64) -> Option<Span> {
        let (_, grams) = self.recent.back()?;
        let way = grams - base;
        let left = self
            .recent
            .iter()
            .rposition(|(_, g)| g - base <= 0.1 * way)?;
        let there = self
            .recent
            .iter()
            .skip(left)
            .find(|(_, g)| g - base >= 0.9 * way)?;
        Some(there.0.since(self.recent[left].0))
    }
}
