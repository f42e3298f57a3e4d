//! Several dishes: the welcome, turning to one, what each is doing and when it wants the cook, putting off, leaving out.

use super::Bench;
use super::beside::Beside;
use super::dish::TO_THE_LAST;
use super::dishes::made_of;
use super::effect::{Effect, TimerChange, Why};
use super::taken::{Taken, Turn};
use super::turns::Stand;
use super::view::DishView;
use super::words;
use crate::order::{DishRef, Order};
use crate::plan;
use crate::time::{Moment, Span};
use crate::timer::DishId;
use crate::understand::{DishNames, Lexicon, name_words, timer_of_dish};

/// The dish of an order.
fn id(dish: DishRef) -> DishId {
    DishId(dish.0)
}

/// It is said to go on with a dish: the cook turns to it. What only asks or marks is done from where the cook is.
fn turns(order: &Order) -> bool {
    matches!(
        order,
        Order::Next | Order::Back | Order::GoToStep { .. } | Order::Done | Order::Yes
    )
}

impl Bench {
    /// What can be named now.
    pub(super) fn names(&self) -> Lexicon {
        let live = self.rack.live(self.now);
        let timers: Vec<(u32, String)> = live.iter().map(|t| (t.id, t.name.clone())).collect();
        let mut names = self.dish().lexicon().clone();
        names = names.with_call_name(&self.options.name);
        let on: Vec<DishId> = self.dishes.on().collect();
        if on.len() > 1 {
            let of = |id: &DishId| {
                let dish = self.dishes.get(*id)?;
                let written = dish.written();
                let mut also = vec![written.name.clone()];
                also.extend(written.told.also.iter().cloned());
                Some(DishNames {
                    id: DishRef(id.0),
                    name: self.dishes.name(*id).to_owned(),
                    also,
                    lexicon: dish.named(),
                })
            };
            names = names.with_dishes(on.iter().filter_map(of).collect());
        }
        if !self.book.is_empty() {
            names = names.with_book(self.book.clone());
        }
        if !timers.is_empty() {
            names = names.with_timers(timers);
        }
        if self.lexicon.choices().is_empty() {
            names
        } else {
            names.with_choices(self.lexicon.choices())
        }
    }

    /// What can be named is made anew, and the ear is to know it.
    pub(super) fn name_anew(&mut self, out: &mut Vec<Effect>) {
        self.lexicon = self.names();
        out.push(Effect::Vocabulary);
    }

    /// The titles of the book, from which another dish can be made as well.
    pub fn set_book(&mut self, titles: Vec<String>) {
        self.book = std::sync::Arc::new(titles);
        self.lexicon = self.names();
    }

    /// `Three dishes: the loaf, the soup and the custard. The loaf: ...`
    pub(super) fn welcome_of_all(&mut self) -> String {
        let on: Vec<DishId> = self.dishes.on().collect();
        let names: Vec<String> = on.iter().map(|id| self.dishes.the(*id)).collect();
        let mut parts = vec![format!(
            "{} dishes: {}.",
            words::capital(&words::count(on.len())),
            words::list(&names)
        )];
        for id in on {
            parts.push(self.introduced(id));
        }
        parts.join(" ")
    }

    /// `The soup: Autumn vegetable soup, makes six bowls. It contains celery.`
    fn introduced(&mut self, id: DishId) -> String {
        let the = words::capital(&self.dishes.the(id));
        self.while_at(id, |bench| {
            let allergens = bench.contents().opening(bench.options.law());
            format!(
                "{the}: {}, makes {}.{} {allergens}",
                bench.formula().name,
                words::makes(bench.formula(), bench.batch()),
                bench.tin_words()
            )
        })
    }

