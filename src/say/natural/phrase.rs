//! From words to sounds, by the lexicon and by rules for endings, for small words and for what follows them; a reduced
//! form of the rules that the voice was trained on (misaki, through hibari-tts, both Apache 2.0).

use super::letters::{self, VOWELS};
use super::sorted::Sorted;

const CONSONANTS: &str = "bdfhjklmnpstvwzðŋɡɹɾʃʒʤʧθ";
/// After these a t between vowels is only a tap of the tongue.
const TAPPED: &str = "AIOWYiuæɑəɛɪɹʊʌ";
/// Signs at which the voice pauses.
const PAUSES: &str = ";:,.!?—…";
/// What is said with the sentence and is no word.
const SIGNS: &str = ";:,.!?—…()\"“”";

/// What a word is where it is read differently as one thing or another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Noun,
    Verb,
    Adjective,
    /// The last before a pause.
    End,
    Any,
}

impl Kind {
    /// As the lexicon marks it.
    fn mark(self) -> char {
        match self {
            Self::Noun => 'n',
            Self::Verb => 'v',
            Self::Adjective => 'a',
            Self::End => 'e',
            Self::Any => ' ',
        }
    }

    /// What a word is likely to be after another; at the beginning, or after a pause, the cook is told what to do.
    fn after(before: Option<&str>) -> Self {
        match before {
            None
            | Some(
                "to" | "then" | "and" | "you" | "i" | "we" | "they" | "can" | "cannot" | "will"
                | "must" | "should" | "do" | "does" | "not" | "don't" | "please" | "may" | "could"
                | "would" | "or" | "just" | "now" | "never" | "always" | "let",
            ) => Self::Verb,
            Some(
                "the" | "a" | "an" | "your" | "its" | "this" | "that" | "these" | "those" | "of"
                | "some" | "any" | "each" | "no" | "more" | "less" | "with" | "for" | "from" | "in"
                | "on" | "by" | "one" | "two" | "first" | "last" | "next" | "every" | "their"
                | "my" | "without" | "per",
            ) => Self::Noun,
            Some("is" | "are" | "was" | "be" | "very" | "too" | "so" | "it" | "them" | "as") => {
                Self::Adjective
            }
            Some(_) => Self::Any,
        }
    }
}

/// Words and how they sound.
#[derive(Clone, Copy)]
pub(super) struct Speech {
    pub(super) kitchen: Sorted,
    pub(super) words: Sorted,
    pub(super) rules: Sorted,
}

/// A word or a sign of a sentence.
struct Token {
    text: String,
    sign: bool,
    /// A space stands before it.
    apart: bool,
}

impl Speech {
    /// The sounds of a sentence.
    pub(super) fn sounds(self, text: &str) -> String {
        let tokens = tokens(text);
        let mut parts = Vec::with_capacity(tokens.len());
        // From the end, since some words hang on the sound that follows: a vowel, none, or a pause.
        let mut vowel: Option<bool> = None;
        for (at, token) in tokens.iter().enumerate().rev() {
            let part = if token.sign {
                token.text.clone()
            } else {
                let word = |at: Option<usize>| {
                    at.and_then(|at| tokens.get(at))
                        .filter(|t| !t.sign)
                        .map(|t| t.text.to_lowercase())
                };
                let before = word(at.checked_sub(1));
                let after = word(Some(at + 1));
                self.token(&token.text, before.as_deref(), after.as_deref(), vowel)
            };
            let telling =
                |c: &char| VOWELS.contains(*c) || CONSONANTS.contains(*c) || PAUSES.contains(*c);
            if let Some(c) = part.chars().find(telling) {
                vowel = (!PAUSES.contains(c)).then(|| VOWELS.contains(c));
            }
            parts.push(part.replace('ɾ', "T").replace('ʔ', "t"));
        }
        let mut out = String::new();
        for (token, part) in tokens.iter().zip(parts.into_iter().rev()) {
            if token.apart && !out.is_empty() {
                out.push(' ');
            }
            out.push_str(&part);
        }
        out
    }

