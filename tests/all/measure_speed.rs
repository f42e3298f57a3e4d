//! How fast typed questions are answered, and that no table is read twice. The bound here is wide, so that a busy machine
//! and a build without optimisation do not fail it; the bench gives the figure.

use std::time::{Duration, Instant};

use commis::ask::{Context, EXAMPLES, answer};
use commis::order::Order;
use commis::understand::{Understood, parse};

#[test]
fn typed_questions_are_answered_at_once() {
    let lexicon = commis::bench::kitchen_lexicon();
    let context = Context {
        dough_g: Some(900.0),
        ..Context::default()
    };
    let ask = |text: &str| match parse(text, &lexicon) {
        Understood::Order(Order::Ask(question)) => answer(&question, &context),
        other => panic!("`{text}`: {other:?}"),
    };
    // The first reads the tables.
    ask(EXAMPLES[0]).unwrap();
    let rounds = 20;
    let start = Instant::now();
    for _ in 0..rounds {
        for example in EXAMPLES {
            assert!(ask(example).is_ok(), "{example}");
        }
    }
    let each = start.elapsed() / (rounds * EXAMPLES.len() as u32);
    // 100,000 a minute is 0.6 ms each where the compiler has optimised, and this build is not.
    assert!(each < Duration::from_millis(10), "{each:?} each");
}

/// Every table is behind a cell that is filled once: asked for again, it is the same one in memory.
#[test]
fn no_table_is_read_twice() {
    use commis::{measure, safety, swap};
    let same = |a: *const u8, b: *const u8| assert_eq!(a, b);
    let at = |table: &[measure::TableIngredient]| table.as_ptr().cast::<u8>();
    same(
        at(measure::ingredients().all()),
        at(measure::ingredients().all()),
    );
    let limits = || safety::limits().as_ptr().cast();
    same(limits(), limits());
    let rows = || safety::equal_rows().as_ptr().cast();
    same(rows(), rows());
    let caution = || std::ptr::from_ref(safety::caution("honey").unwrap()).cast();
    same(caution(), caution());
    let swaps = || std::ptr::from_ref(swap::find("egg", "banana").unwrap()).cast();
    same(swaps(), swaps());
    let law = || {
        let first = safety::allergens(safety::Law::Eu).next().unwrap();
        std::ptr::from_ref(first).cast()
    };
    same(law(), law());
    // The gas marks have no reference to compare; they are behind such a cell as well.
    let heat = include_str!("../../src/measure/temperature.rs");
    assert_eq!(heat.matches("gas.toml").count(), 1);
    assert!(heat.contains("static TABLE: OnceLock<Vec<Mark>>"));
}
