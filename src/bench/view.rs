//! What a screen needs to know of the bench: a read-only picture, cheap to make.

use crate::time::Moment;

/// The bench at one moment, in words and numbers ready to show.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// The formula's name.
    pub formula: String,
    /// `One and a half times`, `12 portions`; empty as written.
    pub scale: String,
    /// Number of the current step from 1; 0 before the first.
    pub step: usize,
    /// How many steps there are.
    pub steps: usize,
    /// The step's heading.
    pub title: String,
    /// The step's whole text with today's amounts.
    pub text: String,
    /// The one thing to read from two metres: `500 g` with `strong white flour`, or the step's heading.
    pub big: Big,
    /// Timers, the next due first.
    pub timers: Vec<TimerView>,
    /// Ingredients called in this step: (name, amount, in?).
    pub weighing: Vec<(String, String, bool)>,
    /// What is being poured on the scale.
    pub pouring: Option<Pouring>,
    /// What was heard last, with the bench's verdict.
    pub heard: Option<(String, bool)>,
    /// What was said last, where that is more than is shown anyhow.
    pub said: String,
    /// The question that waits for an answer.
    pub question: Option<String>,
    /// A number half entered on the keypad, as shown.
    pub entry: String,
    /// What an open list or number asks for, as said; empty when none is open.
    pub choosing: String,
    /// The open list, whole.
    pub list: Option<ListView>,
    /// Cautions of the step at hand, until it is done.
    pub cautions: Vec<String>,
    /// What the dish contains, before the first step and wherever something goes in.
    pub contains: String,
    /// What the main keys do here: (key, what).
    pub keys: Vec<(String, String)>,
    /// Is speech acted on?
    pub listening: Listening,
    /// Session time.
    pub now: Moment,
    /// Wall clock as `HH:MM`.
    pub clock: String,
    /// When everything is ready by the plan, as `HH:MM`; empty without a plan.
    pub ready: String,
    /// Every other dish, where several are made.
    pub others: Vec<DishView>,
    /// What is missing: `no microphone`...
    pub troubles: Vec<String>,
}

impl View {
    /// Every text that is not the cook's own.
    pub(super) fn each_text(&mut self, mut change: impl FnMut(&mut String)) {
        let View {
            formula,
            scale,
            title,
            text,
            big,
            timers,
            weighing,
            said,
            question,
            choosing,
            list,
            cautions,
            contains,
            keys,
            others,
            troubles,
            step: _,
            steps: _,
            pouring: _,
            heard: _,
            entry: _,
            listening: _,
            now: _,
            clock: _,
            ready: _,
        } = self;
        let own = [
            formula,
            scale,
            title,
            text,
            &mut big.main,
            &mut big.under,
            said,
            choosing,
            contains,
        ];
        own.into_iter().for_each(&mut change);
        for timer in timers {
            change(&mut timer.name);
        }
        for (name, amount, _) in weighing {
            change(name);
            change(amount);
        }
        question.iter_mut().for_each(&mut change);
        if let Some(list) = list {
            change(&mut list.title);
            list.items.iter_mut().for_each(&mut change);
        }
        cautions.iter_mut().for_each(&mut change);
        for (_, what) in keys {
            change(what);
        }
        for dish in others {
            change(&mut dish.name);
            change(&mut dish.doing);
        }
        troubles.iter_mut().for_each(change);
    }
}

/// The one big thing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Big {
    /// The large line: `500 g`, or a word or two.
    pub main: String,
    /// The line under it.
    pub under: String,
}

/// Another dish than the one at hand, as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DishView {
    /// Its everyday name.
    pub name: String,
    /// What it is doing: `simmer`.
    pub doing: String,
    /// When it wants the cook: `18:20`, `now`; empty where nobody knows.
    pub wants: String,
}

/// An open list as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListView {
    /// What it is called.
    pub title: String,
    /// Its entries; the digit of an entry chooses it.
    pub items: Vec<String>,
    /// The entry that Enter chooses, from nought.
    pub at: usize,
}

/// What is being poured on the scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pouring {
    /// So many grams are in.
    pub grams: f64,
    /// So many are wanted.
    pub wanted: f64,
}

/// A timer as shown.
#[derive(Debug, Clone, PartialEq)]
pub struct TimerView {
    /// Spoken name.
    pub name: String,
    /// Milliseconds left; negative when over.
    pub left_ms: i64,
    /// Its state.
    pub state: TimerState,
}

/// The state of a timer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimerState {
    /// Running.
    Running,
    /// Held.
    Paused,
    /// Due and ringing.
    Ringing,
    /// Due, and the cook has heard.
    Over,
}

/// Whether speech is acted on, and why not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Listening {
    /// Only what begins with the name.
    Name,
    /// Yes.
    Yes,
    /// The cook said to stop listening.
    Off,
    /// There is no microphone or no model.
    Deaf,
}
