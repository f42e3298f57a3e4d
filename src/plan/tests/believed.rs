//! What makes a plan believed: steps that belong together, nights, two cooks, ovens that cool, and another hour.

use super::everything::check;
use super::*;
use crate::time::{ClockTime, HalfDay};

fn roast() -> Formula {
    formula(
        "Roast chicken",
        Some(20),
        vec![
            step("Lay in the roots", 12, vec![], None),
            step("Season the chicken", 6, vec![], None),
            step("Roast", 3, vec![timer("chicken", 90, &[])], Some(200.0)),
            step("Rest", 2, vec![timer("rest", 20, &[])], None),
            step("Carve", 6, vec![], None),
        ],
    )
}

fn bake(name: &str, heat: f64, minutes: u64) -> Formula {
    formula(
        name,
        Some(15),
        vec![
            step("Mix", 5, vec![], None),
            step("Bake", 2, vec![timer("bake", minutes, &[])], Some(heat)),
            step("Serve", 1, vec![], None),
        ],
    )
}

fn start(plan: &Plan, title: &str) -> Minute {
    let of_title = |b: &&Block| b.title == title && b.id.part != BlockPart::Preheat;
    plan.blocks.iter().find(of_title).unwrap().start
}

#[test]
fn six_dishes_stay_together() {
    let dishes = [
        roast(),
        loaf(),
        soup(),
        bake("Gratin", 180.0, 45),
        bake("Crumble", 185.0, 35),
        formula(
            "Peas",
            None,
            vec![
                step("Weigh and cut", 6, vec![], None),
                step("Boil", 2, vec![timer("peas", 6, &[])], None),
                step("Drain", 3, vec![], None),
            ],
        ),
    ];
    let ready = Minute(NOON + 450);
    let plan = schedule(&items(&dishes), ready, Minute(NOON)).unwrap();
    assert_eq!(check(&plan), Ok(()));
    // The bird goes in at most ten minutes after it was seasoned; what boiled is drained at once.
    let seasoned = start(&plan, "Season the chicken").plus(6);
    assert!(start(&plan, "Roast").since(seasoned) <= 10);
    assert_eq!(start(&plan, "Drain").since(start(&plan, "Boil")), 8);
}

#[test]
fn a_cold_wait_is_drawn_out_over_the_night() {
    let mut night = timer("cold rise", 8 * 60, &[]);
    night.most = Some(Span::minutes(16 * 60));
    night.cold = true;
    let f = formula(
        "Night loaf",
        Some(25),
        vec![
            step("Mix", 10, vec![], None),
            step("Cold rise", 2, vec![night], None),
            step("Shape", 8, vec![timer("last rise", 60, &[])], None),
            step("Bake", 2, vec![timer("bake", 40, &[])], Some(230.0)),
        ],
    );
    let wall = utc(NOON);
    let at = |hour| ClockTime {
        hour,
        minute: 0,
        half: HalfDay::Said,
    };
    let kitchen = Kitchen::default().sleeping(at(22), at(7), &wall, 3);
    // At ten in the morning: without a night it would be mixed at one; kept, before ten.
    let ready = Minute(NOON + 22 * 60);
    let awake = schedule(&items(std::slice::from_ref(&f)), ready, Minute(NOON)).unwrap();
    assert_eq!(clock(awake.start(), &wall), "23:58");
    let plan = schedule_in(
        &kitchen,
        &items(std::slice::from_ref(&f)),
        ready,
        Minute(NOON),
    )
    .unwrap();
    assert_eq!(check(&plan), Ok(()));
    assert_eq!(clock(start(&plan, "Shape"), &wall), "08:10");
    assert_eq!(clock(plan.start(), &wall), "21:48");
    let rise = plan
        .blocks
        .iter()
        .find(|b| b.id.step == 1 && b.id.part == BlockPart::Wait);
    assert_eq!(rise.unwrap().end, start(&plan, "Shape"));
    assert!(plan.waived == Waived::default());
    // At eight there is no way but to get up, or to be later: the earliest is two ten after seven.
    let eight = Minute(NOON + 20 * 60);
    let late = schedule_in(&kitchen, &items(&[f]), eight, Minute(NOON)).unwrap_err();
    let PlanError::TooLate { earliest, .. } = late else {
        panic!("{late:?}");
    };
    assert_eq!(clock(earliest, &wall), "08:50");
}

