//! Tins and trays: how much fits, and by what a formula grows from one to another.

use serde::{Deserialize, Serialize};

use super::length::CM_PER_INCH;
use super::scan::{What, scan};
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
    /// A ring tin: length is its diameter, width that of the hole.
    Ring,
}

impl Shape {
    /// Reads the word for a shape.
    pub fn find(word: &str) -> Option<Self> {
        Some(match word.trim().to_lowercase().as_str() {
            "round" | "circle" | "circular" | "springform" => Self::Round,
            "square" => Self::Square,
            "rectangle" | "rectangular" | "oblong" | "tray" | "oven tray" => Self::Rectangle,
            "loaf" | "loaf tin" => Self::Loaf,
            "ring" | "bundt" | "tube" | "ring tin" => Self::Ring,
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
            Self::Ring => "ring",
        }
    }
}

/// Reads a tin as it is written: its shape, where one is named, and its sizes in centimetres. 'round 20 cm', '30 x 20',
/// 'loaf 23 x 13 x 7 cm', '8½ x 4½ inches'. A bare number is of centimetres; one size without a shape is a diameter, and
/// more are the sides of a rectangle.
///
/// # Errors
/// [`MeasureError::Tin`] for anything else, [`MeasureError::OutOfRange`] for a side that no tin has.
pub fn read(text: &str) -> Result<(Shape, Vec<f64>), MeasureError> {
    let wrong = || MeasureError::Tin {
        found: text.trim().to_owned(),
    };
    let (mut shape, mut in_cm, mut sides, mut between) = (None, 1.0, Vec::new(), true);
    for token in scan(text) {
        match token.what {
            What::Number(n) if between => {
                sides.push(n);
                between = false;
            }
            What::Word("x" | "X" | "by") | What::Sign('×' | '*') if !between => between = true,
            What::Word("cm" | "centimetres" | "centimeters") => in_cm = 1.0,
            What::Word("mm") => in_cm = 0.1,
            What::Word("in" | "inch" | "inches") | What::Sign('"' | '″') => in_cm = CM_PER_INCH,
            What::Word("tin" | "pan") if shape.is_some() => {}
            What::Word(word) if shape.is_none() => {
                shape = Some(Shape::find(word).ok_or_else(wrong)?);
            }
            _ => return Err(wrong()),
        }
    }
    let shape = shape.unwrap_or(match sides.len() {
        1 => Shape::Round,
        _ => Shape::Rectangle,
    });
    let sides: Vec<f64> = sides.into_iter().map(|n| n * in_cm).collect();
    match Size::new(shape, &sides) {
        Err(MeasureError::Empty) => Err(wrong()),
        Err(e) => Err(e),
        Ok(_) if between => Err(wrong()),
        Ok(_) => Ok((shape, sides)),
    }
}

/// A tin by its inside sizes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// Its shape.
    pub shape: Shape,
    /// Length, side or diameter in centimetres.
    pub length_cm: f64,
    /// Width in centimetres; the length for round and square, the hole for a ring.
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
            (Shape::Ring, &[outside, hole, ..]) if hole >= outside => {
                return Err(MeasureError::Empty);
            }
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
            Shape::Ring => {
                let quarter = std::f64::consts::FRAC_PI_4;
                quarter * (self.length_cm.powi(2) - self.width_cm.powi(2))
            }
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
    use super::{Shape, Size, read};

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
    fn tins_as_they_are_written() {
        for (text, shape, sides) in [
            ("round 20 cm", Shape::Round, &[20.0][..]),
            ("20cm", Shape::Round, &[20.0]),
            ("20 cm square", Shape::Square, &[20.0]),
            ("30 x 20", Shape::Rectangle, &[30.0, 20.0]),
            ("30x20 cm", Shape::Rectangle, &[30.0, 20.0]),
            ("loaf 23 x 13 x 7 cm", Shape::Loaf, &[23.0, 13.0, 7.0]),
            ("loaf tin 23 cm × 13 cm", Shape::Loaf, &[23.0, 13.0]),
            ("9 x 13 in", Shape::Rectangle, &[22.86, 33.02]),
            ("8½ by 4 1/2 inches", Shape::Rectangle, &[21.59, 11.43]),
            ("9\" round", Shape::Round, &[22.86]),
        ] {
            let (found, read) = read(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_eq!(found, shape, "{text}");
            assert_eq!(read.len(), sides.len(), "{text}");
            for (a, b) in read.iter().zip(sides) {
                assert!((a - b).abs() < 1e-9, "{text}: {a}, expected {b}");
            }
        }
        for text in [
            "",
            "big",
            "20 x",
            "x 20",
            "20 20",
            "1 x 2 x 3 x 4",
            "round",
            "20 kg",
            "300 x 20",
        ] {
            assert!(read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn impossible_tins() {
        assert!(Size::new(Shape::Round, &[]).is_err());
        assert!(Size::new(Shape::Round, &[-3.0]).is_err());
        assert!(Size::new(Shape::Loaf, &[20.0, f64::NAN]).is_err());
    }
}
