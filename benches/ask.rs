//! What the arithmetic costs: the first answer of a fresh process, and answers a minute once the tables are read.
//!
//! `cargo bench --bench ask`

use std::time::Instant;

use commis::ask::{Context, Question, answer};

fn main() {
    let context = Context::default();
    let cup = |number: f64| Question::Convert {
        number,
        from: "cup".to_owned(),
        to: "g".to_owned(),
        ingredient: Some("caster sugar".to_owned()),
    };
    let start = Instant::now();
    let first = answer(&cup(2.0), &context).expect("the question is answered in the tests");
    let cold = start.elapsed();
    println!(
        "ask/first answer, ingredient table read: {:.2} ms ({})",
        cold.as_secs_f64() * 1e3,
        first.words
    );

    let questions = [
        cup(2.0),
        Question::ConvertTemperature {
            number: 220.0,
            from: "c".to_owned(),
            to: "f".to_owned(),
        },
        Question::Swap {
            of: "dried yeast".to_owned(),
            with: Some("fresh yeast".to_owned()),
            number: Some(7.0),
            unit: Some("g".to_owned()),
        },
        Question::Swap {
            of: "butter".to_owned(),
            with: None,
            number: None,
            unit: None,
        },
        Question::WaterForFlour {
            flour_g: Some(900.0),
            percent: 68.0,
        },
        Question::SafeTemperature {
            food: "chicken".to_owned(),
        },
        Question::PiecesFrom {
            dough_g: Some(2000.0),
            each_g: 95.0,
        },
        Question::MassOf {
            number: 1.0,
            ingredient: "egg".to_owned(),
        },
    ];
    let start = Instant::now();
    for question in &questions {
        answer(question, &context).expect("the question is answered in the tests");
    }
    println!(
        "ask/one of each kind, all tables read: {:.2} ms",
        start.elapsed().as_secs_f64() * 1e3
    );

    let rounds = 20_000;
    let start = Instant::now();
    let mut words = 0;
    for _ in 0..rounds {
        for question in &questions {
            words += answer(question, &context).map_or(0, |a| a.words.len());
        }
    }
    let spent = start.elapsed().as_secs_f64();
    let answers = f64::from(rounds) * questions.len() as f64;
    println!(
        "ask/answers a minute on one core: {:.0} ({words} letters)",
        answers / spent * 60.0
    );
}
