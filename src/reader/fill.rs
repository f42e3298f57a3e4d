//! From a frame and the words that fill its slots to orders.

use serde_json::{Map, Value, json};

use super::input::Input;
use super::situation::{Printed, Situation};
use crate::understand::numbers::parse_words;
use crate::understand::{Found, FoundKind, FoundValue};

const MINUTE_MS: f64 = 60_000.0;
/// No timer of the cook's is longer than two days.
const LONGEST_MS: f64 = 2.0 * 24.0 * 60.0 * MINUTE_MS;
/// No tin is smaller than this, in centimetres.
const SMALLEST_TIN: f64 = 4.0;

/// What a slot takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Takes {
    Own,
    Thing,
    Food,
    Words,
    Timer,
    Duration,
    Clock,
    Mass,
    Number,
    Step,
    Unit,
    Fraction,
}

/// A slot: its name, what it takes, and whether the order means nothing without it.
type Slot = (&'static str, Takes, bool);

/// The slots of an order by its name in the frame.
fn slots_of(head: &str) -> &'static [Slot] {
    use Takes::{
        Clock, Duration, Food, Fraction, Mass, Number, Own, Step, Thing, Timer, Unit, Words,
    };
    match head {
        "repeat_last" => &[("count", Number, true)],
        "go_to_step" | "tell_step" => &[("step", Step, true)],
        "have_added" | "mark_added" | "unmark_added" => &[("ingredient", Own, true)],
        "put_in" => &[("ingredient", Own, true), ("mass", Mass, true)],
        "how_much" => &[
            ("ingredient", Own, true),
            ("part", Fraction, false),
            ("unit", Unit, false),
        ],
        "contains" => &[("what", Thing, true)],
        "scale.portions" => &[("portions", Number, true)],
        "scale.flour" => &[("flour", Mass, true)],
        "scale.dough" => &[("dough", Mass, true)],
        "scale.pieces" => &[("count", Number, true), ("each", Mass, true)],
        "scale.limit" => &[("ingredient", Own, true), ("have", Mass, true)],
        "scale.hydration" => &[("hydration", Number, true)],
        "start_timer" => &[("lasts", Duration, false), ("name", Words, false)],
        "time_left" | "time_gone" | "ready_when" | "pause_timer" | "resume_timer"
        | "restart_timer" | "stop_timer" => &[("timer", Timer, false)],
        "add_time" | "take_time" => &[("by", Duration, true), ("timer", Timer, false)],
        "needs_longer" => &[("by", Duration, false)],
        "add_cue" => &[
            ("say", Words, true),
            ("at", Duration, false),
            ("left", Duration, false),
            ("timer", Timer, false),
        ],
        "rename_timer" => &[("timer", Timer, false), ("name", Words, true)],
        "remind" => &[
            ("text", Words, true),
            ("in", Duration, false),
            ("clock", Clock, false),
        ],
        "eat_at" => &[("clock", Clock, true)],
        "ask.convert" => &[
            ("number", Number, true),
            ("to", Unit, true),
            ("ingredient", Thing, false),
        ],
        "ask.convert_temperature" => &[("number", Number, true)],
        "ask.swap" => &[("of", Thing, true), ("with", Thing, false)],
        "ask.water_for_flour" => &[("flour_g", Mass, false), ("percent", Number, true)],
        "ask.percent_of" => &[("percent", Number, true), ("grams", Mass, true)],
        "ask.rise_at" => &[("room_c", Number, true)],
        "ask.safe_temperature" => &[("food", Food, true)],
        "ask.safe_time" => &[("core_c", Number, true)],
        "ask.mass_of" => &[("number", Number, false), ("ingredient", Thing, true)],
        "ask.pieces_from" => &[("dough_g", Mass, false), ("each_g", Mass, true)],
        "ask.percent_is" => &[("part_g", Mass, true), ("whole_g", Mass, true)],
        "ask.preferment" => &[("percent", Number, true), ("flour_g", Mass, false)],
        "ask.dough_for" => &[("baked_g", Mass, true)],
        "ask.friction" => &[
            ("dough_c", Number, true),
            ("flour_c", Number, true),
            ("room_c", Number, true),
            ("water_c", Number, true),
        ],
        _ => &[],
    }
}

