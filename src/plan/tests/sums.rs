//! Plans against sums by hand.

use super::everything::check;
use super::*;

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
            ("First rise", BlockPart::Wait, t("17:10"), t("17:55")),
            ("Second rise", BlockPart::Wait, t("17:55"), t("18:25")),
            ("Third rise", BlockPart::Wait, t("18:25"), t("19:10")),
            ("Bake", BlockPart::Preheat, t("19:00"), t("19:10")),
            ("Bake", BlockPart::Wait, t("19:10"), t("19:30")),
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
            .filter(|b| b.id.part == BlockPart::Preheat)
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
            .filter(|b| b.id.part == BlockPart::Preheat)
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
    let own = PlanItem::with_times(&f, |step, timer| match timer.name.as_str() {
        "beans" if step == 1 => Span::minutes(30),
        _ => timer.lasts,
    })
    .unwrap();
    assert_eq!(own.steps[1].wait, 30);
    assert_eq!(
        own.steps[1].cues,
        [(3, "Stir".to_owned()), (12, "Salt".to_owned())]
    );
}

#[test]
fn a_step_that_lights_the_oven_itself_is_waited_for() {
    let f = formula(
        "Shortbread",
        Some(30),
        vec![
            step("Light the oven", 4, vec![timer("oven", 30, &[])], None),
            step("Press", 10, vec![], None),
            step("Bake", 2, vec![timer("bake", 40, &[])], Some(160.0)),
        ],
    );
    let ready = Minute(NOON + 300);
    let plan = schedule(&items(&[f]), ready, Minute(NOON)).unwrap();
    assert_eq!(check(&plan), Ok(()));
    // 4 + 10 minutes of work, 16 more until the oven is hot, 2 + 40 in it; and no other lighting.
    assert_eq!(ready.since(plan.start()), 72);
    assert!(plan.blocks.iter().all(|b| b.id.part != BlockPart::Preheat));
}

#[test]
fn a_timer_alongside_the_work_is_counted_once() {
    let mut knead = timer("kneading", 8, &[]);
    knead.alongside = true;
    let f = formula(
        "Loaf",
        None,
        vec![step("Knead", 10, vec![knead, timer("rest", 5, &[])], None)],
    );
    let item = PlanItem::from_formula(&f).unwrap();
    assert_eq!((item.steps[0].hands, item.steps[0].wait), (10, 5));
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
    assert!(
        shown.contains("ready at 07:00 on Sun 25 Oct, start at 17:40"),
        "{shown}"
    );
}
