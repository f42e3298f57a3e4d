//! The session: events in, effects out, nothing else touched.

mod account;
mod accounting;
mod act;
mod alarm;
mod asking;
mod at_scale;
mod attention;
mod beside;
mod choosing;
mod context;
mod core;
mod correcting;
mod dialogue;
mod dinner;
mod dish;
mod dishes;
mod edited;
mod effect;
mod emergency;
mod english;
mod event;
mod everyday;
mod help;
mod in_all;
mod instead;
mod last_time;
mod length;
mod moving;
mod options;
mod out_of_noise;
mod oven;
mod own_time;
mod packets;
mod pending;
mod pieces;
mod reading;
mod recorded;
mod remembered;
mod remembering;
mod scale_news;
mod scale_orders;
mod service;
mod sureness;
mod taken;
mod telling;
mod times;
mod timing;
mod turns;
mod undo;
mod view;
mod view_of;
mod wanted;
mod weighed;
mod weighing;
mod words;

pub use crate::order::Key;
pub use crate::timer::DishId;
pub use account::{Account, PutIn, StepTaken};
pub use beside::Beside;
pub use context::{ask_context, kitchen_lexicon, lexicon, true_hydration};
pub use effect::{Chime, Effect, TakeDown, TimerChange, VoiceSettings, Why};
pub use emergency::first_aid;
pub use english::English;
pub use event::{Device, Event, Heard};
pub use last_time::LastTime;
pub use options::{Attention, Options};
pub use own_time::{Belief, OwnTime, believe, middle, rise_in};
pub use remembered::{OVEN, Remembered};
pub use taken::{Shows, Taken, Turn};
pub use view::{Big, DishView, ListView, Listening, Pouring, TimerState, TimerView, View};
pub use weighed::Weighed;
pub use words::list;

use self::at_scale::AtScale;
use self::dialogue::{Dialogue, is_stop};
use self::dish::Dish;
use self::dishes::Dishes;
use self::pending::Pending;
use self::service::Service;
use self::undo::Undo;
use self::weighed::Trust;
use crate::formula::{Batch, Formula, ScaleError};
use crate::keypad::{KeyAnswer, Keypad};
use crate::order::{Asked, Order, Situation, TimerHere, TimerRef};
use crate::time::{KitchenClock, Moment, Wall};
use crate::timer::{Rack, Timer, TimerNamed};
use crate::understand::{Lexicon, Understood};

/// A cooking session: a formula at today's size, where the cook is in it, what has gone in, and what is running.
///
/// `handle` is the whole behaviour. It reads no clock, file, device or environment; the same events at the same times
/// give the same effects. A `now` earlier than one seen before counts as that one.
#[derive(Debug, Clone, PartialEq)]
pub struct Bench {
    options: Options,
    now: Moment,
    clock: KitchenClock,
    dishes: Dishes,
    /// The names that can be said now.
    lexicon: Lexicon,
    rack: Rack,
    dialogue: Dialogue,
    /// The plan for the hour of serving, where one was asked for.
    service: Option<Service>,
    /// What has been done and can be taken back.
    undo: Undo,
    keypad: Keypad,
    scale: AtScale,
    /// The mixer's friction in degrees, once it was worked out from a batch.
    friction_c: f64,
    /// What the cook has noted in this session: of which dish, the file of its sound, and the words.
    notes: Vec<(DishId, Option<String>, String)>,
    /// The titles of the book.
    book: std::sync::Arc<Vec<String>>,
    /// Whose turn it was when the order came that is being carried out.
    turn: Option<Turn>,
    left: bool,
}

impl Bench {
    /// A bench with a formula on it; nothing happens before `Event::Start`.
    ///
    /// # Errors
    /// When the formula cannot be made in the size that the options ask for.
    pub fn new(formula: Formula, options: Options) -> Result<Self, ScaleError> {
        let mut batch = Batch::as_written(&formula);
        for by in &options.size {
            batch = batch.then(&formula, by)?;
        }
        let dish = Dish::new(formula, batch, options.remembered());
        let mut dishes = Dishes::of(dish);
        for beside in &options.beside {
            dishes.add(dishes::made_of(beside));
        }
        let mut bench = Self {
            lexicon: Lexicon::without_formula(),
            dishes,
            dialogue: Dialogue::new(options.voice),
            options,
            now: Moment(0),
            clock: KitchenClock::read(Moment(0), Wall::fixed(0, 0)),
            rack: Rack::default(),
            service: None,
            undo: Undo::default(),
            keypad: Keypad::default(),
            scale: AtScale::default(),
            friction_c: 0.0,
            notes: Vec::new(),
            book: std::sync::Arc::default(),
            turn: None,
            left: false,
        };
        bench.lexicon = bench.names();
        Ok(bench)
    }

