//! What the bake log remembers, and what it is to remember.

use super::Bench;
use super::effect::Effect;
use super::last_time::LastTime;
use super::own_time::{Belief, believe};
use super::taken::Taken;
use crate::order::Order;
use crate::time::{Span, Wall};

/// The longest note, in characters.
const LONGEST_NOTE: usize = 300;

impl Bench {
    /// What is told of the last bake before this one; nothing where nothing is known.
    pub(super) fn last_time_opening(&self) -> String {
        let last = self.options.last.as_ref();
        last.and_then(|last| last.opening(&self.wall_here()))
            .map_or(String::new(), |text| format!(" {text}"))
    }

    /// How long the oven took to get hot, once it is: for the bake log.
    pub(super) fn oven_took(&self) -> Option<Effect> {
        let planned = self.formula().oven.as_ref()?.lead;
        let took = self.now.since(self.dish().lit()?);
        // What is said long after it was hot tells nothing.
        (believe(took, planned, None) == Belief::Sure).then(|| Effect::Took {
            dish: self.dishes.at_hand(),
            timer: OVEN.to_owned(),
            planned,
            took: Span::seconds(took.as_seconds()),
            room_c: None,
            asked: false,
        })
    }

    /// Answers from what the log knows of the last bake.
    pub(super) fn tell_from_log(
        &mut self,
        words: impl FnOnce(&LastTime, &Wall) -> String,
        out: &mut Vec<Effect>,
    ) {
        let wall = self.wall_here();
        let last = self.options.last.as_ref();
        let of_this = last.filter(|last| last.account.bake == self.written().name);
        let text = match of_this {
            Some(last) => words(last, &wall),
            None => format!(
                "I have nothing in my log of {}.",
                super::words::the(&self.written().name)
            ),
        };
        self.tell(out, &text);
    }

    /// The cook notes something for the next time.
    pub(super) fn take_note(&mut self, text: &str, out: &mut Vec<Effect>) {
        let text: String = text.trim().chars().take(LONGEST_NOTE).collect();
        if text.is_empty() {
            self.tell(
                out,
                "Say what to note: note, next time ten grams less water.",
            );
            return;
        }
        let dish = self.dishes.at_hand();
        out.push(Effect::Noted {
            dish,
            note: text.clone(),
        });
        self.tell(
            out,
            &format!("Noted: {text}. I will tell you before the next bake."),
        );
    }

    /// A note that is typed may say anything: `note: the top was burnt at the back`.
    pub(super) fn typed_note(text: &str) -> Option<Taken> {
        let begun = [
            "make a note that ",
            "make a note ",
            "note that ",
            "note: ",
            "note ",
        ];
        let text = begun
            .iter()
            .find_map(|begin| text.strip_prefix(begin))?
            .trim();
        (!text.is_empty()).then(|| Taken::Order {
            order: Order::Note {
                text: text.to_owned(),
            },
        })
    }

    /// How it was, by the cook.
    pub(super) fn take_word(&mut self, word: &str, out: &mut Vec<Effect>) {
        let dish = self.dishes.at_hand();
        out.push(Effect::Judged {
            dish,
            word: word.to_owned(),
        });
        // It is not asked again.
        self.options.judgement = false;
        self.tell(
            out,
            &format!("It was {word}: I will remember that for next time."),
        );
    }
}

/// The name under which the oven stands in the log.
const OVEN: &str = "oven";
