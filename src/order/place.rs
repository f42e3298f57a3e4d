//! The kinds of place at which a key has a meaning of its own.

use super::refs::DishRef;
use super::situation::{Asked, DishHere, IngredientHere, Situation, TimerHere};

/// A kind of place, the most pressing first: of several that hold, the first that knows the key decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// An alarm rings.
    Alarm,
    /// 'For how long?' waits.
    HowLong,
    /// A choice between readings waits.
    Doubt,
    /// A question that ends on a look waits.
    Look,
    /// A question waits.
    Question,
    /// Ingredients are being called.
    Weighing,
    /// The step offers a timer.
    Offered,
    /// Two timers run, or more.
    TwoTimers,
    /// A timer runs.
    Timer,
    /// Before the first step.
    Start,
    /// Anywhere.
    Step,
}

impl Place {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Alarm,
        Self::HowLong,
        Self::Doubt,
        Self::Look,
        Self::Question,
        Self::Weighing,
        Self::Offered,
        Self::TwoTimers,
        Self::Timer,
        Self::Start,
        Self::Step,
    ];

    /// Is this such a place?
    pub fn holds(self, here: &Situation) -> bool {
        match self {
            Self::Alarm => here.ringing,
            Self::HowLong => here.asked == Asked::HowLong,
            Self::Doubt => matches!(here.asked, Asked::Which(_)),
            Self::Look => here.asked == Asked::Look,
            Self::Question => here.is_asking(),
            Self::Weighing => here.weighing,
            Self::Offered => here.offered,
            Self::TwoTimers => here.timers.len() > 1,
            Self::Timer => !here.timers.is_empty(),
            Self::Start => !here.started(),
            Self::Step => true,
        }
    }

    /// In words for the card; nothing where it works anywhere.
    pub fn words(self) -> &'static str {
        match self {
            Self::Alarm => "when an alarm rings",
            Self::HowLong => "when asked how long",
            Self::Doubt => "when asked which",
            Self::Look => "when asked to look",
            Self::Question => "to a question",
            Self::Weighing => "while weighing",
            Self::Offered => "when the step has a timer",
            Self::TwoTimers => "while two timers run",
            Self::Timer => "while a timer runs",
            Self::Start => "at the start",
            Self::Step => "",
        }
    }

    /// An example of such a place: a loaf of four ingredients at its third step.
    pub fn example(self) -> Situation {
        let ingredient = |(id, name): (&str, &str)| IngredientHere {
            id: id.into(),
            name: name.to_owned(),
            table: name.to_owned(),
        };
        let timer = |(id, name): (u32, &str)| TimerHere {
            id,
            name: name.to_owned(),
        };
        let dish = |(id, name): (u32, &str)| DishHere {
            id: DishRef(id),
            name: name.to_owned(),
        };
        let steps = [
            "Weigh",
            "Mix",
            "Knead",
            "First rise",
            "Shape",
            "Bake",
            "Cool",
        ];
        let step = Situation {
            ingredients: [
                ("flour", "strong white flour"),
                ("water", "water"),
                ("salt", "salt"),
                ("yeast", "instant yeast"),
            ]
            .map(ingredient)
            .into(),
            step: 3,
            steps: steps.map(str::to_owned).into(),
            parts: vec!["dough".to_owned(), "topping".to_owned()],
            pieces: 1.0,
            dishes: [(0, "loaf"), (1, "soup")].map(dish).into(),
            book: std::sync::Arc::new(vec!["vegetable soup".to_owned()]),
            ..Situation::default()
        };
        let asked = |asked| Situation {
            asked,
            ..step.clone()
        };
        match self {
            Self::Alarm => Situation {
                ringing: true,
                ..step
            },
            Self::HowLong => asked(Asked::HowLong),
            Self::Doubt => asked(Asked::Which(Vec::new())),
            Self::Look => asked(Asked::Look),
            Self::Question => asked(Asked::YesOrNo),
            Self::Weighing => Situation {
                weighing: true,
                ..step
            },
            Self::Offered => Situation {
                offered: true,
                ..step
            },
            Self::TwoTimers => Situation {
                timers: [(2, "bake"), (1, "first rise")].map(timer).into(),
                ..step
            },
            Self::Timer => Situation {
                timers: [(1, "first rise")].map(timer).into(),
                ..step
            },
            Self::Start => Situation { step: 0, ..step },
            Self::Step => step,
        }
    }
}
