//! The thread that speaks and rings: in order, never over each other, and silent at once when it should be. It waits for
//! no voice: voices make their sentences on threads of their own, and an alarm rings whatever they do.

use std::collections::VecDeque;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, TrySendError, select, unbounded};

use super::news::{MouthNews, OwnSound};
use super::voices::{Answer, PATIENCE, Patience, Reply, Voices};
use super::{SayError, Sound, Voice, chime, tone};
use crate::bench::{Chime, Effect, VoiceSettings, Why};

/// How often a sound in progress is looked at; speech stops within this.
const LOOK: Duration = Duration::from_millis(20);
/// Where nothing is to be done, nothing is looked at for so long.
const IDLE: Duration = Duration::from_hours(1);
/// A voice that plays itself and was told to be silent is waited for no longer than this.
const HUSHED: Duration = Duration::from_millis(150);
/// The words of one alarm are waited for by the chime of another for this long, where they are being made.
const MADE: Duration = Duration::from_millis(200);
/// A weight is called within this, or not at all.
const CALLED: Duration = Duration::from_millis(200);
/// A sentence that is made for longer than this leaves the kitchen silent meanwhile.
const GAP: Duration = Duration::from_millis(400);

/// A sentence longer than this is heard up to its first comma while the rest is made; what is cut off is no shorter than
/// the second.
const LONG: usize = 60;
const PART: usize = 12;

/// Where sound comes out.
pub trait Sink: Send {
    /// Begins to play; returns at once.
    ///
    /// # Errors
    /// When the loudspeaker is gone.
    fn play(&mut self, sound: &Sound) -> Result<(), SayError>;
    /// Still sounding?
    fn busy(&self) -> bool;
    /// Silent, now.
    fn stop(&mut self);
}

/// What a sound is worth. An alarm passes over speech; only what answers it, or its own next ring, takes its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rank {
    /// A weight called while it is poured: now, or not at all.
    Call,
    Speech,
    /// Said once: it waits for its turn, whatever comes.
    Cue,
    /// Rings again until it is answered.
    Due,
}

/// Something that waits to be heard.
struct Item {
    rank: Rank,
    what: What,
    since: Instant,
}

enum What {
    /// A sentence, in the voice that was set when it was given.
    Say(String, VoiceSettings),
    Ring(Sound),
}

/// The speaking thread. Dropping it stops the sound.
pub struct Mouth {
    orders: Sender<Order>,
    thread: Option<std::thread::JoinHandle<()>>,
}

enum Order {
    Say { text: String, why: Why },
    Tone(u8),
    Ring { sound: Sound, rank: Rank },
    Hush,
    Voice(VoiceSettings),
    Prepare(Vec<String>),
    Finish,
}

impl Mouth {
    /// Starts the thread. The first voice speaks; when it fails, the next. `own` is told what comes out of the
    /// loudspeaker; what it has no room for it misses.
    pub fn start(
        voices: Vec<Box<dyn Voice>>,
        settings: VoiceSettings,
        sink: Box<dyn Sink>,
        own: Option<Sender<OwnSound>>,
    ) -> (Self, Receiver<MouthNews>) {
        Self::start_with(voices, settings, sink, own, PATIENCE)
    }

    fn start_with(
        voices: Vec<Box<dyn Voice>>,
        settings: VoiceSettings,
        sink: Box<dyn Sink>,
        own: Option<Sender<OwnSound>>,
        patience: Patience,
    ) -> (Self, Receiver<MouthNews>) {
        let (orders, inbox) = unbounded();
        let (news, outbox) = unbounded();
        let thread = std::thread::Builder::new()
            .name("mouth".to_owned())
            .spawn(move || {
                let (voices, replies) = Voices::start(voices, patience);
                Speaking {
                    voices,
                    sink,
                    news,
                    own,
                    queue: VecDeque::new(),
                    saying: None,
                    made: None,
                    hushed: None,
                    settings,
                    heard: Rank::Speech,
                    alarm: Rank::Due,
                    sounding: false,
                }
                .run(&inbox, &replies);
            })
            .ok();
        (Self { orders, thread }, outbox)
    }

