//! The page as a PDF that a screen reader can follow (PDF/UA-1): headings, lists, paragraphs and an outline, in large print.

use std::num::NonZeroU16;

use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, SpanTag, Tag, TagGroup, TagTree,
};
use krilla::text::{Font, TextDirection};
use krilla::{Document, SerializeSettings};
use ttf_parser::Face;

use super::content::{Page, Passage};

/// Atkinson Hyperlegible, drawn for weak sight; under the SIL Open Font License, which allows embedding.
const REGULAR: &[u8] = include_bytes!("fonts/AtkinsonHyperlegible-Regular.ttf");
/// The same in bold.
const BOLD: &[u8] = include_bytes!("fonts/AtkinsonHyperlegible-Bold.ttf");

/// Sizes in points: nothing is smaller than 18.
const TEXT: f32 = 20.0;
const TITLE: f32 = 32.0;
const PART: f32 = 26.0;
const STEP: f32 = 22.0;
const FOOT: f32 = 18.0;
/// From line to line, times the size.
const LEADING: f32 = 1.35;
const MARGIN: f32 = 54.0;
/// Room for the foot.
const FOOT_ROOM: f32 = 36.0;
const INDENT: f32 = 22.0;
/// The bar beside a caution.
const BAR: f32 = 5.0;

/// The paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// Width and height in points.
    fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.0, 842.0),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// A piece of a line in one weight.
#[derive(Debug, Clone)]
struct Run {
    text: String,
    bold: bool,
    x: f32,
}

/// What a run of lines is, for who cannot see them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Heading(u8),
    Paragraph,
    Careful,
    Item,
}

/// Lines that belong together.
#[derive(Debug)]
struct Unit {
    role: Role,
    text: String,
    size: f32,
    before: f32,
    lines: Vec<Vec<Run>>,
}

impl Unit {
    fn line_height(&self) -> f32 {
        self.size * LEADING
    }

    fn height(&self) -> f32 {
        self.before + self.lines.len() as f32 * self.line_height()
    }
}

struct Fonts<'d> {
    regular: (Font, Face<'d>),
    bold: (Font, Face<'d>),
}

impl Fonts<'_> {
    fn load() -> Option<Self> {
        let one = |data: &'static [u8]| {
            let font = Font::new(data.to_vec().into(), 0)?;
            Some((font, Face::parse(data, 0).ok()?))
        };
        Some(Self {
            regular: one(REGULAR)?,
            bold: one(BOLD)?,
        })
    }

    fn of(&self, bold: bool) -> &(Font, Face<'_>) {
        if bold { &self.bold } else { &self.regular }
    }

    fn width(&self, text: &str, bold: bool, size: f32) -> f32 {
        let face = &self.of(bold).1;
        let advance = |c| {
            face.glyph_index(c)
                .and_then(|glyph| face.glyph_hor_advance(glyph))
        };
        let sum: u32 = text.chars().filter_map(advance).map(u32::from).sum();
        sum as f32 * size / f32::from(face.units_per_em())
    }

    /// Characters that the font has not.
    fn missing(&self, text: &str) -> Vec<char> {
        let face = &self.regular.1;
        let lacks = |c: &char| !c.is_whitespace() && face.glyph_index(*c).is_none();
        text.chars().filter(lacks).collect()
    }

    /// Words of two weights in lines, each begun at `x`.
    fn lines(&self, words: &[(String, bool)], size: f32, x: f32, right: f32) -> Vec<Vec<Run>> {
        let mut lines: Vec<Vec<Run>> = Vec::new();
        let mut line: Vec<Run> = Vec::new();
        let mut at = x;
        for (word, bold) in words {
            let width = self.width(word, *bold, size);
            let space = if line.is_empty() {
                0.0
            } else {
                self.width(" ", *bold, size)
            };
            if !line.is_empty() && at + space + width > right {
                lines.push(std::mem::take(&mut line));
                at = x;
            }
            let from = if line.is_empty() { at } else { at + space };
            match line.last_mut() {
                Some(last) if last.bold == *bold => {
                    last.text.push(' ');
                    last.text.push_str(word);
                }
                Some(last) => {
                    last.text.push(' ');
                    line.push(Run {
                        text: word.clone(),
                        bold: *bold,
                        x: from,
                    });
                }
                None => line.push(Run {
                    text: word.clone(),
                    bold: *bold,
                    x: from,
                }),
            }
            at = from + width;
        }
        if !line.is_empty() {
            lines.push(line);
        }
        lines
    }
}

/// Words and their weight.
fn words(text: &str, bold: bool) -> Vec<(String, bool)> {
    text.split([' ', '\n'])
        .filter(|word| !word.is_empty())
        .map(|word| (word.to_owned(), bold))
        .collect()
}

