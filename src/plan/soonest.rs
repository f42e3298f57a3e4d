//! Without an hour of serving: in what order everything is ready as soon as possible.

use super::build::{Build, Grip};
use super::effort::Effort;
use super::item::PlanItem;
use super::kitchen::Kitchen;
use super::plan::{Plan, Waived};
use super::replan::{BlockProgress, standing};
use crate::time::Minute;

/// When the next work of each dish begins, from how far everything has come, so that the last dish is ready as soon as
/// possible, and then each of the others; nothing for a dish that has no work left.
pub fn soonest_starts(
    kitchen: &Kitchen,
    items: &[PlanItem],
    progress: &[BlockProgress],
    now: Minute,
) -> Option<Vec<Option<Minute>>> {
    let nothing_yet = Plan {
        ready_at: now,
        wanted_at: now,
        dishes: Vec::new(),
        blocks: Vec::new(),
        proven: false,
        stands: (0, 0),
        waived: Waived::default(),
        kitchen: kitchen.clone(),
        items: items.to_vec(),
    };
    let standing: Vec<_> = (0..items.len())
        .map(|dish| standing(&nothing_yet, progress, now, dish))
        .collect();
    let ways = [
        (Grip::Firm, false),
        (Grip::Late, false),
        (Grip::Late, true),
        (Grip::Loose, true),
    ];
    ways.into_iter().find_map(|(grip, sleep)| {
        let build = Build {
            items,
            standing: &standing,
            now: now.0,
            grip,
            kitchen,
            waived: Waived { sleep, hot: false },
            effort: Effort::AtOnce,
        };
        build.soonest_starts()
    })
}
