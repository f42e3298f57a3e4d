//! From an intent to what happens: first what waits for an answer, then the order itself.

use super::Bench;
use super::effect::{Chime, Effect, VoiceSettings};
use super::pending::{Pending, look_of};
use crate::safety::Wish;
use crate::timer::Mark;
use crate::understand::Intent;

/// Voice settings move in steps from -5 to 5.
const VOICE_STEPS: std::ops::RangeInclusive<i8> = -5..=5;

impl Bench {
    /// Does what an intent asks for. Orders that lose work are confirmed first.
    pub(super) fn act(&mut self, intent: Intent, out: &mut Vec<Effect>) {
        // What takes something back is not taken back itself.
        let keeps = !intent.only_asks() && intent != Intent::Undo;
        let before = keeps.then(|| self.state_of_work());
        self.settle_and_do(intent, out);
        if let Some(before) = before {
            self.remember(before);
        }
    }

    fn settle_and_do(&mut self, intent: Intent, out: &mut Vec<Effect>) {
        let Some(intent) = self.settle(intent, out) else {
            return;
        };
        if self.asks_which(&intent, out) {
            return;
        }
        if let Some(question) = self.loses_work(&intent) {
            self.put(Pending::confirm(intent, question, self.now), out);
            return;
        }
        self.perform(intent, out);
    }

    /// Puts a question, and waits for its answer.
    pub(super) fn put(&mut self, pending: Pending, out: &mut Vec<Effect>) {
        let hint = self.hint("", pending.keys());
        let question = format!("{}{hint}", pending.question());
        self.dialogue.wait_for(pending);
        self.dialogue.ask(out, &question);
    }

    /// Lets an intent answer the question that waits, if it does. Gives back what is still to be done.
    fn settle(&mut self, intent: Intent, out: &mut Vec<Effect>) -> Option<Intent> {
        let Some(pending) = self.dialogue.take_question() else {
            return Some(intent);
        };
        match (pending, intent) {
            (Pending::Confirm { intent, .. }, Intent::Yes | Intent::Done) => {
                self.perform(*intent, out);
                None
            }
            // Going on, said twice.
            (Pending::Confirm { intent, .. }, Intent::Next)
                if matches!(*intent, Intent::GoToStep { .. }) =>
            {
                self.perform(*intent, out);
                None
            }
            (Pending::Keep { took, .. }, Intent::Yes | Intent::Done) => {
                out.push(took);
                self.tell(out, "I keep it for next time.");
                None
            }
            (Pending::OnScale { .. }, Intent::Yes | Intent::Done) => {
                self.done(out);
                None
            }
            (Pending::OnScale { .. }, Intent::No | Intent::NotYet) => {
                let text = self.dish().called().map(|at| self.call_words(at));
                self.tell(out, &text.unwrap_or_default());
                None
            }
            (Pending::Early { timer, .. }, Intent::Yes | Intent::Done) => {
                self.looked(timer, out);
                None
            }
            (Pending::Offer { ready, .. }, Intent::Yes | Intent::Done) => {
                self.serve_at(ready, out);
                None
            }
            (
                Pending::Confirm { .. }
                | Pending::Which { .. }
                | Pending::Offer { .. }
                | Pending::Early { .. }
                | Pending::Keep { .. }
                | Pending::HowLong { .. },
                Intent::No | Intent::NotYet | Intent::Back,
            ) => {
                self.tell(out, "Left as it was.");
                None
            }
            (
                Pending::Which {
                    readings, question, ..
                },
                Intent::Yes,
            ) => {
                // Yes does not say which.
                self.put(Pending::which(readings, question, self.now), out);
                None
            }
            (
                Pending::HowLong { name, .. },
                Intent::StartTimer {
                    lasts: Some(lasts),
                    name: None,
                },
            ) => Some(Intent::StartTimer {
                lasts: Some(lasts),
                name,
            }),
            (Pending::Look { timer, .. }, Intent::Yes | Intent::Done) => {
                self.looked(timer, out);
                None
            }
            (Pending::Look { timer, .. }, Intent::No | Intent::NotYet) => {
                self.longer(timer, None, out);
                None
            }
            (Pending::Look { timer, .. }, Intent::NeedsLonger { by }) => {
                self.longer(timer, by, out);
                None
            }
            (Pending::Look { timer, .. }, Intent::AddTime { by, timer: None }) => {
                self.longer(timer, Some(by), out);
                None
            }
            (Pending::Look { timer, .. }, Intent::Next) => {
                self.looked(timer, out);
                Some(Intent::Next)
            }
            (Pending::StepLook { .. }, Intent::Yes | Intent::Done) => Some(Intent::Next),
            (Pending::StepLook { question }, Intent::No | Intent::NotYet) => {
                let hint = self.hint("Say next when it is.", "Enter when it is.");
                self.tell(out, &format!("Take your time.{hint}"));
                self.dialogue.wait_for(Pending::StepLook { question });
                None
            }
            (Pending::Which { readings, .. }, other) if readings.contains(&other) => Some(other),
            // Any question keeps waiting while the cook asks something; a look also while other things are done.
            (kept, other) if other.only_asks() => {
                self.dialogue.wait_for(kept);
                Some(other)
            }
            (
                kept @ (Pending::Look { .. } | Pending::StepLook { .. } | Pending::OnScale { .. }),
                other,
            ) => {
                if !matches!(other, Intent::Next | Intent::Back | Intent::GoToStep { .. }) {
                    self.dialogue.wait_for(kept);
                }
                Some(other)
            }
            (_, other) => Some(other),
        }
    }

