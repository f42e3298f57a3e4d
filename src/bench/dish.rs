//! A dish in the making: all that belongs to one formula.

mod carried;

use std::collections::BTreeSet;
use std::sync::Arc;

use super::context::lexicon;
use super::own_time::OwnTimes;
use super::remembered::Remembered;
use crate::formula::{Batch, Formula, TimerSpec};
use crate::measure::Mass;
use crate::time::{Moment, Span};
use crate::timer::Timer;
use crate::understand::Lexicon;

/// Going back within this takes back what going on took for done.
pub(super) const SLIP: Span = Span::seconds(30);

/// Put off without a time: until no other dish wants the cook.
pub(super) const TO_THE_LAST: Moment = Moment(u64::MAX);

/// A use of an ingredient: its step and its place in the step.
pub(super) type At = (usize, usize);

/// What can be named: shared by all states of a dish that undo remembers, since it changes only with its ingredients.
#[derive(Debug, Clone)]
struct Named(Arc<Lexicon>);

impl PartialEq for Named {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0 == other.0
    }
}

/// A formula at today's size, and how far the cook has come with it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dish {
    /// As it is written.
    written: Formula,
    /// With what the cook has taken where it leaves a choice.
    formula: Formula,
    batch: Batch,
    /// What is remembered of it.
    remembered: Remembered,
    /// What can be named of it, and of the tables.
    lexicon: Named,
    work: Work,
    /// Steps whose cautions have been spoken.
    cautioned: BTreeSet<usize>,
    reach: Reach,
}

/// What the cook has done: all of a dish that an undo puts back.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Work {
    /// The current step; none before the first.
    step: Option<usize>,
    /// All steps are done.
    finished: bool,
    /// The current step is done, and the cook is at another dish.
    left: bool,
    /// It is not made after all.
    out: bool,
    /// It waits until then.
    off: Option<Moment>,
    /// For each step and each of its uses: when it went in.
    added: Vec<Vec<Option<Moment>>>,
    /// Uses counted as in at this step by going on, not by word: going back takes them back, the last one first.
    assumed: Vec<At>,
    /// The formula's timers that have been started: step and name. One that the cook stops is offered again.
    begun: Vec<(usize, String)>,
    /// What was taken for an ingredient that leaves a choice.
    taken: Vec<(usize, String)>,
    /// What really went in of an ingredient, where the cook told it.
    really: Vec<(usize, Mass)>,
    /// What the scale showed of a use.
    weighed: Vec<(At, Mass)>,
    /// What the cook has said not to have.
    lacking: BTreeSet<usize>,
    /// What the cook read on packets: the ingredient, the allergen, and whether there is none.
    packets: Vec<(usize, String, bool)>,
}

/// How far the cook has come, by the clock.
#[derive(Debug, Clone, PartialEq)]
struct Reach {
    /// For each step: when it was first entered.
    entered: Vec<Option<Moment>>,
    /// For each step: when its wait was over by the cook's word.
    waited: Vec<Option<Moment>>,
    /// When the cook was told to light the oven.
    lit: Option<Moment>,
    /// The cook has put the oven out since.
    put_out: bool,
    /// When the last step was done.
    ended: Option<Moment>,
    /// How warm the water was to be, or was, in Celsius.
    water_c: Option<f64>,
}

impl Dish {
    /// Nothing has been done yet.
    pub(super) fn new(formula: Formula, batch: Batch, remembered: Remembered) -> Self {
        let steps = formula.steps.len();
        let added = formula.steps.iter().map(|s| vec![None; s.uses.len()]);
        Self {
            work: Work {
                step: None,
                finished: false,
                left: false,
                out: false,
                off: None,
                added: added.collect(),
                assumed: Vec::new(),
                begun: Vec::new(),
                taken: Vec::new(),
                really: Vec::new(),
                packets: Vec::new(),
                lacking: BTreeSet::new(),
                weighed: Vec::new(),
            },
            cautioned: BTreeSet::new(),
            reach: Reach {
                entered: vec![None; steps],
                waited: vec![None; steps],
                lit: None,
                put_out: false,
                ended: None,
                water_c: None,
            },
            lexicon: Named(Arc::new(lexicon(&formula))),
            written: formula.clone(),
            formula,
            batch,
            remembered,
        }
    }

    /// This kitchen's own times of it.
    pub(super) fn own(&self) -> &OwnTimes {
        &self.remembered.own
    }

    /// What is remembered of it.
    pub(super) fn remembered(&self) -> &Remembered {
        &self.remembered
    }

    /// How warm the dough's water was to be, or was, in Celsius.
    pub(super) fn water_c(&self) -> Option<f64> {
        self.reach.water_c
    }

