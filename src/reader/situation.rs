//! What the reader may know of the session when something is said.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::order::Order;

/// One order in its printed form, `{"intent": name, "slots": {...}}`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Printed {
    /// The order's name.
    pub intent: String,
    /// Its slots.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub slots: Map<String, Value>,
}

impl Printed {
    /// An order without slots.
    pub fn new(intent: &str) -> Self {
        Self {
            intent: intent.to_owned(),
            slots: Map::new(),
        }
    }

    /// The text of a slot.
    pub fn text(&self, slot: &str) -> Option<&str> {
        self.slots.get(slot)?.as_str()
    }

    /// As the program acts on it; nothing for an order that it does not know.
    pub fn order(&self) -> Option<Order> {
        let mut value = serde_json::json!({ "intent": self.intent });
        if self.slots.is_empty()
            && let Ok(order) = serde_json::from_value(value.clone())
        {
            return Some(order);
        }
        value["slots"] = Value::Object(self.slots.clone());
        serde_json::from_value(value).ok()
    }
}

impl From<&Order> for Printed {
    fn from(intent: &Order) -> Self {
        serde_json::to_value(intent)
            .and_then(serde_json::from_value)
            .unwrap_or_else(|_| Self::new("none"))
    }
}

/// The kind of a question that waits for the cook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AskedKind {
    /// Has the dough doubled?
    Look,
    /// Shall this be done?
    Confirm,
    /// Shall it be planned so?
    Offer,
    /// Which of these?
    Which,
    /// For how long?
    HowLong,
}

/// A question that waits for the cook.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReaderQuestion {
    /// Its kind.
    pub kind: AskedKind,
    /// As it was put.
    #[serde(default)]
    pub question: String,
    /// The timer it is about.
    #[serde(default)]
    pub timer: Option<String>,
    /// What a yes does.
    #[serde(default)]
    pub order: Option<Printed>,
    /// What may have been meant.
    #[serde(default)]
    pub readings: Vec<Printed>,
}

/// A timer that runs or is held.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Running {
    /// Its name.
    pub name: String,
    /// What is left, in milliseconds.
    pub left_ms: u64,
    /// How long it is in all.
    pub total_ms: u64,
    /// It is held.
    #[serde(default)]
    pub paused: bool,
}

/// What was said last, and in answer to what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Last {
    /// The words.
    pub said: String,
    /// The order that it answered.
    #[serde(default)]
    pub order: Option<Printed>,
}

/// What the program is doing.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Doing {
    /// It is silent.
    #[default]
    #[serde(rename = "silent")]
    Silent,
    /// It is speaking.
    #[serde(rename = "reading")]
    Reading,
    /// It was told not to listen.
    #[serde(rename = "not listening")]
    Asleep,
}

/// The session as the reader sees it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct ReaderSituation {
    /// The present step, from 1.
    pub step: Option<usize>,
    /// The titles of the steps.
    pub titles: Vec<String>,
    /// The timers of the present step.
    pub offered: Vec<String>,
    /// The ingredient that is waited for, by id.
    pub weighing: Option<String>,
    /// The question that waits.
    pub asked: Option<ReaderQuestion>,
    /// The timer that rings.
    pub rings: Option<String>,
    /// The timers that run.
    pub timers: Vec<Running>,
    /// What was said last.
    pub last: Option<Last>,
    /// What it is doing.
    pub state: Doing,
}
