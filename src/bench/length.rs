//! How long an answer is: what is longer is told in parts, and `more` tells the next. `SPEECH.md` has the rules.

use super::Bench;
use super::effect::Effect;
use super::words;

/// Words of the opening, without allergens: those are never cut.
pub(super) const OPENING: usize = 20;
/// Words of a step, or of any long answer, before `more` is asked for.
pub(super) const STEP: usize = 35;
/// Words of the answer to a change of size.
pub(super) const SIZE: usize = 20;
/// Words of a list of timers.
pub(super) const TIMERS: usize = 20;

/// A rest that is no longer than this is as short as the hint at it.
const NO_REST: usize = 5;

/// How many words a text has.
pub(super) fn count(text: &str) -> usize {
    text.split_whitespace().count()
}

/// What fits of a text, whole sentences of it, and the rest. Of a first sentence that is too long, as many clauses as fit;
/// what has neither is said whole.
pub(super) fn within(text: &str, most: usize) -> (String, String) {
    if count(text) <= most + NO_REST {
        return (text.to_owned(), String::new());
    }
    let ends = |signs: &[&str]| {
        let found = signs.iter().flat_map(|sign| text.match_indices(sign));
        let fits = found.filter(|(at, _)| count(&text[..*at]) <= most);
        fits.map(|(at, _)| at + 1).max()
    };
    if let Some(at) = ends(&[". ", "? ", "! "]) {
        return (text[..at].to_owned(), text[at..].trim_start().to_owned());
    }
    // A clause ends as a sentence does, where enough is said before it; a list is cut where there is nothing else.
    let clause = ends(&["; ", ", and ", ", then ", ", until "]).or_else(|| ends(&[", "]));
    match clause.filter(|at| count(&text[..*at]) * 3 >= most) {
        Some(at) => (
            format!("{}.", &text[..at - 1]),
            words::capital(text[at..].trim_start()),
        ),
        None => match [". ", "? ", "! "]
            .iter()
            .filter_map(|sign| text.find(sign))
            .min()
        {
            Some(at) => (
                text[..=at].to_owned(),
                text[at + 1..].trim_start().to_owned(),
            ),
            None => (text.to_owned(), String::new()),
        },
    }
}

impl Bench {
    /// So many words, or half as many where few are wanted.
    pub(super) fn at_most(&self, words: usize) -> usize {
        if self.options.brief {
            words.div_ceil(2)
        } else {
            words
        }
    }

    /// An answer of so many words; the rest is told by `more`.
    pub(super) fn tell_within(&mut self, out: &mut Vec<Effect>, most: usize, text: &str) {
        let (now, rest) = within(text, self.at_most(most));
        let hint = self.rest_hint(&rest);
        self.tell(out, &format!("{now}{hint}"));
        self.dialogue.leave_rest(rest);
    }

    /// That there is more, and how to hear it; nothing where there is none. It is said however few words are wanted.
    pub(super) fn rest_hint(&self, rest: &str) -> &'static str {
        match (rest.is_empty(), self.options.brief, self.keyed()) {
            (true, ..) => "",
            (_, true, _) => " There is more.",
            (_, _, false) => " Say more for the rest.",
            (_, _, true) => " Dot, eight and nought tells the rest.",
        }
    }

    /// What was left of the last long answer.
    pub(super) fn more(&mut self, out: &mut Vec<Effect>) {
        let rest = self.dialogue.take_rest();
        if rest.is_empty() {
            self.tell(out, "That was all.");
        } else {
            self.tell_within(out, STEP, &rest);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_sentences_then_clauses_then_all_of_it() {
        let text = "Oil the tin. Press the air out of the dough, and roll it up tightly. Brush the top with water and press on the seeds.";
        assert_eq!(
            within(text, 15),
            (
                "Oil the tin. Press the air out of the dough, and roll it up tightly.".to_owned(),
                "Brush the top with water and press on the seeds.".to_owned()
            )
        );
        assert_eq!(within(text, 20).1, "", "a rest of five words is no rest");
        let long = "Warm the oil in the large pot, put in the vegetables and the garlic, then cover them and let them sweat on a low heat.";
        assert_eq!(
            within(long, 16),
            (
                "Warm the oil in the large pot, put in the vegetables and the garlic.".to_owned(),
                "Then cover them and let them sweat on a low heat.".to_owned()
            )
        );
        let whole = "one two three four five six seven eight nine ten";
        assert_eq!(within(whole, 3), (whole.to_owned(), String::new()));
    }
}