    /// The water is so warm, in Celsius.
    pub(super) fn water_is(&mut self, celsius: f64) {
        self.reach.water_c = Some(celsius);
    }

    /// What can be named of it, and of the tables.
    pub(super) fn lexicon(&self) -> &Lexicon {
        &self.lexicon.0
    }

    /// The formula as it is written, whatever was taken.
    pub(super) fn written(&self) -> &Formula {
        &self.written
    }

    /// Takes one of what may be taken for an ingredient; false where that may not be taken.
    pub(super) fn take(&mut self, ingredient: usize, name: &str) -> bool {
        if self.written.taking(ingredient, name).is_none() {
            return false;
        }
        self.work.taken.retain(|(at, _)| *at != ingredient);
        self.work.taken.push((ingredient, name.to_owned()));
        self.fill_in();
        true
    }

    /// The written formula with all that was taken.
    fn fill_in(&mut self) {
        let mut formula = self.written.clone();
        for (at, name) in &self.work.taken {
            if let Some(with) = formula.taking(*at, name) {
                formula = with;
            }
        }
        self.lexicon = Named(Arc::new(lexicon(&formula)));
        self.formula = formula;
    }

    pub(super) fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Today's size.
    pub(super) fn batch(&self) -> &Batch {
        &self.batch
    }

    pub(super) fn set_batch(&mut self, batch: Batch) {
        self.batch = batch;
    }

    // The place in the steps.

    /// The current step; the last one where all are done, none before the first.
    pub(super) fn step(&self) -> Option<usize> {
        self.work.step
    }

    /// All steps are done.
    pub(super) fn is_finished(&self) -> bool {
        self.work.finished
    }

    /// Goes to a step, or to the end where there is none of that number.
    pub(super) fn enter(&mut self, at: usize, now: Moment) {
        self.work.left = false;
        self.work.off = None;
        self.work.finished = at >= self.formula.steps.len();
        if self.work.finished {
            self.reach.ended = Some(now);
        } else {
            self.work.step = Some(at);
            self.reach.entered[at].get_or_insert(now);
        }
    }

    /// Goes one step back: from the end to the last one, from the first to the beginning.
    pub(super) fn go_back(&mut self) {
        if std::mem::take(&mut self.work.left) {
            return;
        }
        if !std::mem::take(&mut self.work.finished) {
            self.work.step = self.work.step.and_then(|at| at.checked_sub(1));
        }
    }

    /// The current step is done, and the cook turns to another dish.
    pub(super) fn leave(&mut self) {
        self.work.left = true;
    }

    /// The current step is done, and the next has not been entered.
    pub(super) fn is_left(&self) -> bool {
        self.work.left
    }

    /// It is not made after all, or is again.
    pub(super) fn leave_out(&mut self, out: bool) {
        self.work.out = out;
    }

    pub(super) fn is_out(&self) -> bool {
        self.work.out
    }

    /// It waits until then, or no more.
    pub(super) fn put_off(&mut self, off: Option<Moment>) {
        self.work.off = off;
    }

    /// Until when it waits, where it does.
    pub(super) fn is_off(&self, now: Moment) -> Option<Moment> {
        self.work.off.filter(|until| *until > now)
    }

    /// What can be named of it, shared.
    pub(super) fn named(&self) -> Arc<Lexicon> {
        Arc::clone(&self.lexicon.0)
    }

    /// The cautions of a step are about to be spoken; false where they have been.
    pub(super) fn caution(&mut self, at: usize) -> bool {
        self.cautioned.insert(at)
    }

    // What went in.

    /// What the current weigh-up step calls for now.
    pub(super) fn called(&self) -> Option<At> {
        let step = self.work.step.filter(|_| !self.work.finished)?;
        if !self.formula.steps[step].weigh_up {
            return None;
        }
        self.uses_not_in(step).first().map(|u| (step, *u))
    }

    /// The uses of a step that have not gone in.
    pub(super) fn uses_not_in(&self, step: usize) -> Vec<usize> {
        let uses = self.work.added[step].iter().enumerate();
        uses.filter(|(_, t)| t.is_none()).map(|(u, _)| u).collect()
    }

    pub(super) fn anything_added(&self) -> bool {
        self.work.added.iter().flatten().any(Option::is_some)
    }

