//! One step: its timers, heats, looks and cues, and what goes in.

use crate::time::Span;

use super::line::{self, Item, one};
use super::words::{Lasts, Word, length, many_days, words};

/// What a step says.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Step {
    pub(super) part: Option<String>,
    pub(super) title: String,
    pub(super) text: String,
    /// Ingredients, and the part of each: 1 for all of it.
    pub(super) uses: Vec<(usize, f64)>,
    pub(super) timers: Vec<Timer>,
    pub(super) look: Option<String>,
    /// The oven in Celsius, where the step names it.
    pub(super) oven_c: Option<f64>,
    /// Something is in the oven.
    pub(super) in_oven: bool,
    pub(super) hands_on: Option<Span>,
    pub(super) unsure: Vec<String>,
}

/// A timer of a step.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Timer {
    pub(super) name: String,
    pub(super) lasts: Lasts,
    pub(super) look: Option<String>,
    pub(super) cues: Vec<(Span, String)>,
    pub(super) alongside: bool,
    pub(super) cold: bool,
}

/// What cooks do for a time: the word, and the name of its timer. `true` where the hands are busy all the while.
#[rustfmt::skip]
const DOES: [(&str, &str, bool); 65] = [
    ("bake", "bake", false), ("roast", "roast", false), ("simmer", "simmer", false), ("boil", "boil", false),
    ("poach", "poach", false), ("fry", "fry", true), ("saute", "fry", true), ("sauté", "fry", true),
    ("sweat", "sweat", false), ("soften", "soften", false), ("brown", "brown", true), ("sear", "sear", true),
    ("grill", "grill", false), ("broil", "grill", false), ("toast", "toast", true), ("steam", "steam", false),
    ("braise", "braise", false), ("stew", "stew", false), ("cook", "cook", false),
    ("microwave", "microwave", false), ("chill", "chill", false), ("refrigerate", "chill", false),
    ("fridge", "chill", false), ("freeze", "freeze", false), ("freezer", "freeze", false),
    ("cool", "cooling", false), ("rest", "rest", false), ("stand", "stand", false), ("sit", "stand", false),
    ("rise", "rise", false), ("prove", "prove", false), ("proof", "prove", false), ("ferment", "ferment", false),
    ("bulk", "bulk", false), ("marinate", "marinade", false), ("marinade", "marinade", false),
    ("soak", "soak", false), ("steep", "steep", false), ("infuse", "infuse", false), ("brew", "brew", false),
    ("drain", "drain", false), ("dry", "dry", false), ("set", "set", false), ("reduce", "reduce", false),
    ("knead", "kneading", true), ("mix", "mixing", true), ("beat", "beating", true), ("whisk", "whisking", true),
    ("whip", "whipping", true), ("cream", "creaming", true), ("stir", "stirring", true),
    ("blend", "blending", true), ("process", "blending", true), ("pulse", "blending", true),
    ("blanch", "blanch", false), ("caramelise", "caramelise", false), ("caramelize", "caramelise", false),
    ("leave", "wait", false), ("aside", "wait", false), ("retard", "cold proof", false), ("scald", "scald", false), ("sear", "sear", true),
    ("stew", "stew", false), ("warm", "warm", false), ("bubble", "simmer", false),
];

/// More words that begin an instruction.
#[rustfmt::skip]
const VERBS: [&str; 174] = [
    "add", "put", "place", "pour", "take", "turn", "heat", "preheat", "pre-heat", "warm", "melt", "combine", "fold",
    "sift", "sieve", "rub", "roll", "cut", "chop", "slice", "dice", "peel", "grate", "line", "grease", "butter",
    "oil", "dust", "sprinkle", "season", "serve", "remove", "transfer", "divide", "shape", "spread", "spoon",
    "cover", "bring", "lower", "strain", "wash", "rinse", "mash", "taste", "scatter", "top", "arrange", "brush",
    "tip", "scrape", "make", "prepare", "drizzle", "garnish", "in", "when", "meanwhile", "once", "while", "light",
    "work", "allow", "let", "toss", "dissolve",
    "get", "give", "lift", "shake", "lay", "send", "flip", "pile", "dress", "tear", "dollop", "deglaze", "colour",
    "color", "whizz", "whiz", "blitz", "chuck", "bung", "sling", "pop", "smash", "wilt", "discard", "skim", "crack",
    "fill", "form", "knock", "plunge", "press", "push", "reserve", "return", "scald", "seal", "separate", "snip",
    "squeeze", "stuff", "swirl", "thin", "trim", "unmould", "unmold", "wipe", "wrap", "assemble", "check",
    "continue", "finish", "gently", "carefully", "slowly", "using", "after", "before", "then", "next", "now",
    "finally", "first", "lastly", "pack", "sterilise", "sterilize", "ladle", "pull", "share", "sandwich", "autolyse",
    "if", "start", "begin", "keep", "hold", "mince", "wet", "with", "prick", "score", "splutter", "dot", "core",
    "beat", "mix", "stone", "shred", "flake", "flatten", "stretch", "punch", "preshape", "proceed", "pat", "rub",
    "temper", "purée", "puree", "liquidise", "break", "gather", "bash", "thread", "open", "test", "distribute",
    "as",
];

/// Words of doing that are things as well: they begin an instruction where one of these follows.
#[rustfmt::skip]
const THINGS: [&str; 32] = [
    "butter", "oil", "cream", "salt", "pepper", "brown", "dry", "top", "flour", "zest", "juice", "sugar", "rest",
    "fish", "toast", "stew", "ice", "set", "mash", "drop", "bulk", "score", "skin", "crumble", "crush", "grill",
    "process", "pulse", "steam", "light", "oven", "milk",
];
#[rustfmt::skip]
const FOLLOWS: [&str; 21] = [
    "the", "a", "an", "it", "them", "your", "both", "two", "each", "until", "till", "over", "on", "in", "at", "well",
    "off", "out", "to", "until", "together",
];

/// These words begin an instruction.
pub(super) fn begins(first: &str, second: &str) -> bool {
    if THINGS.contains(&first) {
        return FOLLOWS.contains(&second) && !(second == "to" && first != "oven");
    }
    VERBS.contains(&first) || DOES.iter().any(|(does, ..)| *does == first)
}

/// A sentence begins with what a cook does.
pub(super) fn any_work(found: &super::draft::Found) -> bool {
    found.steps.iter().any(|entry| {
        entry.text.split(['.', '!', ';', ',']).any(|sentence| {
            let mut words = sentence.split_whitespace().map(str::to_lowercase);
            let (first, second) = (
                words.next().unwrap_or_default(),
                words.next().unwrap_or_default(),
            );
            begins(&first, &second)
        })
    })
}

/// The word is one that cooks do for a time.
pub(super) fn does(word: &str) -> bool {
    DOES.iter().any(|(does, ..)| *does == word)
}

/// `baking`, `baked`, `bakes` are `bake`.
fn stem(word: &str) -> String {
    let known = |w: &str| DOES.iter().any(|(does, ..)| *does == w);
    if known(word) {
        return word.to_owned();
    }
    for end in ["ing", "ed", "es", "s", "d"] {
        if let Some(stem) = word.strip_suffix(end) {
            let with_e = format!("{stem}e");
            // 'Chopping' is from 'chop', but 'chillies' are nothing from 'chill'.
            let doubled = stem.len() > 2
                && stem.as_bytes()[stem.len() - 1] == stem.as_bytes()[stem.len() - 2];
            let short = if doubled {
                stem.get(..stem.len() - 1).unwrap_or(stem)
            } else {
                stem
            };
            let with_y = stem.strip_suffix('i').map(|s| format!("{s}y"));
            for form in [
                stem,
                with_e.as_str(),
                short,
                with_y.as_deref().unwrap_or(""),
            ] {
                if known(form) {
                    return form.to_owned();
                }
            }
        }
    }
    word.to_owned()
}

