//! The voices in their order, each on a thread of its own, so that one that hangs holds up nobody. One that failed is tried
//! again later; meanwhile the next stands in.

use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, unbounded};

use super::news::MouthNews;
use super::{SayError, Sound, Voice};
use crate::bench::VoiceSettings;
use crate::outside::Waited;

/// How long voices are waited for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patience {
    /// For the making of a sentence, or for beginning to play it.
    pub(super) sentence: Duration,
    /// A voice that failed is tried again after this; each time it fails again, after twice as long.
    pub(super) again: Duration,
}

/// In a kitchen.
pub(super) const PATIENCE: Patience = Patience {
    sentence: Duration::from_secs(6),
    again: Duration::from_secs(10),
};
/// A voice that plays itself has this long for a sentence, and for each of its letters.
const PLAYS: (Duration, Duration) = (Duration::from_secs(10), Duration::from_millis(250));
/// No voice is left alone for longer than this.
const SELDOM: Duration = Duration::from_mins(5);
/// How often one that plays itself is looked at.
const LOOK: Duration = Duration::from_millis(5);

/// What a voice is told.
enum Request {
    Speak {
        id: u64,
        text: String,
        settings: VoiceSettings,
    },
    /// What may be said soon.
    Prepare(Vec<String>, VoiceSettings),
    Stop,
}

/// What a voice tells: which one, of which sentence, what.
pub(super) struct Reply {
    voice: usize,
    id: u64,
    answer: Answer,
}

/// What came of a sentence.
pub(super) enum Answer {
    /// Its sound.
    Made(Sound),
    /// The voice plays it itself, from now on.
    Sounds,
    /// It has played it, or was told to stop.
    Silent,
    /// Nothing.
    Failed(SayError),
}

/// The sentence that a voice has.
struct Has {
    letters: usize,
    waited: Waited,
    /// After so long it is given up.
    limit: Duration,
}

/// One voice, as seen from outside its thread.
struct One {
    requests: Sender<Request>,
    plays_itself: bool,
    has: Option<Has>,
    /// It was given up and has not come back.
    stuck: bool,
    /// It failed, and is not asked before.
    not_before: Option<Instant>,
    /// For how long it is left alone when it fails next.
    pause: Duration,
    told: bool,
}

/// All voices.
pub(super) struct Voices {
    patience: Patience,
    all: Vec<One>,
    /// Which voice has the sentence that is wanted, and its number.
    asked: Option<(usize, u64)>,
    count: u64,
    failed: usize,
    /// A voice failed, and nothing has come of another yet.
    instead: Option<SayError>,
    told_none: bool,
    works: bool,
}

impl Voices {
    pub(super) fn start(
        voices: Vec<Box<dyn Voice>>,
        patience: Patience,
    ) -> (Self, Receiver<Reply>) {
        let (replies, inbox) = unbounded();
        let all = voices.into_iter().enumerate().map(|(at, voice)| {
            let (requests, orders) = unbounded();
            let replies = replies.clone();
            let plays_itself = voice.plays_itself();
            // A thread that cannot be started is a voice that never answers.
            let _ = std::thread::Builder::new()
                .name(format!("voice {at}"))
                .spawn(move || serve(at, voice, &orders, &replies));
            One {
                requests,
                plays_itself,
                has: None,
                stuck: false,
                not_before: None,
                pause: patience.again,
                told: false,
            }
        });
        let voices = Self {
            patience,
            all: all.collect(),
            asked: None,
            count: 0,
            failed: 0,
            instead: None,
            told_none: false,
            works: false,
        };
        (voices, inbox)
    }

    /// The first voice that may be asked.
    fn first(&self) -> Option<usize> {
        let now = Instant::now();
        let may = |v: &One| !v.stuck && v.not_before.is_none_or(|t| now >= t);
        self.all.iter().position(may)
    }

    /// Asks for a sentence, in the place of any before. False: there is nobody to ask.
    pub(super) fn ask(&mut self, text: &str, settings: VoiceSettings) -> bool {
        self.asked = None;
        let Some(at) = self.first() else {
            return false;
        };
        // One that has not done with what nobody wants any more is asked when it has.
        if self.all[at].has.is_some() {
            return true;
        }
        self.count += 1;
        let id = self.count;
        let request = Request::Speak {
            id,
            text: text.to_owned(),
            settings,
        };
        let _ = self.all[at].requests.send(request);
        self.all[at].has = Some(Has {
            letters: text.len(),
            waited: Waited::new(),
            limit: self.patience.sentence,
        });
        self.asked = Some((at, id));
        true
    }

    /// The voice that would be asked now gives its sound, so that it can be asked while something else sounds.
    pub(super) fn gives_sound(&self) -> bool {
        self.first().is_some_and(|at| !self.all[at].plays_itself)
    }

