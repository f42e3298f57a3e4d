//! What is told on the way: the steps by name, how to tell that one is ready, what is in, how long it has been, the oven,
//! the tin.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::measure::Mass;
use crate::order::{IngredientId, StepId, TimerRef};
use crate::time::{ClockTime, HalfDay, Span};
use crate::timer::{Mark, TimerNamed};

/// How a reminder is called before what it reminds of: 'the reminder to stir it'.
pub(super) const REMINDER: &str = "reminder to ";

impl Bench {
    /// What a step says, without going there.
    pub(super) fn tell_step(&mut self, step: StepId, out: &mut Vec<Effect>) {
        let total = self.formula().steps.len();
        let text = match (step.0 as usize).checked_sub(1).filter(|at| *at < total) {
            Some(at) => {
                let title = words::lower_first(&self.formula().steps[at].title);
                let number = words::count(at + 1);
                format!("Step {number}, {title}. {}", self.spoken_text(at))
            }
            None => format!("There are {} steps.", words::count(total)),
        };
        self.tell(out, &text);
    }

    /// The names of the steps.
    pub(super) fn step_names(&mut self, out: &mut Vec<Effect>) {
        let steps = self.formula().steps.iter().enumerate();
        let names: Vec<String> = steps
            .map(|(at, step)| {
                let number = words::capital(&words::count(at + 1));
                format!("{number}: {}.", words::lower_first(&step.title))
            })
            .collect();
        self.tell(out, &names.join(" "));
    }

    /// What to look for at this step, or at the timer that ends on a look.
    pub(super) fn how_to_tell(&mut self, out: &mut Vec<Effect>) {
        let mut live = self.rack.live(self.now).into_iter();
        let of_timer = live.find_map(|t| t.look.clone());
        let step = self.step().filter(|_| !self.is_finished());
        let step = step.map(|at| &self.formula().steps[at]);
        let of_step = step.and_then(|step| {
            let timers = step.timers.iter();
            step.look
                .clone()
                .or_else(|| timers.rev().find_map(|t| t.look.clone()))
        });
        let text = match of_step.or(of_timer) {
            Some(look) => format!("Ask yourself: {look}"),
            None => "The formula does not say what it looks like when it is ready.".to_owned(),
        };
        self.tell(out, &text);
    }

    /// What has gone in so far, with what really went in where it was told.
    pub(super) fn what_is_in(&mut self, out: &mut Vec<Effect>) {
        let dish = self.dish();
        let uses = dish.uses().filter(|(_, when)| when.is_some());
        let mut inside: Vec<usize> = Vec::new();
        for (at, _) in uses {
            let ingredient = dish.ingredient(at);
            if !inside.contains(&ingredient) {
                inside.push(ingredient);
            }
        }
        let names: Vec<String> = inside
            .iter()
            .map(|i| {
                let name = &self.formula().ingredients[*i].name;
                match dish.really(*i) {
                    Some(mass) => format!("{} of {name}", self.say_mass(mass)),
                    None => name.clone(),
                }
            })
            .collect();
        let text = if names.is_empty() {
            "Nothing has gone in yet.".to_owned()
        } else {
            format!("In so far: {}.", words::list(&names))
        };
        self.tell(out, &text);
    }

    /// Several at once.
    pub(super) fn mark_several(&mut self, all: &[IngredientId], out: &mut Vec<Effect>) {
        let found: Result<Vec<usize>, &IngredientId> = all
            .iter()
            .map(|id| self.formula().find(id).ok_or(id))
            .collect();
        let found = match found {
            Ok(found) => found,
            Err(id) => {
                self.tell(out, &words::none_in(&id.to_string()));
                return;
            }
        };
        for i in &found {
            let dish = self.dish();
            let here = self.step().unwrap_or(0);
            let open: Vec<_> = dish
                .open_uses()
                .filter(|at| dish.ingredient(*at) == *i)
                .collect();
            let at = open.iter().find(|at| at.0 == here).or(open.first());
            if let Some(at) = at.copied() {
                let now = self.now;
                self.dish_mut().mark(at, Some(now));
            }
        }
        let names: Vec<String> = found
            .iter()
            .map(|i| self.formula().ingredients[*i].name.clone())
            .collect();
        let next = self.dish().called().map(|at| self.call_words(at));
        let next = next.map_or_else(String::new, |next| format!(" {next}"));
        self.tell(
            out,
            &format!("{} in.{next}", words::capital(&words::list(&names))),
        );
    }

