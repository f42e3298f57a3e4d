//! The oven: lit, off, and lit in time where no hour of serving is set.

use super::Bench;
use super::effect::{Chime, Effect};
use super::words;
use crate::formula::names_oven;
use crate::measure::{Heat, Temperature, say};
use crate::time::{Moment, Span};
use crate::timer::{DishId, Timer};

impl Bench {
    /// The oven is on; that does not make it hot.
    pub(super) fn oven_lit(&mut self, out: &mut Vec<Effect>) {
        let Some(oven) = self.formula().oven.clone() else {
            self.tell(
                out,
                "This formula needs no oven. Turn it off if nothing else is to go in.",
            );
            return;
        };
        let lead = self.oven_lead(oven.lead);
        let now = self.now;
        self.dish_mut().light(now);
        let hot = self.clock_at(now.plus(lead));
        let heat = self.next_heat().unwrap_or(oven.heat_c);
        let heat = say::temperature(Temperature::celsius(heat), Heat::C).unwrap_or_default();
        let text = format!(
            "{}. It should be hot at {hot}, in {}.",
            words::capital(&heat),
            words::span(lead)
        );
        self.tell(out, &text);
    }

    /// The heat of this step, or of the next that has one.
    fn next_heat(&self) -> Option<f64> {
        let here = self.step().unwrap_or(0);
        self.formula()
            .steps
            .iter()
            .skip(here)
            .find_map(|s| s.oven_c)
    }

    /// The oven is off, as the cook says.
    pub(super) fn oven_off(&mut self, out: &mut Vec<Effect>) {
        for id in self.dishes.on().collect::<Vec<_>>() {
            if let Some(dish) = self.dishes.get_mut(id) {
                dish.put_out();
            }
        }
        self.tell(
            out,
            "I count it as off. I cannot turn it: have a look at the knob.",
        );
    }

    /// Whether the oven is on, as far as anybody has said.
    pub(super) fn oven_state(&mut self, out: &mut Vec<Effect>) {
        let lit = self.dishes.on().filter_map(|id| {
            let dish = self.dishes.get(id)?;
            let own = dish.remembered().oven().map(|own| own.lasts);
            let lead = own.or(dish.formula().oven.as_ref().map(|oven| oven.lead))?;
            Some((dish.lit()?, lead))
        });
        let text = match lit.min_by_key(|(at, _)| *at) {
            Some((at, lead)) => {
                let hot = at.plus(lead);
                let hot = if hot > self.now {
                    format!(", and hot at {}", self.clock_at(hot))
                } else {
                    String::new()
                };
                format!(
                    "It should be on, since {}{hot}. I cannot see it: have a look.",
                    self.clock_at(at)
                )
            }
            None => "Nobody has told me that it is on. I cannot see it: have a look.".to_owned(),
        };
        self.tell(out, &text);
    }

    /// When the oven of a dish is to be lit, by the time that is left until its bake; nothing where a cue or a step of the
    /// formula says so itself, and where it is lit.
    fn light_dish_at(&self, id: DishId) -> Option<Moment> {
        let dish = self.dishes.get(id)?;
        let here = dish.step().filter(|_| !dish.is_finished())?;
        let formula = dish.formula();
        let oven = formula
            .oven
            .as_ref()
            .filter(|_| dish.lit().is_none() && !dish.is_put_out())?;
        let bake = formula.steps.iter().position(|s| s.oven_c.is_some())?;
        let before = formula.steps.get(here..bake)?;
        let says = formula.steps[..bake].iter().any(|step| {
            let cues = step.timers.iter().flat_map(|t| &t.cues);
            step.lights_oven()
                || names_oven(&step.text)
                || cues.into_iter().any(|cue| names_oven(&cue.say))
        });
        if says || before.is_empty() {
            return None;
        }
        let wait = |at: usize| {
            let timers = formula.steps[at].timers.iter().filter(|t| !t.alongside);
            timers
                .map(|t| dish.time_of(&self.options, at, t).as_millis())
                .sum::<u64>()
        };
        let later: u64 = (here + 1..bake)
            .filter(|at| !formula.steps[*at].alongside)
            .map(|at| formula.steps[at].hands_on.as_millis() + wait(at))
            .sum();
        let running = |t: &&Timer| t.origin.is_some_and(|o| o.dish == id && o.step == here);
        let live = self.rack.live(self.now);
        let left = live
            .iter()
            .copied()
            .filter(|t| running(t))
            .map(|t| t.left_ms(self.now))
            .max();
        let (from, rest) = match left {
            Some(left) => (self.now, u64::try_from(left).unwrap_or(0)),
            None => (
                dish.entered(here)?,
                formula.steps[here].hands_on.as_millis() + wait(here),
            ),
        };
        let bakes = from.plus(Span::millis(rest + later));
        let own = dish.remembered().oven().map(|own| own.lasts);
        let lead = own.unwrap_or(oven.lead).as_millis();
        Some(Moment(bakes.0.saturating_sub(lead)))
    }

    /// When the oven is next to be lit, where no plan says it.
    pub(super) fn light_at(&self) -> Option<Moment> {
        if self.service.is_some() {
            return None;
        }
        self.dishes
            .on()
            .filter_map(|id| self.light_dish_at(id))
            .min()
    }

    /// At its time: that the oven is to be lit.
    pub(super) fn light_in_time(&mut self, out: &mut Vec<Effect>) {
        if self.service.is_some() || self.left {
            return;
        }
        for id in self.dishes.on().collect::<Vec<_>>() {
            if self.light_dish_at(id).is_none_or(|at| at > self.now) {
                continue;
            }
            let now = self.now;
            let several = self.dishes.are_several();
            let the = self.dishes.the(id);
            let Some(dish) = self.dishes.get_mut(id) else {
                continue;
            };
            let heat = dish.formula().steps.iter().find_map(|s| s.oven_c);
            dish.light(now);
            let heat = heat.map(Temperature::celsius);
            let heat = heat
                .and_then(|heat| say::temperature(heat, Heat::C))
                .unwrap_or_default();
            let text = if several {
                format!("Light the oven now for {the}: {heat}.")
            } else {
                format!("Light the oven now: {heat}.")
            };
            self.alarm(Chime::Cue, 1, &text, out);
        }
    }
}
