//! The plan made again, when the kitchen runs late.

use super::*;

#[test]
fn a_rise_that_needs_longer_moves_what_follows() {
    let ready = Minute(NOON + 7 * 60 + 30);
    let plan = schedule(&items(&[loaf()]), ready, Minute(NOON)).unwrap();
    let rise = BlockId {
        dish: 0,
        step: 2,
        part: BlockPart::Wait,
    };
    let planned = plan.block(rise).unwrap().end;
    let wall = utc(planned.0);
    let progress = [BlockProgress {
        id: rise,
        state: Reached::Running(planned.plus(15)),
    }];
    let (new, changes) = replan(&plan, &progress, planned);
    assert_eq!(new.ready_at, ready.plus(15));
    assert_eq!(new.wanted_at, ready);
    assert_eq!(
        say_changes(&new, &changes, &wall),
        "Everything from shaping on is fifteen minutes later: on the table at quarter to eight."
    );
    // It went faster after all: the hour that was wanted first is aimed at again, and missed by one minute.
    let again = [BlockProgress {
        id: rise,
        state: Reached::Done(planned.plus(1)),
    }];
    let (newer, _) = replan(&new, &again, planned.plus(1));
    assert_eq!(newer.ready_at, ready.plus(1));
}

#[test]
fn nothing_changed_is_one_sentence() {
    let ready = Minute(NOON + 450);
    let plan = schedule(&items(&[loaf(), soup()]), ready, Minute(NOON)).unwrap();
    let now = plan.start();
    let (new, changes) = replan(&plan, &[], now);
    assert_eq!(changes, []);
    assert_eq!(new, plan);
    assert_eq!(say_changes(&new, &changes, &utc(now.0)), "The plan stands.");
}

/// A dish that has begun counts from where it began, not from what is left of it; else this plan would change.
#[test]
fn what_is_left_of_a_begun_dish_stays_in_its_order() {
    let dish = |steps: &[(i64, i64)]| PlanItem {
        name: "dish".to_owned(),
        lead: 0,
        steps: steps
            .iter()
            .enumerate()
            .map(|(i, (hands, wait))| PlanStep {
                step: i,
                title: format!("step {i}"),
                hands: *hands,
                wait: *wait,
                ..PlanStep::default()
            })
            .collect(),
        ..PlanItem::default()
    };
    let items = [dish(&[(1, 0), (1, 1)]), dish(&[(1, 1)]), dish(&[(2, 1)])];
    let plan = schedule(&items, Minute(1060), Minute(1000)).unwrap();
    let now = Minute(1055);
    let done = plan.blocks.iter().filter(|b| b.end <= now);
    let progress: Vec<BlockProgress> = done
        .map(|b| BlockProgress {
            id: b.id,
            state: Reached::Done(b.end),
        })
        .collect();
    assert_eq!(progress.len(), 1);
    let (new, changes) = replan(&plan, &progress, now);
    assert_eq!(changes, []);
    assert_eq!(new.blocks, plan.blocks);
}

#[test]
fn an_oven_that_was_not_lit_makes_it_late() {
    let ready = Minute(NOON + 450);
    let plan = schedule(&items(&[three_rises()]), ready, Minute(NOON)).unwrap();
    let oven = BlockId {
        dish: 0,
        step: 3,
        part: BlockPart::Preheat,
    };
    let rise = BlockId {
        dish: 0,
        step: 2,
        part: BlockPart::Wait,
    };
    let now = plan.block(oven).unwrap().start.plus(4);
    let runs = BlockProgress {
        id: rise,
        state: Reached::Running(plan.block(rise).unwrap().end),
    };
    // Its time has passed and nobody said otherwise: it was lit.
    let (kept, changes) = replan(&plan, &[runs], now);
    assert_eq!((kept.ready_at, changes), (ready, vec![]));
    let (late, changes) = replan(
        &plan,
        &[
            runs,
            BlockProgress {
                id: oven,
                state: Reached::NotYet,
            },
        ],
        now,
    );
    assert_eq!(late.ready_at, ready.plus(4));
    assert_eq!(
        say_changes(&late, &changes, &utc(now.0)),
        "Everything from the oven on is four minutes later: on the table at seven thirty four."
    );
}

#[test]
fn what_comes_from_the_oven_comes_out_however_busy_the_cook() {
    // Both dishes want the hands at once, because the loaf was put in late.
    let ready = Minute(NOON + 450);
    let plan = schedule(&items(&[loaf(), soup()]), ready, Minute(NOON)).unwrap();
    let bake = plan
        .block(BlockId {
            dish: 0,
            step: 5,
            part: BlockPart::Wait,
        })
        .unwrap();
    let cut = BlockId {
        dish: 1,
        step: 0,
        part: BlockPart::Hands,
    };
    let now = plan.block(cut).unwrap().start.plus(5);
    let progress = [
        BlockProgress {
            id: bake.id,
            state: Reached::Running(now.plus(3)),
        },
        BlockProgress {
            id: cut,
            state: Reached::Running(now.plus(15)),
        },
    ];
    let (new, _) = replan(&plan, &progress, now);
    // No plan can keep both; this one keeps going and says when all is ready: 15 min of cutting, then the loaf's two
    // minutes and an hour of cooling.
    assert_eq!(new.ready_at, now.plus(15 + 62));
}
