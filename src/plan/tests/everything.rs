//! Plans against trying everything.

use proptest::prelude::*;

use super::super::effort::Effort;
use super::super::search::best_within;
use super::*;

/// Whether the rules hold, read from the blocks and from what each step allows.
pub(super) fn check(plan: &Plan) -> Result<(), String> {
    let mut blocks = plan.blocks.clone();
    blocks.sort_by_key(|b| (b.id.dish, b.id.step, b.id.part));
    let chain: Vec<_> = blocks
        .iter()
        .filter(|b| b.id.part != BlockPart::Preheat)
        .collect();
    for pair in chain.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let tied = a.id.step == b.id.step || (a.id.part == BlockPart::Wait && a.heat_c.is_some());
        if a.id.dish == b.id.dish && (b.start < a.end || (tied && b.start > a.end)) {
            return Err(format!("{a:?} then {b:?}"));
        }
        let step = |of: &Block| {
            let steps = &plan.items[of.id.dish].steps;
            steps.iter().find(|s| s.step == of.id.step).unwrap()
        };
        let most = step(b).within.map(|within| within + step(a).stretch);
        // A wait that was drawn out has taken its share of it.
        let end = match a.id.part {
            BlockPart::Wait => a.start.plus(step(a).wait),
            _ => a.end,
        };
        let gap = b.start.since(end);
        if a.id.dish == b.id.dish && a.id.step != b.id.step && most.is_some_and(|m| gap > m) {
            return Err(format!("{a:?} and too late {b:?}"));
        }
    }
    for a in &blocks {
        for b in &blocks {
            let overlap = a.start.max(b.start) < a.end.min(b.end);
            let one = a.unit == b.unit;
            let hands = one && a.id.part == BlockPart::Hands && b.id.part == BlockPart::Hands;
            // The work at an oven's door has the cook's number, and its dish is in the oven of the wait.
            let oven_of = |block: &Block| {
                let of = |b: &&Block| b.id.dish == block.id.dish && b.heat_c.is_some();
                blocks
                    .iter()
                    .filter(of)
                    .find(|b| b.id.part != BlockPart::Hands)
                    .map(|b| b.unit)
            };
            let heats = matches!((a.heat_c, b.heat_c), (Some(x), Some(y)) if (x - y).abs() > 10.0);
            // Of a dish that is only worked on at the oven no plan tells which of two it is; they are counted below.
            let oven = heats
                && match (oven_of(a), oven_of(b)) {
                    (None, None) => plan.kitchen.ovens < 2,
                    (one, other) => one == other,
                };
            if a.id.dish != b.id.dish && overlap && (hands || oven) {
                return Err(format!("{a:?} while {b:?}"));
            }
        }
        let hob = |of: &Block| {
            let steps = &plan.items[of.id.dish].steps;
            steps.iter().any(|s| s.step == of.id.step && s.hob) && of.id.part != BlockPart::Preheat
        };
        let others = blocks
            .iter()
            .filter(|b| hob(b) && b.start <= a.start && a.start < b.end);
        if hob(a) && others.count() > usize::from(plan.kitchen.hobs) {
            return Err(format!("{a:?} has no ring"));
        }
        // No more heats at once than there are ovens; heats near one another share one.
        let hot = blocks
            .iter()
            .filter(|b| b.start <= a.start && a.start < b.end);
        let mut heats: Vec<f64> = hot.filter_map(|b| b.heat_c).collect();
        heats.sort_by(f64::total_cmp);
        let (mut ovens, mut lowest) = (0, f64::NEG_INFINITY);
        for heat in heats {
            if heat - lowest > 10.0 {
                (ovens, lowest) = (ovens + 1, heat);
            }
        }
        if ovens > usize::from(plan.kitchen.ovens) {
            return Err(format!("{a:?} has no oven"));
        }
        let night = |(from, to): &(Minute, Minute)| a.start < *to && *from < a.end;
        let works = a.id.part == BlockPart::Hands || a.heat_c.is_some() || hob(a);
        if works && !plan.waived.sleep && plan.kitchen.asleep.iter().any(night) {
            return Err(format!("{a:?} at night"));
        }
        if a.end > plan.ready_at {
            return Err(format!("{a:?} after the hour"));
        }
    }
    Ok(())
}

