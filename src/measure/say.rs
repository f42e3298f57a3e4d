//! Amounts in words, as a cook would say them, at a precision that the scale can weigh.
//!
//! Everything said here reads back through [`Amount::parse`](super::Amount::parse) to what was said.

use serde::{Deserialize, Serialize};

use super::words::{Style, cardinal, counted, decimal, split};
use super::{Heat, Kind, Length, Mass, Region, Temperature, Unit, Volume};

/// How amounts are said at this bench.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SayOptions {
    /// The smallest step that the scale shows, in grams: 1 or 0.1.
    pub step_g: f64,
    /// From a thousand grams: 'one kilo two fifty' rather than 'one thousand two hundred and fifty grams'.
    pub kilos: bool,
    /// Whose cups and spoons.
    pub region: Region,
    /// Grams in a millilitre of what is being said, where known: then a spoon can be offered.
    pub g_per_ml: Option<f64>,
    /// To the last gram that is known, and what the scale cannot show of it: where somebody asked.
    #[serde(default)]
    pub exact: bool,
}

impl Default for SayOptions {
    fn default() -> Self {
        Self {
            step_g: 1.0,
            kilos: false,
            region: Region::Metric,
            g_per_ml: None,
            exact: false,
        }
    }
}

/// A rounding to the scale's step that moves an amount by no more than this share is not worth a word: it is below the
/// error of a kitchen scale itself. Anything more is said.
pub const SILENT_SHARE: f64 = 0.005;

/// A rounding by no more than this share matters to no dough, sauce or seasoning, and is not talked of while somebody weighs:
/// eleven grams of yeast for ten and a half. Common practice, no source.
const ROUNDED_SHARE: f64 = 0.05;

/// The most that an amount inside a sentence is rounded by, as spoons are: whoever asks hears the exact one.
const KITCHEN_SHARE: f64 = 0.08;

impl SayOptions {
    /// How far an amount may be rounded without a word.
    fn silent(&self) -> f64 {
        if self.exact {
            SILENT_SHARE
        } else {
            ROUNDED_SHARE
        }
    }
}

/// A mass inside a sentence of its own: an amount and nothing else, rounded to the scale where that does not matter.
pub fn plain_mass(mass: Mass, how: &SayOptions) -> String {
    let g = mass.as_grams();
    let off = |shown: f64| (g - shown).abs() / g.max(1e-9);
    let shown = mass.to_step(how.step_g).as_grams();
    if off(shown) <= how.silent() + 1e-9 {
        return shown_mass(shown, how);
    }
    // A cook weighs two grams or two and a half, and no two point one three.
    let near = [0.5, 0.1]
        .map(|step| mass.to_step(step))
        .into_iter()
        .find(|near| !how.exact && off(near.as_grams()) <= KITCHEN_SHARE);
    exact_mass(near.unwrap_or(mass))
}

/// A mass: 'five hundred and forty grams'; where the scale cannot show it, that is said: 'ten and a half grams, more
/// than your scale can show: weigh eleven, or one and three quarters level teaspoons'.
pub fn mass(mass: Mass, how: &SayOptions) -> String {
    let g = mass.as_grams();
    let shown = mass.to_step(how.step_g).as_grams();
    if (g - shown).abs() <= g * how.silent() + 1e-9 {
        return shown_mass(shown, how);
    }
    let exact = counted(tidy(g), "gram", "grams", Style::Scale);
    let spoon = how
        .g_per_ml
        .and_then(|density| level_spoons(Volume::millilitres(g / density), how.region))
        .map(|spoons| format!("or {spoons}"));
    match (shown > 0.0, spoon) {
        (true, Some(spoon)) => {
            format!(
                "{exact}, more than your scale can show: weigh {}, {spoon}",
                scale_number(shown)
            )
        }
        (true, None) => format!(
            "{exact}, more than your scale can show: weigh {}",
            scale_number(shown)
        ),
        (false, Some(spoon)) => format!(
            "{exact}, less than your scale can show: use {}",
            &spoon[3..]
        ),
        (false, None) => format!("{exact}, less than your scale can show: use a finer scale"),
    }
}

/// As [`mass`], of something: its name stands beside the amount and before what the scale cannot show.
pub fn mass_of(of: Mass, name: &str, how: &SayOptions) -> String {
    let said = mass(of, how);
    match said.split_once(", ") {
        Some((amount, rest)) => format!("{amount} of {name}, {rest}"),
        None => format!("{said} of {name}"),
    }
}

