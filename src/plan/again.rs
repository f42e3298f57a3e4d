//! The plan for another hour, or after a delay, with as little change as will do; and what to offer when it cannot be.

use serde::{Deserialize, Serialize};

use super::plan::{Block, BlockPart, Plan};
use super::replan::{BlockProgress, Change, Reached, replan_like};
use super::spoken::{say_changes, say_time, thing};
use crate::measure::spoken_time::say_duration;
use crate::measure::words::{capital, cardinal};
use crate::time::{Minute, Span, Wall};

/// What the cook wants of a plan that there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanWish {
    /// Everything at another hour.
    EatAt(Minute),
    /// The guests are so many minutes late.
    Later(i64),
    /// The cook is so many minutes behind with what is being done.
    Behind(i64),
}

/// What may be done where a wish cannot be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Offer {
    /// Everything can be ready at this hour.
    Ready(Minute),
    /// Without this dish the hour is met.
    Drop(usize),
    /// This dish is done long before: it is brought cold.
    Cold(usize),
}

/// What came of a wish.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Again {
    /// The plan as it would be now.
    pub plan: Plan,
    /// What is different in it.
    pub changes: Vec<Change>,
    /// Where it misses the hour, or keeps something hot for too long: what to do instead, the best first.
    pub offers: Vec<Offer>,
}

/// The plan again for a wish, from how far everything has come. What has not begun keeps its order where the hour can
/// be met by it, and no more than ten minutes of standing are lost by that.
pub fn again(plan: &Plan, progress: &[BlockProgress], now: Minute, wish: PlanWish) -> Again {
    let mut wanted = plan.clone();
    let mut progress = progress.to_vec();
    match wish {
        PlanWish::EatAt(at) => wanted.wanted_at = at,
        PlanWish::Later(by) => wanted.wanted_at = plan.ready_at.plus(by),
        PlanWish::Behind(by) => fall_behind(plan, &mut progress, now, by),
    }
    let (new, changes) = replan_like(&wanted, plan, &progress, now);
    let mut offers = Vec::new();
    if new.ready_at > new.wanted_at {
        offers.push(Offer::Ready(new.ready_at));
        let begun = |dish: usize| progress.iter().any(|p| p.id.dish == dish);
        let several = wanted.items.len() > 1;
        for dish in (0..wanted.items.len()).filter(|d| several && !begun(*d)) {
            let (rest, of_rest) = without(&wanted, &progress, dish);
            let (other, _) = replan_like(&rest, &rest, &of_rest, now);
            if other.ready_at <= other.wanted_at {
                offers.push(Offer::Drop(dish));
            }
        }
    }
    for (dish, item) in new.items.iter().enumerate() {
        let stood = new.ready_at.since(new.dishes[dish].ready);
        if item.keeps.is_some_and(|keeps| stood > keeps) {
            offers.push(Offer::Cold(dish));
        }
    }
    Again {
        plan: new,
        changes,
        offers,
    }
}

/// What runs takes so much longer; where nothing does, everything begins so much later.
fn fall_behind(plan: &Plan, progress: &mut Vec<BlockProgress>, now: Minute, by: i64) {
    let hands = |p: &&mut BlockProgress| {
        p.id.part == BlockPart::Hands && matches!(p.state, Reached::Running(_))
    };
    if let Some(at) = progress.iter_mut().find(hands) {
        if let Reached::Running(until) = at.state {
            at.state = Reached::Running(until.max(now).plus(by));
        }
        return;
    }
    let comes = |b: &&Block| {
        b.id.part == BlockPart::Hands
            && b.end > now
            && !progress
                .iter()
                .any(|p| p.id.dish == b.id.dish && (p.id.step, p.id.part) >= (b.id.step, b.id.part))
    };
    let next = plan.blocks.iter().find(comes);
    if let Some(next) = next {
        progress.push(BlockProgress {
            id: next.id,
            state: Reached::Running(next.end.max(now).plus(by)),
        });
    }
}

