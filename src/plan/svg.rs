//! Pictures in large print, as SVG: black on white, and no meaning by colour alone.

use std::fmt::Write;

use crate::measure::print::wrapped;

/// The size of every letter, in CSS pixels: 20 points.
pub const LETTER: u32 = 27;
/// How wide a letter is on the average, of a common sans-serif type at that size.
const LETTER_WIDTH: f64 = 16.0;
/// Text on the white ground: 16.1 to 1, where WCAG 2.2 asks for 7 to 1 at its highest level (1.4.6).
const INK: &str = "#1f1f1f";

/// How an area is filled. Every one has its own pattern, and an outline of 3 to 1 at least (WCAG 2.2, 1.4.11).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Full.
    Full,
    /// An outline.
    Empty,
    /// Lines from corner to corner.
    Lines,
    /// Points.
    Points,
}

impl Fill {
    const ALL: [Self; 4] = [Self::Full, Self::Empty, Self::Lines, Self::Points];

    fn paint(self) -> &'static str {
        match self {
            Self::Full => "#16375f",
            Self::Empty => "#ffffff",
            Self::Lines => "url(#lines)",
            Self::Points => "url(#points)",
        }
    }
}

/// A picture that is being drawn.
#[derive(Debug, Clone)]
pub struct Svg {
    /// What lies under everything else.
    under: String,
    body: String,
    width: f64,
    height: f64,
}

impl Svg {
    /// An empty picture of a width, in CSS pixels; it grows downwards.
    pub fn new(width: f64) -> Self {
        Self {
            under: String::new(),
            body: String::new(),
            width,
            height: 0.0,
        }
    }

    /// How wide words will be.
    pub fn width_of(words: &str) -> f64 {
        words.chars().count() as f64 * LETTER_WIDTH
    }

    /// Words cut into lines of a width, in bold letters as well.
    pub fn lines(words: &str, width: f64) -> Vec<String> {
        wrapped(words, ((width / LETTER_WIDTH) as usize).max(8))
    }

    /// Words, with their foot at a height.
    pub fn words(&mut self, x: f64, y: f64, bold: bool, words: &str) {
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let text = escape(words);
        let _ = writeln!(
            self.body,
            "<text x=\"{x:.0}\" y=\"{y:.0}\"{weight}>{text}</text>"
        );
        self.reach(y + f64::from(LETTER) / 2.0);
    }

    /// A bar; every one is seen, however short.
    pub fn bar(&mut self, x: f64, y: f64, width: f64, height: f64, fill: Fill) {
        let (width, paint) = (width.max(4.0), fill.paint());
        let _ = writeln!(
            self.body,
            "<rect x=\"{x:.1}\" y=\"{y:.0}\" width=\"{width:.1}\" height=\"{height:.0}\" fill=\"{paint}\" \
             stroke=\"#16375f\" stroke-width=\"3\"/>"
        );
        self.reach(y + height);
    }

    /// A thin upright line, under everything else.
    pub fn upright(&mut self, x: f64, from: f64, to: f64) {
        let _ = writeln!(
            self.under,
            "<line x1=\"{x:.1}\" y1=\"{from:.0}\" x2=\"{x:.1}\" y2=\"{to:.0}\" stroke=\"#8a8a8a\" stroke-width=\"1.5\"/>"
        );
        self.reach(to);
    }

    /// What the fills mean, in one or more lines under the picture.
    pub fn legend(&mut self, meanings: &[(Fill, &str)]) {
        let letter = f64::from(LETTER);
        let (mut x, mut y) = (30.0, self.height + 1.6 * letter);
        for (fill, meaning) in meanings {
            let long = 60.0 + Self::width_of(meaning) + 40.0;
            if x > 30.0 && x + long > self.width {
                (x, y) = (30.0, y + 1.7 * letter);
            }
            self.bar(x, y - 0.8 * letter, 46.0, letter, *fill);
            self.words(x + 60.0, y, false, meaning);
            x += long;
        }
    }

    fn reach(&mut self, y: f64) {
        self.height = self.height.max(y);
    }

    /// The whole file: what it is called, and what a screen reader tells of it.
    pub fn finish(self, title: &str, told: &str) -> String {
        let (width, height) = (self.width.ceil(), (self.height + 30.0).ceil());
        let mut out = format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" \
             height=\"{height}\" viewBox=\"0 0 {width} {height}\" role=\"img\" aria-labelledby=\"title told\" \
             font-family=\"Atkinson Hyperlegible, Verdana, DejaVu Sans, sans-serif\" font-size=\"{LETTER}\" fill=\"{INK}\">\n\
             <title id=\"title\">{}</title>\n<desc id=\"told\">{}</desc>\n<defs>\n",
            escape(title),
            escape(told)
        );
        for fill in Fill::ALL {
            out.push_str(match fill {
                Fill::Lines => {
                    "<pattern id=\"lines\" width=\"12\" height=\"12\" patternUnits=\"userSpaceOnUse\">\
                     <rect width=\"12\" height=\"12\" fill=\"#ffffff\"/>\
                     <path d=\"M-3 3 L3 -3 M0 12 L12 0 M9 15 L15 9\" stroke=\"#16375f\" stroke-width=\"3\"/></pattern>\n"
                }
                Fill::Points => {
                    "<pattern id=\"points\" width=\"12\" height=\"12\" patternUnits=\"userSpaceOnUse\">\
                     <rect width=\"12\" height=\"12\" fill=\"#ffffff\"/>\
                     <circle cx=\"6\" cy=\"6\" r=\"3\" fill=\"#16375f\"/></pattern>\n"
                }
                Fill::Full | Fill::Empty => "",
            });
        }
        out.push_str("</defs>\n");
        let _ = writeln!(
            out,
            "<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>"
        );
        out.push_str(&self.under);
        out.push_str(&self.body);
        out.push_str("</svg>\n");
        out
    }
}

fn escape(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Not even escaped may these stand in XML 1.0.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
