//! What the bench asks of the world.

use serde::{Deserialize, Serialize};

use crate::order::{Order, Title};
use crate::time::Span;
use crate::timer::DishId;

/// Something to do at the bench's edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "effect", rename_all = "snake_case")]
pub enum Effect {
    /// What the bench took an utterance or a key path to mean.
    Understood {
        /// The meaning.
        intent: Order,
    },
    /// Speak (and show) this.
    Say {
        /// Whole sentences, as they should be spoken.
        text: String,
        /// Why, for order and interruption.
        why: Why,
    },
    /// A short tone: now, or not at all.
    Tone {
        /// The nearer, the higher: 0 far, 100 there.
        near: u8,
    },
    /// So much of an ingredient really went in: for the bake log.
    Weighed {
        /// Of which dish.
        #[serde(default, skip_serializing_if = "DishId::is_first")]
        dish: DishId,
        /// The ingredient's name.
        ingredient: String,
        /// What was wanted, in grams.
        wanted: f64,
        /// What the scale showed, in grams.
        really: f64,
    },
    /// Ring.
    Chime {
        /// Which meaning.
        chime: Chime,
        /// 0 to 3: grows while an alarm is not answered.
        urgency: u8,
    },
    /// Play a chime so that the cook learns it: nothing has happened, and what is being said is not cut short.
    Sample {
        /// Which meaning.
        chime: Chime,
    },
    /// A timer changed: for the log and the screen.
    Timer {
        /// Its spoken name.
        name: String,
        /// What happened.
        change: TimerChange,
        /// Milliseconds left; negative when over.
        left_ms: i64,
    },
    /// Something that ended on a look is done: for the bake log.
    Took {
        /// Of which dish.
        #[serde(default, skip_serializing_if = "DishId::is_first")]
        dish: DishId,
        /// The timer's name in the formula.
        timer: String,
        /// How long it takes as the formula is written.
        planned: Span,
        /// How long it really took.
        took: Span,
        /// The room in Celsius, where it is known and decides the time.
        room_c: Option<f64>,
        /// It was far from what is written, and the cook said that it counts.
        asked: bool,
    },
    /// The cook notes something for the next time: for the bake log.
    Noted {
        /// Of which dish.
        #[serde(default, skip_serializing_if = "DishId::is_first")]
        dish: DishId,
        /// What; of a note that was spoken, what was made of its words.
        note: String,
        /// The file of its sound, where it was spoken.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        recording: Option<String>,
    },
    /// What is said next is to be kept with its sound, or no more.
    TakeDown {
        /// Which.
        what: TakeDown,
    },
    /// Play a note of the cook's; where that cannot be done, say its words.
    PlayNote {
        /// The file of its sound.
        recording: String,
        /// What was made of its words.
        words: String,
    },
    /// How it was: for the bake log.
    Judged {
        /// Of which dish.
        #[serde(default, skip_serializing_if = "DishId::is_first")]
        dish: DishId,
        /// `too dry`.
        word: String,
    },
    /// Stop speech in progress and forget what is queued (an alarm is not queued speech).
    Hush,
    /// Voice settings for what is said from now on.
    Voice(VoiceSettings),
    /// Act on speech, or only on keys.
    Listen {
        /// True: listen.
        on: bool,
    },
    /// A formula of the book is wanted as another dish.
    Fetch {
        /// Its title.
        title: Title,
    },
    /// What can be said has changed: build the recogniser's vocabulary again.
    Vocabulary,
    /// Something went wrong at the bench; said once.
    Error {
        /// For the cook.
        text: String,
    },
    /// The session is over.
    Leave,
}

/// What becomes of what is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TakeDown {
    /// What is said next is kept.
    Begin,
    /// What has been said is kept; no more.
    Keep,
    /// Nothing is kept.
    Drop,
}

/// Why something is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// The answer to the cook.
    Answer,
    /// A question to the cook.
    Ask,
    /// A timer or cue: passes over other speech.
    Alarm,
    /// A caution.
    Caution,
    /// News of a device or the session.
    Notice,
    /// A weight called while it is poured: said now, or not at all.
    Weight,
}

/// The chimes by meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Chime {
    /// A cue inside a timer.
    Cue,
    /// A timer is due.
    Due,
    /// The program asks something.
    Asked,
    /// Not understood.
    NotUnderstood,
    /// Listening.
    Listening,
    /// What is poured is there.
    Enough,
}

/// What happened to a timer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TimerChange {
    /// Started.
    Started,
    /// A cue came.
    Cue,
    /// Due.
    Due,
    /// Its alarm was answered.
    Answered,
    /// Held.
    Paused,
    /// Running again.
    Resumed,
    /// Length changed.
    Changed,
    /// Renamed.
    Renamed,
    /// Stopped before it was due.
    Stopped,
}

/// How the voice speaks. Each is a step from -5 to 5 around the voice's normal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct VoiceSettings {
    /// Loudness.
    pub volume: i8,
    /// Speed.
    pub rate: i8,
    /// Pitch.
    pub pitch: i8,
}