/// One way for one dish: minutes in use as bits, and when it begins and ends.
#[derive(Clone, Copy)]
struct Way {
    hands: u64,
    oven: [u64; 2],
    begin: i64,
    end: i64,
}

const HEATS: [f64; 2] = [180.0, 220.0];

fn bits(from: i64, to: i64) -> u64 {
    (from..to).fold(0, |bits, minute| bits | 1 << minute)
}

/// Every way to place a dish's blocks into minutes 0 to `ready`.
fn ways(item: &PlanItem, ready: i64) -> Vec<Way> {
    let mut all = Vec::new();
    let starts = vec![];
    place(item, ready, &starts, &mut all);
    all
}

fn place(item: &PlanItem, ready: i64, starts: &[i64], all: &mut Vec<Way>) {
    let blocks: Vec<(usize, bool, i64)> = item
        .steps
        .iter()
        .enumerate()
        .flat_map(|(i, s)| [(i, true, s.hands), (i, false, s.wait)])
        .filter(|(_, _, lasts)| *lasts > 0)
        .collect();
    let n = starts.len();
    if n == blocks.len() {
        all.extend(way(item, &blocks, starts));
        return;
    }
    let (step, _, lasts) = blocks[n];
    let (low, high) = if n == 0 {
        (0, ready)
    } else {
        let (before, was_hands, took) = blocks[n - 1];
        let end = starts[n - 1] + took;
        let tied = before == step || (!was_hands && item.steps[before].heat_c.is_some());
        let most = item.steps[step].within.map_or(ready, |within| end + within);
        (end, if tied { end } else { most.min(ready) })
    };
    for start in low..=high {
        if start + lasts <= ready {
            let mut more = starts.to_vec();
            more.push(start);
            place(item, ready, &more, all);
        }
    }
}

fn way(item: &PlanItem, blocks: &[(usize, bool, i64)], starts: &[i64]) -> Option<Way> {
    let mut way = Way {
        hands: 0,
        oven: [0; 2],
        begin: starts[0],
        end: 0,
    };
    let mut oven_free: Option<i64> = None;
    let mut since = 0;
    let mut last_step = usize::MAX;
    for (&(step, is_hands, lasts), &start) in blocks.iter().zip(starts) {
        let end = start + lasts;
        if is_hands {
            way.hands |= bits(start, end);
        }
        if let Some(heat) = item.steps[step].heat_c {
            let oven = &mut way.oven[HEATS.iter().position(|h| *h == heat).unwrap()];
            if step != last_step {
                match oven_free {
                    // The dish keeps the oven for itself in a short break.
                    Some(free) if since <= item.lead => *oven |= bits(free, start),
                    _ => {
                        let lit = start - item.lead;
                        if lit < 0 {
                            return None;
                        }
                        way.begin = way.begin.min(lit);
                        *oven |= bits(lit, start);
                    }
                }
            }
            *oven |= bits(start, end);
            oven_free = Some(end);
            since = 0;
        } else {
            since += lasts;
        }
        last_step = step;
        way.end = end;
    }
    Some(way)
}

/// The best cost of all ways.
fn try_everything(items: &[PlanItem], ready: i64) -> Option<[i64; 3]> {
    let all: Vec<Vec<Way>> = items.iter().map(|item| ways(item, ready)).collect();
    let mut best = None;
    combine(&all, &mut Vec::new(), ready, &mut best);
    best
}

