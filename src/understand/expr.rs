//! The shape of what can be said: words, sequences, choices, options and slots, written as short patterns.
//!
//! A pattern reads as it is spoken: `start a timer [for <lasts:duration>]`. `[...]` may be left out, `(a|b)` is a
//! choice, `<key:rule>` is a slot filled by another rule (or by a list of names) and caught under `key`,
//! `{key: ...}` only notes that something was said, and `=word` is understood when typed but not offered to the ear.

/// The lists of names that belong to a formula, not to the grammar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum NameList {
    /// This formula's ingredients; the value is the id.
    Own,
    /// This formula's ingredients (id), then those of the tables (canonical name).
    Any,
    /// Ingredients by their name in the tables, this formula's first.
    Stuff,
    /// The same, the tables' first.
    TableStuff,
    /// This formula's ingredients by their name in the tables.
    OwnStuff,
    /// Ingredients that the table has something to use instead of.
    Replaceable,
    /// Timers: this formula's, those that run, and common kitchen names.
    Timer,
    /// Foods with a safe temperature.
    Food,
    /// What one piece of this formula is called.
    Piece,
    /// The name by which the program is called.
    Call,
    /// Answers to the question that the program has just asked.
    Choice,
    /// The parts of this dish.
    Part,
    /// What may be taken for an ingredient: its id, a line's end, the name.
    Other,
    /// This formula's steps by their titles; the value is the number.
    Step,
    /// The dishes that are made, where there are several; the value is the number.
    Dish,
    /// The titles of the book.
    Title,
}

impl NameList {
    /// All lists, in their order.
    pub(super) const ALL: [Self; 16] = [
        Self::Own,
        Self::Any,
        Self::Stuff,
        Self::TableStuff,
        Self::OwnStuff,
        Self::Replaceable,
        Self::Timer,
        Self::Food,
        Self::Piece,
        Self::Call,
        Self::Choice,
        Self::Part,
        Self::Other,
        Self::Step,
        Self::Dish,
        Self::Title,
    ];
}

/// Digits as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Digits {
    /// Any number.
    Any,
    /// A whole number within bounds.
    Whole(f64, f64),
    /// A clock time such as `19:30`.
    Clock,
}

