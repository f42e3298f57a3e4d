//! British and American words: what is said and shown follows the cook's, whoever wrote the formula.
//!
//! Only words that are the same thing on both sides are changed: double cream is no heavy cream, and self-raising flour in America
//! has salt in it. Common practice, no source.

use serde::{Deserialize, Serialize};

/// Whose words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum English {
    /// Aubergine, cling film, litre.
    British,
    /// Eggplant, plastic wrap, liter.
    American,
}

/// British and American, in small letters; of words that begin alike the longer ones first.
const PAIRS: &[(&str, &str)] = &[
    ("aubergines", "eggplants"),
    ("aubergine", "eggplant"),
    ("courgettes", "zucchini"),
    ("courgette", "zucchini"),
    ("beetroots", "beets"),
    ("beetroot", "beet"),
    ("swedes", "rutabagas"),
    ("swede", "rutabaga"),
    ("rocket leaves", "arugula"),
    ("rocket", "arugula"),
    ("spring onions", "scallions"),
    ("spring onion", "scallion"),
    ("mangetout", "snow peas"),
    ("broad beans", "fava beans"),
    ("fresh coriander", "cilantro"),
    ("coriander leaves", "cilantro"),
    ("minced beef", "ground beef"),
    ("minced lamb", "ground lamb"),
    ("minced pork", "ground pork"),
    ("king prawns", "jumbo shrimp"),
    ("prawns", "shrimp"),
    ("plain flour", "all-purpose flour"),
    ("strong wholemeal flour", "whole wheat bread flour"),
    ("strong white flour", "white bread flour"),
    ("wholemeal", "whole wheat"),
    ("cornflour", "cornstarch"),
    ("caster sugar", "superfine sugar"),
    ("icing sugar", "powdered sugar"),
    ("bicarbonate of soda", "baking soda"),
    ("soya", "soy"),
    ("yoghurt", "yogurt"),
    ("tinned", "canned"),
    ("loaf tins", "loaf pans"),
    ("loaf tin", "loaf pan"),
    ("cake tins", "cake pans"),
    ("cake tin", "cake pan"),
    ("muffin tin", "muffin pan"),
    ("roasting tin", "roasting pan"),
    ("baking tray", "baking sheet"),
    ("cling film", "plastic wrap"),
    ("baking paper", "parchment paper"),
    ("kitchen paper", "paper towels"),
    ("aluminium", "aluminum"),
    ("oven gloves", "oven mitts"),
    ("tea towel", "dish towel"),
    ("tea towels", "dish towels"),
    ("under the grill", "under the broiler"),
    ("hot grill", "hot broiler"),
    ("on the hob", "on the stovetop"),
    ("hob", "stovetop"),
    ("colour", "color"),
    ("coloured", "colored"),
    ("flavour", "flavor"),
    ("flavours", "flavors"),
    ("savoury", "savory"),
    ("mould", "mold"),
    ("moulds", "molds"),
    ("grey", "gray"),
    ("fibre", "fiber"),
    ("litres", "liters"),
    ("litre", "liter"),
    ("millilitres", "milliliters"),
    ("millilitre", "milliliter"),
    ("decilitres", "deciliters"),
    ("decilitre", "deciliter"),
    ("centimetres", "centimeters"),
    ("centimetre", "centimeter"),
    ("millimetres", "millimeters"),
    ("millimetre", "millimeter"),
    ("caramelise", "caramelize"),
    ("caramelised", "caramelized"),
    ("pasteurised", "pasteurized"),
    ("nought", "zero"),
];

/// What a Briton says in another way, or not at all, and so is left alone: 'zero degrees'.
const ONE_WAY: [&str; 2] = ["zero", "beet"];

/// Numbers that may follow 'hundred and'.
const SMALL: [&str; 28] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
    "oh",
];

impl English {
    /// The text in these words.
    pub fn say(self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(letter) = rest.chars().next() {
            let begins = out.chars().next_back().is_none_or(|c| !c.is_alphanumeric());
            match self.swap(rest).filter(|_| begins) {
                Some((taken, instead)) => {
                    let capital = letter.is_uppercase();
                    let mut letters = instead.chars();
                    match letters.next().filter(|_| capital) {
                        Some(first) => out.extend(first.to_uppercase().chain(letters)),
                        None => out.push_str(instead),
                    }
                    rest = &rest[taken..];
                }
                None => {
                    out.push(letter);
                    rest = &rest[letter.len_utf8()..];
                }
            }
        }
        match self {
            Self::British => out,
            Self::American => without_and(&out),
        }
    }