    /// Takes one event and answers with what is to be done, in order.
    pub fn handle(&mut self, event: &Event, now: Moment) -> Vec<Effect> {
        let taken = self.take(event, now);
        self.apply(event, &taken, now)
    }

    /// What an event means here. Nothing is done; of a key, what has been entered so far is kept.
    pub fn take(&mut self, event: &Event, now: Moment) -> Taken {
        self.now = self.now.max(now);
        if self.left {
            return Taken::Ignored;
        }
        // What has waited too long must not be answered any more.
        self.dialogue.forget_stale(self.now);
        self.dialogue.lapse(self.keypad.lapse(self.now));
        let taken = match event {
            Event::Scale { reading } => return self.take_reading(reading),
            Event::Heard(heard) => self.as_wanted_here(self.take_words(heard), &heard.text),
            Event::Key { key } => self.take_key(*key),
            Event::KeyHeld { key } => Taken::KeySays {
                text: self.keypad.held(*key, &self.situation()),
                choosing: false,
            },
            _ => Taken::AsItIs,
        };
        let taken = self.with_turn(taken);
        self.beside_scale(taken)
    }

    /// Does what an event was taken to mean, and answers with what is to be done, in order.
    pub fn apply(&mut self, event: &Event, taken: &Taken, now: Moment) -> Vec<Effect> {
        let mut out = Vec::new();
        self.now = self.now.max(now);
        if !self.left {
            let noting = self.is_noting();
            self.happen(event, taken, &mut out);
            let told = |e: &Effect| matches!(e, Effect::TakeDown { .. });
            if noting && !self.is_noting() && !out.iter().any(told) {
                // Something else came: an alarm, another order.
                let what = TakeDown::Keep;
                out.push(Effect::TakeDown { what });
            }
            let attention = self.options.attention;
            self.dialogue.drop_lead();
            self.dialogue.follow_speech(&out, self.now, attention);
        }
        if let Some(english) = self.options.english {
            for effect in &mut out {
                if let Effect::Say { text, .. } = effect {
                    *text = english.say(text);
                }
            }
        }
        out
    }

    fn happen(&mut self, event: &Event, taken: &Taken, out: &mut Vec<Effect>) {
        if let Event::Start { wall } = event {
            self.clock = KitchenClock::read(self.now, wall.clone());
            self.welcome(out);
            return;
        }
        if taken.passes(event) {
            // It is not kept, so nothing may come of it that stays: what time brings, the next tick brings.
            if let (Event::Scale { .. }, Taken::Called { call }) = (event, taken) {
                Self::called_out(*call, out);
            }
            return;
        }
        self.lapse(out);
        match event {
            Event::Start { .. } | Event::Tick => {}
            Event::Heard(heard) => {
                self.dialogue.set_by_key(false);
                let asks_what = Taken::Order {
                    order: Order::WhatHeard,
                };
                if *taken != asks_what {
                    let clear = !matches!(taken, Taken::NotUnderstood { .. });
                    self.dialogue.hear(&heard.text, clear);
                }
                self.obey(taken, out);
            }
            Event::Key { .. } => {
                self.dialogue.set_by_key(true);
                self.obey(taken, out);
            }
            Event::KeyHeld { .. } => {
                self.dialogue.set_by_key(true);
                if let Taken::KeySays { text, .. } = taken {
                    self.tell(out, text);
                }
            }
            Event::Scale { reading } => {
                if let Taken::Weighed { news } = taken {
                    self.weighed_news(reading, news, out);
                }
            }
            Event::WallChanged { wall } => self.wall_changed(wall, out),
            Event::Device {
                device,
                present,
                note,
            } => {
                if *device == Device::Scale {
                    self.scale.forget_passing();
                }
                self.device(*device, *present, note, out);
            }
            Event::Resumed {
                wall,
                gap_ms,
                notes,
                dish,
                formula,
            } => {
                let edited = formula.as_deref().map(|text| (*dish, text));
                self.resumed(wall, *gap_ms, notes, edited, out);
            }
            Event::Beside { beside } => self.dish_came(beside, out),
            Event::Noted { text, recording } => self.noted(text, recording.as_deref(), out),
            Event::Told { text } => self.note(out, text),
        }
        if !self.left {
            self.ring(out);
            self.offer_choices(out);
        }
        self.follow(out);
        self.light_in_time(out);
    }

