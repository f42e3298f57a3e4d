//! Backwards from the hour of serving: what starts when.

use super::build::{Build, Grip, Standing};
use super::effort::Effort;
use super::error::PlanError;
use super::item::PlanItem;
use super::kitchen::Kitchen;
use super::plan::{Plan, Waived};
use crate::time::Minute;

/// Plans everything to be ready at `ready_at`, with nothing before `earliest`.
///
/// One cook: no two dishes need the hands at once. One oven: two dishes at different heats never need it at once, at
/// the same heat they may share it, and each is given its time to get hot. What comes from the oven comes out at
/// once. Of all plans it is the one in which finished food stands least, and then the one that begins latest.
///
/// # Errors
/// [`PlanError::TooLate`] with the earliest hour that can be met.
pub fn schedule(items: &[PlanItem], ready_at: Minute, earliest: Minute) -> Result<Plan, PlanError> {
    schedule_in(&Kitchen::default(), items, ready_at, earliest)
}

/// The same in a kitchen that may have two cooks or two ovens, and in which the cook may sleep.
///
/// # Errors
/// [`PlanError::TooLate`] with the earliest hour that can be met.
pub fn schedule_in(
    kitchen: &Kitchen,
    items: &[PlanItem],
    ready_at: Minute,
    earliest: Minute,
) -> Result<Plan, PlanError> {
    schedule_with(Effort::Whole, kitchen, items, ready_at, earliest)
}

/// The same with so much effort.
///
/// # Errors
/// [`PlanError::TooLate`] with the earliest hour that can be met, as far as was tried.
pub fn schedule_with(
    effort: Effort,
    kitchen: &Kitchen,
    items: &[PlanItem],
    ready_at: Minute,
    earliest: Minute,
) -> Result<Plan, PlanError> {
    if items.is_empty() {
        return Err(PlanError::Nothing);
    }
    let items = items
        .iter()
        .cloned()
        .map(PlanItem::checked)
        .collect::<Result<Vec<_>, _>>()?;
    let standing: Vec<Standing> = items.iter().map(|_| Standing::default()).collect();
    let build = |sleep| Build {
        items: &items,
        standing: &standing,
        now: earliest.0,
        grip: Grip::Firm,
        kitchen,
        waived: Waived { sleep, hot: false },
        effort,
    };
    if let Some(found) = build(false).latest_for(ready_at.0, None) {
        return Ok(build(false).plan(&found, ready_at, ready_at));
    }
    // Nothing was found: there is nothing, or there was too much to try. The soonest tells which. Nobody gets up at
    // night unless there is no other way at any hour.
    for build in [build(false), build(true)] {
        let Some((soonest, choice)) = build.soonest(None) else {
            continue;
        };
        if soonest <= ready_at.0
            && let Some(found) = build.latest_for(ready_at.0, Some(&choice))
        {
            return Ok(build.plan(&found, ready_at, ready_at));
        }
        return Err(PlanError::TooLate {
            earliest: Minute(soonest),
            late_min: soonest - ready_at.0,
        });
    }
    Err(PlanError::Nothing)
}
