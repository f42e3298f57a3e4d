//! The scale at the bench: what its readings come to, and what is said of them.

use super::Bench;
use super::at_scale::Aim;
use super::dish::At;
use super::effect::{Chime, Effect, Why};
use super::event::Device;
use super::pending::Pending;
use super::taken::{Shows, Taken};
use super::words;
use crate::measure::{Mass, Volume, ingredients, say};
use crate::order::Order;
use crate::scale::{Call, Reading, Status, Target, Unclear, WeightNews, tolerance};

/// Of what is fewer steps of the scale than this the scale tells too little. Common practice, no source.
const BEYOND_STEPS: f64 = 5.0;
/// A batch is offered larger by so much at most.
const MOST_LARGER: f64 = 1.25;
/// Nothing is as heavy as this: what is put on is a bowl.
const NO_WEIGHT_G: f64 = 1e5;

impl Bench {
    // What it comes to.

    /// What is to be weighed now, on a scale of such a step; nothing where the scale cannot tell it.
    fn aim(&self, step: f64) -> Option<(Aim, Target)> {
        if let Some(division) = self.scale.division {
            let target = Target {
                grams: division.each,
                tolerance: (division.each * 0.03).max(step) + 1e-6,
                pieces: false,
                bare: true,
            };
            return Some((Aim::Piece(division.done), target));
        }
        if self.step().is_none() && self.formula().steps.first().is_some_and(|s| s.weigh_up) {
            let target = Target {
                grams: NO_WEIGHT_G,
                tolerance: 1.0,
                pieces: false,
                bare: false,
            };
            return Some((Aim::Bowl, target));
        }
        let at = self.dish().called()?;
        let part = self.formula().steps[at.0].uses[at.1].part;
        let ingredient = self.dish().ingredient(at);
        let quantity = self.batch().quantity(self.formula(), ingredient, part)?;
        let (low, high) = quantity.mass?;
        let there = self.dish().weighed(at).map_or(0.0, Mass::as_grams);
        let middle = Mass::grams(f64::midpoint(low.as_grams(), high.as_grams()) - there);
        let grams = middle.to_step(step).as_grams();
        let pieces = self.is_counted(at);
        // Anything between the ends of a range is right.
        let range = (high.as_grams() - low.as_grams()) / 2.0;
        let target = Target {
            grams,
            tolerance: tolerance(grams, step, pieces).max(range),
            pieces,
            bare: false,
        };
        (grams >= BEYOND_STEPS * step - 1e-6).then_some((self.aim_at(at), target))
    }

    /// A use of the dish that the cook is at.
    fn aim_at(&self, at: At) -> Aim {
        Aim::Use(self.dishes.at_hand(), at)
    }

    fn is_counted(&self, at: At) -> bool {
        let ingredient = self.dish().ingredient(at);
        self.batch().count(self.formula(), ingredient).is_some()
    }

    /// What a reading comes to. Nothing is done; where the pour is, is kept until the program stops.
    pub(super) fn take_reading(&mut self, reading: &Reading) -> Taken {
        let now = self.now;
        let aim = self.aim(reading.step);
        match (self.scale.aimed, aim) {
            (was, aim) if was == aim => {}
            (Some((was, _)), Some((aim, target))) if was == aim => self.scale.pour.change(target),
            (_, aim) => {
                let base = self
                    .scale
                    .base
                    .filter(|(of, _)| Some(*of) == aim.map(|a| a.0));
                let base = base.map(|(_, base)| base);
                self.scale
                    .pour
                    .aim(aim.map(|(_, target)| target), base, now);
            }
        }
        self.scale.aimed = aim;
        let calls = self.options.calls;
        let mut news = self.scale.pour.take(reading, calls, now);
        let called = news.iter().find_map(|n| match n {
            WeightNews::Call(call) => Some(*call),
            _ => None,
        });
        news.retain(|n| !n.is_passing());
        // That there is a scale, and how fine it is, stays as well.
        if !news.is_empty() || self.scale.step != Some(reading.step) && reading.is_sane() {
            return Taken::Weighed { news };
        }
        called.map_or(Taken::Ignored, |call| Taken::Called { call })
    }

    /// An order that may lean on the scale goes with what the scale shows.
    pub(super) fn beside_scale(&self, taken: Taken) -> Taken {
        match taken {
            Taken::Order { order } if leans_on_scale(&order) => match self.shows() {
                Some(shows) => Taken::AtScale { order, shows },
                None => Taken::Order { order },
            },
            other => other,
        }
    }

    fn shows(&self) -> Option<Shows> {
        let pour = &self.scale.pour;
        let rests = pour.gross(self.now);
        let gross = rests.or_else(|| pour.load().last().map(|r| r.grams))?;
        // Until the next reading the pour is still that of what was weighed before.
        let aimed = self.scale.aimed.map(|(aim, _)| aim);
        let net = match self.scale.base {
            Some((aim, base)) if aimed != Some(aim) => Some(gross - base),
            _ => pour.net().filter(|_| pour.has_begun()),
        };
        Some(Shows {
            gross,
            net: net.filter(|net| *net > pour.load().slack()),
            rests: rests.is_some(),
        })
    }

