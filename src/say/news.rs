//! What the mouth tells others.

use super::{SayError, Sound};

/// What the mouth tells its owner.
#[derive(Debug)]
pub enum MouthNews {
    /// A voice failed, and the next in order speaks: for the cook, once.
    OtherVoice(SayError),
    /// No voice is left: for the cook, once.
    NoVoice(SayError),
    /// There is a voice again.
    VoiceBack,
    /// The loudspeaker failed: for the cook, once.
    NoLoudspeaker(SayError),
}

/// What the program itself sounds like, for whoever listens meanwhile: it is not the cook.
#[derive(Debug)]
pub enum OwnSound {
    /// It makes a sound, or has stopped.
    Sounding(bool),
    /// This is played from now on, after what is playing. A voice that plays itself has no such news.
    Plays(Sound),
    /// What was playing has been cut off.
    CutOff,
}
