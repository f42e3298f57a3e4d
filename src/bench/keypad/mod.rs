//! The key language: what the keys of a numeric keypad mean, and what they say.
//!
//! The layout is our own, chosen for hands that are wet, floury or gloved, and for eyes that are elsewhere:
//!
//! - **Enter goes on.** It is the tall key in the corner that a thumb or a knuckle finds without looking, so it does
//!   what is done most: go on, 'it is in', yes.
//! - **Plus says it again.** It is the other tall key, right above Enter; the two that are used most lie under one
//!   finger, and pressing the wrong one of them costs nothing: 'again' changes nothing.
//! - **Minus goes back** and lies above plus, out of the way of a slipping hand. To a question it says 'not yet'.
//! - **The star is the timer**: it starts the one that the step offers, and once that runs it tells what is left.
//! - **The slash is the scale**: what goes on it next; outside the weigh-up, how much of which ingredient.
//! - **The dot opens the lists**: everything rare is read one item at a time. Dot goes on, minus goes back, Enter
//!   chooses, and a digit chooses at once, so whoever knows an item's number needs two strokes. Timers are number 5,
//!   the key with the raised dot.
//! - **Backspace takes back**: a digit, an open list, and to a question it says no; with nothing to take back it
//!   silences the voice. It is the key farthest from Enter.
//! - **A number first gives a key its measure**: `1 2 *` is a timer of twelve minutes, `5 +` five minutes more, `5 -`
//!   five less, `6 Enter` step six, `3 /` how much of the third ingredient.
//! - **Zero first only tells**: nought is the wide key at the near edge. `0 Enter` tells what is next without going
//!   there, `0 +` says it again slowly, `0 -` where we are, `0 *` what is left on the timers, `0 /` what has not gone
//!   in. With a number after it: `0 3 +` the last three things said, `0 2 *` the second timer, `0 3 /` whether the third
//!   ingredient is in.
//! - **A doubt is a list**: when the program is not sure what it heard, Enter reads what it may have been, and Enter or a
//!   digit chooses.
//! - **A ringing alarm is answered by any key**, and that press does nothing else.
//!
//! A number that is left alone is forgotten after a few seconds and an open list closes, so that a key never means
//! something other than what the cook last heard.

mod card;
mod lists;
mod paths;
mod place;
mod sums;

use serde::{Deserialize, Serialize};

use self::lists::{Ask, Item, Task, Then, ask, minutes, value};
use super::Key;
use crate::order::{IngredientId, StepId, TimerRef};
use crate::time::Moment;
use crate::understand::Intent;

pub use card::{card_html, card_spoken, card_svg, card_table, card_text};
pub use paths::{KEY_PATHS, KeyPath, example, press_all, strokes};
pub use place::Place;

/// How long a number half entered is kept.
const ENTRY_MS: u64 = 6_000;
/// How long an open list waits: its items are being read aloud.
const LIST_MS: u64 = 20_000;
/// Digits that an amount or a time can need.
const LONGEST: usize = 7;

/// What a key press comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum KeyAnswer {
    /// An order or a question.
    Intent(Intent),
    /// A number is being entered.
    Entry {
        /// What has been entered, to be said back.
        said: String,
    },
    /// An item of a list is being offered.
    Choice {
        /// The item, to be said.
        said: String,
        /// Its number from 1.
        item: usize,
        /// How many items there are.
        of: usize,
    },
    /// The reading that was meant, counted from nought.
    Pick(usize),
    /// Only something to say.
    Say(String),
    /// Nothing.
    Nothing,
}

/// One open list or order: what it is, what has been answered, and the item being read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Frame {
    task: Task,
    answers: Vec<String>,
    at: usize,
}

/// What has been pressed and not yet come to anything.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Keypad {
    /// The number half entered.
    entry: String,
    /// Open lists, outermost first.
    trail: Vec<Frame>,
    /// When a key was last pressed.
    touched: Moment,
    /// A question was waiting when a key was last pressed.
    asked: bool,
}

