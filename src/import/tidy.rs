//! The lines of a text as they were meant: without the signs of mails and chats, columns one below the other, and what a
//! scan took for something else put right.

use super::line;

/// The lines, and whether they look like those of a scan.
pub(super) fn lines(text: &str) -> (Vec<String>, bool) {
    let mut lines: Vec<String> = text
        .lines()
        .map(|raw| unsigned(raw).replace('\t', "    "))
        .collect();
    let scanned = is_scan(text);
    if scanned {
        lines = mended(lines);
    }
    (one_column(lines), scanned)
}

/// A line without the quoting signs of a mail, the stamp of a chat, and a picture for a bullet.
fn unsigned(raw: &str) -> String {
    let mut line = raw.trim_end_matches(['\r', ' ']);
    while let Some(rest) = line.trim_start().strip_prefix('>') {
        line = rest.strip_prefix(' ').unwrap_or(rest);
    }
    if let Some(said) = unstamped(line) {
        line = said;
    }
    let begin = line.trim_start();
    let is_picture = |c: char| {
        c as u32 >= 0x2190
            && !c.is_alphanumeric()
            && !matches!(c, '☐' | '▢' | '●' | '▪' | '◦' | '￼' | '★' | '☆' | '⭐')
            && !('\u{2e80}'..='\u{d7ff}').contains(&c)
            || c == '\u{200d}'
    };
    if begin.starts_with(is_picture) {
        let rest = begin.trim_start_matches(|c: char| is_picture(c) || c == '\u{fe0f}' || c == ' ');
        if rest.starts_with(|c: char| c.is_alphanumeric() || "*(½¼¾⅓⅔⅛".contains(c)) {
            return format!("- {rest}");
        }
    }
    line.to_owned()
}

/// `[14/02/23, 9:47 pm] Kim: 2 onions`, `14/02/2023, 21:47 - Kim: 2 onions`: what was said.
fn unstamped(line: &str) -> Option<&str> {
    let inner = line
        .trim_start()
        .trim_start_matches(['\u{200e}', '\u{200f}']);
    let (stamp, rest) = match inner.strip_prefix('[') {
        Some(inner) => inner.split_once(']')?,
        None => inner.split_once(" - ")?,
    };
    let digits = stamp.bytes().filter(u8::is_ascii_digit).count();
    let is_stamp = stamp.len() < 30
        && digits >= 4
        && stamp.contains(':')
        && stamp.starts_with(|c: char| c.is_ascii_digit());
    let (name, said) = rest.split_once(':')?;
    (is_stamp && name.trim().len() < 40).then(|| said.trim_start())
}

// Scans.

/// A figure that a scan read as letters: `25O`, `lO`, `17O`. Letters and digits of one token.
fn is_figure(token: &str) -> bool {
    // 'l10g'
    let token = ["kg", "ml", "cm", "oz", "g"]
        .iter()
        .find_map(|unit| {
            token
                .strip_suffix(unit)
                .filter(|t| t.ends_with(|c: char| c.is_ascii_digit()))
        })
        .unwrap_or(token);
    token.len() > 1
        && token.bytes().any(|b| b.is_ascii_digit())
        && token.bytes().any(|b| b"OolI".contains(&b))
        && token
            .bytes()
            .all(|b| b.is_ascii_digit() || b"OolI".contains(&b))
        // '2l' and '1l' are litres, and 10l as well.
        && !token
            .strip_suffix(['l', 'L'])
            .is_some_and(|n| n.bytes().all(|b| b.is_ascii_digit()))
}

fn tokens(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|t| !t.is_empty())
}

/// A text that a machine has read from paper: figures with letters in them.
fn is_scan(text: &str) -> bool {
    tokens(text).filter(|t| is_figure(t)).take(2).count() == 2
}

/// Lines of a scan, with what is known to be misread put right.
fn mended(lines: Vec<String>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for raw in lines {
        let line = mended_line(&raw);
        // The number of a page.
        if !line.chars().any(char::is_alphabetic)
            && line.chars().filter(char::is_ascii_digit).count() <= 4
        {
            out.push(String::new());
            continue;
        }
        // A word that was parted at the end of its line.
        if let Some(last) = out.last_mut()
            && last.ends_with('-')
            && last[..last.len() - 1].ends_with(char::is_alphabetic)
            && line.trim_start().starts_with(char::is_lowercase)
        {
            last.pop();
            last.push_str(line.trim_start());
            continue;
        }
        out.push(line);
    }
    out
}

fn mended_line(raw: &str) -> String {
    let mut out = String::with_capacity(raw.len());
    let mut rest = raw;
    while let Some(c) = rest.chars().next() {
        let end = if c.is_alphanumeric() {
            rest.find(|c: char| !c.is_alphanumeric())
                .unwrap_or(rest.len())
        } else {
            c.len_utf8()
        };
        let token = &rest[..end];
        let first = out.trim().is_empty();
        out.push_str(&mended_token(token, first, &rest[end..]));
        rest = &rest[end..];
    }
    for (from, to) in [
        (" ,", ","),
        (" .", "."),
        (" ;", ";"),
        (" :", ":"),
        ("( ", "("),
        (" )", ")"),
    ] {
        out = out.replace(from, to);
    }
    // 'su_gar'
    let letters: Vec<char> = out.chars().collect();
    let inside = |at: usize| {
        at > 0
            && letters[at - 1].is_alphabetic()
            && letters.get(at + 1).is_some_and(|c| c.is_alphabetic())
    };
    let out: String = letters
        .iter()
        .enumerate()
        .filter(|(at, c)| **c != '_' || !inside(*at))
        .map(|(_, c)| *c)
        .collect();
    out.trim_end_matches(['|', '\'', '`', '~', ' ']).to_owned()
}