/// The ends of the sentence around a place.
fn sentence(all: &[Word], at: usize, text: &str) -> (usize, usize) {
    let ends = |i: usize| {
        all[i].is(&["!", "?", ";"]) && !text.is_empty()
            || all[i].is(&["."])
                && all.get(i + 1).is_none_or(|next| {
                    next.text
                        .starts_with(|c: char| c.is_uppercase() || c.is_numeric())
                        && next.start > all[i].end
                })
    };
    let from = (0..at).rev().find(|i| ends(*i)).map_or(0, |i| i + 1);
    let to = (at..all.len()).find(|i| ends(*i)).unwrap_or(all.len());
    (from, to)
}

/// A step whose text stands as it is.
pub(super) fn unread(text: &str) -> Step {
    Step {
        title: title(text),
        text: text.split_whitespace().collect::<Vec<_>>().join(" "),
        ..Step::default()
    }
}

/// Reads a step that begins where the oven is turned to another heat.
pub(super) fn read_turned(text: &str) -> Step {
    let mut step = read(text);
    if step.oven_c.is_none() {
        let all = words(text);
        let heat = (0..all.len()).find_map(|at| heat_at(&all, at));
        step.oven_c = heat.map(|(c, fan, _)| if fan { c + 20.0 } else { c });
    }
    for timer in step.timers.iter_mut().filter(|t| t.name == "wait") {
        "bake".clone_into(&mut timer.name);
    }
    step.in_oven |= step.oven_c.is_some() && !step.timers.is_empty();
    step
}

/// Reads the times, heats, looks and cues of a step's text.
pub(super) fn read(text: &str) -> Step {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut all = words(&text);
    // A Dutch oven is a pot.
    for at in 1..all.len() {
        if all[at].is(&["oven", "ovens"]) && all[at - 1].is(&["dutch"]) {
            "pot".clone_into(&mut all[at].lower);
        }
    }
    let mut step = Step {
        title: title(&text),
        text: text.clone(),
        ..Step::default()
    };
    let mut at = 0;
    let mut cues: Vec<(Cue, usize, String)> = Vec::new();
    let mut last_at: Option<usize> = None;
    while at < all.len() {
        let Some((lasts, end)) = length(&all, at) else {
            // A wait of many days is none of a timer's.
            if let Some(end) = many_days(&all, at) {
                let from = sentence(&all, at, &text).0;
                if !mentions(
                    &all[from..at],
                    &["keep", "keeps", "store", "stored", "best"],
                ) {
                    step.unsure.push(format!(
                        "`{}` is longer than a timer lasts: it stands in the words alone.",
                        &text[all[at].start..all[end - 1].end]
                    ));
                }
                at = end;
                continue;
            }
            at += 1;
            continue;
        };
        // 'Once a day' tells how often.
        if at > 0 && all[at - 1].is(&["once", "twice", "times"]) {
            at = end;
            continue;
        }
        // More than these are no recipe's.
        if step.timers.len() + cues.len() >= MOST_TIMES {
            break;
        }
        let (from, to) = sentence(&all, at, &text);
        let word = |i: Option<usize>| i.and_then(|i| all.get(i)).map_or("", |w| w.lower.as_str());
        let (b1, b2) = (word(at.checked_sub(1)), word(at.checked_sub(2)));
        let next = word(Some(end));
        let overnight = all[at].is(&["overnight"]);
        let per = by_weight(&all, end);
        let waits = mentions(&all[from..at], &WAITS);
        let warming = mentions(&all[from..at], &["fridge", "refrigerator", "freezer"])
            && mentions(&all[from..at], &["out", "from"])
            || mentions(&all[from..at], &["take", "bring", "get", "remove", "lift"])
                && mentions(&all[from..at], &["out"])
                && next == "before"
                && lasts.from >= Span::minutes(15)
                && !mentions(&all[..at], &["oven", "bake", "roast"]);
        // 'Bake 20 minutes in advance', 'fry 5 minutes before adding'
        let done_first = matches!(
            stem(b1).as_str(),
            "bake" | "boil" | "fry" | "simmer" | "roast" | "cook"
        ) && lasts.from <= Span::minutes(180)
            && !mentions(
                &all[end..(end + 6).min(to).max(end)],
                &[
                    "serving", "serve", "eating", "dinner", "supper", "guests", "you",
                ],
            );
        let before_serving = b1 != "for"
            && !done_first
            && !waits
            && !warming
            && (matches!(next, "before" | "ahead" | "earlier" | "beforehand" | "old")
                || next == "in" && word(Some(end + 1)) == "advance");
        let keeps = b1 == "to"
            && b2 == "up"
            && mentions(
                &all[from..to],
                &["keep", "keeps", "store", "stored", "keeping"],
            )
            || all[at.saturating_sub(4).max(from)..at].iter().any(|w| {
                w.is(&["keeps", "stored"])
                    || w.is(&["keep", "store", "keeping"]) && lasts.from >= Span::minutes(1440)
            });
        let over = b1 == "plus" && step.unsure.iter().any(|t| t.contains("goes by weight"));
        let within = matches!(b1, "within" | "than" | "under") || over;
        if per || before_serving || keeps || within {
            if per {
                step.unsure.push(format!(
                    "The time `{}` goes by weight: which is it today?",
                    &text[all[at].start..all[end - 1].end]
                ));
            }
            at = end;
            continue;
        }
        let clause = clause_of(&all, at, end, from, to, &text);
        let last = matches!(b1, "last" | "final") || matches!((b2, b1), ("for", "last"));
        if matches!(b1, "every" | "each") || b2 == "every" && b1.parse::<f64>().is_ok() {
            cues.push((Cue::Every(lasts.from), at, clause));
            at = end;
            continue;
        }
        if last && !step.timers.is_empty() {
            cues.push((Cue::Left(lasts.from), at, clause));
            at = end;
            continue;
        }
        let inside = step
            .timers
            .last()
            .is_some_and(|t| lasts.from < t.lasts.from);
        let same = last_at.is_some_and(|k: usize| (from..to).contains(&k));
        let turns_out = all[from..to]
            .windows(2)
            .any(|w| w[0].is(&["turn", "take"]) && w[1].is(&["out"]));
        if (b1 == "after" || b1 == "first" && b2 == "the") && inside && same
            || b1 == "after"
                && !turns_out
                && mentions(
                    &all[from..to],
                    &[
                        "turn", "stir", "baste", "rotate", "flip", "check", "cover", "remove",
                        "add", "uncover", "look", "reduce", "lower", "shake",
                    ],
                )
                && (!step.timers.is_empty() || names_later(&all, end))
        {
            cues.push((Cue::At(lasts.from), at, clause));
            at = end;
            continue;
        }
        // 'Overnight, 12-16 hours' is one wait, and 'at least 4 hours, or overnight' as well.
        if overnight
            && (same
                || (end..(end + 3).min(to)).any(|k| {
                    length(&all, k).is_some() && !all[end..k].iter().any(|w| w.is(&["or"]))
                }))
        {
            at = end;
            continue;
        }
        if let Some(last) = step.timers.last_mut().filter(|_| {
            same && !overnight
                && last_at.is_some_and(|k| {
                    all[k].is(&["overnight"]) && all[k..at].iter().any(|w| w.is(&["or"]))
                })
        }) {
            if (b2, b1) != ("up", "to") {
                last.lasts = lasts;
                step.unsure.retain(|t| !t.contains("vernight"));
            }
            at = end;
            continue;
        }
        // 'Low 8 hours or high 4 hours' is one wait.
        if same
            && last_at.is_some_and(|k| {
                let gap = &all[k..at];
                let after = length(&all, k).map_or(k, |(_, end)| end);
                at.saturating_sub(after) <= 4
                    && all[after.min(at)..at].iter().any(|w| w.is(&["or"]))
                    && !gap.iter().any(|w| w.is(&[",", "then", "and"]))
            })
        {
            step.unsure.push(format!(
                "`{}` is another way: which is it today?",
                &text[all[at].start..all[end - 1].end]
            ));
            at = end;
            continue;
        }
        let (name, hands) = if warming {
            ("warming up".to_owned(), false)
        } else {
            timer_name(&all, at, end, from, to)
        };
        let cold = !warming
            && mentions(
                &all[from..to],
                &[
                    "fridge",
                    "refrigerator",
                    "chill",
                    "refrigerate",
                    "freezer",
                    "freeze",
                    "cold",
                    "larder",
                    "chilled",
                ],
            )
            && (!only_cold_water(&all[from..to]))
            && !hands;
        let look = until(&all, at, end, to, &text);
        if overnight
            && !cold
            && !mentions(
                &all[from..to],
                &[
                    "soak", "marinate", "leave", "steep", "rest", "prove", "rise", "stand",
                    "ferment", "soaked", "sit", "drain", "hang", "ripen", "dry", "infuse",
                    "retard",
                ],
            )
        {
            at = end;
            continue;
        }
        if overnight {
            step.unsure
                .push("`Overnight` is taken for 8 to 12 hours.".into());
        }
        if hands {
            let before = step.hands_on.map_or(0, Span::as_millis);
            step.hands_on = Some(Span::millis(
                before + lasts.to.unwrap_or(lasts.from).as_millis(),
            ));
        }
        step.timers.push(Timer {
            name,
            lasts,
            look,
            cues: Vec::new(),
            alongside: hands,
            cold,
        });
        last_at = Some(at);
        at = end;
    }
    place_cues(&mut step, &all, &text, cues);
    heats(&mut step, &all, &text);
    if step.timers.is_empty() || step.timers.iter().all(|t| t.look.is_none()) {
        let at = all.iter().position(|w| w.is(&["until", "till"]));
        if let Some(at) = at.filter(|_| step.timers.is_empty()) {
            let (_, to) = sentence(&all, at, &text);
            step.look = question(&all[at + 1..to.max(at + 1)], &text);
        }
    }
    step
}

