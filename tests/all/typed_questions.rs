//! Questions as British and American cooks type them, beside what they are answered in a metric kitchen without a
//! formula.
//!
//! `tests/tables/questions.tsv`: question, value, unit. The values were read by eye beside the sum and the source that each
//! answer gives; the figures behind them are checked against their sources in `measure_published`, `measure_sources`,
//! `measure_conversions` and `measure_practice`.

use commis::ask::{Context, answer};
use commis::understand::{Intent, Understood, parse};

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
            Understood::Intent(Intent::Ask(asked)) => {
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
