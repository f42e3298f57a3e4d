//! The thread that speaks and rings: in order, never over each other, and silent at once when it should be.

use std::collections::VecDeque;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, unbounded};

use super::{SayError, Sound, Voice, chime};
use crate::bench::{Effect, VoiceSettings, Why};

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
    /// A voice failed, and the next in order speaks: for the cook, once.
    OtherVoice(String),
    /// The last voice failed: for the cook, once.
    NoVoice(String),
    /// The loudspeaker failed: for the cook, once.
    NoLoudspeaker(String),
}

enum Item {
    Say(String),
    Ring(Sound),
}

/// The speaking thread. Dropping it stops the sound.
pub struct Mouth {
    orders: Sender<Order>,
    thread: Option<std::thread::JoinHandle<()>>,
}

enum Order {
    Say { text: String, first: bool },
    Ring { sound: Sound, first: bool },
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
                first: *why == Why::Alarm,
            },
            Effect::Chime {
                chime: which,
                urgency,
            } => Order::Ring {
                sound: chime(*which, *urgency),
                first: matches!(which, crate::bench::Chime::Due | crate::bench::Chime::Cue),
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
                Some(Order::Say { text, first }) => {
                    self.push(pieces(&text).into_iter().map(Item::Say).collect(), first);
                }
                Some(Order::Ring { sound, first }) => self.push(vec![Item::Ring(sound)], first),
                Some(Order::Hush) => {
                    self.queue.clear();
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

    /// Alarms pass over speech in progress: they stop it and go before what is queued. Their own parts stay in order.
    fn push(&mut self, items: Vec<Item>, first: bool) {
        if first {
            let rings = items.iter().any(|i| matches!(i, Item::Ring(_)));
            if rings {
                self.stop();
                self.queue.clear();
            }
        }
        self.queue.extend(items);
    }

    fn busy(&self) -> bool {
        self.sink.busy() || self.voices.front().is_some_and(|v| v.busy())
    }

    fn stop(&mut self) {
        self.sink.stop();
        if let Some(voice) = self.voices.front_mut() {
            voice.stop();
        }
    }

    /// The sound of a text by the first voice that can; nothing when that plays it itself, or none can.
    fn speak(&mut self, text: &str) -> Option<Sound> {
        while let Some(voice) = self.voices.front_mut() {
            match voice.speak(text, self.settings) {
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
        let sound = match item {
            Item::Ring(sound) => sound,
            Item::Say(text) => match self.speak(&text) {
                Some(sound) => sound,
                None => return,
            },
        };
        if let Err(e) = self.sink.play(&sound) {
            let _ = self.news.send(MouthNews::NoLoudspeaker(e.to_string()));
        }
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
    use crate::bench::Chime;
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
}
