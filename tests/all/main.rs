//! All tests of the program, one module a feature.

#[cfg(all(feature = "recogniser", feature = "sound"))]
mod audio;
mod bakes;
mod formula_faults;
mod number_words;
mod program;
mod rehearsal;
mod sample;
mod scaling;
mod spoken_grammar;
