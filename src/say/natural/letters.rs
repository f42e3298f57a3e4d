//! How a word is read that is in no list: each letter by the rule with the most of its neighbours, then the stress by the
//! word's end. The rules are learned from the lexicon (`models/voice/letters.py`).

use super::sorted::Sorted;

/// Vowels, as the voice writes them.
pub(super) const VOWELS: &str = "AIOQWYaiuæɑɒɔəɛɜɪʊʌᵻᵊɚɐ";

/// How many neighbours a rule has, left and right, from the most to the fewest.
const SIDES: [(usize, usize); 9] = [
    (4, 4),
    (3, 4),
    (3, 3),
    (2, 3),
    (2, 2),
    (1, 2),
    (1, 1),
    (0, 1),
    (0, 0),
];

/// The sounds of a word of letters from a to z; other letters are passed over.
pub(super) fn read(word: &str, rules: Sorted) -> String {
    let letters: Vec<char> = word.chars().filter(char::is_ascii_lowercase).collect();
    let padded: Vec<char> = ("####".chars())
        .chain(letters.iter().copied())
        .chain("####".chars())
        .collect();
    let mut sounds: Vec<char> = Vec::new();
    for i in 4..padded.len() - 4 {
        let part = SIDES.iter().find_map(|(left, right)| {
            let before: String = padded[i - left..i].iter().collect();
            let after: String = padded[i..=i + right].iter().collect();
            rules.find(&format!("{before}.{after}"))
        });
        sounds.extend(part.unwrap_or_default().chars());
    }
    let vowels: Vec<usize> = (0..sounds.len())
        .filter(|i| VOWELS.contains(sounds[*i]))
        .collect();
    if vowels.is_empty() {
        return sounds.into_iter().collect();
    }
    let count = vowels.len().min(5);
    let back = (2..=6)
        .rev()
        .map(|n| &letters[letters.len().saturating_sub(n)..])
        .chain([&[][..]])
        .find_map(|end| {
            let key = format!("{count}{}", end.iter().collect::<String>());
            rules.find(&key)?.parse::<usize>().ok()
        });
    let back = back.unwrap_or(count).clamp(1, vowels.len());
    sounds.insert(vowels[vowels.len() - back], 'ˈ');
    sounds.into_iter().collect()
}
