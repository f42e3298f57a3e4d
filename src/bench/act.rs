//! From an order to what happens: first what waits for an answer, then the order itself.

use super::Bench;
use super::effect::{Chime, Effect, TakeDown, VoiceSettings};
use super::last_time::LastTime;
use super::pending::{Pending, look_of};
use super::words;
use crate::order::{DishRef, Loss, Order};
use crate::plan::Effort;
use crate::safety::Wish;
use crate::timer::{DishId, Mark, Timer};

/// Voice settings move in steps from -5 to 5.
const VOICE_STEPS: std::ops::RangeInclusive<i8> = -5..=5;

impl Bench {
    /// Does what an order asks for. Orders that lose work are confirmed first.
    pub(super) fn act(&mut self, order: Order, out: &mut Vec<Effect>) {
        // What takes something back is not taken back itself.
        let keeps = !order.only_asks() && order != Order::Undo;
        let before = keeps.then(|| self.state_of_work());
        self.settle_and_do(order, out);
        if let Some(before) = before {
            self.remember(before);
        }
    }

    fn settle_and_do(&mut self, order: Order, out: &mut Vec<Effect>) {
        let Some(order) = self.settle(order, out) else {
            return;
        };
        if self.asks_which(&order, out) {
            return;
        }
        if let Some(question) = self.asks_before(&order) {
            self.put(Pending::confirm(order, question, self.now), out);
            return;
        }
        self.perform(order, out);
    }

    /// The question before something is lost, asked of the dish that the order is for.
    fn asks_before(&mut self, order: &Order) -> Option<String> {
        let loss = order.loses()?;
        match order {
            Order::AtDish { dish, .. } => {
                self.while_at(DishId(dish.0), |bench| bench.question_before(loss))
            }
            _ => self.question_before(loss),
        }
    }

    /// Puts a question, and waits for its answer.
    pub(super) fn put(&mut self, pending: Pending, out: &mut Vec<Effect>) {
        let hint = self.hint("", pending.keys());
        let question = format!("{}{hint}", pending.question());
        self.dialogue.wait_for(pending);
        self.dialogue.ask(out, &question);
    }

