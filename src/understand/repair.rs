//! Near misses: an utterance one or two small words, or one slip of the typing finger, away from a sentence. Nothing
//! that carries meaning - a number, a name, a `not` - is ever added, dropped or exchanged for another known word.
//!
//! The grammar is read as the matcher reads it, each rule at each place once, but with what is near. The recogniser's
//! network would say the same and takes seconds to make.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::rc::Rc;

use super::expr::{Expr, NameList};
use super::grammar::{GRAMMAR, Opening, Way};
use super::lexicon::Lexicon;
use super::matcher::Matcher;
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
/// So many of the nearest sentences are read.
const NEAREST: usize = 24;
/// After so many words tried it is given up: an alarm may be due meanwhile.
const STEPS: usize = 60_000;

/// The repaired readings, or nothing.
pub(super) enum Repair {
    /// One reading clearly ahead; true when a word was mended letter by letter.
    Clear(Order, bool),
    /// More than one.
    Doubtful(Vec<Order>),
    /// None.
    None,
}

/// Looks for sentences near these words.
pub(super) fn repair(text: &str, lexicon: &Lexicon) -> Repair {
    let words = name_words(text);
    if words.len() < 2 || words.len() > 16 {
        return Repair::None;
    }
    let mut readings: Vec<(u32, bool, Order)> = Vec::new();
    for (cost, slip, said) in Search::new(lexicon, &words).sentences() {
        let best = readings.iter().map(|(cost, ..)| *cost).min();
        if best.is_some_and(|best| cost >= best + AHEAD) {
            break;
        }
        let tokens: Vec<Token> = said
            .into_iter()
            .map(|w| Token::Word(w.to_owned()))
            .collect();
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

/// What a word of the utterance may stand for, at what cost; true for a slip of the finger.
type Stand<'a> = (&'a str, u32, bool);

/// A stretch of the utterance read as words of the grammar.
#[derive(Clone, Default)]
struct Part<'a> {
    end: usize,
    cost: u32,
    slip: bool,
    said: Vec<&'a str>,
}

/// A rule, where it begins, and what has been spent before.
type Place = (usize, usize, u32);

struct Search<'a> {
    lexicon: &'a Lexicon,
    words: &'a [String],
    /// For each word.
    stands: Vec<Vec<Stand<'a>>>,
    /// For each place, the end included.
    openings: Vec<Vec<Opening>>,
    memo: HashMap<Place, Rc<Vec<Part<'a>>>>,
    steps: usize,
}

impl<'a> Search<'a> {
    fn new(lexicon: &'a Lexicon, words: &'a [String]) -> Self {
        let vocabulary: BTreeSet<&str> = GRAMMAR
            .literals()
            .into_iter()
            .chain(
                NameList::ALL
                    .into_iter()
                    .flat_map(|list| lexicon.names(list).words()),
            )
            .collect();
        let stands: Vec<Vec<Stand>> = words
            .iter()
            .map(|word| {
                let alike = ALIKE.iter().filter(|(from, _)| from == word);
                let mut all = vec![(word.as_str(), 0, false)];
                all.extend(alike.map(|(_, to)| (*to, SWAP, false)));
                if !vocabulary.contains(word.as_str()) && !is_skipped(word) {
                    let near = vocabulary.iter().filter(|w| one_slip(word, w));
                    all.extend(near.map(|w| (*w, SLIP, true)));
                }
                all
            })
            .collect();
        let opening = |word: &str| Opening {
            word: GRAMMAR.word_id(word),
            lists: lexicon.opened_by(word),
            digits: false,
        };
        let added: Vec<Opening> = ADDED.iter().map(|w| opening(w)).collect();
        let mut openings = vec![added.clone()];
        for (word, stands) in words.iter().zip(&stands).rev() {
            let mut here = added.clone();
            here.extend(stands.iter().map(|(w, ..)| opening(w)));
            if is_skipped(word) {
                here.extend(openings.last().into_iter().flatten().copied());
            }
            openings.push(here);
        }
        openings.reverse();
        Self {
            lexicon,
            words,
            stands,
            openings,
            memo: HashMap::new(),
            steps: 0,
        }
    }

    /// The sentences that are near, the nearest first: cost, whether a slip was mended, words.
    fn sentences(mut self) -> Vec<(u32, bool, Vec<&'a str>)> {
        let mut starts = vec![Part::default()];
        starts.extend(self.rule(GRAMMAR.rule("before"), 0, 0).iter().cloned());
        let after = GRAMMAR.rule("after");
        let mut found: BTreeMap<Vec<&str>, (u32, bool)> = BTreeMap::new();
        for start in starts {
            for rule in &GRAMMAR.sentences {
                for way in &GRAMMAR.rules[*rule].ways {
                    for part in self.way(way, &start) {
                        let tails = self.rule(after, part.end, part.cost);
                        let tails = tails.iter().map(|tail| part.followed_by(tail));
                        for whole in std::iter::once(part.clone()).chain(tails) {
                            let Some(cost) = self.whole(&whole) else {
                                continue;
                            };
                            let seen = found.entry(whole.said).or_insert((cost, whole.slip));
                            *seen = (*seen).min((cost, whole.slip));
                        }
                    }
                }
            }
        }
        if self.steps > STEPS {
            return Vec::new();
        }
        let found = found
            .into_iter()
            .map(|(said, (cost, slip))| (cost, slip, said));
        let mut found: Vec<_> = found.collect();
        found.sort();
        found.truncate(NEAREST);
        found
    }

