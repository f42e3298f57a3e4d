//! The clock and the plan: when to eat, when to start, what is next, and rises that need longer.

use super::book::{Book, Build};
use super::key::Key;
use super::keys::{Before, Keys, Press, minutes, number, number_or_none};
use super::order::Order;
use super::place::Place;
use super::said::say_ordered;
use super::slots::Value;
use crate::measure::spoken_time::say_clock;
use crate::time::{ClockTime, HalfDay};

macro_rules! clock {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// What happens next on the clock.
        NextOnClock,
        /// What time is it?
        TellTime,
        /// When the food should be ready.
        EatAt {
            /// The hour of serving.
            at: ClockTime,
        },
        /// When to start for the hour of serving.
        WhenStart,
        /// The rise (or whatever ends on a look) needs longer.
        NeedsLonger {
            /// By how much, when the cook says so.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            by: Option<Span>,
        },
        /// When to light the oven.
        WhenLightOven,
        /// The oven is on.
        OvenLit,
        /// The oven is hot.
        OvenHot,
        /// The oven is off.
        OvenOff,
        /// Is the oven on?
        OvenState,
        /// Is the cook late for the hour of serving?
        AmILate,
        /// How long it takes in all, and from here.
        HowLongInAll,
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    g.say(
        "eat_at",
        &[
            "(i|we) (want|would like|need|have|=wish) to (eat|serve|have dinner|have lunch|have it ready) (at|by) <a:clock>", "(ready|done|finished|on the table|dinner|lunch|supper|breakfast|eat|serve) (at|by) <a:clock>", "(dinner|lunch|supper|breakfast|service|serving) is (at|for) <a:clock>",
            "(it|this|dinner|lunch|supper|the bread|the food) (must|should|has to|needs to|=is =to) be (ready|done|on the table) (at|by|for) <a:clock>", "we (eat|will eat|are eating|serve|dine) at <a:clock>", "(make|have|get) it ready (for|at|by) <a:clock>", "(serve|plan) [it] (at|for) <a:clock>",
            "(i|we) (want|need) (it|dinner|lunch|supper|this|the bread) [ready|done] (at|by|for) <a:clock>", "i will eat at <a:clock>", "i want to eat at <a:clock>",
        ],
        |c, _| Some(Order::EatAt { at: c.clock("a")? }),
    );
    g.say(
        "when_start",
        &[
            "when (do|should|must|shall) (i|we) (start|begin)",
            "what time (do|should|must|shall) (i|we) (start|begin)",
            "when to start",
            "when do (i|we) need to (start|begin)",
            "when do i have to start",
            "when does it (start|begin)",
            "what is the latest i can start|how late can i start",
        ],
        |_, _| Some(Order::WhenStart),
    );
    g.say(
        "next_on_clock",
        &[
            "what is next on the (clock|plan)",
            "what is the next (timer|=alarm|cue)",
            "which timer is next",
            "what (is|comes) up next",
            "what happens next on the clock",
            "what is coming up",
            "next on the clock|next timer",
            "what is the plan|read the plan",
            "what rings next|which timer rings next",
        ],
        |_, _| Some(Order::NextOnClock),
    );
    g.say(
        "when_light_oven",
        &[
            "when (do|should|must) i (light|heat|turn on|put on) the oven [on]",
            "when (do|should|must) i (turn|put) the oven on",
            "when does the oven (go on|have to go on|need to go on)",
            "what time (do|should|must) i (light|heat|turn on) the oven",
        ],
        |_, _| Some(Order::WhenLightOven),
    );
    g.say(
        "oven_lit",
        &[
            "the oven is (on|lit) [at <h:heat>]",
            "i have [just] (lit|turned on|put on|=switched =on) the oven",
            "i have [just] (turned|put|=switched) the oven on",
            "oven is (on|lit)|oven on",
            "(light|heat|=preheat) the oven [to <h:heat>]",
            "(turn|put|switch) on the oven|(turn|put|switch) the oven on",
            "(put|set|turn|heat) the oven (on|to|at|on to|on at) <h:heat>",
            "the oven is (getting hot|heating [up])",
            "!preheat to <h:heat>|set oven to <h:heat>|oven to <h:heat>|the oven on",
        ],
        |_, _| Some(Order::OvenLit),
    );
    g.say(
        "oven_hot",
        &[
            "the oven is (hot|ready|up to heat|up to temperature)",
            "oven is (hot|ready)|oven hot",
        ],
        |_, _| Some(Order::OvenHot),
    );
    g.say(
        "oven_off",
        &[
            "the oven is off",
            "i have [just] (turned|switched) (off the oven|the oven off)",
            "(turn|switch) (off the oven|the oven off)",
            "!oven off",
        ],
        |_, _| Some(Order::OvenOff),
    );
    g.say(
        "oven_state",
        &[
            "is the oven [still] (on|lit|off|hot) [yet]",
            "(did i|have i) (turn|turned|switch|put|light|lit) the oven (on|off)",
            "(did i|have i) (turn|turned|switch) (off|on) the oven|(did i|have i) (light|lit) the oven",
            "(was|is) the oven (turned|switched) (on|off)",
        ],
        |_, _| Some(Order::OvenState),
    );
    g.say(
        "am_i_late",
        &[
            "(am i|are we) [running] (late|behind|on time|in time)",
            "how late (am i|are we)",
            "(am i|are we) going to be late|(will i|will we) be late",
        ],
        |_, _| Some(Order::AmILate),
    );
    g.say(
        "how_long_in_all",
        &[
            "how long (does|will|is) (it|this) [all] (take|going to take) [in all|in total|altogether]",
            "how long (in all|in total|altogether)",
            "how long does the whole thing take",
            "how much longer in all",
        ],
        |_, _| Some(Order::HowLongInAll),
    );
    g.say(
        "tell_time",
        &[
            "what time is it [now]",
            "what is the time [now]",
            "[tell me] the time",
            "how late is it",
            "=time|clock",
            "what does the clock say",
        ],
        |_, _| Some(Order::TellTime),
    );
    g.lay(
        "rising_thing",
        vec![
            ("[the|my] (rise|first rise|second rise|final rise|prove|dough|bread|loaf|sponge|starter|=proof)", Build::Const(Value::Flag)),
            ("it|this", Build::Const(Value::Flag)),
        ],
    );
    g.say(
        "needs_longer",
        &[
            "<w:rising_thing> (needs|need|wants) [a (bit|little)] (longer|more time)",
            "[a (bit|little)] longer",
            "give <w:rising_thing> (longer|more time)",
            "(let it|leave it to) (rise|prove) [a (bit|little)] longer",
            "more time",
            "it is not (big|high) enough [yet]",
            "<w:rising_thing> needs <b:duration> (more|longer)",
            "<w:rising_thing> needs another <b:duration>",
            "not yet (another|give it) <b:duration>",
            "not yet <b:duration> (more|longer)",
            "not yet <b:more_time>",
            "(let it|leave it to) (rise|prove) [for] (another <b:duration>|<b:more_time>)",
            "<b:duration> longer",
        ],
        |c, _| Some(Order::NeedsLonger { by: c.span("b") }),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order) -> Option<String> {
    Some(match order {
        Order::NextOnClock => "what is next on the clock".into(),
        Order::TellTime => "what time it is".into(),
        Order::EatAt { at } => format!("eat at {}", say_clock(*at)),
        Order::WhenStart => "when to start".into(),
        Order::WhenLightOven => "when to light the oven".into(),
        Order::OvenLit => "the oven is on".into(),
        Order::OvenHot => "the oven is hot".into(),
        Order::OvenOff => "the oven is off".into(),
        Order::OvenState => "whether the oven is on".into(),
        Order::AmILate => "whether you are late".into(),
        Order::HowLongInAll => "how long it takes in all".into(),
        Order::NeedsLonger { by: None } => "it needs longer".into(),
        Order::NeedsLonger { by: Some(by) } => format!("it needs {} longer", say_ordered(*by)),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::NextOnClock
            | Order::TellTime
            | Order::WhenStart
            | Order::WhenLightOven
            | Order::OvenState
            | Order::AmILate
            | Order::HowLongInAll
    )
}

/// Reads `1930`, `730` or `19.30` as a clock time. Four digits are the twenty-four-hour clock; with fewer, an hour
/// from 1 to 12 is the next such time.
pub(super) fn typed_clock(text: &str) -> Option<ClockTime> {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    let (hour, minute) = match (text.split_once('.'), digits.len()) {
        (Some((h, m)), _) if m.len() == 2 => (h.parse().ok()?, m.parse().ok()?),
        (None, 1 | 2) => (digits.parse().ok()?, 0),
        (None, 3) => (digits[..1].parse().ok()?, digits[1..].parse().ok()?),
        (None, 4) => (digits[..2].parse().ok()?, digits[2..].parse().ok()?),
        _ => return None,
    };
    if hour > 23_u8 || minute > 59_u8 {
        return None;
    }
    let unsaid = digits.len() < 4 && (1..=12).contains(&hour);
    Some(ClockTime {
        hour,
        minute,
        half: if unsaid {
            HalfDay::Unsaid
        } else {
            HalfDay::Said
        },
    })
}

pub(super) const NO_TIME_OF_DAY: &str =
    "That is no time of day. Four digits: one nine three zero is half past seven in the evening.";

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.stroke(
        Before::Number,
        Key::Plus,
        Place::Look,
        "it needs {n} minutes longer",
        |n, _| {
            Press::Order(Order::NeedsLonger {
                by: Some(minutes(n)),
            })
        },
    );
    k.show("5 +", Place::Look, "it needs 5 minutes longer");
    k.list(". 4", "the clock and the plan", "The clock.");
    k.item(
        ". 4 1",
        "what is next",
        "what is next on the clock",
        |_, _| Ok(Order::NextOnClock),
    );
    k.item(". 4 2", "what time it is", "what time it is", |_, _| {
        Ok(Order::TellTime)
    });
    k.path(
        ". 4 3",
        "this needs longer",
        vec![number_or_none("How many minutes longer?")],
        |a, _| {
            Ok(Order::NeedsLonger {
                by: a.maybe(0).map(|_| a.minutes(0)),
            })
        },
    );
    k.show(
        ". 4 3 1 0 Enter",
        Place::Step,
        "this needs 10 minutes longer",
    );
    k.item(". 4 4", "when to start", "when to start", |_, _| {
        Ok(Order::WhenStart)
    });
    k.path(
        ". 4 5",
        "when to eat",
        vec![number("At what time, in four digits?")],
        |a, _| match typed_clock(a.typed(0)) {
            Some(at) => Ok(Order::EatAt { at }),
            None => Err(NO_TIME_OF_DAY.to_owned()),
        },
    );
    k.show(
        ". 4 5 1 9 3 0 Enter",
        Place::Step,
        "eat at half past seven in the evening",
    );
    k.item(". 4 6", "when it is ready", "when it is ready", |_, _| {
        Ok(Order::ReadyWhen { timer: None })
    });
    k.item(". 4 7", "am I late", "am I late", |_, _| Ok(Order::AmILate));
    k.item(
        ". 4 8",
        "how long it takes in all",
        "how long it takes in all",
        |_, _| Ok(Order::HowLongInAll),
    );
    k.list(". 4 10", "the oven", "The oven.");
    k.item(
        ". 4 10 1",
        "when to light it",
        "when to light the oven",
        |_, _| Ok(Order::WhenLightOven),
    );
    k.item(". 4 10 2", "it is on", "the oven is on", |_, _| {
        Ok(Order::OvenLit)
    });
    k.item(". 4 10 3", "it is hot", "the oven is hot", |_, _| {
        Ok(Order::OvenHot)
    });
    k.item(". 4 10 4", "it is off", "the oven is off", |_, _| {
        Ok(Order::OvenOff)
    });
    k.item(". 4 10 5", "is it on", "whether the oven is on", |_, _| {
        Ok(Order::OvenState)
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clock_times_as_typed() {
        let at = |hour, minute, half| Some(ClockTime { hour, minute, half });
        assert_eq!(typed_clock("1930"), at(19, 30, HalfDay::Said));
        assert_eq!(typed_clock("730"), at(7, 30, HalfDay::Unsaid));
        assert_eq!(typed_clock("0730"), at(7, 30, HalfDay::Said));
        assert_eq!(typed_clock("7"), at(7, 0, HalfDay::Unsaid));
        assert_eq!(typed_clock("19"), at(19, 0, HalfDay::Said));
        assert_eq!(typed_clock("19.30"), at(19, 30, HalfDay::Said));
        assert_eq!(typed_clock("7.30"), at(7, 30, HalfDay::Unsaid));
        for bad in ["", "2460", "2400", "760", "12345", "7.3", ".", "1.2.3"] {
            assert_eq!(typed_clock(bad), None, "`{bad}`");
        }
    }
}
