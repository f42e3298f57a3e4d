//! Pieces from dough, dough for pieces, and what is left after baking.

use serde::{Deserialize, Serialize};

use super::DoughError;
use super::error::within;
use crate::measure::Mass;

/// How many pieces a dough makes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pieces {
    /// Whole pieces.
    pub count: u64,
    /// Dough left over.
    pub over: Mass,
    /// The mass of each where one more or none is left: the whole dough shared out.
    pub even: Mass,
}

/// Whole pieces of a mass each from a dough. A hundredth of a gram is not held against the last piece.
///
/// # Errors
/// [`DoughError::OutOfRange`] for pieces that cannot be cut.
pub fn pieces_from(dough: Mass, each: Mass) -> Result<Pieces, DoughError> {
    within("mass of a piece in grams", each.as_grams(), 1.0, 100_000.0)?;
    within("dough in grams", dough.as_grams(), 0.0, 1_000_000.0)?;
    let count = ((dough.as_grams() + 0.01) / each.as_grams()).floor();
    let over = dough.less(each.times(count));
    let even = if count > 0.0 {
        dough.times(1.0 / count)
    } else {
        dough
    };
    Ok(Pieces {
        count: count as u64,
        over,
        even,
    })
}

/// What a dough weighs baked.
///
/// # Errors
/// [`DoughError::OutOfRange`] for a loss that leaves nothing.
pub fn baked_mass(dough: Mass, loss_percent: f64) -> Result<Mass, DoughError> {
    Ok(dough.times(1.0 - within("baking loss in percent", loss_percent, 0.0, 90.0)? / 100.0))
}

/// The dough for a wanted baked mass.
///
/// # Errors
/// [`DoughError::OutOfRange`] for a loss that leaves nothing.
pub fn dough_for(baked: Mass, loss_percent: f64) -> Result<Mass, DoughError> {
    Ok(baked
        .times(1.0 / (1.0 - within("baking loss in percent", loss_percent, 0.0, 90.0)? / 100.0)))
}

#[cfg(test)]
mod tests {
    use super::{baked_mass, dough_for, pieces_from};
    use crate::measure::Mass;

    #[test]
    fn rolls_from_a_dough() {
        let p = pieces_from(Mass::kilograms(2.0), Mass::grams(95.0)).unwrap();
        assert_eq!((p.count, p.over.as_grams()), (21, 5.0));
        assert_eq!(
            pieces_from(Mass::grams(760.0), Mass::grams(95.0))
                .unwrap()
                .count,
            8
        );
        assert_eq!(
            pieces_from(Mass::grams(50.0), Mass::grams(95.0))
                .unwrap()
                .count,
            0
        );
        assert!(pieces_from(Mass::grams(50.0), Mass::ZERO).is_err());
    }

    #[test]
    fn loss_and_back() {
        let dough = dough_for(Mass::grams(800.0), 12.0).unwrap();
        assert!((dough.as_grams() - 909.090_909).abs() < 1e-5);
        assert!((baked_mass(dough, 12.0).unwrap().as_grams() - 800.0).abs() < 1e-9);
        assert!(dough_for(Mass::grams(800.0), 100.0).is_err());
    }
}
