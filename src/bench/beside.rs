//! Another dish that is made as well: all that a session must know of it.

use serde::{Deserialize, Serialize};

use super::own_time::OwnTimes;
use crate::formula;
use crate::order::ScaleBy;

/// A dish beside the first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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
}

impl Beside {
    /// It is the formula of this name.
    pub fn names(&self, name: &str) -> bool {
        formula::read(&self.path, &self.text).is_ok_and(|formula| formula.name == name)
    }
}
