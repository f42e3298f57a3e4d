//! Safe core temperatures, holding and cooling limits, and time in place of heat.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::phrase::Words;
use super::{DEFERS, SafetyError};
use crate::measure::Temperature;
use crate::measure::words::{Style, cardinal, counted};

/// Degrees Celsius for ten times the time: fits the printed row of the UK Food Standards Agency.
pub const Z_CELSIUS: f64 = 7.5;
/// Time stands in for heat between these core temperatures, in Celsius: the ends of the printed row.
const EQUAL_C: (f64, f64) = (60.0, 80.0);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    food: Vec<FoodRow>,
    done: Vec<DoneRow>,
    equal: Vec<EqualRow>,
    lethality: Lethality,
    limit: Vec<Limit>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FoodRow {
    name: String,
    words: Vec<String>,
    celsius: f64,
    fahrenheit: f64,
    rest_minutes: Option<f64>,
    note: Option<String>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DoneRow {
    name: String,
    words: Vec<String>,
    low_celsius: f64,
    high_celsius: f64,
    source: String,
}

#[derive(Deserialize)]
struct Lethality {
    reference_celsius: f64,
    reference_seconds: f64,
    z_celsius: f64,
}

/// A printed pair of core temperature and time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EqualRow {
    /// Core temperature in Celsius.
    pub celsius: f64,
    /// Seconds at it.
    pub seconds: f64,
    /// Where it is printed.
    pub source: String,
}

/// A limit for holding and cooling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Its name: `hold hot`.
    pub name: String,
    /// In Celsius.
    pub celsius: f64,
    /// As printed in Fahrenheit.
    pub fahrenheit: f64,
    /// Hours allowed, where it is a time.
    pub hours: Option<f64>,
    /// Hours allowed in the heat, where that differs.
    pub hot_hours: Option<f64>,
    /// In words.
    pub say: String,
    /// Where it comes from.
    pub source: String,
}

/// What a food must reach inside.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SafeTemperature {
    /// The class of food: `poultry`.
    pub name: String,
    /// In Celsius, as printed.
    pub celsius: f64,
    /// In Fahrenheit, as printed.
    pub fahrenheit: f64,
    /// Rest after cooking, in minutes.
    pub rest_minutes: Option<f64>,
    /// What else must be said.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: String,
}

/// When a bake is done by its core, which is quality and not safety.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DoneAt {
    /// What it is: `a lean loaf`.
    pub name: String,
    /// From, in Celsius.
    pub low_celsius: f64,
    /// To, in Celsius.
    pub high_celsius: f64,
    /// Where it comes from.
    pub source: String,
}

struct Table {
    names: Vec<String>,
    foods: Vec<(Vec<Words>, SafeTemperature)>,
    done: Vec<(Vec<Words>, DoneAt)>,
    equal: Vec<EqualRow>,
    lethality: Lethality,
    limits: Vec<Limit>,
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/safe.toml"))
            .expect("the shipped table of safe temperatures is read by a test of every build");
        let source = |key: String| file.sources.get(&key).cloned().unwrap_or(key);
        let words = |list: &[String]| list.iter().map(|w| Words::of(w)).collect::<Vec<_>>();
        let names = file
            .food
            .iter()
            .flat_map(|f| &f.words)
            .chain(file.done.iter().flat_map(|d| &d.words))
            .cloned()
            .collect();
        Table {
            names,
            foods: file
                .food
                .into_iter()
                .map(|f| {
                    let row = SafeTemperature {
                        name: f.name,
                        celsius: f.celsius,
                        fahrenheit: f.fahrenheit,
                        rest_minutes: f.rest_minutes,
                        note: f.note,
                        source: source(f.source),
                    };
                    (words(&f.words), row)
                })
                .collect(),
            done: file
                .done
                .into_iter()
                .map(|d| {
                    let row = DoneAt {
                        name: d.name,
                        low_celsius: d.low_celsius,
                        high_celsius: d.high_celsius,
                        source: source(d.source),
                    };
                    (words(&d.words), row)
                })
                .collect(),
            equal: file
                .equal
                .into_iter()
                .map(|e| EqualRow {
                    source: source(e.source),
                    ..e
                })
                .collect(),
            lethality: file.lethality,
            limits: file
                .limit
                .into_iter()
                .map(|l| Limit {
                    source: source(l.source),
                    ..l
                })
                .collect(),
        }
    })
}

/// The row whose longest phrase stands in the name; of two as long, the hotter one, which is safe for both.
fn best<'a, T>(
    rows: &'a [(Vec<Words>, T)],
    name: &str,
    celsius: fn(&T) -> f64,
) -> Option<(usize, &'a T)> {
    let said = Words::of(name);
    rows.iter()
        .filter_map(|(phrases, row)| {
            phrases
                .iter()
                .filter(|p| said.has(p))
                .map(Words::len)
                .max()
                .map(|longest| (longest, row))
        })
        .max_by(|a, b| a.0.cmp(&b.0).then(celsius(a.1).total_cmp(&celsius(b.1))))
}

/// What this food must reach inside.
///
/// # Errors
/// [`SafetyError::UnknownFood`] for a food that the table does not hold: nothing is guessed here.
pub fn safe_temperature(food: &str) -> Result<&'static SafeTemperature, SafetyError> {
    best(&table().foods, food, |f| f.celsius)
        .map(|(_, row)| row)
        .ok_or_else(|| SafetyError::UnknownFood {
            food: food.to_owned(),
        })
}

