//! Bytes of a keypad and the time become keys: pure, so that storms, tears and stuck keys can be tested with values.

use super::codes::{KeyMap, NUM_LOCK, code_key};
use super::reader::{EventReader, InputEvent};
use crate::bench::Key;

/// A key held for this long says what it does and does nothing.
const HOLD_MS: u64 = 1_000;
/// A key that goes down again so soon after it came up has bounced. Common practice, no source.
const BOUNCE_US: u64 = 30_000;
/// Some keypads press NumLock around every digit; alone it is Backspace, after this much quiet.
pub(super) const LOCK_MS: u64 = 60;

/// What the keypad says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Signal {
    /// A key was pressed.
    Key(Key),
    /// A key has been held for a second.
    Held(Key),
    /// A key of this code was pressed, and nobody knows it.
    Odd(u16),
}

/// A key that is down and has not acted.
#[derive(Debug, Clone, Copy)]
struct Down {
    code: u16,
    since_ms: u64,
}

/// Turns bytes into signals.
#[derive(Debug, Clone, Default)]
pub struct Decoder {
    map: KeyMap,
    reader: EventReader,
    /// The last key that went down, until it acts.
    waiting: Option<Down>,
    /// Every code that is down.
    down: Vec<u16>,
    /// The code that came up last, and when by the device's clock.
    up: Option<(u16, u64)>,
    /// NumLock went down: when.
    lock: Option<u64>,
    /// When any other key last moved.
    moved_ms: Option<u64>,
    /// Events were lost: nothing counts until the end of the report.
    lost: bool,
}

impl Decoder {
    /// A decoder that knows what the cook has taught of this keypad.
    pub fn new(map: KeyMap) -> Self {
        Self {
            map,
            ..Self::default()
        }
    }

    /// Takes bytes as they were read at `now_ms`.
    pub fn feed(&mut self, bytes: &[u8], now_ms: u64) -> Vec<Signal> {
        let mut out = self.tick(now_ms);
        for event in self.reader.feed(bytes) {
            self.event(event, now_ms, &mut out);
        }
        out
    }

    /// What time alone brings.
    pub fn tick(&mut self, now_ms: u64) -> Vec<Signal> {
        let mut out = Vec::new();
        if self.lock.is_some_and(|at| now_ms >= at + LOCK_MS) {
            self.lock = None;
            out.push(self.signal(NUM_LOCK));
        }
        if let Some(down) = self.waiting.filter(|d| now_ms >= d.since_ms + HOLD_MS) {
            self.waiting = None;
            if let Signal::Key(key) = self.signal(down.code) {
                out.push(Signal::Held(key));
            }
        }
        out
    }

    /// When time will bring something.
    pub fn due(&self) -> Option<u64> {
        let hold = self.waiting.map(|d| d.since_ms + HOLD_MS);
        let lock = self.lock.map(|at| at + LOCK_MS);
        hold.into_iter().chain(lock).min()
    }

    /// The device has gone: a key that was down with it does nothing.
    pub fn reset(&mut self) {
        *self = Self::new(std::mem::take(&mut self.map));
    }

    fn signal(&self, code: u16) -> Signal {
        self.map
            .get(&code)
            .copied()
            .or_else(|| code_key(code))
            .map_or(Signal::Odd(code), Signal::Key)
    }

    fn event(&mut self, event: InputEvent, now_ms: u64, out: &mut Vec<Signal>) {
        match (event.kind, event.code, event.value) {
            (InputEvent::SYN, InputEvent::SYN_DROPPED, _) => {
                // What was down may have come up unseen. It does nothing.
                self.lost = true;
                self.waiting = None;
                self.lock = None;
                self.down.clear();
            }
            (InputEvent::SYN, InputEvent::SYN_REPORT, _) => self.lost = false,
            (InputEvent::KEY, code, 1) if !self.lost => {
                self.goes_down(code, event.at_us, now_ms, out);
            }
            (InputEvent::KEY, code, 0) if !self.lost => {
                self.comes_up(code, event.at_us, now_ms, out);
            }
            _ => {}
        }
    }