/// The plan without a dish.
fn without(plan: &Plan, progress: &[BlockProgress], dish: usize) -> (Plan, Vec<BlockProgress>) {
    let mut rest = plan.clone();
    rest.items.remove(dish);
    rest.dishes.remove(dish);
    rest.blocks.retain(|b| b.id.dish != dish);
    let down = |at: usize| if at > dish { at - 1 } else { at };
    for block in &mut rest.blocks {
        block.id.dish = down(block.id.dish);
    }
    let of_rest = progress
        .iter()
        .filter(|p| p.id.dish != dish)
        .map(|p| {
            let mut p = *p;
            p.id.dish = down(p.id.dish);
            p
        })
        .collect();
    (rest, of_rest)
}

/// So many moves are named one by one.
const NAMED: usize = 2;

/// What came of a wish, in one sentence, and a second where it cannot be met.
pub fn say_again(again: &Again, wall: &Wall) -> String {
    let plan = &again.plan;
    let mut moved: Vec<(&Block, i64)> = again
        .changes
        .iter()
        .filter_map(|change| match change {
            Change::Moved { block, was } if block.id.part != BlockPart::Wait => {
                Some((block, block.start.since(*was)))
            }
            _ => None,
        })
        .collect();
    moved.sort_by_key(|(block, _)| block.start);
    let same = moved.windows(2).all(|pair| pair[0].1 == pair[1].1);
    let first = if same {
        say_changes(plan, &again.changes, wall)
    } else {
        let told: Vec<String> = moved
            .iter()
            .take(NAMED)
            .map(|(block, _)| format!("{} at {}", thing(plan, block), say_time(block.start, wall)))
            .collect();
        let more = match moved.len().saturating_sub(NAMED) {
            0 => String::new(),
            1 => ", and one more thing moves".to_owned(),
            n => format!(", and {} more things move", cardinal(n as u64)),
        };
        format!(
            "On the table at {}: {}{more}.",
            say_time(plan.ready_at, wall),
            told.join(", ")
        )
    };
    let offers = say_offers(again, wall);
    if offers.is_empty() {
        first
    } else {
        format!("{offers} {first}")
    }
}

/// What may be done where the hour cannot be kept: 'That cannot be done: eight is the earliest, or leave out the pie.'
fn say_offers(again: &Again, wall: &Wall) -> String {
    let name = |dish: usize| {
        let name = again
            .plan
            .items
            .get(dish)
            .map(|item| item.name.to_lowercase());
        format!("the {}", name.unwrap_or_default())
    };
    let mut late = Vec::new();
    let mut cold = Vec::new();
    let mut drop = Vec::new();
    for offer in &again.offers {
        match offer {
            Offer::Ready(at) => late.push(format!(
                "{} is the earliest",
                say_time(at.to_five(wall), wall)
            )),
            Offer::Drop(dish) => drop.push(name(*dish)),
            Offer::Cold(dish) => cold.push(name(*dish)),
        }
    }
    let mut sentences = Vec::new();
    if let Some(late) = late.first() {
        let drop = match drop.as_slice() {
            [] => String::new(),
            some => format!(", or leave out {}", some.join(" or ")),
        };
        sentences.push(format!("That is too soon: {late}{drop}."));
    }
    if !cold.is_empty() {
        let stood = again
            .offers
            .iter()
            .filter_map(|offer| match offer {
                Offer::Cold(dish) => {
                    Some(again.plan.ready_at.since(again.plan.dishes[*dish].ready))
                }
                _ => None,
            })
            .max()
            .unwrap_or(0);
        sentences.push(format!(
            "{} would stand for {}: bring {} cold, or leave {} out.",
            capital(&cold.join(" and ")),
            say_duration(Span::minutes(stood.unsigned_abs())),
            if cold.len() == 1 { "it" } else { "them" },
            if cold.len() == 1 { "it" } else { "them" },
        ));
    }
    sentences.join(" ")
}