/// A stretch of words that fills a slot.
#[derive(Debug, Clone)]
struct Run {
    slot: String,
    from: usize,
    to: usize,
    used: bool,
}

/// Fills the frame; nothing where something that it needs is not there.
pub(super) fn fill(
    frame: &str,
    slots: &[String],
    input: &Input,
    situation: &Situation,
) -> Option<Vec<Printed>> {
    let mut filler = Filler {
        runs: runs(slots, input),
        input,
        situation,
    };
    let mut out = Vec::new();
    for head in frame.split('+') {
        match head.strip_suffix('*') {
            Some(many) => {
                let before = out.len();
                while filler
                    .runs
                    .iter()
                    .any(|r| r.slot == "ingredient" && !r.used)
                {
                    out.push(filler.order(many)?);
                }
                if out.len() == before {
                    return None;
                }
            }
            None => out.push(filler.order(head)?),
        }
    }
    Some(out)
}

/// Neighbouring words of one slot are one run; two ingredients side by side are two.
fn runs(slots: &[String], input: &Input) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    for (at, slot) in slots.iter().enumerate().filter(|(_, s)| !s.is_empty()) {
        let starts_another = slot == "ingredient"
            && input
                .found
                .iter()
                .any(|f| f.kind == FoundKind::Own && f.from == at)
            && !input
                .found
                .iter()
                .any(|f| f.kind == FoundKind::Own && f.from < at && at < f.to);
        match out.last_mut() {
            Some(run) if run.slot == *slot && run.to == at && !starts_another => run.to = at + 1,
            _ => out.push(Run {
                slot: slot.clone(),
                from: at,
                to: at + 1,
                used: false,
            }),
        }
    }
    out
}

struct Filler<'a> {
    runs: Vec<Run>,
    input: &'a Input,
    situation: &'a Situation,
}

