//! How today's names come in free speech.

use super::Lexicon;

/// Around the name of an ingredient, which stands for `_`.
const INGREDIENT: [&str; 16] = [
    "_",
    "the _",
    "how much _",
    "how much _ do i need",
    "what about the _",
    "and the _",
    "the _ is in",
    "the _ and",
    "i've put the _ in",
    "that's the _ in",
    "have i put the _ in",
    "did i add the _",
    "i've no _",
    "instead of the _",
    "grams of _",
    "do i need _",
];

/// Around the name of a timer.
const TIMER: [&str; 10] = [
    "the _",
    "the _ timer",
    "start the _",
    "stop the _",
    "how long has the _ got",
    "how long for the _",
    "minutes more for the _",
    "give the _",
    "how's the _ doing",
    "the _ is done",
];

/// Around the name of a step or a part.
const STEP: [&str; 6] = [
    "_",
    "go to _",
    "the _",
    "back to the _",
    "tell me about the _",
    "i'm on the _",
];

/// What follows the name of the program, where something does.
const CALLED: [&str; 24] = [
    "what",
    "how",
    "how much",
    "have i",
    "did i",
    "set",
    "start",
    "stop",
    "can you",
    "can we",
    "i've",
    "the",
    "next",
    "go back",
    "tell me",
    "is it",
    "give it",
    "say that again",
    "where",
    "when",
    "do i",
    "put",
    "make",
    "that's",
];

impl Lexicon {
    /// Lines with the names of today, for the text of a recogniser that hears free speech.
    pub(super) fn names_in_talk(&self) -> Vec<String> {
        let mut lines = Vec::new();
        let mut around = |name: &str, frames: &[&str]| {
            let name = name.to_lowercase().replace('-', " ");
            lines.extend(frames.iter().map(|frame| frame.replace('_', &name)));
        };
        for own in &self.own {
            for name in own.names() {
                around(name, &INGREDIENT);
            }
        }
        let here = &self.situation;
        let running = here.timers.iter().map(|timer| &timer.name);
        for name in self.formula_timers.iter().chain(running) {
            around(name, &TIMER);
        }
        for name in here.steps.iter().chain(&here.parts) {
            around(name, &STEP);
        }
        if let Some(call) = &self.call {
            around(call, &["_", "hey _", "ok _", "thanks _"]);
            for begun in CALLED {
                around(call, &[&format!("_ {begun}")]);
            }
        }
        lines
    }
}