    /// Lets an order answer the question that waits, if it does. Gives back what is still to be done.
    fn settle(&mut self, order: Order, out: &mut Vec<Effect>) -> Option<Order> {
        let order = self.core_as_answer(order);
        let Some(pending) = self.dialogue.take_question() else {
            return Some(order);
        };
        if let Some(dish) = pending
            .dish()
            .filter(|_| order.is_answer() || order == Order::Done)
        {
            self.turn_to(dish, out);
        }
        match (pending, order) {
            (Pending::Confirm { order, then, .. }, Order::Yes) => {
                self.perform(*order, out);
                for order in then {
                    if self.dialogue.question().is_some_and(Pending::is_doubt) {
                        break;
                    }
                    self.perform(order, out);
                }
                None
            }
            // 'It is in' is for what was called or what the step names, never a yes.
            (kept @ Pending::Confirm { .. }, Order::Done) => self.settle_done(kept, out),
            // Going on, said twice.
            (Pending::Confirm { order, .. }, Order::Next)
                if matches!(*order, Order::GoToStep { .. } | Order::GoToDish { .. }) =>
            {
                self.perform(*order, out);
                None
            }
            (Pending::Confirm { order, .. }, Order::Next)
                if *order == Order::StartOffered && self.dishes.are_several() =>
            {
                self.pass_over_timer(out);
                Some(Order::Next)
            }
            (Pending::Keep { took, .. }, Order::Yes) => {
                out.push(took);
                self.tell(out, "I will remember that for next time.");
                None
            }
            (Pending::OnScale { .. }, Order::Yes | Order::Done) => {
                self.done(out);
                None
            }
            (Pending::Note { .. }, Order::Yes | Order::Done) => {
                let what = TakeDown::Keep;
                out.push(Effect::TakeDown { what });
                None
            }
            (Pending::Note { .. }, Order::No | Order::NotYet | Order::Back) => {
                let what = TakeDown::Drop;
                out.push(Effect::TakeDown { what });
                self.tell(out, "I have noted nothing.");
                None
            }
            (Pending::Note { dish, .. }, Order::Note { text }) => {
                let what = TakeDown::Drop;
                out.push(Effect::TakeDown { what });
                self.while_at(dish, |bench| bench.take_note(&text, None, out));
                None
            }
            (
                Pending::TooMuch {
                    at,
                    net,
                    gross,
                    larger,
                    ..
                },
                answer @ (Order::Yes | Order::Done | Order::No),
            ) => {
                match larger.filter(|_| answer == Order::Yes) {
                    Some(by) => self.fit_larger(at, net, gross, by, out),
                    None => self.leave_weighed(at, net, gross, out),
                }
                None
            }
            (Pending::TooLittle { at, net, gross, .. }, Order::Yes | Order::Done) => {
                self.fit_smaller(at, net, gross, out);
                None
            }
            (Pending::TooLittle { at, net, gross, .. }, Order::No) => {
                self.leave_weighed(at, net, gross, out);
                None
            }
            (Pending::OnScale { .. }, answer @ (Order::No | Order::NotYet)) => {
                // What stands there is not it.
                if let Some(shows) = self.scale.shows.filter(|_| answer == Order::No) {
                    self.count_from(shows.gross);
                    self.scale.forget_passing();
                }
                let text = self.dish().called().map(|at| self.call_words(at));
                self.tell(out, &text.unwrap_or_default());
                None
            }
            (Pending::Early { timer, .. }, Order::Yes | Order::Done) => {
                self.looked(timer, out);
                None
            }
            (Pending::Offer { ready, .. }, Order::Yes) => {
                self.serve_at(ready, Effort::AtOnce, out);
                None
            }
            (
                Pending::Confirm { .. }
                | Pending::Which { .. }
                | Pending::Offer { .. }
                | Pending::Early { .. }
                | Pending::Keep { .. }
                | Pending::HowLong { .. },
                Order::No | Order::NotYet | Order::Back,
            ) => {
                self.tell(out, "I have changed nothing.");
                None
            }
            (
                Pending::Which {
                    readings, question, ..
                },
                Order::Yes,
            ) => {
                // Yes does not say which.
                self.put(Pending::which(readings, question, self.now), out);
                None
            }
            (
                Pending::HowLong { name, .. },
                Order::StartTimer {
                    lasts: Some(lasts),
                    name: None,
                },
            ) => Some(Order::StartTimer {
                lasts: Some(lasts),
                name,
            }),
            (Pending::Look { timer, .. }, Order::Yes | Order::Done) => {
                self.looked(timer, out);
                None
            }
            (Pending::Look { timer, .. }, Order::No | Order::NotYet) => {
                self.longer(timer, None, out);
                None
            }
            (Pending::Look { timer, .. }, Order::NeedsLonger { by }) => {
                self.longer(timer, by, out);
                None
            }
            (Pending::Look { timer, .. }, Order::AddTime { by, timer: None }) => {
                self.longer(timer, Some(by), out);
                None
            }
            (Pending::Look { timer, .. }, Order::Next) => {
                let of = self.rack.get(timer).and_then(|t| t.origin).map(|o| o.dish);
                self.looked(timer, out);
                match of.filter(|of| *of != self.dishes.at_hand()) {
                    Some(of) => Some(Order::AtDish {
                        dish: DishRef(of.0),
                        order: Box::new(Order::Next),
                    }),
                    None => Some(Order::Next),
                }
            }
            (Pending::StepLook { .. }, Order::Yes | Order::Done) => Some(Order::Next),
            (kept @ Pending::StepLook { .. }, Order::No | Order::NotYet) => {
                let hint = self.hint("Say next when it is.", "Enter when it is.");
                self.tell(out, &format!("Take your time.{hint}"));
                self.dialogue.wait_for(kept);
                None
            }
            (Pending::Which { readings, .. }, other) if readings.contains(&other) => Some(other),
            // A guess belongs to the sentence before it.
            (guess, other) if guess.is_guess() && !other.is_about_speech() => {
                self.pass_over(&guess, &other);
                Some(other)
            }
            // Any question keeps waiting while the cook asks something; a look also while other things are done.
            (kept, other) if other.only_asks() => {
                self.dialogue.wait_for(kept);
                Some(other)
            }
            (
                kept @ (Pending::Look { .. }
                | Pending::StepLook { .. }
                | Pending::OnScale { .. }
                | Pending::TooMuch { .. }
                | Pending::TooLittle { .. }),
                other,
            ) => {
                if !matches!(
                    other,
                    Order::Next
                        | Order::Back
                        | Order::GoToStep { .. }
                        | Order::GoToDish { .. }
                        | Order::AtDish { .. }
                ) {
                    self.dialogue.wait_for(kept);
                }
                Some(other)
            }
            (_, other) => Some(other),
        }
    }

