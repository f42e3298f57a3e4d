//! The plan for another hour, and for guests or a cook that are late.

use super::Service;
use crate::bench::Bench;
use crate::bench::effect::Effect;
use crate::plan::{self, Again, Effort, PlanWish};
use crate::time::{ClockTime, Minute, Span};

/// How late guests are where nobody says it, and how far behind a cook is.
const GUESTS: Span = Span::minutes(30);
const BEHIND: Span = Span::minutes(10);

impl Bench {
    /// What would be different; nothing is changed.
    pub(in crate::bench) fn what_if_eat_at(&mut self, at: ClockTime, out: &mut Vec<Effect>) {
        let wall = self.wall_here();
        let wanted = Minute::next(at, &wall);
        let text = match self.again(PlanWish::EatAt(wanted)) {
            Some(again) => plan::say_again(&again, &wall),
            None => match self.plan_for(wanted, Effort::AtOnce) {
                Ok((dishes, plan)) => {
                    let mut said = vec!["That can be done.".to_owned()];
                    said.push(self.start_words(&dishes, &plan));
                    said.extend(plan::say_doubts(&plan));
                    said.join(" ")
                }
                Err(error) => self.too_soon(wanted, &error),
            },
        };
        self.tell(out, &text);
    }

    /// Everything for a later hour.
    pub(in crate::bench) fn guests_late(&mut self, by: Option<Span>, out: &mut Vec<Effect>) {
        let by = by.unwrap_or(GUESTS).minutes_up();
        self.wish(PlanWish::Later(by), out);
    }

    /// What is being done takes longer.
    pub(in crate::bench) fn i_am_behind(&mut self, by: Option<Span>, out: &mut Vec<Effect>) {
        let by = by.unwrap_or(BEHIND).minutes_up();
        self.wish(PlanWish::Behind(by), out);
    }

    fn wish(&mut self, wish: PlanWish, out: &mut Vec<Effect>) {
        let Some(again) = self.again(wish) else {
            self.tell(out, NO_HOUR);
            return;
        };
        let text = plan::say_again(&again, &self.wall_here());
        // It is told now: it is not told again.
        if let Some(service) = &mut self.service {
            let begun_told = service.begun_told.clone();
            *service = Service::new(service.dishes.clone(), again.plan);
            service.begun_told = begun_told;
        }
        self.tell(out, &text);
    }

    fn again(&self, wish: PlanWish) -> Option<Again> {
        let service = self.service.as_ref()?;
        let now = Minute::after(&self.wall_here());
        Some(plan::again(&service.now, &service.progress, now, wish))
    }
}

const NO_HOUR: &str = "No hour of serving is set. Say when you want to eat, and I plan for it.";
