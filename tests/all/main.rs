//! All tests of the program, one module a feature.

mod number_words;
mod sample;
mod spoken_grammar;
