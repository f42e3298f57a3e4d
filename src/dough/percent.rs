//! Baker's percentages: each ingredient over total flour, flour being 100.

use serde::{Deserialize, Serialize};

use super::DoughError;
use super::error::within;
use crate::measure::Mass;

/// What an ingredient is to the percentages.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DoughRole {
    /// Flour. Its own moisture is never counted.
    Flour,
    /// Water.
    Water,
    /// Anything else, with the water inside it, in percent.
    Other {
        /// Water in 100 grams.
        water_percent: f64,
    },
    /// A preferment or starter: flour and water at its own hydration.
    Preferment {
        /// Water over flour inside it, in percent.
        hydration: f64,
    },
}

/// One ingredient of a dough.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Portion {
    /// How much.
    pub mass: Mass,
    /// What it is.
    pub role: DoughRole,
}

/// The percentages of a whole dough.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Percentages {
    /// All flour, that inside preferments included.
    pub flour: Mass,
    /// Each ingredient over all flour, in the order given.
    pub each: Vec<f64>,
    /// Their sum: what the dough weighs over its flour.
    pub total: f64,
    /// Water, that inside preferments included, over flour.
    pub hydration: f64,
    /// As `hydration`, with the water inside milk, eggs, butter and the like.
    pub true_hydration: f64,
}

/// A mass over the flour, in percent.
///
/// # Errors
/// [`DoughError::NoFlour`] without flour.
pub fn bakers_percent(mass: Mass, flour: Mass) -> Result<f64, DoughError> {
    if flour.as_grams() > 0.0 {
        Ok(mass.as_grams() / flour.as_grams() * 100.0)
    } else {
        Err(DoughError::NoFlour)
    }
}

/// The water for a flour at a hydration in percent.
///
/// # Errors
/// [`DoughError::OutOfRange`] for a hydration that no dough has.
pub fn water_for(flour: Mass, percent: f64) -> Result<Mass, DoughError> {
    Ok(flour.times(within("hydration in percent", percent, 0.0, 300.0)? / 100.0))
}

impl Percentages {
    /// Works out the percentages.
    ///
    /// # Errors
    /// [`DoughError::NoFlour`] where nothing counts as flour.
    pub fn of(portions: &[Portion]) -> Result<Self, DoughError> {
        let mut flour = 0.0;
        let mut water = 0.0;
        let mut hidden = 0.0;
        for portion in portions {
            let g = portion.mass.as_grams();
            match portion.role {
                DoughRole::Flour => flour += g,
                DoughRole::Water => water += g,
                DoughRole::Other { water_percent } => {
                    hidden += g * water_percent.clamp(0.0, 100.0) / 100.0;
                }
                DoughRole::Preferment { hydration } => {
                    let inside = g / (1.0 + hydration.max(0.0) / 100.0);
                    flour += inside;
                    water += g - inside;
                }
            }
        }
        if flour <= 0.0 {
            return Err(DoughError::NoFlour);
        }
        let each: Vec<f64> = portions
            .iter()
            .map(|p| p.mass.as_grams() / flour * 100.0)
            .collect();
        Ok(Self {
            flour: Mass::grams(flour),
            total: each.iter().sum(),
            each,
            hydration: water / flour * 100.0,
            true_hydration: (water + hidden) / flour * 100.0,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{DoughRole, Percentages, Portion, bakers_percent, water_for};
    use crate::measure::Mass;

    fn portion(g: f64, role: DoughRole) -> Portion {
        Portion {
            mass: Mass::grams(g),
            role,
        }
    }

    // Common practice, no source: 360 g of water on 600 g of flour is 60 %.
    #[test]
    fn hydration() {
        assert_eq!(
            bakers_percent(Mass::grams(360.0), Mass::grams(600.0)).unwrap(),
            60.0
        );
        assert_eq!(
            water_for(Mass::grams(900.0), 68.0).unwrap().as_grams(),
            612.0
        );
        assert!(bakers_percent(Mass::grams(1.0), Mass::ZERO).is_err());
    }

    // Water inside milk 88 %, egg 76 %, butter 16 %: USDA FoodData Central (m).
    #[test]
    fn true_hydration_counts_what_is_inside() {
        let dough = [
            portion(500.0, DoughRole::Flour),
            portion(100.0, DoughRole::Water),
            portion(
                200.0,
                DoughRole::Other {
                    water_percent: 88.0,
                },
            ),
            portion(
                50.0,
                DoughRole::Other {
                    water_percent: 76.0,
                },
            ),
            portion(
                75.0,
                DoughRole::Other {
                    water_percent: 16.0,
                },
            ),
            portion(10.0, DoughRole::Other { water_percent: 0.0 }),
        ];
        let p = Percentages::of(&dough).unwrap();
        assert_eq!(p.hydration, 20.0);
        assert!((p.true_hydration - (100.0 + 176.0 + 38.0 + 12.0) / 5.0).abs() < 1e-9);
        assert!((p.total - 187.0).abs() < 1e-9);
    }

    #[test]
    fn a_levain_brings_flour_and_water() {
        let dough = [
            portion(400.0, DoughRole::Flour),
            portion(250.0, DoughRole::Water),
            portion(200.0, DoughRole::Preferment { hydration: 100.0 }),
        ];
        let p = Percentages::of(&dough).unwrap();
        assert_eq!(p.flour.as_grams(), 500.0);
        assert_eq!(p.hydration, 70.0);
        assert_eq!(p.each, [80.0, 50.0, 40.0]);
    }
}
