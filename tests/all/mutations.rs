//! Damaged sources: bytes and words are put in, taken out, doubled and swapped, tags nested, letters cut. None of them makes
//! the import panic, hang, or write a formula that its own check refuses.

use std::time::Duration;

use commis::formula::read;
use commis::import;

use super::word_files::read_any;

/// What no recipe should break on.
const ODD: [&str; 40] = [
    "½",
    "1/0",
    "0/0",
    "999999999 g",
    "99999999999999999999999999 cups",
    "{x}",
    "\"",
    "<",
    "</",
    "&amp;",
    "&#x0;",
    "&#999999999;",
    "\u{202e}",
    "\u{2066}",
    "\u{0}",
    "\u{feff}",
    "\u{1}0\u{2}",
    " to ",
    "\n\n",
    "9e99",
    "-1",
    "İ",
    "ß",
    "ﬁ",
    "|",
    "#",
    "```",
    "---",
    "<div>",
    "<ul><li>",
    "<script type=\"application/ld+json\">",
    "{\"@type\":\"Recipe\"",
    "itemprop=\"recipeIngredient\"",
    "PT99999999999H",
    "1-1-1-1",
    " each ",
    " plus ",
    " or ",
    "overnight",
    "\\u-1?",
];

/// A row of numbers that is the same each time.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed ^ 0x9e37_79b9_7f4a_7c15)
    }

    /// From nought to below.
    pub fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// One of the sources, damaged.
pub fn damaged(sources: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = sources[dice.below(sources.len())].clone();
    for _ in 0..=dice.below(10) {
        let at = dice.below(bytes.len());
        // A word: from here to the next space.
        let word = at
            + bytes[at.min(bytes.len())..]
                .iter()
                .take_while(|b| !b.is_ascii_whitespace())
                .count();
        match dice.below(12) {
            0 if !bytes.is_empty() => bytes[at] = dice.below(256) as u8,
            1 => bytes.truncate(at),
            2 | 3 => drop(bytes.splice(at..at, ODD[dice.below(ODD.len())].bytes())),
            4 => {
                let end = (at + dice.below(60)).min(bytes.len());
                let piece = bytes[at..end].to_vec();
                bytes.splice(at..at, piece);
            }
            5 => {
                let end = (at + dice.below(40)).min(bytes.len());
                bytes.drain(at..end);
            }
            6 => drop(bytes.drain(at..word)),
            7 => drop(bytes.splice(at..word, ODD[dice.below(ODD.len())].bytes())),
            8 => {
                // A piece of another source, cut wherever it falls.
                let other = &sources[dice.below(sources.len())];
                let from = dice.below(other.len());
                let to = (from + dice.below(120)).min(other.len());
                bytes.splice(at..at, other[from..to].iter().copied());
            }
            9 => {
                let deep = 1 + dice.below(300);
                let tag = ["<div>", "<ul>", "[", "{\"a\":", "(", "<b>"][dice.below(6)];
                bytes.splice(at..at, tag.repeat(deep).into_bytes());
            }
            10 if word > at => bytes[at..word].reverse(),
            _ => {
                let end = (at + dice.below(40)).min(bytes.len());
                bytes[at..end].make_ascii_uppercase();
            }
        }
        if bytes.len() > 60_000 {
            bytes.truncate(60_000);
        }
    }
    bytes
}

/// How long this thread has worked: where others use the machine, the clock on the wall tells nothing of the program.
fn worked() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
    let whole = u64::try_from(time.tv_sec).unwrap_or(0);
    Duration::new(whole, u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// So many of them. Gives the time of the longest.
pub fn bear(sources: &[Vec<u8>], number: usize, seed: u64, limit: Duration) -> Duration {
    let mut dice = Dice::new(seed);
    let mut longest = Duration::ZERO;
    for n in 0..number {
        let bytes = damaged(sources, &mut dice);
        let begun = worked();
        let done = std::panic::catch_unwind(|| {
            let Ok(recipe) = read_any(&bytes) else {
                return;
            };
            let toml = recipe.toml();
            let _ = (recipe.summary(), recipe.doubts());
            read("damaged", &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)));
        });
        let took = worked().saturating_sub(begun);
        longest = longest.max(took);
        if done.is_err() || took > limit {
            let kept = std::env::temp_dir().join(format!("damaged-{seed}-{n}"));
            let _ = std::fs::write(&kept, &bytes);
            panic!(
                "number {n} of seed {seed} took {took:?}; it is kept as {}",
                kept.display()
            );
        }
    }
    longest
}