    /// Everything that this step names is in.
    pub(super) fn mark_step(&mut self, out: &mut Vec<Effect>) {
        let Some(step) = self.step().filter(|_| !self.is_finished()) else {
            self.tell(out, "We have not begun.");
            return;
        };
        let open = self.dish().uses_not_in(step);
        if open.is_empty() {
            self.tell(out, "Everything in this step was in already.");
            return;
        }
        let names = self.dish().names(open.iter().map(|u| (step, *u)));
        let now = self.now;
        for u in open {
            self.dish_mut().mark((step, u), Some(now));
        }
        let hint = self.go_on_hint();
        self.tell(
            out,
            &format!("{} in.{hint}", words::capital(&words::list(&names))),
        );
    }

    /// So much really went in: remembered, and told against what is written.
    pub(super) fn put_in(&mut self, id: &IngredientId, mass: Mass, out: &mut Vec<Effect>) {
        let Some(i) = self.formula().find(id) else {
            self.tell(out, &words::none_in(&id.to_string()));
            return;
        };
        let wanted = self.batch().mass(i);
        let name = self.formula().ingredients[i].name.clone();
        let now = self.now;
        let open: Vec<_> = self.dish().open_uses().collect();
        for at in open {
            if self.dish().ingredient(at) == i {
                self.dish_mut().mark(at, Some(now));
            }
        }
        self.dish_mut().note_really(i, mass);
        let (grams, right) = (mass.as_grams(), wanted.as_grams());
        let put = words::capital(&self.say_mass(mass));
        let percent = ((grams - right) / right * 100.0).round();
        let text = if right <= 0.0 || percent == 0.0 {
            format!("{put} of {name} in.")
        } else {
            let more = if percent > 0.0 { "more" } else { "less" };
            format!(
                "{put} of {name} in: {} percent {more} than {}.",
                words::number(percent.abs()),
                self.say_mass(wanted)
            )
        };
        self.tell(out, &text);
    }

    /// How long a timer has been running; without one, each, or how long this step has taken.
    pub(super) fn time_gone(&mut self, which: Option<&TimerRef>, out: &mut Vec<Effect>) {
        // 'How long has the dough been rising' names no timer where none is called so.
        let unknown = |which: &&TimerRef| match which {
            TimerRef::Said(words) => self.rack.find(words) == TimerNamed::None,
            TimerRef::Id(_) => false,
        };
        let which = which.filter(|which| !unknown(which));
        let ids: Vec<u32> = if which.is_some() {
            match self.timer(which, out) {
                Some(id) => vec![id],
                None => return,
            }
        } else {
            self.rack.live(self.now).iter().map(|t| t.id).collect()
        };
        let gone = |since| words::about(self.now.since(since));
        let mut parts: Vec<String> = ids
            .iter()
            .filter_map(|id| self.rack.get(*id))
            .map(|t| format!("{}: {} so far.", words::capital(&t.name), gone(t.started)))
            .collect();
        if parts.is_empty() {
            let step = self.step().filter(|_| !self.is_finished());
            parts.push(match step.and_then(|at| self.dish().entered(at)) {
                Some(since) => format!(
                    "No timer is running. You began this step {} ago.",
                    gone(since)
                ),
                None => "No timer is running.".to_owned(),
            });
        }
        self.tell(out, &parts.join(" "));
    }

    /// A reminder is a timer that is called by what it says.
    pub(super) fn remind(
        &mut self,
        text: &str,
        after: Option<Span>,
        at: Option<ClockTime>,
        out: &mut Vec<Effect>,
    ) {
        let Some(after) = after.or_else(|| at.map(|at| self.until(at))) else {
            self.tell(out, "When shall I remind you?");
            return;
        };
        if after < Span::seconds(1) || after > Span::seconds(172_800) {
            self.tell(out, "I can remind you up to two days ahead.");
            return;
        }
        let id = self.rack.start(
            &format!("{REMINDER}{text}"),
            after,
            Vec::new(),
            None,
            None,
            self.now,
        );
        self.changed(id, super::effect::TimerChange::Started, out);
        self.names_changed(out);
        let when = self.clock_at(self.now.plus(after));
        self.tell(out, &format!("I will remind you at {when}: {text}."));
    }

    /// How long it is until such a time of day comes next.
    fn until(&self, at: ClockTime) -> Span {
        let (h, m, s) = self.local(self.now);
        let now = (u64::from(h) * 60 + u64::from(m)) * 60 + u64::from(s);
        let wanted = (u64::from(at.hour) * 60 + u64::from(at.minute)) * 60;
        let round = match at.half {
            HalfDay::Said => 86_400,
            HalfDay::Unsaid => 43_200,
        };
        Span::seconds((wanted + 86_400 - now + round - 1) % round + 1)
    }

