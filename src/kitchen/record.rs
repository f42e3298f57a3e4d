//! What happened, as lines for people and as JSON: the stable output of `rehearse`.

use serde::Serialize;

use crate::bench::{Chime, Effect, Event, View};
use crate::time::Moment;

/// One line of a rehearsal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Record {
    /// Seconds from the start.
    pub t: f64,
    /// `heard`, `understood`, `said`, `chime`, `timer`, `took`, `weighed`, `noted`, `played`, `judged`, `load`, `shown`, `note` or `error`.
    pub kind: &'static str,
    /// What was said, heard, shown or rung.
    pub text: String,
    /// More, by kind.
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    pub more: Option<serde_json::Value>,
}

impl Record {
    /// A record at a moment.
    pub fn new(at: Moment, kind: &'static str, text: impl Into<String>) -> Self {
        Self {
            t: at.0 as f64 / 1000.0,
            kind,
            text: text.into(),
            more: None,
        }
    }

    fn with(mut self, more: serde_json::Value) -> Self {
        self.more = Some(more);
        self
    }

    /// The record of an event, where it is one that a person would notice.
    pub fn of_event(event: &Event, at: Moment) -> Option<Self> {
        Some(match event {
            Event::Heard(h) => Self::new(at, "heard", &h.text)
                .with(serde_json::json!({ "by": "voice", "confidence": (f64::from(h.confidence) * 1000.0).round() / 1000.0 })),
            Event::Key { key } => Self::new(at, "heard", key.name()).with(serde_json::json!({ "by": "key" })),
            Event::KeyHeld { key } => {
                Self::new(at, "heard", format!("{} held", key.name())).with(serde_json::json!({ "by": "key" }))
            }
            Event::Start { .. } | Event::Tick | Event::Scale { .. } | Event::WallChanged { .. } | Event::Device { .. } | Event::Resumed { .. } | Event::Beside { .. } | Event::Noted { .. } | Event::Told { .. } => {
                return None;
            }
        })
    }

    /// The record of an effect.
    pub fn of_effect(effect: &Effect, at: Moment) -> Option<Self> {
        Some(match effect {
            Effect::Understood { intent } => {
                let value = serde_json::to_value(intent).unwrap_or_default();
                let name = value
                    .get("intent")
                    .and_then(|v| v.as_str())
                    .unwrap_or_default()
                    .to_owned();
                let slots = value
                    .get("slots")
                    .cloned()
                    .unwrap_or_else(|| serde_json::json!({}));
                Self::new(at, "understood", name).with(serde_json::json!({ "slots": slots }))
            }
            Effect::Say { text, why } => {
                Self::new(at, "said", text).with(serde_json::json!({ "why": why }))
            }
            Effect::Chime { chime, urgency } => {
                Self::new(at, "chime", chime.name()).with(serde_json::json!({ "urgency": urgency }))
            }
            Effect::Sample { chime } => {
                Self::new(at, "chime", chime.name()).with(serde_json::json!({ "urgency": 0 }))
            }
            Effect::Timer {
                name,
                change,
                left_ms,
            } => Self::new(at, "timer", name)
                .with(serde_json::json!({ "change": change, "left": *left_ms as f64 / 1000.0 })),
            Effect::Took {
                timer,
                planned,
                took,
                room_c,
                ..
            } => Self::new(at, "took", timer).with(serde_json::json!({
                "planned": planned.as_seconds(), "took": took.as_seconds(), "room_c": room_c
            })),
            Effect::Tone { near } => {
                Self::new(at, "chime", "tone").with(serde_json::json!({ "near": near }))
            }
            Effect::Weighed {
                ingredient,
                wanted,
                really,
                ..
            } => Self::new(at, "weighed", ingredient)
                .with(serde_json::json!({ "wanted": tidy(*wanted), "really": tidy(*really) })),
            Effect::Noted { note, .. } => Self::new(at, "noted", note),
            Effect::Judged { word, .. } => Self::new(at, "judged", word),
            Effect::Error { text } => Self::new(at, "error", text),
            Effect::PlayNote { words, .. } => Self::new(at, "played", words),
            Effect::Hush
            | Effect::TakeDown { .. }
            | Effect::Voice(_)
            | Effect::Listen { .. }
            | Effect::Fetch { .. }
            | Effect::Vocabulary
            | Effect::Leave => return None,
        })
    }

    /// The record of what the screen shows large.
    pub fn of_view(view: &View, at: Moment) -> Self {
        let text = if view.big.under.is_empty() {
            view.big.main.clone()
        } else {
            format!("{}, {}", view.big.main, view.big.under)
        };
        Self::new(at, "shown", text)
            .with(serde_json::json!({ "step": view.step, "steps": view.steps }))
    }

    /// As one JSON object on one line.
    pub fn json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// As a line of the conversation; nothing for what only a machine wants.
    pub fn line(&self) -> Option<String> {
        let s = self.t as u64;
        let when = format!("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
        let by_key = self
            .more
            .as_ref()
            .and_then(|m| m.get("by"))
            .is_some_and(|b| b == "key");
        Some(match self.kind {
            "heard" if by_key => format!("{when}   [{}]", self.text),
            "heard" if self.text.is_empty() => format!("{when}   (talk, not for me)"),
            "heard" => format!("{when}   \u{201c}{}\u{201d}", self.text),
            "said" => format!("{when}        {}", self.text),
            // Tones are too many to read.
            "chime" if self.text == "tone" => return None,
            "chime" => format!("{when}        \u{266a} {}", self.text),
            "load" => format!("{when}   (scale: {})", self.text),
            "played" => format!("{when}        \u{266a} your note: {}", self.text),
            "note" => format!("{when} - {}", self.text),
            "error" => format!("{when}        ! {}", self.text),
            _ => return None,
        })
    }
}

/// Grams to a hundredth.
fn tidy(grams: f64) -> f64 {
    (grams * 100.0).round() / 100.0
}

impl Chime {
    /// The chime's name in records and files.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cue => "cue",
            Self::Due => "due",
            Self::Asked => "asked",
            Self::NotUnderstood => "not understood",
            Self::Listening => "listening",
            Self::Enough => "enough",
        }
    }
}

impl crate::bench::Key {
    /// The key's name in scripts and records.
    pub fn name(self) -> String {
        match self {
            Self::Digit(d) => d.to_string(),
            Self::Enter => "enter".to_owned(),
            Self::Plus => "plus".to_owned(),
            Self::Minus => "minus".to_owned(),
            Self::Times => "times".to_owned(),
            Self::Divide => "divide".to_owned(),
            Self::Dot => "dot".to_owned(),
            Self::Backspace => "backspace".to_owned(),
        }
    }
}
