//! Plans against sums by hand, against trying everything, and against a calendar of other hands.

use proptest::prelude::*;

use super::search::best_within;
use super::*;
use crate::bench::Wall;
use crate::formula::{Cue, Formula, Makes, Oven, Step, TimerSpec};
use crate::measure::Span;

/// 2026-11-25 12:00 UTC.
const NOON: i64 = 1_795_608_000 / 60;

fn utc(now: i64) -> Wall {
    Wall {
        unix_ms: now * 60_000,
        offset_s: 0,
        changes: vec![],
    }
}

fn timer(name: &str, lasts: u64, cues: &[(u64, &str)]) -> TimerSpec {
    TimerSpec {
        name: name.to_owned(),
        lasts: Span::minutes(lasts),
        cues: cues
            .iter()
            .map(|(at, say)| Cue {
                at: Span::minutes(*at),
                left: None,
                say: (*say).to_owned(),
            })
            .collect(),
        look: None,
    }
}

fn step(title: &str, hands_on: u64, timers: Vec<TimerSpec>, oven_c: Option<f64>) -> Step {
    Step {
        title: title.to_owned(),
        text: String::new(),
        uses: vec![],
        weigh_up: title.starts_with("Weigh"),
        timers,
        look: None,
        cautions: vec![],
        hands_on: Span::minutes(hands_on),
        oven_c,
    }
}

fn formula(name: &str, lead: Option<u64>, steps: Vec<Step>) -> Formula {
    Formula {
        name: name.to_owned(),
        about: String::new(),
        makes: Makes {
            portions: 4.0,
            pieces: 1.0,
            piece: "loaf".to_owned(),
            loss_percent: 0.0,
        },
        tin: None,
        oven: lead.map(|minutes| Oven {
            heat_c: 220.0,
            lead: Span::minutes(minutes),
        }),
        dough_c: None,
        ingredients: vec![],
        steps,
    }
}

fn three_rises() -> Formula {
    formula(
        "Tin loaf",
        Some(10),
        vec![
            step("First rise", 0, vec![timer("first rise", 45, &[])], None),
            step("Second rise", 0, vec![timer("second rise", 30, &[])], None),
            step("Third rise", 0, vec![timer("third rise", 45, &[])], None),
            step(
                "Bake",
                0,
                vec![timer("bake", 20, &[(12, "Turn the tin")])],
                Some(220.0),
            ),
        ],
    )
}

/// `loaf` with work, `soup` with work, one oven for the loaf.
fn loaf() -> Formula {
    formula(
        "Tin loaf",
        Some(25),
        vec![
            step("Weigh the dry things", 4, vec![], None),
            step("Mix", 6, vec![], None),
            step(
                "First rise",
                3,
                vec![timer("first rise", 60, &[(40, "Look at the dough")])],
                None,
            ),
            step("Shape", 8, vec![], None),
            step("Second rise", 1, vec![timer("second rise", 45, &[])], None),
            step(
                "Bake",
                2,
                vec![timer("bake", 35, &[(20, "Turn the tin")])],
                Some(220.0),
            ),
            step("Cool", 2, vec![timer("cooling", 60, &[])], None),
        ],
    )
}

fn soup() -> Formula {
    formula(
        "Autumn soup",
        None,
        vec![
            step("Weigh and cut", 20, vec![], None),
            step(
                "Simmer",
                2,
                vec![timer("soup", 25, &[(12, "Stir the soup")])],
                None,
            ),
            step("Blend", 6, vec![], None),
        ],
    )
}

fn items(formulas: &[Formula]) -> Vec<PlanItem> {
    formulas
        .iter()
        .map(|f| PlanItem::from_formula(f).unwrap())
        .collect()
}

fn clock(at: Minute, wall: &Wall) -> String {
    at.local(wall).clock()
}

// Sums by hand.

