//! How long may lie between one step and the next, where the formula does not say; what stands on the hob, and what is
//! eaten hot. All of it is common practice, no source.

use crate::formula::{Formula, Step};
use crate::time::Span;

/// A kind of step, by what its words say, and how long what it made may wait.
struct Kind {
    words: &'static [&'static str],
    waits: Span,
}

/// The first that fits counts, by the heading before the text.
const KINDS: [Kind; 6] = [
    // What boils, sears or has been drained does not wait.
    Kind {
        words: &[
            "boil", "sear", "fry", "drain", "simmer", "sweat", "brown", "saute", "sauté", "poach",
            "blanch", "steam", "reduce", "temper", "caramel", "gravy",
        ],
        waits: Span::minutes(0),
    },
    Kind {
        words: &["rise", "prove", "proof", "rest", "stand"],
        waits: Span::minutes(10),
    },
    Kind {
        words: &[
            "season", "rub", "shape", "roll", "dress", "coat", "whisk", "whip", "fold", "beat",
            "knead", "batter", "fill", "stuff", "spread",
        ],
        waits: Span::minutes(10),
    },
    Kind {
        words: &["cool"],
        waits: Span::minutes(120),
    },
    Kind {
        words: &[
            "weigh", "cut", "peel", "chop", "slice", "grate", "trim", "wash", "lay", "measure",
            "crumb", "grease", "line",
        ],
        waits: Span::minutes(60),
    },
    Kind {
        words: &["chill", "fridge", "soak", "marinate", "freeze"],
        waits: Span::minutes(720),
    },
];

/// What is none of these.
const OTHER: Span = Span::minutes(20);
/// After a wait in the cold; and in a place that only is cooler.
const COLD: Span = Span::minutes(720);
const COOL: Span = Span::minutes(120);
/// After a rise, which goes on.
const RISE: Span = Span::minutes(10);
/// Longer than this nothing hot is kept hot: it dries out, and greens go grey.
const HOT: Span = Span::minutes(45);
/// What comes after the heat and takes less than this leaves the food hot.
const STAYS_HOT: Span = Span::minutes(30);

/// Verbs of the hob.
const HOB: [&str; 16] = [
    "boil", "simmer", "fry", "sweat", "sear", "poach", "saute", "sauté", "blanch", "braise",
    "steam", "reduce", "caramel", "gravy", "brown", "melt",
];

/// How long may lie between two steps of a formula.
pub(super) fn between(before: &Step, next: &Step) -> Span {
    if let Some(within) = next.within {
        return within;
    }
    let waits = before.timers.iter().filter(|timer| !timer.alongside);
    let Some(wait) = waits.max_by_key(|timer| timer.lasts) else {
        return of_words(before);
    };
    if before.oven_c.is_some() {
        return Span::minutes(0);
    }
    if wait.cold {
        let cools = has(&wait.name, "cool") || has(&before.title, "cool");
        return if cools { COOL } else { COLD };
    }
    if wait.look.is_some() && wait.most.is_none() && !on_hob(before) {
        return RISE;
    }
    of_words(before)
}

fn of_words(step: &Step) -> Span {
    let by = |text: &str| {
        KINDS
            .iter()
            .find(|kind| kind.words.iter().any(|word| has(text, word)))
    };
    let kind = by(&step.title).or_else(|| by(&step.text));
    match kind {
        Some(kind) => kind.waits,
        None if step.weigh_up => Span::minutes(60),
        None => OTHER,
    }
}

/// Whether a step stands on the hob.
pub(super) fn on_hob(step: &Step) -> bool {
    let said = |text: &str| HOB.iter().any(|word| has(text, word));
    step.oven_c.is_none()
        && !step.lights_oven()
        && !has(&step.text, "off the heat")
        && (said(&step.title) || (!step.weigh_up && said(&step.text)))
}

/// How long a dish may stand, kept hot; nothing where it is not eaten hot.
pub(super) fn stands_hot(formula: &Formula) -> Option<Span> {
    let heated = |step: &Step| step.oven_c.is_some() || on_hob(step);
    let last = formula.steps.iter().rposition(heated)?;
    let after = &formula.steps[last + 1..];
    let cools = |step: &Step| {
        has(&step.title, "cool")
            || has(&step.title, "chill")
            || step.timers.iter().any(|timer| timer.cold)
    };
    let minutes = |step: &Step| {
        let waits = step.timers.iter().filter(|timer| !timer.alongside);
        step.hands_on.minutes_up() + waits.map(|t| t.lasts.minutes_up()).max().unwrap_or(0)
    };
    let since: i64 = after.iter().map(minutes).sum();
    let mass = |flour: bool| -> f64 {
        let counted = formula.ingredients.iter().filter(|i| i.is_flour || !flour);
        counted.map(|i| i.mass.as_grams()).sum()
    };
    // Bread, cakes and biscuits are as good when they have stood.
    let dough = mass(true) > 0.2 * mass(false);
    let cold = formula.steps[last].timers.iter().any(|timer| timer.cold);
    (since <= STAYS_HOT.minutes_up() && !after.iter().any(cools) && !dough && !cold).then_some(HOT)
}

/// A word of the text begins so: `boil` in `bring it to the boil`, and in `boiling`.
fn has(text: &str, word: &str) -> bool {
    text.to_lowercase()
        .split(|c: char| !c.is_alphabetic())
        .any(|w| w.starts_with(word))
}