#[test]
fn two_cooks_and_two_ovens_are_told_apart() {
    let dishes = items(&[bake("One", 150.0, 40), bake("Two", 220.0, 40)]);
    let ready = Minute(NOON + 300);
    let one = schedule(&dishes, ready, Minute(NOON)).unwrap();
    let two = Kitchen {
        cooks: 2,
        ovens: 2,
        ..Kitchen::default()
    };
    let two = schedule_in(&two, &dishes, ready, Minute(NOON)).unwrap();
    assert_eq!(check(&two), Ok(()));
    assert!(two.dishes.iter().all(|dish| dish.ready == ready));
    let whose = |title: &str, dish: usize, part| {
        let it = |b: &&Block| b.id.dish == dish && b.title == title && b.id.part == part;
        two.who(two.blocks.iter().find(it).unwrap()).unwrap()
    };
    assert_ne!(
        whose("Serve", 0, BlockPart::Hands),
        whose("Serve", 1, BlockPart::Hands)
    );
    assert_ne!(
        whose("Bake", 0, BlockPart::Wait),
        whose("Bake", 1, BlockPart::Wait)
    );
    // One oven: seventy degrees are 24 minutes of cooling at three a minute, where the colder one comes second; the
    // hotter one second waits only for its own fifteen.
    let mut apart: Vec<i64> = one.dishes.iter().map(|d| ready.since(d.ready)).collect();
    apart.sort_unstable();
    assert_eq!(apart, [0, 15 + 42]);
    assert_eq!(one.dishes[1].ready, ready);
    assert_eq!(one.who(&one.blocks[0]), None);
}

#[test]
fn heats_within_ten_degrees_share_one() {
    let plan = schedule(
        &items(&[bake("One", 180.0, 40), bake("Two", 190.0, 40)]),
        Minute(NOON + 300),
        Minute(NOON),
    )
    .unwrap();
    let lit: Vec<&Block> = plan
        .blocks
        .iter()
        .filter(|b| b.id.part == BlockPart::Preheat)
        .collect();
    assert_eq!(lit.len(), 1);
    assert_eq!(plan.set_to(lit[0]), Some(185.0));
    let shown = say_plan(&plan, &utc(NOON));
    assert!(
        shown.contains("one hundred and eighty five degrees"),
        "{shown}"
    );
}

#[test]
fn four_rings_hold_four_pots() {
    let pot = |n: usize| {
        formula(
            &format!("Pot {n}"),
            None,
            vec![step("Boil", 1, vec![timer("pot", 20, &[])], None)],
        )
    };
    let pots: Vec<Formula> = (0..5).map(pot).collect();
    let plan = schedule(&items(&pots), Minute(NOON + 300), Minute(NOON)).unwrap();
    assert_eq!(check(&plan), Ok(()));
    assert!(
        plan.blocks
            .iter()
            .any(|b| b.end.since(plan.ready_at) <= -20)
    );
}