    fn token(
        self,
        word: &str,
        before: Option<&str>,
        after: Option<&str>,
        vowel: Option<bool>,
    ) -> String {
        let low = word.to_lowercase();
        let fixed = match low.as_str() {
            "a" if word == "a" || vowel.is_some() => "ɐ",
            "an" => "ɐn",
            "the" if vowel == Some(true) => "ði",
            "the" => "ðə",
            "to" => match vowel {
                Some(false) => "tə",
                Some(true) => "tʊ",
                None => "tˌu",
            },
            "in" if vowel.is_none() => "ˈɪn",
            "in" => "ɪn",
            "i" if vowel.is_some() => "ˌI",
            "that" if before.is_none() || vowel.is_none() => "ðˈæt",
            "am" if vowel.is_some() => "ɐm",
            "used" if after == Some("to") => "jˈust",
            _ => "",
        };
        if !fixed.is_empty() {
            return fixed.to_owned();
        }
        let kind = Kind::after(before);
        let end = vowel.is_none();
        let capital = word != low;
        let sounds = self
            .spelt(word)
            .or_else(|| self.word(word, &low, kind, end))
            .unwrap_or_else(|| self.unknown(&low, kind, end));
        // What is written large and has no stress gets a light one.
        match sounds.find(|c| VOWELS.contains(c)) {
            Some(at) if capital && !sounds.contains(['ˈ', 'ˌ']) => {
                format!("{}ˌ{}", &sounds[..at], &sounds[at..])
            }
            _ => sounds,
        }
    }

    /// Letters that are said one by one.
    fn spelt(self, word: &str) -> Option<String> {
        let letters = word.chars().filter(|c| c.is_alphabetic()).count();
        let large = word.chars().all(|c| !c.is_lowercase());
        // A short word in large letters is no word ('US'); a long one is shouted.
        let shouted = letters > 3 && self.words.find(&word.to_lowercase()).is_some();
        if !(2..=5).contains(&letters) || !large || shouted || self.words.find(word).is_some() {
            return None;
        }
        let names: Option<String> = word
            .chars()
            .filter(|c| c.is_alphabetic())
            .map(|c| self.entry(&c.to_string(), Kind::Any, false))
            .collect();
        let names = names?.replace('ˈ', "ˌ");
        let last = names.rfind('ˌ')?;
        Some(format!(
            "{}ˈ{}",
            &names[..last],
            &names[last + 'ˌ'.len_utf8()..]
        ))
    }

    /// What the lexicon has for exactly this writing.
    fn entry(self, word: &str, kind: Kind, end: bool) -> Option<String> {
        let line = self.kitchen.find(word).or_else(|| self.words.find(word))?;
        let mut forms = line.split('\t');
        let usual = forms.next()?;
        let form = |kind: Kind| forms.clone().find_map(|f| f.strip_prefix(kind.mark()));
        let chosen = end.then(|| form(Kind::End)).flatten();
        Some(chosen.or_else(|| form(kind)).unwrap_or(usual).to_owned())
    }

    /// What the lexicon has for a word in one writing or another.
    fn known(self, low: &str, kind: Kind, end: bool) -> Option<String> {
        self.entry(low, kind, end).or_else(|| {
            let mut letters = low.chars();
            let first = letters.next()?.to_uppercase();
            self.entry(&first.chain(letters).collect::<String>(), kind, end)
        })
    }

    fn word(self, word: &str, low: &str, kind: Kind, end: bool) -> Option<String> {
        let large = word != low && word.chars().count() == 1;
        let written = large.then(|| self.entry(word, kind, end)).flatten();
        let found = written
            .or_else(|| self.known(low, kind, end))
            .or_else(|| self.entry(word, kind, end));
        if found.is_some() {
            return found;
        }
        let stem = |cut: usize, add: &str| {
            let stem = low.len().checked_sub(cut).and_then(|to| low.get(..to))?;
            self.known(&format!("{stem}{add}"), kind, end)
        };
        if low.len() > 2 && low.ends_with('s') {
            let found = (!low.ends_with("ss")).then(|| stem(1, "")).flatten();
            let found = found.or_else(|| {
                let es = low.len() > 4 && low.ends_with("es") && !low.ends_with("ies");
                (es || low.ends_with("'s")).then(|| stem(2, "")).flatten()
            });
            let found = found.or_else(|| {
                (low.len() > 4 && low.ends_with("ies"))
                    .then(|| stem(3, "y"))
                    .flatten()
            });
            if let Some(found) = found {
                return Some(with_s(found));
            }
        }
        if low.len() > 3 && low.ends_with('d') {
            let found = (!low.ends_with("dd")).then(|| stem(1, "")).flatten();
            let found = found.or_else(|| {
                let ed = low.len() > 4 && low.ends_with("ed") && !low.ends_with("eed");
                ed.then(|| stem(2, "").or_else(|| doubled(low, 2).and_then(|_| stem(3, ""))))
                    .flatten()
            });
            if let Some(found) = found {
                return Some(with_ed(found));
            }
        }
        if low.len() > 4 && low.ends_with("ing") {
            let found = stem(3, "").or_else(|| stem(3, "e"));
            let found = found.or_else(|| doubled(low, 3).and_then(|_| stem(4, "")));
            if let Some(found) = found {
                return Some(with_ing(found));
            }
        }
        None
    }