    /// Takes an effect; what makes no sound is passed by.
    pub fn play(&self, effect: &Effect) {
        let order = match effect {
            Effect::Say { text, why } => Order::Say {
                text: text.clone(),
                why: *why,
            },
            Effect::Tone { near } => Order::Tone(*near),
            Effect::Chime {
                chime: which,
                urgency,
            } => Order::Ring {
                sound: chime(*which, *urgency),
                rank: match which {
                    Chime::Due => Rank::Due,
                    Chime::Cue => Rank::Cue,
                    Chime::Enough => Rank::Call,
                    Chime::Asked | Chime::NotUnderstood | Chime::Listening => Rank::Speech,
                },
            },
            Effect::Sample { chime: which } => Order::Ring {
                sound: chime(*which, 0),
                rank: Rank::Speech,
            },
            Effect::Hush => Order::Hush,
            Effect::Voice(v) => Order::Voice(*v),
            _ => return,
        };
        // The thread lives as long as this handle; a closed channel means that it has died, and cooking goes on.
        let _ = self.orders.send(order);
    }

    /// Tells the voice what may be said soon.
    pub fn prepare(&self, texts: Vec<String>) {
        let _ = self.orders.send(Order::Prepare(texts));
    }

    /// Plays a sound in its turn, as if it were said.
    pub fn sound(&self, sound: Sound) {
        let rank = Rank::Speech;
        let _ = self.orders.send(Order::Ring { sound, rank });
    }

    /// Speaks what is queued and ends, within `patience`.
    pub fn finish(mut self, patience: Duration) {
        let _ = self.orders.send(Order::Finish);
        let until = Instant::now() + patience;
        if let Some(thread) = self.thread.take() {
            while !thread.is_finished() && Instant::now() < until {
                std::thread::sleep(LOOK);
            }
        }
    }
}

/// The sentence that a voice has.
struct Saying {
    rank: Rank,
    text: String,
    settings: VoiceSettings,
    since: Instant,
    /// The voice plays it itself, from now on.
    sounds: bool,
}

struct Speaking {
    voices: Voices,
    sink: Box<dyn Sink>,
    news: Sender<MouthNews>,
    own: Option<Sender<OwnSound>>,
    queue: VecDeque<Item>,
    saying: Option<Saying>,
    /// A sentence that was made while a chime sounded; it is next.
    made: Option<(Rank, Sound)>,
    /// Until then a voice that plays itself may sound on.
    hushed: Option<Instant>,
    settings: VoiceSettings,
    /// What is in progress, or was last.
    heard: Rank,
    /// The last alarm that rang; its words follow it.
    alarm: Rank,
    sounding: bool,
}

impl Speaking {
    fn run(mut self, inbox: &Receiver<Order>, replies: &Receiver<Reply>) {
        let mut finishing = false;
        loop {
            self.tell_sounding();
            let idle = self.is_idle();
            if idle && finishing {
                return;
            }
            let mut order = None;
            let wait = if idle { IDLE } else { LOOK };
            select! {
                recv(inbox) -> came => match came {
                    Ok(o) => order = Some(o),
                    Err(_) => {
                        self.stop();
                        return;
                    }
                },
                recv(replies) -> reply => {
                    if let Ok(reply) = reply {
                        self.answered(reply);
                    }
                },
                default(wait) => {}
            }
            if let Some(order) = order {
                finishing |= matches!(order, Order::Finish);
                self.obey(order);
            }
            if let Some(trouble) = self.voices.too_slow() {
                self.failed(trouble);
            }
            self.go_on();
        }
    }