    /// The question to put before an order that loses work.
    fn loses_work(&self, intent: &Intent) -> Option<String> {
        match intent {
            Intent::StopTimer { timer } => {
                let id = self.one_timer(timer.as_ref())?;
                let t = self.rack.get(id)?;
                (t.is_live() && t.left_ms(self.now) > 0).then(|| {
                    format!(
                        "Stop {}, with {} left?",
                        super::words::the(&t.name),
                        super::words::left(t.left_ms(self.now))
                    )
                })
            }
            Intent::StopAllTimers if self.rack.ringing().is_empty() => {
                let n = self.rack.live_count();
                (n > 0).then(|| match n {
                    1 => "Stop the one timer that runs?".to_owned(),
                    n => format!("Stop all {} timers?", super::words::count(n)),
                })
            }
            Intent::RestartTimer { timer } => {
                let id = self.one_timer(timer.as_ref())?;
                let t = self.rack.get(id)?;
                (t.is_live() && t.left_ms(self.now) > 0).then(|| {
                    let name = super::words::the(&t.name);
                    format!("Start {name} again from the beginning?")
                })
            }
            Intent::Scale { .. } if self.dish().anything_added() => {
                Some("You have begun to weigh. Change the size all the same?".to_owned())
            }
            Intent::Goodbye => Some(match self.rack.live_count() {
                0 => "Leave the kitchen now?".to_owned(),
                1 => "One timer still runs, and it stops when you leave. Leave now?".to_owned(),
                n => format!(
                    "{} timers still run, and they stop when you leave. Leave now?",
                    super::words::capital(&super::words::count(n))
                ),
            }),
            _ => None,
        }
    }

