//! What a terminal sends for a key, byte by byte.

use crate::bench::Key;

/// A sequence that is longer than this is none of ours.
const LONGEST: usize = 16;

/// What came of a byte.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stroke {
    /// A key that the keypad has.
    Key(Key),
    /// Control-D, q, or Escape by itself: the cook wants to leave, and is asked.
    Leave,
    /// Control-C: the cook leaves now.
    LeaveNow,
}

/// Sorts the bytes of a terminal in raw mode. Sequences are those of ECMA-48 (CSI, SS3) as xterm sends them for the keypad
/// (XTerm Control Sequences, 'VT220-Style Function Keys').
#[derive(Debug, Default)]
pub(super) struct Strokes {
    state: State,
}

#[derive(Debug, Default)]
enum State {
    #[default]
    Plain,
    /// After an escape.
    Escape,
    /// After `ESC [`, with what came since.
    Control(Vec<u8>),
    /// After `ESC O`: the keypad in its application mode.
    Single,
}

impl Strokes {
    /// Takes a byte.
    pub(super) fn take(&mut self, byte: u8) -> Option<Stroke> {
        match std::mem::take(&mut self.state) {
            State::Plain if byte == 0x1b => {
                self.state = State::Escape;
                None
            }
            State::Plain => plain(byte),
            // Control-C is heeded whatever came before it.
            State::Escape | State::Single | State::Control(_) if byte == 3 => {
                Some(Stroke::LeaveNow)
            }
            State::Escape | State::Single | State::Control(_) if byte == 4 => Some(Stroke::Leave),
            State::Escape => {
                self.state = match byte {
                    b'[' => State::Control(Vec::new()),
                    b'O' => State::Single,
                    0x1b => State::Escape,
                    // A key with Alt is none of ours.
                    _ => State::Plain,
                };
                None
            }
            // Parameters go on until a letter or a tilde ends them.
            State::Control(mut so_far) if (0x20..0x40).contains(&byte) => {
                so_far.push(byte);
                if so_far.len() < LONGEST {
                    self.state = State::Control(so_far);
                }
                None
            }
            State::Control(so_far) => {
                (byte == b'~' && so_far == b"3").then_some(Stroke::Key(Key::Dot))
            }
            State::Single => single(byte),
        }
    }

    /// Nothing more came for a while: an escape stood for itself.
    pub(super) fn rest(&mut self) -> Option<Stroke> {
        let alone = matches!(std::mem::take(&mut self.state), State::Escape);
        alone.then_some(Stroke::Leave)
    }
}

fn plain(byte: u8) -> Option<Stroke> {
    Some(Stroke::Key(match byte {
        3 => return Some(Stroke::LeaveNow),
        4 | b'q' | b'Q' => return Some(Stroke::Leave),
        b'0'..=b'9' => Key::Digit(byte - b'0'),
        b'+' => Key::Plus,
        b'-' => Key::Minus,
        b'*' => Key::Times,
        b'/' => Key::Divide,
        b'.' | b',' => Key::Dot,
        b'\r' | b'\n' => Key::Enter,
        0x08 | 0x7f => Key::Backspace,
        _ => return None,
    }))
}

/// The keypad of a VT220 in application mode: its digits are `p` to `y`, its signs the same letters as on the main keys with
/// 0x40 added.
fn single(byte: u8) -> Option<Stroke> {
    match byte {
        b'M' => plain(b'\r'),
        b'j'..=b'y' => plain(byte - 0x40),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(bytes: &[u8]) -> Vec<Stroke> {
        let mut strokes = Strokes::default();
        bytes.iter().filter_map(|b| strokes.take(*b)).collect()
    }

    fn keys(keys: &[Key]) -> Vec<Stroke> {
        keys.iter().map(|k| Stroke::Key(*k)).collect()
    }

    #[test]
    fn the_keys_of_the_pad_and_no_others() {
        let digits: Vec<Key> = (0..10).map(Key::Digit).collect();
        assert_eq!(all(b"0123456789"), keys(&digits));
        assert_eq!(
            all(b"\x1bOp\x1bOq\x1bOr\x1bOs\x1bOt\x1bOu\x1bOv\x1bOw\x1bOx\x1bOy"),
            keys(&digits)
        );
        let signs = [
            Key::Plus,
            Key::Minus,
            Key::Times,
            Key::Divide,
            Key::Dot,
            Key::Enter,
        ];
        assert_eq!(all(b"+-*/,\r"), keys(&signs));
        assert_eq!(all(b"\x1bOk\x1bOm\x1bOj\x1bOo\x1bOn\x1bOM"), keys(&signs));
        assert_eq!(
            all(b"\x7f\x08\x1b[3~"),
            keys(&[Key::Backspace, Key::Backspace, Key::Dot])
        );
        let (ask, now) = (Stroke::Leave, Stroke::LeaveNow);
        assert_eq!(all(b"\x03\x04\x1b\x03\x1b\x04"), [now, ask, now, ask]);
        // Letters, arrows, Home, Control with Delete, Alt with a digit, a letter of two bytes.
        assert_eq!(all(b"qQ"), [Stroke::Leave; 2]);
        assert_eq!(all(b"w\x1b[A\x1b[H\x1bOH\x1b[3;5~\x1b5\xc3\xa9"), []);
        assert_eq!(all(b"\x1b\x1b[3~"), keys(&[Key::Dot]));
    }

    #[test]
    fn an_escape_by_itself_takes_no_key_with_it() {
        let mut strokes = Strokes::default();
        assert_eq!(strokes.take(0x1b), None);
        assert_eq!(strokes.rest(), Some(Stroke::Leave));
        assert_eq!(strokes.rest(), None);
        assert_eq!(strokes.take(b'5'), Some(Stroke::Key(Key::Digit(5))));
    }

    #[test]
    fn whatever_comes_the_next_key_is_taken() {
        let mut dice = 1_u64;
        for _ in 0..10_000 {
            let mut strokes = Strokes::default();
            for _ in 0..20 {
                dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                strokes.take((dice >> 33) as u8);
            }
            strokes.rest();
            assert_eq!(strokes.take(b'\r'), Some(Stroke::Key(Key::Enter)));
        }
        assert_eq!(
            all(&[b"\x1b[".as_slice(), &[b'1'; 100], b"A\r"].concat()).last(),
            Some(&Stroke::Key(Key::Enter))
        );
    }
}
