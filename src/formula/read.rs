//! From the text of a formula file to a checked [`Formula`]: every fault with its line and column, all at once.

use serde_spanned::Spanned;

use super::error::{Fault, FormulaError, fault_at};
use super::file::{FormulaFile, IngredientFile, StepFile, TimerFile};
use super::look::places;
use super::model::{Cue, Formula, Ingredient, Makes, Oven, Step, TimerSpec, Told, Use};
use super::span::{parse_span, parse_window};
use crate::clean;
use crate::measure::spoken_time::say_duration;
use crate::measure::tin::{self, Shape, Size};
use crate::measure::{
    Amount, Egg, Kind, Mass, MeasureError, Region, TableIngredient as Row, Temperature, Unit,
    ingredients as table,
};
use crate::safety::{self, StepSeen};
use crate::time::Span;

/// Hands-on time of a step whose author gave none.
const HANDS_ON: Span = Span::minutes(2);
/// Time that an oven needs to get hot, where the author gave none (common practice, no source).
const OVEN_LEAD: Span = Span::minutes(20);
/// The largest formula that is read, in bytes: a thousand times what a cook writes.
pub const LARGEST: usize = 4 << 20;

/// Reads a formula. `file` is only for messages.
///
/// # Errors
/// Every fault found, each with its line and column.
pub fn read(file: &str, text: &str) -> Result<Formula, FormulaError> {
    let fail = |faults| {
        Err(FormulaError {
            file: file.to_owned(),
            faults,
        })
    };
    if text.len() > LARGEST {
        let what = format!(
            "expected a formula of at most {LARGEST} bytes, found {}",
            text.len()
        );
        return fail(vec![Fault {
            line: 0,
            column: 0,
            width: 0,
            what,
        }]);
    }
    let raw: FormulaFile = match toml::from_str(text) {
        Ok(raw) => raw,
        Err(e) => {
            let at = e.span().unwrap_or(0..0);
            return fail(vec![fault_at(text, at, with_nearest(e.message()))]);
        }
    };
    let steering: Vec<Fault> = clean::in_toml(text)
        .into_iter()
        .map(|found| fault_at(text, found.at.clone(), found.to_string()))
        .collect();
    if !steering.is_empty() {
        return fail(steering);
    }
    let mut reader = Reader {
        text,
        faults: Vec::new(),
        region: Region::Metric,
    };
    let formula = reader.formula(raw);
    if reader.faults.is_empty() {
        Ok(formula)
    } else {
        reader.faults.sort_by_key(|f| (f.line, f.column));
        fail(reader.faults)
    }
}

/// Adds the nearest key to serde's message on an unknown one.
fn with_nearest(message: &str) -> String {
    let mut ticks = message.split('`').skip(1).step_by(2);
    if message.starts_with("unknown field")
        && let Some(found) = ticks.next()
        && let Some(near) = nearest(found, ticks)
    {
        return format!("unknown key `{found}`; did you mean `{near}`?");
    }
    message
        .replace("unknown field", "unknown key")
        .replace("missing field", "missing key")
}

/// The candidate nearest to what was found, when one is near.
fn nearest<'a>(found: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    candidates
        .map(|c| (strsim::jaro_winkler(found, c), c))
        .filter(|(score, _)| *score > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, c)| c)
}

/// The mass of eggs, or of their whites or yolks, that are counted by a size.
fn sized_eggs(said: &str, row: Option<&Row>, amount: &Amount, region: Region) -> Option<Mass> {
    let (n, _) = amount.count()?;
    let one = Egg::of_size(Egg::size_in(said)?, region)?;
    let each = match row?.name.as_str() {
        "egg" => one.inside_g,
        "egg white" => one.white_g(),
        "egg yolk" => one.yolk_g(),
        _ => return None,
    };
    Some(Mass::grams(n * each))
}

struct Reader<'t> {
    text: &'t str,
    faults: Vec<Fault>,
    region: Region,
}

/// Words in the name of a wait that say that it is a cold one.
const COLD: [&str; 7] = [
    "cold",
    "chill",
    "fridge",
    "refrigerat",
    "freez",
    "retard",
    "cool",
];

