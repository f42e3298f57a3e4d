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
mod paths;
mod tree;

use serde::{Deserialize, Serialize};

use self::tree::{Ask, Item, Then, ask, stroke};
use crate::order::keys::{Answer, Before, Press, value};
use crate::order::{Key, Order, Situation};
use crate::time::Moment;

pub use card::{card_html, card_spoken, card_svg, card_table, card_text};
pub use paths::{KeyPath, key_paths, press_all};

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
    Order(Order),
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

/// One open list or order: where it stands in the tree of lists, what has been answered, and the item being read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Frame {
    node: String,
    answers: Vec<Answer>,
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
    pub fn press(&mut self, key: Key, now: Moment, here: &Situation) -> KeyAnswer {
        if here.ringing {
            self.touched = self.touched.max(now);
            return self.stroke(Before::Nothing, Key::Enter, "", here);
        }
        self.expire(now);
        let new_question = here.is_asking() && !self.asked;
        self.asked = here.is_asking();
        if new_question && self.is_open() {
            self.clear();
            let enter = if here.readings().is_empty() {
                "Enter is yes, Backspace is no"
            } else {
                "Enter reads the choices"
            };
            return KeyAnswer::Say(format!("There is a question. {enter}, plus says it again."));
        }
        self.touched = self.touched.max(now);
        let answer = if self.trail.is_empty() {
            if self.entry.is_empty() {
                self.bare(key, here)
            } else {
                self.after_number(key, here)
            }
        } else {
            self.in_list(key, here)
        };
        if matches!(answer, KeyAnswer::Order(_) | KeyAnswer::Pick(_)) {
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
    pub fn held(&self, key: Key, here: &Situation) -> String {
        format!("{}: {}.", key.spoken(), self.meaning(key, here))
    }

    /// The list that is open: its title, its entries, and the one that Enter chooses.
    pub fn list(&self, here: &Situation) -> Option<(String, Vec<String>, usize)> {
        let frame = self.trail.last()?;
        match ask(&frame.node, &frame.answers, here) {
            Ask::Pick { title, items } => {
                let at = frame.at.min(items.len().saturating_sub(1));
                Some((title, items.into_iter().map(|item| item.says).collect(), at))
            }
            _ => None,
        }
    }

    /// The keys worth showing here, each in a few words: (key, what it does).
    pub fn hints(&self, here: &Situation) -> Vec<(String, String)> {
        let keys: &[Key] = if here.ringing || (here.is_asking() && !self.asked && self.is_open()) {
            &[Key::Enter]
        } else if here.is_asking() && self.trail.is_empty() && self.entry.is_empty() {
            &[Key::Enter, Key::Backspace, Key::Minus, Key::Plus, Key::Dot]
        } else if self.trail.is_empty() {
            &Key::SIGNS
        } else {
            &[Key::Enter, Key::Dot, Key::Minus, Key::Plus, Key::Backspace]
        };
        keys.iter()
            .map(|k| (k.sign().to_owned(), self.in_short(*k, here)))
            .collect()
    }

    /// What the key does here, in the words of the card.
    fn in_short(&self, key: Key, here: &Situation) -> String {
        let in_list = self.trail.last().and_then(|_| self.list(here)).is_some();
        let short = match key {
            _ if here.is_asking() && !self.asked && self.is_open() => None,
            Key::Enter if in_list => Some("takes it"),
            Key::Dot if in_list => Some("next"),
            Key::Minus if in_list => Some("before"),
            Key::Plus if in_list => Some("again"),
            Key::Backspace if in_list => Some("leave"),
            _ if here.ringing => Some("silence"),
            _ if self.is_open() => None,
            _ => stroke(Before::Nothing, key, here).and_then(|stroke| {
                let of = |p: &&KeyPath| p.strokes == key.sign() && p.place == stroke.place;
                key_paths().iter().find(of).map(|path| path.says)
            }),
        };
        let long = self.meaning(key, here);
        let end = |c| matches!(c, ':' | ';' | ',');
        let words = short.unwrap_or(&long).split(end).next();
        words.unwrap_or_default().trim().to_owned()
    }

    fn meaning(&self, key: Key, here: &Situation) -> String {
        if here.ringing {
            return tree::meaning(Before::Nothing, Key::Enter, "", here).unwrap_or_default();
        }
        if here.is_asking() && !self.asked && self.is_open() {
            return "closes what is open: there is a question".to_owned();
        }
        if let Some(frame) = self.trail.last() {
            return match ask(&frame.node, &frame.answers, here) {
                Ask::Number { optional, .. } => {
                    meaning_in_number(key, optional, self.entry.is_empty())
                }
                Ask::Pick { items, .. } => meaning_in_list(key, &items, frame.at),
                Ask::Do(_) | Ask::Refuse(_) => "closes this list".to_owned(),
            };
        }
        let n = &self.entry;
        let (before, n) = entered(n);
        match (before, key) {
            (Before::Nothing, Key::Digit(0)) => {
                "nought, then a key, only tells; or it begins a number".to_owned()
            }
            (Before::Nothing, Key::Digit(d)) => format!("begins the number {d}"),
            (Before::Nothing, _) => tree::meaning(before, key, n, here).unwrap_or_default(),
            (_, Key::Digit(d)) => format!("adds {d} to the number"),
            (Before::Nought, Key::Dot) => "makes it nought point".to_owned(),
            (Before::Nought, Key::Backspace) => "takes the nought back".to_owned(),
            (_, Key::Dot) => "the decimal point".to_owned(),
            (_, Key::Backspace) => "takes a digit back".to_owned(),
            _ => {
                tree::meaning(before, key, n, here).unwrap_or_else(|| NOUGHT_AND_NUMBER.to_owned())
            }
        }
    }

    /// What a key by itself or after a number comes to.
    fn stroke(&mut self, before: Before, key: Key, n: &str, here: &Situation) -> KeyAnswer {
        let Some(stroke) = stroke(before, key, here) else {
            return KeyAnswer::Say(
                "Nought and a number only tell, with plus, star or slash.".to_owned(),
            );
        };
        match (stroke.then)(n, here) {
            Press::Order(order) => KeyAnswer::Order(order),
            Press::Say(text) => KeyAnswer::Say(text),
            Press::Open(node, answers) => self.open(node.to_owned(), answers, here),
        }
    }

    fn bare(&mut self, key: Key, here: &Situation) -> KeyAnswer {
        match key {
            Key::Digit(d) => self.type_digit(d),
            key => self.stroke(Before::Nothing, key, "", here),
        }
    }

    fn after_number(&mut self, key: Key, here: &Situation) -> KeyAnswer {
        match key {
            Key::Digit(d) => return self.type_digit(d),
            Key::Dot => return self.type_point(),
            Key::Backspace => return self.take_back(),
            _ => {}
        }
        let text = std::mem::take(&mut self.entry);
        let (before, n) = entered(&text);
        if before == Before::Number && value(n) <= 0.0 {
            return KeyAnswer::Say(format!("{text} is nothing; nothing done."));
        }
        self.stroke(before, key, n, here)
    }

    fn in_list(&mut self, key: Key, here: &Situation) -> KeyAnswer {
        let Some(frame) = self.trail.last() else {
            return KeyAnswer::Nothing;
        };
        let at = frame.at;
        match ask(&frame.node, &frame.answers, here) {
            Ask::Number { optional, .. } => self.in_number(key, optional, here),
            Ask::Pick { title: _, items } => {
                // The world may have changed under the list: a timer may have gone.
                let len = items.len();
                let at = at.min(len.saturating_sub(1));
                let (next, before) = ((at + 1) % len, (at + len - 1) % len);
                match key {
                    Key::Enter => self.choose(items, at, here),
                    Key::Digit(d) => {
                        let wanted = if d == 0 { 9 } else { usize::from(d) - 1 };
                        if wanted < len {
                            self.choose(items, wanted, here)
                        } else {
                            KeyAnswer::Say(format!("This list has {len}."))
                        }
                    }
                    Key::Dot => self.read(next, here),
                    Key::Minus => self.read(before, here),
                    Key::Plus => self.read(at, here),
                    Key::Backspace => self.leave(here),
                    Key::Times | Key::Divide => KeyAnswer::Say(
                        "Dot goes on, Enter chooses, Backspace leaves this list.".to_owned(),
                    ),
                }
            }
            Ask::Do(_) | Ask::Refuse(_) => self.leave(here),
        }
    }

    fn in_number(&mut self, key: Key, optional: bool, here: &Situation) -> KeyAnswer {
        match key {
            Key::Digit(d) => self.type_digit(d),
            Key::Dot => self.type_point(),
            Key::Backspace if self.entry.is_empty() => self.leave(here),
            Key::Backspace => self.take_back(),
            Key::Minus if self.entry.is_empty() => {
                self.entry.push('-');
                KeyAnswer::Entry {
                    said: "minus".to_owned(),
                }
            }
            Key::Enter if optional || self.entry.bytes().any(|b| b.is_ascii_digit()) => {
                let text = std::mem::take(&mut self.entry);
                if let Some(frame) = self.trail.last_mut() {
                    frame.answers.push(if text.is_empty() || text == "-" {
                        Answer::Nothing
                    } else {
                        Answer::Number(text)
                    });
                }
                self.go_on(here)
            }
            Key::Plus | Key::Enter => self.go_on(here),
            Key::Minus | Key::Times | Key::Divide => {
                KeyAnswer::Say("Enter takes the number, Backspace takes a digit back.".to_owned())
            }
        }
    }

    fn choose(&mut self, mut items: Vec<Item>, at: usize, here: &Situation) -> KeyAnswer {
        if at >= items.len() {
            return self.leave(here);
        }
        match items.swap_remove(at).then {
            Then::Do(order) => KeyAnswer::Order(order),
            Then::Pick(at) => KeyAnswer::Pick(at),
            Then::Open(node, answers) => {
                if let Some(frame) = self.trail.last_mut() {
                    frame.at = at;
                }
                self.open(node, answers, here)
            }
            Then::Keep(answer) => {
                if let Some(frame) = self.trail.last_mut() {
                    frame.answers.push(answer);
                    frame.at = 0;
                }
                self.go_on(here)
            }
        }
    }

    fn open(&mut self, node: String, answers: Vec<Answer>, here: &Situation) -> KeyAnswer {
        self.trail.push(Frame {
            node,
            answers,
            at: 0,
        });
        self.go_on(here)
    }

    /// Asks for what the innermost list or order needs now, or gives its order.
    fn go_on(&mut self, here: &Situation) -> KeyAnswer {
        let Some(frame) = self.trail.last() else {
            return KeyAnswer::Nothing;
        };
        match ask(&frame.node, &frame.answers, here) {
            Ask::Pick { .. } => self.read(frame.at, here),
            Ask::Number { prompt, .. } => KeyAnswer::Say(if self.entry.is_empty() {
                prompt.to_owned()
            } else {
                format!("{prompt} So far {}.", self.entry)
            }),
            Ask::Do(order) => KeyAnswer::Order(order),
            Ask::Refuse(why) => {
                self.clear();
                KeyAnswer::Say(why)
            }
        }
    }

    /// Reads one item; the first time with the list's title.
    fn read(&mut self, at: usize, here: &Situation) -> KeyAnswer {
        let Some(frame) = self.trail.last_mut() else {
            return KeyAnswer::Nothing;
        };
        let Ask::Pick { title, items } = ask(&frame.node, &frame.answers, here) else {
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
    fn leave(&mut self, here: &Situation) -> KeyAnswer {
        self.entry.clear();
        self.trail.pop();
        if self.trail.is_empty() {
            KeyAnswer::Say("List closed.".to_owned())
        } else {
            self.go_on(here)
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

/// What was entered before a key: nothing, a nought, a whole number after a nought (`03`), or a number.
fn entered(text: &str) -> (Before, &str) {
    if text.is_empty() {
        return (Before::Nothing, text);
    }
    if text.bytes().all(|b| b == b'0') {
        return (Before::Nought, text);
    }
    let whole = text.strip_prefix('0').map(|n| n.trim_start_matches('0'));
    match whole.filter(|n| n.bytes().all(|b| b.is_ascii_digit())) {
        Some(n) => (Before::NoughtAndNumber, n),
        None => (Before::Number, text),
    }
}

const NOUGHT_AND_NUMBER: &str = "nothing here: after nought and a number come plus, star or slash";

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

#[cfg(test)]
mod tests;
