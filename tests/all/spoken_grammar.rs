//! dump
use commis::understand::{Understood, literal_words, network, parse};
#[test]
fn dump() {
    let lex = crate::sample::lexicon();
    let text = std::fs::read_to_string("/tmp/utter.txt").unwrap();
    for line in text.lines() {
        match parse(line, &lex) {
            Understood::Intent(i) => println!("{line} -> {}", serde_json::to_string(&i).unwrap()),
            Understood::Doubt { question, readings } => println!(
                "{line} ?? {question} {}",
                serde_json::to_string(&readings).unwrap()
            ),
            Understood::Nothing { question } => println!("{line} !! {question}"),
        }
    }
    let t = std::time::Instant::now();
    let n = network(&lex);
    println!(
        "network {} states {} arcs {} words in {:?}",
        n.states,
        n.arcs.len(),
        n.words().len(),
        t.elapsed()
    );
    let mut bad = 0;
    for p in n.phrases(1, 3000) {
        if let Understood::Nothing { .. } = parse(&p, &lex) {
            bad += 1;
            if bad < 40 {
                println!("NOT PARSED: {p}");
            }
        }
    }
    println!("bad {bad}");
    let known: std::collections::BTreeSet<String> = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/models/en-kitchen/graph/words.txt"
    ))
    .unwrap()
    .lines()
    .map(|l| l.split(' ').next().unwrap().to_string())
    .collect();
    let missing: Vec<_> = literal_words()
        .into_iter()
        .filter(|w| !known.contains(*w))
        .collect();
    println!("missing {} {missing:?}", missing.len());
}
