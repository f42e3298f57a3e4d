//! Going on by a formula that was edited while the session stood still.

use super::Bench;
use super::dish::Dish;
use super::dishes::moved;
use super::effect::Effect;
use super::undo::Undo;
use super::words;
use crate::formula::{self, Edit};
use crate::timer::DishId;

/// So many changes are told one by one.
const TOLD: usize = 5;
/// Amounts nearer to each other than this part of them are the same.
const SAME: f64 = 1e-6;

impl Bench {
    /// Goes on by the formula in `text`: whoever edits a formula and starts again means it. In words for the cook: what
    /// has changed, and where the work stands in it; nothing where it is the same formula.
    pub(super) fn take_edited(
        &mut self,
        id: DishId,
        text: &str,
        out: &mut Vec<Effect>,
    ) -> Option<String> {
        let was = self.dishes.get(id)?;
        let is = formula::read(&was.formula().name, text).ok()?;
        if is == *was.written() {
            return None;
        }
        let edit = Edit::between(was.formula(), &is);
        let dish = match was.carried(is, &edit) {
            Ok(dish) => dish,
            Err(e) => {
                return Some(format!(
                    "The formula has changed, and cannot be made in the size that we have: {e}. I go on with it as it was."
                ));
            }
        };
        let was = std::mem::replace(self.dishes.get_mut(id)?, dish);
        self.rack.move_origins(|origin| moved(origin, id, &edit));
        // What could be taken back was done by the old formula, and what was asked was asked by it.
        self.undo = Undo::default();
        self.dialogue.drop_questions_of_steps();
        self.lexicon = self.names();
        self.names_changed(out);
        let is = self.dishes.get(id)?;
        let changes = self.changes(&was, is, &edit);
        let at = match is.step() {
            _ if is.is_finished() => "We are done with it.".to_owned(),
            None => "I am at the beginning.".to_owned(),
            Some(at) => format!("I am at step {}.", words::count(at + 1)),
        };
        let plan = self.plan_again().map(|gone| format!(" {gone}"));
        let plan = plan.unwrap_or_default();
        Some(format!("The formula has changed: {changes}. {at}{plan}"))
    }

    /// `step four is gone; the fine salt is twelve grams now, not ten grams, and is in already`.
    fn changes(&self, was: &Dish, dish: &Dish, edit: &Edit) -> String {
        let (old, new) = (was.formula(), dish.formula());
        let mut changes = Vec::new();
        let numbers = |steps: Vec<usize>| -> Vec<String> {
            steps.iter().map(|at| words::count(at + 1)).collect()
        };
        let mut steps = |steps: Vec<usize>, one: &str, many: &str| match &numbers(steps)[..] {
            [] => {}
            [n] => changes.push(format!("step {n} {one}")),
            all => changes.push(format!("steps {} {many}", words::list(all))),
        };
        let gone = (0..old.steps.len()).filter(|at| edit.step(*at).is_none());
        steps(gone.collect(), "is gone", "are gone");
        let added = (0..new.steps.len()).filter(|at| edit.is_new_step(*at));
        steps(added.collect(), "is new", "are new");
        let is_in = |i: usize| {
            let mut uses = was.uses().filter(|(at, _)| was.ingredient(*at) == i);
            if uses.any(|(_, when)| when.is_some()) {
                ", and is in already"
            } else {
                ""
            }
        };
        for (i, ingredient) in old.ingredients.iter().enumerate() {
            let name = words::the(&ingredient.name);
            let before = was.batch().mass(i);
            match edit.ingredient(i) {
                None => changes.push(format!("{name} is gone{}", is_in(i))),
                Some(is) => {
                    let now = dish.batch().mass(is);
                    let apart = (now.as_grams() - before.as_grams()).abs();
                    if apart > SAME * before.as_grams() {
                        let (now, before) = (self.say_mass(now), self.say_mass(before));
                        let is_in = is_in(i);
                        changes.push(format!("{name} is {now} now, not {before}{is_in}"));
                    }
                }
            }
        }
        for (i, ingredient) in new.ingredients.iter().enumerate() {
            if edit.is_new_ingredient(i) {
                let amount = self.amount_words(i, 1.0);
                changes.push(format!("{} is new, {amount}", words::the(&ingredient.name)));
            }
        }
        if changes.is_empty() {
            let other = (0..old.steps.len())
                .filter_map(|at| Some((at, edit.step(at)?)))
                .filter(|(was, is)| old.steps[*was] != new.steps[*is]);
            match &numbers(other.map(|(_, is)| is).collect())[..] {
                [] => changes.push("nothing in its steps or amounts".to_owned()),
                [n] => changes.push(format!("step {n} reads differently")),
                all => changes.push(format!("steps {} read differently", words::list(all))),
            }
        }
        if changes.len() > TOLD {
            changes.truncate(TOLD);
            changes.push("and more".to_owned());
        }
        changes.join("; ")
    }
}
