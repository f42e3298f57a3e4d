//! What a sentence is about, where that rules a reading out: a question is no deed, a doubt tells nothing as done, and
//! words of a matter of their own are not passed over for a guess.

/// Words before a question that are no part of it.
const BEFORE: &[&str] = &[
    "so", "and", "but", "well", "ok", "okay", "right", "hey", "please", "sorry", "um", "oh", "now",
    "then", "ah", "wait", "just", "listen", "chef", "love", "hello",
];
/// A question begins with one of these before who or what it is about: `is the oven on`. Without that it is a statement of
/// somebody who learns the language: `is in the oven now`.
const TURNED: &[&str] = &[
    "is", "are", "am", "was", "were", "did", "does", "do", "has", "have", "had", "should", "will",
    "would", "must", "shall", "can", "could", "may", "might",
];
/// Who or what a question is about.
const ABOUT: &[&str] = &[
    "the",
    "it",
    "this",
    "that",
    "they",
    "these",
    "those",
    "there",
    "i",
    "we",
    "my",
    "our",
    "everything",
    "anything",
    "something",
    "somebody",
    "anybody",
    "all",
    "any",
    "some",
    "she",
    "he",
    "your",
];
/// After `can i` and `could we` these ask whether it is allowed; anything else asks for a deed: `can i have ten minutes`.
const ALLOWED: &[&str] = &[
    "use",
    "freeze",
    "refreeze",
    "eat",
    "leave",
    "keep",
    "reheat",
    "put",
    "make",
    "cook",
    "bake",
    "serve",
    "swap",
    "replace",
    "give",
    "feed",
    "store",
    "open",
    "substitute",
    "let",
    "still",
    "wash",
    "boil",
    "fry",
    "grill",
    "steam",
    "warm",
    "prepare",
    "add",
    "take",
    "skip",
    "thaw",
    "defrost",
    "cut",
    "roll",
    "do",
    "trust",
    "touch",
    "taste",
    "drink",
    "throw",
    "save",
    "try",
];
/// Words that ask, at the beginning.
const ASKING: &[&str] = &["what", "which", "who", "whose", "why"];
/// `how long`, `when do i`: with one of these behind it.
const HOW: &[&str] = &[
    "long", "much", "many", "hot", "warm", "cold", "far", "big", "old", "thick", "thin", "heavy",
    "high", "deep", "often", "do", "does", "is", "are", "can", "could", "should", "will", "would",
    "soon", "well", "dark", "small", "wide", "did",
];
const WHEN: &[&str] = &[
    "is", "are", "do", "does", "did", "will", "would", "should", "can", "could", "must", "shall",
    "am",
];

/// Pairs by which a later part of a sentence asks: `it is cool in here, will it take longer`.
const INNER: &[(&str, &[&str])] = &[
    ("will", &["it", "they", "this", "i", "we"]),
    ("does", &["it", "this", "that"]),
    ("should", &["i", "we", "it"]),
    ("is", &["it", "this"]),
    ("did", &["i", "we"]),
    ("have", &["i", "we"]),
];

/// Pairs of words by which somebody is not sure of what follows.
const UNSURE: &[(&str, &str)] = &[
    ("remember", "if"),
    ("remember", "whether"),
    ("remember", "putting"),
    ("remember", "adding"),
    ("recall", "if"),
    ("recall", "whether"),
    ("know", "if"),
    ("know", "whether"),
    ("sure", "if"),
    ("sure", "whether"),
    ("sure", "that"),
    ("not", "sure"),
    ("not", "remember"),
    ("not", "recall"),
    ("never", "sure"),
    ("forget", "if"),
    ("forget", "whether"),
    ("forgot", "if"),
    ("forgotten", "if"),
    ("forgot", "whether"),
    ("forgotten", "whether"),
    ("wonder", "if"),
    ("wonder", "whether"),
    ("wondering", "if"),
    ("wondering", "whether"),
    ("tell", "if"),
    ("tell", "whether"),
    ("idea", "if"),
    ("idea", "whether"),
    ("see", "if"),
    ("check", "if"),
    ("check", "whether"),
];

/// Words, and the frames that are about them. A reading by any other frame would pass over what was said. `..` stands for
/// any words between.
type Matter = (&'static [&'static str], &'static [&'static str]);