/// A mass in grams without a look at the scale: 'ten and a half grams'.
pub fn exact_mass(mass: Mass) -> String {
    counted(tidy(mass.as_grams()), "gram", "grams", Style::Scale)
}

fn shown_mass(g: f64, how: &SayOptions) -> String {
    if !how.kilos || g < 1000.0 || g.fract() != 0.0 || g >= 1_000_000.0 {
        return counted(tidy(g), "gram", "grams", Style::Scale);
    }
    let kilos = (g / 1000.0).floor() as u64;
    let rest = (g % 1000.0) as u64;
    let head = if kilos == 1 {
        "one kilo".to_owned()
    } else {
        format!("{} kilos", cardinal(kilos))
    };
    match rest {
        0 => head,
        1..10 => format!(
            "{head} and {}",
            counted(rest as f64, "gram", "grams", Style::Scale)
        ),
        10..100 => format!("{head} {}", cardinal(rest)),
        _ if rest % 100 >= 10 => {
            format!("{head} {} {}", cardinal(rest / 100), cardinal(rest % 100))
        }
        _ => format!("{head} {}", cardinal(rest)),
    }
}

/// Drops digits that nobody weighs: two decimals below ten, one above.
fn tidy(g: f64) -> f64 {
    let step = match g {
        g if g < 0.1 => 0.001,
        g if g < 10.0 => 0.01,
        _ => 0.1,
    };
    let rounded = super::round_to(g, step);
    // Exact halves and quarters are kept as they are.
    if (g * 4.0 - (g * 4.0).round()).abs() < 1e-6 {
        (g * 4.0).round() / 4.0
    } else {
        rounded
    }
}

fn scale_number(g: f64) -> String {
    if g.fract() == 0.0 {
        cardinal(g as u64)
    } else {
        decimal(g, 2)
    }
}

/// Level spoons for a small volume, to an eighth below one and to a quarter above: 'a level teaspoon', 'three quarters
/// of a level teaspoon'. `None` above two tablespoons or below an eighth.
pub(crate) fn level_spoons(volume: Volume, region: Region) -> Option<String> {
    let tsp = volume.as_millilitres() / Unit::Teaspoon(region).size();
    let near = spoon_steps(tsp);
    if !(0.125..=6.0).contains(&near) {
        return None;
    }
    if near == 1.0 {
        return Some("a level teaspoon".to_owned());
    }
    Some(counted(
        near,
        "level teaspoon",
        "level teaspoons",
        Style::Kitchen,
    ))
}

/// Teaspoons that a set of spoons can make: quarters from one up where one of them is near enough, else eighths.
fn spoon_steps(tsp: f64) -> f64 {
    let quarter = super::round_to(tsp, 0.25);
    if tsp >= 1.0 && (quarter - tsp).abs() <= tsp * 0.06 {
        quarter
    } else {
        super::round_to(tsp, 0.125)
    }
}

/// So many of a unit: 'three quarters of a teaspoon', 'one and a third cups', 'two and a half ounces'. Pieces have no
/// unit: 'three'.
pub fn in_unit(x: f64, unit: Unit) -> String {
    let style = match unit {
        Unit::Millilitre | Unit::Centilitre | Unit::Gram | Unit::Milligram => Style::Scale,
        _ if unit.kind() == Kind::Mass => Style::Scale,
        _ => Style::Kitchen,
    };
    counted(x, unit.singular(), unit.plural(), style)
}

/// A volume in millilitres or litres: 'two hundred and fifty millilitres', 'one and a half litres'.
pub fn volume(volume: Volume) -> String {
    let ml = volume.as_millilitres();
    if ml >= 1000.0 && split(ml / 1000.0, Style::Scale).is_some() {
        counted(ml / 1000.0, "litre", "litres", Style::Scale)
    } else {
        counted(tidy(ml), "millilitre", "millilitres", Style::Scale)
    }
}

/// The most that a household measure may be away from what it stands for.
pub const SPOON_SHARE: f64 = 0.08;