    fn goes_down(&mut self, code: u16, at_us: u64, now_ms: u64, out: &mut Vec<Signal>) {
        if self.down.contains(&code) {
            return;
        }
        self.down.push(code);
        if code == NUM_LOCK && !self.map.contains_key(&code) {
            // Around a digit it is no key; alone it is one, after a little quiet.
            if self.moved_ms.is_none_or(|at| now_ms >= at + LOCK_MS) {
                self.lock = Some(now_ms);
            }
            return;
        }
        self.lock = None;
        self.moved_ms = Some(now_ms);
        // A double nought key sends two quick noughts; those are said back and hurt nobody.
        let zero = self.signal(code) == Signal::Key(Key::Digit(0));
        if !zero
            && let Some((last, up_us)) = self.up
            && last == code
            && at_us.saturating_sub(up_us) < BOUNCE_US
        {
            return;
        }
        if let Some(before) = self.waiting.take() {
            out.push(self.signal(before.code));
        }
        self.waiting = Some(Down {
            code,
            since_ms: now_ms,
        });
    }

    fn comes_up(&mut self, code: u16, at_us: u64, now_ms: u64, out: &mut Vec<Signal>) {
        self.down.retain(|d| *d != code);
        if code == NUM_LOCK && !self.map.contains_key(&code) {
            return;
        }
        self.up = Some((code, at_us));
        self.moved_ms = Some(now_ms);
        if self.waiting.is_some_and(|d| d.code == code) {
            self.waiting = None;
            out.push(self.signal(code));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENTER: u16 = 96;
    const ONE: u16 = 79;
    const TWO: u16 = 80;
    const ZERO: u16 = 82;

    /// One key event and its report, `ms` after the start.
    fn bytes(code: u16, value: i32, ms: u64) -> Vec<u8> {
        let event = |kind, code, value| InputEvent {
            at_us: ms * 1_000,
            kind,
            code,
            value,
        };
        let mut out = event(InputEvent::KEY, code, value).to_bytes().to_vec();
        out.extend(event(InputEvent::SYN, InputEvent::SYN_REPORT, 0).to_bytes());
        out
    }

    fn run(script: &[(u64, u16, i32)]) -> Vec<Signal> {
        let mut decoder = Decoder::default();
        script
            .iter()
            .flat_map(|(ms, code, value)| decoder.feed(&bytes(*code, *value, *ms), *ms))
            .collect()
    }

    #[test]
    fn a_tap_is_one_key() {
        assert_eq!(
            run(&[(0, ENTER, 1), (80, ENTER, 0)]),
            [Signal::Key(Key::Enter)]
        );
    }

    #[test]
    fn fast_fingers_keep_their_order() {
        let rolled = run(&[(0, ONE, 1), (40, TWO, 1), (60, TWO, 0), (90, ONE, 0)]);
        assert_eq!(
            rolled,
            [Signal::Key(Key::Digit(1)), Signal::Key(Key::Digit(2))]
        );
    }

    #[test]
    fn a_held_key_tells_once_and_does_nothing() {
        let mut decoder = Decoder::default();
        assert_eq!(decoder.feed(&bytes(ENTER, 1, 0), 0), []);
        assert_eq!(decoder.due(), Some(1_000));
        for ms in (250..30_000).step_by(33) {
            let told = decoder.feed(&bytes(ENTER, 2, ms), ms);
            assert_eq!(told.is_empty(), !(1_000..1_033).contains(&ms), "{ms}");
        }
        assert_eq!(decoder.due(), None);
        assert_eq!(decoder.feed(&bytes(ENTER, 0, 30_000), 30_000), []);
        // And works again afterwards.
        decoder.feed(&bytes(ENTER, 1, 31_000), 31_000);
        assert_eq!(
            decoder.feed(&bytes(ENTER, 0, 31_050), 31_050),
            [Signal::Key(Key::Enter)]
        );
    }

    #[test]
    fn a_bounce_is_not_a_second_press() {
        let bounced = run(&[
            (0, ENTER, 1),
            (50, ENTER, 0),
            (58, ENTER, 1),
            (66, ENTER, 0),
        ]);
        assert_eq!(bounced, [Signal::Key(Key::Enter)]);
        let twice = run(&[
            (0, ENTER, 1),
            (50, ENTER, 0),
            (130, ENTER, 1),
            (180, ENTER, 0),
        ]);
        assert_eq!(twice.len(), 2);
        let noughts = run(&[(0, ZERO, 1), (8, ZERO, 0), (16, ZERO, 1), (24, ZERO, 0)]);
        assert_eq!(noughts, [Signal::Key(Key::Digit(0)); 2]);
    }

    #[test]
    fn num_lock_around_a_digit_is_nothing_and_alone_is_backspace() {
        let around = run(&[
            (0, NUM_LOCK, 1),
            (4, NUM_LOCK, 0),
            (8, ONE, 1),
            (70, ONE, 0),
            (74, NUM_LOCK, 1),
            (78, NUM_LOCK, 0),
            (500, TWO, 1),
            (580, TWO, 0),
        ]);
        assert_eq!(
            around,
            [Signal::Key(Key::Digit(1)), Signal::Key(Key::Digit(2))]
        );
        let mut decoder = Decoder::default();
        assert_eq!(decoder.feed(&bytes(NUM_LOCK, 1, 0), 0), []);
        assert_eq!(decoder.due(), Some(60));
        assert_eq!(decoder.tick(60), [Signal::Key(Key::Backspace)]);
        assert_eq!(decoder.feed(&bytes(NUM_LOCK, 0, 90), 90), []);
    }

    #[test]
    fn lost_events_do_nothing() {
        let mut decoder = Decoder::default();
        decoder.feed(&bytes(ENTER, 1, 0), 0);
        let dropped = InputEvent {
            at_us: 10_000,
            kind: InputEvent::SYN,
            code: InputEvent::SYN_DROPPED,
            value: 0,
        };
        let mut lost = dropped.to_bytes().to_vec();
        lost.extend(bytes(ONE, 1, 12));
        assert_eq!(decoder.feed(&lost, 12), []);
        assert_eq!(decoder.feed(&bytes(ENTER, 0, 80), 80), []);
        assert_eq!(decoder.tick(5_000), []);
        decoder.feed(&bytes(TWO, 1, 6_000), 6_000);
        assert_eq!(
            decoder.feed(&bytes(TWO, 0, 6_050), 6_050),
            [Signal::Key(Key::Digit(2))]
        );
    }

    #[test]
    fn unplugged_with_a_key_down() {
        let mut decoder = Decoder::new([(113, Key::Plus)].into());
        decoder.feed(&bytes(ENTER, 1, 0), 0);
        decoder.feed(&[1, 2, 3], 1);
        decoder.reset();
        assert_eq!(decoder.due(), None);
        assert_eq!(decoder.tick(10_000), []);
        decoder.feed(&bytes(113, 1, 20_000), 20_000);
        assert_eq!(
            decoder.feed(&bytes(113, 0, 20_050), 20_050),
            [Signal::Key(Key::Plus)]
        );
    }

    #[test]
    fn an_odd_key_is_reported_and_can_be_taught() {
        assert_eq!(run(&[(0, 113, 1), (50, 113, 0)]), [Signal::Odd(113)]);
        let mut decoder = Decoder::new([(NUM_LOCK, Key::Divide)].into());
        decoder.feed(&bytes(NUM_LOCK, 1, 0), 0);
        assert_eq!(
            decoder.feed(&bytes(NUM_LOCK, 0, 50), 50),
            [Signal::Key(Key::Divide)]
        );
    }

    #[test]
    fn a_storm_is_counted_exactly() {
        // 1,000 events a second for ten seconds, two keys in turn: every press counts once and in order.
        let mut decoder = Decoder::default();
        let mut got = Vec::new();
        for i in 0..5_000_u64 {
            let code = if i % 2 == 0 { ONE } else { TWO };
            got.extend(decoder.feed(&bytes(code, 1, 2 * i), 2 * i));
            got.extend(decoder.feed(&bytes(code, 0, 2 * i + 1), 2 * i + 1));
        }
        assert_eq!(got.len(), 5_000);
        assert!(
            got.iter()
                .enumerate()
                .all(|(i, s)| *s == Signal::Key(Key::Digit(1 + (i % 2) as u8)))
        );
    }
}
