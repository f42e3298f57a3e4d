//! From the grammar's shapes to a small automaton: built from the right so that equal ends are shared, then made
//! deterministic with the least cost on each path, then minimised. The grammar has no recursion, so no state can come
//! back to itself and each step is a single sweep.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// A quick hash for keys of small numbers that nobody outside chooses.
#[derive(Default)]
struct Quick(u64);

impl Hasher for Quick {
    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }
    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.write_u64((*byte).into());
        }
    }
    fn write_u32(&mut self, n: u32) {
        self.write_u64(n.into());
    }
    fn write_usize(&mut self, n: usize) {
        self.write_u64(n as u64);
    }
    fn write_u64(&mut self, n: u64) {
        self.0 = (self.0.rotate_left(5) ^ n).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}

type QuickMap<K, V> = HashMap<K, V, BuildHasherDefault<Quick>>;

/// Words as small numbers.
#[derive(Default)]
pub(super) struct WordIds {
    by_word: HashMap<String, u32>,
    pub(super) words: Vec<String>,
}

impl WordIds {
    pub(super) fn id(&mut self, word: &str) -> u32 {
        if let Some(id) = self.by_word.get(word) {
            return *id;
        }
        let id = self.words.len() as u32;
        self.words.push(word.to_string());
        self.by_word.insert(word.to_string(), id);
        id
    }
}

/// An arc: word, cost in thousandths, target.
type Arc = (u32, u32, u32);

/// A deterministic automaton without cycles; state 0 is the start.
#[derive(Debug, Default, Clone)]
pub(super) struct Dfa {
    pub(super) arcs: Vec<Vec<Arc>>,
    pub(super) finals: Vec<Option<u32>>,
}

/// An automaton under construction: free moves and words. State 0 is the only final state.
pub(super) struct Nfa {
    free: Vec<Vec<(u32, u32)>>,
    arcs: Vec<Vec<Arc>>,
    words: QuickMap<(u32, u32), u32>,
    copies: QuickMap<(usize, u32), u32>,
}

/// The end of every sentence.
pub(super) const END: u32 = 0;

impl Nfa {
    pub(super) fn new() -> Self {
        Self {
            free: vec![Vec::new()],
            arcs: vec![Vec::new()],
            words: QuickMap::default(),
            copies: QuickMap::default(),
        }
    }

    fn state(&mut self) -> u32 {
        self.free.push(Vec::new());
        self.arcs.push(Vec::new());
        (self.free.len() - 1) as u32
    }

    /// The state that reads `word` and goes on at `next`.
    pub(super) fn word(&mut self, word: u32, next: u32) -> u32 {
        if let Some(state) = self.words.get(&(word, next)) {
            return *state;
        }
        let state = self.state();
        self.arcs[state as usize].push((word, 0, next));
        self.words.insert((word, next), state);
        state
    }

    /// The state from which any of these (cost, state) can be taken.
    pub(super) fn choice(&mut self, mut ways: Vec<(u32, u32)>) -> u32 {
        ways.sort_unstable();
        ways.dedup();
        if let [(0, only)] = ways[..] {
            return only;
        }
        let state = self.state();
        self.free[state as usize] = ways;
        state
    }

    /// A copy of `part` that goes on at `next`; `name` tells equal parts.
    pub(super) fn part(&mut self, name: usize, part: &Dfa, next: u32) -> u32 {
        if let Some(state) = self.copies.get(&(name, next)) {
            return *state;
        }
        let base = self.free.len() as u32;
        for (arcs, last) in part.arcs.iter().zip(&part.finals) {
            let state = self.state() as usize;
            self.arcs[state].extend(arcs.iter().map(|(w, c, to)| (*w, *c, to + base)));
            self.free[state].extend(last.map(|cost| (cost, next)));
        }
        self.copies.insert((name, next), base);
        base
    }