    /// Tells the voice that would be asked now what may be said soon.
    pub(super) fn prepare(&self, texts: Vec<String>, settings: VoiceSettings) {
        if let Some(at) = self.first() {
            let _ = self.all[at]
                .requests
                .send(Request::Prepare(texts, settings));
        }
    }

    /// Some voice has the sentence that is wanted.
    pub(super) fn has_it(&self) -> bool {
        self.asked.is_some()
    }

    /// Whoever plays is to be silent.
    pub(super) fn hush(&self) {
        for one in self.all.iter().filter(|v| v.has.is_some()) {
            let _ = one.requests.send(Request::Stop);
        }
    }

    /// Takes what a voice has told: what it means for the sentence that is wanted, or for whoever should say it.
    pub(super) fn take(&mut self, reply: Reply) -> Option<Answer> {
        let wanted = self.asked == Some((reply.voice, reply.id));
        let one = &mut self.all[reply.voice];
        let was_stuck = std::mem::take(&mut one.stuck);
        match &reply.answer {
            Answer::Failed(_) => {
                one.has = None;
                one.fail();
                self.failed = reply.voice;
                if wanted {
                    self.asked = None;
                }
                // What it was given up for has been said by another.
                return (!was_stuck).then_some(reply.answer);
            }
            Answer::Sounds => {
                if let Some(has) = &mut one.has {
                    has.waited = Waited::new();
                    has.limit = PLAYS.0 + PLAYS.1 * u32::try_from(has.letters).unwrap_or(0);
                }
                if !wanted {
                    let _ = one.requests.send(Request::Stop);
                }
            }
            Answer::Made(_) | Answer::Silent => {
                one.has = None;
                if wanted {
                    self.asked = None;
                }
            }
        }
        if wanted {
            one.pause = self.patience.again;
            one.not_before = None;
            self.works = true;
            return Some(reply.answer);
        }
        None
    }

    /// A voice that has had its time.
    pub(super) fn too_slow(&mut self) -> Option<SayError> {
        let late = |v: &mut One| {
            let had = |has: &mut Has| has.waited.so_far() >= has.limit;
            !v.stuck && v.has.as_mut().is_some_and(had)
        };
        let at = self.all.iter_mut().position(late)?;
        self.all[at].stuck = true;
        self.all[at].fail();
        self.failed = at;
        self.asked = None;
        Some(SayError::Hangs)
    }

    /// After a failure: what the cook is to be told of it at once.
    pub(super) fn trouble(&mut self, trouble: SayError) -> Option<MouthNews> {
        if self.first().is_some() {
            if !std::mem::replace(&mut self.all[self.failed].told, true) {
                self.instead = Some(trouble);
            }
            return None;
        }
        self.works = false;
        self.instead = None;
        (!std::mem::replace(&mut self.told_none, true)).then_some(MouthNews::NoVoice(trouble))
    }

    /// After a success: what the cook is to be told now.
    pub(super) fn news(&mut self) -> Option<MouthNews> {
        if self.works && std::mem::take(&mut self.told_none) {
            return Some(MouthNews::VoiceBack);
        }
        self.instead.take().map(MouthNews::OtherVoice)
    }
}

impl One {
    fn fail(&mut self) {
        self.not_before = Some(Instant::now() + self.pause);
        self.pause = (self.pause * 2).min(SELDOM);
    }
}

/// The thread of one voice.
fn serve(
    at: usize,
    mut voice: Box<dyn Voice>,
    orders: &Receiver<Request>,
    replies: &Sender<Reply>,
) {
    while let Ok(order) = orders.recv() {
        let (id, text, settings) = match order {
            Request::Speak { id, text, settings } => (id, text, settings),
            Request::Prepare(texts, settings) => {
                voice.prepare(texts, settings);
                continue;
            }
            Request::Stop => continue,
        };
        let tell = |answer| {
            let voice = at;
            replies.send(Reply { voice, id, answer }).is_ok()
        };
        let told = match voice.speak(&text, settings) {
            Ok(Some(sound)) => tell(Answer::Made(sound)),
            Err(e) => tell(Answer::Failed(e)),
            Ok(None) => {
                let told = tell(Answer::Sounds);
                while voice.busy() {
                    match orders.recv_timeout(LOOK) {
                        Ok(Request::Stop) => voice.stop(),
                        // It is asked for nothing while it speaks.
                        Ok(Request::Speak { .. } | Request::Prepare(..))
                        | Err(RecvTimeoutError::Timeout) => {}
                        Err(RecvTimeoutError::Disconnected) => {
                            voice.stop();
                            return;
                        }
                    }
                }
                told && tell(Answer::Silent)
            }
        };
        if !told {
            return;
        }
    }
}
