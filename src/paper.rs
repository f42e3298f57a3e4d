//! Files of word processors as plain text: ODT, DOCX, RTF. What cannot be read is told in a sentence.

use std::io::{Cursor, Read};

use encoding_rs::{Encoding, WINDOWS_1252};
use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

/// The most that is unpacked of a file, in bytes.
const LARGEST: u64 = 64 << 20;

/// Why a file has no text to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PaperError {
    /// A password is needed.
    #[error("it is locked with a password: save a copy without one, and import that")]
    Locked,
    /// It cannot be unpacked.
    #[error("it is damaged: I could not unpack it")]
    Broken,
    /// An archive of something else.
    #[error("it is a packed archive, but no text document: unpack it, and import the file inside")]
    Archive,
    /// Word's format before DOCX.
    #[error(
        "it is in Word's old format, which I cannot read: save it as DOCX, ODT, RTF or plain text, and import that"
    )]
    OldWord,
    /// A PDF.
    #[error(
        "it is a PDF, which I cannot read: copy its text into a file, or save its pages as pictures, and import those"
    )]
    Pdf,
}

/// The text of such a file; nothing where it is none.
pub fn text_of(bytes: &[u8]) -> Option<Result<String, PaperError>> {
    if bytes.starts_with(b"{\\rtf") {
        return Some(Ok(rich_text(bytes)));
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return Some(packed(bytes));
    }
    if bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        // A DOCX with a password is such a file, and names what it hides.
        let hidden: Vec<u8> = "EncryptedPackage"
            .encode_utf16()
            .flat_map(u16::to_le_bytes)
            .collect();
        let locked = bytes.windows(hidden.len()).any(|w| w == hidden);
        return Some(Err(if locked {
            PaperError::Locked
        } else {
            PaperError::OldWord
        }));
    }
    if bytes.starts_with(b"%PDF") {
        return Some(Err(PaperError::Pdf));
    }
    None
}

/// It is a picture, by its first bytes: PNG, JPEG, GIF, TIFF, BMP, WebP, HEIC, Netpbm.
pub fn is_picture(bytes: &[u8]) -> bool {
    let begins: [&[u8]; 7] = [
        b"\x89PNG",
        b"\xff\xd8\xff",
        b"GIF8",
        b"II*\0",
        b"MM\0*",
        b"P4\n",
        b"P6\n",
    ];
    begins.iter().any(|b| bytes.starts_with(b))
        || bytes.starts_with(b"P5\n")
        || bytes.starts_with(b"BM") && bytes.get(6..10) == Some(&[0, 0, 0, 0])
        || bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP")
        || bytes.get(4..8) == Some(b"ftyp")
            && bytes
                .get(8..11)
                .is_some_and(|b| [b"hei", b"mif", b"avi"].iter().any(|k| *k == b))
}

fn packed(bytes: &[u8]) -> Result<String, PaperError> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| PaperError::Broken)?;
    let names: Vec<String> = archive
        .file_names()
        .filter_map(|name| Some(name.ok()?.into_owned()))
        .collect();
    let has = |name: &str| names.iter().any(|n| n == name);
    if has("word/document.xml") {
        return Ok(words(&entry(&mut archive, "word/document.xml")?));
    }
    if has("content.xml") {
        if has("META-INF/manifest.xml")
            && entry(&mut archive, "META-INF/manifest.xml")?.contains("encryption-data")
        {
            return Err(PaperError::Locked);
        }
        return Ok(words(&entry(&mut archive, "content.xml")?));
    }
    Err(PaperError::Archive)
}

