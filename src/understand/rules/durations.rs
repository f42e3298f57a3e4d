//! Lengths of time: `ninety seconds`, `an hour and a quarter`, `two and a half hours`, `one minute thirty`.

use crate::order::Situation;
use crate::order::book::{Book, way};
use crate::order::slots::{Caps, Value};
use crate::time::Span;

pub(super) fn lay(g: &mut Book) {
    g.lay(
        "minutes_sixty",
        vec![way(
            "<+:teen>|<+:tens> [<+:digit>]|<+:digits_minute>",
            |c, _| Some(Value::Num(c.sum("+"))),
        )],
    );
    g.lay(
        "duration",
        vec![
            way("<s:small_quantity> (seconds|second|=s|=sec|=secs)", span),
            way("<m:small_quantity> (minutes|minute|=m|=min|=mins)", span),
            way("<m:small_quantity> (minutes|minute|=min|=mins) and <m:kitchen_fraction>", span),
            way("!<m:small_quantity> (minutes|minute|=min|=mins) and <m:fraction>", span),
            way("<h:small_quantity> (hours|hour|=h|=hr|=hrs)", span),
            way("<h:small_quantity> (hours|hour|=hr|=hrs) and <h:kitchen_fraction>", span),
            way("!<h:small_quantity> (hours|hour|=hr|=hrs) and <h:fraction>", span),
            way("<m:small_quantity> (minutes|minute|=m|=min|=mins) [and] <s:rest_number> (seconds|second|=s|=sec|=secs)", span),
            way("<h:small_quantity> (hours|hour|=h|=hr|=hrs) [and] <m:rest_number> (minutes|minute|=m|=min|=mins)", span),
            way(
                "<h:small_quantity> (hours|hour|=h|=hr|=hrs) [and] <m:rest_number> (minutes|minute|=m|=min|=mins) \
                 [and] <s:rest_number> (seconds|second|=s|=sec|=secs)",
                span,
            ),
            way("<h:small_quantity> (hours|hour|=h|=hr|=hrs) [and] <s:rest_number> (seconds|second|=s|=sec|=secs)", span),
            way("~<h:small_quantity> (hours|hour|=h) <m:minutes_sixty>", span),
            way("~<m:small_quantity> (minutes|minute|=m) <s:minutes_sixty>", span),
            way("<d:small_quantity> (days|day)", span),
        ],
    );
    more(g);
}

/// `five more minutes`, `another ten minutes`, `ten minutes more`.
fn more(g: &mut Book) {
    g.lay(
        "more_time",
        vec![
            way(
                "<s:small_quantity> more (seconds|second|=s|=sec|=secs)",
                span,
            ),
            way("<m:small_quantity> more (minutes|minute|=min|=mins)", span),
            way("<h:small_quantity> more (hours|hour|=hr|=hrs)", span),
            way("another <d:duration>", |c, _| c.get("d").cloned()),
            way("<d:duration> more", |c, _| c.get("d").cloned()),
        ],
    );
}

/// The sum of what was said in days, hours, minutes and seconds.
#[allow(clippy::unnecessary_wraps)]
fn span(c: &Caps, _: &Situation) -> Option<Value> {
    let seconds = c.sum("d") * 86_400.0 + c.sum("h") * 3600.0 + c.sum("m") * 60.0 + c.sum("s");
    Some(Value::Span(Span::millis((seconds * 1000.0).round() as u64)))
}