    /// What a dish's timer is called beside those of the others: `soup simmer`. Two that would be called the same, because
    /// both dishes are in the name already, are each called by their dish.
    pub(super) fn timer_called(&self, of: DishId, written: &str) -> String {
        let name = timer_of_dish(self.dishes.name(of), written);
        let others = self.dishes.on().filter(|id| *id != of);
        let is_theirs = others.into_iter().any(|id| {
            self.dishes.get(id).is_some_and(|dish| {
                let mut timers = dish.formula().timers();
                timers.any(|(_, t)| timer_of_dish(self.dishes.name(id), &t.name) == name)
            })
        });
        if is_theirs {
            format!("{} {written}", self.dishes.name(of))
        } else {
            name
        }
    }

    /// Another dish has come to the bench.
    pub(super) fn dish_came(&mut self, beside: &Beside, out: &mut Vec<Effect>) {
        let dish = made_of(beside);
        let known = self.dishes.all().iter();
        let known = known
            .map(|d| &d.written().name)
            .position(|n| *n == dish.written().name);
        if let Some(at) = known {
            // It goes on by the formula as it is now.
            let (id, text) = (DishId(at as u32), &beside.text);
            if let Some(told) = self.while_at(id, |b| b.take_edited(id, text, out)) {
                let the = words::capital(&self.dishes.the(id));
                self.note(out, &format!("{the}: {}", words::lower_first(&told)));
            }
            return;
        }
        let unreadable = dish.is_out();
        let dish = self.dishes.add(dish);
        if unreadable {
            self.note(out, "I cannot read that formula.");
            return;
        }
        // What ran already is told by its dish from now on.
        let live: Vec<(u32, DishId, String)> = self
            .rack
            .live(self.now)
            .into_iter()
            .filter_map(|t| Some((t.id, t.origin?.dish, t.written.clone()?)))
            .collect();
        for (timer, of, written) in live {
            let name = self.timer_called(of, &written);
            self.rack.rename(timer, &name);
        }
        self.name_anew(out);
        let introduced = self.introduced(dish).replacen(':', " as well:", 1);
        let gone = self.plan_again().map(|gone| format!(" {gone}"));
        let hint = self.hint("Say next to go on.", "Enter goes on.");
        let text = format!("{introduced}{}{hint}", gone.unwrap_or_default());
        self.note(out, &text);
        if let Some(last) = self.last_time_opening(dish) {
            self.note(out, &last);
            out.extend(self.spoken_notes(dish));
        }
    }

    /// A formula of the book is wanted as well.
    pub(super) fn also_make(&mut self, title: &str, out: &mut Vec<Effect>) {
        let all = self.dishes.all().iter().enumerate();
        let mut known = all.filter(|(_, dish)| dish.written().name.eq_ignore_ascii_case(title));
        match known
            .next()
            .map(|(at, dish)| (DishId(at as u32), dish.is_out()))
        {
            Some((dish, true)) => {
                if let Some(dish) = self.dishes.get_mut(dish) {
                    dish.leave_out(false);
                }
                self.name_anew(out);
                let the = words::capital(&self.dishes.the(dish));
                self.tell(out, &format!("{the} is on again."));
            }
            Some((dish, false)) => {
                let the = words::capital(&self.dishes.the(dish));
                self.tell(out, &format!("{the} is on already."));
            }
            None => out.push(Effect::Fetch {
                title: title.into(),
            }),
        }
    }

    /// An order for a dish that is named.
    pub(super) fn at_dish(&mut self, dish: DishRef, order: Order, out: &mut Vec<Effect>) {
        let (dish, here) = (id(dish), self.dishes.at_hand());
        if !self.dishes.is_on(dish) {
            self.tell(out, "That dish is not made.");
            return;
        }
        let the = words::capital(&self.dishes.the(dish));
        if let Order::TimeLeft { timer: None } = order {
            let text = self.doing_words(dish);
            self.tell(out, &text);
        } else if order == Order::StartOffered && !self.offers(dish) {
            // 'Start with the soup', where no timer waits to be started.
            self.go_to_dish(DishRef(dish.0), out);
        } else if turns(&order) {
            if dish != here {
                let left = self.dishes.the(here);
                if self.step().is_some() && !self.is_finished() {
                    self.dialogue.lead_with(&format!("Leave {left}."));
                }
                self.turn_to(dish, out);
                self.dialogue.lead_with(&format!("{the}:"));
            }
            self.dish_mut().put_off(None);
            match order {
                Order::Next if !self.is_finished() => self.next_here(out),
                order => self.perform(order, out),
            }
        } else {
            let order = match order {
                Order::StartTimer { lasts, name: None } => Order::StartTimer {
                    lasts,
                    name: Some(self.dishes.name(dish).to_owned()),
                },
                order => order,
            };
            self.dialogue.lead_with(&format!("{the}:"));
            self.while_at(dish, |bench| match order {
                // Of this dish alone.
                Order::Contains { what, absent } => {
                    bench.contains(&what, crate::safety::Wish::of(absent), out);
                }
                Order::Allergens => bench.allergens(out),
                order => bench.perform(order, out),
            });
        }
    }