impl Reader<'_> {
    fn fault<T>(&mut self, at: &Spanned<T>, what: impl Into<String>) {
        self.faults
            .push(fault_at(self.text, at.span(), what.into()));
    }

    /// The value of a `Result`, or its error as a fault and nothing.
    fn take<T, U, E: std::fmt::Display>(
        &mut self,
        at: &Spanned<T>,
        name: &str,
        value: Result<U, E>,
    ) -> Option<U> {
        value
            .map_err(|e| self.fault(at, format!("{name}: {e}")))
            .ok()
    }

    fn formula(&mut self, raw: FormulaFile) -> Formula {
        if raw.name.get_ref().trim().is_empty() {
            self.fault(&raw.name, "name: expected words, found nothing");
        }
        if let Some(region) = &raw.region {
            match Region::find(region.get_ref()) {
                Some(r) => self.region = r,
                None => self.fault(
                    region,
                    format!(
                        "region: expected `us`, `uk`, `metric` or `au`, found `{}`",
                        region.get_ref()
                    ),
                ),
            }
        }
        let makes = self.makes(&raw);
        let tin = self.tin(&raw);
        let mut oven = self.oven(&raw);
        let dough_c = raw
            .dough
            .as_ref()
            .and_then(|d| d.temperature.as_ref())
            .and_then(|t| {
                let read = Temperature::parse(t.get_ref());
                self.take(t, "dough temperature", read)
                    .map(Temperature::as_celsius)
            });
        if raw.ingredient.get_ref().is_empty() {
            self.fault(
                &raw.ingredient,
                "ingredient: expected at least one, found none",
            );
        }
        if raw.step.get_ref().is_empty() {
            self.fault(&raw.step, "step: expected at least one, found none");
        }
        let mut ingredients: Vec<Ingredient> = Vec::new();
        for file in raw.ingredient.get_ref() {
            if ingredients.iter().any(|i| i.id == *file.id.get_ref()) {
                self.fault(&file.id, format!("id `{}` stands twice", file.id.get_ref()));
            }
            let one = self.ingredient(file);
            ingredients.push(one);
        }
        let has_oven = oven.as_ref().map(|o| o.heat_c);
        let mut steps: Vec<Step> = Vec::new();
        for file in raw.step.get_ref() {
            let step = self.step(file, &ingredients, has_oven);
            if let Some(at) = file.within.as_ref().filter(|_| steps.is_empty()) {
                self.fault(
                    at,
                    "within: expected a step before this one, found the first",
                );
            }
            steps.push(step);
        }
        if let (None, Some(heat_c)) = (&oven, steps.iter().find_map(|s| s.oven_c)) {
            oven = Some(Oven {
                heat_c,
                lead: OVEN_LEAD,
            });
        }
        self.parts(&raw, &ingredients);
        add_dangers(&mut steps, &ingredients);
        self.used_once(&raw, &ingredients, &steps);
        let also = self.other_names(&raw.also);
        let name = raw.name.into_inner().trim().to_owned();
        Formula {
            name,
            about: raw.about.trim().to_owned(),
            told: Told {
                also,
                source: raw.source,
                note: raw.note,
                equipment: raw.equipment,
                keeps: raw.keeps,
                picture: raw.picture,
                tags: raw.tags,
            },
            makes,
            tin,
            oven,
            dough_c,
            ingredients,
            steps,
        }
    }

    fn other_names(&mut self, raw: &[Spanned<String>]) -> Vec<String> {
        for at in raw.iter().filter(|at| at.get_ref().trim().is_empty()) {
            self.fault(at, "also: expected a name, found nothing");
        }
        raw.iter()
            .map(|at| at.get_ref().trim().to_owned())
            .collect()
    }

    /// A recording lies beside the formula or below it: nothing else of the machine is ever played.
    fn recording(&mut self, at: &Spanned<String>) -> Option<String> {
        let found = at.get_ref().trim();
        let inside =
            |part: &str| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', ':']);
        let sound = found.to_lowercase().ends_with(".flac");
        if !sound || !found.split('/').all(inside) {
            self.fault(
                at,
                format!("recording: expected a sound file in the formula's own folder such as `loaf-step-2.flac`, found `{found}`"),
            );
            return None;
        }
        Some(found.to_owned())
    }

    fn number(&mut self, at: &Spanned<f64>, name: &str, from: f64, to: f64) -> f64 {
        let n = *at.get_ref();
        if !(n.is_finite() && (from..=to).contains(&n)) {
            self.fault(
                at,
                format!("{name}: expected a number from {from} to {to}, found `{n}`"),
            );
            return from;
        }
        n
    }

    fn makes(&mut self, raw: &FormulaFile) -> Makes {
        let m = &raw.makes;
        let portions = self.number(&m.portions, "portions", 0.1, 10_000.0);
        let portions_to = m.portions_to.as_ref().map(|to| {
            let from = portions.min(10_000.0);
            self.number(to, "portions_to", from, 10_000.0)
        });
        Makes {
            portions,
            portions_to: portions_to.filter(|to| *to > portions),
            pieces: m
                .pieces
                .as_ref()
                .map_or(1.0, |p| self.number(p, "pieces", 0.1, 10_000.0)),
            piece: m.piece.trim().to_owned(),
            loss_percent: m
                .loss_percent
                .as_ref()
                .map_or(0.0, |p| self.number(p, "loss_percent", 0.0, 80.0)),
        }
    }

    fn tin(&mut self, raw: &FormulaFile) -> Option<Size> {
        let tin = raw.tin.as_ref()?;
        let (found, size) = (tin.shape.get_ref(), tin.size.get_ref().trim());
        let Some(shape) = Shape::find(found) else {
            self.fault(
                &tin.shape,
                format!(
                    "tin shape: expected `round`, `square`, `rectangle` or `loaf`, found `{found}`"
                ),
            );
            return None;
        };
        let sides = tin::read(size).map(|(_, sides)| sides);
        let read = sides.and_then(|sides| Size::new(shape, &sides));
        match read {
            Ok(read) if read.depth_cm.is_some() => Some(read),
            _ => {
                let want = match shape {
                    Shape::Round | Shape::Square => "20 x 6 cm",
                    Shape::Rectangle | Shape::Loaf => "23 x 13 x 7 cm",
                    Shape::Ring => "24 x 8 x 10 cm",
                };
                self.fault(
                    &tin.size,
                    format!("tin size: expected sizes such as `{want}`, found `{size}`"),
                );
                None
            }
        }
    }

    fn oven(&mut self, raw: &FormulaFile) -> Option<Oven> {
        let oven = raw.oven.as_ref()?;
        let heat_c = self.heat(&oven.heat, "oven heat")?;
        let lead = oven.lead.as_ref().map_or(Some(OVEN_LEAD), |l| {
            let read = parse_span(l.get_ref());
            self.take(l, "oven lead", read)
        })?;
        Some(Oven { heat_c, lead })
    }

    /// The heat of an oven, in Celsius.
    fn heat(&mut self, at: &Spanned<String>, name: &str) -> Option<f64> {
        let read = Temperature::parse(at.get_ref());
        let heat_c = self.take(at, name, read)?.as_celsius();
        if !(30.0..=350.0).contains(&heat_c) {
            let found = at.get_ref();
            self.fault(
                at,
                format!("{name}: expected 30 C to 350 C, found `{found}`"),
            );
        }
        Some(heat_c)
    }

    /// A step's part of the dish is one that has ingredients.
    fn parts(&mut self, raw: &FormulaFile, ingredients: &[Ingredient]) {
        let parts: Vec<&str> = ingredients
            .iter()
            .filter_map(|i| i.part.as_deref())
            .collect();
        for at in raw.step.get_ref().iter().filter_map(|s| s.part.as_ref()) {
            let found = at.get_ref().trim();
            if !parts.is_empty() && !parts.contains(&found) {
                let near = nearest(found, parts.iter().copied());
                let hint = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
                self.fault(
                    at,
                    format!("part: no ingredient belongs to `{found}`{hint}"),
                );
            }
        }
    }

    /// The amount of an ingredient, as far as it can be measured.
    fn measured(
        &mut self,
        at: &Spanned<String>,
        id: &str,
        row: Option<&Row>,
        name: &str,
    ) -> Measured {
        let text = at.get_ref().trim();
        if is_unmeasured(text) {
            return Measured {
                words: Some(text.to_owned()),
                ..Measured::default()
            };
        }
        let read = Amount::parse(text, self.region).map_err(|e| match e {
            MeasureError::Amount { ref cause, .. }
                if matches!(**cause, MeasureError::NotANumber { .. }) =>
            {
                format!("{e}; or words such as `to taste`, `for frying`, `as needed`")
            }
            e => e.to_string(),
        });
        let Some(amount) = self.take(at, id, read) else {
            return Measured::default();
        };
        let one = match amount.parts.as_slice() {
            [part] => Some(*part),
            _ => None,
        };
        let spread = one
            .filter(|p| p.low < p.high)
            .map(|p| (p.low / p.middle(), p.high / p.middle()));
        // What goes by feel is said as it is written, and never as a weight.
        if let Some(part) = one.filter(|p| p.unit.is_approximate()) {
            let count = Some((part.middle(), part.unit.singular().to_owned()));
            return Measured {
                count,
                spread,
                ..Measured::default()
            };
        }
        let mut found = Measured {
            count: amount.count(),
            spread,
            ..Measured::default()
        };
        // '3 large eggs' weigh what large ones weigh where the kitchen is.
        let sized = sized_eggs(&format!("{text} {name}"), row, &amount, self.region);
        let weighed = match (sized.map_or_else(|| amount.mass(row), Ok), one) {
            (Ok(mass), _) => Ok(mass),
            // So many of a thing whose mass nobody knows stays so many.
            (Err(_), Some(part)) if part.each.is_none() && part.middle() > 0.0 => {
                found.count = Some((part.middle(), counted_as(part.unit).to_owned()));
                return found;
            }
            (Err(e), _) => Err(e),
        };
        if let Some(mass) = self.take(at, id, weighed) {
            found.mass = mass;
            if mass.as_grams() <= 0.0 {
                self.fault(
                    at,
                    format!("{id}: expected an amount above nothing, found `{text}`"),
                );
            }
        }
        found
    }

    fn ingredient(&mut self, file: &IngredientFile) -> Ingredient {
        let id = file.id.get_ref().clone();
        let good = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !id.starts_with(|c: char| c.is_ascii_lowercase()) || !id.chars().all(good) {
            self.fault(
                &file.id,
                format!("id: expected lower-case letters, digits and `-`, beginning with a letter, found `{id}`"),
            );
        }
        let name = file
            .name
            .clone()
            .unwrap_or_else(|| id.replace('-', " "))
            .trim()
            .to_owned();
        let row = match &file.table {
            Some(wanted) => {
                let row = table().find(wanted.get_ref());
                if row.is_none() {
                    let found = wanted.get_ref();
                    self.fault(
                        wanted,
                        format!("{id}: no ingredient `{found}` in the tables"),
                    );
                }
                row
            }
            None => table()
                .find(&name)
                .or_else(|| table().find(&id.replace('-', " "))),
        };
        let Measured {
            mass,
            count,
            spread,
            words,
        } = match &file.amount {
            Some(at) => self.measured(at, &id, row, &name),
            None => Measured {
                words: Some("as needed".to_owned()),
                ..Measured::default()
            },
        };
        if let Some(household) = &file.household {
            let read = Amount::parse(household.get_ref(), self.region);
            if let Some(h) = self.take(household, &format!("{id}: household"), read)
                && let Ok(m) = h.mass(row)
                && h.parts.iter().all(|p| p.unit.kind() != Kind::Mass)
                && mass.as_grams() > 0.0
            {
                let ratio = m.as_grams() / mass.as_grams();
                if !(0.6..=1.7).contains(&ratio) {
                    let a = file.amount.as_ref().map_or("", |a| a.get_ref().as_str());
                    let h = household.get_ref();
                    self.fault(
                        household,
                        format!("{id}: household `{h}` is about {:.0} g by the tables, but the amount is `{a}`", m.as_grams()),
                    );
                }
            }
        }
        let role = file.role.as_ref().map(|r| r.get_ref().as_str());
        if let (Some(at), Some(found)) = (&file.role, role)
            && !matches!(found, "flour" | "water" | "apart")
        {
            self.fault(
                at,
                format!("{id}: role: expected `flour`, `water` or `apart`, found `{found}`"),
            );
        }
        if let (Some(at), Some("flour" | "water")) = (&file.role, role)
            && mass.as_grams() <= 0.0
        {
            let found = at.get_ref();
            self.fault(
                at,
                format!("{id}: only what has a mass can count as {found}"),
            );
        }
        if let Some(at) = &file.say {
            let found = at.get_ref();
            let spelt = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'');
            if !found.contains(char::is_alphabetic) || !found.chars().all(spelt) {
                self.fault(
                    at,
                    format!("{id}: say: expected the name spelt for the ear, letters alone such as `en doo ya`, found `{found}`"),
                );
            }
        }
        for at in &file.or {
            if at.get_ref().trim().is_empty() {
                self.fault(at, format!("{id}: or: expected a name, found nothing"));
            }
        }
        let mut allergens: Vec<String> = Vec::new();
        for a in &file.allergens {
            match safety::allergen(a.get_ref()) {
                Some(word) if !allergens.iter().any(|x| x == word) => {
                    allergens.push(word.to_owned());
                }
                Some(_) => {}
                None => {
                    let found = a.get_ref();
                    self.fault(
                        a,
                        format!("{id}: expected one of the fourteen allergens of EU annex II, found `{found}`"),
                    );
                }
            }
        }
        Ingredient {
            also: file.also.iter().map(|a| a.trim().to_lowercase()).collect(),
            say: file.say.as_ref().map(|s| s.get_ref().trim().to_owned()),
            table: row.map_or_else(|| name.clone(), |r| r.name.clone()),
            name,
            mass,
            count,
            spread,
            words,
            extra: said(file.extra.as_deref()),
            note: said(file.note.as_deref()),
            optional: file.optional,
            or: file
                .or
                .iter()
                .map(|o| o.get_ref().trim().to_owned())
                .collect(),
            untaken: Vec::new(),
            part: file
                .part
                .as_ref()
                .and_then(|p| said(Some(p.get_ref().as_str()))),
            household: file.household.as_ref().map(|h| h.get_ref().clone()),
            is_flour: role == Some("flour")
                || role.is_none() && mass.as_grams() > 0.0 && row.is_some_and(|r| r.is_flour),
            is_water: role == Some("water")
                || role.is_none() && id == "water" && mass.as_grams() > 0.0,
            apart: role == Some("apart"),
            allergens,
            id,
        }
    }

    fn step(&mut self, file: &StepFile, ingredients: &[Ingredient], oven_c: Option<f64>) -> Step {
        let title = file.title.trim().to_owned();
        let mut uses = Vec::new();
        for u in &file.uses {
            if let Some(found) = self.part(u, ingredients) {
                uses.push(found);
            }
        }
        for id in places(file.text.get_ref()) {
            if !ingredients.iter().any(|i| i.id == id) {
                let near = nearest(&id, ingredients.iter().map(|i| i.id.as_str()));
                let hint = near.map_or(String::new(), |n| format!("; did you mean `{{{n}}}`?"));
                self.fault(
                    &file.text,
                    format!("step `{title}`: `{{{id}}}` is no ingredient of this formula{hint}"),
                );
            }
        }
        if file.weigh_up && file.uses.is_empty() {
            self.fault(
                &file.text,
                format!("step `{title}`: a weigh-up needs `uses`"),
            );
        }
        let timers: Vec<TimerSpec> = file.timer.iter().filter_map(|t| self.timer(t)).collect();
        if file.oven && oven_c.is_none() {
            self.fault(
                &file.text,
                format!("step `{title}` uses the oven, but the formula has no [oven]"),
            );
        }
        let own_heat = file.heat.as_ref().and_then(|h| self.heat(h, "heat"));
        if let (true, Some(at)) = (file.oven, &file.heat) {
            self.fault(
                at,
                format!("step `{title}`: a step has one of `oven` and `heat`"),
            );
        }
        let hands_on = file
            .hands_on
            .as_ref()
            .and_then(|at| self.take(at, "hands_on", span_or_none(at.get_ref())))
            .unwrap_or(HANDS_ON);
        let within = file
            .within
            .as_ref()
            .and_then(|at| self.take(at, "within", span_or_none(at.get_ref())));
        let recording = file.recording.as_ref().and_then(|at| self.recording(at));
        let cautions = file.cautions.iter().map(|c| c.trim().to_owned()).collect();
        Step {
            title,
            text: file
                .text
                .get_ref()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" "),
            recording,
            uses,
            weigh_up: file.weigh_up,
            timers,
            look: file.look.clone(),
            cautions,
            dangers: Vec::new(),
            hands_on,
            oven_c: own_heat.or(oven_c.filter(|_| file.oven)),
            part: file
                .part
                .as_ref()
                .and_then(|p| said(Some(p.get_ref().as_str()))),
            alongside: file.alongside,
            within,
        }
    }

    /// `salt`, `1/2 butter`.
    fn part(&mut self, at: &Spanned<String>, ingredients: &[Ingredient]) -> Option<Use> {
        let text = at.get_ref().trim();
        let (part, id) = match text.split_once(' ') {
            None => (1.0, text),
            Some((fraction, id)) => {
                let part = fraction
                    .split_once('/')
                    .and_then(|(a, b)| Some(a.parse::<f64>().ok()? / b.parse::<f64>().ok()?))
                    .filter(|p| p.is_finite() && *p > 0.0 && *p <= 1.0);
                let Some(part) = part else {
                    self.fault(at, format!("uses: expected an id, or a part and an id such as `1/2 butter`, found `{text}`"));
                    return None;
                };
                (part, id.trim())
            }
        };
        let found = ingredients.iter().position(|i| i.id == id);
        if found.is_none() {
            let near = nearest(id, ingredients.iter().map(|i| i.id.as_str()));
            let hint = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
            self.fault(
                at,
                format!("uses: `{id}` is no ingredient of this formula{hint}"),
            );
        }
        found.map(|ingredient| Use { ingredient, part })
    }

    fn timer(&mut self, file: &TimerFile) -> Option<TimerSpec> {
        let name = file.name.get_ref().trim().to_lowercase();
        if name.is_empty() {
            self.fault(&file.name, "timer name: expected words, found nothing");
        }
        let read = parse_window(file.lasts.get_ref());
        let (lasts, most) = self.take(&file.lasts, &format!("timer `{name}`"), read)?;
        let mut cues = Vec::new();
        for c in &file.cue {
            let (at, left) = match (&c.at, &c.left) {
                (Some(at), None) => (at, false),
                (None, Some(left)) => (left, true),
                _ => {
                    self.fault(
                        &c.say,
                        format!("timer `{name}`: a cue has one of `at` and `left`"),
                    );
                    continue;
                }
            };
            let read = parse_span(at.get_ref());
            let Some(span) = self.take(at, &format!("timer `{name}`: cue"), read) else {
                continue;
            };
            if span >= lasts {
                let (found, lasts) = (at.get_ref(), file.lasts.get_ref());
                self.fault(
                    at,
                    format!("timer `{name}`: a cue at `{found}` is not inside `{lasts}`"),
                );
                continue;
            }
            let rest = Span::millis(lasts.as_millis() - span.as_millis());
            let say = c.say.get_ref().trim().to_owned();
            cues.push(Cue {
                at: if left { rest } else { span },
                left: left.then_some(span),
                say,
            });
        }
        cues.sort_by_key(|c| c.at);
        let kept_c = file.kept_at.as_ref().and_then(|at| {
            let read = Temperature::parse(at.get_ref()).map(Temperature::as_celsius);
            self.take(at, &format!("timer `{name}`: kept_at"), read)
        });
        let lower = name.to_lowercase();
        let cold = file.cold || COLD.iter().any(|w| lower.contains(w));
        // A range rings at its short end, and asks.
        let look = most.map_or(file.look.clone(), |most| {
            let question = file.look.as_deref().unwrap_or("Is it ready?");
            let may = if cold { "stay" } else { "take" };
            Some(format!(
                "{question} It may {may} up to {}.",
                say_duration(most)
            ))
        });
        Some(TimerSpec {
            name,
            lasts,
            most,
            cues,
            look,
            alongside: file.alongside,
            cold,
            kept_c,
        })
    }

    /// Everything goes in exactly once, parts added up; an ingredient that no step uses is a fault.
    fn used_once(&mut self, raw: &FormulaFile, ingredients: &[Ingredient], steps: &[Step]) {
        for (at, i) in ingredients.iter().enumerate() {
            let used: f64 = steps.iter().map(|s| s.part_of(at)).sum();
            let Some(file) = raw.ingredient.get_ref().get(at) else {
                continue;
            };
            if used == 0.0 {
                self.fault(
                    &file.id,
                    format!("no step uses `{}`: it would be forgotten", i.id),
                );
            } else if i.words.is_none() && (used - 1.0).abs() > 0.01 {
                self.fault(
                    &file.id,
                    format!(
                        "the steps use {:.0} % of `{}`, expected 100 %",
                        used * 100.0,
                        i.id
                    ),
                );
            }
        }
    }
}

