//! Allergens of everyday names that somebody wrote down without having seen the tables.

use commis::safety::{Law, Matters, allergens, read_name};

/// Name, what is practically always in it, what often is, a remark. By what such food is commonly made of: common
/// practice, no source.
const NAMES: &str = include_str!("../tables/allergens.tsv");

fn ids(of: Matters) -> Vec<&'static str> {
    allergens(Law::Eu)
        .filter(|a| a.of.meets(of))
        .map(|a| a.id.as_str())
        .collect()
}

/// Nothing is missed that is neither 'may' nor 'not known'; few names are not known, and little is said to be in it that
/// is not.
#[test]
fn everyday_names() {
    let (mut rows, mut unknown, mut held) = (0, Vec::new(), 0);
    let (mut missed, mut wrong) = (Vec::new(), Vec::new());
    for line in NAMES.lines().skip(1).filter(|l| !l.starts_with('#')) {
        let mut columns = line.split('\t');
        let name = columns.next().unwrap();
        let mut set = || -> Vec<&str> {
            let list = columns.next().unwrap_or_default().split(',');
            list.map(str::trim).filter(|a| !a.is_empty()).collect()
        };
        let (contains, may) = (set(), set());
        for id in contains.iter().chain(&may) {
            assert!(allergens(Law::Eu).any(|a| a.id == *id), "{name}: {id}");
        }
        rows += 1;
        let read = read_name(name);
        let (holds, perhaps) = (ids(read.holds), ids(read.may));
        held += holds.len();
        if read.unknown {
            unknown.push(name);
        }
        for id in &contains {
            if !holds.contains(id) && !perhaps.contains(id) && !read.unknown {
                missed.push(format!("{name}: {id}"));
            }
        }
        for id in &holds {
            if !contains.contains(id) && !may.contains(id) {
                wrong.push(format!("{name}: {id}"));
            }
        }
    }
    assert!(rows >= 200, "{rows} names");
    assert_eq!(missed, Vec::<String>::new());
    assert!(unknown.len() * 10 <= rows, "not known: {unknown:?}");
    assert!(wrong.len() * 100 <= held * 3, "not in it: {wrong:?}");
}