    fn obey(&mut self, order: Order) {
        match order {
            Order::Say { text, why } => {
                let rank = match why {
                    Why::Alarm => self.alarm,
                    Why::Weight => Rank::Call,
                    _ => Rank::Speech,
                };
                self.drop_calls();
                let settings = self.settings;
                let first = self.is_idle();
                let says = |text| Item {
                    rank,
                    what: What::Say(text, settings),
                    since: Instant::now(),
                };
                self.queue
                    .extend(pieces(&text, first).into_iter().map(says));
            }
            Order::Tone(near) => {
                // It waits for nothing.
                if self.is_idle() {
                    self.begin(Rank::Call, tone(near));
                }
            }
            Order::Ring { sound, rank } => {
                self.drop_calls();
                self.ring(sound, rank);
            }
            Order::Hush => {
                self.queue.retain(|i| i.rank == Rank::Cue);
                self.made = self.made.take().filter(|(rank, _)| *rank == Rank::Cue);
                // Quiet takes back no cue that nobody has heard, in the making or not.
                let unheard = self.saying.take_if(|s| s.rank == Rank::Cue && !s.sounds);
                self.stop();
                self.saying = unheard;
            }
            Order::Voice(v) => self.settings = v,
            Order::Prepare(texts) => {
                let texts = texts.iter().flat_map(|text| pieces(text, true));
                self.voices.prepare(texts.collect(), self.settings);
            }
            Order::Finish => {}
        }
    }

    /// An alarm stops speech in progress and what waits to be said. It lets another alarm end, and takes the place of
    /// its own last ring where nobody has heard that yet.
    fn ring(&mut self, sound: Sound, rank: Rank) {
        if !matches!(rank, Rank::Speech | Rank::Call) {
            let waits = |of: Rank| of == Rank::Cue || (of == Rank::Due && rank == Rank::Cue);
            self.queue.retain(|i| waits(i.rank));
            self.made = self.made.take().filter(|(of, _)| waits(*of));
            if matches!(self.heard, Rank::Speech | Rank::Call) {
                self.stop();
            }
            if self.saying.as_ref().is_some_and(|s| {
                // What is made ahead while something else sounds, nobody waits for.
                !s.sounds && !waits(s.rank) && (self.sink.busy() || s.since.elapsed() >= MADE)
            }) {
                self.saying = None;
            }
            self.alarm = rank;
        }
        let what = What::Ring(sound);
        let since = Instant::now();
        self.queue.push_back(Item { rank, what, since });
    }

    /// A weight that was called is old as soon as anything else is to be heard.
    fn drop_calls(&mut self) {
        self.queue.retain(|i| i.rank != Rank::Call);
        self.made.take_if(|(rank, _)| *rank == Rank::Call);
        let in_progress = self.is_loud() || self.saying.is_some();
        if self.heard == Rank::Call && in_progress {
            self.stop();
        }
    }

    /// Something can be heard now, or is about to be by a voice that plays itself.
    fn is_loud(&self) -> bool {
        self.sink.busy() || self.saying.as_ref().is_some_and(|s| s.sounds) || self.hushed.is_some()
    }

    fn is_idle(&self) -> bool {
        !self.is_loud() && self.saying.is_none() && self.made.is_none() && self.queue.is_empty()
    }

    /// The short gap in which the next sentence is made belongs to what is said.
    fn tell_sounding(&mut self) {
        let made_soon = self
            .saying
            .as_ref()
            .is_some_and(|s| s.since.elapsed() < GAP);
        let now = self.is_loud() || (self.sounding && made_soon);
        if now != self.sounding {
            self.sounding = now;
            self.tell_own(OwnSound::Sounding(now));
        }
    }

    fn tell_own(&mut self, what: OwnSound) {
        if let Some(own) = &self.own
            && let Err(TrySendError::Disconnected(_)) = own.try_send(what)
        {
            self.own = None;
        }
    }

