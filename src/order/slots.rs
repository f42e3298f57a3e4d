//! What a rule of the grammar yields, and the captures from which it is built.

use super::order::Order;
use super::unit_symbol::UnitSymbol;
use crate::measure::{Kind, Mass, Region, Unit};
use crate::time::{ClockTime, Span};

/// The meaning of a stretch of words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    /// Something was said; what, does not matter.
    Flag,
    /// A number.
    Num(f64),
    /// One of a closed set of words: a unit symbol, a temperature scale, a shape.
    Sym(&'static str),
    /// A name: an ingredient's id, a timer's name.
    Text(String),
    /// A number of a unit.
    Amount(f64, &'static str),
    /// A length of time.
    Span(Span),
    /// A clock time.
    Clock(ClockTime),
    /// A temperature and its scale when said.
    Heat(f64, Option<&'static str>),
    /// A whole order or question.
    Order(Box<Order>),
}

/// What the slots of one way to say a thing caught, in order of speech.
#[derive(Debug, Clone, Default)]
pub(crate) struct Caps(pub(crate) Vec<(&'static str, Value)>);

impl Caps {
    /// The last value caught under `key`.
    pub(crate) fn get(&self, key: &str) -> Option<&Value> {
        self.0.iter().rev().find(|(k, _)| *k == key).map(|(_, v)| v)
    }
    /// Was `key` caught at all?
    pub(crate) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }
    /// The number under `key`.
    pub(crate) fn num(&self, key: &str) -> Option<f64> {
        match self.get(key)? {
            Value::Num(n) => Some(*n),
            _ => None,
        }
    }
    /// The sum of all numbers under `key`.
    pub(crate) fn sum(&self, key: &str) -> f64 {
        self.0
            .iter()
            .filter(|(k, _)| *k == key)
            .map(|(_, v)| if let Value::Num(n) = v { *n } else { 0.0 })
            .sum()
    }
    /// The closed word under `key`.
    pub(crate) fn sym(&self, key: &str) -> Option<&'static str> {
        match self.get(key)? {
            Value::Sym(s) => Some(s),
            _ => None,
        }
    }
    /// The name under `key`.
    pub(crate) fn text<T: From<String>>(&self, key: &str) -> Option<T> {
        match self.get(key)? {
            Value::Text(s) => Some(s.clone().into()),
            Value::Sym(s) => Some((*s).to_string().into()),
            _ => None,
        }
    }
    /// The amount under `key`.
    pub(crate) fn amount(&self, key: &str) -> Option<(f64, &'static str)> {
        match self.get(key)? {
            Value::Amount(n, u) => Some((*n, u)),
            _ => None,
        }
    }
    /// The unit under `key`.
    pub(crate) fn unit(&self, key: &str) -> Option<UnitSymbol> {
        self.sym(key)?.parse().ok()
    }
    /// The number and the unit of the amount under `key`.
    pub(crate) fn measured(&self, key: &str) -> Option<(f64, UnitSymbol)> {
        let (n, unit) = self.amount(key)?;
        Some((n, unit.parse().ok()?))
    }
    /// The mass under `key`, where the amount there is one.
    pub(crate) fn mass(&self, key: &str) -> Option<Mass> {
        let (n, unit) = self.amount(key)?;
        let unit = Unit::find(unit, Region::Metric).ok()?;
        (unit.kind() == Kind::Mass).then(|| Mass::grams(n * unit.size()))
    }
    /// The span under `key`.
    pub(crate) fn span(&self, key: &str) -> Option<Span> {
        match self.get(key)? {
            Value::Span(s) => Some(*s),
            _ => None,
        }
    }
    /// The clock time under `key`.
    pub(crate) fn clock(&self, key: &str) -> Option<ClockTime> {
        match self.get(key)? {
            Value::Clock(c) => Some(*c),
            _ => None,
        }
    }
    /// The temperature under `key` in Celsius; a bare number is Celsius.
    pub(crate) fn celsius(&self, key: &str) -> Option<f64> {
        match self.get(key)? {
            Value::Heat(n, Some("f")) => Some(((n - 32.0) / 1.8 * 1e9).round() / 1e9),
            Value::Heat(n, _) | Value::Num(n) => Some(*n),
            _ => None,
        }
    }
}