#[test]
fn three_rises_and_a_bake_are_the_sum_by_hand() {
    // Common practice, no source: 45 + 30 + 45 minutes of rising and 20 of baking are 2 h 20 min before the hour of
    // serving; the oven is lit with ten minutes of the last rise left; the tin is turned 12 minutes into the bake.
    let wall = utc(NOON);
    let ready = Minute(NOON + 7 * 60 + 30);
    let plan = schedule(&items(&[three_rises()]), ready, Minute(NOON)).unwrap();
    assert_eq!(plan.ready_at, ready);
    assert!(plan.proven);
    let rows: Vec<_> = plan
        .blocks
        .iter()
        .map(|b| {
            (
                b.title.as_str(),
                b.id.part,
                clock(b.start, &wall),
                clock(b.end, &wall),
            )
        })
        .collect();
    let t = str::to_owned;
    assert_eq!(
        rows,
        [
            ("First rise", Part::Wait, t("17:10"), t("17:55")),
            ("Second rise", Part::Wait, t("17:55"), t("18:25")),
            ("Third rise", Part::Wait, t("18:25"), t("19:10")),
            ("Bake", Part::Preheat, t("19:00"), t("19:10")),
            ("Bake", Part::Wait, t("19:10"), t("19:30")),
        ]
    );
    let bake = &plan.blocks[4];
    let cues: Vec<_> = bake
        .cues
        .iter()
        .map(|(at, say)| (clock(*at, &wall), say.as_str()))
        .collect();
    assert_eq!(cues, [(t("19:22"), "Turn the tin")]);
    // It fits to the minute, and not to a minute less.
    let start = ready.plus(-140);
    assert!(schedule(&items(&[three_rises()]), ready, start).is_ok());
    assert_eq!(
        schedule(&items(&[three_rises()]), ready, start.plus(1)),
        Err(PlanError::TooLate {
            earliest: ready.plus(1),
            late_min: 1
        })
    );
}

#[test]
fn one_cook_does_one_thing_at_a_time() {
    let wall = utc(NOON);
    let ready = Minute(NOON + 7 * 60 + 30);
    let plan = schedule(&items(&[loaf(), soup()]), ready, Minute(NOON)).unwrap();
    // Cooling keeps no hands, so that the soup ends at the hour as well: 53 min, from 18:37. The loaf alone takes
    // 4 + 6 + 63 + 8 + 46 + 37 + 62 = 226 min, from 15:44.
    assert_eq!(plan.dishes[1].start.local(&wall).clock(), "18:37");
    assert_eq!(plan.dishes[0].start.local(&wall).clock(), "15:44");
    assert!(plan.dishes.iter().all(|dish| dish.ready == ready));
    // Without the cooling the two clash: the loaf comes out of the oven at the hour, and the hands that put it in at
    // 18:53 are wanted for cutting from 18:37 to 18:57.
    let mut hot = loaf();
    hot.steps.pop();
    let plan = schedule(&items(&[hot, soup()]), ready, Minute(NOON)).unwrap();
    assert_eq!(check(&plan), Ok(()));
    assert!(plan.dishes.iter().all(|dish| dish.ready == ready));
    // Cutting is moved before the tin goes in, and the pot waits for nobody that is finished.
    let cut = &plan
        .blocks
        .iter()
        .find(|b| b.title == "Weigh and cut")
        .unwrap();
    assert_eq!(clock(cut.end, &wall), "18:53");
}

