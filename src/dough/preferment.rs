//! Preferments: part of a dough's flour and water, mixed ahead. Split out of a formula and joined to it again.

use serde::{Deserialize, Serialize};

use super::DoughError;
use super::error::within;
use crate::measure::Mass;

/// The kinds of preferment, each at its hydration (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Preferment {
    /// As much water as flour.
    Poolish,
    /// Stiff: 55 % of water.
    Biga,
    /// A sponge of 65 % of water.
    Sponge,
    /// A sourdough starter at its own hydration.
    Levain {
        /// Water over flour, in percent.
        hydration: f64,
    },
}

impl Preferment {
    /// Water over flour, in percent.
    pub fn hydration(self) -> f64 {
        match self {
            Self::Poolish => 100.0,
            Self::Biga => 55.0,
            Self::Sponge => 65.0,
            Self::Levain { hydration } => hydration,
        }
    }

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Self::Poolish => "poolish",
            Self::Biga => "biga",
            Self::Sponge => "sponge",
            Self::Levain { .. } => "levain",
        }
    }
}

/// A dough's flour and water in two: what goes ahead and what is left for the day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Split {
    /// Flour mixed ahead.
    pub ahead_flour: Mass,
    /// Water mixed ahead.
    pub ahead_water: Mass,
    /// Flour left.
    pub rest_flour: Mass,
    /// Water left.
    pub rest_water: Mass,
}

impl Split {
    /// The preferment's mass.
    pub fn ahead(&self) -> Mass {
        self.ahead_flour.plus(self.ahead_water)
    }

    /// The whole dough's flour and water again.
    pub fn rejoin(&self) -> (Mass, Mass) {
        (
            self.ahead_flour.plus(self.rest_flour),
            self.ahead_water.plus(self.rest_water),
        )
    }
}

/// Takes a share of the flour, in percent, and the water that the preferment wants out of a dough.
///
/// # Errors
/// [`DoughError::NotEnough`] where the dough has less water than the preferment wants.
pub fn split(
    flour: Mass,
    water: Mass,
    share_percent: f64,
    kind: Preferment,
) -> Result<Split, DoughError> {
    within("share of the flour in percent", share_percent, 0.0, 100.0)?;
    let hydration = within(
        "hydration of the preferment in percent",
        kind.hydration(),
        0.0,
        300.0,
    )?;
    let ahead_flour = flour.times(share_percent / 100.0);
    let ahead_water = ahead_flour.times(hydration / 100.0);
    if ahead_water.as_grams() > water.as_grams() * (1.0 + 1e-12) {
        return Err(DoughError::NotEnough {
            what: "water",
            wants_g: ahead_water.as_grams(),
            has_g: water.as_grams(),
        });
    }
    Ok(Split {
        ahead_flour,
        ahead_water,
        rest_flour: flour.less(ahead_flour),
        rest_water: water.less(ahead_water),
    })
}

/// What a levain is fed with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Feed {
    /// Starter kept as seed.
    pub seed: Mass,
    /// Flour to feed it.
    pub flour: Mass,
    /// Water to feed it.
    pub water: Mass,
}

/// How to build so much levain: `ratio` parts of flour for one of seed, seed and levain at the same hydration.
///
/// # Errors
/// [`DoughError::OutOfRange`] for a ratio or hydration that nobody feeds at.
pub fn feed(wanted: Mass, ratio: f64, hydration: f64) -> Result<Feed, DoughError> {
    within("parts of flour for one of starter", ratio, 0.1, 100.0)?;
    let h = within("hydration of the levain in percent", hydration, 20.0, 300.0)? / 100.0;
    let seed = wanted.times(1.0 / (1.0 + ratio * (1.0 + h)));
    let flour = seed.times(ratio);
    Ok(Feed {
        seed,
        flour,
        water: flour.times(h),
    })
}

#[cfg(test)]
mod tests {
    use super::{Preferment, feed, split};
    use crate::measure::Mass;

    #[test]
    fn a_poolish_of_a_third() {
        let s = split(
            Mass::grams(900.0),
            Mass::grams(600.0),
            100.0 / 3.0,
            Preferment::Poolish,
        )
        .unwrap();
        assert!((s.ahead_flour.as_grams() - 300.0).abs() < 1e-9);
        assert!((s.ahead_water.as_grams() - 300.0).abs() < 1e-9);
        assert!((s.ahead().as_grams() - 600.0).abs() < 1e-9);
        let (flour, water) = s.rejoin();
        assert!((flour.as_grams() - 900.0).abs() < 1e-9 && (water.as_grams() - 600.0).abs() < 1e-9);
    }

    #[test]
    fn more_water_than_there_is_is_refused() {
        assert!(
            split(
                Mass::grams(900.0),
                Mass::grams(300.0),
                50.0,
                Preferment::Poolish
            )
            .is_err()
        );
        assert!(
            split(
                Mass::grams(900.0),
                Mass::grams(300.0),
                150.0,
                Preferment::Biga
            )
            .is_err()
        );
    }

    // Common practice: 1 part of starter, 2 of flour, 2 of water make 5.
    #[test]
    fn feeding_one_to_two_to_two() {
        let f = feed(Mass::grams(100.0), 2.0, 100.0).unwrap();
        assert_eq!(
            (f.seed.as_grams(), f.flour.as_grams(), f.water.as_grams()),
            (20.0, 40.0, 40.0)
        );
    }
}