    /// 'It is in' while a yes or no is waited for: done where there is something that can be in, else the question stands.
    fn settle_done(&mut self, asked: Pending, out: &mut Vec<Effect>) -> Option<Order> {
        let can_be_in = self.dish().called().is_some()
            || !self.rack.ringing().is_empty()
            || self
                .step()
                .is_some_and(|at| !self.is_finished() && !self.dish().uses_not_in(at).is_empty());
        if !can_be_in && !asked.is_guess() {
            self.put(asked, out);
            return None;
        }
        if let Pending::Confirm { order, .. } = &asked
            && matches!(**order, Order::GoToStep { .. })
        {
            // It was not said whether to leave the step.
            self.dialogue.enters();
        }
        self.pass_over(&asked, &Order::Done);
        Some(Order::Done)
    }

    /// A question lapses because something else was said: told only where something of weight is not done.
    fn pass_over(&mut self, asked: &Pending, other: &Order) {
        let Pending::Confirm { order, .. } = asked else {
            return;
        };
        if order.name() == other.name() {
            return;
        }
        match **order {
            Order::Scale { .. } => self.dialogue.lead_with("The size is as it was."),
            Order::StartTimer { lasts: Some(_), .. }
            | Order::StartWithCue { .. }
            | Order::Remind { .. } => self.dialogue.lead_with("I have started no timer."),
            _ => {}
        }
    }

    /// The question to put before something is lost; nothing where it is not there to be lost.
    fn question_before(&self, loss: Loss) -> Option<String> {
        let running = |timer| {
            let t = self.rack.get(self.one_timer(timer)?)?;
            (t.is_live() && t.left_ms(self.now) > 0).then_some(t)
        };
        let stops = |t: &Timer| {
            let left = words::left(t.left_ms(self.now));
            format!("Stop {}, with {left} left?", words::the(&t.name))
        };
        match loss {
            Loss::Left(timer) => running(timer).map(stops),
            Loss::LastDeed => self.ended_by_taking_back().map(stops),
            Loss::Run(timer) => running(timer)
                .map(|t| format!("Start {} again from the beginning?", words::the(&t.name))),
            // What rings is stopped at once.
            Loss::Timers if !self.rack.ringing().is_empty() => None,
            Loss::Timers => match self.rack.live_count() {
                0 => None,
                1 => Some("Stop the one timer that runs?".to_owned()),
                n => Some(format!("Stop all {} timers?", words::count(n))),
            },
            Loss::Dish(dish) => self.question_before_leaving_out(dish),
            Loss::Weighed => self
                .dish()
                .anything_added()
                .then(|| "You have begun to weigh. Change the size all the same?".to_owned()),
            Loss::Session => Some(match self.rack.live_count() {
                0 if self.options.judgement && self.is_finished() => {
                    "How was it? Say it was good, or too dry. Leave the kitchen now?".to_owned()
                }
                0 => "Leave the kitchen now?".to_owned(),
                1 => "One timer still runs, and it stops when you leave. Leave now?".to_owned(),
                n => format!(
                    "{} timers still run, and they stop when you leave. Leave now?",
                    words::capital(&words::count(n))
                ),
            }),
        }
    }

