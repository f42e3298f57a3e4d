//! Hen eggs by the sizes on the box, which differ from country to country.

use std::sync::OnceLock;

use serde::Deserialize;

use super::Region;

#[derive(Deserialize)]
struct File {
    shares: Shares,
    size: Vec<Row>,
}

#[derive(Deserialize)]
struct Shares {
    inside: f64,
    white: f64,
    yolk: f64,
    source: String,
}

#[derive(Deserialize)]
struct Row {
    region: String,
    name: String,
    shell: [f64; 2],
    inside: Option<f64>,
    source: String,
}

fn table() -> &'static File {
    static TABLE: OnceLock<File> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../shared/tables/eggs.toml"))
            .expect("the shipped table of eggs is read by a test of every build")
    })
}

/// One egg of a size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Egg {
    /// In its shell, in grams: the middle of what the law allows.
    pub shell_g: f64,
    /// Without it, in grams.
    pub inside_g: f64,
    /// Where that comes from.
    pub source: &'static str,
}

impl Egg {
    /// By the word on the box of a region; nothing where no such size is sold there.
    pub fn of_size(size: &str, region: Region) -> Option<Self> {
        let law = match region {
            Region::Us => "us",
            Region::Au => "au",
            Region::Uk | Region::Metric => "eu",
        };
        let size = match size {
            "extra large" | "extra" | "xl" => "very large",
            size => size,
        };
        let mut rows = table().size.iter().filter(|row| row.region == law);
        let row = rows.find(|row| row.name == size)?;
        let shell_g = f64::midpoint(row.shell[0], row.shell[1]);
        Some(Self {
            shell_g,
            inside_g: row.inside.unwrap_or(shell_g * table().shares.inside),
            source: &row.source,
        })
    }

    /// The sizes of all regions, the smallest first.
    pub fn sizes() -> impl Iterator<Item = &'static str> {
        let rows = &table().size;
        let first = |at: usize| !rows[..at].iter().any(|row| row.name == rows[at].name);
        (0..rows.len())
            .filter(move |at| first(*at))
            .map(|at| rows[at].name.as_str())
    }

    /// What a region means when it says no size.
    pub fn usual(region: Region) -> &'static str {
        match region {
            Region::Us | Region::Au => "large",
            Region::Uk | Region::Metric => "medium",
        }
    }

    /// The size that a text names: '3 large eggs'.
    pub fn size_in(text: &str) -> Option<&'static str> {
        let text = text.to_lowercase();
        let has = |word: &str| {
            text.split(|c: char| !c.is_alphanumeric())
                .any(|w| w == word)
        };
        if text.contains("extra large")
            || text.contains("extra-large")
            || text.contains("very large")
            || has("xl")
        {
            return Some("very large");
        }
        ["small", "medium", "large", "jumbo"]
            .into_iter()
            .find(|size| has(size))
    }

    /// Its white, in grams.
    pub fn white_g(self) -> f64 {
        self.inside_g * table().shares.white
    }

    /// Its yolk, in grams.
    pub fn yolk_g(self) -> f64 {
        self.inside_g * table().shares.yolk
    }

    /// Where the shares of white and yolk come from.
    pub fn shares_source() -> &'static str {
        &table().shares.source
    }
}

#[cfg(test)]
mod tests {
    use super::Egg;
    use crate::measure::Region;

    // USDA Standard Reference 28: a large egg is 50 g; Regulation (EC) No 589/2008: large is 63 to 73 g in the shell.
    #[test]
    fn by_region() {
        let large = |region| Egg::of_size("large", region).unwrap().inside_g;
        assert_eq!(large(Region::Us), 50.0);
        assert!((large(Region::Uk) - 68.0 * 0.88).abs() < 1e-9);
        assert!(large(Region::Au) < large(Region::Uk));
        assert!(Egg::of_size("jumbo", Region::Uk).is_none());
        assert_eq!(Egg::size_in("3 extra-large eggs"), Some("very large"));
        assert_eq!(Egg::size_in("3 eggs, larger"), None);
    }
}
