//! Writes a finite-state acceptor in OpenFst's binary `const` format, as libvosk reads it from `Gr.fst`.
//!
//! Layout (OpenFst 1.6 to 1.8, `fst.h`, `const-fst.h`, `symbol-table.cc`; checked against `fstinfo`/`fstprint` and byte
//! for byte against a file that `fstconvert` made): a header, the symbol tables, the states (20 bytes each), the arcs
//! (16 bytes each). All numbers are little-endian. Unaligned files have version 2.

use super::ModelWords;

const FST_MAGIC: i32 = 2_125_659_606;
const SYMBOLS_MAGIC: i32 = 2_125_658_996;
const VERSION: i32 = 2;
const HAS_INPUT_SYMBOLS: i32 = 1;
const HAS_OUTPUT_SYMBOLS: i32 = 2;

/// Properties that hold for every file written here; those not named are 'unknown', which OpenFst works out itself.
mod property {
    /// States and arcs are all there.
    pub const EXPANDED: u64 = 0x1;
    /// Input and output of an arc are the same.
    pub const ACCEPTOR: u64 = 0x1_0000;
    /// At most one arc for an input from a state, and the same for outputs.
    pub const DETERMINISTIC: u64 = 0x4_0000 | 0x10_0000;
    /// No empty arcs of any sort.
    pub const NO_EPSILONS: u64 = 0x80_0000 | 0x200_0000 | 0x800_0000;
    /// Arcs are in order of their labels.
    pub const SORTED: u64 = 0x1000_0000 | 0x4000_0000;
}

/// One arc of an acceptor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FstArc {
    /// The word's number, above 0.
    pub label: i32,
    /// The cost.
    pub cost: f32,
    /// The state it leads to.
    pub to: u32,
}

/// One state of an acceptor.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FstState {
    /// The cost of ending here, where one may.
    pub end: Option<f32>,
    /// The arcs, in any order.
    pub arcs: Vec<FstArc>,
}

/// The bytes of `Gr.fst`: the first state is 0; the lexicon goes in as the symbol table under `table_name`.
pub fn to_bytes(mut states: Vec<FstState>, lexicon: &ModelWords, table_name: &str) -> Vec<u8> {
    let mut deterministic = true;
    for state in &mut states {
        state.arcs.sort_by_key(|arc| arc.label);
        deterministic &= state
            .arcs
            .windows(2)
            .all(|pair| pair[0].label != pair[1].label);
    }
    let mut properties =
        property::EXPANDED | property::ACCEPTOR | property::NO_EPSILONS | property::SORTED;
    if deterministic {
        properties |= property::DETERMINISTIC;
    }
    let arc_count: usize = states.iter().map(|state| state.arcs.len()).sum();

    let mut out = Vec::with_capacity(
        arc_count * 16 + states.len() * 20 + lexicon.in_order().len() * 44 + 128,
    );
    put_i32(&mut out, FST_MAGIC);
    put_text(&mut out, "const");
    put_text(&mut out, "standard");
    put_i32(&mut out, VERSION);
    put_i32(&mut out, HAS_INPUT_SYMBOLS | HAS_OUTPUT_SYMBOLS);
    out.extend_from_slice(&properties.to_le_bytes());
    put_i64(&mut out, 0);
    put_i64(&mut out, states.len() as i64);
    put_i64(&mut out, arc_count as i64);
    let table = symbol_table(lexicon, table_name);
    out.extend_from_slice(&table);
    out.extend_from_slice(&table);
    let mut position: u32 = 0;
    for state in &states {
        put_f32(&mut out, state.end.unwrap_or(f32::INFINITY));
        put_u32(&mut out, position);
        put_u32(&mut out, state.arcs.len() as u32);
        put_u32(&mut out, 0);
        put_u32(&mut out, 0);
        position += state.arcs.len() as u32;
    }
    for arc in states.iter().flat_map(|state| &state.arcs) {
        put_i32(&mut out, arc.label);
        put_i32(&mut out, arc.label);
        put_f32(&mut out, arc.cost);
        put_u32(&mut out, arc.to);
    }
    out
}

fn symbol_table(lexicon: &ModelWords, name: &str) -> Vec<u8> {
    let words = lexicon.in_order();
    let next_free = words
        .iter()
        .map(|(_, id)| i64::from(*id) + 1)
        .max()
        .unwrap_or(0);
    let mut out = Vec::with_capacity(words.len() * 22 + 64);
    put_i32(&mut out, SYMBOLS_MAGIC);
    put_text(&mut out, name);
    put_i64(&mut out, next_free);
    put_i64(&mut out, words.len() as i64);
    for (word, id) in words {
        put_text(&mut out, word);
        put_i64(&mut out, i64::from(*id));
    }
    out
}

fn put_i32(out: &mut Vec<u8>, value: i32) {
    out.extend_from_slice(&value.to_le_bytes());
}

fn put_u32(out: &mut Vec<u8>, value: u32) {
    out.extend_from_slice(&value.to_le_bytes());
}

fn put_i64(out: &mut Vec<u8>, value: i64) {
    out.extend_from_slice(&value.to_le_bytes());
}

fn put_f32(out: &mut Vec<u8>, value: f32) {
    out.extend_from_slice(&value.to_le_bytes());
}

fn put_text(out: &mut Vec<u8>, text: &str) {
    put_i32(out, text.len() as i32);
    out.extend_from_slice(text.as_bytes());
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::{FstArc, FstState, to_bytes};
    use crate::hear::{ModelWords, UNKNOWN};

    /// The model's own `Gr.fst` was written by OpenFst's `fstconvert`. The same network from our writer must be the
    /// same file, but for the properties (bytes 33 to 40), where we leave unsaid what we did not check.
    #[test]
    fn the_same_bytes_as_openfst() {
        let model = Path::new(env!("CARGO_MANIFEST_DIR")).join("models/en-kitchen");
        let theirs = fs::read(model.join("graph/Gr.fst")).expect("the model has a Gr.fst");
        let lexicon = ModelWords::read(&model).expect("the model has a words.txt");
        let name_length =
            i32::from_le_bytes(theirs[69..73].try_into().expect("four bytes")) as usize;
        let name = std::str::from_utf8(&theirs[73..73 + name_length]).expect("a plain name");
        let cost = f32::from_le_bytes(
            theirs[theirs.len() - 8..theirs.len() - 4]
                .try_into()
                .expect("four bytes"),
        );
        let words = lexicon
            .in_order()
            .iter()
            .filter(|(word, id)| *id > 0 && word != UNKNOWN);
        let arcs = words
            .map(|(_, label)| FstArc {
                label: *label,
                cost,
                to: 0,
            })
            .collect();
        let ours = to_bytes(
            vec![FstState {
                end: Some(0.0),
                arcs,
            }],
            &lexicon,
            name,
        );
        assert_eq!(ours.len(), theirs.len());
        assert!(
            ours[..33] == theirs[..33] && ours[41..] == theirs[41..],
            "the files differ"
        );
        let ours_say = u64::from_le_bytes(ours[33..41].try_into().expect("eight bytes"));
        let theirs_say = u64::from_le_bytes(theirs[33..41].try_into().expect("eight bytes"));
        assert_eq!(
            ours_say & theirs_say,
            ours_say,
            "a property that OpenFst does not see"
        );
    }
}