/// The most times that are read in one step.
const MOST_TIMES: usize = 12;

/// A step in two where its oven is turned to another heat in the middle: 'bake for 15 minutes, then turn down to 200 C and
/// bake a further 25'.
pub(super) fn at_heat_change(text: &str) -> Vec<String> {
    let all = words(text);
    let changes = [
        "turn", "reduce", "lower", "increase", "raise", "drop", "decrease", "reducing", "turning",
        "lowering",
    ];
    let timed = |to: usize| (0..to).any(|k| length(&all, k).is_some_and(|(_, end)| end <= to));
    let change = (1..all.len()).find(|at| {
        all[*at].is(&changes)
            && (*at + 1..all.len().min(at + 9)).any(|k| {
                heat_at(&all, k).is_some_and(|(c, ..)| (80.0..=300.0).contains(&c))
                    && !all[at + 1..k].iter().any(|w| w.is(&[".", ";", "after"]))
            })
            && timed(*at)
            && mentions(&all[..*at], &["bake", "roast", "oven", "cook"])
            && !mentions(
                all.get(at + 1..at + 4).unwrap_or_default(),
                &["oil", "fat", "syrup"],
            )
    });
    let Some(mut at) = change else {
        return vec![text.to_owned()];
    };
    while at > 0 && all[at - 1].is(&["then", "and", "now"]) {
        at -= 1;
    }
    let (first, second) = text.split_at(all[at].start);
    // What is timed has to stand in the first; the second begins a sentence.
    let first = first.trim_end_matches([',', ';', ' ', '-', '–', '(']);
    let stop = if first.ends_with(['.', '!']) { "" } else { "." };
    let mut out = vec![format!("{first}{stop}")];
    out.extend(at_heat_change(&crate::measure::words::capital(second)));
    out
}

/// What something is left to do before the next thing: '20 minutes before serving' is then a wait.
const WAITS: [&str; 19] = [
    "repose",
    "let",
    "rest",
    "stand",
    "cool",
    "chill",
    "refrigerate",
    "soak",
    "marinate",
    "leave",
    "sit",
    "steep",
    "freeze",
    "infuse",
    "rise",
    "prove",
    "proof",
    "wait",
    "allow",
];

/// A time that goes by weight: `20 minutes a pound`, `15 minutes per 500g`.
fn by_weight(all: &[Word], end: usize) -> bool {
    let mut at = end;
    while at < end + 3
        && all
            .get(at)
            .is_some_and(|w| w.is(&["per", "for", "a", "each", "every", "to", "the"]))
    {
        at += 1;
    }
    if at == end {
        return false;
    }
    let after = super::words::number(all, at).map_or(at, |(_, end)| end);
    all.get(after).is_some_and(|w| {
        w.is(&[
            "pound", "pounds", "lb", "lbs", "kilo", "kilos", "kg", "kilogram",
        ]) || after > at && w.is(&["g", "gram", "grams", "oz"])
    })
}

fn mentions(words: &[Word], any: &[&str]) -> bool {
    let stemmed = |w: &Word| any.contains(&w.stem.get_or_init(|| stem(&w.lower)).as_str());
    words.iter().any(|w| w.is(any) || w.is_word() && stemmed(w))
}

fn names_later(all: &[Word], end: usize) -> bool {
    (end..all.len()).any(|at| length(all, at).is_some())
}

/// Nothing is cold here but water or another thing: 'rinse in cold water and leave'.
fn only_cold_water(words: &[Word]) -> bool {
    let else_cold = [
        "fridge",
        "refrigerator",
        "chill",
        "refrigerate",
        "freezer",
        "freeze",
        "larder",
        "chilled",
    ];
    !mentions(words, &else_cold)
        && words
            .iter()
            .enumerate()
            .filter(|(_, w)| w.is(&["cold"]))
            .all(|(at, _)| {
                words.get(at + 1).is_some_and(|w| {
                    w.is(&[
                        "water", "milk", "butter", "stock", "running", "tap", "salted",
                    ])
                })
            })
}

enum Cue {
    At(Span),
    Left(Span),
    Every(Span),
    Half,
}

/// The words of a cue: the clause around it, without its time.
fn clause_of(all: &[Word], at: usize, end: usize, from: usize, to: usize, text: &str) -> String {
    let start = (from..at)
        .rev()
        .find(|i| all[*i].is(&[",", ";", "and", "then"]))
        .map_or(from, |i| i + 1);
    let stop = (end..to).find(|i| all[*i].is(&[",", ";"])).unwrap_or(to);
    let drop = (start..at)
        .rev()
        .take_while(|i| {
            all[*i].is(&[
                "every", "after", "for", "the", "last", "final", "another", "about", "first",
            ])
        })
        .last()
        .unwrap_or(at);
    let (before, after) = (
        &text[all.get(start).map_or(0, |w| w.start)
            ..all
                .get(drop)
                .map_or(0, |w| w.start)
                .max(all.get(start).map_or(0, |w| w.start))],
        if end < stop {
            &text[all[end].start..all[stop - 1].end]
        } else {
            ""
        },
    );
    let before = before.trim().trim_end_matches(',');
    let said = if before.split_whitespace().count() >= 1 {
        before
    } else {
        after
    };
    let said = said.trim();
    let first = said.split_whitespace().next().unwrap_or_default();
    crate::measure::words::capital(&told(&first.to_lowercase(), said))
}