const MATTERS: &[Matter] = &[
    // Danger: help, or nothing.
    (
        &[
            "on fire",
            "caught fire",
            "catch fire",
            "catching fire",
            "flames",
            "smoke",
            "smoking",
            "choking",
            "choke",
            "choked",
            "bleeding",
            "fainted",
            "unconscious",
            "not breathe",
            "not breathing",
            "hives",
            "oil .. burning",
            "fat .. burning",
            "pan .. burning",
            "burning oil",
            "burning fat",
            "smell gas",
            "smells of gas",
            "gas leak",
            "electric shock",
            "explode",
            "exploded",
            "boiling over",
            "boils over",
            "boiled over",
        ],
        &["burn_help", "pause_timer", "time_gone"],
    ),
    // Keeping.
    (
        &[
            "freeze",
            "freezer",
            "freezing",
            "frozen",
            "thaw",
            "thawed",
            "thawing",
            "defrost",
            "defrosted",
            "refreeze",
            "reheat",
            "reheated",
            "reheating",
            "leftover",
            "leftovers",
            "overnight",
            "all night",
            "last night",
            "since yesterday",
            "since this morning",
            "left out",
            "has been out",
            "have been out all",
            "sell by",
            "use by",
            "best before",
            "mouldy",
            "moldy",
            "smells funny",
            "smells off",
            "smells bad",
            "long .. keep",
            "long .. keeps",
            "long .. last",
        ],
        &[
            "ask.",
            "pause_timer",
            "have_added",
            "left_to_add",
            "how_much",
            "remind",
            "add_cue",
            "start_timer",
            "needs_longer",
            "add_time",
            "goodbye",
        ],
    ),
    // Allergies and illness.
    (
        &[
            "allergic",
            "allergy",
            "allergies",
            "coeliac",
            "celiac",
            "poisoned",
            "poisoning",
            "vomiting",
        ],
        &["contains", "allergens", "ask."],
    ),
];

/// Frames that tell or repeat something and change nothing.
const TELLS: &[&str] = &[
    "allergens",
    "am_i_late",
    "ask.",
    "ask_tin",
    "burn_help",
    "contains",
    "explain_chimes",
    "have_added",
    "help",
    "how_long_in_all",
    "how_much",
    "how_to_tell",
    "hydration",
    "left_to_add",
    "next_on_clock",
    "oven_heat",
    "read_ingredients",
    "read_step",
    "ready_when",
    "repeat",
    "spell",
    "step_names",
    "steps_left",
    "talk",
    "tell_step",
    "tell_time",
    "time_gone",
    "time_left",
    "todays_size",
    "troubles",
    "weigh_next",
    "what_heard",
    "what_is_in",
    "what_next",
    "when_light_oven",
    "when_start",
    "where_am_i",
    "wish",
];

/// Frames by which something is told as so.
const FACTS: &[&str] = &[
    "mark_added",
    "mark_step",
    "unmark_added",
    "put_in",
    "done",
    "yes",
    "no",
    "not_yet",
    "oven_lit",
    "oven_hot",
    "next",
];

/// Words without which nothing is stopped so that something else begins.
const ENDING: &[&str] = &[
    "stop", "cancel", "kill", "end", "drop", "delete", "bin", "scrap", "off", "instead", "not",
    "no", "forget", "ditch", "finish", "finished", "done", "over", "remove", "clear", "lose",
    "dump", "enough", "chuck", "axe", "abandon", "quit", "shut", "rid", "wipe", "abort", "away",
    "replace", "change", "swap", "never", "scrub", "ended", "out", "comot", "go", "through",
    "kick", "toss", "trash", "silence", "switch", "turn", "down", "leave", "throw", "scratch",
    "knock",
];

/// The words do not let the sentence mean what this frame is.
pub(super) fn rules_out(frame: &str, words: &[String]) -> bool {
    let heads = || frame.split('+');
    if frame == "talk" || frame == "wish" {
        return false;
    }
    if frame == "stop_timer+start_timer" && !words.iter().any(|w| ENDING.contains(&w.as_str())) {
        return true;
    }
    let about = |list: &[&str]| heads().any(|h| list.iter().any(|a| is_of(h, a)));
    let passed = |(said, frames): &Matter| said.iter().any(|s| is_said(s, words)) && !about(frames);
    if MATTERS.iter().any(passed) {
        return true;
    }
    if is_unsure(words) && heads().any(|h| FACTS.iter().any(|f| is_of(h, f))) {
        return true;
    }
    let tells = heads().any(|h| TELLS.iter().any(|t| is_of(h, t)));
    is_question(words) && !tells && frame != "next" && !frame.starts_with("next+")
}

