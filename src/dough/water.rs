//! Water temperature for a wanted dough temperature, with ice and with a refusal (common practice in the trade).

use serde::{Deserialize, Serialize};

use super::DoughError;
use super::error::within;
use crate::measure::{Mass, Temperature};

/// Water above this is refused, in Celsius: beside the yeast it is too near to where yeast dies.
pub const WATER_MOST_C: f64 = 50.0;
/// Below this the tap is no help and ice comes in, in Celsius.
const ICE_BELOW_C: f64 = 4.0;
/// Tap water when nobody has measured it, in Celsius; the answer says that it was assumed.
pub const TAP_C: f64 = 15.0;
/// The heat that melting ice takes, as degrees of its own mass of water: 80 cal/g.
const MELTING: f64 = 80.0;
/// More than this part of the water as ice does not melt in a mixing.
const ICE_MOST: f64 = 0.5;

/// What is known before mixing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WaterSum {
    /// Dough wanted.
    pub dough: Temperature,
    /// Flour.
    pub flour: Temperature,
    /// Room.
    pub room: Temperature,
    /// Preferment, when there is one: then four factors.
    pub preferment: Option<Temperature>,
    /// What mixing adds, in degrees of the whole sum; nothing by hand.
    pub friction_c: f64,
    /// Tap water; [`TAP_C`] when nobody measured it.
    pub tap: Option<Temperature>,
}

/// Ice for part of the water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ice {
    /// Part of the water that is ice, 0 to 1.
    pub share: f64,
    /// The tap water that the rest is taken from.
    pub tap: Temperature,
    /// True where the tap was assumed.
    pub tap_assumed: bool,
}

impl Ice {
    /// Ice and tap water for so much water in all.
    pub fn of(&self, water: Mass) -> (Mass, Mass) {
        let ice = water.times(self.share);
        (ice, water.less(ice))
    }
}

/// The water to use.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WaterAdvice {
    /// What the sum gives; with ice, what the mixture would have to be.
    pub water: Temperature,
    /// Ice, where the sum gives less than 4 C.
    pub ice: Option<Ice>,
    /// Three or four.
    pub factors: u8,
}

/// The water temperature: three factors, or four with a preferment.
///
/// # Errors
/// [`DoughError::WaterTooHot`] above 50 C, [`DoughError::WaterTooCold`] where half ice would not do.
pub fn water_temperature(sum: &WaterSum) -> Result<WaterAdvice, DoughError> {
    within(
        "dough temperature in celsius",
        sum.dough.as_celsius(),
        0.0,
        45.0,
    )?;
    within(
        "flour temperature in celsius",
        sum.flour.as_celsius(),
        -30.0,
        50.0,
    )?;
    within(
        "room temperature in celsius",
        sum.room.as_celsius(),
        -10.0,
        50.0,
    )?;
    within("friction in degrees", sum.friction_c, -5.0, 60.0)?;
    let factors: u8 = if sum.preferment.is_some() { 4 } else { 3 };
    let water_c = f64::from(factors) * sum.dough.as_celsius()
        - sum.flour.as_celsius()
        - sum.room.as_celsius()
        - sum.preferment.map_or(0.0, Temperature::as_celsius)
        - sum.friction_c;
    if water_c > WATER_MOST_C {
        return Err(DoughError::WaterTooHot { water_c });
    }
    let ice = if water_c < ICE_BELOW_C {
        Some(ice(water_c, sum.tap)?)
    } else {
        None
    };
    Ok(WaterAdvice {
        water: Temperature::celsius(water_c),
        ice,
        factors,
    })
}

/// Ice mass = water x (tap - wanted) / (tap + 80).
fn ice(water_c: f64, tap: Option<Temperature>) -> Result<Ice, DoughError> {
    let tap_c = within(
        "tap water in celsius",
        tap.map_or(TAP_C, Temperature::as_celsius),
        0.0,
        40.0,
    )?;
    let share = (tap_c - water_c) / (tap_c + MELTING);
    if share > ICE_MOST {
        return Err(DoughError::WaterTooCold { water_c });
    }
    Ok(Ice {
        share: share.max(0.0),
        tap: Temperature::celsius(tap_c),
        tap_assumed: tap.is_none(),
    })
}

/// The friction of a mixer from one batch: what the dough came out at, and what went in.
pub fn friction(
    dough: Temperature,
    flour: Temperature,
    room: Temperature,
    water: Temperature,
    preferment: Option<Temperature>,
) -> f64 {
    let factors = if preferment.is_some() { 4.0 } else { 3.0 };
    factors * dough.as_celsius()
        - flour.as_celsius()
        - room.as_celsius()
        - water.as_celsius()
        - preferment.map_or(0.0, Temperature::as_celsius)
}

#[cfg(test)]
mod tests {
    use super::{WaterSum, friction, water_temperature};
    use crate::dough::DoughError;
    use crate::measure::{Mass, Temperature};

    fn sum(dough: f64, flour: f64, room: f64) -> WaterSum {
        WaterSum {
            dough: Temperature::celsius(dough),
            flour: Temperature::celsius(flour),
            room: Temperature::celsius(room),
            preferment: None,
            friction_c: 0.0,
            tap: None,
        }
    }

    // Common practice in the trade: 3 x wanted - flour - room - friction; 4 x wanted with a preferment.
    #[test]
    fn three_and_four_factors() {
        let three = water_temperature(&sum(25.0, 21.0, 23.0)).unwrap();
        assert_eq!((three.water.as_celsius(), three.factors), (31.0, 3));
        let with = WaterSum {
            preferment: Some(Temperature::celsius(22.0)),
            friction_c: 4.0,
            ..sum(25.0, 21.0, 23.0)
        };
        let four = water_temperature(&with).unwrap();
        assert_eq!((four.water.as_celsius(), four.factors), (30.0, 4));
    }

    #[test]
    fn too_hot_for_yeast_is_refused() {
        assert_eq!(
            water_temperature(&sum(30.0, 15.0, 15.0)),
            Err(DoughError::WaterTooHot { water_c: 60.0 })
        );
    }

    // Ice by latent heat: melting takes 80 cal/g. 30 / (20 + 80) of the water brings 20 C to -10 C on paper.
    #[test]
    fn ice_below_four_degrees() {
        let hot_kitchen = WaterSum {
            friction_c: 14.0,
            tap: Some(Temperature::celsius(20.0)),
            ..sum(22.0, 30.0, 32.0)
        };
        let advice = water_temperature(&hot_kitchen).unwrap();
        assert_eq!(advice.water.as_celsius(), -10.0);
        let ice = advice.ice.unwrap();
        assert!((ice.share - 0.3).abs() < 1e-12);
        let (ice_g, tap_g) = ice.of(Mass::grams(1000.0));
        assert!((ice_g.as_grams() - 300.0).abs() < 1e-9 && (tap_g.as_grams() - 700.0).abs() < 1e-9);
        // The heat balances: what the tap water and the melted ice give up, the sum asked for.
        let heat = tap_g.as_grams() * 20.0 - ice_g.as_grams() * 80.0;
        assert!((heat / 1000.0 - -10.0).abs() < 1e-9);
    }

    #[test]
    fn friction_from_one_batch_gives_the_same_water_again() {
        let c = Temperature::celsius;
        let f = friction(c(27.0), c(20.0), c(22.0), c(30.0), None);
        assert_eq!(f, 9.0);
        let again = WaterSum {
            friction_c: f,
            ..sum(27.0, 20.0, 22.0)
        };
        assert_eq!(water_temperature(&again).unwrap().water.as_celsius(), 30.0);
    }
}