/// 'turning half way' as it is told at that moment: 'turn half way'.
fn told(verb: &str, said: &str) -> String {
    let told = match verb {
        "turning" | "turned" => "turn",
        "stirring" | "stirred" => "stir",
        "basting" => "baste",
        "rotating" => "rotate",
        "flipping" => "flip",
        "shaking" => "shake",
        "skimming" => "skim",
        "checking" => "check",
        "covering" => "cover",
        "uncovering" => "uncover",
        "topping" => "top",
        "brushing" => "brush",
        "adding" => "add",
        "removing" => "remove",
        _ => return said.to_owned(),
    };
    format!("{told}{}", said.get(verb.len()..).unwrap_or_default())
}

fn place_cues(step: &mut Step, all: &[Word], text: &str, mut cues: Vec<(Cue, usize, String)>) {
    // 'turning half way', 'stirring now and then'
    for (at, word) in all.iter().enumerate() {
        if !word.is(&[
            "turn", "turning", "stir", "stirring", "baste", "basting", "rotate", "rotating",
            "flip", "flipping", "shake", "shaking", "turned", "stirred", "skim", "skimming",
        ]) {
            continue;
        }
        let (_, to) = sentence(all, at, text);
        let rest = &all[at..to.min(at + 10)];
        let half = rest
            .iter()
            .any(|w| w.is(&["halfway", "half-way", "midway", "once"]))
            || rest
                .windows(2)
                .any(|w| w[0].is(&["half"]) && w[1].is(&["way", "-", "through"]));
        let now = rest.iter().any(|w| {
            w.is(&[
                "occasionally",
                "often",
                "frequently",
                "regularly",
                "sometimes",
            ])
        }) || rest
            .windows(3)
            .any(|w| w[0].is(&["now"]) && w[2].is(&["then", "again"]))
            || rest
                .windows(3)
                .any(|w| w[0].is(&["from"]) && w[2].is(&["to"]));
        if half || now {
            let stop = rest
                .iter()
                .position(|w| w.is(&[",", ";", "until", "."]))
                .unwrap_or(rest.len());
            let said = &text[rest[0].start..rest[stop.max(1) - 1].end];
            let said = told(&word.lower, said);
            cues.push((Cue::Half, at, crate::measure::words::capital(&said)));
        }
    }
    // A cue belongs to the longest wait of its step.
    let Some(timer) = step
        .timers
        .iter_mut()
        .filter(|t| !t.cold)
        .max_by_key(|t| t.lasts.from)
    else {
        return;
    };
    let whole = timer.lasts.from.as_millis();
    for (cue, _, said) in cues {
        if said.trim().is_empty() {
            continue;
        }
        let mut put = |at: u64| {
            if at > 0 && at < whole && timer.cues.len() < 12 {
                timer.cues.push((Span::millis(at), said.clone()));
            }
        };
        match cue {
            Cue::At(at) => put(at.as_millis()),
            Cue::Left(left) => put(whole.saturating_sub(left.as_millis())),
            Cue::Half => put(whole / 2 / 1000 * 1000),
            Cue::Every(each) => {
                let each = each.as_millis().max(1000);
                (1..=12).for_each(|n| put(each * n));
            }
        }
    }
    timer.cues.sort_by_key(|(at, _)| *at);
}

/// What is timed: the nearest word before the time that says what is done, else the nearest after it.
fn timer_name(all: &[Word], at: usize, end: usize, from: usize, to: usize) -> (String, bool) {
    let does = |i: usize| {
        let stem = all[i].stem.get_or_init(|| stem(&all[i].lower));
        DOES.iter()
            .find(|(word, ..)| word == stem && all[i].is_word())
    };
    let noun = |i: usize| {
        // 'In warm salty water', 'in a warm place'
        let dry = all[i].is(&["dry"])
            && i > from
            && !all[i - 1].is(&["pat", "to", "and", "then", "air", "let", "leave", "towel"]);
        if dry {
            return true;
        }
        let warm = all[i].is(&["warm", "cool", "boiling", "simmering", "cold"])
            && all.get(i + 1).is_some_and(|w| {
                w.is(&[
                    "water",
                    "milk",
                    "place",
                    "spot",
                    "oven",
                    "room",
                    "kitchen",
                    "salty",
                    "salted",
                    "cupboard",
                    "plate",
                    "plates",
                    "dish",
                    "bowl",
                    "stock",
                    "temp",
                    "temperature",
                ])
            });
        warm || i > 0
            && (all[i - 1].is(&["the", "a", "baking", "melted", "double", "of"])
                || all[i].is(&[
                    "baking", "roasting", "frying", "cooking", "set", "brown", "cream", "dry",
                    "cooling", "mixing",
                ]) && all.get(i + 1).is_some_and(|w| {
                    w.is(&[
                        "tray",
                        "sheet",
                        "tin",
                        "dish",
                        "powder",
                        "pan",
                        "rack",
                        "soda",
                        "bowl",
                        "aside",
                        "sugar",
                        "cheese",
                        "paper",
                        "parchment",
                        "ingredients",
                        "flour",
                        "stone",
                    ])
                }))
    };
    let before = (from..at).rev().filter(|i| !noun(*i)).find_map(does);
    let after = (end..to).filter(|i| !noun(*i)).find_map(does);
    let first = (0..from).rev().filter(|i| !noun(*i)).find_map(does);
    let soft = |d: &&(&str, &str, bool)| !matches!(d.0, "leave" | "cook" | "set");
    let picked = before
        .filter(soft)
        .or(after.filter(|d| {
            soft(d)
                && matches!(
                    d.1,
                    "rise"
                        | "rest"
                        | "chill"
                        | "cooling"
                        | "prove"
                        | "stand"
                        | "marinade"
                        | "soak"
                        | "steep"
                )
        }))
        .or(before)
        .or(after)
        .or(first);
    // What a sentence before this one does keeps no hands busy here, where this one tells what else is done.
    let own = before.is_some() || after.is_some();
    let does_else = (from..at).any(|i| i == from && VERBS.contains(&all[i].lower.as_str()));
    if !own && does_else {
        return ("wait".to_owned(), false);
    }
    picked.map_or(("wait".to_owned(), false), |(_, name, hands)| {
        ((*name).to_owned(), *hands)
    })
}

/// The look that ends a wait: 'until golden'.
fn until(all: &[Word], at: usize, end: usize, to: usize, text: &str) -> Option<String> {
    let after = (end..to.min(end + 16)).find(|i| all[*i].is(&["until", "till"]));
    if let Some(i) = after
        && !(end..i).any(|k| length(all, k).is_some())
    {
        return question(&all[i + 1..to], text);
    }
    // 'until golden, about 30 minutes'
    let before = (at.saturating_sub(14)..at)
        .rev()
        .find(|i| all[*i].is(&["until", "till"]))?;
    if (before..at).any(|i| all[i].is(&[".", ";"])) {
        return None;
    }
    question(&all[before + 1..at], text)
}