    fn stop(&mut self) {
        self.sink.stop();
        if let Some(saying) = self.saying.take()
            && saying.sounds
        {
            self.voices.hush();
            self.hushed = Some(Instant::now() + HUSHED);
        }
        if self
            .made
            .as_ref()
            .is_some_and(|(rank, _)| matches!(rank, Rank::Speech | Rank::Call))
        {
            self.made = None;
        }
        self.tell_own(OwnSound::CutOff);
    }

    /// What a voice has told. What is said of a sentence that was taken back tells only of the voice.
    fn answered(&mut self, reply: Reply) {
        let Some(answer) = self.voices.take(reply) else {
            return;
        };
        match answer {
            Answer::Made(sound) => {
                if let Some(saying) = self.saying.take() {
                    self.made = Some((saying.rank, sound));
                }
            }
            Answer::Sounds => {
                if let Some(saying) = &mut self.saying {
                    saying.sounds = true;
                } else {
                    // It was taken back while the voice took it up.
                    self.voices.hush();
                    self.hushed = Some(Instant::now() + HUSHED);
                }
            }
            Answer::Silent => {
                self.hushed = None;
                self.saying = None;
            }
            Answer::Failed(e) => return self.failed(e),
        }
        if let Some(news) = self.voices.news() {
            let _ = self.news.send(news);
        }
    }

    /// A voice has failed: the next says the sentence.
    fn failed(&mut self, trouble: SayError) {
        if let Some(news) = self.voices.trouble(trouble) {
            let _ = self.news.send(news);
        }
        self.hushed = None;
        if let Some(saying) = self.saying.take() {
            self.say(saying.rank, saying.text, saying.settings);
        }
    }

    fn say(&mut self, rank: Rank, text: String, settings: VoiceSettings) {
        // Without any voice the screen has it.
        self.saying = self.voices.ask(&text, settings).then(|| Saying {
            rank,
            text,
            settings,
            since: Instant::now(),
            sounds: false,
        });
    }

    /// Begins what is next, as far as nothing sounds. A chime of an alarm does not wait long for a sentence that is being made.
    fn go_on(&mut self) {
        if self.hushed.is_some_and(|until| Instant::now() >= until) {
            self.hushed = None;
        }
        while !self.is_loud() {
            let making = self.saying.as_ref().map(|s| s.since.elapsed());
            let alarm_next = making.is_some_and(|long| long >= MADE)
                && matches!(
                    self.queue.front(),
                    Some(Item {
                        rank: Rank::Cue | Rank::Due,
                        what: What::Ring(_),
                        ..
                    })
                );
            if let Some((rank, sound)) = self.made.take() {
                self.begin(rank, sound);
            } else if making.is_some() && !alarm_next {
                // Nothing that the voice says is said again: a voice that is not asked yet is asked when it is free.
                if let Some(saying) = &self.saying
                    && !self.voices.has_it()
                {
                    self.voices.ask(&saying.text, saying.settings);
                }
                return;
            } else if let Some(item) = self.queue.pop_front() {
                if item.rank == Rank::Call && item.since.elapsed() > CALLED {
                    continue;
                }
                match item.what {
                    What::Ring(sound) => self.begin(item.rank, sound),
                    What::Say(text, settings) => {
                        self.heard = item.rank;
                        self.say(item.rank, text, settings);
                    }
                }
            } else {
                return;
            }
        }
        self.look_ahead();
    }

    /// While something sounds, the sentence after it is made.
    fn look_ahead(&mut self) {
        let free = self.saying.is_none() && self.made.is_none() && self.hushed.is_none();
        if !free || !self.voices.gives_sound() {
            return;
        }
        let is_said = |i: &mut Item| i.rank != Rank::Call && matches!(i.what, What::Say(..));
        if let Some(Item { rank, what, .. }) = self.queue.pop_front_if(is_said)
            && let What::Say(text, settings) = what
        {
            self.say(rank, text, settings);
        }
    }