#[test]
fn a_second_heat_waits_for_the_oven() {
    let bake = |name: &str, heat: f64| {
        formula(
            name,
            Some(15),
            vec![
                step("Bake", 2, vec![timer("bake", 40, &[])], Some(heat)),
                step("Serve", 1, vec![], None),
            ],
        )
    };
    let ready = Minute(NOON + 300);
    let same = schedule(
        &items(&[bake("One", 200.0), bake("Two", 200.0)]),
        ready,
        Minute(NOON),
    )
    .unwrap();
    assert_eq!(check(&same), Ok(()));
    // Both are in at once, two or three minutes apart, and the oven is lit once.
    assert_eq!(
        same.blocks
            .iter()
            .filter(|b| b.id.part == Part::Preheat)
            .count(),
        1
    );
    assert!(
        same.dishes.iter().all(|d| ready.since(d.ready) <= 2),
        "{same:?}"
    );
    let other = schedule(
        &items(&[bake("One", 200.0), bake("Two", 160.0)]),
        ready,
        Minute(NOON),
    )
    .unwrap();
    assert_eq!(check(&other), Ok(()));
    assert_eq!(
        other
            .blocks
            .iter()
            .filter(|b| b.id.part == Part::Preheat)
            .count(),
        2
    );
    // 42 minutes in the oven and 15 to get to the other heat.
    let mut finished: Vec<_> = other.dishes.iter().map(|d| ready.since(d.ready)).collect();
    finished.sort_unstable();
    assert_eq!(finished, [0, 57]);
}

#[test]
fn the_longest_timer_decides_and_an_oven_timer_is_nobodys_wait() {
    let mut f = formula(
        "Shortbread",
        Some(15),
        vec![
            step("Light the oven", 4, vec![timer("oven", 15, &[])], None),
            step(
                "Two pots",
                1,
                vec![
                    timer("rice", 12, &[(3, "Stir")]),
                    timer("beans", 20, &[(2, "Salt")]),
                ],
                None,
            ),
            step("Bake", 2, vec![timer("bake", 40, &[])], Some(160.0)),
            step("Look at it", 0, vec![], None),
        ],
    );
    let item = PlanItem::from_formula(&f).unwrap();
    let times: Vec<_> = item
        .steps
        .iter()
        .map(|s| (s.step, s.hands, s.wait))
        .collect();
    assert_eq!(times, [(0, 4, 0), (1, 1, 20), (2, 2, 40)]);
    assert_eq!(item.steps[1].timer.as_deref(), Some("beans"));
    assert_eq!(
        item.steps[1].cues,
        [(2, "Salt".to_owned()), (3, "Stir".to_owned())]
    );
    // This kitchen's own time, and a cue counted from the end keeps its distance.
    f.steps[1].timers[1].cues[0].left = Some(Span::minutes(18));
    let own =
        PlanItem::with_times(&f, |name| (name == "beans").then(|| Span::minutes(30))).unwrap();
    assert_eq!(own.steps[1].wait, 30);
    assert_eq!(
        own.steps[1].cues,
        [(3, "Stir".to_owned()), (12, "Salt".to_owned())]
    );
}

#[test]
fn what_cannot_be_planned_is_said() {
    assert_eq!(schedule(&[], Minute(0), Minute(0)), Err(PlanError::Nothing));
    let empty = PlanItem::from_formula(&formula("Air", None, vec![step("Wait", 0, vec![], None)]));
    assert_eq!(
        empty.unwrap_err().to_string(),
        "expected a step with a time in `Air`, found none"
    );
    let long = PlanItem::from_formula(&formula(
        "Stone",
        None,
        vec![step(
            "Wait",
            0,
            vec![timer("w", u64::MAX / 60_000, &[])],
            None,
        )],
    ));
    assert!(matches!(long, Err(PlanError::TooLong { .. })));
}

