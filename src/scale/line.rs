//! Lines out of bytes, however the reads tear them.

/// A longer line is no line of a scale.
const LONGEST: usize = 256;

/// Puts lines together from reads of any length.
#[derive(Debug, Clone, Default)]
pub struct Lines {
    torn: Vec<u8>,
    too_long: bool,
}

impl Lines {
    /// Takes bytes as they came; gives the lines that are now whole, without marks of the line such as STX.
    pub fn feed(&mut self, bytes: &[u8]) -> Vec<String> {
        let mut lines = Vec::new();
        for byte in bytes {
            match byte {
                b'\n' | b'\r' => {
                    let whole = std::mem::take(&mut self.torn);
                    if !std::mem::take(&mut self.too_long) && !whole.is_empty() {
                        lines.push(String::from_utf8_lossy(&whole).trim().to_owned());
                    }
                }
                b'\t' => self.torn.push(b' '),
                0..0x20 | 0x7F => {}
                byte if self.torn.len() < LONGEST => self.torn.push(*byte),
                _ => self.too_long = true,
            }
        }
        lines
    }
}