    fn perform(&mut self, intent: Intent, out: &mut Vec<Effect>) {
        self.dialogue.carry_out(&intent);
        match intent {
            Intent::Next => self.next(out),
            Intent::Back => self.back(out),
            Intent::Repeat { slowly } => self.repeat(slowly, out),
            Intent::RepeatLast { count } => self.repeat_last(count, out),
            Intent::Spell => self.spell(out),
            Intent::WhereAmI => self.where_am_i(out),
            Intent::WhatNext => self.what_next(out),
            Intent::StepsLeft => self.steps_left(out),
            Intent::GoToStep { step } => self.go_to(step.0, out),
            Intent::TellStep { step } => self.tell_step(step, out),
            Intent::StepNames => self.step_names(out),
            Intent::HowToTell => self.how_to_tell(out),
            Intent::ReadIngredients => self.read_ingredients(out),
            Intent::ReadStep => self.read_step(out),

            Intent::WeighNext => self.weigh_next(out),
            Intent::Done => self.done(out),
            Intent::HaveAdded { ingredient } => self.have_added(&ingredient, out),
            Intent::MarkAdded { ingredient, also } if also.is_empty() => {
                self.mark(&ingredient, true, out);
            }
            Intent::MarkAdded { ingredient, also } => {
                self.mark_several(&[vec![ingredient], also].concat(), out);
            }
            Intent::MarkStep => self.mark_step(out),
            Intent::WhatIsIn => self.what_is_in(out),
            Intent::PutIn { ingredient, mass } => self.put_in(&ingredient, mass, out),
            Intent::UnmarkAdded { ingredient } => self.mark(&ingredient, false, out),
            Intent::LeftToAdd => self.left_to_add(out),

            Intent::HowMuch {
                ingredient,
                part,
                unit,
            } => self.how_much(&ingredient, part, unit.as_deref(), out),
            Intent::Ask(question) => self.answer(&question, out),
            Intent::Contains { what, absent } => {
                self.contains(&what, Wish::of(absent), out);
            }
            Intent::Allergens => self.allergens(out),
            Intent::Hydration => self.hydration(out),
            Intent::TodaysSize => self.todays_size(out),
            Intent::AskTin => self.ask_tin(out),
            Intent::OvenHeat => self.oven_heat(out),
            Intent::Scale { by } => self.scale(&by, out),

            Intent::StartTimer { lasts, name } => self.start_timer(lasts, name, out),
            Intent::StartOffered => self.start_offered(out),
            Intent::TimeGone { timer } => self.time_gone(timer.as_ref(), out),
            Intent::Remind { text, after, at } => self.remind(&text, after, at, out),
            Intent::StartWithCue {
                lasts,
                name,
                say,
                at,
                left,
            } => {
                let at = at.unwrap_or_default();
                self.start_with_cue(lasts, name, Mark { at, left, say }, out);
            }
            Intent::TimeLeft { timer } => self.time_left(timer.as_ref(), out),
            Intent::ReadyWhen { timer } => self.ready_when(timer.as_ref(), out),
            Intent::AddTime { by, timer } => self.add_time(by, timer.as_ref(), out),
            Intent::TakeTime { by, timer } => self.take_time(by, timer.as_ref(), out),
            Intent::PauseTimer { timer } => self.pause(timer.as_ref(), out),
            Intent::ResumeTimer { timer } => self.resume(timer.as_ref(), out),
            Intent::RestartTimer { timer } => self.restart(timer.as_ref(), out),
            Intent::AddCue {
                say,
                at,
                left,
                timer,
            } => self.add_cue(&say, at, left, timer.as_ref(), out),
            Intent::RenameTimer { timer, name } => self.rename(timer.as_ref(), &name, out),
            Intent::StopTimer { timer } => self.stop_timer(timer.as_ref(), out),
            Intent::StopAllTimers => self.stop_all(out),
            Intent::StopChime => self.stop_chime(out),

            Intent::NextOnClock => self.next_on_clock(out),
            Intent::TellTime => self.tell_time(out),
            Intent::EatAt { at } => self.set_eat_at(at, out),
            Intent::WhenStart => self.when_start(out),
            Intent::WhenLightOven => self.when_light_oven(out),
            Intent::OvenLit => self.oven_lit(out),
            Intent::OvenHot => self.oven_hot(out),
            Intent::AmILate => self.am_i_late(out),
            Intent::HowLongInAll => self.how_long_in_all(out),
            Intent::NeedsLonger { by } => self.needs_longer(by, out),

            Intent::Yes | Intent::No | Intent::NotYet => self.answer_to_nothing(&intent, out),

            Intent::Louder => self.voice(
                out,
                |v| &mut v.volume,
                1,
                "Louder.",
                "That is as loud as I go.",
            ),
            Intent::Quieter => self.voice(
                out,
                |v| &mut v.volume,
                -1,
                "Quieter.",
                "That is as quiet as I go.",
            ),
            Intent::Faster => self.voice(
                out,
                |v| &mut v.rate,
                1,
                "Faster.",
                "That is as fast as I go.",
            ),
            Intent::Slower => self.voice(
                out,
                |v| &mut v.rate,
                -1,
                "Slower.",
                "That is as slow as I go.",
            ),
            Intent::Higher => self.voice(
                out,
                |v| &mut v.pitch,
                1,
                "Higher.",
                "That is as high as I go.",
            ),
            Intent::Lower => self.voice(
                out,
                |v| &mut v.pitch,
                -1,
                "Lower.",
                "That is as low as I go.",
            ),
            Intent::Briefer => {
                self.options.brief = true;
                self.tell(out, "Fewer words.");
            }
            Intent::Fuller => {
                self.options.brief = false;
                self.tell(out, "I will say more.");
            }
            Intent::StopTalking => {
                out.push(Effect::Hush);
                self.answer_alarm(out);
                let still = self.still_ringing();
                self.tell(out, &still);
            }
            Intent::StopListening => {
                self.dialogue.listen(false);
                out.push(Effect::Listen { on: false });
                self.tell(
                    out,
                    "I have stopped listening. Say listen again, or use the keys.",
                );
            }
            Intent::StartListening => {
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
            Intent::Undo => self.take_back_last(out),
            Intent::HangOn => out.push(Effect::Hush),
            Intent::BurnHelp => self.burn_help(out),
            Intent::WhatHeard => self.what_heard(out),
            Intent::Troubles => self.troubles(out),
            Intent::Help => self.help(out),
            Intent::ExplainChimes => self.explain_chimes(out),
            Intent::Goodbye => {
                self.left = true;
                let heat = if self.formula().oven.is_some() {
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

    fn answer_to_nothing(&mut self, intent: &Intent, out: &mut Vec<Effect>) {
        if self.answer_alarm(out) {
            return;
        }
        match (intent, look_of(&self.rack.live(self.now))) {
            // `it has doubled`, before its time: asked first.
            (Intent::Yes, Some((timer, question))) => {
                self.put(Pending::early(timer, question, self.now), out);
            }
            (Intent::Yes, None) => {
                self.tell(out, "Yes to what? Nothing waits for an answer.");
            }
            _ => self.tell(out, "Nothing waits for an answer."),
        }
    }
}
