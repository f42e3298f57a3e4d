//! What the cook has set before the session, as far as the bench acts on it.

use serde::{Deserialize, Deserializer, Serialize};

use super::beside::Beside;
use super::effect::VoiceSettings;
use super::english::English;
use super::last_time::LastTime;
use super::own_time::OwnTimes;
use super::remembered::Remembered;
use crate::measure::Region;
use crate::order::ScaleBy;
use crate::plan::{HoldHot, Kitchen};
use crate::safety::{Law, limit};
use crate::scale::Calls;
use crate::time::{ClockTime, Minute, Wall};

/// Settings that change what the bench does. They stand in the journal's header, so that a resumed session has them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Options {
    /// Whose cup and spoon a bare `cup` is.
    pub region: Region,
    /// Whose words are said; as they are written where nothing is said of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub english: Option<English>,
    /// Whose list of allergens, where it is not that of the region.
    pub allergen_law: Option<Law>,
    /// The smallest step that the scale shows, in grams.
    pub scale_step_g: f64,
    /// From a thousand grams on: 'one kilo two fifty' and not 'one thousand two hundred and fifty grams'.
    pub kilos: bool,
    /// Below this confidence what was heard is asked back (0 to 1).
    pub doubt_below: f32,
    /// Below this confidence what was heard is ignored (0 to 1).
    pub reject_below: f32,
    /// Room temperature in Celsius, where the cook has set it.
    pub room_c: Option<f64>,
    /// Today's size of the first dish, where it was asked for before the session: one wish after the other.
    #[serde(deserialize_with = "wishes")]
    pub size: Vec<ScaleBy>,
    /// Say as few words as will do.
    pub brief: bool,
    /// How the voice speaks at the start.
    pub voice: VoiceSettings,
    /// How a weight is called while it is poured.
    pub calls: Calls,
    /// Who is spoken to.
    pub attention: Attention,
    /// The name that the program answers to, in small letters.
    pub name: String,
    /// This kitchen's own times of the first dish, from the bake log.
    pub own: OwnTimes,
    /// How long the cook's own work takes at the first dish, by the step's heading, from the bake log.
    #[serde(skip_serializing_if = "OwnTimes::is_empty")]
    pub work: OwnTimes,
    /// The dishes beside the first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<Beside>,
    /// When everything is to be on the table.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ready_at: Option<Minute>,
    /// The last bake of the first dish, from the bake log.
    pub last: Option<LastTime>,
    /// Ask at the end how it was.
    pub judgement: bool,
    /// How many cooks there are: one or two.
    pub cooks: u8,
    /// How many ovens: one or two.
    pub ovens: u8,
    /// How many rings of the hob.
    pub hobs: u8,
    /// When the cook sleeps: from, and to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sleep: Option<(ClockTime, ClockTime)>,
}

/// A journal of an earlier version has one wish or none.
fn wishes<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<ScaleBy>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Wishes {
        Many(Vec<ScaleBy>),
        One(Option<ScaleBy>),
    }
    Ok(match Wishes::deserialize(from)? {
        Wishes::Many(all) => all,
        Wishes::One(one) => one.into_iter().collect(),
    })
}

/// Who is spoken to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Attention {
    /// Everything heard may be an order.
    #[default]
    Open,
    /// Only what begins with the name.
    Name,
    /// Nothing until a key says to listen.
    Key,
}

impl Options {
    /// Whose list of allergens is told.
    pub fn law(&self) -> Law {
        self.allergen_law.unwrap_or(Law::of(self.region))
    }

    /// The kitchen as plans see it, with so many nights ahead.
    pub fn kitchen(&self, wall: &Wall, nights: i64) -> Kitchen {
        let kitchen = Kitchen {
            cooks: self.cooks,
            ovens: self.ovens,
            hobs: self.hobs,
            hold_hot: limit("hold hot", self.region).map(|limit| HoldHot {
                celsius: limit.celsius,
                fahrenheit: (self.region == Region::Us).then_some(limit.fahrenheit),
            }),
            ..Kitchen::default()
        };
        match self.sleep {
            Some((from, to)) => kitchen.sleeping(from, to, wall, nights),
            None => kitchen,
        }
    }

    /// What is remembered of the first dish.
    pub(super) fn remembered(&self) -> Remembered {
        Remembered {
            own: self.own.clone(),
            work: self.work.clone(),
            last: self.last.clone(),
        }
    }

    /// What the bake log remembers of the first dish.
    pub fn remember(&mut self, of: Remembered) {
        (self.own, self.work, self.last) = (of.own, of.work, of.last);
    }
}

impl Default for Options {
    fn default() -> Self {
        Self {
            region: Region::Metric,
            english: None,
            allergen_law: None,
            scale_step_g: 1.0,
            doubt_below: 0.7,
            reject_below: 0.45,
            kilos: false,
            room_c: None,
            size: Vec::new(),
            brief: false,
            voice: VoiceSettings::default(),
            calls: Calls::default(),
            attention: Attention::default(),
            name: "commis".to_owned(),
            own: OwnTimes::new(),
            work: OwnTimes::new(),
            beside: Vec::new(),
            ready_at: None,
            last: None,
            judgement: false,
            cooks: 1,
            ovens: 1,
            hobs: 4,
            sleep: None,
        }
    }
}