/// `golden and crisp` is 'Is it golden and crisp?'; `the carrots are soft` is 'Are the carrots soft?'.
fn question(words: &[Word], text: &str) -> Option<String> {
    let stop = words
        .iter()
        .position(|w| w.is(&[";", "(", "then", ".", "about", "for"]) || w.is(&[","]))
        .unwrap_or(words.len());
    let mut words = &words[..stop];
    while words
        .last()
        .is_some_and(|w| w.is(&[",", "and", "or", "-", "–"]))
    {
        words = &words[..words.len() - 1];
    }
    let first = words.first()?;
    let said = |w: &[Word]| text[w[0].start..w[w.len() - 1].end].to_owned();
    if words.len() > 18
        || first.is(&[
            "ready", "needed", "required", "serving", "you", "later", "use",
        ])
        || first.text.starts_with(|c: char| c.is_numeric())
    {
        return None;
    }
    let lower_first = |t: String| {
        let mut c = t.chars();
        c.next().map_or(String::new(), |f| {
            f.to_lowercase().chain(c).collect::<String>()
        })
    };
    if first.is(&[
        "doubled",
        "risen",
        "thickened",
        "reduced",
        "melted",
        "softened",
        "set",
        "dissolved",
        "cooled",
        "combined",
        "almost",
        "nearly",
        "just",
        "browned",
    ]) && first.is(&[
        "doubled",
        "risen",
        "thickened",
        "reduced",
        "dissolved",
        "cooled",
    ]) {
        return Some(format!("Has it {}?", lower_first(said(words))));
    }
    if first.is(&["it", "they"]) && words.len() > 1 {
        let verb = &words[1];
        if verb.is(&["is", "are", "has", "have"]) && words.len() > 2 {
            return Some(crate::measure::words::capital(&format!(
                "{} {} {}?",
                verb.lower,
                first.lower,
                said(&words[2..])
            )));
        }
    } else if first.is(&["it's", "it’s"]) && words.len() > 1 {
        return Some(format!("Is it {}?", said(&words[1..])));
    } else if let Some(at) = words
        .iter()
        .position(|w| w.is(&["is", "are", "has", "have"]))
        && at > 0
        && at + 1 < words.len()
    {
        let subject = lower_first(said(&words[..at]));
        return Some(crate::measure::words::capital(&format!(
            "{} {subject} {}?",
            words[at].lower,
            said(&words[at + 1..])
        )));
    } else if !first.is(&["the", "a", "an", "your", "all", "most", "you"])
        && !words[1..].iter().any(|w| {
            w.is(&[
                "goes", "comes", "runs", "leaves", "looks", "reads", "coats", "falls", "starts",
                "begins", "turns", "rise", "form", "appear", "come", "break", "smell", "smells",
                "sinks", "rises", "bubbles", "pulls", "holds",
            ])
        })
    {
        return Some(format!("Is it {}?", lower_first(said(words))));
    }
    Some(format!("Is it so: {}?", lower_first(said(words))))
}

/// Words for ovens without a thermometer, in Celsius. Common practice: the middle of the table of ovens.
const OVENS: [(&str, f64); 9] = [
    ("very hot", 230.0),
    ("quick", 200.0),
    ("hot", 220.0),
    ("fairly hot", 200.0),
    ("moderately hot", 190.0),
    ("moderate", 180.0),
    ("slow", 150.0),
    ("cool", 140.0),
    ("very slow", 130.0),
];

/// The heats that a step sets its oven to.
fn heats(step: &mut Step, all: &[Word], text: &str) {
    let mut found: Vec<(usize, f64, bool)> = Vec::new();
    let mut at = 0;
    while at < all.len() {
        if let Some((c, fan, end)) = heat_at(all, at) {
            found.push((at, c, fan));
            at = end;
        } else {
            at += 1;
        }
    }
    let talks = |from: usize, to: usize| {
        mentions(
            &all[from..to],
            &[
                "oven",
                "preheat",
                "bake",
                "roast",
                "preheated",
                "ofen",
                "backofen",
                "vorheizen",
                "préchauffer",
            ],
        ) && !mentions(
            &all[from..to],
            &[
                "thermometer",
                "inside",
                "internal",
                "probe",
                "syrup",
                "caramel",
            ],
        )
    };
    let gas = |from: usize, to: usize| {
        all[from..to].windows(2).any(|w| {
            w[0].is(&["gas"])
                && (w[1].is(&["mark"]) || w[1].text.starts_with(|c: char| c.is_numeric()))
        })
    };
    let oil = |from: usize, at: usize| {
        mentions(
            &all[from..at],
            &[
                "oil",
                "fryer",
                "fat",
                "sugar",
                "syrup",
                "water",
                "milk",
                "temperature",
            ],
        ) && !mentions(&all[from..at], &["oven", "preheat"])
    };
    for (at, c, fan) in &found {
        let (from, to) = sentence(all, *at, text);
        let oven_earlier = mentions(&all[..*at], &["oven"]);
        let changes =
            mentions(
                &all[from..*at],
                &[
                    "reduce", "lower", "turn", "increase", "raise", "drop", "decrease",
                ],
            ) && (oven_earlier || step.in_oven || mentions(all, &["bake", "roast", "oven"]));
        if !(talks(from, to) || gas(from, to) || changes)
            || oil(from, *at)
            || !(80.0..=300.0).contains(c)
        {
            continue;
        }
        // Of '200C/180C fan' the first without a fan counts.
        let c = if *fan { c + 20.0 } else { *c };
        if step.oven_c.is_none() || !*fan && step.oven_c.is_some_and(|_| changes) {
            step.oven_c.get_or_insert(c);
        }
    }
    if let Some((at, _, true)) = found.first()
        && let Some((_, c, _)) = found.iter().find(|(other, _, fan)| {
            !*fan && sentence(all, *other, text) == sentence(all, *at, text)
        })
        && step.oven_c.is_some()
        && *c > 80.0
    {
        step.oven_c = Some(*c);
    }
    if step.oven_c.is_none()
        && let Some(oven) = all.iter().position(|w| w.is(&["oven"]))
    {
        let lead: Vec<&str> = all[oven.saturating_sub(2)..oven]
            .iter()
            .map(|w| w.lower.as_str())
            .collect();
        let lead = lead.join(" ");
        if let Some((name, c)) = OVENS
            .iter()
            .filter(|(name, _)| lead.ends_with(name))
            .max_by_key(|(name, _)| name.len())
        {
            step.oven_c = Some(*c);
            step.unsure
                .push(format!("A {name} oven is taken for {c} degrees."));
        }
    }
    let lights = is_lighting(all, text);
    step.in_oven = !lights
        && !mentions(all, &["microwave"])
        && (mentions(all, &["bake", "roast"])
            && (step
                .timers
                .iter()
                .any(|t| matches!(t.name.as_str(), "bake" | "roast" | "cook"))
                || mentions(all, &["oven"]))
            || mentions(all, &["oven"])
                && step.timers.iter().any(|t| {
                    !t.cold
                        && matches!(
                            t.name.as_str(),
                            "bake"
                                | "roast"
                                | "cook"
                                | "braise"
                                | "toast"
                                | "brown"
                                | "wait"
                                | "dry"
                                | "reduce"
                                | "set"
                        )
                })
            || step.oven_c.is_some()
                && step
                    .timers
                    .iter()
                    .any(|t| !t.cold && !t.alongside && t.name != "warming up"));
}

/// The step lights the oven, and nothing goes into it.
fn is_lighting(all: &[Word], text: &str) -> bool {
    let lit = (0..all.len()).find(|at| {
        all[*at].is(&[
            "preheat",
            "heat",
            "pre-heat",
            "light",
            "set",
            "turn",
            "preheated",
            "put",
            "switch",
            "get",
            "warm",
            "oven",
        ]) && (*at..all.len().min(at + 4)).any(|k| {
            all[k].is(&["oven", "preheated"]) && !all[*at..k].iter().any(|w| w.is(&["in", "into"]))
        }) && (!all[*at].is(&["oven"])
            || all[..*at]
                .last()
                .is_none_or(|w| w.is(&[".", "then", ";", ":", "-"])))
    });
    lit.is_some_and(|at| {
        let (_, to) = sentence(all, at, text);
        let oven = (at..to).find(|k| all[*k].is(&["oven"])).unwrap_or(at);
        !mentions(&all[oven..], &["bake", "roast"])
            && !(all[..at].iter().any(|w| w.is(&["bake", "roast", "cook"])))
    })
}

