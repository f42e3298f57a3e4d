//! The second look at what the grammar read: where the learned reading is sure of something else, neither is acted on unasked.

use super::finds::stem;
use super::situation::{Printed, ReaderSituation};
use super::{Reader, SILENCES};
use crate::order::Order;
use crate::understand::{Lexicon, reading};

/// From here on the learned reading is set beside words that only loosely fit the grammar.
const BESIDE_LOOSE: f32 = 0.8;
/// From here on it is set beside a sentence of the grammar, where both orders were learned.
const BESIDE_EXACT: f32 = 0.95;
/// A sentence of the grammar of so few words is never doubted.
const SHORT: usize = 3;
/// From here on a loose reading is taken for what people say to one another.
const TALK: f32 = 0.4;

/// Two names of one deed in some situation.
const ALIKE: &[&[&str]] = &[
    &["done", "mark_added", "mark_step", "next", "yes"],
    &["next", "what_next", "weigh_next", "go_to_step"],
    &["back", "go_to_step"],
    &[
        "tell_step",
        "read_step",
        "what_next",
        "go_to_step",
        "repeat",
    ],
    &["needs_longer", "add_time", "not_yet", "no"],
    &["start_timer", "start_offered", "yes"],
    &["time_left", "time_gone", "ready_when", "how_long_in_all"],
    &["ask.eggs", "ask.mass_of"],
    &["undo", "unmark_added", "no"],
];

/// What is asked instead of acting.
#[derive(Debug, Clone, PartialEq)]
pub enum AskInstead {
    /// Which of these?
    Between(Vec<Printed>),
    /// All of these?
    All(Vec<Printed>),
}

impl Reader {
    /// What is to be asked where the learned reading speaks against the grammar's; nothing where it does not.
    pub fn doubts(
        &self,
        order: &Order,
        text: &str,
        lexicon: &Lexicon,
        situation: &ReaderSituation,
    ) -> Option<AskInstead> {
        let printed = Printed::from(order);
        if order.is_answer() || SILENCES.contains(&printed.intent.as_str()) {
            return None;
        }
        let exact = reading(text, lexicon).is_some();
        // The short sentences of the grammar are those that are printed on the card.
        let short = text.split_whitespace().count() <= SHORT;
        if exact && (short || !self.has_learned(&printed)) {
            return None;
        }
        // A slip that was mended is no free speech: the network would read the slip.
        if !exact && !matches!(order, Order::Ask(_)) {
            return None;
        }
        let learned = self.read(text, lexicon, situation)?;
        if learned.talk >= TALK && !exact {
            return Some(AskInstead::Between(vec![printed]));
        }
        // While it reads, silence is the likeliest of all that is unclear; nobody wants to be asked about it.
        let silence = |o: &Printed| SILENCES.contains(&o.intent.as_str());
        if learned.orders.iter().any(silence) {
            return None;
        }
        let enough = if exact { BESIDE_EXACT } else { BESIDE_LOOSE };
        if learned.sure < enough || learned.orders.is_empty() || exact && learned.doubtful {
            return None;
        }
        match learned.orders.as_slice() {
            [one] if is_alike(one, &printed, exact) => None,
            [one] => Some(AskInstead::Between(vec![one.clone(), printed])),
            // One breath of several orders, of which the grammar read a part or something else.
            all if exact && all.iter().any(|o| is_alike(o, &printed, exact)) => None,
            all => Some(AskInstead::All(all.to_vec())),
        }
    }

    /// The learned reading is sure of something that is none of these.
    pub fn knows_better(
        &self,
        readings: &[Order],
        text: &str,
        lexicon: &Lexicon,
        situation: &ReaderSituation,
    ) -> bool {
        self.read(text, lexicon, situation).is_some_and(|learned| {
            let is_one = |o: &Printed| {
                readings
                    .iter()
                    .any(|r| is_alike(o, &Printed::from(r), true))
            };
            learned.sure >= BESIDE_EXACT
                && !learned.orders.is_empty()
                && !learned.orders.iter().any(is_one)
        })
    }

    /// The network can tell this order from others.
    fn has_learned(&self, order: &Printed) -> bool {
        let head = head(order);
        let is_it = |h: &str| {
            h.split([';', '*']).next() == Some(&head)
                || order.intent == "scale" && h.starts_with("scale.")
        };
        self.net.frames().iter().any(|f| f.split('+').any(is_it))
    }
}

fn head(order: &Printed) -> String {
    order
        .text("question")
        .map_or_else(|| order.intent.clone(), |q| format!("{}.{q}", order.intent))
}

/// Both do the same, as far as their slots tell.
fn is_alike(a: &Printed, b: &Printed, exact: bool) -> bool {
    let (x, y) = (head(a), head(b));
    if x != y {
        return ALIKE
            .iter()
            .any(|f| f.contains(&x.as_str()) && f.contains(&y.as_str()));
    }
    if !exact && (a.slots.contains_key("ingredient") != b.slots.contains_key("ingredient")) {
        return false;
    }
    a.slots
        .iter()
        .filter_map(|(k, v)| Some((v, b.slots.get(k)?)))
        .all(
            |(v, w)| match (v.as_str(), w.as_str(), v.as_f64(), w.as_f64()) {
                (Some(v), Some(w), ..) => v
                    .split(' ')
                    .any(|p| w.split(' ').any(|q| stem(p) == stem(q))),
                (_, _, Some(v), Some(w)) => (v - w).abs() < 1e-6 * v.abs().max(1.0),
                _ => true,
            },
        )
}
