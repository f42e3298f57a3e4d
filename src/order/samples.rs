//! A value for every kind of slot, so that tests go over all orders that are declared.

use super::emergency_kind::EmergencyKind;
use super::order::Order;
use super::question::{EggPart, FeedPart, Keeping, KeptHow, PrefermentKind, Question, Share};
use super::refs::{
    CautionName, DishRef, EggSize, Food, GelatineStrength, IngredientId, OvenWord, PartName,
    StepId, SugarStageName, TimerRef, Title,
};
use super::scale_by::ScaleBy;
use super::unit_symbol::UnitSymbol;
use crate::measure::tin::{Shape, Size};
use crate::measure::{Mass, Region};
use crate::time::{ClockTime, HalfDay, Span};

/// Something that a slot may hold; a number is one that sounds like another.
pub(crate) trait Sample {
    fn sample() -> Self;
}

macro_rules! samples {
    ($($Type:ty: $value:expr),* $(,)?) => {
        $(impl Sample for $Type {
            fn sample() -> Self {
                $value
            }
        })*
    };
}

samples! {
    f64: 15.0,
    u32: 15,
    bool: true,
    String: "walnut".to_owned(),
    Food: "walnut".into(),
    IngredientId: "walnut".into(),
    CautionName: "honey".into(),
    EggSize: "large".into(),
    OvenWord: "moderate".into(),
    PartName: "salt".into(),
    SugarStageName: "soft ball".into(),
    StepId: StepId(15),
    DishRef: DishRef(1),
    Title: "vegetable soup".into(),
    Order: Order::Next,
    TimerRef: TimerRef::Id(1),
    UnitSymbol: UnitSymbol::TEASPOON,
    Mass: Mass::grams(315.0),
    Span: Span::minutes(15),
    ClockTime: ClockTime { hour: 19, minute: 30, half: HalfDay::Said },
    Shape: Shape::Round,
    Size: Size::new(Shape::Round, &[15.0, 5.0]).expect("a tin"),
    Region: Region::Us,
    EggPart: EggPart::Yolk,
    Keeping: Keeping::Hot,
    KeptHow: KeptHow::Freeze,
    EmergencyKind: EmergencyKind::Cut,
    PrefermentKind: PrefermentKind::Poolish,
    FeedPart: FeedPart::Water,
    GelatineStrength: "gold".into(),
    Share: Share { name: "water".into(), percent: 70.0 },
    Question: Question::SafeTime { core_c: 60.0 },
    ScaleBy: ScaleBy::Hydration(70.0),
}

impl<T: Sample> Sample for Option<T> {
    fn sample() -> Self {
        Some(T::sample())
    }
}

impl<T: Sample> Sample for Vec<T> {
    fn sample() -> Self {
        vec![T::sample()]
    }
}

impl<T: Sample> Sample for Box<T> {
    fn sample() -> Self {
        Self::new(T::sample())
    }
}
