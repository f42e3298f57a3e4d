//! Questions: amounts of this formula, arithmetic, allergens.

use super::Bench;
use super::effect::{Chime, Effect};
use super::words;
use crate::ask::{self, Context, Question};
use crate::measure::{Heat, Temperature, say};
use crate::order::UnitSymbol;
use crate::safety::{self, State, Wish};
use crate::understand::name_words;

/// Words of somebody who has not got what is asked about.
const LACKING: [&str; 7] = ["no", "not", "without", "out", "ran", "lack", "forgot"];

impl Bench {
    /// What the arithmetic may know of the formula and the kitchen.
    pub(super) fn context(&self) -> Context {
        Context {
            friction_c: self.friction_c,
            allergens: Some(
                self.contents()
                    .holds(self.options.law())
                    .into_iter()
                    .map(|found| found.allergen.id)
                    .collect(),
            ),
            ..super::ask_context(self.formula(), self.batch(), &self.options, self.step())
        }
    }

    pub(super) fn how_much(
        &mut self,
        ingredient: &str,
        part: Option<f64>,
        unit: Option<UnitSymbol>,
        out: &mut Vec<Effect>,
    ) {
        let Some(i) = self.formula().find(ingredient) else {
            self.tell(out, &words::none_in(ingredient));
            return;
        };
        let part = part.unwrap_or(1.0);
        let mass = self.batch().mass(i).times(part);
        let quantity = self.batch().quantity(self.formula(), i, part);
        let exact = quantity.is_some_and(|q| q.exact().is_some());
        let amount = match unit.filter(|u| *u != UnitSymbol::GRAM && exact) {
            None => self.exact_amount(i, part),
            Some(unit) => {
                let question = Question::Convert {
                    number: mass.as_grams(),
                    from: UnitSymbol::GRAM,
                    to: unit,
                    ingredient: Some(self.formula().ingredients[i].table.as_str().into()),
                };
                match ask::answer(&question, &self.context()) {
                    Ok(a) => {
                        self.tell(out, &a.words);
                        return;
                    }
                    Err(e) => {
                        self.tell(
                            out,
                            &format!(
                                "{} {}.",
                                words::sentence(&e.to_string().replace('`', "")),
                                self.amount_words(i, part)
                            ),
                        );
                        return;
                    }
                }
            }
        };
        let mut text = format!("{}.", words::capital(&amount));
        if part == 1.0 && !self.options.brief {
            let pieces: Vec<String> = self
                .formula()
                .steps
                .iter()
                .enumerate()
                .flat_map(|(s, step)| step.uses.iter().map(move |u| (s, u)))
                .filter(|(_, u)| u.ingredient == i && u.part < 1.0)
                .map(|(s, u)| {
                    format!(
                        "{} in step {}",
                        self.amount_words(i, u.part),
                        words::number(s as f64 + 1.0)
                    )
                })
                .collect();
            if !pieces.is_empty() {
                text = format!("{text} {}.", words::capital(&words::list(&pieces)));
            }
        }
        self.tell(out, &text);
    }

    /// 'I have no thyme' asks what to use instead, and says as well that no thyme goes in.
    pub(super) fn note_lacking(&mut self, question: &Question) {
        let Question::Swap { of, with: None, .. } = question else {
            return;
        };
        let heard = self.dialogue.heard().map(|(text, _)| name_words(text));
        let words = heard.unwrap_or_default();
        let said = |w: &str| words.iter().any(|x| x == w);
        if !LACKING.into_iter().any(said) || said("if") || said("can") {
            return;
        }
        let of: &str = of;
        let own = &self.formula().ingredients;
        let is_it = |i: &crate::formula::Ingredient| i.name == of || i.table == of || i.id == of;
        if let Some(at) = own.iter().position(is_it) {
            self.dish_mut().lacks(at);
        }
    }

    pub(super) fn answer(&mut self, question: &Question, out: &mut Vec<Effect>) {
        match question {
            Question::Swap { .. } => return self.instead(question, out),
            Question::SafeAt { food, core_c } => {
                if let Some(text) = self.stricter_here(food, *core_c) {
                    self.tell(out, &text);
                    return;
                }
            }
            _ => {}
        }
        match ask::answer(question, &self.context()) {
            Ok(a) => {
                let mut text = a.words;
                if let Question::WaterTemperature { .. } = question {
                    self.dish_mut().water_is(a.value);
                }
                if let Question::Friction { water_c, .. } = question {
                    self.dish_mut().water_is(*water_c);
                    self.friction_c = a.value;
                    text.push_str(" From now on I count it in for the water.");
                }
                self.tell(out, &text);
            }
            Err(e) => {
                out.push(Effect::Chime {
                    chime: Chime::NotUnderstood,
                    urgency: 0,
                });
                self.tell(out, &words::sentence(&e.to_string().replace('`', "")));
            }
        }
    }