impl Filler<'_> {
    fn order(&mut self, head: &str) -> Option<Printed> {
        let (name, constants) = head.split_once(';').map_or((head, ""), |(n, c)| (n, c));
        let mut values = Map::new();
        for (slot, takes, needed) in slots_of(name) {
            let value = self.slot(slot, *takes, *needed);
            match value {
                Some(value) => {
                    values.insert((*slot).to_owned(), value);
                }
                None if *needed => return None,
                None => {}
            }
        }
        for constant in constants.split(';').filter(|c| !c.is_empty()) {
            let (key, value) = constant.split_once('=')?;
            values.insert(
                key.to_owned(),
                serde_json::from_str(value).unwrap_or_else(|_| json!(value)),
            );
        }
        self.whole(name, values)
    }

    /// What does not stand in a slot of its own name.
    fn whole(&mut self, name: &str, mut values: Map<String, Value>) -> Option<Printed> {
        if let Some(question) = name.strip_prefix("ask.") {
            if question == "convert" {
                let number = self.amount_at_number()?;
                values.insert("number".to_owned(), json!(number.0));
                values.insert("from".to_owned(), json!(number.1));
            }
            if question == "mass_of" {
                values.entry("number").or_insert(json!(1.0));
            }
            values.insert("question".to_owned(), json!(question));
            return Some(Printed {
                intent: "ask".to_owned(),
                slots: values,
            });
        }
        if let Some(by) = name.strip_prefix("scale.") {
            let by = match by.split_once(['=', '.']) {
                Some(("factor", n)) => json!({ "factor": n.parse::<f64>().ok()? }),
                Some(("tin", shape)) => {
                    let mut sizes = self.all_numbers("size");
                    sizes.retain(|cm| *cm >= SMALLEST_TIN);
                    let wanted = if shape == "rectangle" { 2 } else { 1 };
                    if sizes.len() < wanted {
                        return None;
                    }
                    json!({ "tin": { "shape": shape, "size_cm": sizes } })
                }
                _ if by == "as_written" => json!(by),
                _ if by == "limit" || by == "pieces" => json!({ by: values }),
                _ => json!({ by: values.get(by)? }),
            };
            return Some(Printed {
                intent: "scale".to_owned(),
                slots: [("by".to_owned(), by)].into_iter().collect(),
            });
        }
        if let Some(clock) = values.remove("clock") {
            values.insert("at".to_owned(), clock);
        }
        // 'After five minutes', not 'with five minutes left'.
        let said = |list: &[&str]| self.input.words.iter().any(|w| list.contains(&w.as_str()));
        if name == "add_cue"
            && said(&["after", "gone", "passed", "into", "past"])
            && !said(&[
                "left",
                "before",
                "remain",
                "remaining",
                "remains",
                "go",
                "end",
            ])
            && let Some(left) = values.remove("left")
        {
            values.insert("at".to_owned(), left);
        }
        let has = |slot: &str| values.contains_key(slot);
        let timed = match name {
            "add_cue" => has("at") != has("left"),
            "remind" => has("at") != has("in"),
            _ => true,
        };
        timed.then(|| Printed {
            intent: name.to_owned(),
            slots: values,
        })
    }

    fn slot(&mut self, slot: &str, takes: Takes, needed: bool) -> Option<Value> {
        if let Some(run) = self.runs.iter_mut().find(|r| r.slot == slot && !r.used) {
            run.used = true;
            let (from, to) = (run.from, run.to);
            if let Some(value) = self.value(takes, from, to) {
                return Some(value);
            }
        }
        if !needed {
            return None;
        }
        // One find of its kind that nothing else has taken.
        let free: Vec<Value> = self
            .input
            .found
            .iter()
            .filter(|f| !self.runs.iter().any(|r| r.from < f.to && f.from < r.to))
            .filter_map(|f| of_find(takes, f))
            .collect();
        if let Some(first) = free.first() {
            return free.iter().all(|v| v == first).then(|| first.clone());
        }
        if takes == Takes::Own {
            let last = self.situation.last.as_ref().and_then(|l| l.order.as_ref());
            let known = last
                .and_then(|o| o.text("ingredient"))
                .or(self.situation.weighing.as_deref());
            return known.map(|i| json!(i));
        }
        None
    }

    /// The find that covers most of a run; of equals the one that is nearer to the talk.
    fn value(&self, takes: Takes, from: usize, to: usize) -> Option<Value> {
        let covers = |f: &Found| f.to.min(to).saturating_sub(f.from.max(from));
        // 'Not fifty, twenty five': a number that began before the run is not the run's.
        let measured = matches!(takes, Takes::Duration | Takes::Number | Takes::Mass);
        let begins = |f: &Found| !measured || f.from >= from;
        let mut best: Option<(usize, bool, Value)> = None;
        for f in self
            .input
            .found
            .iter()
            .filter(|f| covers(f) > 0 && begins(f))
        {
            let Some(value) = of_find(takes, f) else {
                continue;
            };
            let near = value.as_str().is_some_and(|v| self.is_near(v));
            let fits = covers(f) * 4 + usize::from(best_kind(takes, f.kind)) * 2;
            if best
                .as_ref()
                .is_none_or(|(b, n, _)| (fits, near) > (*b, *n))
            {
                best = Some((fits, near, value));
            }
        }
        let words = || {
            let words: Vec<&str> = self.input.words[from..to]
                .iter()
                .map(String::as_str)
                .collect();
            let bare: Vec<&str> = words
                .iter()
                .copied()
                .skip_while(|w| ["the", "my", "a", "an", "some", "any"].contains(w))
                .collect();
            (!bare.is_empty()).then(|| json!(bare.join(" ")))
        };
        match takes {
            Takes::Words => words(),
            Takes::Timer | Takes::Thing | Takes::Food => best.map(|(_, _, v)| v).or_else(words),
            Takes::Duration | Takes::Number => best.map(|(_, _, v)| v).or_else(|| {
                let text = self.input.words[from..to].join(" ");
                let number = parse_words(&text).filter(|n| *n > 0.0)?;
                Some(plain(if takes == Takes::Duration {
                    number * MINUTE_MS
                } else {
                    number
                }))
            }),
            _ => best.map(|(_, _, v)| v),
        }
    }

    fn is_near(&self, name: &str) -> bool {
        let s = self.situation;
        s.weighing.as_deref() == Some(name)
            || s.rings.as_deref() == Some(name)
            || s.timers.iter().any(|t| t.name == name)
            || s.asked
                .iter()
                .flat_map(|a| &a.readings)
                .any(|o| o.text("ingredient") == Some(name))
    }

    /// The amount that was said for `number`, with its unit.
    fn amount_at_number(&self) -> Option<(f64, &'static str)> {
        let runs: Vec<&Run> = self.runs.iter().filter(|r| r.slot == "number").collect();
        let here = |f: &&Found| runs.iter().any(|r| r.from < f.to && f.from < r.to);
        let amounts = || {
            self.input
                .found
                .iter()
                .filter(|f| f.kind == FoundKind::Amount)
        };
        let found = amounts().find(here).or_else(|| amounts().next())?;
        match found.value {
            FoundValue::Amount(n, Some(unit)) => Some((n, unit)),
            _ => None,
        }
    }

    fn all_numbers(&mut self, slot: &str) -> Vec<f64> {
        let runs: Vec<(usize, usize)> = self
            .runs
            .iter()
            .filter(|r| r.slot == slot)
            .map(|r| (r.from, r.to))
            .collect();
        self.input
            .found
            .iter()
            .filter(|f| {
                f.kind == FoundKind::Number
                    && runs.iter().any(|(from, to)| f.from < *to && *from < f.to)
            })
            .filter_map(|f| {
                if let FoundValue::Number(n) = f.value {
                    Some(n)
                } else {
                    None
                }
            })
            .collect()
    }
}