    /// `go to the soup`.
    pub(super) fn go_to_dish(&mut self, dish: DishRef, out: &mut Vec<Effect>) {
        if !self.dishes.is_on(id(dish)) {
            self.tell(out, "That dish is not made.");
            return;
        }
        self.turn_to(id(dish), out);
        self.take_up(out);
    }

    /// The dish of this name, where its timer of that name cannot be meant: it has not come to that.
    pub(super) fn dish_to_begin(&self, name: &str) -> Option<DishRef> {
        let wanted = name_words(name);
        let named = |id: &DishId| name_words(self.dishes.name(*id)) == wanted;
        let id = self.dishes.on().find(named)?;
        if !self.dishes.are_several() {
            return None;
        }
        let dish = self.dishes.get(id)?;
        let Some(at) = dish.step() else {
            return Some(DishRef(id.0));
        };
        let offers = dish.formula().steps[at].timers.iter();
        let mut called = offers.map(|t| timer_of_dish(self.dishes.name(id), &t.name));
        let offered = called.any(|t| name_words(&t) == wanted);
        (!offered).then_some(DishRef(id.0))
    }

    /// A timer of the dish's step waits to be started.
    fn offers(&self, dish: DishId) -> bool {
        let offered = self.dishes.get(dish).and_then(|d| d.offered());
        offered.is_some()
    }

    /// A dish that is named, and nothing else: the cook turns to it.
    pub(super) fn taken_as_dish(&self, said: &str) -> Option<Taken> {
        let named = said.trim().trim_start_matches("the ");
        let dish = self.dish_to_begin(named)?;
        let order = Order::GoToDish { dish };
        Some(Taken::Order { order })
    }

    /// What a dish is doing, or every one.
    pub(super) fn tell_doing(&mut self, dish: Option<DishRef>, out: &mut Vec<Effect>) {
        let on: Vec<DishId> = match dish {
            None if !self.dishes.are_several() => {
                self.where_am_i(out);
                return;
            }
            None => self.dishes.on().collect(),
            Some(dish) => vec![id(dish)],
        };
        let all: Vec<String> = on.into_iter().map(|id| self.doing_words(id)).collect();
        self.tell(out, &all.join(" "));
    }

    /// Where the cook is in the dish at hand, and what every other is doing; and the cook's own timers.
    pub(super) fn where_all_are(&self, here: &str) -> String {
        let at_hand = self.dishes.at_hand();
        let the = words::capital(&self.dishes.the(at_hand));
        let mut parts = vec![format!("{the}: {}", words::lower_first(here))];
        let live = self.rack.live(self.now);
        let of_here = |o: crate::timer::Origin| o.dish == at_hand;
        let told = live.iter().filter(|t| t.origin.is_none_or(of_here));
        parts.extend(told.map(|t| self.left_words(t)));
        let others = self.dishes.on().filter(|id| *id != at_hand);
        parts.extend(others.map(|id| self.doing_words(id)));
        parts.join(" ")
    }

