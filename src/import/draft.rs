//! What is found in a source, before it is read.

/// A line of the source, and the part of the dish that it stands under.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Entry {
    pub(super) part: Option<String>,
    /// The heading of a step that has one of its own: such a step is never cut.
    pub(super) title: Option<String>,
    pub(super) text: String,
}

/// A recipe as it stands in a page or a text: sorted, not yet read.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Found {
    pub(super) name: String,
    pub(super) about: String,
    /// What it makes, in the source's words.
    pub(super) makes: Vec<String>,
    pub(super) source: Vec<String>,
    pub(super) times: Vec<String>,
    pub(super) tags: Vec<String>,
    pub(super) equipment: Vec<String>,
    pub(super) notes: Vec<String>,
    pub(super) keeps: Option<String>,
    pub(super) picture: Option<String>,
    pub(super) ingredients: Vec<Entry>,
    pub(super) steps: Vec<Entry>,
    /// It was read from paper by a machine: no amount of it is sure.
    pub(super) scanned: bool,
    /// It has more ingredients or steps than are read.
    pub(super) cut_off: bool,
    /// What fits nowhere: it is kept as comments.
    pub(super) rest: Vec<String>,
}

impl Found {
    /// There is something to cook.
    pub(super) fn is_recipe(&self) -> bool {
        !self.ingredients.is_empty() || !self.steps.is_empty()
    }
}
