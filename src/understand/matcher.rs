//! Reads tokens by the grammar: every reading of a stretch of words, each with its cost, each rule at each place once.

use std::collections::HashMap;
use std::rc::Rc;

use super::expr::{Digits, Expr};
use super::grammar::{GRAMMAR, Grammar, Opening, Way};
use super::lexicon::Lexicon;
use super::text::Token;
use crate::order::Order;
use crate::order::book::Build;
use crate::order::slots::{Caps, Value};

/// The price of words that no list knows: any other reading is better.
pub(super) const FREE: u32 = 5000;

/// One reading of a rule from some place.
#[derive(Debug, Clone)]
struct Hit {
    end: usize,
    cost: u32,
    value: Value,
}

/// A way half read.
#[derive(Debug, Clone)]
struct Partial {
    end: usize,
    cost: u32,
    caps: Caps,
}

/// Reads one utterance.
pub(super) struct Matcher<'a> {
    grammar: &'static Grammar,
    lexicon: &'a Lexicon,
    tokens: &'a [Token],
    openings: Vec<Opening>,
    memo: HashMap<(usize, usize), Rc<Vec<Hit>>>,
}

impl<'a> Matcher<'a> {
    pub(super) fn new(lexicon: &'a Lexicon, tokens: &'a [Token]) -> Self {
        let grammar = &*GRAMMAR;
        let opening = |token: &Token| Opening {
            word: grammar.word_id(token.word()),
            lists: lexicon.opened_by(token.word()),
            digits: !matches!(token, Token::Word(_)),
        };
        Self {
            grammar,
            lexicon,
            tokens,
            openings: tokens.iter().map(opening).collect(),
            memo: HashMap::new(),
        }
    }

    /// Every reading of the whole utterance as a sentence, the most usual first, each meaning once.
    pub(super) fn sentences(&mut self) -> Vec<(u32, Order)> {
        let mut starts = vec![(0, 0)];
        let before = self.grammar.rule("before");
        starts.extend(self.rule(before, 0).iter().map(|h| (h.end, h.cost)));
        let after = self.grammar.rule("after");
        let mut found: Vec<(u32, Order)> = Vec::new();
        for (start, cost) in starts {
            let Some(opening) = self.openings.get(start).copied() else {
                continue;
            };
            let grammar = self.grammar;
            let rules = grammar.sentences.iter().map(|rule| &grammar.rules[*rule]);
            for way in rules
                .filter(|r| r.first.meets(opening))
                .flat_map(|r| &r.ways)
            {
                if !way.first.meets(opening) {
                    continue;
                }
                for partial in self.expr(
                    &way.expr,
                    vec![Partial {
                        end: start,
                        cost: cost + way.cost,
                        caps: Caps::default(),
                    }],
                ) {
                    let mut cost = partial.cost;
                    if partial.end < self.tokens.len() {
                        let tails = self.rule(after, partial.end);
                        let Some(tail) = tails.iter().find(|h| h.end == self.tokens.len()) else {
                            continue;
                        };
                        cost += tail.cost;
                    }
                    if let Some(Value::Order(order)) = built(way, &partial.caps, self.lexicon) {
                        keep(&mut found, cost, *order);
                    }
                }
            }
        }
        found.sort_by_key(|(cost, _)| *cost);
        found
    }

    /// Every reading of the whole utterance as one rule.
    pub(super) fn whole(&mut self, rule: &str) -> Vec<Value> {
        let all = self.tokens.len();
        let rule = self.grammar.rule(rule);
        let mut hits: Vec<Hit> = self
            .rule(rule, 0)
            .iter()
            .filter(|h| h.end == all)
            .cloned()
            .collect();
        hits.sort_by_key(|h| h.cost);
        hits.into_iter().map(|h| h.value).collect()
    }

    /// The longest reading of one rule from a place, the most usual of those: where it ends and what it means.
    pub(super) fn longest(&mut self, rule: &str, at: usize) -> Option<(usize, Value)> {
        let rule = self.grammar.rule(rule);
        let hits = self.rule(rule, at);
        let best = hits
            .iter()
            .max_by_key(|h| (h.end, std::cmp::Reverse(h.cost)))?;
        Some((best.end, best.value.clone()))
    }

    /// Every reading of a rule from some word on: where it ends, its cost and its value.
    pub(super) fn at(&mut self, rule: &str, at: usize) -> Vec<(usize, u32, Value)> {
        let rule = self.grammar.rule(rule);
        let hits = self.rule(rule, at);
        hits.iter()
            .map(|h| (h.end, h.cost, h.value.clone()))
            .collect()
    }

    fn rule(&mut self, rule: usize, at: usize) -> Rc<Vec<Hit>> {
        if let Some(hits) = self.memo.get(&(rule, at)) {
            return Rc::clone(hits);
        }
        let mut hits: Vec<Hit> = Vec::new();
        let grammar = self.grammar;
        let opening = self.openings.get(at).copied();
        let ways = grammar.rules[rule].ways.iter();
        for way in ways.filter(|w| opening.is_some_and(|o| w.first.meets(o))) {
            for partial in self.expr(
                &way.expr,
                vec![Partial {
                    end: at,
                    cost: way.cost,
                    caps: Caps::default(),
                }],
            ) {
                let Some(value) = built(way, &partial.caps, self.lexicon) else {
                    continue;
                };
                match hits
                    .iter_mut()
                    .find(|h| h.end == partial.end && h.value == value)
                {
                    Some(hit) => hit.cost = hit.cost.min(partial.cost),
                    None => hits.push(Hit {
                        end: partial.end,
                        cost: partial.cost,
                        value,
                    }),
                }
            }
        }
        let hits = Rc::new(hits);
        self.memo.insert((rule, at), Rc::clone(&hits));
        hits
    }