    // What is said and done.

    /// A weight is called.
    pub(super) fn called_out(call: Call, out: &mut Vec<Effect>) {
        let say = |text: String| Effect::Say {
            text,
            why: Why::Weight,
        };
        out.push(match call {
            Call::IsIn { grams } => say(words::number(grams)),
            Call::ToGo { grams, first: true } => say(format!("{} to go", words::number(grams))),
            Call::ToGo { grams, .. } => say(words::number(grams)),
            Call::Tone { near } => Effect::Tone { near },
            Call::Reached => Effect::Chime {
                chime: Chime::Enough,
                urgency: 0,
            },
        });
    }

    /// What the scale showed comes to this.
    pub(super) fn weighed_news(
        &mut self,
        reading: &Reading,
        news: &[WeightNews],
        out: &mut Vec<Effect>,
    ) {
        self.scale.step = Some(reading.step);
        let Some((aim, target)) = self.aim(reading.step) else {
            for one in news {
                if let WeightNews::Trouble { status } = one {
                    self.scale_trouble(*status, out);
                }
            }
            return;
        };
        for one in news {
            match (*one, aim) {
                (WeightNews::Bowl { grams }, Aim::Bowl) => {
                    let text = format!("Bowl: {}.", self.say_weight(grams));
                    self.note(out, &text);
                    self.go_on_weighing(grams, out);
                }
                (WeightNews::Trouble { status }, _) => self.scale_trouble(status, out),
                (_, Aim::Bowl) => {}
                (WeightNews::Begins { base }, _) => self.scale.base = Some((aim, base)),
                (WeightNews::Bowl { grams }, _) => {
                    self.scale.base = Some((aim, grams));
                    let text = format!("Bowl: {}.", self.say_weight(grams));
                    self.note(out, &text);
                }
                (WeightNews::In { net, gross }, Aim::Use(_, at)) => {
                    self.came_in(at, net, gross, out);
                }
                (WeightNews::In { gross, .. }, Aim::Piece(_)) => self.piece_done(gross, out),
                (WeightNews::Over { net, gross }, Aim::Use(_, at)) => {
                    self.too_much(at, net, gross, &target, out);
                }
                (WeightNews::Over { net, .. }, Aim::Piece(_)) => {
                    let over = self.say_weight(net - target.grams);
                    self.note(out, &format!("{} over.", words::capital(&over)));
                }
                (WeightNews::Short { net }, _) => {
                    let short = self.say_weight(target.grams - net);
                    self.note(out, &format!("{} short.", words::capital(&short)));
                }
                (WeightNews::Unclear { why }, Aim::Use(_, at)) => self.unclear(at, why, out),
                (WeightNews::Unclear { .. } | WeightNews::Call(_), _) => {}
            }
        }
    }

    /// The next weigh-up by itself, which counts from what is on the scale.
    fn go_on_weighing(&mut self, gross: f64, out: &mut Vec<Effect>) {
        let before = self.state_of_work();
        self.next(out);
        self.count_from(gross);
        self.remember(before);
    }

    /// A weight as the scale shows it, in words.
    pub(super) fn say_weight(&self, grams: f64) -> String {
        let step = self.scale.step.unwrap_or(self.options.scale_step_g);
        say::exact_mass(Mass::grams(grams.abs()).to_step(step.min(1.0)))
    }

    /// It is in by itself: on to the next.
    fn came_in(&mut self, at: At, net: f64, gross: f64, out: &mut Vec<Effect>) {
        let before = self.state_of_work();
        if matches!(
            self.dialogue.question(),
            Some(Pending::TooMuch { .. } | Pending::TooLittle { .. } | Pending::OnScale { .. })
        ) {
            self.dialogue.take_question();
        }
        let what = self.put_weighed(at, net, gross, out);
        let here = self.step().unwrap_or(0);
        let goes_on = self.dish().called().is_none()
            && self
                .formula()
                .steps
                .get(here + 1)
                .is_some_and(|s| s.weigh_up)
            && self.rack.live(self.now).is_empty();
        if goes_on {
            // What is weighed next needs no word to begin.
            self.tell(out, &what);
            self.next(out);
            self.count_from(gross);
        } else {
            let next = self.next_call();
            self.tell(out, &format!("{what} {next}"));
        }
        self.remember(before);
    }

    /// So much of it is in, and the next counts from there; how that is said.
    pub(super) fn put_weighed(
        &mut self,
        at: At,
        net: f64,
        gross: f64,
        out: &mut Vec<Effect>,
    ) -> String {
        let now = self.now;
        let wanted = self.dish().still_wants(at).as_grams();
        let there = self.dish().weighed(at).map_or(0.0, Mass::as_grams);
        self.dish_mut().weigh(at, Mass::grams(there + net));
        self.dish_mut().assume(at, now);
        self.count_from(gross);
        let name = self.dish().name(at).to_owned();
        out.push(Effect::Weighed {
            dish: self.dishes.at_hand(),
            ingredient: name.clone(),
            wanted: self.dish().wants(at).as_grams(),
            really: there + net,
        });
        let step = self.scale.step.unwrap_or(1.0);
        let name = words::capital(&name);
        if (net - wanted).abs() <= step * 0.6 {
            format!("{name} in.")
        } else {
            format!("{name} in, {}.", self.say_weight(net))
        }
    }

