//! Questions that can be answered, for when one was not understood.

/// One of each kind, as a cook would ask it.
pub const EXAMPLES: [&str; 54] = [
    "how many grams in two cups of caster sugar",
    "how many tablespoons is 50 grams of oil",
    "what is 12 ounces in grams",
    "how many millilitres in a pint",
    "how many cups is 500 grams of flour",
    "how many teaspoons is 7 grams of instant yeast",
    "what is 220 celsius in fahrenheit",
    "what is 350 fahrenheit in celsius",
    "gas mark for 190",
    "what is gas seven in celsius",
    "what is 200 celsius in a fan oven",
    "how much fresh yeast for 7 grams of dried",
    "how much kosher salt for one teaspoon of table salt",
    "what can I use instead of butter",
    "what can I use instead of buttermilk",
    "how much honey instead of 200 grams of sugar",
    "how much water for 900 grams of flour at 68 percent",
    "what is 2 percent of 900 grams",
    "water temperature for dough at 25 with flour 21 and room 23",
    "how long will the rise take at 18 degrees",
    "how many 95 gram rolls from two kilos of dough",
    "35 ml in spoons",
    "what percent is 360 of 600",
    "a poolish with 30 percent of 900 grams of flour",
    "what will 900 grams of dough weigh baked",
    "how much dough for an 800 gram loaf",
    "my dough came out at 27 with flour 20 room 22 and water 30",
    "how hot should chicken be inside",
    "how hot should bread be inside",
    "how long at 65 degrees is as safe as 70 for two minutes",
    "how long can it stay out",
    "how hot must i keep the soup",
    "how do i cool soup",
    "is honey safe for infants",
    "how much does an egg weigh",
    "how heavy is a clove of garlic",
    "if 500 grams takes 10 of salt what does 850 take",
    "what does 800 grams of flour with 72 percent water and 2 percent salt weigh as dough",
    "how much flour for 350 grams of water at 70 percent",
    "how much flour and water for 800 grams of dough at 60 percent hydration",
    "feed 40 grams of starter 1:2:2",
    "how much flour is in 450 grams of starter at 125 percent",
    "how much ice for 350 grams of water from 28 to 12 degrees",
    "what percent is lost from 860 grams of dough to 750 baked",
    "from an 8 inch round tin to a 9 inch square one",
    "what round tin equals a 20 cm square",
    "how much does a large egg weigh",
    "how much baking powder makes 200 grams of plain flour self raising",
    "how hot is soft ball",
    "how hot should the oil be for doughnuts",
    "what is a moderate oven",
    "one cup of honey and two cups of oats in grams",
    "how much gold gelatine for 10 grams of silver",
    "what is a third of 450 grams",
];

/// Words that every question has.
const COMMON: [&str; 18] = [
    "how", "many", "much", "what", "is", "in", "of", "for", "a", "an", "the", "to", "at", "can",
    "i", "and", "with", "does",
];

/// The nearest questions that can be answered, nearest first, at most three.
pub fn nearest(text: &str) -> Vec<String> {
    let asked = text.to_lowercase();
    let words: Vec<&str> = asked
        .split_whitespace()
        .filter(|w| !COMMON.contains(w))
        .collect();
    let score = |example: &str| -> f64 {
        let shared: f64 = example
            .split_whitespace()
            .filter(|w| !COMMON.contains(w))
            .map(|w| {
                words
                    .iter()
                    .map(|a| strsim::jaro_winkler(a, w))
                    .fold(0.0, f64::max)
            })
            .map(|s| if s > 0.85 { s } else { 0.0 })
            .sum();
        shared + strsim::normalized_levenshtein(&asked, example)
    };
    let mut scored: Vec<(f64, &str)> = EXAMPLES.iter().map(|e| (score(e), *e)).collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored
        .into_iter()
        .take(3)
        .map(|(_, e)| e.to_owned())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn something_near_is_offered() {
        assert_eq!(
            nearest("how many grammes in 2 cup castor sugar")[0],
            "how many grams in two cups of caster sugar"
        );
        assert!(
            nearest("butter replacement").contains(&"what can I use instead of butter".to_owned())
        );
        assert_eq!(nearest("").len(), 3);
    }
}
