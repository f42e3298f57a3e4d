//! A voice that is made when it is first asked to speak, and again after it could not be: a start waits for none.

use super::{SayError, Sound, Voice};
use crate::bench::VoiceSettings;

type Make = Box<dyn FnMut() -> Result<Box<dyn Voice>, SayError> + Send>;

/// A voice to be made.
pub struct Late {
    make: Make,
    made: Option<Box<dyn Voice>>,
    plays_itself: bool,
}

impl Late {
    /// A voice that `make` makes.
    pub fn new(make: impl FnMut() -> Result<Box<dyn Voice>, SayError> + Send + 'static) -> Self {
        Self {
            make: Box::new(make),
            made: None,
            plays_itself: false,
        }
    }

    /// The voice will play its sentences itself.
    pub fn that_plays(mut self) -> Self {
        self.plays_itself = true;
        self
    }
}

impl Voice for Late {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        let made = match self.made.take() {
            Some(made) => made,
            None => (self.make)()?,
        };
        self.made.insert(made).speak(text, settings)
    }

    fn prepare(&mut self, texts: Vec<String>, settings: VoiceSettings) {
        if self.made.is_none() {
            self.made = (self.make)().ok();
        }
        if let Some(voice) = &mut self.made {
            voice.prepare(texts, settings);
        }
    }

    fn plays_itself(&self) -> bool {
        self.plays_itself
    }

    fn busy(&self) -> bool {
        self.made.as_ref().is_some_and(|voice| voice.busy())
    }

    fn stop(&mut self) {
        if let Some(voice) = &mut self.made {
            voice.stop();
        }
    }
}