    /// What it costs when nothing but words to be passed over follows.
    fn whole(&self, part: &Part) -> Option<u32> {
        let rest = &self.words[part.end..];
        let cost = part.cost + SKIP * rest.len() as u32;
        (cost <= MOST && rest.iter().all(|w| is_skipped(w))).then_some(cost)
    }

    fn way(&mut self, way: &'a Way, from: &Part<'a>) -> Vec<Part<'a>> {
        let opens = || self.openings[from.end].iter().any(|o| way.first.meets(*o));
        if self.steps > STEPS || !way.spoken || !opens() {
            return Vec::new();
        }
        self.expr(&way.expr, vec![from.clone()])
    }

    fn rule(&mut self, rule: usize, at: usize, spent: u32) -> Rc<Vec<Part<'a>>> {
        if let Some(parts) = self.memo.get(&(rule, at, spent)) {
            return Rc::clone(parts);
        }
        let from = Part {
            end: at,
            cost: spent,
            ..Part::default()
        };
        let mut once: BTreeMap<(usize, Vec<&str>), (u32, bool)> = BTreeMap::new();
        for way in &GRAMMAR.rules[rule].ways {
            for part in self.way(way, &from) {
                let read = (part.cost, part.slip);
                let seen = once.entry((part.end, part.said)).or_insert(read);
                *seen = (*seen).min(read);
            }
        }
        let parts = once.into_iter().map(|((end, said), (cost, slip))| Part {
            end,
            cost,
            slip,
            said,
        });
        let parts: Rc<Vec<Part>> = Rc::new(parts.collect());
        self.memo.insert((rule, at, spent), Rc::clone(&parts));
        parts
    }

    fn expr(&mut self, expr: &'a Expr, from: Vec<Part<'a>>) -> Vec<Part<'a>> {
        if from.is_empty() {
            return from;
        }
        match expr {
            Expr::Word(word) => from.iter().flat_map(|part| self.word(word, part)).collect(),
            Expr::Typed(_) | Expr::Digits(..) | Expr::Free(_) => Vec::new(),
            Expr::Seq(parts) => parts
                .iter()
                .fold(from, |state, part| self.expr(part, state)),
            Expr::Alt(ways) => ways
                .iter()
                .flat_map(|way| self.expr(way, from.clone()))
                .collect(),
            Expr::Opt(inside) => {
                let mut out = from.clone();
                out.extend(self.expr(inside, from));
                out
            }
            Expr::Noted(_, inside) => self.expr(inside, from),
            Expr::Slot(_, rule) => {
                let mut out = Vec::new();
                for part in from {
                    let parts = self.rule(*rule, part.end, part.cost);
                    out.extend(parts.iter().map(|next| part.followed_by(next)));
                }
                out
            }
            Expr::Name(_, list) => from
                .iter()
                .flat_map(|part| self.name(*list, part))
                .collect(),
        }
    }

    fn name(&mut self, list: NameList, part: &Part<'a>) -> Vec<Part<'a>> {
        let passed = self.words[part.end..].iter().take_while(|w| is_skipped(w));
        let last = part.end + passed.count();
        let firsts: BTreeSet<&str> = self.stands[part.end..]
            .iter()
            .take(last - part.end + 1)
            .flatten()
            .map(|(word, ..)| *word)
            .collect();
        let names = self.lexicon.names(list);
        let mut out = Vec::new();
        for first in firsts {
            for said in names.beginning_with(first) {
                out.extend(said.iter().fold(vec![part.clone()], |state, word| {
                    state.iter().flat_map(|p| self.word(word, p)).collect()
                }));
            }
        }
        out
    }

    /// One word of the grammar, read, put in, or read after others that are passed over.
    fn word(&mut self, word: &'a str, from: &Part<'a>) -> Vec<Part<'a>> {
        self.steps += 1;
        let mut out = Vec::new();
        let mut at = from.clone();
        loop {
            let here = self.stands.get(at.end).into_iter().flatten();
            let stand = here.copied().find(|(w, ..)| *w == word);
            if let Some((_, cost, slip)) = stand {
                out.extend(at.then(word, at.end + 1, cost, slip));
            }
            let is_here = stand.is_some_and(|(_, cost, _)| cost == 0);
            if !is_here && at.end == from.end && ADDED.contains(&word) {
                out.extend(at.then(word, at.end, ADD, false));
            }
            if !self.words.get(at.end).is_some_and(|w| is_skipped(w)) || at.cost + SKIP > MOST {
                return out;
            }
            at.end += 1;
            at.cost += SKIP;
        }
    }
}

impl<'a> Part<'a> {
    /// With one more word, where that is not too dear.
    fn then(&self, word: &'a str, end: usize, cost: u32, slip: bool) -> Option<Self> {
        (self.cost + cost <= MOST).then(|| Self {
            end,
            cost: self.cost + cost,
            slip: self.slip || slip,
            said: self.said.iter().copied().chain([word]).collect(),
        })
    }

    /// With a stretch that was read from its end, at its cost.
    fn followed_by(&self, next: &Self) -> Self {
        Self {
            end: next.end,
            cost: next.cost,
            slip: self.slip || next.slip,
            said: self.said.iter().chain(&next.said).copied().collect(),
        }
    }
}

fn is_skipped(word: &str) -> bool {
    SKIPPED.contains(&word)
}

/// One letter added, dropped, exchanged or two swapped; in long words two.
fn one_slip(typed: &str, word: &str) -> bool {
    let (n, m) = (typed.len(), word.len());
    n >= 4
        && m >= 3
        && n.abs_diff(m) <= 2
        && strsim::osa_distance(typed, word) <= if m >= 8 { 2 } else { 1 }
}
