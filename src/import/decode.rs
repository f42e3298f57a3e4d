//! From bytes to text, in whatever charset they are.

use encoding_rs::{Encoding, ISO_2022_JP, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// How far into a page its charset may be named.
const HEAD: usize = 4096;

/// The text: by its byte order mark, as UTF-8 where it is that, by the charset that it names, or as Western European.
pub(super) fn decode(bytes: &[u8]) -> String {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return encoding.decode(bytes).0.into_owned();
    }
    if let Some(wide) = wide(bytes) {
        return wide.decode(bytes).0.into_owned();
    }
    // ISO-2022-JP is written in the letters of ASCII.
    let escaped = bytes.windows(3).any(|w| w == b"\x1b$B" || w == b"\x1b$@");
    if let Some(text) = std::str::from_utf8(bytes).ok().filter(|_| !escaped) {
        return text.to_owned();
    }
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(HEAD)]).to_lowercase();
    let named = ["charset=", "encoding="]
        .iter()
        .find_map(|mark| head.split(mark).nth(1))
        .map(|after| {
            let after = after.trim_start_matches(['"', '\'', ' ']);
            let end = after.find(|c: char| !(c.is_ascii_alphanumeric() || "-_".contains(c)));
            after[..end.unwrap_or(after.len())].to_owned()
        });
    let encoding = named
        .and_then(|name| Encoding::for_label(name.as_bytes()))
        .filter(|e| *e != UTF_8)
        .unwrap_or(if escaped { ISO_2022_JP } else { WINDOWS_1252 });
    encoding.decode(bytes).0.into_owned()
}

/// UTF-16 without its mark: every other byte of Western text is nought.
fn wide(bytes: &[u8]) -> Option<&'static Encoding> {
    let head = &bytes[..bytes.len().min(HEAD) / 2 * 2];
    let noughts = |from: usize| {
        head.iter()
            .skip(from)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let (even, odd, half) = (noughts(0), noughts(1), head.len() / 2);
    if half < 8 {
        return None;
    }
    if odd * 2 > half && even * 8 < half {
        Some(UTF_16LE)
    } else if even * 2 > half && odd * 8 < half {
        Some(UTF_16BE)
    } else {
        None
    }
}
