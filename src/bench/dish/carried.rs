//! A dish that goes on by its edited formula.

use super::Dish;
use crate::formula::{Edit, Formula, ScaleError};

impl Dish {
    /// The same work with the formula as it is now. Where the cook's step is gone, the cook is at the one before it, so
    /// that nothing is passed over; cautions are spoken again.
    ///
    /// # Errors
    /// Where today's size cannot be made of it.
    pub(in crate::bench) fn carried(&self, is: Formula, edit: &Edit) -> Result<Self, ScaleError> {
        let batch = self.batch.carried(&is, edit)?;
        let mut dish = Self::new(is, batch, self.remembered.clone());
        let last = dish.formula.steps.len().checked_sub(1);
        for ((step, at), when) in self.uses().filter(|(_, when)| when.is_some()) {
            let now = edit.ingredient(self.ingredient((step, at)));
            let of_it = || {
                dish.open_uses()
                    .filter(|at| Some(dish.ingredient(*at)) == now)
            };
            // In its own step, or where it goes in now.
            let same_step = of_it().find(|at| Some(at.0) == edit.step(step));
            if let Some(place) = same_step.or_else(|| of_it().next()) {
                dish.mark(place, when);
            }
        }
        let reached = |at: usize| (0..=at).rev().find_map(|at| edit.step(at));
        dish.work.step = self.work.step.and_then(reached);
        (dish.work.left, dish.work.out, dish.work.off) =
            (self.work.left, self.work.out, self.work.off);
        dish.work.finished = self.work.finished && dish.work.step == last;
        let offers = |step: usize, name: &str| {
            let mut timers = dish.formula.steps[step].timers.iter();
            timers.any(|t| t.name == name)
        };
        let begun = self.work.begun.iter();
        dish.work.begun = begun
            .filter_map(|(step, name)| Some((edit.step(*step)?, name.clone())))
            .filter(|(step, name)| offers(*step, name))
            .collect();
        let really = self.work.really.iter();
        dish.work.really = really
            .filter_map(|(i, mass)| Some((edit.ingredient(*i)?, *mass)))
            .collect();
        let packets = self.work.packets.iter();
        dish.work.packets = packets
            .filter_map(|(i, what, absent)| Some((edit.ingredient(*i)?, what.clone(), *absent)))
            .collect();
        for (at, name) in &self.work.taken {
            if let Some(at) = edit.ingredient(*at) {
                dish.take(at, name);
            }
        }
        for was in 0..self.formula.steps.len() {
            if let Some(is) = edit.step(was) {
                dish.reach.entered[is] = self.reach.entered[was];
                dish.reach.waited[is] = self.reach.waited[was];
            }
        }
        dish.reach.lit = self.reach.lit;
        dish.reach.ended = self.reach.ended;
        dish.reach.water_c = self.reach.water_c;
        Ok(dish)
    }
}
