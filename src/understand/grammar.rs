//! The whole grammar as data: rules made of ways to say a thing, each with what it means.

use std::collections::{BTreeSet, HashMap, HashSet};
use std::sync::LazyLock;

use super::expr::Expr;
use super::intent::Intent;
use super::lexicon::Lexicon;
use super::rules;
use super::value::{Caps, Value};

/// Costs are in thousandths; this is the price of a less usual wording.
pub(super) const RARE: u32 = 700;

/// How a way's captures become its value.
pub(super) enum Build {
    /// Always this.
    Const(Value),
    /// From the captures.
    From(fn(&Caps, &Lexicon) -> Option<Value>),
    /// A whole order or question, from the captures.
    Intent(fn(&Caps, &Lexicon) -> Option<Intent>),
}

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
}

/// A rule: the ways to say one thing.
pub(super) struct Rule {
    pub(super) ways: Vec<Way>,
}

/// All rules. A rule can only use rules laid down before it, so there is no recursion.
pub(super) struct Grammar {
    pub(super) rules: Vec<Rule>,
    by_name: HashMap<&'static str, usize>,
    /// Rules whose ways are whole sentences.
    pub(super) sentences: Vec<usize>,
    /// (rule, way) by a word that can open it.
    by_first: HashMap<&'static str, Vec<(usize, usize)>>,
    /// (rule, way) that can open with digits or a name, and must always be tried.
    always: Vec<(usize, usize)>,
}

/// The grammar, built once.
pub(super) static GRAMMAR: LazyLock<Grammar> = LazyLock::new(Grammar::build);

/// A pattern and its meaning from the captures.
pub(super) fn way(
    pattern: &'static str,
    build: fn(&Caps, &Lexicon) -> Option<Value>,
) -> (&'static str, Build) {
    (pattern, Build::From(build))
}

/// A pattern that always means the same.
pub(super) fn give(pattern: &'static str, value: Value) -> (&'static str, Build) {
    (pattern, Build::Const(value))
}

impl Grammar {
    fn build() -> Self {
        let mut g = Self {
            rules: Vec::new(),
            by_name: HashMap::new(),
            sentences: Vec::new(),
            by_first: HashMap::new(),
            always: Vec::new(),
        };
        rules::lay_all(&mut g);
        g.index();
        g
    }

    /// Lays down a rule. A pattern that begins with `~` is a less usual wording (`~~` twice so), with `!` it is
    /// understood when typed and not offered to the recogniser.
    pub(super) fn lay(&mut self, name: &'static str, ways: Vec<(&'static str, Build)>) {
        let ways = ways
            .into_iter()
            .map(|(pattern, build)| self.read_way(pattern, build))
            .collect();
        self.push(name, ways);
    }

    /// Lays down a rule whose ways are whole sentences with one meaning.
    pub(super) fn say(
        &mut self,
        name: &'static str,
        patterns: &[&'static str],
        build: fn(&Caps, &Lexicon) -> Option<Intent>,
    ) {
        let ways = patterns
            .iter()
            .map(|p| self.read_way(p, Build::Intent(build)))
            .collect();
        self.sentences.push(self.rules.len());
        self.push(name, ways);
    }

    fn push(&mut self, name: &'static str, ways: Vec<Way>) {
        let before = self.by_name.insert(name, self.rules.len());
        assert!(before.is_none(), "grammar rule `{name}` is laid down twice");
        self.rules.push(Rule { ways });
    }

    fn read_way(&self, pattern: &'static str, build: Build) -> Way {
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
        Way {
            expr,
            cost,
            spoken,
            build,
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

    fn index(&mut self) {
        for &rule in &self.sentences {
            for way in 0..self.rules[rule].ways.len() {
                let mut first = First::default();
                self.first(&self.rules[rule].ways[way].expr, &mut first);
                if first.open {
                    self.always.push((rule, way));
                } else {
                    for word in first.words {
                        self.by_first.entry(word).or_default().push((rule, way));
                    }
                }
            }
        }
    }

    /// The sentence ways that can begin with this word.
    pub(super) fn opening_with(&self, word: &str) -> impl Iterator<Item = (usize, usize)> {
        self.by_first
            .get(word)
            .into_iter()
            .flatten()
            .chain(&self.always)
            .copied()
    }

    /// Notes what can open `expr`; true when it can also be empty.
    fn first(&self, expr: &Expr, into: &mut First) -> bool {
        match expr {
            Expr::Word(w) | Expr::Typed(w) => {
                into.words.insert(w);
                false
            }
            Expr::Seq(parts) => parts.iter().all(|p| self.first(p, into)),
            Expr::Alt(ways) => {
                let mut empty = false;
                for way in ways {
                    empty |= self.first(way, into);
                }
                empty
            }
            Expr::Opt(inside) => {
                self.first(inside, into);
                true
            }
            Expr::Noted(_, inside) => self.first(inside, into),
            Expr::Slot(_, rule) => {
                let mut empty = false;
                for way in &self.rules[*rule].ways {
                    empty |= self.first(&way.expr, into);
                }
                empty
            }
            Expr::Name(..) | Expr::Digits(..) | Expr::Free(_) => {
                into.open = true;
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

#[derive(Default)]
struct First {
    words: HashSet<&'static str>,
    open: bool,
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
