//! stub
use super::{Key, Moment};
use crate::understand::Intent;
/// s
#[derive(Debug, Clone, Default)]
pub struct Keypad;
/// s
#[allow(missing_docs)]
pub struct Place {
    pub alarm: bool,
    pub asking: bool,
    pub weighing: bool,
    pub offered_timer: bool,
    pub started: bool,
    pub timers: Vec<String>,
    pub ingredients: Vec<String>,
    pub step: usize,
    pub steps: usize,
}
/// s
#[allow(missing_docs)]
pub enum KeyAnswer {
    Intent(Intent),
    Entry { said: String },
    Say(String),
    Nothing,
}
#[allow(missing_docs)]
impl Keypad {
    pub fn press(&mut self, k: Key, _: Moment, p: &Place) -> KeyAnswer {
        match k {
            Key::Enter => KeyAnswer::Intent(if p.weighing {
                Intent::Done
            } else {
                Intent::Next
            }),
            _ => KeyAnswer::Nothing,
        }
    }
    pub fn held(&self, _: Key, _: &Place) -> String {
        String::new()
    }
    pub fn entry(&self) -> &str {
        ""
    }
    pub fn expire(&mut self, _: Moment) -> bool {
        false
    }
    pub fn wake_at(&self) -> Option<Moment> {
        None
    }
}
/// s
pub fn hints(_: &Place) -> Vec<(String, String)> {
    vec![]
}
