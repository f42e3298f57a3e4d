//! A title, and which one a name means.

use crate::understand::name_words;

/// A formula of the book as it can be found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Title {
    /// Its name.
    pub name: String,
    /// Other names.
    pub also: Vec<String>,
    /// The name of its file without the ending.
    pub file: String,
}

impl Title {
    /// All that it is called, in words.
    pub(super) fn called(&self) -> impl Iterator<Item = Vec<String>> + '_ {
        let file = (!self.file.is_empty()).then_some(&self.file);
        let all = [&self.name].into_iter().chain(&self.also).chain(file);
        all.map(|name| words(name))
            .filter(|words| !words.is_empty())
    }

    /// The names that a cook would say: not that of the file.
    pub(super) fn spoken(&self) -> impl Iterator<Item = Vec<String>> + '_ {
        let all = [&self.name].into_iter().chain(&self.also);
        all.map(|name| words(name))
            .filter(|words| !words.is_empty())
    }
}

/// A name in words, as it would be said.
pub(super) fn words(name: &str) -> Vec<String> {
    name_words(&name.replace('_', " "))
}

/// The titles that a name means: the first that is called so, else all that have each of its words, or the beginning of
/// it, in one of their names.
pub fn named(titles: &[Title], said: &str) -> Vec<usize> {
    let said = words(said);
    if said.is_empty() {
        return Vec::new();
    }
    if let Some(one) = titles
        .iter()
        .position(|t| t.called().any(|name| name == said))
    {
        return vec![one];
    }
    let begins =
        |word: &String, name: &[String]| name.iter().any(|own| own.starts_with(word.as_str()));
    let has = |title: &Title| {
        let all: Vec<String> = title.called().flatten().collect();
        said.iter().all(|word| begins(word, &all))
    };
    (0..titles.len()).filter(|at| has(&titles[*at])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book() -> Vec<Title> {
        let title = |name: &str, also: &str| Title {
            name: name.to_owned(),
            also: also
                .split(',')
                .filter(|a| !a.is_empty())
                .map(str::to_owned)
                .collect(),
            file: name.replace(' ', "-"),
        };
        vec![
            title("Seeded tin loaf", "the usual"),
            title("Plain tin loaf", ""),
            title("Vegetable soup", "monday soup,pot"),
            title("Soup", ""),
            title("7-grain loaf", ""),
        ]
    }

    #[test]
    fn a_name_a_nickname_or_a_part_is_enough_where_it_is_one() {
        let book = book();
        for (said, found) in [
            ("seeded", vec![0]),
            ("The Usual", vec![0]),
            ("tin loaf", vec![0, 1]),
            ("soup", vec![3]),
            ("pot", vec![2]),
            ("monday", vec![2]),
            ("plain-tin-loaf", vec![1]),
            ("seven grain", vec![4]),
            ("7 grain", vec![4]),
            ("veg", vec![2]),
            ("cake", vec![]),
            ("  ", vec![]),
        ] {
            assert_eq!(named(&book, said), found, "{said}");
        }
    }
}