fn entry(archive: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<String, PaperError> {
    let file = archive.by_name(name).map_err(|e| match e {
        zip::result::ZipError::UnsupportedArchive(zip::result::ZipError::PASSWORD_REQUIRED) => {
            PaperError::Locked
        }
        _ => PaperError::Broken,
    })?;
    let mut unpacked = Vec::new();
    file.take(LARGEST)
        .read_to_end(&mut unpacked)
        .map_err(|_| PaperError::Broken)?;
    Ok(String::from_utf8_lossy(&unpacked).into_owned())
}

/// What an attribute of an element says, by its name without its prefix.
fn attribute(element: &BytesStart, name: &str) -> Option<String> {
    let mut all = element.attributes();
    let found = all.find_map(|a| a.ok().filter(|a| a.key.local_name().as_ref() == name))?;
    Some(found.value.to_string())
}

/// The paragraphs of an ODT or DOCX: a line each, headings, lists and tables with the signs of Markdown.
fn words(xml: &str) -> String {
    let mut reader = Reader::from_str(xml);
    let mut out = String::new();
    // What is written for a paragraph before it ends; in a cell several are one.
    let mut line = String::new();
    let (mut sign, mut cells, mut in_text, mut items, mut silent) = (
        String::new(),
        None::<Vec<String>>,
        0_usize,
        0_usize,
        0_usize,
    );
    while let Ok(event) = reader.read_event() {
        let empty = matches!(event, Event::Empty(_));
        match event {
            Event::Start(e) | Event::Empty(e) => {
                let name = e.local_name();
                match name.as_ref() {
                    "p" | "h" => {
                        in_text += usize::from(!empty);
                        if e.local_name().as_ref() == "h" {
                            sign = "## ".into();
                        } else if items > 0 && sign.is_empty() {
                            sign = "- ".into();
                        }
                        if empty {
                            put(&mut out, &mut cells, &mut line, &mut sign);
                            out.push('\n');
                        }
                    }
                    "pStyle" => {
                        let style = attribute(&e, "val").unwrap_or_default().to_lowercase();
                        if style.starts_with("heading") || style == "title" {
                            sign = if style == "title" {
                                "# ".into()
                            } else {
                                "## ".into()
                            };
                        }
                    }
                    "numPr" => sign = "- ".into(),
                    "list-item" => items += usize::from(!empty),
                    "tab" => line.push_str("    "),
                    "br" | "line-break" | "cr" => line.push('\n'),
                    "s" if in_text > 0 => {
                        let n = attribute(&e, "c")
                            .and_then(|c| c.parse().ok())
                            .unwrap_or(1_usize);
                        line.push_str(&" ".repeat(n.min(80)));
                    }
                    "tr" | "table-row" => cells = Some(Vec::new()),
                    "tc" | "table-cell" => {
                        if let Some(cells) = &mut cells {
                            cells.push(String::new());
                        }
                    }
                    "delText" | "instrText" | "tracked-changes" | "annotation" | "note"
                    | "forms" | "sequence-decls" => {
                        silent += usize::from(!empty);
                    }
                    _ => {}
                }
            }
            Event::End(e) => match e.local_name().as_ref() {
                "p" | "h" => {
                    in_text = in_text.saturating_sub(1);
                    put(&mut out, &mut cells, &mut line, &mut sign);
                }
                "list-item" => items = items.saturating_sub(1),
                "tr" | "table-row" => {
                    if let Some(cells) = cells.take() {
                        out.push_str(&format!("| {} |\n", cells.join(" | ")));
                    }
                }
                "delText" | "instrText" | "tracked-changes" | "annotation" | "note" | "forms"
                | "sequence-decls" => {
                    silent = silent.saturating_sub(1);
                }
                _ => {}
            },
            Event::Text(t) if in_text > 0 && silent == 0 => {
                // Line breaks in the file are none of the text.
                line.push_str(&t.xml10_content().replace(['\n', '\r'], " "));
            }
            Event::CData(t) if in_text > 0 && silent == 0 => line.push_str(&t.xml10_content()),
            Event::GeneralRef(r) if in_text > 0 && silent == 0 => {
                if let Ok(Some(c)) = r.resolve_char_ref() {
                    line.push(c);
                } else {
                    line.push_str(match r.xml10_content().as_ref() {
                        "amp" => "&",
                        "lt" => "<",
                        "gt" => ">",
                        "quot" => "\"",
                        "apos" => "'",
                        _ => "",
                    });
                }
            }
            Event::Eof => break,
            _ => {}
        }
    }
    out
}

fn put(out: &mut String, cells: &mut Option<Vec<String>>, line: &mut String, sign: &mut String) {
    match cells.as_mut().and_then(|c| c.last_mut()) {
        Some(cell) => {
            if !cell.is_empty() {
                cell.push(' ');
            }
            cell.push_str(&line.replace(['\n', '|'], " "));
        }
        None => {
            out.push_str(sign);
            out.push_str(line);
            out.push('\n');
            if sign.starts_with('#') {
                out.push('\n');
            }
        }
    }
    line.clear();
    sign.clear();
}

// RTF.

/// Groups whose text is none of the document's.
const ASIDE: [&str; 19] = [
    "fonttbl",
    "colortbl",
    "stylesheet",
    "info",
    "pict",
    "header",
    "footer",
    "headerl",
    "headerr",
    "footerl",
    "footerr",
    "footnote",
    "object",
    "fldinst",
    "listtable",
    "listoverridetable",
    "themedata",
    "datastore",
    "xmlnstbl",
];

/// The encoding of a font's letters, by its charset. As the RTF Specification 1.9.1 lists them, from memory.
fn of_charset(n: i32) -> Option<&'static Encoding> {
    let label = match n {
        0 => return None,
        77 => "macintosh",
        128 => "shift_jis",
        129 => "euc-kr",
        134 => "gbk",
        136 => "big5",
        161 => "windows-1253",
        162 => "windows-1254",
        163 => "windows-1258",
        177 => "windows-1255",
        178 => "windows-1256",
        186 => "windows-1257",
        204 => "windows-1251",
        222 => "windows-874",
        238 => "windows-1250",
        _ => return None,
    };
    Encoding::for_label(label.as_bytes())
}