/// A heat at a place in Celsius, whether it is a fan's, and where it ends.
fn heat_at(all: &[Word], at: usize) -> Option<(f64, bool, usize)> {
    let figure = |i: usize| {
        all.get(i)
            .filter(|w| w.text.starts_with(|c: char| c.is_numeric()))
            .and_then(|_| super::words::number(all, i))
    };
    if all[at].is(&["gas", "mark", "regulo", "reg"]) {
        let from = at + 1 + usize::from(all.get(at + 1).is_some_and(|w| w.is(&["mark"])));
        let (mark, end) = super::words::number(all, from)?;
        let c = crate::measure::GasMark::number(mark)
            .ok()?
            .printed_celsius();
        return Some((c, false, end));
    }
    let (mut n, mut end) = figure(at)?;
    // '180-190C' is its middle; '350 to 375 F' as well.
    if all.get(end).is_some_and(|w| w.is(&["-", "–", "to"]))
        && let Some((high, after)) = figure(end + 1)
        && high > n
        && high - n <= 60.0
    {
        n = f64::midpoint(n, high);
        end = after;
    }
    let sign = all.get(end).is_some_and(|w| w.is(&["°", "º", "˚"]));
    let mut unit_at = end + usize::from(sign);
    let word = all.get(unit_at).map_or("", |w| w.lower.as_str());
    let word = if matches!(word, "degrees" | "deg" | "degree") {
        unit_at += 1;
        match all.get(unit_at).map_or("", |w| w.lower.as_str()) {
            w @ ("c" | "f" | "celsius" | "fahrenheit" | "centigrade") => w,
            _ => {
                let c = if n > 270.0 { (n - 32.0) / 1.8 } else { n };
                return (n >= 80.0).then_some((c, false, unit_at));
            }
        }
    } else {
        word
    };
    let (c, mut end) = match word {
        "c" | "celsius" | "centigrade" | "℃" => (n, unit_at + 1),
        "f" | "fahrenheit" | "℉" => ((n - 32.0) / 1.8, unit_at + 1),
        _ if sign => (if n > 270.0 { (n - 32.0) / 1.8 } else { n }, end + 1),
        "fan" if n >= 100.0 => (n, unit_at),
        // 'oven on 180', 'oven 350'
        _ if (100.0..=550.0).contains(&n)
            && all[at.saturating_sub(3)..at]
                .iter()
                .any(|w| w.is(&["oven", "preheat"]))
            && !matches!(
                word,
                "g" | "ml" | "min" | "mins" | "minutes" | "gram" | "grams"
            )
            && super::words::number(all, end).is_none() =>
        {
            (if n > 270.0 { (n - 32.0) / 1.8 } else { n }, end)
        }
        _ => return None,
    };
    let fan_before = at > 0 && all[at - 1].is(&["fan"])
        || at > 1 && all[at - 2].is(&["fan"]) && all[at - 1].is(&["oven", ":"]);
    let fan = fan_before || all.get(end).is_some_and(|w| w.is(&["fan", "convection"]));
    if fan && !fan_before {
        end += 1;
    }
    Some((c, fan, end))
}

/// A short heading from a step's text: its first clause.
fn title(text: &str) -> String {
    let all = words(text);
    let stop = all
        .iter()
        .skip(2)
        .position(|w| {
            w.is(&[
                ".", ",", ";", ":", "and", "until", "for", "with", "in", "(", "to", "then", "into",
                "on", "at",
            ])
        })
        .map_or(all.len(), |i| i + 2);
    let stop = stop.min(6).min(all.len());
    if stop == 0 {
        return "Step".into();
    }
    let said = &text[all[0].start..all[stop - 1].end];
    crate::measure::words::capital(said.trim_end_matches([',', '.', ' ']))
}

// Which ingredients a step uses.

/// Words for several ingredients at once, and what the names of such hold.
#[rustfmt::skip]
const KINDS: [(&str, &[&str]); 17] = [
    
    ("herb", &["parsley", "thyme", "rosemary", "basil", "sage", "dill", "mint", "coriander", "bay", "oregano", "chive", "tarragon"]),
    ("spice", &["cumin", "coriander", "turmeric", "paprika", "cinnamon", "nutmeg", "clove", "ginger", "cardamom", "cayenne", "allspice", "chilli", "mace"]),
    ("vegetable", &["carrot", "onion", "celery", "leek", "potato", "turnip", "swede", "parsnip", "courgette", "pepper", "aubergine", "cabbage", "celeriac", "garlic"]),
    ("meat", &["beef", "lamb", "pork", "chicken", "veal", "venison", "mutton", "bacon", "mince", "turkey", "shin"]),
    ("fish", &["cod", "haddock", "salmon", "trout", "mackerel", "pollock", "hake"]),
    ("seed", &["sunflower", "sesame", "pumpkin", "linseed", "poppy"]),
    ("nut", &["walnut", "almond", "hazelnut", "pecan", "cashew", "pistachio"]),
    ("berry", &["strawberry", "raspberry", "blueberry", "blackberry", "blackcurrant", "gooseberry"]),
    ("fruit", &["raisin", "sultana", "currant", "apricot", "peel", "apple", "pear", "plum", "prune", "date", "cherry", "rhubarb"]),
    ("cheese", &["cheddar", "parmesan", "feta", "mozzarella", "gruyère", "ricotta", "mascarpone"]),
    ("pasta", &["spaghetti", "macaroni", "penne", "tagliatelle", "lasagne", "noodle"]),
    ("bean", &["chickpea", "haricot", "kidney", "butterbean", "cannellini"]),
    ("fat", &["butter", "lard", "suet", "margarine", "dripping", "oil"]), ("seasoning", &["salt", "pepper"]),
    ("egg", &["egg", "yolk", "white"]), ("yeast", &["yeast"]),
    ("liquid", &["water", "milk", "stock", "wine", "cider", "juice", "broth"]),
];

/// The word means one of these: 'cheese' is the cheddar.
pub(super) fn is_kind(word: &str, name: &[String]) -> bool {
    KINDS
        .iter()
        .any(|(kind, of)| *kind == word && name.iter().any(|n| of.contains(&n.as_str())))
}

/// What goes into a bowl as 'the dry ingredients'.
#[rustfmt::skip]
const DRY: [&str; 24] = [
    "flour", "sugar", "salt", "powder", "soda", "cocoa", "oat", "yeast", "cinnamon", "spice", "ginger", "nutmeg",
    "starch", "cornflour", "almond", "semolina", "bran", "cornmeal", "seed", "cornstarch", "bicarb", "bicarbonate",
    "clove", "polenta",
];
#[rustfmt::skip]
const WET: [&str; 14] = [
    "egg", "milk", "water", "oil", "buttermilk", "yogurt", "yoghurt", "honey", "syrup", "treacle", "vanilla",
    "butter", "juice", "cream",
];

/// The words that tell an ingredient in a step.
pub(super) struct Known {
    words: Vec<String>,
    head: String,
    part: Option<String>,
}

impl Known {
    pub(super) fn of(item: &Item) -> Self {
        let cut = item
            .name
            .split(" and ")
            .next()
            .unwrap_or(&item.name)
            .to_owned();
        let list: Vec<String> = words(&item.name)
            .iter()
            .filter(|w| w.is_word())
            .map(|w| one(&w.lower))
            .collect();
        let head = words(&cut)
            .iter()
            .rfind(|w| w.is_word())
            .map_or_else(String::new, |w| one(&w.lower));
        let mut list = list;
        if head == "egg" && item.note.iter().any(|n| n.contains("separated")) {
            list.insert(0, "yolk".to_owned());
        }
        Self {
            head: list
                .last()
                .cloned()
                .filter(|_| cut == item.name)
                .unwrap_or(head),
            words: list,
            part: item.part.clone(),
        }
    }

    fn has(&self, any: &[&str]) -> bool {
        self.words.iter().any(|w| any.contains(&w.as_str()))
    }
}

