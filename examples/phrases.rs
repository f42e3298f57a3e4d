//! Sentences that can be said with some formulas, each once: what the speech model's training is made of.
//!
//! `cargo run --example phrases -- COUNT FORMULA...` prints up to COUNT of each formula's, one a line; `words` in place of COUNT
//! prints every word of the grammar.

use std::collections::BTreeSet;
use std::error::Error;
use std::fs;

use commis::bench::lexicon;
use commis::understand::{literal_words, network};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let what = arguments.next().ok_or("expected COUNT or `words`")?;
    let mut out: BTreeSet<String> = BTreeSet::new();
    if what == "words" {
        out.extend(literal_words().into_iter().map(String::from));
    }
    for (path, seed) in arguments.zip(1..) {
        let formula = commis::formula::read(&path, &fs::read_to_string(&path)?)?;
        let network = network(&lexicon(&formula).with_call_name("commis"));
        if what == "words" {
            out.extend(network.arcs.iter().map(|arc| arc.word.to_string()));
        } else {
            out.extend(network.phrases(seed, what.parse()?));
        }
    }
    for line in out {
        println!("{line}");
    }
    Ok(())
}