    /// The bytes of a word at the beginning of a text that is said otherwise, and how.
    fn swap(self, text: &str) -> Option<(usize, &'static str)> {
        let pairs = PAIRS.iter().map(|(british, american)| match self {
            Self::British => (*american, *british),
            Self::American => (*british, *american),
        });
        let here = pairs.filter(|(from, _)| self == Self::American || !ONE_WAY.contains(from));
        let stands = |(from, _): &(&str, &str)| {
            let head = text.get(..from.len());
            let after = text.get(from.len()..).and_then(|t| t.chars().next());
            head.is_some_and(|h| h.eq_ignore_ascii_case(from))
                && after.is_none_or(|c| !c.is_alphanumeric())
        };
        here.filter(stands)
            .max_by_key(|(from, _)| from.len())
            .map(|(from, to)| (from.len(), to))
    }
}

/// 'Two hundred and fifty' as an American says it.
fn without_and(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let bare = |w: &str| {
        w.trim_matches(|c: char| !c.is_alphanumeric())
            .to_lowercase()
    };
    let is_and = |at: usize| {
        words[at] == "and"
            && at > 0
            && ["hundred", "thousand"].contains(&bare(words[at - 1]).as_str())
            && words[at - 1].ends_with(char::is_alphanumeric)
            && words
                .get(at + 1)
                .is_some_and(|w| SMALL.contains(&bare(w).as_str()))
    };
    let kept = (0..words.len())
        .filter(|at| !is_and(*at))
        .map(|at| words[at]);
    kept.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::English::{American, British};
    use super::*;

    #[test]
    fn words_follow_the_cook() {
        for (british, american) in [
            (
                "Aubergine: two hundred and fifty grams.",
                "Eggplant: two hundred fifty grams.",
            ),
            ("Cover it with cling film.", "Cover it with plastic wrap."),
            (
                "One litre of water in the loaf tin.",
                "One liter of water in the loaf pan.",
            ),
            (
                "Dot, eight and nought tells the rest.",
                "Dot, eight and zero tells the rest.",
            ),
            ("It contains soya.", "It contains soy."),
            ("Set it under the grill.", "Set it under the broiler."),
            (
                "Strong white flour: six hundred grams.",
                "White bread flour: six hundred grams.",
            ),
        ] {
            assert_eq!(American.say(british), american);
            assert_eq!(American.say(american), american, "said twice");
        }
        assert_eq!(
            British.say("Eggplant under plastic wrap."),
            "Aubergine under cling film."
        );
        assert_eq!(
            British.say("Minus twenty to zero degrees."),
            "Minus twenty to zero degrees."
        );
        assert_eq!(
            British.say("Two hundred and fifty."),
            "Two hundred and fifty."
        );
    }

    #[test]
    fn what_only_looks_alike_stays() {
        for text in [
            "Rocketry.",
            "A tin loaf.",
            "Tinsel.",
            "Double cream.",
            "One hundred and a half.",
            "Colourful",
        ] {
            assert_eq!(American.say(text), text);
        }
        assert_eq!(British.say("A sweet flavor"), "A sweet flavour");
    }

    /// Each word is changed to one that is not changed again, and back to itself or to a plainer form of it.
    /// What a Briton and an American call a food is one food, whoever wrote the formula and whoever speaks.
    #[test]
    fn a_food_is_known_by_both_names() {
        use crate::measure::ingredients;
        let mut both = 0;
        for (british, american) in PAIRS {
            let (a, b) = (ingredients().find(british), ingredients().find(american));
            if a.is_none() && b.is_none() {
                continue;
            }
            assert!(a.is_some() && b.is_some(), "{british}, {american}");
            both += 1;
        }
        assert!(both >= 15, "{both}");
    }

    #[test]
    fn no_word_goes_round() {
        for (british, american) in PAIRS {
            assert_eq!(American.say(british), *american);
            assert_eq!(American.say(american), *american);
            assert_eq!(British.say(british), *british);
        }
    }
}
