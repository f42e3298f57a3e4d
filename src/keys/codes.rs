//! Which key a code means.

use std::collections::BTreeMap;

use crate::bench::Key;

/// What the cook has taught of an odd keypad: code to key. It goes before the usual meaning.
pub type KeyMap = BTreeMap<u16, Key>;

/// NumLock: Backspace on keypads without one.
pub(super) const NUM_LOCK: u16 = 69;

/// The key of a code of linux/input-event-codes.h, for keypads as they are usually made.
///
/// The codes of the keypad do not change with NumLock. Keypads that keep a NumLock of their own send the codes of the
/// navigation keys instead; those of the row above the letters come from keypads without `KP` codes.
pub fn code_key(code: u16) -> Option<Key> {
    Some(match code {
        82 | 11 | 110 => Key::Digit(0), // KP0, 0, INSERT
        79 | 2 | 107 => Key::Digit(1),  // KP1, 1, END
        80 | 3 | 108 => Key::Digit(2),  // KP2, 2, DOWN
        81 | 4 | 109 => Key::Digit(3),  // KP3, 3, PAGEDOWN
        75 | 5 | 105 => Key::Digit(4),  // KP4, 4, LEFT
        76 | 6 | 355 => Key::Digit(5),  // KP5, 5, CLEAR
        77 | 7 | 106 => Key::Digit(6),  // KP6, 6, RIGHT
        71 | 8 | 102 => Key::Digit(7),  // KP7, 7, HOME
        72 | 9 | 103 => Key::Digit(8),  // KP8, 8, UP
        73 | 10 | 104 => Key::Digit(9), // KP9, 9, PAGEUP
        96 | 28 => Key::Enter,          // KPENTER, ENTER
        78 => Key::Plus,                // KPPLUS
        74 | 12 => Key::Minus,          // KPMINUS, MINUS
        55 => Key::Times,               // KPASTERISK
        98 | 53 => Key::Divide,         // KPSLASH, SLASH
        // KPDOT, DOT, DELETE, KPCOMMA, KPJPCOMMA
        83 | 52 | 111 | 121 | 95 => Key::Dot,
        14 | NUM_LOCK => Key::Backspace, // BACKSPACE, NUMLOCK
        _ => return None,
    })
}

#[cfg(all(test, feature = "keypad"))]
mod tests {
    use super::*;

    #[test]
    fn codes_are_those_of_the_kernel() {
        // Checked against the constants of the evdev crate, which come from linux/input-event-codes.h.
        use evdev::KeyCode as K;
        let digits = [
            (K::KEY_KP0, K::KEY_0, K::KEY_INSERT),
            (K::KEY_KP1, K::KEY_1, K::KEY_END),
            (K::KEY_KP2, K::KEY_2, K::KEY_DOWN),
            (K::KEY_KP3, K::KEY_3, K::KEY_PAGEDOWN),
            (K::KEY_KP4, K::KEY_4, K::KEY_LEFT),
            (K::KEY_KP5, K::KEY_5, K::KEY_CLEAR),
            (K::KEY_KP6, K::KEY_6, K::KEY_RIGHT),
            (K::KEY_KP7, K::KEY_7, K::KEY_HOME),
            (K::KEY_KP8, K::KEY_8, K::KEY_UP),
            (K::KEY_KP9, K::KEY_9, K::KEY_PAGEUP),
        ];
        for (d, (pad, row, nav)) in (0..).zip(digits) {
            for code in [pad, row, nav] {
                assert_eq!(code_key(code.code()), Some(Key::Digit(d)), "{code:?}");
            }
        }
        for (code, key) in [
            (K::KEY_KPENTER, Key::Enter),
            (K::KEY_ENTER, Key::Enter),
            (K::KEY_KPPLUS, Key::Plus),
            (K::KEY_KPMINUS, Key::Minus),
            (K::KEY_MINUS, Key::Minus),
            (K::KEY_KPASTERISK, Key::Times),
            (K::KEY_KPSLASH, Key::Divide),
            (K::KEY_SLASH, Key::Divide),
            (K::KEY_KPDOT, Key::Dot),
            (K::KEY_DOT, Key::Dot),
            (K::KEY_DELETE, Key::Dot),
            (K::KEY_KPCOMMA, Key::Dot),
            (K::KEY_KPJPCOMMA, Key::Dot),
            (K::KEY_BACKSPACE, Key::Backspace),
            (K::KEY_NUMLOCK, Key::Backspace),
        ] {
            assert_eq!(code_key(code.code()), Some(key), "{code:?}");
        }
        assert_eq!(K::KEY_NUMLOCK.code(), NUM_LOCK);
        assert_eq!(code_key(K::KEY_Q.code()), None);
    }
}
