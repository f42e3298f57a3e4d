//! From bytes to text, in whatever charset they are.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

/// How far into a page its charset may be named.
const HEAD: usize = 4096;

/// The text: by its byte order mark, as UTF-8 where it is that, by the charset that it names, or as Western European.
pub(super) fn decode(bytes: &[u8]) -> String {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return encoding.decode(bytes).0.into_owned();
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return text.to_owned();
    }
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(HEAD)]).to_lowercase();
    let named = head.split("charset=").nth(1).map(|after| {
        let after = after.trim_start_matches(['"', '\'', ' ']);
        let end = after.find(|c: char| !(c.is_ascii_alphanumeric() || "-_".contains(c)));
        after[..end.unwrap_or(after.len())].to_owned()
    });
    let encoding = named
        .and_then(|name| Encoding::for_label(name.as_bytes()))
        .filter(|e| *e != UTF_8)
        .unwrap_or(WINDOWS_1252);
    encoding.decode(bytes).0.into_owned()
}