    /// What a dish is doing, in one sentence: `The soup: step four, simmer, twelve minutes left.`
    pub(super) fn doing_words(&self, id: DishId) -> String {
        let the = words::capital(&self.dishes.the(id));
        let Some(dish) = self.dishes.get(id).filter(|d| !d.is_out()) else {
            return format!("{the}: left out.");
        };
        let step = |at: usize| {
            let title = words::lower_first(&dish.formula().steps[at].title);
            format!("step {}, {title}", words::number(at as f64 + 1.0))
        };
        let said = match self.stand(id, false) {
            Stand::Done => "done".to_owned(),
            Stand::Before => match self.planned_start(id) {
                Some(at) if at > self.now => format!("begins at {}", self.clock_at(at)),
                _ => "not begun".to_owned(),
            },
            Stand::Inside(at) => step(at),
            Stand::Goes(at) if at + 1 == dish.formula().steps.len() => "ready".to_owned(),
            Stand::Goes(at) => format!("wants you for {}", step(at + 1)),
            Stand::Waits(at, until) => {
                let timer = self.timer_waited_for(id, dish, at);
                let name = timer.and_then(|t| t.written.clone()).unwrap_or_default();
                let left = words::left(until.since(self.now).as_millis() as i64);
                format!(
                    "step {}, {name}, {left} left",
                    words::number(at as f64 + 1.0)
                )
            }
            Stand::Rings(at) => {
                let timer = self.timer_waited_for(id, dish, at);
                let name = timer.and_then(|t| t.written.clone()).unwrap_or_default();
                format!("{name}, time is up")
            }
        };
        let off = match dish.is_off(self.now) {
            None => String::new(),
            Some(TO_THE_LAST) => ", put off".to_owned(),
            Some(until) => format!(", put off until {}", self.clock_at(until)),
        };
        format!("{the}: {said}{off}.")
    }

    /// Every dish but the one at hand, in one line each.
    pub(super) fn others_in_view(&self, now: Moment) -> Vec<DishView> {
        if !self.dishes.are_several() {
            return Vec::new();
        }
        let here = self.dishes.at_hand();
        let view = |id: DishId| {
            let dish = self.dishes.get(id)?;
            let title = |at: usize| words::lower_first(&dish.formula().steps[at].title);
            let (doing, wants) = match self.stand(id, false) {
                Stand::Done => ("done".to_owned(), String::new()),
                Stand::Before => (
                    "not begun".to_owned(),
                    self.planned_start(id)
                        .map_or_else(String::new, |at| self.shown(at)),
                ),
                Stand::Inside(at) => (title(at), "in hand".to_owned()),
                Stand::Goes(at) if at + 1 == dish.formula().steps.len() => {
                    ("ready".to_owned(), "now".to_owned())
                }
                Stand::Goes(at) => (format!("next: {}", title(at + 1)), "now".to_owned()),
                Stand::Waits(at, until) => (title(at), self.shown(until.max(now))),
                Stand::Rings(at) => (title(at), "NOW".to_owned()),
            };
            Some(DishView {
                name: self.dishes.name(id).to_owned(),
                doing,
                wants,
            })
        };
        let others = self.dishes.on().filter(|id| *id != here);
        others.filter_map(view).collect()
    }

    /// A moment as `HH:MM`.
    fn shown(&self, at: Moment) -> String {
        let (h, m, _) = self.local(at.plus(Span::seconds(30)));
        format!("{h:02}:{m:02}")
    }

    /// How long until the cook is needed.
    pub(super) fn until_needed(&mut self, out: &mut Vec<Effect>) {
        let text = self.until_needed_words();
        self.tell(out, &text);
    }

