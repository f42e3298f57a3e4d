//! Rounding a whole formula to a scale's step, and how far its percentages can move by that.

use crate::measure::Mass;

/// Each mass on the scale's step. A thing that is there stays there: nothing is rounded to nothing.
pub fn to_scale(masses: &[Mass], step_g: f64) -> Vec<Mass> {
    masses
        .iter()
        .map(|mass| {
            let rounded = mass.to_step(step_g);
            if rounded.as_grams() == 0.0 {
                *mass
            } else {
                rounded
            }
        })
        .collect()
}

/// The most that one baker's percentage can move, in percentage points, when a formula is rounded to a step: half a
/// step of the ingredient itself, and half a step for each kind of flour under it.
pub fn percent_bound(percent: f64, flour: Mass, flours: usize, step_g: f64) -> f64 {
    let half = step_g / 2.0;
    let flour_moves = half * flours as f64;
    let least_flour = flour.as_grams() - flour_moves;
    if least_flour <= 0.0 {
        return f64::INFINITY;
    }
    (half + percent / 100.0 * flour_moves) / least_flour * 100.0
}

#[cfg(test)]
mod tests {
    use super::{percent_bound, to_scale};
    use crate::measure::Mass;

    #[test]
    fn half_a_gram_on_half_a_kilo_is_a_tenth_of_a_percent() {
        let masses = [Mass::grams(500.4), Mass::grams(350.3), Mass::grams(0.3)];
        let rounded = to_scale(&masses, 1.0);
        assert_eq!(
            rounded.iter().map(|m| m.as_grams()).collect::<Vec<_>>(),
            [500.0, 350.0, 0.3]
        );
        let bound = percent_bound(70.0, Mass::grams(500.0), 1, 1.0);
        assert!((bound - 0.170_17).abs() < 1e-4, "{bound}");
    }
}
