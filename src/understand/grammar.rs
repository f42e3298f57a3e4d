//! The whole grammar as data: rules made of ways to say a thing, each with what it means.

use std::collections::{BTreeSet, HashMap};
use std::sync::LazyLock;

use super::expr::Expr;
use super::rules;
use crate::order::book::{Book, Build};

/// Costs are in thousandths; this is the price of a less usual wording.
pub(super) const RARE: u32 = 700;

/// One way to say a thing.
pub(super) struct Way {
    /// Its shape.
    pub(super) expr: Expr,
    /// Thousandths; more is less usual.
    pub(super) cost: u32,
    /// Offered to the recogniser.
    pub(super) spoken: bool,
    /// Its meaning.
    pub(super) build: Build,
    /// What can open it.
    pub(super) first: First,
}

/// A rule: the ways to say one thing.
pub(super) struct Rule {
    pub(super) ways: Vec<Way>,
    /// What can open any of its ways.
    pub(super) first: First,
}

/// All rules. A rule can only use rules laid down before it, so there is no recursion.
pub(super) struct Grammar {
    pub(super) rules: Vec<Rule>,
    by_name: HashMap<&'static str, usize>,
    /// Literal words by number.
    word_ids: HashMap<&'static str, usize>,
    /// Rules whose ways are whole sentences.
    pub(super) sentences: Vec<usize>,
}

/// The grammar, built once.
pub(super) static GRAMMAR: LazyLock<Grammar> = LazyLock::new(Grammar::build);

impl Grammar {
    fn build() -> Self {
        let mut g = Self {
            rules: Vec::new(),
            by_name: HashMap::new(),
            word_ids: HashMap::new(),
            sentences: Vec::new(),
        };
        let mut book = Book::default();
        rules::lay_all(&mut book);
        for wording in book.wordings {
            if wording.whole {
                g.sentences.push(g.rules.len());
            }
            let ways = wording.ways.into_iter();
            let ways = ways.map(|(pattern, build)| g.read_way(pattern, build));
            let ways = ways.collect();
            g.push(wording.name, ways);
        }
        g
    }

    fn push(&mut self, name: &'static str, ways: Vec<Way>) {
        let before = self.by_name.insert(name, self.rules.len());
        assert!(before.is_none(), "grammar rule `{name}` is laid down twice");
        let mut first = First::default();
        for way in &ways {
            first.add(&way.first);
        }
        self.rules.push(Rule { ways, first });
    }

    fn read_way(&mut self, pattern: &'static str, build: Build) -> Way {
        let mut text = pattern;
        let mut cost = 0;
        let mut spoken = true;
        loop {
            if let Some(rest) = text.strip_prefix('~') {
                cost += RARE;
                text = rest;
            } else if let Some(rest) = text.strip_prefix('!') {
                spoken = false;
                text = rest;
            } else {
                break;
            }
        }
        let expr = Expr::read(text, &|name| self.by_name.get(name).copied());
        let mut first = First::default();
        first.empty = self.open(&expr, &mut first);
        Way {
            expr,
            cost,
            spoken,
            build,
            first,
        }
    }

    /// The number of a rule.
    ///
    /// # Panics
    /// When there is no such rule: names of rules are part of the program.
    pub(super) fn rule(&self, name: &str) -> usize {
        self.by_name
            .get(name)
            .copied()
            .expect("the rules that code asks for by name are laid down in `rules`")
    }

    /// The number of a literal word.
    pub(super) fn word_id(&self, word: &str) -> Option<usize> {
        self.word_ids.get(word).copied()
    }

    /// Notes what can open `expr`; true when it can also be empty.
    fn open(&mut self, expr: &Expr, into: &mut First) -> bool {
        match expr {
            Expr::Word(w) | Expr::Typed(w) => {
                let next = self.word_ids.len();
                into.word(*self.word_ids.entry(w).or_insert(next));
                false
            }
            Expr::Seq(parts) => parts.iter().all(|p| self.open(p, into)),
            Expr::Alt(ways) => {
                let mut empty = false;
                for way in ways {
                    empty |= self.open(way, into);
                }
                empty
            }
            Expr::Opt(inside) => {
                self.open(inside, into);
                true
            }
            Expr::Noted(_, inside) => self.open(inside, into),
            Expr::Slot(_, rule) => {
                into.add(&self.rules[*rule].first);
                self.rules[*rule].first.empty
            }
            Expr::Name(_, list) => {
                into.lists |= 1 << *list as u32;
                false
            }
            Expr::Digits(..) => {
                into.digits = true;
                false
            }
            Expr::Free(_) => {
                into.any = true;
                false
            }
        }
    }

    /// Every literal word that the recogniser can be given, whatever the formula.
    pub(super) fn literals(&self) -> BTreeSet<&'static str> {
        let mut out = BTreeSet::new();
        for way in self.rules.iter().flat_map(|r| &r.ways).filter(|w| w.spoken) {
            collect(&way.expr, &mut out);
        }
        out
    }
}

/// What can open a shape.
#[derive(Debug, Clone, Default)]
pub(super) struct First {
    /// Literal words, one bit each.
    words: Vec<u64>,
    /// Name lists, one bit each.
    lists: u32,
    digits: bool,
    any: bool,
    /// The shape can be empty.
    empty: bool,
}

impl First {
    fn word(&mut self, id: usize) {
        if self.words.len() <= id / 64 {
            self.words.resize(id / 64 + 1, 0);
        }
        self.words[id / 64] |= 1 << (id % 64);
    }

    fn add(&mut self, other: &Self) {
        if self.words.len() < other.words.len() {
            self.words.resize(other.words.len(), 0);
        }
        for (mine, theirs) in self.words.iter_mut().zip(&other.words) {
            *mine |= theirs;
        }
        self.lists |= other.lists;
        self.digits |= other.digits;
        self.any |= other.any;
        self.empty |= other.empty;
    }

    /// Can a shape that opens so begin at this token?
    pub(super) fn meets(&self, token: Opening) -> bool {
        self.empty
            || self.any
            || self.lists & token.lists != 0
            || (self.digits && token.digits)
            || token.word.is_some_and(|id| {
                self.words
                    .get(id / 64)
                    .is_some_and(|w| w >> (id % 64) & 1 == 1)
            })
    }
}

/// What a token can open.
#[derive(Debug, Clone, Copy)]
pub(super) struct Opening {
    /// Its number, when it is a literal word of the grammar.
    pub(super) word: Option<usize>,
    /// The lists that have a name beginning with it, one bit each.
    pub(super) lists: u32,
    /// It is typed digits.
    pub(super) digits: bool,
}

fn collect(expr: &Expr, out: &mut BTreeSet<&'static str>) {
    match expr {
        Expr::Word(w) => {
            out.insert(w);
        }
        Expr::Seq(parts) | Expr::Alt(parts) => parts.iter().for_each(|p| collect(p, out)),
        Expr::Opt(inside) | Expr::Noted(_, inside) => collect(inside, out),
        Expr::Typed(_) | Expr::Slot(..) | Expr::Name(..) | Expr::Digits(..) | Expr::Free(_) => {}
    }
}
