//! The clock and the plan: when to eat, when to start, what is next, and rises that need longer.

use crate::order::Order;
use crate::understand::grammar::{Build, Grammar};

pub(super) fn lay(g: &mut Grammar) {
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
            ("[the|my] (rise|first rise|second rise|final rise|prove|dough|bread|loaf|sponge|starter|=proof)", Build::Const(crate::understand::value::Value::Flag)),
            ("it|this", Build::Const(crate::understand::value::Value::Flag)),
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
