//! The plan made again from what really happened, and what became different.

use serde::{Deserialize, Serialize};

use super::build::{Build, Grip, Standing};
use super::effort::Effort;
use super::plan::{Block, BlockId, BlockPart, Plan, Waived};
use crate::time::Minute;

/// How far a block has come. What stands before it in its dish counts as done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct BlockProgress {
    /// Which block.
    pub id: BlockId,
    /// How far.
    pub state: Reached,
}

/// Done, or running.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reached {
    /// Over since then. Of the lighting of the oven: hot since then.
    Done(Minute),
    /// It runs, and will really end then.
    Running(Minute),
    /// It should have begun and has not. Needs saying only of the lighting of the oven, which otherwise counts as
    /// done at its time.
    NotYet,
}

/// Something that the cook should know has become different.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "change", rename_all = "snake_case")]
pub enum Change {
    /// A block that has not begun has another time.
    Moved {
        /// The block as it is now.
        block: Block,
        /// When it would have started.
        was: Minute,
    },
    /// A block that runs ends at another time.
    Ends {
        /// The block as it is now.
        block: Block,
        /// When it would have ended.
        was: Minute,
    },
    /// A block that was not in the plan before: the oven must be lit once more.
    Added {
        /// The block.
        block: Block,
    },
    /// A block is no longer needed.
    Dropped {
        /// The block as it was.
        block: Block,
    },
    /// Everything is ready at another time.
    Ready {
        /// When now.
        at: Minute,
        /// When before.
        was: Minute,
    },
}

/// Plans the rest again at `now`, aiming at the hour that was wanted first; when that cannot be met any more, at the
/// soonest.
pub fn replan(plan: &Plan, progress: &[BlockProgress], now: Minute) -> (Plan, Vec<Change>) {
    made_again(plan, None, progress, now)
}

/// The same, and in the order that another plan has where that is as good.
pub(super) fn replan_like(
    plan: &Plan,
    like: &Plan,
    progress: &[BlockProgress],
    now: Minute,
) -> (Plan, Vec<Change>) {
    made_again(plan, Some(like), progress, now)
}

fn made_again(
    plan: &Plan,
    like: Option<&Plan>,
    progress: &[BlockProgress],
    now: Minute,
) -> (Plan, Vec<Change>) {
    let standing: Vec<Standing> = (0..plan.items.len())
        .map(|dish| standing(plan, progress, now, dish))
        .collect();
    let mut new = None;
    let kept = plan.waived;
    let sleepless = Waived {
        sleep: true,
        ..kept
    };
    let ways = [
        (Grip::Firm, kept),
        (Grip::Late, kept),
        (Grip::Late, sleepless),
        (Grip::Loose, sleepless),
    ];
    for (grip, waived) in ways {
        let build = Build {
            items: &plan.items,
            standing: &standing,
            now: now.0,
            grip,
            kitchen: &plan.kitchen,
            waived,
            effort: Effort::AtOnce,
        };
        // Food that is done already does not get better by keeping to an hour that has passed.
        let wanted = plan.wanted_at;
        let known = build.as_in(plan, wanted.0);
        if let Some(found) = build.latest_for(wanted.0, known.as_ref()) {
            let found = like
                .and_then(|like| build.like(like, wanted.0, &found))
                .unwrap_or(found);
            new = Some(build.plan(&found, wanted, wanted));
            break;
        }
        if let Some((soonest, orders)) = build.soonest(known.as_ref()) {
            let ready = soonest.max(wanted.0);
            if let Some(found) = build.latest_for(ready, Some(&orders)) {
                new = Some(build.plan(&found, Minute(ready), wanted));
                break;
            }
        }
    }
    // With nothing keeping anything busy, one dish after another always fits.
    let new = new.unwrap_or_else(|| plan.clone());
    let changes = changes(plan, &new, progress, now);
    (new, changes)
}

