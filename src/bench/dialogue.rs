//! What was said, asked, doubted and heard; and how long speech goes on.

use std::collections::VecDeque;

use super::effect::{Chime, Effect, VoiceSettings, Why};
use super::event::Device;
use super::options::Attention;
use super::pending::Pending;
use super::words;
use crate::order::Order;
use crate::time::{Moment, Span};
use crate::timer::DishId;

/// How many of the last things said can be asked for again.
const RECENT: usize = 9;
/// After an answer no name is needed for this long.
const OPEN_FOR: Span = Span::seconds(8);
/// Before this moment nothing was ever said.
const NEVER: Moment = Moment(0);

/// The conversation.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dialogue {
    question: Option<Pending>,
    /// The last answer, for `again`.
    last: String,
    /// What was left of it, for `more`.
    rest: String,
    /// The dish and step of which it was asked last whether to leave it: it is asked once.
    left: Option<(DishId, usize)>,
    /// What the next thing said begins with.
    lead: String,
    /// The order that was carried out last.
    last_order: Option<Order>,
    /// The last few things said, the oldest first.
    recent: VecDeque<String>,
    /// The last order came by key: hints name keys.
    by_key: bool,
    /// What was heard last, and whether it meant something.
    heard: Option<(String, bool)>,
    /// What the open list offered last.
    choosing: String,
    /// A number half entered that time has taken back: said with the next event.
    lapsed: Option<String>,
    voice: VoiceSettings,
    listening: bool,
    /// About when what is being said will have been said.
    speaking_until: Moment,
    /// Until then no name is needed.
    awake_until: Moment,
    /// Devices that are not there, with what the cook was told.
    missing: Vec<(Device, String)>,
}

impl Dialogue {
    pub(super) fn new(voice: VoiceSettings) -> Self {
        Self {
            question: None,
            last: String::new(),
            rest: String::new(),
            left: None,
            lead: String::new(),
            last_order: None,
            recent: VecDeque::new(),
            by_key: false,
            heard: None,
            choosing: String::new(),
            lapsed: None,
            voice,
            listening: true,
            speaking_until: NEVER,
            awake_until: NEVER,
            missing: Vec::new(),
        }
    }

    // The question that waits.

    pub(super) fn question(&self) -> Option<&Pending> {
        self.question.as_ref()
    }

    pub(super) fn wait_for(&mut self, question: Pending) {
        self.question = Some(question);
    }

    pub(super) fn take_question(&mut self) -> Option<Pending> {
        self.question.take()
    }

    /// The question that waits, where it is such a one.
    pub(super) fn take_question_if(&mut self, is: impl Fn(&Pending) -> bool) -> Option<Pending> {
        self.question.take_if(|question| is(question))
    }

    /// A question that has waited too long is forgotten, and nothing done.
    pub(super) fn forget_stale(&mut self, now: Moment) {
        let until = self.question().and_then(Pending::wake_at);
        if until.is_some_and(|until| until <= now) {
            self.question = None;
        }
    }

    /// An alarm passes over a question about an order; what is said after the alarm must not answer the question.
    pub(super) fn drop_doubt(&mut self) {
        let is_look = matches!(
            self.question,
            Some(Pending::Look { .. } | Pending::StepLook { .. })
        );
        if !is_look {
            self.question = None;
        }
    }

    /// The steps are others now: only a look at a timer still waits.
    pub(super) fn drop_questions_of_steps(&mut self) {
        if !matches!(self.question, Some(Pending::Look { .. })) {
            self.question = None;
        }
    }

    /// The cook is at another dish: a look that ends a step is put again when the cook comes back to it.
    pub(super) fn drop_step_look(&mut self) {
        if matches!(self.question, Some(Pending::StepLook { .. })) {
            self.question = None;
        }
    }

    /// A timer is gone, and with it the look at it.
    pub(super) fn drop_look(&mut self, gone: impl Fn(u32) -> bool) {
        if matches!(self.question, Some(Pending::Look { timer, .. }) if gone(timer)) {
            self.question = None;
        }
    }

    // Speaking.

    /// A question, with its chime.
    pub(super) fn ask(&mut self, out: &mut Vec<Effect>, text: &str) {
        out.push(Effect::Chime {
            chime: Chime::Asked,
            urgency: 0,
        });
        self.say(out, text, Why::Ask);
    }

