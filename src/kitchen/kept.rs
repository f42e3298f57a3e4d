//! What the cook changes of the voice during a session, kept for the next one.

use std::path::PathBuf;

use crate::bench::{Bench, VoiceSettings};
use crate::settings::Remember;

/// The settings as they were last written.
pub(super) struct Kept {
    path: Option<PathBuf>,
    voice: VoiceSettings,
    brief: bool,
}

impl Kept {
    /// What the bench begins with needs no writing.
    pub(super) fn new(path: Option<PathBuf>, bench: &Bench) -> Self {
        Self {
            path,
            voice: bench.voice_settings(),
            brief: bench.is_brief(),
        }
    }

    /// Writes what has changed. When that fails: a sentence for the cook, once.
    pub(super) fn look(&mut self, bench: &Bench) -> Option<String> {
        let (voice, brief) = (bench.voice_settings(), bench.is_brief());
        let remember = Remember {
            voice: (voice != self.voice).then_some(voice),
            brief: (brief != self.brief).then_some(brief),
            ..Remember::default()
        };
        if remember == Remember::default() {
            return None;
        }
        (self.voice, self.brief) = (voice, brief);
        remember.write(self.path.as_deref()?).err()?;
        self.path = None;
        Some("I cannot keep this for next time: the settings file cannot be written.".to_owned())
    }
}
