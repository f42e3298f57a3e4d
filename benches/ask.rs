//! What a typed question costs, from its words to the words of the answer.
//!
//! `cargo bench --bench ask`
//!
//! Seen on one of two cores of a cloud machine that others were using: `commis ask` from start to end takes 11 ms of the
//! processor for a question that is understood, 9 ms of the clock when nobody else was at work (the release build), most
//! of it for reading the tables of names; the library answers 440,000 typed questions a minute (optimised, without
//! link-time optimisation), their words read and the answers said.

use std::time::Instant;

use commis::ask::{Context, EXAMPLES, answer};
use commis::order::Order;
use commis::understand::{Lexicon, Understood, parse};

/// The words of the answer to a typed question.
fn asked(text: &str, lexicon: &Lexicon, context: &Context) -> Option<String> {
    match parse(text, lexicon) {
        Understood::Order(Order::Ask(question)) => answer(&question, context).ok().map(|a| a.words),
        _ => None,
    }
}

fn main() {
    let context = Context {
        dough_g: Some(900.0),
        ..Context::default()
    };
    let start = Instant::now();
    let lexicon = commis::bench::kitchen_lexicon();
    let first = asked(EXAMPLES[0], &lexicon, &context);
    println!(
        "ask/first answer, tables and grammar read: {:.2} ms ({})",
        start.elapsed().as_secs_f64() * 1e3,
        first.unwrap_or_default()
    );

    let start = Instant::now();
    for example in EXAMPLES {
        assert!(asked(example, &lexicon, &context).is_some(), "{example}");
    }
    println!(
        "ask/one of each kind, all tables read: {:.2} ms",
        start.elapsed().as_secs_f64() * 1e3
    );

    let rounds = 500;
    let start = Instant::now();
    let mut letters = 0;
    for _ in 0..rounds {
        for example in EXAMPLES {
            letters += asked(example, &lexicon, &context).map_or(0, |words| words.len());
        }
    }
    let spent = start.elapsed().as_secs_f64();
    let answers = f64::from(rounds) * EXAMPLES.len() as f64;
    println!(
        "ask/typed questions answered a minute on one core: {:.0} ({letters} letters)",
        answers / spent * 60.0
    );
}
