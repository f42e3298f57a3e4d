//! The table of the keys: example strokes for everything that can be meant. The card, the table in the README and the
//! tests come from it, and it from what the orders declare.

use std::sync::LazyLock;

use super::tree::KEYS;
use super::{KeyAnswer, Keypad};
use crate::order::{Key, Order, Place, Situation};
use crate::time::Moment;

/// One way to mean something by key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyPath {
    /// Which order, by its full name: `next`, `ask.convert`, `scale.tin`.
    pub order: String,
    /// The strokes from nothing entered, with spaces between: `1 2 *`.
    pub strokes: String,
    /// Where.
    pub place: Place,
    /// What it does, for the card.
    pub says: &'static str,
}

/// The parts of the table, in the order of learning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    OneKey,
    Nought,
    Number,
    Lists,
}

impl KeyPath {
    /// The part of the table in which it stands.
    pub(super) fn part(&self) -> Part {
        match self.strokes.as_bytes() {
            [b'.' | b'/', b' ', ..] => Part::Lists,
            [b'0', ..] => Part::Nought,
            [b'1'..=b'9', ..] => Part::Number,
            _ => Part::OneKey,
        }
    }

    /// By the last key and the place; in the lists by the way through them.
    fn rank(&self) -> (Part, Vec<usize>) {
        let keys = Key::strokes(&self.strokes).unwrap_or_default();
        let sign = |key: &Key| Key::SIGNS.iter().position(|k| k == key);
        let order = match self.part() {
            Part::Lists => keys
                .iter()
                .map(|key| match key {
                    Key::Divide => 0,
                    Key::Digit(0) => 10,
                    Key::Digit(d) => usize::from(*d),
                    _ => 11,
                })
                .collect(),
            _ => vec![
                keys.iter().find_map(sign).unwrap_or_default(),
                Place::Step as usize - self.place as usize,
                keys.len(),
            ],
        };
        (self.part(), order)
    }
}

/// Every order with its strokes.
///
/// # Panics
/// When strokes that are shown give no order: they are part of the program, and the first test finds it.
pub fn key_paths() -> &'static [KeyPath] {
    static PATHS: LazyLock<Vec<KeyPath>> = LazyLock::new(|| {
        let path = |shown: &crate::order::keys::Shown| {
            let keys = Key::strokes(&shown.strokes).unwrap_or_default();
            let order = press_all(&keys, &shown.place.example());
            KeyPath {
                order: order.map(|o| o.name()).unwrap_or_default(),
                strokes: shown.strokes.clone(),
                place: shown.place,
                says: shown.says,
            }
        };
        let mut paths: Vec<KeyPath> = KEYS.shown.iter().map(path).collect();
        paths.sort_by_cached_key(KeyPath::rank);
        paths
    });
    &PATHS
}

/// Presses all strokes, half a second apart, on a fresh keypad; the last answer's order, if only the last gave one.
pub fn press_all(keys: &[Key], here: &Situation) -> Option<Order> {
    let mut pad = Keypad {
        // A question of the place has been heard before the first press.
        asked: here.is_asking(),
        ..Keypad::default()
    };
    let mut given = None;
    for (i, key) in keys.iter().enumerate() {
        if given.is_some() {
            return None;
        }
        if let KeyAnswer::Order(order) = pad.press(*key, Moment(500 * i as u64), here) {
            given = Some(order);
        }
    }
    given
}
