//! The text of HTML: a line for each of its blocks, headings and lists with their marks.

use scraper::node::Node;
use scraper::{ElementRef, Html};

/// How much of a page's text is read, in bytes.
const MOST: usize = 4_000_000;

/// Elements that are no part of a page's text.
const SILENT: [&str; 18] = [
    "script", "style", "nav", "footer", "aside", "form", "noscript", "iframe", "svg", "template",
    "head", "button", "select", "input", "video", "audio", "object", "canvas",
];
/// Elements that stand on lines of their own.
#[rustfmt::skip]
const BLOCK: [&str; 22] = [
    "p", "div", "section", "article", "main", "header", "ul", "ol", "dl", "dt", "dd", "table", "tbody", "thead",
    "blockquote", "pre", "figure", "figcaption", "address", "details", "summary", "hr",
];

// An own stack of what is still to be written: pages nest as deep as they like.
enum Task<'a> {
    Node(ego_tree::NodeRef<'a, Node>),
    Text(&'static str),
    Number(usize),
}

/// The text of an element: a line for each of its blocks, headings and lists with their marks.
pub(super) fn block_text(element: ElementRef) -> String {
    let mut out = String::new();
    let mut stack = vec![Task::Node(*element)];
    while let Some(task) = stack.pop() {
        if out.len() > MOST {
            break;
        }
        match task {
            Task::Text(text) => out.push_str(text),
            Task::Number(n) => out.push_str(&format!("\n{n}. ")),
            Task::Node(node) => match node.value() {
                Node::Text(text) => {
                    let pre = node
                        .parent()
                        .and_then(ElementRef::wrap)
                        .is_some_and(|p| p.value().name() == "pre");
                    if pre {
                        out.push_str(text);
                        continue;
                    }
                    let begins = text.starts_with(char::is_whitespace);
                    if begins && !out.ends_with([' ', '\n']) && !out.is_empty() {
                        out.push(' ');
                    }
                    out.push_str(&text.split_whitespace().collect::<Vec<_>>().join(" "));
                    if text.ends_with(char::is_whitespace) && !text.trim().is_empty() {
                        out.push(' ');
                    }
                }
                Node::Element(e) => {
                    let name = e.name();
                    if SILENT.contains(&name) || e.attr("hidden").is_some() {
                        continue;
                    }
                    let (before, after) = match name {
                        "br" => ("\n", ""),
                        "h1" => ("\n\n# ", "\n\n"),
                        "h2" => ("\n\n## ", "\n\n"),
                        "h3" => ("\n\n### ", "\n\n"),
                        "h4" | "h5" | "h6" => ("\n\n#### ", "\n\n"),
                        "li" => ("\n- ", "\n"),
                        "tr" => ("\n|", "|\n"),
                        "td" | "th" => ("", "|"),
                        "p" => ("\n\n", "\n\n"),
                        name if BLOCK.contains(&name) => ("\n", "\n"),
                        _ => ("", ""),
                    };
                    stack.push(Task::Text(after));
                    let children: Vec<_> = node.children().collect();
                    stack.extend(children.into_iter().rev().map(Task::Node));
                    let ordered = name == "li"
                        && node
                            .parent()
                            .and_then(ElementRef::wrap)
                            .is_some_and(|p| p.value().name() == "ol");
                    if ordered {
                        let n = 1 + node
                            .prev_siblings()
                            .filter(|s| ElementRef::wrap(*s).is_some())
                            .take(98)
                            .count();
                        stack.push(Task::Number(n));
                    } else {
                        stack.push(Task::Text(before));
                    }
                }
                _ => {
                    let children: Vec<_> = node.children().collect();
                    stack.extend(children.into_iter().rev().map(Task::Node));
                }
            },
        }
    }
    out
}

/// How deep elements may lie: beyond it their tags are passed over, and their text stays. Parsing takes the square of the
/// depth.
const DEEPEST: usize = 120;

/// A page without tags that lie too deep.
pub(super) fn shallow(html: &str) -> std::borrow::Cow<'_, str> {
    // These need no end, or have none.
    #[rustfmt::skip]
    const OPEN: [&str; 24] = [
        "p", "li", "td", "tr", "th", "dt", "dd", "option", "tbody", "thead", "br", "img", "hr", "meta", "link", "input", "area", "base", "col",
        "wbr", "source", "track", "embed", "rp",
    ];
    let bytes = html.as_bytes();
    let (mut depth, mut most) = (0_usize, 0);
    let mut out = String::new();
    let (mut at, mut done) = (0, 0);
    while let Some(next) = bytes[at..].iter().position(|b| *b == b'<') {
        let from = at + next;
        let ends = bytes.get(from + 1) == Some(&b'/');
        let name_at = from + 1 + usize::from(ends);
        let len = bytes[name_at..]
            .iter()
            .take(20)
            .take_while(|b| b.is_ascii_alphanumeric())
            .count();
        let Some(close) = bytes[name_at..].iter().position(|b| *b == b'>') else {
            break;
        };
        let to = name_at + close + 1;
        let name = html[name_at..name_at + len].to_ascii_lowercase();
        at = to;
        // What stands in a script is no tag.
        if !ends && matches!(name.as_str(), "script" | "style") {
            let close: &[u8] = if name == "script" {
                b"</script"
            } else {
                b"</style"
            };
            at = super::seek::find(bytes, close, to).map_or(bytes.len(), |end| end + close.len());
            continue;
        }
        if len == 0 || OPEN.contains(&name.as_str()) || bytes[to - 2] == b'/' {
            continue;
        }
        let deep = depth + usize::from(!ends) > DEEPEST;
        if ends {
            depth = depth.saturating_sub(1);
        } else {
            depth += 1;
        }
        most = most.max(depth);
        if deep {
            out.push_str(&html[done..from]);
            done = to;
        }
    }
    if most <= DEEPEST {
        return html.into();
    }
    out.push_str(&html[done..]);
    out.into()
}

/// Text that may have tags and entities in it, as plain text with its lines. Some pages write them twice over.
pub(super) fn plain(text: &str) -> String {
    let once = plain_once(text);
    let again: Vec<String> = once.lines().map(plain_once).collect();
    again.join("\n")
}

fn plain_once(text: &str) -> String {
    let is_marked = text.contains('<')
        || text
            .split('&')
            .skip(1)
            .any(|t| t.find(';').is_some_and(|at| (1..12).contains(&at)));
    if !is_marked {
        return text.trim().to_owned();
    }
    let page = Html::parse_fragment(&shallow(text));
    let lines = block_text(page.root_element());
    lines
        .lines()
        .map(str::trim)
        .filter(|l| !l.is_empty())
        .map(|l| l.trim_start_matches("- "))
        .collect::<Vec<_>>()
        .join("\n")
}
