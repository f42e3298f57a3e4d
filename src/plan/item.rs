//! What is to be planned: a formula as a chain of work and waiting.

use serde::{Deserialize, Serialize};

use super::error::PlanError;
use super::gap;
use crate::formula::{Formula, TimerSpec, names_oven};
use crate::time::Span;

/// The longest chain that is planned: thirty days.
const LONGEST: i64 = 30 * 24 * 60;

/// One formula as the plan sees it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct PlanItem {
    /// The formula's name.
    pub name: String,
    /// Steps that take time, in order.
    pub steps: Vec<PlanStep>,
    /// How long before its first use the oven is lit, in minutes.
    pub lead: i64,
    /// It is eaten hot: how many minutes it may stand, kept hot, before what is ready last.
    #[serde(default)]
    pub keeps: Option<i64>,
}

/// One step: first the cook's hands, then a wait. There is no gap between the two, nor between a wait in the oven and
/// the next step: what is baked comes out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct PlanStep {
    /// Index of the step in the formula.
    pub step: usize,
    /// Its heading.
    pub title: String,
    /// It is a weigh-up.
    pub weigh_up: bool,
    /// Minutes of work.
    pub hands: i64,
    /// Minutes of waiting after the work.
    pub wait: i64,
    /// The timer that decides the wait.
    pub timer: Option<String>,
    /// Cues inside the wait: minutes from its start, and what is said.
    pub cues: Vec<(i64, String)>,
    /// It uses the oven at this heat, in Celsius, or lights it.
    pub heat_c: Option<f64>,
    /// It lights the oven itself, for a later step.
    #[serde(default)]
    pub lights: bool,
    /// It uses a ring of the hob.
    #[serde(default)]
    pub hob: bool,
    /// It begins no later than so many minutes after the step before; nothing where that does not matter.
    #[serde(default)]
    pub within: Option<i64>,
    /// So many minutes longer its wait may last: it is a cold one.
    #[serde(default)]
    pub stretch: i64,
}

impl PlanItem {
    /// A formula with the times that are written in it.
    pub fn from_formula(formula: &Formula) -> Result<Self, PlanError> {
        Self::with_times(formula, |_, timer| timer.lasts)
    }

    /// A formula with the time that each timer takes here; a timer is given with the index of its step.
    pub fn with_times(
        formula: &Formula,
        time: impl Fn(usize, &TimerSpec) -> Span,
    ) -> Result<Self, PlanError> {
        let mut steps: Vec<PlanStep> = Vec::new();
        for index in 0..formula.steps.len() {
            let mut step = plan_step(index, formula, &time);
            if let Some(before) = steps.last_mut().filter(|_| formula.steps[index].alongside) {
                step.share_wait(before);
                // It is done in the wait.
                step.within = Some(0);
            } else if let Some(before) = steps.last() {
                let (one, next) = (&formula.steps[before.step], &formula.steps[index]);
                step.within = Some(gap::between(one, next).minutes_up());
            }
            if step.hands + step.wait > 0 {
                steps.push(step);
            }
        }
        let mut item = Self {
            name: formula.name.clone(),
            lead: formula
                .oven
                .as_ref()
                .map_or(0, |oven| oven.lead.minutes_up()),
            keeps: gap::stands_hot(formula).map(Span::minutes_up),
            steps,
        };
        item.wait_for_heat();
        item.checked()
    }

    /// The same in a kitchen whose oven gets hot in its own time, and whose cook takes a time of his own for steps that
    /// are only work; a step is given by its heading.
    #[must_use]
    pub fn at_home(mut self, lead: Option<Span>, work: impl Fn(&str) -> Option<Span>) -> Self {
        if let Some(lead) = lead.filter(|_| self.lead > 0) {
            self.lead = lead.minutes_up();
            self.wait_for_heat();
        }
        for step in self.steps.iter_mut().filter(|s| s.wait == 0) {
            if let Some(own) = work(&step.title).filter(|_| step.hands > 0) {
                step.hands = own.minutes_up();
            }
        }
        self
    }