    pub(super) fn perform(&mut self, order: Order, out: &mut Vec<Effect>) {
        self.dialogue.carry_out(&order);
        match order {
            Order::Next => self.next(out),
            Order::Back => self.back(out),
            Order::Repeat { slowly } => self.repeat(slowly, out),
            Order::RepeatLast { count } => self.repeat_last(count, out),
            Order::Spell => self.spell(out),
            Order::WhereAmI => self.where_am_i(out),
            Order::WhatNext => self.what_next(out),
            Order::StepsLeft => self.steps_left(out),
            Order::GoToStep { step } => self.go_to(step.0, out),
            Order::TellStep { step } => self.tell_step(step, out),
            Order::StepNames => self.step_names(out),
            Order::HowToTell => self.how_to_tell(out),
            Order::ReadIngredients => self.read_ingredients(out),
            Order::ReadStep => self.read_step(out),
            Order::More => self.more(out),

            Order::WeighNext => self.weigh_next(out),
            Order::Done => self.done(out),
            Order::HaveAdded { ingredient } => self.have_added(&ingredient, out),
            Order::MarkAdded { ingredient, also } if also.is_empty() => {
                self.mark(&ingredient, true, out);
            }
            Order::MarkAdded { ingredient, also } => {
                self.mark_several(&[vec![ingredient], also].concat(), out);
            }
            Order::MarkStep => self.mark_step(out),
            Order::WhatIsIn => self.what_is_in(out),
            Order::Choose { ingredient, take } => self.choose(ingredient, take, out),
            Order::PutIn { ingredient, mass } => self.put_in(&ingredient, mass, out),
            Order::UnmarkAdded { ingredient } => self.mark(&ingredient, false, out),
            Order::LeftToAdd => self.left_to_add(out),

            order @ (Order::WeighThis { .. }
            | Order::HowMuchIsIn
            | Order::AllIHave
            | Order::CupsOfThis { .. }
            | Order::DivideThis { .. }
            | Order::HowMuchLost
            | Order::KeepTin
            | Order::Tare) => self.ask_scale(&order, out),

            Order::HowMuch {
                ingredient,
                part,
                unit,
            } => self.how_much(&ingredient, part, unit, out),
            Order::Ask(question) => {
                self.note_lacking(&question);
                self.answer(&question, out);
            }
            Order::Contains { what, absent } if self.dishes.are_several() => {
                self.contains_of_each(&what, Wish::of(absent), out);
            }
            Order::Allergens if self.dishes.are_several() => {
                self.of_every_dish(Self::allergens, out);
            }
            Order::Contains { what, absent } => {
                self.contains(&what, Wish::of(absent), out);
            }
            Order::Allergens => self.allergens(out),
            Order::Packet {
                ingredient,
                what,
                absent,
            } => self.packet(&ingredient, &what, absent, out),
            Order::Hydration => self.hydration(out),
            Order::CoreReads { core_c } => self.core_reads(core_c, out),
            Order::PieceMass => self.piece_mass(out),
            Order::DoughMass => self.dough_mass(out),
            Order::TodaysSize => self.todays_size(out),
            Order::AskTin => self.ask_tin(out),
            Order::OvenHeat => self.oven_heat(out),
            Order::Scale { by } => self.scale(&by, out),

            Order::StartTimer { lasts, name } => self.start_timer(lasts, name, out),
            Order::StartOffered => self.start_offered(out),
            Order::TimeGone { timer } => self.time_gone(timer.as_ref(), out),
            Order::Remind { text, after, at } => self.remind(&text, after, at, out),
            Order::StartWithCue {
                lasts,
                name,
                say,
                at,
                left,
            } => {
                let at = at.unwrap_or_default();
                self.start_with_cue(lasts, name, Mark { at, left, say }, out);
            }
            Order::TimeLeft { timer } => self.time_left(timer.as_ref(), out),
            Order::ReadyWhen { timer } => self.ready_when(timer.as_ref(), out),
            Order::AddTime { by, timer } => self.add_time(by, timer.as_ref(), out),
            Order::TakeTime { by, timer } => self.take_time(by, timer.as_ref(), out),
            Order::PauseTimer { timer } => self.pause(timer.as_ref(), out),
            Order::ResumeTimer { timer } => self.resume(timer.as_ref(), out),
            Order::RestartTimer { timer } => self.restart(timer.as_ref(), out),
            Order::AddCue {
                say,
                at,
                left,
                timer,
            } => self.add_cue(&say, at, left, timer.as_ref(), out),
            Order::RenameTimer { timer, name } => self.rename(timer.as_ref(), &name, out),
            Order::StopTimer { timer } => self.stop_timer(timer.as_ref(), out),
            Order::StopAllTimers => self.stop_all(out),
            Order::StopChime => self.stop_chime(out),

            Order::AtDish { dish, order } => self.at_dish(dish, *order, out),
            Order::GoToDish { dish } => self.go_to_dish(dish, out),
            Order::DishDoing { dish } => self.tell_doing(dish, out),
            Order::UntilNeeded => self.until_needed(out),
            Order::PutOff { dish, by } => self.put_off(dish, by, out),
            Order::LeaveOut { dish } => self.leave_out(dish, out),
            Order::AlsoMake { title } => self.also_make(&title, out),
            Order::InAll { ingredient } => self.in_all(&ingredient, out),
            Order::WeighAll => self.weigh_all(out),

            Order::NextOnClock => self.next_on_clock(out),
            Order::TellTime => self.tell_time(out),
            Order::EatAt { at } => self.set_eat_at(at, out),
            Order::WhenStart => self.when_start(out),
            Order::WhenLightOven => self.when_light_oven(out),
            Order::OvenLit => self.oven_lit(out),
            Order::OvenHot => self.oven_hot(out),
            Order::OvenOff => self.oven_off(out),
            Order::OvenState => self.oven_state(out),
            Order::AmILate => self.am_i_late(out),
            Order::HowLongInAll => self.how_long_in_all(out),
            Order::NeedsLonger { by } => self.needs_longer(by, out),

            Order::LastTime => self.tell_last_time(out),
            Order::LastTook => self.tell_from_log(LastTime::took, out),
            Order::LastWater => self.tell_from_log(LastTime::water, out),
            Order::Note { text } => self.take_note(&text, None, out),
            Order::MakeNote => self.make_note(out),
            Order::PlayNotes => self.play_notes(out),
            Order::ItWas { how } => self.take_word(&how, out),
            Order::WhatIfEatAt { at } => self.what_if_eat_at(at, out),
            Order::GuestsLate { by } => self.guests_late(by, out),
            Order::IAmBehind { by } => self.i_am_behind(by, out),

            Order::Yes | Order::No | Order::NotYet => self.answer_to_nothing(&order, out),

            Order::Louder => self.voice(
                out,
                |v| &mut v.volume,
                1,
                "Louder.",
                "That is as loud as I go.",
            ),
            Order::Quieter => self.voice(
                out,
                |v| &mut v.volume,
                -1,
                "Quieter.",
                "That is as quiet as I go.",
            ),
            Order::Faster => self.voice(
                out,
                |v| &mut v.rate,
                1,
                "Faster.",
                "That is as fast as I go.",
            ),
            Order::Slower => self.voice(
                out,
                |v| &mut v.rate,
                -1,
                "Slower.",
                "That is as slow as I go.",
            ),
            Order::Higher => self.voice(
                out,
                |v| &mut v.pitch,
                1,
                "Higher.",
                "That is as high as I go.",
            ),
            Order::Lower => self.voice(
                out,
                |v| &mut v.pitch,
                -1,
                "Lower.",
                "That is as low as I go.",
            ),
            Order::Briefer => {
                self.options.brief = true;
                self.tell(out, "Fewer words.");
            }
            Order::Fuller => {
                self.options.brief = false;
                self.tell(out, "I will say more.");
            }
            Order::StopTalking => {
                out.push(Effect::Hush);
                self.answer_alarm(out);
                let still = self.still_ringing();
                self.tell(out, &still);
            }
            Order::StopListening => {
                self.dialogue.listen(false);
                out.push(Effect::Listen { on: false });
                self.tell(
                    out,
                    "I have stopped listening. Say listen again, or use the keys.",
                );
            }
            Order::StartListening => {
                out.push(Effect::Listen { on: true });
                if self.dialogue.listen(true) {
                    out.push(Effect::Hush);
                    out.push(Effect::Chime {
                        chime: Chime::Listening,
                        urgency: 0,
                    });
                } else {
                    self.tell(out, "I am listening.");
                }
                self.dialogue.stay_awake(self.now);
            }
            Order::Undo => self.take_back_last(out),
            Order::HangOn => out.push(Effect::Hush),
            Order::BurnHelp => self.first_aid(None, out),
            Order::Emergency { kind } => self.first_aid(Some(kind), out),
            Order::WhatHeard => self.what_heard(out),
            Order::Troubles => self.troubles(out),
            Order::Help => self.help(out),
            Order::ExplainChimes => self.explain_chimes(out),
            Order::Goodbye => {
                self.left = true;
                let ovens = |id: DishId| self.dishes.get(id)?.formula().oven.as_ref();
                let heat = if self.dishes.on().any(|id| ovens(id).is_some()) {
                    "oven"
                } else {
                    "heat"
                };
                self.tell(out, &format!("Goodbye. Is the {heat} off?"));
                out.push(Effect::Leave);
            }
        }
    }