    /// Lets one word stand for two that follow each other: (first, second, the word for both).
    pub(super) fn contract(&mut self, shorter: &[(u32, u32, u32)]) {
        let reach = self.reach();
        let mut found = Vec::new();
        for (state, arcs) in self.arcs.iter().enumerate() {
            for (first, c, mid) in arcs {
                for (_, second, both) in shorter.iter().filter(|(f, ..)| f == first) {
                    for (core, free) in &reach[*mid as usize] {
                        let after = self.arcs[*core as usize].iter();
                        for (_, d, to) in after.filter(|(w, ..)| w == second) {
                            found.push((state, (*both, c + free + d, *to)));
                        }
                    }
                }
            }
        }
        for (state, arc) in found {
            self.arcs[state].push(arc);
        }
    }

    /// For each state the states with words (or the end) that free moves reach, with the least cost.
    fn reach(&self) -> Vec<Vec<(u32, u32)>> {
        let mut reach: Vec<Vec<(u32, u32)>> = Vec::with_capacity(self.free.len());
        let mut least: QuickMap<u32, u32> = QuickMap::default();
        for state in 0..self.free.len() as u32 {
            if self.free[state as usize].is_empty() {
                reach.push(vec![(state, 0)]);
                continue;
            }
            least.clear();
            let mut stack = vec![(state, 0)];
            while let Some((at, cost)) = stack.pop() {
                if least.get(&at).is_some_and(|old| *old <= cost) {
                    continue;
                }
                least.insert(at, cost);
                stack.extend(self.free[at as usize].iter().map(|(c, to)| (*to, cost + c)));
            }
            let core = least
                .iter()
                .filter(|(s, _)| **s == END || !self.arcs[**s as usize].is_empty());
            let mut core: Vec<(u32, u32)> = core.map(|(s, c)| (*s, *c)).collect();
            core.sort_unstable();
            reach.push(core);
        }
        reach
    }

    /// Deterministic and minimal, from `start`.
    pub(super) fn minimal(&self, start: u32) -> Dfa {
        minimise(&self.deterministic(start))
    }

    fn deterministic(&self, start: u32) -> Dfa {
        let reach = self.reach();
        let mut ids: QuickMap<Vec<(u32, u32)>, u32> = QuickMap::default();
        let mut sets: Vec<Vec<(u32, u32)>> = vec![reach[start as usize].clone()];
        ids.insert(sets[0].clone(), 0);
        let mut out = Dfa::default();
        let mut at = 0;
        let mut moves: Vec<(u32, u32, u32)> = Vec::new();
        while at < sets.len() {
            let set = std::mem::take(&mut sets[at]);
            moves.clear();
            for (state, cost) in &set {
                for (word, c, to) in &self.arcs[*state as usize] {
                    moves.extend(
                        reach[*to as usize]
                            .iter()
                            .map(|(core, free)| (*word, *core, cost + c + free)),
                    );
                }
            }
            // Sorted by word, state, cost: the first of each (word, state) is the cheapest.
            moves.sort_unstable();
            moves.dedup_by_key(|m| (m.0, m.1));
            let mut arcs = Vec::new();
            for group in moves.chunk_by(|a, b| a.0 == b.0) {
                let least = group.iter().map(|m| m.2).min().unwrap_or(0);
                let target: Vec<(u32, u32)> = group.iter().map(|m| (m.1, m.2 - least)).collect();
                let id = if let Some(id) = ids.get(&target) {
                    *id
                } else {
                    let id = sets.len() as u32;
                    ids.insert(target.clone(), id);
                    sets.push(target);
                    id
                };
                arcs.push((group[0].0, least, id));
            }
            out.arcs.push(arcs);
            out.finals
                .push(set.iter().find(|(s, _)| *s == END).map(|(_, c)| *c));
            at += 1;
        }
        out
    }
}