fn combine(all: &[Vec<Way>], taken: &mut Vec<Way>, ready: i64, best: &mut Option<[i64; 3]>) {
    let Some(own) = all.get(taken.len()) else {
        let cost = [
            taken.iter().map(|w| ready - w.end).sum(),
            taken.iter().map(|w| ready - w.begin).max().unwrap(),
            taken.iter().map(|w| ready - w.begin).sum(),
        ];
        if best.is_none_or(|best| cost < best) {
            *best = Some(cost);
        }
        return;
    };
    for way in own {
        let free = taken.iter().all(|other| {
            other.hands & way.hands == 0
                && other.oven[0] & way.oven[1] == 0
                && other.oven[1] & way.oven[0] == 0
        });
        if free {
            taken.push(*way);
            combine(all, taken, ready, best);
            taken.pop();
        }
    }
}

fn cost_of(plan: &Plan) -> [i64; 3] {
    // A dish that finds the oven hot has no row for lighting it; its time to get hot counts all the same.
    let begins: Vec<i64> = plan
        .items
        .iter()
        .enumerate()
        .map(|(dish, item)| {
            let first = |step: usize| {
                plan.blocks
                    .iter()
                    .filter(|b| {
                        b.id.dish == dish && b.id.step == step && b.id.part != BlockPart::Preheat
                    })
                    .map(|b| b.start.0)
                    .min()
                    .unwrap()
            };
            let oven = item.steps.iter().find(|s| s.heat_c.is_some());
            let lit = oven.map_or(i64::MAX, |s| first(s.step) - item.lead);
            first(item.steps[0].step).min(lit)
        })
        .map(|begin| plan.ready_at.0 - begin)
        .collect();
    [
        plan.dishes
            .iter()
            .map(|d| plan.ready_at.since(d.ready))
            .sum(),
        *begins.iter().max().unwrap(),
        begins.iter().sum(),
    ]
}

type Small = (i64, i64, Option<usize>, Option<i64>);

fn small_step() -> impl Strategy<Value = Small> {
    (
        0..3_i64,
        0..4_i64,
        prop::option::weighted(0.5, 0..2_usize),
        prop::option::weighted(0.5, 0..3_i64),
    )
}

fn small_item() -> impl Strategy<Value = PlanItem> {
    (prop::collection::vec(small_step(), 1..3), 0..3_i64)
        .prop_map(|(steps, lead)| PlanItem {
            name: "dish".to_owned(),
            lead,
            steps: steps
                .into_iter()
                .enumerate()
                .filter(|(_, (hands, wait, ..))| hands + wait > 0)
                .map(|(i, (hands, wait, heat, within))| PlanStep {
                    step: i,
                    title: format!("step {i}"),
                    hands,
                    wait,
                    heat_c: heat.map(|h| HEATS[h]),
                    within,
                    ..PlanStep::default()
                })
                .collect(),
            ..PlanItem::default()
        })
        .prop_filter("something to do", |item| !item.steps.is_empty())
}