    fn begin(&mut self, rank: Rank, sound: Sound) {
        self.heard = rank;
        match self.sink.play(&sound) {
            // Where there is no loudspeaker nothing plays.
            Ok(()) if self.sink.busy() => self.tell_own(OwnSound::Plays(sound)),
            Ok(()) => {}
            Err(e) => {
                let _ = self.news.send(MouthNews::NoLoudspeaker(e));
            }
        }
    }
}

/// A text in sentences, so that the first is heard while the next is made. Of the very first, where it is long, the first
/// clause.
fn pieces(text: &str, first: bool) -> Vec<String> {
    let mut out = Vec::new();
    let mut from = 0;
    for (at, c) in text.char_indices() {
        if matches!(c, '.' | '?' | '!') && text[at + 1..].starts_with(' ') {
            out.push(text[from..=at].trim().to_owned());
            from = at + 1;
        }
    }
    let rest = text[from..].trim();
    if !rest.is_empty() {
        out.push(rest.to_owned());
    }
    if first
        && let Some(sentence) = out.first().filter(|s| s.len() > LONG)
        && let Some((clause, rest)) = [", ", "; ", ": "]
            .iter()
            .flat_map(|sign| sentence.match_indices(sign))
            .map(|(at, _)| sentence.split_at(at + 1))
            .filter(|(clause, rest)| clause.len() > PART && rest.len() > PART)
            .min_by_key(|(clause, _)| clause.len())
    {
        let parts = [clause.to_owned(), rest.trim().to_owned()];
        out.splice(..1, parts);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::{Arc, Mutex};

    struct Fake(Arc<Mutex<Vec<String>>>);
    impl Voice for Fake {
        fn speak(&mut self, text: &str, _: VoiceSettings) -> Result<Option<Sound>, SayError> {
            self.0.lock().expect("one thread").push(text.to_owned());
            Ok(Some(Sound {
                rate: 1000,
                samples: vec![0.0; 100],
            }))
        }
    }
    /// Plays in real time, 100 ms a sentence.
    struct Clocked(Option<Instant>);
    impl Sink for Clocked {
        fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
            assert!(!self.busy(), "nothing is played over something else");
            self.0 = Some(Instant::now() + Duration::from_millis(sound.millis()));
            Ok(())
        }
        fn busy(&self) -> bool {
            self.0.is_some_and(|t| Instant::now() < t)
        }
        fn stop(&mut self) {
            self.0 = None;
        }
    }

    fn say(text: &str, why: Why) -> Effect {
        Effect::Say {
            text: text.to_owned(),
            why,
        }
    }

    #[test]
    fn sentences_are_split_and_numbers_are_not() {
        assert_eq!(
            pieces("Step one. Weigh 1.5 kg. Done?", true),
            ["Step one.", "Weigh 1.5 kg.", "Done?"]
        );
        assert_eq!(pieces("", true), Vec::<String>::new());
    }

    #[test]
    fn of_a_long_first_sentence_the_first_clause_is_heard_first() {
        let long = "Oil the bowl lightly, turn the dough in it once, cover it and leave it in a warm place. Done?";
        let parts = [
            "Oil the bowl lightly,",
            "turn the dough in it once, cover it and leave it in a warm place.",
            "Done?",
        ];
        assert_eq!(pieces(long, true), parts);
        assert_eq!(
            pieces(long, false).len(),
            2,
            "after something else it is made whole"
        );
        let short = "Salt: twelve grams, or two teaspoons.";
        assert_eq!(pieces(short, true), [short]);
    }

    /// A voice that takes its time: the second sentence is made while the first sounds.
    #[test]
    fn the_next_sentence_is_made_while_one_sounds() {
        struct Slow;
        impl Voice for Slow {
            fn speak(&mut self, _: &str, _: VoiceSettings) -> Result<Option<Sound>, SayError> {
                std::thread::sleep(Duration::from_millis(150));
                Ok(Some(Sound {
                    rate: 1000,
                    samples: vec![0.0; 400],
                }))
            }
        }
        struct Gaps(Clocked, Arc<Mutex<Vec<Duration>>>);
        impl Sink for Gaps {
            fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
                if let Some(ended) = self.0.0 {
                    self.1.lock().expect("one thread").push(ended.elapsed());
                }
                self.0.play(sound)
            }
            fn busy(&self) -> bool {
                self.0.busy()
            }
            fn stop(&mut self) {
                self.0.stop();
            }
        }
        let gaps = Arc::default();
        let sink = Gaps(Clocked(None), Arc::clone(&gaps));
        let voices: Vec<Box<dyn Voice>> = vec![Box::new(Slow)];
        let (mouth, _news) = Mouth::start(voices, VoiceSettings::default(), Box::new(sink), None);
        mouth.play(&say("One. Two. Three. Four.", Why::Answer));
        mouth.finish(Duration::from_secs(10));
        let mut gaps = gaps.lock().expect("done").clone();
        gaps.sort();
        assert_eq!(gaps.len(), 3);
        // Two of three: this machine may have other things to do.
        assert!(gaps[1] < Duration::from_millis(100), "{gaps:?}");
    }

    #[test]
    fn hush_forgets_what_is_queued_and_an_alarm_passes_over_speech() {
        let said = Arc::new(Mutex::new(Vec::new()));
        let (mouth, _news) = Mouth::start(
            vec![Box::new(Fake(said.clone()))],
            VoiceSettings::default(),
            Box::new(Clocked(None)),
            None,
        );
        mouth.play(&say("One. Two. Three. Four.", Why::Answer));
        std::thread::sleep(Duration::from_millis(60));
        mouth.play(&Effect::Chime {
            chime: Chime::Due,
            urgency: 0,
        });
        mouth.play(&say("Time is up.", Why::Alarm));
        mouth.finish(Duration::from_secs(5));
        let said = said.lock().expect("one thread").clone();
        assert_eq!(said.first().map(String::as_str), Some("One."));
        assert_eq!(said.last().map(String::as_str), Some("Time is up."));
        assert!(!said.contains(&"Four.".to_owned()), "{said:?}");
    }

    /// What is said when these effects come at once.
    fn spoken(effects: &[Effect]) -> Vec<String> {
        let said = Arc::new(Mutex::new(Vec::new()));
        let (mouth, _news) = Mouth::start(
            vec![Box::new(Fake(said.clone()))],
            VoiceSettings::default(),
            Box::new(Clocked(None)),
            None,
        );
        for effect in effects {
            mouth.play(effect);
        }
        mouth.finish(Duration::from_secs(20));
        said.lock().expect("one thread").clone()
    }

    fn ring(chime: Chime) -> Effect {
        Effect::Chime { chime, urgency: 0 }
    }

    #[test]
    fn a_weight_is_called_now_or_not_at_all() {
        let weight = |text: &str| say(text, Why::Weight);
        let answer = |text: &str| say(text, Why::Answer);
        // Each lasts 100 ms: a new one takes the place of the one before, and an answer that of the last.
        let heard = spoken(&[weight("Two hundred"), weight("Three hundred")]);
        assert_eq!(heard.last().map(String::as_str), Some("Three hundred"));
        let heard = spoken(&[weight("Twenty"), answer("Flour in.")]);
        assert_eq!(heard.last().map(String::as_str), Some("Flour in."));
        // While something else is said it grows old.
        let heard = spoken(&[answer("One. Two. Three. Four."), weight("Ten")]);
        assert_eq!(heard, ["One.", "Two.", "Three.", "Four."]);
        // A tone waits for nothing, and delays nothing.
        let tones = [Effect::Tone { near: 10 }, Effect::Tone { near: 20 }];
        let effects = [&tones[..], &[answer("Flour in.")]].concat();
        assert_eq!(spoken(&effects), ["Flour in."]);
    }

    #[test]
    fn one_alarm_does_not_silence_another() {
        let heard = spoken(&[
            ring(Chime::Cue),
            say("Bake: turn the tin.", Why::Alarm),
            ring(Chime::Due),
            say("Soup: time is up.", Why::Alarm),
            ring(Chime::Cue),
            say("Stock: skim it.", Why::Alarm),
        ]);
        assert_eq!(
            heard,
            [
                "Bake: turn the tin.",
                "Soup: time is up.",
                "Stock: skim it."
            ]
        );
    }

    #[test]
    fn an_alarm_that_rings_again_before_it_was_heard_is_said_once() {
        let mut effects = vec![ring(Chime::Cue), say("Bake: turn the tin.", Why::Alarm)];
        for _ in 0..50 {
            effects.push(ring(Chime::Due));
            effects.push(say("Soup: time is up.", Why::Alarm));
        }
        assert_eq!(
            spoken(&effects),
            ["Bake: turn the tin.", "Soup: time is up."]
        );
    }

    #[test]
    fn quiet_does_not_take_back_a_cue_that_nobody_has_heard() {
        let heard = spoken(&[
            ring(Chime::Due),
            say("Soup: time is up.", Why::Alarm),
            ring(Chime::Cue),
            say("Bake: turn the tin.", Why::Alarm),
            Effect::Hush,
        ]);
        assert_eq!(
            heard.last().map(String::as_str),
            Some("Bake: turn the tin.")
        );
    }

    /// `again, slowly` sets the voice for one text and sets it back at once.
    #[test]
    fn a_text_keeps_the_voice_that_was_set_when_it_was_given() {
        struct Rates(Arc<Mutex<Vec<i8>>>);
        impl Voice for Rates {
            fn speak(
                &mut self,
                _: &str,
                settings: VoiceSettings,
            ) -> Result<Option<Sound>, SayError> {
                self.0.lock().expect("one thread").push(settings.rate);
                Ok(Some(Sound {
                    rate: 1000,
                    samples: vec![0.0; 30],
                }))
            }
        }
        let rates = Arc::new(Mutex::new(Vec::new()));
        let (mouth, _news) = Mouth::start(
            vec![Box::new(Rates(rates.clone()))],
            VoiceSettings::default(),
            Box::new(Clocked(None)),
            None,
        );
        let slow = VoiceSettings {
            rate: -3,
            ..VoiceSettings::default()
        };
        mouth.play(&Effect::Voice(slow));
        mouth.play(&say("One. Two.", Why::Answer));
        mouth.play(&Effect::Voice(VoiceSettings::default()));
        mouth.play(&say("Three.", Why::Answer));
        mouth.finish(Duration::from_secs(5));
        assert_eq!(*rates.lock().expect("one thread"), [-3, -3, 0]);
    }

    const HASTY: Patience = Patience {
        sentence: Duration::from_millis(200),
        again: Duration::from_millis(300),
    };

    /// What is played, and when.
    type Tape = Arc<Mutex<Vec<(Instant, Sound)>>>;

    struct Taped(Tape, Clocked);
    impl Sink for Taped {
        fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
            let played = (Instant::now(), sound.clone());
            self.0.lock().expect("one thread").push(played);
            self.1.play(sound)
        }
        fn busy(&self) -> bool {
            self.1.busy()
        }
        fn stop(&mut self) {
            self.1.stop();
        }
    }

    /// Hangs for a while with each of its first sentences, or fails at once, and works from then on.
    struct Unwell {
        hangs: Duration,
        times: usize,
        rate: u32,
    }
    impl Voice for Unwell {
        fn speak(&mut self, _: &str, _: VoiceSettings) -> Result<Option<Sound>, SayError> {
            if self.times > 0 {
                self.times -= 1;
                std::thread::sleep(self.hangs);
                return Err(SayError::Failed("unwell".to_owned()));
            }
            let samples = vec![0.0; self.rate as usize / 20];
            Ok(Some(Sound {
                rate: self.rate,
                samples,
            }))
        }
    }

    fn taped(voices: Vec<Unwell>) -> (Mouth, Receiver<MouthNews>, Tape) {
        let tape = Tape::default();
        let voices = voices.into_iter().map(|v| Box::new(v) as Box<dyn Voice>);
        let sink = Box::new(Taped(Arc::clone(&tape), Clocked(None)));
        let (mouth, news) = Mouth::start_with(
            voices.collect(),
            VoiceSettings::default(),
            sink,
            None,
            HASTY,
        );
        (mouth, news, tape)
    }

    /// The rates of the sounds of voices: each voice here has its own.
    fn rates(tape: &Tape) -> Vec<u32> {
        let tape = tape.lock().expect("one thread");
        let voices = tape.iter().map(|(_, s)| s.rate).filter(|r| *r < 3_000);
        voices.collect()
    }

    #[test]
    fn a_voice_that_hangs_keeps_no_alarm_from_ringing() {
        let hangs = |rate| Unwell {
            hangs: Duration::from_secs(3),
            times: 9,
            rate,
        };
        let (mouth, _news, tape) = taped(vec![hangs(1_000)]);
        for told in [Why::Answer, Why::Alarm, Why::Alarm] {
            mouth.play(&say("Weigh it. Add it.", told));
            std::thread::sleep(Duration::from_millis(60));
            let asked = Instant::now();
            mouth.play(&ring(Chime::Due));
            std::thread::sleep(Duration::from_millis(400));
            let rung = tape.lock().expect("one thread").last().map(|(at, _)| *at);
            let late = rung.expect("it rings").saturating_duration_since(asked);
            assert!(
                rung > Some(asked) && late < Duration::from_millis(150),
                "{late:?}"
            );
            mouth.play(&Effect::Hush);
        }
    }

    #[test]
    fn the_next_voice_stands_in_and_the_first_is_tried_again() {
        for hangs in [Duration::ZERO, Duration::from_millis(700)] {
            let first = Unwell {
                hangs,
                times: 1,
                rate: 1_000,
            };
            let second = Unwell {
                hangs,
                times: 0,
                rate: 2_000,
            };
            let (mouth, news, tape) = taped(vec![first, second]);
            mouth.play(&say("One. Two.", Why::Answer));
            std::thread::sleep(Duration::from_millis(1_500));
            assert_eq!(rates(&tape), [2_000, 2_000], "{hangs:?}");
            mouth.play(&say("Three.", Why::Answer));
            mouth.finish(Duration::from_secs(5));
            assert_eq!(rates(&tape), [2_000, 2_000, 1_000], "{hangs:?}");
            let told: Vec<MouthNews> = news.try_iter().collect();
            assert!(
                matches!(told.as_slice(), [MouthNews::OtherVoice(_)]),
                "{told:?}"
            );
        }
    }

    #[test]
    fn that_no_voice_is_left_is_told_once_and_that_one_is_back() {
        let voice = Unwell {
            hangs: Duration::ZERO,
            times: 2,
            rate: 1_000,
        };
        let (mouth, news, tape) = taped(vec![voice]);
        for pause in [500, 1_000, 100] {
            mouth.play(&say("One. Two.", Why::Answer));
            std::thread::sleep(Duration::from_millis(pause));
        }
        mouth.finish(Duration::from_secs(5));
        assert_eq!(rates(&tape), [1_000, 1_000]);
        let told: Vec<MouthNews> = news.try_iter().collect();
        let once = matches!(
            told.as_slice(),
            [MouthNews::NoVoice(_), MouthNews::VoiceBack]
        );
        assert!(once, "{told:?}");
    }
}