    pub(super) fn contains(&mut self, what: &str, wish: Wish, out: &mut Vec<Effect>) {
        let text = self.contains_words(what, wish);
        self.tell(out, &text);
    }

    fn contains_words(&self, what: &str, wish: Wish) -> String {
        let contents = self.contents();
        match (safety::topic(what), self.formula().find(what)) {
            (Some(topic), _) => contents.answer(&topic, wish),
            (None, Some(i)) if wish == Wish::Present => {
                format!("Yes: {}.", self.named_amount(i, 1.0))
            }
            (None, Some(i)) => contents.answer_food(&self.formula().ingredients[i].name, wish),
            (None, None) => contents.answer_food(what, wish),
        }
    }

    /// The same of several dishes: which of them, in a sentence or two.
    pub(super) fn contains_of_each(&mut self, what: &str, wish: Wish, out: &mut Vec<Effect>) {
        let Some(topic) = safety::topic(what) else {
            self.of_every_dish(|bench, out| bench.contains(what, wish, out), out);
            return;
        };
        let (mut has, mut may, mut none) = (Vec::new(), Vec::new(), Vec::new());
        for id in self.dishes.on().collect::<Vec<_>>() {
            let the = self.dishes.the(id);
            let (state, said) = self.while_at(id, |bench| {
                let contents = bench.contents();
                (contents.state_with(&topic), contents.answer(&topic, wish))
            });
            match state {
                State::Holds => has.push(the),
                State::NoneKnown => none.push(the),
                State::May | State::Unknown => {
                    let reason = said
                        .split_once(". ")
                        .map_or(said.as_str(), |(_, reason)| reason);
                    may.push(format!("{}: {reason}", words::capital(&the)));
                }
            }
        }
        let is_food = topic.nothing.is_none();
        let mut said = Vec::new();
        if !has.is_empty() {
            let each = words::list(&has);
            let (both, contain) = match has.len() {
                1 => ("it", "contains"),
                2 => ("both", "contain"),
                _ => ("all", "contain"),
            };
            said.push(match (wish, is_food) {
                (Wish::Present, _) => format!("Yes: {each}."),
                (Wish::Absent, true) => format!("Not {each}: {both} {contain} {}.", topic.spoken),
                (Wish::Absent, false) => format!("Not {each}."),
            });
        }
        said.extend(may);
        if !none.is_empty() {
            let each = words::capital(&words::list(&none));
            let (has, packets) = (
                if none.len() == 1 { "has" } else { "have" },
                "check the packets",
            );
            said.push(if is_food {
                format!("{each} {has} none that I know of; {packets}.")
            } else {
                format!("{each}: nothing against it that I know of; {packets}.")
            });
        }
        self.tell(out, &said.join(" "));
    }

    pub(super) fn allergens(&mut self, out: &mut Vec<Effect>) {
        let text = self.contents().summary(self.options.law());
        self.tell(out, &text);
    }

    pub(super) fn oven_heat(&mut self, out: &mut Vec<Effect>) {
        let text = match &self.formula().oven {
            None => "This formula needs no oven.".to_owned(),
            Some(oven) => {
                // The heat of this step, or of the next that has one.
                let here = self.step().unwrap_or(0);
                let next = self
                    .formula()
                    .steps
                    .iter()
                    .skip(here)
                    .find_map(|s| s.oven_c);
                let t = Temperature::celsius(next.unwrap_or(oven.heat_c));
                let celsius = say::temperature(t, Heat::C).unwrap_or_default();
                if self.options.brief {
                    format!("{}.", words::capital(&celsius))
                } else {
                    let fan = say::temperature(t, Heat::Fan).unwrap_or_default();
                    let gas =
                        say::temperature(t, Heat::Gas).map_or(String::new(), |g| format!(", {g}"));
                    format!(
                        "{}; {fan}{gas}. It needs {} to get hot.",
                        words::capital(&celsius),
                        words::span(self.oven_lead(oven.lead))
                    )
                }
            }
        };
        self.tell(out, &text);
    }

    pub(super) fn hydration(&mut self, out: &mut Vec<Effect>) {
        let real = self.dish().real_batch();
        let text = match real.hydration(self.formula()) {
            None => "This formula has no flour and water to tell a hydration by.".to_owned(),
            Some(h) => {
                let mut t = format!("{} percent.", words::capital(&words::decimal(h, 1)));
                if !self.options.brief {
                    t = format!(
                        "{t} That is {} of water on {} of flour.",
                        self.say_mass(real.water(self.formula())),
                        self.say_mass(real.flour(self.formula()))
                    );
                    if let Some(total) = super::true_hydration(self.formula(), &real)
                        && (total - h).abs() >= 0.5
                    {
                        t = format!(
                            "{t} With the water inside the other things, {} percent.",
                            words::decimal(total, 1)
                        );
                    }
                }
                t
            }
        };
        self.tell(out, &text);
    }
}
