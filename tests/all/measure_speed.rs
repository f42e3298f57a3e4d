//! How fast questions are answered. The bound here is wide, so that a busy machine does not fail it; the bench gives
//! the figure.

use std::time::{Duration, Instant};

use commis::ask::{Context, Question, answer};

#[test]
fn a_hundred_thousand_answers_a_minute_on_one_core() {
    let questions = [
        Question::Convert {
            number: 2.0,
            from: "cup".into(),
            to: "g".into(),
            ingredient: Some("caster sugar".into()),
        },
        Question::ConvertTemperature {
            number: 220.0,
            from: "c".into(),
            to: "f".into(),
        },
        Question::Swap {
            of: "dried yeast".into(),
            with: Some("fresh yeast".into()),
            number: Some(7.0),
            unit: Some("g".into()),
        },
        Question::WaterForFlour {
            flour_g: Some(900.0),
            percent: 68.0,
        },
        Question::SafeTemperature {
            food: "chicken".into(),
        },
    ];
    let context = Context::default();
    let start = Instant::now();
    let mut answered = 0;
    for _ in 0..2_000 {
        for question in &questions {
            assert!(answer(question, &context).is_ok());
            answered += 1;
        }
    }
    let spent = start.elapsed();
    // 100,000 a minute is 10,000 in six seconds.
    assert_eq!(answered, 10_000);
    assert!(
        spent < Duration::from_secs(6),
        "{answered} answers took {spent:?}"
    );
}
