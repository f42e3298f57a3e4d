//! What is asked of the scale, and what is done about too much and too little.

use super::Bench;
use super::at_scale::{Aim, Division};
use super::dish::At;
use super::effect::Effect;
use super::pending::Pending;
use super::taken::Shows;
use super::words;
use crate::ask::{self, Question};
use crate::measure::Mass;
use crate::order::{IngredientId, Order, ScaleBy, UnitSymbol};
use crate::scale::tolerance;

/// So many pieces at most.
const MOST_PIECES: f64 = 200.0;
/// What weighs less than this is not there, in grams.
const NOTHING_G: f64 = 1.0;

impl Bench {
    /// Does an order of this family.
    pub(super) fn ask_scale(&mut self, order: &Order, out: &mut Vec<Effect>) {
        let Some(shows) = self.scale.shows else {
            let text = match order {
                Order::AllIHave => "How much is it? Say: I only have, and how much.",
                _ => "I hear nothing from a scale.",
            };
            self.tell(out, text);
            return;
        };
        match order {
            Order::HowMuchIsIn => self.how_much_is_in(&shows, out),
            Order::AllIHave => self.all_there_is(&shows, out),
            Order::Tare => {
                match self.dish().called() {
                    Some(_) => self.count_from(shows.gross),
                    None => self.scale.tin = Some(shows.gross),
                }
                self.scale.forget_passing();
                self.tell(out, "I count from here.");
            }
            _ if !shows.rests => self.tell(out, "It is still moving."),
            Order::WeighThis { unit } => self.weigh_this(unit.as_ref(), &shows, out),
            Order::CupsOfThis { unit, ingredient } => {
                self.cups_of_this(unit, ingredient.as_ref(), &shows, out);
            }
            Order::DivideThis { count } => self.divide(*count, &shows, out),
            Order::HowMuchLost => self.how_much_lost(&shows, out),
            Order::KeepTin => {
                self.scale.tin = Some(shows.gross);
                let text = format!(
                    "{}. I will leave it out from now on.",
                    words::capital(&self.say_weight(shows.gross))
                );
                self.tell(out, &text);
            }
            _ => {}
        }
    }

    /// What is on the scale and is neither bowl nor tin.
    fn this(&self, shows: &Shows) -> f64 {
        shows
            .net
            .unwrap_or(shows.gross - self.scale.tin.unwrap_or(0.0))
    }

    fn how_much_is_in(&mut self, shows: &Shows, out: &mut Vec<Effect>) {
        let Some(at) = self
            .dish()
            .called()
            .filter(|_| self.scale.division.is_none())
        else {
            self.weigh_this(None, shows, out);
            return;
        };
        let wants = self.dish().still_wants(at).as_grams();
        let text = match shows.net {
            None => format!("Nothing yet. {}", self.call_words(at)),
            Some(net) if net < wants => format!(
                "{}; {} to go.",
                words::capital(&self.say_weight(net)),
                self.say_weight(wants - net)
            ),
            Some(net) => format!(
                "{}; {} over.",
                words::capital(&self.say_weight(net)),
                self.say_weight(net - wants)
            ),
        };
        self.tell(out, &text);
    }

    fn weigh_this(&mut self, unit: Option<&UnitSymbol>, shows: &Shows, out: &mut Vec<Effect>) {
        let this = self.this(shows);
        if this < 0.0 && self.scale.tin.is_some() {
            self.tell(out, "Less is on the scale than the tin weighs.");
            return;
        }
        self.scale.before.insert(0, this);
        self.scale.before.truncate(2);
        let grams = words::capital(&self.say_weight(this));
        let text = match unit.filter(|u| ***u != *"g") {
            None => format!("{grams}."),
            Some(unit) => self.converted(this, unit, None),
        };
        self.tell(out, &text);
    }

