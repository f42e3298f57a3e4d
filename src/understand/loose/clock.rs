//! How long it is from one hour to another: 'from Thursday nine at night to Sunday seven in the morning'.

use crate::ask::Question;
use crate::order::UnitSymbol;

pub(super) const DAYS: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];
const HOURS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];
const DAY: i64 = 24 * 60;

/// A moment that was named: minutes into its day, and which day where that was said.
#[derive(Debug, Clone, Copy)]
struct Named {
    minutes: i64,
    day: Option<Which>,
}

#[derive(Debug, Clone, Copy)]
enum Which {
    /// Of the week.
    Week(i64),
    /// From today.
    From(i64),
}

/// The words of a clause that names one hour.
struct Words<'a>(&'a [String]);

impl Words<'_> {
    fn at(&self, i: usize) -> &str {
        self.0.get(i).map_or("", String::as_str)
    }

    fn hour(&self, i: usize) -> Option<i64> {
        let word = self.at(i);
        let spoken = HOURS.iter().position(|h| *h == word).map(|h| h as i64 + 1);
        spoken.or_else(|| word.parse().ok().filter(|h| (0..=24).contains(h)))
    }

    fn minutes(&self, i: usize) -> Option<i64> {
        match self.at(i) {
            "five" => Some(5),
            "ten" => Some(10),
            "quarter" => Some(15),
            "twenty" => Some(20),
            word => word.parse().ok().filter(|m| (1..60).contains(m)),
        }
    }

    /// The hour that begins here, and where it ends: '9', 'half ten', 'quarter past six', '7.30'.
    fn clock(&self, i: usize) -> Option<(i64, usize)> {
        let word = self.at(i);
        if let Some((hour, minutes)) = word.split_once([':', '.'])
            && minutes.len() == 2
        {
            return Some((
                hour.parse::<i64>().ok()? * 60 + minutes.parse::<i64>().ok()?,
                i + 1,
            ));
        }
        match word {
            "noon" | "midday" => return Some((12 * 60, i + 1)),
            "midnight" => return Some((0, i + 1)),
            "half" => {
                let at = if self.at(i + 1) == "past" {
                    i + 2
                } else {
                    i + 1
                };
                return Some((self.hour(at)? * 60 + 30, at + 1));
            }
            _ => {}
        }
        if let (Some(minutes), "past") = (self.minutes(i), self.at(i + 1)) {
            return Some((self.hour(i + 2)? * 60 + minutes, i + 3));
        }
        if let (Some(minutes), "to") = (self.minutes(i), self.at(i + 1))
            && word == "quarter"
        {
            return Some((self.hour(i + 2)? * 60 - minutes, i + 3));
        }
        Some((self.hour(i)? * 60, i + 1))
    }

    /// The one hour that is named, with its half of the day; nothing where that is not sure.
    fn named(&self) -> Option<Named> {
        let line = format!(" {} ", self.0.join(" "));
        let says = |all: &[&str]| all.iter().any(|w| line.contains(&format!(" {w} ")));
        let mut found: Option<i64> = None;
        let mut i = 0;
        while i < self.0.len() {
            match self.clock(i) {
                Some((minutes, end)) => {
                    if found.replace(minutes).is_some() {
                        return None;
                    }
                    i = end;
                }
                None => i += 1,
            }
        }
        let minutes = found?;
        let sharp = says(&["noon", "midday", "midnight"]);
        let early = says(&["am", "a.m", "morning"]);
        let late = says(&[
            "pm",
            "p.m",
            "night",
            "tonight",
            "evening",
            "afternoon",
            "teatime",
        ]);
        let twelve = minutes / 60 == 12 && !sharp;
        let minutes = match (early, late) {
            _ if sharp || minutes >= 13 * 60 => minutes,
            (true, false) => minutes - if twelve { 12 * 60 } else { 0 },
            (false, true) => minutes + if twelve { 0 } else { 12 * 60 },
            _ => return None,
        };
        let week = DAYS.iter().position(|d| says(&[d]));
        let day = if let Some(day) = week {
            Some(Which::Week(day as i64))
        } else if says(&["last night", "yesterday"]) {
            Some(Which::From(-1))
        } else if says(&[
            "this morning",
            "today",
            "tonight",
            "this afternoon",
            "this evening",
        ]) {
            Some(Which::From(0))
        } else if says(&["tomorrow"]) {
            Some(Which::From(1))
        } else {
            None
        };
        Some(Named { minutes, day })
    }
}

/// The length between the two hours that a question names.
pub(super) fn between(text: &str) -> Option<Question> {
    let text = text.to_lowercase().replace("o'clock", "");
    let asks = ["how many hours", "how long", "hours is that", "hours is it"];
    if !asks.iter().any(|a| text.contains(a)) {
        return None;
    }
    // A clause names one hour: it ends at a comma, or before the word that begins the other.
    let clauses: Vec<Vec<String>> = text
        .replace(" until ", ", ")
        .replace(" till ", ", ")
        .replace(" to ", if text.contains("from ") { ", " } else { " to " })
        .replace(" and ", ", ")
        .split([',', ';', '?', '!'])
        .flat_map(|part| part.split(". "))
        .map(|part| {
            part.split_whitespace()
                .map(|w| w.trim_matches(|c: char| !c.is_alphanumeric()).to_owned())
                .filter(|w| !w.is_empty())
                .collect()
        })
        .collect();
    let number = |w: &String| {
        HOURS.contains(&w.as_str())
            || w.chars().any(|c| c.is_ascii_digit())
            || ["noon", "midday", "midnight", "half", "quarter"].contains(&w.as_str())
    };
    let timed: Vec<&Vec<String>> = clauses.iter().filter(|c| c.iter().any(number)).collect();
    let [a, b] = timed[..] else { return None };
    if text.contains("degree") {
        return None;
    }
    let (from, to) = (Words(a).named()?, Words(b).named()?);
    let days = match (from.day, to.day) {
        (None, None) => i64::from(to.minutes <= from.minutes),
        (Some(Which::Week(a)), Some(Which::Week(b))) if a != b => (b - a).rem_euclid(7),
        (Some(Which::From(a)), Some(Which::From(b))) => b - a,
        _ => return None,
    };
    let minutes = days * DAY + to.minutes - from.minutes;
    (minutes > 0).then_some(Question::Times {
        factor: 1.0,
        number: minutes as f64,
        unit: UnitSymbol::MINUTE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn from_hour_to_hour() {
        let hours = |text: &str| match between(text) {
            Some(Question::Times { number, .. }) => Some(number / 60.0),
            _ => None,
        };
        for (text, long) in [
            (
                "Dough went in the fridge Thursday 9 at night, comes out Sunday 7 in the morning. How many hours is it?",
                58.0,
            ),
            (
                "Chickpeas in water at half ten last night, drained at quarter past six this morning, how long was that?",
                7.75,
            ),
            ("from 22:00 to 6.30 in the morning, how many hours", 8.5),
            ("how long is it from noon until 5 pm", 5.0),
            (
                "in at quarter to eight tonight, out at 7 tomorrow morning, how long?",
                11.25,
            ),
        ] {
            assert_eq!(hours(text), Some(long), "{text}");
        }
        // Which half of the day, or which day, was not said.
        for text in [
            "in at 9, out at 7, how long",
            "how long for 500 g at 20 degrees in the morning",
            "Thursday 9 at night, out at 7 this morning, how long",
        ] {
            assert_eq!(hours(text), None, "{text}");
        }
    }
}
