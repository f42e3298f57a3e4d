//! The strict finite-state network that the recogniser is given: every sentence that the grammar allows for today's
//! names, as a deterministic, minimal automaton over words.

use std::collections::{BTreeMap, BTreeSet};

use super::automaton::{Dfa, END, Nfa, WordIds};
use super::expr::{Expr, NameList};
use super::grammar::{GRAMMAR, Grammar};
use super::lexicon::Lexicon;
use super::text::CONTRACTIONS;

/// One word between two states.
#[derive(Debug, Clone, PartialEq)]
pub struct NetworkArc {
    /// The state before the word.
    pub from: u32,
    /// The state after it.
    pub to: u32,
    /// The word.
    pub word: String,
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
    courtesy: BTreeSet<String>,
}

/// The network for these names. The recogniser adds its own path for everything else.
pub fn network(lexicon: &Lexicon) -> Network {
    Compiler::new(lexicon).sentences()
}

struct Compiler<'a> {
    grammar: &'static Grammar,
    lexicon: &'a Lexicon,
    ids: WordIds,
    rules: BTreeMap<usize, Dfa>,
    lists: BTreeMap<usize, Dfa>,
}

impl<'a> Compiler<'a> {
    fn new(lexicon: &'a Lexicon) -> Self {
        Self {
            grammar: &GRAMMAR,
            lexicon,
            ids: WordIds::default(),
            rules: BTreeMap::new(),
            lists: BTreeMap::new(),
        }
    }

    fn sentences(mut self) -> Network {
        let mut nfa = Nfa::new();
        let after = self.grammar.rule("after");
        let tail = self.slot(&mut nfa, after, END);
        let end = nfa.choice(tail.map(|t| (0, t)).into_iter().chain([(0, END)]).collect());
        let mut ways = Vec::new();
        for &rule in &self.grammar.sentences {
            for way in self.grammar.rules[rule].ways.iter().filter(|w| w.spoken) {
                ways.extend(
                    self.expr(&mut nfa, &way.expr, end)
                        .map(|state| (way.cost, state)),
                );
            }
        }
        let body = nfa.choice(ways);
        let before = self.grammar.rule("before");
        let head = self.slot(&mut nfa, before, body);
        let start = nfa.choice(
            head.map(|h| (0, h))
                .into_iter()
                .chain([(0, body)])
                .collect(),
        );
        if self.lexicon.contracted {
            let spoken = CONTRACTIONS
                .iter()
                .filter(|(short, _)| short.contains('\''));
            let pairs = spoken.filter_map(|(short, long)| Some((*short, long.split_once(' ')?)));
            let shorter: Vec<(u32, u32, u32)> = pairs
                .map(|(short, (a, b))| (self.ids.id(a), self.ids.id(b), self.ids.id(short)))
                .collect();
            nfa.contract(&shorter);
        }
        let dfa = nfa.minimal(start);
        let mut network = Network::from_dfa(&dfa, &self.ids.words);
        network.courtesy = self.words_of(after);
        network
    }

    /// The words of a rule that has been met.
    fn words_of(&self, rule: usize) -> BTreeSet<String> {
        let arcs = self.rules.get(&rule).into_iter().flat_map(|dfa| &dfa.arcs);
        arcs.flatten()
            .map(|(word, _, _)| self.ids.words[*word as usize].clone())
            .collect()
    }

    /// The state that reads `expr` and goes on at `next`; nothing when the ear can never hear it.
    fn expr(&mut self, nfa: &mut Nfa, expr: &Expr, next: u32) -> Option<u32> {
        match expr {
            Expr::Word(word) => Some(nfa.word(self.ids.id(word), next)),
            Expr::Typed(_) | Expr::Digits(..) | Expr::Free(_) => None,
            Expr::Seq(parts) => {
                let mut state = next;
                for part in parts.iter().rev() {
                    state = self.expr(nfa, part, state)?;
                }
                Some(state)
            }
            Expr::Alt(ways) => {
                let ways: Vec<_> = ways
                    .iter()
                    .filter_map(|way| self.expr(nfa, way, next))
                    .map(|s| (0, s))
                    .collect();
                (!ways.is_empty()).then(|| nfa.choice(ways))
            }
            Expr::Opt(inside) => match self.expr(nfa, inside, next) {
                Some(state) => Some(nfa.choice(vec![(0, state), (0, next)])),
                None => Some(next),
            },
            Expr::Noted(_, inside) => self.expr(nfa, inside, next),
            Expr::Slot(_, rule) => self.slot(nfa, *rule, next),
            Expr::Name(_, list) => self.list(nfa, *list, next),
        }
    }

