//! What the cook can mean: every order and question, as one closed type.

use serde::{Deserialize, Serialize};
use strum::{IntoStaticStr, VariantNames};

use super::Question;
use super::refs::{Food, IngredientId, StepId, TimerRef, UnitSymbol};
use crate::measure::Mass;
use crate::measure::tin::Shape;
use crate::time::{ClockTime, Span};

/// One order or question, with its slots filled. Serialises as `{"intent": name, "slots": {...}}`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
#[serde(tag = "intent", content = "slots", rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum Order {
    // Moving through the steps.
    /// Go to the next step (or, while weighing up, the next ingredient).
    Next,
    /// Go back one step (or, while weighing up, take back what was just called in).
    Back,
    /// Say the last answer again; `slowly` slows the voice for this once.
    Repeat {
        /// Say it slowly.
        slowly: bool,
    },
    /// Say the last few things again, the oldest first.
    RepeatLast {
        /// How many, from 1.
        count: u32,
    },
    /// Spell the name in the last answer letter by letter, and its numbers digit by digit.
    Spell,
    /// Which step, of how many, and what is running.
    WhereAmI,
    /// What the next step will be, without going there.
    WhatNext,
    /// How many steps remain.
    StepsLeft,
    /// Go to a step by its number, from 1.
    GoToStep {
        /// The step's number, from 1.
        step: StepId,
    },
    /// Read the scaled ingredient list.
    ReadIngredients,
    /// Read the whole current step, cautions included.
    ReadStep,
    /// How hot the oven should be.
    OvenHeat,

    // Weighing.
    /// What goes on the scale next.
    WeighNext,
    /// The thing asked for is done or in.
    Done,
    /// Has this ingredient gone in?
    HaveAdded {
        /// The ingredient, as its id in the formula when it is one of its own.
        ingredient: IngredientId,
    },
    /// This ingredient has gone in.
    MarkAdded {
        /// The ingredient.
        ingredient: IngredientId,
    },
    /// This ingredient has not gone in after all.
    UnmarkAdded {
        /// The ingredient.
        ingredient: IngredientId,
    },
    /// What has not gone in yet.
    LeftToAdd,

    // Quantities.
    /// How much of one of the formula's ingredients, at today's scale.
    HowMuch {
        /// The ingredient.
        ingredient: IngredientId,
        /// A part of it, as a factor: half is 0.5.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        part: Option<f64>,
        /// The unit wanted, by its symbol in `measure` (`g`, `oz`, `tsp`, `tbsp`, `cup`, `ml`...).
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<UnitSymbol>,
    },
    /// A question that the arithmetic answers, with or without a formula.
    Ask(Question),
    /// Does the formula hold this allergen or ingredient, or is it free of it?
    Contains {
        /// What is asked about: an allergen, an ingredient, a way of eating.
        what: Food,
        /// The cook hopes that there is none: 'is it dairy free', 'can a vegan eat this'.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        absent: bool,
    },
    /// Which allergens does the formula hold?
    Allergens,
    /// Baker's percentages and hydration of the formula.
    Hydration,

    /// What is being made today, in what size and in which tin.
    TodaysSize,

    // Scaling.
    /// Change the size of the whole formula.
    Scale {
        /// By what.
        by: ScaleBy,
    },

    // Timers.
    /// Start a timer of the cook's own.
    StartTimer {
        /// How long; when missing, the program asks.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lasts: Option<Span>,
        /// Its name as spoken.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        name: Option<String>,
    },
    /// Start the timer that the current step offers.
    StartOffered,
    /// How long is left: on one timer, or on each.
    TimeLeft {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// When a timer will be due, as a clock time.
    ReadyWhen {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Lengthen a timer.
    AddTime {
        /// By how much.
        by: Span,
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Shorten a timer.
    TakeTime {
        /// By how much.
        by: Span,
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Hold a timer.
    PauseTimer {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Let a held timer run on.
    ResumeTimer {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Start a timer again from its full length.
    RestartTimer {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Put a cue into a timer: `at` after its start, or with `left` to go; one of the two.
    AddCue {
        /// What is said then: `turn the tin`.
        say: String,
        /// So long after the start.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<Span>,
        /// So long before the end.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        left: Option<Span>,
        /// Which timer; without one, the timer that was started last.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// Give a timer another name.
    RenameTimer {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
        /// The new name.
        name: String,
    },
    /// End a timer for good (confirmed when it is still running).
    StopTimer {
        /// Which timer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        timer: Option<TimerRef>,
    },
    /// End all timers (confirmed).
    StopAllTimers,
    /// Silence an alarm: the cook has heard it.
    StopChime,

    // The clock and the plan.
    /// What happens next on the clock.
    NextOnClock,
    /// What time is it?
    TellTime,
    /// When the food should be ready.
    EatAt {
        /// The hour of serving.
        at: ClockTime,
    },
    /// When to start for the hour of serving.
    WhenStart,
    /// The rise (or whatever ends on a look) needs longer.
    NeedsLonger {
        /// By how much, when the cook says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        by: Option<Span>,
    },

    // Answers to the program's questions.
    /// Yes; it has; go on.
    Yes,
    /// No; leave it.
    No,
    /// Not yet.
    NotYet,

    // The voice and the session.
    /// Louder speech.
    Louder,
    /// Quieter speech.
    Quieter,
    /// Slower speech.
    Slower,
    /// Faster speech.
    Faster,
    /// A higher voice.
    Higher,
    /// A lower voice.
    Lower,
    /// Fewer words.
    Briefer,
    /// More words.
    Fuller,
    /// Be silent now (also silences an alarm).
    StopTalking,
    /// Stop acting on speech until told to listen by key.
    StopListening,
    /// Listen again.
    StartListening,
    /// What was heard last, and whether it was understood.
    WhatHeard,
    /// Is it listening, and is a device missing?
    Troubles,
    /// What can be said here.
    Help,
    /// What the chimes mean.
    ExplainChimes,
    /// Leave the session (confirmed).
    Goodbye,
}

impl Order {
    /// It answers a question, and means nothing where none waits.
    pub fn is_answer(&self) -> bool {
        matches!(self, Self::Yes | Self::No | Self::NotYet)
    }

    /// The same order for another timer; nothing for what is no order for a timer.
    pub fn for_timer(&self, id: TimerRef) -> Option<Self> {
        let mut order = self.clone();
        match &mut order {
            Self::TimeLeft { timer }
            | Self::ReadyWhen { timer }
            | Self::AddTime { timer, .. }
            | Self::TakeTime { timer, .. }
            | Self::PauseTimer { timer }
            | Self::ResumeTimer { timer }
            | Self::RestartTimer { timer }
            | Self::AddCue { timer, .. }
            | Self::RenameTimer { timer, .. }
            | Self::StopTimer { timer } => *timer = Some(id),
            _ => return None,
        }
        Some(order)
    }

    /// It only asks, reads or repeats: nothing changes.
    pub fn only_asks(&self) -> bool {
        matches!(
            self,
            Self::Repeat { .. }
                | Self::RepeatLast { .. }
                | Self::Spell
                | Self::WhereAmI
                | Self::WhatNext
                | Self::StepsLeft
                | Self::ReadIngredients
                | Self::ReadStep
                | Self::OvenHeat
                | Self::WeighNext
                | Self::HaveAdded { .. }
                | Self::LeftToAdd
                | Self::HowMuch { .. }
                | Self::Ask(_)
                | Self::Contains { .. }
                | Self::Allergens
                | Self::Hydration
                | Self::TodaysSize
                | Self::WhatHeard
                | Self::Troubles
                | Self::TimeLeft { .. }
                | Self::ReadyWhen { .. }
                | Self::NextOnClock
                | Self::TellTime
                | Self::WhenStart
                | Self::Help
                | Self::ExplainChimes
        )
    }
}

/// What the whole formula is scaled by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum ScaleBy {
    /// Back to the formula as written.
    AsWritten,
    /// A factor of the formula as written.
    Factor(f64),
    /// So many portions.
    Portions(f64),
    /// Total flour.
    Flour(Mass),
    /// Total dough.
    Dough(Mass),
    /// So many pieces of a mass each: of dough, or baked.
    Pieces {
        /// How many.
        count: f64,
        /// Mass of each.
        each: Mass,
        /// The mass is that after baking.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        baked: bool,
    },
    /// No more than this of an ingredient.
    Limit {
        /// The ingredient.
        ingredient: IngredientId,
        /// What there is of it.
        have: Mass,
    },
    /// Another tin; sizes in centimetres. Two numbers: rectangle or loaf; one: round (diameter).
    Tin {
        /// Its shape.
        shape: Shape,
        /// Sizes in centimetres: length and width, or diameter, then depth when known.
        size_cm: Vec<f64>,
    },
    /// Another hydration, in percent of flour; the water moves.
    Hydration(f64),
}