    fn converted(&self, grams: f64, unit: &UnitSymbol, of: Option<&str>) -> String {
        let question = Question::Convert {
            number: grams,
            from: UnitSymbol::GRAM,
            to: *unit,
            ingredient: of.map(Into::into),
        };
        match ask::answer(&question, &self.context()) {
            Ok(answer) => answer.words,
            Err(e) => format!(
                "{} {}.",
                words::sentence(&e.to_string()),
                words::capital(&self.say_weight(grams))
            ),
        }
    }

    fn cups_of_this(
        &mut self,
        unit: &UnitSymbol,
        of: Option<&IngredientId>,
        shows: &Shows,
        out: &mut Vec<Effect>,
    ) {
        let called = self.dish().called().map(|at| self.dish().ingredient(at));
        let which = match of {
            Some(id) => self.formula().find(id),
            None => called,
        };
        let Some(which) = which else {
            self.tell(out, "Of what? Say: how many cups is this of the flour.");
            return;
        };
        let table = self.formula().ingredients[which].table.clone();
        let text = self.converted(self.this(shows), unit, Some(&table));
        self.tell(out, &text);
    }

    fn divide(&mut self, count: f64, shows: &Shows, out: &mut Vec<Effect>) {
        let this = self.this(shows);
        if count.fract() != 0.0 || !(2.0..=MOST_PIECES).contains(&count) {
            self.tell(out, "I can divide into two to two hundred pieces.");
            return;
        }
        if this < NOTHING_G * count {
            self.tell(out, "There is nothing on the scale to divide.");
            return;
        }
        let each = this / count;
        self.scale.division = Some(Division {
            each,
            count: count as u32,
            done: 0,
        });
        self.scale.base = Some((Aim::Piece(0), shows.gross));
        self.scale.before.insert(0, this);
        let text = format!(
            "{} of {} each. Take it off, and put on the first.",
            words::capital(&words::number(count)),
            self.say_weight(each)
        );
        self.tell(out, &text);
    }

    fn how_much_lost(&mut self, shows: &Shows, out: &mut Vec<Effect>) {
        let this = self.this(shows);
        let near = tolerance(this, 1.0, false);
        let weighed = self.scale.before.iter();
        let before = weighed.copied().find(|before| (before - this).abs() > near);
        let (before, by) = match before {
            Some(before) => (before, ""),
            // What went in, where it was never weighed as a whole.
            None => (
                self.dish().real_batch().dough(self.formula()).as_grams(),
                " Before the oven it was not weighed: I count what went in.",
            ),
        };
        let text = if this < NOTHING_G {
            "There is nothing on the scale.".to_owned()
        } else if this > before {
            format!(
                "Nothing: {} now, {} before.{by}",
                self.say_weight(this),
                self.say_weight(before)
            )
        } else {
            let percent = (before - this) / before * 100.0;
            format!(
                "{}, {} percent: {} before, {} now.{by}",
                words::capital(&self.say_weight(before - this)),
                words::decimal(percent, 1),
                self.say_weight(before),
                self.say_weight(this)
            )
        };
        self.tell(out, &text);
    }

    /// That is all there is of it: the whole batch smaller is offered.
    fn all_there_is(&mut self, shows: &Shows, out: &mut Vec<Effect>) {
        let called = self.dish().called();
        let Some(at) = called.filter(|at| self.dish().wants(*at).as_grams() > 0.0) else {
            self.tell(out, "Nothing is being weighed.");
            return;
        };
        let there = self.dish().weighed(at).map_or(0.0, Mass::as_grams);
        let net = shows.net.unwrap_or(0.0);
        let wants = self.dish().wants(at).as_grams();
        let share = (there + net) / wants;
        let name = self.dish().name(at).to_owned();
        if share >= 0.98 {
            let what = self.put_weighed(at, net, shows.gross, out);
            let next = self.next_call();
            self.tell(out, &format!("{what} {next}"));
            return;
        }
        if share <= 0.05 {
            self.tell(
                out,
                &format!("Then there is hardly any {name}. Ask what you can use instead, or say done to go on without."),
            );
            return;
        }
        let percent = ((1.0 - share) * 100.0).round().max(1.0);
        let question = format!(
            "{} of {}. Shall I make the whole batch {} percent smaller? Or ask what you can use instead of the {name}.",
            words::capital(&self.say_weight(there + net)),
            self.say_weight(wants),
            words::number(percent)
        );
        self.put(
            Pending::TooLittle {
                dish: self.dishes.at_hand(),
                at,
                net,
                gross: shows.gross,
                question,
            },
            out,
        );
    }