/// The page as the bytes of a PDF.
///
/// # Errors
/// A sentence, where the font lacks a character, or the file would not be a readable one.
pub fn pdf(page: &Page, paper: Paper) -> Result<Vec<u8>, String> {
    let fonts = Fonts::load().ok_or("the font of the program cannot be read")?;
    let units = units(page, &fonts, paper);
    let mut missing: Vec<char> = units.iter().flat_map(|u| fonts.missing(&u.text)).collect();
    missing.sort_unstable();
    missing.dedup();
    if !missing.is_empty() {
        let names: Vec<String> = missing.iter().map(|c| format!("`{c}`")).collect();
        return Err(format!(
            "the font of the page has no {}; the other forms have it",
            names.join(", ")
        ));
    }
    write(page, paper, &fonts, &units)
}

fn units(page: &Page, fonts: &Fonts, paper: Paper) -> Vec<Unit> {
    let right = paper.size().0 - MARGIN;
    let unit = |role, text: &str, size, before, words: &[(String, bool)], x| Unit {
        role,
        text: text.to_owned(),
        size,
        before,
        lines: fonts.lines(words, size, x, right),
    };
    let mut out = vec![unit(
        Role::Heading(1),
        &page.title,
        TITLE,
        0.0,
        &words(&page.title, true),
        MARGIN,
    )];
    for block in &page.blocks {
        match block {
            Passage::Heading(level, text) => {
                let (size, before) = if *level == 2 {
                    (PART, 26.0)
                } else {
                    (STEP, 18.0)
                };
                out.push(unit(
                    Role::Heading(*level),
                    text,
                    size,
                    before,
                    &words(text, true),
                    MARGIN,
                ));
            }
            Passage::Text(text) => {
                out.push(unit(
                    Role::Paragraph,
                    text,
                    TEXT,
                    6.0,
                    &words(text, false),
                    MARGIN,
                ));
            }
            Passage::Careful(text) => {
                let all = [words("Careful.", true), words(text, false)].concat();
                let text = format!("Careful. {text}");
                out.push(unit(
                    Role::Careful,
                    &text,
                    TEXT,
                    8.0,
                    &all,
                    MARGIN + BAR * 2.5,
                ));
            }
            Passage::List(items) => {
                for item in items {
                    let all = [words(&item.amount, true), words(&item.what, false)].concat();
                    out.push(unit(
                        Role::Item,
                        &item.line(),
                        TEXT,
                        4.0,
                        &all,
                        MARGIN + INDENT,
                    ));
                }
            }
        }
    }
    out
}

/// A line in its place.
struct Placed {
    unit: usize,
    line: usize,
    y: f32,
}

/// Lines on pages: a heading stands with what follows it, and what is short is not torn.
fn pages(units: &[Unit], paper: Paper) -> Vec<Vec<Placed>> {
    let bottom = paper.size().1 - MARGIN - FOOT_ROOM;
    let room = bottom - MARGIN;
    let mut pages: Vec<Vec<Placed>> = vec![Vec::new()];
    let mut y = MARGIN;
    for (n, unit) in units.iter().enumerate() {
        let mut needs = 0.0;
        for follower in &units[n..] {
            needs += follower.height();
            if !matches!(follower.role, Role::Heading(_)) {
                break;
            }
        }
        let fresh = y <= MARGIN;
        if !fresh && y + needs > bottom && needs < room / 2.0 {
            pages.push(Vec::new());
            y = MARGIN;
        }
        if y > MARGIN {
            y += unit.before;
        }
        for line in 0..unit.lines.len() {
            if y + unit.line_height() > bottom {
                pages.push(Vec::new());
                y = MARGIN;
            }
            y += unit.line_height();
            let baseline = y - unit.line_height() * 0.28;
            if let Some(page) = pages.last_mut() {
                page.push(Placed {
                    unit: n,
                    line,
                    y: baseline,
                });
            }
        }
    }
    pages
}

