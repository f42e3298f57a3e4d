//! What the key language needs to know of the session.

/// Where the session stands, as far as a key's meaning goes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    /// An alarm is ringing.
    pub alarm: bool,
    /// A question waits for yes or no.
    pub asking: bool,
    /// The question that waits ends on a look: 'has it doubled?' (`asking` is then true as well).
    pub look: bool,
    /// The question that waits is which of these was meant (`asking` is then true as well).
    pub readings: Vec<String>,
    /// The question that waits is 'for how long?'; its answer is a number of minutes.
    pub asks_length: bool,
    /// Ingredients are being called one by one.
    pub weighing: bool,
    /// This step offers a timer that has not been started.
    pub offered_timer: bool,
    /// The first step has been reached.
    pub started: bool,
    /// Names of the timers that run, are held or ring, the next due first.
    pub timers: Vec<String>,
    /// Ids of the formula's ingredients in weighing order.
    pub ingredients: Vec<String>,
    /// How each of `ingredients` is said; an id stands for itself where there is none.
    pub ingredient_names: Vec<String>,
    /// The current step from 1; 0 before the first.
    pub step: usize,
    /// How many steps there are.
    pub steps: usize,
}

impl Place {
    /// How the ingredient at `index` is said.
    pub(super) fn ingredient_name(&self, index: usize) -> &str {
        self.ingredient_names
            .get(index)
            .or_else(|| self.ingredients.get(index))
            .map_or("", String::as_str)
    }

    /// How the ingredient with this id is said.
    pub(super) fn said(&self, id: &str) -> String {
        self.ingredients
            .iter()
            .position(|i| i == id)
            .map_or_else(|| id.to_owned(), |i| self.ingredient_name(i).to_owned())
    }
}