    /// The next thing said begins with this: `Leave the loaf.`, `The soup:`.
    pub(super) fn lead_with(&mut self, text: &str) {
        if self.lead.ends_with(text) {
            return;
        }
        if !self.lead.is_empty() {
            self.lead.push(' ');
        }
        self.lead.push_str(text);
    }

    /// Nothing was said that it could begin.
    pub(super) fn drop_lead(&mut self) {
        self.lead.clear();
    }

    fn led(&mut self, text: &str) -> String {
        if self.lead.is_empty() {
            return text.to_owned();
        }
        let lead = std::mem::take(&mut self.lead);
        let says_i = text.starts_with("I ") || text.starts_with("I'");
        if lead.ends_with(':') && !says_i {
            format!("{lead} {}", words::lower_first(text))
        } else {
            format!("{lead} {text}")
        }
    }

    /// Says something that `again` repeats.
    pub(super) fn say(&mut self, out: &mut Vec<Effect>, text: &str, why: Why) {
        let text = self.led(text);
        self.last.clone_from(&text);
        if matches!(why, Why::Answer | Why::Ask) {
            self.rest.clear();
        }
        self.aside(out, &text, why);
    }

    /// It was not asked yet whether to leave this step.
    pub(super) fn asks_to_leave(&self, step: (DishId, usize)) -> bool {
        self.left != Some(step)
    }

    /// It is asked now.
    pub(super) fn asked_to_leave(&mut self, step: (DishId, usize)) {
        self.left = Some(step);
    }

    /// Another step is entered.
    pub(super) fn enters(&mut self) {
        self.left = None;
    }

    /// Keeps what was left of the last answer.
    pub(super) fn leave_rest(&mut self, rest: String) {
        self.rest = rest;
    }

    /// What was left of the last answer, once.
    pub(super) fn take_rest(&mut self) -> String {
        std::mem::take(&mut self.rest)
    }

