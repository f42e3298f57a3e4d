//! From bytes as they come to readings.

use crate::scale::{Lines, Pattern, Reading, ReportDecoder};

/// How the bytes of a scale are read.
#[derive(Debug, Clone)]
pub enum Input {
    /// Reports of a HID device, one a read.
    Reports(ReportDecoder),
    /// Lines of text.
    Text(Lines, Pattern),
}

impl Input {
    /// Takes what one read gave.
    pub fn feed(&mut self, bytes: &[u8]) -> Vec<Reading> {
        match self {
            Self::Reports(decoder) => decoder.reading(bytes).into_iter().collect(),
            Self::Text(lines, pattern) => {
                let lines = lines.feed(bytes).into_iter();
                lines.filter_map(|line| pattern.reading(&line)).collect()
            }
        }
    }
}
