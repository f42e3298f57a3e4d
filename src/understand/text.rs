//! From what was typed or heard to plain tokens: lower case, no punctuation, contractions opened, digits read.

/// One word, or one typed number or clock time.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Token {
    /// A word in lower case.
    Word(String),
    /// A number typed in digits, fractions included.
    Number(f64),
    /// A clock time typed as `19:30`.
    Clock(u8, u8),
}

impl Token {
    /// The word, or nothing for digits.
    pub(super) fn word(&self) -> &str {
        match self {
            Self::Word(w) => w,
            Self::Number(_) | Self::Clock(..) => "",
        }
    }
}

/// Contractions and what they stand for. `it's` also stands for `it has`; rules that need it say so in both forms.
pub(super) const CONTRACTIONS: &[(&str, &str)] = &[
    ("what's", "what is"),
    ("it's", "it is"),
    ("that's", "that is"),
    ("there's", "there is"),
    ("how's", "how is"),
    ("where's", "where is"),
    ("when's", "when is"),
    ("who's", "who is"),
    ("here's", "here is"),
    ("let's", "let us"),
    ("i've", "i have"),
    ("i'm", "i am"),
    ("i'd", "i would"),
    ("i'll", "i will"),
    ("we've", "we have"),
    ("we're", "we are"),
    ("we'll", "we will"),
    ("you're", "you are"),
    ("they're", "they are"),
    ("they've", "they have"),
    ("don't", "do not"),
    ("doesn't", "does not"),
    ("didn't", "did not"),
    ("haven't", "have not"),
    ("hasn't", "has not"),
    ("isn't", "is not"),
    ("aren't", "are not"),
    ("wasn't", "was not"),
    ("can't", "can not"),
    ("cannot", "can not"),
    ("couldn't", "could not"),
    ("won't", "will not"),
    ("shouldn't", "should not"),
    ("o'clock", "o clock"),
    ("oclock", "o clock"),
    ("lets", "let us"),
    ("whats", "what is"),
    ("thats", "that is"),
    ("ive", "i have"),
    ("im", "i am"),
    ("dont", "do not"),
    ("havent", "have not"),
    ("hasnt", "has not"),
    ("didnt", "did not"),
    ("cant", "can not"),
];

/// Reads text into tokens.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut out = Vec::new();
    let lower = spaced(text);
    for piece in lower.split_whitespace() {
        read_piece(piece, &mut out);
    }
    join_mixed(out)
}

/// The words of a name: digits as words, hyphens as spaces, lower case.
pub fn name_words(name: &str) -> Vec<String> {
    let mut out = Vec::new();
    for token in tokens(name) {
        match token {
            Token::Word(w) => out.push(w),
            Token::Number(n) => {
                out.extend(super::numbers::say_number(n).split(' ').map(str::to_string));
            }
            Token::Clock(h, m) => {
                let said = format!(
                    "{} {}",
                    super::numbers::say_number(h.into()),
                    super::numbers::say_number(m.into())
                );
                out.extend(said.split(' ').map(str::to_string));
            }
        }
    }
    out
}

/// Lower case, one kind of apostrophe, and spaces where punctuation or a change from digits to letters parts words.
fn spaced(text: &str) -> String {
    let chars: Vec<char> = text.chars().flat_map(char::to_lowercase).collect();
    let mut out = String::with_capacity(text.len() + 8);
    for (i, &c) in chars.iter().enumerate() {
        let before = if i > 0 { chars[i - 1] } else { ' ' };
        let after = chars.get(i + 1).copied().unwrap_or(' ');
        let between_digits = before.is_ascii_digit() && after.is_ascii_digit();
        match c {
            '\u{2019}' | '\u{2018}' | '\'' => {
                if before.is_alphabetic() && after.is_alphabetic() {
                    out.push('\'');
                }
            }
            '.' | ':' | '/' if between_digits => out.push(c),
            '.' if after.is_ascii_digit() => out.push_str(" 0."),
            ',' if between_digits => {}
            '%' => out.push_str(" percent "),
            '\u{b0}' | '\u{ba}' => out.push_str(" degrees "),
            '\u{2103}' => out.push_str(" degrees c "),
            '\u{2109}' => out.push_str(" degrees f "),
            '\u{d7}' => out.push_str(" by "),
            'x' if before.is_ascii_digit() && after.is_ascii_digit() => out.push_str(" by "),
            '+' => out.push_str(" plus "),
            _ if fraction(c).is_some() => {
                out.push(' ');
                out.push(c);
                out.push(' ');
            }
            _ if c.is_alphanumeric() => {
                if (before.is_ascii_digit() && c.is_alphabetic())
                    || (before.is_alphabetic() && c.is_ascii_digit())
                {
                    out.push(' ');
                }
                out.push(c);
            }
            _ => out.push(' '),
        }
    }
    out
}