/// A volume in spoons, to the nearest eighth or quarter teaspoon: 'two tablespoons and a teaspoon'. True when what is
/// said is the volume itself to one percent; otherwise it is worth an 'about'.
pub fn spoons(volume: Volume, region: Region) -> (String, bool) {
    let tsp_ml = Unit::Teaspoon(region).size();
    let tbsp_ml = Unit::Tablespoon(region).size();
    let ml = volume.as_millilitres();
    let total_tsp = ml / tsp_ml;
    if total_tsp < 1.0 {
        return under_a_teaspoon(total_tsp);
    }
    // A plain half of a tablespoon is easier to hold than one and a half teaspoons more.
    let tbsp = ml / tbsp_ml;
    let near_half = super::round_to(tbsp, 0.5);
    if tbsp >= 1.0 && close(near_half * tbsp_ml, ml) {
        return (
            counted(near_half, "tablespoon", "tablespoons", Style::Kitchen),
            true,
        );
    }
    let mut whole = tbsp.floor();
    let over = (ml - whole * tbsp_ml) / tsp_ml;
    let mut rest = if whole == 0.0 {
        spoon_steps(over)
    } else {
        super::round_to(over, if ml < 2.0 * tbsp_ml { 0.25 } else { 0.5 })
    };
    if rest * tsp_ml >= tbsp_ml - 1e-9 {
        whole += 1.0;
        rest = 0.0;
    }
    let said_ml = whole * tbsp_ml + rest * tsp_ml;
    let tablespoons = counted(whole, "tablespoon", "tablespoons", Style::Kitchen);
    let teaspoons = if rest == 1.0 && whole > 0.0 {
        "a teaspoon".to_owned()
    } else {
        counted(rest, "teaspoon", "teaspoons", Style::Kitchen)
    };
    let said = match (whole > 0.0, rest > 0.0) {
        (true, true) => format!("{tablespoons} and {teaspoons}"),
        (true, false) => tablespoons,
        (false, _) => teaspoons,
    };
    (said, close(said_ml, ml))
}

/// A share of a teaspoon in eighths; where none of them is near enough, the two that it lies between.
fn under_a_teaspoon(tsp: f64) -> (String, bool) {
    let said = |n: f64| counted(n, "teaspoon", "teaspoons", Style::Kitchen);
    let near = super::round_to(tsp, 0.125).max(0.125);
    if (near - tsp).abs() <= tsp * SPOON_SHARE {
        return (said(near), close(near, tsp));
    }
    let low = (tsp * 8.0).floor() / 8.0;
    if low > 0.0 {
        let high = low + 0.125;
        (format!("between {} and {}", said(low), said(high)), true)
    } else {
        (format!("less than {}", said(0.125)), true)
    }
}

/// A volume in cups, to the nearest eighth, quarter or third: 'one and a third cups'. True when it is the volume itself
/// to one percent.
pub fn cups(volume: Volume, region: Region) -> (String, bool) {
    let cup = Unit::Cup(region);
    let x = volume.as_millilitres() / cup.size();
    let near = cup_steps(x);
    (
        counted(near, cup.singular(), cup.plural(), Style::Kitchen),
        close(near, x),
    )
}

/// Does a set of cup measures make so many cups, as near as spoons would?
pub(crate) fn is_near_a_cup(x: f64) -> bool {
    (cup_steps(x) - x).abs() <= x * SPOON_SHARE
}

/// The number of cups that a set of cup measures can make: quarters and thirds where one of them is near enough, else
/// eighths.
pub(super) fn cup_steps(x: f64) -> f64 {
    let nearest = |parts: &[f64]| {
        parts
            .iter()
            .map(|d| ((x * d).round() / d).max(0.125))
            .min_by(|a, b| (a - x).abs().total_cmp(&(b - x).abs()))
            .unwrap_or(x)
    };
    let plain = nearest(&[4.0, 3.0]);
    if (plain - x).abs() <= x * 0.02 {
        plain
    } else {
        nearest(&[4.0, 3.0, 8.0])
    }
}

/// True when two amounts differ by at most one percent.
pub(crate) fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= b.abs() * 0.01 + 1e-9
}

/// A temperature in one of the four ways: 'two hundred and twenty degrees', 'four hundred and twenty eight
/// Fahrenheit', 'gas mark seven', 'two hundred on a fan oven'. Whole degrees from 50 up, halves below. `None` where the
/// oven has no such gas mark.
pub fn temperature(t: Temperature, heat: Heat) -> Option<String> {
    Some(match heat {
        Heat::C => format!("{} degrees", degrees(t.as_celsius())),
        Heat::F => format!("{} Fahrenheit", degrees(t.as_fahrenheit())),
        Heat::Fan => format!("{} degrees on a fan oven", degrees(t.as_fan())),
        Heat::Gas => {
            let n = t.as_gas()?.as_number();
            format!("gas mark {}", super::words::number(n, Style::Kitchen))
        }
    })
}