    /// What is called next counts from what is on the scale.
    pub(super) fn count_from(&mut self, gross: f64) {
        self.scale.base = self.dish().called().map(|next| (self.aim_at(next), gross));
    }

    /// What is called next, or that all is in.
    pub(super) fn next_call(&self) -> String {
        match self.dish().called() {
            Some(next) => self.call_words(next),
            None => self.all_in(),
        }
    }

    /// Too much: what to do, and what would make it right.
    fn too_much(&mut self, at: At, net: f64, gross: f64, target: &Target, out: &mut Vec<Effect>) {
        let by = (net + self.dish().weighed(at).map_or(0.0, Mass::as_grams))
            / self.dish().wants(at).as_grams();
        let percent = ((by - 1.0) * 100.0).round();
        let larger =
            Some(by).filter(|by| *by <= MOST_LARGER && percent >= 1.0 && !self.is_counted(at));
        let over = words::capital(&self.say_weight(net - target.grams));
        let mut question = format!("{over} over: take some out, or say leave it.");
        if larger.is_some() {
            question.push_str(&format!(
                " Or say yes: I make the whole batch {} percent larger.",
                words::number(percent)
            ));
        }
        self.put(
            Pending::TooMuch {
                dish: self.dishes.at_hand(),
                at,
                net,
                gross,
                larger,
                question,
            },
            out,
        );
    }

    /// It stands there, and the cook must say what it is.
    fn unclear(&mut self, at: At, why: Unclear, out: &mut Vec<Effect>) {
        let name = self.dish().name(at).to_owned();
        let question = match why {
            Unclear::Jumped => format!(
                "The weight jumped. {} the {name} in?",
                words::capital(words::is(&name))
            ),
            Unclear::Crept => format!(
                "The weight crept up slowly. {} the {name} in?",
                words::capital(words::is(&name))
            ),
            Unclear::Bowl => format!("Is that the {name}?"),
            Unclear::Less => {
                let text = "Less is on the scale than before. Say count from here, or say done when it is in.";
                self.note(out, text);
                return;
            }
            Unclear::Unit => {
                self.note(
                    out,
                    "The scale was set to another unit. Set it back, or say done when it is in.",
                );
                return;
            }
        };
        self.put(Pending::OnScale { question }, out);
    }

    fn scale_trouble(&mut self, status: Status, out: &mut Vec<Effect>) {
        let text = match status {
            Status::OverLimit => "That is too heavy for the scale.",
            Status::Calibrate => {
                "The scale asks to be calibrated. Until then, say done when it is in."
            }
            Status::Rezero => "The scale asks to be set to zero, with nothing on it.",
            _ => "The scale has a fault. Say done when it is in.",
        };
        self.note(out, text);
    }

    fn piece_done(&mut self, gross: f64, out: &mut Vec<Effect>) {
        let Some(division) = &mut self.scale.division else {
            return;
        };
        division.done += 1;
        let (done, count) = (division.done, division.count);
        let number = words::capital(&words::count(done as usize));
        if done == count {
            self.scale.division = None;
            self.scale.base = None;
            self.tell(out, &format!("{number}. That is all of them."));
        } else {
            self.scale.base = Some((Aim::Piece(done), gross));
            self.tell(out, &format!("{number}."));
        }
    }

    /// `That is beyond this scale: half a teaspoon, level.`, of what is only a few steps of it; empty else.
    pub(super) fn beyond_words(&self, at: At) -> String {
        let Some(step) = self.scale.step.filter(|_| !self.lacks(Device::Scale)) else {
            return String::new();
        };
        let grams = self.dish().still_wants(at).as_grams();
        if grams <= 0.0 || grams >= BEYOND_STEPS * step - 1e-6 {
            return String::new();
        }
        let table = &self.formula().ingredients[self.dish().ingredient(at)].table;
        let density = ingredients().find(table).and_then(|row| row.g_per_ml);
        match density {
            Some(density) => {
                let volume = Volume::millilitres(grams / density);
                let (spoons, exact) = say::spoons(volume, self.options.region);
                let about = if exact { "" } else { "about " };
                format!(
                    " That is beyond this scale: {about}{spoons}, level. Say done when it is in."
                )
            }
            None => " That is beyond this scale. Say done when it is in.".to_owned(),
        }
    }
}

/// It may lean on what the scale shows.
fn leans_on_scale(order: &Order) -> bool {
    let at_hand = matches!(
        order,
        Order::Done | Order::Yes | Order::No | Order::WeighNext
    );
    at_hand || order.is_at_scale()
}