impl Keypad {
    /// A key goes down at `now`.
    pub fn press(&mut self, key: Key, now: Moment, place: &Place) -> KeyAnswer {
        if place.alarm {
            self.touched = self.touched.max(now);
            return KeyAnswer::Intent(Intent::StopChime);
        }
        self.expire(now);
        let new_question = place.asking && !self.asked;
        self.asked = place.asking;
        if new_question && self.is_open() {
            self.clear();
            let enter = if place.readings.is_empty() {
                "Enter is yes, Backspace is no"
            } else {
                "Enter reads the choices"
            };
            return KeyAnswer::Say(format!("There is a question. {enter}, plus says it again."));
        }
        self.touched = self.touched.max(now);
        let answer = if self.trail.is_empty() {
            if self.entry.is_empty() {
                self.bare(key, place)
            } else {
                self.after_number(key, place)
            }
        } else {
            self.in_list(key, place)
        };
        if matches!(answer, KeyAnswer::Intent(_) | KeyAnswer::Pick(_)) {
            self.clear();
        }
        answer
    }

    /// The number half entered; empty when there is none.
    pub fn entry(&self) -> &str {
        &self.entry
    }

    /// Is a number or a list open?
    pub fn is_open(&self) -> bool {
        !self.entry.is_empty() || !self.trail.is_empty()
    }

    /// Is a list open?
    pub fn lists_open(&self) -> bool {
        !self.trail.is_empty()
    }

    /// Forgets what was left alone for too long. True when something was forgotten.
    pub fn expire(&mut self, now: Moment) -> bool {
        self.lapse(now).is_some()
    }

    /// As `expire`, and tells what was forgotten, to be said.
    pub fn lapse(&mut self, now: Moment) -> Option<String> {
        if self.wake_at().is_none_or(|due| now < due) {
            return None;
        }
        let said = if self.trail.is_empty() {
            format!("{} forgotten.", self.entry)
        } else {
            "List closed.".to_owned()
        };
        self.clear();
        Some(said)
    }

    /// When something will be forgotten.
    pub fn wake_at(&self) -> Option<Moment> {
        let wait = if self.trail.is_empty() {
            ENTRY_MS
        } else {
            LIST_MS
        };
        self.is_open()
            .then(|| Moment(self.touched.0.saturating_add(wait)))
    }

    /// Forgets everything half entered.
    pub fn clear(&mut self) {
        self.entry.clear();
        self.trail.clear();
    }

    /// What the key does here, as a sentence.
    pub fn held(&self, key: Key, place: &Place) -> String {
        format!("{}: {}.", spoken(key), self.meaning(key, place))
    }

    /// The keys worth showing here: (key, what it does).
    pub fn hints(&self, place: &Place) -> Vec<(String, String)> {
        let keys: &[Key] = if place.alarm || (place.asking && !self.asked && self.is_open()) {
            &[Key::Enter]
        } else if place.asking && self.trail.is_empty() && self.entry.is_empty() {
            &[Key::Enter, Key::Backspace, Key::Minus, Key::Plus, Key::Dot]
        } else if self.trail.is_empty() {
            &Key::SIGNS
        } else {
            &[Key::Enter, Key::Dot, Key::Minus, Key::Plus, Key::Backspace]
        };
        keys.iter()
            .map(|k| (sign(*k).to_owned(), self.meaning(*k, place)))
            .collect()
    }