    /// `Now: the soup, step three.`, `Nothing for ten minutes: at twenty past six, the soup simmer.`
    pub(super) fn until_needed_words(&self) -> String {
        let here = self.dishes.at_hand();
        let several = self.dishes.are_several();
        let of = |id: DishId, what: &str| {
            if several {
                format!("{}, {what}", self.dishes.the(id))
            } else {
                what.to_owned()
            }
        };
        if let Some(t) = self.rack.ringing().last() {
            return format!("Now: {}, time is up.", words::the(&t.name));
        }
        let step = |at: usize| format!("step {}", words::number(at as f64 + 1.0));
        // Who makes one dish and times something asks for that.
        if !several && self.rack.live_count() > 0 {
            return self.all_left();
        }
        if let Stand::Inside(at) = self.stand(here, false) {
            return format!("Now: {}.", of(here, &step(at)));
        }
        let what = |dish: DishId| match self.stand(dish, false) {
            Stand::Before => step(0),
            Stand::Goes(at) => step(at + 1),
            Stand::Inside(at) | Stand::Rings(at) | Stand::Waits(at, _) => step(at),
            Stand::Done => "done".to_owned(),
        };
        let mut coming: Vec<(Moment, String)> = Vec::new();
        match self.whose_turn(false) {
            Turn::Of { dish } => return format!("Now: {}.", of(dish, &what(dish))),
            Turn::Soon { dish, at } => coming.push((at, of(dish, &what(dish)))),
            Turn::Nobody => {}
        }
        // The next that comes: a timer, a cue, a beginning by the plan.
        for t in self.rack.live(self.now) {
            let due = Moment(self.now.0.saturating_add_signed(t.left_ms(self.now)));
            coming.push((due, words::the(&t.name)));
            let cue = t.next_cue(self.now);
            coming.extend(cue.map(|(at, say)| {
                (
                    at,
                    format!("{}, {}", words::the(&t.name), words::clause(say)),
                )
            }));
        }
        for id in self.dishes.on().filter(|_| several) {
            let begins = self.stand(id, false) == Stand::Before;
            let off = self
                .dishes
                .get(id)
                .and_then(|d| d.is_off(self.now))
                .filter(|until| *until != TO_THE_LAST);
            let start = off.or_else(|| self.planned_start(id));
            coming.extend(start.filter(|_| begins).map(|at| (at, of(id, &step(0)))));
        }
        match coming.into_iter().filter(|(at, _)| *at > self.now).min() {
            Some((at, what)) => {
                let left = words::left(at.since(self.now).as_millis() as i64);
                format!("Nothing for {left}: at {}, {what}.", self.clock_at(at))
            }
            None if self.all_done() => "Nothing more: everything is done.".to_owned(),
            None => "Nothing wants you now.".to_owned(),
        }
    }

    /// A dish waits.
    pub(super) fn put_off(&mut self, dish: DishRef, by: Option<Span>, out: &mut Vec<Effect>) {
        let dish = id(dish);
        if !self.dishes.is_on(dish) || self.dishes.on().count() < 2 {
            self.tell(out, "There is no other dish to do first.");
            return;
        }
        if self.stand(dish, false) == Stand::Done {
            let text = self.doing_words(dish);
            self.tell(out, &text);
            return;
        }
        let until = by.map(|by| self.now.plus(by));
        if let Some(dish) = self.dishes.get_mut(dish) {
            dish.put_off(Some(until.unwrap_or(TO_THE_LAST)));
        }
        let the = words::capital(&self.dishes.the(dish));
        let text = match until {
            Some(at) => format!("{the} waits until {}.", self.clock_at(at)),
            None => format!("{the} waits until nothing else wants you."),
        };
        self.away_from(dish, &text, out);
    }

    /// A dish is not made after all.
    pub(super) fn leave_out(&mut self, dish: DishRef, out: &mut Vec<Effect>) {
        let dish = id(dish);
        if !self.dishes.is_on(dish) {
            self.tell(out, "It is left out already.");
            return;
        }
        if self.dishes.on().count() < 2 {
            let hint = self.hint("Say goodbye to leave.", "Dot, nought and four leaves.");
            self.tell(out, &format!("It is the only dish.{hint}"));
            return;
        }
        for timer in self.live_of(dish) {
            self.changed(timer, TimerChange::Stopped, out);
            self.rack.remove(timer);
            self.dialogue.drop_look(|id| id == timer);
        }
        if let Some(dish) = self.dishes.get_mut(dish) {
            dish.leave_out(true);
        }
        self.name_anew(out);
        let gone = self.plan_again().map(|gone| format!(" {gone}"));
        let text = format!(
            "Left out: {}.{}",
            self.dishes.the(dish),
            gone.unwrap_or_default()
        );
        self.away_from(dish, &text, out);
    }

