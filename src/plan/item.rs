//! What is to be planned: a formula as a chain of work and waiting.

use serde::{Deserialize, Serialize};

use super::error::PlanError;
use super::minute::minutes;
use crate::formula::{Formula, Step};
use crate::measure::Span;

/// The longest chain that is planned: thirty days.
const LONGEST: i64 = 30 * 24 * 60;

/// One formula as the plan sees it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlanItem {
    /// The formula's name.
    pub name: String,
    /// Steps that take time, in order.
    pub steps: Vec<PlanStep>,
    /// How long before its first use the oven is lit, in minutes.
    pub lead: i64,
}

/// One step: first the cook's hands, then a wait. There is no gap between the two, nor between a wait in the oven and
/// the next step: what is baked comes out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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
    /// It uses the oven at this heat, in Celsius.
    pub heat_c: Option<f64>,
}

impl PlanItem {
    /// A formula with the times that are written in it.
    pub fn from_formula(formula: &Formula) -> Result<Self, PlanError> {
        Self::with_times(formula, |_| None)
    }

    /// A formula with this kitchen's own time for a timer, by its name, where there is one.
    pub fn with_times(
        formula: &Formula,
        own: impl Fn(&str) -> Option<Span>,
    ) -> Result<Self, PlanError> {
        let steps: Vec<PlanStep> = formula
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| plan_step(index, step, formula, &own))
            .filter(|step| step.hands + step.wait > 0)
            .collect();
        Self {
            name: formula.name.clone(),
            lead: formula.oven.as_ref().map_or(0, |oven| minutes(oven.lead)),
            steps,
        }
        .checked()
    }

    /// Whether a step finds the oven still on from an earlier step of the same dish: the break between the two is not
    /// longer than the oven needs to get hot.
    pub(super) fn keeps_oven(&self, place: usize) -> bool {
        let mut between = 0;
        for step in self.steps[..place].iter().rev() {
            if step.heat_c.is_some() {
                return between <= self.lead;
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

fn plan_step(
    index: usize,
    step: &Step,
    formula: &Formula,
    own: &impl Fn(&str) -> Option<Span>,
) -> PlanStep {
    let waits: Vec<_> = step
        .timers
        .iter()
        .filter(|timer| !heats_the_oven(step, &timer.name, formula))
        .map(|timer| {
            let lasts = own(&timer.name).unwrap_or(timer.lasts);
            (timer, minutes(lasts))
        })
        .collect();
    // Of several equally long ones the first gives its name.
    let longest = waits.iter().rev().max_by_key(|(_, lasts)| *lasts);
    let wait = longest.map_or(0, |(_, lasts)| *lasts);
    let mut cues: Vec<(i64, String)> = waits
        .iter()
        .flat_map(|&(timer, lasts)| {
            timer.cues.iter().map(move |cue| {
                // A cue counted from the end keeps its distance from the end in this kitchen's own time.
                let at = match cue.left {
                    Some(left) => lasts - minutes(left),
                    None => minutes(cue.at),
                };
                (at.clamp(0, lasts), cue.say.clone())
            })
        })
        .collect();
    cues.sort();
    PlanStep {
        step: index,
        title: step.title.clone(),
        weigh_up: step.weigh_up,
        hands: minutes(step.hands_on),
        wait,
        timer: longest.map(|(timer, _)| timer.name.clone()),
        cues,
        heat_c: step.oven_c,
    }
}

/// A timer named for the oven, in a step that puts nothing into it, watches the oven getting hot while the work goes
/// on: the plan has a row of its own for that, and nobody waits for it.
fn heats_the_oven(step: &Step, timer: &str, formula: &Formula) -> bool {
    formula.oven.is_some()
        && step.oven_c.is_none()
        && timer
            .split_whitespace()
            .any(|word| word.eq_ignore_ascii_case("oven"))
}