fn best_kind(takes: Takes, kind: FoundKind) -> bool {
    matches!(
        (takes, kind),
        (Takes::Duration, FoundKind::Duration)
            | (Takes::Mass, FoundKind::Amount)
            | (Takes::Step, FoundKind::Step)
            | (Takes::Number, FoundKind::Percent | FoundKind::Heat)
            | (Takes::Food, FoundKind::Food)
            | (Takes::Thing, FoundKind::Stuff)
    )
}

/// A whole number without a point, so that it can count.
fn plain(n: f64) -> Value {
    if n.fract() == 0.0 && n >= 0.0 {
        json!(n as u64)
    } else {
        json!(n)
    }
}

/// What a find gives to a slot that takes this.
fn of_find(takes: Takes, found: &Found) -> Option<Value> {
    let grams = |n: f64, unit: &str| {
        let factor = match unit {
            "g" => 1.0,
            "kg" => 1000.0,
            "oz" => 28.349_523_125,
            "lb" => 453.592_37,
            _ => return None,
        };
        Some(json!(n * factor))
    };
    match (takes, found.kind, &found.value) {
        (Takes::Own, FoundKind::Own, FoundValue::Text(t))
        | (Takes::Thing, FoundKind::Stuff, FoundValue::Text(t))
        | (Takes::Food, FoundKind::Food, FoundValue::Text(t))
        | (Takes::Timer, FoundKind::Timer, FoundValue::Text(t))
        | (Takes::Unit, FoundKind::Unit, FoundValue::Text(t)) => Some(json!(t)),
        (Takes::Duration, FoundKind::Duration, FoundValue::Number(ms)) if *ms <= LONGEST_MS => {
            Some(json!(ms.round() as u64))
        }
        (Takes::Duration, FoundKind::Number, FoundValue::Number(n))
            if *n > 0.0 && n * MINUTE_MS <= LONGEST_MS =>
        {
            Some(json!((n * MINUTE_MS).round() as u64))
        }
        (Takes::Clock, FoundKind::Clock, FoundValue::Clock(clock)) => {
            serde_json::to_value(clock).ok()
        }
        (Takes::Mass, FoundKind::Amount, FoundValue::Amount(n, Some(unit))) => grams(*n, unit),
        (Takes::Mass, FoundKind::Number, FoundValue::Number(n)) => Some(json!(n)),
        (Takes::Step, FoundKind::Step | FoundKind::Number, FoundValue::Number(n))
            if *n >= 1.0 && n.fract() == 0.0 =>
        {
            Some(json!(*n as u64))
        }
        (Takes::Number, FoundKind::Number | FoundKind::Percent, FoundValue::Number(n))
            if *n > 0.0 =>
        {
            Some(plain(*n))
        }
        (Takes::Number, FoundKind::Heat | FoundKind::Amount, FoundValue::Amount(n, _)) => {
            Some(plain(*n))
        }
        (Takes::Fraction, FoundKind::Fraction | FoundKind::Number, FoundValue::Number(n)) => {
            Some(json!(n))
        }
        _ => None,
    }
}