    fn meaning(&self, key: Key, place: &Place) -> String {
        if place.alarm {
            return "silences the alarm; any key does".to_owned();
        }
        if place.asking && !self.asked && self.is_open() {
            return "closes what is open: there is a question".to_owned();
        }
        if let Some(frame) = self.trail.last() {
            return match ask(frame.task, &frame.answers, place) {
                Ask::Number { optional, .. } => {
                    meaning_in_number(key, optional, self.entry.is_empty())
                }
                Ask::Pick { items, .. } => meaning_in_list(key, &items, frame.at),
                Ask::Do(_) | Ask::Refuse(_) => "closes this list".to_owned(),
            };
        }
        if self.entry.is_empty() {
            return meaning_bare(key, place);
        }
        let n = &self.entry;
        if is_zero(n) {
            return match key {
                Key::Enter => "tells what is next, without going there".to_owned(),
                Key::Plus => "says it again slowly".to_owned(),
                Key::Minus => "tells where we are".to_owned(),
                Key::Times => "tells what is left on the timers".to_owned(),
                Key::Divide => "tells what has not gone in".to_owned(),
                Key::Dot => "makes it nought point".to_owned(),
                Key::Backspace => "takes the nought back".to_owned(),
                Key::Digit(d) => format!("adds {d} to the number"),
            };
        }
        if let Some(n) = told(n) {
            return match key {
                Key::Plus => format!("says the last {n} things again"),
                Key::Times => format!("tells what is left on timer number {n}"),
                Key::Divide => format!("tells whether ingredient number {n} is in"),
                Key::Dot => "the decimal point".to_owned(),
                Key::Backspace => "takes a digit back".to_owned(),
                Key::Digit(d) => format!("adds {d} to the number"),
                Key::Enter | Key::Minus => NOUGHT_AND_NUMBER.to_owned(),
            };
        }
        match key {
            Key::Enter if place.asks_length => format!("a timer of {n} minutes"),
            Key::Enter => format!("goes to step {n}"),
            Key::Plus if place.look => format!("it needs {n} minutes longer"),
            Key::Plus => format!("{n} minutes more on the timer"),
            Key::Minus => format!("{n} minutes less on the timer"),
            Key::Times => format!("a timer of {n} minutes"),
            Key::Divide => format!("how much of ingredient number {n}"),
            Key::Dot => "the decimal point".to_owned(),
            Key::Backspace => "takes a digit back".to_owned(),
            Key::Digit(d) => format!("adds {d} to the number"),
        }
    }

    fn bare(&mut self, key: Key, place: &Place) -> KeyAnswer {
        let intent = match key {
            Key::Digit(d) => return self.type_digit(d),
            Key::Dot => return self.open(Task::Top, Vec::new(), place),
            Key::Divide if !place.weighing => return self.open(Task::Amounts, Vec::new(), place),
            Key::Enter if place.asks_length => {
                return KeyAnswer::Say("Enter the minutes first, then Enter.".to_owned());
            }
            Key::Enter if !place.readings.is_empty() => {
                return self.open(Task::Readings, Vec::new(), place);
            }
            Key::Enter if place.asking => Intent::Yes,
            Key::Enter if place.weighing => Intent::Done,
            Key::Enter => Intent::Next,
            Key::Plus => Intent::Repeat { slowly: false },
            Key::Minus if place.asking => Intent::NotYet,
            Key::Minus => Intent::Back,
            Key::Times if place.offered_timer => Intent::StartOffered,
            Key::Times if place.timers.is_empty() => Intent::StartTimer {
                lasts: None,
                name: None,
            },
            Key::Times => Intent::TimeLeft { timer: None },
            Key::Divide => Intent::WeighNext,
            Key::Backspace if place.asking || place.asks_length => Intent::No,
            Key::Backspace => Intent::StopTalking,
        };
        KeyAnswer::Intent(intent)
    }

    fn after_number(&mut self, key: Key, place: &Place) -> KeyAnswer {
        match key {
            Key::Digit(d) => return self.type_digit(d),
            Key::Dot => return self.type_point(),
            Key::Backspace => return self.take_back(),
            _ => {}
        }
        let text = std::mem::take(&mut self.entry);
        if is_zero(&text) {
            return KeyAnswer::Intent(match key {
                Key::Enter => Intent::WhatNext,
                Key::Plus => Intent::Repeat { slowly: true },
                Key::Minus => Intent::WhereAmI,
                Key::Times => Intent::TimeLeft { timer: None },
                _ => Intent::LeftToAdd,
            });
        }
        if let Some(n) = told(&text) {
            return tell_number(key, n, place);
        }
        if value(&text) <= 0.0 {
            return KeyAnswer::Say(format!("{text} is nothing; nothing done."));
        }
        let by = minutes(&text);
        let timer_of = |lasts| {
            KeyAnswer::Intent(Intent::StartTimer {
                lasts: Some(lasts),
                name: None,
            })
        };
        match key {
            Key::Enter if place.asks_length => timer_of(by),
            Key::Enter => match text.parse::<u32>() {
                Ok(step) => KeyAnswer::Intent(Intent::GoToStep { step: StepId(step) }),
                Err(_) => {
                    KeyAnswer::Say(format!("There is no step {text}; steps are whole numbers."))
                }
            },
            Key::Plus if place.look => KeyAnswer::Intent(Intent::NeedsLonger { by: Some(by) }),
            Key::Plus if place.timers.len() > 1 => {
                self.open(Task::LengthenWhich, vec![text], place)
            }
            Key::Plus => KeyAnswer::Intent(Intent::AddTime { by, timer: None }),
            Key::Minus if place.timers.len() > 1 => {
                self.open(Task::ShortenWhich, vec![text], place)
            }
            Key::Minus => KeyAnswer::Intent(Intent::TakeTime { by, timer: None }),
            Key::Times => timer_of(by),
            _ => numbered_ingredient(&text, place, |ingredient| Intent::HowMuch {
                ingredient,
                part: None,
                unit: None,
            }),
        }
    }

