//! Timers: start, how long is left, more and less time, hold, stop.

use crate::measure::spoken_time::say_duration;
use crate::order::Order;
use crate::time::Span;
use crate::understand::grammar::{Grammar, give};
use crate::understand::value::Value;

pub(super) fn lay(g: &mut Grammar) {
    start(g);
    ask(g);
    change(g);
    cue(g);
    hold(g);
    stop(g);
}

fn start(g: &mut Grammar) {
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
        ],
        |c, _| Some(Order::StartTimer { lasts: c.span("l"), name: c.text("n") }),
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

fn ask(g: &mut Grammar) {
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

fn change(g: &mut Grammar) {
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
fn cue(g: &mut Grammar) {
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

fn hold(g: &mut Grammar) {
    g.say(
        "pause_timer",
        &[
            "pause [<t:which_timer>|<a:a_timer>]",
            "hold (<t:which_timer>|<a:a_timer>)",
            "wait|hold on|hang on|=hold",
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

fn stop(g: &mut Grammar) {
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
