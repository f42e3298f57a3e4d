//! Safe core temperatures, holding and cooling limits, and time in place of heat.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use super::phrase::Words;
use super::scene::{self, Pattern, Scene};
use super::{DEFERS, SafetyError};
use crate::measure::words::{Style, cardinal, counted};
use crate::measure::{Region, Temperature};

/// Degrees Celsius for ten times the time: fits the printed row of the UK Food Standards Agency.
pub const Z_CELSIUS: f64 = 7.5;
/// Time stands in for heat between these core temperatures, in Celsius: the ends of the printed row.
const EQUAL_C: (f64, f64) = (60.0, 80.0);

const SAFE: &str = include_str!("../../shared/tables/safe.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    /// Read by [`foods`].
    #[serde(rename = "kept")]
    _kept: IgnoredAny,
    sources: BTreeMap<String, String>,
    food: Vec<FoodRow>,
    elsewhere: Vec<ElsewhereRow>,
    done: Vec<DoneRow>,
    steak: Vec<DoneRow>,
    equal: Vec<EqualRow>,
    lethality: Lethality,
    limit: Vec<Limit>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FoodRow {
    id: String,
    name: String,
    subject: String,
    ask: Vec<String>,
    when: Vec<String>,
    /// Read by [`foods`].
    #[serde(rename = "words")]
    _words: IgnoredAny,
    celsius: f64,
    fahrenheit: f64,
    rest_minutes: Option<f64>,
    note: Option<String>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ElsewhereRow {
    region: Region,
    foods: Vec<String>,
    celsius: f64,
    fahrenheit: f64,
    seconds: Option<f64>,
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
    /// Where it holds; everywhere where none is named.
    pub region: Option<Region>,
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
    /// How long it must stay so hot, in seconds.
    pub seconds: Option<f64>,
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

/// A class of food, with its temperature where the measures of no one country are used and in the others.
#[derive(Debug)]
pub struct Core {
    /// Its name: `poultry`.
    pub id: String,
    subject: String,
    /// In Celsius, by which the classes are ranked.
    pub celsius: f64,
    ask: Vec<Pattern>,
    when: Vec<Pattern>,
    here: SafeTemperature,
    elsewhere: Vec<(Region, SafeTemperature)>,
}

impl PartialEq for Core {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Core {
    /// The temperature of a region.
    pub fn of(&self, region: Region) -> &SafeTemperature {
        self.elsewhere
            .iter()
            .find(|(where_, _)| *where_ == region)
            .map_or(&self.here, |(_, row)| row)
    }

    /// 'Poultry is done at seventy four degrees in its thickest part.'
    pub(super) fn done_at(&self, region: Region) -> String {
        format!(
            "{} is done at {}.",
            self.subject,
            self.of(region).heat_words()
        )
    }
}

struct Table {
    foods: Vec<Core>,
    done: Vec<(Vec<Words>, DoneAt)>,
    steaks: Vec<(Vec<String>, DoneAt)>,
    equal: Vec<EqualRow>,
    lethality: Lethality,
    limits: Vec<Limit>,
}

fn patterns(list: Vec<String>) -> Vec<Pattern> {
    list.into_iter()
        .map(|text| Pattern::read(text.leak()))
        .collect()
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let file: File = toml::from_str(SAFE)
            .expect("the shipped table of safe temperatures is read by a test of every build");
        let source = |key: &str| file.sources.get(key).cloned().unwrap_or(key.to_owned());
        let words = |list: &[String]| list.iter().map(|w| Words::of(w)).collect::<Vec<_>>();
        let core = |f: FoodRow| {
            let here = SafeTemperature {
                name: f.name,
                celsius: f.celsius,
                fahrenheit: f.fahrenheit,
                rest_minutes: f.rest_minutes,
                seconds: None,
                note: f.note,
                source: source(&f.source),
            };
            let elsewhere = file.elsewhere.iter().filter(|e| e.foods.contains(&f.id));
            Core {
                elsewhere: elsewhere
                    .map(|e| {
                        let row = SafeTemperature {
                            name: here.name.clone(),
                            celsius: e.celsius,
                            fahrenheit: e.fahrenheit,
                            rest_minutes: None,
                            seconds: e.seconds,
                            note: None,
                            source: source(&e.source),
                        };
                        (e.region, row)
                    })
                    .collect(),
                id: f.id,
                subject: f.subject,
                celsius: f.celsius,
                ask: patterns(f.ask),
                when: patterns(f.when),
                here,
            }
        };
        let done = |d: DoneRow| DoneAt {
            name: d.name,
            low_celsius: d.low_celsius,
            high_celsius: d.high_celsius,
            source: source(&d.source),
        };
        Table {
            foods: file.food.into_iter().map(core).collect(),
            done: file
                .done
                .into_iter()
                .map(|d| (words(&d.words), done(d)))
                .collect(),
            steaks: file
                .steak
                .into_iter()
                .map(|d| (d.words.clone(), done(d)))
                .collect(),
            equal: file
                .equal
                .into_iter()
                .map(|e| EqualRow {
                    source: source(&e.source),
                    ..e
                })
                .collect(),
            lethality: file.lethality,
            limits: file
                .limit
                .into_iter()
                .map(|l| Limit {
                    source: source(&l.source),
                    ..l
                })
                .collect(),
        }
    })
}

/// The hottest class of food that fits; of two as hot, the first.
fn hottest<'a>(fitting: impl Iterator<Item = &'a Core>) -> Option<&'a Core> {
    fitting.fold(None, |best, core| match best {
        Some(known) if known.celsius >= core.celsius => Some(known),
        _ => Some(core),
    })
}