/// Words that any name may have and that tell nothing of it.
const COMMON: [&str; 68] = [
    "fresh", "large", "small", "medium", "white", "red", "green", "black", "brown", "dark",
    "light", "hot", "cold", "warm", "whole", "plain", "strong", "raw", "dried", "ground", "fine",
    "extra", "virgin", "and", "of", "the", "a", "or", "in", "with", "free", "range", "unsalted",
    "salted", "self", "raising", "rising", "all", "purpose", "ripe", "good", "quality", "soft",
    "double", "single", "heavy", "powder", "sea", "half", "sauce", "leaf", "piece", "dry", "sweet",
    "thick", "thin", "clear", "ready", "long", "short", "baby", "mixed", "grated", "little", "old",
    "new", "rich", "clean",
];

/// Gives every ingredient its steps. What no step names is told in `unsure` of the step that gets it.
pub(super) fn share_out(steps: &mut [Step], items: &[Item], unsure: &mut Vec<(usize, usize)>) {
    let known: Vec<Known> = items.iter().map(Known::of).collect();
    // What is left of each, 1 at first.
    let mut left = vec![1.0_f64; items.len()];
    let mut named_in: Vec<Vec<usize>> = vec![Vec::new(); items.len()];
    let mut parts: Vec<Vec<(usize, f64)>> = vec![Vec::new(); steps.len()];
    for at in 0..steps.len() {
        let text = steps[at].text.clone();
        let all = words(&text);
        let singles: Vec<String> = all.iter().map(|w| one(&w.lower)).collect();
        let fits = |i: usize| match (&known[i].part, &steps[at].part) {
            (Some(a), Some(b)) => a == b || !items.iter().any(|x| x.part.as_ref() == Some(b)),
            _ => true,
        };
        let mut found: Vec<(usize, usize)> = Vec::new();
        for i in 0..items.len() {
            // Of two that are called the same the first goes in first.
            let twin = found.iter().any(|(k, _)| known[*k].words == known[i].words);
            if twin && steps[at].part.is_none() {
                continue;
            }
            if let Some(place) = mention(&known, i, &all, &singles, &|k| fits(k) && left[k] > 0.0) {
                found.push((i, place));
            }
        }
        // 'All the ingredients under marination' are those of that part, 'mix the rub' takes the rub's.
        let part_here = {
            let mut parts: Vec<&String> = items.iter().filter_map(|i| i.part.as_ref()).collect();
            parts.dedup();
            parts.into_iter().find(|part| {
                let last = part.rsplit(' ').next().unwrap_or(part).to_lowercase();
                singles.contains(&one(&last)) || singles.contains(&last)
            })
        };
        let of_part = |i: usize| part_here.is_none_or(|part| items[i].part.as_ref() == Some(part));
        let mixes = part_here.is_some_and(|part| {
            let last = one(&part.rsplit(' ').next().unwrap_or(part).to_lowercase());
            (0..singles.len()).any(|w| {
                matches!(
                    singles[w].as_str(),
                    "mix" | "combine" | "make" | "prepare" | "blend" | "whisk" | "grind"
                ) && singles[w + 1..].iter().take(3).any(|s| *s == last)
                    && singles[w + 1..]
                        .iter()
                        .take(3)
                        .any(|s| matches!(s.as_str(), "the" | "all"))
            })
        });
        for (w, single) in singles.iter().enumerate() {
            let next = singles.get(w + 1).map_or("", String::as_str);
            let group: Box<dyn Fn(usize) -> bool> =
                if single == "dry" && matches!(next, "ingredient" | "stuff" | "thing") {
                    Box::new(|i: usize| known[i].has(&DRY) && !known[i].has(&["butter", "water"]))
                } else if matches!(single.as_str(), "wet" | "liquid") && next == "ingredient" {
                    Box::new(|i: usize| known[i].has(&WET))
                } else if matches!(single.as_str(), "remaining" | "other") && next == "ingredient"
                    || line::near(single, "everything")
                        && (w == 0 || singles[w - 1] != "until")
                        && !matches!(next, "is" | "has" | "look" | "come" | "hold")
                    || single == "ingredient"
                        && singles[..w]
                            .iter()
                            .rev()
                            .take(5)
                            .any(|s| matches!(s.as_str(), "all" | "rest" | "remaining"))
                {
                    Box::new(of_part)
                } else if w == 0 && mixes {
                    Box::new(|i: usize| part_here.is_some() && items[i].part.as_ref() == part_here)
                } else if let Some((_, names)) = KINDS.iter().find(|(kind, _)| kind == single) {
                    let named = found.iter().any(|(i, _)| {
                        known[*i].words.contains(single) || names.contains(&known[*i].head.as_str())
                    });
                    // 'The soaking liquid' is none that goes in here for the first time.
                    let kept = single == "liquid"
                        && singles.iter().any(|s| {
                            matches!(
                                s.as_str(),
                                "soaking"
                                    | "cooking"
                                    | "reserve"
                                    | "reserved"
                                    | "strain"
                                    | "keep"
                                    | "drain"
                                    | "poaching"
                            )
                        });
                    if named || kept {
                        continue;
                    }
                    Box::new(|_| false)
                } else {
                    continue;
                };
            let names: Option<&[&str]> = KINDS
                .iter()
                .find(|(kind, _)| kind == single)
                .map(|(_, n)| *n);
            // 'Everything except the juice'
            let but = singles[w..]
                .iter()
                .take(4)
                .position(|s| matches!(s.as_str(), "except" | "xcept" | "bar" | "but" | "apart"))
                .map_or(&[][..], |n| &singles[w + n..]);
            for i in 0..items.len() {
                if but.contains(&known[i].head) {
                    continue;
                }
                let by_kind = names.is_some_and(|n| known[i].has(n)) && next != "ingredient";
                if (group(i) || by_kind)
                    && left[i] > 0.0
                    && fits(i)
                    && !found.iter().any(|(f, _)| *f == i)
                {
                    found.push((i, w));
                }
            }
        }
        // 'Season' takes salt and pepper.
        if let Some(w) = singles
            .iter()
            .position(|s| matches!(s.as_str(), "season" | "seasoning" | "seasoned"))
        {
            for i in 0..items.len() {
                if known[i].has(&["salt", "pepper"])
                    && !known[i].has(&["bell", "sweet", "red", "green"])
                    && (left[i] > 0.0 || items[i].amount.is_none())
                    && fits(i)
                    && !found.iter().any(|(f, _)| *f == i)
                {
                    found.push((i, w));
                }
            }
        }
        // 'Both flours' are two.
        let both: Vec<usize> = found
            .iter()
            .map(|(_, place)| *place)
            .filter(|place| *place > 0 && all[place - 1].is(&["both"]))
            .collect();
        for place in both {
            let mut n = 0;
            found.retain(|(_, p)| {
                n += usize::from(*p == place);
                *p != place || n <= 2
            });
        }
        // 'Everything but the beans' leaves the beans for later.
        let but = singles
            .iter()
            .position(|s| matches!(s.as_str(), "except" | "xcept" | "excluding" | "apart"));
        if let Some(but) = but {
            found.retain(|(_, place)| !(but + 1..but + 6).contains(place));
        }
        for (i, place) in found {
            named_in[i].push(at);
            let share = share(&all, place, left[i]);
            if left[i] <= 0.0 || share <= 0.0 {
                continue;
            }
            parts[at].push((i, share));
            left[i] -= share;
            if left[i] < 1e-6 {
                left[i] = 0.0;
            }
        }
    }
    for i in 0..items.len() {
        let mut used: Vec<usize> = (0..steps.len())
            .filter(|s| parts[*s].iter().any(|(k, _)| *k == i))
            .collect();
        if left[i] > 1e-6 {
            // The rest goes to the last step that names it; what none names to the first that works in its part.
            if let Some(last) = used.pop() {
                if let Some(u) = parts[last].iter_mut().find(|(k, _)| *k == i) {
                    u.1 += left[i];
                }
            } else {
                let serves = items[i].amount.as_deref().is_some_and(|a| {
                    a.contains("serve")
                        || a.contains("garnish")
                        || a.contains("dust")
                        || a.contains("finish")
                }) || items[i]
                    .note
                    .iter()
                    .any(|n| n.contains("serve") || n.contains("garnish"));
                let oven = |s: &Step| s.oven_c.is_some() && !s.in_oven;
                let fitting =
                    |s: &&usize| known[i].part.is_none() || steps[**s].part == known[i].part;
                let order: Vec<usize> = if serves {
                    (0..steps.len()).rev().collect()
                } else {
                    (0..steps.len()).collect()
                };
                let to = order
                    .iter()
                    .filter(fitting)
                    .find(|s| !oven(&steps[**s]))
                    .or(order.first())
                    .copied();
                if let Some(to) = to {
                    parts[to].push((i, 1.0));
                    if !serves {
                        unsure.push((i, to));
                    }
                }
            }
            left[i] = 0.0;
        }
    }
    for (step, mut uses) in steps.iter_mut().zip(parts) {
        uses.sort_by_key(|(i, _)| *i);
        step.uses = uses;
    }
}

