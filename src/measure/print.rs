//! Amounts as short text, for screens and tables; words in lines of a width.

use super::say::SPOON_SHARE;
use super::{GasMark, Mass, Region, TableIngredient, Temperature, Thing, Unit, Volume, round_to};

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
pub fn household(mass: Mass, of: &TableIngredient, region: Region) -> Option<String> {
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
    in_spoons_or_cups(g / density, region)
}

/// A volume in the spoons and cups of a kitchen, to steps that they can measure: '1 tbsp and 3/4 tsp'. `None` where no
/// such measure comes near enough.
pub fn in_spoons_or_cups(ml: f64, region: Region) -> Option<String> {
    let (tsp, tbsp, cup) = (
        Unit::Teaspoon(region),
        Unit::Tablespoon(region),
        Unit::Cup(region),
    );
    let near = |said: f64, share: f64| (said - ml).abs() <= ml * share + 1e-9;
    // One measure alone where it is near, else the next larger one and the rest in the smaller.
    let alone = |unit: Unit, steps: &[f64], share: f64| {
        steps
            .iter()
            .map(|step| round_to(ml / unit.size(), *step))
            .find(|x| *x > 0.0 && near(x * unit.size(), share))
            .map(|x| of_unit(x, unit))
    };
    if ml < tsp.size() / 8.0 * 0.9 {
        return alone(Unit::Pinch, &[1.0], SPOON_SHARE);
    }
    if ml < tbsp.size() * 0.97 {
        return alone(tsp, &[0.25], 0.04).or_else(|| alone(tsp, &[0.125], SPOON_SHARE));
    }
    if ml < cup.size() / 4.0 * 0.97 {
        return alone(tbsp, &[0.5], 0.03).or_else(|| {
            let whole = (ml / tbsp.size() + 1e-9).floor();
            let rest = round_to((ml - whole * tbsp.size()) / tsp.size(), 0.25);
            let said = format!("{} and {}", of_unit(whole, tbsp), of_unit(rest, tsp));
            near(whole * tbsp.size() + rest * tsp.size(), SPOON_SHARE).then_some(said)
        });
    }
    let cups = super::say::cup_steps(ml / cup.size());
    if near(cups * cup.size(), 0.04) {
        return Some(of_unit(cups, cup));
    }
    let down = (ml / cup.size() * 4.0 + 1e-9).floor() / 4.0;
    let rest = round_to((ml - down * cup.size()) / tbsp.size(), 0.5);
    let said = format!("{} and {}", of_unit(down, cup), of_unit(rest, tbsp));
    near(down * cup.size() + rest * tbsp.size(), SPOON_SHARE).then_some(said)
}

/// Words in lines of so many letters; a longer word has a line of its own.
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
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
        assert_eq!(of(200.0, "lemon"), "2");
        assert_eq!(of(21.46, "table salt"), "1 tbsp and 1/2 tsp");
        assert_eq!(of(7.0, "instant yeast"), "2 1/4 tsp");
        assert_eq!(of(7.0, "active dried yeast"), "2 1/4 tsp");
    }

    #[test]
    fn no_measure_is_far_from_what_it_stands_for() {
        for region in Region::ALL {
            for step in 1..6000_u32 {
                let ml = f64::from(step) * 0.25;
                let Some(said) = super::in_spoons_or_cups(ml, region) else {
                    assert!(ml < 5.0, "nothing for {ml} ml");
                    continue;
                };
                let read: f64 = said
                    .split(" and ")
                    .map(|part| {
                        let amount = crate::measure::Amount::parse(part, region)
                            .unwrap_or_else(|e| panic!("{part}: {e}"));
                        amount
                            .parts
                            .iter()
                            .map(|p| p.middle() * p.unit.size())
                            .sum::<f64>()
                    })
                    .sum();
                let off = (read - ml).abs() / ml;
                assert!(
                    off <= super::SPOON_SHARE + 0.005,
                    "{ml} ml as {said}: {off}"
                );
            }
        }
    }
}