/// What happens when everything goes as planned until `now`.
fn as_planned(plan: &Plan, now: Minute) -> Vec<BlockProgress> {
    plan.blocks
        .iter()
        .filter(|b| b.start < now)
        .map(|b| BlockProgress {
            id: b.id,
            state: if b.end <= now {
                Reached::Done(b.end)
            } else {
                Reached::Running(b.end)
            },
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_better_exists_in_small_plans(
        items in prop::collection::vec(small_item(), 1..4),
        ready in 8..15_i64,
    ) {
        let kitchen = Kitchen { cools: f64::INFINITY, ..Kitchen::default() };
        let planned = schedule_in(&kitchen, &items, Minute(ready), Minute(0));
        match (try_everything(&items, ready), planned) {
            (Some(best), Ok(plan)) => {
                prop_assert!(plan.proven);
                prop_assert_eq!(check(&plan), Ok(()));
                prop_assert_eq!(cost_of(&plan), best);
            }
            (None, Err(PlanError::TooLate { earliest, late_min })) => {
                prop_assert_eq!(earliest.0, ready + late_min);
                // The offer is good, and nothing before it is.
                let first = (ready + 1..60).find(|r| try_everything(&items, *r).is_some());
                prop_assert_eq!(first, Some(earliest.0));
                prop_assert!(schedule_in(&kitchen, &items, earliest, Minute(0)).is_ok());
            }
            (best, plan) => prop_assert!(false, "{:?} but {:?}", best, plan),
        }
    }

    #[test]
    fn a_plan_that_is_kept_does_not_change(
        items in prop::collection::vec(small_item(), 1..4),
        after in 0..60_i64,
    ) {
        let plan = schedule(&items, Minute(1060), Minute(1000)).unwrap();
        let now = Minute(1000 + after);
        let (new, changes) = replan(&plan, &as_planned(&plan, now), now);
        prop_assert_eq!(new.ready_at, plan.ready_at);
        prop_assert_eq!(cost_of(&new), cost_of(&plan));
        // Equally good plans may differ; of one dish there is but one.
        if items.len() == 1 {
            prop_assert_eq!(changes, vec![]);
            prop_assert_eq!(&new.blocks, &plan.blocks);
        }
    }

    #[test]
    fn a_late_block_never_breaks_the_rules(
        items in prop::collection::vec(small_item(), 1..4),
        which in 0..8_usize,
        late in 1..20_i64,
    ) {
        // A cook who is late may have to let something wait for longer than it should.
        let mut items = items;
        for step in items.iter_mut().flat_map(|item| &mut item.steps) {
            step.within = None;
        }
        let plan = schedule(&items, Minute(1060), Minute(1000)).unwrap();
        let block = &plan.blocks[which % plan.blocks.len()];
        let now = block.end;
        let mut progress = as_planned(&plan, now);
        for p in &mut progress {
            if p.id == block.id {
                p.state = Reached::Running(block.end.plus(late));
            }
        }
        let (new, _) = replan(&plan, &progress, now);
        let done: Vec<_> = progress.iter().map(|p| p.id).collect();
        for b in &new.blocks {
            if !done.contains(&b.id) {
                prop_assert!(b.start >= now, "{:?}", b);
            }
            prop_assert!(b.end <= new.ready_at);
        }
        prop_assert!(new.ready_at >= plan.ready_at);
        if items.len() == 1 {
            prop_assert_eq!(check(&new), Ok(()));
        }
    }
}

/// A kitchen with nights of ten minutes in an hour.
fn any_kitchen() -> impl Strategy<Value = Kitchen> {
    (1..3_u8, 1..3_u8, 1..3_u8, prop::bool::ANY).prop_map(|(cooks, ovens, hobs, sleeps)| Kitchen {
        cooks,
        ovens,
        hobs,
        cools: 10.0,
        asleep: (-2..20_i64)
            .filter(|_| sleeps)
            .map(|night| (Minute(night * 60 + 40), Minute(night * 60 + 50)))
            .collect(),
        hold_hot: None,
    })
}

/// A dish as it may be met, small.
fn any_item() -> impl Strategy<Value = PlanItem> {
    let more = (
        prop::bool::weighted(0.3),
        prop::option::of(0..8_i64),
        0..6_i64,
    );
    (small_item(), more).prop_map(|(mut item, (hob, keeps, stretch))| {
        item.keeps = keeps;
        for step in item.steps.iter_mut().filter(|s| s.heat_c.is_none()) {
            step.hob = hob;
            if step.wait > 0 && !hob {
                step.stretch = stretch;
            }
        }
        item
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_kitchen_keeps_its_rules(
        items in prop::collection::vec(any_item(), 1..6),
        kitchen in any_kitchen(),
        ready in 5..150_i64,
    ) {
        match schedule_in(&kitchen, &items, Minute(ready), Minute(0)) {
            Ok(plan) => {
                prop_assert_eq!(plan.ready_at, Minute(ready));
                prop_assert_eq!(check(&plan), Ok(()));
            }
            Err(PlanError::TooLate { earliest, .. }) => {
                prop_assert!(earliest > Minute(ready));
                let plan = schedule_in(&kitchen, &items, earliest, Minute(0));
                prop_assert!(plan.is_ok(), "{:?}", plan);
                prop_assert_eq!(check(&plan.unwrap()), Ok(()));
            }
            Err(other) => prop_assert!(false, "{:?}", other),
        }
    }

    #[test]
    fn more_hands_and_ovens_are_never_worse(
        items in prop::collection::vec(any_item(), 2..4),
        ready in 20..80_i64,
    ) {
        let one = schedule_in(&Kitchen::default(), &items, Minute(ready), Minute(0));
        let two = Kitchen { cooks: 2, ovens: 2, ..Kitchen::default() };
        let two = schedule_in(&two, &items, Minute(ready), Minute(0));
        if let Ok(one) = one {
            let two = two.unwrap();
            prop_assert!(one.proven && two.proven);
            prop_assert!(two.stands.0 <= one.stands.0, "{:?} {:?}", one.stands, two.stands);
        }
    }
}

/// `tests/tables/dinners.py` has planned them with CP-SAT, the exact solver of the Python package `ortools`.
#[test]
fn an_exact_solver_finds_nothing_better() {
    let rows = include_str!("../../../tests/tables/dinners.tsv").lines();
    let mut dinners = 0;
    for row in rows.filter(|row| !row.starts_with('#')) {
        let cells: Vec<&str> = row.split('\t').collect();
        let number = |text: &str| text.parse::<i64>().ok();
        let n = |at: usize| number(cells[at]).unwrap();
        let items: Vec<PlanItem> = cells[3]
            .split(' ')
            .map(|dish| {
                let parts: Vec<&str> = dish.split(';').collect();
                let step = |(i, text): (usize, &&str)| {
                    let cells: Vec<Option<i64>> = text.split(',').map(number).collect();
                    PlanStep {
                        step: i,
                        hands: cells[0].unwrap(),
                        wait: cells[1].unwrap(),
                        heat_c: cells[2].map(|c| c as f64),
                        within: cells[3],
                        stretch: cells[4].unwrap(),
                        ..PlanStep::default()
                    }
                };
                PlanItem {
                    name: "dish".to_owned(),
                    lead: number(parts[0]).unwrap(),
                    keeps: number(parts[1]),
                    steps: parts[2..].iter().enumerate().map(step).collect(),
                }
            })
            .collect();
        let kitchen = Kitchen {
            cooks: n(0) as u8,
            ovens: n(1) as u8,
            ..Kitchen::default()
        };
        let (wanted, hour) = (Minute(n(2)), Minute(n(4)));
        let at_wanted = schedule_in(&kitchen, &items, wanted, Minute(0));
        let plan = if hour == wanted {
            at_wanted.unwrap()
        } else {
            let late_min = hour.since(wanted);
            let too_late = PlanError::TooLate {
                earliest: hour,
                late_min,
            };
            assert_eq!(at_wanted, Err(too_late), "{row}");
            schedule_in(&kitchen, &items, hour, Minute(0)).unwrap()
        };
        assert_eq!(check(&plan), Ok(()), "{row}");
        assert!(plan.proven, "{row}");
        assert_eq!(plan.stands, (n(5), n(5)), "{row}");
        let [_, first, begun] = cost_of(&plan);
        assert_eq!(first, n(6), "{row}");
        assert!(begun * 100 <= n(7) * 102, "{begun} {row}");
        assert!(begun >= n(7), "{begun} {row}");
        dinners += 1;
    }
    assert_eq!(dinners, 500);
}

#[test]
fn many_dishes_are_planned_well_and_soon() {
    let many: Vec<Formula> = (0..8)
        .map(|n| {
            let heat = [220.0, 180.0][n % 2];
            formula(
                &format!("Dish {n}"),
                Some(15),
                vec![
                    step("Weigh", 5 + n as u64, vec![], None),
                    step("Mix", 10, vec![timer("rest", 20 + 5 * n as u64, &[])], None),
                    step("Shape", 8, vec![], None),
                    step("Bake", 2, vec![timer("bake", 25, &[])], Some(heat)),
                    step("Serve", 3, vec![], None),
                ],
            )
        })
        .collect();
    let items = items(&many);
    let ready = Minute(NOON + 24 * 60);
    let plan = schedule(&items, ready, Minute(NOON)).unwrap();
    assert_eq!(check(&plan), Ok(()));
    assert!(!plan.proven);
    // One dish after another would let the first stand for seven times its length; sharing the oven at equal heat and
    // working in the waits must do much better.
    let alone: i64 = items
        .iter()
        .map(|i| i.steps.iter().map(|s| s.hands + s.wait).sum::<i64>() + i.lead)
        .sum();
    let span = ready.since(plan.start());
    assert!(span * 2 < alone, "{span} of {alone}");
}

#[test]
fn a_search_cut_short_still_gives_a_plan() {
    use super::super::build::{Build, Grip, Standing};
    let items = items(&[loaf(), soup(), soup()]);
    let standing = vec![Standing::default(); 3];
    let kitchen = Kitchen::default();
    let build = Build {
        items: &items,
        standing: &standing,
        now: NOON,
        grip: Grip::Firm,
        kitchen: &kitchen,
        waived: Waived::default(),
        effort: Effort::Whole,
    };
    let (problem, cost) = build.aim(NOON + 600);
    let cut = best_within(&problem, &cost, None, 1).unwrap();
    assert!(!cut.proven);
    let whole = best_within(&problem, &cost, None, 20_000).unwrap();
    assert!(whole.proven && whole.cost < cut.cost);
}

/// What is tried while the cook waits, beside less and more of it: how many of the dinners that the shipped formulas make
/// are as good as the best known, and what that costs.
#[test]
#[ignore = "a measurement: cargo test --release --lib while_the_cook_waits -- --ignored --nocapture"]
fn how_much_is_tried_while_the_cook_waits() {
    use super::super::build::{Build, Grip, Standing};
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("shared/formulas");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .flatten()
        .map(|e| e.path())
        .collect();
    paths.sort();
    let all: Vec<PlanItem> = paths
        .iter()
        .filter_map(|path| {
            let text = std::fs::read_to_string(path).ok()?;
            PlanItem::from_formula(&crate::formula::read("shipped", &text).ok()?).ok()
        })
        .collect();
    let mut dice = 7_usize;
    let kitchen = Kitchen::default();
    for dishes in [2, 3, 4, 6] {
        let mut sums: Vec<(usize, f64, f64)> = vec![(0, 0.0, 0.0); 6];
        let dinners = 12;
        for _ in 0..dinners {
            let mut items: Vec<PlanItem> = Vec::new();
            while items.len() < dishes {
                dice = dice
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                let one = &all[(dice >> 33) % all.len()];
                if !items.iter().any(|i| i.name == one.name) {
                    items.push(one.clone());
                }
            }
            let standing = vec![Standing::default(); dishes];
            let build = Build {
                items: &items,
                standing: &standing,
                now: NOON,
                grip: Grip::Firm,
                kitchen: &kitchen,
                waived: Waived::default(),
                effort: Effort::Whole,
            };
            let (problem, cost) = build.aim(NOON + 3 * 24 * 60);
            let clashes = problem.clashes().len().max(1);
            let tried: Vec<_> = [75_000, 150_000, 300_000, 600_000, 1_200_000, 4_800_000]
                .iter()
                .map(|looks| {
                    let begun = std::time::Instant::now();
                    let found = best_within(&problem, &cost, None, (looks / clashes).max(1));
                    (found.map(|f| f.cost), begun.elapsed().as_secs_f64() * 1e3)
                })
                .collect();
            let best = tried.iter().filter_map(|(cost, _)| *cost).min();
            for (sum, (cost, ms)) in sums.iter_mut().zip(&tried) {
                sum.0 += usize::from(cost.is_some() && *cost == best);
                sum.1 += ms;
                sum.2 = sum.2.max(*ms);
            }
        }
        for (looks, (same, ms, worst)) in [
            "75,000",
            "150,000",
            "300,000",
            "600,000",
            "1,200,000",
            "4,800,000",
        ]
        .iter()
        .zip(&sums)
        {
            println!(
                "{dishes} dishes, {looks} looks: {same} of {dinners} as good as the best, {:.1} ms, at most {worst:.1} ms",
                ms / f64::from(dinners)
            );
        }
    }
}
