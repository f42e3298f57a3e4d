//! The strict finite-state network that the recogniser is given: sentences as a deterministic, minimal automaton over words.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::automaton::Dfa;

/// One word between two states.
#[derive(Debug, Clone, PartialEq)]
pub struct NetworkArc {
    /// The state before the word.
    pub from: u32,
    /// The state after it.
    pub to: u32,
    /// The word, of which there is one copy for all arcs.
    pub word: Arc<str>,
    /// Its cost as a negative natural logarithm; 0 for the usual wordings.
    pub cost: f32,
}

/// The sentences that can be said now. Deterministic, minimal, without empty arcs and without cycles; the start is
/// state 0 and arcs are in order of their `from`.
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    /// How many states.
    pub states: u32,
    /// All arcs.
    pub arcs: Vec<NetworkArc>,
    /// States where a sentence may end, with the cost of ending there.
    pub finals: Vec<(u32, f32)>,
    first: Vec<u32>,
    end_cost: Vec<Option<f32>>,
    vocabulary: BTreeSet<String>,
    pub(super) courtesy: BTreeSet<String>,
}

impl Network {
    pub(super) fn from_dfa(dfa: &Dfa, words: &[String]) -> Self {
        let cost = |thousandths: u32| thousandths as f32 / 1000.0;
        let words: Vec<Arc<str>> = words.iter().map(|w| w.as_str().into()).collect();
        let mut arcs = Vec::with_capacity(dfa.arcs.iter().map(Vec::len).sum());
        for (from, out) in dfa.arcs.iter().enumerate() {
            for (word, c, to) in out {
                arcs.push(NetworkArc {
                    from: from as u32,
                    to: *to,
                    word: words[*word as usize].clone(),
                    cost: cost(*c),
                });
            }
        }
        let finals = dfa
            .finals
            .iter()
            .enumerate()
            .filter_map(|(s, f)| Some((s as u32, cost((*f)?))))
            .collect();
        Self::indexed(dfa.arcs.len() as u32, arcs, finals)
    }

    fn indexed(states: u32, arcs: Vec<NetworkArc>, finals: Vec<(u32, f32)>) -> Self {
        let mut first = vec![0_u32; states as usize + 1];
        for arc in &arcs {
            first[arc.from as usize + 1] += 1;
        }
        for i in 1..first.len() {
            first[i] += first[i - 1];
        }
        let mut vocabulary = BTreeSet::new();
        for arc in &arcs {
            if !vocabulary.contains(&*arc.word) {
                vocabulary.insert(arc.word.to_string());
            }
        }
        let mut end_cost = vec![None; states as usize];
        for (state, cost) in &finals {
            end_cost[*state as usize] = Some(*cost);
        }
        Self {
            states,
            arcs,
            finals,
            first,
            end_cost,
            vocabulary,
            courtesy: BTreeSet::new(),
        }
    }

    /// Just these phrases and no others, each as likely as the next: for tests and measurements.
    pub fn of_phrases<'p>(phrases: impl IntoIterator<Item = &'p str>) -> Self {
        let mut known: BTreeMap<(u32, String), u32> = BTreeMap::new();
        let mut ends: BTreeSet<u32> = BTreeSet::new();
        let mut states = 1;
        for phrase in phrases {
            let mut state = 0;
            for word in phrase.split_whitespace() {
                state = *known.entry((state, word.to_owned())).or_insert_with(|| {
                    states += 1;
                    states - 1
                });
            }
            if state != 0 {
                ends.insert(state);
            }
        }
        let arcs = known
            .into_iter()
            .map(|((from, word), to)| NetworkArc {
                from,
                to,
                word: word.into(),
                cost: 0.0,
            })
            .collect();
        Self::indexed(
            states,
            arcs,
            ends.into_iter().map(|state| (state, 0.0)).collect(),
        )
    }

    /// The arcs that leave a state.
    pub fn leaving(&self, state: u32) -> &[NetworkArc] {
        &self.arcs[self.first[state as usize] as usize..self.first[state as usize + 1] as usize]
    }

    /// What it costs to end at a state, where a sentence may end.
    pub fn ends_at(&self, state: u32) -> Option<f32> {
        self.end_cost[state as usize]
    }

    /// The words that may follow any sentence and change nothing: 'please', the name.
    pub fn courtesy(&self) -> &BTreeSet<String> {
        &self.courtesy
    }

    /// Every word of the network.
    pub fn words(&self) -> BTreeSet<&str> {
        self.vocabulary.iter().map(String::as_str).collect()
    }

    /// Can this be said?
    pub fn accepts(&self, words: &[&str]) -> bool {
        let mut state = 0;
        for word in words {
            match self.leaving(state).iter().find(|a| *a.word == **word) {
                Some(arc) => state = arc.to,
                None => return false,
            }
        }
        self.ends_at(state).is_some()
    }

    /// `n` sentences by fair steps through the network; the same seed gives the same sentences.
    pub fn phrases(&self, seed: u64, n: usize) -> Vec<String> {
        let mut counter = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let mut draw = |below: usize| {
            counter = counter.wrapping_add(0x9e37_79b9_7f4a_7c15);
            (mixed(counter) % below as u64) as usize
        };
        let mut out = Vec::with_capacity(n);
        for _ in 0..n {
            let mut state = 0;
            let mut words: Vec<&str> = Vec::new();
            loop {
                let arcs = self.leaving(state);
                let ways = arcs.len() + usize::from(self.ends_at(state).is_some());
                if ways == 0 {
                    break;
                }
                let Some(arc) = arcs.get(draw(ways)) else {
                    break;
                };
                words.push(&arc.word);
                state = arc.to;
            }
            out.push(words.join(" "));
        }
        out
    }
}

/// The mixing function of `SplitMix64` (Steele, Lea and Flood, 2014).
fn mixed(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
