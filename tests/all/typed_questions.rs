//! Questions as British and American cooks type them, beside what they are answered in a metric kitchen without a
//! formula.
//!
//! `tests/tables/questions.tsv`: question, value, unit. The values were read by eye beside the sum and the source that each
//! answer gives; the figures behind them are checked against their sources in `measure_published`, `measure_sources`,
//! `measure_conversions` and `measure_practice`.

use commis::ask::{Context, answer};
use commis::order::Order;
use commis::understand::{Understood, parse};

#[test]
fn questions_as_cooks_type_them_are_answered() {
    let lexicon = commis::bench::kitchen_lexicon();
    let rows = include_str!("../tables/questions.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'));
    let (mut asked, mut wrong) = (0, Vec::new());
    for row in rows {
        let [question, value, unit] = row.split('\t').collect::<Vec<_>>()[..] else {
            panic!("three columns: {row}")
        };
        asked += 1;
        let found = match parse(question, &lexicon) {
            Understood::Order(Order::Ask(asked)) => {
                answer(&asked, &Context::default()).map_err(|e| e.to_string())
            }
            other => Err(format!("{other:?}")),
        };
        let expected: f64 = value.parse().unwrap();
        match found {
            Ok(a) if a.unit == unit && (a.value - expected).abs() <= 6e-4 => {}
            found => wrong.push(format!("{question}: {found:?}, expected {value} {unit}")),
        }
    }
    assert!(asked >= 450, "{asked} questions");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What no table knows is answered where nothing must be known of it; otherwise what is missing is said. A slip of the
/// finger is mended first.
#[test]
fn an_unknown_ingredient_is_said_plainly() {
    let lexicon = commis::bench::kitchen_lexicon();
    let said = |text: &str| match parse(text, &lexicon) {
        Understood::Order(Order::Ask(asked)) => match answer(&asked, &Context::default()) {
            Ok(answer) => answer.words,
            Err(e) => e.to_string(),
        },
        other => panic!("`{text}`: {other:?}"),
    };
    for (question, words) in [
        (
            "how many grams in two cups of gravel",
            "`gravel` is not in the table, so I do not know how heavy a cup of it is",
        ),
        (
            "how much does a brick weigh",
            "`brick` is not in the table, so I do not know how heavy one is",
        ),
        (
            "600 grams of gravel in ounces",
            "About twenty one ounces of gravel.",
        ),
        (
            "2 cups of gravel in millilitres",
            "Five hundred millilitres of gravel, by the metric cup.",
        ),
        (
            "how many grams in two cups of caster suger",
            "About four hundred and twenty five grams of caster sugar, by the metric cup.",
        ),
    ] {
        assert_eq!(said(question), words, "{question}");
    }
    assert!(matches!(
        parse("i have no idea", &lexicon),
        Understood::Nothing { .. }
    ));
}
