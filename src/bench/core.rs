//! What the thermometer shows in the middle of the food, against what is wanted there.

use super::Bench;
use super::effect::Effect;
use super::event::Heard;
use super::pending::Pending;
use super::words;
use crate::formula::Step;
use crate::measure::Region;
use crate::order::Order;
use crate::safety::Danger;
use crate::understand::{name_words, numbers::parse_words};

/// What may stand beside a number that answers for the heat.
const BESIDE: &[&str] = &[
    "yes", "no", "it", "is", "at", "about", "only", "just", "degrees", "now", "inside", "the",
    "says", "reads", "shows", "celsius", "already", "still", "well", "um", "not", "quite", "yet",
    "and", "c", "okay", "ok", "reached", "has", "i", "get", "got", "have",
];

/// A heat that a look asks for, and whether it must be held.
#[derive(Debug, Clone, Copy, PartialEq)]
struct WantedCore {
    celsius: f64,
    held: bool,
}

/// The heat of a look in degrees: 'is the thickest part at seventy four degrees'.
fn of_look(look: &str) -> Option<WantedCore> {
    let words = name_words(look);
    let at = words.iter().position(|w| w == "degrees" || w == "degree")?;
    let from = at.saturating_sub(5);
    let celsius = (from..at).find_map(|from| parse_words(&words[from..at].join(" ")))?;
    let held = words.get(at + 1).is_some_and(|w| w == "for");
    Some(WantedCore { celsius, held })
}

/// The hottest that a step asks for: by its looks, and by what the program knows of its food.
fn of_step(step: &Step, region: Region) -> Option<WantedCore> {
    let looks = step.timers.iter().filter_map(|t| t.look.as_deref());
    let looks = looks.chain(step.look.as_deref()).filter_map(of_look);
    let known = step.dangers.iter().filter_map(|danger| match danger {
        Danger::Core(core) => {
            let of = core.of(region);
            Some(WantedCore {
                celsius: of.celsius,
                held: of.seconds.is_some(),
            })
        }
        Danger::Caution(_) => None,
    });
    looks
        .chain(known)
        .max_by(|a, b| a.celsius.total_cmp(&b.celsius))
}

impl Bench {
    /// The heat that is asked for just now, in Celsius: by the question that waits, else by the step.
    fn wanted_core(&self) -> Option<WantedCore> {
        let asked = self.core_asked();
        let step = self.step().filter(|_| !self.is_finished());
        asked.or_else(|| {
            let here = &self.formula().steps[step?];
            of_step(here, self.options.region)
        })
    }

    /// The heat that the look that waits asks for.
    fn core_asked(&self) -> Option<WantedCore> {
        match self.dialogue.question()? {
            question
            @ (Pending::Look { .. } | Pending::StepLook { .. } | Pending::Early { .. }) => {
                of_look(question.question())
            }
            _ => None,
        }
    }

    /// 'Yes, it is seventy five', while a heat is asked for.
    pub(super) fn core_said(&self, heard: &Heard) -> Option<Order> {
        self.core_asked()?;
        let words = name_words(&heard.text);
        let numbers: Vec<&str> = words
            .iter()
            .map(String::as_str)
            .filter(|w| !BESIDE.contains(w))
            .collect();
        let core_c = parse_words(&numbers.join(" "))?;
        (30.0..=130.0)
            .contains(&core_c)
            .then_some(Order::CoreReads { core_c })
    }

    /// A heat answers the look that asks for one: yes where it is hot enough, not yet where it is not.
    pub(super) fn core_as_answer(&mut self, order: Order) -> Order {
        let (Order::CoreReads { core_c }, Some(wanted)) = (&order, self.core_asked()) else {
            return order;
        };
        if *core_c < wanted.celsius {
            let text = format!("Not yet: {} is wanted.", degrees(wanted.celsius));
            self.dialogue.lead_with(&text);
            Order::NotYet
        } else if wanted.held {
            order
        } else {
            Order::Yes
        }
    }

    /// What the thermometer shows, where no look waits for it.
    pub(super) fn core_reads(&mut self, core_c: f64, out: &mut Vec<Effect>) {
        let text = match self.wanted_core() {
            None => "Nothing here is done by its heat inside. Name the food: is chicken done at seventy four degrees?".to_owned(),
            Some(wanted) if core_c < wanted.celsius => {
                format!("Not yet: {} is wanted inside.", degrees(wanted.celsius))
            }
            Some(wanted) if wanted.held => format!(
                "That is hot enough, once it has been at {} for two minutes.",
                degrees(wanted.celsius)
            ),
            Some(wanted) => format!("Yes, that is hot enough: {} is wanted.", degrees(wanted.celsius)),
        };
        self.tell(out, &text);
    }

    /// What this formula itself asks for in its middle, where that is more than a heat.
    pub(super) fn stricter_here(&self, food: &str, core_c: f64) -> Option<String> {
        let named = |text: &str| {
            let there = name_words(text);
            name_words(food).iter().any(|word| there.contains(word))
        };
        let dish = self.formula();
        let is_here = named(&dish.name)
            || dish
                .ingredients
                .iter()
                .any(|i| named(&i.name) || i.also.iter().any(|a| named(a)));
        let steps = dish
            .steps
            .iter()
            .filter(|step| step.oven_c.is_some() || step.look.is_some() || !step.timers.is_empty());
        let looks = steps.flat_map(|step| {
            step.timers
                .iter()
                .filter_map(|t| t.look.as_deref())
                .chain(step.look.as_deref())
        });
        let wanted = looks
            .filter_map(of_look)
            .filter(|wanted| wanted.celsius < 100.0)
            .max_by(|a, b| a.celsius.total_cmp(&b.celsius))?;
        (is_here && core_c < wanted.celsius).then(|| {
            let held = if wanted.held { " for two minutes" } else { "" };
            format!(
                "No, not yet: this formula asks for {}{held} in the middle.",
                degrees(wanted.celsius)
            )
        })
    }
}

fn degrees(c: f64) -> String {
    format!("{} degrees", words::number(c))
}

#[cfg(test)]
mod tests {
    use super::{WantedCore, of_look};

    #[test]
    fn a_look_says_how_hot() {
        let wanted = |celsius, held| Some(WantedCore { celsius, held });
        assert_eq!(
            of_look("Is the thickest part of the thigh at seventy four degrees?"),
            wanted(74.0, false)
        );
        assert_eq!(
            of_look(
                "Is it brown, and is the middle of the fish at seventy degrees for two minutes?"
            ),
            wanted(70.0, true)
        );
        assert_eq!(
            of_look("Is it at 105 degrees, and does a drop wrinkle?"),
            wanted(105.0, false)
        );
        assert_eq!(of_look("Has it doubled?"), None);
    }
}