    fn in_list(&mut self, key: Key, place: &Place) -> KeyAnswer {
        let Some(frame) = self.trail.last() else {
            return KeyAnswer::Nothing;
        };
        let (task, at) = (frame.task, frame.at);
        match ask(task, &frame.answers, place) {
            Ask::Number { optional, .. } => self.in_number(key, optional, place),
            Ask::Pick { title: _, items } => {
                // The world may have changed under the list: a timer may have gone.
                let len = items.len();
                let at = at.min(len.saturating_sub(1));
                let (next, before) = ((at + 1) % len, (at + len - 1) % len);
                match key {
                    Key::Enter => self.choose(items, at, place),
                    Key::Digit(d) => {
                        let wanted = if d == 0 { 9 } else { usize::from(d) - 1 };
                        if wanted < len {
                            self.choose(items, wanted, place)
                        } else {
                            KeyAnswer::Say(format!("This list has {len}."))
                        }
                    }
                    Key::Dot => self.read(next, place),
                    Key::Minus => self.read(before, place),
                    Key::Plus => self.read(at, place),
                    Key::Backspace => self.leave(place),
                    Key::Times | Key::Divide => KeyAnswer::Say(
                        "Dot goes on, Enter chooses, Backspace leaves this list.".to_owned(),
                    ),
                }
            }
            Ask::Do(_) | Ask::Refuse(_) => self.leave(place),
        }
    }

    fn in_number(&mut self, key: Key, optional: bool, place: &Place) -> KeyAnswer {
        match key {
            Key::Digit(d) => self.type_digit(d),
            Key::Dot => self.type_point(),
            Key::Backspace if self.entry.is_empty() => self.leave(place),
            Key::Backspace => self.take_back(),
            Key::Minus if self.entry.is_empty() => {
                self.entry.push('-');
                KeyAnswer::Entry {
                    said: "minus".to_owned(),
                }
            }
            Key::Enter if optional || self.entry.bytes().any(|b| b.is_ascii_digit()) => {
                let text = std::mem::take(&mut self.entry);
                let text = if text == "-" { String::new() } else { text };
                if let Some(frame) = self.trail.last_mut() {
                    frame.answers.push(text);
                }
                self.go_on(place)
            }
            Key::Plus | Key::Enter => self.go_on(place),
            Key::Minus | Key::Times | Key::Divide => {
                KeyAnswer::Say("Enter takes the number, Backspace takes a digit back.".to_owned())
            }
        }
    }

    fn choose(&mut self, mut items: Vec<Item>, at: usize, place: &Place) -> KeyAnswer {
        if at >= items.len() {
            return self.leave(place);
        }
        match items.swap_remove(at).then {
            Then::Do(intent) => KeyAnswer::Intent(intent),
            Then::Pick(at) => KeyAnswer::Pick(at),
            Then::Open(task, answers) => {
                if let Some(frame) = self.trail.last_mut() {
                    frame.at = at;
                }
                self.open(task, answers, place)
            }
            Then::Keep(answer) => {
                if let Some(frame) = self.trail.last_mut() {
                    frame.answers.push(answer);
                    frame.at = 0;
                }
                self.go_on(place)
            }
        }
    }

    fn open(&mut self, task: Task, answers: Vec<String>, place: &Place) -> KeyAnswer {
        self.trail.push(Frame {
            task,
            answers,
            at: 0,
        });
        self.go_on(place)
    }