fn class_of(food: &str) -> Option<&'static Core> {
    let named = scene::Named::of(food);
    let fits = |core: &&Core| core.ask.iter().any(|p| named.fits(p));
    hottest(table().foods.iter().filter(fits))
}

/// How hot the food of a step must get, and the words that told what food it is.
pub(super) fn core_in(scene: &Scene) -> Option<(&'static Core, Vec<String>)> {
    let fitting: Vec<(&Core, String)> = table()
        .foods
        .iter()
        .filter_map(|core| {
            let found = core.when.iter().find_map(|p| scene.find(p))?;
            Some((core, found))
        })
        .collect();
    let core = hottest(fitting.iter().map(|(core, _)| *core))?;
    Some((core, fitting.into_iter().map(|(_, of)| of).collect()))
}

/// True where two steps are about one food: they name the same animal, or one of them none.
pub(super) fn is_one_thing(one: &[String], other: &[String]) -> bool {
    const ANIMALS: [&str; 24] = [
        "beef", "pork", "lamb", "veal", "chicken", "turkey", "duck", "goose", "venison", "rabbit",
        "egg", "salmon", "cod", "haddock", "tuna", "trout", "prawn", "mussel", "crab", "lobster",
        "pheasant", "quail", "pigeon", "fish",
    ];
    let named = |words: &[String]| -> Vec<&str> {
        ANIMALS
            .into_iter()
            .filter(|animal| words.iter().any(|w| w.split(' ').any(|w| w == *animal)))
            .collect()
    };
    let (one, other) = (named(one), named(other));
    one.is_empty() || other.is_empty() || one.iter().any(|a| other.contains(a))
}

/// What this food must reach inside.
///
/// # Errors
/// [`SafetyError::UnknownFood`] for a food that the table does not hold: nothing is guessed here.
pub fn safe_temperature(
    food: &str,
    region: Region,
) -> Result<&'static SafeTemperature, SafetyError> {
    class_of(food)
        .map(|core| core.of(region))
        .ok_or_else(|| SafetyError::UnknownFood {
            food: food.to_owned(),
        })
}

