//! Amounts as short text, for screens and tables.

use super::{GasMark, Ingredient, Mass, Region, Temperature, Thing, Unit, Volume, round_to};

/// A number with no more decimals than it needs: '540', '1.25', '0.3'.
pub fn number(x: f64, places: usize) -> String {
    let text = format!("{x:.places$}");
    if !text.contains('.') {
        return text;
    }
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// A mass: '540 g', '1.25 kg', '0.3 g'. Kilograms from 1000 g; grams to a tenth.
pub fn mass(mass: Mass) -> String {
    let g = mass.as_grams();
    // What rounds to a thousand is written in kilograms, so that there is never a '1000 g'.
    if g >= 999.95 {
        format!(
            "{} kg",
            number(g / 1000.0, if g >= 100_000.0 { 1 } else { 3 })
        )
    } else if g > 0.0 && g < 0.05 {
        format!("{} g", number(g, 3))
    } else {
        format!("{} g", number(g, 1))
    }
}

/// A mass in grams only, on the step of a scale: '1250 g', '10.5 g'.
pub fn grams(mass: Mass, step_g: f64) -> String {
    let places = if step_g >= 1.0 {
        0
    } else if step_g >= 0.1 {
        1
    } else {
        2
    };
    format!("{} g", number(mass.to_step(step_g).as_grams(), places))
}

/// A volume: '250 ml', '1.5 l'.
pub fn volume(volume: Volume) -> String {
    let ml = volume.as_millilitres();
    if ml >= 999.95 {
        format!("{} l", number(ml / 1000.0, 3))
    } else {
        format!("{} ml", number(ml, 1))
    }
}

/// A temperature in Celsius: '220 C'.
pub fn celsius(temperature: Temperature) -> String {
    format!("{} C", number(temperature.as_celsius(), 1))
}

/// A gas mark: 'gas 7', 'gas 1/2'.
pub fn gas(mark: GasMark) -> String {
    format!("gas {mark}")
}

/// A number of units with the fractions that spoons have: '1 1/2 tsp', '3/4 cup', '12 g'.
pub fn of_unit(x: f64, unit: Unit) -> String {
    use super::words::{Style, split};
    let style = match unit.kind() {
        super::Kind::Mass => Style::Scale,
        _ => Style::Kitchen,
    };
    let metric = matches!(
        unit,
        Unit::Milligram
            | Unit::Gram
            | Unit::Kilogram
            | Unit::Millilitre
            | Unit::Centilitre
            | Unit::Decilitre
            | Unit::Litre
    );
    let amount = match split(x, style) {
        _ if metric => number(x, 2),
        Some((whole, None)) => whole.to_string(),
        Some((0, Some((n, d, _)))) => format!("{n}/{d}"),
        Some((whole, Some((n, d, _)))) => format!("{whole} {n}/{d}"),
        None => number(x, 2),
    };
    let name = match unit {
        Unit::Cup(_) | Unit::Pint(_) | Unit::Count(_) if x > 1.0 => unit.plural(),
        _ => unit.symbol(),
    };
    format!("{amount} {name}")
}

/// The household measure of a mass, as a courtesy beside the grams: '2 eggs', '1 1/2 tsp', '3 1/4 cups'. `None` where the
/// table knows neither its density nor its piece.
pub fn household(mass: Mass, of: &Ingredient, region: Region) -> Option<String> {
    let g = mass.as_grams();
    if g <= 0.0 {
        return None;
    }
    let counted = [Thing::Egg, Thing::Yolk, Thing::White, Thing::Clove];
    if let Some((thing, each)) = counted
        .iter()
        .find_map(|&t| of.piece(t).map(|each| (t, each)))
        && g >= each / 4.0
    {
        return Some(of_unit(round_to(g / each, 0.25), Unit::Count(thing)));
    }
    let Some(density) = of.g_per_ml else {
        let each = of.piece(Thing::Piece)?;
        return Some(number(round_to(g / each, 0.25).max(0.25), 2));
    };
    Some(in_spoons_or_cups(g / density, region, region))
}

/// A volume in the spoons and cups of `whose` kitchen, to steps that they can measure; a cup that is not the one of
/// `here` says whose it is.
pub fn in_spoons_or_cups(ml: f64, whose: Region, here: Region) -> String {
    let (tsp, tbsp, cup) = (
        Unit::Teaspoon(whose),
        Unit::Tablespoon(whose),
        Unit::Cup(whose),
    );
    if ml < tsp.size() / 8.0 * 0.75 {
        of_unit(round_to(ml / Unit::Pinch.size(), 1.0).max(1.0), Unit::Pinch)
    } else if ml < tsp.size() {
        of_unit(round_to(ml / tsp.size(), 0.125), tsp)
    } else if ml < tbsp.size() {
        of_unit(round_to(ml / tsp.size(), 0.25), tsp)
    } else if ml < cup.size() / 4.0 * 0.97 {
        of_unit(round_to(ml / tbsp.size(), 0.5), tbsp)
    } else {
        let cups = of_unit(super::say::cup_steps(ml / cup.size()), cup);
        match cups.rsplit_once(' ') {
            Some((n, cups)) if cup.size() != cup.in_region(here).size() => {
                format!("{n} {} {cups}", whose.symbol())
            }
            _ => cups,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{household, mass, of_unit};
    use crate::measure::{Mass, Region, Unit};

    #[test]
    fn masses_are_short() {
        assert_eq!(mass(Mass::grams(540.0)), "540 g");
        assert_eq!(mass(Mass::grams(1250.0)), "1.25 kg");
        assert_eq!(mass(Mass::grams(999.99)), "1 kg");
        assert_eq!(mass(Mass::grams(10.5)), "10.5 g");
        assert_eq!(mass(Mass::ZERO), "0 g");
    }

    #[test]
    fn spoons_have_fractions() {
        assert_eq!(of_unit(1.5, Unit::Teaspoon(Region::Metric)), "1 1/2 tsp");
        assert_eq!(of_unit(0.75, Unit::Cup(Region::Us)), "3/4 cup");
        assert_eq!(of_unit(2.0, Unit::Cup(Region::Us)), "2 cups");
    }

    #[test]
    fn household_measures() {
        let of = |g: f64, name: &str| {
            household(
                Mass::grams(g),
                crate::measure::ingredients().find(name).unwrap(),
                Region::Us,
            )
            .unwrap()
        };
        assert_eq!(of(600.0, "plain flour"), "4 3/4 cups");
        assert_eq!(of(9.0, "table salt"), "1 1/2 tsp");
        assert_eq!(of(75.0, "egg"), "1 1/2 eggs");
        assert_eq!(of(9.0, "garlic"), "3 cloves");
        assert_eq!(of(28.0, "butter"), "2 tbsp");
        assert_eq!(of(0.36, "table salt"), "1 pinch");
        assert_eq!(of(116.0, "lemon"), "2");
    }
}
