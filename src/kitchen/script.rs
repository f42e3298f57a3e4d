//! A rehearsal script: one line per moment.
//!
//! ```text
//! # comment
//! start 15:05           (the clock on the kitchen wall at 0:00; 09:00 when missing)
//! 0:00 say next         (hours:minutes, or hours:minutes:seconds, from the start)
//! +12m say how much salt
//! +0 type scrub that    (typed on a keyboard: free words are read as well)
//! +0 key 5              (`+` counts from the line before: 90s, 12m, 1h30m, 0)
//! +2s key enter
//! +1s hold plus         (a key held for a second)
//! +3s audio salt.wav    (heard through the real recogniser; path from the script's folder)
//! +1m microphone gone   (also keypad, loudspeaker, voice, model, journal; `gone` or `back`)
//! +2s scale 412.5       (so much lies on the scale from now on; also `scale gone` and `scale back`)
//! +0 pour 0..500 over 12s  (what lies on it grows, or becomes less)
//! +20m wait             (let time pass)
//! +0 note Enter goes on (a word to whoever reads or hears the rehearsal; the bench knows nothing of it)
//! ```

use std::path::PathBuf;

use crate::bench::{Device, Key};
use crate::clean;
use crate::time::Span;

/// The longest rehearsal: seven days.
const LONGEST_S: u64 = 7 * 86_400;

/// A whole script.
#[derive(Debug, Clone, PartialEq)]
pub struct Script {
    /// Minutes after midnight on the kitchen wall at the start.
    pub start_minutes: u32,
    /// Its lines, in order of time.
    pub lines: Vec<ScriptLine>,
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct ScriptLine {
    /// When, from the start.
    pub at: Span,
    /// What.
    pub act: Act,
}

/// What happens at a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Act {
    /// The cook says this, perfectly heard.
    Say(String),
    /// The cook types this.
    Type(String),
    /// A recording of the cook, to be recognised.
    Audio(PathBuf),
    /// A key is pressed.
    Key(Key),
    /// A key is held for a second.
    Hold(Key),
    /// A device goes or comes.
    Device(Device, bool),
    /// A word to whoever follows the rehearsal.
    Note(String),
    /// What lies on the scale goes from so many grams, or from what lies there, to so many, in a time.
    Load {
        /// From so many grams.
        from: Option<f64>,
        /// To so many.
        to: f64,
        /// In so long.
        over: Span,
    },
    /// Nothing but time.
    Wait,
}

/// What is wrong in a script, and on which line.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {what}")]
pub struct ScriptError {
    /// Line from 1.
    pub line: usize,
    /// What was found and what was expected.
    pub what: String,
}

