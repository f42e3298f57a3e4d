//! Large letters out of cells, of our own drawing.
//!
//! A glyph is drawn in dots: seven rows on the line and two below it. One dot is one column wide and half a row high,
//! which is nearly square in most terminals; larger sizes draw each dot larger.

/// Each glyph, its rows from the top with strokes between; `#` is a dot.
const GLYPHS: &[(char, &str)] = &[
    ('0', ".##./#..#/#..#/#..#/#..#/#..#/.##."),
    ('1', ".#./##./.#./.#./.#./.#./###"),
    ('2', ".##./#..#/...#/..#./.#../#.../####"),
    ('3', "###./...#/...#/.##./...#/...#/###."),
    ('4', "#..#/#..#/#..#/####/...#/...#/...#"),
    ('5', "####/#.../###./...#/...#/#..#/.##."),
    ('6', ".##./#.../#.../###./#..#/#..#/.##."),
    ('7', "####/...#/..#./..#./.#../.#../.#.."),
    ('8', ".##./#..#/#..#/.##./#..#/#..#/.##."),
    ('9', ".##./#..#/#..#/.###/...#/...#/.##."),
    ('A', ".##./#..#/#..#/####/#..#/#..#/#..#"),
    ('B', "###./#..#/#..#/###./#..#/#..#/###."),
    ('C', ".###/#.../#.../#.../#.../#.../.###"),
    ('D', "###./#..#/#..#/#..#/#..#/#..#/###."),
    ('E', "####/#.../#.../###./#.../#.../####"),
    ('F', "####/#.../#.../###./#.../#.../#..."),
    ('G', ".###/#.../#.../#.##/#..#/#..#/.###"),
    ('H', "#..#/#..#/#..#/####/#..#/#..#/#..#"),
    ('I', "###/.#./.#./.#./.#./.#./###"),
    ('J', "...#/...#/...#/...#/...#/#..#/.##."),
    ('K', "#..#/#..#/#.#./##../#.#./#..#/#..#"),
    ('L', "#.../#.../#.../#.../#.../#.../####"),
    ('M', "#...#/##.##/#.#.#/#.#.#/#...#/#...#/#...#"),
    ('N', "#...#/##..#/##..#/#.#.#/#..##/#..##/#...#"),
    ('O', ".###./#...#/#...#/#...#/#...#/#...#/.###."),
    ('P', "###./#..#/#..#/###./#.../#.../#..."),
    ('Q', ".###./#...#/#...#/#...#/#.#.#/#..#./.##.#"),
    ('R', "###./#..#/#..#/###./#.#./#..#/#..#"),
    ('S', ".###/#.../#.../.##./...#/...#/###."),
    ('T', "#####/..#../..#../..#../..#../..#../..#.."),
    ('U', "#..#/#..#/#..#/#..#/#..#/#..#/.##."),
    ('V', "#...#/#...#/#...#/.#.#./.#.#./.#.#./..#.."),
    ('W', "#...#/#...#/#...#/#.#.#/#.#.#/##.##/#...#"),
    ('X', "#...#/#...#/.#.#./..#../.#.#./#...#/#...#"),
    ('Y', "#...#/#...#/.#.#./.#.#./..#../..#../..#.."),
    ('Z', "####/...#/..#./..#./.#../#.../####"),
    ('a', "..../..../.##./...#/.###/#..#/.###"),
    ('b', "#.../#.../###./#..#/#..#/#..#/###."),
    ('c', ".../.../.##/#../#../#../.##"),
    ('d', "...#/...#/.###/#..#/#..#/#..#/.###"),
    ('e', "..../..../.##./#..#/####/#.../.###"),
    ('f', ".##/#../###/#../#../#../#.."),
    ('g', "..../..../.###/#..#/#..#/#..#/.###/...#/.##."),
    ('h', "#.../#.../###./#..#/#..#/#..#/#..#"),
    ('i', "#/./#/#/#/#/#"),
    ('j', "..#/.../..#/..#/..#/..#/..#/..#/##."),
    ('k', "#.../#.../#..#/#.#./##../#.#./#..#"),
    ('l', "#./#./#./#./#./#./.#"),
    ('m', "...../...../####./#.#.#/#.#.#/#.#.#/#.#.#"),
    ('n', "..../..../###./#..#/#..#/#..#/#..#"),
    ('o', "..../..../.##./#..#/#..#/#..#/.##."),
    ('p', "..../..../###./#..#/#..#/#..#/###./#.../#..."),
    ('q', "..../..../.###/#..#/#..#/#..#/.###/...#/...#"),
    ('r', ".../.../#.#/##./#../#../#.."),
    ('s', ".../.../.##/#../.#./..#/##."),
    ('t', ".../.#./###/.#./.#./.#./..#"),
    ('u', "..../..../#..#/#..#/#..#/#..#/.###"),
    ('v', "...../...../#...#/#...#/.#.#./.#.#./..#.."),
    ('w', "...../...../#...#/#.#.#/#.#.#/#.#.#/.#.#."),
    ('x', ".../.../#.#/#.#/.#./#.#/#.#"),
    ('y', "..../..../#..#/#..#/#..#/#..#/.###/...#/.##."),
    ('z', "..../..../####/...#/.##./#.../####"),
    (' ', "../../../../../../.."),
    ('.', "././././././#"),
    ('…', "...../...../...../...../...../...../#.#.#"),
    (',', "../../../../../../.#/.#/#."),
    (':', "././#/././#/."),
    ('-', ".../.../.../###/.../.../..."),
    ('+', ".../.../.#./###/.#./.../..."),
    ('/', "...#/...#/..#./..#./.#../#.../#..."),
    ('%', "#...#/#..#./...#./..#../.#.../.#..#/#...#"),
    ('\'', "#/#/././././."),
    ('?', ".##./#..#/...#/..#./.#../..../.#.."),
    ('!', "#/#/#/#/#/./#"),
    ('&', ".#.../#.#../#.#../.#.../#.#.#/#..#./.##.#"),
    ('(', ".#/#./#./#./#./#./.#"),
    (')', "#./.#/.#/.#/.#/.#/#."),
    ('°', ".#./#.#/.#./.../.../.../..."),
    (
        '½',
        "#...#../#..#.../#..#.##/#.#...#/..#..#./.#...#./.#...##",
    ),
    (
        '¼',
        "#...#../#..#.../#..#.../#.#.#.#/..#.###/.#....#/.#....#",
    ),
    (
        '¾',
        "##...#./.#..#../##..#../.#.#.../##.#..#/..#.###/.#....#",
    ),
];

