//! The plan as a calendar file: RFC 5545.

use std::fmt::Write;

use chrono::DateTime;

use super::plan::{Block, BlockPart, Plan};
use crate::time::Minute;

/// What a plan's events are called by: the same for the same dishes on the same day, whatever the hour, so that what is
/// given out again takes the place of what was given out before (RFC 5545, 3.8.4.7).
pub fn calendar_name(plan: &Plan) -> String {
    let mut names: Vec<&str> = plan.dishes.iter().map(|d| d.name.as_str()).collect();
    names.sort_unstable();
    let day = utc(plan.wanted_at.0.saturating_mul(60));
    format!("{}-{}", &day[..8.min(day.len())], crc(&names))
}

/// The plan as an iCalendar object, one event a block and one for the hour of serving. What the cook must do, and
/// every cue, has an alarm. Times are in UTC, so that every calendar shows them right in its own zone.
///
/// `stamp_unix_s` is when the file is made (DTSTAMP), `sequence` how often this plan was changed since it was first
/// given out (SEQUENCE).
pub fn calendar(plan: &Plan, stamp_unix_s: i64, sequence: u32) -> String {
    let mut out = Lines(String::new());
    let stamp = utc(stamp_unix_s);
    let name = calendar_name(plan);
    // A dish is known by its name, and where it stands twice by which of them it is.
    let dish_name = |dish: usize| {
        let own = &plan.dishes[dish].name;
        let before = plan.dishes[..dish].iter().filter(|d| d.name == *own);
        format!("{}-{}", crc(&[own]), before.count())
    };

    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//commis//kitchen plan//EN");
    for block in &plan.blocks {
        out.line("BEGIN:VEVENT");
        let (of, id) = (dish_name(block.id.dish), block.id);
        let part = match id.part {
            BlockPart::Preheat => "oven",
            BlockPart::Hands => "hands",
            BlockPart::Wait => "wait",
        };
        out.line(&format!("UID:{name}-{of}-{}-{part}@commis", id.step + 1));
        out.line(&format!("DTSTAMP:{stamp}"));
        out.line(&format!("SEQUENCE:{sequence}"));
        out.line(&format!("DTSTART:{}", at(block.start)));
        out.line(&format!("DTEND:{}", at(block.end)));
        let summary = summary(plan, block);
        out.text("SUMMARY", &summary);
        if !block.cues.is_empty() {
            let cues: Vec<String> = block
                .cues
                .iter()
                .map(|(at, say)| format!("{} min: {say}", at.since(block.start)))
                .collect();
            out.text("DESCRIPTION", &cues.join("\n"));
        }
        if block.id.part == BlockPart::Hands {
            out.line("TRANSP:OPAQUE");
        } else {
            out.line("TRANSP:TRANSPARENT");
        }
        if block.id.part != BlockPart::Wait {
            out.alarm(0, &summary);
        }
        for (at, say) in &block.cues {
            out.alarm(at.since(block.start), say);
        }
        out.line("END:VEVENT");
    }
    let names: Vec<&str> = plan.dishes.iter().map(|dish| dish.name.as_str()).collect();
    let ready = format!("Ready: {}", names.join(", "));
    out.line("BEGIN:VEVENT");
    out.line(&format!("UID:{name}-ready@commis"));
    out.line(&format!("DTSTAMP:{stamp}"));
    out.line(&format!("SEQUENCE:{sequence}"));
    out.line(&format!("DTSTART:{}", at(plan.ready_at)));
    out.text("SUMMARY", &ready);
    out.line("TRANSP:TRANSPARENT");
    out.alarm(0, &ready);
    out.line("END:VEVENT");
    out.line("END:VCALENDAR");
    out.0
}

fn crc(names: &[&str]) -> String {
    let mut hash = crc32fast::Hasher::new();
    for name in names {
        hash.update(name.as_bytes());
        hash.update(&[0]);
    }
    format!("{:08x}", hash.finalize())
}