impl Script {
    /// Reads a script.
    ///
    /// # Errors
    /// The first line that cannot be read.
    pub fn read(text: &str) -> Result<Self, ScriptError> {
        let mut script = Self {
            start_minutes: 9 * 60,
            lines: Vec::new(),
        };
        let mut last = 0_u64;
        for (n, raw) in text.lines().enumerate() {
            let fail = |what: String| ScriptError { line: n + 1, what };
            if let Some((at, c)) = raw
                .char_indices()
                .find(|(_, c)| clean::steers(*c) && *c != '\t')
            {
                let column = raw[..at].chars().count() + 1;
                let what = format!(
                    "column {column}: expected plain text, found the control character {}",
                    clean::named(c)
                );
                return Err(fail(what));
            }
            let line = raw.split('#').next().unwrap_or_default().trim();
            if line.is_empty() {
                continue;
            }
            let (when, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
            if when == "start" {
                script.start_minutes = clock(rest.trim()).ok_or_else(|| {
                    fail(format!(
                        "expected a clock time such as `15:05`, found `{}`",
                        rest.trim()
                    ))
                })?;
                continue;
            }
            let ms = moment(when, last).ok_or_else(|| {
                fail(format!(
                    "expected a time such as `0:12`, `+12m` or `+2s`, found `{when}`"
                ))
            })?;
            if ms < last {
                return Err(fail(format!("`{when}` lies before the line above it")));
            }
            if ms > LONGEST_S * 1000 {
                return Err(fail(format!(
                    "expected a time within seven days, found `{when}`"
                )));
            }
            last = ms;
            let act = act(rest.trim()).map_err(fail)?;
            script.lines.push(ScriptLine {
                at: Span::millis(ms),
                act,
            });
        }
        Ok(script)
    }
}

fn clock(text: &str) -> Option<u32> {
    let (h, m) = text.split_once(':')?;
    let (h, m) = (h.parse::<u32>().ok()?, m.parse::<u32>().ok()?);
    (h < 24 && m < 60).then_some(h * 60 + m)
}

/// Milliseconds from the start.
fn moment(text: &str, last: u64) -> Option<u64> {
    if let Some(after) = text.strip_prefix('+') {
        let span = if after.chars().all(|c| c.is_ascii_digit()) && !after.is_empty() {
            after.parse::<u64>().ok()?.checked_mul(1000)?
        } else {
            let mut total = 0_u64;
            let mut number = String::new();
            for c in after.chars() {
                if c.is_ascii_digit() {
                    number.push(c);
                } else {
                    let each = match c {
                        'h' => 3_600_000,
                        'm' => 60_000,
                        's' => 1000,
                        _ => return None,
                    };
                    total = total.checked_add(number.parse::<u64>().ok()?.checked_mul(each)?)?;
                    number.clear();
                }
            }
            if !number.is_empty() || after.is_empty() {
                return None;
            }
            total
        };
        return last.checked_add(span);
    }
    let parts: Vec<u64> = text
        .split(':')
        .map(|p| p.parse::<u64>().ok())
        .collect::<Option<_>>()?;
    let s = match parts.as_slice() {
        [h, m] if *m < 60 => h.checked_mul(3600)?.checked_add(m * 60)?,
        [h, m, s] if *m < 60 && *s < 60 => h.checked_mul(3600)?.checked_add(m * 60 + s)?,
        _ => return None,
    };
    s.checked_mul(1000)
}

/// A key by its name in scripts.
pub fn key(name: &str) -> Option<Key> {
    Some(match name {
        "enter" => Key::Enter,
        "plus" => Key::Plus,
        "minus" => Key::Minus,
        "times" => Key::Times,
        "divide" => Key::Divide,
        "dot" => Key::Dot,
        "backspace" => Key::Backspace,
        _ => match name.as_bytes() {
            [d @ b'0'..=b'9'] => Key::Digit(d - b'0'),
            _ => return None,
        },
    })
}

/// Grams that may lie on a scale.
fn grams(text: &str) -> Option<f64> {
    let grams = text.strip_suffix('g').unwrap_or(text).trim();
    grams.parse().ok().filter(|g| (-1e5..=1e5).contains(g))
}

/// `0..500 over 12s`.
fn pour(text: &str) -> Option<Act> {
    let (range, time) = text.split_once(" over ")?;
    let (from, to) = range.split_once("..")?;
    Some(Act::Load {
        from: Some(grams(from.trim())?),
        to: grams(to.trim())?,
        over: Span::millis(moment(&format!("+{}", time.trim()), 0)?),
    })
}

fn act(text: &str) -> Result<Act, String> {
    let (verb, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    let want_key = || {
        key(rest).ok_or_else(|| {
            format!("expected a key (0-9, enter, plus, minus, times, divide, dot, backspace), found `{rest}`")
        })
    };
    let device = match verb {
        "microphone" => Some(Device::Microphone),
        "loudspeaker" => Some(Device::Loudspeaker),
        "voice" => Some(Device::Voice),
        "model" => Some(Device::Model),
        "keypad" => Some(Device::Keypad),
        "journal" => Some(Device::Journal),
        "scale" if matches!(rest, "gone" | "back") => Some(Device::Scale),
        _ => None,
    };
    if let Some(device) = device {
        return match rest {
            "gone" => Ok(Act::Device(device, false)),
            "back" => Ok(Act::Device(device, true)),
            _ => Err(format!(
                "expected `gone` or `back` after `{verb}`, found `{rest}`"
            )),
        };
    }
    match verb {
        "say" if rest.is_empty() => Err("expected words after `say`, found nothing".to_owned()),
        "say" => Ok(Act::Say(rest.to_owned())),
        "type" if rest.is_empty() => Err("expected words after `type`, found nothing".to_owned()),
        "type" => Ok(Act::Type(rest.to_owned())),
        "key" => want_key().map(Act::Key),
        "hold" => want_key().map(Act::Hold),
        "audio" if rest.is_empty() => {
            Err("expected a sound file after `audio`, found nothing".to_owned())
        }
        "audio" => Ok(Act::Audio(PathBuf::from(rest))),
        "scale" => match grams(rest) {
            Some(to) => Ok(Act::Load {
                from: None,
                to,
                over: Span::ZERO,
            }),
            None => Err(format!(
                "expected grams, `gone` or `back` after `scale`, found `{rest}`"
            )),
        },
        "pour" => pour(rest)
            .ok_or_else(|| format!("expected `0..500 over 12s` after `pour`, found `{rest}`")),
        "note" if !rest.is_empty() => Ok(Act::Note(rest.to_owned())),
        "wait" if rest.is_empty() => Ok(Act::Wait),
        _ => Err(format!(
            "expected say, type, key, hold, audio, note, scale, pour, wait or a device, found `{verb}`"
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_line_reads() {
        let s = Script::read(
            "start 15:05\n# a comment\n0:00 say next\n+12m say how much salt # why not\n+0 key 5\n+2s key enter\n\
             +3s audio salt.wav\n+1h30m hold plus\n+5 wait\n+1s microphone gone\n",
        )
        .expect("a good script");
        assert_eq!(s.start_minutes, 905);
        let at: Vec<u64> = s.lines.iter().map(|l| l.at.as_seconds()).collect();
        assert_eq!(at, [0, 720, 720, 722, 725, 6125, 6130, 6131]);
        let s2 = Script::read("+2s scale 412.5\n+0 pour 412..912 over 12s\n+1 scale gone\n")
            .expect("a good script");
        let load = |from, to, over| Act::Load {
            from,
            to,
            over: Span::seconds(over),
        };
        assert_eq!(s2.lines[0].act, load(None, 412.5, 0));
        assert_eq!(s2.lines[1].act, load(Some(412.0), 912.0, 12));
        assert_eq!(s2.lines[2].act, Act::Device(Device::Scale, false));
        assert_eq!(s.lines[1].act, Act::Say("how much salt".into()));
        assert_eq!(s.lines[7].act, Act::Device(Device::Microphone, false));
    }

    #[test]
    fn bad_lines_say_where_and_what() {
        for (text, message) in [
            (
                "0:00 say next\nsoon say next",
                "line 2: expected a time such as `0:12`, `+12m` or `+2s`, found `soon`",
            ),
            (
                "0:05 say a\n0:01 say b",
                "line 2: `0:01` lies before the line above it",
            ),
            (
                "+1 shout",
                "line 1: expected say, type, key, hold, audio, note, scale, pour, wait or a device, found `shout`",
            ),
            (
                "+1 key f1",
                "line 1: expected a key (0-9, enter, plus, minus, times, divide, dot, backspace), found `f1`",
            ),
            (
                "+1 say",
                "line 1: expected words after `say`, found nothing",
            ),
            (
                "+1 pour 5 over",
                "line 1: expected `0..500 over 12s` after `pour`, found `5 over`",
            ),
            (
                "+1 scale heavy",
                "line 1: expected grams, `gone` or `back` after `scale`, found `heavy`",
            ),
            (
                "start noon",
                "line 1: expected a clock time such as `15:05`, found `noon`",
            ),
            (
                "999:00 wait",
                "line 1: expected a time within seven days, found `999:00`",
            ),
            (
                "+99999999999999999999h wait",
                "line 1: expected a time such as `0:12`, `+12m` or `+2s`, found `+99999999999999999999h`",
            ),
            (
                "0:61 wait",
                "line 1: expected a time such as `0:12`, `+12m` or `+2s`, found `0:61`",
            ),
        ] {
            assert_eq!(
                Script::read(text).map_err(|e| e.to_string()),
                Err(message.to_owned()),
                "{text}"
            );
        }
    }
}
