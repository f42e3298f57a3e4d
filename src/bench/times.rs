//! How long a timer of the formula takes here, and what the cook should know of it.

use super::dish::Dish;
use super::options::Options;
use super::own_time::{OwnTimes, middle, rise_in};
use super::words;
use crate::dough::RISE_ROOM_C;
use crate::formula::{Formula, TimerSpec};
use crate::time::Span;

impl Options {
    /// How long a timer of the formula takes here: this kitchen's `own` time; else, for a rise in a room that is known,
    /// the formula's time brought to that room; else the formula's.
    pub fn time_of(
        &self,
        own: &OwnTimes,
        formula: &Formula,
        step: usize,
        timer: &TimerSpec,
    ) -> Span {
        match (own.get(&timer.name), self.room_of(formula, step, timer)) {
            (Some(own), _) => own.lasts,
            (None, Some(room)) => middle(rise_in(timer.lasts, RISE_ROOM_C, room)),
            (None, None) => timer.lasts,
        }
    }

    /// The room in Celsius, where it is known and decides how long the timer takes: a dough rises by it.
    pub fn room_of(&self, formula: &Formula, step: usize, timer: &TimerSpec) -> Option<f64> {
        // Every range asks at its end; only a dough's goes by the room.
        let rises = timer.look.is_some()
            && (timer.most.is_none() || super::context::is_rise(&timer.name))
            && formula.steps.get(step).is_some_and(|s| s.oven_c.is_none())
            && formula.ingredients.iter().any(|i| i.is_flour);
        self.room_c
            .filter(|_| rises && !timer.cold && timer.kept_c.is_none())
    }
}

impl Dish {
    /// How long a timer of its formula takes here.
    pub(super) fn time_of(&self, options: &Options, step: usize, timer: &TimerSpec) -> Span {
        options.time_of(self.own(), self.formula(), step, timer)
    }

    /// What a cook should know of a timer's time here; nothing where it is the formula's.
    pub(super) fn about_time(
        &self,
        options: &Options,
        step: usize,
        timer: &TimerSpec,
    ) -> Option<String> {
        if let Some(own) = self.own().get(&timer.name) {
            let mut text = format!("Last time it took {} here.", words::about(own.last));
            if own.from != own.to {
                let (from, to) = (words::about(own.from), words::about(own.to));
                text = format!("{text} Expect {from} to {to}.");
            }
            return Some(text);
        }
        if let Some(kept) = timer.kept_c {
            return Some(format!("Keep it at {} degrees.", words::decimal(kept, 1)));
        }
        let room = options.room_of(self.formula(), step, timer)?;
        (self.time_of(options, step, timer) != timer.lasts).then(|| {
            format!(
                "The formula says {}; your room is at {} degrees.",
                words::window(timer.lasts, timer.most),
                words::decimal(room, 1)
            )
        })
    }
}