    /// What a stop of the program forgets: what was half entered, how long it was going to speak, and words that meant
    /// nothing, which may have been talk.
    pub(crate) fn forget_passing(&mut self) {
        self.keypad = Keypad::default();
        self.scale.forget_passing();
        self.dialogue.forget_passing();
    }

    /// When the bench next has something to do by itself.
    pub fn wake_at(&self) -> Option<Moment> {
        if self.left {
            return None;
        }
        [
            self.rack.wake_at(),
            self.keypad.wake_at(),
            self.dialogue.question().and_then(Pending::wake_at),
            self.service.as_ref().and_then(Service::wake_at),
            self.light_at().filter(|at| *at > self.now),
        ]
        .into_iter()
        .flatten()
        .min()
    }

    /// The session is over.
    pub fn is_over(&self) -> bool {
        self.left
    }

    /// A dish's formula and its size today.
    pub fn formula_of(&self, dish: DishId) -> Option<(&Formula, &Batch)> {
        let dish = self.dishes.get(dish)?;
        Some((dish.formula(), dish.batch()))
    }

    /// The formula of the dish that the cook is at.
    pub fn formula(&self) -> &Formula {
        self.dish().formula()
    }

    /// The same as it is written, whatever the cook has taken where it leaves a choice.
    pub fn written(&self) -> &Formula {
        self.dish().written()
    }

    /// The first dish's formula is another than this.
    pub fn is_edited(&self, formula: &Formula) -> bool {
        self.dishes.all()[0].written() != formula
    }

    /// The same formula is a dish already, word for word.
    pub fn has(&self, beside: &Beside) -> bool {
        let made = dishes::made_of(beside);
        let mut all = self.dishes.all().iter();
        all.any(|dish| dish.written() == made.written())
    }

    /// Today's size.
    pub fn batch(&self) -> &Batch {
        self.dish().batch()
    }

    /// How it speaks now.
    pub fn voice_settings(&self) -> VoiceSettings {
        self.dialogue.voice()
    }

    /// It says as few words as will do.
    pub fn is_brief(&self) -> bool {
        self.options.brief
    }

    /// The cook was told that this device is missing.
    pub fn lacks(&self, device: Device) -> bool {
        self.dialogue.missing().iter().any(|(d, _)| *d == device)
    }

    /// The names that can be said now.
    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// Where the cook is, as far as the meaning of words and keys goes.
    fn situation(&self) -> Situation {
        let timer = |t: &&Timer| TimerHere {
            id: t.id,
            name: t.name.clone(),
        };
        Situation {
            ringing: !self.rack.ringing().is_empty(),
            asked: match self.dialogue.question() {
                None => Asked::Nothing,
                Some(Pending::HowLong { .. }) => Asked::HowLong,
                Some(Pending::Look { .. } | Pending::StepLook { .. }) => Asked::Look,
                Some(Pending::Which { readings, .. }) => Asked::Which(readings.clone()),
                Some(_) => Asked::YesOrNo,
            },
            weighing: self.dish().called().is_some(),
            offered: self.dish().offered().is_some(),
            timers: self.rack.live(self.now).iter().map(timer).collect(),
            step: self.step().map_or(0, |s| s + 1),
            ..self.lexicon.situation().clone()
        }
    }

    /// The timers.
    pub fn rack(&self) -> &Rack {
        &self.rack
    }