/// The head is the frame's, its constants and `*` aside; a name that ends with a stop is the beginning of many.
fn is_of(head: &str, name: &str) -> bool {
    if name.ends_with('.') {
        return head.starts_with(name);
    }
    head.split([';', '*', '.']).next() == Some(name)
}

/// The words of a phrase are said one after the other, or with others between at `..`.
fn is_said(phrase: &str, words: &[String]) -> bool {
    let mut from = 0;
    phrase.split(" .. ").all(|part| {
        let part: Vec<&str> = part.split(' ').collect();
        let found = words[from..].windows(part.len()).position(|w| w == part);
        from += found.map_or(0, |at| at + part.len());
        found.is_some()
    })
}

/// Somebody is not sure whether it is so.
pub(super) fn is_unsure(words: &[String]) -> bool {
    let pair = |two: &[String]| UNSURE.contains(&(two[0].as_str(), two[1].as_str()));
    words.windows(2).any(pair)
}

/// The sentence asks, and orders nothing.
pub(super) fn is_question(words: &[String]) -> bool {
    let asks = |pair: &[String]| {
        let mut inner = INNER.iter();
        inner.any(|(a, b)| pair[0] == *a && b.contains(&pair[1].as_str()))
    };
    if words.len() > 3 && words[1..].windows(2).any(asks) {
        return true;
    }
    let mut words = words.iter().map(String::as_str).peekable();
    while words.next_if(|w| BEFORE.contains(w)).is_some() {}
    let Some(first) = words.next() else {
        return false;
    };
    let (second, third) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    match first {
        "what" => !matches!(second, "about" | "if" | "" | "say"),
        "why" => !(matches!(second, "do" | "not") && third != "the"),
        "how" => HOW.contains(&second),
        "when" | "where" => WHEN.contains(&second),
        "can" | "could" | "may" if matches!(second, "i" | "we" | "they") => {
            ALLOWED.contains(&third)
        }
        // 'Can you', 'would you' order; 'do the onions' does.
        "do" => matches!(second, "i" | "we" | "they" | "you") && third != "it",
        _ if ASKING.contains(&first) => true,
        _ if TURNED.contains(&first) => ABOUT.contains(&second),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::understand::name_words;

    #[test]
    fn a_question_is_no_deed() {
        for asks in [
            "is the heat on yet",
            "did i switch the gas on",
            "should we start the oven now",
            "how long do they need in the tin",
            "can i use cod from the shop",
            "well are they done",
            "why is the timer still going",
            "the kitchen is at fourteen degrees will it be slower",
        ] {
            assert!(is_question(&name_words(asks)), "{asks}");
            for deed in [
                "start_offered",
                "oven_lit",
                "mark_added",
                "stop_timer",
                "yes",
            ] {
                assert!(rules_out(deed, &name_words(asks)), "{asks}: {deed}");
            }
            assert!(!rules_out("time_left", &name_words(asks)), "{asks}");
        }
        for wants in [
            "can i have eight minutes for the rice",
            "could you start the bake",
            "is in the oven now",
            "how about double",
            "when the rice is up tell me to stir",
            "do the onions for ten",
            "would you stop the timer",
            "has doubled",
        ] {
            assert!(!is_question(&name_words(wants)), "{wants}");
        }
    }

    #[test]
    fn a_doubt_tells_nothing_as_done() {
        for said in [
            "i do not know if the sugar went in",
            "not sure i put the yeast in",
            "i forget whether the oven is on",
        ] {
            assert!(rules_out("mark_added", &name_words(said)), "{said}");
            assert!(rules_out("oven_lit", &name_words(said)), "{said}");
            assert!(!rules_out("have_added", &name_words(said)), "{said}");
        }
    }

    #[test]
    fn words_of_another_matter_are_not_passed_over() {
        for (said, not) in [
            ("the tea towel is on fire", "oven_lit"),
            ("the fat is burning in here", "start_offered"),
            ("there is smoke everywhere", "stop_timer"),
            ("the mince was frozen", "unmark_added"),
            ("the ham was left out on the side", "unmark_added"),
            ("does the rest freeze well", "repeat;slowly=false"),
            ("my sister is allergic to that", "ask_tin"),
        ] {
            assert!(rules_out(not, &name_words(said)), "{said}");
        }
        assert!(!rules_out(
            "ask.keep;how=out",
            &name_words("it was left out")
        ));
        assert!(rules_out(
            "stop_timer+start_timer",
            &name_words("and one for the beans of ten minutes")
        ));
        assert!(!rules_out(
            "stop_timer+start_timer",
            &name_words("forget the rice and ten minutes for the beans")
        ));
    }
}
