//! Steps that a cook has spoken: what of a sentence is played and not said.

use super::Bench;

impl Bench {
    /// The words of the step that the cook is at, where a recording of them is to be played in their place: the words as
    /// they are said, and the recording's path from the formula's folder.
    pub fn recorded(&self) -> Option<(String, &str)> {
        let at = self.step()?;
        let file = self.formula().steps[at].recording.as_deref()?;
        Some((self.spoken_text(at), file))
    }
}
