//! A formula as a page: everything that a cook must know stands on it, in every form, and each form keeps its own rules.

use std::process::{Command, Stdio};

use commis::formula::{Batch, read};
use commis::measure::Region;
use commis::page::{CELLS, LINES, Page, Paper, Passage, brf, html, pdf, plain, to_translate};
use commis::safety::Law;

use super::program::{LOAF, commis, out, program};
use super::rehearsal::root;

fn shipped() -> Vec<(String, commis::formula::Formula)> {
    let folder = root().join("shared/formulas");
    let mut all: Vec<_> = std::fs::read_dir(folder)
        .expect("shipped formulas")
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let text = std::fs::read_to_string(&path).expect("a formula");
            let formula = read(&path.display().to_string(), &text).expect("it reads");
            (path.display().to_string(), formula)
        })
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    all
}

fn page(formula: &commis::formula::Formula) -> Page {
    let batch = Batch::as_written(formula);
    Page::of(formula, &batch, 1.0, Region::Metric, Law::Eu)
}

/// Words alone, so that the forms can be compared.
fn words(text: &str) -> String {
    let text = text
        .replace("&amp;", "&")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"");
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

#[test]
fn every_caution_amount_time_and_allergen_stands_on_the_page() {
    for (name, formula) in shipped() {
        let page = page(&formula);
        let text = words(&plain(&page, 80));
        for step in &formula.steps {
            for caution in &step.cautions {
                assert!(text.contains(&words(caution)), "{name}: {caution}");
            }
            for danger in &step.dangers {
                let caution = danger.spoken(Region::Metric);
                assert!(text.contains(&words(&caution)), "{name}: {caution}");
            }
            for timer in &step.timers {
                assert!(text.contains(&timer.name), "{name}: {}", timer.name);
                let minutes = timer.lasts.as_seconds() / 60;
                let shown = [format!("{} h", minutes / 60), format!("{minutes} min")];
                assert!(
                    shown.iter().any(|s| text.contains(s.as_str())),
                    "{name}: {} {minutes}",
                    timer.name
                );
            }
            if let Some(c) = step.oven_c {
                assert!(text.contains(&format!("{c} °c")), "{name}: {c}");
            }
        }
        for finding in formula.contents().holds(Law::Eu) {
            assert!(
                text.contains(&finding.allergen.spoken),
                "{name}: {}",
                finding.allergen.spoken
            );
        }
        for i in &formula.ingredients {
            assert!(text.contains(&i.name.to_lowercase()), "{name}: {}", i.name);
            if let Some(words) = &i.words {
                assert!(text.contains(words.as_str()), "{name}: {words}");
            }
        }
    }
}

#[test]
fn todays_size_is_that_of_the_weigh_up() {
    let weigh = out(&commis(&["weigh", LOAF, "--flour", "750g"], ""));
    let card = out(&commis(&["card", LOAF, "--flour", "750g"], ""));
    for amount in ["600 g", "150 g", "510 g", "15 g"] {
        assert!(
            weigh.contains(amount) && words(&card).contains(amount),
            "{amount}"
        );
    }
    assert!(
        words(&card).contains("seven hundred and fifty grams of flour"),
        "{card}"
    );
    for columns in ["40", "80"] {
        let card = out(&commis(&["card", LOAF, "--columns", columns], ""));
        let most: usize = columns.parse().expect("a number");
        assert!(
            card.lines().all(|line| line.chars().count() <= most),
            "{card}"
        );
    }
}

#[test]
fn the_html_is_one_file_with_headings_in_order_and_nothing_to_fetch() {
    for (name, formula) in shipped() {
        let page = page(&formula);
        let html = html(&page);
        assert!(
            html.starts_with("<!DOCTYPE html>\n<html lang=\"en-GB\">"),
            "{name}"
        );
        for odd in ["<script", "http:", "https:", "<img", "<link", "url("] {
            assert!(!html.contains(odd), "{name}: {odd}");
        }
        assert_eq!(html.matches("<h1>").count(), 1, "{name}");
        // WCAG 2.2, technique G141: no level of headings is left out.
        let levels: Vec<usize> = html
            .split("<h")
            .skip(1)
            .filter_map(|rest| rest[..1].parse().ok())
            .collect();
        assert!(
            levels.windows(2).all(|w| w[1] <= w[0] + 1),
            "{name}: {levels:?}"
        );
        let text: String = html
            .split_once("<main>")
            .expect("main")
            .1
            .split('<')
            .map(|piece| piece.split_once('>').map_or("", |(_, text)| text))
            .collect::<Vec<_>>()
            .join(" ");
        let text = words(&text);
        for block in &page.blocks {
            if let Passage::Text(said) | Passage::Careful(said) = block {
                assert!(text.contains(&words(said)), "{name}: {said}");
            }
        }
    }
    let odd = "name = \"A <b> & \\\"c\\\"\"\n[makes]\nportions = 1\npiece = \"x\"\n[[ingredient]]\nid = \"a\"\namount = \"1 g\"\n\
        [[step]]\ntitle = \"</h3>\"\ntext = \"<script>alert(1)</script>\"\nuses = [\"a\"]\n";
    let html = html(&page(&read("odd", odd).expect("a formula")));
    assert!(
        !html.contains("<script") && html.contains("A &lt;b&gt; &amp; &quot;c&quot;"),
        "{html}"
    );
}