    /// What is said of a dish that is done with for now; a cook who was at it goes where the next turn is.
    fn away_from(&mut self, dish: DishId, text: &str, out: &mut Vec<Effect>) {
        if dish != self.dishes.at_hand() {
            self.tell(out, text);
            return;
        }
        let to = match self.whose_turn(false) {
            Turn::Of { dish: to } if to != dish => Some(to),
            _ => self.dishes.on().find(|other| *other != dish),
        };
        self.dialogue.lead_with(text);
        match to {
            Some(to) => {
                self.turn_to(to, out);
                if matches!(self.stand(to, false), Stand::Before) {
                    let doing = self.doing_words(to);
                    let hint = self.go_on_hint();
                    self.tell(out, &format!("{doing}{hint}"));
                } else {
                    self.take_up(out);
                }
            }
            None => self.tell(out, "Nothing else is made."),
        }
    }

    /// The live timers of a dish.
    pub(super) fn live_of(&self, dish: DishId) -> Vec<u32> {
        let live = self.rack.live(self.now).into_iter();
        live.filter(|t| t.origin.is_some_and(|o| o.dish == dish))
            .map(|t| t.id)
            .collect()
    }

    /// The question before a dish is left out; nothing where it has not been begun.
    pub(super) fn question_before_leaving_out(&self, dish: DishRef) -> Option<String> {
        let dish = id(dish);
        let made = self.dishes.get(dish).filter(|d| !d.is_out())?;
        let begun = made.step().is_some() && !made.is_finished();
        if self.dishes.on().count() < 2 || !begun && self.live_of(dish).is_empty() {
            return None;
        }
        let the = self.dishes.the(dish);
        let doing = self.doing_words(dish);
        let (_, doing) = doing.split_once(": ").unwrap_or_default();
        let doing = doing.trim_end_matches('.');
        let stops = match self.live_of(dish).len() {
            0 => String::new(),
            1 => " Its timer stops.".to_owned(),
            n => format!(" Its {} timers stop.", words::count(n)),
        };
        Some(format!("Leave out {the}? It stands so: {doing}.{stops}"))
    }

    /// Says something of every dish in turn, each with its name.
    pub(super) fn of_every_dish(
        &mut self,
        mut deed: impl FnMut(&mut Self, &mut Vec<Effect>),
        out: &mut Vec<Effect>,
    ) {
        let mut all: Vec<String> = Vec::new();
        for id in self.dishes.on().collect::<Vec<_>>() {
            let mut own = Vec::new();
            self.while_at(id, |bench| deed(bench, &mut own));
            let said = own.iter().filter_map(|effect| match effect {
                Effect::Say { text, .. } => Some(text.as_str()),
                _ => None,
            });
            let said: Vec<&str> = said.collect();
            let the = words::capital(&self.dishes.the(id));
            all.push(format!("{the}: {}", words::lower_first(&said.join(" "))));
        }
        let text = all.join(" ");
        self.dialogue.say(out, &text, Why::Answer);
    }

    /// The hour at which a dish's next work begins by the plan.
    pub(super) fn planned_start(&self, dish: DishId) -> Option<Moment> {
        let service = self.service.as_ref()?;
        let at = service.place_of(dish)?;
        let reached = match self.stand(dish, false) {
            Stand::Before => None,
            Stand::Inside(step)
            | Stand::Waits(step, _)
            | Stand::Rings(step)
            | Stand::Goes(step) => Some(step),
            Stand::Done => return None,
        };
        let blocks = service.plan().blocks.iter();
        let mut ahead = blocks.filter(|b| {
            b.id.dish == at
                && b.id.part != plan::BlockPart::Preheat
                && reached.is_none_or(|step| b.id.step > step)
        });
        ahead.next().map(|b| self.moment(b.start))
    }
}
