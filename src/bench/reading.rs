//! Free speech, read by the learned reader in the situation of the session, where the strict grammar has no reading.

use super::Bench;
use super::attention::without_call;
use super::event::Heard;
use super::pending::Pending;
use super::taken::Taken;
use crate::order::Order;
use crate::reader::{
    self, AskInstead, AskedKind, Doing, Last, Printed, ReaderQuestion, ReaderSituation, Running,
    SaidTo, Speech, Verdict,
};
use crate::timer;
use crate::understand::{Understood, parse, plainly, question_between, question_of_all};

/// A question that a few words leave no doubt of is answered where so much of what was heard is this reading.
const PLAINLY: f32 = 0.5;

impl Bench {
    /// The session as the reader sees it.
    pub(super) fn scene(&self) -> ReaderSituation {
        let dish = self.dish();
        let step = dish.step().filter(|_| !dish.is_finished());
        let steps = &dish.formula().steps;
        let offered = step.iter().flat_map(|s| &steps[*s].timers);
        let rings = self.rack.ringing();
        let runs = |t: &&timer::Timer| !rings.iter().any(|r| r.id == t.id);
        let waited_for = |at| dish.formula().ingredients[dish.ingredient(at)].id.clone();
        let said = self.dialogue.last();
        ReaderSituation {
            step: step.map(|s| s + 1),
            titles: steps.iter().map(|s| s.title.clone()).collect(),
            offered: offered.map(|t| t.name.clone()).collect(),
            weighing: dish.called().map(waited_for),
            asked: self.dialogue.question().map(|q| self.as_asked(q)),
            rings: rings.first().map(|t| t.name.clone()),
            timers: self
                .rack
                .live(self.now)
                .into_iter()
                .filter(runs)
                .map(|t| self.as_running(t))
                .collect(),
            last: (!said.is_empty()).then(|| Last {
                said: said.to_owned(),
                order: self.dialogue.last_order().map(Printed::from),
            }),
            state: if !self.dialogue.is_listening() {
                Doing::Asleep
            } else if self.dialogue.is_speaking(self.now) {
                Doing::Reading
            } else {
                Doing::Silent
            },
        }
    }

    fn as_asked(&self, pending: &Pending) -> ReaderQuestion {
        let mut asked = ReaderQuestion {
            kind: AskedKind::Confirm,
            question: pending.question().to_owned(),
            timer: None,
            order: None,
            readings: Vec::new(),
        };
        match pending {
            Pending::Confirm { order, .. } => asked.order = Some(Printed::from(&**order)),
            Pending::Which { readings, .. } => {
                asked.kind = AskedKind::Which;
                asked.readings = readings.iter().map(Printed::from).collect();
            }
            Pending::Offer { .. }
            | Pending::Keep { .. }
            | Pending::Note { .. }
            | Pending::OnScale { .. }
            | Pending::TooMuch { .. }
            | Pending::TooLittle { .. } => {
                asked.kind = AskedKind::Offer;
            }
            Pending::HowLong { name, .. } => {
                asked.kind = AskedKind::HowLong;
                asked.timer.clone_from(name);
            }
            Pending::Look { timer, .. } | Pending::Early { timer, .. } => {
                asked.kind = AskedKind::Look;
                asked.timer = self.rack.get(*timer).map(|t| t.name.clone());
            }
            Pending::StepLook { .. } => asked.kind = AskedKind::Look,
        }
        asked
    }

    fn as_running(&self, t: &timer::Timer) -> Running {
        Running {
            name: t.name.clone(),
            left_ms: t.left_ms(self.now).max(0) as u64,
            total_ms: t.lasts.as_millis(),
            paused: matches!(t.state, timer::TimerPhase::Paused { .. }),
        }
    }

    /// The order that the grammar read, or the question where the learned reading is sure of another.
    pub(super) fn unless_doubted(&self, order: Order, text: &str) -> Taken {
        // What a few words leave no doubt of is not doubted.
        if plainly(text, &self.lexicon).as_ref() == Some(&order) {
            return Taken::Order { order };
        }
        let asked = match reader::doubts(&order, text, &self.lexicon, &self.scene()) {
            None => None,
            Some(AskInstead::Between(readings)) => {
                known(&readings).map(|readings| self.one_of(readings))
            }
            Some(AskInstead::All(orders)) => known(&orders).map(|orders| self.all_of(orders)),
        };
        asked.unwrap_or(Taken::Order { order })
    }

    /// What the words mean freely, where that is none of what the grammar doubts between.
    pub(super) fn unless_one_of(&self, readings: &[Order], text: &str) -> Option<Taken> {
        reader::knows_better(readings, text, &self.lexicon, &self.scene())
            .then(|| self.take_freely(text))?
    }

    fn is_a_choice(&self, order: &Order) -> bool {
        matches!(self.dialogue.question(), Some(Pending::Which { readings, .. }) if readings.contains(order))
    }