    fn take_words(&self, heard: &Heard) -> Taken {
        if heard.text.trim().is_empty() {
            return Taken::Ignored;
        }
        if let Some(order) = self.emergency(heard) {
            return Taken::Order { order };
        }
        if let Some(order) = self.core_said(heard) {
            return Taken::Order { order };
        }
        if let Some(note) = self.taken_down(heard) {
            return note;
        }
        if heard.loosely {
            return self.take_by_ear(heard);
        }
        let weighed = self.weighed(heard);
        let always = match &weighed.understood {
            Understood::Order(Order::StartListening) => !self.dialogue.is_listening(),
            Understood::Order(order) => is_stop(order) && (heard.over || self.may_sound()),
            _ => false,
        };
        let trust = self.trust(heard, &weighed);
        if trust == Trust::Ignore
            || !(always || self.dialogue.is_listening() && self.is_spoken_to(heard))
        {
            return Taken::Ignored;
        }
        match &weighed.understood {
            // What the strict network hears by ear is what the grammar reads; free speech went another way.
            Understood::Nothing { question } => heard
                .typed
                .then(|| {
                    Self::typed_note(&heard.text)
                        .or_else(|| self.taken_as_correction(&heard.text))
                        .or_else(|| self.taken_as_dish(&heard.text))
                        .or_else(|| self.take_freely(&heard.text))
                })
                .flatten()
                .unwrap_or_else(|| Taken::NotUnderstood {
                    question: question.clone(),
                }),
            Understood::Doubt { question, readings } => heard
                .typed
                .then(|| self.unless_one_of(readings, &heard.text))
                .flatten()
                .unwrap_or_else(|| Taken::OneOf {
                    question: question.clone(),
                    readings: readings.clone(),
                }),
            Understood::Order(order) if trust == Trust::Ask => Taken::Doubtful {
                rather: weighed.rather(order),
                order: order.clone(),
            },
            Understood::Order(order) => {
                match crate::reader::leaning(order.clone(), &heard.text, &self.scene()) {
                    Some(order) if heard.typed => self.unless_doubted(order, &heard.text),
                    Some(order) => self.unless_heard_otherwise(order, heard),
                    // It was broken off before it said anything: the question stands.
                    None => Taken::Ignored,
                }
            }
        }
    }

    fn take_key(&mut self, key: Key) -> Taken {
        let here = self.situation();
        match self.keypad.press(key, self.now, &here) {
            KeyAnswer::Order(order) => Taken::Order { order },
            KeyAnswer::Entry { said } => Taken::KeySays {
                text: said,
                choosing: false,
            },
            KeyAnswer::Choice { said, .. } | KeyAnswer::Say(said) => Taken::KeySays {
                text: said,
                choosing: true,
            },
            KeyAnswer::Pick(at) => match self.dialogue.question() {
                Some(Pending::Which { readings, .. }) => {
                    let order = readings.get(at).cloned();
                    order.map_or(Taken::Ignored, |order| Taken::Order { order })
                }
                _ => Taken::Ignored,
            },
            KeyAnswer::Nothing => Taken::Ignored,
        }
    }

    fn obey(&mut self, taken: &Taken, out: &mut Vec<Effect>) {
        match taken {
            Taken::AsItIs | Taken::Ignored | Taken::Weighed { .. } | Taken::Called { .. } => {}
            Taken::AtScale { order, shows } => {
                self.scale.shows = Some(*shows);
                let order = order.clone();
                self.obey(&Taken::Order { order }, out);
                self.scale.shows = None;
            }
            Taken::Order { order } => {
                out.push(Effect::Understood {
                    intent: order.clone(),
                });
                self.act(order.clone(), out);
            }
            Taken::GoOn { order, turn } => {
                self.turn = Some(*turn);
                let order = order.clone();
                self.obey(&Taken::Order { order }, out);
                self.turn = None;
            }
            Taken::Orders { orders } => {
                for order in orders {
                    out.push(Effect::Understood {
                        intent: order.clone(),
                    });
                    self.act(order.clone(), out);
                    // What asks first waits for its answer; the rest is said again then.
                    if self.dialogue.question().is_some_and(Pending::is_doubt) {
                        break;
                    }
                }
            }
            Taken::Doubtful { order, rather } => {
                self.did_you_say(order.clone(), rather.clone(), out);
            }
            Taken::OneOf { question, readings } => {
                let question = Pending::which(readings.clone(), question.clone(), self.now);
                self.put(question, out);
            }
            Taken::AllOf { question, orders } => {
                if !orders.is_empty() {
                    let all = Pending::guess(orders.clone(), question.clone(), self.now);
                    self.put(all, out);
                }
            }
            Taken::NotUnderstood { question } => {
                // Other words have come after a guess: a yes is no answer to it any more.
                self.dialogue
                    .take_question_if(|p| p.is_guess() && p.question() != question);
                Dialogue::not_understood(out, question);
            }
            Taken::KeySays { text, choosing } => {
                if *choosing {
                    self.dialogue.choose(text);
                }
                Dialogue::say_back(out, text);
            }
        }
    }

