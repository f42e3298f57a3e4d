//! What is to be weighed, and how nearly.

/// What is to be weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// So many grams.
    pub grams: f64,
    /// So many more or less are right.
    pub tolerance: f64,
    /// It comes in pieces, such as eggs.
    pub pieces: bool,
    /// It lies on the scale without a bowl, and too little of it is told.
    pub bare: bool,
}

/// How far from the target is right: two percent, no finer than the scale shows, and no coarser than five grams. Pieces weigh
/// what they weigh: fifteen percent. Common practice, no source.
pub fn tolerance(grams: f64, step: f64, pieces: bool) -> f64 {
    let share = if pieces { 0.15 } else { 0.02 };
    let most = if pieces {
        grams * share
    } else {
        5.0_f64.max(step)
    };
    (grams * share).clamp(step.min(most), most) + 1e-6
}