fn write(page: &Page, paper: Paper, fonts: &Fonts, units: &[Unit]) -> Result<Vec<u8>, String> {
    let odd = |e: &dyn std::fmt::Debug| format!("the page cannot be written: {e:?}");
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|e| odd(&e))?;
    let mut document = Document::new_with(SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    });
    let (width, height) = paper.size();
    let pages = pages(units, paper);
    let mut ids: Vec<Vec<Identifier>> = vec![Vec::new(); units.len()];
    let mut labels: Vec<Option<Identifier>> = vec![None; units.len()];
    let mut outline = Outline::new();
    let mut part: Option<OutlineNode> = None;
    for (n, placed) in pages.iter().enumerate() {
        let settings = PageSettings::from_wh(width, height).ok_or("no such paper")?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        for place in placed {
            let unit = &units[place.unit];
            if let (Role::Heading(level), 0) = (unit.role, place.line) {
                let top = Point::from_xy(MARGIN, place.y - unit.size);
                let node = OutlineNode::new(unit.text.clone(), XyzDestination::new(n, top));
                match &mut part {
                    Some(part) if level == 3 => part.push_child(node),
                    _ => {
                        if let Some(done) = part.replace(node) {
                            outline.push_child(done);
                        }
                    }
                }
            }
            if unit.role == Role::Careful {
                bar(&mut surface, place.y, unit.line_height());
            }
            if unit.role == Role::Item && place.line == 0 {
                let id = surface.start_tagged(ContentTag::Span(SpanTag::empty()));
                draw(
                    &mut surface,
                    fonts,
                    MARGIN + 4.0,
                    place.y,
                    unit.size,
                    "•",
                    false,
                );
                surface.end_tagged();
                labels[place.unit] = Some(id);
            }
            let id = surface.start_tagged(ContentTag::Span(SpanTag::empty()));
            // A word space at the line's end, so that words are told apart where lines are joined.
            let runs = &unit.lines[place.line];
            let last = runs.len().saturating_sub(1);
            for (at, run) in runs.iter().enumerate() {
                let more = place.line + 1 < unit.lines.len() && at == last;
                let text = if more {
                    format!("{} ", run.text)
                } else {
                    run.text.clone()
                };
                draw(
                    &mut surface,
                    fonts,
                    run.x,
                    place.y,
                    unit.size,
                    &text,
                    run.bold,
                );
            }
            surface.end_tagged();
            ids[place.unit].push(id);
        }
        let foot = format!("{}, page {} of {}", page.title, n + 1, pages.len());
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(
            ArtifactType::Footer,
        )));
        draw(
            &mut surface,
            fonts,
            MARGIN,
            height - MARGIN,
            FOOT,
            &short(&foot, fonts, width),
            false,
        );
        surface.end_tagged();
        surface.finish();
        sheet.finish();
    }
    if let Some(part) = part {
        outline.push_child(part);
    }
    document.set_outline(outline);
    document.set_tag_tree(tree(units, ids, labels));
    document.set_metadata(
        Metadata::new()
            .title(page.title.clone())
            .language("en-GB".to_owned())
            .creator("commis".to_owned()),
    );
    document.finish().map_err(|e| odd(&e))
}

/// The foot in one line: a long name gives way to the number.
fn short(foot: &str, fonts: &Fonts, width: f32) -> String {
    if fonts.width(foot, false, FOOT) <= width - 2.0 * MARGIN {
        return foot.to_owned();
    }
    let number = foot.rsplit(", ").next().unwrap_or_default();
    crate::measure::words::capital(number)
}

fn draw(surface: &mut Surface, fonts: &Fonts, x: f32, y: f32, size: f32, text: &str, bold: bool) {
    let font = fonts.of(bold).0.clone();
    let at = Point::from_xy(x, y);
    surface.draw_text(at, font, size, text, false, TextDirection::LeftToRight);
}

/// A bar beside one line of a caution.
fn bar(surface: &mut Surface, baseline: f32, height: f32) {
    let top = baseline - height * 0.72;
    let mut path = PathBuilder::new();
    if let Some(rect) = Rect::from_xywh(MARGIN, top, BAR, height) {
        path.push_rect(rect);
    }
    if let Some(path) = path.finish() {
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(
            ArtifactType::Layout,
        )));
        surface.draw_path(&path);
        surface.end_tagged();
    }
}

/// What the page is, for who cannot see it.
fn tree(units: &[Unit], ids: Vec<Vec<Identifier>>, labels: Vec<Option<Identifier>>) -> TagTree {
    let mut tree = TagTree::new().with_lang(Some("en-GB".to_owned()));
    let mut list: Option<TagGroup> = None;
    for ((unit, ids), label) in units.iter().zip(ids).zip(labels) {
        let fill = |mut group: TagGroup| {
            for id in ids {
                group.push(id);
            }
            group
        };
        if unit.role == Role::Item {
            let mut item = TagGroup::new(Tag::LI);
            if let Some(id) = label {
                let mut mark = TagGroup::new(Tag::Lbl);
                mark.push(id);
                item.push(mark);
            }
            item.push(fill(TagGroup::new(Tag::LBody)));
            list.get_or_insert_with(|| TagGroup::new(Tag::L(ListNumbering::Disc)))
                .push(item);
            continue;
        }
        if let Some(list) = list.take() {
            tree.push(list);
        }
        let level = match unit.role {
            Role::Heading(level) => NonZeroU16::new(u16::from(level)),
            _ => None,
        };
        tree.push(fill(match level {
            Some(level) => TagGroup::new(Tag::Hn(level, Some(unit.text.clone()))),
            None => TagGroup::new(Tag::P),
        }));
    }
    if let Some(list) = list {
        tree.push(list);
    }
    tree
}
