//! Tins compared without a formula, by floor or by volume, and what one holds.

use super::{Answer, AskError};
use crate::measure::tin::{Shape, Size};
use crate::measure::words::{Style, counted, number};
use crate::measure::{CM_PER_INCH, Volume, print, say};

const GEOMETRY: &str = "geometry, by the inside sizes";

fn cm(x: f64) -> String {
    counted(
        crate::measure::round_to(x, 0.5),
        "centimetre",
        "centimetres",
        Style::Scale,
    )
}

fn answer(value: f64, unit: &str, words: String, sum: String) -> Answer {
    Answer {
        value,
        high: None,
        unit: unit.to_owned(),
        parts: Vec::new(),
        words,
        sum,
        source: GEOMETRY.to_owned(),
    }
}

pub(super) fn tins(from: Size, to: Option<Size>, shape: Option<Shape>) -> Result<Answer, AskError> {
    for size in std::iter::once(from).chain(to) {
        checked(size)?;
    }
    match (to, shape) {
        (Some(to), _) => Ok(ratio(from, to)),
        (None, Some(shape)) => same_floor(from, shape),
        (None, None) => holds(from),
    }
}

/// A size that a tin can have.
fn checked(size: Size) -> Result<Size, AskError> {
    let mut sides = vec![size.length_cm];
    if !matches!(size.shape, Shape::Round | Shape::Square) {
        sides.push(size.width_cm);
    }
    sides.extend(size.depth_cm);
    Ok(Size::new(size.shape, &sides)?)
}

fn ratio(from: Size, to: Size) -> Answer {
    let area = to.area_cm2() / from.area_cm2();
    let n = |x: f64| print::number(x, 1);
    let (factor, ground, sum) = match (from.volume(), to.volume()) {
        (Some(a), Some(b)) => (
            b.as_millilitres() / a.as_millilitres(),
            "by volume",
            format!(
                "{} ml / {} ml",
                n(b.as_millilitres()),
                n(a.as_millilitres())
            ),
        ),
        _ => (
            area,
            "as deep as before",
            format!("{} cm2 / {} cm2", n(to.area_cm2()), n(from.area_cm2())),
        ),
    };
    let near = crate::measure::round_to(factor, 0.01);
    let about = if (near - factor).abs() > factor * 0.001 {
        "about "
    } else {
        ""
    };
    let words = format!(
        "{about}{} times as much, {ground}. The oven time changes: look early",
        number(near, Style::Kitchen)
    );
    answer(factor, "times", words, sum)
}

/// The side, or the width across, of another shape with the same floor.
fn same_floor(from: Size, shape: Shape) -> Result<Answer, AskError> {
    let area = from.area_cm2();
    let (side, word) = match shape {
        Shape::Round => (2.0 * (area / std::f64::consts::PI).sqrt(), "round tin"),
        Shape::Square => (area.sqrt(), "square tin"),
        _ => {
            return Err(AskError::Missing {
                what: "the sizes of the other tin",
            });
        }
    };
    let words = format!(
        "a {word} of about {}: the same area, so it stands as deep",
        cm(side)
    );
    let sum = format!("a floor of {} cm2", print::number(area, 1));
    Ok(answer(side, "cm", words, sum))
}

/// A side that was worked out, in inches: tins are sold to the quarter.
pub(super) fn in_inches(known: Answer) -> Result<Answer, AskError> {
    let inches = known.value / CM_PER_INCH;
    let near = crate::measure::round_to(inches, 0.25).max(0.25);
    let said = counted(near, "inch", "inches", Style::Kitchen);
    Ok(Answer {
        value: inches,
        unit: "inch".to_owned(),
        words: known.words.replace(&cm(known.value), &said),
        sum: format!("{}; in inches", known.sum),
        ..known
    })
}

fn holds(tin: Size) -> Result<Answer, AskError> {
    let volume = tin.volume().ok_or(AskError::Missing {
        what: "how deep the tin is",
    })?;
    let ml = volume.as_millilitres();
    let step = if ml < 1000.0 { 10.0 } else { 50.0 };
    let near = Volume::millilitres(crate::measure::round_to(ml, step));
    let sum = format!(
        "{} cm2 x {} cm",
        print::number(tin.area_cm2(), 1),
        print::number(tin.depth_cm.unwrap_or_default(), 1)
    );
    let words = format!("about {} to the brim", say::volume(near));
    Ok(answer(ml, "ml", words, sum))
}

#[cfg(test)]
mod tests {
    use super::tins;
    use crate::measure::tin::{Shape, Size};

    #[test]
    fn tins_beside_each_other() {
        let size = |shape, cm: &[f64]| Size::new(shape, cm).unwrap();
        let inch = 2.54;
        let six = size(Shape::Round, &[6.0 * inch]);
        let nine = size(Shape::Round, &[9.0 * inch]);
        assert!((tins(six, Some(nine), None).unwrap().value - 2.25).abs() < 1e-12);
        let pan = size(Shape::Rectangle, &[9.0 * inch, 13.0 * inch]);
        let rounds = tins(nine, Some(pan), None).unwrap().value;
        assert!((rounds - 117.0 / (81.0 * std::f64::consts::PI / 4.0)).abs() < 1e-12);
        let square = size(Shape::Square, &[20.0]);
        let round = tins(square, None, Some(Shape::Round)).unwrap();
        assert!((round.value - 22.568).abs() < 1e-3);
        assert_eq!(round.unit, "cm");
        let ring = size(Shape::Ring, &[24.0, 8.0, 10.0]);
        assert!((tins(ring, None, None).unwrap().value - 4_021.24).abs() < 0.01);
        assert!(tins(square, None, None).is_err(), "its depth is not known");
        let deep = size(Shape::Round, &[20.0, 10.0]);
        let shallow = size(Shape::Round, &[20.0, 5.0]);
        assert_eq!(tins(shallow, Some(deep), None).unwrap().value, 2.0);
    }
}
