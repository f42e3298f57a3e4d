//! Lines in order, each a key and what belongs to it: looked up where they lie in the program.

/// Lines of a key, a tab and the rest, sorted by the bytes of their keys.
#[derive(Clone, Copy)]
pub(super) struct Sorted(pub(super) &'static str);

impl Sorted {
    /// What belongs to a key.
    pub(super) fn find(self, key: &str) -> Option<&'static str> {
        let text = self.0.as_bytes();
        let (mut low, mut high) = (0, text.len());
        while low < high {
            let middle = low + (high - low) / 2;
            let start = text[low..middle]
                .iter()
                .rposition(|b| *b == b'\n')
                .map_or(low, |at| low + at + 1);
            let end = text[middle..]
                .iter()
                .position(|b| *b == b'\n')
                .map_or(text.len(), |at| middle + at);
            let (own, rest) = self.0[start..end].split_once('\t')?;
            match own.as_bytes().cmp(key.as_bytes()) {
                std::cmp::Ordering::Equal => return Some(rest),
                std::cmp::Ordering::Less => low = (end + 1).min(high),
                std::cmp::Ordering::Greater => high = start,
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::Sorted;

    #[test]
    fn every_line_is_found_and_nothing_else() {
        let sorted = Sorted("a\t1\nab\t2\nb\t\nbéchamel\t4\nz\t5\n");
        for (key, rest) in [
            ("a", "1"),
            ("ab", "2"),
            ("b", ""),
            ("béchamel", "4"),
            ("z", "5"),
        ] {
            assert_eq!(sorted.find(key), Some(rest), "{key}");
        }
        for key in ["", "A", "aa", "abc", "zz", "0"] {
            assert_eq!(sorted.find(key), None, "{key}");
        }
    }

    #[test]
    fn the_lexicon_and_the_rules_are_in_order() {
        use super::super::{KITCHEN, RULES, WORDS};
        for (text, least) in [(WORDS, 100_000), (RULES, 10_000), (KITCHEN, 100)] {
            let keys: Vec<&str> = text.lines().filter_map(|l| l.split('\t').next()).collect();
            assert!(keys.len() >= least);
            assert!(keys.windows(2).all(|k| k[0].as_bytes() < k[1].as_bytes()));
        }
    }
}
