//! A plan: what is done when, by whom or by what, and when each dish is ready.

use serde::{Deserialize, Serialize};

use super::item::PlanItem;
use super::kitchen::Kitchen;
use crate::time::Minute;

/// Hot food that is ready so many minutes before the rest must be kept hot.
pub const KEEP_HOT: i64 = 10;

/// Which block of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct BlockId {
    /// Index of the dish in the plan.
    pub dish: usize,
    /// Index of the step in its formula.
    pub step: usize,
    /// Which part of the step.
    pub part: BlockPart,
}

/// The parts that a step may have, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BlockPart {
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
    /// Of two cooks, or of two ovens, which: 0 or 1.
    #[serde(default)]
    pub unit: u8,
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

/// What a plan does not keep to, because there is none that does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Waived {
    /// Hot food stands longer than is good.
    pub hot: bool,
    /// The cook gets up at night.
    pub sleep: bool,
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
    /// For how many minutes finished food stands in all, each of hot food counted thrice; and the fewest that any plan
    /// could have.
    #[serde(default)]
    pub stands: (i64, i64),
    /// What it could not keep to.
    #[serde(default)]
    pub waived: Waived,
    /// The kitchen that it is for.
    #[serde(default)]
    pub kitchen: Kitchen,
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

    /// Which of two cooks does a block, or which of two ovens it uses: `cook two`; nothing where there is one.
    pub fn who(&self, block: &Block) -> Option<String> {
        let (of, what) = match (block.id.part, block.heat_c) {
            (BlockPart::Hands, _) => (self.kitchen.cooks, "cook"),
            (_, Some(_)) => (self.kitchen.ovens, "oven"),
            _ => return None,
        };
        let number = if block.unit == 0 { "one" } else { "two" };
        (of > 1).then(|| format!("{what} {number}"))
    }

    /// Hot dishes that are ready well before the others, and by how many minutes.
    pub fn kept_hot(&self) -> Vec<(usize, i64)> {
        let stood = |dish: usize| self.ready_at.since(self.dishes[dish].ready);
        (0..self.dishes.len().min(self.items.len()))
            .filter(|dish| self.items[*dish].keeps.is_some() && stood(*dish) >= KEEP_HOT)
            .map(|dish| (dish, stood(dish)))
            .collect()
    }

    /// Where dishes are in the oven together at heats that are not quite the same: the one heat for them.
    pub fn shared_heat(&self, block: &Block) -> Option<f64> {
        let own = block.heat_c?;
        let near = |c: f64| (c - own).abs() <= super::kitchen::SHARED_C;
        let of_oven = |b: &&Block| b.unit == block.unit && b.heat_c.is_some_and(near);
        let mine = |b: &&Block| b.id.dish == block.id.dish && b.heat_c == block.heat_c;
        let from = self.blocks.iter().filter(mine).map(|b| b.start).min()?;
        let to = self.blocks.iter().filter(mine).map(|b| b.end).max()?;
        let together = |b: &&Block| b.start < to && from < b.end;
        let heats = self.blocks.iter().filter(of_oven).filter(together);
        let (low, high) = heats
            .filter_map(|b| b.heat_c)
            .fold((own, own), |(low, high), c| (low.min(c), high.max(c)));
        (low < high).then(|| (f64::midpoint(low, high) / 5.0).round() * 5.0)
    }

    /// What the oven is set to for a block, in Celsius.
    pub fn set_to(&self, block: &Block) -> Option<f64> {
        self.shared_heat(block).or(block.heat_c)
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