/// Rows of dots above the line, and with what hangs below it.
const ON_LINE: usize = 7;
const WITH_TAILS: usize = 9;

fn glyph(c: char) -> Option<&'static str> {
    let of = |c: char| GLYPHS.iter().find(|(g, _)| *g == c).map(|(_, art)| *art);
    of(c).or_else(|| of(bare(c)))
}

/// A letter without its mark, which would not be seen from afar; a sign as the plain one like it.
fn bare(c: char) -> char {
    match c {
        'à'..='å' => 'a',
        'ç' => 'c',
        'è'..='ë' => 'e',
        'ì'..='ï' => 'i',
        'ñ' => 'n',
        'ò'..='ö' | 'ø' => 'o',
        'ù'..='ü' => 'u',
        'À'..='Å' => 'A',
        'Ç' => 'C',
        'È'..='Ë' => 'E',
        'Ò'..='Ö' | 'Ø' => 'O',
        'Ù'..='Ü' => 'U',
        '\u{2018}' | '\u{2019}' => '\'',
        '\u{2010}'..='\u{2014}' => '-',
        '×' => 'x',
        ';' => ',',
        other => other,
    }
}

/// Can all of this be drawn large?
pub fn drawable(text: &str) -> bool {
    !text.trim().is_empty() && text.chars().all(|c| glyph(c).is_some())
}

/// Columns and rows that `text` takes at a size from 1.
pub fn measure(text: &str, size: usize) -> (usize, usize) {
    let (mut wide, mut high, mut letters) = (0, ON_LINE, 0);
    for art in text.chars().filter_map(glyph) {
        wide += art.split('/').next().map_or(0, str::len);
        high = high.max(art.split('/').count());
        letters += 1;
    }
    let gaps = usize::saturating_sub(letters, 1);
    ((wide + gaps) * size, (high * size).div_ceil(2))
}

/// The lines of `text` at a size.
pub fn lines(text: &str, size: usize) -> Vec<String> {
    let arts: Vec<Vec<&str>> = text
        .chars()
        .filter_map(glyph)
        .map(|art| art.split('/').collect())
        .collect();
    let high = if arts.iter().any(|a| a.len() == WITH_TAILS) {
        WITH_TAILS
    } else {
        ON_LINE
    };
    let dots: Vec<Vec<bool>> = (0..high)
        .map(|y| {
            let mut row = Vec::new();
            for (i, art) in arts.iter().enumerate() {
                if i > 0 {
                    row.resize(row.len() + size, false);
                }
                let blank = ".".repeat(art.first().map_or(0, |r| r.len()));
                for dot in art.get(y).unwrap_or(&blank.as_str()).bytes() {
                    row.resize(row.len() + size, dot == b'#');
                }
            }
            row
        })
        .flat_map(|row| std::iter::repeat_n(row, size))
        .collect();
    dots.chunks(2)
        .map(|pair| {
            let top = &pair[0];
            let line: String = (0..top.len())
                .map(|x| match (top[x], pair.get(1).is_some_and(|low| low[x])) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                })
                .collect();
            line.trim_end().to_owned()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_glyph_is_a_rectangle_of_its_own_shape() {
        for (i, (c, art)) in GLYPHS.iter().enumerate() {
            let rows: Vec<&str> = art.split('/').collect();
            assert!([ON_LINE, WITH_TAILS].contains(&rows.len()), "{c}");
            assert!(
                rows.iter()
                    .all(|r| r.len() == rows[0].len() && r.bytes().all(|b| b"#.".contains(&b))),
                "{c}"
            );
            for (d, other) in &GLYPHS[i + 1..] {
                assert!(art != other && c != d, "{c} and {d} look the same");
            }
        }
        assert!(drawable("Weigh 1.5 kg at 12:30 - 220°"));
        assert_eq!(lines("crème", 1), lines("creme", 1));
        assert!(!drawable("面"));
        assert!(!drawable(" "));
    }

    #[test]
    fn sizes_are_as_measured() {
        for text in ["500 g", "12:34", "First rise", "¾"] {
            for size in 1..5 {
                let (w, h) = measure(text, size);
                let drawn = lines(text, size);
                assert_eq!(drawn.len(), h);
                assert!(drawn.iter().all(|l| l.chars().count() <= w));
            }
        }
    }

    #[test]
    fn drawn_as_designed() {
        assert_eq!(
            lines("5 g", 1),
            [
                "█▀▀▀",
                "▀▀▀▄    ▄▀▀█",
                "▄  █    █  █",
                " ▀▀      ▀▀█",
                "         ▀▀"
            ]
        );
    }
}
