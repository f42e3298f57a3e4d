//! Taking back the last thing done, and saying what.

use super::{Before, KEPT};
use crate::bench::Bench;
use crate::bench::dish::{Dish, SLIP};
use crate::bench::effect::{Effect, TimerChange};
use crate::bench::words;
use crate::timer::{DishId, Rack, Timer};

impl Bench {
    /// How the work stands.
    pub(in crate::bench) fn state_of_work(&self) -> Before {
        let dishes = self.dishes.all().iter();
        Before {
            dishes: dishes
                .map(|dish| (dish.batch().clone(), dish.work().clone()))
                .collect(),
            here: self.dishes.at_hand(),
            rack: self.rack.clone(),
            base: self.scale.base,
        }
    }

    /// Keeps how it stood before a deed, where the deed changed anything.
    pub(in crate::bench) fn remember(&mut self, before: Before) {
        let now = self.state_of_work();
        if (&before.dishes, &before.rack) == (&now.dishes, &now.rack) {
            return;
        }
        self.undo.before.push(before);
        if self.undo.before.len() > KEPT {
            self.undo.before.remove(0);
        }
    }

    /// A timer that would end if the last thing done were taken back, and that has run for longer than a slip takes.
    pub(in crate::bench) fn ended_by_taking_back(&self) -> Option<&Timer> {
        let before = &self.undo.before.last()?.rack;
        let ends = |t: &&Timer| {
            before.get(t.id).is_none()
                && t.left_ms(self.now) > 0
                && self.now.since(t.started) > SLIP
        };
        self.rack.in_order(self.now).into_iter().find(ends)
    }

    /// Takes back the last thing done, and says what.
    pub fn take_back_last(&mut self, out: &mut Vec<Effect>) {
        let Some(before) = self.undo.before.pop() else {
            self.tell(out, "There is nothing to take back.");
            return;
        };
        let mut parts = Vec::new();
        let rack = before.rack;
        self.scale.base = before.base;
        let (several, at_hand) = (self.dishes.are_several(), self.dishes.at_hand());
        for (at, (batch, work)) in before.dishes.into_iter().enumerate() {
            let id = DishId(at as u32);
            let Some(dish) = self.dishes.all_mut().get_mut(at) else {
                continue;
            };
            let was = dish.clone();
            dish.set_batch(batch);
            dish.put_back(work);
            let now = dish.clone();
            self.dishes.turn_to(id);
            let the = words::capital(&self.dishes.the(id));
            if was.is_out() != now.is_out() {
                parts.push(format!("{the}: on again."));
            }
            if was.is_off(self.now) != now.is_off(self.now) {
                parts.push(format!("{the}: in its turn again."));
            }
            if was.batch() != now.batch() {
                parts.push(self.size_words());
            }
            parts.extend(uses_taken_back(&was, &now));
            let names = was
                .formula()
                .ingredients
                .iter()
                .zip(&now.formula().ingredients);
            let others = names.filter(|(was, now)| (&was.name, &was.or) != (&now.name, &now.or));
            parts.extend(others.map(|(_, now)| {
                let all = std::iter::once(&now.name).chain(&now.or);
                let all: Vec<&str> = all.map(String::as_str).collect();
                format!("It is {} again.", all.join(" or "))
            }));
            if (was.step(), was.is_finished()) != (now.step(), now.is_finished()) {
                parts.push(match now.step() {
                    None if several => format!("{the}: back at the beginning."),
                    Some(at) if several => {
                        format!("{the}: back at step {}.", words::count(at + 1))
                    }
                    None => "We are back at the beginning.".to_owned(),
                    Some(at) => format!("We are back at step {}.", words::count(at + 1)),
                });
            }
        }
        self.dishes.turn_to(at_hand);
        if several {
            if before.here != at_hand {
                parts.push(format!("Back at {}.", self.dishes.the(before.here)));
            }
            self.turn_to(before.here, out);
            self.lexicon = self.names();
            out.push(Effect::Vocabulary);
        }
        parts.extend(self.timers_taken_back(&rack, out));
        self.tell(out, &format!("Taken back. {}", parts.join(" ")));
    }

    /// Puts back the timers that the deed touched, each as it was.
    fn timers_taken_back(&mut self, before: &Rack, out: &mut Vec<Effect>) -> Vec<String> {
        let mut parts = Vec::new();
        let now = self.now;
        let made: Vec<Timer> = self
            .rack
            .in_order(now)
            .into_iter()
            .filter(|t| before.get(t.id).is_none())
            .cloned()
            .collect();
        for t in made {
            self.changed(t.id, TimerChange::Stopped, out);
            self.rack.remove(t.id);
            parts.push(format!(
                "{} is stopped.",
                words::capital(&words::the(&t.name))
            ));
        }
        let touched: Vec<Timer> = before
            .in_order(now)
            .into_iter()
            .filter(|t| self.rack.get(t.id) != Some(t))
            .cloned()
            .collect();
        for t in touched {
            let id = t.id;
            self.rack.put_back(t);
            self.changed(id, TimerChange::Changed, out);
            parts.extend(self.rack.get(id).map(|t| self.left_words(t)));
        }
        if !parts.is_empty() {
            self.names_changed(out);
        }
        parts
    }
}

/// What is in again, and what is not in any more.
fn uses_taken_back(was: &Dish, now: &Dish) -> Vec<String> {
    let mut parts = Vec::new();
    for inside in [true, false] {
        let changed = now.uses().zip(was.uses()).filter(|((_, now), (_, was))| {
            now.is_some() != was.is_some() && now.is_some() == inside
        });
        let names = now.names(changed.map(|((at, _), _)| at));
        if names.is_empty() {
            continue;
        }
        let is = if names.len() == 1 { "is" } else { "are" };
        let not = if inside { "" } else { " not" };
        parts.push(format!("The {} {is}{not} in.", words::list(&names)));
    }
    parts
}
