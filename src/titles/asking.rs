//! 'What shall we make?': the dialogue, by words that are typed or heard and by the keys of the pad. It knows nothing of
//! files and devices: an answer in, what is said or chosen out.

use super::title::{Title, named, words};
use crate::measure::words::{capital, cardinal};
use crate::order::Key;

/// So many names on a page: one for each digit.
const PAGE: usize = 9;
/// So many names are told apart by ear; where there are more, letters come first.
const BY_EAR: usize = 300;

/// A word for each letter: what is said where the letter alone could be another one.
const LETTERS: [&str; 26] = [
    "apple", "butter", "carrot", "dough", "egg", "flour", "garlic", "honey", "ice", "jam",
    "kitchen", "lemon", "milk", "nut", "onion", "pepper", "quarter", "rice", "salt", "tomato",
    "under", "vinegar", "water", "extra", "yeast", "zest",
];

/// The letters of a key, as on a telephone (ITU-T E.161).
const ON_KEYS: [(u8, &str); 8] = [
    (2, "abc"),
    (3, "def"),
    (4, "ghi"),
    (5, "jkl"),
    (6, "mno"),
    (7, "pqrs"),
    (8, "tuv"),
    (9, "wxyz"),
];

/// What comes of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reply {
    /// This is said, and another answer waited for.
    Say(String),
    /// This title, by its place.
    Chosen(usize),
    /// The cook wants none.
    Leave,
}

/// The dialogue.
#[derive(Debug, Clone)]
pub struct Asking {
    titles: Vec<Title>,
    /// The titles that are left, by their places.
    left: Vec<usize>,
    /// What they begin with: letters, or the letters of a key.
    begins: Vec<String>,
    /// The page that was read last.
    page: Option<usize>,
    /// The next answer is a letter.
    letter: bool,
    /// It was heard badly: yes takes it.
    doubtful: Option<usize>,
}

impl Asking {
    /// Among these.
    pub fn among(titles: Vec<Title>) -> Self {
        let left = (0..titles.len()).collect::<Vec<_>>();
        Self {
            letter: left.len() > BY_EAR,
            titles,
            left,
            begins: Vec::new(),
            page: None,
            doubtful: None,
        }
    }

    /// The first question.
    pub fn opening(&mut self) -> String {
        let hint = match self.left.len() {
            0 => return "There is no formula in the book.".to_owned(),
            n if n <= PAGE => {
                let list = self.read_page(0);
                return format!("What shall we make? {list}");
            }
            n if self.letter => format!("There are {n} formulas. {}", self.ask_letter()),
            n => format!(
                "There are {n}. Say or type a name or a part of it. Enter reads nine of them, nought asks for the first letter."
            ),
        };
        format!("What shall we make? {hint}")
    }

