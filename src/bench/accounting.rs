//! What became of every dish, put together when the cook leaves.

use super::Bench;
use super::account::{Account, PutIn, StepTaken};
use super::dish::Dish;
use crate::time::{Moment, Span};

impl Bench {
    /// What became of every dish that was begun.
    pub fn accounts(&self) -> Vec<Account> {
        let dishes = self.dishes.all().iter();
        dishes.filter_map(|dish| self.account(dish)).collect()
    }

    fn account(&self, dish: &Dish) -> Option<Account> {
        let (formula, batch) = (dish.formula(), dish.batch());
        let mut entered: Vec<(usize, Moment)> = (0..formula.steps.len())
            .filter_map(|step| Some((step, dish.entered(step)?)))
            .collect();
        entered.sort_by_key(|(_, at)| *at);
        let began = entered.first()?.1;
        let ended = dish.ended().unwrap_or(self.now);
        let mut steps = Vec::new();
        for (n, (at, from)) in entered.iter().enumerate() {
            let until = entered.get(n + 1).map_or(ended, |(_, at)| *at);
            let step = &formula.steps[*at];
            let waits = step.timers.iter().filter(|timer| !timer.alongside);
            let wait = waits.map(|timer| timer.lasts.as_millis()).max();
            steps.push(StepTaken {
                title: step.title.clone(),
                planned: Span::millis(step.hands_on.as_millis() + wait.unwrap_or(0)),
                hands: step.hands_on,
                took: until.since(*from),
                oven: step.oven_c.is_some(),
            });
        }
        let mut skipped: Vec<String> = (0..formula.steps.len())
            .filter(|step| dish.entered(*step).is_none())
            .map(|step| formula.steps[step].title.clone())
            .collect();
        skipped.extend(dish.not_in());
        let written = &dish.written().ingredients;
        let swapped = written.iter().zip(&formula.ingredients);
        let swaps = swapped
            .filter(|(written, taken)| written.name != taken.name)
            .map(|(written, taken)| (written.name.clone(), taken.name.clone()));
        let all = formula.ingredients.iter().enumerate();
        let went_in = all
            .filter(|(_, i)| i.mass.as_grams() > 0.0)
            .filter(|(_, i)| !skipped.contains(&i.name))
            .map(|(at, i)| PutIn {
                name: i.name.clone(),
                wanted_g: batch.mass(at).as_grams(),
                really_g: dish.really(at).map(crate::measure::Mass::as_grams),
                water: i.is_water,
            });
        Some(Account {
            bake: formula.name.clone(),
            scale: batch.by().to_owned(),
            room_c: self.options.room_c,
            water_c: dish.water_c(),
            took: ended.since(began),
            finished: dish.is_finished(),
            steps,
            went_in: went_in.collect(),
            swaps: swaps.collect(),
            skipped,
        })
    }
}
