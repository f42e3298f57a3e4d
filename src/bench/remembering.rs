//! What the bake log remembers, and what it is to remember.

use super::Bench;
use super::dialogue::is_stop;
use super::effect::{Effect, TakeDown};
use super::event::Heard;
use super::last_time::LastTime;
use super::own_time::{Belief, believe};
use super::pending::Pending;
use super::remembered::OVEN;
use super::taken::Taken;
use crate::order::Order;
use crate::time::{Span, Wall};
use crate::timer::DishId;
use crate::understand::{Understood, parse};

/// The longest note, in characters.
const LONGEST_NOTE: usize = 300;

impl Bench {
    /// What is told of the last bake of a dish before this one; nothing where nothing is known. Where there are several
    /// dishes each has its name.
    pub(super) fn last_time_opening(&self, of: DishId) -> Option<String> {
        let text = self.last_of(of)?.opening(&self.wall_here())?;
        if self.dishes.are_several() {
            let the = super::words::capital(&self.dishes.the(of));
            return Some(format!("{the}: {}", super::words::lower_first(&text)));
        }
        Some(text)
    }

    /// How long the oven takes to get hot here, where it is written so.
    pub(super) fn oven_lead(&self, written: Span) -> Span {
        let own = self.dish().remembered().oven();
        own.map_or(written, |own| own.lasts)
    }

    /// The last bake of a dish, from the log.
    fn last_of(&self, of: DishId) -> Option<&LastTime> {
        let dish = self.dishes.get(of)?;
        let last = dish.remembered().last.as_ref();
        last.filter(|last| last.account.bake == dish.written().name)
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
        let text = match self.last_of(self.dishes.at_hand()) {
            Some(last) => words(last, &wall),
            None => format!(
                "I have nothing in my log of {}.",
                super::words::the(&self.written().name)
            ),
        };
        self.tell(out, &text);
    }

    /// 'What did I do last time?' The notes that were spoken are played.
    pub(super) fn tell_last_time(&mut self, out: &mut Vec<Effect>) {
        self.tell_from_log(LastTime::did, out);
        out.extend(self.spoken_notes(self.dishes.at_hand()));
    }

    /// The notes of the last bake that were spoken, to be played.
    pub(super) fn spoken_notes(&self, of: DishId) -> Vec<Effect> {
        let last = self.last_of(of).into_iter();
        let spoken = last.flat_map(LastTime::spoken);
        spoken
            .map(|(recording, words)| play(recording, words))
            .collect()
    }

    /// What the cook noted of an ingredient the last time, as it is called: `You noted ten grams less.`
    pub(super) fn noted_of(&self, ingredient: &str) -> Option<String> {
        let last = self.last_of(self.dishes.at_hand())?;
        last.noted_of(ingredient)
            .map(|what| format!("You noted {what}."))
    }

    /// What is said next is a note.
    pub(super) fn make_note(&mut self, out: &mut Vec<Effect>) {
        let deaf = self.dialogue.is_deaf();
        let question = if deaf {
            "Type your note."
        } else {
            "Say your note."
        };
        let note = Pending::note(self.dishes.at_hand(), question.to_owned(), self.now);
        self.put(note, out);
        if !deaf {
            let what = TakeDown::Begin;
            out.push(Effect::TakeDown { what });
        }
    }

    /// A note is waited for.
    pub fn is_noting(&self) -> bool {
        matches!(self.dialogue.question(), Some(Pending::Note { .. }))
    }

    /// Words that come while a note is waited for are the note; but for those that end it.
    pub(super) fn taken_down(&self, heard: &Heard) -> Option<Taken> {
        if !self.is_noting() {
            return None;
        }
        let said = parse(&heard.text, &self.lexicon);
        let ends = match &said {
            Understood::Order(order) => order.is_answer() || is_stop(order),
            _ => false,
        };
        (!ends).then(|| Taken::Order {
            order: Order::Note {
                text: self.understood_note(&heard.text),
            },
        })
    }

    /// A note as the language has it, where it can be read: `next time ten grams less water`.
    fn understood_note(&self, text: &str) -> String {
        for said in [text.to_owned(), format!("note {text}")] {
            if let Understood::Order(Order::Note { text }) = parse(&said, &self.lexicon) {
                return text;
            }
        }
        text.to_owned()
    }

    /// What the cook said was kept with its sound.
    pub(super) fn noted(&mut self, text: &str, recording: Option<&str>, out: &mut Vec<Effect>) {
        let waits = self
            .dialogue
            .take_question_if(|p| matches!(p, Pending::Note { .. }));
        let dish = waits.and_then(|p| p.dish());
        let dish = dish.unwrap_or(self.dishes.at_hand());
        if text.is_empty() && recording.is_none() {
            self.note(out, "I heard nothing, and have noted nothing.");
            return;
        }
        let text = self.understood_note(text);
        self.while_at(dish, |bench| bench.take_note(&text, recording, out));
    }

    /// The cook notes something for the next time.
    pub(super) fn take_note(&mut self, text: &str, recording: Option<&str>, out: &mut Vec<Effect>) {
        let text: String = text.trim().chars().take(LONGEST_NOTE).collect();
        if text.is_empty() && recording.is_none() {
            self.tell(
                out,
                "Say what to note: note, next time ten grams less water.",
            );
            return;
        }
        let dish = self.dishes.at_hand();
        let recording = recording.map(str::to_owned);
        self.notes.push((dish, recording.clone(), text.clone()));
        let then = if recording.is_some() {
            "I will play it before the next bake."
        } else {
            "I will tell you before the next bake."
        };
        let said = if text.is_empty() {
            format!("Noted, in your own words. {then}")
        } else {
            format!("Noted: {text}. {then}")
        };
        out.push(Effect::Noted {
            dish,
            note: text,
            recording,
        });
        self.tell(out, &said);
    }

    /// What was noted of the dish at hand: in this session, or else the last time.
    pub(super) fn play_notes(&mut self, out: &mut Vec<Effect>) {
        let here = self.dishes.at_hand();
        let own = self.notes.iter().filter(|(dish, ..)| *dish == here);
        let mut notes: Vec<(Option<String>, String)> = own
            .map(|(_, recording, words)| (recording.clone(), words.clone()))
            .collect();
        let now = !notes.is_empty();
        if let Some(last) = self.last_of(here).filter(|_| !now) {
            notes = last.all_notes().collect();
        }
        let the = super::words::the(&self.written().name);
        if notes.is_empty() {
            self.tell(out, &format!("You have noted nothing of {the}."));
            return;
        }
        let when = if now {
            "You noted"
        } else {
            "Last time you noted"
        };
        let written: Vec<&str> = notes
            .iter()
            .filter(|(recording, _)| recording.is_none())
            .map(|(_, words)| words.as_str())
            .collect();
        let text = match written.as_slice() {
            [] => format!("{when}:"),
            some => format!("{when}: {}.", some.join("; ")),
        };
        self.tell(out, &text);
        let spoken = notes.iter().filter_map(|(recording, words)| {
            let recording = recording.as_deref()?;
            Some(play(recording, words))
        });
        out.extend(spoken);
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

/// A note of the cook's own voice, to be played.
fn play(recording: &str, words: &str) -> Effect {
    Effect::PlayNote {
        recording: recording.to_owned(),
        words: words.to_owned(),
    }
}
