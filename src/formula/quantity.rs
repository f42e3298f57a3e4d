//! How much of an ingredient today: as much as can be said of it, and no more.

use crate::measure::{Kind, Mass, Region, Unit, print};

/// An amount of an ingredient. Ends of a range are the same where there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity<'f> {
    /// How many, from and to, and what one is called: `clove`; `piece` for a bare number.
    pub count: Option<(f64, f64, &'f str)>,
    /// Its mass, from and to.
    pub mass: Option<(Mass, Mass)>,
    /// What stands in place of an amount: `to taste`.
    pub words: Option<&'f str>,
}

impl Quantity<'_> {
    /// It can be weighed.
    pub fn is_weighed(&self) -> bool {
        self.mass.is_some()
    }

    /// It is a bare number of the thing: `2` onions.
    pub fn is_bare(&self) -> bool {
        self.count.is_some_and(|(_, _, one)| one == "piece")
    }

    /// The one mass to weigh, where there is one and no range.
    pub fn exact(&self) -> Option<Mass> {
        self.mass
            .filter(|(low, high)| low == high)
            .map(|(low, _)| low)
    }

    /// As it is printed; a mass as `mass` prints it: `250 g`, `10 to 15 g`, `2 to 3 cloves`, `to taste`.
    pub fn printed(&self, mass: impl Fn(Mass) -> String) -> String {
        match (self.mass, self.count, self.words) {
            (Some((low, high)), _, _) => joined(&mass(low), &mass(high)),
            (None, Some(_), _) => self.printed_count().unwrap_or_default(),
            (None, None, words) => words.unwrap_or("as needed").to_owned(),
        }
    }

    /// The count alone: `3 cloves`, `1 1/2`, `2 to 3`.
    pub fn printed_count(&self) -> Option<String> {
        let (low, high, one) = self.count?;
        let one_of = |n: f64| match Unit::find(one, Region::Metric) {
            _ if one == "piece" => print::number(n, 2),
            Ok(unit) if unit.kind() != Kind::Count && !unit.is_approximate() => {
                print::of_unit(n, unit)
            }
            _ => {
                let number = print::number(n, 2);
                let each = if number == "1" {
                    one.to_owned()
                } else {
                    plural(one)
                };
                format!("{number} {each}")
            }
        };
        Some(joined(&one_of(low), &one_of(high)))
    }
}

/// The plural of what is counted.
pub(crate) fn plural(one: &str) -> String {
    match one {
        "loaf" => "loaves".to_owned(),
        "leaf" => "leaves".to_owned(),
        _ if one.ends_with('s')
            || one.ends_with("sh")
            || one.ends_with("ch")
            || one.ends_with('x') =>
        {
            format!("{one}es")
        }
        _ => format!("{one}s"),
    }
}

/// From and to, with what both end in said once: `10 to 15 g`, `two to three cloves`.
pub fn joined(low: &str, high: &str) -> String {
    if low == high {
        return low.to_owned();
    }
    match (low.rsplit_once(' '), high.rsplit_once(' ')) {
        (Some((number, unit)), Some((_, same))) if unit == same || plural(unit) == same => {
            format!("{number} to {high}")
        }
        _ => format!("{low} to {high}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_known_is_printed() {
        let grams = |a, b| Some((Mass::grams(a), Mass::grams(b)));
        let none = Quantity {
            count: None,
            mass: None,
            words: None,
        };
        for (quantity, printed) in [
            (
                Quantity {
                    mass: grams(250.0, 250.0),
                    ..none
                },
                "250 g",
            ),
            (
                Quantity {
                    mass: grams(10.0, 15.0),
                    ..none
                },
                "10 to 15 g",
            ),
            (
                Quantity {
                    count: Some((2.0, 3.0, "clove")),
                    ..none
                },
                "2 to 3 cloves",
            ),
            (
                Quantity {
                    count: Some((1.0, 2.0, "clove")),
                    ..none
                },
                "1 to 2 cloves",
            ),
            (
                Quantity {
                    count: Some((1.0, 1.0, "piece")),
                    ..none
                },
                "1",
            ),
            (
                Quantity {
                    count: Some((1.5, 1.5, "tablespoon")),
                    ..none
                },
                "1 1/2 tbsp",
            ),
            (
                Quantity {
                    count: Some((2.0, 2.0, "pinch")),
                    ..none
                },
                "2 pinches",
            ),
            (
                Quantity {
                    words: Some("to taste"),
                    ..none
                },
                "to taste",
            ),
        ] {
            assert_eq!(quantity.printed(print::mass), printed);
        }
    }
}