    /// A word that is in no list: as two that are, or by its letters.
    fn unknown(self, low: &str, kind: Kind, end: bool) -> String {
        let bare: String = low.chars().flat_map(unaccented).collect();
        if bare != low
            && let Some(found) = self.word(&bare, &bare, kind, end)
        {
            return found;
        }
        letters::read(&bare, self.rules)
    }
}

/// The letter before an ending of so many letters stands twice.
fn doubled(word: &str, ending: usize) -> Option<u8> {
    let letters = word.as_bytes();
    let at = letters.len().checked_sub(ending + 1)?;
    let before = *letters.get(at.checked_sub(1)?)?;
    (letters[at] == before).then_some(before)
}

fn with_s(sounds: String) -> String {
    let tail = match sounds.chars().last() {
        Some(c) if "ptkfθ".contains(c) => "s",
        Some(c) if "szʃʒʧʤ".contains(c) => "ᵻz",
        _ => "z",
    };
    sounds + tail
}

fn with_ed(mut sounds: String) -> String {
    let mut back = sounds.chars().rev();
    let tail = match (back.next(), back.next()) {
        (Some(c), _) if "pkfθʃsʧ".contains(c) => "t",
        (Some('d'), _) => "ᵻd",
        (Some('t'), Some(c)) if TAPPED.contains(c) => {
            sounds.pop();
            "ɾᵻd"
        }
        (Some('t'), _) => "ᵻd",
        _ => "d",
    };
    sounds + tail
}

fn with_ing(mut sounds: String) -> String {
    let mut back = sounds.chars().rev();
    if let (Some('t'), Some(c)) = (back.next(), back.next())
        && TAPPED.contains(c)
    {
        sounds.pop();
        sounds.push('ɾ');
    }
    sounds + "ɪŋ"
}

/// A letter without its accent, as it is read in an English kitchen.
fn unaccented(c: char) -> std::str::Chars<'static> {
    let plain = match c {
        'à' | 'á' | 'â' | 'ã' | 'å' | 'ā' => "a",
        'ä' | 'æ' => "ae",
        'ç' | 'č' | 'ć' => "c",
        'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ė' | 'ę' => "e",
        'ì' | 'í' | 'î' | 'ï' | 'ī' | 'ı' => "i",
        'ñ' | 'ń' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ø' | 'ō' => "o",
        'ö' | 'œ' => "oe",
        'ù' | 'ú' | 'û' | 'ū' => "u",
        'ü' => "ue",
        'š' | 'ş' | 'ș' => "sh",
        'ž' => "zh",
        'ß' => "ss",
        'ý' => "y",
        'ł' => "l",
        'a'..='z' => {
            let at = (c as u8 - b'a') as usize;
            return "abcdefghijklmnopqrstuvwxyz"[at..=at].chars();
        }
        _ => "",
    };
    plain.chars()
}

fn tokens(text: &str) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    for chunk in text.split_whitespace() {
        let mut apart = true;
        let mut word = String::new();
        for c in chunk.chars().chain(['-']) {
            match c {
                '\'' | '’' => word.push('\''),
                c if c.is_alphanumeric() => word.push(c),
                c => {
                    let signs = SIGNS.contains(c).then(|| c.to_string());
                    let words = (!word.is_empty()).then(|| std::mem::take(&mut word));
                    for (text, sign) in [(words, false), (signs, true)] {
                        if let Some(text) = text {
                            out.push(Token { text, sign, apart });
                            apart = false;
                        }
                    }
                    // What stands on both sides of a stroke or a hyphen is said as two words.
                    apart |= !SIGNS.contains(c);
                }
            }
        }
    }
    out
}
