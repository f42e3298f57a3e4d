//! Plain lines for a screen reader or a braille display: what the microphone heard, and what is said. No time that was not asked
//! for, nothing that was typed or pressed, no chime that words come with.

use crate::bench::{Chime, Effect, Event};

/// What was heard through the microphone, in quotes: whoever reads it sees what was made of the words.
pub(super) fn heard(event: &Event) -> Option<String> {
    match event {
        Event::Heard(heard) if !heard.typed && !heard.text.is_empty() => {
            Some(format!("\u{201c}{}\u{201d}", heard.text))
        }
        _ => None,
    }
}

/// The lines of what came of one event, of at most so many letters; nought breaks none.
pub fn plain_lines(effects: &[Effect], columns: usize) -> Vec<String> {
    let says = effects.iter().any(|e| matches!(e, Effect::Say { .. }));
    let said = effects.iter().filter_map(|effect| match effect {
        Effect::Say { text, .. } => Some(text.clone()),
        Effect::Error { text } => Some(text.clone()),
        // It sounds in the cook's own voice: what was made of it is read.
        Effect::PlayNote { words, .. } if !words.is_empty() => Some(format!("Your note: {words}.")),
        // What is told by its sound alone.
        Effect::Chime { chime, .. } if !says => match chime {
            Chime::Listening => Some("I am listening.".to_owned()),
            Chime::Enough => Some("Enough.".to_owned()),
            _ => None,
        },
        _ => None,
    });
    said.flat_map(|text| wrapped(&text, columns)).collect()
}

/// A text in lines of at most so many letters, broken between words; nought breaks none. A longer word is broken as well:
/// nothing is left out.
pub(super) fn wrapped(text: &str, columns: usize) -> Vec<String> {
    if columns == 0 {
        return vec![text.to_owned()];
    }
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let mut letters: Vec<char> = word.chars().collect();
        loop {
            let line = lines.last_mut().expect("there is one");
            let used = line.chars().count();
            let gap = usize::from(used > 0);
            if used + gap + letters.len() <= columns {
                if gap > 0 {
                    line.push(' ');
                }
                line.extend(letters);
                break;
            }
            if used > 0 {
                lines.push(String::new());
            } else {
                line.extend(letters.drain(..columns));
                lines.push(String::new());
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Why;

    #[test]
    fn lines_fit_and_nothing_is_lost() {
        let text = "First rise: time is up. Has the dough doubled? Donaudampfschifffahrtsgesellschaftskapitän!";
        for columns in 1..100 {
            let lines = wrapped(text, columns);
            assert!(
                lines
                    .iter()
                    .all(|l| l.chars().count() <= columns && !l.is_empty()),
                "{columns}: {lines:?}"
            );
            let letters = |t: &str| t.chars().filter(|c| *c != ' ').collect::<String>();
            assert_eq!(letters(&lines.concat()), letters(text));
        }
        assert_eq!(wrapped(text, 0), [text]);
        assert_eq!(
            wrapped("Step one. Put the large bowl on the scale.", 40),
            ["Step one. Put the large bowl on the", "scale."]
        );
    }

    #[test]
    fn chimes_are_silent_where_there_are_words() {
        let say = Effect::Say {
            text: "Eggs: time is up.".to_owned(),
            why: Why::Alarm,
        };
        let chime = |chime| Effect::Chime { chime, urgency: 0 };
        assert_eq!(
            plain_lines(&[chime(Chime::Due), say], 40),
            ["Eggs: time is up."]
        );
        assert!(plain_lines(&[chime(Chime::Due)], 40).is_empty());
        assert_eq!(
            plain_lines(&[chime(Chime::Listening)], 40),
            ["I am listening."]
        );
    }
}
