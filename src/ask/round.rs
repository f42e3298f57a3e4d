//! Rounding an answer to what a cook can use, and saying 'about' where it moved.

use crate::measure::say::SPOON_SHARE;
use crate::measure::words::{Style, counted};
use crate::measure::{Kind, Region, SayOptions, Unit, Volume, say};

/// An amount as words, and whether it is still the amount itself to a thousandth.
pub(super) struct Spoken {
    pub words: String,
    pub exact: bool,
}

/// Says so many of a unit at a precision that suits it. `rough` is for amounts that come from a density or from a
/// measure by feel: more digits would be a lie.
pub(super) fn spoken(x: f64, unit: Unit, rough: bool, how: &SayOptions) -> Spoken {
    match unit {
        Unit::Kilogram if x < 1.0 => spoken(x * 1000.0, Unit::Gram, rough, how),
        Unit::Litre if x < 1.0 => spoken(x * 1000.0, Unit::Millilitre, rough, how),
        Unit::Pound => pounds(x),
        Unit::Tablespoon(region) => spoons(x * unit.size(), region),
        Unit::Cup(region) => {
            let volume = Volume::millilitres(x * unit.size());
            // No cup measure comes near: spoons do.
            if !say::is_near_a_cup(x) {
                return spoons(volume.as_millilitres(), region);
            }
            let (words, exact) = say::cups(volume, region);
            Spoken { words, exact }
        }
        Unit::Teaspoon(region) if x < 1.0 => {
            let (words, exact) = say::spoons(Volume::millilitres(x * unit.size()), region);
            Spoken { words, exact }
        }
        Unit::Gram if !rough && x == near(x, how.step_g) => Spoken {
            words: say::mass(crate::measure::Mass::grams(x), how),
            exact: true,
        },
        _ => {
            let step = step_of(x, unit, rough);
            let rounded = near(x, step).max(step.min(x));
            let style = if matches!(unit.kind(), Kind::Mass) || is_metric(unit) {
                Style::Scale
            } else {
                Style::Kitchen
            };
            let words = match unit {
                Unit::Gram if how.kilos => say::mass(
                    crate::measure::Mass::grams(rounded),
                    &SayOptions {
                        step_g: 0.0,
                        ..*how
                    },
                ),
                _ => counted(rounded, unit.singular(), unit.plural(), style),
            };
            Spoken {
                words,
                exact: (rounded - x).abs() <= x.abs() * 0.001 + 1e-9,
            }
        }
    }
}

fn is_metric(unit: Unit) -> bool {
    matches!(
        unit,
        Unit::Millilitre | Unit::Centilitre | Unit::Decilitre | Unit::Litre
    )
}

/// The step to which a number of this unit is rounded.
fn step_of(x: f64, unit: Unit, rough: bool) -> f64 {
    match unit {
        Unit::Gram | Unit::Millilitre | Unit::Milligram => match x {
            x if x < 1.0 && rough => 0.05,
            x if x < 1.0 => 0.01,
            x if x < 10.0 => 0.1,
            x if x < 250.0 || !rough => 1.0,
            x if x < 1000.0 => 5.0,
            _ => 10.0,
        },
        Unit::Kilogram | Unit::Litre => 0.01,
        Unit::Centilitre | Unit::Decilitre => 0.1,
        Unit::Ounce | Unit::FluidOunce(_) if x >= 10.0 => 0.5,
        Unit::Ounce | Unit::FluidOunce(_) if x >= 1.0 => 0.25,
        Unit::Ounce | Unit::FluidOunce(_) => 0.05,
        Unit::Teaspoon(_) | Unit::Dessertspoon(_)
            if (near(x, 0.25) - x).abs() > x * SPOON_SHARE =>
        {
            0.125
        }
        Unit::Count(_) if x >= 10.0 => 1.0,
        Unit::Count(_) => 0.5,
        _ if unit.kind() == Kind::Volume && x < 1.0 => 0.125,
        _ => 0.25,
    }
}

fn near(x: f64, step: f64) -> f64 {
    crate::measure::round_to(x, step)
}

/// Pounds and ounces: 'one pound one and a half ounces'.
fn pounds(x: f64) -> Spoken {
    let mut whole = x.floor();
    let mut ounces = near((x - whole) * 16.0, 0.5);
    if ounces >= 16.0 {
        whole += 1.0;
        ounces = 0.0;
    }
    let words = match (whole > 0.0, ounces > 0.0) {
        (true, true) => format!(
            "{} and {}",
            counted(whole, "pound", "pounds", Style::Scale),
            counted(ounces, "ounce", "ounces", Style::Scale)
        ),
        (true, false) => counted(whole, "pound", "pounds", Style::Scale),
        (false, true) => counted(ounces, "ounce", "ounces", Style::Scale),
        (false, false) => counted(near(x, 0.001), "pound", "pounds", Style::Scale),
    };
    Spoken {
        words,
        exact: (whole + ounces / 16.0 - x).abs() <= x * 0.001 + 1e-9,
    }
}

/// Spoons of both sizes, or tablespoons alone once there are more than sixteen.
fn spoons(ml: f64, region: Region) -> Spoken {
    let unit = Unit::Tablespoon(region);
    if ml > 16.0 * unit.size() {
        let exact = ml / unit.size();
        let x = [0.5, 1.0 / 3.0]
            .map(|step| near(exact, step))
            .into_iter()
            .min_by(|a, b| (a - exact).abs().total_cmp(&(b - exact).abs()))
            .unwrap_or(exact);
        return Spoken {
            words: counted(x, unit.singular(), unit.plural(), Style::Kitchen),
            exact: (x * unit.size() - ml).abs() <= ml * 0.001,
        };
    }
    let (words, exact) = say::spoons(Volume::millilitres(ml), region);
    Spoken { words, exact }
}

#[cfg(test)]
mod tests {
    use super::spoken;
    use crate::measure::say::SPOON_SHARE;
    use crate::measure::{Amount, Region, SayOptions, Unit};

    /// What is said of spoons and cups is read again: it is never further from what it stands for than a spoon may be.
    #[test]
    fn no_spoken_measure_is_far_from_what_it_stands_for() {
        for region in Region::ALL {
            let units = [
                Unit::Teaspoon(region),
                Unit::Tablespoon(region),
                Unit::Cup(region),
            ];
            for (unit, step) in units
                .into_iter()
                .flat_map(|unit| (1..900).map(move |n| (unit, n)))
            {
                let x = f64::from(step) * 0.013;
                let said = spoken(x, unit, true, &SayOptions::default()).words;
                if said.starts_with("less than") || said.starts_with("between") {
                    assert!(x * unit.size() < 6.0, "{x} {unit:?}: {said}");
                    continue;
                }
                let read: f64 = Amount::parse(&said, region)
                    .unwrap_or_else(|e| panic!("{said}: {e}"))
                    .parts
                    .iter()
                    .map(|p| p.middle() * p.unit.size())
                    .sum();
                let ml = x * unit.size();
                let off = (read - ml).abs() / ml;
                assert!(off <= SPOON_SHARE + 1e-9, "{x} {unit:?} as {said}: {off}");
            }
        }
    }
}
