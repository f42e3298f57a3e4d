//! What a learned reading must not get the wrong way round: longer and shorter, in and not in, start and stop.

use std::collections::BTreeSet;

use super::input::Features;
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
    (
        &[
            "not", "never", "keep", "leave", "resume", "continue", "carry", "unpause",
        ],
        &["stop_timer", "stop_all_timers", "pause_timer"],
    ),
    (
        &["pause", "hold", "freeze"],
        &["resume_timer", "start_timer", "start_offered"],
    ),
    (
        &["maybe", "perhaps", "hardly", "almost", "nearly"],
        &["yes", "done", "mark_step", "oven_hot"],
    ),
    (&["off", "cold", "yet"], &["oven_lit", "oven_hot"]),
    (&["less", "shorter", "fewer"], &["fuller"]),
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
    (
        "stop_listening",
        &[
            "stop", "not", "off", "no", "shut", "close", "mute", "sleep", "asleep", "ignore",
            "pause", "cover", "block", "plug", "break", "deaf", "quit", "nap", "away", "never",
            "private", "privacy", "leave", "down",
        ],
    ),
];

/// Words of somebody who puts something right.
const CORRECTING: &[&str] = &[
    "no",
    "not",
    "nope",
    "nah",
    "nae",
    "sorry",
    "meant",
    "mean",
    "said",
    "wrong",
    "instead",
    "misheard",
    "oops",
    "actually",
    "undo",
    "rather",
    "scrub",
    "cancel",
    "mistake",
    "never",
    "pardon",
    "false",
    "wanted",
    "hear",
    "back",
    "forget",
    "scratch",
    "correction",
];
/// Words of somebody who wants more or less of what is there.
const CHANGING: &[&str] = &[
    "longer", "more", "another", "extra", "add", "shorter", "less", "sooner", "further",
];

/// The frame puts right what was done, and the words only change it: `make it five minutes longer`.
pub(super) fn is_out(frame: &str, words: &[String]) -> bool {
    let said = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    frame.starts_with("undo+")
        && (!said(CORRECTING) || said(CHANGING) && !said(&["meant", "mean", "said", "undo"]))
}

/// The orders say something that the words speak against.
pub(super) fn is_doubtful(orders: &[Printed], input: &Features) -> bool {
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
    is_one_of_several(orders, words)
        || is_to_go_on(orders, words)
        || is_a_question(orders, words)
        || orders.iter().any(|o| {
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

/// 'Do not stop listening' wants what is to go on.
fn is_to_go_on(orders: &[Printed], words: &[String]) -> bool {
    let ends = |o: &Printed| ["stop_listening", "stop_talking"].contains(&o.intent.as_str());
    let denied = |pair: &[String]| {
        matches!(
            (pair[0].as_str(), pair[1].as_str()),
            ("not" | "never", "stop" | "quit" | "end") | ("keep", "listening" | "talking")
        )
    };
    orders.iter().any(ends) && words.windows(2).any(denied)
}

/// 'Salt in, is it' asks, and tells nothing.
fn is_a_question(orders: &[Printed], words: &[String]) -> bool {
    let asks = |pair: &[String]| {
        let (a, b) = (pair[0].as_str(), pair[1].as_str());
        matches!(
            (a, b),
            ("is", "it") | ("is" | "are" | "did" | "have", "i" | "they")
        )
    };
    let first = words
        .first()
        .is_some_and(|w| ["is", "did", "are", "has"].contains(&w.as_str()));
    orders.iter().any(|o| o.intent == "mark_added") && (first || words.windows(2).any(asks))
}

/// 'Both', 'how much of each' and two 'how much' speak of more than the one thing that was understood.
fn is_one_of_several(orders: &[Printed], words: &[String]) -> bool {
    let [only] = orders else { return false };
    let said = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    match only.intent.as_str() {
        "mark_added" => {
            let three = |w: &[String]| {
                ["all", "those", "these"].contains(&w[0].as_str()) && w[1] == "three"
            };
            said(&["both"]) || words.windows(2).any(three)
        }
        "how_much" => {
            let asks = words
                .windows(2)
                .filter(|w| w[0] == "how" && ["much", "many"].contains(&w[1].as_str()));
            asks.count() > 1 || said(&["each", "both"]) && only.text("unit").is_none()
        }
        _ => false,
    }
}