/// What an amount comes to.
#[derive(Default)]
struct Measured {
    mass: Mass,
    count: Option<(f64, String)>,
    spread: Option<(f64, f64)>,
    words: Option<String>,
}

/// Words that stand in place of an amount: `to taste`, `for frying`. They hold no number, so that none is lost.
fn is_unmeasured(text: &str) -> bool {
    const BEGIN: [&str; 9] = [
        "to", "for", "as", "enough", "some", "a", "plenty", "optional", "any",
    ];
    let lower = text.to_lowercase();
    let mut words = lower.split_whitespace();
    let (first, second) = (words.next(), words.next());
    let begins = first.is_some_and(|w| BEGIN.contains(&w.trim_end_matches(',')));
    let little = first != Some("a")
        || matches!(
            second,
            Some("little" | "bit" | "drizzle" | "sprinkle" | "sprinkling")
        );
    begins && little && !text.contains(|c: char| c.is_numeric())
}

/// What one of a measure is called when it is counted.
fn counted_as(unit: Unit) -> &'static str {
    match unit.kind() {
        Kind::Count => unit.symbol(),
        _ => unit.singular(),
    }
}

/// A length of time, or none at all.
fn span_or_none(text: &str) -> Result<Span, String> {
    match text.trim() {
        "0" | "0 min" => Ok(Span::ZERO),
        text => parse_span(text),
    }
}

/// Words that say something.
fn said(text: Option<&str>) -> Option<String> {
    let text = text?.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// What the program adds to the author's cautions.
pub(super) fn add_dangers(steps: &mut [Step], ingredients: &[Ingredient]) {
    let texts: Vec<String> = steps
        .iter()
        .map(|step| format!("{}. {}", step.title, step.text))
        .collect();
    let seen: Vec<StepSeen> = steps
        .iter()
        .zip(&texts)
        .map(|(step, text)| StepSeen {
            used: step
                .uses
                .iter()
                .map(|u| &ingredients[u.ingredient])
                .flat_map(|i| [i.name.as_str(), i.table.as_str()])
                .collect(),
            text,
            given: &step.cautions,
        })
        .collect();
    let dangers = safety::dangers_of(&seen);
    for (step, found) in steps.iter_mut().zip(dangers) {
        step.dangers = found;
    }
}