    /// Asks for what the innermost task needs now, or gives its order.
    fn go_on(&mut self, place: &Place) -> KeyAnswer {
        let Some(frame) = self.trail.last() else {
            return KeyAnswer::Nothing;
        };
        match ask(frame.task, &frame.answers, place) {
            Ask::Pick { .. } => self.read(frame.at, place),
            Ask::Number { prompt, .. } => KeyAnswer::Say(if self.entry.is_empty() {
                prompt
            } else {
                format!("{prompt} So far {}.", self.entry)
            }),
            Ask::Do(intent) => KeyAnswer::Intent(intent),
            Ask::Refuse(why) => {
                self.clear();
                KeyAnswer::Say(why)
            }
        }
    }

    /// Reads one item; the first time with the list's title.
    fn read(&mut self, at: usize, place: &Place) -> KeyAnswer {
        let Some(frame) = self.trail.last_mut() else {
            return KeyAnswer::Nothing;
        };
        let Ask::Pick { title, items } = ask(frame.task, &frame.answers, place) else {
            return KeyAnswer::Nothing;
        };
        let at = at.min(items.len().saturating_sub(1));
        let first = at == 0 && frame.at == 0;
        frame.at = at;
        let Some(item) = items.get(at) else {
            self.clear();
            return KeyAnswer::Say("That list is empty.".to_owned());
        };
        let (n, says) = (at + 1, &item.says);
        KeyAnswer::Choice {
            said: if first {
                format!("{title} {n}: {says}.")
            } else {
                format!("{n}: {says}.")
            },
            item: n,
            of: items.len(),
        }
    }

    /// Leaves the innermost list, for the one around it.
    fn leave(&mut self, place: &Place) -> KeyAnswer {
        self.entry.clear();
        self.trail.pop();
        if self.trail.is_empty() {
            KeyAnswer::Say("List closed.".to_owned())
        } else {
            self.go_on(place)
        }
    }

    fn type_digit(&mut self, d: u8) -> KeyAnswer {
        if self.entry.len() < LONGEST && d < 10 {
            self.entry.push(char::from(b'0' + d));
        }
        self.said_back()
    }

    fn type_point(&mut self) -> KeyAnswer {
        if !self.entry.contains('.') && self.entry.len() < LONGEST {
            if !self.entry.bytes().any(|b| b.is_ascii_digit()) {
                self.entry.push('0');
            }
            self.entry.push('.');
        }
        self.said_back()
    }

    fn take_back(&mut self) -> KeyAnswer {
        self.entry.pop();
        self.said_back()
    }

    fn said_back(&self) -> KeyAnswer {
        let said = match self.entry.strip_suffix('.') {
            Some(whole) => format!("{whole} point"),
            None if self.entry.is_empty() => "Nothing entered.".to_owned(),
            None if self.entry == "-" => "minus".to_owned(),
            None => self.entry.clone(),
        };
        KeyAnswer::Entry { said }
    }
}

/// A nought that was entered by itself, to be told something.
fn is_zero(entry: &str) -> bool {
    !entry.is_empty() && entry.bytes().all(|b| b == b'0')
}

const NOUGHT_AND_NUMBER: &str = "nothing here: after nought and a number come plus, star or slash";

/// A whole number after a nought, `03`: it asks to be told something.
fn told(entry: &str) -> Option<u32> {
    let n = entry.strip_prefix('0')?;
    n.parse().ok().filter(|n| *n > 0)
}

fn tell_number(key: Key, n: u32, place: &Place) -> KeyAnswer {
    let at = n as usize - 1;
    match key {
        Key::Plus => KeyAnswer::Intent(Intent::RepeatLast { count: n }),
        Key::Divide => numbered_ingredient(&n.to_string(), place, |ingredient| Intent::HaveAdded {
            ingredient,
        }),
        Key::Times => match place.timers.get(at) {
            Some(timer) => KeyAnswer::Intent(Intent::TimeLeft {
                timer: Some(TimerRef::Said(timer.clone())),
            }),
            None => KeyAnswer::Say(format!("There is no timer {n}.")),
        },
        _ => KeyAnswer::Say("Nought and a number only tell, with plus, star or slash.".to_owned()),
    }
}

