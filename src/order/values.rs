//! The single values that slots hold: what each may be taken for, and how it is said.

use super::alike::{Said, SingleValue, other, put};
use super::measures::Measure;
use super::refs::{
    CautionName, DishRef, EggSize, Food, GelatineStrength, IngredientId, OvenWord, PartName,
    StepId, SugarStageName, TimerRef, Title,
};
use super::said::{say_integer, say_number, unit_words};
use super::unit_symbol::UnitSymbol;
use crate::measure::spoken_time::{say_clock, say_duration};
use crate::measure::tin::{Shape, Size};
use crate::measure::{Mass, Region};
use crate::time::{ClockTime, Span};

impl SingleValue for IngredientId {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::InSentence(self.to_string())
    }

    fn ingredient(&self) -> Option<&IngredientId> {
        Some(self)
    }
}

impl SingleValue for DishRef {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::InSentence(format!("dish {}", self.0))
    }
}

impl SingleValue for StepId {
    fn turn_alike(&mut self) -> bool {
        let found = other(self.0.into()).map(|n| n as u32);
        put(&mut self.0, found)
    }

    fn said(&self) -> Said {
        Said::Numbered {
            before: "step",
            number: say_integer(self.0.into()),
        }
    }
}

/// The whole units in which a length of time may have been said, the largest first: an hour may have been sixty minutes.
fn ways(span: Span) -> impl Iterator<Item = (u64, u64, &'static str)> {
    let millis = span.as_millis();
    let whole = [(3_600_000, "hours"), (60_000, "minutes"), (1000, "seconds")]
        .into_iter()
        .filter(move |(unit, _)| millis > 0 && millis.is_multiple_of(*unit))
        .map(move |(unit, name)| (millis / unit, unit, name));
    whole
        .enumerate()
        .filter(|(at, (n, ..))| *at == 0 || *n < 100)
        .map(|(_, way)| way)
}

impl SingleValue for Span {
    fn turn_alike(&mut self) -> bool {
        let found =
            ways(*self).find_map(|(n, unit, _)| Some(Self::millis(other(n as f64)? as u64 * unit)));
        put(self, found)
    }

    fn said(&self) -> Said {
        match ways(*self).find(|(n, ..)| other(*n as f64).is_some()) {
            Some((n, _, unit)) => Said::Measured {
                number: say_integer(n),
                unit: unit.to_owned(),
            },
            None => Said::Whole(say_duration(*self)),
        }
    }
}

impl SingleValue for ClockTime {
    /// The minutes, as far as there are such minutes; no hour sounds like another.
    fn turn_alike(&mut self) -> bool {
        let found = other(f64::from(self.minute)).filter(|minute| *minute < 60.0);
        let found = found.map(|minute| Self {
            minute: minute as u8,
            ..*self
        });
        put(self, found)
    }

    fn said(&self) -> Said {
        Said::Whole(say_clock(*self))
    }
}

impl SingleValue for Mass {
    fn turn_alike(&mut self) -> bool {
        let mut grams = self.as_grams();
        let turned = Measure::Grams.turn_alike(&mut grams);
        *self = Self::grams(grams);
        turned
    }

    fn said(&self) -> Said {
        Measure::Grams.said(self.as_grams())
    }
}

impl SingleValue for UnitSymbol {
    fn turn_alike(&mut self) -> bool {
        let other = match *self {
            Self::TEASPOON => Self::TABLESPOON,
            Self::TABLESPOON => Self::TEASPOON,
            Self::GRAM => Self::KILOGRAM,
            Self::KILOGRAM => Self::GRAM,
            _ => return false,
        };
        *self = other;
        true
    }

    fn said(&self) -> Said {
        let many = unit_words(self).map_or(&**self, |(_, many)| many);
        Said::Whole(many.to_owned())
    }
}

impl SingleValue for Size {
    /// The first side that sounds like another.
    fn turn_alike(&mut self) -> bool {
        let round = self.width_cm == self.length_cm;
        let turned = Measure::Centimetres.turn_alike(&mut self.length_cm);
        if turned && round {
            self.width_cm = self.length_cm;
        }
        turned || !round && Measure::Centimetres.turn_alike(&mut self.width_cm)
    }

    fn said(&self) -> Said {
        let mut sides = vec![self.length_cm];
        sides.extend(Some(self.width_cm).filter(|width| *width != self.length_cm));
        sides.extend(self.depth_cm);
        let sides: Vec<String> = sides.into_iter().map(say_number).collect();
        let sides = sides.join(" by ");
        Said::Whole(format!("{} of {sides} centimetres", self.shape.word()))
    }
}

impl SingleValue for Shape {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::Whole(self.word().to_owned())
    }
}

impl SingleValue for Region {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::Whole(self.adjective().to_owned())
    }
}

impl SingleValue for bool {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::InSentence(self.to_string())
    }
}