/// How far a dish has come, by what is told of it and by the plan.
pub(super) fn standing(
    plan: &Plan,
    progress: &[BlockProgress],
    now: Minute,
    dish: usize,
) -> Standing {
    let item = &plan.items[dish];
    let place_of = |step: usize| item.steps.iter().position(|s| s.step == step);
    let own: Vec<(BlockPart, usize, Reached)> = progress
        .iter()
        .filter(|p| p.id.dish == dish)
        .filter_map(|p| Some((p.id.part, place_of(p.id.step)?, p.state)))
        .collect();
    let mut standing = Standing::default();
    for (place, step) in item.steps.iter().enumerate() {
        let said = own
            .iter()
            .find(|(part, at, _)| (*part, *at) == (BlockPart::Preheat, place))
            .map(|(_, _, state)| *state);
        let planned = plan.block(BlockId {
            dish,
            step: step.step,
            part: BlockPart::Preheat,
        });
        if step.heat_c.is_none() || step.lights || item.keeps_oven(place) {
            continue;
        }
        // A dish that was to find the oven hot has no block for lighting it, and counts on the oven all the same.
        let should = match planned {
            Some(block) => Some((block.start, block.end)),
            None => plan
                .blocks
                .iter()
                .find(|block| block.id.dish == dish && block.id.step == step.step)
                .map(|block| (block.start.plus(-item.lead), block.start)),
        };
        let hot = match (said, should) {
            (Some(Reached::Done(hot) | Reached::Running(hot)), _) => Some(hot),
            (None, Some((lit, hot))) if lit < now => Some(hot),
            _ => None,
        };
        if let Some(hot) = hot {
            let lit = should.map_or(now, |(lit, _)| lit).min(now).min(hot);
            standing.lit.push((place, lit.0, hot.0, planned.is_some()));
        }
    }
    let furthest = own
        .iter()
        .filter(|(part, _, state)| *part != BlockPart::Preheat && *state != Reached::NotYet)
        .max_by_key(|(part, place, _)| (*place, *part));
    let Some((part, place, state)) = furthest else {
        return standing;
    };
    standing.running = matches!(state, Reached::Running(_));
    for (at, step) in item.steps.iter().enumerate() {
        for (each, lasts) in [(BlockPart::Hands, step.hands), (BlockPart::Wait, step.wait)] {
            if lasts == 0 || (at, each) > (*place, *part) {
                continue;
            }
            let said = own
                .iter()
                .find(|(p, a, _)| (*p, *a) == (each, at))
                .map(|(_, _, state)| *state);
            let planned = plan.block(BlockId {
                dish,
                step: step.step,
                part: each,
            });
            let is_last = (at, each) == (*place, *part);
            let end = match said {
                Some(Reached::Running(until)) if is_last => until.max(now),
                Some(Reached::Done(end) | Reached::Running(end)) => end.min(now),
                _ => planned.map_or(now, |block| block.end).min(now),
            };
            let start = planned.map_or(end, |block| block.start).min(end).min(now);
            standing.past.push((each, at, start.0, end.0));
        }
    }
    // A block starts when the one before it really ended, if it was to follow at once.
    for i in 1..standing.past.len() {
        let before = standing.past[i - 1].3;
        let block = &mut standing.past[i];
        block.2 = block.2.max(before).min(block.3);
    }
    standing
}

fn changes(old: &Plan, new: &Plan, progress: &[BlockProgress], now: Minute) -> Vec<Change> {
    let mut changes = Vec::new();
    let is_past = |id: BlockId| {
        progress.iter().any(|p| {
            p.id.dish == id.dish
                && p.state != Reached::NotYet
                && match (id.part, p.id.part) {
                    (BlockPart::Preheat, BlockPart::Preheat) => p.id.step == id.step,
                    // The oven was hot if its step has begun.
                    (BlockPart::Preheat, _) => p.id.step >= id.step,
                    (_, BlockPart::Preheat) => false,
                    _ => (p.id.step, p.id.part) > (id.step, id.part) || p.id == id,
                }
        })
    };
    for block in &new.blocks {
        let runs = progress
            .iter()
            .any(|p| p.id == block.id && matches!(p.state, Reached::Running(_)));
        match old.block(block.id) {
            Some(before) if runs && before.end != block.end => changes.push(Change::Ends {
                block: block.clone(),
                was: before.end,
            }),
            Some(before) if !is_past(block.id) && before.start != block.start => {
                changes.push(Change::Moved {
                    block: block.clone(),
                    was: before.start,
                });
            }
            None if !is_past(block.id) => changes.push(Change::Added {
                block: block.clone(),
            }),
            _ => {}
        }
    }
    for block in &old.blocks {
        if block.start >= now && !is_past(block.id) && new.block(block.id).is_none() {
            changes.push(Change::Dropped {
                block: block.clone(),
            });
        }
    }
    if new.ready_at != old.ready_at {
        changes.push(Change::Ready {
            at: new.ready_at,
            was: old.ready_at,
        });
    }
    changes
}
