//! Lines that are typed, each of which is an order.

use std::io::BufRead;

use crossbeam_channel::Sender;

use super::KeyNews;
use crate::bench::Key;

/// The longest line that is taken; of a longer one the rest is passed over. An order has some hundred letters.
const LONGEST: usize = 4_096;

/// Reads standard input line by line: each line is an order, as if it had been said; an empty one is Enter, and one of the
/// signs of the keypad is those keys.
pub fn typed_lines(news: Sender<KeyNews>) {
    let _ = std::thread::Builder::new()
        .name("lines".to_owned())
        .spawn(move || {
            let mut input = std::io::stdin().lock();
            while let Ok(Some(line)) = next_line(&mut input) {
                let text = line.trim();
                let told =
                    keys_of(text).map_or_else(|| KeyNews::Line(text.to_owned()), KeyNews::Keys);
                if news.send(told).is_err() {
                    return;
                }
            }
            let _ = news.send(KeyNews::Leave);
        });
}

/// The keys that a line names: Enter for an empty one; `12*`, `.2`, `0 -` as they stand. A bare number is a number, and may
/// answer a question.
fn keys_of(text: &str) -> Option<Vec<Key>> {
    if text.is_empty() {
        return Some(vec![Key::Enter]);
    }
    let key = |c: char| {
        Some(match c {
            '0'..='9' => Key::Digit(c as u8 - b'0'),
            '+' => Key::Plus,
            '-' => Key::Minus,
            '*' => Key::Times,
            '/' => Key::Divide,
            '.' => Key::Dot,
            _ => return None,
        })
    };
    let signs = text.contains(['+', '-', '*', '/', '.']);
    // 1/2 and 1.5 are numbers as well.
    let number = text.starts_with(|c: char| c.is_ascii_digit())
        && text.ends_with(|c: char| c.is_ascii_digit())
        && !text.contains(' ');
    let letters = text.chars().filter(|c| *c != ' ');
    letters
        .map(key)
        .collect::<Option<Vec<Key>>>()
        .filter(|_| signs && !number)
}

/// The next line, without more of it than can be an order; nothing at the end. What is no UTF-8 is marked.
///
/// # Errors
/// When there is nothing to read from any more.
pub fn next_line(input: &mut impl BufRead) -> std::io::Result<Option<String>> {
    let (mut line, mut any) = (Vec::new(), false);
    loop {
        let bytes = match input.fill_buf() {
            Ok(bytes) => bytes,
            Err(e) if e.kind() == std::io::ErrorKind::Interrupted => continue,
            Err(e) => return Err(e),
        };
        let end = bytes.iter().position(|b| *b == b'\n');
        let taken = end.unwrap_or(bytes.len());
        let room = LONGEST.saturating_sub(line.len());
        line.extend_from_slice(&bytes[..taken.min(room)]);
        any |= !bytes.is_empty();
        let over = bytes.is_empty() || end.is_some();
        input.consume(taken + usize::from(end.is_some()));
        if over {
            return Ok(any.then(|| String::from_utf8_lossy(&line).into_owned()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_line_is_enter_and_signs_are_keys() {
        assert_eq!(keys_of(""), Some(vec![Key::Enter]));
        assert_eq!(
            keys_of("12*"),
            Some(vec![Key::Digit(1), Key::Digit(2), Key::Times])
        );
        assert_eq!(keys_of(". 2"), Some(vec![Key::Dot, Key::Digit(2)]));
        assert_eq!(keys_of("+"), Some(vec![Key::Plus]));
        for words in [
            "12",
            "1/2",
            "1.5",
            "next",
            "-5 degrees",
            "2+2 eggs",
            "10-15",
            "7",
        ] {
            assert_eq!(keys_of(words), None, "{words}");
        }
    }

    #[test]
    fn lines_are_taken_one_by_one_and_an_endless_one_takes_no_room() {
        let mut text = "next\n\nhow much salt".as_bytes();
        let mut next = || next_line(&mut text).expect("memory reads");
        assert_eq!(next().as_deref(), Some("next"));
        assert_eq!(next().as_deref(), Some(""));
        assert_eq!(next().as_deref(), Some("how much salt"));
        assert_eq!(next(), None);
        let mut long = vec![0; 10 << 20];
        long.extend(b"\nnext\n");
        let mut long = long.as_slice();
        let first = next_line(&mut long).expect("memory reads").expect("a line");
        assert_eq!(first.len(), LONGEST);
        let second = next_line(&mut long).expect("memory reads");
        assert_eq!(second.as_deref(), Some("next"));
    }
}
