//! What there is to cook with: hands, ovens, hobs, and the hours that are kept free.

use serde::{Deserialize, Serialize};

use crate::measure::say;
use crate::time::{ClockTime, Minute, Wall};

/// Degrees that an oven loses in a minute with its door ajar (common practice, no source).
const COOLS: f64 = 3.0;
/// Dishes that want heats no farther apart than this share one (common practice, no source).
pub(super) const SHARED_C: f64 = 10.0;

/// The kitchen that a plan is for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Kitchen {
    /// How many cooks: one or two.
    pub cooks: u8,
    /// How many ovens: one or two.
    pub ovens: u8,
    /// How many rings of the hob.
    pub hobs: u8,
    /// Degrees that an oven loses in a minute.
    pub cools: f64,
    /// When the cook sleeps, in order of time: no work is planned then, and nothing is left on a heat.
    pub asleep: Vec<(Minute, Minute)>,
    /// How hot food is kept, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hold_hot: Option<HoldHot>,
}

/// Hot food that waits is kept no colder than this, by the food law of the place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct HoldHot {
    /// In Celsius.
    pub celsius: f64,
    /// In Fahrenheit, where that is said.
    pub fahrenheit: Option<f64>,
}

impl HoldHot {
    /// `at sixty three degrees or more`.
    pub fn say(&self) -> String {
        let c = say::degrees(self.celsius);
        match self.fahrenheit {
            Some(f) => format!("at {c} degrees, {} Fahrenheit, or more", say::degrees(f)),
            None => format!("at {c} degrees or more"),
        }
    }
}

impl Default for Kitchen {
    fn default() -> Self {
        Self {
            cooks: 1,
            ovens: 1,
            hobs: 4,
            cools: COOLS,
            asleep: Vec::new(),
            hold_hot: None,
        }
    }
}

impl Kitchen {
    /// The same with hours that are slept every night, from the day before the wall's until so many days after it.
    #[must_use]
    pub fn sleeping(mut self, from: ClockTime, to: ClockTime, wall: &Wall, days: i64) -> Self {
        let today = Minute::of(wall).local(wall).day;
        self.asleep = (-1..=days)
            .filter_map(|ahead| {
                let begins = Minute::on_day(today + ahead, from, wall);
                let over = (to.hour, to.minute) <= (from.hour, from.minute);
                let ends = Minute::on_day(today + ahead + i64::from(over), to, wall);
                (begins < ends).then_some((begins, ends))
            })
            .collect();
        self
    }

    /// Two heats are near enough to share an oven.
    pub fn shares(one_c: f64, other_c: f64) -> bool {
        (one_c - other_c).abs() <= SHARED_C
    }

    /// How long an oven takes from one heat down to another, in minutes.
    pub(super) fn cooling(&self, from_c: f64, to_c: f64) -> i64 {
        if from_c - to_c <= SHARED_C {
            return 0;
        }
        ((from_c - to_c) / self.cools).ceil() as i64
    }
}
