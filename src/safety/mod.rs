//! Allergens by the words of Regulation (EU) No 1169/2011, annex II.

/// The fourteen, with other words for each.
const ALLERGENS: [(&str, &[&str]); 14] = [
    (
        "gluten",
        &[
            "wheat",
            "rye",
            "barley",
            "oats",
            "spelt",
            "cereals containing gluten",
        ],
    ),
    ("crustaceans", &["crustacean", "prawns", "crab", "shrimp"]),
    ("eggs", &["egg"]),
    ("fish", &[]),
    ("peanuts", &["peanut"]),
    ("soybeans", &["soya", "soy", "soybean"]),
    ("milk", &["dairy", "lactose"]),
    ("nuts", &["nut", "tree nuts"]),
    ("celery", &["celeriac"]),
    ("mustard", &[]),
    ("sesame", &["sesame seeds"]),
    ("sulphites", &["sulphur dioxide", "sulfites"]),
    ("lupin", &[]),
    ("molluscs", &["mollusc", "mussels", "clams", "oysters"]),
];

/// The allergen that a word names.
pub fn allergen(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    ALLERGENS
        .iter()
        .find(|(name, also)| *name == word || also.contains(&word.as_str()))
        .map(|(name, _)| *name)
}

/// Cautions that a step's author forgot.
pub fn cautions_for(_tables: &[&str], _text: &str, _given: &[String]) -> Vec<String> {
    Vec::new()
}

/// Foods whose safe temperature can be asked for.
pub fn foods() -> Vec<String> {
    Vec::new()
}