    /// What is on the scale is left as it is.
    pub(super) fn leave_weighed(&mut self, at: At, net: f64, gross: f64, out: &mut Vec<Effect>) {
        if self.dish().called() != Some(at) {
            self.tell(out, "I have changed nothing.");
            return;
        }
        let what = self.put_weighed(at, net, gross, out);
        let next = self.next_call();
        self.tell(out, &format!("{what} {next}"));
    }

    /// The whole batch becomes as large as what is on the scale makes it; what is in already wants more then.
    pub(super) fn fit_larger(
        &mut self,
        at: At,
        net: f64,
        gross: f64,
        by: f64,
        out: &mut Vec<Effect>,
    ) {
        match self.batch().larger(self.formula(), by) {
            Ok(batch) if self.dish().called() == Some(at) => {
                let was = self.dish().clone();
                self.dish_mut().set_batch(batch);
                let what = self.put_weighed(at, net, gross, out);
                let step = self.scale.step.unwrap_or(self.options.scale_step_g);
                let weigh_up = |s: usize| was.formula().steps[s].weigh_up;
                let inside = was
                    .uses()
                    .filter(|((s, _), when)| when.is_some() && weigh_up(*s));
                for (of, _) in inside {
                    let there = was.weighed(of).unwrap_or_else(|| was.wants(of));
                    let wants = self.dish().wants(of).as_grams();
                    if wants - there.as_grams() > tolerance(wants, step, false) {
                        self.dish_mut().reopen(of, there);
                    }
                }
                self.count_from(gross);
                let percent = words::number(((by - 1.0) * 100.0).round());
                let next = self.next_call();
                self.tell(
                    out,
                    &format!("{what} Everything is {percent} percent larger. {next}"),
                );
            }
            Ok(_) => self.tell(out, "I have changed nothing."),
            Err(e) => self.tell(out, &words::sentence(&e.to_string())),
        }
    }

    /// The whole batch becomes as small as what there is makes it; what is in already stays.
    pub(super) fn fit_smaller(&mut self, at: At, net: f64, gross: f64, out: &mut Vec<Effect>) {
        let there = self.dish().weighed(at).map_or(0.0, Mass::as_grams);
        let share = (there + net) / self.dish().wants(at).as_grams();
        let ingredient = self.dish().ingredient(at);
        let by = ScaleBy::Limit {
            ingredient: self.formula().ingredients[ingredient].id.as_str().into(),
            have: self.batch().mass(ingredient).times(share),
        };
        match self.batch().then(self.formula(), &by) {
            Ok(batch) if self.dish().called() == Some(at) => {
                let inside = self.dish().uses().filter(|(_, when)| when.is_some());
                let inside: Vec<At> = inside.map(|(of, _)| of).collect();
                let inside = self.dish().names(inside.into_iter());
                self.dish_mut().set_batch(batch);
                let what = self.put_weighed(at, net, gross, out);
                let percent = words::number(((1.0 - share) * 100.0).round().max(1.0));
                let mut text = format!("{what} Everything is {percent} percent smaller.");
                if !inside.is_empty() {
                    let is = if inside.len() == 1 { "is" } else { "are" };
                    let list = words::list(&inside);
                    text.push_str(&format!(
                        " The {list} {is} in already: a little more than it needs now."
                    ));
                }
                let next = self.next_call();
                self.tell(out, &format!("{text} {next}"));
            }
            Ok(_) => self.tell(out, "I have changed nothing."),
            Err(e) => self.tell(out, &words::sentence(&e.to_string())),
        }
    }
}