/// The writer of the PDF refuses what PDF/UA-1 (ISO 14289-1) forbids: no title, no tags, no outline, a glyph that is
/// missing. What it wrote is read by poppler, where that is installed.
#[test]
fn the_pdf_is_tagged_and_its_text_can_be_read_out_of_it() {
    for (name, formula) in shipped() {
        let page = page(&formula);
        for paper in [Paper::A4, Paper::Letter] {
            let bytes = pdf(&page, paper).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert!(bytes.starts_with(b"%PDF-1.7"), "{name}");
        }
    }
    let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("card.pdf");
    let path = file.display().to_string();
    let o = commis(&["card", LOAF, "--pdf", "--output", &path], "");
    assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
    let Ok(read) = Command::new("pdftotext").args([&path, "-"]).output() else {
        eprintln!("pdftotext is not installed: the text of the PDF was not read back");
        return;
    };
    let text = words(&String::from_utf8_lossy(&read.stdout));
    for said in [
        "seeded tin loaf",
        "careful. it contains gluten",
        "strong white flour",
        "page 1 of",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

#[test]
fn a_letter_that_the_font_lacks_is_told_and_no_box_printed() {
    let text = "name = \"Борщ\"\n[makes]\nportions = 1\npiece = \"pot\"\n[[ingredient]]\nid = \"a\"\namount = \"1 g\"\n\
        [[step]]\ntitle = \"Stir\"\ntext = \"Stir.\"\nuses = [\"a\"]\n";
    let page = page(&read("soup", text).expect("a formula"));
    let e = pdf(&page, Paper::A4).expect_err("no such letters");
    assert!(e.starts_with("the font of the page has no `Б`"), "{e}");
    assert!(html(&page).contains("Борщ"));
}

#[test]
fn the_braille_file_keeps_to_its_paper() {
    let there = Command::new("lou_translate")
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    if there.is_err() {
        // Without liblouis the program says so, and what it needs.
        let o = commis(&["card", LOAF, "--braille"], "");
        let told = String::from_utf8_lossy(&o.stderr);
        assert!(
            told.contains("lou_translate is not installed") && told.contains("liblouis"),
            "{told}"
        );
        assert_eq!(o.status.code(), Some(1));
        // What it makes of a translation holds all the same.
        let (_, formula) = &shipped()[0];
        let page = page(formula);
        let texts: Vec<String> = to_translate(&page)
            .iter()
            .map(|t| t.replace(|c: char| !c.is_ascii(), "?"))
            .collect();
        assert!(brf(&page, &texts).is_some());
        return;
    }
    for (name, formula) in shipped() {
        let file = root().join(&name).display().to_string();
        let o = commis(&["card", &file, "--braille"], "");
        assert!(
            o.status.success(),
            "{name}: {}",
            String::from_utf8_lossy(&o.stderr)
        );
        let brf = out(&o);
        assert!(brf.is_ascii(), "{name}");
        let pages: Vec<&str> = brf.split_terminator('\u{c}').collect();
        for page in &pages {
            let lines: Vec<&str> = page.split("\r\n").collect();
            assert_eq!(lines.len(), LINES + 1, "{name}");
            assert!(lines.iter().all(|line| line.len() <= CELLS), "{name}");
        }
        // Back again by the same library: the names of all ingredients are there.
        let back = Command::new("lou_translate")
            .args(["--backward", "en-us-brf.dis,en-ueb-g2.ctb"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .and_then(|mut child| {
                use std::io::Write as _;
                let mut stdin = child.stdin.take().expect("piped");
                for line in brf.lines() {
                    let line = line.trim_matches(['\r', '\u{c}', ' ']);
                    // A backslash is the sign for 'ou', and begins an escape in what the translator reads.
                    let line = line.replace('\\', "\\\\");
                    stdin.write_all(format!("{line}\n").as_bytes())?;
                }
                drop(stdin);
                child.wait_with_output()
            })
            .expect("it runs");
        let text = words(&String::from_utf8_lossy(&back.stdout));
        let word = formula.ingredients[0].name.to_lowercase();
        assert!(text.contains(&word), "{name}: {word}: {text}");
    }
}

#[test]
fn a_form_is_one_and_a_pdf_is_no_text() {
    assert_eq!(
        commis(&["card", LOAF, "--pdf", "--html"], "").status.code(),
        Some(2)
    );
    assert_eq!(
        commis(&["card", LOAF, "--columns", "3"], "").status.code(),
        Some(2)
    );
    let o = program()
        .args(["card", "no such loaf"])
        .output()
        .expect("it runs");
    assert_eq!(o.status.code(), Some(2));
}