    /// Every use, in working order, and when it went in.
    pub(super) fn uses(&self) -> impl Iterator<Item = (At, Option<Moment>)> + '_ {
        let steps = self.work.added.iter().enumerate();
        steps.flat_map(|(s, uses)| uses.iter().enumerate().map(move |(u, t)| ((s, u), *t)))
    }

    /// Every use not in, in working order.
    pub(super) fn open_uses(&self) -> impl Iterator<Item = At> + '_ {
        self.uses().filter(|(_, t)| t.is_none()).map(|(at, _)| at)
    }

    /// When a use went in.
    pub(super) fn went_in(&self, (step, at): At) -> Option<Moment> {
        self.work.added[step][at]
    }

    /// A use is in, or is not after all.
    pub(super) fn mark(&mut self, (step, at): At, when: Option<Moment>) {
        self.work.added[step][at] = when;
        let of = self.ingredient((step, at));
        if when.is_some() {
            self.work.lacking.remove(&of);
        } else {
            self.work.weighed.retain(|(of, _)| *of != (step, at));
        }
    }

    /// So much of a use is in by the scale, whether that is all of it or not.
    pub(super) fn weigh(&mut self, at: At, mass: Mass) {
        self.work.weighed.retain(|(of, _)| *of != at);
        self.work.weighed.push((at, mass));
    }

    /// What the scale showed of a use.
    pub(super) fn weighed(&self, at: At) -> Option<Mass> {
        let weighed = self.work.weighed.iter();
        weighed
            .rev()
            .find(|(of, _)| *of == at)
            .map(|(_, mass)| *mass)
    }

    /// A use that is in wants more: so much of it is there.
    pub(super) fn reopen(&mut self, (step, at): At, there: Mass) {
        self.work.added[step][at] = None;
        self.work.assumed.retain(|of| *of != (step, at));
        self.weigh((step, at), there);
    }

    /// What a use wants today.
    pub(super) fn wants(&self, at: At) -> Mass {
        let part = self.formula.steps[at.0].uses[at.1].part;
        self.batch.mass(self.ingredient(at)).times(part)
    }

    /// What a use still wants.
    pub(super) fn still_wants(&self, at: At) -> Mass {
        let there = self.weighed(at).map_or(0.0, Mass::as_grams);
        Mass::grams((self.wants(at).as_grams() - there).max(0.0))
    }

    /// A use is in because the cook goes on: going back takes it back.
    pub(super) fn assume(&mut self, at: At, now: Moment) {
        self.mark(at, Some(now));
        self.work.assumed.push(at);
    }

    /// Names of what has not gone in, each once.
    pub(super) fn not_in(&self) -> Vec<String> {
        self.names(self.open_uses())
    }

    /// Names of what should have gone in before a step and has not, the smallest first: that is what nobody misses by eye.
    pub(super) fn forgotten(&self, step: usize) -> Vec<String> {
        let grams = |at: &At| match self.batch.mass(self.ingredient(*at)).as_grams() {
            g if g > 0.0 => g,
            _ => f64::MAX,
        };
        let mut open: Vec<At> = self.open_uses().filter(|(s, _)| *s < step).collect();
        open.sort_by(|a, b| grams(a).total_cmp(&grams(b)));
        self.names(open.into_iter())
    }

    /// The names of uses, each once.
    pub(super) fn names(&self, uses: impl Iterator<Item = At>) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for at in uses {
            let name = self.name(at);
            if names.iter().all(|n| n != name) {
                names.push(name.to_owned());
            }
        }
        names
    }

    /// The ingredient of a use.
    pub(super) fn ingredient(&self, (step, at): At) -> usize {
        self.formula.steps[step].uses[at].ingredient
    }

    /// The name of a use's ingredient.
    pub(super) fn name(&self, at: At) -> &str {
        &self.formula.ingredients[self.ingredient(at)].name
    }

    /// Going on says that what the step named went in; in a weigh-up each is said by itself.
    pub(super) fn leave_step(&mut self, at: usize, now: Moment) {
        self.work.assumed.clear();
        if self.formula.steps[at].weigh_up {
            return;
        }
        for u in self.uses_to_go_in(at) {
            self.assume((at, u), now);
        }
    }

    /// Going back at once from where a slip of the hand led: what was taken to be in is not.
    pub(super) fn take_back_slip(&mut self, at: usize, now: Moment) {
        for (s, u) in std::mem::take(&mut self.work.assumed) {
            let slip = self
                .went_in((s, u))
                .is_some_and(|when| now.since(when) <= SLIP);
            if s == at && slip && !self.formula.steps[s].weigh_up {
                self.mark((s, u), None);
            }
        }
    }

    /// In a weigh-up, takes back what was just called in; nothing where nothing was.
    pub(super) fn take_back_weighed(&mut self, at: usize) -> Option<At> {
        if !self.formula.steps[at].weigh_up || self.work.assumed.last().is_none_or(|a| a.0 != at) {
            return None;
        }
        let last = self.work.assumed.pop()?;
        self.mark(last, None);
        Some(last)
    }

    // The formula's timers.

    /// The first timer of the current step that has not been started.
    pub(super) fn offered(&self) -> Option<&TimerSpec> {
        let at = self.work.step.filter(|_| !self.work.finished)?;
        let begun = |spec: &TimerSpec| {
            let mut begun = self.work.begun.iter();
            begun.any(|(step, name)| *step == at && *name == spec.name)
        };
        let mut timers = self.formula.steps[at].timers.iter();
        timers.find(|spec| !begun(spec))
    }

    /// A timer of a step is started.
    pub(super) fn begin(&mut self, step: usize, timer: &str) {
        self.work.begun.push((step, timer.to_owned()));
    }

    /// A timer of a step was stopped: it is offered again.
    pub(super) fn offer_again(&mut self, step: usize, timer: Option<&str>) {
        self.work
            .begun
            .retain(|(s, name)| *s != step || Some(name.as_str()) != timer);
    }

    /// What the formula says of a timer.
    pub(super) fn spec_of(&self, t: &Timer) -> Option<&TimerSpec> {
        let timers = &self.formula.steps.get(t.origin?.step)?.timers;
        timers
            .iter()
            .find(|spec| t.written.as_deref() == Some(&spec.name))
    }

    // By the clock.

    /// When a step was first entered.
    pub(super) fn entered(&self, step: usize) -> Option<Moment> {
        self.reach.entered[step]
    }

    /// When the last step was done.
    pub(super) fn ended(&self) -> Option<Moment> {
        self.reach.ended.filter(|_| self.work.finished)
    }

    /// When the wait of a step was over by the cook's word.
    pub(super) fn waited(&self, step: usize) -> Option<Moment> {
        self.reach.waited[step]
    }

    /// The wait of a step is over by the cook's word.
    pub(super) fn wait_is_over(&mut self, step: usize, now: Moment) {
        if let Some(waited) = self.reach.waited.get_mut(step) {
            *waited = Some(now);
        }
    }

    /// When the cook was told to light the oven.
    pub(super) fn lit(&self) -> Option<Moment> {
        self.reach.lit
    }

    /// The cook is told to light the oven.
    pub(super) fn light(&mut self, now: Moment) {
        self.reach.lit.get_or_insert(now);
    }

    /// The oven is off.
    pub(super) fn put_out(&mut self) {
        self.reach.lit = None;
        self.reach.put_out = true;
    }

    /// The cook has put the oven out: it is not called for again.
    pub(super) fn is_put_out(&self) -> bool {
        self.reach.put_out
    }

    /// What really went in of an ingredient: as the cook told it, or as the scale showed it where all of it is in.
    pub(super) fn really(&self, ingredient: usize) -> Option<Mass> {
        let mut told = self.work.really.iter().rev();
        let told = told.find(|(i, _)| *i == ingredient).map(|(_, mass)| *mass);
        told.or_else(|| {
            let uses = self
                .uses()
                .filter(|(at, _)| self.ingredient(*at) == ingredient);
            let masses = uses.map(|(at, when)| when.and_then(|_| self.weighed(at)));
            let masses: Vec<Mass> = masses.collect::<Option<_>>()?;
            let sum = masses.iter().map(|m| m.as_grams()).sum();
            (!masses.is_empty()).then(|| Mass::grams(sum))
        })
    }

    /// Today's batch, with what really went in where that is known.
    pub(super) fn real_batch(&self) -> Batch {
        let all = (0..self.formula.ingredients.len()).filter_map(|i| Some((i, self.really(i)?)));
        self.batch.with_masses(all)
    }

    /// So much of an ingredient really went in.
    pub(super) fn note_really(&mut self, ingredient: usize, mass: Mass) {
        self.work.really.push((ingredient, mass));
    }

    /// The cook has said not to have this.
    pub(super) fn lacks(&mut self, ingredient: usize) {
        self.work.lacking.insert(ingredient);
    }

    /// The uses of a step that have not gone in, without what the cook has not got.
    pub(super) fn uses_to_go_in(&self, step: usize) -> Vec<usize> {
        let has = |u: &usize| !self.work.lacking.contains(&self.ingredient((step, *u)));
        self.uses_not_in(step).into_iter().filter(has).collect()
    }

    /// What the cook read on packets.
    pub(super) fn packets(&self) -> &[(usize, String, bool)] {
        &self.work.packets
    }

    /// What a packet says takes the place of what it was said to say before.
    pub(super) fn note_packet(&mut self, ingredient: usize, what: &str, absent: bool) {
        let packets = &mut self.work.packets;
        packets.retain(|(at, of, _)| *at != ingredient || of != what);
        packets.push((ingredient, what.to_owned(), absent));
    }

    // For an undo.

    pub(super) fn work(&self) -> &Work {
        &self.work
    }

    pub(super) fn put_back(&mut self, work: Work) {
        self.work = work;
        self.fill_in();
    }
}
