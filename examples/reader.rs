//! For the reader's training and its figures: one JSON line in, the same line with more in it out.
//!
//!     cargo run --example reader -- FORMULAS [WEIGHTS [LIMITS]] < lines > more
//!
//! In: `{"text": ..., "situation": {"formula": name, ...}}`. Out, beside that: `input`, what the network is given; with WEIGHTS also `reading` and `verdict`, what the network makes of it, and `micros`, how long that took. LIMITS is a JSON list of
//! `[ask, harmless, act, talk]`; `kinds` then has the kind of verdict by each.

mod situated;

use std::collections::HashMap;
use std::io::{BufRead, Write};

use commis::reader::{AskInstead, Limits, Printed, Reader, Verdict, input, leaning};
use commis::understand::{Lexicon, Understood, parse};
use serde_json::{Value, json};
use situated::situated;

fn main() {
    let folder = std::env::args().nth(1).expect("the folder of formulas");
    let weights = std::env::args()
        .nth(2)
        .map(|path| std::fs::read(path).expect("the weights"));
    let reader = weights.map(|bytes| Reader::from_bytes(&bytes).expect("what training wrote"));
    let limits: Vec<[f32; 4]> = std::env::args().nth(3).map_or_else(Vec::new, |path| {
        let text = std::fs::read_to_string(path).expect("the limits");
        serde_json::from_str(&text).expect("a list of limits")
    });
    let mut kitchens: HashMap<String, (Lexicon, commis::formula::Formula)> = HashMap::new();
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let mut line: Value = serde_json::from_str(&line.expect("UTF-8")).expect("JSON");
        let text = line["text"].as_str().expect("text").to_owned();
        let name = line["situation"]["formula"]
            .as_str()
            .expect("a formula")
            .to_owned();
        let (lexicon, formula) = kitchens.entry(name.clone()).or_insert_with(|| {
            let path = format!("{folder}/{name}.toml");
            let source = std::fs::read_to_string(&path).expect("the formula");
            let formula = commis::formula::read(&path, &source).unwrap_or_else(|e| panic!("{e}"));
            (
                commis::bench::lexicon(&formula).with_call_name("commis"),
                formula,
            )
        });
        let (situation, lexicon) = situated(&line, formula, lexicon);
        if let Some(reader) = &reader {
            line["strict"] = match parse(&text, &lexicon) {
                Understood::Order(order) => match leaning(order, &text, &situation) {
                    Some(order) => match reader.doubts(&order, &text, &lexicon, &situation) {
                        Some(AskInstead::Between(readings)) => json!({ "readings": readings }),
                        Some(AskInstead::All(orders)) => json!({ "all": orders }),
                        None => json!({ "orders": [order] }),
                    },
                    None => json!({ "cut_off": true }),
                },
                Understood::Doubt { readings, .. }
                    if reader.knows_better(&readings, &text, &lexicon, &situation) =>
                {
                    Value::Null
                }
                Understood::Doubt { question, readings } => {
                    json!({ "question": question, "readings": readings })
                }
                Understood::Nothing { .. } => Value::Null,
            };
            let before = std::time::Instant::now();
            let reading = reader.read(&text, &lexicon, &situation);
            line["micros"] = json!(before.elapsed().as_micros() as u64);
            if let Some(r) = reading {
                let (verdict, orders) = named(r.verdict());
                if !limits.is_empty() {
                    let kinds = limits.iter().map(|&[ask, harmless, act, talk]| {
                        let limits = Limits {
                            ask,
                            harmless,
                            act,
                            talk,
                        };
                        named(r.verdict_at(limits)).0
                    });
                    line["kinds"] = kinds.collect();
                }
                line["verdict"] = json!({ "kind": verdict, "orders": orders });
                line["reading"] = json!({ "orders": r.orders, "sure": r.sure, "talk": r.talk, "wish": r.wish, "doubtful": r.doubtful });
            }
        } else {
            line["input"] = json!(input(&text, &lexicon, &situation));
        }
        writeln!(out, "{line}").expect("written");
    }
}

fn named(verdict: Verdict) -> (&'static str, Vec<Printed>) {
    match verdict {
        Verdict::Act(orders) => ("act", orders),
        Verdict::Ask(orders) => ("ask", orders),
        Verdict::Wish => ("wish", Vec::new()),
        Verdict::Unknown => ("unknown", Vec::new()),
        Verdict::Talk => ("talk", Vec::new()),
    }
}
