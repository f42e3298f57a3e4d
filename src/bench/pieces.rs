//! What one piece weighs, and how much there is in all.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::measure::Mass;

impl Bench {
    /// What all of it weighs as it goes in, and whether something in it has no weight that is known.
    fn in_the_bowl(&self) -> (Mass, bool) {
        let (formula, batch) = (self.formula(), self.batch());
        let unknown = formula.ingredients.iter().enumerate().any(|(at, i)| {
            !i.apart && !i.optional && i.words.is_none() && batch.mass(at).as_grams() <= 0.0
        });
        (batch.dough(formula), unknown)
    }

    /// What one piece weighs before it is baked, and how many there are.
    pub(super) fn piece_mass(&mut self, out: &mut Vec<Effect>) {
        let makes = &self.formula().makes;
        let number = makes.pieces * self.batch().factor();
        let piece = if makes.piece.is_empty() {
            "piece"
        } else {
            &makes.piece
        }
        .to_owned();
        let (all, unknown) = self.in_the_bowl();
        if number <= 0.0 || all.as_grams() <= 0.0 {
            self.tell(out, "The formula does not say enough to tell that.");
            return;
        }
        let each = self.say_mass(Mass::grams(all.as_grams() / number));
        let about = if unknown { "about " } else { "" };
        let text = if number <= 1.0 {
            format!(
                "{}{} before it is baked.",
                words::capital(about),
                if about.is_empty() {
                    words::capital(&each)
                } else {
                    each
                }
            )
        } else {
            let count = words::number(number);
            words::capital(&format!(
                "{about}{each} each: {} for {count}.",
                self.say_mass(all)
            ))
        };
        let loss = self.formula().makes.loss_percent;
        let baked = if loss > 0.0 && !self.options.brief {
            let baked = Mass::grams(all.as_grams() / number.max(1.0) * (1.0 - loss / 100.0));
            format!(
                " Baked, the {piece} comes to about {}.",
                self.say_mass(Mass::grams(baked.as_grams().round()))
            )
        } else {
            String::new()
        };
        self.tell(out, &format!("{text}{baked}"));
    }

    /// How much dough there is in all, or how much of what is made.
    pub(super) fn dough_mass(&mut self, out: &mut Vec<Effect>) {
        let (all, unknown) = self.in_the_bowl();
        if all.as_grams() <= 0.0 {
            self.tell(out, "The formula does not say enough to tell that.");
            return;
        }
        let about = if unknown { "about " } else { "" };
        let text = words::capital(&format!("{about}{} in all.", self.say_mass(all)));
        self.tell(out, &text);
    }
}
