//! Reads free speech: words and situation become orders with a probability, by a small learned network.
//!
//! The strict grammar comes first; what it does not foresee comes here. Amounts, times and names are found by the
//! grammar's own rules; what the sentence wants, and which find fills which slot, is learned (`models/reader`).

mod fill;
mod guard;
mod input;
mod net;
mod situation;

use std::sync::LazyLock;

pub use input::{Input, input};
pub use situation::{Asked, AskedKind, Last, Printed, Running, Situation, State};

use crate::order::Order;
use crate::understand::Lexicon;
use net::Net;

/// What training wrote, as it is built in.
static BUILT_IN: LazyLock<Option<Reader>> =
    LazyLock::new(|| Reader::from_bytes(include_bytes!("../../models/reader/reader.bin")));

/// A trained network that reads.
#[derive(Debug)]
pub struct Reader {
    net: Net,
}

/// Below this probability nothing is taken for understood; from the next on it is acted on when nothing is lost by it,
/// from the last on when something is changed. Stricter than what the cross-validation chose (0.3, 0.8 and 0.95, `models/reader/FIGURES.md`): a
/// question costs less than a wrong deed.
const LIMITS: (f32, f32, f32) = (0.5, 0.9, 0.98);
/// More talk than this, and it is not asked about either.
const TALK: f32 = 0.1;

/// Orders that only ask, or do what can be had again: less is needed to act on them.
const HARMLESS: &[&str] = &[
    "repeat",
    "repeat_last",
    "spell",
    "where_am_i",
    "what_next",
    "steps_left",
    "read_ingredients",
    "read_step",
    "oven_heat",
    "weigh_next",
    "have_added",
    "left_to_add",
    "how_much",
    "contains",
    "allergens",
    "hydration",
    "todays_size",
    "what_heard",
    "troubles",
    "time_left",
    "ready_when",
    "next_on_clock",
    "tell_time",
    "when_start",
    "help",
    "explain_chimes",
    "what_is_in",
    "time_gone",
    "when_light_oven",
    "tell_step",
    "step_names",
    "how_to_tell",
    "am_i_late",
    "how_long_in_all",
    "ask_tin",
    "burn_help",
    "stop_talking",
    "hang_on",
    "stop_chime",
];

/// What one utterance is taken to mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The orders, in their order; none for talk, for a wish, and where something needed was not said.
    pub orders: Vec<Printed>,
    /// How likely it means this.
    pub sure: f32,
    /// How likely it is talk.
    pub talk: f32,
    /// It belongs to the kitchen, and is nothing that can be done here.
    pub wish: bool,
    /// The words speak against the orders.
    pub doubtful: bool,
}

/// What is to be done about a reading.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Do this.
    Act(Vec<Printed>),
    /// Ask whether this was meant.
    Ask(Vec<Printed>),
    /// Say that it cannot be done here.
    Wish,
    /// Not understood: say so to who spoke to the program for certain.
    Unknown,
    /// Talk: stay silent.
    Talk,
}

impl Reading {
    /// Sure enough to act, to ask, or neither.
    pub fn verdict(&self) -> Verdict {
        let (ask, harmless, act) = LIMITS;
        if self.talk >= 0.5 {
            return Verdict::Talk;
        }
        if self.wish && self.sure >= harmless {
            return Verdict::Wish;
        }
        if self.orders.is_empty() || self.sure < ask || self.talk >= TALK {
            return Verdict::Unknown;
        }
        let are = |names: &[&str]| {
            let named = |o: &Printed| names.contains(&o.intent.as_str());
            self.orders.iter().any(named)
        };
        // A sum that was read freely is asked about first: a number for another question misleads.
        if are(&["ask"]) {
            return Verdict::Ask(self.orders.clone());
        }
        let enough = if self
            .orders
            .iter()
            .all(|o| HARMLESS.contains(&o.intent.as_str()))
        {
            harmless
        } else {
            act
        };
        if self.sure >= enough && !self.doubtful {
            Verdict::Act(self.orders.clone())
        } else if are(&["stop_talking", "hang_on"]) {
            // Nobody wants to be asked whether to be silent.
            Verdict::Unknown
        } else {
            Verdict::Ask(self.orders.clone())
        }
    }
}

/// 'And the water?' after 'have I added the salt?' asks the same of another thing, and no amount.
pub fn leaning(order: Order, text: &str, last: Option<&Order>) -> Order {
    let asks_amount = ["how", "much", "many", "weigh"]
        .iter()
        .any(|w| text.to_lowercase().contains(w));
    match (order, last) {
        (
            Order::HowMuch {
                ingredient,
                part: None,
                unit: None,
            },
            Some(Order::HaveAdded { .. }),
        ) if !asks_amount => Order::HaveAdded { ingredient },
        (order, _) => order,
    }
}

/// Reads words in their situation by the network that is built in.
pub fn read(text: &str, lexicon: &Lexicon, situation: &Situation) -> Option<Reading> {
    BUILT_IN.as_ref()?.read(text, lexicon, situation)
}

impl Reader {
    /// A network from what training wrote; nothing from anything else.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        Net::read(bytes).map(|net| Self { net })
    }

    /// Reads words in their situation; nothing where there are none.
    pub fn read(&self, text: &str, lexicon: &Lexicon, situation: &Situation) -> Option<Reading> {
        let input = input(text, lexicon, situation);
        if input.words.is_empty() {
            return None;
        }
        let out = self.net.run(&input);
        let (best, sure) =
            out.frames.iter().enumerate().fold(
                (0, 0.0),
                |best, (k, p)| if *p > best.1 { (k, *p) } else { best },
            );
        let frames = self.net.frames();
        let talk = frames
            .iter()
            .position(|f| f == "talk")
            .map_or(0.0, |k| out.frames[k]);
        let orders = match frames[best].as_str() {
            "talk" | "wish" => Vec::new(),
            frame => fill::fill(frame, &out.slots, &input, situation).unwrap_or_default(),
        };
        let doubtful = guard::is_doubtful(&orders, &input);
        Some(Reading {
            orders,
            sure,
            talk,
            wish: frames[best] == "wish",
            doubtful,
        })
    }
}
