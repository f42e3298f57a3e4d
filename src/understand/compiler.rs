//! The grammar compiled into the recogniser's network: every sentence that it allows for today's names.

use std::collections::{BTreeMap, BTreeSet};

use super::automaton::{Dfa, END, Nfa, WordIds};
use super::expr::{Expr, NameList};
use super::grammar::{GRAMMAR, Grammar};
use super::lexicon::Lexicon;
use super::network::Network;
use super::text::CONTRACTIONS;

/// The network for these names. The recogniser adds its own path for everything else.
pub fn network(lexicon: &Lexicon) -> Network {
    let mut network = Compiler::new(lexicon).sentences();
    network.spoken = lexicon.names_in_talk();
    network
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
        // Where several dishes are made: whose it is.
        let whose = self.grammar.rule("whose");
        let end = match self.slot(&mut nfa, whose, end) {
            Some(of_dish) => nfa.choice(vec![(0, of_dish), (0, end)]),
            None => end,
        };
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
