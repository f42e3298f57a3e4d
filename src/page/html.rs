//! The page as one HTML file that needs nothing else: headings, lists, large print, black on white.

use super::content::{Page, Passage};

/// Black on white is 21 to 1, above the 7 to 1 of WCAG 2.2, criterion 1.4.6. A caution is marked by its word and a bar, and
/// not by a colour.
const STYLE: &str = "@page { margin: 18mm; }\n\
    body { font: 20pt/1.45 \"Atkinson Hyperlegible\", Verdana, sans-serif; color: #000; background: #fff; max-width: 34em; \
    margin: 0 auto; padding: 1em; }\n\
    h1 { font-size: 32pt; line-height: 1.2; }\nh2 { font-size: 26pt; border-bottom: 2pt solid #000; }\n\
    h3 { font-size: 22pt; margin-bottom: 0; }\nh1, h2, h3 { break-after: avoid; }\n\
    p, ul { margin: 0.5em 0; }\nul, li { break-inside: avoid; }\nli { margin: 0.2em 0; }\n\
    .careful { border-left: 5pt solid #000; padding-left: 0.6em; break-inside: avoid; }\n\
    @media print { body { max-width: none; padding: 0; } }\n";

/// The page.
pub fn html(page: &Page) -> String {
    let title = escape(&page.title);
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{title}</h1>\n"
    );
    for block in &page.blocks {
        match block {
            Passage::Heading(level, text) => {
                out += &format!("<h{level}>{}</h{level}>\n", escape(text));
            }
            Passage::Text(text) => out += &format!("<p>{}</p>\n", escape(text)),
            Passage::Careful(text) => {
                let text = escape(text);
                out += &format!("<p class=\"careful\"><strong>Careful.</strong> {text}</p>\n");
            }
            Passage::List(items) => {
                out += "<ul>\n";
                for item in items {
                    let amount = if item.amount.is_empty() {
                        String::new()
                    } else {
                        format!("<strong>{}</strong> ", escape(&item.amount))
                    };
                    out += &format!("<li>{amount}{}</li>\n", escape(&item.what));
                }
                out += "</ul>\n";
            }
        }
    }
    out + "</main>\n</body>\n</html>\n"
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