impl SingleValue for Option<TimerRef> {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::InSentence(match self {
            Some(TimerRef::Id(id)) => format!("timer {id}"),
            Some(TimerRef::Said(words)) => words.clone(),
            None => String::new(),
        })
    }

    fn timer(&mut self) -> Option<&mut Option<TimerRef>> {
        Some(self)
    }
}

/// What is a word sounds like nothing that could be meant as well: two names that do are asked about by the grammar.
macro_rules! words {
    ($($Type:ty),*) => {
        $(impl SingleValue for $Type {
            fn turn_alike(&mut self) -> bool {
                false
            }

            fn said(&self) -> Said {
                Said::InSentence(self.to_string())
            }
        })*
    };
}

words!(
    String,
    Food,
    CautionName,
    EggSize,
    GelatineStrength,
    OvenWord,
    PartName,
    SugarStageName,
    Title
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::alike::SlotValue;
    use crate::order::{Order, Question, ScaleBy, Situation};
    use crate::time::HalfDay;
    use crate::understand::question_between;

    #[test]
    fn a_clock_time_is_only_taken_for_one_that_there_is() {
        for hour in 0..24 {
            for minute in 0..60 {
                let at = ClockTime {
                    hour,
                    minute,
                    half: HalfDay::Said,
                };
                let mut like = at;
                let turned = like.turn_alike();
                assert_eq!(turned, [13, 14, 15, 30, 40, 50].contains(&minute), "{at:?}");
                assert_eq!(like.hour, hour, "no hour is taken for another");
                assert!(like.minute < 60 && (turned || like == at));
            }
        }
    }

    #[test]
    fn sixteen_minutes_and_an_hour_are_told_apart_both_ways() {
        let (sixteen, hour) = (Span::minutes(16), Span::minutes(60));
        for (from, to) in [(sixteen, hour), (hour, sixteen)] {
            let mut span = from;
            assert!(span.turn_alike());
            assert_eq!(span, to);
        }
        assert_eq!(hour.said().whole(), "sixty minutes");
        assert_eq!(Span::minutes(120).said().whole(), "two hours");
    }

    /// The values of an order.
    fn values(order: &Order) -> Vec<Said> {
        let (mut order, mut all) = (order.clone(), Vec::new());
        order.visit(&mut |value| all.push(value.said()));
        all
    }

    /// The order with another value in one slot, where something sounds like it.
    fn turned(order: &Order, at: usize) -> Option<Order> {
        let (mut order, mut here, mut done) = (order.clone(), 0, false);
        order.visit(&mut |value| {
            done |= here == at && value.turn_alike();
            here += 1;
        });
        done.then_some(order)
    }

    #[test]
    fn every_slot_of_every_order_is_doubted_in_whole_values() {
        let mut asked = 0;
        let questions = Question::declared().into_iter().map(Order::Ask);
        let sizes = ScaleBy::declared()
            .into_iter()
            .map(|by| Order::Scale { by });
        for order in Order::declared().into_iter().chain(questions).chain(sizes) {
            for (at, said) in values(&order).into_iter().enumerate() {
                let Some(other) = turned(&order, at) else {
                    assert!(
                        !matches!(said, Said::Measured { .. }),
                        "nothing sounds like {said:?} of {order:?}"
                    );
                    continue;
                };
                asked += 1;
                assert_eq!(turned(&other, at), Some(order.clone()), "it goes both ways");
                assert!(order.sounds_like().is_some(), "{order:?}");
                let there = values(&other).swap_remove(at);
                let question =
                    question_between(&[order.clone(), other.clone()], &Situation::default());
                let named = match (&said, &there) {
                    (Said::Measured { number, unit }, Said::Measured { number: second, .. }) => {
                        assert!(unit.contains(char::is_alphabetic), "{order:?}");
                        vec![format!("{number} or {second} {unit}?")]
                    }
                    (Said::Numbered { before, number }, Said::Numbered { number: second, .. }) => {
                        vec![format!("{before} {number} or {second}?")]
                    }
                    (Said::Whole(one), Said::Whole(two)) => vec![one.clone(), two.clone()],
                    _ => panic!("{order:?}: {said:?} and {there:?}"),
                };
                assert!(
                    question.starts_with("Did you say "),
                    "{order:?}: {question}"
                );
                for value in named {
                    assert!(
                        question.contains(&value),
                        "{order:?}: {question}, without {value}"
                    );
                }
            }
        }
        assert!(asked > 80, "{asked}");
    }

    #[test]
    fn readings_that_differ_in_more_than_one_value_are_told_whole() {
        let timer = |minutes, name: &str| Order::StartTimer {
            lasts: Some(Span::minutes(minutes)),
            name: Some(name.to_owned()),
        };
        assert_eq!(
            question_between(
                &[timer(15, "rice"), timer(50, "ice")],
                &Situation::default()
            ),
            "Do you mean: start a timer for fifteen minutes called rice or start a timer for fifty minutes called ice?"
        );
    }
}
