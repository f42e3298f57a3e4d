//! Which of the input devices is the keypad.

use std::path::PathBuf;

/// What a device says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Facts {
    /// Bus, maker, product and place: the same after every plugging into the same socket.
    pub id: String,
    /// The names of links to it under `/dev/input/by-id`.
    pub links: Vec<String>,
    /// Its name.
    pub name: String,
    /// Its node.
    pub path: PathBuf,
    /// How many of the 26 letters it has.
    pub letters: usize,
    /// How many of the ten digits it has, on the pad or in a row.
    pub digits: usize,
    /// It has an Enter key.
    pub enter: bool,
    /// It is some program's, not a thing that was plugged in.
    pub made_up: bool,
}

impl Facts {
    /// Is it a keypad without letters?
    pub fn is_keypad(&self) -> bool {
        self.letters == 0 && self.digits == 10 && self.enter
    }

    fn is_called(&self, wanted: &str) -> bool {
        let link = wanted.strip_prefix("/dev/input/by-id/").unwrap_or(wanted);
        self.id == wanted || self.path.as_os_str() == wanted || self.links.iter().any(|l| l == link)
    }
}

/// The choice among the devices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Choice {
    /// This one, to be grabbed.
    Take(usize),
    /// This one was named and has letters: read it, leave it to everyone else as well.
    Share(usize),
    /// Several would do, and none was named.
    Several(Vec<usize>),
    /// None.
    None,
}

/// Chooses the keypad: the one named in the settings, else the only one that looks like one.
pub fn choose(facts: &[Facts], wanted: Option<&str>) -> Choice {
    if let Some(wanted) = wanted {
        let called = |f: &Facts| f.digits > 0 && f.is_called(wanted);
        return match facts.iter().position(called) {
            Some(at) if facts[at].letters == 0 => Choice::Take(at),
            Some(at) => Choice::Share(at),
            None => Choice::None,
        };
    }
    let pads: Vec<usize> = (0..facts.len())
        .filter(|i| facts[*i].is_keypad() && !facts[*i].made_up)
        .collect();
    match pads[..] {
        [] => Choice::None,
        [only] => Choice::Take(only),
        _ => Choice::Several(pads),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts(id: &str, letters: usize, digits: usize) -> Facts {
        Facts {
            id: id.to_owned(),
            letters,
            digits,
            enter: digits > 0,
            ..Facts::default()
        }
    }

    #[test]
    fn the_only_keypad_is_taken_and_a_keyboard_never() {
        let board = facts("board", 26, 10);
        let pad = facts("pad", 0, 10);
        let knob = facts("knob", 0, 0);
        assert_eq!(
            choose(&[board.clone(), knob.clone(), pad.clone()], None),
            Choice::Take(2)
        );
        assert_eq!(choose(&[board.clone(), knob.clone()], None), Choice::None);
        let other = facts("other", 0, 10);
        let all = [pad, board, other, knob];
        assert_eq!(choose(&all, None), Choice::Several(vec![0, 2]));
        assert_eq!(choose(&all, Some("other")), Choice::Take(2));
        // A named one with letters is read and not grabbed; a named one that is away is not replaced.
        assert_eq!(choose(&all, Some("board")), Choice::Share(1));
        assert_eq!(choose(&all, Some("away")), Choice::None);
        assert_eq!(choose(&all, Some("knob")), Choice::None);
    }

    #[test]
    fn a_link_names_it_too_and_a_program_is_no_keypad() {
        let mut pad = facts("0003:1234:5678@usb-1/input0", 0, 10);
        pad.links = vec!["usb-Some_Keypad-event-kbd".to_owned()];
        assert_eq!(
            choose(&[pad.clone()], Some("usb-Some_Keypad-event-kbd")),
            Choice::Take(0)
        );
        assert_eq!(
            choose(
                &[pad.clone()],
                Some("/dev/input/by-id/usb-Some_Keypad-event-kbd")
            ),
            Choice::Take(0)
        );
        pad.made_up = true;
        assert_eq!(choose(&[pad], None), Choice::None);
    }
}
