//! Reads free speech: words and situation become orders with a probability, by a small learned network.
//!
//! The strict grammar comes first; what it does not foresee comes here. Amounts, times and names are found by the
//! grammar's own rules; what the sentence wants, and which find fills which slot, is learned (`models/reader`).

mod context;
mod fill;
mod finds;
mod guard;
mod heard;
mod input;
mod matter;
mod mend;
mod net;
mod second;
mod situation;
mod telling;

use std::sync::LazyLock;

pub use context::leaning;
pub use heard::{SaidTo, Speech};
pub use input::{Features, input};
pub use second::AskInstead;
pub use situation::{AskedKind, Doing, Last, Printed, ReaderQuestion, ReaderSituation, Running};

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

/// How sure is sure enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Below this probability nothing is taken for understood.
    pub ask: f32,
    /// From here on it is acted on when that only asks or does what can be had again.
    pub harmless: f32,
    /// From here on it is acted on when something is changed.
    pub act: f32,
    /// More talk than this, and it is not asked about either.
    pub talk: f32,
}

/// Chosen on writers whom the network never saw (`models/reader/tune.py`), and a little stricter: a question costs less than a wrong deed.
pub const LIMITS: Limits = Limits {
    ask: 0.3,
    harmless: 0.9,
    act: 0.97,
    talk: 0.1,
};

/// What one utterance is taken to mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Meaning {
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
    /// Some word tells of the orders.
    pub told: bool,
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

impl Meaning {
    /// Sure enough to act, to ask, or neither.
    pub fn verdict(&self) -> Verdict {
        self.verdict_at(LIMITS)
    }

    /// The same by other limits, to choose among them.
    pub fn verdict_at(&self, limits: Limits) -> Verdict {
        if self.talk >= 0.5 {
            return Verdict::Talk;
        }
        if self.wish && self.sure >= limits.harmless {
            return Verdict::Wish;
        }
        let guessed = !self.told && self.sure < limits.harmless;
        if self.orders.is_empty() || guessed || self.sure < limits.ask || self.talk >= limits.talk {
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
        let harmless = |o: &Printed| {
            SILENCES.contains(&o.intent.as_str()) || o.order().is_some_and(|o| o.only_asks())
        };
        let enough = if self.orders.iter().all(harmless) {
            limits.harmless
        } else {
            limits.act
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

/// Where the words leave less than this, it is none of what can be meant here.
const LITTLE_LEFT: f32 = 0.1;

/// Where the words rule out more than the rest of this, what is left is asked about.
const RULED_OUT: f32 = 0.7;

/// What makes it silent, and can be had again by asking.
const SILENCES: &[&str] = &["stop_talking", "hang_on", "stop_chime"];

/// Reads words in their situation by the network that is built in.
pub fn read(text: &str, lexicon: &Lexicon, situation: &ReaderSituation) -> Option<Meaning> {
    BUILT_IN.as_ref()?.read(text, lexicon, situation)
}

/// What is to be done about free speech that was heard, by the network that is built in.
pub fn verdict_heard(
    speech: &Speech<'_>,
    lexicon: &Lexicon,
    situation: &ReaderSituation,
) -> Verdict {
    let reader = BUILT_IN.as_ref();
    reader.map_or(Verdict::Unknown, |r| {
        r.verdict_heard(speech, lexicon, situation)
    })
}

/// What is to be asked where the network that is built in speaks against what the grammar read.
pub fn doubts(
    order: &Order,
    text: &str,
    lexicon: &Lexicon,
    situation: &ReaderSituation,
) -> Option<AskInstead> {
    BUILT_IN.as_ref()?.doubts(order, text, lexicon, situation)
}

/// The network that is built in is sure of something that is none of these.
pub fn knows_better(
    readings: &[Order],
    text: &str,
    lexicon: &Lexicon,
    situation: &ReaderSituation,
) -> bool {
    let reader = BUILT_IN.as_ref();
    reader.is_some_and(|r| r.knows_better(readings, text, lexicon, situation))
}

impl Reader {
    /// A network from what training wrote; nothing from anything else.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        Net::read(bytes).map(|net| Self { net })
    }

    /// Reads words in their situation; nothing where there are none.
    pub fn read(
        &self,
        text: &str,
        lexicon: &Lexicon,
        situation: &ReaderSituation,
    ) -> Option<Meaning> {
        let input = input(text, lexicon, situation);
        if input.words.is_empty() {
            return None;
        }
        if let Some(order) = context::other(&input.words, situation) {
            return Some(Meaning {
                orders: vec![order],
                sure: 1.0,
                talk: 0.0,
                wish: false,
                doubtful: false,
                told: true,
            });
        }
        let out = self.net.run(&input);
        let frames = self.net.frames();
        // What the words rule out leaves its share to the rest.
        let likely: Vec<(usize, f32)> = (0..frames.len())
            .filter(|k| !guard::is_out(&frames[*k], &input.words))
            .filter(|k| !matter::rules_out(&frames[*k], &input.words))
            .map(|k| (k, out.frames[k]))
            .collect();
        let whole: f32 = likely.iter().map(|(_, p)| p).sum();
        let (best, most) = likely
            .iter()
            .copied()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or_default();
        let sure = most / whole.max(f32::MIN_POSITIVE);
        let talk = frames
            .iter()
            .position(|f| f == "talk")
            .map_or(0.0, |k| out.frames[k]);
        let chosen = fill::chosen(&input, lexicon, situation);
        let told = chosen.is_some() || telling::tells(&frames[best], &input.words);
        let filled = match frames[best].as_str() {
            "talk" | "wish" => fill::Filled::default(),
            _ if whole < LITTLE_LEFT => fill::Filled::default(),
            frame => chosen.map_or_else(
                || fill::fill(frame, &out.slots, &input, situation).unwrap_or_default(),
                |order| fill::Filled {
                    orders: vec![order],
                    unsure: false,
                },
            ),
        };
        let orders = filled.orders;
        let doubtful = whole < RULED_OUT || filled.unsure || guard::is_doubtful(&orders, &input);
        Some(Meaning {
            orders,
            sure,
            talk,
            wish: frames[best] == "wish",
            doubtful,
            told,
        })
    }
}
