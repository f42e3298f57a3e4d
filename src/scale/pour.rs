//! One thing that is being weighed: from what stood there before to 'it is in'.

use serde::{Deserialize, Serialize};

use super::caller::{Call, Caller, Calls};
use super::load::Load;
use super::reading::{Reading, Status, WeightUnit};
use super::target::Target;
use crate::time::{Moment, Span};

/// What stands for so long is weighed.
const STANDS: Span = Span::millis(1_000);
/// What stood before is known after this.
const KNOWN: Span = Span::millis(400);
/// A bowl that is put down is there within this.
const PUT_DOWN: Span = Span::millis(700);
/// The lightest bowl, in grams.
const BOWL_G: f64 = 20.0;
/// An empty scale shows no more than this, in grams.
const EMPTY_G: f64 = 2.0;

/// Why the weight alone does not say whether it is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unclear {
    /// It came in a way that nothing comes in which is poured.
    Jumped,
    /// It came too slowly for a hand.
    Crept,
    /// It may be the bowl.
    Bowl,
    /// Less stands there than before it was lifted.
    Less,
    /// The scale was set to another unit.
    Unit,
}

/// What became of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "news", rename_all = "snake_case")]
pub enum WeightNews {
    /// It begins to go in; what stood there before counts as nothing.
    Begins {
        /// What stood there before, in grams.
        base: f64,
    },
    /// A bowl was put on: it counts as nothing.
    Bowl {
        /// Its weight, in grams.
        grams: f64,
    },
    /// It stands, and is right.
    In {
        /// So many grams of it.
        net: f64,
        /// All that stands on the scale.
        gross: f64,
    },
    /// It stands, and is too much.
    Over {
        /// So many grams of it.
        net: f64,
        /// All that stands on the scale.
        gross: f64,
    },
    /// It stands, and is too little: told only of what lies there without a bowl.
    Short {
        /// So many grams of it.
        net: f64,
    },
    /// It stands, and the weight alone does not say what it is.
    Unclear {
        /// Why.
        why: Unclear,
    },
    /// The scale cannot weigh.
    Trouble {
        /// What it says.
        status: Status,
    },
    /// Something to be called now, or not at all.
    Call(Call),
}

impl WeightNews {
    /// It is gone with the moment, and nothing of it is kept.
    pub fn is_passing(&self) -> bool {
        matches!(self, Self::Call(_))
    }
}

/// The weighing of one thing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pour {
    load: Load,
    target: Option<Target>,
    /// What counts as nothing.
    base: Option<f64>,
    unit: Option<WeightUnit>,
    /// Nothing stood there: what is put down may be the bowl.
    empty: bool,
    begun: bool,
    /// What stood there of it last, at rest.
    stood: f64,
    /// The bowl is off, and so much of it was in.
    lifted: Option<f64>,
    /// The scale was set to nothing by hand while this stood on it.
    zeroed: Option<f64>,
    /// This much was told to be too much, or too little.
    over: Option<f64>,
    /// What stood there when it was aimed at this; nothing is judged that has not moved since.
    aimed_on: Option<f64>,
    moved: bool,
    /// Told once, until something changes.
    told: Option<Unclear>,
    trouble: Option<Status>,
    caller: Caller,
}

impl Pour {
    /// From now on this is to be weighed, or nothing. `base` counts as nothing where it is known; else what stands there.
    pub fn aim(&mut self, target: Option<Target>, base: Option<f64>, now: Moment) {
        let base = base.or_else(|| self.gross(now));
        let load = std::mem::take(&mut self.load);
        let trouble = self.trouble;
        *self = Self {
            load,
            target,
            trouble,
            ..Self::default()
        };
        self.load.forget();
        if let Some(base) = base {
            self.stands_on(base);
        }
    }

    /// The same thing, of which more or less is wanted now.
    pub fn change(&mut self, target: Target) {
        self.target = Some(target);
        self.over = None;
    }

    /// What is to be weighed.
    pub fn target(&self) -> Option<&Target> {
        self.target.as_ref()
    }

    /// The load.
    pub fn load(&self) -> &Load {
        &self.load
    }

