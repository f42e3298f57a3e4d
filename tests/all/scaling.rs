//! Today's size: composition, percentages, what does not scale in a straight line.

use commis::formula::{Batch, WeighUp};
use commis::measure::{Mass, Region};
use commis::order::ScaleBy;
use proptest::prelude::*;

use super::rehearsal::formula;

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

#[test]
fn by_flour_dough_pieces_portions_and_limit() {
    let f = formula("seeded-tin-loaf");
    let by = |b: ScaleBy| Batch::scaled(&f, &b).unwrap_or_else(|e| panic!("{e}"));
    assert!(close(by(ScaleBy::Flour(Mass::grams(750.0))).factor(), 1.5));
    assert!(close(by(ScaleBy::Portions(18.0)).factor(), 1.5));
    let two = by(ScaleBy::Dough(Mass::grams(2000.0)));
    assert!(close(two.dough(&f).as_grams(), 2000.0));
    let rolls = by(ScaleBy::Pieces {
        count: 8.0,
        each: Mass::grams(95.0),
        baked: false,
    });
    assert!(close(rolls.dough(&f).as_grams(), 760.0));
    let baked = by(ScaleBy::Pieces {
        count: 8.0,
        each: Mass::grams(95.0),
        baked: true,
    });
    assert!(close(baked.cooked(&f).as_grams(), 760.0));
    let limit = by(ScaleBy::Limit {
        ingredient: "flour".into(),
        have: Mass::grams(380.0),
    });
    assert!(close(
        limit.mass(f.find("flour").expect("flour")).as_grams(),
        380.0
    ));
    assert!(close(limit.factor(), 0.95));
}

#[test]
fn one_wish_keeps_another() {
    let f = formula("seeded-tin-loaf");
    let wish = |batch: Batch, by: ScaleBy| batch.then(&f, &by).unwrap_or_else(|e| panic!("{e}"));
    let b = wish(Batch::as_written(&f), ScaleBy::Flour(Mass::grams(750.0)));
    let b = wish(b, ScaleBy::Hydration(72.0));
    assert!(close(b.flour(&f).as_grams(), 750.0) && close(b.water(&f).as_grams(), 540.0));
    let b = wish(b, ScaleBy::Factor(2.0));
    assert!(close(b.flour(&f).as_grams(), 1500.0) && close(b.water(&f).as_grams(), 1080.0));
    let b = wish(
        b,
        ScaleBy::Limit {
            ingredient: "salt".into(),
            have: Mass::grams(15.0),
        },
    );
    assert!(close(
        b.mass(f.find("salt").expect("salt")).as_grams(),
        15.0
    ));
    assert!(close(b.hydration(&f).expect("a dough"), 72.0));
    // More than is needed makes nothing more.
    let b = wish(
        Batch::as_written(&f),
        ScaleBy::Limit {
            ingredient: "salt".into(),
            have: Mass::grams(500.0),
        },
    );
    assert!(close(b.factor(), 1.0));
    assert_eq!(wish(b, ScaleBy::AsWritten), Batch::as_written(&f));
    // Two flours are asked about by the word alone.
    assert!(commis::formula::one_named(&f, "flour").is_err());
    assert!(commis::formula::one_named(&f, "wholemeal flour").is_ok());
}

#[test]
fn hydration_moves_the_water_alone_and_says_so() {
    let f = formula("seeded-tin-loaf");
    let b = Batch::scaled(&f, &ScaleBy::Hydration(72.0)).unwrap_or_else(|e| panic!("{e}"));
    assert!(
        close(b.water(&f).as_grams(), 360.0),
        "72 % of 500 g of flour"
    );
    assert!(close(
        b.mass(f.find("salt").expect("salt")).as_grams(),
        10.0
    ));
    assert!(
        b.notes()[0].starts_with("Only the water moves"),
        "{:?}",
        b.notes()
    );
    assert!(Batch::scaled(&f, &ScaleBy::Hydration(500.0)).is_err());
}

#[test]
fn sizes_out_of_reach_are_refused_in_a_sentence() {
    let f = formula("vegetable-soup");
    for by in [
        ScaleBy::Factor(0.0),
        ScaleBy::Factor(1e9),
        ScaleBy::Factor(f64::NAN),
        ScaleBy::Portions(f64::INFINITY),
    ] {
        assert!(Batch::scaled(&f, &by).is_err(), "{by:?}");
    }
    let e = Batch::scaled(&f, &ScaleBy::Flour(Mass::grams(500.0))).expect_err("soup has no flour");
    assert_eq!(e.to_string(), "this formula names no flour to scale by");
}

#[test]
fn a_large_size_flags_yeast_and_bowl_and_tin() {
    let f = formula("seeded-tin-loaf");
    let notes = Batch::scaled(&f, &ScaleBy::Factor(5.0))
        .expect("five loaves")
        .notes()
        .join(" ");
    assert!(notes.contains("yeast is only a guide"), "{notes}");
    assert!(notes.contains("bowl"), "{notes}");
    assert!(notes.contains("tin"), "{notes}");
}