    /// A question about a timer that runs is not asked back for what else the words could ask.
    fn meant(&self, understood: Understood) -> Understood {
        let runs = |reading: &&Order| {
            let Some(Some(TimerRef::Said(name))) = reading.timer() else {
                return false;
            };
            let live = |id| self.rack.get(id).is_some_and(Timer::is_live);
            reading.only_asks() && matches!(self.rack.find(&name), TimerNamed::One(id) if live(id))
        };
        match &understood {
            Understood::Doubt { readings, .. } => match readings.iter().find(runs) {
                Some(reading) => Understood::Order(reading.clone()),
                None => understood,
            },
            _ => understood,
        }
    }

    /// While a question between readings waits, what tells them apart can be said and heard.
    fn offer_choices(&mut self, out: &mut Vec<Effect>) {
        let wanted: &[Order] = match self.dialogue.question() {
            Some(Pending::Which { readings, .. }) => readings,
            _ => &[],
        };
        if self.lexicon.choices() != wanted {
            self.lexicon = self.lexicon.clone().with_choices(wanted);
            out.push(Effect::Vocabulary);
        }
    }

    /// One short question about a doubtful hearing, and nothing done.
    fn did_you_say(&mut self, order: Order, rather: Option<Order>, out: &mut Vec<Effect>) {
        // A doubtful yes must not confirm anything, and asking 'did you say yes' would only go round in circles.
        if order.is_answer() {
            if let Some(p) = self.dialogue.question() {
                let question = p.question().to_owned();
                self.dialogue.ask(out, &question);
            }
            return;
        }
        if let Some(other) = rather {
            let readings = vec![order, other];
            let question = crate::understand::question_between(&readings, self.lexicon.situation());
            self.put(Pending::which(readings, question, self.now), out);
            return;
        }
        let heard = self.dialogue.heard().map_or("", |(text, _)| text);
        let question = format!("Did you say: {heard}?");
        self.put(Pending::guess(vec![order], question, self.now), out);
    }

    // Ways to speak. Every one keeps what `again` repeats.

    /// An answer.
    fn tell(&mut self, out: &mut Vec<Effect>, text: &str) {
        if !text.is_empty() {
            self.dialogue.say(out, text, Why::Answer);
        }
    }

    /// News that answers nothing.
    fn note(&mut self, out: &mut Vec<Effect>, text: &str) {
        self.dialogue.say(out, text, Why::Notice);
    }

    /// What was said last.
    pub fn last_said(&self) -> &str {
        self.dialogue.last()
    }

    /// A number or a list is open: the next key belongs to it.
    pub fn is_entering(&self) -> bool {
        self.keypad.is_open()
    }

    /// A question waits for an answer.
    pub fn is_asking(&self) -> bool {
        self.dialogue.question().is_some()
    }

    /// No word would be acted on, or the last order came by key.
    fn keyed(&self) -> bool {
        self.dialogue.is_by_key() || !self.dialogue.is_listening() || self.dialogue.is_deaf()
    }

    // The dish that the cook is at.

    fn dish(&self) -> &Dish {
        self.dishes.here()
    }

    fn dish_mut(&mut self) -> &mut Dish {
        self.dishes.here_mut()
    }

    /// The current step; the last one where all are done, none before the first.
    fn step(&self) -> Option<usize> {
        self.dish().step()
    }

    /// All steps are done.
    fn is_finished(&self) -> bool {
        self.dish().is_finished()
    }

    /// How to go on, for a cook who speaks or for one who presses keys; nothing when few words are wanted.
    fn hint(&self, spoken: &str, keyed: &str) -> String {
        let hint = if self.keyed() { keyed } else { spoken };
        if self.options.brief || hint.is_empty() {
            String::new()
        } else {
            format!(" {hint}")
        }
    }
}