#[test]
fn a_night_with_a_clock_change_is_right_in_elapsed_time() {
    // 2026-10-25 01:00 UTC, 03:00 becomes 02:00 (Directive 2000/84/EC). Bread at seven in the morning after twelve
    // hours in the cold and 2 h 20 min: 14 h 20 min before 07:00 is 17:40 by a clock that gained an hour.
    let change = 1_792_890_000;
    let evening = Wall {
        unix_ms: (change - 10 * 3600) * 1000,
        offset_s: 7200,
        changes: vec![(change, 3600)],
    };
    let mut f = three_rises();
    f.steps
        .insert(0, step("Night", 0, vec![timer("night", 720, &[])], None));
    let ready = Minute(change / 60 + 5 * 60);
    assert_eq!(clock(ready, &evening), "07:00");
    let plan = schedule(&items(&[f]), ready, Minute::after(&evening)).unwrap();
    assert_eq!(ready.since(plan.start()), 14 * 60 + 20);
    assert_eq!(clock(plan.start(), &evening), "17:40");
    let v = json(&plan, &evening);
    assert_eq!(v["start"], "2026-10-24T17:40:00+02:00");
    assert_eq!(v["ready_at"], "2026-10-25T07:00:00+01:00");
    let shown = timeline(&plan, &evening, 80, Glyphs::Ascii).join("\n");
    assert!(shown.contains("ready at 07:00, start at 17:40"), "{shown}");
}

// Trying everything.