fn mended_token(token: &str, first: bool, after: &str) -> String {
    let figure = |t: &str| t.replace(['O', 'o'], "0").replace(['l', 'I'], "1");
    if is_figure(token) {
        // The unit behind the figures stays.
        let end = token
            .trim_end_matches(|c: char| c.is_ascii_lowercase() && c != 'o' && c != 'l')
            .len();
        return format!("{}{}", figure(&token[..end]), &token[end..]);
    }
    // A lone l that begins a line before a measure is a one; so is that of a fraction.
    let part = after
        .strip_prefix(['/', '-', '–'])
        .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    if matches!(token, "l" | "I")
        && (part || first && (after.starts_with(' ') || after.starts_with(". ")))
    {
        return "1".to_owned();
    }
    if token == "0z" {
        return "oz".to_owned();
    }
    // No English word begins with these: 'rnilk' is milk.
    if let Some(rest) = token.strip_prefix("rn") {
        return format!("m{rest}");
    }
    let letters = token.bytes().filter(u8::is_ascii_alphabetic).count();
    let digits = token.bytes().filter(u8::is_ascii_digit).count();
    if token.is_ascii()
        && digits > 0
        && letters > digits
        && token.starts_with(|c: char| c.is_ascii_alphabetic())
    {
        let large = token.bytes().filter(u8::is_ascii_uppercase).count() * 2 > letters;
        let meant = |c: char| match (c, large) {
            ('1', false) => 'l',
            ('1', true) => 'I',
            ('0', false) => 'o',
            ('0', true) => 'O',
            ('5', true) => 'S',
            ('5', false) => 's',
            (c, _) => c,
        };
        return token.chars().map(meant).collect();
    }
    // 'fIour', 'lngredients'
    let begins_small = token.starts_with(|c: char| c.is_ascii_lowercase());
    if begins_small && token.contains('I') {
        return token.replace('I', "l");
    }
    // 'RolI', 'Iooks': only iodine begins so.
    let small_before = token
        .find('I')
        .filter(|at| *at > 0)
        .is_some_and(|at| token[..at].ends_with(|c: char| c.is_ascii_lowercase()));
    if small_before {
        return token.replace('I', "l");
    }
    if let Some(rest) = token.strip_prefix('I')
        && rest.len() > 2
        && rest.starts_with(['a', 'e', 'o', 'u'])
        && !rest.starts_with("od")
        && rest.bytes().all(|b| b.is_ascii_lowercase())
    {
        return format!("l{rest}");
    }
    if first
        && let Some(rest) = token.strip_prefix('l')
        && rest.len() > 3
        && rest.starts_with(['n', 'm', 'c', 't', 's', 'd'])
    {
        return format!("I{rest}");
    }
    token.to_owned()
}

// Columns.

/// The cells of a line, parted by so many spaces.
fn cells(line: &str, gap: usize) -> Vec<&str> {
    let parting = " ".repeat(gap);
    line.trim()
        .split(parting.as_str())
        .map(str::trim)
        .filter(|c| !c.is_empty())
        .collect()
}

/// Two columns of ingredients stand one below the other; rows of name and figures are a table's.
fn one_column(lines: Vec<String>) -> Vec<String> {
    let twin = |line: &String| {
        let both = cells(line, 3);
        both.len() == 2
            && both
                .iter()
                .all(|c| line::has_amount_first(c) && c.split_whitespace().count() > 1)
    };
    let is_amount = |c: &&str| {
        c.starts_with(|c: char| c.is_numeric())
            || matches!(
                c.to_lowercase().as_str(),
                "as needed" | "q.s." | "to taste" | "a pinch" | "pinch" | "-" | "–" | "as req."
            )
    };
    let row = |line: &String| {
        let all = cells(line, 2);
        all.len() > 1
            && all[0].starts_with(char::is_alphabetic)
            && all[1..].iter().all(is_amount)
            && !line.contains('|')
    };
    let title = |line: &String| {
        let all = cells(line, 2);
        let is = |c: &&str| {
            let c = c.to_lowercase();
            c.contains('%')
                || [
                    "g", "kg", "gram", "grams", "weight", "amount", "quantity", "grammes", "oz",
                    "ml",
                ]
                .contains(&c.as_str())
        };
        all.len() > 1 && !line.contains('|') && all[1..].iter().all(is)
    };
    let table = |line: &str| format!("| {} |", cells(line, 2).join(" | "));
    let mut out: Vec<String> = Vec::with_capacity(lines.len());
    let mut at = 0;
    while at < lines.len() {
        let pairs = lines[at..].iter().take_while(|l| twin(l)).count();
        if pairs > 1 {
            for column in 0..2 {
                out.extend(
                    lines[at..at + pairs]
                        .iter()
                        .map(|l| cells(l, 3)[column].to_owned()),
                );
            }
            at += pairs;
            continue;
        }
        let titled = title(&lines[at]);
        let from = at + usize::from(titled);
        let rows = lines[from..]
            .iter()
            .take_while(|l| {
                row(l) || !l.trim().is_empty() && l.trim().chars().all(|c| c == '-' || c == '=')
            })
            .count();
        if rows > 1 || titled && rows > 0 {
            if !titled {
                out.push(String::new());
            }
            out.extend(
                lines[at..from + rows]
                    .iter()
                    .filter(|l| titled && title(l) || row(l))
                    .map(|l| table(l)),
            );
            at = from + rows;
            continue;
        }
        out.push(lines[at].clone());
        at += 1;
    }
    out
}
