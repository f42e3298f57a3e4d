//! A plan: what is done when, by whom or by what, and when each dish is ready.

use serde::{Deserialize, Serialize};

use super::item::PlanItem;
use crate::time::Minute;

/// Which block of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct BlockId {
    /// Index of the dish in the plan.
    pub dish: usize,
    /// Index of the step in its formula.
    pub step: usize,
    /// Which part of the step.
    pub part: Part,
}

/// The parts that a step may have, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// The oven gets hot for it.
    Preheat,
    /// The cook works.
    Hands,
    /// A timer runs.
    Wait,
}

/// One row of the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Block {
    /// Which one.
    pub id: BlockId,
    /// The step's heading.
    pub title: String,
    /// The timer that runs, where it is a wait.
    pub timer: Option<String>,
    /// When it starts.
    pub start: Minute,
    /// When it ends.
    pub end: Minute,
    /// The oven's heat in Celsius, where it is used.
    pub heat_c: Option<f64>,
    /// The step is a weigh-up.
    pub weigh_up: bool,
    /// Cues inside it.
    pub cues: Vec<(Minute, String)>,
}

/// One formula in the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedDish {
    /// The formula's name.
    pub name: String,
    /// When its first block starts, the lighting of the oven included.
    pub start: Minute,
    /// When it is ready.
    pub ready: Minute,
}

/// What starts when.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// When everything is ready.
    pub ready_at: Minute,
    /// When everything was wanted: earlier than `ready_at` when it has become late.
    pub wanted_at: Minute,
    /// The dishes in the order they were given.
    pub dishes: Vec<PlannedDish>,
    /// What happens, in order of time.
    pub blocks: Vec<Block>,
    /// No better plan exists. Otherwise there was too much to try it all, and this is the best that was found.
    pub proven: bool,
    /// What was planned.
    pub items: Vec<PlanItem>,
}

impl Plan {
    /// When the first thing starts.
    pub fn start(&self) -> Minute {
        self.blocks
            .iter()
            .map(|block| block.start)
            .min()
            .unwrap_or(self.ready_at)
    }

    /// One block.
    pub fn block(&self, id: BlockId) -> Option<&Block> {
        self.blocks.iter().find(|block| block.id == id)
    }

    /// What starts next, from `now` on; not what `running` says is under way.
    pub fn next(&self, now: Minute, running: Option<BlockId>) -> Option<&Block> {
        // What was done before the plan was made has no length left.
        let comes =
            |block: &&Block| block.start >= now && block.end > now && Some(block.id) != running;
        self.blocks.iter().find(comes)
    }
}