    /// What can be said now, for the ear.
    pub fn phrases(&self) -> Vec<String> {
        let mut out: Vec<String> = ["next", "back", "again", "yes", "no", "goodbye", "letters"]
            .map(str::to_owned)
            .to_vec();
        for (at, word) in LETTERS.iter().enumerate().filter(|_| self.letter) {
            let letter = char::from(b'a' + at as u8);
            out.extend([
                letter.to_string(),
                format!("{letter} for {word}"),
                (*word).to_owned(),
            ]);
        }
        if let Some(page) = self.page {
            let here = self.on_page(page).len();
            let number = |n: usize| cardinal(n as u64);
            out.extend((1..=here).flat_map(|n| [number(n), format!("number {}", number(n))]));
        }
        if self.left.len() <= BY_EAR {
            for name in self.left.iter().flat_map(|at| self.titles[*at].spoken()) {
                // The whole name, its beginnings and its ends.
                let n = name.len();
                out.extend((0..n).map(|from| name[from..].join(" ")));
                out.extend((1..n).map(|to| name[..to].join(" ")));
            }
        }
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Words that were typed, or heard well.
    pub fn words(&mut self, said: &str) -> Reply {
        let said = said.trim().to_lowercase();
        let doubtful = self.doubtful.take();
        match (said.as_str(), doubtful) {
            ("yes" | "it is", Some(at)) => return Reply::Chosen(at),
            ("no", Some(_)) => {
                return Reply::Say("Then say it again, or type a part of the name.".to_owned());
            }
            ("goodbye" | "leave" | "quit" | "stop", _) => return Reply::Leave,
            ("next" | "more" | "go on", _) => return Reply::Say(self.turn(1)),
            ("back", _) => return Reply::Say(self.turn(-1)),
            ("again", _) => return Reply::Say(self.again()),
            ("letters" | "letter", _) => return Reply::Say(self.ask_letter()),
            ("", _) => return Reply::Say(self.turn(1)),
            _ => {}
        }
        if self.letter
            && let Some(letter) = letter_in(&said)
        {
            return self.narrow(&letter.to_string());
        }
        if let Some(at) = self.numbered(&said) {
            return Reply::Chosen(at);
        }
        self.by_name(&said)
    }

    /// Words that were heard badly: what they mean is asked back.
    pub fn doubtful(&mut self, said: &str) -> Reply {
        match self.words(said) {
            Reply::Chosen(at) => {
                self.doubtful = Some(at);
                Reply::Say(format!("{}? Yes or no.", self.titles[at].name))
            }
            Reply::Leave => Reply::Say("Say goodbye again to leave.".to_owned()),
            say @ Reply::Say(_) => say,
        }
    }

    /// A key of the pad.
    pub fn key(&mut self, key: Key) -> Reply {
        if let Some(at) = self.doubtful.take() {
            return match key {
                Key::Enter => Reply::Chosen(at),
                _ => Reply::Say(self.again()),
            };
        }
        match key {
            Key::Digit(d) if self.letter => match ON_KEYS.iter().find(|(key, _)| *key == d) {
                Some((_, letters)) => self.narrow(letters),
                None => Reply::Say(self.ask_letter()),
            },
            Key::Digit(0) => Reply::Say(self.ask_letter()),
            Key::Digit(d) => {
                let page = self.page.unwrap_or(0);
                match self.on_page(page).get(usize::from(d) - 1) {
                    Some(at) => Reply::Chosen(*at),
                    None => Reply::Say(format!(
                        "There is no number {} here. {}",
                        cardinal(u64::from(d)),
                        self.read_page(page)
                    )),
                }
            }
            Key::Enter => Reply::Say(self.turn(1)),
            Key::Minus => Reply::Say(self.turn(-1)),
            Key::Plus => Reply::Say(self.again()),
            Key::Backspace => Reply::Say(self.widen()),
            Key::Dot | Key::Times | Key::Divide => Reply::Say(HELP.to_owned()),
        }
    }

    /// The one that a number means: of the page that was read, or of the whole list.
    fn numbered(&self, said: &str) -> Option<usize> {
        let said = said.strip_prefix("number ").unwrap_or(said);
        let n = match said.parse::<usize>() {
            Ok(n) => n,
            Err(_) => (1..=PAGE).find(|n| cardinal(*n as u64) == said)?,
        };
        let at = n.checked_sub(1)?;
        match self.page {
            Some(page) if at < PAGE => self.on_page(page).get(at).copied(),
            _ => self.left.get(at).copied(),
        }
    }

    fn by_name(&mut self, said: &str) -> Reply {
        let left: Vec<Title> = self
            .left
            .iter()
            .map(|at| self.titles[*at].clone())
            .collect();
        let found: Vec<usize> = named(&left, said)
            .into_iter()
            .map(|at| self.left[at])
            .collect();
        match found.as_slice() {
            [one] => Reply::Chosen(*one),
            [] => Reply::Say(format!("I have no {}. {HELP}", words(said).join(" "))),
            _ => {
                self.left = found;
                self.begins.push(String::new());
                self.letter = false;
                let n = self.left.len();
                Reply::Say(format!(
                    "Which of {}? {}",
                    cardinal(n as u64),
                    self.read_page(0)
                ))
            }
        }
    }

    /// Those whose name goes on with one of these letters.
    fn narrow(&mut self, letters: &str) -> Reply {
        let mut begins: Vec<String> = self
            .begins
            .iter()
            .filter(|b| !b.is_empty())
            .cloned()
            .collect();
        begins.push(letters.to_owned());
        let fits = |title: &Title| {
            title.spoken().any(|name| {
                let name: String = name.concat();
                let mut own = name.chars();
                begins
                    .iter()
                    .all(|any| own.next().is_some_and(|c| any.contains(plain(c))))
            })
        };
        let left: Vec<usize> = self
            .left
            .iter()
            .copied()
            .filter(|at| fits(&self.titles[*at]))
            .collect();
        match left.as_slice() {
            [] => Reply::Say(format!("None begins so. {}", self.ask_letter())),
            [one] => {
                let one = *one;
                self.letter = false;
                self.doubtful = Some(one);
                Reply::Say(format!(
                    "{}? Yes or no: Enter is yes.",
                    self.titles[one].name
                ))
            }
            _ => {
                self.begins = begins;
                self.left = left;
                self.letter = false;
                if self.left.len() > BY_EAR {
                    let n = self.left.len();
                    return Reply::Say(format!("{n} are left. {}", self.ask_letter()));
                }
                Reply::Say(self.read_page(0))
            }
        }
    }

    /// Takes the narrowing back.
    fn widen(&mut self) -> String {
        self.begins.clear();
        self.left = (0..self.titles.len()).collect();
        self.page = None;
        self.letter = self.left.len() > BY_EAR;
        self.opening()
    }

    fn ask_letter(&mut self) -> String {
        self.letter = true;
        let which = match self.begins.iter().filter(|b| !b.is_empty()).count() {
            0 => "first".to_owned(),
            1 => "second".to_owned(),
            2 => "third".to_owned(),
            _ => "next".to_owned(),
        };
        format!(
            "What is the {which} letter? Say it with a word, b for butter, or press its key as on a telephone: two for a, b and c, up to nine for w to z."
        )
    }

    fn again(&mut self) -> String {
        match self.page {
            Some(page) => self.read_page(page),
            None => self.opening(),
        }
    }

    /// The page so many further on, round at the ends.
    fn turn(&mut self, by: isize) -> String {
        let pages = self.left.len().div_ceil(PAGE).max(1);
        let page = match self.page {
            None if by > 0 => 0,
            None => pages - 1,
            Some(page) => (page as isize + by).rem_euclid(pages as isize) as usize,
        };
        self.letter = false;
        self.read_page(page)
    }

    fn on_page(&self, page: usize) -> &[usize] {
        let from = (page * PAGE).min(self.left.len());
        &self.left[from..(from + PAGE).min(self.left.len())]
    }

    /// `One: almond cake. Two: bean soup. Enter reads the next ones.`
    fn read_page(&mut self, page: usize) -> String {
        self.page = Some(page);
        let items: Vec<String> = self
            .on_page(page)
            .iter()
            .enumerate()
            .map(|(n, at)| {
                format!(
                    "{}: {}.",
                    capital(&cardinal(n as u64 + 1)),
                    self.titles[*at].name
                )
            })
            .collect();
        let more = if self.left.len() > PAGE {
            format!(
                " Page {} of {}; Enter reads on.",
                page + 1,
                self.left.len().div_ceil(PAGE)
            )
        } else {
            String::new()
        };
        format!("{}{more}", items.join(" "))
    }
}

/// What can be done at any time.
const HELP: &str = "Say or type a name or a part of it, or press a digit for the one of that number. Enter reads on, minus goes back, plus reads again, nought asks for a letter, Backspace begins anew.";

/// `b`, `b for butter`, `butter`; of other words after 'for' the letter counts.
fn letter_in(said: &str) -> Option<char> {
    let letter = |at: usize| char::from(b'a' + at as u8);
    if let Some(at) = LETTERS.iter().position(|word| *word == said) {
        return Some(letter(at));
    }
    let mut chars = said.chars();
    let first = chars.next().filter(char::is_ascii_lowercase)?;
    let rest = chars.as_str();
    (rest.is_empty() || rest.starts_with(" for ")).then_some(first)
}

/// A letter without its mark, as far as a telephone has it.
fn plain(c: char) -> char {
    match c {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'æ' => 'a',
        'ç' => 'c',
        'è' | 'é' | 'ê' | 'ë' => 'e',
        'ì' | 'í' | 'î' | 'ï' => 'i',
        'ñ' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' | 'œ' => 'o',
        'ù' | 'ú' | 'û' | 'ü' => 'u',
        'ý' | 'ÿ' => 'y',
        'š' | 'ś' | 'ş' => 's',
        'ž' | 'ź' | 'ż' => 'z',
        'ł' => 'l',
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book(names: &[&str]) -> Asking {
        let title = |name: &&str| Title {
            name: (*name).to_owned(),
            ..Title::default()
        };
        Asking::among(names.iter().map(title).collect())
    }

    fn large(n: usize) -> Asking {
        let vowels = ["a", "e", "i", "o", "u"];
        let name = |n: usize| {
            let letter = |n: usize| char::from(b'a' + (n % 26) as u8);
            format!(
                "{}{}{} loaf {n}",
                letter(n),
                vowels[n / 26 % 5],
                letter(n / 130)
            )
        };
        let names: Vec<String> = (0..n).map(name).collect();
        book(&names.iter().map(String::as_str).collect::<Vec<_>>())
    }

    #[test]
    fn a_few_are_read_out_and_taken_by_digit_or_name() {
        let mut asking = book(&["Almond cake", "Bean soup", "Seeded tin loaf"]);
        let said = asking.opening();
        assert_eq!(
            said,
            "What shall we make? One: Almond cake. Two: Bean soup. Three: Seeded tin loaf."
        );
        assert_eq!(asking.clone().key(Key::Digit(2)), Reply::Chosen(1));
        assert_eq!(asking.clone().words("number three"), Reply::Chosen(2));
        assert_eq!(asking.clone().words("tin loaf"), Reply::Chosen(2));
        assert!(
            matches!(asking.key(Key::Digit(7)), Reply::Say(said) if said.starts_with("There is no number seven here"))
        );
        assert_eq!(asking.words("goodbye"), Reply::Leave);
    }

    #[test]
    fn pages_go_round_and_their_digits_are_those_of_the_page() {
        let names: Vec<String> = (1..=20).map(|n| format!("Dish {n}")).collect();
        let mut asking = book(&names.iter().map(String::as_str).collect::<Vec<_>>());
        asking.opening();
        asking.key(Key::Enter);
        asking.key(Key::Enter);
        assert_eq!(asking.clone().key(Key::Digit(1)), Reply::Chosen(9));
        assert!(matches!(asking.clone().key(Key::Digit(0)), Reply::Say(_)));
        asking.key(Key::Enter);
        assert_eq!(asking.clone().key(Key::Digit(2)), Reply::Chosen(19));
        assert!(matches!(asking.clone().key(Key::Digit(3)), Reply::Say(_)));
        asking.key(Key::Enter);
        assert_eq!(
            asking.key(Key::Digit(1)),
            Reply::Chosen(0),
            "round to the first page"
        );
    }

    #[test]
    fn ten_thousand_are_narrowed_by_letters_until_the_ear_can_tell_them_apart() {
        let mut asking = large(10_000);
        assert!(asking.opening().contains("first letter"));
        assert!(asking.phrases().len() < 200);
        assert!(
            matches!(asking.words("b for butter"), Reply::Say(said) if said.contains("second letter"))
        );
        assert!(matches!(asking.words("e"), Reply::Say(said) if said.starts_with("One: be")));
        let phrases = asking.phrases();
        assert!(phrases.len() < 2_000 && phrases.contains(&"number two".to_owned()));
        assert!(
            matches!(asking.key(Key::Digit(3)), Reply::Chosen(at) if asking.titles[at].name.starts_with("be"))
        );
    }

    #[test]
    fn letters_go_by_the_keys_of_a_telephone_and_back() {
        let mut asking = large(2_000);
        asking.opening();
        assert!(matches!(asking.key(Key::Digit(1)), Reply::Say(said) if said.contains("letter")));
        asking.key(Key::Digit(2));
        assert!(
            asking.left.len() < 300
                && asking
                    .left
                    .iter()
                    .all(|at| "abc".contains(&asking.titles[*at].name[..1]))
        );
        asking.key(Key::Backspace);
        assert_eq!(asking.left.len(), 2_000);
        assert!(asking.letter);
    }

    #[test]
    fn what_was_heard_badly_is_asked_back() {
        let mut asking = book(&["Almond cake", "Bean soup"]);
        asking.opening();
        assert_eq!(
            asking.doubtful("bean soup"),
            Reply::Say("Bean soup? Yes or no.".to_owned())
        );
        assert_eq!(asking.clone().words("yes"), Reply::Chosen(1));
        assert_eq!(asking.clone().key(Key::Enter), Reply::Chosen(1));
        assert!(matches!(asking.words("no"), Reply::Say(_)));
        assert!(
            matches!(asking.words("yes"), Reply::Say(_)),
            "the doubt is over"
        );
    }

    #[test]
    fn a_part_that_several_have_asks_which() {
        let mut asking = book(&["Seeded tin loaf", "Plain tin loaf", "Bean soup"]);
        asking.opening();
        assert!(
            matches!(asking.words("tin loaf"), Reply::Say(said) if said.starts_with("Which of two? One: Seeded tin loaf."))
        );
        assert_eq!(asking.words("two"), Reply::Chosen(1));
    }
}