/// When this bake is done inside, where the trade has a number for it. Food with a safe temperature comes first.
pub fn done_temperature(bake: &str) -> Option<&'static DoneAt> {
    let (done, row) = best(&table().done, bake, |d| d.low_celsius)?;
    match best(&table().foods, bake, |f| f.celsius) {
        Some((safe, _)) if safe >= done => None,
        _ => Some(row),
    }
}

/// Every name of a food that can be asked for.
pub fn foods() -> Vec<String> {
    table().names.clone()
}

/// Every class of food with its temperature.
pub fn safe_foods() -> impl Iterator<Item = &'static SafeTemperature> {
    table().foods.iter().map(|(_, row)| row)
}

/// Limits for holding and cooling.
pub fn limits() -> &'static [Limit] {
    &table().limits
}

/// The printed times in place of heat.
pub fn equal_rows() -> &'static [EqualRow] {
    &table().equal
}

/// How long a core temperature must be held to equal 70 C for two minutes, in seconds: ten times as long for each
/// 7.5 C less. It is the printed time where one is printed.
///
/// # Errors
/// [`SafetyError::OutOfRange`] outside 60 to 80 C.
pub fn equal_seconds(core: Temperature) -> Result<f64, SafetyError> {
    let c = core.as_celsius();
    if !(EQUAL_C.0..=EQUAL_C.1).contains(&c) {
        return Err(SafetyError::OutOfRange {
            min: EQUAL_C.0,
            max: EQUAL_C.1,
            found: c,
        });
    }
    let printed = table()
        .equal
        .iter()
        .find(|row| row.celsius == c)
        .map(|row| row.seconds);
    Ok(printed.unwrap_or_else(|| computed_seconds(c)))
}

/// The computed time alone.
fn computed_seconds(c: f64) -> f64 {
    let l = &table().lethality;
    l.reference_seconds * 10f64.powf((l.reference_celsius - c) / l.z_celsius)
}

impl SafeTemperature {
    /// Answer first: 'seventy four degrees, that is one hundred and sixty five Fahrenheit, for poultry'.
    pub fn words(&self) -> String {
        let mut words = format!(
            "{} degrees, that is {} Fahrenheit, in the thickest part, for {}",
            cardinal(self.celsius as u64),
            cardinal(self.fahrenheit as u64),
            self.name
        );
        if let Some(rest) = self.rest_minutes {
            words.push_str(&format!(
                ", then a rest of {}",
                counted(rest, "minute", "minutes", Style::Scale)
            ));
        }
        if let Some(note) = &self.note {
            words.push_str(&format!("; {note}"));
        }
        format!("{words}. {DEFERS}")
    }
}

impl DoneAt {
    /// 'ninety three to ninety eight degrees for a lean loaf'.
    pub fn words(&self) -> String {
        format!(
            "{} to {} degrees inside for {}",
            cardinal(self.low_celsius as u64),
            cardinal(self.high_celsius as u64),
            self.name
        )
    }
}

#[cfg(test)]
mod tests {
    use super::{
        Z_CELSIUS, computed_seconds, done_temperature, equal_rows, equal_seconds, safe_temperature,
        table,
    };
    use crate::measure::Temperature;

    #[test]
    fn foods_by_the_longest_name() {
        for (food, name) in [
            ("chicken", "poultry"),
            ("a whole chicken", "poultry"),
            ("minced turkey", "poultry"),
            ("minced beef", "minced meat"),
            ("beef", "whole cuts of beef, pork, veal and lamb"),
            ("burgers", "minced meat"),
            ("salmon fillet", "fish"),
            ("quiche", "egg dishes"),
            ("leftover chicken", "leftovers"),
            ("beef and chicken pie", "poultry"),
            ("ham", "cooked ham that is heated again"),
        ] {
            assert_eq!(safe_temperature(food).unwrap().name, name, "{food}");
        }
        assert!(safe_temperature("gravel").is_err());
        assert_eq!(done_temperature("loaf").unwrap().name, "a lean loaf");
        assert!(done_temperature("chicken").is_none());
    }

    // UK Food Standards Agency: 60 C 45 min, 65 C 10 min, 70 C 2 min, 75 C 30 s, 80 C 6 s. The computed time is never
    // longer than the printed one, and within a fifth of it: the printed times are rounded up.
    #[test]
    fn computed_times_fit_the_printed_row() {
        assert_eq!(table().lethality.z_celsius, Z_CELSIUS);
        assert_eq!(equal_rows().len(), 5);
        for row in equal_rows() {
            let computed = computed_seconds(row.celsius);
            assert!(
                computed <= row.seconds + 1e-9 && computed >= row.seconds * 0.8,
                "{}: {computed}",
                row.celsius
            );
            assert_eq!(
                equal_seconds(Temperature::celsius(row.celsius)).unwrap(),
                row.seconds
            );
        }
        assert!(equal_seconds(Temperature::celsius(55.0)).is_err());
        let between = equal_seconds(Temperature::celsius(68.0)).unwrap();
        assert!(between > 120.0 && between < 600.0);
    }
}