    fn slot(&mut self, nfa: &mut Nfa, rule: usize, next: u32) -> Option<u32> {
        if !self.rules.contains_key(&rule) {
            let mut own = Nfa::new();
            let mut ways = Vec::new();
            for way in self.grammar.rules[rule].ways.iter().filter(|w| w.spoken) {
                ways.extend(
                    self.expr(&mut own, &way.expr, END)
                        .map(|state| (way.cost, state)),
                );
            }
            let dfa = if ways.is_empty() {
                Dfa::default()
            } else {
                let start = own.choice(ways);
                own.minimal(start)
            };
            self.rules.insert(rule, dfa);
        }
        let dfa = &self.rules[&rule];
        (!dfa.arcs.is_empty()).then(|| nfa.part(rule, dfa, next))
    }

    fn list(&mut self, nfa: &mut Nfa, list: NameList, next: u32) -> Option<u32> {
        let key = list as usize;
        if !self.lists.contains_key(&key) {
            let mut own = Nfa::new();
            let mut ways = Vec::new();
            for entry in self.lexicon.names(list).entries() {
                let state = entry
                    .words
                    .iter()
                    .rev()
                    .fold(END, |next, word| own.word(self.ids.id(word), next));
                ways.push((0, state));
            }
            let dfa = if ways.is_empty() {
                Dfa::default()
            } else {
                let start = own.choice(ways);
                own.minimal(start)
            };
            self.lists.insert(key, dfa);
        }
        let dfa = &self.lists[&key];
        // Lists are told from rules by numbers above all rules.
        (!dfa.arcs.is_empty()).then(|| nfa.part(usize::MAX - key, dfa, next))
    }
}

impl Network {
    fn from_dfa(dfa: &Dfa, words: &[String]) -> Self {
        let cost = |thousandths: u32| thousandths as f32 / 1000.0;
        let mut arcs = Vec::new();
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
            if !vocabulary.contains(arc.word.as_str()) {
                vocabulary.insert(arc.word.clone());
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
                word,
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
            match self.leaving(state).iter().find(|a| a.word == *word) {
                Some(arc) => state = arc.to,
                None => return false,
            }
        }
        self.ends_at(state).is_some()
    }

    /// The network with only these words: what a recogniser with fewer words can still hear.
    pub fn keep_words(&self, known: &dyn Fn(&str) -> bool) -> Self {
        let n = self.states as usize;
        // Arcs point forward to no earlier sentence part, so a state is of use when an end can be reached from it.
        let mut alive: Vec<bool> = self.end_cost.iter().map(Option::is_some).collect();
        let usable: BTreeSet<&str> = self.words().into_iter().filter(|w| known(w)).collect();
        let kept: Vec<&NetworkArc> = self
            .arcs
            .iter()
            .filter(|a| usable.contains(a.word.as_str()))
            .collect();
        let mut changed = true;
        while changed {
            changed = false;
            for arc in kept.iter().rev() {
                if alive[arc.to as usize] && !alive[arc.from as usize] {
                    alive[arc.from as usize] = true;
                    changed = true;
                }
            }
        }
        let mut number = vec![u32::MAX; n];
        number[0] = 0;
        let mut queue = vec![0_u32];
        let mut arcs = Vec::new();
        let mut at = 0;
        while at < queue.len() {
            let from = queue[at];
            for arc in self
                .leaving(from)
                .iter()
                .filter(|a| usable.contains(a.word.as_str()) && alive[a.to as usize])
            {
                if number[arc.to as usize] == u32::MAX {
                    number[arc.to as usize] = queue.len() as u32;
                    queue.push(arc.to);
                }
                arcs.push(NetworkArc {
                    from: at as u32,
                    to: number[arc.to as usize],
                    word: arc.word.clone(),
                    cost: arc.cost,
                });
            }
            at += 1;
        }
        let finals = queue
            .iter()
            .enumerate()
            .filter_map(|(i, s)| Some((i as u32, self.ends_at(*s)?)))
            .collect();
        Self {
            courtesy: self.courtesy.clone(),
            ..Self::indexed(queue.len() as u32, arcs, finals)
        }
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
