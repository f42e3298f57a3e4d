//! Clock times: `half past seven`, `twenty to eight`, `seven thirty`, `nineteen thirty`, `noon`.

use crate::order::Situation;
use crate::order::book::{Book, give, way};
use crate::order::slots::{Caps, Value};
use crate::time::{ClockTime, HalfDay};

pub(super) fn lay(g: &mut Book) {
    parts(g);
    g.lay(
        "clock",
        vec![
            way("half past <h:hour> [<d:day_part>]", |c, _| {
                Some(twelve(c, 30.0))
            }),
            way(
                "[a] quarter (past|after) <h:hour> [<d:day_part>]",
                |c, _| Some(twelve(c, 15.0)),
            ),
            way(
                "[a] quarter (to|before|=till) <h:hour> [<d:day_part>]",
                |c, _| Some(twelve(c, -15.0)),
            ),
            way(
                "<m:minute> [minutes|minute] (past|after) <h:hour> [<d:day_part>]",
                |c, _| Some(twelve(c, c.sum("m"))),
            ),
            way(
                "<m:minute> [minutes|minute] (to|before|=till) <h:hour> [<d:day_part>]",
                |c, _| Some(twelve(c, -c.sum("m"))),
            ),
            way("<h:hour> [o clock] [<d:day_part>]", |c, _| {
                Some(twelve(c, 0.0))
            }),
            way("<h:hour> <m:two_digits> [<d:day_part>]", |c, _| {
                Some(twelve(c, c.sum("m")))
            }),
            way("!half <h:hour> [<d:day_part>]", |c, _| {
                Some(twelve(c, 30.0))
            }),
            way("<h:hour24> <m:two_digits> [hours]", day),
            way("<h:hour24> hundred [hours]|<h:hour24> o clock", day),
            way("<h:digits_hour24> [hours]", day),
            way("<c:digits_clock> [hours]", typed),
            way("<c:digits_clock> <d:day_part>", typed),
            give("[twelve] (noon|midday)", said(12, 0)),
            give("[twelve] midnight", said(0, 0)),
        ],
    );
}

fn parts(g: &mut Book) {
    let hours = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let mut ways: Vec<_> = hours
        .iter()
        .enumerate()
        .map(|(i, w)| give(w, Value::Num(i as f64 + 1.0)))
        .collect();
    ways.push(way("<h:digits_hour>", |c, _| Some(Value::Num(c.num("h")?))));
    g.lay("hour", ways);
    let sum = |c: &Caps, _: &Situation| Some(Value::Num(c.sum("+")));
    g.lay(
        "tens_sixty",
        ["twenty", "thirty", "forty", "fifty"]
            .iter()
            .enumerate()
            .map(|(i, w)| give(w, Value::Num(20.0 + 10.0 * i as f64)))
            .collect(),
    );
    g.lay(
        "minute",
        vec![
            way("<+:digit>|<+:teen>|<+:tens_sixty> [<+:digit>]", sum),
            way("<+:digits_minute>", sum),
        ],
    );
    g.lay(
        "two_digits",
        vec![
            way("<+:teen>|<+:tens_sixty> [<+:digit>]|<+:oh> <+:digit>", sum),
            way("<+:digits_minute>", sum),
        ],
    );
    let after_noon = [
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
        "twenty one",
        "twenty two",
        "twenty three",
    ];
    let mut ways: Vec<_> = after_noon
        .iter()
        .enumerate()
        .map(|(i, w)| give(w, Value::Num(i as f64 + 13.0)))
        .collect();
    ways.push(way("<+:oh> <+:digit>", sum));
    ways.push(give("zero zero|oh oh", Value::Num(0.0)));
    g.lay("hour24", ways);
    g.lay(
        "day_part",
        vec![
            give(
                "in the morning|this morning|tomorrow morning|a m|=am",
                Value::Sym("morning"),
            ),
            give(
                "in the afternoon|this afternoon|p m|=pm",
                Value::Sym("afternoon"),
            ),
            give("in the evening|this evening", Value::Sym("evening")),
            give("at night|tonight", Value::Sym("night")),
        ],
    );
}

fn said(hour: u8, minute: u8) -> Value {
    Value::Clock(ClockTime {
        hour,
        minute,
        half: HalfDay::Said,
    })
}

/// A time on the twelve-hour dial: the hour named, and minutes past it or (negative) before it.
fn twelve(c: &Caps, minutes: f64) -> Value {
    let named = c.sum("h") as u8;
    let minutes = minutes as i8;
    let (hour, minute) = match u8::try_from(minutes) {
        Ok(past) => (named, past),
        Err(_) => (
            if named == 1 { 12 } else { named - 1 },
            (60 + minutes) as u8,
        ),
    };
    let half = match c.sym("d") {
        None => {
            return Value::Clock(ClockTime {
                hour,
                minute,
                half: HalfDay::Unsaid,
            });
        }
        Some(part) => part,
    };
    let after_noon = match half {
        "morning" => false,
        "afternoon" => true,
        "evening" => hour != 12,
        // At night: eleven is late, twelve and one to four are early.
        _ => (5..12).contains(&hour),
    };
    said(hour % 12 + if after_noon { 12 } else { 0 }, minute)
}

/// A time on the twenty-four-hour dial.
#[allow(clippy::unnecessary_wraps)]
fn day(c: &Caps, _: &Situation) -> Option<Value> {
    Some(said(c.sum("h") as u8, c.sum("m") as u8))
}

/// `7:30` and `19:30` as typed: up to twelve the half of the day is open, unless it begins with a zero hour.
fn typed(c: &Caps, _: &Situation) -> Option<Value> {
    let minutes = c.num("c")? as u16;
    let (hour, minute) = ((minutes / 60) as u8, (minutes % 60) as u8);
    if (1..=12).contains(&hour) {
        let mut dial = c.clone();
        dial.0.push(("h", Value::Num(hour.into())));
        return Some(twelve(&dial, minute.into()));
    }
    Some(said(hour, minute))
}
