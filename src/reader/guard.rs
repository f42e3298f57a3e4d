//! What a learned reading must not get the wrong way round: longer and shorter, in and not in, start and stop.

use std::collections::BTreeSet;

use super::input::Input;
use super::situation::Printed;
use crate::understand::{FoundKind, FoundValue};

/// Words that point one way, and orders that they speak against.
const AGAINST: &[(&[&str], &[&str])] = &[
    (
        &[
            "less", "shorter", "sooner", "earlier", "quicker", "reduce", "knock", "cut", "minus",
            "fewer", "shorten", "shave",
        ],
        &["add_time", "needs_longer", "louder", "fuller"],
    ),
    (
        &[
            "more", "longer", "another", "extra", "add", "later", "extend", "lengthen", "further",
        ],
        &["take_time", "briefer", "stop_timer", "quieter"],
    ),
    (
        &["not", "never", "forgot", "forgotten", "without", "nor"],
        &[
            "mark_added",
            "mark_step",
            "done",
            "put_in",
            "yes",
            "oven_lit",
            "oven_hot",
            "next",
        ],
    ),
    (
        &[
            "stop", "cancel", "kill", "end", "drop", "delete", "bin", "scrap",
        ],
        &["start_timer", "start_offered", "resume_timer", "add_time"],
    ),
    (
        &["start", "set", "begin", "resume", "restart"],
        &["stop_timer", "stop_all_timers", "pause_timer"],
    ),
    (&["quieter", "softer", "down", "quiet", "hush"], &["louder"]),
    (&["louder", "up"], &["quieter"]),
    (&["faster", "quicker"], &["slower"]),
    (&["slower", "slowly", "slow"], &["faster"]),
    (&["back", "previous", "before"], &["next"]),
    (&["yes", "yeah", "aye", "yep"], &["no", "not_yet"]),
    (&["no", "nope", "nah", "yet"], &["yes"]),
];

/// Orders that need one of these words to be believed without a question.
const NEEDS: &[(&str, &[&str])] = &[
    (
        "take_time",
        &[
            "less", "shorter", "sooner", "earlier", "quicker", "reduce", "knock", "cut", "minus",
            "fewer", "shorten", "off", "take", "early", "back", "shave", "down", "drop", "lose",
        ],
    ),
    (
        "unmark_added",
        &[
            "not",
            "never",
            "forgot",
            "forgotten",
            "out",
            "untick",
            "off",
            "back",
            "wrong",
            "mistake",
            "still",
            "no",
            "lie",
            "remove",
            "uncheck",
            "without",
            "unmark",
            "undo",
            "missed",
            "yet",
            "outside",
        ],
    ),
];

/// The orders say something that the words speak against.
pub(super) fn is_doubtful(orders: &[Printed], input: &Input) -> bool {
    let words = &input.words;
    let said = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    // In two orders of one breath each has words of its own.
    let alone = orders.iter().filter(|o| o.intent != "undo").count() == 1;
    // Two things were named, and only one of them has a place: which is to stand in for which?
    let things: BTreeSet<&str> = input
        .found
        .iter()
        .filter(|f| f.kind == FoundKind::Stuff)
        .filter_map(|f| {
            if let FoundValue::Text(t) = &f.value {
                Some(t.as_str())
            } else {
                None
            }
        })
        .collect();
    let half_a_swap = |o: &Printed| {
        o.text("question") == Some("swap") && o.text("with").is_none() && things.len() > 1
    };
    orders.iter().any(|o| {
        let name = o.intent.as_str();
        let against = alone
            && AGAINST
                .iter()
                .any(|(list, orders)| orders.contains(&name) && said(list));
        against
            || half_a_swap(o)
            || NEEDS
                .iter()
                .any(|(order, list)| *order == name && !said(list))
    })
}
