//! Finds phrases in names and in a step's text, by whole words.

use crate::measure::singular;

/// Lower case, accents off, apostrophes out.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        match c {
            '\'' | '’' => {}
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => out.push('a'),
            'è' | 'é' | 'ê' | 'ë' => out.push('e'),
            'ì' | 'í' | 'î' | 'ï' => out.push('i'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => out.push('o'),
            'ù' | 'ú' | 'û' | 'ü' => out.push('u'),
            'ç' => out.push('c'),
            'ñ' => out.push('n'),
            'œ' => out.push_str("oe"),
            'æ' => out.push_str("ae"),
            'ß' => out.push_str("ss"),
            'š' => out.push('s'),
            'ž' => out.push('z'),
            c => out.push(c),
        }
    }
    out
}

/// Its words, plurals taken off.
pub(super) fn tokens(text: &str) -> Vec<String> {
    plain(text)
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(one_of)
        .collect()
}

/// Its words and its commas; brackets, dashes between words, slashes and the like are read as commas, `&` as 'and'.
pub(super) fn marked_tokens(text: &str) -> Vec<String> {
    let text = plain(text)
        .replace(['&', '+'], " and ")
        .replace(" - ", " , ")
        .replace('–', " , ")
        .replace('/', " or ");
    let mut out: Vec<String> = Vec::new();
    let mut word = String::new();
    for c in text.chars().chain([' ']) {
        if c.is_alphanumeric() {
            word.push(c);
            continue;
        }
        if !word.is_empty() {
            out.push(one_of(&std::mem::take(&mut word)));
        }
        if matches!(
            c,
            ',' | ';' | ':' | '(' | ')' | '[' | ']' | '.' | '!' | '?' | '"'
        ) {
            out.push(",".to_owned());
        }
    }
    out
}

/// One of them: 'loaves' is loaf, 'radishes' radish.
fn one_of(word: &str) -> String {
    for end in ["shes", "ches", "sses", "xes"] {
        if word.len() > end.len() + 1 && word.ends_with(end) {
            return word[..word.len() - 2].to_owned();
        }
    }
    let one = singular(word);
    match one.as_str() {
        "chilly" | "chile" | "chily" | "chili" => return "chilli".to_owned(),
        "yogurt" | "yoghourt" => return "yoghurt".to_owned(),
        "leave" => return "leaf".to_owned(),
        "halve" => return "half".to_owned(),
        _ => {}
    }
    // 'pies' and 'pie', 'cookies' and 'cookie'.
    one.strip_suffix("ie")
        .map_or(one.clone(), |stem| format!("{stem}y"))
}

/// Text as a row of plain words.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Words(Vec<String>);

impl Words {
    /// Lower case, letters only, plurals taken off.
    pub(super) fn of(text: &str) -> Self {
        Self(tokens(text))
    }

    /// Where the phrase stands first; its last word may be in another form of the verb.
    fn position(&self, phrase: &Self) -> Option<usize> {
        let n = phrase.0.len();
        if n == 0 || self.0.len() < n {
            return None;
        }
        (0..=self.0.len() - n).find(|&at| {
            self.0[at..at + n]
                .iter()
                .zip(&phrase.0)
                .all(|(a, b)| same(a, b))
        })
    }

    /// How many words.
    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    /// True when the phrase stands somewhere in it.
    pub(super) fn has(&self, phrase: &Self) -> bool {
        self.position(phrase).is_some()
    }

    /// How many words of weight two texts share; small words weigh nothing.
    pub(super) fn shares(&self, other: &Self) -> usize {
        const LIGHT: [&str; 20] = [
            "the", "and", "for", "not", "with", "from", "your", "you", "are", "that", "this",
            "then", "use", "into", "may", "can", "all", "its", "off", "out",
        ];
        let mut seen: Vec<&String> = self
            .0
            .iter()
            .filter(|w| w.len() > 2 && !LIGHT.contains(&w.as_str()))
            .collect();
        seen.sort();
        seen.dedup();
        seen.into_iter().filter(|w| other.0.contains(w)).count()
    }
}

/// The same word, or another form of the same verb: bake, baked, baking; fry, fried, frying; blitz, blitzed.
pub(super) fn same(found: &str, word: &str) -> bool {
    if found == word {
        return true;
    }
    let Some(rest) = found.strip_prefix(word.trim_end_matches(['e', 'y'])) else {
        return false;
    };
    let tail = &word[word.trim_end_matches(['e', 'y']).len()..];
    match tail {
        "e" => matches!(rest, "ing" | "ed"),
        "y" => matches!(rest, "ying" | "ied"),
        "" => {
            let doubled = word.chars().last();
            matches!(rest, "ing" | "ed")
                || rest
                    .strip_prefix(|c| Some(c) == doubled)
                    .is_some_and(|r| matches!(r, "ing" | "ed"))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::Words;

    #[test]
    fn whole_words_and_forms_of_verbs() {
        let text = Words::of("Chop the onions, then fry them; keep the Baker's yeast for baking.");
        for phrase in ["fry", "chop the onion", "bake", "onions"] {
            assert!(text.has(&Words::of(phrase)), "{phrase}");
        }
        for phrase in ["hop", "on", "baked beans", "yeast for bread"] {
            assert!(!text.has(&Words::of(phrase)), "{phrase}");
        }
        assert!(Words::of("chopped, fried, frying").has(&Words::of("chop")));
        assert!(Words::of("fried").has(&Words::of("fry")));
    }
}