    /// What counts as nothing, as far as it is known.
    pub fn base(&self) -> Option<f64> {
        self.base
    }

    /// What is in now; nothing where the scale cannot say.
    pub fn net(&self) -> Option<f64> {
        let last = self
            .load
            .last()
            .filter(|_| self.trouble.is_none() && self.lifted.is_none())?;
        Some(last.grams - self.base?)
    }

    /// Something has begun to go in.
    pub fn has_begun(&self) -> bool {
        self.begun
    }

    /// What stands on the scale, where it stands.
    pub fn gross(&self, now: Moment) -> Option<f64> {
        let rests = self.trouble.is_none() && self.load.rests_for(now) >= KNOWN;
        self.load.standing().filter(|_| rests)
    }

    /// This counts as nothing.
    fn stands_on(&mut self, base: f64) {
        let step = self.load.last().map_or(1.0, |r| r.step);
        self.base = Some(base);
        self.empty = base.abs() <= EMPTY_G.max(2.0 * step);
        self.begun = false;
        self.stood = 0.0;
        self.lifted = None;
        self.zeroed = None;
        self.over = None;
        self.told = None;
        self.load.forget();
        self.caller.begin(0.0);
    }

    /// Takes a reading: what came of it, and what is to be called.
    pub fn take(&mut self, reading: &Reading, calls: Calls, now: Moment) -> Vec<WeightNews> {
        let mut out = Vec::new();
        if !reading.is_sane() {
            return out;
        }
        if reading.status.is_trouble() {
            self.load.disturb();
            if self.trouble.replace(reading.status) != Some(reading.status) {
                let status = reading.status;
                out.push(WeightNews::Trouble { status });
            }
            return out;
        }
        self.trouble = None;
        self.load.take(reading, now);
        let Some(target) = self.target else {
            return out;
        };
        let Some(base) = self.base else {
            if let Some(gross) = self.gross(now) {
                self.stands_on(gross);
            }
            return out;
        };
        let unit = *self.unit.get_or_insert(reading.unit);
        if unit != reading.unit {
            self.load.disturb();
            self.unclear(Unclear::Unit, &mut out);
            return out;
        }
        let slack = self.load.slack();
        let aimed_on = *self.aimed_on.get_or_insert(reading.grams);
        self.moved |= (reading.grams - aimed_on).abs() > slack;
        let net = self.follow_bowl(reading, base);
        let rests = self.load.rests_for(now);
        if let Some(before) = self.lifted {
            if rests >= KNOWN {
                self.put_back(before, net, reading, &target, &mut out);
            }
            return out;
        }
        if rests >= KNOWN {
            if net.abs() <= slack {
                self.begun = false;
            }
            self.stood = net;
        }
        if !self.begun && !self.begins(net, slack, reading, &target, now, &mut out) {
            return out;
        }
        if let Some(call) = self.caller.take(net, &target, calls, &self.load, now) {
            out.push(WeightNews::Call(call));
        }
        let within = slack.max(target.tolerance * 0.4);
        if self.moved && self.load.stands_within(within, now) >= STANDS {
            let gross = self.load.standing().unwrap_or(reading.grams);
            self.judge(gross, &target, &mut out);
        }
        out
    }

    /// The bowl may be lifted, or the scale set to nothing by hand; what is in then.
    fn follow_bowl(&mut self, reading: &Reading, base: f64) -> f64 {
        let (grams, slack) = (reading.grams, self.load.slack());
        let net = grams - base;
        let is_nothing = grams.abs() <= 2.0 * slack;
        if let Some(stood) = self.zeroed
            && (grams - stood).abs() <= 3.0 * slack
            && self.load.leaps().is_some()
        {
            // It was the bowl that was off, and not the scale that was set.
            self.base = Some(base + stood);
            self.zeroed = None;
            self.load.excuse();
            return net - stood;
        }
        let much = (10.0_f64).max(3.0 * reading.step);
        if self.lifted.is_none() && net < -much {
            if is_nothing && let Some(stood) = self.load.leaps().filter(|g| *g > much) {
                self.base = Some(base - stood);
                self.zeroed = Some(stood);
                self.load.excuse();
                return net + stood;
            }
            self.lifted = Some(self.stood);
        }
        net
    }

