//! From a frame and the words that fill its slots to orders.

use serde_json::{Map, Value, json};

use super::finds::ordinal;
use super::input::Features;
use super::mend;
use super::situation::{AskedKind, Printed, ReaderSituation};
use crate::understand::numbers::{parse_amount, parse_words};
use crate::understand::{FoundKind, FoundValue, Lexicon, Mention, name_words};

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

/// Words that tell nothing of which one is meant.
const BESIDE: &[&str] = &[
    "the", "one", "please", "a", "it", "is", "that", "i", "mean", "meant",
];

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
            ("number", Number, false),
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

/// What a frame became.
#[derive(Debug, Clone, Default)]
pub(super) struct Filled {
    /// The orders.
    pub(super) orders: Vec<Printed>,
    /// Something was said for a slot that could not be read.
    pub(super) unsure: bool,
}

/// Fills the frame; nothing where something that it needs is not there.
pub(super) fn fill(
    frame: &str,
    slots: &[String],
    input: &Features,
    situation: &ReaderSituation,
) -> Option<Filled> {
    let mut filler = Filler {
        frame,
        runs: runs(slots, input),
        taken: Vec::new(),
        unsure: false,
        input,
        situation,
    };
    let mut out = Vec::new();
    for head in frame.split('+') {
        let many = head
            .strip_suffix('*')
            .or_else(|| filler.is_many(head).then_some(head));
        match many {
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
                let said = out.len();
                let mut once: Vec<Printed> = Vec::new();
                out.retain(|o| {
                    let new = !once.contains(o);
                    once.push(o.clone());
                    new
                });
                filler.unsure |= out.len() < said;
            }
            None => out.push(filler.order(head)?),
        }
    }
    filler.finish(&mut out);
    Some(Filled {
        orders: out,
        unsure: filler.unsure,
    })
}

/// The answer to 'which one?' by its place: `the second one`.
pub(super) fn chosen(
    input: &Features,
    lexicon: &Lexicon,
    situation: &ReaderSituation,
) -> Option<Printed> {
    let asked = situation.asked.as_ref()?;
    if asked.kind != AskedKind::Which || input.words.len() > 6 {
        return None;
    }
    // 'The white one', where one of them alone is white.
    let telling: Vec<&String> = input
        .words
        .iter()
        .filter(|w| !BESIDE.contains(&w.as_str()))
        .collect();
    let is_so = |o: &&Printed| {
        let own = &lexicon.situation().ingredients;
        let name = own
            .iter()
            .find(|i| o.text("ingredient") == Some(&*i.id))
            .map(|i| name_words(&i.name));
        name.is_some_and(|name| !telling.is_empty() && telling.iter().all(|w| name.contains(w)))
    };
    let mut so = asked.readings.iter().filter(is_so);
    if let (Some(reading), None) = (so.next(), so.next()) {
        return Some(reading.clone());
    }
    let mut places = input.words.iter().filter_map(|w| match w.as_str() {
        "former" => Some(1),
        "latter" | "last" => Some(asked.readings.len()),
        word => ordinal(word),
    });
    let place = places.next()?;
    places
        .next()
        .is_none()
        .then(|| asked.readings.get(place - 1).cloned())?
}

/// Neighbouring words of one slot are one run; two ingredients side by side are two.
fn runs(slots: &[String], input: &Features) -> Vec<Run> {
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
    frame: &'a str,
    runs: Vec<Run>,
    /// The words whose numbers fill a slot already.
    taken: Vec<(usize, usize)>,
    unsure: bool,
    input: &'a Features,
    situation: &'a ReaderSituation,
}