/// What stands at a place of RTF.
#[derive(Clone, Copy)]
struct Group {
    silent: bool,
    fonts: bool,
    encoding: &'static Encoding,
    /// How many letters stand in place of a `\u`.
    instead: usize,
}

/// The text of RTF, a line for each paragraph.
fn rich_text(bytes: &[u8]) -> String {
    let mut groups: Vec<Group> = Vec::new();
    let mut now = Group {
        silent: false,
        fonts: false,
        encoding: WINDOWS_1252,
        instead: 1,
    };
    let mut page = WINDOWS_1252;
    let mut fonts: Vec<(i32, Option<&'static Encoding>)> = Vec::new();
    let (mut out, mut raw) = (String::new(), Vec::<u8>::new());
    let (mut at, mut skip, mut row) = (0, 0_usize, false);
    // Half of a letter that two `\u` make.
    let mut high: Option<u16> = None;
    macro_rules! flush {
        () => {
            if !raw.is_empty() {
                out.push_str(&now.encoding.decode_without_bom_handling(&raw).0);
                raw.clear();
            }
        };
    }
    while at < bytes.len() {
        match bytes[at] {
            b'{' => {
                flush!();
                groups.push(now);
                at += 1;
            }
            b'}' => {
                flush!();
                now = groups.pop().unwrap_or(now);
                at += 1;
            }
            b'\r' | b'\n' => at += 1,
            b'\\' => {
                let next = bytes.get(at + 1).copied().unwrap_or(b' ');
                if next == b'\'' {
                    let hex = bytes
                        .get(at + 2..at + 4)
                        .and_then(|h| std::str::from_utf8(h).ok());
                    if let Some(byte) = hex.and_then(|h| u8::from_str_radix(h, 16).ok()) {
                        if skip > 0 {
                            skip -= 1;
                        } else if !now.silent {
                            raw.push(byte);
                        }
                    }
                    at += 4;
                    continue;
                }
                if !next.is_ascii_alphabetic() {
                    flush!();
                    if !now.silent {
                        match next {
                            b'~' => out.push(' '),
                            b'_' => out.push('-'),
                            b'{' | b'}' | b'\\' => out.push(next as char),
                            b'\n' | b'\r' => out.push('\n'),
                            _ => {}
                        }
                    }
                    now.silent |= next == b'*';
                    at += 2;
                    continue;
                }
                flush!();
                let from = at + 1;
                at = from
                    + bytes[from..]
                        .iter()
                        .take_while(|b| b.is_ascii_alphabetic())
                        .count();
                let word = std::str::from_utf8(&bytes[from..at]).unwrap_or("");
                let digits = at
                    + usize::from(bytes.get(at) == Some(&b'-'))
                    + bytes[at..]
                        .iter()
                        .skip(usize::from(bytes.get(at) == Some(&b'-')))
                        .take_while(|b| b.is_ascii_digit())
                        .count();
                let n: Option<i32> = std::str::from_utf8(&bytes[at..digits])
                    .ok()
                    .and_then(|t| t.parse().ok());
                at = digits + usize::from(bytes.get(digits) == Some(&b' '));
                let say = |out: &mut String, text: &str| {
                    if !now.silent {
                        out.push_str(text);
                    }
                };
                match word {
                    "par" | "line" | "sect" | "page" => say(&mut out, "\n"),
                    "tab" => say(&mut out, "    "),
                    "trowd" => {
                        if !row {
                            say(&mut out, "\n| ");
                        }
                        row = true;
                    }
                    "cell" => say(&mut out, " | "),
                    "row" => {
                        row = false;
                        say(&mut out, "\n");
                    }
                    "emdash" => say(&mut out, "—"),
                    "endash" => say(&mut out, "–"),
                    "bullet" => say(&mut out, "•"),
                    "lquote" | "rquote" => say(&mut out, "'"),
                    "ldblquote" | "rdblquote" => say(&mut out, "\""),
                    "ansicpg" => {
                        let label = format!("windows-{}", n.unwrap_or(1252));
                        page = Encoding::for_label(label.as_bytes()).unwrap_or(WINDOWS_1252);
                        now.encoding = page;
                    }
                    "mac" => {
                        page = Encoding::for_label(b"macintosh").unwrap_or(WINDOWS_1252);
                        now.encoding = page;
                    }
                    "f" if now.fonts => fonts.push((n.unwrap_or(0), None)),
                    "f" => {
                        let font = fonts.iter().rev().find(|(f, _)| Some(*f) == n);
                        now.encoding = font.and_then(|(_, e)| *e).unwrap_or(page);
                    }
                    "fcharset" => {
                        if let Some(font) = fonts.last_mut() {
                            font.1 = of_charset(n.unwrap_or(0));
                        }
                    }
                    "uc" => now.instead = n.unwrap_or(1).clamp(0, 8) as usize,
                    "u" => {
                        let unit = n.unwrap_or(0) as u16;
                        if !now.silent {
                            if (0xd800..0xdc00).contains(&unit) {
                                high = Some(unit);
                            } else {
                                let units: Vec<u16> =
                                    high.take().into_iter().chain([unit]).collect();
                                out.push_str(&String::from_utf16_lossy(&units));
                            }
                        }
                        skip = now.instead;
                    }
                    "bin" => at = at.saturating_add(n.unwrap_or(0).max(0) as usize),
                    "fonttbl" => (now.silent, now.fonts) = (true, true),
                    word if ASIDE.contains(&word) => now.silent = true,
                    _ => {}
                }
            }
            byte => {
                if skip > 0 {
                    skip -= 1;
                } else if !now.silent {
                    raw.push(byte);
                }
                at += 1;
            }
        }
    }
    flush!();
    out
}
