//! Dough sums.

/// Water over flour in percent. None without flour.
pub fn hydration(water_g: f64, flour_g: f64) -> Option<f64> {
    (flour_g > 0.0).then(|| water_g / flour_g * 100.0)
}