    /// Something stands there again.
    fn put_back(
        &mut self,
        before: f64,
        net: f64,
        reading: &Reading,
        target: &Target,
        out: &mut Vec<WeightNews>,
    ) {
        let slack = self.load.slack();
        let near = (5.0_f64).max(3.0 * slack);
        let nothing_in = before.abs() <= target.tolerance.max(slack);
        if (net - before).abs() <= near {
            if nothing_in {
                self.stands_on(self.load.standing().unwrap_or(reading.grams));
            } else {
                self.lifted = None;
                self.told = None;
            }
        } else if reading.grams.abs() <= EMPTY_G.max(2.0 * reading.step) {
            // The bowl is still off.
            if nothing_in {
                self.stands_on(reading.grams);
            }
        } else if nothing_in {
            if (net - target.grams).abs() <= target.tolerance {
                self.unclear(Unclear::Bowl, out);
                return;
            }
            let grams = self.load.standing().unwrap_or(reading.grams);
            self.stands_on(grams);
            out.push(WeightNews::Bowl { grams });
        } else if net > before {
            self.lifted = None;
        } else {
            self.unclear(Unclear::Less, out);
        }
    }

    /// Something comes: is it what is to be weighed? A bowl on an empty scale is not.
    fn begins(
        &mut self,
        net: f64,
        slack: f64,
        reading: &Reading,
        target: &Target,
        now: Moment,
        out: &mut Vec<WeightNews>,
    ) -> bool {
        if net < (2.0 * slack).min(target.grams / 2.0).max(slack * 1.01) {
            return false;
        }
        let base = self.base.unwrap_or_default();
        let could_be_bowl = self.empty
            && net > BOWL_G.min(target.grams)
            && !target.bare
            && !(target.pieces && net <= target.grams * 1.3);
        if could_be_bowl || self.empty && !target.pieces && !target.bare {
            let slow = self.load.rise(base).is_none_or(|rise| rise > PUT_DOWN);
            if self.load.rests_for(now) < KNOWN {
                // Poured for so long it is no bowl.
                let poured = slow && self.load.changed_over(PUT_DOWN) < 0.8 * net;
                if !poured {
                    return false;
                }
            } else if could_be_bowl && !slow {
                if (net - target.grams).abs() <= target.tolerance {
                    if self.load.rests_for(now) >= STANDS {
                        self.unclear(Unclear::Bowl, out);
                    }
                    return false;
                }
                let grams = self.load.standing().unwrap_or(reading.grams);
                self.stands_on(grams);
                out.push(WeightNews::Bowl { grams });
                return false;
            }
        }
        self.begun = true;
        self.empty = false;
        self.caller.begin(0.0);
        out.push(WeightNews::Begins { base });
        true
    }

    /// It stands: is it right?
    fn judge(&mut self, gross: f64, target: &Target, out: &mut Vec<WeightNews>) {
        let net = gross - self.base.unwrap_or_default();
        let slack = self.load.slack();
        if self.over.is_some_and(|over| (net - over).abs() > slack) {
            self.over = None;
        }
        let off = net - target.grams;
        if off < -target.tolerance {
            if target.bare && self.over.is_none() && net > target.grams / 2.0 {
                self.over = Some(net);
                out.push(WeightNews::Short { net });
            }
            return;
        }
        if self.load.leapt() {
            self.unclear(Unclear::Jumped, out);
        } else if self.load.crept().abs() > target.tolerance.max(slack) {
            self.unclear(Unclear::Crept, out);
        } else if off <= target.tolerance {
            self.base = Some(gross);
            self.target = None;
            out.push(WeightNews::In { net, gross });
        } else if self.over.is_none() {
            self.over = Some(net);
            out.push(WeightNews::Over { net, gross });
        }
    }

    fn unclear(&mut self, why: Unclear, out: &mut Vec<WeightNews>) {
        if self.told != Some(why) {
            self.told = Some(why);
            out.push(WeightNews::Unclear { why });
        }
    }
}
