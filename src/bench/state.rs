//! The bench's state, and the one way in.

use std::collections::{BTreeSet, VecDeque};

use super::attention::{NEVER, is_stop};
use super::effect::{Chime, Effect, VoiceSettings, Why};
use super::event::{Device, Event, Heard, Key};
use super::keypad::{KeyAnswer, Keypad};
use super::options::Options;
use super::pending::Pending;
use super::service::{Reach, Service};
use super::sureness::Trust;
use super::weighing::At;
use crate::formula::{Batch, Formula, ScaleError};
use crate::order::TimerRef;
use crate::time::{KitchenClock, Moment, Wall};
use crate::timer::{Found, Rack, Timer};
use crate::understand::{Intent, Lexicon, Understood};

/// How many of the last things said can be asked for again.
const RECENT: usize = 9;

/// A cooking session: a formula at today's size, where the cook is in it, what has gone in, and what is running.
///
/// `handle` is the whole behaviour. It reads no clock, file, device or environment; the same events at the same times
/// give the same effects. A `now` earlier than one seen before counts as that one.
#[derive(Debug, Clone, PartialEq)]
pub struct Bench {
    pub(super) formula: Formula,
    pub(super) options: Options,
    pub(super) batch: Batch,
    pub(super) lexicon: Lexicon,
    pub(super) now: Moment,
    pub(super) clock: KitchenClock,
    /// The current step; none before the first.
    pub(super) step: Option<usize>,
    /// All steps are done.
    pub(super) finished: bool,
    /// For each step and each of its uses: when it went in.
    pub(super) added: Vec<Vec<Option<Moment>>>,
    /// Uses counted as in at this step by going on, not by word: going back takes them back, the last one first.
    pub(super) assumed: Vec<At>,
    pub(super) rack: Rack,
    /// The formula's timers that have been started: step and name. One that the cook stops is offered again.
    pub(super) begun: Vec<(usize, String)>,
    pub(super) pending: Option<Pending>,
    /// The plan for the hour of serving, where one was asked for.
    pub(super) service: Option<Service>,
    pub(super) reach: Reach,
    /// The last answer, for `again`.
    pub(super) last: String,
    /// The last few things said, the oldest first.
    pub(super) recent: VecDeque<String>,
    /// The last order came by key: hints name keys.
    pub(super) by_key: bool,
    pub(super) heard: Option<(String, bool)>,
    pub(super) voice: VoiceSettings,
    /// The mixer's friction in degrees, once it was worked out from a batch.
    pub(super) friction_c: f64,
    pub(super) listening: bool,
    /// About when what is being said will have been said.
    pub(super) speaking_until: Moment,
    /// Until then no name is needed.
    pub(super) awake_until: Moment,
    /// Steps whose cautions have been spoken.
    pub(super) cautioned: BTreeSet<usize>,
    /// Devices that are not there, with what the cook was told.
    pub(super) missing: Vec<(Device, String)>,
    pub(super) keypad: Keypad,
    /// What the open list offered last.
    pub(super) choosing: String,
    pub(super) left: bool,
}

impl Bench {
    /// A bench with a formula on it; nothing happens before `Event::Start`.
    ///
    /// # Errors
    /// When the formula cannot be made in the size that the options ask for.
    pub fn new(formula: Formula, options: Options) -> Result<Self, ScaleError> {
        let batch = match &options.size {
            Some(by) => Batch::scaled(&formula, by)?,
            None => Batch::as_written(&formula),
        };
        let added = formula
            .steps
            .iter()
            .map(|s| vec![None; s.uses.len()])
            .collect();
        Ok(Self {
            batch,
            service: None,
            reach: Reach::new(formula.steps.len()),
            lexicon: super::lexicon(&formula).with_call_name(&options.name),
            formula,
            voice: options.voice,
            options,
            now: Moment(0),
            clock: KitchenClock::read(Moment(0), Wall::fixed(0, 0)),
            step: None,
            finished: false,
            added,
            assumed: Vec::new(),
            rack: Rack::default(),
            begun: Vec::new(),
            pending: None,
            last: String::new(),
            recent: VecDeque::new(),
            by_key: false,
            heard: None,
            friction_c: 0.0,
            listening: true,
            speaking_until: NEVER,
            awake_until: NEVER,
            cautioned: BTreeSet::new(),
            missing: Vec::new(),
            keypad: Keypad::default(),
            choosing: String::new(),
            left: false,
        })
    }

