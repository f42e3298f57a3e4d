//! What the cook has set before the session, as far as the bench acts on it.

use serde::{Deserialize, Deserializer, Serialize};

use super::beside::Beside;
use super::effect::VoiceSettings;
use super::english::English;
use super::last_time::LastTime;
use super::own_time::OwnTimes;
use crate::measure::Region;
use crate::order::ScaleBy;
use crate::safety::Law;
use crate::scale::Calls;
use crate::time::Minute;

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
            beside: Vec::new(),
            ready_at: None,
            last: None,
            judgement: false,
        }
    }
}