/// So many megabytes of a piece.
fn megabytes(piece: &str, many: usize) -> String {
    piece.repeat((many << 20) / piece.len())
}

/// In two seconds, as released; a build for tests on a busy machine has more.
#[test]
fn large_sources_are_read_at_once() {
    let limit = Duration::from_secs(if cfg!(debug_assertions) { 60 } else { 2 });
    let recipe = "<h1>Soup</h1><h2>Ingredients</h2><ul><li>2 onions<li>1 litre stock</ul><h2>Method</h2><ol><li>Fry the onions for 10 minutes.<li>Add the stock.</ol>";
    let data = "<script type=\"application/ld+json\">{\"@type\":\"Recipe\",\"name\":\"Soup\",\"recipeIngredient\":[\"2 onions\",\"1 litre stock\"],\"recipeInstructions\":[\"Fry the onions for 10 minutes.\",\"Add the stock.\"]}</script>";
    let junk = megabytes(
        "<div class=ad><p>Buy this &amp; that <a href=x>now</a> for 3 minutes</p></div>\n",
        10,
    );
    let plain = "Soup\n\nIngredients\n2 onions\n1 litre stock\n\nMethod\nFry the onions for 10 minutes.\nAdd the stock.\n";
    for (what, source, is_soup) in [
        (
            "a bare page in junk",
            format!("<html><body>{junk}{recipe}{junk}</body></html>"),
            true,
        ),
        (
            "linked data in junk",
            format!("<html><body>{junk}{data}{junk}</body></html>"),
            true,
        ),
        (
            "a script of junk",
            format!(
                "<html><script>{}</script>{recipe}",
                megabytes("var a=\"<div>\";", 20)
            ),
            true,
        ),
        (
            "deep elements",
            format!("<html><body>{}{recipe}", megabytes("<div>", 20)),
            false,
        ),
        (
            "deep lists",
            format!("<html><body>{recipe}{}", megabytes("<ul><li>", 20)),
            true,
        ),
        (
            "unclosed letters",
            format!("<html><body>{recipe}{}", megabytes("<b><i>x", 20)),
            true,
        ),
        (
            "one line",
            megabytes("mix 2 eggs for 3 minutes ", 20),
            false,
        ),
        ("one word", megabytes("x", 20), false),
        (
            "text in junk",
            format!("{plain}{}", megabytes("Nothing of this is a recipe\n", 20)),
            true,
        ),
        ("fractions", megabytes("1/2 ", 1), false),
        (
            "fractions with units",
            format!("{plain}\n{}", megabytes("1/2 1/2 g ", 1)),
            true,
        ),
        (
            "minutes",
            format!("Soup\n\nMethod\n{}", megabytes("3 minutes ", 1)),
            false,
        ),
        (
            "short lines",
            format!("Soup\n\nIngredients\n{}", megabytes("2 eggs\n", 2)),
            false,
        ),
        (
            "brackets",
            format!("{{\"@type\":\"Recipe\",\"name\":{}", megabytes("[", 20)),
            false,
        ),
        ("signs", megabytes("((((&&&&<<<<{{{{", 20), false),
    ] {
        let begun = worked();
        let found = import::read(source.as_bytes(), "x").map(|r| (r.name().to_owned(), r.toml()));
        let took = worked().saturating_sub(begun);
        println!("{what}: {took:?}");
        assert!(took < limit, "{what} took {took:?}");
        if is_soup {
            let (name, toml) = found.unwrap_or_else(|e| panic!("{what}: {e}"));
            assert_eq!(name, "Soup", "{what}");
            assert!(
                toml.contains("onions") && toml.contains("10 min"),
                "{what}: {toml}"
            );
        }
    }
}
