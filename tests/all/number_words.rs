//! Numbers in words, against the Python packages that the table names: what `num2words` writes we read, and where
//! `text2num` and `word2number` read a phrase we read the same.

use commis::understand::numbers::{parse_words, say_integer};

const TABLE: &str = include_str!("../tables/number_words.tsv");

fn rows() -> impl Iterator<Item = (&'static str, &'static str, f64)> {
    TABLE
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| {
            let mut columns = line.split('\t');
            let mut next = || {
                columns
                    .next()
                    .unwrap_or_else(|| panic!("three columns in `{line}`"))
            };
            let (program, words, value) = (next(), next(), next());
            (
                program,
                words,
                value
                    .parse()
                    .unwrap_or_else(|_| panic!("a number in `{line}`")),
            )
        })
}

#[test]
fn the_table_names_its_sources() {
    let head = TABLE.lines().next().unwrap_or_default();
    for program in ["num2words ", "text2num ", "word2number "] {
        assert!(head.contains(program), "{head}");
    }
    for program in ["num2words:en", "num2words:en_GB", "text2num", "word2number"] {
        assert!(
            rows().filter(|(p, ..)| *p == program).count() > 100,
            "{program}"
        );
    }
}

/// `word2number` 1.1 reads `a hundred and five` as 500; `text2num` refuses it. People mean 105.
const THEIR_SLIP: (&str, &str) = ("word2number", "a hundred and five");

#[test]
fn we_read_what_others_write_and_as_others_read() {
    let wrong: Vec<String> = rows()
        .filter(|(program, words, _)| (*program, *words) != THEIR_SLIP)
        .filter_map(|(program, words, value)| {
            let read = parse_words(words);
            (read != Some(value))
                .then(|| format!("{program}: `{words}` is {value}, we read {read:?}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// British English, as `num2words` writes it (without its hyphens and commas).
#[test]
fn we_say_what_num2words_writes() {
    for (_, words, value) in rows().filter(|(p, _, v)| *p == "num2words:en_GB" && v.fract() == 0.0)
    {
        let plain = words.replace('-', " ").replace(',', "");
        assert_eq!(say_integer(value as u64), plain);
    }
}