#[test]
fn the_running_total_is_the_sum_of_what_is_weighed() {
    for name in ["seeded-tin-loaf", "vegetable-soup", "lemon-shortbread"] {
        let f = formula(name);
        let b = Batch::scaled(&f, &ScaleBy::Factor(1.37)).expect("a size");
        let list = WeighUp::new(&f, &b, 1.0, Region::Metric);
        let mut sum = 0.0;
        for l in list.lines.iter().filter(|l| !l.apart) {
            sum += l.weigh_g;
            assert!(close(l.running_g, sum), "{name}: {}", l.name);
        }
    }
}

#[test]
fn the_formula_of_the_loaf_has_the_percentages_of_the_trade() {
    // Baker's percentage: each ingredient over total flour, flour = 100 (common practice, no source).
    let f = formula("seeded-tin-loaf");
    let b = Batch::as_written(&f);
    assert!(close(b.hydration(&f).expect("a dough"), 68.0));
    let flour: f64 = (0..f.ingredients.len())
        .filter(|i| f.ingredients[*i].is_flour)
        .filter_map(|i| b.percent(&f, i))
        .sum();
    assert!(close(flour, 100.0));
    assert!(close(
        b.percent(&f, f.find("salt").expect("salt"))
            .expect("a dough"),
        2.0
    ));
}

proptest! {
    #[test]
    fn factors_compose(a in 0.05f64..8.0, b in 0.05f64..8.0) {
        let f = formula("seeded-tin-loaf");
        let twice = Batch::as_written(&f).times(a).times(b);
        let once = Batch::as_written(&f).times(a * b);
        for i in 0..f.ingredients.len() {
            prop_assert!(close(twice.mass(i).as_grams(), once.mass(i).as_grams()));
        }
    }

    /// Rounding a whole formula to the scale's step moves no baker's percentage by more than the step allows:
    /// half a step on the ingredient and half a step on each flour.
    #[test]
    fn rounding_keeps_percentages_within_its_bound(flour in 100.0f64..5000.0, tenth in any::<bool>()) {
        let step = if tenth { 0.1 } else { 1.0 };
        let f = formula("seeded-tin-loaf");
        let b = Batch::scaled(&f, &ScaleBy::Flour(Mass::grams(flour))).expect("a size");
        let list = WeighUp::new(&f, &b, step, Region::Metric);
        let flours = f.ingredients.iter().filter(|i| i.is_flour).count() as f64;
        let rounded: f64 = list.lines.iter().zip(&f.ingredients).filter(|(_, i)| i.is_flour).map(|(l, _)| l.weigh_g).sum();
        for (at, l) in list.lines.iter().enumerate() {
            let exact = b.percent(&f, at).expect("a dough");
            let bound = (step / 2.0 + exact / 100.0 * flours * step / 2.0) / rounded * 100.0 + 1e-9;
            prop_assert!((l.weigh_g / rounded * 100.0 - exact).abs() <= bound, "{} {exact} {bound}", l.name);
        }
    }

    #[test]
    fn percentages_do_not_depend_on_the_size(factor in 0.05f64..50.0) {
        let f = formula("seeded-tin-loaf");
        let (a, b) = (Batch::as_written(&f), Batch::scaled(&f, &ScaleBy::Factor(factor)).expect("a size"));
        for i in 0..f.ingredients.len() {
            prop_assert!(close(a.percent(&f, i).expect("dough"), b.percent(&f, i).expect("dough")));
        }
    }
}

/// What there is of a range must be enough for the most of it.
#[test]
fn a_limit_on_a_range_is_enough_for_the_most_of_it() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("shared/formulas");
    let mut ranges = 0;
    for entry in std::fs::read_dir(folder).expect("the formulas") {
        let name = entry.expect("a file").path();
        let f = formula(name.file_stem().and_then(|n| n.to_str()).expect("a name"));
        for (at, i) in f.ingredients.iter().enumerate() {
            let Some((_, high)) = i.spread.filter(|_| i.mass.as_grams() > 0.0) else {
                continue;
            };
            ranges += 1;
            // Two thirds of the most that it asks for.
            let have = i.mass.times(high * 2.0 / 3.0);
            let limit = ScaleBy::Limit {
                ingredient: i.id.as_str().into(),
                have,
            };
            let batch = Batch::scaled(&f, &limit).unwrap_or_else(|e| panic!("{e}"));
            assert!(close(batch.factor(), 2.0 / 3.0), "{}", i.name);
            let (_, most) = batch
                .quantity(&f, at, 1.0)
                .and_then(|q| q.mass)
                .expect("a mass");
            assert!(close(most.as_grams(), have.as_grams()), "{}", i.name);
        }
    }
    assert!(ranges > 2, "{ranges} ranges");
}
