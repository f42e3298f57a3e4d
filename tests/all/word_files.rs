//! Files of word processors, odd charsets, and pictures.

use std::io::{Cursor, Write as _};
use std::process::Command;

use commis::formula::{Formula, read};
use commis::import::{self, Recipe};
use commis::paper::{self, PaperError};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::rehearsal::root;

fn packed(files: &[(&str, &str)]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in files {
        archive
            .start_file(*name, SimpleFileOptions::default())
            .expect("a file");
        archive.write_all(text.as_bytes()).expect("its text");
    }
    archive.finish().expect("an archive").into_inner()
}

const DOCX: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>
<w:p><w:pPr><w:pStyle w:val="Title"/></w:pPr><w:r><w:t>Crème &amp; rice</w:t></w:r></w:p>
<w:p><w:pPr><w:pStyle w:val="Heading1"/></w:pPr><w:r><w:t>Ingredients</w:t></w:r></w:p>
<w:tbl><w:tr><w:tc><w:p><w:r><w:t>Rice</w:t></w:r></w:p></w:tc><w:tc><w:p><w:r><w:t>100 g</w:t></w:r></w:p></w:tc></w:tr>
<w:tr><w:tc><w:p><w:r><w:t>Milk</w:t></w:r></w:p></w:tc><w:tc><w:p><w:r><w:t>500 ml</w:t></w:r></w:p></w:tc></w:tr></w:tbl>
<w:p><w:pPr><w:numPr><w:ilvl w:val="0"/></w:numPr></w:pPr><w:r><w:t xml:space="preserve">50 g </w:t></w:r><w:del><w:r><w:delText>caster </w:delText></w:r></w:del><w:r><w:t>sugar</w:t></w:r></w:p>
<w:p><w:pPr><w:pStyle w:val="Heading1"/></w:pPr><w:r><w:t>Method</w:t></w:r></w:p>
<w:p><w:r><w:t>Simmer the rice in the milk for 30 minutes.</w:t></w:r></w:p>
<w:p><w:r><w:t>Stir in the sugar.</w:t></w:r></w:p></w:body></w:document>"#;

const ODT: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="o" xmlns:text="t" xmlns:table="ta"><office:body><office:text>
<text:h text:outline-level="1">Crème &#38; rice</text:h><text:h text:outline-level="2">Ingredients</text:h>
<text:list><text:list-item><text:p>100<text:s/>g rice</text:p></text:list-item><text:list-item><text:p>500 ml <text:span>milk</text:span></text:p></text:list-item>
<text:list-item><text:p>50 g sugar</text:p></text:list-item></text:list>
<text:h text:outline-level="2">Method</text:h><text:p>Simmer the rice in the milk for
30 minutes.</text:p><text:p>Stir in the sugar.</text:p></office:text></office:body></office:document-content>"#;

const RTF: &str = r"{\rtf1\ansi\ansicpg1252\deff0{\fonttbl{\f0\fswiss\fcharset0 Arial;}{\f1\fnil\fcharset204 Arial Cyr;}}{\colortbl;\red0\green0\blue0;}
{\*\generator Any 1.0;}{\info{\title none}}\pard\b Cr\'e8me {\u38?} rice\b0\par
\par Ingredients\par
{\pntext\f0\'b7\tab}100 g rice\par
{\pntext\f0\'b7\tab}500 ml milk\par
{\pntext\f0\'b7\tab}50 g sugar {\f1\'f1}\par
\par Method\par
1.\tab Simmer the rice in the milk for 30\~minutes.\par
2.\tab Stir in the sugar.\par
}";

/// One of each kind.
pub fn office_files() -> Vec<Vec<u8>> {
    vec![
        packed(&[("[Content_Types].xml", "<x/>"), ("word/document.xml", DOCX)]),
        packed(&[
            ("mimetype", "application/vnd.oasis.opendocument.text"),
            ("content.xml", ODT),
        ]),
        RTF.as_bytes().to_vec(),
    ]
}

/// Reads any file, as the program does.
pub fn read_any(bytes: &[u8]) -> Result<Recipe, String> {
    let read = match paper::text_of(bytes) {
        Some(text) => import::read_text(&text.map_err(|e| e.to_string())?, "x"),
        None => import::read(bytes, "x"),
    };
    read.map_err(|e| e.to_string())
}

fn taken(bytes: &[u8]) -> Formula {
    let recipe = read_any(bytes).unwrap_or_else(|e| panic!("{e}"));
    let toml = recipe.toml();
    read("x", &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)))
}

#[test]
fn files_of_word_processors_are_read_as_text() {
    for bytes in office_files() {
        let f = taken(&bytes);
        assert_eq!(f.name, "Crème & rice");
        let names: Vec<String> = f
            .ingredients
            .iter()
            .map(|i| i.name.to_lowercase())
            .collect();
        assert_eq!(names.len(), 3, "{names:?}");
        assert!(
            names[0] == "rice" && names[1] == "milk" && names[2].starts_with("sugar"),
            "{names:?}"
        );
        assert_eq!(f.ingredients[0].mass.as_grams(), 100.0);
        assert_eq!(f.steps.len(), 2, "{:?}", f.steps);
        assert_eq!(f.timers().count(), 1);
        assert!(
            f.steps[0]
                .text
                .contains("Simmer the rice in the milk for 30 minutes"),
            "{}",
            f.steps[0].text
        );
    }
}