/// The number of a temperature: whole from 50 up, to the half below.
pub fn degrees(x: f64) -> String {
    let near = if x.abs() >= 50.0 {
        x.round()
    } else {
        super::round_to(x, 0.5)
    };
    let words = super::words::number(near.abs(), Style::Scale);
    if near < 0.0 {
        format!("minus {words}")
    } else {
        words
    }
}

/// A length: 'twenty centimetres'.
pub fn length(length: Length) -> String {
    counted(
        super::round_to(length.as_centimetres(), 0.1),
        "centimetre",
        "centimetres",
        Style::Scale,
    )
}

#[cfg(test)]
mod tests {
    use super::{SayOptions, cups, in_unit, mass, plain_mass, spoons, temperature, volume};
    use crate::measure::{Heat, Mass, Region, Temperature, Unit, Volume};

    fn say(g: f64) -> String {
        mass(Mass::grams(g), &SayOptions::default())
    }

    #[test]
    fn masses() {
        assert_eq!(say(540.0), "five hundred and forty grams");
        assert_eq!(say(1250.0), "one thousand two hundred and fifty grams");
        assert_eq!(say(357.142), "three hundred and fifty seven grams");
        let kilos = SayOptions {
            kilos: true,
            ..SayOptions::default()
        };
        assert_eq!(mass(Mass::grams(1250.0), &kilos), "one kilo two fifty");
        assert_eq!(
            mass(Mass::grams(2005.0), &kilos),
            "two kilos and five grams"
        );
        assert_eq!(mass(Mass::grams(1050.0), &kilos), "one kilo fifty");
    }

    #[test]
    fn what_the_scale_cannot_show_is_said() {
        let asked = SayOptions {
            exact: true,
            ..SayOptions::default()
        };
        assert_eq!(
            mass(Mass::grams(10.5), &asked),
            "ten and a half grams, more than your scale can show: weigh eleven"
        );
        assert_eq!(say(10.5), "eleven grams");
        assert_eq!(
            say(9.5),
            "nine and a half grams, more than your scale can show: weigh ten"
        );
        assert_eq!(
            plain_mass(Mass::grams(9.5), &SayOptions::default()),
            "nine and a half grams"
        );
        let salt = SayOptions {
            g_per_ml: Some(6.0 / 4.928_921_593_75),
            region: Region::Us,
            exact: true,
            ..SayOptions::default()
        };
        assert_eq!(
            mass(Mass::grams(10.5), &salt),
            "ten and a half grams, more than your scale can show: weigh eleven, or one and three quarters level \
             teaspoons"
        );
        assert_eq!(
            mass(
                Mass::grams(0.4),
                &SayOptions {
                    g_per_ml: Some(0.8),
                    ..SayOptions::default()
                }
            ),
            "zero point four grams, less than your scale can show: use an eighth of a level teaspoon"
        );
        assert_eq!(
            mass(
                Mass::grams(10.5),
                &SayOptions {
                    step_g: 0.1,
                    ..SayOptions::default()
                }
            ),
            "ten and a half grams"
        );
    }

    #[test]
    fn spoons_and_cups() {
        assert_eq!(
            spoons(Volume::millilitres(35.0), Region::Metric),
            ("two tablespoons and a teaspoon".into(), true)
        );
        assert_eq!(
            spoons(Volume::millilitres(3.75), Region::Metric).0,
            "three quarters of a teaspoon"
        );
        assert_eq!(
            spoons(Volume::millilitres(52.5), Region::Metric).0,
            "three and a half tablespoons"
        );
        let third = Volume::millilitres(1.333 * 236.588_236_5);
        assert_eq!(
            cups(third, Region::Us),
            ("one and a third cups".into(), true)
        );
        assert_eq!(
            in_unit(0.75, Unit::Teaspoon(Region::Us)),
            "three quarters of a teaspoon"
        );
        assert_eq!(volume(Volume::litres(1.5)), "one and a half litres");
        assert_eq!(
            volume(Volume::millilitres(1137.0)),
            "one thousand one hundred and thirty seven millilitres"
        );
    }

    #[test]
    fn temperatures() {
        let t = Temperature::celsius(220.0);
        assert_eq!(
            temperature(t, Heat::F).as_deref(),
            Some("four hundred and twenty eight Fahrenheit")
        );
        assert_eq!(temperature(t, Heat::Gas).as_deref(), Some("gas mark seven"));
        assert_eq!(
            temperature(t, Heat::Fan).as_deref(),
            Some("two hundred degrees on a fan oven")
        );
        assert_eq!(
            temperature(Temperature::celsius(26.5), Heat::C).as_deref(),
            Some("twenty six and a half degrees")
        );
    }
}