/// Whether the rules hold, read from the blocks alone.
fn check(plan: &Plan) -> Result<(), String> {
    let mut blocks = plan.blocks.clone();
    blocks.sort_by_key(|b| (b.id.dish, b.id.step, b.id.part));
    let chain: Vec<_> = blocks
        .iter()
        .filter(|b| b.id.part != Part::Preheat)
        .collect();
    for pair in chain.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let tied = a.id.step == b.id.step || (a.id.part == Part::Wait && a.heat_c.is_some());
        if a.id.dish == b.id.dish && (b.start < a.end || (tied && b.start > a.end)) {
            return Err(format!("{a:?} then {b:?}"));
        }
    }
    for a in &blocks {
        for b in &blocks {
            let overlap = a.start.max(b.start) < a.end.min(b.end);
            let hands = a.id.part == Part::Hands && b.id.part == Part::Hands;
            let oven = matches!((a.heat_c, b.heat_c), (Some(x), Some(y)) if x != y);
            if a.id.dish != b.id.dish && overlap && (hands || oven) {
                return Err(format!("{a:?} while {b:?}"));
            }
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
        (end, if tied { end } else { ready })
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
                        b.id.dish == dish && b.id.step == step && b.id.part != Part::Preheat
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

fn small_step() -> impl Strategy<Value = (i64, i64, Option<usize>)> {
    (0..3_i64, 0..4_i64, prop::option::weighted(0.5, 0..2_usize))
}

fn small_item() -> impl Strategy<Value = PlanItem> {
    (prop::collection::vec(small_step(), 1..3), 0..3_i64)
        .prop_map(|(steps, lead)| PlanItem {
            name: "dish".to_owned(),
            lead,
            steps: steps
                .into_iter()
                .enumerate()
                .filter(|(_, (hands, wait, _))| hands + wait > 0)
                .map(|(i, (hands, wait, heat))| PlanStep {
                    step: i,
                    title: format!("step {i}"),
                    weigh_up: false,
                    hands,
                    wait,
                    timer: None,
                    cues: vec![],
                    heat_c: heat.map(|h| HEATS[h]),
                })
                .collect(),
        })
        .prop_filter("something to do", |item| !item.steps.is_empty())
}

/// What happens when everything goes as planned until `now`.
fn as_planned(plan: &Plan, now: Minute) -> Vec<Progress> {
    plan.blocks
        .iter()
        .filter(|b| b.start < now)
        .map(|b| Progress {
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
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_better_exists_in_small_plans(
        items in prop::collection::vec(small_item(), 1..4),
        ready in 8..15_i64,
    ) {
        match (try_everything(&items, ready), schedule(&items, Minute(ready), Minute(0))) {
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
                prop_assert!(schedule(&items, earliest, Minute(0)).is_ok());
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
    use super::build::{Build, Grip, Standing};
    let items = items(&[loaf(), soup(), soup()]);
    let standing = vec![Standing::default(); 3];
    let build = Build {
        items: &items,
        standing: &standing,
        now: NOON,
        grip: Grip::Firm,
    };
    let (problem, cost) = build.aim(NOON + 600);
    let cut = best_within(&problem, &cost, None, 1).unwrap();
    assert!(!cut.proven);
    let whole = best_within(&problem, &cost, None, 20_000).unwrap();
    assert!(whole.proven && whole.cost < cut.cost);
}

// Again, when the kitchen runs late.

#[test]
fn a_rise_that_needs_longer_moves_what_follows() {
    let ready = Minute(NOON + 7 * 60 + 30);
    let plan = schedule(&items(&[loaf()]), ready, Minute(NOON)).unwrap();
    let rise = BlockId {
        dish: 0,
        step: 2,
        part: Part::Wait,
    };
    let planned = plan.block(rise).unwrap().end;
    let wall = utc(planned.0);
    let progress = [Progress {
        id: rise,
        state: Reached::Running(planned.plus(15)),
    }];
    let (new, changes) = replan(&plan, &progress, planned);
    assert_eq!(new.ready_at, ready.plus(15));
    assert_eq!(new.wanted_at, ready);
    assert_eq!(
        say_changes(&new, &changes, &wall),
        "The first rise ends at five twelve, fifteen minutes later. Shape moves to five twelve, and the rest with it. \
         Light the oven, two hundred and twenty degrees, at five forty one. Ready at quarter to eight instead of half \
         past seven."
    );
    // It went faster after all: the hour that was wanted first is aimed at again, and missed by one minute.
    let again = [Progress {
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

#[test]
fn an_oven_that_was_not_lit_makes_it_late() {
    let ready = Minute(NOON + 450);
    let plan = schedule(&items(&[three_rises()]), ready, Minute(NOON)).unwrap();
    let oven = BlockId {
        dish: 0,
        step: 3,
        part: Part::Preheat,
    };
    let rise = BlockId {
        dish: 0,
        step: 2,
        part: Part::Wait,
    };
    let now = plan.block(oven).unwrap().start.plus(4);
    let runs = Progress {
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
            Progress {
                id: oven,
                state: Reached::NotYet,
            },
        ],
        now,
    );
    assert_eq!(late.ready_at, ready.plus(4));
    let said = say_changes(&late, &changes, &utc(now.0));
    assert!(said.starts_with("Light the oven, two hundred and twenty degrees, at seven oh four, and the rest four minutes later."), "{said}");
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
            part: Part::Wait,
        })
        .unwrap();
    let cut = BlockId {
        dish: 1,
        step: 0,
        part: Part::Hands,
    };
    let now = plan.block(cut).unwrap().start.plus(5);
    let progress = [
        Progress {
            id: bake.id,
            state: Reached::Running(now.plus(3)),
        },
        Progress {
            id: cut,
            state: Reached::Running(now.plus(15)),
        },
    ];
    let (new, _) = replan(&plan, &progress, now);
    // No plan can keep both; this one keeps going and says when all is ready: 15 min of cutting, then the loaf's two
    // minutes and an hour of cooling.
    assert_eq!(new.ready_at, now.plus(15 + 62));
}

// Words.

#[test]
fn the_plan_in_words() {
    let wall = utc(NOON + 120);
    let plan = schedule(&items(&[loaf()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    assert_eq!(
        say_start(&plan, &wall),
        "Start weighing at three forty four."
    );
    assert_eq!(
        say_next(&plan, &wall),
        "Next, at three forty four: weigh the dry things."
    );
    let said = say_plan(&plan, &wall);
    assert!(
        said.starts_with("Ready at half past seven. At three forty four, weigh the dry things. "),
        "{said}"
    );
    assert!(
        said.contains("At five twenty six, light the oven, two hundred and twenty degrees."),
        "{said}"
    );
    let both = schedule(&items(&[loaf(), soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    assert_eq!(
        say_start(&both, &wall),
        "Start weighing for the tin loaf at three forty four. Start weighing for the autumn soup at six thirty seven."
    );
    let evening = utc(NOON + 451);
    assert_eq!(say_next(&plan, &evening), "The plan is done.");
    let late = schedule(&items(&[loaf()]), Minute(NOON + 200), Minute(NOON)).unwrap_err();
    assert_eq!(
        say_error(&late, &utc(NOON)),
        "That is too soon: ten to four is the earliest."
    );
    assert_eq!(
        late.to_string(),
        "expected to be ready in time, found that it takes 26 minutes longer"
    );
}

#[test]
fn times_are_said_as_near_as_they_are() {
    let wall = utc(NOON + 190); // Wednesday, 15:10
    for (minutes, want) in [
        (0, "ten past three"),
        (260, "half past seven"),
        (530, "midnight"),
        (719, "three oh nine"),
        (720, "ten past three tomorrow morning"),
        (1250, "noon tomorrow"),
        (-130, "one o'clock in the afternoon"),
        (2 * 1440, "ten past three in the afternoon on Friday"),
    ] {
        assert_eq!(say_time(Minute(NOON + 190 + minutes), &wall), want);
    }
}

// Other programs.

/// `COMMIS_WRITE_TABLES=tests/tables cargo test` writes the expected files anew; the test that did so then fails once.
fn rewrite(name: &str, text: &str) {
    if let Ok(folder) = std::env::var("COMMIS_WRITE_TABLES") {
        std::fs::write(format!("{folder}/{name}"), text).unwrap();
    }
}

#[test]
fn timeline_fits_its_width_and_needs_no_colour() {
    let wall = utc(NOON);
    let plan = schedule(&items(&[loaf(), soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    for width in [0, 20, 33, 59, 60, 72, 80, 100, 132, 400] {
        for glyphs in [Glyphs::Ascii, Glyphs::Blocks] {
            let lines = timeline(&plan, &wall, width, glyphs);
            for line in &lines {
                assert!(line.chars().count() <= width.max(20), "{width}: {line}");
                assert!(glyphs == Glyphs::Blocks || line.is_ascii(), "{line}");
                assert!(!line.contains('\u{1b}'));
            }
            assert_eq!(lines.iter().any(|l| l.contains("in the oven")), width >= 60);
        }
    }
    let one = schedule(&items(&[loaf()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    let shown = timeline(&one, &wall, 80, Glyphs::Ascii).join("\n") + "\n";
    rewrite("timeline.txt", &shown);
    assert_eq!(
        shown,
        include_str!("../../tests/tables/timeline.txt"),
        "\n{shown}"
    );
}

#[test]
fn json_says_everything() {
    let wall = Wall {
        unix_ms: NOON * 60_000,
        offset_s: 3600,
        changes: vec![],
    };
    let plan = schedule(&items(&[three_rises()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    let v = json(&plan, &wall);
    assert_eq!(v["ready_at"], "2026-11-25T20:30:00+01:00");
    assert_eq!(v["late_minutes"], 0);
    assert_eq!(v["dishes"][0]["start"], "2026-11-25T18:10:00+01:00");
    assert_eq!(v["blocks"][3]["part"], "preheat");
    assert_eq!(v["blocks"][3]["oven_c"], 220.0);
    assert_eq!(v["blocks"][4]["step"], 4);
    assert_eq!(v["blocks"][4]["cues"][0]["at"], "2026-11-25T20:22:00+01:00");
    let text = serde_json::to_string(&plan).unwrap();
    assert_eq!(serde_json::from_str::<Plan>(&text).unwrap(), plan);
}

/// A calendar's events as `tests/tables/read_calendar.py` writes them: one a line, tabs between.
fn events_of(ics: &str) -> Vec<String> {
    let unfolded = ics.replace("\r\n ", "");
    let mut events = Vec::new();
    let mut fields = std::collections::BTreeMap::new();
    let mut alarms: Vec<String> = Vec::new();
    let mut inside = Vec::new();
    for line in unfolded.split("\r\n").filter(|l| !l.is_empty()) {
        let (name, value) = line.split_once(':').unwrap();
        match name {
            "BEGIN" => inside.push(value.to_owned()),
            "END" => {
                assert_eq!(inside.pop().as_deref(), Some(value));
                if value == "VEVENT" {
                    let get = |k: &str| fields.get(k).cloned().unwrap_or_default();
                    let mut row: Vec<String> = [
                        "UID",
                        "DTSTAMP",
                        "DTSTART",
                        "DTEND",
                        "SUMMARY",
                        "DESCRIPTION",
                        "TRANSP",
                    ]
                    .iter()
                    .map(|k| get(k))
                    .collect();
                    row.push(alarms.join("|"));
                    events.push(row.join("\t"));
                    fields.clear();
                    alarms.clear();
                }
            }
            _ if inside.last().is_some_and(|i| i == "VALARM") => match name {
                "TRIGGER" => {
                    let minutes = duration_minutes(value);
                    let last = alarms.pop().unwrap();
                    alarms.push(format!("{minutes} {last}"));
                }
                "DESCRIPTION" => alarms.push(unescape(value)),
                _ => assert_eq!(line, "ACTION:DISPLAY"),
            },
            _ => {
                fields.insert(name.to_owned(), unescape(value));
            }
        }
    }
    assert!(inside.is_empty());
    events
}

/// A duration (RFC 5545, 3.3.6) in minutes.
fn duration_minutes(value: &str) -> i64 {
    let (mut total, mut number) = (0, 0);
    for c in value.strip_prefix('P').unwrap().chars() {
        match c {
            '0'..='9' => number = number * 10 + i64::from(c as u8 - b'0'),
            'T' => {}
            unit => {
                total += number
                    * match unit {
                        'D' => 1440,
                        'H' => 60,
                        'M' => 1,
                        _ => panic!("unit {unit} in {value}"),
                    };
                number = 0;
            }
        }
    }
    total
}

/// As the table shows a text: a line feed as `<LF>`.
fn unescape(text: &str) -> String {
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next() {
                Some('n' | 'N') => out.push_str("<LF>"),
                Some(other) => out.push(other),
                None => {}
            },
            _ => out.push(c),
        }
    }
    out
}

fn calendar_example() -> String {
    let mut long = loaf();
    long.name = "Grandmother's \u{201c}Sunday\u{201d} loaf; seeds, salt \\ a cr\u{e8}me br\u{fb}l\u{e9}e of a crust \u{1F35E}".to_owned();
    let cues = &mut long.steps[5].timers[0].cues;
    cues.push(Cue {
        at: Span::minutes(30),
        left: None,
        say: "Look,\nthen listen; tap it".to_owned(),
    });
    let plan = schedule(&items(&[long, soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    calendar(&plan, 1_795_608_000)
}

#[test]
fn calendar_is_read_by_others_as_it_was_meant() {
    // What the Python package `icalendar` reads from the same file: tests/tables/read_calendar.py.
    let ics = calendar_example();
    rewrite("calendar.ics", &ics);
    assert_eq!(ics, include_str!("../../tests/tables/calendar.ics"));
    let read = include_str!("../../tests/tables/calendar.tsv");
    let mut rows = read.lines();
    assert!(rows.next().unwrap().starts_with("# icalendar "));
    assert_eq!(events_of(&ics), rows.collect::<Vec<_>>());
    for line in ics.split("\r\n") {
        assert!(line.len() <= 75 && !line.contains('\n'));
    }
    // And what `icalendar` itself writes of them, our reader takes to be the same.
    let theirs = include_str!("../../tests/tables/calendar-rewritten.ics");
    assert_eq!(events_of(theirs), events_of(&ics));
}
