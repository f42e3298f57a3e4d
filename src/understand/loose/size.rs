//! Tins beside each other, and what one holds.

use super::heard::Heard;
use super::item::Item;
use crate::ask::Question;
use crate::measure::CM_PER_INCH;
use crate::measure::tin::{Shape, Size};
use crate::order::UnitSymbol;

/// One tin as far as it was said.
#[derive(Debug, Default, Clone)]
struct Spec {
    shape: Option<Shape>,
    sides: Vec<f64>,
    hole: Option<f64>,
    deep: Option<f64>,
}

impl Spec {
    fn size(&self, deep: Option<f64>) -> Option<Size> {
        let shape = match (self.shape, self.sides.len()) {
            (Some(shape), _) => shape,
            (None, 1) => return None,
            (None, _) => Shape::Rectangle,
        };
        let mut sides = self.sides.clone();
        sides.extend(self.hole.filter(|_| shape == Shape::Ring));
        sides.extend(self.deep.or(deep));
        Size::new(shape, &sides).ok()
    }
}

fn shape(item: &Item) -> Option<Shape> {
    Some(match item {
        Item::Tag("round") => Shape::Round,
        Item::Tag("square") => Shape::Square,
        Item::Tag("rectangle") => Shape::Rectangle,
        Item::Tag("loaftin") => Shape::Loaf,
        Item::Tag("ring") => Shape::Ring,
        _ => return None,
    })
}

pub(super) fn tins(h: &Heard) -> Option<Question> {
    let allowed = [
        "round",
        "square",
        "rectangle",
        "loaftin",
        "ring",
        "hole",
        "deep",
        "across",
        "tin",
        "same",
        "area",
        "volume",
        "equal",
        "swap",
        "piece",
        "left",
        "baked",
        "formula",
        "raise",
        "room",
        "set",
        "long",
    ];
    let shaped = h.items.iter().any(|i| shape(i).is_some());
    if !h.only(&allowed) || !(shaped || h.has("tin")) || !h.stuffs().is_empty() {
        return None;
    }
    let stray = |item: &Item| {
        matches!(
            item,
            Item::Percent(_)
                | Item::Heat(..)
                | Item::Minutes(_)
                | Item::Amount(..)
                | Item::Ratio(..)
                | Item::Scale(_)
        )
    };
    if h.items.iter().any(stray) {
        return None;
    }
    compared(h)
}

/// The tins of a question, whatever else is said.
pub(super) fn compared(h: &Heard) -> Option<Question> {
    // A bare number is of inches where some number is, else of centimetres.
    let inches = h.words.iter().any(|w| w.starts_with("inch"));
    let in_cm = |n: f64| if inches { n * CM_PER_INCH } else { n };
    let mut specs: Vec<Spec> = Vec::new();
    let mut lone: Vec<(usize, Shape)> = Vec::new();
    let mut waiting: Option<Shape> = None;
    let mut joins = false;
    let next_tag = |at: usize| {
        h.items[at + 1..]
            .iter()
            .find(|i| !matches!(i, Item::Tag("~in" | "~of" | "~at") | Item::LengthUnit(_)))
            .cloned()
    };
    let mut depth_next = false;
    let mut hole_next = false;
    for (at, item) in h.items.iter().enumerate() {
        match item {
            Item::Length(_) | Item::Number(_) => {
                let n = match item {
                    Item::Length(cm) => *cm,
                    Item::Number(n) => in_cm(*n),
                    _ => continue,
                };
                // '1 tin' and 'one 9 by 13 pan' count; they are no size.
                if matches!(item, Item::Number(one) if *one == 1.0) && !joins {
                    continue;
                }
                let then = next_tag(at);
                let deep = depth_next || matches!(then, Some(Item::Tag("deep")));
                let hole = hole_next || matches!(then, Some(Item::Tag("hole")));
                depth_next = false;
                hole_next = false;
                if deep {
                    specs.last_mut()?.deep = Some(n);
                } else if hole {
                    specs.last_mut()?.hole = Some(n);
                } else if joins {
                    specs.last_mut()?.sides.push(n);
                } else {
                    specs.push(Spec {
                        shape: waiting.take(),
                        sides: vec![n],
                        ..Spec::default()
                    });
                }
                joins = false;
            }
            Item::Tag("~by") => joins = true,
            // 'I fill it 3 cm'.
            Item::Tag("~fill") if !specs.is_empty() => {
                depth_next = matches!(h.items.get(at + 1), Some(Item::Length(_)));
            }
            Item::Tag("deep") => {
                let before = matches!(
                    h.items.get(at.wrapping_sub(1)),
                    Some(Item::Length(_) | Item::Number(_))
                );
                depth_next = !before;
            }
            Item::Tag("hole") => hole_next = specs.last().is_none_or(|s| s.hole.is_none()),
            _ => {
                if let Some(shape) = shape(item) {
                    let open = specs
                        .last_mut()
                        .filter(|s| s.shape.is_none() && waiting.is_none());
                    let number_follows = h.items[at + 1..]
                        .iter()
                        .take_while(|i| {
                            !matches!(i, Item::Tag("~to" | "~and" | "equal" | "swap") | Item::Stop)
                        })
                        .any(|i| matches!(i, Item::Length(_) | Item::Number(_)));
                    match open {
                        Some(spec) => spec.shape = Some(shape),
                        None if number_follows => waiting = Some(shape),
                        None => lone.push((at, shape)),
                    }
                }
            }
        }
    }
    let same = h.has("same");
    // 'How much does a round tin hold, 23 across and 6 deep': the shape stands in another clause.
    if let ([spec], [(_, shape)]) = (&mut specs[..], &lone[..])
        && spec.shape.is_none()
        && (spec.sides.len() == 1 && spec.deep.is_some())
    {
        spec.shape = Some(*shape);
        lone.clear();
    }
    match (&specs[..], &lone[..]) {
        ([from, to], []) => {
            // One depth alone is the depth of both only where that was said.
            let deep = from.deep.or(to.deep).filter(|_| same);
            if !same && from.deep.is_some() != to.deep.is_some() {
                return None;
            }
            // Of tins of no shape that is said, one grows beside the other as two round ones do.
            let lone = from.sides.len() == 1 && to.sides.len() == 1;
            let shape = from.shape.or(to.shape).or(lone.then_some(Shape::Round));
            let full = |spec: &Spec| {
                let mut spec = spec.clone();
                if spec.shape.is_none() && spec.sides.len() == 1 {
                    spec.shape = shape;
                }
                spec.size(deep)
            };
            Some(Question::Tins {
                from: full(from)?,
                to: Some(full(to)?),
                shape: None,
            })
        }
        ([from], [(_, shape)]) => {
            let question = Question::Tins {
                from: from.size(None)?,
                to: None,
                shape: Some(*shape),
            };
            let wants_cm = h.items.contains(&Item::LengthUnit("cm"));
            Some(if inches && !wants_cm {
                Question::Into {
                    of: Box::new(question),
                    unit: UnitSymbol::INCH,
                }
            } else {
                question
            })
        }
        ([from], []) if from.deep.is_some() || from.sides.len() == 3 => {
            let measured = h.has("volume") || h.unit().is_some();
            let question = Question::Tins {
                from: from.size(None)?,
                to: None,
                shape: None,
            };
            measured.then(|| super::into::wanted(h, question, "ml"))
        }
        _ => None,
    }
}
