//! Timers: start, how long is left, more and less time, hold, stop.

use super::book::{Book, give};
use super::key::Key;
use super::keys::{Answer, Before, Keys, Press, minutes, number, one_of, pairs, timers, words};
use super::loss::Loss;
use super::order::Order;
use super::place::Place;
use super::refs::TimerRef;
use super::said::say_ordered;
use super::situation::Situation;
use super::slots::Value;
use crate::measure::spoken_time::{say_clock, say_duration};
use crate::time::Span;

macro_rules! timers {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// Start a timer of the cook's own.
        StartTimer {
            /// How long; when missing, the program asks.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            lasts: Option<Span>,
            /// Its name as spoken.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            name: Option<String>,
        },
        /// Start the timer that the current step offers.
        StartOffered,
        /// How long is left: on one timer, or on each.
        TimeLeft {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// When a timer will be due, as a clock time.
        ReadyWhen {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Lengthen a timer.
        AddTime {
            /// By how much.
            by: Span,
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Shorten a timer.
        TakeTime {
            /// By how much.
            by: Span,
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Hold a timer.
        PauseTimer {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Let a held timer run on.
        ResumeTimer {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Start a timer again from its full length.
        RestartTimer {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Put a cue into a timer: `at` after its start, or with `left` to go; one of the two.
        AddCue {
            /// What is said then: `turn the tin`.
            say: String,
            /// So long after the start.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            at: Option<Span>,
            /// So long before the end.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            left: Option<Span>,
            /// Which timer; without one, the timer that was started last.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Give a timer another name.
        RenameTimer {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
            /// The new name.
            name: String,
        },
        /// End a timer for good (confirmed when it is still running).
        StopTimer {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// End all timers (confirmed).
        StopAllTimers,
        /// Silence an alarm: the cook has heard it.
        StopChime,
        /// How long a timer has been running, or how long this step has taken.
        TimeGone {
            /// Which timer.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            timer: Option<TimerRef>,
        },
        /// Say something after a time, or at an hour; one of the two.
        Remind {
            /// What is said then: `stir the soup`.
            text: String,
            /// So long from now.
            #[serde(default, rename = "in", skip_serializing_if = "Option::is_none")]
            after: Option<Span>,
            /// At this hour.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            at: Option<ClockTime>,
        },
        /// Start a timer of the cook's own with a cue in it: `at` after its start, or with `left` to go.
        StartWithCue {
            /// How long.
            lasts: Span,
            /// Its name as spoken.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            name: Option<String>,
            /// What the cue says.
            say: String,
            /// So long after the start.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            at: Option<Span>,
            /// So long before the end.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            left: Option<Span>,
        },
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    start(g);
    ask(g);
    change(g);
    cue(g);
    gone_and_to_come(g);
    hold(g);
    stop(g);
}

/// Words that stand beside a length and name nothing: `a timer for about ten minutes`.
const NO_NAME: [&str; 51] = [
    "for",
    "with",
    "my",
    "from",
    "about",
    "around",
    "roughly",
    "exactly",
    "another",
    "like",
    "just",
    "say",
    "maybe",
    "at",
    "of",
    "only",
    "approximately",
    "nearly",
    "almost",
    "less",
    "more",
    "up",
    "to",
    "in",
    "on",
    "not",
    "no",
    "than",
    "then",
    "and",
    "it",
    "that",
    "this",
    "me",
    "half",
    "a",
    "an",
    "one",
    "two",
    "three",
    "hour",
    "hours",
    "minute",
    "minutes",
    "second",
    "seconds",
    "quarter",
    "the",
    "so",
    "perhaps",
    "please",
];

fn start(g: &mut Book) {
    g.say(
        "start_timer",
        &[
            "(start|set|begin|make|give me|add) (a|another|=the) timer for <l:duration>",
            "~(start|set|begin|make|give me|add) (a|another) timer",
            "(start|set|begin|make|give me|add) (a|another|=the) <l:duration> timer [(for|called|=named) [the] <n:timer>]",
            "(start|set|begin|make|give me|add) (a|another|=the) timer (for|of) <l:duration> [(for|called|=named|on) [the] <n:timer>]",
            "(start|set|begin|make|give me|add) (a|another|=the) timer (for|called|=named) [the|my] <n:timer> [(for|of|at) <l:duration>]",
            "(start|set|begin) (a|the) <n:timer> timer [for <l:duration>]",
            "(start|set) [a] [timer] <l:duration> (for|called) [the|my] <n:timer>",
            "[a|=new] timer (for|of) <l:duration> [(for|called) [the] <n:timer>]",
            "[a] <l:duration> timer [(for|called) [the] <n:timer>]",
            "<l:duration> (for|called|=named|on) [the|my] <n:timer>",
            "(start|begin) [the] <n:timer> [now]",
            "<n:timer> timer <l:duration>|<n:timer> (for) <l:duration>",
            "time <l:duration>|time [the|my] <n:timer> for <l:duration>",
            "(wake|remind|tell|call) me (in|after) <l:duration>",
            "start <l:duration>|<l:duration>",
            "(start|set) a <l:duration> <n:timer> timer|a <l:duration> <n:timer> timer",
            "new timer|a new timer",
            "!(start|set) a timer (called|=named) <n:free> [for <l:duration>]",
            "!(start|set) a <l:duration> timer (called|=named|for) <n:free>|<l:duration> (called|=named) <n:free>",
            "!(start|set) a timer (for|of) <l:duration> (called|=named|for) <n:free>",
            "![and] (start|set|put on) (one|another|another one) (for|called) [the|my] <n:timer> [for|of|at] <l:duration>",
        ],
        |c, _| Some(Order::StartTimer { lasts: c.span("l"), name: c.text("n") }),
    );
    g.say(
        "start_timer_as_named",
        &[
            "![and] (start|set|put on|make|add|give me) (a timer|another timer|the timer|one|another|another one) for [the|my|some] <n:free> [for|of|at] <l:duration>",
            "!(start|set|put on) <l:duration> for [the|my|some] <n:free>",
        ],
        |c, _| {
            let name: String = c.text("n")?;
            let is_name = name.split(' ').all(|w| !NO_NAME.contains(&w));
            is_name.then_some(Order::StartTimer { lasts: c.span("l"), name: Some(name) })
        },
    );
    g.say(
        "start_offered",
        &[
            "start it",
            "start the timer|start that timer|start this timer",
            "start (that|this)",
            "start the clock",
            "yes start (it|the timer)",
            "start timing",
            "start now",
            "begin timing",
            "set it going|set it off",
            "go",
            "start",
        ],
        |_, _| Some(Order::StartOffered),
    );
}

fn ask(g: &mut Book) {
    g.say(
        "time_left",
        &[
            "how (long|much time|many minutes) [is|=are] (left|remaining|to go) [(on|for|of|in) (<t:which_timer>|<a:a_timer>)]",
            "how (long|much longer|much time) (on|for) <t:which_timer>", "how (long|much longer|much time) (has|have) (<t:which_timer>|<a:a_timer>) got [left]", "how much (time|longer)",
            "how much time (do i have|is there|have i got) [left]", "how long (does|do) (<t:which_timer>|<a:a_timer>) have [left]", "how long (until|till|to) (<t:which_timer>|<a:a_timer>) [is (done|ready|finished)]",
            "how (is|are) <t:which_timer> doing", "how much longer (for|on) (<t:which_timer>|<a:a_timer>)", "what is left on (<t:which_timer>|<a:a_timer>)", "(check|read) (<t:which_timer>|<a:a_timer>|the timers)",
            "how long is left on (each|all|the timers|all the timers|each timer)", "(what|which) timers (are running|do i have|are on|are there)", "how far over is (<t:which_timer>|<a:a_timer>)|how late is (<t:which_timer>|<a:a_timer>)",
            "time left [on <t:which_timer>]", "<t:which_timer> time left|time remaining",
        ],
        |c, _| Some(Order::TimeLeft { timer: c.text("t") }),
    );
    g.say(
        "ready_when",
        &[
            "when (is|are|will) (<t:which_timer>|<a:a_timer>) [be] (ready|done|finished|due|over|up)", "what time (is|are|will) (<t:which_timer>|<a:a_timer>) [be] (ready|done|finished|due|over|up)", "when does (<t:which_timer>|<a:a_timer>) (finish|end|ring|go off)",
            "what time does (<t:which_timer>|<a:a_timer>) (finish|end|ring|go off)", "when will (<t:which_timer>|<a:a_timer>) (finish|end|ring|go off)", "when is it (ready|done)", "when does it come out",
        ],
        |c, _| Some(Order::ReadyWhen { timer: c.text("t") }),
    );
}

fn change(g: &mut Book) {
    g.say(
        "add_time",
        &[
            "(add|=put) [another] <b:duration> [more] [(to|on|for|onto) (<t:which_timer>|<a:a_timer>)]", "<b:more_time> [(on|for|to) (<t:which_timer>|<a:a_timer>)]", "give (<t:which_timer>|<a:a_timer>|me) ([another] <b:duration>|<b:more_time>)",
            "~(<t:which_timer>|<a:a_timer>) (needs|need|wants) (another <b:duration>|<b:more_time>)", "(make|leave) (<t:which_timer>|<a:a_timer>) ([for] another <b:duration>|[for] <b:more_time>)", "extend (<t:which_timer>|<a:a_timer>) by <b:duration>",
            "(<t:which_timer>|<a:a_timer>) <b:duration> (longer|more)", "=lengthen (<t:which_timer>|<a:a_timer>) by <b:duration>", "plus <b:duration>",
        ],
        |c, _| Some(Order::AddTime { by: c.span("b")?, timer: c.text("t") }),
    );
    g.say(
        "take_time",
        &[
            "take <b:duration> (off|from|=away =from) [(<t:which_timer>|<a:a_timer>)]",
            "take off <b:duration>",
            "(take|remove|drop) <b:duration> [from (<t:which_timer>|<a:a_timer>)]",
            "<b:duration> (less|shorter|=fewer) [on (<t:which_timer>|<a:a_timer>)]",
            "make (<t:which_timer>|<a:a_timer>) <b:duration> shorter",
            "(shorten|cut) (<t:which_timer>|<a:a_timer>) by <b:duration>",
            "(<t:which_timer>|<a:a_timer>) needs <b:duration> less",
            "minus <b:duration>",
        ],
        |c, _| {
            Some(Order::TakeTime {
                by: c.span("b")?,
                timer: c.text("t"),
            })
        },
    );
    g.say(
        "rename_timer",
        &[
            "(call|name|=rename) (<t:which_timer>|<a:a_timer>) <n:timer>",
            "(rename|change) (<t:which_timer>|<a:a_timer>) to <n:timer>",
            "(rename|change) the name of (<t:which_timer>|<a:a_timer>) to <n:timer>",
            "(<t:which_timer>|<a:a_timer>) is called <n:timer>",
            "(call|name) (<t:which_timer>|<a:a_timer>) the <n:timer> [timer]",
            "make (<t:which_timer>|<a:a_timer>) the <n:timer> timer",
            "!(call|=rename|name) (<t:which_timer>|<a:a_timer>) [=to] <n:free>",
        ],
        |c, _| {
            Some(Order::RenameTimer {
                timer: c.text("t"),
                name: c.text("n")?,
            })
        },
    );
}

/// A cue of the cook's own. What is to be done is one of a few things, so that it can be heard and not only typed.
fn cue(g: &mut Book) {
    let acts = [
        ("turn it [round|around]", "turn it"),
        ("turn the tin [round|around]", "turn the tin"),
        ("turn the bread [round|around]", "turn the bread"),
        ("turn the cake [round|around]", "turn the cake"),
        ("turn it over", "turn it over"),
        ("look [at it]|have a look|check it", "look"),
        ("stir [it]", "stir it"),
        ("heat the oven", "heat the oven"),
        ("light the oven", "light the oven"),
        ("take the lid off", "take the lid off"),
        ("take it out", "take it out"),
        ("fold the dough|fold it", "fold the dough"),
    ];
    g.lay(
        "cue_act",
        acts.map(|(said, act)| give(said, Value::Sym(act))).into(),
    );
    g.say(
        "add_cue",
        &[
            "[(remind|tell) me to] <w:cue_act> (at|after) <a:duration> [(in|on|of) <t:which_timer>]",
            "[(remind|tell) me to] <w:cue_act> (at|after) <m:minutes_sixty> [(in|on|of) <t:which_timer>]",
            "[(remind|tell) me to] <w:cue_act> (when|with) <b:duration> [is|are] left [(in|on|of) <t:which_timer>]",
            "when <b:duration> (is|are) left <w:cue_act>",
            "(remind|tell) me when <b:duration> (is|are) left [(in|on|of) <t:which_timer>]",
        ],
        |c, _| {
            let left = c.span("b");
            let minutes = c.num("m").map(|m| Span::minutes(m as u64));
            let say = match (c.text("w"), left) {
                (Some(act), _) => act,
                (None, left) => format!("{} left", say_duration(left?)),
            };
            Some(Order::AddCue {
                say,
                at: c.span("a").or(minutes),
                left,
                timer: c.text("t"),
            })
        },
    );
}

/// What has gone by, reminders, and a timer with its cue in one sentence.
fn gone_and_to_come(g: &mut Book) {
    g.lay(
        "going_on",
        vec![give(
            "on|running|going|rising|=proving|baking|cooking|resting|in|in the oven|in there|out",
            Value::Flag,
        )],
    );
    g.say(
        "time_gone",
        &[
            "how long (has|have) (<t:which_timer>|<a:a_timer>|=that) been <w:going_on>",
            "how long has the food been <w:going_on>",
            "how long has it been [now]",
            "how much time (has gone|has passed) [on <t:which_timer>]",
            "how long have i been (at|on) this [step]",
        ],
        |c, _| Some(Order::TimeGone { timer: c.text("t") }),
    );
    g.say(
        "remind",
        &[
            "(remind|tell) me to <w:cue_act> in <a:duration>",
            "in <a:duration> (remind|tell) me to <w:cue_act>",
            "(remind|tell) me at <c:clock> to <w:cue_act>",
            "!(remind|tell) me to <w:free> in <a:duration>",
            "!in <a:duration> (remind|tell) me to <w:free>",
            "!(remind|tell) me at <c:clock> to <w:free>",
        ],
        |c, _| {
            Some(Order::Remind {
                text: c.text("w")?,
                after: c.span("a"),
                at: c.clock("c"),
            })
        },
    );
    g.say(
        "start_with_cue",
        &[
            "(start|set) a <l:duration> [<n:timer>] timer and (remind|tell) me to <w:cue_act> (after|at) <a:duration>",
            "(start|set) a timer for <l:duration> [(for|called) [the|my] <n:timer>] and (remind|tell) me to <w:cue_act> (after|at) <a:duration>",
            "(start|set) a <l:duration> [<n:timer>] timer and (remind|tell) me to <w:cue_act> with <b:duration> left",
            "<l:duration> for [the|my] <n:timer> and (remind|tell) me to <w:cue_act> (after|at) <a:duration>",
        ],
        |c, _| {
            Some(Order::StartWithCue {
                lasts: c.span("l")?,
                name: c.text("n"),
                say: c.text("w")?,
                at: c.span("a"),
                left: c.span("b"),
            })
        },
    );
}

fn hold(g: &mut Book) {
    g.say(
        "pause_timer",
        &[
            "pause [<t:which_timer>|<a:a_timer>]",
            "hold (<t:which_timer>|<a:a_timer>)",
            "stop the clock for a (moment|minute)",
            "(freeze|=suspend) (<t:which_timer>|<a:a_timer>)",
            "put (<t:which_timer>|<a:a_timer>) on hold",
            "pause all|pause everything|pause the timers",
        ],
        |c, _| Some(Order::PauseTimer { timer: c.text("t") }),
    );
    g.say(
        "resume_timer",
        &[
            "resume [<t:which_timer>|<a:a_timer>]",
            "(continue|carry on with) (<t:which_timer>|the timer)",
            "let (<t:which_timer>|<a:a_timer>) (run|go on|carry on)",
            "(start|set) (<t:which_timer>|<a:a_timer>) going again",
            "=unpause [<t:which_timer>|<a:a_timer>]",
            "take (<t:which_timer>|<a:a_timer>) off hold",
            "go on with (<t:which_timer>|the timer)",
        ],
        |c, _| Some(Order::ResumeTimer { timer: c.text("t") }),
    );
    g.say(
        "restart_timer",
        &[
            "restart (<t:which_timer>|<a:a_timer>)",
            "restart",
            "start (<t:which_timer>|the timer|it) (again|over|from the beginning|from the top)",
            "reset [<t:which_timer>|<a:a_timer>]",
            "begin (<t:which_timer>|the timer|it) again",
            "run (<t:which_timer>|<a:a_timer>) again",
            "start over",
        ],
        |c, _| Some(Order::RestartTimer { timer: c.text("t") }),
    );
}

fn stop(g: &mut Book) {
    g.say(
        "stop_timer",
        &[
            "(stop|end|cancel|delete|kill|remove) <t:which_timer>",
            "(stop|end|cancel|delete|kill|remove) (the|my|this|that) timer",
            "turn off (<t:which_timer>|the timer)",
            "turn (<t:which_timer>|the timer) off",
            "(i do not need|forget|drop|clear) (<t:which_timer>|the timer) [any more]",
            "get rid of (<t:which_timer>|the timer)",
            "no more <t:timer> timer",
        ],
        |c, _| Some(Order::StopTimer { timer: c.text("t") }),
    );
    g.say(
        "stop_all_timers",
        &[
            "(stop|end|cancel|delete|clear|kill|remove) (all|all of|every one of) [the|my] timers",
            "(stop|cancel|end|clear) (everything|all)",
            "(stop|cancel|end|clear|delete) every timer",
            "turn off (all [the] timers|every timer)",
            "turn all [the] timers off",
            "(stop|cancel|end|clear) the timers",
            "no more timers",
        ],
        |_, _| Some(Order::StopAllTimers),
    );
    g.say(
        "stop_chime",
        &[
            "(stop|silence|quiet|=kill) (the|that) (chime|alarm|bell|ringing|=beeping|sound|=noise|=buzzer)", "turn (off the|the) (chime|alarm|bell) [off]", "stop (ringing|=beeping|chiming)", "(i|yes i) (hear|heard) (it|you|that)", "(chime|alarm) off",
            "i know", "alarm stop|stop alarm", "i have (heard|got) (it|that) stop ringing", "all right i heard",
        ],
        |_, _| Some(Order::StopChime),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    let timer = |which: &Option<TimerRef>| match which {
        Some(which) => format!("the {} timer", here.timer(which)),
        None => "the timer".to_string(),
    };
    Some(match order {
        Order::StartTimer { lasts, name } => {
            let lasts = lasts.map_or_else(String::new, |l| format!(" for {}", say_ordered(l)));
            let name = name
                .as_deref()
                .map_or_else(String::new, |n| format!(" called {n}"));
            format!("start a timer{lasts}{name}")
        }
        Order::StartOffered => "start the timer of this step".into(),
        Order::TimeLeft { timer: t } => format!("how long is left on {}", timer(t)),
        Order::ReadyWhen { timer: t } => format!("when is {} due", timer(t)),
        Order::AddTime { by, timer: t } => format!("add {} to {}", say_ordered(*by), timer(t)),
        Order::TakeTime { by, timer: t } => format!("take {} off {}", say_ordered(*by), timer(t)),
        Order::PauseTimer { timer: t } => format!("pause {}", timer(t)),
        Order::ResumeTimer { timer: t } => format!("let {} run on", timer(t)),
        Order::RestartTimer { timer: t } => format!("start {} again", timer(t)),
        Order::AddCue {
            say,
            at,
            left,
            timer: t,
        } => match (at, left) {
            (Some(at), _) => format!("{say} after {} of {}", say_ordered(*at), timer(t)),
            (None, left) => {
                let left = left.map_or_else(String::new, say_ordered);
                format!("{say} with {left} left on {}", timer(t))
            }
        },
        Order::RenameTimer { timer: t, name } => format!("call {} {name}", timer(t)),
        Order::StopTimer { timer: t } => format!("stop {}", timer(t)),
        Order::TimeGone { timer: t } => format!("how long {} has been running", timer(t)),
        Order::Remind { text, after, at } => {
            let when = match (after, at) {
                (Some(after), _) => format!("in {}", say_ordered(*after)),
                (None, Some(at)) => format!("at {}", say_clock(*at)),
                (None, None) => "later".to_owned(),
            };
            format!("remind you {when}: {text}")
        }
        Order::StartWithCue {
            lasts,
            name,
            say,
            at,
            left,
        } => {
            let name = name
                .as_deref()
                .map_or_else(String::new, |n| format!(" called {n}"));
            let when = match (at, left) {
                (Some(at), _) => format!("after {}", say_ordered(*at)),
                (None, Some(left)) => format!("with {} left", say_ordered(*left)),
                (None, None) => "in it".to_owned(),
            };
            let lasts = say_ordered(*lasts);
            format!("start a timer for {lasts}{name}, and {when} {say}")
        }
        Order::StopAllTimers => "stop all timers".into(),
        Order::StopChime => "stop the chime".into(),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::TimeLeft { .. } | Order::ReadyWhen { .. } | Order::TimeGone { .. }
    )
}

/// What is lost of timers that run.
pub(super) fn loses(order: &Order) -> Option<Loss<'_>> {
    Some(match order {
        Order::StopTimer { timer } => Loss::Left(timer.as_ref()),
        Order::RestartTimer { timer } => Loss::Run(timer.as_ref()),
        Order::StopAllTimers => Loss::Timers,
        _ => return None,
    })
}

/// Names for timers, as they are offered.
const NAMES: &[&str] = &[
    "first rise",
    "second rise",
    "rest",
    "bake",
    "boil",
    "simmer",
    "soak",
    "chill",
    "cool",
    "grill",
];

/// What a cue can say, as it is offered.
const CUES: &[&str] = &[
    "turn the tin",
    "look",
    "stir it",
    "heat the oven",
    "take the lid off",
    "take it out",
    "fold the dough",
];

/// A timer without a name for so many minutes.
fn of_minutes(n: &str, _: &Situation) -> Press {
    Press::Order(Order::StartTimer {
        lasts: Some(minutes(n)),
        name: None,
    })
}

/// What is left on this timer.
fn left_on(n: &str, here: &Situation) -> Press {
    let at = n.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    match at.and_then(|at| here.timers.get(at)) {
        Some(timer) => Press::Order(Order::TimeLeft {
            timer: Some(TimerRef::Id(timer.id)),
        }),
        None => Press::Say(format!("There is no timer {n}.")),
    }
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.key(
        Key::Enter,
        Place::Alarm,
        "silences the alarm; any key does",
        |_, _| Press::Order(Order::StopChime),
    );
    k.show("Enter", Place::Alarm, "silence the alarm; any key does");
    star(k);
    k.stroke(
        Before::Number,
        Key::Enter,
        Place::HowLong,
        "a timer of {n} minutes",
        of_minutes,
    );
    k.show("1 2 Enter", Place::HowLong, "12 minutes");
    change_keys(k);
    k.list_of(". 5", "timers", "Timers.", timers);
    k.path(
        ". 5 1",
        "a new timer",
        vec![
            number("How many minutes?"),
            one_of("Called what?", |_| {
                let mut all = vec![("no name".to_owned(), Answer::Nothing)];
                all.extend(words(NAMES)?);
                Ok(all)
            }),
        ],
        |a, _| {
            Ok(Order::StartTimer {
                lasts: Some(a.minutes(0)),
                name: a.word(1).map(str::to_owned),
            })
        },
    );
    k.show(
        ". 5 1 1 2 Enter 5",
        Place::Step,
        "a new timer of 12 minutes called 'bake'",
    );
    k.item(". 5 2", "stop them all", "stop all timers", |_, _| {
        Ok(Order::StopAllTimers)
    });
    one_timer(k);
}

fn star(k: &mut Keys) {
    k.key(
        Key::Times,
        Place::Offered,
        "starts this step's timer",
        |_, _| Press::Order(Order::StartOffered),
    );
    k.show("*", Place::Offered, "this step's timer");
    k.key(
        Key::Times,
        Place::Timer,
        "tells what is left on the timers",
        |_, _| Press::Order(Order::TimeLeft { timer: None }),
    );
    k.show("*", Place::Timer, "how long is left");
    k.key(
        Key::Times,
        Place::Step,
        "a new timer; or the minutes first, then the star",
        |_, _| {
            Press::Order(Order::StartTimer {
                lasts: None,
                name: None,
            })
        },
    );
    k.show("*", Place::Step, "a new timer: it asks how long");
    k.stroke(
        Before::Nought,
        Key::Times,
        Place::Step,
        "tells what is left on the timers",
        |_, _| Press::Order(Order::TimeLeft { timer: None }),
    );
    k.show("0 *", Place::Step, "how long is left on each timer");
    k.stroke(
        Before::NoughtAndNumber,
        Key::Times,
        Place::Step,
        "tells what is left on timer number {n}",
        left_on,
    );
    k.show(
        "0 2 *",
        Place::TwoTimers,
        "how long is left on the second timer",
    );
    k.stroke(
        Before::Number,
        Key::Times,
        Place::Step,
        "a timer of {n} minutes",
        of_minutes,
    );
    k.show("1 2 *", Place::Step, "a timer of 12 minutes");
}

fn change_keys(k: &mut Keys) {
    k.stroke(
        Before::Number,
        Key::Plus,
        Place::TwoTimers,
        "{n} minutes more on the timer",
        |n, _| Press::Open("+", vec![Answer::Number(n.to_owned())]),
    );
    k.path(
        "+",
        "more time",
        vec![
            number("How many minutes more?"),
            one_of("More time for which?", timers),
        ],
        |a, _| {
            Ok(Order::AddTime {
                by: a.minutes(0),
                timer: a.timer(1),
            })
        },
    );
    k.show(
        "5 + 2",
        Place::TwoTimers,
        "5 minutes more for the second timer",
    );
    k.stroke(
        Before::Number,
        Key::Plus,
        Place::Step,
        "{n} minutes more on the timer",
        |n, _| {
            Press::Order(Order::AddTime {
                by: minutes(n),
                timer: None,
            })
        },
    );
    k.show("5 +", Place::Timer, "5 minutes more");
    k.stroke(
        Before::Number,
        Key::Minus,
        Place::TwoTimers,
        "{n} minutes less on the timer",
        |n, _| Press::Open("-", vec![Answer::Number(n.to_owned())]),
    );
    k.path(
        "-",
        "less time",
        vec![
            number("How many minutes less?"),
            one_of("Less time for which?", timers),
        ],
        |a, _| {
            Ok(Order::TakeTime {
                by: a.minutes(0),
                timer: a.timer(1),
            })
        },
    );
    k.show(
        "5 - Enter",
        Place::TwoTimers,
        "5 minutes less for the first timer",
    );
    k.stroke(
        Before::Number,
        Key::Minus,
        Place::Step,
        "{n} minutes less on the timer",
        |n, _| {
            Press::Order(Order::TakeTime {
                by: minutes(n),
                timer: None,
            })
        },
    );
    k.show("5 -", Place::Timer, "5 minutes less");
}

fn one_timer(k: &mut Keys) {
    k.list(". 5 #", "", "");
    k.path(". 5 # 1", "time left", vec![], |a, _| {
        Ok(Order::TimeLeft { timer: a.timer(0) })
    });
    k.show(
        ". 5 3 1",
        Place::Timer,
        "how long is left on the first timer",
    );
    k.path(
        ". 5 # 2",
        "more time",
        vec![number("How many minutes more?")],
        |a, _| {
            Ok(Order::AddTime {
                by: a.minutes(1),
                timer: a.timer(0),
            })
        },
    );
    k.show(
        ". 5 3 2 5 Enter",
        Place::Timer,
        "5 minutes more for the first timer",
    );
    k.path(
        ". 5 # 3",
        "less time",
        vec![number("How many minutes less?")],
        |a, _| {
            Ok(Order::TakeTime {
                by: a.minutes(1),
                timer: a.timer(0),
            })
        },
    );
    k.show(
        ". 5 3 3 5 Enter",
        Place::Timer,
        "5 minutes less for the first timer",
    );
    k.path(". 5 # 4", "when it is ready", vec![], |a, _| {
        Ok(Order::ReadyWhen { timer: a.timer(0) })
    });
    k.show(". 5 3 4", Place::Timer, "when the first timer is due");
    k.path(". 5 # 5", "hold it", vec![], |a, _| {
        Ok(Order::PauseTimer { timer: a.timer(0) })
    });
    k.show(". 5 3 5", Place::Timer, "hold the first timer");
    k.path(". 5 # 6", "let it run on", vec![], |a, _| {
        Ok(Order::ResumeTimer { timer: a.timer(0) })
    });
    k.show(". 5 3 6", Place::Timer, "let the first timer run on");
    k.path(". 5 # 7", "start it again", vec![], |a, _| {
        Ok(Order::RestartTimer { timer: a.timer(0) })
    });
    k.show(". 5 3 7", Place::Timer, "start the first timer again");
    k.path(". 5 # 8", "stop it", vec![], |a, _| {
        Ok(Order::StopTimer { timer: a.timer(0) })
    });
    k.show(". 5 3 8", Place::Timer, "stop the first timer");
    k.path(
        ". 5 # 9",
        "another name",
        vec![one_of("Called what?", |_| words(NAMES))],
        |a, _| {
            Ok(Order::RenameTimer {
                timer: a.timer(0),
                name: a.word(1).unwrap_or_default().to_owned(),
            })
        },
    );
    k.show(". 5 3 9 4", Place::Timer, "call the first timer 'bake'");
    k.path(
        ". 5 # 10",
        "a cue in it",
        vec![
            one_of("Counted from where?", |_| {
                pairs(&[("from its start", "start"), ("before its end", "end")])
            }),
            number("How many minutes?"),
            one_of("What shall I say?", |_| words(CUES)),
        ],
        |a, _| {
            let from_end = a.word(1) == Some("end");
            let span = a.minutes(2);
            Ok(Order::AddCue {
                say: a.word(3).unwrap_or_default().to_owned(),
                at: (!from_end).then_some(span),
                left: from_end.then_some(span),
                timer: a.timer(0),
            })
        },
    );
    k.show(
        ". 5 3 0 1 1 2 Enter 1",
        Place::Timer,
        "after 12 minutes of the first timer: turn the tin",
    );
    k.path(
        ". 5 # 11",
        "how long it has been running",
        vec![],
        |a, _| Ok(Order::TimeGone { timer: a.timer(0) }),
    );
    k.show(
        ". 5 3 - Enter",
        Place::Timer,
        "how long the first timer has been running",
    );
    k.list(". 4 9", "reminders", "Reminders.");
    k.path(
        ". 4 9 1",
        "in so many minutes",
        vec![
            number("In how many minutes?"),
            one_of("What shall I say?", |_| words(CUES)),
        ],
        |a, _| {
            Ok(Order::Remind {
                text: a.word(1).unwrap_or_default().to_owned(),
                after: Some(a.minutes(0)),
                at: None,
            })
        },
    );
    k.show(". 4 9 1 1 0 Enter 3", Place::Step, "in 10 minutes: stir it");
    k.path(
        ". 4 9 2",
        "a new timer with a cue in it",
        vec![
            number("How many minutes?"),
            one_of("Called what?", |_| words(NAMES)),
            number("After how many minutes shall I say something?"),
            one_of("What shall I say?", |_| words(CUES)),
        ],
        |a, _| {
            Ok(Order::StartWithCue {
                lasts: a.minutes(0),
                name: a.word(1).map(str::to_owned),
                say: a.word(3).unwrap_or_default().to_owned(),
                at: Some(a.minutes(2)),
                left: None,
            })
        },
    );
    k.show(
        ". 4 9 2 3 0 Enter 4 1 5 Enter 1",
        Place::Step,
        "a timer of 30 minutes called 'bake': turn the tin after 15",
    );
}