#[test]
fn a_file_that_cannot_be_read_is_told_plainly() {
    let mut torn = packed(&[("word/document.xml", DOCX)]);
    torn.truncate(torn.len() / 2);
    let manifest = "<manifest:file-entry><manifest:encryption-data/></manifest:file-entry>";
    let locked = packed(&[("content.xml", "x"), ("META-INF/manifest.xml", manifest)]);
    let mut old = vec![0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];
    old.extend([0; 600]);
    let mut hidden = old.clone();
    hidden.extend("EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes));
    for (bytes, wrong) in [
        (torn, PaperError::Broken),
        (locked, PaperError::Locked),
        (old, PaperError::OldWord),
        (hidden, PaperError::Locked),
        (b"%PDF-1.7 ...".to_vec(), PaperError::Pdf),
        (packed(&[("readme.txt", "hello")]), PaperError::Archive),
    ] {
        let found = read_any(&bytes).map(|r| r.summary());
        assert_eq!(found, Err(wrong.to_string()));
    }
    for empty in [
        packed(&[("word/document.xml", "<w:document")]),
        b"{\\rtf1 }".to_vec(),
    ] {
        assert!(read_any(&empty).is_err_and(|e| e.contains("no recipe")));
    }
}

#[test]
fn letters_of_any_charset_are_read() {
    let page = |label: &str, name: &str| {
        format!(
            "<html><head><meta http-equiv=\"Content-Type\" content=\"text/html; charset={label}\"></head><h1>{name}</h1><h2>Ingredients</h2><ul><li>2 eggs</ul><h2>Method</h2><p>Boil the eggs for 5 minutes."
        )
    };
    for (label, name) in [
        ("windows-1251", "Борщ"),
        ("iso-8859-2", "Žemľovka"),
        ("iso-8859-7", "Τζατζίκι"),
        ("shift_jis", "味噌汁"),
        ("euc-jp", "味噌汁"),
        ("iso-2022-jp", "味噌汁"),
        ("gb18030", "麻婆豆腐"),
        ("big5", "麻婆豆腐"),
        ("euc-kr", "김치찌개"),
        ("macintosh", "Crème brûlée"),
        ("koi8-r", "Щи"),
        ("windows-1255", "חומוס"),
    ] {
        let encoding = encoding_rs::Encoding::for_label(label.as_bytes()).expect(label);
        let text = page(label, name);
        let (bytes, ..) = encoding.encode(&text);
        assert_eq!(taken(&bytes).name, name, "{label}");
    }
    let text = "Omelette\n\nIngredients\n2 eggs\n\nMethod\nFry the eggs for 3 minutes.\n";
    let wide = |f: fn(u16) -> [u8; 2]| -> Vec<u8> { text.encode_utf16().flat_map(f).collect() };
    assert_eq!(
        taken(&wide(u16::to_le_bytes)).name,
        "Omelette",
        "without a mark"
    );
    assert_eq!(
        taken(&wide(u16::to_be_bytes)).name,
        "Omelette",
        "without a mark"
    );
}

/// A card, printed in DejaVu Serif and photographed by nobody: `tests/recipes/card.png`.
#[test]
fn a_picture_is_read_by_tesseract_and_nothing_of_it_is_sure() {
    let card = root().join("tests/recipes/card.png");
    let bytes = std::fs::read(&card).expect("the card is there");
    assert!(paper::is_picture(&bytes));
    let run = |path: &str| {
        Command::new(env!("CARGO_BIN_EXE_commis"))
            .args(["import", "--output", "-"])
            .arg(&card)
            .env("PATH", path)
            .output()
            .expect("it runs")
    };
    let without = run("/nonexistent");
    let told = String::from_utf8_lossy(&without.stderr).into_owned();
    assert_eq!(without.status.code(), Some(2), "{told}");
    assert!(told.contains("tesseract"), "{told}");
    let path = std::env::var("PATH").unwrap_or_default();
    if Command::new("tesseract").arg("--version").output().is_err() {
        println!("tesseract is not installed, so no picture was read");
        return;
    }
    let with = run(&path);
    let told = String::from_utf8_lossy(&with.stderr).into_owned();
    let toml = String::from_utf8_lossy(&with.stdout).into_owned();
    assert_eq!(with.status.code(), Some(0), "{told}");
    let f = read("x", &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)));
    assert_eq!(f.ingredients.len(), 3, "{toml}");
    assert_eq!(
        toml.matches("# ? It was read from a scan.").count(),
        3,
        "{told}\n{toml}"
    );
}