impl Filler<'_> {
    /// More things than one were said for an order that takes one: `chicken's in mushrooms in next`.
    fn is_many(&mut self, head: &str) -> bool {
        let takes_things = |h: &str| {
            let slots = slots_of(h.trim_end_matches('*'));
            slots.iter().any(|(slot, ..)| *slot == "ingredient")
        };
        let alone = self.frame.split('+').filter(|h| takes_things(h)).count() == 1;
        if !["mark_added", "how_much"].contains(&head) || !alone {
            return false;
        }
        let words = &self.input.words;
        let said = |w: &str| words.iter().filter(|x| *x == w).count();
        if head == "how_much" && said("and") == 0 && said("how") < 2 {
            return false;
        }
        // 'The tomato one' tells which paste.
        let tells_which = |to: usize| words.get(to).is_some_and(|w| w == "one");
        let runs = self
            .runs
            .iter()
            .filter(|r| r.slot == "ingredient" && !r.used && !tells_which(r.to));
        let things: Vec<Value> = runs
            .filter_map(|r| self.value(Takes::Own, r.from, r.to))
            .map(|(value, _)| value)
            .collect();
        let many = things.iter().any(|t| *t != things[0]);
        self.unsure |= many;
        many
    }

    /// What the orders show when they stand side by side.
    fn finish(&mut self, orders: &mut [Printed]) {
        let open = |o: &Printed| o.intent == "start_timer" && !o.slots.contains_key("lasts");
        let timers = orders.iter().filter(|o| o.intent == "start_timer").count();
        if timers > 1 && orders.iter().any(open) {
            // 'Mushrooms two minutes and plantain eight'.
            self.unsure = true;
            let after = self.taken.iter().map(|(_, to)| *to).min().unwrap_or(0);
            let free: Vec<Value> = self
                .input
                .found
                .iter()
                .filter(|f| f.kind == FoundKind::Number && f.from >= after && !self.is_taken(f))
                .filter_map(|f| of_find(Takes::Duration, f))
                .collect();
            let mut empty = orders.iter_mut().filter(|o| open(o));
            if let ([lasts], Some(order), None) = (free.as_slice(), empty.next(), empty.next()) {
                order.slots.insert("lasts".to_owned(), lasts.clone());
            }
        }
        // 'That rice is still hard, fifteen more', where the rice is timed.
        let runs = |name: &str| self.situation.timers.iter().any(|t| t.name == name);
        let named = self
            .input
            .found
            .iter()
            .find_map(|f| match (f.kind, &f.value) {
                (FoundKind::Timer, FoundValue::Text(name)) if runs(name) => Some(name.clone()),
                _ => None,
            });
        if let (Some(name), [order]) = (named, &mut *orders)
            && order.intent == "needs_longer"
            && order.slots.contains_key("by")
            && self.situation.asked.is_none()
            && self.situation.rings.is_none()
        {
            "add_time".clone_into(&mut order.intent);
            order.slots.insert("timer".to_owned(), json!(name));
        }
        // Two deeds with one thing, though each has words of its own.
        let twice = |a: &Printed| {
            orders.iter().any(|b| {
                a.intent != b.intent
                    && a.text("ingredient").is_some()
                    && a.text("ingredient") == b.text("ingredient")
            })
        };
        self.unsure |= orders.iter().any(twice);
    }

    fn order(&mut self, head: &str) -> Option<Printed> {
        let (name, constants) = head.split_once(';').map_or((head, ""), |(n, c)| (n, c));
        let mut values = Map::new();
        if name == "ask.friction" {
            let labels: [&[&str]; 4] = [&["dough"], &["flour"], &["room", "kitchen"], &["water"]];
            if let Some(four) = mend::labelled(&self.input.words, &self.input.found, &labels) {
                for ((slot, ..), n) in slots_of(name).iter().zip(four) {
                    values.insert((*slot).to_owned(), plain(n));
                }
                return self.whole(name, values);
            }
        }
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
        self.mended(name, &mut values);
        self.whole(name, values)
    }

    /// What a rule knows better than the network.
    fn mended(&mut self, name: &str, values: &mut Map<String, Value>) {
        let words = &self.input.words;
        match name {
            "ask.swap" => {
                if let Some((missing, there)) = mend::swap(words, &self.input.found) {
                    values.insert("of".to_owned(), json!(missing));
                    values.insert("with".to_owned(), json!(there));
                }
            }
            "ask.preferment" => {
                let kinds = ["poolish", "biga", "sponge", "levain"];
                if let Some(kind) = words.iter().find(|w| kinds.contains(&w.as_str())) {
                    values.insert("kind".to_owned(), json!(kind));
                }
                let share = values.get("percent").and_then(Value::as_f64);
                if let Some(share) = share.filter(|n| *n < 1.0) {
                    values.insert("percent".to_owned(), plain(100.0 * share));
                }
            }
            // A length that was said, and that the network took for nothing.
            "start_timer" if !self.frame.contains('+') && !values.contains_key("lasts") => {
                let said: Vec<Value> = self
                    .input
                    .found
                    .iter()
                    .filter(|f| matches!(f.kind, FoundKind::Duration | FoundKind::Number))
                    .filter(|f| !self.is_denied(f))
                    .filter(|f| !self.runs.iter().any(|r| r.from < f.to && f.from < r.to))
                    .filter_map(|f| of_find(Takes::Duration, f))
                    .collect();
                if let Some(first) = said.first() {
                    self.unsure = true;
                    if said.iter().all(|v| v == first) {
                        values.insert("lasts".to_owned(), first.clone());
                    }
                }
            }
            // What is put right keeps its name.
            "start_timer" if self.frame.starts_with("undo+") && !values.contains_key("name") => {
                let last = self.situation.last.as_ref().and_then(|l| l.order.as_ref());
                if let Some(name) = last
                    .filter(|o| o.intent == "start_timer")
                    .and_then(|o| o.text("name"))
                {
                    values.insert("name".to_owned(), json!(name));
                }
            }
            _ => {}
        }
    }

    /// The value that the last order had in its place, where this puts it right.
    fn put_right(&self, slot: &str) -> Option<f64> {
        if !self.frame.starts_with("undo+") {
            return None;
        }
        let last = self.situation.last.as_ref()?.order.as_ref()?;
        match (last.intent.as_str(), slot) {
            ("start_timer", "lasts") => last.slots.get("lasts")?.as_f64(),
            ("scale", "portions") => last.slots.get("by")?.get("portions")?.as_f64(),
            _ => None,
        }
    }

    /// The new number of a correction: none that was there, and none after 'not'.
    fn corrected(&self, takes: Takes, old: f64) -> Option<Value> {
        let scale = if takes == Takes::Duration {
            MINUTE_MS
        } else {
            1.0
        };
        let value = |n: f64| {
            let n = n * scale;
            (n > 0.0 && n <= LONGEST_MS).then(|| plain(n.round()))
        };
        let numbers = || {
            self.input
                .found
                .iter()
                .filter(|f| f.kind == FoundKind::Number)
        };
        if let Some(n) =
            numbers().find_map(|f| mend::beside(&self.input.words[f.from..f.to], old / scale))
        {
            return value(n);
        }
        let all: Vec<(bool, usize, Value)> = self
            .input
            .found
            .iter()
            .filter(|f| !self.is_denied(f))
            .filter_map(|f| {
                let value = of_find(takes, f)?;
                let whole = f.kind == FoundKind::Duration;
                (value.as_f64() != Some(old)).then_some((whole, f.from, value))
            })
            .collect();
        let last = all.iter().max_by_key(|(whole, from, _)| (*whole, *from))?;
        Some(last.2.clone())
    }

    /// It was said to be what is not meant: `not fifty`, `instead of fifty`.
    fn is_denied(&self, f: &Mention) -> bool {
        let word = |back: usize| {
            f.from
                .checked_sub(back)
                .map_or("", |k| self.input.words[k].as_str())
        };
        let small = ["the", "a", "an", "for", "just", "only"];
        let denies = |w: &str| ["not", "than"].contains(&w);
        denies(word(1))
            || small.contains(&word(1)) && denies(word(2))
            || word(1) == "of" && ["instead", "place"].contains(&word(2))
    }

    /// What does not stand in a slot of its own name.
    fn whole(&mut self, name: &str, mut values: Map<String, Value>) -> Option<Printed> {
        if let Some(question) = name.strip_prefix("ask.") {
            if question == "convert" {
                let number = self
                    .amount_at_number()
                    .or_else(|| self.one_of_unit(&values))?;
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
                Some(("factor", n)) => {
                    let said = mend::factor(&self.input.words);
                    json!({ "factor": said.map_or_else(|| n.parse().ok(), Some)? })
                }
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
            && said(&[
                "after", "gone", "passed", "into", "past", "run", "been", "started", "running",
                "had", "done",
            ])
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
        // And the other way round: 'with ten to go'.
        let to_go = self
            .input
            .words
            .windows(2)
            .any(|w| w[0] == "to" && w[1] == "go");
        if name == "add_cue"
            && (to_go || said(&["left", "remaining", "remains", "lacks", "lack"]))
            && !said(&[
                "after", "gone", "passed", "into", "past", "been", "had", "done",
            ])
            && !values.contains_key("left")
            && let Some(at) = values.remove("at")
        {
            values.insert("left".to_owned(), at);
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
        if let Some(old) = self.put_right(slot) {
            let new = self.corrected(takes, old);
            self.unsure |= new.is_none();
            return new;
        }
        if takes == Takes::Words && ["text", "say"].contains(&slot) {
            return self.told(slot);
        }
        if let Some(run) = self.runs.iter_mut().find(|r| r.slot == slot && !r.used) {
            run.used = true;
            let (from, to) = (run.from, run.to);
            if takes == Takes::Mass
                && let Some((value, at)) = self.amount_rather(from, to)
            {
                self.taken.push(at);
                return Some(value);
            }
            if takes == Takes::Timer
                && let Some(name) = self.live_rather(from, to)
            {
                self.unsure = true;
                return Some(json!(name));
            }
            if let Some((value, at)) = self.value(takes, from, to) {
                // A bare number, where a length of time was said as well.
                let lengths = |f: &&Mention| f.kind == FoundKind::Duration;
                let bare = |(a, b)| {
                    !self
                        .input
                        .found
                        .iter()
                        .filter(lengths)
                        .any(|f| f.from < b && a < f.to)
                };
                let another = self.input.found.iter().filter(lengths).any(|f| {
                    !self.is_taken(f) && !self.runs.iter().any(|r| r.from < f.to && f.from < r.to)
                });
                self.unsure |= takes == Takes::Duration && at.is_some_and(bare) && another;
                self.taken.extend(at);
                return Some(value);
            }
            // It was said, and cannot be read: nothing else stands in for it unasked.
            self.unsure = true;
        }
        if takes == Takes::Step
            && needed
            && let Some(n) = self.input.words.iter().find_map(|w| ordinal(w))
        {
            return Some(json!(n));
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
            .filter(|f| !(self.is_taken(f) || is_measured(takes) && self.is_denied(f)))
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

    /// `Meat is out, stop the browning`: the one timer that is live, where the run names none.
    fn live_rather(&self, from: usize, to: usize) -> Option<String> {
        let s = self.situation;
        let live = |name: &str| {
            s.timers.iter().any(|t| t.name == name) || s.rings.as_deref() == Some(name)
        };
        let mut named: Vec<(bool, &String)> = Vec::new();
        for f in self
            .input
            .found
            .iter()
            .filter(|f| f.kind == FoundKind::Timer)
        {
            if let FoundValue::Text(name) = &f.value
                && live(name)
            {
                named.push((f.from < to && from < f.to, name));
            }
        }
        let (_, first) = named.first()?;
        let one = named.iter().all(|(here, name)| !here && name == first);
        one.then(|| (*first).clone())
    }

    /// `One roll is eighty gram`: the amount, where the run holds but a bare number and one amount is free.
    fn amount_rather(&self, from: usize, to: usize) -> Option<(Value, (usize, usize))> {
        let here = |f: &&Mention| f.from < to && from < f.to;
        let amounts = || {
            let all = self.input.found.iter();
            all.filter(|f| f.kind == FoundKind::Amount && !self.is_taken(f))
        };
        if amounts().any(|f| here(&f)) {
            return None;
        }
        let slot_here = self.runs.iter().find(|r| r.from == from).map(|r| &r.slot);
        let claimed = |f: &&Mention| {
            let mut others = self
                .runs
                .iter()
                .filter(|r| !r.used && Some(&r.slot) != slot_here);
            others.any(|r| r.from < f.to && f.from < r.to)
        };
        let mut free = amounts().filter(|f| !claimed(f) && !self.is_denied(f));
        let one = free.next().filter(|_| free.next().is_none())?;
        Some((of_find(Takes::Mass, one)?, (one.from, one.to)))
    }

    /// What is to be told at its time.
    fn told(&mut self, slot: &str) -> Option<Value> {
        let words = &self.input.words;
        let times: Vec<(usize, usize)> = self
            .input
            .found
            .iter()
            .filter(|f| matches!(f.kind, FoundKind::Duration | FoundKind::Clock))
            .map(|f| (f.from, f.to))
            .collect();
        let by_rule = mend::told(words, &times);
        let run = self.runs.iter_mut().find(|r| r.slot == slot && !r.used);
        let said = run.map(|r| {
            r.used = true;
            words[r.from..r.to].join(" ")
        });
        let text = match (said, by_rule) {
            (Some(said), Some(rule)) if mend::says_little(&said) => rule,
            (Some(said), _) => said,
            (None, rule) => {
                self.unsure = true;
                rule?
            }
        };
        Some(json!(text))
    }

    fn is_taken(&self, f: &Mention) -> bool {
        self.taken.iter().any(|(a, b)| f.from < *b && *a < f.to)
    }

    /// The find that covers most of a run, and where it stands; of equals the one that is nearer to the talk.
    fn value(
        &self,
        takes: Takes,
        from: usize,
        to: usize,
    ) -> Option<(Value, Option<(usize, usize)>)> {
        let covers = |f: &Mention| f.to.min(to).saturating_sub(f.from.max(from));
        // 'Not fifty, twenty five': a number that began before the run is not the run's.
        let measured = is_measured(takes);
        let begins =
            |f: &Mention| !measured || f.from >= from && !self.is_taken(f) && !self.is_denied(f);
        let mut best: Option<(usize, bool, Value)> = None;
        let mut place = None;
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
                place = measured.then_some((f.from, f.to));
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
            let text = bare.join(" ");
            let is_number = takes != Takes::Words && parse_words(&text).is_some();
            (!bare.is_empty() && !is_number).then(|| json!(text))
        };
        let value = match takes {
            Takes::Words => words(),
            Takes::Timer | Takes::Thing | Takes::Food => best.map(|(_, _, v)| v).or_else(words),
            Takes::Duration | Takes::Number => best.map(|(_, _, v)| v).or_else(|| {
                let text = self.input.words[from..to].join(" ");
                let denied = |f: &Mention| f.from == from && self.is_denied(f);
                if self.input.found.iter().any(denied) {
                    return None;
                }
                // 'The chicken one' is no number.
                let number = parse_words(&text).filter(|n| *n > 0.0 && text != "one")?;
                Some(plain(if takes == Takes::Duration {
                    number * MINUTE_MS
                } else {
                    number
                }))
            }),
            _ => best.map(|(_, _, v)| v),
        };
        value.map(|v| (v, place))
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
        let here = |f: &&Mention| runs.iter().any(|r| r.from < f.to && f.from < r.to);
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

    /// `Cocoa, cup, how many grams`: one of the unit that it is not to be told in.
    fn one_of_unit(&self, values: &Map<String, Value>) -> Option<(f64, &'static str)> {
        let to = values.get("to")?.as_str()?;
        let units = self
            .input
            .found
            .iter()
            .filter(|f| f.kind == FoundKind::Unit);
        let mut others = units.filter(|f| !matches!(&f.value, FoundValue::Text(u) if u == to));
        let unit = others.next()?;
        let said = self.input.words[unit.from..unit.to].join(" ");
        let (_, unit) = others
            .next()
            .is_none()
            .then(|| parse_amount(&format!("one {said}")))??;
        Some((1.0, unit))
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

/// A number, of which one that was taken back is not meant.
fn is_measured(takes: Takes) -> bool {
    matches!(takes, Takes::Duration | Takes::Number | Takes::Mass)
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
fn of_find(takes: Takes, found: &Mention) -> Option<Value> {
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
        (Takes::Duration, FoundKind::Duration, FoundValue::Number(ms))
            if *ms > 0.0 && *ms <= LONGEST_MS =>
        {
            Some(json!(ms.round() as u64))
        }
        (Takes::Duration, FoundKind::Number, FoundValue::Number(n))
            if *n >= 1.0 && n * MINUTE_MS <= LONGEST_MS =>
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
