//! Tins: area and volume, and how much more one holds than another.

/// A tin, inside sizes in centimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tin {
    round: bool,
    loaf: bool,
    length: f64,
    width: f64,
    depth: Option<f64>,
}

/// The sizes of a tin that make no tin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("expected a shape (round, square, rectangle, loaf) and its sizes in centimetres")]
pub struct NoTin;

impl Tin {
    /// A tin from its shape and sizes: round and square take one side and a depth, or two equal sides and a depth;
    /// rectangle and loaf two sides and a depth. The depth may be missing.
    ///
    /// # Errors
    /// When the sizes do not fit the shape.
    pub fn new(shape: &str, size_cm: &[f64]) -> Result<Self, NoTin> {
        if size_cm.iter().any(|s| !(1.0..=200.0).contains(s)) {
            return Err(NoTin);
        }
        let (round, loaf) = (shape == "round", shape == "loaf");
        let (length, width, depth) = match (shape, size_cm) {
            ("round" | "square", [a]) => (*a, *a, None),
            ("round" | "square", [a, d]) => (*a, *a, Some(*d)),
            ("round" | "square", [a, b, d]) if a == b => (*a, *a, Some(*d)),
            ("rectangle" | "loaf", [a, b]) => (*a, *b, None),
            ("rectangle" | "loaf", [a, b, d]) => (*a, *b, Some(*d)),
            _ => return Err(NoTin),
        };
        Ok(Self {
            round,
            loaf,
            length,
            width,
            depth,
        })
    }

    /// Area of the bottom in square centimetres.
    pub fn area(&self) -> f64 {
        let rectangle = self.length * self.width;
        if self.round {
            rectangle * std::f64::consts::FRAC_PI_4
        } else {
            rectangle
        }
    }

    /// As spoken: `round tin of twenty centimetres`.
    pub fn words(&self) -> String {
        let n = |x: f64| super::words::number(x, super::words::Style::Scale);
        if self.round {
            format!("round tin of {} centimetres", n(self.length))
        } else {
            let kind = if self.loaf { "loaf tin" } else { "tin" };
            format!(
                "{kind} of {} by {} centimetres",
                n(self.length),
                n(self.width)
            )
        }
    }
}

/// How much more `to` holds than `from`: by volume where both depths are known and either is a loaf tin, else by area
/// (common practice, no source: flat things by area, loaves by volume).
pub fn ratio(from: &Tin, to: &Tin) -> f64 {
    let area = to.area() / from.area();
    match (from.depth, to.depth) {
        (Some(a), Some(b)) if from.loaf || to.loaf => area * b / a,
        _ => area,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_and_ratios() {
        let round = Tin::new("round", &[20.0]).expect("a tin");
        assert!((round.area() - 314.159).abs() < 0.001);
        let square = Tin::new("square", &[20.0]).expect("a tin");
        // A round tin holds a fifth less than a square one of the same side (pi over four).
        assert!((ratio(&square, &round) - 0.785).abs() < 0.001);
        let loaf = Tin::new("loaf", &[23.0, 13.0, 7.0]).expect("a tin");
        let big = Tin::new("loaf", &[23.0, 13.0, 14.0]).expect("a tin");
        assert!((ratio(&loaf, &big) - 2.0).abs() < 1e-12);
        assert!(Tin::new("heart", &[20.0]).is_err());
        assert!(Tin::new("round", &[-1.0]).is_err());
    }
}