fn summary(plan: &Plan, block: &Block) -> String {
    let what = match (block.id.part, plan.set_to(block)) {
        (BlockPart::Preheat, Some(heat)) => format!("Light the oven: {heat:.0} \u{b0}C"),
        (BlockPart::Preheat, None) => "Light the oven".to_owned(),
        (BlockPart::Hands, _) => block.title.clone(),
        (BlockPart::Wait, _) => match &block.timer {
            Some(timer) if !timer.eq_ignore_ascii_case(&block.title) => {
                format!("{}: {timer} runs", block.title)
            }
            _ => format!("{} runs", block.title),
        },
    };
    match plan.dishes.as_slice() {
        [_] => what,
        dishes => match dishes.get(block.id.dish) {
            Some(dish) => format!("{}: {what}", dish.name),
            None => what,
        },
    }
}

fn at(minute: Minute) -> String {
    utc(minute.0.saturating_mul(60))
}

/// `20261125T150500Z`. RFC 5545 has years of four digits only; a plan beyond them ends at their last second.
fn utc(unix_s: i64) -> String {
    // 0000-01-01 00:00:00 and 9999-12-31 23:59:59.
    let unix_s = unix_s.clamp(-62_167_219_200, 253_402_300_799);
    DateTime::from_timestamp(unix_s, 0)
        .map_or_else(String::new, |t| t.format("%Y%m%dT%H%M%SZ").to_string())
}

struct Lines(String);

impl Lines {
    /// A content line, folded so that no line has more than 75 octets (RFC 5545, 3.1), between characters.
    fn line(&mut self, content: &str) {
        let mut room = 75;
        for c in content.chars() {
            if c.len_utf8() > room {
                self.0.push_str("\r\n ");
                room = 74;
            }
            room -= c.len_utf8();
            self.0.push(c);
        }
        self.0.push_str("\r\n");
    }

    /// A property with a value of type TEXT (RFC 5545, 3.3.11).
    fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::new();
        for c in value.chars() {
            match c {
                '\\' | ';' | ',' => {
                    escaped.push('\\');
                    escaped.push(c);
                }
                '\n' => escaped.push_str("\\n"),
                c if c.is_control() => {}
                c => escaped.push(c),
            }
        }
        self.line(&format!("{name}:{escaped}"));
    }

    fn alarm(&mut self, minutes: i64, say: &str) {
        let mut trigger = String::from("TRIGGER:");
        let _ = write!(trigger, "PT{minutes}M");
        self.line("BEGIN:VALARM");
        self.line("ACTION:DISPLAY");
        self.text("DESCRIPTION", say);
        self.line(&trigger);
        self.line("END:VALARM");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folds_between_characters_at_75_octets() {
        let mut out = Lines(String::new());
        let value = "a\u{e9}\u{20ac}\u{1F35E}".repeat(40);
        out.text("SUMMARY", &value);
        for line in out.0.split("\r\n") {
            assert!(line.len() <= 75, "{}", line.len());
            assert!(!line.contains(['\r', '\n']));
        }
        assert_eq!(out.0.replace("\r\n ", ""), format!("SUMMARY:{value}\r\n"));
        let mut exact = Lines(String::new());
        exact.line(&"x".repeat(75));
        exact.line(&"x".repeat(76));
        assert_eq!(
            exact.0,
            format!("{}\r\n{}\r\n x\r\n", "x".repeat(75), "x".repeat(75))
        );
    }

    #[test]
    fn escapes_text() {
        let mut out = Lines(String::new());
        out.text("SUMMARY", "salt, pepper; a \\ and\r\na line\u{7}");
        assert_eq!(out.0, "SUMMARY:salt\\, pepper\\; a \\\\ and\\na line\r\n");
    }

    #[test]
    fn writes_utc_times() {
        // RFC 5545, 3.3.5: `19980119T070000Z`; Unix time 885193200 by GNU date.
        assert_eq!(utc(885_193_200), "19980119T070000Z");
        assert_eq!(utc(i64::MAX), "99991231T235959Z");
    }
}