/// Where a step names an ingredient: by its whole name, by its head, or by a word of its own.
fn mention(
    known: &[Known],
    i: usize,
    all: &[Word],
    singles: &[String],
    open: &dyn Fn(usize) -> bool,
) -> Option<usize> {
    let own = &known[i];
    if own.words.is_empty() {
        return None;
    }
    let run = |names: &[String]| (0..singles.len()).find(|at| singles[*at..].starts_with(names));
    let good = |at: usize| !is_other(all, singles, at);
    // 'Crumbs' are breadcrumbs.
    // 'Marg.' is margarine.
    let short = |at: usize| {
        let word = singles[at].as_str();
        word.len() >= 4
            && own.head.len() > word.len() + 2
            && own.head.starts_with(word)
            && all
                .get(at + 1)
                .is_some_and(|w| w.is(&["."]) && w.start == all[at].end)
            || word == "marg" && own.head == "margarine"
    };
    let compound = |at: usize| {
        singles[at].len() >= 5
            && own.head.len() > singles[at].len()
            && own.head.ends_with(&singles[at])
    };
    if own.words.len() > 1
        && let Some(at) = run(&own.words)
    {
        return open(i).then_some(at);
    }
    // By a word that no other ingredient has; the head before the rest.
    // 'It leaves the sides' names no leaves of coriander.
    let tells = own.words.len() == 1
        || !matches!(
            own.head.as_str(),
            "leaf" | "powder" | "piece" | "stick" | "seed" | "half" | "mix" | "spray" | "top"
        );
    let mut names: Vec<&String> = if tells { vec![&own.head] } else { Vec::new() };
    names.extend(
        own.words
            .iter()
            .rev()
            .filter(|w| **w != own.head && !COMMON.contains(&w.as_str()) && w.len() > 2),
    );
    for name in names {
        let sharing: Vec<usize> = (0..known.len())
            .filter(|k| *k != i && known[*k].words.contains(name))
            .collect();
        let heads: Vec<usize> = sharing
            .iter()
            .copied()
            .filter(|k| known[*k].head == *name)
            .collect();
        let is_head = *name == own.head;
        // 'The sugar' is the sugar, not the demerara sugar, while it is still to go in.
        if is_head
            && own.words.len() > 1
            && heads.iter().any(|k| known[*k].words.len() == 1 && open(*k))
        {
            continue;
        }
        // 'The lamb' is not the lamb stock where there is lamb.
        if !is_head
            && DERIVED.contains(&own.head.as_str())
            && sharing
                .iter()
                .any(|k| !DERIVED.contains(&known[*k].head.as_str()))
        {
            continue;
        }
        for at in (0..singles.len()).filter(|at| singles[*at] == *name && good(*at)) {
            let before = at
                .checked_sub(1)
                .map(|b| singles[b].as_str())
                .unwrap_or_default();
            let after = singles.get(at + 1).map_or("", String::as_str);
            // 'Rye flour' names another one.
            if sharing.iter().any(|k| {
                known[*k].words.len() > 1
                    && (known[*k].words.iter().any(|w| w == before)
                        || known[*k].words.iter().any(|w| w == after && w != name))
                    && !own
                        .words
                        .iter()
                        .any(|w| w == before || w == after && w != name)
            }) {
                continue;
            }
            if is_head && !heads.is_empty() && open(i) {
                // Several share it: 'the flours' are all; 'the sugar' is the first that is still to go in, all where the word stands alone once.
                return Some(at);
            }
            if is_head || heads.is_empty() {
                return open(i).then_some(at);
            }
        }
    }
    (0..singles.len())
        .find(|at| (compound(*at) || short(*at)) && open(i))
        .or_else(|| {
            let slip = |s: &String| own.head.len() > 6 && s.len() > 6 && line::near(s, &own.head);
            singles.iter().position(slip).filter(|_| open(i))
        })
}

/// What is made of other things, and is called after them.
const DERIVED: [&str; 21] = [
    "stock", "juice", "oil", "sauce", "powder", "paste", "purée", "puree", "vinegar", "seed",
    "zest", "broth", "bouillon", "cube", "gravy", "extract", "essence", "peel", "rind", "flour",
    "wine",
];

/// A word that names something else: 'egg noodles', 'butter the tin', 'an oil brush', 'salted water'.
fn is_other(all: &[Word], singles: &[String], at: usize) -> bool {
    let next = singles.get(at + 1).map_or("", String::as_str);
    let before = at.checked_sub(1).map_or("", |b| singles[b].as_str());
    let here = singles[at].as_str();
    let verb = matches!(
        here,
        "butter" | "oil" | "flour" | "water" | "sugar" | "cream" | "juice" | "top"
    ) && (at == 0
        || all[at - 1].is(&[".", ";", "and", "then", ","]) && all[at - 1].is(&[".", ";"]))
        && matches!(next, "the" | "a" | "an" | "your" | "two" | "it");
    verb || matches!(
        (here, next),
        ("egg", "wash" | "white" | "yolk" | "mixture" | "noodle")
            | ("butter", "bean" | "paper" | "mixture")
            | ("flour" | "milk", "mixture")
            | ("sugar", "thermometer" | "syrup")
            | ("water", "bath")
            | ("tomato", "purée" | "paste" | "mixture")
            | ("vanilla", "sugar")
            | ("cream", "mixture" | "cheese")
    ) || matches!(
        (before, here),
        (
            "boiling" | "simmering" | "salted" | "running" | "ice" | "iced" | "cold",
            "water"
        )
    ) || matches!((before, here), ("ice", "cream"))
}

/// The part that is named before a mention: 'half the sugar', 'the rest of the milk', 'a third of the flour'.
fn share(all: &[Word], at: usize, left: f64) -> f64 {
    let from = at.saturating_sub(5);
    let start = (from..at)
        .rev()
        .find(|i| all[*i].is(&[",", ".", ";", "and", "with", "in"]))
        .map_or(from, |i| i + 1);
    let before = &all[start..at];
    let has = |any: &[&str]| before.iter().any(|w| w.is(any));
    if has(&[
        "rest",
        "remaining",
        "remainder",
        "other",
        "reserved",
        "leftover",
    ]) {
        return left;
    }
    let part = if has(&["half", "½", "halves"]) || before.windows(1).any(|w| w[0].text == "1/2") {
        0.5
    } else if has(&["third", "thirds", "⅓"]) {
        if has(&["two"]) { 2.0 / 3.0 } else { 1.0 / 3.0 }
    } else if has(&["quarter", "¼"]) {
        0.25
    } else if has(&["quarters", "¾", "most"]) {
        0.75
    } else if has(&["little", "some"]) {
        0.25
    } else {
        return left;
    };
    if part < left - 1e-9 { part } else { left }
}