    /// Takes one event and answers with what is to be done, in order.
    pub fn handle(&mut self, event: &Event, now: Moment) -> Vec<Effect> {
        let mut out = Vec::new();
        self.now = self.now.max(now);
        if !self.left {
            self.take(event, &mut out);
            self.follow_speech(&out);
        }
        out
    }

    fn take(&mut self, event: &Event, out: &mut Vec<Effect>) {
        if let Event::Start { wall } = event {
            self.clock = KitchenClock::read(self.now, wall.clone());
            self.welcome(out);
            return;
        }
        self.lapse(out);
        match event {
            Event::Start { .. } | Event::Tick => {}
            Event::Heard(heard) => self.hear(heard, out),
            Event::Key { key } => self.key(*key, out),
            Event::KeyHeld { key } => {
                self.by_key = true;
                let what = self.keypad.held(*key, &self.key_place());
                self.tell(out, &what);
            }
            Event::WallChanged { wall } => self.wall_changed(wall, out),
            Event::Device {
                device,
                present,
                note,
            } => self.device(*device, *present, note, out),
            Event::Resumed {
                wall,
                gap_ms,
                notes,
            } => self.resumed(wall, *gap_ms, notes, out),
            Event::Told { text } => self.note(out, text),
        }
        if !self.left {
            self.ring(out);
            self.offer_choices(out);
        }
        self.follow(out);
    }

    /// When the bench next has something to do by itself.
    pub fn wake_at(&self) -> Option<Moment> {
        [
            self.rack.wake_at(),
            self.keypad.wake_at(),
            self.pending.as_ref().and_then(Pending::wake_at),
            self.service.as_ref().and_then(Service::wake_at),
        ]
        .into_iter()
        .flatten()
        .min()
    }

    /// The session is over.
    pub fn is_over(&self) -> bool {
        self.left
    }

    /// The formula on the bench.
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Today's size.
    pub fn batch(&self) -> &Batch {
        &self.batch
    }

    /// How it speaks now.
    pub fn voice_settings(&self) -> VoiceSettings {
        self.voice
    }

    /// It says as few words as will do.
    pub fn is_brief(&self) -> bool {
        self.options.brief
    }

    /// The names that can be said now.
    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// The timers.
    pub fn rack(&self) -> &Rack {
        &self.rack
    }

    fn hear(&mut self, heard: &Heard, out: &mut Vec<Effect>) {
        if heard.text.trim().is_empty() {
            return;
        }
        let weighed = self.weighed(heard);
        let always = match &weighed.understood {
            Understood::Order(Intent::StartListening) => !self.listening,
            Understood::Order(intent) => is_stop(intent) && (heard.over || self.may_sound()),
            _ => false,
        };
        let trust = self.trust(heard, &weighed);
        if trust == Trust::Ignore || !(always || self.listening && self.is_spoken_to(heard)) {
            return;
        }
        self.by_key = false;
        if weighed.understood != Understood::Order(Intent::WhatHeard) {
            let clear = !matches!(weighed.understood, Understood::Nothing { .. });
            self.heard = Some((heard.text.clone(), clear));
        }
        match &weighed.understood {
            Understood::Nothing { question } => self.not_understood(question, out),
            Understood::Doubt { question, readings } => {
                self.put(
                    Pending::which(readings.clone(), question.clone(), self.now),
                    out,
                );
            }
            Understood::Order(intent) if trust == Trust::Ask => {
                let rather = weighed.rather(intent);
                self.did_you_say(&heard.text, intent.clone(), rather, out);
            }
            Understood::Order(intent) => {
                out.push(Effect::Understood {
                    intent: intent.clone(),
                });
                self.act(intent.clone(), out);
            }
        }
    }