fn fraction(c: char) -> Option<f64> {
    Some(match c {
        '\u{bd}' => 0.5,
        '\u{bc}' => 0.25,
        '\u{be}' => 0.75,
        '\u{2153}' => 1.0 / 3.0,
        '\u{2154}' => 2.0 / 3.0,
        '\u{2155}' => 0.2,
        '\u{2156}' => 0.4,
        '\u{2157}' => 0.6,
        '\u{2158}' => 0.8,
        '\u{2159}' => 1.0 / 6.0,
        '\u{215a}' => 5.0 / 6.0,
        '\u{215b}' => 0.125,
        '\u{215c}' => 0.375,
        '\u{215d}' => 0.625,
        '\u{215e}' => 0.875,
        _ => return None,
    })
}

fn read_piece(piece: &str, out: &mut Vec<Token>) {
    if let Some(c) = piece.chars().next().filter(|_| piece.chars().count() == 1)
        && let Some(f) = fraction(c)
    {
        out.push(Token::Number(f));
        return;
    }
    if piece.starts_with(|c: char| c.is_ascii_digit()) {
        if let Some(token) = number(piece) {
            out.push(token);
        } else {
            out.extend(
                piece
                    .split([':', '/', '.'])
                    .filter_map(|p| p.parse().ok().map(Token::Number)),
            );
        }
        return;
    }
    if let Some((_, long)) = CONTRACTIONS.iter().find(|(short, _)| *short == piece) {
        out.extend(long.split(' ').map(|w| Token::Word(w.to_string())));
        return;
    }
    if piece == "x" {
        out.push(Token::Word("by".to_string()));
        return;
    }
    let word = piece.strip_suffix("'s").unwrap_or(piece);
    out.push(Token::Word(word.replace('\'', "")));
}

fn number(piece: &str) -> Option<Token> {
    if let Some((h, m)) = piece.split_once(':') {
        let (h, m): (u8, u8) = (h.parse().ok()?, m.parse().ok()?);
        return (h < 24 && m < 60 && piece.len() >= 4).then_some(Token::Clock(h, m));
    }
    if let Some((over, under)) = piece.split_once('/') {
        let (over, under): (f64, f64) = (over.parse().ok()?, under.parse().ok()?);
        return (under > 0.0).then_some(Token::Number(over / under));
    }
    piece
        .parse::<f64>()
        .ok()
        .filter(|n| n.is_finite())
        .map(Token::Number)
}

/// `1 1/2` and `1 ½` are one number.
fn join_mixed(tokens: Vec<Token>) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    for token in tokens {
        if let (Some(Token::Number(whole)), Token::Number(part)) = (out.last_mut(), &token)
            && whole.fract() == 0.0
            && *part > 0.0
            && *part < 1.0
        {
            *whole += part;
            continue;
        }
        out.push(token);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        let shown = |t: Token| match t {
            Token::Word(w) => w,
            Token::Number(n) => format!("#{n}"),
            Token::Clock(h, m) => format!("@{h}:{m}"),
        };
        tokens(text)
            .into_iter()
            .map(shown)
            .collect::<Vec<_>>()
            .join(" ")
    }

    #[test]
    fn typed_forms() {
        assert_eq!(shown("200g, of Flour!"), "#200 g of flour");
        assert_eq!(shown("1 1/2 tsp"), "#1.5 tsp");
        assert_eq!(shown("1\u{bd} cups"), "#1.5 cups");
        assert_eq!(shown("\u{be} oz"), "#0.75 oz");
        assert_eq!(shown("at 19:30."), "at @19:30");
        assert_eq!(shown("7pm"), "#7 pm");
        assert_eq!(shown(".5 cup"), "#0.5 cup");
        assert_eq!(shown("1,250 g"), "#1250 g");
        assert_eq!(shown("20 x 30 cm"), "#20 by #30 cm");
        assert_eq!(shown("20x30"), "#20 by #30");
        assert_eq!(shown("220\u{b0}C"), "#220 degrees c");
        assert_eq!(shown("68%"), "#68 percent");
        assert_eq!(shown("What\u{2019}s forty-five?"), "what is forty five");
        assert_eq!(shown("half past seven o'clock"), "half past seven o clock");
        assert_eq!(shown("baker's percentages"), "baker percentages");
        assert_eq!(shown("1/0 25:99 1.2.3"), "#1 #0 #25 #99 #1 #2 #3");
        assert_eq!(shown("\u{1f35e} \u{0} ''' ---"), "");
    }
}