    /// Says something beside the answer: `again` repeats the answer, `the last two` this as well.
    pub(super) fn aside(&mut self, out: &mut Vec<Effect>, text: &str, why: Why) {
        let text = &self.led(text);
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

    /// What a key is answered with, at once.
    pub(super) fn say_back(out: &mut Vec<Effect>, text: &str) {
        out.push(Effect::Hush);
        out.push(Effect::Say {
            text: text.to_owned(),
            why: Why::Ask,
        });
    }

    /// Words that mean nothing here.
    pub(super) fn not_understood(out: &mut Vec<Effect>, question: &str) {
        out.push(Effect::Chime {
            chime: Chime::NotUnderstood,
            urgency: 0,
        });
        out.push(Effect::Say {
            text: question.to_owned(),
            why: Why::Ask,
        });
    }

    /// The last answer.
    pub(super) fn last(&self) -> &str {
        &self.last
    }

    /// The order that was carried out last.
    pub(super) fn last_order(&self) -> Option<&Order> {
        self.last_order.as_ref()
    }

    /// An order is carried out: what leans on the last one is read by it.
    pub(super) fn carry_out(&mut self, order: &Order) {
        if !order.is_answer() && !matches!(order, Order::Repeat { .. }) {
            self.last_order = Some(order.clone());
        }
    }

    /// It speaks now, as far as can be told.
    pub(super) fn is_speaking(&self, now: Moment) -> bool {
        now < self.speaking_until
    }

    /// `again` repeats this from now on.
    pub(super) fn set_last(&mut self, text: String) {
        self.last = text;
    }

    /// The last few things said, the oldest first.
    pub(super) fn recent(&self, count: usize) -> impl Iterator<Item = &String> {
        let from = self.recent.len().saturating_sub(count);
        self.recent.iter().skip(from)
    }

    pub(super) fn voice(&self) -> VoiceSettings {
        self.voice
    }

    pub(super) fn set_voice(&mut self, voice: VoiceSettings) {
        self.voice = voice;
    }

    // Hearing.

    /// What was heard last, and whether it meant something.
    pub(super) fn heard(&self) -> Option<&(String, bool)> {
        self.heard.as_ref()
    }

    pub(super) fn hear(&mut self, text: &str, clear: bool) {
        self.heard = Some((text.to_owned(), clear));
    }

    pub(super) fn is_by_key(&self) -> bool {
        self.by_key
    }

    pub(super) fn set_by_key(&mut self, by_key: bool) {
        self.by_key = by_key;
    }

    /// What the open list offered last.
    pub(super) fn choosing(&self) -> &str {
        &self.choosing
    }

    pub(super) fn choose(&mut self, text: &str) {
        text.clone_into(&mut self.choosing);
    }

    /// A number half entered was taken back by time.
    pub(super) fn lapse(&mut self, said: Option<String>) {
        self.lapsed = self.lapsed.take().or(said);
    }

    pub(super) fn take_lapsed(&mut self) -> Option<String> {
        self.lapsed.take()
    }

    pub(super) fn is_listening(&self) -> bool {
        self.listening
    }

    /// Acts on speech or not; how it was before.
    pub(super) fn listen(&mut self, on: bool) -> bool {
        std::mem::replace(&mut self.listening, on)
    }

    /// Devices that are not there, with what the cook was told.
    pub(super) fn missing(&self) -> &[(Device, String)] {
        &self.missing
    }

    /// A device came or went; true where that is news.
    pub(super) fn device(&mut self, device: Device, present: bool, note: &str) -> bool {
        let was = self.missing.iter().position(|(d, _)| *d == device);
        match (present, was) {
            (true, Some(at)) => {
                self.missing.remove(at);
            }
            (false, None) => self.missing.push((device, note.to_owned())),
            _ => return false,
        }
        true
    }

    /// Devices are found anew by every run of the program.
    pub(super) fn find_devices_anew(&mut self) {
        self.missing.clear();
    }

    /// Nothing can be heard: no microphone, or no speech model.
    pub(super) fn is_deaf(&self) -> bool {
        let mut missing = self.missing.iter();
        missing.any(|(d, _)| matches!(d, Device::Microphone | Device::Model))
    }

    /// It speaks, or did so lately, as far as can be told.
    pub(super) fn spoke_lately(&self, now: Moment) -> bool {
        self.speaking_until != NEVER && now < self.speaking_until.plus(OPEN_FOR)
    }

    /// No name is needed at that moment, as far as can be told now.
    pub(super) fn is_awake(&self, moment: Moment) -> bool {
        moment < self.awake_until
    }

    /// No name is needed for a while after what is being said.
    pub(super) fn stay_awake(&mut self, now: Moment) {
        self.awake_until = self.speaking_until.max(now).plus(OPEN_FOR);
    }

    /// Keeps count of how long the speech in these effects will last, and of who is spoken to after it.
    pub(super) fn follow_speech(&mut self, out: &[Effect], now: Moment, attention: Attention) {
        for effect in out {
            match effect {
                Effect::Hush => self.speaking_until = now,
                Effect::Say { text, why } => {
                    let from = self.speaking_until.max(now);
                    self.speaking_until = from.plus(speaking(text, self.voice));
                    let answers = matches!(why, Why::Answer | Why::Ask);
                    // Where a key opens the ear, only what follows one another keeps it open.
                    if answers && (attention != Attention::Key || self.is_awake(now)) {
                        self.stay_awake(now);
                    }
                }
                _ => {}
            }
        }
    }

    /// What a stop of the program forgets: what was half entered, how long it was going to speak, and words that meant
    /// nothing, which may have been talk.
    pub(super) fn forget_passing(&mut self) {
        self.lapsed = None;
        self.choosing.clear();
        self.speaking_until = NEVER;
        self.awake_until = NEVER;
        if matches!(self.heard, Some((_, false))) {
            self.heard = None;
        }
    }
}

/// Stops speech and alarms: obeyed without the name.
pub(super) fn is_stop(order: &Order) -> bool {
    matches!(order, Order::StopTalking | Order::StopChime)
}

/// About how long the voice takes for a text: 63 ms a letter and 300 ms a stop at the normal rate of 155 words a minute,
/// fitted to espeak-ng's own lengths (within a tenth for answers of a sentence or more).
fn speaking(text: &str, voice: VoiceSettings) -> Span {
    let stops = text.matches(['.', ',', ':', ';', '?', '!']).count();
    let ms = 63 * text.chars().count() as u64 + 300 * stops as u64;
    let words_a_minute = 155 + 15 * i64::from(voice.rate);
    Span::millis(ms * 155 / words_a_minute.max(1) as u64)
}
