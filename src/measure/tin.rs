//! Tins and trays: how much fits, and by what a formula grows from one to another.

use serde::{Deserialize, Serialize};

use super::{MeasureError, Volume};

/// The least and the most that a side of a tin may measure, in centimetres.
const SIDE_CM: (f64, f64) = (1.0, 200.0);

/// The shape of a tin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Shape {
    /// A round tin: length is its diameter.
    Round,
    /// A square tin.
    Square,
    /// A rectangular tin or tray.
    Rectangle,
    /// A loaf tin.
    Loaf,
}

impl Shape {
    /// Reads the word for a shape.
    pub fn find(word: &str) -> Option<Self> {
        Some(match word.trim().to_lowercase().as_str() {
            "round" | "circle" | "circular" | "springform" => Self::Round,
            "square" => Self::Square,
            "rectangle" | "rectangular" | "oblong" | "tray" | "oven tray" => Self::Rectangle,
            "loaf" | "loaf tin" | "pan" => Self::Loaf,
            _ => return None,
        })
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Square => "square",
            Self::Rectangle => "rectangle",
            Self::Loaf => "loaf",
        }
    }
}

/// A tin by its inside sizes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// Its shape.
    pub shape: Shape,
    /// Length, side or diameter in centimetres.
    pub length_cm: f64,
    /// Width in centimetres; the length for round and square.
    pub width_cm: f64,
    /// Depth in centimetres, when known.
    pub depth_cm: Option<f64>,
}

/// By what a formula is scaled for another tin, and on what ground.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ratio {
    /// The factor.
    pub factor: f64,
    /// True: by volume; false: by area, the food as deep as before.
    pub by_volume: bool,
    /// How much deeper the food will stand than before: 1 is the same.
    pub depth_factor: f64,
}

impl Size {
    /// A tin from its shape and its sizes in centimetres: one number is a diameter or a side, two are length and
    /// width, one more is the depth.
    ///
    /// # Errors
    /// [`MeasureError::OutOfRange`] for a side that no tin has, [`MeasureError::Empty`] for missing sizes.
    pub fn new(shape: Shape, sizes_cm: &[f64]) -> Result<Self, MeasureError> {
        for &found in sizes_cm {
            if !(SIDE_CM.0..=SIDE_CM.1).contains(&found) {
                return Err(MeasureError::OutOfRange {
                    what: "side of a tin in centimetres",
                    min: SIDE_CM.0,
                    max: SIDE_CM.1,
                    found,
                });
            }
        }
        let (length_cm, width_cm, depth_cm) = match (shape, sizes_cm) {
            (Shape::Round | Shape::Square, &[side]) => (side, side, None),
            (Shape::Round, &[side, depth]) => (side, side, Some(depth)),
            (Shape::Square, &[a, b]) if a == b => (a, a, None),
            (Shape::Square, &[side, depth]) => (side, side, Some(depth)),
            (_, &[length, width]) => (length, width, None),
            (_, &[length, width, depth]) => (length, width, Some(depth)),
            _ => return Err(MeasureError::Empty),
        };
        Ok(Self {
            shape,
            length_cm,
            width_cm,
            depth_cm,
        })
    }

    /// Its floor in square centimetres.
    pub fn area_cm2(self) -> f64 {
        match self.shape {
            Shape::Round => std::f64::consts::PI * (self.length_cm / 2.0).powi(2),
            _ => self.length_cm * self.width_cm,
        }
    }

    /// What it holds to the brim, when its depth is known. Walls count as upright.
    pub fn volume(self) -> Option<Volume> {
        self.depth_cm
            .map(|depth| Volume::millilitres(self.area_cm2() * depth))
    }

    /// The factor from this tin to another: loaves by volume when both depths are known, everything else by area.
    pub fn ratio_to(self, other: Self) -> Ratio {
        let area = other.area_cm2() / self.area_cm2();
        let is_loaf = self.shape == Shape::Loaf || other.shape == Shape::Loaf;
        match (self.volume(), other.volume()) {
            (Some(from), Some(to)) if is_loaf => {
                let factor = to.as_millilitres() / from.as_millilitres();
                Ratio {
                    factor,
                    by_volume: true,
                    depth_factor: factor / area,
                }
            }
            _ => Ratio {
                factor: area,
                by_volume: false,
                depth_factor: 1.0,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Shape, Size};

    // Plane geometry; no other source is needed.
    #[test]
    fn by_area_and_by_volume() {
        let round = Size::new(Shape::Round, &[20.0]).unwrap();
        let square = Size::new(Shape::Square, &[20.0]).unwrap();
        assert!((round.ratio_to(square).factor - 4.0 / std::f64::consts::PI).abs() < 1e-12);
        let tray = Size::new(Shape::Rectangle, &[30.0, 20.0]).unwrap();
        assert_eq!(square.ratio_to(tray).factor, 1.5);
        let small = Size::new(Shape::Loaf, &[20.0, 10.0, 5.0]).unwrap();
        let deep = Size::new(Shape::Loaf, &[20.0, 10.0, 10.0]).unwrap();
        let ratio = small.ratio_to(deep);
        assert!(ratio.by_volume);
        assert_eq!((ratio.factor, ratio.depth_factor), (2.0, 2.0));
        assert_eq!(small.volume().unwrap().as_millilitres(), 1000.0);
    }

    #[test]
    fn impossible_tins() {
        assert!(Size::new(Shape::Round, &[]).is_err());
        assert!(Size::new(Shape::Round, &[-3.0]).is_err());
        assert!(Size::new(Shape::Loaf, &[20.0, f64::NAN]).is_err());
    }
}
