//! A voice that is made when it is first asked to speak, and again after it could not be: a start waits for none.

use super::{SayError, Sound, Voice};
use crate::bench::VoiceSettings;

type Make = Box<dyn FnMut() -> Result<Box<dyn Voice>, SayError> + Send>;

/// A voice to be made.
pub struct Late {
    make: Make,
    made: Option<Box<dyn Voice>>,
}

impl Late {
    /// A voice that `make` makes.
    pub fn new(make: impl FnMut() -> Result<Box<dyn Voice>, SayError> + Send + 'static) -> Self {
        Self {
            make: Box::new(make),
            made: None,
        }
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

    fn busy(&self) -> bool {
        self.made.as_ref().is_some_and(|voice| voice.busy())
    }

    fn stop(&mut self) {
        if let Some(voice) = &mut self.made {
            voice.stop();
        }
    }
}