    /// Where a step of the formula lights the oven, what is to go into it waits until the oven is hot.
    fn wait_for_heat(&mut self) {
        let Some(lit) = self.steps.iter().position(|step| step.lights) else {
            return;
        };
        let first = |step: &PlanStep| step.heat_c.is_some() && !step.lights;
        let Some(used) = self.steps.iter().skip(lit).position(first) else {
            return;
        };
        let between = &mut self.steps[lit..lit + used];
        let spent: i64 = between.iter().map(|step| step.hands + step.wait).sum();
        if let Some(last) = between.last_mut().filter(|_| spent < self.lead) {
            last.wait += self.lead - spent;
            last.timer.get_or_insert_with(|| "oven".to_owned());
        }
    }

    /// Whether a step finds the oven still on from an earlier step of the same dish: the break between the two is not
    /// longer than the oven needs to get hot.
    pub(super) fn keeps_oven(&self, place: usize) -> bool {
        let mut between = 0;
        for step in self.steps[..place].iter().rev() {
            if step.heat_c.is_some() {
                return step.lights || between <= self.lead;
            }
            between += step.hands + step.wait;
        }
        false
    }

    pub(super) fn checked(self) -> Result<Self, PlanError> {
        let total = self.steps.iter().fold(self.lead, |sum, step| {
            sum.saturating_add(step.hands).saturating_add(step.wait)
        });
        if self.steps.is_empty() {
            Err(PlanError::NoTimes { name: self.name })
        } else if total > LONGEST {
            Err(PlanError::TooLong { name: self.name })
        } else {
            Ok(self)
        }
    }
}

impl PlanStep {
    /// This step is done while the one before waits: what is left of that wait comes after it.
    fn share_wait(&mut self, before: &mut Self) {
        let left = (before.wait - self.hands).max(0);
        if before.wait > 0 && left >= self.wait {
            let hands = self.hands;
            self.wait = left;
            self.timer = before.timer.take();
            self.heat_c = self.heat_c.or(before.heat_c);
            self.cues.extend(
                before
                    .cues
                    .drain(..)
                    .map(|(at, say)| ((at - hands).max(0), say)),
            );
            self.cues.sort();
        }
        before.wait = 0;
        before.cues.clear();
    }
}

fn plan_step(
    index: usize,
    formula: &Formula,
    time: &impl Fn(usize, &TimerSpec) -> Span,
) -> PlanStep {
    let step = &formula.steps[index];
    let lights = formula.oven.as_ref().filter(|_| step.lights_oven());
    let waits: Vec<(TimerSpec, i64)> = step
        .timers
        .iter()
        .filter(|timer| !(timer.alongside || lights.is_some() && names_oven(&timer.name)))
        .map(|timer| {
            let lasts = match (time(index, timer), timer.most) {
                // Of a range the longest, so that nothing is late; in the cold, where it may stay, the shortest.
                (lasts, Some(most)) if lasts == timer.lasts && !timer.cold => most,
                (lasts, _) => lasts,
            };
            (timer.lasting(lasts), lasts.minutes_up())
        })
        .collect();
    // Of several equally long ones the first gives its name.
    let longest = waits.iter().rev().max_by_key(|(_, lasts)| *lasts);
    let wait = longest.map_or(0, |(_, lasts)| *lasts);
    let mut cues: Vec<(i64, String)> = waits
        .iter()
        .flat_map(|(timer, lasts)| {
            timer
                .cues
                .iter()
                .map(|cue| (cue.at.minutes_up().clamp(0, *lasts), cue.say.clone()))
        })
        // The plan has a row of its own for lighting the oven.
        .filter(|(_, say)| !(names_oven(say) && formula.oven_comes_after(index)))
        .collect();
    cues.sort();
    PlanStep {
        step: index,
        title: step.title.clone(),
        weigh_up: step.weigh_up,
        hands: step.hands_on.minutes_up(),
        wait,
        timer: longest.map(|(timer, _)| timer.name.clone()),
        cues,
        heat_c: step.oven_c.or(lights.map(|oven| oven.heat_c)),
        lights: lights.is_some(),
        hob: gap::on_hob(step),
        within: None,
        stretch: longest.map_or(0, |(timer, lasts)| match timer.most {
            Some(most) if timer.cold => (most.minutes_up() - lasts).max(0),
            _ => 0,
        }),
    }
}