/// Costs move as far to the front as they can, then states with the same future become one.
fn minimise(dfa: &Dfa) -> Dfa {
    let order = children_first(dfa);
    let mut rest = vec![0_u32; dfa.arcs.len()];
    let mut class = vec![0_u32; dfa.arcs.len()];
    let mut seen: QuickMap<(Option<u32>, Vec<Arc>), u32> = QuickMap::default();
    let mut made: Vec<(Option<u32>, Vec<Arc>)> = Vec::new();
    for &state in &order {
        let costs = dfa.arcs[state]
            .iter()
            .map(|(_, c, to)| c + rest[*to as usize]);
        let least = costs.chain(dfa.finals[state]).min().unwrap_or(0);
        // The start keeps its whole cost: there is nothing before it to take it.
        rest[state] = if state == 0 { 0 } else { least };
        let arcs = dfa.arcs[state].iter().map(|(w, c, to)| {
            (
                *w,
                c + rest[*to as usize] - rest[state],
                class[*to as usize],
            )
        });
        let key = (
            dfa.finals[state].map(|f| f - rest[state]),
            arcs.collect::<Vec<_>>(),
        );
        class[state] = *seen.entry(key.clone()).or_insert_with(|| {
            made.push(key);
            (made.len() - 1) as u32
        });
    }
    // Numbered again from the start.
    let mut number = vec![u32::MAX; made.len()];
    let mut queue = vec![class[0]];
    number[class[0] as usize] = 0;
    let mut out = Dfa::default();
    let mut at = 0;
    while at < queue.len() {
        let (last, arcs) = &made[queue[at] as usize];
        let arcs = arcs.iter().map(|(w, c, to)| {
            if number[*to as usize] == u32::MAX {
                number[*to as usize] = queue.len() as u32;
                queue.push(*to);
            }
            (*w, *c, number[*to as usize])
        });
        out.arcs.push(arcs.collect());
        out.finals.push(*last);
        at += 1;
    }
    out
}

/// States so that every state comes after those that it leads to.
fn children_first(dfa: &Dfa) -> Vec<usize> {
    let mut order = Vec::with_capacity(dfa.arcs.len());
    let mut seen = vec![false; dfa.arcs.len()];
    let mut stack = vec![(0_usize, 0_usize)];
    if let Some(start) = seen.first_mut() {
        *start = true;
    }
    while let Some((state, next)) = stack.pop() {
        if let Some((_, _, to)) = dfa.arcs[state].get(next) {
            stack.push((state, next + 1));
            let to = *to as usize;
            if !seen[to] {
                seen[to] = true;
                stack.push((to, 0));
            }
        } else {
            order.push(state);
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_ends_become_one_and_the_least_cost_stays() {
        // (a c | b c ~ | a d): after `b` the cost moves to the front, so both `c` ends are one state.
        let mut ids = WordIds::default();
        let [a, b, c, d] = ["a", "b", "c", "d"].map(|w| ids.id(w));
        let mut nfa = Nfa::new();
        let c = nfa.word(c, END);
        let d = nfa.word(d, END);
        let one = nfa.word(a, c);
        let two = nfa.word(b, c);
        let three = nfa.word(a, d);
        let again = nfa.word(a, c);
        let start = nfa.choice(vec![(0, one), (700, two), (0, three), (300, again)]);
        let dfa = nfa.minimal(start);
        assert_eq!(dfa.arcs.len(), 4);
        let first: Vec<_> = dfa.arcs[0].iter().map(|(w, cost, _)| (*w, *cost)).collect();
        assert_eq!(first, [(a, 0), (b, 700)]);
    }

    #[test]
    fn the_least_cost_over_doubtful_paths_is_kept_for_each_sentence() {
        let mut ids = WordIds::default();
        let [a, b, c] = ["a", "b", "c"].map(|w| ids.id(w));
        let mut nfa = Nfa::new();
        let b1 = nfa.word(b, END);
        let b2 = nfa.choice(vec![(500, b1)]);
        let c1 = nfa.word(c, END);
        let one = nfa.word(a, b2);
        let two = nfa.word(a, c1);
        let start = nfa.choice(vec![(0, one), (200, two)]);
        let dfa = nfa.minimal(start);
        let total = |words: &[u32]| {
            let mut state = 0_u32;
            let mut cost = 0;
            for word in words {
                let (_, c, to) = dfa.arcs[state as usize]
                    .iter()
                    .find(|(w, ..)| w == word)
                    .unwrap();
                cost += c;
                state = *to;
            }
            cost + dfa.finals[state as usize].unwrap()
        };
        assert_eq!(total(&[a, b]), 500);
        assert_eq!(total(&[a, c]), 200);
    }
}
