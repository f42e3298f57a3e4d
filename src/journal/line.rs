//! One line of the journal and of the log: a JSON object that carries its own checksum.

use serde::Serialize;
use serde::de::DeserializeOwned;

/// `{"crc":"` and the eight digits and `",`.
const PREFIX: usize = 18;

/// Writes `record` as one line, its line feed included.
pub(super) fn encode<T: Serialize>(record: &T) -> Result<String, serde_json::Error> {
    let body = serde_json::to_string(record)?;
    let crc = crc32fast::hash(body.as_bytes());
    // Every record is an object with at least one field, so that `{` is followed by a name.
    Ok(format!("{{\"crc\":\"{crc:08x}\",{}\n", &body[1..]))
}

/// Reads one line, without its line feed; the error says what stood there.
pub(super) fn decode<T: DeserializeOwned>(line: &[u8]) -> Result<T, &'static str> {
    let digits = line
        .strip_prefix(b"{\"crc\":\"")
        .and_then(|rest| rest.get(..8))
        .and_then(|digits| std::str::from_utf8(digits).ok())
        .filter(|digits| {
            digits
                .bytes()
                .all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
        })
        .ok_or("no checksum")?;
    if line.get(16..PREFIX) != Some(b"\",") {
        return Err("no checksum");
    }
    let crc = u32::from_str_radix(digits, 16).map_err(|_| "no checksum")?;
    let mut hash = crc32fast::Hasher::new();
    hash.update(b"{");
    hash.update(&line[PREFIX..]);
    if hash.finalize() != crc {
        return Err("a checksum that does not fit");
    }
    let mut body = Vec::with_capacity(line.len() - PREFIX + 1);
    body.push(b'{');
    body.extend_from_slice(&line[PREFIX..]);
    serde_json::from_slice(&body).map_err(|_| "a record of another kind")
}

/// A line in which a single bit has flipped, as it was written; nothing where it is right, or more is wrong. The CRC-32 tells
/// any two bits from one up to some eleven kilobytes, and beyond that all but once in many millions (P. Koopman, '32-Bit
/// Cyclic Redundancy Codes for Internet Applications', 2002: Hamming distance 4 up to 91,607 bits).
pub(super) fn put_right(line: &[u8]) -> Option<Vec<u8>> {
    let body = line.get(PREFIX..)?;
    let mut hash = crc32fast::Hasher::new();
    hash.update(b"{");
    hash.update(body);
    let crc = hash.finalize();
    let before = format!("{{\"crc\":\"{crc:08x}\",");
    let flipped = |(is, was): (&u8, u8)| (is ^ was).count_ones();
    let mut right = line.to_vec();
    match line.iter().zip(before.bytes()).map(flipped).sum::<u32>() {
        0 => return None,
        // The bit is in what stands before the body.
        1 => {
            right[..PREFIX].copy_from_slice(before.as_bytes());
            return Some(right);
        }
        _ => {}
    }
    if !line.starts_with(b"{\"crc\":\"") || line[16..PREFIX] != *b"\"," {
        return None;
    }
    let digits = std::str::from_utf8(&line[8..16]).ok()?;
    let wrong = crc ^ u32::from_str_radix(digits, 16).ok()?;
    // What a flipped bit does to the sum: the last bit of all first.
    let mut does = 1_u32;
    for at in (PREFIX..line.len()).rev() {
        for bit in (0..8).rev() {
            does = (does >> 1) ^ if does & 1 == 1 { 0xedb8_8320 } else { 0 };
            if does == wrong {
                right[at] ^= 1 << bit;
                return Some(right);
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    #[test]
    fn reads_what_it_writes() {
        let value =
            json!({"n": 3, "say": "half\nan hour \u{1F35E}", "deep": {"a": [1, 2.5, null]}});
        let line = encode(&value).unwrap();
        assert!(line.ends_with("}\n"));
        assert_eq!(line.matches('\n').count(), 1);
        assert_eq!(decode::<Value>(line.trim_end().as_bytes()).unwrap(), value);
        // The whole line is JSON for any other reader too.
        let other: Value = serde_json::from_str(&line).unwrap();
        assert_eq!(other["n"], 3);
    }

    #[test]
    fn checksum_is_the_published_one() {
        // CRC-32 check value: `123456789` gives cbf43926 (catalogue of parametrised CRC algorithms, CRC-32/ISO-HDLC).
        assert_eq!(crc32fast::hash(b"123456789"), 0xcbf4_3926);
        let line = encode(&json!({"n": 1})).unwrap();
        let crc = crc32fast::hash(b"{\"n\":1}");
        assert_eq!(line, format!("{{\"crc\":\"{crc:08x}\",\"n\":1}}\n"));
    }

    #[test]
    fn every_flipped_bit_is_noticed() {
        let line = encode(&json!({"n": 7, "at": 1234, "event": {"event": "tick"}})).unwrap();
        let line = line.trim_end().as_bytes();
        for place in 0..line.len() {
            for bit in 0..8 {
                let mut bad = line.to_vec();
                bad[place] ^= 1 << bit;
                assert!(decode::<Value>(&bad).is_err(), "byte {place} bit {bit}");
            }
        }
        for short in 0..line.len() {
            assert!(decode::<Value>(&line[..short]).is_err());
        }
    }
}