fn numbered_ingredient(
    text: &str,
    place: &Place,
    intent: impl Fn(IngredientId) -> Intent,
) -> KeyAnswer {
    let at = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    match at.and_then(|at| place.ingredients.get(at)) {
        Some(id) => KeyAnswer::Intent(intent(id.as_str().into())),
        None => KeyAnswer::Say(match place.ingredients.len() {
            0 => "There is no ingredient list here.".to_owned(),
            n => format!("There is no ingredient {text}; they run from 1 to {n}."),
        }),
    }
}

fn meaning_bare(key: Key, place: &Place) -> String {
    match key {
        Key::Enter if place.asks_length => "takes the minutes, once they are entered",
        Key::Enter if !place.readings.is_empty() => "reads what you may have said, to choose from",
        Key::Enter if place.asking => "yes",
        Key::Enter if place.weighing => "it is in; on to the next",
        Key::Enter if !place.started => "begins",
        Key::Enter => "goes on to the next step",
        Key::Plus => "says it again",
        Key::Minus if place.asking => "not yet",
        Key::Minus if place.weighing => "takes the last one back, or goes back a step",
        Key::Minus => "goes back a step",
        Key::Times if place.offered_timer => "starts this step's timer",
        Key::Times if place.timers.is_empty() => "a new timer; or the minutes first, then the star",
        Key::Times => "tells what is left on the timers",
        Key::Divide if place.weighing => "tells what goes on the scale",
        Key::Divide => "how much of which ingredient",
        Key::Dot => "opens the list of more",
        Key::Backspace if place.asking || place.asks_length => "no",
        Key::Backspace => "silences the voice",
        Key::Digit(0) => "nought, then a key, only tells; or it begins a number",
        Key::Digit(d) => return format!("begins the number {d}"),
    }
    .to_owned()
}

fn meaning_in_number(key: Key, optional: bool, empty: bool) -> String {
    match key {
        Key::Enter if empty && optional => "leaves the number out",
        Key::Enter => "takes the number",
        Key::Plus => "asks again",
        Key::Minus if empty => "makes the number negative",
        Key::Minus | Key::Times | Key::Divide => "nothing here",
        Key::Dot => "the decimal point",
        Key::Backspace if empty => "leaves",
        Key::Backspace => "takes a digit back",
        Key::Digit(d) => return format!("adds {d} to the number"),
    }
    .to_owned()
}

fn meaning_in_list(key: Key, items: &[Item], at: usize) -> String {
    let says = |i: usize| items.get(i).map(|item| format!("chooses {}", item.says));
    match key {
        Key::Enter => says(at).unwrap_or_else(|| "closes this list".to_owned()),
        Key::Digit(d) => says(if d == 0 { 9 } else { usize::from(d) - 1 })
            .unwrap_or_else(|| "nothing here".to_owned()),
        Key::Dot => "reads the next of the list".to_owned(),
        Key::Minus => "reads the one before".to_owned(),
        Key::Plus => "reads it again".to_owned(),
        Key::Backspace => "leaves this list".to_owned(),
        Key::Times | Key::Divide => "nothing here".to_owned(),
    }
}

/// A key's name as spoken.
pub fn spoken(key: Key) -> String {
    match key {
        Key::Digit(d) => d.to_string(),
        Key::Enter => "Enter".to_owned(),
        Key::Plus => "Plus".to_owned(),
        Key::Minus => "Minus".to_owned(),
        Key::Times => "Star".to_owned(),
        Key::Divide => "Slash".to_owned(),
        Key::Dot => "Dot".to_owned(),
        Key::Backspace => "Backspace".to_owned(),
    }
}

/// A key's name as printed.
pub fn sign(key: Key) -> &'static str {
    const DIGITS: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
    match key {
        Key::Digit(d) => DIGITS.get(usize::from(d)).copied().unwrap_or("?"),
        Key::Enter => "Enter",
        Key::Plus => "+",
        Key::Minus => "-",
        Key::Times => "*",
        Key::Divide => "/",
        Key::Dot => ".",
        Key::Backspace => "Back",
    }
}

#[cfg(test)]
mod tests;