/// When this bake is done inside, where the trade has a number for it. Food with a safe temperature comes first.
pub fn done_temperature(bake: &str) -> Option<&'static DoneAt> {
    if class_of(bake).is_some() {
        return None;
    }
    let said = Words::of(bake);
    let longest = |phrases: &[Words]| phrases.iter().filter(|p| said.has(p)).map(Words::len).max();
    table()
        .done
        .iter()
        .filter_map(|(phrases, row)| Some((longest(phrases)?, row)))
        .max_by_key(|(length, _)| *length)
        .map(|(_, row)| row)
}

/// How hot a steak is inside when it is done as its name says: `medium rare steak`. Taste, and not safety.
pub fn steak_done(name: &str) -> Option<&'static DoneAt> {
    table()
        .steaks
        .iter()
        .find(|(words, _)| words.iter().any(|w| w == name))
        .map(|(_, row)| row)
}

/// Every name of a food that can be asked for. Whoever only lists them need not read how the foods are found.
pub fn foods() -> Vec<String> {
    #[derive(Deserialize)]
    struct Names {
        kept: Vec<String>,
        food: Vec<Named>,
        done: Vec<Named>,
    }
    #[derive(Deserialize)]
    struct Named {
        words: Vec<String>,
    }
    let names: Names = toml::from_str(SAFE)
        .expect("the shipped table of safe temperatures is read by a test of every build");
    let named = names.food.into_iter().chain(names.done);
    let words = named.flat_map(|named| named.words);
    words.chain(names.kept).collect()
}

/// Limits for holding and cooling.
pub fn limits() -> &'static [Limit] {
    &table().limits
}

/// The limit of this name where the region has its own, else the one for everywhere.
pub fn limit(name: &str, region: Region) -> Option<&'static Limit> {
    let named = || limits().iter().filter(|l| l.name == name);
    named()
        .find(|l| l.region == Some(region))
        .or_else(|| named().find(|l| l.region.is_none()))
}

/// The limits of the region in a caution: `{hot}`, `{cool}`.
pub(super) fn fill_limits(say: &str, region: Region) -> String {
    let limit = |name| limit(name, region);
    let hot = limit("hold hot").map_or_else(String::new, |l| cardinal(l.celsius as u64));
    let cool: Vec<&str> = ["cool first", "cool then"]
        .into_iter()
        .filter_map(|name| Some(limit(name)?.say.as_str()))
        .collect();
    say.replace("{hot}", &hot)
        .replace("{cool}", &cool.join(", "))
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
    /// 'seventy four degrees in the thickest part', with how long it stays so and rests.
    pub(crate) fn heat_words(&self) -> String {
        let mut words = format!("{} degrees", cardinal(self.celsius as u64));
        if let Some(seconds) = self.seconds {
            let time = counted(seconds / 60.0, "minute", "minutes", Style::Scale);
            words.push_str(&format!(" for {time}"));
        }
        words.push_str(" in the thickest part");
        if let Some(rest) = self.rest_minutes {
            let time = counted(rest, "minute", "minutes", Style::Scale);
            words.push_str(&format!(", then a rest of {time}"));
        }
        words
    }

    /// Answer first: 'seventy four degrees in the thickest part, for poultry; that is ... Fahrenheit'.
    pub fn words(&self) -> String {
        let mut words = format!(
            "{}, for {}; that is {} Fahrenheit",
            self.heat_words(),
            self.name,
            cardinal(self.fahrenheit as u64),
        );
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
    use crate::measure::{Region, Temperature};

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
            ("meatballs", "minced meat"),
            ("lamb koftas", "minced meat"),
            ("rabbit", "game"),
            ("chicken livers", "poultry"),
            ("lamb's liver", "offal"),
            ("stuffed pork loin", "stuffing"),
        ] {
            let row = safe_temperature(food, Region::Metric).unwrap();
            assert_eq!(row.name, name, "{food}");
        }
        assert!(safe_temperature("gravel", Region::Metric).is_err());
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
