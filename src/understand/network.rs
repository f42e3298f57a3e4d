//! What can be said now, as a finite-state network over words.

/// A finite-state network over words: no empty arcs, and at most one arc for a word from each state.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Network {
    /// How many states there are; the first is 0 and is where every utterance starts.
    pub states: u32,
    /// The arcs.
    pub arcs: Vec<NetworkArc>,
    /// States where an utterance may end, each with its cost (a negative natural logarithm).
    pub finals: Vec<(u32, f32)>,
}

/// One word from one state to another.
#[derive(Debug, Clone, PartialEq)]
pub struct NetworkArc {
    /// From this state.
    pub from: u32,
    /// To this state.
    pub to: u32,
    /// The word, lower case.
    pub word: String,
    /// The cost: a negative natural logarithm.
    pub cost: f32,
}