#[test]
fn another_hour_changes_little_and_is_one_sentence() {
    let dishes = items(&[roast(), soup(), bake("Crumble", 180.0, 35)]);
    let ready = Minute(NOON + 450);
    let plan = schedule(&dishes, ready, Minute(NOON)).unwrap();
    let wall = utc(NOON);
    let later = again(&plan, &[], Minute(NOON), PlanWish::Later(30));
    assert_eq!(later.plan.ready_at, ready.plus(30));
    assert_eq!(check(&later.plan), Ok(()));
    assert_eq!(later.offers, []);
    for block in &plan.blocks {
        let moved = later.plan.block(block.id).unwrap();
        assert_eq!(moved.start, block.start.plus(30), "{block:?}");
    }
    let said = say_again(&later, &wall);
    assert!(
        said.starts_with("Everything from ")
            && said.ends_with("is thirty minutes later: on the table at eight o'clock."),
        "{said}"
    );
    // Far too soon: the earliest, or what to leave out.
    let soon = again(
        &plan,
        &[],
        Minute(NOON),
        PlanWish::EatAt(Minute(NOON + 120)),
    );
    assert!(soon.plan.ready_at > Minute(NOON + 120));
    assert!(soon.offers.contains(&Offer::Drop(0)), "{:?}", soon.offers);
    let said = say_again(&soon, &wall);
    assert!(
        said.starts_with("That is too soon: ") && said.contains("or leave out the roast chicken"),
        "{said}"
    );
    // Behind: what is being done takes longer, and nothing before it changes.
    let first = plan
        .blocks
        .iter()
        .find(|b| b.id.part == BlockPart::Hands)
        .unwrap();
    let progress = [BlockProgress {
        id: first.id,
        state: Reached::Running(first.end),
    }];
    let behind = again(&plan, &progress, first.start.plus(1), PlanWish::Behind(10));
    assert_eq!(behind.plan.block(first.id).unwrap().end, first.end.plus(10));
}

#[test]
fn a_plan_that_is_not_proven_says_so() {
    let mut plan = schedule(&items(&[soup()]), Minute(NOON + 300), Minute(NOON)).unwrap();
    assert_eq!(say_doubts(&plan), Vec::<String>::new());
    plan.proven = false;
    assert_eq!(
        say_doubts(&plan),
        ["This may not be the best order: I could not try them all."]
    );
    plan.proven = true;
    plan.dishes[0].ready = plan.ready_at.plus(-20);
    assert_eq!(
        say_doubts(&plan),
        ["Keep the autumn soup hot for twenty minutes. It stays good for forty five minutes."]
    );
    plan.dishes[0].ready = plan.ready_at.plus(-50);
    assert!(say_doubts(&plan)[0].contains("longer than is good: bring it cold, or leave it out."));
}

#[test]
fn the_picture_is_large_and_whole() {
    let wall = utc(NOON);
    let plan = schedule(&items(&[loaf(), soup()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    let svg = picture(&plan, &wall);
    // 18 points and more, at 96 pixels and 72 points an inch (CSS Values 3).
    const { assert!(LETTER * 72 >= 18 * 96) };
    assert_eq!(svg.matches("font-size").count(), 1);
    for block in &plan.blocks {
        assert!(svg.contains(&format!(">{}</text>", block.start.local(&wall).clock())));
    }
    // What steers a reader of XML is written out.
    let mut odd = plan;
    odd.dishes[0].name = "Fish & <chips>\u{7}".to_owned();
    let svg = picture(&odd, &wall);
    assert!(svg.contains("Fish &amp; &lt;chips&gt; ") && !svg.contains('\u{7}'));
}

#[test]
fn a_calendar_that_is_given_out_again_has_the_same_names() {
    let of = |ready: i64| {
        let plan = schedule(
            &items(&[loaf(), soup()]),
            Minute(NOON + ready),
            Minute(NOON),
        )
        .unwrap();
        calendar(&plan, 1_795_608_000 + ready, 0)
    };
    let uids = |ics: &str| -> Vec<String> {
        let mut all: Vec<String> = ics
            .lines()
            .filter(|l| l.starts_with("UID:"))
            .map(str::to_owned)
            .collect();
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), count, "a name that stands twice");
        all
    };
    assert_eq!(uids(&of(450)), uids(&of(480)));
    let other = schedule(&items(&[loaf()]), Minute(NOON + 450), Minute(NOON)).unwrap();
    assert_ne!(uids(&of(450))[0], uids(&calendar(&other, 0, 0))[0]);
}
