//! Near misses: an utterance one or two small words, or one slip of the typing finger, away from a sentence. Nothing
//! that carries meaning - a number, a name, a `not` - is ever added, dropped or exchanged for another known word.

use super::compiler;
use super::lexicon::Lexicon;
use super::matcher::Matcher;
use super::network::Network;
use super::text::{Token, name_words};
use crate::order::Order;

/// Words that may be passed over.
const SKIPPED: &[&str] = &[
    "um", "uh", "er", "erm", "ah", "oh", "hmm", "well", "so", "then", "just", "really", "actually",
    "now", "please", "kindly", "like", "right", "the", "a", "an", "of", "and", "there", "some",
    "maybe", "also", "too", "chef",
];
/// Words that may be put in.
const ADDED: &[&str] = &["the", "a", "an", "of", "is", "are", "do"];
/// Words that the ear takes for each other, where no meaning hangs on which.
const ALIKE: &[(&str, &str)] = &[
    ("at", "add"),
    ("ad", "add"),
    ("for", "four"),
    ("fore", "for"),
    ("too", "to"),
    ("two", "to"),
    ("by", "buy"),
    ("buy", "by"),
    ("way", "weigh"),
    ("weight", "weigh"),
    ("flower", "flour"),
    ("our", "hour"),
    ("ours", "hours"),
    ("write", "right"),
    ("know", "no"),
    ("tea", "t"),
    ("meet", "meat"),
    ("prove", "proof"),
    ("proof", "prove"),
    ("need", "knead"),
    ("your", "you"),
    ("a", "the"),
    ("the", "a"),
    ("in", "on"),
    ("on", "in"),
    ("to", "for"),
    ("is", "are"),
    ("are", "is"),
    ("of", "off"),
    ("off", "of"),
    ("have", "has"),
    ("has", "have"),
    ("much", "many"),
    ("many", "much"),
    ("my", "the"),
    ("this", "the"),
    ("that", "the"),
];

const SKIP: u32 = 300;
const ADD: u32 = 350;
const SWAP: u32 = 350;
const SLIP: u32 = 600;
/// Dearer repairs are not made.
const MOST: u32 = 1000;
/// How far the best reading must be ahead of the next.
const AHEAD: u32 = 300;

/// The repaired readings, or nothing.
pub(super) enum Repair {
    /// One reading clearly ahead; true when a word was mended letter by letter.
    Clear(Order, bool),
    /// More than one.
    Doubtful(Vec<Order>),
    /// None.
    None,
}

struct Search<'a> {
    network: &'a Network,
    words: &'a [String],
    known: Vec<bool>,
    found: Vec<(u32, bool, Vec<String>)>,
}

/// Looks for sentences near these words.
pub(super) fn repair(text: &str, lexicon: &Lexicon) -> Repair {
    let words = name_words(text);
    if words.len() < 2 || words.len() > 16 {
        return Repair::None;
    }
    let network = lexicon
        .network
        .get_or_init(|| compiler::network(lexicon).into());
    let vocabulary = network.words();
    let known = words
        .iter()
        .map(|w| vocabulary.contains(w.as_str()) || SKIPPED.contains(&w.as_str()))
        .collect();
    let mut search = Search {
        network,
        words: &words,
        known,
        found: Vec::new(),
    };
    search.walk(0, 0, 0, false, &mut Vec::new());
    let mut readings: Vec<(u32, bool, Order)> = Vec::new();
    search.found.sort();
    for (cost, slip, said) in search.found.into_iter().take(24) {
        let tokens: Vec<Token> = said.into_iter().map(Token::Word).collect();
        let Some((own, order)) = Matcher::new(lexicon, &tokens)
            .sentences()
            .into_iter()
            .next()
        else {
            continue;
        };
        let cost = cost + own;
        match readings.iter_mut().find(|(_, _, i)| *i == order) {
            Some(old) if old.0 <= cost => {}
            Some(old) => *old = (cost, slip, order),
            None => readings.push((cost, slip, order)),
        }
    }
    readings.sort_by_key(|(cost, ..)| *cost);
    match readings.as_slice() {
        [] => Repair::None,
        [(_, slip, one)] => Repair::Clear(one.clone(), *slip),
        [(best, slip, one), (next, ..), ..] if next - best >= AHEAD => {
            Repair::Clear(one.clone(), *slip)
        }
        [(best, ..), ..] => {
            let near = readings
                .iter()
                .filter(|(cost, ..)| cost - best < AHEAD)
                .take(3);
            Repair::Doubtful(near.map(|(_, _, order)| order.clone()).collect())
        }
    }
}

impl Search<'_> {
    fn walk(&mut self, state: u32, at: usize, cost: u32, slip: bool, said: &mut Vec<String>) {
        if cost > MOST || self.found.len() > 400 {
            return;
        }
        let network = self.network;
        if at == self.words.len() && network.ends_at(state).is_some() {
            self.found.push((cost, slip, said.clone()));
        }
        let word = self.words.get(at).map(String::as_str);
        if let Some(word) = word.filter(|w| SKIPPED.contains(w)) {
            let _ = word;
            self.walk(state, at + 1, cost + SKIP, slip, said);
        }
        for arc in network.leaving(state) {
            let mut go = |search: &mut Self, at: usize, cost: u32, slip: bool| {
                said.push(arc.word.clone());
                search.walk(arc.to, at, cost, slip, said);
                said.pop();
            };
            if let Some(word) = word {
                if arc.word == word {
                    go(self, at + 1, cost, slip);
                    continue;
                }
                if ALIKE.contains(&(word, arc.word.as_str())) {
                    go(self, at + 1, cost + SWAP, slip);
                } else if !self.known[at] && cost + SLIP <= MOST && one_slip(word, &arc.word) {
                    go(self, at + 1, cost + SLIP, true);
                }
            }
            if cost + ADD <= MOST && ADDED.contains(&arc.word.as_str()) {
                go(self, at, cost + ADD, slip);
            }
        }
    }
}

/// One letter added, dropped, exchanged or two swapped; in long words two.
fn one_slip(typed: &str, word: &str) -> bool {
    let (n, m) = (typed.len(), word.len());
    n >= 4
        && m >= 3
        && n.abs_diff(m) <= 2
        && strsim::osa_distance(typed, word) <= if m >= 8 { 2 } else { 1 }
}