    fn voice(
        &mut self,
        out: &mut Vec<Effect>,
        which: impl Fn(&mut VoiceSettings) -> &mut i8,
        by: i8,
        done: &str,
        at_end: &str,
    ) {
        let mut voice = self.dialogue.voice();
        let value = which(&mut voice);
        *value += by;
        let moved = VOICE_STEPS.contains(value);
        if moved {
            self.dialogue.set_voice(voice);
            out.push(Effect::Voice(voice));
        }
        self.tell(out, if moved { done } else { at_end });
    }

    fn answer_to_nothing(&mut self, order: &Order, out: &mut Vec<Effect>) {
        if self.answer_alarm(out) {
            return;
        }
        match (order, look_of(&self.rack.live(self.now))) {
            // `it has doubled`, before its time: asked first.
            (Order::Yes, Some((timer, question))) => {
                self.put(Pending::early(timer, question, self.now), out);
            }
            (Order::Yes, None) => {
                self.tell(out, "Yes to what? I have not asked anything.");
            }
            // 'It is not ready yet', while something is waited for or not.
            (Order::NotYet, _) => {
                let left = match self.rack.live_count() {
                    0 => String::new(),
                    _ => format!(" {}", self.all_left()),
                };
                self.tell(out, &format!("All right, take your time.{left}"));
            }
            _ => self.tell(out, "All right. I have changed nothing."),
        }
    }
}
