//! Another dish that is made as well: all that a session must know of it.

use serde::{Deserialize, Serialize};

use super::last_time::LastTime;
use super::own_time::OwnTimes;
use super::remembered::Remembered;
use crate::formula;
use crate::order::ScaleBy;

/// A dish beside the first.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Beside {
    /// Where its formula was read from.
    pub path: String,
    /// The whole formula file, so that a session that is taken up again uses the formula as it was.
    pub text: String,
    /// Its size today: one wish after the other.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub size: Vec<ScaleBy>,
    /// This kitchen's own times of it, from the bake log.
    #[serde(default, skip_serializing_if = "OwnTimes::is_empty")]
    pub own: OwnTimes,
    /// How long the cook's own work takes at it, by the step's heading.
    #[serde(default, skip_serializing_if = "OwnTimes::is_empty")]
    pub work: OwnTimes,
    /// The last bake of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<LastTime>,
}

impl Beside {
    /// What is remembered of it.
    pub(super) fn remembered(&self) -> Remembered {
        Remembered {
            own: self.own.clone(),
            work: self.work.clone(),
            last: self.last.clone(),
        }
    }

    /// It is the formula of this name.
    pub fn names(&self, name: &str) -> bool {
        formula::read(&self.path, &self.text).is_ok_and(|formula| formula.name == name)
    }
}
