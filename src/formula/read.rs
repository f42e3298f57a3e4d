//! From the text of a formula file to a checked [`Formula`]: every fault with its line and column, all at once.

use serde_spanned::Spanned;

use super::error::{Fault, FormulaError, fault_at};
use super::file::{FormulaFile, IngredientFile, StepFile, TimerFile};
use super::look::places;
use super::model::{Cue, Formula, Ingredient, Makes, Oven, Step, TimerSpec, Use};
use super::span::parse_span;
use crate::clean;
use crate::measure::tin::{self, Shape, Size};
use crate::measure::{Amount, Kind, Mass, Region, Temperature, ingredients as table};
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
        let oven = self.oven(&raw);
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
            steps.push(step);
        }
        add_dangers(&mut steps, &ingredients);
        self.used_once(&raw, &ingredients, &steps);
        let name = raw.name.into_inner().trim().to_owned();
        Formula {
            name,
            about: raw.about.trim().to_owned(),
            makes,
            tin,
            oven,
            dough_c,
            ingredients,
            steps,
        }
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
        Makes {
            portions: self.number(&m.portions, "portions", 0.1, 10_000.0),
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
        let read = Temperature::parse(oven.heat.get_ref());
        let heat_c = self.take(&oven.heat, "oven heat", read)?.as_celsius();
        if !(30.0..=350.0).contains(&heat_c) {
            let found = oven.heat.get_ref();
            self.fault(
                &oven.heat,
                format!("oven heat: expected 30 C to 350 C, found `{found}`"),
            );
        }
        let lead = oven.lead.as_ref().map_or(Some(OVEN_LEAD), |l| {
            let read = parse_span(l.get_ref());
            self.take(l, "oven lead", read)
        })?;
        Some(Oven { heat_c, lead })
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
        let mut mass = Mass::grams(0.0);
        let mut count = None;
        let read = Amount::parse(file.amount.get_ref(), self.region);
        if let Some(amount) = self.take(&file.amount, &id, read) {
            count = amount.count();
            let weighed = amount.mass(row);
            if let Some(m) = self.take(&file.amount, &id, weighed) {
                mass = m;
                if m.as_grams() <= 0.0 {
                    let found = file.amount.get_ref();
                    self.fault(
                        &file.amount,
                        format!("{id}: expected an amount above nothing, found `{found}`"),
                    );
                }
            }
        }
        if let Some(household) = &file.household {
            let read = Amount::parse(household.get_ref(), self.region);
            if let Some(h) = self.take(household, &format!("{id}: household"), read)
                && let Ok(m) = h.mass(row)
                && h.parts.iter().all(|p| p.unit.kind() != Kind::Mass)
                && mass.as_grams() > 0.0
            {
                let ratio = m.as_grams() / mass.as_grams();
                if !(0.6..=1.7).contains(&ratio) {
                    let (h, a) = (household.get_ref(), file.amount.get_ref());
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
            table: row.map_or_else(|| name.clone(), |r| r.name.clone()),
            name,
            mass,
            count,
            household: file.household.as_ref().map(|h| h.get_ref().clone()),
            is_flour: role == Some("flour") || role.is_none() && row.is_some_and(|r| r.is_flour),
            is_water: role == Some("water") || role.is_none() && id == "water",
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
        let hands_on = file.hands_on.as_ref().map_or(HANDS_ON, |h| {
            let read = match h.get_ref().trim() {
                "0" | "0 min" => Ok(Span::ZERO),
                text => parse_span(text),
            };
            self.take(h, "hands_on", read).unwrap_or(HANDS_ON)
        });
        let cautions = file.cautions.iter().map(|c| c.trim().to_owned()).collect();
        Step {
            title,
            text: file
                .text
                .get_ref()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" "),
            uses,
            weigh_up: file.weigh_up,
            timers,
            look: file.look.clone(),
            cautions,
            dangers: Vec::new(),
            hands_on,
            oven_c: if file.oven { oven_c } else { None },
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
        let read = parse_span(file.lasts.get_ref());
        let lasts = self.take(&file.lasts, &format!("timer `{name}`"), read)?;
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
        let lower = name.to_lowercase();
        Some(TimerSpec {
            name,
            lasts,
            cues,
            look: file.look.clone(),
            alongside: file.alongside,
            cold: file.cold || COLD.iter().any(|w| lower.contains(w)),
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
            } else if (used - 1.0).abs() > 0.01 {
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

/// What the program adds to the author's cautions.
fn add_dangers(steps: &mut [Step], ingredients: &[Ingredient]) {
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