/// One shape of speech.
#[derive(Debug, Clone)]
pub(super) enum Expr {
    /// A word.
    Word(&'static str),
    /// A word that is understood when typed only.
    Typed(&'static str),
    /// One after the other.
    Seq(Vec<Expr>),
    /// One of these.
    Alt(Vec<Expr>),
    /// This, or nothing.
    Opt(Box<Expr>),
    /// A slot filled by another rule.
    Slot(&'static str, usize),
    /// A slot filled from a list of names.
    Name(&'static str, NameList),
    /// Typed digits.
    Digits(&'static str, Digits),
    /// One to three typed words of any kind.
    Free(&'static str),
    /// Notes that the inside was said.
    Noted(&'static str, Box<Expr>),
}

impl Expr {
    /// Reads a pattern. `rule` finds the number of a rule that is already laid down.
    ///
    /// # Panics
    /// On a pattern that is not well formed or names a rule that is not there yet: patterns are part of the program,
    /// and the first test that touches the grammar finds it.
    pub(super) fn read(pattern: &'static str, rule: &dyn Fn(&str) -> Option<usize>) -> Self {
        let mut reader = Reader {
            text: pattern,
            at: 0,
            rule,
        };
        let expr = reader.choice();
        assert!(
            reader.at == pattern.len(),
            "grammar pattern `{pattern}`: stray `{}`",
            &pattern[reader.at..]
        );
        expr
    }
}

struct Reader<'r> {
    text: &'static str,
    at: usize,
    rule: &'r dyn Fn(&str) -> Option<usize>,
}

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn skip_spaces(&mut self) {
        while self.peek() == Some(b' ') {
            self.at += 1;
        }
    }

    fn close(&mut self, with: u8) {
        assert!(
            self.peek() == Some(with),
            "grammar pattern `{}`: expected `{}`",
            self.text,
            with as char
        );
        self.at += 1;
    }

    fn choice(&mut self) -> Expr {
        let mut ways = vec![self.sequence()];
        while self.peek() == Some(b'|') {
            self.at += 1;
            ways.push(self.sequence());
        }
        if ways.len() == 1 {
            ways.remove(0)
        } else {
            Expr::Alt(ways)
        }
    }

    fn sequence(&mut self) -> Expr {
        let mut parts = Vec::new();
        loop {
            self.skip_spaces();
            match self.peek() {
                None | Some(b'|' | b')' | b']' | b'}') => break,
                Some(_) => parts.push(self.one()),
            }
        }
        if parts.len() == 1 {
            parts.remove(0)
        } else {
            Expr::Seq(parts)
        }
    }

    fn one(&mut self) -> Expr {
        match self.peek() {
            Some(b'(') => {
                self.at += 1;
                let inside = self.choice();
                self.close(b')');
                inside
            }
            Some(b'[') => {
                self.at += 1;
                let inside = self.choice();
                self.close(b']');
                Expr::Opt(Box::new(inside))
            }
            Some(b'{') => {
                self.at += 1;
                let key = self.word();
                self.close(b':');
                let inside = self.choice();
                self.close(b'}');
                Expr::Noted(key, Box::new(inside))
            }
            Some(b'<') => {
                self.at += 1;
                let (key, name) = self.slot();
                self.close(b'>');
                self.filled(key, name)
            }
            Some(b'=') => {
                self.at += 1;
                Expr::Typed(self.word())
            }
            _ => Expr::Word(self.word()),
        }
    }

    fn slot(&mut self) -> (&'static str, &'static str) {
        let text = self.text;
        let end = self.at + text[self.at..].find('>').unwrap_or(0);
        let inside = &text[self.at..end];
        self.at = end;
        inside.split_once(':').unwrap_or((inside, inside))
    }

    fn filled(&self, key: &'static str, name: &str) -> Expr {
        let list = match name {
            "own" => NameList::Own,
            "any" => NameList::Any,
            "stuff" => NameList::Stuff,
            "table_stuff" => NameList::TableStuff,
            "own_stuff" => NameList::OwnStuff,
            "replaceable" => NameList::Replaceable,
            "timer" => NameList::Timer,
            "food" => NameList::Food,
            "piece" => NameList::Piece,
            "call" => NameList::Call,
            "choice" => NameList::Choice,
            "dish_part" => NameList::Part,
            "alternative" => NameList::Other,
            "step_name" => NameList::Step,
            "dish" => NameList::Dish,
            "book_title" => NameList::Title,
            "free" => return Expr::Free(key),
            "digits" => return Expr::Digits(key, Digits::Any),
            "digits_whole" => return Expr::Digits(key, Digits::Whole(0.0, 99_999.0)),
            "digits_hour" => return Expr::Digits(key, Digits::Whole(1.0, 12.0)),
            "digits_hour24" => return Expr::Digits(key, Digits::Whole(13.0, 23.0)),
            "digits_minute" => return Expr::Digits(key, Digits::Whole(0.0, 59.0)),
            "digits_clock" => return Expr::Digits(key, Digits::Clock),
            _ => {
                let found = (self.rule)(name);
                assert!(
                    found.is_some(),
                    "grammar pattern `{}`: no rule `{name}` yet",
                    self.text
                );
                return Expr::Slot(key, found.unwrap_or(0));
            }
        };
        Expr::Name(key, list)
    }

    fn word(&mut self) -> &'static str {
        let text = self.text;
        let rest = &text[self.at..];
        let end = rest
            .find(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '%' || c == '+'))
            .unwrap_or(rest.len());
        assert!(
            end > 0,
            "grammar pattern `{text}`: expected a word at `{rest}`"
        );
        self.at += end;
        &text[self.at - end..self.at]
    }
}