    /// A quick look: false when no partial reading can go on with `expr`.
    fn may_open(&self, expr: &Expr, from: &[Partial]) -> bool {
        match expr {
            Expr::Word(word) | Expr::Typed(word) => from
                .iter()
                .any(|p| self.tokens.get(p.end).is_some_and(|t| t.word() == *word)),
            Expr::Seq(parts) => parts.first().is_none_or(|part| self.may_open(part, from)),
            Expr::Alt(ways) => ways.iter().any(|way| self.may_open(way, from)),
            Expr::Slot(_, rule) => {
                let first = &self.grammar.rules[*rule].first;
                from.iter()
                    .any(|p| self.openings.get(p.end).is_some_and(|o| first.meets(*o)))
            }
            _ => true,
        }
    }

    fn expr(&mut self, expr: &Expr, from: Vec<Partial>) -> Vec<Partial> {
        match expr {
            Expr::Word(word) | Expr::Typed(word) => {
                let mut out = from;
                out.retain_mut(|p| {
                    let same = self.tokens.get(p.end).is_some_and(|t| t.word() == *word);
                    p.end += 1;
                    same
                });
                out
            }
            Expr::Seq(parts) => {
                let mut state = from;
                for part in parts {
                    if state.is_empty() {
                        break;
                    }
                    state = self.expr(part, state);
                }
                state
            }
            Expr::Alt(ways) => {
                let mut out = Vec::new();
                for way in ways {
                    if self.may_open(way, &from) {
                        out.extend(self.expr(way, from.clone()));
                    }
                }
                out
            }
            Expr::Opt(inside) => {
                if !self.may_open(inside, &from) {
                    return from;
                }
                let mut out = from.clone();
                out.extend(self.expr(inside, from));
                out
            }
            Expr::Noted(key, inside) => {
                let mut out = self.expr(inside, from);
                for partial in &mut out {
                    partial.caps.0.push((key, Value::Flag));
                }
                out
            }
            Expr::Slot(key, rule) => {
                let mut out = Vec::new();
                for partial in from {
                    for hit in self.rule(*rule, partial.end).iter() {
                        out.push(partial.then(key, hit.end, hit.cost, hit.value.clone()));
                    }
                }
                out
            }
            Expr::Name(key, list) => {
                let mut out = Vec::new();
                for partial in from {
                    for (length, cost, value) in
                        self.lexicon.names(*list).at(&self.tokens[partial.end..])
                    {
                        out.push(partial.then(
                            key,
                            partial.end + length,
                            cost,
                            Value::Text(value.to_string()),
                        ));
                    }
                }
                out
            }
            Expr::Digits(key, kind) => from
                .into_iter()
                .filter_map(|partial| {
                    let value = digits(self.tokens.get(partial.end)?, *kind)?;
                    Some(partial.then(key, partial.end + 1, 0, value))
                })
                .collect(),
            Expr::Free(key) => {
                let mut out = Vec::new();
                for partial in from {
                    let words: Vec<&str> = self.tokens[partial.end..]
                        .iter()
                        .take(3)
                        .map(Token::word)
                        .take_while(|w| !w.is_empty())
                        .collect();
                    for n in 1..=words.len() {
                        let cost = FREE + 100 * n as u32;
                        out.push(partial.then(
                            key,
                            partial.end + n,
                            cost,
                            Value::Text(words[..n].join(" ")),
                        ));
                    }
                }
                out
            }
        }
    }
}

impl Partial {
    fn then(&self, key: &'static str, end: usize, cost: u32, value: Value) -> Self {
        let mut caps = self.caps.clone();
        caps.0.push((key, value));
        Self {
            end,
            cost: self.cost + cost,
            caps,
        }
    }
}

fn built(way: &Way, caps: &Caps, lexicon: &Lexicon) -> Option<Value> {
    match &way.build {
        Build::Const(value) => Some(value.clone()),
        Build::From(build) => build(caps, lexicon.situation()),
        Build::Order(build) => build(caps, lexicon.situation()).map(|i| Value::Order(Box::new(i))),
    }
}

fn keep(found: &mut Vec<(u32, Order)>, cost: u32, order: Order) {
    match found.iter_mut().find(|(_, i)| *i == order) {
        Some((old, _)) => *old = cost.min(*old),
        None => found.push((cost, order)),
    }
}

fn digits(token: &Token, kind: Digits) -> Option<Value> {
    match (token, kind) {
        (Token::Number(n), Digits::Any) => Some(Value::Num(*n)),
        (Token::Number(n), Digits::Whole(low, high))
            if n.fract() == 0.0 && (low..=high).contains(n) =>
        {
            Some(Value::Num(*n))
        }
        (Token::Clock(h, m), Digits::Clock) => {
            Some(Value::Num(f64::from(*h) * 60.0 + f64::from(*m)))
        }
        _ => None,
    }
}
