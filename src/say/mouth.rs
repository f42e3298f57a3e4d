//! The thread that speaks and rings: in order, never over each other, and silent at once when it should be.

use std::collections::VecDeque;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, unbounded};

use super::{SayError, Sound, Voice, chime};
use crate::bench::{Chime, Effect, VoiceSettings, Why};

/// How often a sound in progress is looked at; speech stops within this.
const LOOK: Duration = Duration::from_millis(20);

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

/// What the mouth tells its owner.
#[derive(Debug)]
pub enum MouthNews {
    /// It makes a sound, or has stopped: the ear must not take this for the cook.
    Sounding(bool),
    /// This is played from now on, after what is playing. A voice that plays itself has no such news.
    Plays(Sound),
    /// What was playing has been cut off.
    CutOff,
    /// A voice failed, and the next in order speaks: for the cook, once.
    OtherVoice(String),
    /// The last voice failed: for the cook, once.
    NoVoice(String),
    /// The loudspeaker failed: for the cook, once.
    NoLoudspeaker(String),
}

/// What a sound is worth. An alarm passes over speech; only what answers it, or its own next ring, takes its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rank {
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
    Say { text: String, alarm: bool },
    Ring { sound: Sound, rank: Rank },
    Hush,
    Voice(VoiceSettings),
    Finish,
}

impl Mouth {
    /// Starts the thread. The first voice speaks; when it fails, the next.
    pub fn start(
        voices: Vec<Box<dyn Voice>>,
        settings: VoiceSettings,
        sink: Box<dyn Sink>,
    ) -> (Self, Receiver<MouthNews>) {
        let (orders, inbox) = unbounded();
        let (news, outbox) = unbounded();
        let thread = std::thread::Builder::new()
            .name("mouth".to_owned())
            .spawn(move || {
                Speaking {
                    voices: voices.into(),
                    sink,
                    news,
                    queue: VecDeque::new(),
                    settings,
                    heard: Rank::Speech,
                    alarm: Rank::Due,
                }
                .run(&inbox);
            })
            .ok();
        (Self { orders, thread }, outbox)
    }

    /// Takes an effect; what makes no sound is passed by.
    pub fn play(&self, effect: &Effect) {
        let order = match effect {
            Effect::Say { text, why } => Order::Say {
                text: text.clone(),
                alarm: *why == Why::Alarm,
            },
            Effect::Chime {
                chime: which,
                urgency,
            } => Order::Ring {
                sound: chime(*which, *urgency),
                rank: match which {
                    Chime::Due => Rank::Due,
                    Chime::Cue => Rank::Cue,
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

struct Speaking {
    voices: VecDeque<Box<dyn Voice>>,
    sink: Box<dyn Sink>,
    news: Sender<MouthNews>,
    queue: VecDeque<Item>,
    settings: VoiceSettings,
    /// What is in progress, or was last.
    heard: Rank,
    /// The last alarm that rang; its words follow it.
    alarm: Rank,
}

impl Speaking {
    fn run(mut self, inbox: &Receiver<Order>) {
        let (mut finishing, mut sounding) = (false, false);
        loop {
            let idle = !self.busy() && self.queue.is_empty();
            if idle && sounding {
                sounding = false;
                let _ = self.news.send(MouthNews::Sounding(false));
            }
            if idle && finishing {
                return;
            }
            let order = if idle {
                match inbox.recv() {
                    Ok(o) => Some(o),
                    Err(_) => return,
                }
            } else {
                match inbox.recv_timeout(LOOK) {
                    Ok(o) => Some(o),
                    Err(crossbeam_channel::RecvTimeoutError::Timeout) => None,
                    Err(crossbeam_channel::RecvTimeoutError::Disconnected) => {
                        self.stop();
                        return;
                    }
                }
            };
            match order {
                Some(Order::Say { text, alarm }) => {
                    let rank = if alarm { self.alarm } else { Rank::Speech };
                    let settings = self.settings;
                    let says = |text| Item {
                        rank,
                        what: What::Say(text, settings),
                    };
                    self.queue.extend(pieces(&text).into_iter().map(says));
                }
                Some(Order::Ring { sound, rank }) => self.ring(sound, rank),
                Some(Order::Hush) => {
                    self.queue.retain(|i| i.rank == Rank::Cue);
                    self.stop();
                }
                Some(Order::Voice(v)) => self.settings = v,
                Some(Order::Finish) => finishing = true,
                None => {}
            }
            if !self.busy()
                && let Some(item) = self.queue.pop_front()
            {
                if !sounding {
                    sounding = true;
                    let _ = self.news.send(MouthNews::Sounding(true));
                }
                self.begin(item);
            }
        }
    }

    /// An alarm stops speech in progress and what waits to be said. It lets another alarm end, and takes the place of
    /// its own last ring where nobody has heard that yet.
    fn ring(&mut self, sound: Sound, rank: Rank) {
        if rank != Rank::Speech {
            self.queue
                .retain(|i| i.rank == Rank::Cue || (i.rank == Rank::Due && rank == Rank::Cue));
            if self.heard == Rank::Speech {
                self.stop();
            }
            self.alarm = rank;
        }
        let what = What::Ring(sound);
        self.queue.push_back(Item { rank, what });
    }

    fn busy(&self) -> bool {
        self.sink.busy() || self.voices.front().is_some_and(|v| v.busy())
    }

    fn stop(&mut self) {
        self.sink.stop();
        if let Some(voice) = self.voices.front_mut() {
            voice.stop();
        }
        let _ = self.news.send(MouthNews::CutOff);
    }

    /// The sound of a text by the first voice that can; nothing when that plays it itself, or none can.
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Option<Sound> {
        while let Some(voice) = self.voices.front_mut() {
            match voice.speak(text, settings) {
                Ok(sound) => return sound,
                Err(e) => {
                    self.voices.pop_front();
                    let news = if self.voices.is_empty() {
                        MouthNews::NoVoice
                    } else {
                        MouthNews::OtherVoice
                    };
                    let _ = self.news.send(news(e.to_string()));
                }
            }
        }
        None
    }

    fn begin(&mut self, item: Item) {
        self.heard = item.rank;
        let sound = match item.what {
            What::Ring(sound) => sound,
            What::Say(text, settings) => match self.speak(&text, settings) {
                Some(sound) => sound,
                None => return,
            },
        };
        let news = match self.sink.play(&sound) {
            Ok(()) => MouthNews::Plays(sound),
            Err(e) => MouthNews::NoLoudspeaker(e.to_string()),
        };
        let _ = self.news.send(news);
    }
}

/// A text in sentences, so that the first is heard while the next is made.
fn pieces(text: &str) -> Vec<String> {
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
            pieces("Step one. Weigh 1.5 kg. Done?"),
            ["Step one.", "Weigh 1.5 kg.", "Done?"]
        );
        assert_eq!(pieces(""), Vec::<String>::new());
    }

    #[test]
    fn hush_forgets_what_is_queued_and_an_alarm_passes_over_speech() {
        let said = Arc::new(Mutex::new(Vec::new()));
        let (mouth, _news) = Mouth::start(
            vec![Box::new(Fake(said.clone()))],
            VoiceSettings::default(),
            Box::new(Clocked(None)),
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
}