    /// A timer with its cue.
    pub(super) fn start_with_cue(
        &mut self,
        lasts: Span,
        name: Option<String>,
        cue: Mark,
        out: &mut Vec<Effect>,
    ) {
        let before: Vec<u32> = self.rack.live(self.now).iter().map(|t| t.id).collect();
        self.start_timer(Some(lasts), name, out);
        let live = self.rack.live(self.now).into_iter();
        let new = live.map(|t| t.id).find(|id| !before.contains(id));
        let Some(id) = new else { return };
        let (say, when) = (cue.say.clone(), cue.left);
        let at = cue.at;
        let added = self.rack.add_cue(id, cue, self.now);
        let text = match (added, when) {
            (false, _) => "That is outside the timer, so I have not set it.".to_owned(),
            (true, Some(left)) => format!("With {} left: {say}.", words::span(left)),
            (true, None) => format!("After {}: {say}.", words::span(at)),
        };
        self.dialogue.say(out, &text, super::effect::Why::Answer);
    }

    /// When the oven goes on.
    pub(super) fn when_light_oven(&mut self, out: &mut Vec<Effect>) {
        let Some(oven) = &self.formula().oven else {
            self.tell(out, "This formula needs no oven.");
            return;
        };
        let own = self.dish().remembered().oven();
        let lead = words::span(own.map_or(oven.lead, |own| own.lasts));
        let here = match own.map(|own| own.bakes) {
            None => String::new(),
            Some(1) => " here, by one bake".to_owned(),
            Some(bakes) => format!(" here, by {} bakes", words::count(bakes as usize)),
        };
        let text = if self.dish().lit().is_some() {
            "Now: the oven should be on already.".to_owned()
        } else {
            match self.oven_time() {
                Some(at) => format!("At {at}. It needs {lead} to get hot{here}."),
                None => format!(
                    "{} before the bake: it takes that long to get hot{here}.",
                    words::capital(&lead)
                ),
            }
        };
        self.tell(out, &text);
    }

    /// The oven is hot.
    pub(super) fn oven_hot(&mut self, out: &mut Vec<Effect>) {
        let now = self.now;
        out.extend(self.oven_took());
        self.dish_mut().light(now);
        let step = self.step().filter(|_| !self.is_finished());
        let bakes = step.is_some_and(|at| self.formula().steps[at].oven_c.is_some());
        let text = match &self.formula().oven {
            None => {
                "This formula needs no oven. Turn it off if nothing else is to go in.".to_owned()
            }
            Some(_) if bakes => "Good: it can go in.".to_owned(),
            Some(_) => "Good. It can stay so until the bake.".to_owned(),
        };
        self.tell(out, &text);
    }

    /// Whether the food will be late, by the plan.
    pub(super) fn am_i_late(&mut self, out: &mut Vec<Effect>) {
        let text = match self.minutes_late() {
            None => format!(
                "You have not said when you want to eat. {}",
                self.table_words()
            ),
            Some(late) if late <= 0 => format!("You are on time. {}", self.table_words()),
            Some(late) => format!(
                "{} late. {}",
                words::capital(&words::span(Span::minutes(late.unsigned_abs()))),
                self.table_words()
            ),
        };
        self.tell(out, &text);
    }

    /// How long it all takes, hands and waits, and from the step that the cook is at.
    pub(super) fn how_long_in_all(&mut self, out: &mut Vec<Effect>) {
        let time_of = |from: usize| {
            let steps = self.formula().steps.iter().enumerate().skip(from);
            let all = steps.map(|(at, step)| {
                let waits = step.timers.iter().filter(|t| !t.alongside);
                let waits = waits.map(|t| self.dish().time_of(&self.options, at, t).as_millis());
                step.hands_on.as_millis() + waits.sum::<u64>()
            });
            Span::minutes(all.sum::<u64>().div_ceil(60_000))
        };
        let mut text = format!("{} in all.", words::capital(&words::about(time_of(0))));
        if let Some(at) = self.step().filter(|at| *at > 0 && !self.is_finished()) {
            text = format!(
                "{text} From the beginning of this step, {}.",
                words::about(time_of(at))
            );
        }
        self.tell(out, &text);
    }

    /// Which tin.
    pub(super) fn ask_tin(&mut self, out: &mut Vec<Effect>) {
        let text = match self.tin_words() {
            none if none.is_empty() => "This formula names no tin.".to_owned(),
            tin => tin.trim_start().replacen("In a", "A", 1),
        };
        self.tell(out, &text);
    }
}