    /// A question about a timer that runs is not asked back for what else the words could ask.
    pub(super) fn meant(&self, understood: Understood) -> Understood {
        let runs = |reading: &&Intent| match reading {
            Intent::TimeLeft {
                timer: Some(TimerRef::Said(name)),
            }
            | Intent::ReadyWhen {
                timer: Some(TimerRef::Said(name)),
            } => {
                matches!(self.rack.find(name), Found::One(id) if self.rack.get(id).is_some_and(Timer::is_live))
            }
            _ => false,
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
        let wanted: &[Intent] = match &self.pending {
            Some(Pending::Which { readings, .. }) => readings,
            _ => &[],
        };
        if self.lexicon.choices() != wanted {
            self.lexicon = self.lexicon.clone().with_choices(wanted);
            out.push(Effect::Vocabulary);
        }
    }

    /// One short question about a doubtful hearing, and nothing done.
    fn did_you_say(
        &mut self,
        text: &str,
        intent: Intent,
        rather: Option<Intent>,
        out: &mut Vec<Effect>,
    ) {
        // A doubtful yes must not confirm anything, and asking 'did you say yes' would only go round in circles.
        if intent.is_answer() {
            if let Some(p) = &self.pending {
                let question = p.question().to_owned();
                self.ask(out, &question);
            }
            return;
        }
        if let Some(other) = rather {
            let readings = vec![intent, other];
            let question = crate::understand::question_between(&readings, &self.lexicon);
            self.put(Pending::which(readings, question, self.now), out);
            return;
        }
        let question = format!("Did you say: {text}?");
        self.put(Pending::confirm(intent, question, self.now), out);
    }

    fn not_understood(&mut self, question: &str, out: &mut Vec<Effect>) {
        out.push(Effect::Chime {
            chime: Chime::NotUnderstood,
            urgency: 0,
        });
        out.push(Effect::Say {
            text: question.to_owned(),
            why: Why::Ask,
        });
    }

    fn key(&mut self, key: Key, out: &mut Vec<Effect>) {
        self.by_key = true;
        let place = self.key_place();
        match self.keypad.press(key, self.now, &place) {
            KeyAnswer::Intent(intent) => {
                out.push(Effect::Understood {
                    intent: intent.clone(),
                });
                self.act(intent, out);
            }
            KeyAnswer::Entry { said } => self.say_back(said, out),
            KeyAnswer::Choice { said, .. } | KeyAnswer::Say(said) => {
                self.choosing.clone_from(&said);
                self.say_back(said, out);
            }
            KeyAnswer::Pick(at) => {
                if let Some(Pending::Which { readings, .. }) = &self.pending
                    && let Some(intent) = readings.get(at).cloned()
                {
                    out.push(Effect::Understood {
                        intent: intent.clone(),
                    });
                    self.act(intent, out);
                }
            }
            KeyAnswer::Nothing => {}
        }
    }

    /// What a key is answered with, at once.
    fn say_back(&mut self, text: String, out: &mut Vec<Effect>) {
        out.push(Effect::Hush);
        out.push(Effect::Say {
            text,
            why: Why::Ask,
        });
    }

    // Ways to speak. Every one keeps what `again` repeats.

    /// An answer.
    pub(super) fn tell(&mut self, out: &mut Vec<Effect>, text: &str) {
        if text.is_empty() {
            return;
        }
        self.say(out, text, Why::Answer);
    }

    /// A question, with its chime.
    pub(super) fn ask(&mut self, out: &mut Vec<Effect>, text: &str) {
        out.push(Effect::Chime {
            chime: Chime::Asked,
            urgency: 0,
        });
        self.say(out, text, Why::Ask);
    }

    /// News that answers nothing.
    pub(super) fn note(&mut self, out: &mut Vec<Effect>, text: &str) {
        self.say(out, text, Why::Notice);
    }

    /// Says something that `again` repeats.
    pub(super) fn say(&mut self, out: &mut Vec<Effect>, text: &str, why: Why) {
        text.clone_into(&mut self.last);
        self.aside(out, text, why);
    }

    /// Says something beside the answer: `again` repeats the answer, `the last two` this as well.
    pub(super) fn aside(&mut self, out: &mut Vec<Effect>, text: &str, why: Why) {
        if self.recent.back().is_none_or(|t| t != text) {
            self.recent.push_back(text.to_owned());
        }
        if self.recent.len() > RECENT {
            self.recent.pop_front();
        }
        out.push(Effect::Say {
            text: text.to_owned(),
            why,
        });
    }

    /// No word would be acted on, or the last order came by key.
    pub(super) fn keyed(&self) -> bool {
        self.by_key || !self.listening || self.deaf()
    }

    /// Nothing can be heard: no microphone, or no speech model.
    pub(super) fn deaf(&self) -> bool {
        self.missing
            .iter()
            .any(|(d, _)| matches!(d, Device::Microphone | Device::Model))
    }

    /// How to go on, for a cook who speaks or for one who presses keys; nothing when few words are wanted.
    pub(super) fn hint(&self, spoken: &str, keyed: &str) -> String {
        let hint = if self.keyed() { keyed } else { spoken };
        if self.options.brief || hint.is_empty() {
            String::new()
        } else {
            format!(" {hint}")
        }
    }
}
