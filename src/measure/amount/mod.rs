//! Amounts as they are written and said: '1 lb 3 oz', '2 1/2 cups', '3-4 cloves', 'a scant cup', 'a knob of'.

mod parse;
mod reader;
#[cfg(test)]
mod tests;

use std::fmt;

use super::{Kind, Mass, MeasureError, TableIngredient, Thing, Unit, Volume, print};

/// The largest number that an amount may hold; a kitchen has no million of anything.
const MOST: f64 = 1_000_000.0;

/// How the measure was filled, or how sure the writer was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sense {
    /// As it says; level.
    #[default]
    Exact,
    /// 'about', 'roughly', '~'.
    About,
    /// A little less than full: a twentieth less (common practice).
    Scant,
    /// A little more than full: a twentieth more (common practice).
    Generous,
    /// A rounded spoon: a quarter more (common practice).
    Rounded,
    /// A heaped spoon: half as much again (common practice).
    Heaped,
}

impl Sense {
    /// What it does to the amount (common practice, no source).
    pub fn factor(self) -> f64 {
        match self {
            Self::Exact | Self::About => 1.0,
            Self::Scant => 0.95,
            Self::Generous => 1.05,
            Self::Rounded => 1.25,
            Self::Heaped => 1.5,
        }
    }

    fn find(word: &str) -> Option<Self> {
        Some(match word {
            "level" | "flat" => Self::Exact,
            "scant" | "scanty" => Self::Scant,
            "generous" | "good" | "big" => Self::Generous,
            "rounded" => Self::Rounded,
            "heaped" | "heaping" => Self::Heaped,
            _ => return None,
        })
    }

    fn word(self) -> &'static str {
        match self {
            Self::Exact => "",
            Self::About => "about ",
            Self::Scant => "scant ",
            Self::Generous => "generous ",
            Self::Rounded => "rounded ",
            Self::Heaped => "heaped ",
        }
    }
}

/// One number with one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// The number; the lower one of a range.
    pub low: f64,
    /// The upper number of a range; the same as `low` otherwise.
    pub high: f64,
    /// Of what.
    pub unit: Unit,
    /// What each one holds: 400 g for '2 x 400 g tins'.
    pub each: Option<(f64, Unit)>,
}

impl Part {
    /// The number, or the middle of the range.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// An amount: one part or a sum of parts, and the same again in another unit where the author gave it.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// Parts that are added: '1 lb 3 oz', '200 ml + 2 tbsp'. Never empty.
    pub parts: Vec<Part>,
    /// How full, how sure.
    pub sense: Sense,
    /// The same amount in another measure, as a courtesy: '(250 g)', '/9 oz'.
    pub also: Vec<Part>,
}

impl Amount {
    /// So many grams, millilitres, pieces: one part, exact.
    pub fn of(number: f64, unit: Unit) -> Self {
        Self {
            parts: vec![Part {
                low: number,
                high: number,
                unit,
                each: None,
            }],
            sense: Sense::Exact,
            also: Vec::new(),
        }
    }

    /// True where the amount is not a sharp one: a range, 'about', a pinch.
    pub fn is_approximate(&self) -> bool {
        self.sense != Sense::Exact
            || self
                .parts
                .iter()
                .any(|p| p.low < p.high || p.unit.is_approximate())
    }

    /// The number and the name of one, where the author counted: (2, "egg").
    pub fn count(&self) -> Option<(f64, String)> {
        match self.parts.as_slice() {
            [part] if part.unit.kind() == Kind::Count => {
                Some((part.middle(), part.unit.symbol().to_owned()))
            }
            _ => None,
        }
    }

    /// The mass. Volumes need the ingredient's density, counts its piece mass; a range counts as its middle. A mass
    /// that the author gave beside it ('2 cups (250 g)') is taken at its word.
    ///
    /// # Errors
    /// [`MeasureError::NoDensity`] or [`MeasureError::NoPiece`] where the table has no answer.
    pub fn mass(&self, of: Option<&TableIngredient>) -> Result<Mass, MeasureError> {
        if !self.also.is_empty()
            && self.parts.iter().any(|p| p.unit.kind() != Kind::Mass)
            && self.also.iter().all(|p| p.unit.kind() == Kind::Mass)
        {
            return sum(&self.also, |p| part_mass(p, of));
        }
        Ok(sum(&self.parts, |p| part_mass(p, of))?.times(self.sense.factor()))
    }

    /// The volume, by the same rules.
    ///
    /// # Errors
    /// [`MeasureError::NoDensity`] or [`MeasureError::NoPiece`] where the table has no answer.
    pub fn volume(&self, of: Option<&TableIngredient>) -> Result<Volume, MeasureError> {
        if self
            .parts
            .iter()
            .all(|p| p.unit.kind() == Kind::Volume && p.each.is_none())
        {
            let ml: f64 = self.parts.iter().map(|p| p.middle() * p.unit.size()).sum();
            return Ok(Volume::millilitres(ml * self.sense.factor()));
        }
        let mass = self.mass(of)?;
        let density = of
            .and_then(|i| i.g_per_ml)
            .ok_or_else(|| MeasureError::NoDensity {
                ingredient: of.map(|i| i.name.clone()),
                from: "grams".to_owned(),
                to: "millilitres".to_owned(),
            })?;
        Ok(Volume::millilitres(mass.as_grams() / density))
    }
}

fn sum(
    parts: &[Part],
    each: impl Fn(&Part) -> Result<Mass, MeasureError>,
) -> Result<Mass, MeasureError> {
    parts
        .iter()
        .try_fold(Mass::ZERO, |total, part| Ok(total.plus(each(part)?)))
}

fn part_mass(part: &Part, of: Option<&TableIngredient>) -> Result<Mass, MeasureError> {
    if let Some((number, unit)) = part.each {
        let one = Part {
            low: number,
            high: number,
            unit,
            each: None,
        };
        return Ok(part_mass(&one, of)?.times(part.middle()));
    }
    // A knob of butter and a knob of ginger differ: the table's own piece comes first.
    if let Some(g) = of.and_then(|i| i.piece_named(part.unit.symbol())) {
        return Ok(Mass::grams(part.middle() * g));
    }
    match part.unit.kind() {
        Kind::Mass => Ok(Mass::grams(part.middle() * part.unit.size())),
        Kind::Volume => of
            .and_then(|i| i.g_per_ml)
            .map(|d| Mass::grams(part.middle() * part.unit.size() * d))
            .ok_or_else(|| MeasureError::NoDensity {
                ingredient: of.map(|i| i.name.clone()),
                from: part.unit.plural().to_owned(),
                to: "grams".to_owned(),
            }),
        Kind::Count => Err(MeasureError::NoPiece {
            ingredient: of.map(|i| i.name.clone()),
            piece: part.unit.singular().to_owned(),
        }),
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.sense.word())?;
        for (i, part) in self.parts.iter().enumerate() {
            if i > 0 {
                f.write_str(" + ")?;
            }
            let bare = part.unit == Unit::Count(Thing::Piece) && part.each.is_none();
            if part.low < part.high {
                write!(f, "{}-", print::number(part.low, 3))?;
            }
            match part.each {
                Some((number, unit)) => {
                    write!(
                        f,
                        "{} x {}",
                        print::number(part.high, 3),
                        print::of_unit(number, unit)
                    )?;
                    if part.unit != Unit::Count(Thing::Piece) {
                        write!(f, " {}", part.unit.plural())?;
                    }
                }
                None if bare => f.write_str(&print::number(part.high, 3))?,
                None => f.write_str(&print::of_unit(part.high, part.unit))?,
            }
        }
        Ok(())
    }
}
