//! A list of names that can be said, and what each stands for.

use std::collections::{BTreeMap, HashMap};

use super::text::Token;

/// The numbers by which timers without a name can be called.
pub(super) const TIMER_NUMBERS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// One way to say a name.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// The words as said.
    pub(super) words: Vec<String>,
    folded: Vec<String>,
    /// What it may stand for, with cost; several when the short form is doubtful.
    pub(super) values: Vec<(String, u32)>,
}

/// Names by their first word.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    by_first: HashMap<String, Vec<Entry>>,
}

impl Names {
    /// From spoken words to what they stand for.
    pub(super) fn new(said: BTreeMap<Vec<String>, Vec<(String, u32)>>) -> Self {
        let mut by_first: HashMap<String, Vec<Entry>> = HashMap::new();
        for (words, mut values) in said {
            if words.is_empty() {
                continue;
            }
            values.sort_by_key(|a| a.1);
            let mut once: Vec<(String, u32)> = Vec::new();
            for value in values {
                if !once.iter().any(|(v, _)| *v == value.0) {
                    once.push(value);
                }
            }
            let folded: Vec<String> = words.iter().map(|w| fold(w)).collect();
            by_first.entry(folded[0].clone()).or_default().push(Entry {
                words,
                folded,
                values: once,
            });
        }
        Self { by_first }
    }

    /// All entries, in a fixed order.
    pub(super) fn entries(&self) -> Vec<&Entry> {
        let mut all: Vec<&Entry> = self.by_first.values().flatten().collect();
        all.sort_by(|a, b| a.words.cmp(&b.words));
        all
    }

    /// Every word of every name.
    pub(super) fn words(&self) -> impl Iterator<Item = &str> {
        let entries = self.by_first.values().flatten();
        entries.flat_map(|entry| entry.words.iter().map(String::as_str))
    }

    /// The names that begin with this word, as said.
    pub(super) fn beginning_with(&self, word: &str) -> impl Iterator<Item = &[String]> {
        let entries = self.by_first.get(&fold(word)).into_iter().flatten();
        let entries = entries.filter(move |entry| entry.words[0] == word);
        entries.map(|entry| entry.words.as_slice())
    }

    /// Does a name begin with this word (folded)?
    pub(super) fn opened_by(&self, folded: &str) -> bool {
        self.by_first.contains_key(folded)
    }

    /// The names that stand at the start of `tokens`: (length, cost, value).
    pub(super) fn at<'s>(&'s self, tokens: &[Token]) -> Vec<(usize, u32, &'s str)> {
        let Some(first) = tokens.first() else {
            return Vec::new();
        };
        let mut out = Vec::new();
        for entry in self.by_first.get(&fold(first.word())).into_iter().flatten() {
            let n = entry.folded.len();
            if n <= tokens.len()
                && entry
                    .folded
                    .iter()
                    .zip(tokens)
                    .all(|(w, t)| *w == fold(t.word()))
            {
                // A name said exactly as it is written goes before one that differs in number.
                let exact = entry.words.iter().zip(tokens).all(|(w, t)| w == t.word());
                for (value, cost) in &entry.values {
                    out.push((n, cost + if exact { 0 } else { 20 }, value.as_str()));
                }
            }
        }
        out
    }
}

/// Singular and plural as one.
pub(super) fn fold(word: &str) -> String {
    if let Some(stem) = word.strip_suffix("ies").filter(|s| s.len() > 2) {
        return format!("{stem}y");
    }
    for (many, one) in [("leaves", "leaf"), ("loaves", "loaf"), ("halves", "half")] {
        if let Some(stem) = word.strip_suffix(many) {
            return format!("{stem}{one}");
        }
    }
    for end in ["oes", "shes", "ches", "sses", "xes"] {
        if word.len() > end.len() && word.ends_with(end) {
            return word[..word.len() - 2].to_string();
        }
    }
    let kept = ["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    match word.strip_suffix('s') {
        Some(stem) if !kept && stem.len() > 2 => stem.to_string(),
        _ => word.to_string(),
    }
}

/// The plural of a plain English noun, as said.
pub(super) fn plural(word: &str) -> String {
    if word.ends_with('s') {
        return word.to_string();
    }
    if let Some(stem) = word
        .strip_suffix('y')
        .filter(|s| !s.ends_with(['a', 'e', 'o', 'u']))
    {
        return format!("{stem}ies");
    }
    if let Some(stem) = word
        .strip_suffix("leaf")
        .or_else(|| word.strip_suffix("loaf"))
    {
        let end = if word.ends_with("leaf") {
            "leaves"
        } else {
            "loaves"
        };
        return format!("{stem}{end}");
    }
    let es = ["ch", "sh", "x", "z", "potato", "tomato"]
        .iter()
        .any(|end| word.ends_with(end));
    format!("{word}{}", if es { "es" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn number_is_folded() {
        for (many, one) in [
            ("eggs", "egg"),
            ("berries", "berry"),
            ("potatoes", "potato"),
            ("loaves", "loaf"),
            ("radishes", "radish"),
            ("leaves", "leaf"),
            ("asparagus", "asparagus"),
            ("couscous", "couscous"),
            ("molasses", "molass"),
        ] {
            assert_eq!(fold(many), one);
        }
        for one in [
            "egg", "berry", "potato", "loaf", "radish", "leaf", "clove", "tray",
        ] {
            assert_eq!(fold(&plural(one)), one);
        }
    }
}
