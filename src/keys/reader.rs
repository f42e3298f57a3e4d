//! `struct input_event` out of bytes, however the reads tear them.

/// One event as the kernel gives it (linux/input.h).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InputEvent {
    /// When, in microseconds of the device's clock.
    pub at_us: u64,
    /// The event's type: 0 is a separator, 1 a key.
    pub kind: u16,
    /// Which key.
    pub code: u16,
    /// 0 up, 1 down, 2 repeat.
    pub value: i32,
}

/// A word of `struct timeval` as the kernel lays it out for programs of this width.
const WORD: usize = size_of::<usize>();

impl InputEvent {
    /// Bytes of one event: two words of time, two of type and code, one of value.
    pub const SIZE: usize = 2 * WORD + 8;
    /// Type of a separator.
    pub const SYN: u16 = 0;
    /// Type of a key.
    pub const KEY: u16 = 1;
    /// Code of the separator that ends a report.
    pub const SYN_REPORT: u16 = 0;
    /// Code of the separator that says that events were lost.
    pub const SYN_DROPPED: u16 = 3;

    /// The event as the kernel would write it.
    pub fn to_bytes(self) -> [u8; Self::SIZE] {
        let mut bytes = [0; Self::SIZE];
        let (seconds, micros) = (self.at_us / 1_000_000, self.at_us % 1_000_000);
        bytes[..WORD].copy_from_slice(&(seconds as usize).to_ne_bytes());
        bytes[WORD..2 * WORD].copy_from_slice(&(micros as usize).to_ne_bytes());
        bytes[2 * WORD..2 * WORD + 2].copy_from_slice(&self.kind.to_ne_bytes());
        bytes[2 * WORD + 2..2 * WORD + 4].copy_from_slice(&self.code.to_ne_bytes());
        bytes[2 * WORD + 4..].copy_from_slice(&self.value.to_ne_bytes());
        bytes
    }

    fn from_bytes(bytes: &[u8; Self::SIZE]) -> Self {
        let word = |at: usize| {
            let mut w = [0; WORD];
            w.copy_from_slice(&bytes[at..at + WORD]);
            usize::from_ne_bytes(w) as u64
        };
        let half = |at: usize| u16::from_ne_bytes([bytes[at], bytes[at + 1]]);
        let end = 2 * WORD + 4;
        Self {
            at_us: word(0).saturating_mul(1_000_000).saturating_add(word(WORD)),
            kind: half(2 * WORD),
            code: half(2 * WORD + 2),
            value: i32::from_ne_bytes([bytes[end], bytes[end + 1], bytes[end + 2], bytes[end + 3]]),
        }
    }
}

/// Puts events together from reads of any length.
#[derive(Debug, Clone, Default)]
pub struct EventReader {
    torn: Vec<u8>,
}

impl EventReader {
    /// Takes bytes as they came; gives the events that are now whole.
    pub fn feed(&mut self, bytes: &[u8]) -> Vec<InputEvent> {
        self.torn.extend_from_slice(bytes);
        let (whole, rest) = self.torn.as_chunks::<{ InputEvent::SIZE }>();
        let events = whole.iter().map(InputEvent::from_bytes).collect();
        self.torn = rest.to_vec();
        events
    }

    /// Forgets half an event: the device has gone.
    pub fn reset(&mut self) {
        self.torn.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    #[cfg(all(target_pointer_width = "64", target_endian = "little"))]
    fn bytes_as_a_real_keypad_sends_them() {
        // linux/input.h and input-event-codes.h: seconds, microseconds, EV_KEY (1), KEY_KPENTER (96), down (1).
        let bytes = [
            0xf4, 0x8b, 0x25, 0x69, 0, 0, 0, 0, 0x91, 0xd0, 0x03, 0, 0, 0, 0, 0, 1, 0, 0x60, 0, 1,
            0, 0, 0,
        ];
        let read = EventReader::default().feed(&bytes);
        assert_eq!(
            read,
            [InputEvent {
                at_us: 0x6925_8bf4 * 1_000_000 + 0x3_d091,
                kind: 1,
                code: 96,
                value: 1,
            }]
        );
        assert_eq!(read[0].to_bytes(), bytes);
    }

    proptest! {
        #[test]
        fn tears_do_not_matter(events in prop::collection::vec((0u64..1 << 40, any::<u16>(), any::<u16>(), any::<i32>()), 0..20),
            cuts in prop::collection::vec(1usize..60, 1..40)) {
            let events: Vec<InputEvent> = events.into_iter()
                .map(|(at_us, kind, code, value)| InputEvent { at_us, kind, code, value })
                .collect();
            let bytes: Vec<u8> = events.iter().flat_map(|e| e.to_bytes()).collect();
            let (mut reader, mut rest, mut got) = (EventReader::default(), &bytes[..], Vec::new());
            for cut in cuts.iter().cycle() {
                if rest.is_empty() { break; }
                let (now, later) = rest.split_at((*cut).min(rest.len()));
                got.extend(reader.feed(now));
                rest = later;
            }
            prop_assert_eq!(got, events);
        }
    }
}