    pub(super) fn one_of(&self, readings: Vec<Order>) -> Taken {
        Taken::OneOf {
            question: question_between(&readings, self.lexicon.situation()),
            readings,
        }
    }

    pub(super) fn all_of(&self, orders: Vec<Order>) -> Taken {
        Taken::AllOf {
            question: question_of_all(&orders, self.lexicon.situation()),
            orders,
        }
    }

    /// What words mean that the strict grammar has no reading for; nothing where they are not understood.
    pub(super) fn take_freely(&self, text: &str) -> Option<Taken> {
        let reading = reader::read(text, &self.lexicon, &self.scene())?;
        self.taken(reading.verdict())
    }

    /// What was heard as free speech, which may have been talk.
    pub(super) fn take_by_ear(&self, heard: &Heard) -> Taken {
        if !self.dialogue.is_listening() || !self.is_spoken_to(heard) {
            return Taken::Ignored;
        }
        let called = self.is_called(heard);
        let anybody = self.may_be_anybody(heard);
        if anybody && heard.follows_talk {
            return Taken::Ignored;
        }
        let readings = self.without_name(heard);
        if let Some((first, _)) = readings.first().filter(|_| !anybody)
            && let Some(taken) = self.taken_as_correction(first)
        {
            return taken;
        }
        if let Some((text, share)) = readings.first()
            && *share >= PLAINLY
            && let Some(order) = plainly(text, &self.lexicon)
            && order.only_asks()
        {
            return Taken::Order { order };
        }
        let verdict =
            reader::verdict_heard(&self.speech(&readings, heard), &self.lexicon, &self.scene());
        match self.taken(verdict) {
            Some(taken) => taken,
            // Who called by name is told that it was not understood.
            None if called => match parse(&heard.text, &self.lexicon) {
                Understood::Nothing { question } => Taken::NotUnderstood { question },
                Understood::Doubt { question, readings } => Taken::OneOf { question, readings },
                Understood::Order(_) => Taken::Ignored,
            },
            None => Taken::Ignored,
        }
    }

    /// The order that was heard, or the question where free speech fits nearly as well and surely means something else.
    pub(super) fn unless_heard_otherwise(&self, order: Order, heard: &Heard) -> Taken {
        if heard.free.is_empty() {
            return Taken::Order { order };
        }
        let readings = self.without_name(heard);
        let speech = self.speech(&readings, heard);
        match reader::verdict_heard(&speech, &self.lexicon, &self.scene()) {
            Verdict::Act(orders) => match known(&orders) {
                Some(orders) if orders.len() == 1 && orders[0] != order => {
                    self.one_of(vec![orders[0].clone(), order])
                }
                _ => Taken::Order { order },
            },
            _ => Taken::Order { order },
        }
    }

    fn speech<'s>(&self, readings: &'s [(String, f32)], heard: &Heard) -> Speech<'s> {
        Speech {
            readings,
            rival: heard.rival.filter(|_| heard.loosely),
            to: if !self.may_be_anybody(heard) {
                SaidTo::Program
            } else if self.dialogue.spoke_lately(self.now) {
                SaidTo::Perhaps
            } else {
                SaidTo::Anybody
            },
        }
    }

    /// The readings of free speech without the name of the program before or behind them.
    fn without_name(&self, heard: &Heard) -> Vec<(String, f32)> {
        let bare = |(text, share): &(String, f32)| (without_call(text, &self.options.name), *share);
        heard.free.iter().map(bare).collect()
    }

    fn taken(&self, verdict: Verdict) -> Option<Taken> {
        match verdict {
            Verdict::Act(orders) => Some(match known(&orders) {
                None => cannot(),
                Some(mut orders) if orders.len() == 1 => Taken::Order {
                    order: orders.remove(0),
                },
                Some(orders) => Taken::Orders { orders },
            }),
            Verdict::Ask(orders) => match known(&orders) {
                None => Some(cannot()),
                // A doubtful yes confirms nothing: the question is put again.
                Some(orders) if orders.iter().all(Order::is_answer) => {
                    let question = self.dialogue.question()?.question().to_owned();
                    Some(Taken::NotUnderstood { question })
                }
                Some(orders) if orders.len() > 1 => Some(self.all_of(orders)),
                Some(readings) => Some(match readings.into_iter().next() {
                    // One of what was just asked about is an answer.
                    Some(order) if self.is_a_choice(&order) => Taken::Order { order },
                    order => self.one_of(order.into_iter().collect()),
                }),
            },
            Verdict::Wish => Some(cannot()),
            Verdict::Unknown | Verdict::Talk => None,
        }
    }
}

/// The orders as the program acts on them; nothing where it does not know one of them.
fn known(orders: &[Printed]) -> Option<Vec<Order>> {
    orders.iter().map(Printed::order).collect()
}

fn cannot() -> Taken {
    Taken::NotUnderstood {
        question: "That is nothing I can do.".to_owned(),
    }
}
